//! One flank with one pick-up plan: the least cost from every state to its end, for every number of
//! changes of move at once.
//!
//! A state is (turn pair, stitches widened by, decreases so far, last move, whether that move was its
//! run's first, changes left); the stitches taken in are the widening and the decreases added up.
//! The recursion is Bellman's (R. Bellman, Dynamic Programming, 1957): exact for a sum of costs that
//! each depend on one state and one move. Widths outside the band cannot be part of a cap below the
//! limit that the band was made for.

use super::plan::Move;
use super::table::EdgeCosts;
use super::widths::{Band, Widths};

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

    /// Least cost of the flank whatever its runs, widths within the band: of widths and edges
    /// together, and of the edges alone.
    pub(crate) fn least(&self, band: &Band) -> Least {
        let layers = Layers::new(band, self.drops, self.widths.pairs);
        let mut after = vec![Least::default()];
        for pair in (1..self.widths.pairs).rev() {
            let (low, high) = band.at(pair);
            let mut here = vec![Least::NONE; layers.cells(pair)];
            let cells = (low..=high).flat_map(|w| (0..=self.drops).map(move |d| (w, d)));
            for ((w, d), least) in cells.zip(&mut here) {
                for m in 0..self.edges.moves.len() {
                    let next = self.after(m, w, d);
                    let next = next.and_then(|(w, d)| layers.within(pair + 1, w, d));
                    let Some(rest) = next.and_then(|next| after.get(next)) else {
                        continue;
                    };
                    let edge = self.edges.at(m, pair + 1, w + d);
                    let width = self.width(pair + 1, w + self.edges.widens[m]);
                    least.edges = least.edges.min(edge + rest.edges);
                    least.all = least.all.min(edge + width + rest.all);
                }
            }
            after = here;
        }
        let top = after.first().copied().unwrap_or(Least::NONE);
        Least {
            all: self.first() + top.all,
            edges: self.edges.constant + top.edges,
        }
    }
}

/// Least costs of a flank.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Least {
    /// Of widths and edges together.
    pub(crate) all: f64,
    /// Of the edges alone.
    pub(crate) edges: f64,
}

impl Least {
    const NONE: Self = Self {
        all: f64::INFINITY,
        edges: f64::INFINITY,
    };
}

/// Where the states of a pair lie in the table.
#[derive(Clone, Debug)]
struct Layers {
    band: Band,
    drops: usize,
    pairs: usize,
    offsets: Vec<usize>,
}

impl Layers {
    fn new(band: &Band, drops: usize, pairs: usize) -> Self {
        let mut layers = Self {
            band: band.clone(),
            drops,
            pairs,
            offsets: Vec::with_capacity(pairs + 1),
        };
        let mut offset = 0;
        for pair in 1..=pairs {
            layers.offsets.push(offset);
            offset += layers.cells(pair);
        }
        layers.offsets.push(offset);
        layers
    }

    fn cells(&self, pair: usize) -> usize {
        if pair == self.pairs {
            return 1;
        }
        let (low, high) = self.band.at(pair);
        (high - low + 1) * (self.drops + 1)
    }

    /// Place of a state among those of its pair; at the last pair all is done or nothing.
    fn within(&self, pair: usize, w: usize, d: usize) -> Option<usize> {
        let (low, high) = self.band.at(pair);
        if w < low || w > high {
            return None;
        }
        if pair == self.pairs {
            return (d == self.drops).then_some(0);
        }
        Some((w - low) * (self.drops + 1) + d)
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
    pub(crate) multiplier: f64,
}

impl Joint {
    /// For at most `runs` runs.
    pub(crate) fn new(steps: &Steps<'_>, band: &Band, runs: usize) -> Self {
        let layers = Layers::new(band, steps.drops, steps.widths.pairs);
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
            let (low, high) = band.at(pair);
            for w in low..=high {
                for d in 0..=steps.drops {
                    table.fill(steps, pair, w, d);
                }
            }
        }
        table
    }

    fn fill(&mut self, steps: &Steps<'_>, pair: usize, w: usize, d: usize) {
        let Some(cell) = self.layers.cell(pair, w, d) else {
            return;
        };
        let next_offset = self.layers.offsets[pair];
        let last = pair + 1 == self.layers.pairs;
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
        self.first + self.start[runs - 1]
    }

    /// Least cost from a state after this pair to the end; infinite outside the band.
    pub(crate) fn rest(&self, pair: usize, at: State) -> f64 {
        let lone = if at.fresh { self.lone } else { 0.0 };
        let Some(cell) = self.layers.cell(pair, at.net, at.drops) else {
            return f64::INFINITY;
        };
        if pair == self.layers.pairs {
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
        for pair in 1..self.layers.pairs {
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
