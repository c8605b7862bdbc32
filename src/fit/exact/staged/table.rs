//! What the rest of a cap costs at the least, for every state a flank and its pick-up can be in.

use super::super::super::objective::WEIGHTS;
use super::super::super::pickup::MOST_SECTIONS;
use super::super::frame::{Frame, Tangents, lesser};
use super::super::table::{
    ENTRIES_A_NODE, FlankState, MOST_RUNS, StateBand, Through, bands, shaping_cost,
};
use super::rates::{PARTS, RateTable, SLOPES, STRAIGHT};

/// The least cost of every pick-up that a beginning of moves may have: by sections that may still begin, part of
/// the armhole reached, class of the rate of the section it is in.
pub(super) type Hidden = Vec<f64>;

/// Costs in the vectors that take about as long as one node.
const COSTS_A_NODE: u64 = 160;

/// Where the vector of an entry is that leads to no cap below the limit.
const NOWHERE: u32 = 0;

/// The exact cost to go of the staged relaxation, area and ease replaced by tangents.
///
/// As [`super::super::table::CostTable`], each entry a vector over the hidden states. Most entries lead to no cap below the
/// limit: `stay` and `change` say where the vectors of the others are.
#[derive(Debug)]
pub(super) struct StagedTable {
    bands: Vec<StateBand>,
    drops: usize,
    kinds: usize,
    /// Most runs, and one; one where runs are not counted.
    runs: usize,
    /// Hidden states.
    hidden: usize,
    stay: Vec<u32>,
    change: Vec<u32>,
    /// The vectors one after the other; the first one is infinite.
    vectors: Vec<f64>,
    pub(super) rates: RateTable,
    pub(super) touches: Tangents,
}

impl StagedTable {
    /// Fills the table for caps that cost less than the limit: what those that make a move cost at the least by the
    /// cheaper table is looked at first.
    pub(super) fn new(
        frame: &Frame<'_>,
        rates: RateTable,
        through: &Through,
        runs: Option<usize>,
        limit: f64,
    ) -> Self {
        let drops = frame.drop_states();
        let bands = bands(frame, limit, drops);
        let states = bands.last().map_or(0, |band| band.end(drops));
        let hidden = MOST_SECTIONS * PARTS * rates.classes();
        let counts = runs.map_or(1, |runs| runs + 1);
        let mut table = Self {
            bands,
            drops,
            kinds: frame.kinds.len(),
            runs: counts,
            hidden,
            stay: vec![NOWHERE; states * frame.kinds.len() * counts],
            change: vec![NOWHERE; states * counts],
            vectors: vec![f64::INFINITY; hidden],
            rates,
            touches: through.table().touches,
        };
        for pair in (1..frame.pairs).rev() {
            table.fill(frame, (through, limit), pair);
        }
        table
    }

    /// Runs are counted one by one; not in the table for any number of them, which is a ninth as large.
    const fn counts_runs(&self) -> bool {
        self.runs > 1
    }

    /// Work done, in nodes of the search without stages.
    pub(super) fn work(&self) -> u64 {
        let entries = (self.stay.len() + self.change.len()) as u64;
        entries / ENTRIES_A_NODE + self.vectors.len() as u64 / COSTS_A_NODE
    }

    fn place(&self, pair: usize, net: usize, drops: usize) -> Option<usize> {
        self.bands.get(pair - 1)?.place(net, drops, self.drops)
    }

    fn fill(&mut self, frame: &Frame<'_>, below: (&Through, f64), pair: usize) {
        let Some(band) = self.bands.get(pair - 1).copied() else {
            return;
        };
        for net in band.nets() {
            for drops in 0..self.drops {
                if let Some(here) = self.place(pair, net, drops) {
                    for kind in 0..self.kinds {
                        self.fill_kind(frame, below, here, (pair, net, drops), kind);
                    }
                }
            }
        }
    }

    /// What it costs to make this kind of move next.
    fn fill_kind(
        &mut self,
        frame: &Frame<'_>,
        (through, limit): (&Through, f64),
        here: usize,
        (pair, net, drops): (usize, usize, usize),
        kind: usize,
    ) {
        let moved = &frame.kinds[kind];
        let then = net + moved.widens;
        let after = frame.drops_after(drops, moved.moved);
        let Some(after) = after.filter(|_| then <= frame.most_net()) else {
            return;
        };
        let state = FlankState {
            pair: pair + 1,
            net: then,
            drops: after,
            kind,
        };
        let cost = shaping_cost(frame, self.touches, state);
        // The cheaper table has the same tangents.
        let so_far = through.so_far(pair, net, drops) + (moved.strain + cost);
        let ends_straight = self
            .rates
            .may_end_straight(net, drops_known(frame, drops, pair));
        let mut rest = vec![f64::INFINITY; self.hidden];
        let mut before = vec![f64::INFINITY; self.hidden];
        for runs in 0..self.runs {
            let left = if self.counts_runs() { runs } else { MOST_RUNS };
            if so_far + through.to_come(frame, state, left) >= limit {
                continue;
            }
            self.after(frame, state, runs, false, &mut rest);
            self.back(kind, &rest, &mut before, ends_straight);
            let stay = (here * self.kinds + kind) * self.runs + runs;
            self.stay[stay] = self.keep(NOWHERE, cost, &before);
            let with = if self.counts_runs() { runs + 1 } else { runs };
            if with < self.runs {
                self.after(frame, state, runs, true, &mut rest);
                self.back(kind, &rest, &mut before, true);
                let change = here * self.runs + with;
                self.change[change] = self.keep(self.change[change], cost, &before);
            }
        }
    }

    /// Keeps a vector, or the lesser of it and the one that is there.
    fn keep(&mut self, there: u32, cost: f64, vector: &[f64]) -> u32 {
        let at = there as usize * self.hidden;
        if there != NOWHERE {
            let kept = self.vectors[at..].iter_mut().zip(vector);
            kept.for_each(|(kept, new)| *kept = lesser(*kept, cost + new));
            return there;
        }
        let place = u32::try_from(self.vectors.len() / self.hidden).unwrap_or(NOWHERE);
        self.vectors.extend(vector.iter().map(|new| cost + new));
        place
    }

    fn vector(&self, place: Option<&u32>) -> &[f64] {
        let from = place.copied().unwrap_or(NOWHERE) as usize * self.hidden;
        self.vectors.get(from..from + self.hidden).unwrap_or(&[])
    }

    /// Least cost of what comes after a state whose last run has one move so far, or more.
    pub(super) fn after(
        &self,
        frame: &Frame<'_>,
        state: FlankState,
        runs: usize,
        alone: bool,
        rest: &mut [f64],
    ) {
        let lone = if alone { WEIGHTS.lone_move } else { 0.0 };
        if state.pair == frame.pairs {
            let end = frame.end_cost(state.net, state.drops) + lone;
            for (i, rest) in rest.iter_mut().enumerate() {
                let part = i / self.rates.classes() % PARTS;
                *rest = if self.rates.may_end(part) {
                    end
                } else {
                    f64::INFINITY
                };
            }
            return;
        }
        let Some(place) = self.place(state.pair, state.net, state.drops) else {
            rest.fill(f64::INFINITY);
            return;
        };
        let runs = if self.counts_runs() { runs } else { 0 };
        let stay = (place * self.kinds + state.kind) * self.runs + runs;
        let stay = self.vector(self.stay.get(stay));
        let change = self.vector(self.change.get(place * self.runs + runs));
        let both = stay.iter().zip(change);
        for (rest, (stay, change)) in rest.iter_mut().zip(both) {
            *rest = lesser(*stay, change + lone);
        }
    }

    /// From the costs after a move of this kind to those before it.
    fn back(&self, kind: usize, after: &[f64], before: &mut [f64], may_begin: bool) {
        let n = self.rates.classes();
        let [straight, across, slopes] = self.rates.steps(kind);
        let mut begun = [f64::INFINITY; PARTS];
        let sections = after.chunks_exact(PARTS * n);
        for (after, before) in sections.zip(before.chunks_exact_mut(PARTS * n)) {
            let (after_straight, after_slopes) = after.split_at(n);
            let (before_straight, before_slopes) = before.split_at_mut(n);
            let mut begins = [f64::INFINITY; PARTS];
            let steps = straight.iter().zip(across).zip(slopes);
            let after = after_straight.iter().zip(after_slopes);
            let before = before_straight.iter_mut().zip(before_slopes);
            for (((straight, across), slopes), ((on, down), before)) in steps.zip(after.zip(before))
            {
                let on = lesser(on + straight, down + across);
                let down = down + slopes;
                *before.0 = lesser(on, begun[STRAIGHT]);
                *before.1 = lesser(down, begun[SLOPES]);
                begins[STRAIGHT] = lesser(begins[STRAIGHT], on);
                begins[SLOPES] = lesser(begins[SLOPES], down);
            }
            // A section that begins leaves one fewer that may.
            if may_begin {
                begun = begins.map(|cost| cost + self.rates.section);
            }
        }
    }

    /// From the hidden costs before a move of this kind to those after it.
    pub(super) fn forth(&self, kind: usize, before: &[f64], after: &mut [f64], may_begin: bool) {
        let n = self.rates.classes();
        let [straight, across, slopes] = self.rates.steps(kind);
        let mut begun = [f64::INFINITY; PARTS];
        let sections = before.chunks_exact(PARTS * n).rev();
        for (before, after) in sections.zip(after.chunks_exact_mut(PARTS * n).rev()) {
            let (before_straight, before_slopes) = before.split_at(n);
            let (after_straight, after_slopes) = after.split_at_mut(n);
            let mut begins = [f64::INFINITY; PARTS];
            for class in 0..n {
                let on = lesser(before_straight[class], begun[STRAIGHT]);
                let down = lesser(before_slopes[class], begun[SLOPES]);
                after_straight[class] = on + straight[class];
                after_slopes[class] = lesser(on + across[class], down + slopes[class]);
                begins[STRAIGHT] = lesser(begins[STRAIGHT], before_straight[class]);
                begins[SLOPES] = lesser(begins[SLOPES], before_slopes[class]);
            }
            if may_begin {
                begun = begins.map(|cost| cost + self.rates.section);
            }
        }
    }

    /// The hidden costs before the first move: on the straight part, which has the first place at the least.
    pub(super) fn first(&self) -> Hidden {
        let n = self.rates.classes();
        let from = ((MOST_SECTIONS - 1) * PARTS + STRAIGHT) * n;
        let mut hidden = vec![f64::INFINITY; self.hidden];
        hidden[from..from + n].fill(0.0);
        hidden
    }

    /// What every cap of the frame costs under the tangents before its first move.
    pub(super) fn begins(&self, frame: &Frame<'_>) -> f64 {
        frame.shaping_fixed() + self.rates.always + self.touches.begins_of(frame)
    }

    /// What a cap of the frame costs at the least.
    pub(super) fn root(&self, frame: &Frame<'_>) -> f64 {
        let first = self.first();
        let change = self.vector(self.change.get(self.runs - 1));
        least(&first, change) + self.begins(frame)
    }
}

/// The least sum of two vectors' entries.
pub(super) fn least(a: &[f64], b: &[f64]) -> f64 {
    let sums = a.iter().zip(b).map(|(a, b)| a + b);
    sums.fold(f64::INFINITY, lesser)
}

/// Decreases so far: as many as are counted, or all that can have been.
pub(super) fn drops_known(frame: &Frame<'_>, drops: usize, pair: usize) -> usize {
    if frame.counts_drops() {
        drops
    } else {
        pair * frame.most_drop()
    }
}
