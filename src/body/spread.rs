//! How arms are spread: shares below a girth, and the girth below which a share lies.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

use crate::measure::Length;

/// The arms of the people of one size, bust or age.
#[derive(Clone, Debug, PartialEq)]
pub enum ArmSpread {
    /// The logarithm of the arm in centimetres, less a shift, is a scaled Student t: what a
    /// regression of the logarithm predicts for one more person.
    Log {
        /// Taken off the arm before its logarithm; 0 for the regression itself.
        shift_cm: f64,
        /// Centre of the logarithm.
        centre: f64,
        /// Scale of the logarithm.
        scale: f64,
        /// Degrees of freedom.
        freedom: f64,
    },
    /// Percentiles as a survey published them, for groups mixed in equal parts.
    Counted(Vec<GroupFigures>),
}

/// One group's published figures.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupFigures {
    /// The mean.
    pub mean_cm: f64,
    /// The deviation.
    pub sd_cm: f64,
    /// Share below, and the girth it lies below, rising.
    pub points: Vec<(f64, f64)>,
}

impl ArmSpread {
    /// A shifted log-normal of this mean, deviation and skewness (above zero), with degrees of
    /// freedom for its scale. The skewness of a log-normal is `(w + 2) sqrt(w - 1)` with
    /// `w = exp(scale^2)`; solved for `w` by the cubic formula (Johnson and Kotz, Continuous
    /// Univariate Distributions, chapter 14).
    pub(super) fn log_normal(mean_cm: f64, sd_cm: f64, skewness: f64, freedom: f64) -> Self {
        let root = (skewness * skewness + 4.0).sqrt();
        let h = libm::cbrt((skewness * skewness + 2.0 + skewness * root) / 2.0);
        let w = h + 1.0 / h - 1.0;
        let centre = libm::log(sd_cm / (w * (w - 1.0)).sqrt());
        Self::Log {
            shift_cm: mean_cm - libm::exp(centre) * w.sqrt(),
            centre,
            scale: libm::log(w).sqrt(),
            freedom,
        }
    }

    /// Third standardized moment; of published percentiles it is not known and taken as zero.
    pub(super) fn skewness(&self) -> f64 {
        match self {
            Self::Log { scale, .. } => {
                let over = libm::expm1(scale * scale);
                (over + 3.0) * over.sqrt()
            }
            Self::Counted(_) => 0.0,
        }
    }

    /// Degrees of freedom; infinite when percentiles were counted.
    pub(super) fn freedom(&self) -> f64 {
        match self {
            Self::Log { freedom, .. } => *freedom,
            Self::Counted(_) => f64::INFINITY,
        }
    }

    /// The same spread round another centre: every girth times one factor.
    #[must_use]
    pub(super) fn centred(&self, mean: Length) -> Self {
        let factor = mean / self.mean();
        match self {
            Self::Log {
                shift_cm,
                centre,
                scale,
                freedom,
            } => Self::Log {
                shift_cm: shift_cm * factor,
                centre: centre + libm::log(factor),
                scale: *scale,
                freedom: *freedom,
            },
            Self::Counted(groups) => {
                Self::Counted(groups.iter().map(|g| g.times(factor)).collect())
            }
        }
    }

    /// The mean arm.
    pub fn mean(&self) -> Length {
        match self {
            Self::Log {
                shift_cm,
                centre,
                scale,
                ..
            } => Length::cm(shift_cm + libm::exp(centre + scale * scale / 2.0)),
            Self::Counted(groups) => Length::cm(average(groups.iter().map(|g| g.mean_cm))),
        }
    }

    /// The deviation from one person to the next.
    pub fn sd(&self) -> Length {
        match self {
            Self::Log { centre, scale, .. } => {
                let unshifted = libm::exp(centre + scale * scale / 2.0);
                Length::cm(unshifted * libm::expm1(scale * scale).sqrt())
            }
            Self::Counted(groups) => {
                let mean = self.mean().to_cm();
                let square =
                    |g: &GroupFigures| g.sd_cm * g.sd_cm + (g.mean_cm - mean) * (g.mean_cm - mean);
                Length::cm(average(groups.iter().map(square)).sqrt())
            }
        }
    }

    /// The share (0 to 1) of people whose arm is at most this; none below a girth that is no
    /// length (zero, negative, not a number).
    pub fn share_below(&self, girth: Length) -> f64 {
        match self {
            _ if !girth.is_positive() => 0.0,
            Self::Log {
                shift_cm,
                centre,
                scale,
                freedom,
            } => {
                let above = (girth.to_cm() - shift_cm).max(f64::MIN_POSITIVE);
                let z = (libm::log(above) - centre) / scale;
                student(*freedom).map_or(f64::NAN, |t| t.cdf(z))
            }
            Self::Counted(groups) => average(groups.iter().map(|g| g.share_below(girth.to_cm()))),
        }
    }

    /// The girth that this share of people stay below. A share past a millionth of either end
    /// is taken as that; one that is not a number has no girth.
    pub fn quantile(&self, share: f64) -> Length {
        if share.is_nan() {
            return Length::cm(f64::NAN);
        }
        let share = share.clamp(1e-6, 1.0 - 1e-6);
        match self {
            Self::Log {
                shift_cm,
                centre,
                scale,
                freedom,
            } => {
                let z = student(*freedom).map_or(f64::NAN, |t| t.inverse_cdf(share));
                Length::cm(shift_cm + libm::exp(centre + scale * z))
            }
            Self::Counted(_) => self.bisect(share),
        }
    }

    /// Halves 0 to 200 cm until the share is met to a thousandth of a millimetre.
    fn bisect(&self, share: f64) -> Length {
        let (mut low, mut high) = (0.0, 200.0);
        while high - low > 1e-4 {
            let middle = f64::midpoint(low, high);
            if self.share_below(Length::cm(middle)) < share {
                low = middle;
            } else {
                high = middle;
            }
        }
        Length::cm(f64::midpoint(low, high))
    }
}

impl GroupFigures {
    /// The same group with every girth times a factor.
    fn times(&self, factor: f64) -> Self {
        Self {
            mean_cm: self.mean_cm * factor,
            sd_cm: self.sd_cm * factor,
            points: self
                .points
                .iter()
                .map(|(share, cm)| (*share, cm * factor))
                .collect(),
        }
    }

    /// Between published percentiles the normal score runs straight; past the outermost it goes
    /// on with the slope of the last piece. The published percentiles are met exactly.
    fn share_below(&self, cm: f64) -> f64 {
        let normal = Normal::standard();
        let scores: Vec<(f64, f64)> = self
            .points
            .iter()
            .map(|(share, cm)| (*cm, normal.inverse_cdf(*share)))
            .collect();
        let last = scores.len().saturating_sub(1);
        let piece = scores
            .partition_point(|(girth, _)| *girth < cm)
            .clamp(1, last.max(1));
        match (scores.get(piece - 1), scores.get(piece)) {
            (Some((x0, z0)), Some((x1, z1))) if x1 > x0 => {
                normal.cdf(z0 + (z1 - z0) * (cm - x0) / (x1 - x0))
            }
            _ => f64::NAN,
        }
    }
}

fn student(freedom: f64) -> Option<StudentsT> {
    StudentsT::new(0.0, 1.0, freedom).ok()
}

fn average(numbers: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = numbers.len() as f64;
    numbers.sum::<f64>() / count
}
