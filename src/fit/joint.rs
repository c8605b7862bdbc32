//! One flank with one pick-up plan: the least cost from every state to its end, for every number of
//! changes of move at once.
//!
//! A state is (turn pair, stitches widened by, decreases so far, last move, whether that move was its
//! run's first, changes left); the stitches taken in are the widening and the decreases added up.
//! The recursion is Bellman's (R. Bellman, Dynamic Programming, 1957): exact for a sum of costs that
//! each depend on one state and one move. States that no flank within a budget can pass are left out:
//! the least widths and the least edges through a state together cost more.

use super::plan::Move;
use super::table::{EdgeCosts, Through};
use super::widths::Widths;

/// What the steps of a flank cost at one multiplier.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Steps<'a> {
    pub(crate) widths: &'a Widths,
    pub(crate) edges: &'a EdgeCosts,
    /// 1 for flanks that are alike (one stands for both), a half for one of two.
    pub(crate) share: f64,
    pub(crate) multiplier: f64,
    /// Decreases from top to base.
    pub(crate) drops: usize,
}

impl Steps<'_> {
    /// Cost of the first pair and of the zones.
    pub(crate) fn first(&self) -> f64 {
        self.width(1, 0) + self.edges.constant
    }

    /// What the multiplier makes of the area error of widths that add up to `sum` stitches.
    pub(crate) fn price(&self, sum: usize) -> f64 {
        self.share * self.multiplier * self.widths.area_error(sum)
    }

    fn width(&self, pair: usize, w: usize) -> f64 {
        self.share * self.widths.at(pair, w, self.multiplier)
    }

    /// Cost of move `m` from pair `pair` when the flank has widened by `w` and decreased `d`.
    pub(crate) fn step(&self, m: usize, pair: usize, w: usize, d: usize) -> f64 {
        let after = w + self.edges.widens[m];
        self.width(pair + 1, after) + self.edges.at(m, pair + 1, w + d)
    }

    /// What follows: the widening and the decreases after move `m`, if the flank allows them.
    pub(crate) fn after(&self, m: usize, w: usize, d: usize) -> Option<(usize, usize)> {
        let (w, d) = (w + self.edges.widens[m], d + self.edges.drops[m]);
        (w <= self.widths.net && d <= self.drops).then_some((w, d))
    }

    /// Least cost of the flank whatever its runs, if it is within a budget.
    pub(crate) fn least(&self, layers: &Layers) -> f64 {
        let mut after = vec![0.0];
        for pair in (1..self.widths.pairs).rev() {
            let mut here = vec![f64::INFINITY; layers.cells(pair)];
            for (cell, w, d) in layers.states(pair) {
                for m in 0..self.edges.moves.len() {
                    let next = self.after(m, w, d);
                    let next = next.and_then(|(w, d)| layers.within(pair + 1, w, d));
                    if let Some(rest) = next.and_then(|next| after.get(next)) {
                        here[cell] = here[cell].min(self.step(m, pair, w, d) + rest);
                    }
                }
            }
            after = here;
        }
        self.first() + after.first().copied().unwrap_or(f64::INFINITY)
    }
}

/// The states of one width at one pair: decreases from `low` to `high` (none where `low` is above), the
/// first at `offset`.
#[derive(Clone, Copy, Debug)]
struct Strip {
    low: usize,
    high: usize,
    offset: usize,
}

/// The states of every pair that a flank within a budget can pass, and where they lie in a table.
#[derive(Debug)]
pub(crate) struct Layers {
    /// Narrowest width of every pair, and the strips from there.
    strips: Vec<(usize, Vec<Strip>)>,
    /// First place of every pair, and of what would follow the last.
    offsets: Vec<usize>,
}

impl Layers {
    /// `through` are the edges' costs; without them the widths alone decide.
    pub(crate) fn new(steps: &Steps<'_>, through: Option<&Through>, budget: f64) -> Self {
        let mut layers = Self {
            strips: Vec::with_capacity(steps.widths.pairs),
            offsets: vec![0],
        };
        let least_edges = through.map_or(0.0, |through| through.least);
        for pair in 1..=steps.widths.pairs {
            let widths = steps
                .widths
                .range(pair, (budget - least_edges) / steps.share);
            let (mut strips, mut offset) = (Vec::with_capacity(widths.len()), 0);
            for w in widths.clone() {
                let left = budget - steps.share * steps.widths.through(pair, w);
                let (low, high) = match through {
                    Some(through) => through.range(pair, w, steps.drops, left),
                    None => (0, steps.drops),
                };
                strips.push(Strip { low, high, offset });
                offset += (high + 1).saturating_sub(low);
            }
            layers.strips.push((widths.start, strips));
            let last = layers.offsets.last().copied().unwrap_or(0);
            layers.offsets.push(last + offset);
        }
        layers
    }

    fn pairs(&self) -> usize {
        self.strips.len()
    }

    fn cells(&self, pair: usize) -> usize {
        self.offsets[pair] - self.offsets[pair - 1]
    }

    /// Every state of a pair as (place among them, widened by, decreases).
    fn states(&self, pair: usize) -> impl Iterator<Item = (usize, usize, usize)> + '_ {
        let (narrowest, strips) = &self.strips[pair - 1];
        strips.iter().enumerate().flat_map(move |(i, strip)| {
            let drops = strip.low..=strip.high;
            drops.map(move |d| (strip.offset + d - strip.low, narrowest + i, d))
        })
    }

    /// Place of a state among those of its pair.
    fn within(&self, pair: usize, w: usize, d: usize) -> Option<usize> {
        let (narrowest, strips) = &self.strips[pair - 1];
        let strip = strips.get(w.checked_sub(*narrowest)?)?;
        (strip.low <= d && d <= strip.high).then(|| strip.offset + d - strip.low)
    }

    fn cell(&self, pair: usize, w: usize, d: usize) -> Option<usize> {
        Some(self.offsets[pair - 1] + self.within(pair, w, d)?)
    }
}

/// Where a flank stands after a pair.
#[derive(Clone, Copy, Debug)]
pub(crate) struct State {
    /// Stitches widened by.
    pub(crate) net: usize,
    /// Decreases so far.
    pub(crate) drops: usize,
    /// The last move.
    pub(crate) last: usize,
    /// The last move is its run's first.
    pub(crate) fresh: bool,
    /// Changes of move left.
    pub(crate) changes: usize,
}

/// The table of one flank, one plan, one multiplier.
#[derive(Debug)]
pub(crate) struct Joint {
    layers: Layers,
    changes: usize,
    moves: usize,
    /// `stay[(cell * moves + m) * changes + c]`: going on with move `m`, `c` changes left.
    stay: Vec<f64>,
    /// `start[cell * changes + c]`: a new run, `c` changes left after it.
    start: Vec<f64>,
    first: f64,
    lone: f64,
    multiplier: f64,
}

impl Joint {
    /// For at most `runs` runs.
    pub(crate) fn new(steps: &Steps<'_>, layers: Layers, runs: usize) -> Self {
        let cells = layers.offsets.last().copied().unwrap_or(0);
        let moves = steps.edges.moves.len();
        let mut table = Self {
            layers,
            changes: runs,
            moves,
            stay: vec![f64::INFINITY; cells * moves * runs],
            start: vec![f64::INFINITY; cells * runs],
            first: steps.first(),
            lone: steps.edges.lone,
            multiplier: steps.multiplier,
        };
        for pair in (1..steps.widths.pairs).rev() {
            let states: Vec<_> = table.layers.states(pair).collect();
            for (place, w, d) in states {
                table.fill(steps, pair, (place, w, d));
            }
        }
        table
    }

    /// True where a table made for these would be the same or smaller.
    pub(crate) fn serves(&self, multiplier: f64, runs: usize) -> bool {
        (self.multiplier - multiplier).abs() < 1e-12 && runs <= self.changes
    }

    fn fill(&mut self, steps: &Steps<'_>, pair: usize, (place, w, d): (usize, usize, usize)) {
        let cell = self.layers.offsets[pair - 1] + place;
        let next_offset = self.layers.offsets[pair];
        let last = pair + 1 == self.layers.pairs();
        let runs = self.changes;
        // What lies below in the order of pairs lies behind in the table.
        let (stay_here, stay_next) = self.stay.split_at_mut(next_offset * self.moves * runs);
        let (start_here, start_next) = self.start.split_at_mut(next_offset * runs);
        let start = &mut start_here[cell * runs..(cell + 1) * runs];
        for m in 0..self.moves {
            let next = (steps.after(m, w, d)).and_then(|(w, d)| self.layers.within(pair + 1, w, d));
            let Some(next) = next else { continue };
            let step = steps.step(m, pair, w, d);
            let at = (cell * self.moves + m) * runs;
            let stay = &mut stay_here[at..at + runs];
            if last {
                stay.fill(step);
                let alone = step + self.lone;
                start.iter_mut().for_each(|least| *least = least.min(alone));
                continue;
            }
            let at = (next * self.moves + m) * runs;
            let goes_on = &stay_next[at..at + runs];
            let begins = &start_next[next * runs..(next + 1) * runs];
            stay[0] = step + goes_on[0];
            start[0] = start[0].min(stay[0]);
            for c in 1..runs {
                let other = begins[c - 1];
                stay[c] = step + goes_on[c].min(other);
                start[c] = start[c].min(step + goes_on[c].min(other + self.lone));
            }
        }
    }

    /// Least cost of the flank with at most so many runs.
    pub(crate) fn root(&self, runs: usize) -> f64 {
        // The first pair has one state, the crown; it is left out where nothing fits the budget.
        self.first + self.start.get(runs - 1).copied().unwrap_or(f64::INFINITY)
    }

    /// Least cost from a state after this pair to the end; infinite outside the band.
    pub(crate) fn rest(&self, pair: usize, at: State) -> f64 {
        let lone = if at.fresh { self.lone } else { 0.0 };
        let Some(cell) = self.layers.cell(pair, at.net, at.drops) else {
            return f64::INFINITY;
        };
        if pair == self.layers.pairs() {
            return lone;
        }
        let stay = self.stay[(cell * self.moves + at.last) * self.changes + at.changes];
        match at.changes.checked_sub(1) {
            Some(left) => stay.min(self.start[cell * self.changes + left] + lone),
            None => stay,
        }
    }

    /// Every state that can follow, with the cost of its step and of what follows it at the least.
    pub(crate) fn next<'s>(
        &'s self,
        steps: &'s Steps<'_>,
        pair: usize,
        from: Option<State>,
        runs: usize,
    ) -> impl Iterator<Item = (State, f64, f64)> + 's {
        let (net, drops) = from.map_or((0, 0), |at| (at.net, at.drops));
        (0..self.moves).filter_map(move |m| {
            let stays = from.is_some_and(|at| at.last == m);
            let changes = match from {
                None => runs - 1,
                Some(at) if stays => at.changes,
                Some(at) => at.changes.checked_sub(1)?,
            };
            let leaves_alone = from.is_some_and(|at| at.fresh && !stays);
            let cost =
                steps.step_if(m, pair, net, drops)? + if leaves_alone { self.lone } else { 0.0 };
            let (net, drops) = steps.after(m, net, drops)?;
            let state = State {
                net,
                drops,
                last: m,
                fresh: !stays,
                changes,
            };
            let rest = self.rest(pair + 1, state);
            rest.is_finite().then_some((state, cost, rest))
        })
    }

    /// A cheapest sequence with at most `runs` runs, and its net stitches of all pairs added up.
    pub(crate) fn cheapest(&self, steps: &Steps<'_>, runs: usize) -> Option<(Vec<Move>, usize)> {
        let (mut at, mut moves, mut sum) = (None, Vec::new(), 0);
        for pair in 1..self.layers.pairs() {
            let options = self.next(steps, pair, at, runs);
            let (state, ..) = options.min_by(|a, b| (a.1 + a.2).total_cmp(&(b.1 + b.2)))?;
            moves.push(steps.edges.moves[state.last]);
            sum += state.net;
            at = Some(state);
        }
        Some((moves, sum))
    }
}

impl Steps<'_> {
    /// The cost of a step that the flank allows.
    fn step_if(&self, m: usize, pair: usize, w: usize, d: usize) -> Option<f64> {
        self.after(m, w, d)?;
        Some(self.step(m, pair, w, d))
    }
}
