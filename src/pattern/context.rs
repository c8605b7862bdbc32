//! What a reader must know besides the lines.

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

/// Which reading is taken of a wording that has two.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Take {
    /// The one a practised knitter takes, unless the counts stated in the text prove the other.
    #[default]
    Usual,
    /// The usual one, whatever the counts say.
    First,
    /// The other one, whatever the counts say.
    Second,
}

/// Which reading to take of each wording that has two.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Readings {
    /// `next and every alternate row n times`: n in all (first), or n after the next (second).
    pub next_and_every: Take,
    /// `repeat the last 2 rows n times`: n more (first), or n in all (second).
    pub repeat: Take,
    /// `every 4th row` after a bind-off: from the next right-side row (first), or four rows on
    /// (second).
    pub first_decrease: Take,
    /// A bind-off after decreases on every right-side row: at once (first), or after one more plain
    /// row, so that it starts on the side of the first bind-off (second).
    pub trailing_row: Take,
    /// `at the beginning of the next 2 rows twice`: four rows (first), or two (second).
    pub rows_twice: Take,
    /// `2 x 1`: two stitches once (first), or one stitch twice (second).
    pub cross: Take,
    /// `rows 3, 5 and 9`: counted from the first row of the lines (first), or from here (second).
    pub row_list: Take,
    /// `dec 1 st` without an edge: at each end (first), or at one edge (second); the other way
    /// round on a half piece.
    pub edge: Take,
}

impl Readings {
    /// The reading to take of one wording.
    pub(super) fn of(self, doubt: Doubt) -> Take {
        match doubt {
            Doubt::NextAndEvery => self.next_and_every,
            Doubt::Repeat => self.repeat,
            Doubt::FirstDecrease => self.first_decrease,
            Doubt::TrailingRow => self.trailing_row,
            Doubt::RowsTwice => self.rows_twice,
            Doubt::Cross => self.cross,
            Doubt::RowList => self.row_list,
            Doubt::Edge => self.edge,
        }
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
