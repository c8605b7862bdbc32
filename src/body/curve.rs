//! The arm given the chest, and the relaxed arm given the flexed one.

use nalgebra::{DMatrix, DVector};
use serde::Deserialize;

use super::spread::ArmSpread;
use crate::measure::Length;

/// The logarithm of the flexed arm as a polynomial of the chest, fitted by least squares.
///
/// Source: computed from the public rows of ANSUR II by `body-tables/derive_arm_curve.py`; the
/// interval is the usual prediction interval of a regression (Draper and Smith, Applied Regression
/// Analysis, chapter 1 and 5): `x'b +- t s sqrt(1 + x' (X'X)^-1 x)`.
///
/// Assumes that residuals of the logarithm are normal (seen to hold in the survey: skewness 0.01 and
/// 0.03) with the deviation that was counted at that chest. Guarantees nothing outside `usable_mm`, where the curve goes
/// on along its tangent and the interval widens with the uncertainty of that tangent.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Curve {
    /// People measured.
    pub n: u32,
    /// The chest that is zero of the polynomial.
    pub centre_mm: f64,
    /// The chest difference that is one of the polynomial.
    pub scale_mm: f64,
    /// Coefficients of the logarithm of the arm in mm, constant first.
    pub coefficients: Vec<f64>,
    /// Deviation of the logarithm round the curve, over the whole survey.
    pub residual_sd: f64,
    /// The same as counted in bands of chest: (chest in mm, deviation), rising. It runs straight from one
    /// to the next and stays at the first and the last.
    pub local_sd: Vec<(f64, f64)>,
    /// Share of the variance of the logarithm that the chest explains.
    pub r2: f64,
    /// `(X'X)^-1`, row by row.
    pub inverse: Vec<Vec<f64>>,
    /// The chests with enough people round them.
    pub usable_mm: [f64; 2],
    /// The chests that are answered at all.
    pub limits_mm: [f64; 2],
    /// The smallest and the largest chest measured.
    pub observed_mm: [f64; 2],
}

impl Curve {
    /// The flexed arms of people of this chest.
    pub fn at(&self, chest: Length) -> ArmSpread {
        let x = self.basis(chest.to_cm() * 10.0);
        let coefficients = DVector::from_column_slice(&self.coefficients);
        let size = x.len();
        let inverse =
            DMatrix::from_row_iterator(size, size, self.inverse.iter().flatten().copied());
        let leverage = x.dot(&(inverse * &x));
        ArmSpread::Log {
            shift_cm: 0.0,
            centre: x.dot(&coefficients) - libm::log(10.0),
            scale: self.sd_at(chest) * (1.0 + leverage).sqrt(),
            freedom: f64::from(self.n) - size as f64,
        }
    }

    /// Deviation of the logarithm at this chest.
    pub fn sd_at(&self, chest: Length) -> f64 {
        let mm = chest.to_cm() * 10.0;
        let above = self.local_sd.iter().find(|(at, _)| *at >= mm);
        let below = self.local_sd.iter().rev().find(|(at, _)| *at < mm);
        match (below, above) {
            (Some((x0, y0)), Some((x1, y1))) => y0 + (y1 - y0) * (mm - x0) / (x1 - x0),
            (Some((_, sd)), None) | (None, Some((_, sd))) => *sd,
            (None, None) => self.residual_sd,
        }
    }

    /// True when the survey holds too few people of this chest.
    pub fn is_extrapolated(&self, chest: Length) -> bool {
        let [from, to] = self.usable_mm.map(|mm| Length::cm(mm / 10.0));
        !(from..=to).contains(&chest)
    }

    /// How far a chest is above the usable range; nothing below that.
    pub(super) fn above(&self, chest: Length) -> Length {
        let [_, to] = self.usable_mm;
        Length::cm((chest.to_cm() - to / 10.0).max(0.0))
    }

    /// The row of the regression for a chest: powers inside the usable range; outside it the
    /// powers at the edge plus the way from there along their derivatives, which is a tangent.
    fn basis(&self, chest_mm: f64) -> DVector<f64> {
        let [from, to] = self.usable_mm;
        let edge = (chest_mm.clamp(from, to) - self.centre_mm) / self.scale_mm;
        let beyond = (chest_mm - chest_mm.clamp(from, to)) / self.scale_mm;
        let mut power = 1.0;
        let mut derivative = 0.0;
        DVector::from_fn(self.coefficients.len(), |i, _| {
            if i > 0 {
                derivative = (i as f64) * power;
                power *= edge;
            }
            power + beyond * derivative
        })
    }
}

/// A straight line of one girth on another, with what is left over from one person to the next.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Regression {
    /// People measured.
    pub n: u32,
    /// Rise of the one per rise of the other.
    pub slope: f64,
    /// Added to it.
    pub intercept_mm: f64,
    /// Deviation round the line.
    pub residual_sd_mm: f64,
    /// Share of the variance that the line explains.
    pub r2: f64,
}

impl Regression {
    /// From one girth to another of the same people, where only their means and deviations were published:
    /// who has the median of the one has the median of the other, and so with every share. What differs
    /// from one person to the next is not known and not in it.
    pub(super) fn of_equal_rank(from: (Length, Length), to: (Length, Length), n: u32) -> Self {
        let slope = to.1 / from.1;
        Self {
            n,
            slope,
            intercept_mm: 10.0 * (to.0 - from.0 * slope).to_cm(),
            residual_sd_mm: 0.0,
            r2: 1.0,
        }
    }

    /// The line's value.
    pub fn at(self, girth: Length) -> Length {
        girth * self.slope + Length::cm(self.intercept_mm / 10.0)
    }

    /// The relaxed arms of people whose flexed arms are spread so.
    ///
    /// Mean, deviation and skewness are exact for a line with a normal error; the shape between
    /// is a shifted log-normal, which a test holds against the convolution worked out numerically.
    pub fn of(self, flexed: &ArmSpread) -> ArmSpread {
        let own = self.slope * flexed.sd().to_cm();
        let added = self.residual_sd_mm / 10.0;
        let sd_cm = (own * own + added * added).sqrt();
        let part = own / sd_cm;
        let skewness = flexed.skewness() * part * part * part;
        let mean_cm = self.at(flexed.mean()).to_cm();
        ArmSpread::log_normal(mean_cm, sd_cm, skewness, flexed.freedom())
    }
}
