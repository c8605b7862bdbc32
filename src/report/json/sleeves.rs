//! The lesson's sleeves: planned with one gauge, knitted at another.

use serde::Serialize;

use super::all;
use super::gauge::GaugeJson;
use super::rounded::{Cm, Rounded};
use crate::convert::GaugeSource;
use crate::convert::drift::{
    OffTrue, OldMeasures, PlannedSleeve, SleevePart, Sweep, SweepRow, Taken,
};
use crate::measure::{Rows, Stitches};

/// The part of a sleeve in one word.
pub(super) const fn part(part: SleevePart) -> &'static str {
    match part {
        SleevePart::Cap => "cap",
        SleevePart::Tube => "tube",
    }
}

/// The old sleeve's measures, net of seams; what the case does not give is null.
#[derive(Serialize)]
pub(super) struct WantedJson {
    upper_arm_cm: Cm,
    depth_cm: Cm,
    area_cm2: Rounded<2>,
    cuff_cm: Option<Cm>,
    underarm_to_cuff_cm: Option<Cm>,
}

impl From<&OldMeasures> for WantedJson {
    fn from(wanted: &OldMeasures) -> Self {
        Self {
            upper_arm_cm: Cm(wanted.upper_arm),
            depth_cm: Cm(wanted.depth),
            area_cm2: Rounded(wanted.area_cm2),
            cuff_cm: wanted.cuff.map(Cm),
            underarm_to_cuff_cm: wanted.tube_length.map(Cm),
        }
    }
}

/// A plan, and what these hands make of it.
#[derive(Serialize)]
pub(super) struct PlannedJson {
    /// `each its own`, `each its own, joined plainly`, or the one gauge taken for everything: `pattern`, `flat`, `round`.
    planned_with: &'static str,
    upper_arm_stitches: Stitches,
    cap_rows: u32,
    cuff_stitches: Option<Stitches>,
    rounds: Option<Rows>,
    /// The tube's side of the join.
    upper_arm_cm: Cm,
    /// The cap's side of it.
    join_cap_side_cm: Cm,
    /// The one less the other.
    jump_cm: Cm,
    depth_cm: Cm,
    area_cm2: Rounded<2>,
    /// The cap's edge in per cent of the armhole's.
    armhole_share_pct: Rounded<2>,
    cuff_cm: Option<Cm>,
    underarm_to_cuff_cm: Option<Cm>,
    off: OffJson,
}

impl From<&PlannedSleeve> for PlannedJson {
    fn from(sleeve: &PlannedSleeve) -> Self {
        let (plan, knitted) = (&sleeve.plan, &sleeve.knitted);
        let tube = plan.tube.as_ref();
        Self {
            planned_with: match sleeve.taken {
                Taken::EachItsOwn => "each its own",
                Taken::PlainJoin => "each its own, joined plainly",
                Taken::OneForAll(GaugeSource::Pattern) => "pattern",
                Taken::OneForAll(GaugeSource::Flat) => "flat",
                Taken::OneForAll(GaugeSource::Round) => "round",
            },
            upper_arm_stitches: plan.cap.upper_arm(),
            cap_rows: 2 * plan.cap.turn_pairs(),
            cuff_stitches: tube.map(|tube| tube.cuff),
            rounds: tube.map(|tube| tube.rounds),
            upper_arm_cm: Cm(knitted.upper_arm),
            join_cap_side_cm: Cm(knitted.join_cap_side),
            jump_cm: Cm(knitted.jump()),
            depth_cm: Cm(knitted.depth),
            area_cm2: Rounded(knitted.area_cm2),
            armhole_share_pct: Rounded(knitted.armhole_share_pct),
            cuff_cm: knitted.cuff.map(Cm),
            underarm_to_cuff_cm: knitted.tube_length.map(Cm),
            off: OffJson::from(&sleeve.off),
        }
    }
}

/// How far it is off what was wanted (lengths, area) and off the right plan (counts).
#[derive(Serialize)]
struct OffJson {
    upper_arm_cm: Cm,
    depth_cm: Cm,
    area_pct: Rounded<2>,
    cuff_cm: Option<Cm>,
    underarm_to_cuff_cm: Option<Cm>,
    stitches: i64,
    cap_rows: i64,
    rounds: Option<i64>,
}

impl From<&OffTrue> for OffJson {
    fn from(off: &OffTrue) -> Self {
        Self {
            upper_arm_cm: Cm(off.upper_arm),
            depth_cm: Cm(off.depth),
            area_pct: Rounded(off.area_pct),
            cuff_cm: off.cuff.map(Cm),
            underarm_to_cuff_cm: off.tube_length.map(Cm),
            stitches: off.stitches,
            cap_rows: off.cap_rows,
            rounds: off.rounds,
        }
    }
}

/// One plan, knitted at several drifts.
#[derive(Serialize)]
pub(super) struct SweepJson {
    /// The part that drifts: `cap` or `tube`.
    part: &'static str,
    planned_at: GaugeJson,
    /// True when that gauge stands in for a swatch that is missing.
    assumed: bool,
    upper_arm_stitches: Stitches,
    rounds: Option<Rows>,
    rows: Vec<SweepRowJson>,
}

impl From<&Sweep> for SweepJson {
    fn from(sweep: &Sweep) -> Self {
        Self {
            part: part(sweep.part),
            planned_at: sweep.planned_at.into(),
            assumed: sweep.assumed,
            upper_arm_stitches: sweep.stitches,
            rounds: sweep.rounds,
            rows: all(&sweep.rows),
        }
    }
}

#[derive(Serialize)]
struct SweepRowJson {
    drift_pct: i32,
    upper_arm_cm: Cm,
    upper_arm_off_cm: Cm,
    jump_cm: Cm,
    depth_cm: Cm,
    depth_off_cm: Cm,
    area_cm2: Rounded<2>,
    /// Off the old cap's.
    area_pct: Rounded<2>,
    armhole_share_pct: Rounded<2>,
    cuff_cm: Option<Cm>,
    underarm_to_cuff_cm: Option<Cm>,
    underarm_to_cuff_off_cm: Option<Cm>,
    /// What would have been right at the upper arm.
    right_stitches: Stitches,
    right_rounds: Option<Rows>,
}

impl From<&SweepRow> for SweepRowJson {
    fn from(row: &SweepRow) -> Self {
        let knitted = &row.knitted;
        Self {
            drift_pct: row.drift_pct,
            upper_arm_cm: Cm(knitted.upper_arm),
            upper_arm_off_cm: Cm(row.upper_arm_off),
            jump_cm: Cm(knitted.jump()),
            depth_cm: Cm(knitted.depth),
            depth_off_cm: Cm(row.depth_off),
            area_cm2: Rounded(knitted.area_cm2),
            area_pct: Rounded(row.area_pct),
            armhole_share_pct: Rounded(knitted.armhole_share_pct),
            cuff_cm: knitted.cuff.map(Cm),
            underarm_to_cuff_cm: knitted.tube_length.map(Cm),
            underarm_to_cuff_off_cm: row.tube_off.map(Cm),
            right_stitches: row.right_stitches,
            right_rounds: row.right_rounds,
        }
    }
}
