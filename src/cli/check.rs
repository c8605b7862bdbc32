//! `check`.

use super::args::CheckArgs;
use super::batch::many;
use super::form::CHECK_FORMS;
use super::job::Job;
use super::open::{open, refused};
use super::outcome::{Outcome, code};
use super::output::Targets;
use super::render::checked;
use crate::convert::check as check_case;
use crate::diagnostic::worst;

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
