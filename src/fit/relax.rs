//! The smallest change of one limit that makes a cap possible where there is none.

use super::exact::{Best, Frames, Moves, Wanted};
use super::frames::{turn_pair_counts, upper_arm_stitches};
use super::plan::Move;
use super::problem::{DEFAULT_GAP_LIMIT, Problem};
use crate::measure::{BASE_TOLERANCE, Stitches};

/// Stitches by which the upper arm is changed at the most in search of a cap.
const MOST_ARM_CHANGE: u32 = 40;

/// The steepest move there is.
pub(super) const STEEPEST: u32 = 10;

/// Every limit that, changed alone by the smallest step that helps, makes a cap possible: in words.
///
/// Each is tried on the whole model and therefore true, not an estimate.
pub(crate) fn relaxations(problem: &Problem<'_>) -> Vec<String> {
    let found = [
        other_arm(problem, true),
        other_arm(problem, false),
        wider_gap(problem),
        other_base(problem),
        steeper(problem),
    ];
    found.into_iter().flatten().collect()
}

fn other_arm(problem: &Problem<'_>, wider: bool) -> Option<String> {
    let stitch = problem.tube_gauge.stitch_width();
    let now = upper_arm_stitches(problem).count();
    (1..=MOST_ARM_CHANGE).find_map(|change| {
        let count = if wider {
            now + change
        } else {
            now.checked_sub(change)?
        };
        if !problem.repeat.allows(Stitches(count)) {
            return None;
        }
        let other = Problem {
            upper_arm: stitch * f64::from(count),
            ..problem.clone()
        };
        let word = if wider { "more" } else { "fewer" };
        (upper_arm_stitches(&other) == Stitches(count) && has_cap(&other))
            .then(|| format!("{} {word} at the upper arm", Stitches(change)))
    })
}

fn wider_gap(problem: &Problem<'_>) -> Option<String> {
    (1..=24).find_map(|tenths| {
        let gap_limit = (problem.wishes.gap_limit * 10.0).floor() / 10.0 + 0.1 * f64::from(tenths);
        if gap_limit > DEFAULT_GAP_LIMIT + 1e-9 {
            return None;
        }
        let mut other = problem.clone();
        other.wishes.gap_limit = gap_limit;
        has_cap(&other).then(|| format!("fit.gap_limit = {gap_limit:.1}"))
    })
}

fn other_base(problem: &Problem<'_>) -> Option<String> {
    let most = crate::measure::whole(BASE_TOLERANCE.max);
    (problem.wishes.base_tolerance.count() + 1..=most).find_map(|tolerance| {
        let mut other = problem.clone();
        other.wishes.base_tolerance = Stitches(tolerance);
        has_cap(&other).then(|| format!("fit.base_tolerance = {tolerance}"))
    })
}

fn steeper(problem: &Problem<'_>) -> Option<String> {
    (2..=STEEPEST).find_map(|take| {
        let mut other = problem.clone();
        let counts = turn_pair_counts(problem).into_iter().next()?;
        let mut moves = problem.allowed_moves(&problem.targets_cm(counts));
        if moves.contains(&Move::new(take, 0)) {
            return None;
        }
        moves.push(Move::new(take, 0));
        other.wishes.moves = Some(moves);
        has_cap(&other).then(|| format!("the move {take}/0 in fit.moves"))
    })
}

/// Work spent on the question whether there is a cap at all, in nodes of the search.
const MOST_WORK: u64 = 20_000;

/// True when the model has a cap.
pub(crate) fn has_cap(problem: &Problem<'_>) -> bool {
    let mut best = Best::new(Wanted::Any, MOST_WORK);
    Frames::of(problem, Moves::Allowed).search(&mut best);
    best.into_best().is_some()
}
