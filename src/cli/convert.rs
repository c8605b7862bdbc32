//! `convert` and `check`.

use super::args::{CaseArgs, ChecklistForm, ConvertArgs, Format};
use super::repair::repaired;
use super::show::{Source, diagnostics};
use super::{FINDINGS, Outcome, UNUSABLE, files};
use crate::case::{Case, read_case, set_key};
use crate::convert::{cap_context, check as check_case, convert as convert_case};
use crate::diagnostic::{Diagnostic, Level, nearest, worst};
use crate::report::{
    check_json, check_text, checklist_csv, checklist_text, conversion_json, conversion_text,
    flat_lines_text, together_text,
};

/// A case with the size asked for, and what was said while reading it.
pub(crate) struct Opened {
    pub(crate) case: Case,
    pub(crate) only: Option<usize>,
    pub(crate) err: String,
}

/// Opens a case file.
///
/// # Errors
/// The outcome to end with: the file or the case cannot be used.
pub(crate) fn open(args: &CaseArgs) -> Result<Opened, Outcome> {
    let mut text = files::text(&args.case).map_err(|sentence| Outcome::unusable(&sentence))?;
    for assignment in &args.set {
        text = set_key(&text, assignment).map_err(|sentence| Outcome::unusable(&sentence))?;
    }
    let name = args.case.display().to_string();
    let source = Source {
        name: &name,
        text: &text,
    };
    let (case, said) = read_case(&text);
    let mut err = what_if(&args.set) + &diagnostics(&said, source);
    let Some(mut case) = case else {
        return Err(Outcome {
            err,
            code: UNUSABLE,
            ..Outcome::default()
        });
    };
    if let Some(n) = args.accept_repair {
        err += &accept_repair(&mut case, n)?;
    }
    let only = match &args.size {
        Some(size) => Some(size_of(&case, size).map_err(|s| Outcome::unusable(&s))?),
        None => None,
    };
    Ok(Opened { case, only, err })
}

/// Says which keys were set, so that a result is not taken for the file's own.
fn what_if(set: &[String]) -> String {
    if set.is_empty() {
        return String::new();
    }
    format!(
        "note: with {}; the case file is not changed.\n",
        set.join(", ")
    )
}

/// Changes the cap's lines in memory as asked; returns what is said about it.
fn accept_repair(case: &mut Case, n: usize) -> Result<String, Outcome> {
    let context = cap_context(case).map_err(|found| refused(case, &found, String::new()))?;
    let (lines, said) =
        repaired(&case.sleeve.cap, &context, n).map_err(|sentence| Outcome::unusable(&sentence))?;
    case.sleeve.cap = lines;
    Ok(said)
}

fn size_of(case: &Case, size: &str) -> Result<usize, String> {
    if let Some(index) = case.sizes.iter().position(|known| known == size) {
        return Ok(index);
    }
    let near = nearest(size, case.sizes.iter().map(String::as_str));
    let hint = near
        .map(|near| format!(" Did you mean {near}?"))
        .unwrap_or_default();
    Err(format!(
        "The case has no size '{size}'; it has {}.{hint}",
        case.sizes.join(", ")
    ))
}

/// The whole job.
pub(crate) fn convert(args: &ConvertArgs) -> Outcome {
    let opened = match open(&args.case) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    match convert_case(case, opened.only) {
        Ok(conversion) => {
            let out = match (args.checklist, args.case.output.format) {
                (Some(ChecklistForm::Text), _) => checklist_text(&conversion),
                (Some(ChecklistForm::Csv), _) => checklist_csv(&conversion),
                (None, Format::Text) if args.flat_lines => flat_lines_text(case, &conversion),
                (None, Format::Text) if args.together => together_text(case, &conversion),
                (None, Format::Text) => conversion_text(case, &conversion),
                (None, Format::Json) => json_line(&conversion_json(case, &conversion)),
            };
            // Notes are part of the result; only what may spoil it is repeated here.
            let loud: Vec<Diagnostic> = conversion
                .findings
                .iter()
                .filter(|finding| finding.level > Level::Note)
                .cloned()
                .collect();
            let outcome = Outcome {
                out,
                err: opened.err + &said(case, &loud),
                code: code(conversion.worst()),
            };
            files::deliver(outcome, &args.case.output)
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

/// The old garment alone.
pub(crate) fn check(args: &CaseArgs) -> Outcome {
    let opened = match open(args) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    match check_case(case, opened.only) {
        Ok((sizes, findings)) => {
            let levels = sizes.iter().filter_map(|old| worst(&old.findings));
            let highest = levels.chain(worst(&findings)).max();
            let out = match args.output.format {
                Format::Text => check_text(case, &sizes, &findings),
                Format::Json => json_line(&check_json(case, &sizes, &findings)),
            };
            let outcome = Outcome {
                out,
                err: opened.err,
                code: code(highest),
            };
            files::deliver(outcome, &args.output)
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

pub(crate) fn refused(case: &Case, found: &[Diagnostic], before: String) -> Outcome {
    Outcome {
        err: before + &said(case, found),
        code: UNUSABLE,
        ..Outcome::default()
    }
}

/// Diagnostics, each shown in the lines of the case that it is about.
fn said(case: &Case, found: &[Diagnostic]) -> String {
    let shown = found.iter().map(|diagnostic| {
        let name = diagnostic.lines.unwrap_or_default();
        let text = case.lines(name).unwrap_or_default();
        diagnostics(std::slice::from_ref(diagnostic), Source { name, text })
    });
    shown.collect()
}

pub(crate) fn code(worst: Option<Level>) -> u8 {
    if worst == Some(Level::Error) {
        FINDINGS
    } else {
        0
    }
}

pub(crate) fn json_line(value: &serde_json::Value) -> String {
    format!("{value:#}\n")
}
