//! One length type, and the only place where inches are turned into centimetres.

use std::fmt;
use std::ops::{Add, Div, Mul, Sub};

/// Centimetres in one inch, exactly: international yard and pound agreement, 1959.
pub const CM_PER_INCH: f64 = 2.54;

/// A length, held in centimetres.
///
/// ```
/// use capwright::measure::Length;
/// assert_eq!(Length::inches(4.0).to_cm(), 10.16);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length {
    cm: f64,
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self { cm: 0.0 };

    /// A length given in centimetres.
    pub const fn cm(cm: f64) -> Self {
        Self { cm }
    }

    /// A length given in inches.
    pub const fn inches(inches: f64) -> Self {
        Self {
            cm: inches * CM_PER_INCH,
        }
    }

    /// The length in centimetres.
    pub const fn to_cm(self) -> f64 {
        self.cm
    }

    /// The length in inches.
    pub const fn to_inches(self) -> f64 {
        self.cm / CM_PER_INCH
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self { cm: self.cm.abs() }
    }

    /// True for a finite length above zero.
    pub fn is_positive(self) -> bool {
        self.cm.is_finite() && self.cm > 0.0
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::cm(self.cm + other.cm)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::cm(self.cm - other.cm)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        Self::cm(self.cm * times)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self::cm(self.cm / by)
    }
}

impl Div for Length {
    type Output = f64;
    fn div(self, by: Self) -> f64 {
        self.cm / by.cm
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        Self::cm(iter.map(Self::to_cm).sum())
    }
}

/// What a case is written in and what a person is shown: centimetres or inches.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Centimetres; gauge is counted over 10 cm.
    #[default]
    Cm,
    /// Inches; gauge is counted over 4 in, which is 10.16 cm.
    In,
}

impl Units {
    /// A number in these units as a length.
    pub const fn length(self, number: f64) -> Length {
        match self {
            Self::Cm => Length::cm(number),
            Self::In => Length::inches(number),
        }
    }

    /// A length as a number in these units.
    pub const fn number(self, length: Length) -> f64 {
        match self {
            Self::Cm => length.to_cm(),
            Self::In => length.to_inches(),
        }
    }

    /// The word after the number: `cm` or `in`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Cm => "cm",
            Self::In => "in",
        }
    }

    /// The length a gauge is usually counted over in these units: 10 cm or 4 in.
    pub const fn swatch_length(self) -> Length {
        match self {
            Self::Cm => Length::cm(10.0),
            Self::In => Length::inches(4.0),
        }
    }

    /// A small length for a person to read: `0.35 cm`, `0.14 in`.
    pub fn show_fine(self, length: Length) -> String {
        let hundredths = (self.number(length) * 100.0).round() / 100.0;
        format!("{:.2} {}", hundredths + 0.0, self.word())
    }

    /// An area, given in square centimetres, for a person to read: `200.6 cm²`, `31.1 in²`.
    pub fn show_area(self, area_cm2: f64) -> String {
        let unit_cm = self.length(1.0).to_cm();
        let tenths = (area_cm2 / (unit_cm * unit_cm) * 10.0).round() / 10.0;
        format!("{:.1} {}\u{b2}", tenths + 0.0, self.word())
    }

    /// A length for a person to read: `18.2 cm`, `7.2 in`.
    pub fn show(self, length: Length) -> String {
        let tenths = (self.number(length) * 10.0).round() / 10.0;
        // Adding zero turns -0.0 into 0.0.
        format!("{:.1} {}", tenths + 0.0, self.word())
    }

    /// The least that is allowed, never rounded to less: `0.12 in` for 0.3 cm.
    pub fn show_least(self, length: Length) -> String {
        let number = self.number(length);
        if (number * 10.0).round() / 10.0 >= number - 1e-9 {
            return self.show(length);
        }
        let hundredths = (number * 100.0 - 1e-9).ceil() / 100.0;
        format!("{hundredths:.2} {}", self.word())
    }

    /// The most that is allowed, never rounded to more: `31.49 in` for 80 cm.
    pub fn show_most(self, length: Length) -> String {
        let number = self.number(length);
        if (number * 10.0).round() / 10.0 <= number + 1e-9 {
            return self.show(length);
        }
        let hundredths = (number * 100.0 + 1e-9).floor() / 100.0;
        format!("{hundredths:.2} {}", self.word())
    }
}

impl fmt::Display for Units {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_inches_are_not_ten_centimetres() {
        assert!((Units::In.swatch_length().to_cm() - 10.16).abs() < 1e-12);
        assert!((Units::Cm.swatch_length().to_cm() - 10.0).abs() < 1e-12);
    }

    #[test]
    fn a_length_is_shown_in_the_units_of_the_case() {
        assert_eq!(Units::Cm.show(Length::cm(18.16)), "18.2 cm");
        assert_eq!(Units::In.show(Length::inches(7.25)), "7.3 in");
        assert_eq!(Units::Cm.show(Length::cm(-0.01)), "0.0 cm");
    }
}
