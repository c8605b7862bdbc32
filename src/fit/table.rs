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
#[derive(Debug)]
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
        }
    }

    /// Widths alone: moves that widen alike are one here, so that a sequence never has more runs,
    /// nor more of a single move, than the one it stands for. A bound for every pick-up plan.
    pub(crate) fn none(frame: &Frame) -> Self {
        let widens: BTreeSet<u32> = frame.moves.iter().map(|m| m.widens().count()).collect();
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
            lone: WEIGHTS.lone_move,
            moves,
        }
    }

    /// Cost of the `m`-th move, worked at a pair (from 2), when `p` stitches are taken in before it.
    pub(crate) fn at(&self, m: usize, pair: usize, p: usize) -> f64 {
        let high = self.high * (self.drops[m] * (self.pairs - pair)) as f64;
        self.steps[m * (self.picked_up + 1) + p] + high
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
