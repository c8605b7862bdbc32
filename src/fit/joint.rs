//! One flank with one pick-up plan: the least cost from every state to its end, for every number of
//! changes of move at once.
//!
//! A state is (turn pair, stitches widened by, decreases so far, last move, whether that move was its
//! run's first, changes left); the stitches taken in are the widening and the decreases added up.
//! The recursion is Bellman's (R. Bellman, Dynamic Programming, 1957): exact for a sum of costs that
//! each depend on one state and one move. A state is kept only where its cost to the end and the least
//! that any beginning costs (its widths with the runs used, its edges with any) are within a limit:
//! what is left out can be part of no flank below the limit.

use super::best::MOST_RUNS;
use super::run_widths::RunWidths;
use super::sparse::{Block, Slot, Sparse, places};
use super::table::{EdgeCosts, EdgesBefore};
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

    /// Cost of a width at a pair.
    fn width(&self, pair: usize, w: usize) -> f64 {
        self.share * self.widths.at(pair, w, self.multiplier)
    }

    /// Cost of move `m` from pair `pair` when the flank has widened by `w` and decreased `d`.
    pub(crate) fn step(&self, m: usize, pair: usize, w: usize, d: usize) -> f64 {
        let after = w + self.edges.widens[m];
        self.width(pair + 1, after) + self.edges.at(m, pair + 1, w + d)
    }

    /// True when a flank can go on with the `m`-th move and so many changes left.
    fn may_have(&self, m: usize, changes: usize) -> bool {
        !self.edges.chain || changes + m + 1 == MOST_RUNS
    }

    /// What follows: the widening and the decreases after move `m`, if the flank allows them.
    pub(crate) fn after(&self, m: usize, w: usize, d: usize) -> Option<(usize, usize)> {
        let (w, d) = (w + self.edges.widens[m], d + self.edges.drops[m]);
        (w <= self.widths.net && d <= self.drops).then_some((w, d))
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

/// What a table looks for: flanks with at most so many runs whose priced cost is within a limit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits<'a> {
    pub(crate) widths: &'a RunWidths,
    pub(crate) edges: &'a EdgesBefore,
    pub(crate) runs: usize,
    pub(crate) limit: f64,
}

/// The table of one flank, one plan, one multiplier.
#[derive(Debug)]
pub(crate) struct Joint {
    costs: Sparse,
    runs: usize,
    root: f64,
}

impl Joint {
    pub(crate) fn new(steps: &Steps<'_>, limits: &Limits<'_>) -> Self {
        let costs = Maker::new(steps, limits).costs();
        Self {
            root: steps.first() + costs.cost(1, (0, 0), Slot::Start(limits.runs - 1)),
            costs,
            runs: limits.runs,
        }
    }

    /// How many entries the table has.
    pub(crate) fn entries(&self) -> u64 {
        self.costs.entries()
    }

    /// Least cost of the flank; infinite where none is within the limit.
    pub(crate) const fn root(&self) -> f64 {
        self.root
    }

    /// Least cost from a state after this pair to the end; infinite where it is not within the limit.
    fn rest(&self, steps: &Steps<'_>, pair: usize, at: State) -> f64 {
        let lone = if at.fresh { steps.edges.lone } else { 0.0 };
        let here = (at.net, at.drops);
        let stay = self.costs.cost(pair, here, Slot::Stay(at.last, at.changes));
        if pair == steps.widths.pairs {
            return stay + lone;
        }
        match at.changes.checked_sub(1) {
            Some(left) => stay.min(self.costs.cost(pair, here, Slot::Start(left)) + lone),
            None => stay,
        }
    }

    /// Every state that can follow, with the cost of its step and of what follows it at the least.
    pub(crate) fn next<'s>(
        &'s self,
        steps: &'s Steps<'_>,
        pair: usize,
        from: Option<State>,
    ) -> impl Iterator<Item = (State, f64, f64)> + 's {
        let (net, drops) = from.map_or((0, 0), |at| (at.net, at.drops));
        (0..steps.edges.moves.len()).filter_map(move |m| {
            let stays = from.is_some_and(|at| at.last == m);
            let changes = match from {
                None => self.runs - 1,
                Some(at) if stays => at.changes,
                Some(at) => at.changes.checked_sub(1)?,
            };
            if !steps.may_have(m, changes) {
                return None;
            }
            let leaves_alone = from.is_some_and(|at| at.fresh && !stays);
            let (after, drops_after) = steps.after(m, net, drops)?;
            let state = State {
                net: after,
                drops: drops_after,
                last: m,
                fresh: !stays,
                changes,
            };
            let rest = self.rest(steps, pair + 1, state);
            let cost = || {
                steps.step(m, pair, net, drops) + if leaves_alone { steps.edges.lone } else { 0.0 }
            };
            rest.is_finite().then(|| (state, cost(), rest))
        })
    }

    /// A cheapest sequence: its moves by their places in the list.
    pub(crate) fn cheapest(&self, steps: &Steps<'_>) -> Option<Vec<usize>> {
        let (mut at, mut places) = (None, Vec::new());
        for pair in 1..steps.widths.pairs {
            let options = self.next(steps, pair, at);
            let (state, ..) = options.min_by(|a, b| (a.1 + a.2).total_cmp(&(b.1 + b.2)))?;
            places.push(state.last);
            at = Some(state);
        }
        Some(places)
    }
}

/// Makes a table from the last pair up.
struct Maker<'a> {
    steps: &'a Steps<'a>,
    limits: &'a Limits<'a>,
    costs: Sparse,
    /// What every move leads to from the width at hand.
    below: Vec<(Block, Block)>,
    /// Costs of going on, and of a new run by the changes left, while they are added up.
    stay: Vec<f64>,
    start: Vec<f64>,
}

impl<'a> Maker<'a> {
    fn new(steps: &'a Steps<'a>, limits: &'a Limits<'a>) -> Self {
        Self {
            steps,
            limits,
            costs: Sparse::new(
                steps.widths.pairs,
                limits.widths.places(),
                steps.edges.moves.len(),
            ),
            below: Vec::new(),
            stay: Vec::new(),
            start: Vec::new(),
        }
    }

    fn costs(mut self) -> Sparse {
        self.end();
        for pair in (1..self.steps.widths.pairs).rev() {
            let range = self.range(pair);
            self.costs.begin(pair, range.start);
            let before = self.costs.entries();
            for w in range {
                self.costs.next_width(pair);
                self.width(pair, w);
            }
            if self.costs.entries() == before {
                break;
            }
            self.costs.trim(pair);
        }
        self.costs
    }

    /// The widths of a pair that lead to one of the pair below.
    fn range(&self, pair: usize) -> std::ops::Range<usize> {
        let (range, below) = (self.limits.widths.range(pair), self.costs.widths(pair + 1));
        let widens = &self.steps.edges.widens;
        let most = widens.iter().copied().max().unwrap_or(0);
        let least = widens.iter().copied().min().unwrap_or(0);
        let start = range.start.max(below.start.saturating_sub(most));
        start..range.end.min(below.end.saturating_sub(least)).max(start)
    }

    /// The only state after the last pair.
    fn end(&mut self) {
        let (pairs, moves) = (self.steps.widths.pairs, self.steps.edges.moves.len());
        self.costs.begin(pairs, self.steps.widths.net);
        self.costs.next_width(pairs);
        for m in 0..moves {
            for c in (0..MOST_RUNS).filter(|c| self.steps.may_have(m, *c)) {
                if !self.steps.edges.chain || m + 1 == moves {
                    self.costs.push(Slot::Stay(m, c), self.steps.drops, &[0.0]);
                }
            }
        }
    }

    /// Adds the states of a width.
    fn width(&mut self, pair: usize, w: usize) {
        let Some(here) = self.limits.widths.at(pair, w) else {
            return;
        };
        let Some((low, high)) = self.look_below(pair, w) else {
            return;
        };
        let count = high - low;
        refill(&mut self.start, count * MOST_RUNS);
        let mut started = 0;
        for m in 0..self.below.len() {
            let below = self.below[m];
            let alive = below.0.alive | below.1.alive << 1;
            if alive == 0 {
                continue;
            }
            let step = Step::new(self.steps, pair, (w, low), m);
            let before = here.before(m);
            for c in places(alive).filter(|c| self.steps.may_have(m, *c)) {
                if here.before_new[c].is_finite() {
                    started |= 1 << c;
                    self.add_start(&step, (c, count), below);
                }
                if before[c].is_finite() {
                    refill(&mut self.stay, count);
                    self.add_stay(&step, c, below);
                    self.prune(pair, w + low, self.room(before[c]));
                    self.costs.push(Slot::Stay(m, c), low, &self.stay);
                }
            }
        }
        for c in places(started) {
            self.stay.clear();
            let own = c * count..(c + 1) * count;
            self.stay.extend_from_slice(&self.start[own]);
            self.prune(pair, w + low, self.room(here.before_new[c]));
            self.costs.push(Slot::Start(c), low, &self.stay);
        }
    }

    /// Finds what every move leads to, going on with it and a new run after it, and the decreases from
    /// which something follows, the upper end left out.
    fn look_below(&mut self, pair: usize, w: usize) -> Option<(usize, usize)> {
        let (mut low, mut high) = (usize::MAX, 0);
        self.below.clear();
        let edges = self.steps.edges;
        for (m, (widens, drop)) in edges.widens.iter().zip(&edges.drops).enumerate() {
            let (stay, start) = self.costs.blocks(pair + 1, w + widens, m);
            let before = [stay.before(*drop), start.before(*drop)];
            for (first, end) in before.into_iter().flatten() {
                (low, high) = (low.min(first), high.max(end));
            }
            self.below.push((stay, start));
        }
        (low < high).then_some((low, high))
    }

    /// What going on with a move costs, `c` changes left.
    fn add_stay(&mut self, step: &Step<'_>, c: usize, (stay, start): (Block, Block)) {
        step.add(&mut self.stay, 0.0, self.costs.stretch(stay, c));
        if let Some(left) = c.checked_sub(1) {
            step.add(&mut self.stay, 0.0, self.costs.stretch(start, left));
        }
    }

    /// What beginning a run with a move costs, `c` changes left after it.
    fn add_start(
        &mut self,
        step: &Step<'_>,
        (c, count): (usize, usize),
        (stay, start): (Block, Block),
    ) {
        let own = &mut self.start[c * count..(c + 1) * count];
        let lone = self.steps.edges.lone;
        // A run that begins and ends here is a lone move.
        let ends_here = if step.last { lone } else { 0.0 };
        step.add(own, ends_here, self.costs.stretch(stay, c));
        if let Some(left) = c.checked_sub(1) {
            step.add(own, lone, self.costs.stretch(start, left));
        }
    }

    /// What edges and rest may cost together after a beginning whose widths cost so much.
    fn room(&self, before: f64) -> f64 {
        self.limits.limit - self.steps.share * before
    }

    /// Leaves out what no beginning brings within the limit; the first cost is for so many stitches
    /// taken in.
    fn prune(&mut self, pair: usize, first: usize, room: f64) {
        let edges = self.limits.edges.at(pair).get(first..);
        for (cost, edge) in self.stay.iter_mut().zip(edges.unwrap_or(&[])) {
            let within = *cost + edge <= room;
            *cost = if within { *cost } else { f64::INFINITY };
        }
    }
}

fn refill(costs: &mut Vec<f64>, count: usize) {
    costs.clear();
    costs.resize(count, f64::INFINITY);
}

/// A move from one width at one pair.
struct Step<'a> {
    /// Decreases after the move of the first cost.
    low: usize,
    width: f64,
    /// What the move costs along the edge, from the first cost on.
    edges: &'a [f64],
    /// It is the last move.
    last: bool,
}

impl<'a> Step<'a> {
    /// From the states of a width with `low` decreases or more.
    fn new(steps: &'a Steps<'_>, pair: usize, (w, low): (usize, usize), m: usize) -> Self {
        let (high, edges) = steps.edges.of_move(m, pair + 1);
        Self {
            low: low + steps.edges.drops[m],
            width: steps.width(pair + 1, w + steps.edges.widens[m]) + high,
            edges: edges.get(w + low..).unwrap_or(&[]),
            last: pair + 1 == steps.widths.pairs,
        }
    }

    /// Lowers costs to those of the step, of what follows it, and something more.
    fn add(&self, costs: &mut [f64], more: f64, (first, below): (usize, &[f64])) {
        let (skip, below_skip) = (
            first.saturating_sub(self.low),
            self.low.saturating_sub(first),
        );
        let costs = costs.get_mut(skip..).unwrap_or(&mut []);
        let edges = self.edges.get(skip..).unwrap_or(&[]);
        let below = below.get(below_skip..).unwrap_or(&[]);
        for ((cost, edge), below) in costs.iter_mut().zip(edges).zip(below) {
            *cost = cost.min(below + edge + self.width + more);
        }
    }
}
