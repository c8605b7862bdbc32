//! Sheets of paper, their margins, and why nothing can be put on one.

use thiserror::Error;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// Points in a millimetre: 72 to the inch.
pub(super) const MM: f32 = 72.0 / 25.4;

impl Paper {
    /// Width and height in points.
    pub(super) const fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (210.0 * MM, 297.0 * MM),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// Why no PDF could be made.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum PdfError {
    /// The embedded font cannot be read.
    #[error(
        "The PDF cannot be made: the font of this program cannot be read. Write .html and print that."
    )]
    Font,
    /// A figure cannot be drawn.
    #[error(
        "The PDF cannot be made: the picture '{name}' cannot be drawn ({why}). Write .html and print that."
    )]
    Figure {
        /// Which figure.
        name: String,
        /// What is wrong with it.
        why: String,
    },
    /// The file cannot be put together.
    #[error("The PDF cannot be made: {0}. Write .html and print that.")]
    Write(String),
}

/// Left and right margin.
pub(super) const SIDE: f32 = 15.0 * MM;
/// Upper margin.
pub(super) const ABOVE: f32 = 10.0 * MM;
/// Lower margin; the foot stands in it.
pub(super) const BELOW: f32 = 14.0 * MM;

/// A number of user units as points; both are far within the range of `f32`.
#[allow(
    clippy::cast_possible_truncation,
    reason = "krilla measures in f32; seven digits are far finer than print"
)]
pub(super) const fn points(number: f64) -> f32 {
    number as f32
}
