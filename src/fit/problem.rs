//! What is to be fitted: the old cap, the armhole, the gauges and the wishes.

use super::objective::MOST_EASE_CM;
use super::plan::{Move, STEEPEST};
use crate::measure::{Gauge, Length, Rows, Stitches};
use crate::outline::{ArmholeEdge, Cap};
use crate::plan::Repeat;

/// Stitches that wait at the shoulder (a saddle's).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Live {
    /// How many wait on the holder.
    pub stitches: Stitches,
    /// How many are picked up beside them on each side.
    pub extra_each_side: Stitches,
}

/// Where the ease along the armhole goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ease {
    /// The same share everywhere.
    #[default]
    Even,
    /// All of it in the third nearest the shoulder.
    Shoulder,
}

/// The wishes of `[fit]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Wishes {
    /// Moves allowed; `None` takes those the old cap's own steps call for.
    pub moves: Option<Vec<Move>>,
    /// How many runs a flank has; `None` lets the trade between simple and faithful decide.
    pub runs: Option<usize>,
    /// Rows between two picked-up stitches at the most; above [`FREE_GAP`] they have a price.
    pub gap_limit: f64,
    /// Where the ease goes.
    pub ease: Ease,
    /// Stitches by which the base may differ from the underarm bind-off.
    pub base_tolerance: Stitches,
    /// Rows that the pick-up counts as fabric (common practice, no source: one).
    pub picked_up_row: Rows,
    /// As many stitches in the first round as in the cap's last row: none is made or decreased at the join.
    pub plain_join: bool,
}

/// Up to so many rows between two picked-up stitches nothing shows (common practice, no source).
pub const FREE_GAP: f64 = 2.0;

/// Rows between two picked-up stitches at the most when a case says nothing, and the most a case may
/// ask for: beyond there are holes (common practice, no source).
pub const DEFAULT_GAP_LIMIT: f64 = 2.4;

/// The share of the armhole by which the cap's edge should be longer (common practice, no source;
/// published practice allows an inch over the whole armhole at the most).
pub const WANTED_EASE: f64 = 0.02;

impl Default for Wishes {
    fn default() -> Self {
        Self {
            moves: None,
            runs: None,
            gap_limit: DEFAULT_GAP_LIMIT,
            ease: Ease::Even,
            base_tolerance: Stitches::ZERO,
            picked_up_row: Rows(1),
            plain_join: false,
        }
    }
}

/// What of a cap was worked at another gauge than the rest will be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worked {
    /// Turn pairs worked, that of the crown included.
    pub turn_pairs: u32,
    /// Their gauge, and that of the picked-up row.
    pub gauge: Gauge,
}

/// Everything the fit depends on.
#[derive(Clone, Debug)]
pub struct Problem<'a> {
    /// The old cap, net of seams, at the pattern's gauge.
    pub cap: &'a Cap,
    /// The armhole's front edge.
    pub front: &'a ArmholeEdge,
    /// The armhole's back edge.
    pub back: &'a ArmholeEdge,
    /// Gauge of the new cap; of what is to come of it, where some was worked at another.
    pub cap_gauge: Gauge,
    /// What was worked at another gauge.
    pub worked: Option<Worked>,
    /// Gauge of the tube below it.
    pub tube_gauge: Gauge,
    /// The finished upper arm wanted.
    pub upper_arm: Length,
    /// Counts the upper arm may have.
    pub repeat: Repeat,
    /// Stitches waiting at the shoulder.
    pub live: Option<Live>,
    /// The wishes.
    pub wishes: Wishes,
}

impl Problem<'_> {
    /// True when both flanks have the same armhole and therefore get the same moves.
    pub fn alike(&self) -> bool {
        self.front == self.back
    }

    /// Gauge of the picked-up row and of the crown.
    pub fn top_gauge(&self) -> Gauge {
        self.worked.map_or(self.cap_gauge, |worked| worked.gauge)
    }

    /// Gauge of a turn pair, counted from 1.
    pub fn gauge_of(&self, pair: u32) -> Gauge {
        let worked = self.worked.filter(|worked| pair <= worked.turn_pairs);
        worked.map_or(self.cap_gauge, |worked| worked.gauge)
    }

    /// Height of a turn pair, counted from 1.
    pub fn pair_height(&self, pair: u32) -> Length {
        self.gauge_of(pair).row_height() * 2.0
    }

    /// The same question where so many turn pairs are worked.
    #[must_use]
    pub fn after(&self, turn_pairs: u32) -> Self {
        let worked = self.worked.map(|worked| Worked {
            turn_pairs,
            ..worked
        });
        Self {
            worked,
            ..self.clone()
        }
    }

    /// Height of the picked-up row.
    pub fn picked_up_height(&self) -> Length {
        self.top_gauge().height(self.wishes.picked_up_row)
    }

    /// Depth of a cap with so many turn pairs, the picked-up row included.
    pub fn depth_of(&self, turn_pairs: u32) -> Length {
        let (done, left) = self.parted(turn_pairs);
        let height = |gauge: Gauge, pairs: u32| gauge.row_height() * (2.0 * f64::from(pairs));
        self.picked_up_height() + height(self.top_gauge(), done) + height(self.cap_gauge, left)
    }

    /// Of the first turn pairs, so many of them, those that are worked and those that are not.
    fn parted(&self, turn_pairs: u32) -> (u32, u32) {
        let worked = self.worked.map_or(0, |worked| worked.turn_pairs);
        let done = turn_pairs.min(worked);
        (done, turn_pairs - done)
    }

    /// The half width of each turn pair in centimetres that keeps the old cap's area, when its depth is
    /// shared by the picked-up row and `turn_pairs` pairs of the new cap's rows.
    ///
    /// What the picked-up row covers beside a pair, its height times the edge of the pair, goes off it
    /// ([`Self::covered_cm`]). So area and depth match whatever the depth was rounded to.
    pub fn targets_cm(&self, turn_pairs: u32) -> Vec<f64> {
        let scale = self.cap.depth() / self.depth_of(turn_pairs);
        let top = self.picked_up_height() * scale;
        let pairs = |gauge: Gauge, n: u32| gauge.row_height() * 2.0 * scale * f64::from(n);
        let to = |t: u32| {
            let (done, left) = self.parted(t);
            let below = pairs(self.top_gauge(), done) + pairs(self.cap_gauge, left);
            self.cap.area_to_cm2(top + below)
        };
        (1..=turn_pairs)
            .map(|t| (to(t) - to(t - 1)) / (2.0 * self.pair_height(t).to_cm()))
            .collect()
    }

    /// Ease of both edges together that costs nothing, in centimetres: what published practice allows, and what
    /// the old cap itself has on this armhole. No shape of the old cap is given up to mend its ease.
    pub fn ease_range_cm(&self) -> (f64, f64) {
        let live = self.live.map_or(Stitches::ZERO, |live| live.stitches);
        let armhole = self.front.edge() + self.back.edge() + self.top_gauge().width(live);
        let old_cm = (self.cap.edge_above_underarm() * 2.0 - armhole).to_cm();
        (old_cm.min(0.0), old_cm.max(MOST_EASE_CM))
    }

    /// Half width that the picked-up row stands for beside a pair, counted from 1, with such an edge.
    pub fn covered_cm(&self, pair: u32, edge_cm: f64) -> f64 {
        let rows = self.picked_up_height() / self.gauge_of(pair).row_height();
        rows * edge_cm / 2.0
    }

    /// The moves to choose from, in order.
    ///
    /// The default goes as steep as the old cap's own steps, at least to 3/0 and at most to 10/0.
    pub fn allowed_moves(&self, targets_cm: &[f64]) -> Vec<Move> {
        if let Some(moves) = &self.wishes.moves {
            let mut moves = moves.clone();
            moves.sort_unstable();
            moves.dedup();
            return moves;
        }
        let stitch_cm = self.cap_gauge.stitch_width().to_cm();
        let steepest = targets_cm
            .windows(2)
            .map(|pair| match pair {
                [a, b] => (b - a) / stitch_cm,
                _ => 0.0,
            })
            .fold(0.0, f64::max);
        let steepest = crate::measure::nearest_whole(steepest.ceil()).clamp(3, STEEPEST);
        let mut moves: Vec<Move> = (1..=steepest).map(|take| Move::new(take, 0)).collect();
        moves.extend([Move::new(1, 1), Move::new(2, 1)]);
        moves.sort_unstable();
        moves
    }
}
