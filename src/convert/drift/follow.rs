//! The uncertain numbers a sleeve depends on, and every measure followed from them.

use super::knitted::{Quantity, SleevePlan, Truth, knit};
use super::sizing::{Sizing, SleevePart};
use crate::convert::gauges::{GaugeSource, GaugesUsed};
use crate::fit::Problem;
use crate::measure::{Bound, Gauge, Interval, ROWS_PER_10CM, STITCHES_PER_10CM, Stop};
use crate::swatch::{Counted, Estimate, USUALLY_APART_PCT};

/// The range of a gauge that was assumed for want of a swatch, in per cent either way.
///
/// Published pairs of swatches differ by 4 to 5 %, in either direction; the range of the tables.
pub const ASSUMED_PCT: f64 = 6.0;

/// Relative step of the central differences: their error is its square, far below any count's.
const STEP: f64 = 1e-4;

/// The parts of the sleeve that a gauge is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drives {
    /// The tube alone.
    Tube,
    /// The cap alone.
    Cap,
    /// Both: the case says that the cap is worked at the swatch in the round.
    Both,
}

impl Drives {
    /// True when the gauge is used for this part.
    pub const fn includes(self, part: SleevePart) -> bool {
        matches!(
            (self, part),
            (Self::Both, _) | (Self::Tube, SleevePart::Tube) | (Self::Cap, SleevePart::Cap)
        )
    }
}

/// One uncertain number: stitches or rows of one swatch.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// The parts it is used for.
    pub drives: Drives,
    /// The swatch it was counted on.
    pub source: GaugeSource,
    /// Stitches or rows.
    pub counted: Counted,
    /// The counts; [`Input::assumed`] says whether their error means anything.
    pub estimate: Estimate,
    /// True when the gauge stands in for a swatch that is missing.
    pub assumed: bool,
}

impl Input {
    /// True when its error is known: it was counted, and more than once.
    pub const fn is_known(&self) -> bool {
        !self.assumed && self.estimate.is_repeated()
    }

    /// What it is called: `round stitches`, `round stitches, 2 % off`, or `tube stitches, 6 % off`.
    pub fn name(&self) -> String {
        let counted = self.counted.word();
        match (self.assumed, self.drives) {
            (false, _) if !self.is_known() => {
                format!(
                    "{} {counted}, {USUALLY_APART_PCT} % off",
                    self.source.word()
                )
            }
            (false, _) => format!("{} {counted}", self.source.word()),
            (true, Drives::Cap) => format!("cap {counted}, {ASSUMED_PCT} % off"),
            (true, _) => format!("tube {counted}, {ASSUMED_PCT} % off"),
        }
    }

    /// The range its effect is shown over: the 95 % interval of the counts; for a single count what two
    /// swatches of one knitter are usually apart; without a count the usual range of a drift.
    pub fn range(&self) -> Interval {
        let mean = self.estimate.mean;
        let off = |pct: f64| Interval {
            low: mean * (1.0 - pct / 100.0),
            high: mean * (1.0 + pct / 100.0),
        };
        let Interval { low, high } = match self.estimate.interval() {
            _ if self.assumed => off(ASSUMED_PCT),
            None => off(USUALLY_APART_PCT),
            Some(interval) => interval,
        };
        Interval {
            low: self.bounded(low),
            high: self.bounded(high),
        }
    }

    fn bound(&self) -> &'static Bound {
        match self.counted {
            Counted::Stitches => &STITCHES_PER_10CM,
            Counted::Rows => &ROWS_PER_10CM,
        }
    }

    /// The nearest gauge that can be knitted: few and scattered counts allow any.
    pub(super) fn bounded(&self, gauge: f64) -> f64 {
        gauge.clamp(self.bound().min, self.bound().max)
    }
}

/// The uncertain numbers a sleeve depends on: the tube's, then the cap's.
///
/// A gauge that stands in for a missing swatch is a number of its own even where it has the value
/// of another: how far it is off has nothing to do with the other's counts.
pub(super) fn inputs(gauge: &GaugesUsed) -> Vec<Input> {
    let (tube, cap) = (
        gauge.assumed(SleevePart::Tube),
        gauge.assumed(SleevePart::Cap),
    );
    let shared = gauge.tube_source == gauge.cap_source && !tube && !cap;
    let parts = [
        (Drives::Tube, gauge.tube_source, tube),
        (Drives::Cap, gauge.cap_source, cap),
    ];
    let parts = parts.into_iter().take(if shared { 1 } else { 2 });
    parts
        .filter_map(|(part, source, assumed)| {
            let drives = if shared { Drives::Both } else { part };
            let swatch = gauge.swatches.of(source)?;
            let both = [
                (Counted::Stitches, swatch.stitches),
                (Counted::Rows, swatch.rows),
            ];
            Some(both.map(|(counted, estimate)| Input {
                drives,
                source,
                counted,
                estimate,
                assumed,
            }))
        })
        .flatten()
        .collect()
}

/// One value for each of [`Quantity::ALL`].
pub(super) type QuantityValues = [Option<f64>; Quantity::ALL.len()];

/// A plan for an armhole, and the swatches its gauges come from.
pub(super) struct Follow<'a> {
    pub(super) problem: Problem<'a>,
    pub(super) plan: &'a SleevePlan,
    pub(super) inputs: &'a [Input],
    pub(super) stop: &'a Stop,
}

impl<'a> Follow<'a> {
    pub(super) fn new(sizing: &Sizing<'a>, plan: &'a SleevePlan, inputs: &'a [Input]) -> Self {
        Self {
            problem: sizing.problem(sizing.truth()),
            plan,
            inputs,
            stop: sizing.stop,
        }
    }

    /// Every measure when the true gauges are these, one for each input.
    ///
    /// None when one of them cannot be knitted.
    pub(super) fn measures(&self, gauges: &[f64]) -> Option<QuantityValues> {
        let of = |part| {
            let find = |counted| {
                let mut inputs = self.inputs.iter();
                let place = inputs
                    .position(|input| input.drives.includes(part) && input.counted == counted)?;
                gauges.get(place).copied()
            };
            Gauge::per_10cm(find(Counted::Stitches)?, find(Counted::Rows)?).ok()
        };
        let truth = Truth {
            cap: of(SleevePart::Cap)?,
            tube: of(SleevePart::Tube)?,
        };
        let knitted = knit(&self.problem, self.plan, truth);
        Some(Quantity::ALL.map(|quantity| quantity.of(&knitted)))
    }

    pub(super) fn means(&self) -> Vec<f64> {
        let means = self.inputs.iter().map(|input| input.estimate.mean);
        means.collect()
    }

    /// Every measure with one input at another value.
    pub(super) fn with(&self, place: usize, value: f64) -> Option<QuantityValues> {
        let mut gauges = self.means();
        *gauges.get_mut(place)? = value;
        self.measures(&gauges)
    }

    /// Slopes of every measure along one input, by central differences.
    pub(super) fn slopes(&self, place: usize) -> Option<QuantityValues> {
        let mean = self.inputs.get(place)?.estimate.mean;
        let (below, above) = (mean * (1.0 - STEP), mean * (1.0 + STEP));
        let (low, high) = (self.with(place, below)?, self.with(place, above)?);
        let mut slopes = QuantityValues::default();
        for (slope, (low, high)) in slopes.iter_mut().zip(low.iter().zip(high)) {
            *slope = low
                .zip(high)
                .map(|(low, high)| (high - low) / (above - below));
        }
        Some(slopes)
    }
}
