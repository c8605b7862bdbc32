//! `convert` and `check`.

use super::args::{CaseArgs, CheckArgs, ConvertArgs, Format, TableForm};
use super::job::Job;
use super::repair::repaired;
use super::show::{Source, diagnostics};
use super::{FINDINGS, Outcome, UNUSABLE, batch, files, lines};
use crate::case::{Case, read_case, set_key};
use crate::convert::{Conversion, Old, cap_context, check as check_case, convert as convert_case};
use crate::diagnostic::{Diagnostic, Level, nearest, worst};
use crate::report::{
    check_json, check_text, checklist_csv, checklist_text, conversion_json, conversion_text,
    grading_csv, grading_json, grading_text, together_text,
};

/// A case with the size asked for, and what was said while reading it.
pub(crate) struct Opened {
    pub(crate) case: Case,
    pub(crate) only: Option<usize>,
    pub(crate) err: String,
}

/// A case that could not be opened: how to end, and what was found.
pub(crate) struct Refused {
    pub(crate) outcome: Outcome,
    pub(crate) found: Vec<Diagnostic>,
}

impl From<String> for Refused {
    fn from(sentence: String) -> Self {
        Self {
            outcome: Outcome::unusable(&sentence),
            found: Vec::new(),
        }
    }
}

/// Opens a case file.
///
/// # Errors
/// The outcome to end with: the file or the case cannot be used.
pub(crate) fn open(args: &CaseArgs) -> Result<Opened, Outcome> {
    let text = files::text(&args.case).map_err(|sentence| Outcome::unusable(&sentence))?;
    let name = args.case.display().to_string();
    open_text(args, &name, text).map_err(|refused| refused.outcome)
}

/// Opens a case whose text is known already.
///
/// # Errors
/// What to end with: the case cannot be used.
pub(crate) fn open_text(args: &CaseArgs, name: &str, mut text: String) -> Result<Opened, Refused> {
    for assignment in &args.set {
        text = set_key(&text, assignment)?;
    }
    let (case, said) = read_case(&text);
    let source = Source { name, text: &text };
    let mut err = what_if(&args.set) + &diagnostics(&said, source);
    let Some(mut case) = case else {
        let outcome = Outcome {
            err,
            code: UNUSABLE,
            ..Outcome::default()
        };
        return Err(Refused {
            outcome,
            found: said,
        });
    };
    if let Some(n) = args.accept_repair {
        err += &accept_repair(&mut case, n)?;
    }
    let only = match &args.size {
        Some(size) => Some(size_of(&case, size)?),
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
fn accept_repair(case: &mut Case, n: usize) -> Result<String, Refused> {
    let context = cap_context(case).map_err(|found| Refused {
        outcome: refused(case, &found, String::new()),
        found,
    })?;
    let (lines, said) = repaired(&case.sleeve.cap, &context, n)?;
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
    let job = Job::Convert(args);
    if let Some(outcome) = many(&job) {
        return outcome;
    }
    let opened = match open(&args.case) {
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
                out: written(args, case, &conversion),
                err: opened.err + &said(case, &loud),
                code: code(conversion.worst()),
            };
            files::deliver(outcome, &args.case.output)
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

/// A conversion in the form that was asked for.
pub(crate) fn written(args: &ConvertArgs, case: &Case, conversion: &Conversion) -> String {
    match (args.grading, args.case.output.format) {
        (Some(_), Format::Json) => return json_line(&grading_json(case, conversion)),
        (Some(TableForm::Csv), _) => return grading_csv(case, conversion),
        (Some(TableForm::Text), _) => return grading_text(case, conversion),
        (None, _) => {}
    }
    match (args.checklist, args.case.output.format) {
        (Some(TableForm::Text), _) => checklist_text(conversion),
        (Some(TableForm::Csv), _) => checklist_csv(conversion),
        (None, Format::Text) if args.together => together_text(case, conversion),
        (None, Format::Text) => conversion_text(case, conversion),
        (None, Format::Json) => json_line(&conversion_json(case, conversion)),
    }
}

/// The old garment alone.
pub(crate) fn check(args: &CheckArgs) -> Outcome {
    if let Some(outcome) = many(&Job::Check(args)) {
        return outcome;
    }
    let args = &args.case;
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
                out: checked(args, case, &sizes, &findings),
                err: opened.err,
                code: code(highest),
            };
            files::deliver(outcome, &args.output)
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

/// A check in the form that was asked for.
pub(crate) fn checked(
    args: &CaseArgs,
    case: &Case,
    sizes: &[Old],
    findings: &[Diagnostic],
) -> String {
    match args.output.format {
        Format::Text => check_text(case, sizes, findings),
        Format::Json => json_line(&check_json(case, sizes, findings)),
    }
}

/// What to do when not one case was named but many: lines, several files or a folder.
fn many(job: &Job<'_>) -> Option<Outcome> {
    let batch = job.batch();
    let first = &job.case().case;
    if let Some(form) = batch.lines {
        return Some(lines::lines(job, form));
    }
    (!batch.more.is_empty() || first.is_dir()).then(|| batch::batch(job))
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
