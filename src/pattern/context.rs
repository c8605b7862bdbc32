//! What a reader must know besides the lines.

use crate::case::{Readings, Take};
use crate::measure::{Length, Side, Stitches, Units};

use super::program::Doubt;

/// What the lines shape.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Piece {
    /// A sleeve: symmetrical, both edges alike.
    #[default]
    Sleeve,
    /// A body piece at its armholes; it may be half of one, with shaping at one edge.
    Body,
}

/// The reading to take of one wording.
pub(super) fn take_of(readings: Readings, doubt: Doubt) -> Take {
    match doubt {
        Doubt::NextAndEvery => readings.next_and_every,
        Doubt::Repeat => readings.repeat,
        Doubt::FirstDecrease => readings.first_decrease,
        Doubt::TrailingRow => readings.trailing_row,
        Doubt::RowsTwice => readings.rows_twice,
        Doubt::Cross => readings.cross,
        Doubt::RowList => readings.row_list,
        Doubt::Edge => readings.edge,
    }
}

/// What a reader must know besides the lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Context {
    /// The labels of the sizes, in the order of the size sets; at least one.
    pub sizes: Vec<String>,
    /// Stitches on the needle before the lines: one number per size, or one for all.
    pub stitches: Vec<Stitches>,
    /// The side of the first row of the lines.
    pub first_row: Side,
    /// Height of one row: one per size, or one for all. Needed for lengths in place of rows.
    pub row_heights: Option<Vec<Length>>,
    /// The units of messages.
    pub units: Units,
    /// What the lines shape.
    pub piece: Piece,
    /// Which reading to take of a wording that has two.
    pub readings: Readings,
}

impl Context {
    /// A sleeve in centimetres whose first row is a right-side row, without a row gauge.
    pub fn new(sizes: Vec<String>, stitches: Vec<Stitches>) -> Self {
        Self {
            sizes,
            stitches,
            first_row: Side::Rs,
            row_heights: None,
            units: Units::Cm,
            piece: Piece::Sleeve,
            readings: Readings::default(),
        }
    }

    /// The stitches of one size before the lines.
    pub(super) fn stitches_of(&self, size: usize) -> Option<Stitches> {
        one_or_each(&self.stitches, size, self.sizes.len()).copied()
    }

    /// The row height of one size.
    pub(super) fn row_height_of(&self, size: usize) -> Option<Length> {
        let heights = self.row_heights.as_ref()?;
        one_or_each(heights, size, self.sizes.len()).copied()
    }
}

/// The value of one size from a list with one value per size, or one for all.
fn one_or_each<T>(list: &[T], size: usize, sizes: usize) -> Option<&T> {
    match list {
        [one] => Some(one),
        list if list.len() == sizes => list.get(size),
        _ => None,
    }
}
