//! `convert` and `check`.

use super::args::{CaseArgs, ChecklistForm, ConvertArgs};
use super::figure::conversion_picture;
use super::output::{EVERY_FORM, Form, TEXT_JSON, Targets};
use super::repair::repaired;
use super::show::{Source, diagnostics};
use super::{FINDINGS, Outcome, UNUSABLE, VERSION, files};
use crate::case::{Case, read_case, set_key};
use crate::convert::{Conversion, cap_context, check as check_case, convert as convert_case};
use crate::diagnostic::{Diagnostic, Level, nearest, worst};
use crate::report::{
    check_json, check_text, checklist_csv, checklist_text, conversion_json, conversion_text,
    flat_lines_text, together_text, worksheet_html,
};

/// A case with the size asked for, and what was said while reading it.
pub(crate) struct Opened {
    pub(crate) case: Case,
    pub(crate) only: Option<usize>,
    pub(crate) err: String,
    /// The case file's text, with the repair that was accepted.
    pub(crate) text: String,
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
        let before = case.sleeve.cap.clone();
        err += &accept_repair(&mut case, n)?;
        text = if text.contains(&before) {
            text.replacen(&before, &case.sleeve.cap, 1)
        } else {
            format!("# Made with --accept-repair {n}.\n{text}")
        };
    }
    let only = match &args.size {
        Some(size) => Some(size_of(&case, size).map_err(|s| Outcome::unusable(&s))?),
        None => None,
    };
    Ok(Opened {
        case,
        only,
        err,
        text,
    })
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

/// What `convert` writes with these options; the first is printed.
fn forms(args: &ConvertArgs) -> &'static [Form] {
    match args.checklist {
        Some(ChecklistForm::Text) => &[Form::Text, Form::Csv],
        Some(ChecklistForm::Csv) => &[Form::Csv],
        None if args.together => &[Form::Text],
        None if args.figure.is_some() && args.case.output.output.is_empty() => &[Form::Svg],
        None => EVERY_FORM,
    }
}

/// The case's arguments with `--runs` and `--choice` as the keys they stand for.
fn with_wishes(args: &ConvertArgs) -> CaseArgs {
    let mut case = args.case.clone();
    let wishes = [("fit.runs", args.runs), ("fit.choice", args.choice)];
    let wishes = wishes.into_iter();
    case.set
        .extend(wishes.filter_map(|(key, n)| n.map(|n| format!("{key}={n}"))));
    case
}

/// The whole job.
pub(crate) fn convert(args: &ConvertArgs) -> Outcome {
    let targets = match Targets::new(&args.case.output, &[&args.case.case], forms(args)) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let opened = match open(&with_wishes(args)) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    match convert_case(case, opened.only) {
        Ok(conversion) => {
            // Notes are part of the result; only what may spoil it is repeated here.
            let loud: Vec<Diagnostic> = conversion
                .findings
                .iter()
                .filter(|finding| finding.level > Level::Note)
                .cloned()
                .collect();
            let outcome = Outcome {
                out: String::new(),
                err: opened.err + &said(case, &loud),
                code: code(conversion.worst()),
            };
            targets.deliver(outcome, |form| {
                converted(args, case, &conversion, &opened.text, form)
            })
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

/// The conversion in one form.
fn converted(
    args: &ConvertArgs,
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    form: Form,
) -> Result<Vec<u8>, String> {
    let text = match form {
        Form::Text if args.checklist.is_some() => checklist_text(conversion),
        Form::Text if args.flat_lines => flat_lines_text(case, conversion),
        Form::Text if args.together => together_text(case, conversion),
        Form::Text => conversion_text(case, conversion),
        Form::Json => json_line(&conversion_json(case, conversion)),
        Form::Csv => checklist_csv(conversion),
        Form::Html => worksheet_html(case, conversion, case_text, VERSION),
        Form::Svg => conversion_picture(case, conversion, args.figure.as_deref())?,
        Form::Pdf => {
            return super::pdf::worksheet(case, conversion, case_text, args.paper);
        }
    };
    Ok(text.into_bytes())
}

/// The old garment alone.
pub(crate) fn check(args: &CaseArgs) -> Outcome {
    let targets = match Targets::new(&args.output, &[&args.case], TEXT_JSON) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let opened = match open(args) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    match check_case(case, opened.only) {
        Ok((sizes, findings)) => {
            let levels = sizes.iter().filter_map(|old| worst(&old.findings));
            let highest = levels.chain(worst(&findings)).max();
            let outcome = Outcome {
                out: String::new(),
                err: opened.err,
                code: code(highest),
            };
            targets.deliver(outcome, |form| {
                let out = match form {
                    Form::Json => json_line(&check_json(case, &sizes, &findings)),
                    _ => check_text(case, &sizes, &findings),
                };
                Ok(out.into_bytes())
            })
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
