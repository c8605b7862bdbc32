//! The numbers of the exercise sheet: every answer follows from what the questions print.

use super::sizing::{Sizing, SleevePart};
use crate::convert::GaugesUsed;
use crate::measure::{Gauge, GaugeChange, Length, Rows, Stitches, Units, nearest_whole};
use crate::plan::JOIN_ROW;

/// The drift an exercise supposes for want of a second swatch, in per cent: what published
/// pairs show.
pub const SUPPOSED_PCT: f64 = 4.0;

/// How far one count of the exercise may be misread, either way: half of half a stitch.
const READING: f64 = 0.25;

/// The numbers of the questions and of the answers, rounded as they are printed.
#[derive(Clone, Copy, Debug)]
pub struct Exercise {
    /// The cap's gauge.
    pub flat: Gauge,
    /// The tube's gauge.
    pub round: Gauge,
    /// The part whose gauge was made up, because the case has no swatch of its own for it.
    pub supposed: Option<SleevePart>,
    /// Round against flat in per cent: stitches, rows.
    pub drift: GaugeChange,
    /// The upper arm.
    pub arm: ArmExercise,
    /// Rows of the cap, and its depth.
    pub cap: LengthExercise,
    /// Rounds of the tube, and its length; none when the case gives none.
    pub tube: Option<LengthExercise>,
    /// The round gauge misread by a quarter of a stitch either way, and the right upper arm then.
    pub misread: [(Gauge, Length); 2],
}

/// A width, planned right and wrong.
#[derive(Clone, Copy, Debug)]
pub struct ArmExercise {
    /// The width wanted.
    pub wanted: Length,
    /// Stitches at the round gauge, before rounding.
    pub exact: f64,
    /// The nearest whole number.
    pub right: Stitches,
    /// Their width in the round.
    pub width: Length,
    /// Their width back and forth: the cap's side of the join.
    pub cap_side: Length,
    /// Stitches at the flat gauge, before rounding.
    pub wrong_exact: f64,
    /// The nearest whole number: wrong for the tube, and what the cap's last row should have.
    pub wrong: Stitches,
    /// Their width in the round.
    pub wrong_width: Length,
}

impl ArmExercise {
    /// The tube's side of the join minus the cap's.
    pub fn jump(&self) -> Length {
        self.width - self.cap_side
    }

    /// How far the wrong sleeve is off.
    pub fn wrong_off(&self) -> Length {
        self.wrong_width - self.wanted
    }

    /// Stitches to make in the first round, so that it is as wide as the cap; below zero: to decrease.
    pub fn made_at_join(&self) -> i64 {
        i64::from(self.right.count()) - i64::from(self.wrong.count())
    }
}

/// A length in rows or rounds, planned right and wrong.
#[derive(Clone, Copy, Debug)]
pub struct LengthExercise {
    /// The length wanted.
    pub wanted: Length,
    /// Rows that are there before the first is worked: the one picked up, or the one that joins.
    pub before: Rows,
    /// Rows at the right gauge, before rounding.
    pub exact: f64,
    /// The rows to knit after [`Self::before`]: whole, and even for a cap, whose short rows come in pairs.
    pub right: u32,
    /// What all of them measure.
    pub right_length: Length,
    /// Rows at the wrong gauge.
    pub wrong_exact: f64,
    /// The rows to knit by the wrong gauge.
    pub wrong: u32,
    /// What all of them measure at the right one.
    pub wrong_length: Length,
}

impl LengthExercise {
    /// `step` is 2 for a cap, 1 for a tube.
    fn new(wanted: Length, right: Gauge, wrong: Gauge, (step, before): (u32, Rows)) -> Self {
        let rows = |gauge: Gauge| wanted / gauge.row_height();
        let whole = |rows: f64| step * nearest_whole((rows - before.as_f64()) / f64::from(step));
        let (right_rows, wrong_rows) = (whole(rows(right)), whole(rows(wrong)));
        Self {
            wanted,
            before,
            exact: rows(right),
            right: right_rows,
            right_length: right.height(Rows(right_rows) + before),
            wrong_exact: rows(wrong),
            wrong: wrong_rows,
            wrong_length: right.height(Rows(wrong_rows) + before),
        }
    }

    /// How far the wrong length is off.
    pub fn wrong_off(&self) -> Length {
        self.wrong_length - self.wanted
    }
}

/// The exercise of one size; none when a rounded gauge leaves the bounds of one.
pub(super) fn exercise(sizing: &Sizing<'_>) -> Option<Exercise> {
    let units = sizing.case.units;
    let used = sizing.gauge;
    let supposed = supposed(used);
    let drift = 1.0 + SUPPOSED_PCT / 100.0;
    let (flat, round) = match supposed {
        Some(SleevePart::Tube) => (
            printed_gauge(used.cap, units, 1.0)?,
            printed_gauge(used.cap, units, drift)?,
        ),
        Some(SleevePart::Cap) => (
            printed_gauge(used.tube, units, 1.0 / drift)?,
            printed_gauge(used.tube, units, 1.0)?,
        ),
        None => (
            printed_gauge(used.cap, units, 1.0)?,
            printed_gauge(used.tube, units, 1.0)?,
        ),
    };
    let wanted = sizing.wanted();
    let pct = |of: fn(Gauge) -> f64| 100.0 * (of(round) / of(flat) - 1.0);
    let arm = arm(printed_length(wanted.upper_arm, units), flat, round);
    let misread = |by: f64| {
        let off = by * 10.0 / units.swatch_length().to_cm();
        let gauge = Gauge::per_10cm(round.stitches_per_10cm() + off, round.rows_per_10cm()).ok()?;
        Some((gauge, gauge.width(arm.right)))
    };
    let length = |wanted, right, wrong, rows| {
        LengthExercise::new(printed_length(wanted, units), right, wrong, rows)
    };
    let picked_up = sizing.problem(sizing.truth()).wishes.picked_up_row;
    Some(Exercise {
        drift: GaugeChange {
            stitches_pct: pct(Gauge::stitches_per_10cm),
            rows_pct: pct(Gauge::rows_per_10cm),
        },
        cap: length(wanted.depth, flat, round, (2, picked_up)),
        tube: wanted
            .tube_length
            .map(|wanted| length(wanted, round, flat, (1, JOIN_ROW))),
        misread: [misread(READING)?, misread(-READING)?],
        flat,
        round,
        supposed,
        arm,
    })
}

/// Without two swatches there is nothing to compare, so one gauge is made up.
fn supposed(used: &GaugesUsed) -> Option<SleevePart> {
    if used.assumed(SleevePart::Tube) {
        Some(SleevePart::Tube)
    } else if used.cap_source == used.tube_source {
        Some(SleevePart::Cap)
    } else {
        None
    }
}

fn arm(wanted: Length, flat: Gauge, round: Gauge) -> ArmExercise {
    let exact = wanted / round.stitch_width();
    let wrong_exact = wanted / flat.stitch_width();
    let (right, wrong) = (
        Stitches(nearest_whole(exact)),
        Stitches(nearest_whole(wrong_exact)),
    );
    ArmExercise {
        wanted,
        exact,
        right,
        width: round.width(right),
        cap_side: flat.width(right),
        wrong_exact,
        wrong,
        wrong_width: round.width(wrong),
    }
}

/// A gauge as it is printed: two decimals over 10 cm or 4 in.
fn printed_gauge(gauge: Gauge, units: Units, times: f64) -> Option<Gauge> {
    let over = units.swatch_length().to_cm() / 10.0;
    let printed = |per_10cm: f64| (per_10cm * times * over * 100.0).round() / 100.0 / over;
    Gauge::per_10cm(
        printed(gauge.stitches_per_10cm()),
        printed(gauge.rows_per_10cm()),
    )
    .ok()
}

/// A length as it is printed: one decimal.
fn printed_length(length: Length, units: Units) -> Length {
    units.length((units.number(length) * 10.0).round() / 10.0)
}
