//! The counts of a swatch as the knitter wrote them down: `[gauge.*]` of a case.

use crate::measure::Length;

/// One count: so many stitches (or rows), halves allowed, over a measured length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwatchCount {
    /// What was counted.
    pub counted: f64,
    /// The length it was counted over.
    pub over: Length,
}

/// A swatch: every count of stitches and of rows that was taken on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Swatch {
    /// Counts along a row; at least one.
    pub stitches: Vec<SwatchCount>,
    /// Counts up the fabric; at least one.
    pub rows: Vec<SwatchCount>,
    /// Counted after washing, if that was said.
    pub washed: Option<bool>,
    /// A swatch "in the round" that was worked as a flat strip with floats behind it.
    pub floats: bool,
    /// Edge stitches that are part of every count of stitches; 0 when counted in the middle.
    pub edge_stitches: u32,
    /// The smallest part of a stitch or row that was counted; a half when nothing is said.
    pub division: Option<f64>,
    /// The same swatch counted before it was washed, when both were done.
    pub before_washing: Option<Box<Swatch>>,
}
