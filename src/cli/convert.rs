//! `convert` and `check`.

use std::io::IsTerminal as _;

use super::args::{CaseArgs, CheckArgs, ConvertArgs, PaperArg, TableForm};
use super::figure::conversion_picture;
use super::job::Job;
use super::output::{CHECK_FORMS, EVERY_FORM, Form, LAID_OUT, Targets};
use super::repair::repaired;
use super::show::{Source, diagnostics};
use super::{FINDINGS, Outcome, UNUSABLE, VERSION, batch, files, lines};
use crate::case::{Case, read_case, set_key};
use crate::convert::{Conversion, Old, cap_context, check as check_case, convert as convert_case};
use crate::diagnostic::{Diagnostic, Level, nearest, visible, worst};
use crate::report::{
    Document, MadeFrom, Reader, check_document, check_json, checklist_csv, checklist_document,
    conversion_document, conversion_json, flat_lines_text, grading_csv, grading_document,
    grading_json, together_document,
};

/// A case with the size asked for, and what was said while reading it.
pub(crate) struct Opened {
    pub(crate) case: Case,
    pub(crate) only: Option<usize>,
    pub(crate) err: String,
    /// The case file's text, with the repair that was accepted.
    pub(crate) text: String,
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
    if args.case.as_os_str() == "-" && std::io::stdin().is_terminal() {
        return Err(Outcome::unusable(
            "No case is named: name a case file, a folder of them, or pipe one in.",
        ));
    }
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
        let before = case.sleeve.cap.clone();
        err += &accept_repair(&mut case, n)?;
        text = if text.contains(&before) {
            text.replacen(&before, &case.sleeve.cap, 1)
        } else {
            format!("# Made with --accept-repair {n}.\n{text}")
        };
    }
    let only = match &args.size {
        Some(size) => Some(size_of(&case, size)?),
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
        visible(&set.join(", "))
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

/// What `convert` writes with these options; the first is printed.
pub(crate) fn forms(args: &ConvertArgs) -> &'static [Form] {
    match (args.checklist, args.grading) {
        (_, Some(TableForm::Text)) => &[Form::Text, Form::Json, Form::Csv, Form::Html, Form::Pdf],
        (_, Some(TableForm::Csv)) | (Some(TableForm::Csv), _) => &[Form::Csv],
        (Some(TableForm::Text), _) => &[Form::Text, Form::Csv, Form::Html, Form::Pdf],
        (None, None) if args.together => LAID_OUT,
        (None, None) if args.figure.is_some() && args.case.output.output.is_empty() => &[Form::Svg],
        (None, None) => EVERY_FORM,
    }
}

/// The case's arguments with `--runs` and `--choice` as the keys they stand for.
pub(crate) fn with_wishes(args: &ConvertArgs) -> CaseArgs {
    let mut case = args.case.clone();
    let wishes = [("fit.runs", args.runs), ("fit.choice", args.choice)];
    let wishes = wishes.into_iter();
    case.set
        .extend(wishes.filter_map(|(key, n)| n.map(|n| format!("{key}={n}"))));
    case.set
        .extend(args.same_runs.then(|| "fit.same_runs=true".to_owned()));
    case
}

/// The whole job.
pub(crate) fn convert(args: &ConvertArgs) -> Outcome {
    if let Some(outcome) = many(&Job::Convert(args)) {
        return outcome;
    }
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
///
/// # Errors
/// A sentence when it cannot be made.
pub(crate) fn converted(
    args: &ConvertArgs,
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    form: Form,
) -> Result<Vec<u8>, String> {
    let text = match form {
        Form::Json if args.grading.is_some() => json_line(&grading_json(case, conversion)),
        Form::Csv if args.grading.is_some() => grading_csv(case, conversion),
        Form::Text if args.flat_lines => flat_lines_text(case, conversion),
        Form::Json => json_line(&conversion_json(case, conversion)),
        Form::Csv => checklist_csv(conversion),
        Form::Svg => conversion_picture(case, conversion, args.figure.as_deref())?,
        Form::Text | Form::Html | Form::Pdf => {
            let document = document(args, case, conversion, case_text, form);
            return laid_out(&document, form, args.paper);
        }
    };
    Ok(text.into_bytes())
}

/// What is said of a conversion in a form that is laid out.
fn document(
    args: &ConvertArgs,
    case: &Case,
    conversion: &Conversion,
    case_text: &str,
    form: Form,
) -> Document {
    let reader = reader(form);
    if args.grading.is_some() {
        grading_document(case, conversion, reader)
    } else if args.checklist.is_some() {
        checklist_document(case, conversion)
    } else if args.together {
        together_document(case, conversion, reader)
    } else {
        let made = MadeFrom {
            case_text,
            version: VERSION,
        };
        let made = (form != Form::Text).then_some(made);
        conversion_document(case, conversion, reader, made)
    }
}

/// Who reads a form.
pub(crate) const fn reader(form: Form) -> Reader {
    match form {
        Form::Html => Reader::Page,
        Form::Pdf => Reader::Paper,
        _ => Reader::Terminal,
    }
}

/// A document as text, page or paper.
///
/// # Errors
/// A sentence when no PDF can be made.
pub(crate) fn laid_out(
    document: &Document,
    form: Form,
    paper: PaperArg,
) -> Result<Vec<u8>, String> {
    match form {
        Form::Html => Ok(document.html().into_bytes()),
        Form::Pdf => super::pdf::pdf(document, paper),
        _ => Ok(document.text().into_bytes()),
    }
}

/// The old garment alone.
pub(crate) fn check(args: &CheckArgs) -> Outcome {
    if let Some(outcome) = many(&Job::Check(args)) {
        return outcome;
    }
    let args = &args.case;
    let targets = match Targets::new(&args.output, &[&args.case], CHECK_FORMS) {
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
            targets.deliver(outcome, |form| checked(case, &sizes, &findings, form))
        }
        Err(found) => refused(case, &found, opened.err),
    }
}

/// A check in one form.
///
/// # Errors
/// A sentence when no PDF can be made.
pub(crate) fn checked(
    case: &Case,
    sizes: &[Old],
    findings: &[Diagnostic],
    form: Form,
) -> Result<Vec<u8>, String> {
    if form == Form::Json {
        return Ok(json_line(&check_json(case, sizes, findings)).into_bytes());
    }
    let document = check_document(case, sizes, findings, reader(form));
    laid_out(&document, form, PaperArg::A4)
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
