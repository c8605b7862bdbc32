//! One list of runs for all sizes of a case.

use super::conversion::SizeConversion;
use super::garment::unless_stopped;
use super::size::{convert_with, problem};
use crate::case::Case;
use crate::check::same_runs_jump;
use crate::diagnostic::Diagnostic;
use crate::fit::{self, Fit, Problem, same_runs_until};
use crate::measure::{Stitches, Stop};
use crate::plan::CapPlan;

/// Runs in one text for all sizes when the case names no number: more is a burden and gains little
/// (the ten sizes of our own case: nothing, with six and with seven).
const MOST_TO_REMEMBER: usize = 5;

/// Gives every size the list of runs that serves all of them with the least loss.
///
/// # Errors
/// A finding when no list serves all sizes; all findings of a size that cannot be written with it.
pub(super) fn same_runs(
    case: &Case,
    sizes: &[(usize, SizeConversion)],
    stop: &Stop,
) -> Result<Vec<(usize, SizeConversion)>, Vec<Diagnostic>> {
    // What is on the needles stays as it is.
    let (begun, sizes): (Vec<_>, Vec<_>) = sizes.iter().partition(|(_, size)| size.under_way);
    let problems: Vec<Problem<'_>> = sizes
        .iter()
        .map(|(index, size)| problem(case, *index, &size.old, &size.gauge))
        .collect();
    let fits: Vec<Fit> = sizes.iter().map(|(_, size)| size.fit.clone()).collect();
    let own = fits.iter().map(|fit| fit.plan.runs()).max().unwrap_or(1);
    let most = case.fit.runs.unwrap_or(own.min(MOST_TO_REMEMBER));
    let found = same_runs_until(&problems, &fits, most, stop);
    unless_stopped(stop)?;
    let found = found.ok_or_else(|| vec![fit::no_same_runs(most)])?;
    // A size whose own limits the common list breaks has no such cap; that is no fault of the program.
    let mut caps = problems.iter().zip(&found.fits);
    if !caps.all(|(problem, fit)| fit::certify(problem, &fit.plan, &fit.measures).is_empty()) {
        return Err(vec![fit::no_same_runs(most)]);
    }
    let said = jumps(&found.fits);
    let mut done = Vec::with_capacity(sizes.len());
    let mut failed = Vec::new();
    for (((index, size), problem), fit) in sizes.iter().zip(&problems).zip(found.fits) {
        match convert_with(case, *index, size, (problem, stop), fit) {
            Ok(size) => done.push((*index, size)),
            Err(found) => failed.extend(found),
        }
    }
    if failed.is_empty() {
        if let Some((_, first)) = done.first_mut() {
            first.findings.extend(said);
        }
        done.extend(begun.into_iter().cloned());
        done.sort_by_key(|(index, _)| *index);
        Ok(done)
    } else {
        Err(failed)
    }
}

/// Stitches picked up and decreased on each flank that go up and down from size to size.
fn jumps(fits: &[Fit]) -> Vec<Diagnostic> {
    let of = |number: &dyn Fn(&CapPlan) -> Stitches| -> Vec<u32> {
        fits.iter().map(|fit| number(&fit.plan).count()).collect()
    };
    let told = |what: &str, flank: &str, numbers: &[u32]| {
        same_runs_jump(&format!("{what} along {flank}"), numbers)
    };
    let of_both = |what: &str, [front, back]: [Vec<u32>; 2]| {
        if front == back {
            [told(what, "each flank", &front), None]
        } else {
            [
                told(what, "the front flank", &front),
                told(what, "the back flank", &back),
            ]
        }
    };
    let picked_up = [
        of(&|plan| plan.front.picked_up()),
        of(&|plan| plan.back.picked_up()),
    ];
    let decreases = [
        of(&|plan| plan.front.decreases()),
        of(&|plan| plan.back.decreases()),
    ];
    [
        of_both("stitches picked up", picked_up),
        of_both("decreases", decreases),
    ]
    .into_iter()
    .flatten()
    .flatten()
    .collect()
}
