//! What both flanks share, and what every move costs along the edge.

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
    /// Cost of the zones and of the decreases, which every sequence of moves has alike.
    pub(crate) constant: f64,
    /// Cost of a run of one move.
    pub(crate) lone: f64,
    /// As in the frame.
    pub(crate) chain: bool,
}

impl EdgeCosts {
    /// `pickups` are those of the flanks that these moves are worked on: one, or a front and a
    /// back of as many stitches that are worked alike. `share` is 1 for flanks that are alike (one
    /// stands for both), a half for one of two. `drops` are the decreases from top to base.
    pub(crate) fn new(frame: &Frame, pickups: &[Pickup<'_>], share: f64, drops: usize) -> Self {
        let picked_up = pickups.first().map_or(0, |p| p.stitches.count() as usize);
        let mut costs = Self::all(frame, share, picked_up, 0.0);
        costs.constant = certain_cost(frame, pickups, share, drops);
        for pickup in pickups {
            let own = step_costs(frame, pickup, share / pickups.len() as f64);
            let sums = costs.steps.iter_mut().zip(own);
            sums.for_each(|(sum, cost)| *sum += cost);
        }
        costs
    }

    /// Costs that are nowhere above those of several plans with as many stitches: a bound for all.
    pub(crate) fn lowest(frame: &Frame, share: f64, plans: &[&Self]) -> Self {
        let picked_up = plans.first().map_or(0, |plan| plan.picked_up);
        let mut lowest = Self::all(frame, share, picked_up, f64::INFINITY);
        for plan in plans {
            let steps = lowest.steps.iter_mut().zip(&plan.steps);
            steps.for_each(|(least, step)| *least = least.min(*step));
            lowest.constant = lowest.constant.min(plan.constant);
        }
        lowest
    }

    /// The same cost for everything that differs between plans.
    fn all(frame: &Frame, share: f64, picked_up: usize, cost: f64) -> Self {
        let pairs = frame.turn_pairs() as f64;
        let widens = frame.moves.iter().map(|m| m.widens().count() as usize);
        Self {
            widens: widens.collect(),
            drops: frame.moves.iter().map(|m| m.drop as usize).collect(),
            moves: frame.moves.clone(),
            steps: vec![cost; frame.moves.len() * (picked_up + 1)],
            picked_up,
            high: share * WEIGHTS.high_decrease / (pairs * pairs),
            pairs: frame.turn_pairs(),
            constant: cost,
            lone: share * WEIGHTS.lone_move,
            chain: frame.chain,
        }
    }

    /// What the edges, decreases and zones of a flank cost at the least down to every pair, by the
    /// stitches taken in after it, whatever its widths.
    pub(crate) fn before(&self) -> EdgesBefore {
        let row = self.picked_up + 1;
        let mut costs = vec![f64::INFINITY; self.pairs * row];
        costs[0] = self.constant;
        for pair in 2..=self.pairs {
            let (above, here) = costs.split_at_mut((pair - 1) * row);
            let above = &above[(pair - 2) * row..];
            self.each_move(pair, |take, high, steps| {
                let here = here.get_mut(take..row).unwrap_or(&mut []);
                for ((least, step), before) in here.iter_mut().zip(steps).zip(above) {
                    *least = least.min(step + high + before);
                }
            });
        }
        EdgesBefore {
            least: costs.last().copied().unwrap_or(f64::INFINITY),
            costs,
            row,
        }
    }

    /// For every move worked at this pair: the stitches it takes, what a decrease costs besides, and
    /// its costs by the stitches taken in before it.
    fn each_move(&self, pair: usize, mut each: impl FnMut(usize, f64, &[f64])) {
        for (m, mv) in self.moves.iter().enumerate() {
            let (high, steps) = self.of_move(m, pair);
            each(mv.take as usize, high, steps);
        }
    }

    /// Cost of the `m`-th move, worked at a pair (from 2), when `p` stitches are taken in before it.
    pub(crate) fn at(&self, m: usize, pair: usize, p: usize) -> f64 {
        let (high, steps) = self.of_move(m, pair);
        steps[p] + high
    }

    /// What a decrease of the `m`-th move costs at a pair besides, and the move's costs by the stitches
    /// taken in before it.
    pub(crate) fn of_move(&self, m: usize, pair: usize) -> (f64, &[f64]) {
        let row = self.picked_up + 1;
        let high = self.high * (self.drops[m] * (self.pairs - pair)) as f64;
        (high, &self.steps[m * row..(m + 1) * row])
    }
}

/// Least costs of a flank's edges down to every pair, by the stitches taken in.
#[derive(Debug)]
pub(crate) struct EdgesBefore {
    costs: Vec<f64>,
    row: usize,
    /// Of whole flanks.
    pub(crate) least: f64,
}

impl EdgesBefore {
    /// What the moves down to a pair cost at the least, by the stitches taken in.
    pub(crate) fn at(&self, pair: usize) -> &[f64] {
        &self.costs[(pair - 1) * self.row..pair * self.row]
    }
}

fn step_costs(frame: &Frame, pickup: &Pickup<'_>, share: f64) -> Vec<f64> {
    let picked_up = pickup.stitches.count() as usize;
    let wanted_cm = pickup.wanted_by_stitch_cm();
    let pairs = frame.turn_pairs() as f64;
    let mut costs = vec![f64::INFINITY; frame.moves.len() * (picked_up + 1)];
    for (m, mv) in frame.moves.iter().enumerate() {
        let edge_cm = frame.move_edge_cm(*mv);
        let take = mv.take as usize;
        for p in 0..(picked_up + 1).saturating_sub(take) {
            let off_cm = edge_cm - (wanted_cm[p + take] - wanted_cm[p]);
            costs[m * (picked_up + 1) + p] = share * WEIGHTS.edge * off_cm * off_cm / (pairs - 1.0);
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
