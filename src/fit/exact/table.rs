//! What the rest of a cap costs at the least, for every state a flank can be in.

use std::ops::RangeInclusive;

use super::super::objective::WEIGHTS;
use super::frame::{Frame, Tangents, lesser};

/// The largest number of runs looked at.
pub const MOST_RUNS: usize = 8;

/// Table entries that take as long as one node.
pub(super) const ENTRIES_A_NODE: u64 = 16;

/// Where a flank stands after a pair: stitches added, decreases worked (no more are counted than are
/// needed), the kind of its last move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct FlankState {
    pub(super) pair: usize,
    pub(super) net: usize,
    pub(super) drops: usize,
    pub(super) kind: usize,
}

/// The states of a pair: from so many stitches added up to so many.
#[derive(Clone, Copy, Debug)]
pub(super) struct StateBand {
    from: usize,
    to: usize,
    first: usize,
}

impl StateBand {
    /// The place of a state among all.
    pub(super) fn place(&self, net: usize, drops: usize, each: usize) -> Option<usize> {
        let within = self.from <= net && net <= self.to;
        within.then(|| self.first + (net - self.from) * each + drops)
    }

    /// The place after its last state.
    pub(super) fn end(&self, drops: usize) -> usize {
        self.first + (self.to + 1).saturating_sub(self.from) * drops
    }

    /// Stitches added.
    pub(super) fn nets(&self) -> RangeInclusive<usize> {
        self.from..=self.to
    }
}

/// The exact cost to go of the relaxation, the area's square replaced by its tangent.
///
/// `stay` is the least cost of going on with the same kind of move, `change` that of another, by the
/// runs that may still begin. Every entry is the minimum over all ways to the end (R. Bellman, 1957).
#[derive(Debug)]
pub(super) struct CostTable {
    /// For each pair the stitches added, and the place of its first state.
    bands: Vec<StateBand>,
    nets: usize,
    drops: usize,
    kinds: usize,
    runs: usize,
    chain: bool,
    stay: Vec<f64>,
    change: Vec<f64>,
    /// Where the tangents touch.
    pub(super) touches: Tangents,
}

impl CostTable {
    /// Fills the table of a frame from the last pair up, for caps that cost no more than the limit: a state
    /// whose own width costs more is left out. With a chain the runs are those of the chain.
    pub(super) fn new(frame: &Frame<'_>, touches: Tangents, limit: f64) -> Self {
        let drops = frame.drop_states();
        let bands = bands(frame, limit, drops);
        let states = bands.last().map_or(0, |band| band.end(drops));
        let mut table = Self {
            bands,
            nets: frame.most_net() + 1,
            drops,
            kinds: frame.kinds.len(),
            runs: if frame.chain { 1 } else { MOST_RUNS + 1 },
            chain: frame.chain,
            stay: Vec::new(),
            change: Vec::new(),
            touches,
        };
        table.stay = vec![f64::INFINITY; states * table.kinds * table.runs];
        table.change = vec![f64::INFINITY; states * table.changes()];
        for pair in (1..frame.pairs).rev() {
            table.fill(frame, pair);
        }
        table
    }

    /// Entries made.
    pub(super) fn entries(&self) -> u64 {
        (self.stay.len() + self.change.len()) as u64
    }

    /// Entries of `change` a state has: by the runs left, or in a chain by the kind.
    fn changes(&self) -> usize {
        if self.chain { self.kinds } else { self.runs }
    }

    fn place(&self, pair: usize, net: usize, drops: usize) -> Option<usize> {
        self.bands.get(pair - 1)?.place(net, drops, self.drops)
    }

    fn fill(&mut self, frame: &Frame<'_>, pair: usize) {
        let Some(band) = self.bands.get(pair - 1).copied() else {
            return;
        };
        for net in band.nets() {
            for (i, kind) in frame.kinds.iter().enumerate() {
                let then = net + kind.widens;
                if then < self.nets {
                    let cost = move_cost(frame, self.touches, pair + 1, i, then);
                    for drops in 0..self.drops {
                        self.fill_move(frame, (pair, net, drops), i, cost);
                    }
                }
            }
        }
    }

    /// Where a flank stands so, with a move of this kind next that costs so much.
    fn fill_move(
        &mut self,
        frame: &Frame<'_>,
        (pair, net, drops): (usize, usize, usize),
        i: usize,
        cost: f64,
    ) {
        let kind = &frame.kinds[i];
        let here = self.place(pair, net, drops);
        let Some((here, drops)) = here.zip(frame.drops_after(drops, kind.moved)) else {
            return;
        };
        let last = pair + 1 == frame.pairs;
        let state = FlankState {
            pair: pair + 1,
            net: net + kind.widens,
            drops,
            kind: i,
        };
        for runs in 0..self.runs {
            let (rest, alone) = if last {
                let end = self.end(frame, state);
                (end, end + WEIGHTS.lone_move)
            } else {
                (self.to_go(state, runs), self.to_go_alone(state, runs))
            };
            let stay = (here * self.kinds + i) * self.runs + runs;
            self.stay[stay] = cost + rest;
            let begun = cost + alone;
            if self.chain {
                if i > 0 {
                    let place = here * self.kinds + i - 1;
                    self.change[place] = begun;
                } else if pair == 1 {
                    // The first run of a chain begins the flank.
                    let place = here * self.kinds + self.kinds - 1;
                    self.change[place] = begun;
                }
            } else if runs + 1 < self.runs {
                let place = here * self.runs + runs + 1;
                self.change[place] = lesser(self.change[place], begun);
            }
        }
    }

    /// What a flank that is done costs.
    fn end(&self, frame: &Frame<'_>, state: FlankState) -> f64 {
        let done = !self.chain || state.kind + 1 == self.kinds;
        if done {
            frame.end_cost(state.net, state.drops)
        } else {
            f64::INFINITY
        }
    }

    /// Least cost of going on with the same kind of move.
    pub(super) fn stay(&self, state: FlankState, runs: usize) -> f64 {
        let runs = if self.chain { 0 } else { runs };
        let place = self.place(state.pair, state.net, state.drops);
        let stay = place.and_then(|place| {
            self.stay
                .get((place * self.kinds + state.kind) * self.runs + runs)
        });
        stay.copied().unwrap_or(f64::INFINITY)
    }

    /// Least cost of beginning another run.
    pub(super) fn change(&self, state: FlankState, runs: usize) -> f64 {
        let Some(place) = self.place(state.pair, state.net, state.drops) else {
            return f64::INFINITY;
        };
        let place = match (self.chain, state.kind + 1 == self.kinds) {
            (true, true) => return f64::INFINITY,
            (true, false) => place * self.kinds + state.kind,
            (false, _) => place * self.runs + runs,
        };
        self.change.get(place).copied().unwrap_or(f64::INFINITY)
    }

    /// Least cost of what comes after a state whose last run has one move so far, or more.
    pub(super) fn after(
        &self,
        frame: &Frame<'_>,
        state: FlankState,
        runs: usize,
        alone: bool,
    ) -> f64 {
        if state.pair == frame.pairs {
            let lone = if alone { WEIGHTS.lone_move } else { 0.0 };
            return self.end(frame, state) + lone;
        }
        if alone {
            self.to_go_alone(state, runs)
        } else {
            self.to_go(state, runs)
        }
    }

    /// What the beginnings that come to each state cost at the least; for a table without a chain.
    pub(super) fn so_far(&self, frame: &Frame<'_>) -> Vec<f64> {
        let states = self.bands.last().map_or(0, |band| band.end(self.drops));
        let mut so_far = vec![f64::INFINITY; states];
        if let Some(first) = so_far.first_mut() {
            *first = self.begins(frame);
        }
        for (i, band) in self.bands.iter().enumerate() {
            for (net, drops) in band
                .nets()
                .flat_map(|net| (0..self.drops).map(move |d| (net, d)))
            {
                let here = band.place(net, drops, self.drops);
                let Some(here) = here.and_then(|here| so_far.get(here).copied()) else {
                    continue;
                };
                for (kind, moved) in frame.kinds.iter().enumerate() {
                    let net = net + moved.widens;
                    let after = frame.drops_after(drops, moved.moved);
                    let then = after.and_then(|drops| self.place(i + 2, net, drops));
                    if let Some(then) = then.and_then(|then| so_far.get_mut(then)) {
                        let cost = here + move_cost(frame, self.touches, i + 2, kind, net);
                        *then = lesser(*then, cost);
                    }
                }
            }
        }
        so_far
    }

    /// Area error and ease of the moves that the bound at the root belongs to.
    pub(super) fn measured(&self, frame: &Frame<'_>, runs: usize) -> Option<Tangents> {
        let (mut area_cm2, mut edge_cm) = (frame.first_area_cm2(), 0.0);
        let (mut runs, mut alone) = (runs, true);
        let mut state: Option<FlankState> = None;
        for pair in 2..=frame.pairs {
            let step = |kind: usize| {
                let begins = state.is_none_or(|state| state.kind != kind);
                let allowed = match state {
                    None => !self.chain || kind == 0,
                    Some(state) if self.chain => kind == state.kind || kind == state.kind + 1,
                    Some(_) => !begins || runs > 0,
                };
                let moved = frame.kinds.get(kind)?;
                let net = state.map_or(0, |state| state.net) + moved.widens;
                if !allowed || net >= self.nets {
                    return None;
                }
                let next = FlankState {
                    pair,
                    net,
                    drops: frame.drops_after(state.map_or(0, |state| state.drops), moved.moved)?,
                    kind,
                };
                let left = if begins && !self.chain {
                    runs - 1
                } else {
                    runs
                };
                let lone = if begins && alone && state.is_some() {
                    WEIGHTS.lone_move
                } else {
                    0.0
                };
                let cost = move_cost(frame, self.touches, pair, kind, net)
                    + lone
                    + self.after(frame, next, left, begins);
                Some((cost, next, left, begins))
            };
            let best = (0..self.kinds)
                .filter_map(step)
                .min_by(|a, b| a.0.total_cmp(&b.0))?;
            if best.0.is_infinite() {
                return None;
            }
            let here_cm = frame.kinds.get(best.1.kind)?.edge_cm;
            area_cm2 += frame.area_cm2(best.1.net, here_cm);
            edge_cm += here_cm;
            (state, runs, alone) = (Some(best.1), best.2, best.3);
        }
        Some(Tangents {
            area: area_cm2 / frame.old_area_cm2 - 1.0,
            ease_cm: frame.ease_cm(edge_cm),
            range: frame.range,
        })
    }

    fn to_go(&self, state: FlankState, runs: usize) -> f64 {
        lesser(self.stay(state, runs), self.change(state, runs))
    }

    fn to_go_alone(&self, state: FlankState, runs: usize) -> f64 {
        let another = self.change(state, runs) + WEIGHTS.lone_move;
        lesser(self.stay(state, runs), another)
    }

    /// What a cap of the frame with so many runs costs at the least.
    pub(super) fn root(&self, frame: &Frame<'_>, runs: usize) -> f64 {
        let begun = if self.chain {
            self.kinds - 1
        } else {
            runs.min(MOST_RUNS)
        };
        // The first pair has one state, the first of all.
        let begun = self.change.get(begun).copied().unwrap_or(f64::INFINITY);
        begun + self.begins(frame)
    }

    /// What every cap of the frame costs under the tangent before its first move.
    pub(super) fn begins(&self, frame: &Frame<'_>) -> f64 {
        frame.fixed + self.touches.begins_of(frame)
    }
}

/// What the caps that make a move from a state cost at the least: what costs too much needs no dearer bound.
#[derive(Debug)]
pub(super) struct Through {
    table: CostTable,
    so_far: Vec<f64>,
}

impl Through {
    pub(super) fn new(frame: &Frame<'_>, table: CostTable) -> Self {
        let so_far = table.so_far(frame);
        Self { table, so_far }
    }

    pub(super) const fn table(&self) -> &CostTable {
        &self.table
    }

    /// The least of all beginnings that come to these stitches and decreases after a pair.
    pub(super) fn so_far(&self, pair: usize, net: usize, drops: usize) -> f64 {
        let here = self.table.place(pair, net, drops);
        let so_far = here.and_then(|here| self.so_far.get(here).copied());
        so_far.unwrap_or(f64::INFINITY)
    }

    /// What comes after a state at the least.
    pub(super) fn to_come(&self, frame: &Frame<'_>, state: FlankState, runs: usize) -> f64 {
        self.table.after(frame, state, runs, false)
    }
}

/// What is too narrow to reach an end with the steepest moves, or costs more than the limit by its own
/// width, is no state.
pub(super) fn bands(frame: &Frame<'_>, limit: f64, drops: usize) -> Vec<StateBand> {
    let least = frame.choice.ends.iter().map(|end| end.0 as usize).min();
    let (least, steepest) = (least.unwrap_or(0), frame.steepest());
    let mut first = 0;
    (1..frame.pairs)
        .map(|pair| {
            let from = least.saturating_sub(steepest * (frame.pairs - pair));
            let to = frame.most_net().min(steepest * (pair - 1));
            let near = |net: &usize| pair == 1 || frame.least_width_cost(pair, *net) <= limit;
            // The cost is convex in the width: what is near lies together.
            let low = (from..=to).find(near).unwrap_or(1);
            let high = (from..=to).rev().find(near).unwrap_or(0);
            let band = StateBand {
                from: low,
                to: high,
                first,
            };
            first = band.end(drops);
            band
        })
        .collect()
}

/// What a move of this kind costs when the flank has added `net` stitches with it at this pair.
pub(super) fn move_cost(
    frame: &Frame<'_>,
    touches: Tangents,
    pair: usize,
    kind: usize,
    net: usize,
) -> f64 {
    let state = FlankState {
        pair,
        net,
        drops: 0,
        kind,
    };
    frame.kinds[kind].strain + shaping_cost(frame, touches, state)
}

/// What the last move of a state costs but for its strain.
pub(super) fn shaping_cost(frame: &Frame<'_>, touches: Tangents, state: FlankState) -> f64 {
    let FlankState { pair, net, .. } = state;
    let kind = &frame.kinds[state.kind];
    let area = frame.area_cm2(net, kind.edge_cm) / frame.old_area_cm2;
    frame.width_cost(pair, net, kind.edge_cm)
        + frame.decrease_cost(pair, kind.moved.drop)
        + touches.area_price() * area
        + touches.edge_price() * kind.edge_cm
}
