//! What both flanks share, and what every move costs along the edge.

use std::collections::BTreeSet;

use super::objective::WEIGHTS;
use super::pickup::Pickup;
use super::plan::Move;

/// What both flanks share: the turn pairs, the crown and the targets.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    pub(crate) crown: u32,
    /// Target half widths of the turn pairs, in centimetres.
    pub(crate) targets_cm: Vec<f64>,
    pub(crate) stitch_cm: f64,
    pub(crate) row_cm: f64,
    pub(crate) old_area_cm2: f64,
    pub(crate) moves: Vec<Move>,
    /// The moves are those of the runs, in their order, each run worked once at the least.
    pub(crate) chain: bool,
}

impl Frame {
    pub(crate) fn turn_pairs(&self) -> usize {
        self.targets_cm.len()
    }

    /// Half width of a pair when the flank has widened by so many stitches.
    pub(crate) fn half_width_cm(&self, net: usize) -> f64 {
        self.stitch_cm * (f64::from(self.crown) / 2.0 + net as f64)
    }

    /// Cap edge of a move: the hypotenuse over its widening and one row pair.
    pub(crate) fn move_edge_cm(&self, m: Move) -> f64 {
        let x = self.stitch_cm * m.widens().as_f64();
        let y = 2.0 * self.row_cm;
        (x * x + y * y).sqrt()
    }
}

/// What every move costs at every pick-up: its edge, its decreases, and being a run of its own.
#[derive(Clone, Debug)]
pub(crate) struct EdgeCosts {
    pub(crate) moves: Vec<Move>,
    /// Stitches every move widens by.
    pub(crate) widens: Vec<usize>,
    /// Stitches every move decreases.
    pub(crate) drops: Vec<usize>,
    /// `steps[m * (picked_up + 1) + p]`, infinite where the stitches run out.
    steps: Vec<f64>,
    picked_up: usize,
    /// What a decrease costs besides, for every pair above the last.
    high: f64,
    pairs: usize,
    /// Cost of the zones.
    pub(crate) constant: f64,
    /// Cost of a run of one move.
    pub(crate) lone: f64,
    /// As in the frame.
    pub(crate) chain: bool,
}

impl EdgeCosts {
    /// `pickups` are those of the flanks that these moves are worked on: one, or a front and a
    /// back of as many stitches that are worked alike. `share` is 1 for flanks that are alike (one
    /// stands for both), a half for one of two.
    pub(crate) fn new(frame: &Frame, pickups: &[Pickup<'_>], share: f64) -> Self {
        let pairs = frame.turn_pairs() as f64;
        let picked_up = pickups.first().map_or(0, |p| p.stitches.count() as usize);
        let mut steps = vec![0.0; frame.moves.len() * (picked_up + 1)];
        for pickup in pickups {
            let own = step_costs(frame, pickup, share / pickups.len() as f64);
            steps
                .iter_mut()
                .zip(own)
                .for_each(|(sum, cost)| *sum += cost);
        }
        Self {
            widens: (frame.moves.iter())
                .map(|m| m.widens().count() as usize)
                .collect(),
            drops: frame.moves.iter().map(|m| m.drop as usize).collect(),
            moves: frame.moves.clone(),
            steps,
            picked_up,
            high: share * WEIGHTS.high_decrease / (pairs * pairs),
            pairs: frame.turn_pairs(),
            constant: share * zones_cost(pickups),
            lone: share * WEIGHTS.lone_move,
            chain: frame.chain,
        }
    }

    /// Widths alone: moves that widen alike are one here, so that a sequence never has more runs,
    /// nor more of a single move, than the one it stands for. A bound for every pick-up plan.
    pub(crate) fn none(frame: &Frame) -> Self {
        let widens = frame.moves.iter().map(|m| m.widens().count());
        let widens: Vec<u32> = if frame.chain {
            widens.collect()
        } else {
            widens.collect::<BTreeSet<u32>>().into_iter().collect()
        };
        let moves: Vec<Move> = widens.into_iter().map(|take| Move::new(take, 0)).collect();
        let taken: u32 = moves.iter().map(|m| m.take).max().unwrap_or(0);
        let most = taken as usize * frame.turn_pairs();
        Self {
            widens: moves.iter().map(|m| m.take as usize).collect(),
            drops: vec![0; moves.len()],
            steps: vec![0.0; moves.len() * (most + 1)],
            picked_up: most,
            high: 0.0,
            pairs: frame.turn_pairs(),
            constant: 0.0,
            // Neighbouring runs of a chain may widen alike and be one run to the eye of the widths.
            lone: if frame.chain { 0.0 } else { WEIGHTS.lone_move },
            chain: frame.chain,
            moves,
        }
    }

    /// Costs that are nowhere above those of several plans with as many stitches: a bound for all.
    pub(crate) fn lowest(plans: &[&Self]) -> Option<Self> {
        plans.iter().fold(None, |lowest: Option<Self>, plan| {
            let Some(mut lowest) = lowest else {
                return Some((*plan).clone());
            };
            let steps = lowest.steps.iter_mut().zip(&plan.steps);
            steps.for_each(|(least, step)| *least = least.min(*step));
            lowest.constant = lowest.constant.min(plan.constant);
            Some(lowest)
        })
    }

    /// What a whole flank's edges, decreases and zones cost at the least when so many stitches are
    /// taken in after a pair, whatever its widths.
    pub(crate) fn through(&self) -> Through {
        let row = self.picked_up + 1;
        let mut table = vec![f64::INFINITY; self.pairs * row];
        let mut to_end = table.clone();
        table[0] = self.constant;
        for pair in 2..=self.pairs {
            let (above, here) = table.split_at_mut((pair - 1) * row);
            let above = &above[(pair - 2) * row..];
            self.each_move(pair, |take, high, steps| {
                let here = here.get_mut(take..row).unwrap_or(&mut []);
                for ((least, step), before) in here.iter_mut().zip(steps).zip(above) {
                    *least = least.min(step + high + before);
                }
            });
        }
        to_end[self.pairs * row - 1] = 0.0;
        for pair in (2..=self.pairs).rev() {
            let (here, after) = to_end.split_at_mut((pair - 1) * row);
            let here = &mut here[(pair - 2) * row..];
            self.each_move(pair, |take, high, steps| {
                let after = after.get(take..row).unwrap_or(&[]);
                for ((least, step), rest) in here.iter_mut().zip(steps).zip(after) {
                    *least = least.min(step + high + rest);
                }
            });
        }
        table
            .iter_mut()
            .zip(to_end)
            .for_each(|(sum, rest)| *sum += rest);
        Through {
            least: table[0],
            table,
            row,
        }
    }

    /// For every move worked at this pair: the stitches it takes, what a decrease costs besides, and
    /// its costs by the stitches taken in before it.
    fn each_move(&self, pair: usize, mut each: impl FnMut(usize, f64, &[f64])) {
        let row = self.picked_up + 1;
        for (m, mv) in self.moves.iter().enumerate() {
            let high = self.high * (self.drops[m] * (self.pairs - pair)) as f64;
            each(mv.take as usize, high, &self.steps[m * row..(m + 1) * row]);
        }
    }

    /// Cost of the `m`-th move, worked at a pair (from 2), when `p` stitches are taken in before it.
    pub(crate) fn at(&self, m: usize, pair: usize, p: usize) -> f64 {
        let high = self.high * (self.drops[m] * (self.pairs - pair)) as f64;
        self.steps[m * (self.picked_up + 1) + p] + high
    }
}

/// Least costs of a flank's edges through every state (pair, stitches taken in).
#[derive(Debug)]
pub(crate) struct Through {
    table: Vec<f64>,
    row: usize,
    /// Of any flank.
    pub(crate) least: f64,
}

impl Through {
    /// The fewest and the most of `0..=drops` that can come to `net` stitches widened by without the
    /// flank costing more than `most`; (1, 0) where none can.
    pub(crate) fn range(&self, pair: usize, net: usize, drops: usize, most: f64) -> (usize, usize) {
        let from = (pair - 1) * self.row + net;
        let here = self.table.get(from..=from + drops).unwrap_or(&[]);
        let fits = |cost: &f64| cost.is_finite() && *cost <= most;
        let low = here.iter().position(fits);
        low.zip(here.iter().rposition(fits)).unwrap_or((1, 0))
    }
}

fn step_costs(frame: &Frame, pickup: &Pickup<'_>, share: f64) -> Vec<f64> {
    let picked_up = pickup.stitches.count() as usize;
    let wanted_cm = pickup.wanted_by_stitch_cm();
    let pairs = frame.turn_pairs() as f64;
    let mut costs = vec![f64::INFINITY; frame.moves.len() * (picked_up + 1)];
    for (m, mv) in frame.moves.iter().enumerate() {
        let edge_cm = frame.move_edge_cm(*mv);
        let drops = share * WEIGHTS.decrease * f64::from(mv.drop) / pairs;
        let take = mv.take as usize;
        for p in 0..(picked_up + 1).saturating_sub(take) {
            let off_cm = edge_cm - (wanted_cm[p + take] - wanted_cm[p]);
            costs[m * (picked_up + 1) + p] =
                share * WEIGHTS.edge * off_cm * off_cm / (pairs - 1.0) + drops;
        }
    }
    costs
}

fn zones_cost(pickups: &[Pickup<'_>]) -> f64 {
    let zones: usize = (pickups.iter())
        .map(|p| p.zones.len().saturating_sub(1))
        .sum();
    WEIGHTS.zone * zones as f64 / pickups.len().max(1) as f64
}

/// What a plan's zones and its decreases cost whatever its moves: every stitch taken in beyond
/// those that the flank adds is decreased once.
pub(crate) fn certain_cost(frame: &Frame, pickups: &[Pickup<'_>], share: f64, drops: usize) -> f64 {
    let decreases = WEIGHTS.decrease * drops as f64 / frame.turn_pairs() as f64;
    share * (zones_cost(pickups) + decreases)
}
