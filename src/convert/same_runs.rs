//! One list of runs for all sizes of a case.

use super::SizeConversion;
use super::size::{convert_with, problem};
use crate::case::Case;
use crate::diagnostic::Diagnostic;
use crate::fit::{self, Fit, Problem, together};

/// Runs in one text for all sizes when the case names no number: more is a burden and gains little
/// (the ten sizes of our own case: nothing, with six and with seven).
const MOST_TO_REMEMBER: usize = 5;

/// Gives every size the list of runs that serves all of them with the least loss.
///
/// # Errors
/// A finding when no list serves all sizes; all findings of a size that cannot be written with it.
pub(super) fn same_runs(
    case: &Case,
    sizes: Vec<(usize, SizeConversion)>,
) -> Result<Vec<(usize, SizeConversion)>, Vec<Diagnostic>> {
    let problems: Vec<Problem<'_>> = sizes
        .iter()
        .map(|(index, size)| problem(case, *index, &size.old, &size.gauge))
        .collect();
    let fits: Vec<Fit> = sizes.iter().map(|(_, size)| size.fit.clone()).collect();
    let own = fits.iter().map(|fit| fit.plan.runs()).max().unwrap_or(1);
    let most = case.fit.runs.unwrap_or(own.min(MOST_TO_REMEMBER));
    let found = together(&problems, &fits, most).ok_or_else(|| vec![fit::no_same_runs(most)])?;
    let mut done = Vec::with_capacity(sizes.len());
    let mut failed = Vec::new();
    for ((index, size), fit) in sizes.into_iter().zip(found.fits) {
        match convert_with(case, index, size, fit) {
            Ok(size) => done.push((index, size)),
            Err(found) => failed.extend(found),
        }
    }
    if failed.is_empty() {
        Ok(done)
    } else {
        Err(failed)
    }
}
