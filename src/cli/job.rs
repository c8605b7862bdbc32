//! One case of many: opened, converted or checked, summed up; a fault in one never ends the others.

use std::num::NonZeroUsize;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use serde_json::Value;

use super::args::{BatchArgs, CaseArgs, CheckArgs, ConvertArgs, OutputArgs};
use super::form::{CHECK_FORMS, Form, endings};
use super::open::{Opened, Refused, for_its_text, open_text, with_wishes};
use super::output::safe;
use super::render::{checked, converted, forms};
use crate::case::Case;
use crate::convert::{SizeBySize, check, convert_each};
use crate::diagnostic::Diagnostic;
use crate::parallel::cores;
use crate::report::{Batch, CaseSummary, Said, check_json, conversion_json};

/// What is done with every case.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Job<'a> {
    /// Convert it.
    Convert(&'a ConvertArgs),
    /// Check it.
    Check(&'a CheckArgs),
}

/// In what form the result of a case is wanted beside its summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// Not at all.
    Nothing,
    /// As the file that one case alone would give, in this form.
    File(Form),
    /// As JSON.
    Json,
}

/// What became of a case.
#[derive(Debug)]
pub(crate) struct Done {
    pub(crate) summary: CaseSummary,
    /// The result as a file, when it was wanted and there is one.
    pub(crate) file: Option<Vec<u8>>,
    /// The result as JSON, when it was wanted and there is one.
    pub(crate) json: Option<Value>,
    /// True for a fault of the program: not to be kept as the case's own result.
    pub(crate) fault: bool,
}

impl<'a> Job<'a> {
    pub(crate) fn kind(&self) -> Batch {
        match self {
            Self::Convert(_) => Batch::Convert,
            Self::Check(_) => Batch::Check,
        }
    }

    pub(crate) fn case(&self) -> &'a CaseArgs {
        match self {
            Self::Convert(args) => &args.case,
            Self::Check(args) => &args.case,
        }
    }

    pub(crate) fn batch(&self) -> &'a BatchArgs {
        match self {
            Self::Convert(args) => &args.batch,
            Self::Check(args) => &args.batch,
        }
    }

    /// Threads that work at once.
    pub(crate) fn threads(&self) -> NonZeroUsize {
        let asked = self.batch().jobs.map(usize::from);
        asked.and_then(NonZeroUsize::new).unwrap_or_else(cores)
    }

    /// Everything that a result depends on beside the case and the program. Every field is named, so
    /// that a new option cannot be left out by oversight.
    pub(crate) fn options(&self) -> String {
        let CaseArgs {
            case: _,
            size,
            accept_repair,
            set,
            output: OutputArgs { format, output: _ },
        } = self.case();
        let BatchArgs {
            more: _,
            jobs: _,
            worksheets,
            again: _,
            lines: _,
        } = self.batch();
        let common = format!("{size:?} {accept_repair:?} {set:?} {format:?} {worksheets:?}");
        match self {
            Self::Convert(ConvertArgs {
                case: _,
                together,
                flat_lines,
                runs,
                choice,
                same_runs,
                checklist,
                grading,
                figure,
                paper,
                batch: _,
            }) => format!(
                "convert {common} {together} {flat_lines} {runs:?} {choice:?} {same_runs} {checklist:?} {grading:?} {figure:?} {paper:?}"
            ),
            Self::Check(CheckArgs { case: _, batch: _ }) => format!("check {common}"),
        }
    }

    /// The one place that was named for the results; none for standard output.
    ///
    /// # Errors
    /// A sentence that begins with these words when there are several.
    pub(crate) fn only_output(&self, words: &str) -> Result<Option<&'a Path>, String> {
        match self.case().output.output.as_slice() {
            [_, second, ..] => Err(format!("{words}; {} is a second one.", second.display())),
            [one] if one.as_os_str() == "-" => Ok(None),
            [one] => Ok(Some(one)),
            [] => Ok(None),
        }
    }

    /// The form of the results.
    ///
    /// # Errors
    /// A sentence when the other options do not write this form.
    pub(crate) fn form(&self) -> Result<Form, String> {
        let can = match self {
            Self::Convert(args) => forms(args),
            Self::Check(_) => CHECK_FORMS,
        };
        let format = self.case().output.format.map(Form::from);
        let asked = self.batch().worksheets.or(format);
        let form = asked.or(can.first().copied()).unwrap_or(Form::Text);
        if can.contains(&form) {
            return Ok(form);
        }
        Err(format!(
            "These options do not write .{}; they write {}.",
            form.ending(),
            endings(can)
        ))
    }

    /// Does the job for one case on so many threads. Never fails and never panics: what is wrong
    /// stands in the summary.
    pub(crate) fn run(
        &self,
        name: &str,
        text: Result<String, String>,
        wanted: Wanted,
        threads: NonZeroUsize,
    ) -> Done {
        let work = || match text {
            Ok(text) => self.opened(name, text, wanted, threads),
            Err(sentence) => failed(name, None, vec![Said::fault(sentence)]),
        };
        catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
            let said = "The program ran into a fault of its own with this case; please report it together with the case.";
            Done {
                fault: true,
                ..failed(name, None, vec![Said::fault(said)])
            }
        })
    }

    fn opened(&self, name: &str, text: String, wanted: Wanted, threads: NonZeroUsize) -> Done {
        let opened = match self {
            Self::Convert(args) => open_text(&with_wishes(args), name, text).map(|opened| Opened {
                case: for_its_text(args, opened.case),
                ..opened
            }),
            Self::Check(args) => open_text(&args.case, name, text),
        };
        match opened {
            Ok(opened) => self.done(name, &opened, wanted, threads),
            Err(Refused { outcome, found }) if found.is_empty() => {
                let sentence = outcome.err.trim().trim_start_matches("error: ");
                failed(name, None, vec![Said::fault(sentence)])
            }
            Err(Refused { found, .. }) => failed(name, None, said(&found)),
        }
    }

    fn done(&self, name: &str, opened: &Opened, wanted: Wanted, threads: NonZeroUsize) -> Done {
        let case = &opened.case;
        let done = match self {
            Self::Convert(args) => convert_each(case, opened.only, threads)
                .map(|result| whole(args, name, opened, result, wanted)),
            Self::Check(_) => check(case, opened.only).map(|(sizes, findings)| Done {
                summary: CaseSummary::checked(name, case, &sizes, &findings),
                file: match wanted {
                    Wanted::File(form) => checked(case, &sizes, &findings, form)
                        .ok()
                        .map(|bytes| safe(form, bytes)),
                    Wanted::Nothing | Wanted::Json => None,
                },
                json: (wanted == Wanted::Json).then(|| check_json(case, &sizes, &findings)),
                fault: false,
            }),
        };
        done.unwrap_or_else(|found| failed(name, Some(case), said(&found)))
    }
}

/// A converted case. What is wrong with the sizes that failed stands in the result, too.
fn whole(
    args: &ConvertArgs,
    name: &str,
    opened: &Opened,
    mut result: SizeBySize,
    wanted: Wanted,
) -> Done {
    let case = &opened.case;
    let summary = CaseSummary::converted(name, case, &result);
    let of_failed = result.failed.iter().flat_map(|(_, found)| found).cloned();
    result.conversion.findings.splice(0..0, of_failed);
    let file = match wanted {
        Wanted::File(form) => match converted(args, case, &result.conversion, &opened.text, form) {
            Ok(bytes) => Some(safe(form, bytes)),
            Err(sentence) => return failed(name, Some(case), vec![Said::fault(sentence)]),
        },
        Wanted::Nothing | Wanted::Json => None,
    };
    Done {
        summary,
        file,
        json: (wanted == Wanted::Json).then(|| conversion_json(case, &result.conversion)),
        fault: false,
    }
}

fn failed(name: &str, case: Option<&Case>, findings: Vec<Said>) -> Done {
    Done {
        summary: CaseSummary::failed(name, case, findings),
        file: None,
        json: None,
        fault: false,
    }
}

fn said(found: &[Diagnostic]) -> Vec<Said> {
    found.iter().map(Said::of).collect()
}
