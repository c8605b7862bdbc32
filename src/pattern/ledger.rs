//! The ledger: the list of rows with what happened on each and the stitches left.

use crate::diagnostic::Span;
use crate::measure::{Rows, Side, Stitches};

/// One row of flat knitting.
///
/// Every row starts at the right edge on RS and at the left edge on WS (seen from RS). A bind-off
/// takes its stitches at the start of the row; a decrease "each end" takes one at both edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LedgerRow {
    /// Number of the row; the first row of the lines is row 1.
    pub row: u32,
    /// The side that faces the knitter.
    pub side: Side,
    /// Stitches bound off at the start of the row.
    pub bind_off: Stitches,
    /// Stitches decreased at the edge where the row starts, besides the bind-off.
    pub decrease_start: Stitches,
    /// Stitches decreased (or bound off) at the edge where the row ends.
    pub decrease_end: Stitches,
    /// Stitches increased at the edge where the row starts.
    pub increase_start: Stitches,
    /// Stitches increased at the edge where the row ends.
    pub increase_end: Stitches,
    /// Stitches left after the row.
    pub stitches: Stitches,
    /// The words of the lines that asked for this row.
    pub span: Span,
}

impl LedgerRow {
    /// True when nothing is bound off, decreased or increased.
    pub fn is_even(&self) -> bool {
        self.removed() == Stitches::ZERO && self.added() == Stitches::ZERO
    }

    /// True when stitches are bound off at its start.
    pub fn binds_off(&self) -> bool {
        self.bind_off > Stitches::ZERO
    }

    /// All stitches this row takes away.
    pub fn removed(&self) -> Stitches {
        self.bind_off + self.decrease_start + self.decrease_end
    }

    /// All stitches this row adds.
    pub fn added(&self) -> Stitches {
        self.increase_start + self.increase_end
    }

    /// True for the row that binds off everything left: it closes the piece and is no row of
    /// fabric.
    pub fn closes(&self) -> bool {
        self.stitches == Stitches::ZERO
    }
}

/// All rows of one size, from the stitches on the needle before the first of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ledger {
    /// Stitches on the needle before row 1.
    pub start: Stitches,
    /// The rows in the order worked; the closing bind-off, where the lines give one, is the last.
    pub rows: Vec<LedgerRow>,
    /// Where the neck was parted off, on a body piece: from there on the rows are those of one half.
    pub divided: Option<Divided>,
}

/// Where a body piece is divided for its neck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Divided {
    /// The row that parts the work; the stitches that leave it are its `decrease_end`.
    pub row: u32,
    /// The side of the rows that start at the armhole edge of the half that is followed.
    pub edge: Side,
    /// Stitches bound off or held in the middle.
    pub centre: Stitches,
    /// Stitches of the half that is followed, before the row's own decreases.
    pub half: Stitches,
    /// Stitches of the other half, which wait.
    pub held: Stitches,
}

impl Ledger {
    /// The rows of fabric: all but the closing bind-off.
    pub fn fabric(&self) -> &[LedgerRow] {
        match self.rows.split_last() {
            Some((last, before)) if last.closes() => before,
            _ => &self.rows,
        }
    }

    /// Number of rows of fabric.
    pub fn row_count(&self) -> Rows {
        Rows(u32::try_from(self.fabric().len()).unwrap_or(u32::MAX))
    }

    /// Stitches left for the final bind-off (or on the needle when the lines give none).
    pub fn final_stitches(&self) -> Stitches {
        self.fabric().last().map_or(self.start, |row| row.stitches)
    }

    /// What the neck edge of the half that is followed loses, row by row: beside the armhole's edge, and
    /// taken from the same count. Empty where nothing was divided.
    pub fn neck(&self) -> Vec<(u32, Stitches)> {
        let Some(divided) = self.divided else {
            return Vec::new();
        };
        let half = self.fabric().iter().filter(|row| row.row > divided.row);
        let at_neck = half.map(|row| {
            let lost = if row.side == divided.edge {
                row.decrease_end
            } else {
                row.bind_off + row.decrease_start
            };
            (row.row, lost)
        });
        at_neck.filter(|(_, lost)| *lost > Stitches::ZERO).collect()
    }

    /// True for a piece worked from its top: every row keeps or adds stitches, and some add.
    pub fn is_from_the_top(&self) -> bool {
        let rows = self.fabric();
        let removes = rows.iter().any(|row| row.removed() > Stitches::ZERO);
        !removes && rows.iter().any(|row| row.added() > Stitches::ZERO)
    }

    /// The same piece worked from its other end: what a row adds at its start alone (cast on) is bound
    /// off, what it adds at both ends is decreased.
    ///
    /// The row that adds the last stitches becomes row 1, so that depth counts as it does for a cap
    /// worked from the underarm.
    #[must_use]
    pub fn turned(&self) -> Self {
        let rows = self.fabric();
        let before = |i: usize| match i.checked_sub(1).and_then(|i| rows.get(i)) {
            Some(row) => row.stitches,
            None => self.start,
        };
        let numbered = (1_u32..).zip(rows.iter().enumerate().rev());
        let mut rows: Vec<LedgerRow> = numbered
            .map(|(row, (i, old))| {
                let cast_on = old.increase_end == Stitches::ZERO;
                LedgerRow {
                    row,
                    bind_off: if cast_on {
                        old.increase_start
                    } else {
                        Stitches::ZERO
                    },
                    decrease_start: if cast_on {
                        Stitches::ZERO
                    } else {
                        old.increase_start
                    },
                    decrease_end: old.increase_end,
                    increase_start: Stitches::ZERO,
                    increase_end: Stitches::ZERO,
                    stitches: before(i),
                    ..*old
                }
            })
            .collect();
        if let Some(last) = rows.last().copied() {
            rows.push(LedgerRow {
                row: last.row + 1,
                side: last.side.turned(),
                bind_off: self.start,
                decrease_start: Stitches::ZERO,
                decrease_end: Stitches::ZERO,
                stitches: Stitches::ZERO,
                ..last
            });
        }
        Self {
            start: self.final_stitches(),
            rows,
            divided: None,
        }
    }
}
