//! What a drift from -6 to +6 % would do to a sleeve that was planned without it.

use super::knitted::{KnittedSleeve, SleevePlan, Truth, knit};
use super::sizing::{Sizing, SleevePart};
use crate::fit::upper_arm_stitches;
use crate::measure::{Gauge, Length, Rows, Stitches};

/// The drifts shown, in per cent. Published pairs lie between 4 and 5 %, in either direction.
pub const DRIFTS_PCT: [i32; 7] = [-6, -4, -2, 0, 2, 4, 6];

/// One drift, stitches and rows alike.
#[derive(Clone, Copy, Debug)]
pub struct SweepRow {
    /// Round against flat in per cent.
    pub drift_pct: i32,
    /// The sleeve as planned, knitted with this drift.
    pub knitted: KnittedSleeve,
    /// Its upper arm minus the width wanted.
    pub upper_arm_off: Length,
    /// Its depth minus the old cap's.
    pub depth_off: Length,
    /// Its area against the old cap's, in per cent.
    pub area_pct: f64,
    /// Its length from underarm to cuff minus the length wanted.
    pub tube_off: Option<Length>,
    /// Stitches that would have been right at the upper arm.
    pub right_stitches: Stitches,
    /// Rounds that would have been right.
    pub right_rounds: Option<Rows>,
}

/// A sleeve planned with one gauge for a part, knitted with every drift.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// The part that drifts.
    pub part: SleevePart,
    /// The gauge the plan took for it.
    pub planned_at: Gauge,
    /// True when the plan is the converted sleeve and the gauge was assumed for want of a swatch;
    /// false when it is a sleeve planned with the other swatch alone.
    pub assumed: bool,
    /// The plan's stitches at the upper arm.
    pub stitches: Stitches,
    /// The plan's rounds.
    pub rounds: Option<Rows>,
    /// One row for each of [`DRIFTS_PCT`].
    pub rows: Vec<SweepRow>,
}

/// A plan whose `part` was planned at a gauge, the other part at its true one, knitted with every
/// drift of that part.
///
/// Drift is round over flat. So a drifting tube has the planned gauge times `1 + d`, a drifting
/// cap the planned gauge divided by it.
pub(super) fn sweep(
    sizing: &Sizing<'_>,
    plan: &SleevePlan,
    part: SleevePart,
    planned_at: Gauge,
    assumed: bool,
) -> Sweep {
    let drifted = |pct: i32| {
        let ratio = 1.0 + f64::from(pct) / 100.0;
        match part {
            SleevePart::Tube => scaled(planned_at, ratio),
            SleevePart::Cap => scaled(planned_at, 1.0 / ratio),
        }
    };
    let rows = DRIFTS_PCT.into_iter().filter_map(|pct| {
        let gauge = drifted(pct)?;
        let truth = match part {
            SleevePart::Tube => Truth {
                tube: gauge,
                ..sizing.truth()
            },
            SleevePart::Cap => Truth {
                cap: gauge,
                ..sizing.truth()
            },
        };
        Some(row(sizing, plan, pct, truth))
    });
    Sweep {
        part,
        planned_at,
        assumed,
        stitches: plan.cap.upper_arm(),
        rounds: plan.tube.as_ref().map(|tube| tube.rounds),
        rows: rows.collect(),
    }
}

/// A gauge with both counts times a factor; none beyond the bounds of a gauge.
fn scaled(gauge: Gauge, factor: f64) -> Option<Gauge> {
    Gauge::per_10cm(
        gauge.stitches_per_10cm() * factor,
        gauge.rows_per_10cm() * factor,
    )
    .ok()
}

fn row(sizing: &Sizing<'_>, plan: &SleevePlan, drift_pct: i32, truth: Truth) -> SweepRow {
    let problem = sizing.problem(truth);
    let knitted = knit(&problem, plan, truth);
    let wanted = sizing.wanted();
    let right_stitches = upper_arm_stitches(&problem);
    SweepRow {
        drift_pct,
        upper_arm_off: knitted.upper_arm - wanted.upper_arm,
        depth_off: knitted.depth - wanted.depth,
        area_pct: 100.0 * (knitted.area_cm2 / wanted.area_cm2 - 1.0),
        tube_off: knitted
            .tube_length
            .zip(wanted.tube_length)
            .map(|(is, wanted)| is - wanted),
        right_rounds: sizing.tube(truth, right_stitches).map(|tube| tube.rounds),
        right_stitches,
        knitted,
    }
}
