//! What lies on the needle when the written pattern has been knitted.

use std::ops::Range;

use crate::measure::{Rows, Stitches};
use crate::plan::{Corner, Flank, NeedleRow, Section};
use crate::stitch::{Cell, PatternRow};

/// One picked-up stitch and what became of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Where it was picked up.
    pub section: Section,
    /// True when it waited on a holder instead.
    pub live: bool,
    /// Rows worked in it (in the stitch it was decreased into, from then on) when rounds begin.
    pub rows: Rows,
    /// The row in which it was first worked.
    pub first_row: Option<u32>,
    /// The row in which it was decreased into its neighbour nearer the crown; a decrease of the
    /// turn of a German short row belongs to the row that makes it.
    pub decreased_row: Option<u32>,
    /// Its stitch at the join, counted from 0 in the order of the needle.
    pub stitch: usize,
}

/// A stretch of a section that was picked up at one pair of rates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PickedStretch {
    /// Where.
    pub section: Section,
    /// Stitches picked up (or taken from the holder).
    pub stitches: Stitches,
    /// Rows of the armhole edge, where the text gives them.
    pub rows: Rows,
    /// True for stitches taken from a holder.
    pub live: bool,
}

/// The result of knitting a written pattern.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Knitted {
    /// Every picked-up stitch, in the order of the needle.
    pub columns: Vec<Column>,
    /// The stretches of the pick-up, in the order of the needle.
    pub stretches: Vec<PickedStretch>,
    /// Which flank came first, when the text names it.
    pub first_flank: Option<Flank>,
    /// Turn pairs before the join.
    pub turn_pairs: u32,
    /// Decreases before the join.
    pub cap_decreases: u32,
    /// Stitches on the needle when the cap is done; none when the text never gets there.
    pub cap_end: Stitches,
    /// Stitches of the tube, after the round that closes the join.
    pub upper_arm: Stitches,
    /// What that round changes where it leaves the base and where it comes back to it.
    pub corners: [Corner; 2],
    /// Base stitches before the start of the round.
    pub base_before: Stitches,
    /// Base stitches after the start of the round.
    pub base_after: Stitches,
    /// Rounds of the tube, the one that closes the join included.
    pub rounds: Rows,
    /// The rounds that were decrease rounds.
    pub decrease_rounds: Vec<u32>,
    /// The rounds that were increase rounds.
    pub increase_rounds: Vec<u32>,
    /// Rounds that were knitted before the text was written.
    pub worked_rounds: Rows,
    /// Stitches that lie on the needle after them beside what their shaping leads to.
    pub beside: i32,
    /// Stitches of every round down to the cuff.
    pub of_rounds: Vec<Stitches>,
    /// Loops formed in the cap, the row that runs on to the middle of the base included: its
    /// share of the yarn. The picked-up loops themselves are not counted.
    pub cap_loops: u32,
    /// Loops formed in the rounds of the tube.
    pub tube_loops: u32,
    /// Stitches on the needle at the end.
    pub cuff: Stitches,
    /// The needle after each row of the cap.
    pub needle_rows: Vec<NeedleRow>,
    /// The charts of the pattern as the text tells them, the ground's first.
    pub charts: Vec<ToldChart>,
    /// Every row of the cap in pattern, then the first round; none where the text tells none.
    pub pattern: Vec<PatternRow>,
}

/// A chart as the text tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToldChart {
    /// For the ground the stitch of the repeat on the first crown stitch, for a panel its first crown stitch;
    /// from 1.
    pub first_stitch: u32,
    /// Its row, from 1, on row 1 of the cap.
    pub first_row: u32,
    /// Stitches of a row.
    pub width: u32,
    /// How many rows it should have.
    pub height: u32,
    /// Its rows, each from the right.
    pub rows: Vec<Vec<Cell>>,
}

impl ToldChart {
    /// The columns of a panel, from the first crown stitch.
    pub(super) fn columns(&self) -> Range<i64> {
        let from = i64::from(self.first_stitch) - 1;
        from..from + i64::from(self.width)
    }

    pub(super) fn row_at(&self, row: u32) -> u32 {
        let first = u64::from(self.first_row.saturating_sub(1));
        let row = (first + u64::from(row.saturating_sub(1))) % u64::from(self.height.max(1));
        u32::try_from(row).unwrap_or(0)
    }

    pub(super) fn cell(&self, row: u32, column: i64) -> Option<Cell> {
        let column = column.rem_euclid(i64::from(self.width.max(1)));
        let cells = self.rows.get(self.row_at(row) as usize)?;
        cells.get(usize::try_from(column).ok()?).copied()
    }
}
