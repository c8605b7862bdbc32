//! `explain`: the table of findings.

use std::fmt::Write as _;

use serde_json::json;

use super::args::ExplainArgs;
use super::form::{Form, TEXT_JSON};
use super::outcome::Outcome;
use super::output::Targets;
use super::render::json_line;
use crate::check::{all_codes, find_code};
use crate::diagnostic::Code;

pub(crate) fn explain(args: &ExplainArgs) -> Outcome {
    let targets = match Targets::new(&args.output, &[], TEXT_JSON) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let code = match args.code.as_deref().map(find_code).transpose() {
        Ok(code) => code,
        Err(unknown) => return Outcome::unusable(&unknown.to_string()),
    };
    targets.deliver(Outcome::default(), |form| {
        let out = match code {
            None => list(form),
            Some(code) => one(code, form),
        };
        Ok(out.into_bytes())
    })
}

fn list(form: Form) -> String {
    let codes = all_codes();
    if form == Form::Json {
        return json_line(&json!(codes));
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

fn one(code: &Code, form: Form) -> String {
    if form == Form::Json {
        return json_line(&json!(code));
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
