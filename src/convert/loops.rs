//! Stitches knitted in a cap: every loop the yarn forms, once.
//!
//! Two stitches worked together are one loop, and so are the stitches of a column that a decrease has
//! joined: rows counted column by column would count them twice.

use crate::measure::Stitches;
use crate::pattern::Ledger;
use crate::plan::{CapPlan, Going, Hand, Sleeve};

/// Loops formed in one sleeve's cap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CapLoops {
    /// Stitches picked up and knitted; those that wait on a holder are only slipped onto the needle.
    pub picked_up: Stitches,
    /// Loops of the short rows and of the row that runs on to the middle of the base.
    pub rows: Stitches,
}

impl CapLoops {
    /// Counts the loops of a plan as one sleeve and one hand meet it.
    ///
    /// The first flank's turn ends the RS row, so its move already widens that row; the WS row has
    /// both flanks' moves.
    pub fn of(plan: &CapPlan, sleeve: Sleeve, hand: Hand) -> Self {
        let going = Going::round(plan, sleeve, hand);
        let mut width = plan.crown.stitches;
        let mut rows = width + width;
        for (first, second) in going.first.moves.iter().zip(&going.second.moves) {
            let right_side = width + first.widens();
            width = right_side + second.widens();
            rows += right_side + width;
        }
        Self {
            picked_up: plan.picked_up().saturating_sub(plan.crown.live),
            rows: rows + width + going.base_before,
        }
    }

    /// All of them.
    pub fn all(self) -> Stitches {
        self.picked_up + self.rows
    }
}

/// Loops formed in a flat cap. A stitch is knitted once more before it is bound off, in the closing
/// row too.
pub fn flat_loops(ledger: &Ledger) -> Stitches {
    let rows = ledger.fabric().iter();
    let knitted: Stitches = rows.map(|row| row.stitches + row.bind_off).sum();
    knitted + ledger.final_stitches()
}
