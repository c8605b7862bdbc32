//! Which reading to take of a wording that has two: `[readings]` of a case.

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
