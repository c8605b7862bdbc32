//! What the cap measures on the way: after every step and half way, with what may be off.

use super::gauges::{GaugeSource, GaugesUsed};
use crate::check::{CapWork, WorkGauge};
use crate::fit::Measures;
use crate::measure::{Length, Rows};
use crate::plan::{CapPlan, TubePlan, step_ends};
use crate::swatch::{Estimate, Measured, USUALLY_APART_PCT};

/// A length to be measured, and how far off is still nothing to worry about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GiveOrTake {
    /// As planned.
    pub length: Length,
    /// More or less than that is within the error of gauge and tape.
    pub off: Length,
}

/// The work after a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// The letters of the step; none for the pair that spans the crown.
    pub step: Option<String>,
    /// Turn pairs worked.
    pub turn_pairs: u32,
    /// From the picked-up edge in the middle of the crown down to the needle.
    pub depth: GiveOrTake,
    /// Between the two turns.
    pub width: GiveOrTake,
}

/// The work half way down, and what it says of the end.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfWay {
    /// Where it is.
    pub at: Landmark,
    /// Depth of the whole cap, with what the same error comes to there.
    pub end: GiveOrTake,
    /// Depth of one turn pair.
    pub pair: Length,
}

/// How the error of the cap's gauge is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeError {
    /// From the interval of a swatch that was counted in several places.
    Counts,
    /// What is usual for a swatch that was counted once.
    OneCount,
    /// What is usual where there is no swatch of one's own.
    NoSwatch,
    /// What the tape leaves open of the rows that were measured on the work.
    Work,
    /// The cap goes on with other needles: two swatches, the last of them counted once at the least.
    OtherNeedles,
}

/// What to hold the work against.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmarks {
    /// After every step.
    pub steps: Vec<Landmark>,
    /// Half way; none for a cap of one pair, and none where it is past.
    pub half_way: Option<HalfWay>,
    /// Depth after each row of the cap.
    pub rows: Vec<GiveOrTake>,
    /// Length below the underarm after each round of the tube; none without one.
    pub rounds: Vec<GiveOrTake>,
    /// How the error is known.
    pub error: GaugeError,
}

/// What a tape on knitting that lies flat is read to (common practice, no source).
pub const MEASURED_TO: Length = Length::cm(0.3);

/// An interval of few counts can be as wide as it likes; work that is further off than this says more
/// than they do. It is also what a pattern's gauge is usually off (common practice, no source).
pub(super) const MOST_PCT: f64 = 5.0;

/// The landmarks of a cap worked at these gauges.
pub(super) fn landmarks(
    (plan, tube): (&CapPlan, Option<&TubePlan>),
    measures: &Measures,
    gauge: &GaugesUsed,
    (worked, work): (u32, Option<&CapWork>),
    other_needles: bool,
) -> Landmarks {
    let own = own_swatch(gauge);
    let [stitches_pct, rows_pct] = swatch_off_pct(gauge);
    // What was measured on the work stands for the swatch where the tape tells the two apart.
    let shown = |of: fn(&CapWork) -> &Option<WorkGauge>| {
        let of = work.and_then(|work| of(work).as_ref());
        of.filter(|of| !of.is_as_swatch())
            .map(WorkGauge::off_by_pct)
    };
    let of_work = (shown(|work| &work.stitches), shown(|work| &work.rows));
    // No interval of the one swatch holds for rows of the other.
    let least_pct = if other_needles {
        USUALLY_APART_PCT
    } else {
        0.0
    };
    let work = SoFarWork {
        plan,
        measures,
        pair: gauge.cap.row_height() * 2.0,
        stitches_pct: of_work.0.unwrap_or(stitches_pct).max(least_pct),
        rows_pct: of_work.1.unwrap_or(rows_pct).max(least_pct),
    };
    let ends = step_ends(plan, worked);
    let all = 2 * plan.turn_pairs();
    let steps = ends
        .iter()
        .map(|(step, pairs)| work.after(step.clone(), *pairs));
    Landmarks {
        steps: steps.collect(),
        half_way: work.half_way(&ends, worked),
        rows: (1..=all).map(|row| work.depth(all - row)).collect(),
        rounds: rounds(tube, gauge),
        error: match own {
            _ if other_needles => GaugeError::OtherNeedles,
            _ if of_work.1.is_some() => GaugeError::Work,
            Some(s) if s.rows.is_repeated() && s.stitches.is_repeated() => GaugeError::Counts,
            Some(_) => GaugeError::OneCount,
            None => GaugeError::NoSwatch,
        },
    }
}

/// The knitter's own swatch of the cap, if there is one.
fn own_swatch(gauge: &GaugesUsed) -> Option<Measured> {
    let swatch = gauge.swatches.of(gauge.cap_source);
    swatch.filter(|_| gauge.cap_source != GaugeSource::Pattern)
}

/// How far the cap's stitches and its rows may be from their swatch, in per cent, with nothing wrong.
pub(super) fn swatch_off_pct(gauge: &GaugesUsed) -> [f64; 2] {
    own_swatch(gauge).map_or([MOST_PCT; 2], |swatch| {
        [&swatch.stitches, &swatch.rows].map(error_pct)
    })
}

/// The length below the underarm after each round.
fn rounds(tube: Option<&TubePlan>, gauge: &GaugesUsed) -> Vec<GiveOrTake> {
    let swatch = gauge.swatches.of(gauge.tube_source);
    let own = swatch.filter(|_| gauge.tube_source != GaugeSource::Pattern);
    let pct = own.map_or(MOST_PCT, |swatch| error_pct(&swatch.rows));
    let after = |tube: &TubePlan, round: u32| {
        let above = tube.rows_below_underarm() - tube.rounds;
        within(gauge.tube.height(Rows(round) + above), pct)
    };
    let all = |tube: &TubePlan| {
        (1..=tube.rounds.count())
            .map(|round| after(tube, round))
            .collect()
    };
    tube.map_or_else(Vec::new, all)
}

/// By how much the fabric may differ from the swatch: the interval of its counts, or what is usual where
/// a single count says nothing of it.
pub(super) fn error_pct(estimate: &Estimate) -> f64 {
    let read = estimate.half_width_pct();
    let known = if estimate.is_repeated() {
        read
    } else {
        read.max(USUALLY_APART_PCT)
    };
    known.min(MOST_PCT)
}

struct SoFarWork<'a> {
    plan: &'a CapPlan,
    measures: &'a Measures,
    pair: Length,
    stitches_pct: f64,
    rows_pct: f64,
}

impl SoFarWork<'_> {
    fn after(&self, step: Option<String>, turn_pairs: u32) -> Landmark {
        let left = self.plan.turn_pairs().saturating_sub(turn_pairs);
        let half = |side: &[f64]| side.get(turn_pairs as usize - 1).copied().unwrap_or(0.0);
        let m = self.measures;
        let width = half(&m.front.half_widths_cm) + half(&m.back.half_widths_cm);
        Landmark {
            step,
            turn_pairs,
            depth: self.depth(2 * left),
            width: within(Length::cm(width), self.stitches_pct),
        }
    }

    /// Depth where so many rows are left.
    fn depth(&self, left: u32) -> GiveOrTake {
        let below = self.measures.front.pair_heights_cm.iter().rev();
        let rows = below.flat_map(|pair_cm| [pair_cm / 2.0; 2]);
        let left = Length::cm(rows.take(left as usize).sum());
        within(self.measures.depth - left, self.rows_pct)
    }

    /// Half way down, where it is still to come.
    fn half_way(&self, ends: &[(Option<String>, u32)], worked: u32) -> Option<HalfWay> {
        let all = self.plan.turn_pairs();
        let pairs = all.div_ceil(2);
        let (step, _) = ends.iter().find(|(_, end)| *end >= pairs)?;
        let at = self.after(step.clone(), pairs);
        let end = self.measures.depth;
        (all > 1 && pairs > worked).then(|| HalfWay {
            end: GiveOrTake {
                length: end,
                off: at.depth.off * (end / at.depth.length),
            },
            at,
            pair: self.pair,
        })
    }
}

fn within(length: Length, pct: f64) -> GiveOrTake {
    GiveOrTake {
        length,
        off: length * (pct / 100.0) + MEASURED_TO,
    }
}
