//! `read`: lines to ledger.

use super::args::{PaperArg, ReadArgs, TermsArg};
use super::files;
use super::form::{CHECK_FORMS, Form};
use super::outcome::{Outcome, UNUSABLE, code};
use super::output::Targets;
use super::render::{json_line, laid_out};
use super::repair::repaired;
use super::show::{SpanSource, diagnostics};
use crate::case::{Terms, read_case};
use crate::convert::cap_context;
use crate::diagnostic::worst;
use crate::measure::{Length, ROWS_PER_10CM, Side, Units};
use crate::pattern::{Context, Piece, Readings, parse_size_set, read as read_lines, write_lines};
use crate::report::{reading_document, reading_json};

pub(crate) fn read(args: &ReadArgs) -> Outcome {
    let can = match args.rewrite {
        Some(_) => &[Form::Text],
        None => CHECK_FORMS,
    };
    let targets = match Targets::new(&args.output, &[&args.input], can) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let job = ReadJob { args, targets };
    let text = match files::text(&args.input) {
        Ok(text) => text,
        Err(sentence) => return Outcome::unusable(&sentence),
    };
    let name = args.input.display().to_string();
    match &args.stitches {
        Some(stitches) => match context(args, stitches) {
            Ok(context) => job.reading(&text, &name, &context, String::new()),
            Err(outcome) => outcome,
        },
        None => job.case_lines(&text, &name),
    }
}

/// What is asked for and where it goes.
struct ReadJob<'a> {
    args: &'a ReadArgs,
    targets: Targets,
}

impl ReadJob<'_> {
    fn case_lines(&self, text: &str, name: &str) -> Outcome {
        let (case, said) = read_case(text);
        let err = diagnostics(&said, SpanSource { name, text });
        let Some(case) = case else {
            let hint =
                "help: to read bare lines, give --stitches, e.g. --stitches \"67 [71:77]\"\n";
            return Outcome {
                err: err + hint,
                code: UNUSABLE,
                ..Outcome::default()
            };
        };
        if !case.sleeve.has_old_cap() {
            return Outcome::unusable(
                "The case has no old cap to read; `capwright convert` shows the lines of the one it drafts.",
            );
        }
        match cap_context(&case) {
            Ok(context) => self.reading(&case.sleeve.cap, "sleeve.cap", &context, err),
            Err(found) => Outcome {
                err: err + &diagnostics(&found, SpanSource { name, text: "" }),
                code: UNUSABLE,
                ..Outcome::default()
            },
        }
    }

    fn reading(&self, lines: &str, name: &str, context: &Context, mut before: String) -> Outcome {
        let mut lines = lines.to_owned();
        if let Some(n) = self.args.accept_repair {
            match repaired(&lines, context, n) {
                Ok((changed, said)) => {
                    lines = changed;
                    before += &said;
                }
                Err(sentence) => return Outcome::unusable(&sentence),
            }
        }
        let (reading, said) = read_lines(&lines, context);
        let source = SpanSource { name, text: &lines };
        let outcome = Outcome {
            out: String::new(),
            err: before + &diagnostics(&said, source),
            code: code(worst(&said)),
        };
        self.targets.deliver(outcome, |form| {
            let out = match (self.args.rewrite, form) {
                (Some(terms), _) => write_lines(&reading.sizes, terms.into()),
                (None, Form::Json) => json_line(&reading_json(&reading, &said)),
                (None, form) => {
                    let document = reading_document(&reading, &lines);
                    return laid_out(&document, form, PaperArg::A4);
                }
            };
            Ok(out.into_bytes())
        })
    }
}

fn context(args: &ReadArgs, stitches: &str) -> Result<Context, Outcome> {
    let (stitches, said) = parse_size_set(stitches);
    if worst(&said).is_some_and(|level| level == crate::diagnostic::Level::Error) {
        let source = SpanSource {
            name: "--stitches",
            text: args.stitches.as_deref().unwrap_or_default(),
        };
        return Err(Outcome {
            err: diagnostics(&said, source),
            code: UNUSABLE,
            ..Outcome::default()
        });
    }
    let first_row = match args.first_row.to_uppercase().as_str() {
        "RS" => Side::Rs,
        "WS" => Side::Ws,
        other => {
            return Err(Outcome::unusable(&format!(
                "--first-row is RS or WS, not {other}."
            )));
        }
    };
    let sizes = (1..=stitches.len()).map(|n| n.to_string()).collect();
    Ok(Context {
        sizes,
        stitches,
        first_row,
        row_heights: row_heights(args.rows_per_10cm)?,
        units: Units::Cm,
        piece: Piece::Sleeve,
        readings: Readings::default(),
    })
}

fn row_heights(rows_per_10cm: Option<f64>) -> Result<Option<Vec<Length>>, Outcome> {
    let Some(rows) = rows_per_10cm else {
        return Ok(None);
    };
    match ROWS_PER_10CM.check(rows) {
        Ok(rows) => Ok(Some(vec![Length::cm(10.0 / rows)])),
        Err(error) => Err(Outcome::unusable(&format!("--rows-per-10cm: {error}."))),
    }
}

impl From<TermsArg> for Terms {
    fn from(terms: TermsArg) -> Self {
        match terms {
            TermsArg::Us => Self::Us,
            TermsArg::Uk => Self::Uk,
        }
    }
}
