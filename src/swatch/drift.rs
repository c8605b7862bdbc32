//! Drift: what knitting in the round does to a gauge, and whether two swatches show it.

use super::statistics::{
    Fieller, Uncertain, WelchTest, delta_ratio, fieller, satterthwaite, t_critical,
};
use super::{Estimate, Measured};
use crate::measure::Interval;

/// A drift smaller than this, in per cent, is treated as none: half a stitch in 22, or 0.7 cm
/// on an upper arm of 33 cm. A choice of this project.
pub const LEAST_DRIFT_PCT: f64 = 2.0;

/// A test below this chance calls the difference real.
const SIGNIFICANCE: f64 = 1.0 - super::statistics::CONFIDENCE;

/// The most further counts that are worth proposing.
const MOST_MORE_COUNTS: usize = 30;

/// What two swatches say about each other, in one direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// They differ by more than the error of counting.
    Differ,
    /// They differ by less than [`LEAST_DRIFT_PCT`] with 95 % confidence: treat them as one.
    Alike,
    /// The counts do not tell; a single count of either gauge never does.
    Open,
}

/// How many further counts would settle it, if they look like those already taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MoreCounts {
    /// None: it is settled.
    Settled,
    /// So many more counts on each of the two swatches.
    Each(usize),
    /// More than anyone should count: measure over a longer length instead.
    TooMany,
    /// No swatch was counted twice, so nobody knows how evenly it is knit.
    SpreadUnknown,
}

/// One gauge against the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// Second over first: round over flat. Above 1 is tighter.
    pub ratio: f64,
    /// The same as a change in per cent.
    pub pct: f64,
    /// True when both gauges were counted more than once. Without that there is no interval and no test:
    /// the fields below then hold the reading error alone.
    pub repeated: bool,
    /// Lower end of the ratio's 95 % interval by the delta method.
    pub low: f64,
    /// Upper end of the ratio's 95 % interval by the delta method.
    pub high: f64,
    /// The standard error of the ratio by the delta method.
    pub standard_error: f64,
    /// The degrees of freedom of the standard error; none when it is all reading error.
    pub degrees_of_freedom: Option<f64>,
    /// Fieller's set for the ratio, which is right even when the first gauge is very uncertain.
    pub fieller: Fieller,
    /// Welch's test of the two gauges, in stitches or rows per 10 cm.
    pub welch: WelchTest,
    /// What follows from it.
    pub verdict: Verdict,
    /// How many further counts would settle it.
    pub more_counts: MoreCounts,
}

impl Ratio {
    /// The ratio's 95 % interval by the delta method; none while either gauge was counted once.
    pub fn interval(&self) -> Option<Interval> {
        self.repeated.then_some(Interval {
            low: self.low,
            high: self.high,
        })
    }
}

/// The change of gauge from one swatch to another; as a rule from flat to round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    /// Along a row: changes widths.
    pub stitches: Ratio,
    /// Up the fabric: changes lengths.
    pub rows: Ratio,
}

/// The drift from `flat` to `round`.
///
/// The two swatches are independent. A single count says nothing of how evenly its swatch is knit, so it
/// never settles anything: the verdict is then open. The same arithmetic compares a swatch before
/// and after washing.
pub fn drift(flat: &Measured, round: &Measured) -> Drift {
    Drift {
        stitches: ratio(&flat.stitches, &round.stitches),
        rows: ratio(&flat.rows, &round.rows),
    }
}

fn ratio(first: &Estimate, second: &Estimate) -> Ratio {
    let (x, y) = (first.uncertain(), second.uncertain());
    let delta = delta_ratio(x, y);
    let Interval { low, high } = delta.interval();
    let welch = WelchTest::of(x, y);
    let repeated = first.is_repeated() && second.is_repeated();
    let verdict = if repeated {
        verdict(&welch, low, high)
    } else {
        Verdict::Open
    };
    Ratio {
        repeated,
        ratio: delta.value,
        pct: (delta.value - 1.0) * 100.0,
        low,
        high,
        standard_error: delta.standard_error,
        degrees_of_freedom: delta.degrees_of_freedom,
        fieller: fieller(x, y),
        welch,
        verdict,
        more_counts: more_counts(verdict, first, second),
    }
}

fn verdict(welch: &WelchTest, low: f64, high: f64) -> Verdict {
    let least = LEAST_DRIFT_PCT / 100.0;
    if welch.p < SIGNIFICANCE {
        Verdict::Differ
    } else if low >= 1.0 - least && high <= 1.0 + least {
        Verdict::Alike
    } else {
        Verdict::Open
    }
}

/// The smallest number of further counts on each swatch after which the 95 % interval of the
/// difference either leaves out zero or lies within the least drift, when the difference and the
/// deviations stay as they are. A swatch counted once borrows the other's relative deviation.
///
/// The difference will not stay exactly as it is, so this is an even chance, not a promise.
fn more_counts(verdict: Verdict, first: &Estimate, second: &Estimate) -> MoreCounts {
    if verdict != Verdict::Open {
        return MoreCounts::Settled;
    }
    let relative = |e: &Estimate| e.spread().map(|sd| sd / e.mean);
    let Some(borrowed) = relative(first).or(relative(second)) else {
        return MoreCounts::SpreadUnknown;
    };
    let with = |e: &Estimate, more: usize| {
        let n = (e.counts + more) as f64;
        let deviation = e.spread().unwrap_or(borrowed * e.mean);
        Uncertain {
            value: e.mean,
            standard_error: deviation / n.sqrt(),
            degrees_of_freedom: Some(n - 1.0),
        }
    };
    (1..=MOST_MORE_COUNTS)
        .find(|more| settles(with(first, *more), with(second, *more)))
        .map_or(MoreCounts::TooMany, MoreCounts::Each)
}

/// Whether the 95 % interval of the difference leaves out zero, or lies within the least drift.
fn settles(first: Uncertain, second: Uncertain) -> bool {
    let parts = [first, second].map(|u| {
        let variance = u.standard_error * u.standard_error;
        (variance, u.degrees_of_freedom)
    });
    let half = t_critical(satterthwaite(&parts)) * (parts[0].0 + parts[1].0).sqrt();
    let difference = (second.value - first.value).abs();
    let least = LEAST_DRIFT_PCT / 100.0 * first.value;
    half < difference || difference + half <= least
}
