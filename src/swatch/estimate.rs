//! Counts of one kind -> mean, deviation and 95 % interval per 10 cm.

use crate::case::SwatchCount;
use crate::measure::Interval;

use super::statistics::{Summary, Uncertain, t_point, two_sided_p};

/// By how much two swatches that one knitter makes alike usually differ, in per cent: half a stitch in
/// 22, and now and then twice that. Common practice, no source; it is what counts that scatter by 0.3
/// to 0.4 per 10 cm come to. Until both gauges are counted twice this is all that is known.
pub const USUALLY_APART_PCT: f64 = 2.0;

/// The smallest part of a stitch or row that is counted, unless the swatch says otherwise: a half.
///
/// Half stitches at the end of the ruler are counted by careful knitters (published advice: include
/// half stitches, keep the 22.5).
pub const DEFAULT_DIVISION: f64 = 0.5;

/// How an interval was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// From the reading error of one count: no interval for a single count; the interval of four and
    /// more counts that agree more closely than they can be read.
    ReadingError,
    /// From the spread of repeated counts, by Student's t.
    StudentT,
}

/// Stitches or rows per 10 cm, with what is known about the error.
///
/// - Each count becomes `10 * counted / over`. The counts are weighted by the length they were
///   taken over, so the mean is all stitches over all centimetres, as if the measured places lay
///   end to end. The variance of a count is taken to fall with its length, as it does when stitches
///   vary one by one. Counts over one length have equal weights.
/// - Reading error of one count: half of the smallest division, either way, every value alike
///   (a uniform distribution of half-width `a = 10 * division / 2 / over`), with the standard error
///   `a / sqrt(3)` (GUM, JCGM 100:2008, 4.3.7). One count has no interval: its reading error says
///   nothing about how evenly the knitter knits, which is the larger part (counts of one swatch
///   scatter by 0.3 to 0.4 per 10 cm; common practice, no source). `low` and `high` are then the
///   limits of the reading alone, and hold the gauge of the fabric about half of the time.
/// - Two or more counts: the mean's 95 % Student t interval. Two counts give 12.7 standard errors
///   either way: that is what two counts are worth.
/// - Counts that agree more closely than they can be read (their deviation is below the reading
///   error's own, `a / sqrt(3)`; in practice: equal counts) are taken to have that deviation, and
///   the interval is never narrower than that of one count: they may all have been rounded alike,
///   so averaging does not help (GUM F.2.2.1). Two equal counts can be luck and get 5 `a` either
///   way, three get 1.4 `a`, four and more get `a`. In a simulation of normal counts rounded to
///   halves these intervals cover 95 % or more for every spread and number of counts from two up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The weighted mean per 10 cm.
    pub mean: f64,
    /// How many counts it is from.
    pub counts: usize,
    /// The sample deviation of one count, per 10 cm; none for one count.
    pub sd: Option<f64>,
    /// Lower end of the 95 % interval, or of the reading of a single count. Two counts far apart can put
    /// it below zero.
    pub low: f64,
    /// Upper end of the same.
    pub high: f64,
    /// The standard error of the mean.
    pub standard_error: f64,
    /// The degrees of freedom of the standard error; none when it is the reading error's.
    pub degrees_of_freedom: Option<f64>,
    /// The half-width of the reading error of one count over the mean length, per 10 cm.
    pub reading_error: f64,
    /// How the interval was made.
    pub method: Method,
}

impl Estimate {
    /// The mean with its standard error, for further formulas.
    pub fn uncertain(&self) -> Uncertain {
        Uncertain {
            value: self.mean,
            standard_error: self.standard_error,
            degrees_of_freedom: self.degrees_of_freedom,
        }
    }

    /// True when there is more than one count: only then is anything known of how evenly it is knit.
    pub const fn is_repeated(&self) -> bool {
        self.counts > 1
    }

    /// The 95 % interval; none for a single count.
    pub fn interval(&self) -> Option<Interval> {
        self.is_repeated().then_some(Interval {
            low: self.low,
            high: self.high,
        })
    }

    /// Half the width of the interval in per cent of the mean.
    pub fn half_width_pct(&self) -> f64 {
        (self.high - self.low) / 2.0 / self.mean * 100.0
    }

    /// The chance that the true gauge is above this one; none for a single count.
    ///
    /// Student's t around the mean of repeated counts; any value of the reading error alike where they
    /// agree more closely than they can be read.
    pub fn chance_above(&self, gauge: f64) -> Option<f64> {
        if !self.is_repeated() {
            return None;
        }
        Some(match self.method {
            Method::ReadingError => ((self.high - gauge) / (self.high - self.low)).clamp(0.0, 1.0),
            Method::StudentT => {
                let t = (gauge - self.mean) / self.standard_error;
                let tail = two_sided_p(t, self.degrees_of_freedom) / 2.0;
                if t > 0.0 { tail } else { 1.0 - tail }
            }
        })
    }

    /// The gauge that the true one is below with chance `p`, by the same distributions.
    pub fn quantile(&self, p: f64) -> f64 {
        match self.method {
            Method::ReadingError => self.low + p * (self.high - self.low),
            Method::StudentT => {
                self.mean + t_point(p, self.degrees_of_freedom) * self.standard_error
            }
        }
    }

    /// The sample deviation, or the reading error's own when that is larger; none for one count.
    pub(crate) fn spread(&self) -> Option<f64> {
        self.sd.map(|sd| sd.max(self.reading_deviation()))
    }

    fn reading_deviation(&self) -> f64 {
        self.reading_error / 3_f64.sqrt()
    }

    fn from_reading(summary: Summary, reading_error: f64) -> Self {
        Self {
            mean: summary.mean,
            counts: summary.count,
            sd: summary.sd,
            low: summary.mean - reading_error,
            high: summary.mean + reading_error,
            standard_error: reading_error / 3_f64.sqrt(),
            degrees_of_freedom: None,
            reading_error,
            method: Method::ReadingError,
        }
    }

    fn from_spread(summary: Summary, mean: Uncertain, reading_error: f64) -> Self {
        let Interval { low, high } = mean.interval();
        Self {
            mean: mean.value,
            counts: summary.count,
            sd: summary.sd,
            low,
            high,
            standard_error: mean.standard_error,
            degrees_of_freedom: mean.degrees_of_freedom,
            reading_error,
            method: Method::StudentT,
        }
    }
}

/// A count per 10 cm.
pub(crate) fn per_10cm(count: &SwatchCount) -> f64 {
    10.0 * count.counted / count.over.to_cm()
}

/// The estimate from counts of one kind; none when there are none, or none over a length.
///
/// `division` is the smallest part of a stitch or row that was counted.
pub fn estimate(counts: &[SwatchCount], division: f64) -> Option<Estimate> {
    let values: Vec<(f64, f64)> = counts
        .iter()
        .map(|count| (per_10cm(count), count.over.to_cm()))
        .collect();
    let summary = Summary::weighted(&values)?;
    let mean_length = values.iter().map(|(_, w)| w).sum::<f64>() / summary.count as f64;
    let reading_error = 10.0 * (division / 2.0) / mean_length;
    Some(match repeated(&summary, reading_error) {
        Some(mean) => Estimate::from_spread(summary, mean, reading_error),
        None => Estimate::from_reading(summary, reading_error),
    })
}

/// The mean of repeated counts with the standard error of their spread; none when there is one
/// count, or when the counts agree so well that the reading error of one is larger.
fn repeated(summary: &Summary, reading_error: f64) -> Option<Uncertain> {
    let least = reading_error / 3_f64.sqrt();
    let agree = summary.sd? <= least;
    let sd = summary.sd.map(|sd| sd.max(least));
    let mean = Summary { sd, ..*summary }.uncertain()?;
    let Interval { low, high } = mean.interval();
    (!agree || high - low >= 2.0 * reading_error).then_some(mean)
}
