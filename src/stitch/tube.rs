//! The pattern in the tube: its columns go on down to the cuff, and the shaping takes them away beside the marker.

use super::chart::Cell;
use super::layout::{Layout, Placed};
use super::table::Stitch;
use crate::measure::Rows;
use crate::plan::TubePlan;

/// A round of the tube.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TubeRound {
    /// Its number, from 1 at the join.
    pub round: u32,
    /// True where it is shaped.
    pub shaped: bool,
    /// The row of the ground's repeat, from 1.
    pub of_ground: u32,
    /// The column of its first stitch; columns are those of the cap.
    pub from: i64,
    /// One past the column of its last stitch.
    pub to: i64,
    /// Its stitches, from the first.
    pub cells: Vec<Cell>,
}

impl TubeRound {
    /// The column of the stitch after the first one, with which the pattern goes on beside the edge stitch.
    pub fn second(&self) -> i64 {
        self.from + 1
    }

    /// The column of the stitch before the last one.
    pub fn last_but_one(&self) -> i64 {
        self.to - 2
    }
}

impl Layout {
    /// The rounds of the tube, the shaped ones `k1, k2tog, ..., ssk, k1`, or with a stitch made beside each edge stitch.
    ///
    /// From the first shaping on the first and the last stitch of a round are knit; a decrease takes the place of the
    /// column that comes to lie beside them. Stitches beside the plan's are taken to lie half at either end.
    pub fn tube(&self, tube: &TubePlan) -> Vec<TubeRound> {
        let (rounds, shaping) = (tube.rounds.count(), &tube.decrease_rounds);
        let widens = tube.widens();
        let Some((from, to)) = self.spans().last().copied() else {
            return Vec::new();
        };
        let joined = u32::try_from(self.spans().len()).unwrap_or(u32::MAX);
        let round = |round: u32| {
            let before = shaping.partition_point(|at| *at <= round);
            let times = i64::try_from(before).unwrap_or(0) * if widens { -1 } else { 1 };
            let shaped = shaping.binary_search(&round).is_ok();
            let begun = Rows(round) > tube.worked;
            let beside = if begun { i64::from(tube.beside) / 2 } else { 0 };
            let (from, to) = (from + times - beside, to - times + beside);
            let row = joined.saturating_add(round) - 1;
            let pair = if widens {
                [Stitch::MakeRight, Stitch::MakeLeft]
            } else {
                [Stitch::K2tog, Stitch::Ssk]
            };
            let cell = |column: i64| match (column - from, to - 1 - column) {
                _ if before == 0 => self.cell(row, column, (from, to)),
                (0, _) | (_, 0) => Cell::of(Stitch::Knit),
                (1, _) if shaped => Cell::of(pair[0]),
                (_, 1) if shaped => Cell::of(pair[1]),
                _ => self.cell(row, column, (from + 1, to - 1)),
            };
            TubeRound {
                round,
                shaped,
                of_ground: self.ground_row(row),
                from,
                to,
                cells: (from..to).map(cell).collect(),
            }
        };
        (1..=rounds).map(round).collect()
    }

    /// The first round in which the shaping takes a stitch of a panel, and that panel.
    pub fn panel_reached<'a>(&'a self, rounds: &'a [TubeRound]) -> Option<(u32, &'a Placed)> {
        let taken = |round: &TubeRound, panel: &Placed| {
            round.shaped && (round.second() > panel.from || round.last_but_one() < panel.to() - 1)
        };
        rounds.iter().find_map(|round| {
            let panel = self.panels.iter().find(|panel| taken(round, panel))?;
            Some((round.round, panel))
        })
    }
}
