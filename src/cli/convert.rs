//! `convert`.

use super::args::ConvertArgs;
use super::batch::many;
use super::job::Job;
use super::open::{for_its_text, open, refused, with_wishes};
use super::outcome::{Outcome, code};
use super::output::Targets;
use super::render::{converted, forms};
use super::show::in_case;
use crate::convert::convert as convert_case;
use crate::diagnostic::{Diagnostic, Level};

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
    let case = &for_its_text(args, opened.case);
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
                err: opened.err + &in_case(case, &loud),
                code: code(conversion.worst()),
            };
            targets.deliver(outcome, |form| {
                converted(args, case, &conversion, &opened.text, form)
            })
        }
        Err(found) => refused(case, &found, opened.err),
    }
}
