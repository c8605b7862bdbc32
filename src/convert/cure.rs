//! What in `[fit]` cures a finding on the new cap: tried, not guessed.

use crate::fit::{self, Fit, Problem, Wishes, Work};
use crate::measure::{BASE_TOLERANCE, GAP_LIMIT, Stitches};

/// The longest list of runs that is tried: all that a case may ask for.
const MOST_RUNS: usize = 8;

/// Work spent on each change, in nodes of the search: enough to find a good cap, not to prove it.
pub(super) const WORK: Work = Work::unproven(20_000);

/// The first change of each key of `[fit]` with which the fit has a cap that is good, as a next step;
/// `None` when no key helps.
///
/// Every change is within the limits of its key, and was fitted.
pub(super) fn tried(
    problem: &Problem<'_>,
    now: &Fit,
    good: &dyn Fn(&Problem<'_>, &Fit) -> bool,
) -> Option<String> {
    let works = |wishes: Wishes| {
        let other = Problem {
            wishes,
            ..problem.clone()
        };
        fit::fit_within(&other, WORK).is_ok_and(|found| good(&other, &found))
    };
    let wishes = &problem.wishes;
    let mut found = Vec::new();
    let runs = (now.plan.runs() + 1..=MOST_RUNS).find(|runs| {
        works(Wishes {
            runs: Some(*runs),
            ..wishes.clone()
        })
    });
    found.extend(runs.map(|runs| format!("fit.runs = {runs}")));
    let free = wishes.moves.is_some()
        && works(Wishes {
            moves: None,
            ..wishes.clone()
        });
    found.extend(free.then(|| "leaving fit.moves out".to_owned()));
    let wider = wishes.gap_limit + 1e-9 < GAP_LIMIT.max
        && works(Wishes {
            gap_limit: GAP_LIMIT.max,
            ..wishes.clone()
        });
    found.extend(wider.then(|| format!("fit.gap_limit = {}", GAP_LIMIT.max)));
    let base = (1..=4).map(|more| wishes.base_tolerance + Stitches(more));
    let base = base
        .filter(|base| base.as_f64() <= BASE_TOLERANCE.max)
        .find(|base| {
            works(Wishes {
                base_tolerance: *base,
                ..wishes.clone()
            })
        });
    found.extend(base.map(|base| format!("fit.base_tolerance = {}", base.count())));
    (!found.is_empty()).then(|| format!("Tried, and it helps: {}.", found.join(", or ")))
}

/// Said when no key of `[fit]` helps.
pub(super) const NOTHING_HELPS: &str = "No other runs, moves, gap limit or base tolerance in [fit] cure this (tried): it comes from the old cap, the armhole and the gauge. Check these, or live with the difference.";
