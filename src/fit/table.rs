//! One flank with one pick-up plan: its costs, and the least cost from every state to the end.
//!
//! A state is (turn pair, stitches the flank has widened by, decreases so far); the stitches
//! picked up so far are their sum. The recursion is Bellman's (R. Bellman, Dynamic Programming,
//! 1957): exact for a sum of costs that each depend on one state and one move.

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

    /// Relative area error of a flank whose net widths add up to `sum` stitches.
    pub(crate) fn area_error(&self, sum: usize, sides: f64) -> f64 {
        let pairs = self.turn_pairs() as f64;
        let widths = self.stitch_cm * (f64::from(self.crown) / 2.0 * pairs + sum as f64);
        let targets: f64 = self.targets_cm.iter().sum();
        sides * (widths - targets) * 2.0 * self.row_cm / self.old_area_cm2
    }
}

/// What every width of a flank costs at every pair, its share of the area priced.
#[derive(Debug)]
pub(crate) struct WidthCosts {
    pub(crate) pairs: usize,
    pub(crate) net: usize,
    costs: Vec<f64>,
}

impl WidthCosts {
    /// `sides` is 2 for flanks that are alike (and then stand for both), 1 for one of two.
    /// `multiplier` prices the relative area error. A width whose own square costs more than
    /// `limit` cannot be part of a cap below it, for every other term adds to it: infinite.
    pub(crate) fn new(frame: &Frame, net: usize, sides: f64, multiplier: f64, limit: f64) -> Self {
        let pairs = frame.turn_pairs();
        let area_per_cm = sides * 2.0 * frame.row_cm / frame.old_area_cm2;
        let mut costs = Vec::with_capacity(pairs * (net + 1));
        for target_cm in &frame.targets_cm {
            for w in 0..=net {
                let off_cm = frame.half_width_cm(w) - target_cm;
                let square = sides / 2.0 * off_cm * off_cm / pairs as f64;
                let inside = square <= limit;
                let priced = square + multiplier * area_per_cm * off_cm;
                costs.push(if inside { priced } else { f64::INFINITY });
            }
        }
        Self { pairs, net, costs }
    }

    /// Cost of pair `pair` (from 1) when the flank has widened by `w` stitches.
    pub(crate) fn at(&self, pair: usize, w: usize) -> f64 {
        self.costs[(pair - 1) * (self.net + 1) + w]
    }
}

/// What every move costs at every pick-up: its edge and its decreases.
#[derive(Debug)]
pub(crate) struct EdgeCosts {
    pub(crate) pairs: usize,
    pub(crate) picked_up: usize,
    pub(crate) moves: Vec<Move>,
    /// `steps[m * (picked_up + 1) + p]`, infinite where the stitches run out.
    steps: Vec<f64>,
    /// Cost of the zones.
    pub(crate) constant: f64,
}

impl EdgeCosts {
    /// `pickups` are those of the flanks that these moves are worked on: one, or a front and a
    /// back of as many stitches that are worked alike.
    pub(crate) fn new(frame: &Frame, pickups: &[Pickup], sides: f64) -> Self {
        let share = sides / 2.0 / pickups.len() as f64;
        let zones: usize = pickups
            .iter()
            .map(|p| p.zones.len().saturating_sub(1))
            .sum();
        let picked_up = pickups.first().map_or(0, |p| p.stitches.count() as usize);
        let mut steps = vec![0.0; frame.moves.len() * (picked_up + 1)];
        for pickup in pickups {
            let own = step_costs(frame, pickup, share);
            steps
                .iter_mut()
                .zip(own)
                .for_each(|(sum, cost)| *sum += cost);
        }
        Self {
            pairs: frame.turn_pairs(),
            picked_up,
            moves: frame.moves.clone(),
            steps,
            constant: share * WEIGHTS.zone * zones as f64,
        }
    }

    /// Cost of the `m`-th move when `p` stitches are taken in before it.
    pub(crate) fn at(&self, m: usize, p: usize) -> f64 {
        self.steps[m * (self.picked_up + 1) + p]
    }
}

fn step_costs(frame: &Frame, pickup: &Pickup, share: f64) -> Vec<f64> {
    let picked_up = pickup.stitches.count() as usize;
    let pairs = frame.turn_pairs() as f64;
    let mut costs = vec![f64::INFINITY; frame.moves.len() * (picked_up + 1)];
    for (m, mv) in frame.moves.iter().enumerate() {
        let edge_cm = frame.move_edge_cm(*mv);
        let drops = share * WEIGHTS.decrease * f64::from(mv.drop) / pairs;
        let take = mv.take as usize;
        for p in 0..(picked_up + 1).saturating_sub(take) {
            let wanted_cm = pickup.wanted_cm[p + take] - pickup.wanted_cm[p];
            let off_cm = edge_cm - wanted_cm;
            costs[m * (picked_up + 1) + p] =
                share * WEIGHTS.edge * off_cm * off_cm / (pairs - 1.0) + drops;
        }
    }
    costs
}

/// What a plan's zones and its decreases cost whatever its moves: every stitch taken in beyond
/// those that the flank adds is decreased once.
pub(crate) fn certain_cost(frame: &Frame, pickups: &[Pickup], sides: f64, drops: usize) -> f64 {
    let zones: usize = pickups
        .iter()
        .map(|p| p.zones.len().saturating_sub(1))
        .sum();
    let zones = WEIGHTS.zone * zones as f64 / pickups.len().max(1) as f64;
    sides / 2.0 * (zones + WEIGHTS.decrease * drops as f64 / frame.turn_pairs() as f64)
}

/// Least cost of edges and decreases to the end of a flank, when widths cost nothing.
#[derive(Debug)]
pub(crate) struct EdgeToGo {
    /// `table[pair * (picked_up + 1) + p]`: from a pair after which `p` stitches are taken in.
    table: Vec<f64>,
    picked_up: usize,
    /// Least cost of the whole flank, its zones included.
    pub(crate) whole: f64,
}

impl EdgeToGo {
    pub(crate) fn new(costs: &EdgeCosts) -> Self {
        let row = costs.picked_up + 1;
        let mut table = vec![f64::INFINITY; (costs.pairs + 1) * row];
        table[costs.pairs * row + costs.picked_up] = 0.0;
        for pair in (1..costs.pairs).rev() {
            let (above, below) = table.split_at_mut((pair + 1) * row);
            let here = &mut above[pair * row..];
            for (m, mv) in costs.moves.iter().enumerate() {
                let after = below.get(mv.take as usize..row).unwrap_or(&[]);
                let steps = &costs.steps[m * row..(m + 1) * row];
                for ((least, step), rest) in here.iter_mut().zip(steps).zip(after) {
                    let cost = step + rest;
                    *least = if cost < *least { cost } else { *least };
                }
            }
        }
        Self {
            whole: costs.constant + table[row],
            picked_up: costs.picked_up,
            table,
        }
    }

    pub(crate) fn rest(&self, pair: usize, picked_up: usize) -> f64 {
        self.table[pair * (self.picked_up + 1) + picked_up]
    }
}

/// Least cost of widths to the end, for every number of changes of move that are left, when
/// picking up and edges cost nothing.
#[derive(Debug)]
pub(crate) struct WidthToGo {
    /// Widenings that a move can have, in order.
    widenings: Vec<usize>,
    /// `table[((changes * (pairs + 1) + pair) * (net + 1) + w) * widenings + k]`: when the last
    /// move widened by the `k`-th widening.
    table: Vec<f64>,
    pairs: usize,
    net: usize,
    /// Least cost with at most 1, 2, ... runs.
    pub(crate) roots: Vec<f64>,
}

impl WidthToGo {
    /// Moves that widen alike are one here, so a sequence never has more runs than the one it
    /// stands for: a lower bound for every pick-up plan.
    pub(crate) fn new(costs: &WidthCosts, moves: &[Move], runs: usize) -> Self {
        let widenings: BTreeSet<usize> =
            moves.iter().map(|m| m.widens().count() as usize).collect();
        let widenings: Vec<usize> = widenings.into_iter().collect();
        let (pairs, net) = (costs.pairs, costs.net);
        let size = runs * (pairs + 1) * (net + 1) * widenings.len();
        let mut to_go = Self {
            table: vec![f64::INFINITY; size],
            widenings,
            pairs,
            net,
            roots: Vec::new(),
        };
        for changes in 0..runs {
            for k in 0..to_go.widenings.len() {
                let end = to_go.at(changes, pairs, net, k);
                to_go.table[end] = 0.0;
            }
        }
        let widest = to_go.widenings.last().copied().unwrap_or(0);
        for pair in (2..pairs).rev() {
            let low = net.saturating_sub(widest * (pairs - pair));
            for w in low..=net.min(widest * (pair - 1)) {
                if costs.at(pair, w).is_finite() {
                    to_go.fill(costs, runs, pair, w);
                }
            }
        }
        to_go.roots = (0..runs)
            .map(|changes| costs.at(1, 0) + to_go.after_switch(costs, changes, 1, 0))
            .collect();
        to_go
    }

    fn at(&self, changes: usize, pair: usize, w: usize, k: usize) -> usize {
        ((changes * (self.pairs + 1) + pair) * (self.net + 1) + w) * self.widenings.len() + k
    }

    /// Place of a widening in the order.
    pub(crate) fn class(&self, m: Move) -> usize {
        let widens = m.widens().count() as usize;
        self.widenings.partition_point(|w| *w < widens)
    }

    /// Least cost from a pair of this width, when the last move was of this class.
    pub(crate) fn rest(&self, changes: usize, pair: usize, w: usize, class: usize) -> f64 {
        self.table[self.at(changes, pair, w, class)]
    }

    fn after(&self, costs: &WidthCosts, changes: usize, pair: usize, w: usize, k: usize) -> f64 {
        let next = w + self.widenings[k];
        if next > self.net {
            return f64::INFINITY;
        }
        costs.at(pair + 1, next) + self.rest(changes, pair + 1, next, k)
    }

    fn after_switch(&self, costs: &WidthCosts, changes: usize, pair: usize, w: usize) -> f64 {
        let options = (0..self.widenings.len()).map(|k| self.after(costs, changes, pair, w, k));
        options.fold(f64::INFINITY, f64::min)
    }

    fn fill(&mut self, costs: &WidthCosts, runs: usize, pair: usize, w: usize) {
        let mut switch = f64::INFINITY;
        for changes in 0..runs {
            let mut best = f64::INFINITY;
            for k in 0..self.widenings.len() {
                let stay = self.after(costs, changes, pair, w, k);
                best = best.min(stay);
                let at = self.at(changes, pair, w, k);
                self.table[at] = stay.min(switch);
            }
            switch = best;
        }
    }

    /// Net stitches of all pairs added up, along the cheapest sequence with at most `runs` runs.
    pub(crate) fn cheapest_sum(&self, costs: &WidthCosts, runs: usize) -> Option<usize> {
        if !self.roots[runs - 1].is_finite() {
            return None;
        }
        let (mut w, mut last, mut changes, mut sum) = (0, None, runs - 1, 0);
        for pair in 1..self.pairs {
            let options = (0..self.widenings.len()).filter_map(|k| {
                let stays = last.is_none_or(|last| last == k);
                let left = if stays {
                    changes
                } else {
                    changes.checked_sub(1)?
                };
                Some((self.after(costs, left, pair, w, k), k, left))
            });
            let (_, k, left) = options.min_by(|a, b| a.0.total_cmp(&b.0))?;
            (w, last, changes) = (w + self.widenings[k], Some(k), left);
            sum += w;
        }
        Some(sum)
    }
}

/// For every number of decreases, the fewest runs of moves that add `net` stitches in `pairs - 1`
/// moves; `usize::MAX` where no sequence does.
pub(crate) fn fewest_runs(moves: &[Move], pairs: usize, net: usize, most: usize) -> Vec<usize> {
    let row = most + 1;
    let mut ends = vec![vec![u8::MAX; (net + 1) * row]; moves.len()];
    let mut any = vec![u8::MAX; (net + 1) * row];
    any[0] = 0;
    for _ in 1..pairs {
        ends = moves
            .iter()
            .zip(&ends)
            .map(|(m, same)| one_move_more(*m, same, &any, row))
            .collect();
        any.fill(u8::MAX);
        for last in &ends {
            for (least, runs) in any.iter_mut().zip(last) {
                *least = (*least).min(*runs);
            }
        }
    }
    let fewest = any.get(net * row..).unwrap_or(&[]);
    let known = |runs: &u8| {
        if *runs == u8::MAX {
            usize::MAX
        } else {
            usize::from(*runs)
        }
    };
    fewest.iter().map(known).collect()
}

/// Runs after one more move, from those after the same move and after any.
fn one_move_more(m: Move, same: &[u8], any: &[u8], row: usize) -> Vec<u8> {
    let (widens, drop) = (m.widens().count() as usize, m.drop as usize);
    let mut after = vec![u8::MAX; same.len()];
    let Some(fits) = row.checked_sub(drop) else {
        return after;
    };
    let (from, to) = (
        any.chunks_exact(row),
        after.chunks_exact_mut(row).skip(widens),
    );
    for ((any, same), after) in from.zip(same.chunks_exact(row)).zip(to) {
        let before = any.iter().zip(same).take(fits);
        for ((any, same), after) in before.zip(after.iter_mut().skip(drop)) {
            *after = (*same).min(any.saturating_add(1));
        }
    }
    after
}
