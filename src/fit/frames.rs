//! The frames a fit chooses from: turn pairs, crown, base and the stitches of each flank.

use super::pickup::crown_rows;
use super::plan::Crown;
use super::problem::Problem;
use super::table::Frame;
use crate::measure::{Rows, Stitches, nearest_whole, whole};

/// The crown may differ from the width of the first turn pair by so many stitches.
const CROWN_WINDOW: u32 = 4;

/// The smallest crown: two stitches on each side of the shoulder.
const LEAST_CROWN: u32 = 4;

/// One choice of everything that both flanks share.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) frame: Frame,
    pub(crate) crown: Crown,
    pub(crate) base_front: Stitches,
    pub(crate) base_back: Stitches,
    /// Stitches each flank adds; the cap is symmetric.
    pub(crate) net: usize,
}

impl Choice {
    /// Places of the armhole the crown takes on each side of the shoulder.
    pub(crate) fn crown_sites(&self) -> Rows {
        Rows(self.crown.rows.count() / 2)
    }
}

/// Stitches of the upper arm: the count nearest to the width wanted that the repeat allows, and
/// that leaves an even number for the two flanks where live stitches fix the crown and nothing
/// may change the base.
pub(crate) fn upper_arm_stitches(problem: &Problem<'_>) -> Stitches {
    let wanted = problem.upper_arm / problem.tube_gauge.stitch_width();
    // The larger count wins a tie.
    let off = |count: &u32| steady((f64::from(*count) - wanted).abs());
    let near = |count: &u32| off(count) <= f64::from(2 * problem.repeat.multiple.max(1)) + 1.0;
    let counts = 1..=nearest_whole(wanted) + 2 * problem.repeat.multiple.max(1) + 1;
    let allowed: Vec<u32> = counts
        .filter(|count| near(count) && problem.repeat.allows(Stitches(*count)))
        .collect();
    let nearest = |even: bool| {
        let counts = allowed
            .iter()
            .filter(|count| !even || parity_fits(problem, **count));
        counts
            .min_by(|a, b| off(a).total_cmp(&off(b)).then(b.cmp(a)))
            .copied()
    };
    let count = nearest(true).or_else(|| nearest(false));
    Stitches(count.unwrap_or_else(|| nearest_whole(wanted)))
}

/// Rounded, so that a tie is a tie whatever the last bit says.
fn steady(x: f64) -> f64 {
    (x * 1e9).round() / 1e9
}

/// True when crown and base can leave an even number of so many stitches for the flanks.
fn parity_fits(problem: &Problem<'_>, upper_arm: u32) -> bool {
    let Some(live) = problem.live else {
        return true;
    };
    let base = problem.front.underarm() + problem.back.underarm();
    let fixed = live.stitches + base;
    problem.wishes.base_tolerance > Stitches::ZERO || (fixed + Stitches(upper_arm)).is_even()
}

/// Numbers of turn pairs, the best first: within one row of the old depth, then one pair off.
pub(crate) fn turn_pair_counts(problem: &Problem<'_>) -> Vec<Vec<u32>> {
    let exact = steady(problem.cap.depth() / problem.cap_gauge.row_height() / 2.0);
    let low = whole(exact);
    let within_a_row = |t: &u32| *t >= 2 && (f64::from(*t) - exact).abs() <= 0.5;
    let near: Vec<u32> = (low..=low + 1).filter(within_a_row).collect();
    let far = (low.saturating_sub(1)..=low + 2).filter(|t| *t >= 2 && !near.contains(t));
    let far: Vec<u32> = far
        .filter(|t| (f64::from(*t) - exact).abs() < 1.5)
        .collect();
    vec![near, far]
}

/// All frames for these turn pairs, the crown nearest to the top width first.
///
/// Both flanks add the same number of stitches, for the cap is symmetric.
pub(crate) fn choices(problem: &Problem<'_>, turn_pairs: u32) -> Vec<Choice> {
    let targets_cm = problem.targets_cm(turn_pairs);
    let frame = Frame {
        chain: false,
        crown: 0,
        stitch_cm: problem.cap_gauge.stitch_width().to_cm(),
        row_cm: problem.cap_gauge.row_height().to_cm(),
        old_area_cm2: problem.cap.area_cm2(),
        moves: problem.allowed_moves(&targets_cm),
        targets_cm,
    };
    let upper_arm = upper_arm_stitches(problem);
    let mut found = Vec::new();
    for (base_front, base_back) in bases(problem) {
        for crown in crowns(problem, &frame) {
            let taken = crown.stitches + base_front + base_back;
            let Some(left) = upper_arm.checked_sub(taken) else {
                continue;
            };
            if left.is_even() {
                found.push(Choice {
                    frame: Frame {
                        crown: crown.stitches.count(),
                        ..frame.clone()
                    },
                    crown,
                    base_front,
                    base_back,
                    net: (left.count() / 2) as usize,
                });
            }
        }
    }
    found
}

/// Crowns near the top width, or the one that live stitches fix.
fn crowns(problem: &Problem<'_>, frame: &Frame) -> Vec<Crown> {
    if let Some(live) = problem.live {
        let extra = live.extra_each_side + live.extra_each_side;
        return vec![Crown {
            stitches: live.stitches + extra,
            live: live.stitches,
            rows: Rows(extra.count()),
        }];
    }
    let top_cm = frame.targets_cm.first().copied().unwrap_or(0.0);
    let wanted = nearest_whole(steady(2.0 * top_cm / frame.stitch_cm)).max(LEAST_CROWN);
    let low = wanted.saturating_sub(CROWN_WINDOW).max(LEAST_CROWN);
    let mut counts: Vec<u32> = (low..=wanted + CROWN_WINDOW).collect();
    counts.sort_by_key(|count| (count.abs_diff(wanted), *count));
    counts
        .into_iter()
        .map(|count| Crown {
            stitches: Stitches(count),
            live: Stitches::ZERO,
            rows: crown_rows(Stitches(count)),
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
