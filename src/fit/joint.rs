//! One flank with one pick-up plan: the least cost from every state to its end, for every number of
//! changes of move at once.
//!
//! A state is (turn pair, stitches widened by, decreases so far, last move, whether that move was its
//! run's first, changes left); the stitches taken in are the widening and the decreases added up.
//! The recursion is Bellman's (R. Bellman, Dynamic Programming, 1957): exact for a sum of costs that
//! each depend on one state and one move. States that no flank within a budget can pass are left out:
//! the least widths and the least edges through a state together cost more.

use super::best::MOST_RUNS;
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
#[derive(Debug, Default)]
pub(crate) struct Layers {
    /// Narrowest width of every pair, and the strips from there.
    strips: Vec<(usize, Vec<Strip>)>,
    /// Number of states of every pair.
    sizes: Vec<usize>,
    /// First place of every pair in a table that is filled from the base up.
    offsets: Vec<usize>,
}

impl Layers {
    /// `through` are the edges' costs; without them the widths alone decide.
    pub(crate) fn new(steps: &Steps<'_>, through: Option<&Through>, budget: f64) -> Self {
        let mut layers = Self {
            strips: Vec::with_capacity(steps.widths.pairs),
            sizes: Vec::with_capacity(steps.widths.pairs),
            offsets: Vec::new(),
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
            layers.sizes.push(offset);
        }
        let mut place = 0;
        layers.offsets = vec![0; layers.sizes.len()];
        for (offset, size) in layers.offsets.iter_mut().zip(&layers.sizes).rev() {
            *offset = place;
            place += size;
        }
        layers
    }

    fn pairs(&self) -> usize {
        self.strips.len()
    }

    fn cells(&self, pair: usize) -> usize {
        self.sizes[pair - 1]
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

/// A cost for every number of changes left.
type ByChanges = [f64; MOST_RUNS];

const NONE: ByChanges = [f64::INFINITY; MOST_RUNS];

/// The table of one flank, one plan, one multiplier.
#[derive(Debug)]
pub(crate) struct Joint {
    layers: Layers,
    moves: usize,
    /// `stay[cell * moves + m][c]`: going on with move `m`, `c` changes left.
    stay: Vec<ByChanges>,
    /// `start[cell][c]`: a new run, `c` changes left after it.
    start: Vec<ByChanges>,
    first: f64,
    lone: f64,
    multiplier: f64,
    /// The moves are those of the runs, in their order.
    chain: bool,
}

impl Joint {
    pub(crate) fn new(steps: &Steps<'_>, layers: Layers) -> Self {
        let cells: usize = layers.sizes.iter().sum();
        let moves = steps.edges.moves.len();
        let mut table = Self {
            moves,
            stay: Vec::with_capacity(cells * moves),
            start: Vec::with_capacity(cells),
            first: steps.first(),
            lone: steps.edges.lone,
            multiplier: steps.multiplier,
            chain: steps.edges.chain,
            layers: Layers::default(),
        };
        let ends = layers.cells(layers.pairs());
        table.stay.resize(ends * moves, NONE);
        table.start.resize(ends, NONE);
        for pair in (1..layers.pairs()).rev() {
            for (_, w, d) in layers.states(pair) {
                table.push(steps, &layers, pair, (w, d));
            }
        }
        table.layers = layers;
        table
    }

    /// How many entries the table has.
    pub(crate) fn entries(&self) -> u64 {
        self.stay.len() as u64
    }

    /// True where the area was priced so.
    pub(crate) fn serves(&self, multiplier: f64) -> bool {
        (self.multiplier - multiplier).abs() < 1e-12
    }

    /// Adds a state; those of the pair after it are there.
    fn push(&mut self, steps: &Steps<'_>, layers: &Layers, pair: usize, (w, d): (usize, usize)) {
        let last = pair + 1 == layers.pairs();
        let mut start = NONE;
        for m in 0..self.moves {
            let next = steps.after(m, w, d);
            let next = next.and_then(|(w, d)| layers.cell(pair + 1, w, d));
            let Some(next) = next else {
                self.stay.push(NONE);
                continue;
            };
            let step = steps.step(m, pair, w, d);
            let (goes_on, changes) = if last {
                ([0.0; MOST_RUNS], NONE)
            } else {
                let begins = self.start[next];
                let one_less = |c: usize| c.checked_sub(1).map_or(f64::INFINITY, |c| begins[c]);
                (
                    self.stay[next * self.moves + m],
                    std::array::from_fn(one_less),
                )
            };
            // A run that begins and ends here is a lone move.
            let ends_here = if last { self.lone } else { 0.0 };
            let mut stay = NONE;
            for c in 0..MOST_RUNS {
                if self.chain && !(c + m + 1 == MOST_RUNS && (!last || m + 1 == self.moves)) {
                    continue;
                }
                stay[c] = step + goes_on[c].min(changes[c]);
                let begun = (goes_on[c] + ends_here).min(changes[c] + self.lone);
                start[c] = start[c].min(step + begun);
            }
            self.stay.push(stay);
        }
        self.start.push(start);
    }

    /// Least cost of the flank with at most so many runs.
    pub(crate) fn root(&self, runs: usize) -> f64 {
        // The first pair has one state, the crown, or none where nothing fits the budget; it is the
        // last in the table.
        let top = self.layers.cell(1, 0, 0);
        self.first + top.map_or(f64::INFINITY, |top| self.start[top][runs - 1])
    }

    /// Least cost from a state after this pair to the end; infinite outside the band.
    pub(crate) fn rest(&self, pair: usize, at: State) -> f64 {
        if self.chain && !self.follows_chain(pair, at.last, at.changes) {
            return f64::INFINITY;
        }
        let lone = if at.fresh { self.lone } else { 0.0 };
        let Some(cell) = self.layers.cell(pair, at.net, at.drops) else {
            return f64::INFINITY;
        };
        if pair == self.layers.pairs() {
            return lone;
        }
        let stay = self.stay[cell * self.moves + at.last][at.changes];
        match at.changes.checked_sub(1) {
            Some(left) => stay.min(self.start[cell][left] + lone),
            None => stay,
        }
    }

    /// In a chain the moves come in their order, each once: the first with all changes left, the next with
    /// one fewer; the last ends it.
    fn follows_chain(&self, pair: usize, m: usize, changes: usize) -> bool {
        let in_order = changes + m + 1 == MOST_RUNS;
        in_order && (pair < self.layers.pairs() || m + 1 == self.moves)
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
