//! The statistics of repeated counts: mean, deviation, Student t, Welch, Fieller.
//!
//! Nothing here knows about knitting, so that every function can be held against published tables.

use crate::measure::Interval;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// The confidence of every interval in this room.
pub const CONFIDENCE: f64 = 0.95;

/// Mean and deviation of a weighted sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// How many values.
    pub count: usize,
    /// The weighted mean.
    pub mean: f64,
    /// The sample deviation of a value of average weight, `n - 1` in the denominator; none for a
    /// single value.
    pub sd: Option<f64>,
}

impl Summary {
    /// Mean and deviation of `(value, weight)` pairs; none when there are none or no weight.
    ///
    /// Weighted least squares for one level: the values have one expectation and a variance of
    /// `sigma^2 / weight`. Weights are scaled to average one, so equal weights give the plain mean
    /// and sample deviation. Two passes, because the textbook's single pass loses every digit on
    /// values with a large common part (Chan, Golub and `LeVeque`, The American Statistician 37,
    /// 1983, 242-247).
    pub fn weighted(values: &[(f64, f64)]) -> Option<Self> {
        let count = values.len();
        let n = count as f64;
        let total: f64 = values.iter().map(|(_, w)| w).sum();
        if count == 0 || total.is_nan() || total <= 0.0 {
            return None;
        }
        let first = values.iter().map(|(x, w)| x * w).sum::<f64>() / total;
        let mean = first + values.iter().map(|(x, w)| (x - first) * w).sum::<f64>() / total;
        let squares: f64 = values
            .iter()
            .map(|(x, w)| w * (x - mean) * (x - mean))
            .sum::<f64>()
            * n
            / total;
        let sd = (count > 1).then(|| (squares / (n - 1.0)).sqrt());
        Some(Self { count, mean, sd })
    }

    /// Mean and deviation of plain values; none when there are none.
    pub fn plain(values: &[f64]) -> Option<Self> {
        let weighted: Vec<(f64, f64)> = values.iter().map(|x| (*x, 1.0)).collect();
        Self::weighted(&weighted)
    }

    /// The mean with its standard error `sd / sqrt(n)`; none for a single value.
    ///
    /// Under the model of [`Summary::weighted`] this is the standard error of the weighted mean
    /// too: `sigma^2 / sum of weights`, and the scaled weights add up to `n`.
    pub fn uncertain(&self) -> Option<Uncertain> {
        let n = self.count as f64;
        self.sd.map(|sd| Uncertain {
            value: self.mean,
            standard_error: sd / n.sqrt(),
            degrees_of_freedom: Some(n - 1.0),
        })
    }
}

/// A value with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// The value.
    pub value: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// The degrees of freedom of the standard error; none when it is known, not estimated.
    pub degrees_of_freedom: Option<f64>,
}

impl Uncertain {
    /// The 95 % interval by Student's t.
    pub fn interval(&self) -> Interval {
        let half = t_critical(self.degrees_of_freedom) * self.standard_error;
        Interval {
            low: self.value - half,
            high: self.value + half,
        }
    }
}

/// The two-sided 95 % point of Student's t; of the normal distribution without a limit to the
/// degrees of freedom.
///
/// Above 10 000 degrees of freedom by the series of Abramowitz and Stegun 26.7.5, because the
/// inverse of the incomplete beta function loses digits there; both agree with SciPy to 1e-9.
pub fn t_critical(degrees_of_freedom: Option<f64>) -> f64 {
    t_point(0.5 + CONFIDENCE / 2.0, degrees_of_freedom)
}

/// The point of Student's t that leaves the share `p` below it; of the normal distribution without
/// a limit to the degrees of freedom. Digits as in [`t_critical`].
pub fn t_point(p: f64, degrees_of_freedom: Option<f64>) -> f64 {
    match student(degrees_of_freedom) {
        Some(t) if t.freedom() < 1e4 => t.inverse_cdf(p),
        Some(t) => nearly_normal(Normal::standard().inverse_cdf(p), t.freedom()),
        None => Normal::standard().inverse_cdf(p),
    }
}

/// The point of Student's t that belongs to the normal point `z`, for many degrees of freedom.
fn nearly_normal(z: f64, df: f64) -> f64 {
    let z2 = z * z;
    let first = z * (z2 + 1.0) / 4.0;
    let second = z * ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0;
    z + first / df + second / (df * df)
}

/// The chance of a t at least this far from zero, on either side, when there is no difference.
pub fn two_sided_p(t: f64, degrees_of_freedom: Option<f64>) -> f64 {
    if t.is_nan() {
        return t;
    }
    let tail = match student(degrees_of_freedom) {
        Some(distribution) => distribution.sf(t.abs()),
        None => Normal::standard().sf(t.abs()),
    };
    (2.0 * tail).min(1.0)
}

fn student(degrees_of_freedom: Option<f64>) -> Option<StudentsT> {
    degrees_of_freedom
        .filter(|df| df.is_finite())
        .and_then(|df| StudentsT::new(0.0, 1.0, df).ok())
}

/// The Welch-Satterthwaite degrees of freedom of a sum of independent variances.
///
/// Each part is a variance with its degrees of freedom; a known variance has none and adds nothing
/// to the denominator. Source: Welch, Biometrika 34 (1947) 28-35; Satterthwaite, Biometrics
/// Bulletin 2 (1946) 110-114; GUM (JCGM 100:2008) G.4.1. None when every part is known.
pub fn satterthwaite(parts: &[(f64, Option<f64>)]) -> Option<f64> {
    let total: f64 = parts.iter().map(|(variance, _)| variance).sum();
    let denominator: f64 = parts
        .iter()
        .filter_map(|(variance, df)| df.map(|df| variance * variance / df))
        .sum();
    (denominator > 0.0).then(|| total * total / denominator)
}

/// Welch's test of two means whose variances need not be alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WelchTest {
    /// The difference, second minus first.
    pub difference: f64,
    /// The standard error of the difference.
    pub standard_error: f64,
    /// The difference in standard errors.
    pub t: f64,
    /// Welch-Satterthwaite degrees of freedom; none when both standard errors are known.
    pub degrees_of_freedom: Option<f64>,
    /// The chance of a `t` this far from zero when there is no difference, both sides.
    pub p: f64,
}

impl WelchTest {
    /// Tests `second` against `first`. Two standard errors of zero give an infinite `t`, or a zero
    /// one for equal values.
    pub fn of(first: Uncertain, second: Uncertain) -> Self {
        let difference = second.value - first.value;
        let variances = [
            (square(first.standard_error), first.degrees_of_freedom),
            (square(second.standard_error), second.degrees_of_freedom),
        ];
        let standard_error = (variances[0].0 + variances[1].0).sqrt();
        let degrees_of_freedom = satterthwaite(&variances);
        let t = if difference == 0.0 {
            0.0
        } else {
            difference / standard_error
        };
        Self {
            difference,
            standard_error,
            t,
            degrees_of_freedom,
            p: two_sided_p(t, degrees_of_freedom),
        }
    }
}

/// A ratio of two independent values by the delta method.
///
/// `var(y/x) = (se_y^2 + r^2 se_x^2) / x^2` to first order: good while the denominator's standard
/// error is small against it. Degrees of freedom by [`satterthwaite`] of the two terms.
pub fn delta_ratio(denominator: Uncertain, numerator: Uncertain) -> Uncertain {
    let x = denominator.value;
    let ratio = numerator.value / x;
    let parts = [
        (
            square(numerator.standard_error / x),
            numerator.degrees_of_freedom,
        ),
        (
            square(ratio * denominator.standard_error / x),
            denominator.degrees_of_freedom,
        ),
    ];
    Uncertain {
        value: ratio,
        standard_error: (parts[0].0 + parts[1].0).sqrt(),
        degrees_of_freedom: satterthwaite(&parts),
    }
}

/// Fieller's 95 % set for a ratio: an interval only while the denominator is surely not zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fieller {
    /// The ratio lies between the two.
    Between {
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
    },
    /// The denominator may be zero: the ratio is at most the one or at least the other.
    Outside {
        /// The ratio is at most this,
        at_most: f64,
        /// or at least this.
        at_least: f64,
    },
    /// The counts say nothing about the ratio.
    Anything,
}

/// Fieller's set of every ratio `r` with `(y - r x)^2 <= t^2 (se_y^2 + r^2 se_x^2)`.
///
/// Source: Fieller, Journal of the Royal Statistical Society B 16 (1954) 175-185. `x` and `y` are
/// independent. With unequal variances the degrees of freedom depend on the ratio itself; those of
/// the delta method at the estimated ratio are used, so the coverage is close to, not exactly, 95 %.
pub fn fieller(denominator: Uncertain, numerator: Uncertain) -> Fieller {
    let t = t_critical(delta_ratio(denominator, numerator).degrees_of_freedom);
    let (x, y) = (denominator.value, numerator.value);
    let a = x * x - square(t * denominator.standard_error);
    let b = x * y;
    let c = y * y - square(t * numerator.standard_error);
    // The set is a r^2 - 2 b r + c <= 0.
    let discriminant = b * b - a * c;
    if discriminant.is_nan() || discriminant < 0.0 || a == 0.0 {
        return Fieller::Anything;
    }
    let root = discriminant.sqrt();
    let (one, other) = ((b - root) / a, (b + root) / a);
    if a > 0.0 {
        Fieller::Between {
            low: one,
            high: other,
        }
    } else {
        Fieller::Outside {
            at_most: other,
            at_least: one,
        }
    }
}

/// The modified z-scores `0.6745 (x - median) / MAD`, with the MAD no smaller than `least_mad`.
///
/// Source: Iglewicz and Hoaglin 1993; also NIST/SEMATECH e-Handbook 1.3.5.17, which calls values
/// above 3.5 potential outliers. Fewer than three values have no scores: two can only disagree.
pub fn modified_z_scores(values: &[f64], least_mad: f64) -> Vec<f64> {
    if values.len() < 3 {
        return vec![0.0; values.len()];
    }
    let middle = median(values);
    let distances: Vec<f64> = values.iter().map(|x| (x - middle).abs()).collect();
    let mad = median(&distances).max(least_mad);
    values.iter().map(|x| 0.6745 * (x - middle) / mad).collect()
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let upper = sorted.get(sorted.len() / 2).copied().unwrap_or(f64::NAN);
    let lower = sorted.get((sorted.len() - 1) / 2).copied().unwrap_or(upper);
    f64::midpoint(lower, upper)
}

const fn square(x: f64) -> f64 {
    x * x
}
