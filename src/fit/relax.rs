//! The smallest change of one limit that makes a cap possible where there is none.

use super::best::MOST_RUNS;
use super::flanks::{Flank, flank_sets};
use super::frames::{Choice, choices, turn_pair_counts, upper_arm_stitches};
use super::joint::{Joint, Limits, Steps};
use super::plan::Move;
use super::problem::{LARGEST_GAP_LIMIT, Problem};
use super::run_widths::RunWidths;
use super::widths::Widths;
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
        if gap_limit > LARGEST_GAP_LIMIT + 1e-9 {
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
        let counts = turn_pair_counts(problem).into_iter().flatten().next()?;
        let mut moves = problem.allowed_moves(&problem.targets_cm(counts));
        if moves.contains(&Move::new(take, 0)) {
            return None;
        }
        moves.push(Move::new(take, 0));
        other.wishes.moves = Some(moves);
        has_cap(&other).then(|| format!("the move {take}/0 in fit.moves"))
    })
}

/// True when the model has a cap.
pub(crate) fn has_cap(problem: &Problem<'_>) -> bool {
    let counts = turn_pair_counts(problem).into_iter().flatten();
    let mut frames = counts.flat_map(|pairs| choices(problem, pairs));
    frames.any(|choice| {
        let widths = Widths::new(&choice.frame, choice.net);
        let sets = flank_sets(problem, &choice);
        sets.iter().any(|set| {
            let mut flanks = set.flanks.iter();
            widths.root.is_finite() && flanks.all(|flank| can_be_worked(&choice, &widths, flank))
        })
    })
}

fn can_be_worked(choice: &Choice, widths: &Widths, flank: &Flank<'_>) -> bool {
    let by_runs = RunWidths::new(&choice.frame, widths, (MOST_RUNS, 0.0), f64::MAX);
    flank.groups.iter().any(|group| {
        let costs = group.bound(&choice.frame);
        let steps = Steps {
            widths,
            edges: &costs.edges,
            share: flank.share,
            multiplier: 0.0,
            drops: group.drops,
        };
        let limits = Limits {
            widths: &by_runs,
            edges: costs.before(),
            runs: MOST_RUNS,
            limit: f64::MAX,
        };
        Joint::new(&steps, &limits).root().is_finite()
    })
}
