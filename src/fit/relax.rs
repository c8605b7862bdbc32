//! The smallest change of one limit that makes a cap possible where there is none.

use super::exact::{Aim, Best, Frames, GIVE_UP, Moves};
use super::frames::{turn_pair_counts, upper_arm_stitches};
use super::plan::{Move, STEEPEST};
use super::problem::{DEFAULT_GAP_LIMIT, Problem};
use crate::measure::{BASE_TOLERANCE, Rows, Stitches, Stop};

/// Stitches by which the upper arm is changed at the most in search of a cap.
const MOST_ARM_CHANGE: u32 = 40;

/// Rows by which each side of the armhole is changed at the most in search of a cap.
const MOST_ARMHOLE_CHANGE: i32 = 40;

/// Every limit that, changed alone by the smallest step that helps, makes a cap possible: in words.
///
/// Each is tried on the whole model and therefore true, not an estimate; one that is not named was not found to help.
pub(super) fn relaxations(problem: &Problem<'_>, stop: &Stop) -> Vec<String> {
    let has_cap = |other: &Problem<'_>| has_cap(other, stop);
    let found = [
        wider_gap(problem, &has_cap),
        other_base(problem, &has_cap),
        free_moves(problem, &has_cap),
        steeper(problem, &has_cap),
        other_armhole(problem, true, &has_cap),
        other_armhole(problem, false, &has_cap),
        other_arm(problem, true, &has_cap),
        other_arm(problem, false, &has_cap),
    ];
    found.into_iter().flatten().collect()
}

/// What was tried where nothing helps.
pub(super) fn tried_in_vain() -> String {
    format!(
        "No change of one limit alone was found that makes a cap possible (tried: fit.gap_limit, fit.base_tolerance, fit.moves, up to {} more or fewer on each side of the armhole, up to {} at the upper arm). Check the armhole's measures, the gauges and [fit].",
        Rows(MOST_ARMHOLE_CHANGE.unsigned_abs()),
        Stitches(MOST_ARM_CHANGE),
    )
}

fn other_armhole(problem: &Problem<'_>, taller: bool, has_cap: HasCap<'_>) -> Option<String> {
    (1..=MOST_ARMHOLE_CHANGE).find_map(|rows| {
        let change = if taller { rows } else { -rows };
        let front = problem.front.taller(change)?;
        let back = problem.back.taller(change)?;
        let other = Problem {
            front: &front,
            back: &back,
            ..problem.clone()
        };
        let word = if taller { "more" } else { "fewer" };
        has_cap(&other).then(|| {
            format!(
                "{} {word} on each side of the armhole",
                Rows(rows.unsigned_abs())
            )
        })
    })
}

/// The usual moves, where the case names its own.
fn free_moves(problem: &Problem<'_>, has_cap: HasCap<'_>) -> Option<String> {
    problem.wishes.moves.as_ref()?;
    let mut other = problem.clone();
    other.wishes.moves = None;
    has_cap(&other).then(|| "leaving fit.moves out".to_owned())
}

fn other_arm(problem: &Problem<'_>, wider: bool, has_cap: HasCap<'_>) -> Option<String> {
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

fn wider_gap(problem: &Problem<'_>, has_cap: HasCap<'_>) -> Option<String> {
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

fn other_base(problem: &Problem<'_>, has_cap: HasCap<'_>) -> Option<String> {
    let most = crate::measure::whole(BASE_TOLERANCE.max);
    (problem.wishes.base_tolerance.count() + 1..=most).find_map(|tolerance| {
        let mut other = problem.clone();
        other.wishes.base_tolerance = Stitches(tolerance);
        has_cap(&other).then(|| format!("fit.base_tolerance = {tolerance}"))
    })
}

fn steeper(problem: &Problem<'_>, has_cap: HasCap<'_>) -> Option<String> {
    (2..=STEEPEST).find_map(|take| {
        let mut other = problem.clone();
        let counts = turn_pair_counts(problem).into_iter().next()?;
        let mut moves = problem.allowed_moves(&problem.targets_cm(counts));
        if moves.contains(&Move::new(take, 0)) {
            return None;
        }
        moves.push(Move::new(take, 0));
        let list: Vec<String> = moves.iter().map(|m| format!("\"{m}\"")).collect();
        other.wishes.moves = Some(moves);
        has_cap(&other).then(|| format!("fit.moves = [{}]", list.join(", ")))
    })
}

/// Tells whether a changed problem has a cap.
type HasCap<'a> = &'a dyn Fn(&Problem<'_>) -> bool;

/// True when a cap of the model is found; the search ends with the first one, and without one when it is through or
/// [`GIVE_UP`] is spent: then there may be one all the same.
pub(crate) fn has_cap(problem: &Problem<'_>, stop: &Stop) -> bool {
    if stop.is_set() {
        return false;
    }
    let mut best = Best::new(Aim::Any, GIVE_UP).until(stop);
    Frames::of(problem, Moves::Allowed).search(&mut best);
    best.into_best().is_some()
}
