//! `explain`: the table of findings.

use std::fmt::Write as _;

use serde_json::json;

use super::args::{ExplainArgs, Format};
use super::convert::json_line;
use super::{Outcome, files};
use crate::check::{all_codes, find_code};
use crate::diagnostic::Code;

pub(crate) fn explain(args: &ExplainArgs) -> Outcome {
    let out = match &args.code {
        None => list(args.output.format),
        Some(id) => match find_code(id) {
            Ok(code) => one(code, args.output.format),
            Err(sentence) => return Outcome::unusable(&sentence),
        },
    };
    files::deliver(Outcome::fine(out), &args.output)
}

fn list(format: Format) -> String {
    let codes = all_codes();
    if format == Format::Json {
        return json_line(&codes.into_iter().map(object).collect());
    }
    let mut out = String::new();
    for code in codes {
        let _ = writeln!(
            out,
            "{:<8} {:<28} {}",
            code.level.word(),
            code.id,
            code.title
        );
    }
    out
}

fn one(code: &Code, format: Format) -> String {
    if format == Format::Json {
        return json_line(&object(code));
    }
    format!(
        "{} ({})\n{}\n\nWhy:    {}\nSource: {}\nNext:   {}\n",
        code.id,
        code.level.word(),
        code.title,
        code.why,
        code.source,
        code.next
    )
}

fn object(code: &Code) -> serde_json::Value {
    json!({
        "code": code.id,
        "level": code.level.word(),
        "title": code.title,
        "why": code.why,
        "source": code.source,
        "next": code.next,
    })
}
