//! The frames a fit chooses from: turn pairs, crown, base, and the stitches made at the join.

use std::ops::RangeInclusive;

use super::pickup::crown_rows;
use super::plan::Crown;
use super::problem::{Live, Problem, Worked};
use crate::measure::{Rows, Stitches, nearest_whole};

/// The crown may differ from the width of the first turn pair by so many stitches.
pub(super) const CROWN_WINDOW: u32 = 4;

/// The smallest crown: two stitches on each side of the shoulder.
pub(super) const LEAST_CROWN: u32 = 4;

/// The join may differ by so many stitches from the change that both gauges call for.
const JOIN_WINDOW: i32 = 4;

/// One choice of everything that both flanks share, but for the stitches they add.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) turn_pairs: u32,
    pub(crate) crown: Crown,
    pub(crate) base_front: Stitches,
    pub(crate) base_back: Stitches,
    /// Stitches each flank may add, with the change at the join that this leaves; the cap is symmetric.
    pub(crate) ends: Vec<(u32, i32)>,
}

/// Stitches of the upper arm: the count nearest to the width wanted that the repeat allows, and the parity.
pub(crate) fn upper_arm_stitches(problem: &Problem<'_>) -> Stitches {
    let wanted = problem.upper_arm / problem.tube_gauge.stitch_width();
    // The larger count wins a tie.
    let off = |count: &u32| steady((f64::from(*count) - wanted).abs());
    let near = |count: &u32| off(count) <= f64::from(2 * problem.repeat.multiple.max(1)) + 1.0;
    let counts = 1..=nearest_whole(wanted) + 2 * problem.repeat.multiple.max(1) + 1;
    let counts = counts.filter(|count| near(count) && problem.repeat.allows(Stitches(*count)));
    let nearest = |a: &u32, b: &u32| off(a).total_cmp(&off(b)).then(b.cmp(a));
    // Where the repeat allows none of that parity there is no cap, and it is said why.
    let even = counts.clone().filter(|count| halves(problem, *count));
    let count = even.min_by(nearest).or_else(|| counts.min_by(nearest));
    Stitches(count.unwrap_or_else(|| nearest_whole(wanted)))
}

/// True when so many stitches can be what two flanks alike have added: with crown and base given and nothing made at the
/// join, only every other count can.
fn halves(problem: &Problem<'_>, upper_arm: u32) -> bool {
    let free = !problem.wishes.plain_join || problem.wishes.base_tolerance.count() > 0;
    let base = problem.front.underarm() + problem.back.underarm();
    let odd = |live: Live| (live.stitches + base).count() % 2 != upper_arm % 2;
    free || !problem.live.is_some_and(odd)
}

/// Rounded, so that a tie is a tie whatever the last bit says.
fn steady(x: f64) -> f64 {
    (x * 1e9).round() / 1e9
}

/// Stitches made at the join (below zero: decreased) where the cap's gauge becomes the tube's, so that
/// both have the same width.
pub(crate) fn join_near(problem: &Problem<'_>) -> i32 {
    let width = problem.tube_gauge.stitch_width() / problem.cap_gauge.stitch_width();
    let change = upper_arm_stitches(problem).as_f64() * (1.0 - width);
    let made = i32::try_from(nearest_whole(change.abs())).unwrap_or(i32::MAX);
    if change < 0.0 { -made } else { made }
}

/// Numbers of turn pairs: the one nearest to the old depth (the smaller of two that are as near), and one
/// either way.
pub(crate) fn turn_pair_counts(problem: &Problem<'_>) -> Vec<u32> {
    let exact = match problem.worked {
        None => {
            let rows = problem.cap.depth() / problem.cap_gauge.row_height();
            steady((rows - problem.wishes.picked_up_row.as_f64()) / 2.0)
        }
        Some(Worked { turn_pairs, .. }) => {
            let left = problem.cap.depth() - problem.depth_of(turn_pairs);
            let pairs = left / problem.pair_height(turn_pairs + 1);
            steady(f64::from(turn_pairs) + pairs)
        }
    };
    let nearest = nearest_whole((exact - 0.5).ceil().max(2.0));
    let counts = [Some(nearest), nearest.checked_sub(1), Some(nearest + 1)];
    counts.into_iter().flatten().filter(|t| *t >= 2).collect()
}

/// All choices for so many turn pairs, the crown nearest to the top width first.
pub(crate) fn choices(problem: &Problem<'_>, turn_pairs: u32) -> Vec<Choice> {
    let mut found = Vec::new();
    for (base_front, base_back) in bases(problem) {
        for crown in crowns(problem, turn_pairs) {
            let ends = ends(problem, crown.stitches + base_front + base_back);
            if !ends.is_empty() {
                found.push(Choice {
                    turn_pairs,
                    crown,
                    base_front,
                    base_back,
                    ends,
                });
            }
        }
    }
    found
}

/// What the flanks may add to crown and base, the fewest stitches first, and the change at the join.
fn ends(problem: &Problem<'_>, crown_and_base: Stitches) -> Vec<(u32, i32)> {
    let upper_arm = i64::from(upper_arm_stitches(problem).count());
    joins(problem)
        .rev()
        .filter_map(|join| {
            let left = upper_arm - i64::from(join) - i64::from(crown_and_base.count());
            let net = u32::try_from(left / 2).ok()?;
            (left % 2 == 0).then_some((net, join))
        })
        .collect()
}

/// Changes at the join to choose from.
pub(crate) fn joins(problem: &Problem<'_>) -> RangeInclusive<i32> {
    if problem.wishes.plain_join {
        return 0..=0;
    }
    let near = join_near(problem);
    near - JOIN_WINDOW..=near + JOIN_WINDOW
}

/// Stitches as wide as the first turn pair is to be.
pub(super) fn crown_near(problem: &Problem<'_>, turn_pairs: u32) -> u32 {
    let top_cm = problem.targets_cm(turn_pairs).first().copied();
    let stitch_cm = problem.cap_gauge.stitch_width().to_cm();
    nearest_whole(steady(2.0 * top_cm.unwrap_or(0.0) / stitch_cm)).max(LEAST_CROWN)
}

/// Crowns near the top width, or the one that live stitches fix.
fn crowns(problem: &Problem<'_>, turn_pairs: u32) -> Vec<Crown> {
    if let Some(live) = problem.live {
        let extra = live.extra_each_side + live.extra_each_side;
        return vec![Crown {
            stitches: live.stitches + extra,
            live: live.stitches,
            rows: Rows(extra.count()),
        }];
    }
    let wanted = crown_near(problem, turn_pairs);
    let low = wanted.saturating_sub(CROWN_WINDOW).max(LEAST_CROWN);
    let mut counts: Vec<u32> = (low..=wanted + CROWN_WINDOW).collect();
    counts.sort_by_key(|count| (count.abs_diff(wanted), *count));
    counts
        .into_iter()
        .flat_map(|count| {
            let rows = crown_rows(problem, Stitches(count)).into_iter();
            rows.map(move |rows| Crown {
                stitches: Stitches(count),
                live: Stitches::ZERO,
                rows,
            })
        })
        .collect()
}

/// The base as bound off, then every one the tolerance allows, the smallest change first; front
/// and back share a change as evenly as they can.
fn bases(problem: &Problem<'_>) -> Vec<(Stitches, Stitches)> {
    let (front, back) = (problem.front.underarm(), problem.back.underarm());
    let mut out = vec![(front, back)];
    for change in 1..=problem.wishes.base_tolerance.count() {
        let (first, second) = (Stitches(change.div_ceil(2)), Stitches(change / 2));
        out.push((front + first, back + second));
        let less = front.checked_sub(first).zip(back.checked_sub(second));
        out.extend(less);
    }
    out
}
