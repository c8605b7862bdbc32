//! What the solver decides and the words describe: crown, flanks, base and moves.

use serde::Serialize;

use crate::measure::{Rows, Stitches};

/// What one flank does at one turn pair: `take` picked-up stitches come in, `drop` are decreased.
///
/// Written `take/drop`: `1/0` turns at every stitch, `2/0` at every second one, `2/1` works two
/// stitches together that were wrapped together, `1/1` works the wrapped stitch together with its
/// neighbour, so that the edge goes straight down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Move {
    /// Picked-up stitches taken in.
    pub take: u32,
    /// Stitches decreased: 0 or 1.
    pub drop: u32,
}

/// Stitches that one move takes in at the most, also one that went wrong (common practice, no source).
pub const STEEPEST: u32 = 10;

impl Move {
    /// The move `take/drop`.
    pub const fn new(take: u32, drop: u32) -> Self {
        Self { take, drop }
    }

    /// Stitches by which the row widens on this flank.
    pub const fn widens(self) -> Stitches {
        Stitches(self.take.saturating_sub(self.drop))
    }
}

impl std::fmt::Display for Move {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.take, self.drop)
    }
}

/// A stretch of the armhole edge along which stitches are picked up evenly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Zone {
    /// Stitches picked up in it.
    pub stitches: Stitches,
    /// Rows of the armhole edge it covers; each stepped bound-off stitch counts as one.
    pub rows: Rows,
}

/// The stitches the first short row spans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crown {
    /// All of them.
    pub stitches: Stitches,
    /// Those of them that wait on a holder (a saddle's); in the middle of the crown.
    pub live: Stitches,
    /// Rows of the armhole edge the picked-up ones are spread over, front and back together,
    /// half on each side of the shoulder.
    pub rows: Rows,
}

/// One flank: what is picked up along it, from the crown down, and what each turn pair does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FlankPlan {
    /// Moves of the turn pairs 2, 3, ..., T.
    pub moves: Vec<Move>,
    /// Pick-up zones from the crown down: one to three.
    pub zones: Vec<Zone>,
}

impl FlankPlan {
    /// Stitches picked up along this flank.
    pub fn picked_up(&self) -> Stitches {
        self.moves.iter().map(|m| Stitches(m.take)).sum()
    }

    /// Stitches decreased along this flank.
    pub fn decreases(&self) -> Stitches {
        self.moves.iter().map(|m| Stitches(m.drop)).sum()
    }

    /// Stitches this flank adds to the upper arm.
    pub fn net(&self) -> Stitches {
        self.moves.iter().map(|m| m.widens()).sum()
    }

    /// Half the stitches of every turn pair on this side, the crown's half included.
    pub fn half_stitches(&self, crown: Crown) -> Vec<f64> {
        let mut half = crown.stitches.as_f64() / 2.0;
        let first = half;
        let later = self.moves.iter().map(|m| {
            half += m.widens().as_f64();
            half
        });
        std::iter::once(first).chain(later).collect()
    }

    /// Consecutive equal moves as (move, how many times), from the crown down.
    pub fn runs(&self) -> Vec<(Move, u32)> {
        let mut runs: Vec<(Move, u32)> = Vec::new();
        for &m in &self.moves {
            match runs.last_mut() {
                Some((last, times)) if *last == m => *times += 1,
                _ => runs.push((m, 1)),
            }
        }
        runs
    }
}

/// A whole short-row cap, as stitches: everything the written pattern needs to know.
///
/// Both flanks have the same number of moves, one fewer than there are turn pairs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CapPlan {
    /// The stitches of the first short row.
    pub crown: Crown,
    /// Stitches picked up along the front's underarm bind-off, one for one.
    pub base_front: Stitches,
    /// Stitches picked up along the back's underarm bind-off, one for one.
    pub base_back: Stitches,
    /// The front flank.
    pub front: FlankPlan,
    /// The back flank.
    pub back: FlankPlan,
    /// Stitches made at the underarm in the first round; below zero, decreased there. The cap ends at
    /// its own gauge and the tube begins at another.
    pub join_change: i32,
}

impl CapPlan {
    /// Turn pairs, the first of which spans the crown alone.
    pub fn turn_pairs(&self) -> u32 {
        u32::try_from(self.front.moves.len() + 1).unwrap_or(u32::MAX)
    }

    /// Stitches picked up along the underarm.
    pub fn base(&self) -> Stitches {
        self.base_front + self.base_back
    }

    /// Stitches on the needle after the pick-up, before the first short row.
    pub fn picked_up(&self) -> Stitches {
        self.crown.stitches + self.front.picked_up() + self.back.picked_up() + self.base()
    }

    /// Stitches on the needle when the cap is done: crown + flanks net of decreases + base.
    pub fn cap_end(&self) -> Stitches {
        self.crown.stitches + self.front.net() + self.back.net() + self.base()
    }

    /// Stitches of the tube: those of the cap and the join's change.
    pub fn upper_arm(&self) -> Stitches {
        Stitches(
            self.cap_end()
                .count()
                .saturating_add_signed(self.join_change),
        )
    }

    /// True when both flanks are worked alike: the same moves, whatever rows each is picked up from.
    pub fn flanks_alike(&self) -> bool {
        self.front.moves == self.back.moves
    }

    /// Steps that are written: a run of both flanks ends wherever either of them changes.
    pub fn steps(&self) -> usize {
        let both: Vec<_> = self.front.moves.iter().zip(&self.back.moves).collect();
        both.chunk_by(|a, b| a == b).count()
    }

    /// What has to be remembered: the larger number of runs of the two flanks.
    pub fn runs(&self) -> usize {
        self.front.runs().len().max(self.back.runs().len())
    }
}
