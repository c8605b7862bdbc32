//! What in `[fit]` cures a finding on the new cap, and what `[adapt]` does where there is none: tried, not guessed.

use super::garment::Old;
use crate::adapt::Adapted;
use crate::case::{Case, SameRuns};
use crate::check::near_in_depth;
use crate::diagnostic::Diagnostic;
use crate::fit::{self, Fit, MOST_RUNS, Problem, Wishes, Work};
use crate::measure::{BASE_TOLERANCE, GAP_LIMIT, Length, Stitches, Stop};
use crate::plan::Repeat;

/// Work spent on each change, in nodes of the search: enough to see whether it may help, not to prove it.
const WORK: Work = Work::unproven(20_000);

/// Wishes that pick another cap than the best: with one of them a change of `[fit]` alone leads elsewhere.
#[derive(Debug)]
pub(super) struct Without(Vec<&'static str>);

impl Without {
    pub(super) fn of(case: &Case) -> Self {
        let picked = (case.fit.choice > 1).then_some("fit.choice");
        // Nobody can leave out what was chosen for a text of all sizes alone.
        let asked = case.fit.same_runs == SameRuns::Yes && case.sizes.len() > 1;
        let same = asked.then_some("fit.same_runs");
        Self(picked.into_iter().chain(same).collect())
    }

    /// `fit.choice and fit.same_runs`.
    fn keys(&self) -> Option<String> {
        (!self.0.is_empty()).then(|| self.0.join(" and "))
    }
}

/// The first change of each key of `[fit]` with which the fit has a cap that is good, as a next step.
///
/// Every change is within the limits of its key, and was fitted with all the work that a fit has: what is set in the
/// case gives the same cap.
pub(super) fn tried(
    (problem, stop): (&Problem<'_>, &Stop),
    now: &Fit,
    without: &Without,
    good: &dyn Fn(&Problem<'_>, &Fit) -> bool,
) -> Option<String> {
    let works = |wishes: Wishes| {
        let other = Problem {
            wishes,
            ..problem.clone()
        };
        let fitted = |work| fit::fit_until(&other, work, stop);
        let helps = |work| fitted(work).is_ok_and(|found| good(&other, &found));
        !stop.is_set() && helps(WORK) && helps(Work::USUAL)
    };
    let left_out = without.keys();
    if let Some(keys) = &left_out
        && works(problem.wishes.clone())
    {
        return Some(format!("Tried, and it helps: leaving {keys} out."));
    }
    let found = changes(&problem.wishes, now, &works);
    if found.is_empty() {
        return None;
    }
    let with = left_out.map_or_else(String::new, |keys| format!(" (with {keys} left out)"));
    let found = found.join(", or ");
    Some(format!("Tried, and it helps{with}: {found}."))
}

fn changes(wishes: &Wishes, now: &Fit, works: &dyn Fn(Wishes) -> bool) -> Vec<String> {
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
    found
}

/// Where `[fit]` has nothing that helps: the cap that `[adapt]` makes for this armhole, tried as well.
pub(super) fn tried_adapted(
    case: &Case,
    old: &Old,
    (problem, stop): (&Problem<'_>, &Stop),
    good: &dyn Fn(&Problem<'_>, &Fit) -> bool,
) -> Option<String> {
    if case.adapt.is_some() {
        return None;
    }
    let Adapted { cap, upper_arm, .. } = old.adapted_to(case, None)?;
    if !near_in_depth(cap.depth(), old.cap.depth()) {
        return None;
    }
    let other = Problem {
        cap: &cap,
        upper_arm,
        ..problem.clone()
    };
    let helps = |work| fit::fit_until(&other, work, stop).is_ok_and(|fit| good(&other, &fit));
    (!stop.is_set() && helps(WORK) && helps(Work::USUAL)).then(|| {
        format!(
            "Nothing in [fit] helps. Tried, and it helps: `[adapt]` with `ease = 0`, a cap that is {} deep instead of {}.",
            case.units.show(cap.depth()),
            case.units.show(old.cap.depth()),
        )
    })
}

/// Where a finding comes from the whole repeats at the upper arm: without them the fit has a cap that is good.
pub(super) fn tried_without_repeats(
    (problem, stop): (&Problem<'_>, &Stop),
    good: &dyn Fn(&Problem<'_>, &Fit) -> bool,
) -> Option<String> {
    let multiple = problem.repeat.multiple;
    if multiple <= 1 {
        return None;
    }
    let free = Problem {
        repeat: Repeat::ANY,
        ..problem.clone()
    };
    let helps = |work| fit::fit_until(&free, work, stop).is_ok_and(|fit| good(&free, &fit));
    (!stop.is_set() && helps(WORK) && helps(Work::USUAL)).then(|| {
        format!(
            "It comes from the whole repeats of {} at the upper arm: without them it is gone (tried). Choose a narrower `sleeve.repeat`, or set `sleeve.repeat = {{ multiple = 1 }}`, so that the pattern breaks under the arm.",
            Stitches(multiple)
        )
    })
}

/// Said when no key of `[fit]` helps.
pub(super) const NOTHING_HELPS: &str = "No other runs, moves, gap limit or base tolerance in [fit] cure this (tried): it comes from the old cap, the armhole and the gauge. Check these, or live with the difference.";

/// True when the cap that `[adapt]` makes, for another upper arm or the one there is, can be picked up.
pub(super) fn adapts(
    case: &Case,
    old: &Old,
    (problem, stop): (&Problem<'_>, &Stop),
    upper_arm: Option<Length>,
) -> bool {
    old.adapted_to(case, upper_arm).is_some_and(|adapted| {
        let other = Problem {
            cap: &adapted.cap,
            upper_arm: adapted.upper_arm,
            ..problem.clone()
        };
        fit::has_cap(&other, stop)
    })
}

/// No cap was found: whether `[adapt]` makes one that can be.
pub(super) fn or_adapted(
    case: &Case,
    old: &Old,
    asked: (&Problem<'_>, &Stop),
    said: Diagnostic,
) -> Diagnostic {
    if case.adapt.is_some() || !fit::is_no_cap(said.code) || !adapts(case, old, asked, None) {
        return said;
    }
    let next = format!(
        "{} Or add `[adapt]` with `ease = 0` to the case: its cap meets this armhole and can be picked up (tried).",
        said.advice()
    );
    said.next(next)
}
