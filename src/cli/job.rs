//! One case of many: opened, converted or checked, summed up; a fault in one never ends the others.

use std::num::NonZeroUsize;
use std::panic::{AssertUnwindSafe, catch_unwind};

use serde_json::Value;

use super::args::{BatchArgs, CaseArgs, CheckArgs, ConvertArgs, Format, OutputArgs, TableForm};
use super::convert::{Opened, Refused, checked, open_text, written};
use crate::case::Case;
use crate::convert::{SizeBySize, check, convert_each, cores};
use crate::diagnostic::Diagnostic;
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
    /// As the file that one case alone would give.
    File,
    /// As JSON.
    Json,
}

/// What became of a case.
#[derive(Debug)]
pub(crate) struct Done {
    pub(crate) summary: CaseSummary,
    /// The result as a file, when it was wanted and there is one.
    pub(crate) file: Option<String>,
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
        let common = format!("{size:?} {accept_repair:?} {set:?} {format:?}");
        match self {
            Self::Convert(ConvertArgs {
                case: _,
                together,
                checklist,
                grading,
                batch: _,
            }) => format!("convert {common} {together} {checklist:?} {grading:?}"),
            Self::Check(CheckArgs { case: _, batch: _ }) => format!("check {common}"),
        }
    }

    /// The ending of a result's file.
    pub(crate) fn ending(&self) -> &'static str {
        match (self, self.case().output.format) {
            (Self::Convert(args), _) if args.checklist == Some(TableForm::Csv) => "csv",
            (Self::Convert(args), Format::Text) if args.grading == Some(TableForm::Csv) => "csv",
            (Self::Convert(args), _) if args.checklist.is_some() => "txt",
            (_, Format::Text) => "txt",
            (_, Format::Json) => "json",
        }
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
        match open_text(self.case(), name, text) {
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
                .map(|result| converted(args, name, case, result, wanted)),
            Self::Check(args) => check(case, opened.only).map(|(sizes, findings)| Done {
                summary: CaseSummary::checked(name, case, &sizes, &findings),
                file: (wanted == Wanted::File)
                    .then(|| checked(&args.case, case, &sizes, &findings)),
                json: (wanted == Wanted::Json).then(|| check_json(case, &sizes, &findings)),
                fault: false,
            }),
        };
        done.unwrap_or_else(|found| failed(name, Some(case), said(&found)))
    }
}

/// A converted case. What is wrong with the sizes that failed stands in the result, too.
fn converted(
    args: &ConvertArgs,
    name: &str,
    case: &Case,
    mut result: SizeBySize,
    wanted: Wanted,
) -> Done {
    let summary = CaseSummary::converted(name, case, &result);
    let of_failed = result.failed.iter().flat_map(|(_, found)| found).cloned();
    result.conversion.findings.splice(0..0, of_failed);
    Done {
        summary,
        file: (wanted == Wanted::File).then(|| written(args, case, &result.conversion)),
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
