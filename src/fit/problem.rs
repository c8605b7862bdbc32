//! What is to be fitted: the old cap, the armhole, the gauges and the wishes.

use super::plan::Move;
use crate::measure::{Gauge, Length, Stitches};
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
    /// Rows between two picked-up stitches at the most.
    pub gap_limit: f64,
    /// Where the ease goes.
    pub ease: Ease,
    /// Stitches by which the base may differ from the underarm bind-off.
    pub base_tolerance: Stitches,
}

/// Rows between two picked-up stitches when a case says nothing: more leaves holes
/// (common practice, no source).
pub const DEFAULT_GAP_LIMIT: f64 = 2.0;

/// The largest gap a case may ask for (common practice, no source).
pub const LARGEST_GAP_LIMIT: f64 = 2.4;

impl Default for Wishes {
    fn default() -> Self {
        Self {
            moves: None,
            runs: None,
            gap_limit: DEFAULT_GAP_LIMIT,
            ease: Ease::Even,
            base_tolerance: Stitches::ZERO,
        }
    }
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
    /// Gauge of the new cap.
    pub cap_gauge: Gauge,
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

    /// The target half width of each turn pair in centimetres, when the depth is shared by
    /// `turn_pairs` pairs of the new cap's rows.
    ///
    /// The old area of the same share of depth, spread over this pair's height: kept exactly, the
    /// targets keep the area whatever the depth was rounded to.
    pub fn targets_cm(&self, turn_pairs: u32) -> Vec<f64> {
        let share = self.cap.depth() / f64::from(turn_pairs);
        let pair_height_cm = 2.0 * self.cap_gauge.row_height().to_cm();
        (1..=turn_pairs)
            .map(|t| {
                let below = self.cap.area_to_cm2(share * f64::from(t));
                let above = self.cap.area_to_cm2(share * f64::from(t - 1));
                (below - above) / (2.0 * pair_height_cm)
            })
            .collect()
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
        let steepest = crate::measure::nearest_whole(steepest.ceil()).clamp(3, 10);
        let mut moves: Vec<Move> = (1..=steepest).map(|take| Move::new(take, 0)).collect();
        moves.extend([Move::new(1, 1), Move::new(2, 1)]);
        moves.sort_unstable();
        moves
    }
}
