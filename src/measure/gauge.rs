//! Gauge: stitches and rows per 10 cm, and the sizes of one stitch that follow.

use super::{Length, OutOfBounds, ROWS_PER_10CM, Rows, STITCHES_PER_10CM, Stitches};

/// Stitches and rows per 10 cm, both within the table of bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    stitches_per_10cm: f64,
    rows_per_10cm: f64,
}

impl Gauge {
    /// A gauge from counts per 10 cm.
    ///
    /// # Errors
    /// [`OutOfBounds`] when either number cannot be a knitted gauge.
    pub fn per_10cm(stitches: f64, rows: f64) -> Result<Self, OutOfBounds> {
        Ok(Self {
            stitches_per_10cm: STITCHES_PER_10CM.check(stitches)?,
            rows_per_10cm: ROWS_PER_10CM.check(rows)?,
        })
    }

    /// Stitches per 10 cm.
    pub const fn stitches_per_10cm(self) -> f64 {
        self.stitches_per_10cm
    }

    /// Rows per 10 cm.
    pub const fn rows_per_10cm(self) -> f64 {
        self.rows_per_10cm
    }

    /// Width of one stitch.
    pub const fn stitch_width(self) -> Length {
        Length::cm(10.0 / self.stitches_per_10cm)
    }

    /// Height of one row.
    pub const fn row_height(self) -> Length {
        Length::cm(10.0 / self.rows_per_10cm)
    }

    /// Width of so many stitches.
    pub fn width(self, stitches: Stitches) -> Length {
        self.stitch_width() * stitches.as_f64()
    }

    /// Height of so many rows.
    pub fn height(self, rows: Rows) -> Length {
        self.row_height() * rows.as_f64()
    }

    /// Stitch gauge divided by row gauge: 0.67 to 0.79 in published patterns.
    pub const fn stitch_row_ratio(self) -> f64 {
        self.stitches_per_10cm / self.rows_per_10cm
    }
}

/// The two ends of what a number may be, in the number's own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

/// A change of gauge, stitches and rows, in per cent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeChange {
    /// Of the stitches.
    pub stitches_pct: f64,
    /// Of the rows.
    pub rows_pct: f64,
}
