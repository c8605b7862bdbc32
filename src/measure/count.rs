//! Stitches and rows: whole numbers that cannot be added to one another.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub, SubAssign};

use serde::Serialize;

macro_rules! counted {
    ($name:ident, $what:literal, $one:literal, $many:literal) => {
        #[doc = concat!("A number of ", $what, ".")]
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[cfg_attr(test, derive(schemars::JsonSchema), schemars(inline))]
        pub struct $name(pub u32);

        impl $name {
            /// None at all.
            pub const ZERO: Self = Self(0);

            /// The bare number.
            pub const fn count(self) -> u32 {
                self.0
            }

            /// The bare number, for formulas.
            pub const fn as_f64(self) -> f64 {
                self.0 as f64
            }

            /// The difference, or `None` when `other` is larger.
            #[must_use]
            pub const fn checked_sub(self, other: Self) -> Option<Self> {
                match self.0.checked_sub(other.0) {
                    Some(n) => Some(Self(n)),
                    None => None,
                }
            }

            /// The difference, or none when `other` is larger.
            #[must_use]
            pub const fn saturating_sub(self, other: Self) -> Self {
                Self(self.0.saturating_sub(other.0))
            }

            /// True for 0, 2, 4, ...
            pub const fn is_even(self) -> bool {
                self.0.is_multiple_of(2)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self::ZERO, Add::add)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let word = if self.0 == 1 { $one } else { $many };
                write!(f, "{} {word}", self.0)
            }
        }
    };
}

counted!(Stitches, "stitches", "stitch", "stitches");
counted!(Rows, "rows (or rounds)", "row", "rows");

/// The side of the fabric that faces the knitter on a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Right side: worked from the right edge to the left, as seen from the right side.
    Rs,
    /// Wrong side: worked from the left edge to the right, as seen from the right side.
    Ws,
}

impl Side {
    /// The side of the next row.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self {
            Self::Rs => Self::Ws,
            Self::Ws => Self::Rs,
        }
    }

    /// The trade's two letters.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Rs => "RS",
            Self::Ws => "WS",
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The whole part of a number as a count; what is negative or not a number is 0.
///
/// For results of formulas on bounded quantities, where a cast would need an excuse each time.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the value is clamped to the range first"
)]
pub fn whole(number: f64) -> u32 {
    // max() turns what is not a number into 0.
    number.max(0.0).min(f64::from(u32::MAX)) as u32
}

/// The nearest whole number as a count, halves up; what is negative or not a number is 0.
pub fn nearest_whole(number: f64) -> u32 {
    whole(number + 0.5)
}
