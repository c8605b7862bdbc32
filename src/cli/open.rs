//! A case opened: its file read, keys set, a repair accepted, the size found.

use std::io::IsTerminal as _;

use super::args::{CaseArgs, ConvertArgs};
use super::files;
use super::outcome::{Outcome, UNUSABLE};
use super::repair::repaired;
use super::show::{SpanSource, diagnostics, in_case};
use crate::case::{Case, read_case, set_key};
use crate::convert::cap_context;
use crate::diagnostic::{Diagnostic, nearest, visible};

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
        text = set_key(&text, assignment).map_err(|error| error.to_string())?;
    }
    let (case, said) = read_case(&text);
    let source = SpanSource { name, text: &text };
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

/// The case for what is written of it: the counts of a grading are pasted into the text of all sizes, and so are those of
/// the same caps.
pub(crate) fn for_its_text(args: &ConvertArgs, case: Case) -> Case {
    if args.together || args.grading.is_some() {
        case.for_one_text()
    } else {
        case
    }
}

/// A case that cannot be worked on: what was found, after what was said before.
pub(crate) fn refused(case: &Case, found: &[Diagnostic], before: String) -> Outcome {
    Outcome {
        err: before + &in_case(case, found),
        code: UNUSABLE,
        ..Outcome::default()
    }
}
