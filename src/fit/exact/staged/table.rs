//! What the rest of a cap costs at the least, for every state a flank and its pick-up can be in.

use super::super::super::objective::WEIGHTS;
use super::super::super::pickup::MOST_SECTIONS;
use super::super::frame::{Frame, Tangents};
use super::super::table::{Band, State, bands, shaping_cost};
use super::rates::{PARTS, Rates, SLOPES, STRAIGHT};

/// The least cost of every pick-up that a beginning of moves may have: by sections that may still begin, part of
/// the armhole reached, class of the rate of the section it is in.
pub(super) type Hidden = Vec<f64>;

/// The exact cost to go of the staged relaxation, area and ease replaced by tangents.
///
/// As [`super::super::table::Table`], each entry a vector over the hidden states.
#[derive(Debug)]
pub(super) struct StagedTable {
    bands: Vec<Band>,
    drops: usize,
    kinds: usize,
    /// Most runs, and one; one where runs are not counted.
    runs: usize,
    /// Hidden states.
    hidden: usize,
    stay: Vec<f64>,
    change: Vec<f64>,
    pub(super) rates: Rates,
    pub(super) touches: Tangents,
}

impl StagedTable {
    pub(super) fn new(
        frame: &Frame<'_>,
        rates: Rates,
        touches: Tangents,
        runs: Option<usize>,
        limit: f64,
    ) -> Self {
        let drops = frame.drop_states();
        let bands = bands(frame, limit, drops);
        let states = bands.last().map_or(0, |band| band.end(drops));
        let hidden = MOST_SECTIONS * PARTS * rates.classes();
        let mut table = Self {
            bands,
            drops,
            kinds: frame.kinds.len(),
            runs: runs.map_or(1, |runs| runs + 1),
            hidden,
            stay: Vec::new(),
            change: Vec::new(),
            rates,
            touches,
        };
        table.stay = vec![f64::INFINITY; states * table.kinds * table.runs * hidden];
        table.change = vec![f64::INFINITY; states * table.runs * hidden];
        for pair in (1..frame.pairs).rev() {
            table.fill(frame, pair);
        }
        table
    }

    /// Runs are counted one by one; not in the table for any number of them, which is a ninth as large.
    const fn counts_runs(&self) -> bool {
        self.runs > 1
    }

    /// Entries made.
    pub(super) fn entries(&self) -> u64 {
        (self.stay.len() + self.change.len()) as u64
    }

    fn place(&self, pair: usize, net: usize, drops: usize) -> Option<usize> {
        self.bands.get(pair - 1)?.place(net, drops, self.drops)
    }

    fn fill(&mut self, frame: &Frame<'_>, pair: usize) {
        let Some(band) = self.bands.get(pair - 1).copied() else {
            return;
        };
        for net in band.nets() {
            for drops in 0..self.drops {
                if let Some(here) = self.place(pair, net, drops) {
                    for kind in 0..self.kinds {
                        self.fill_kind(frame, here, (pair, net, drops), kind);
                    }
                }
            }
        }
    }

    /// What it costs to make this kind of move next.
    fn fill_kind(
        &mut self,
        frame: &Frame<'_>,
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
        let state = State {
            pair: pair + 1,
            net: then,
            drops: after,
            kind,
        };
        let cost = shaping_cost(frame, self.touches, state);
        let ends_straight = self
            .rates
            .may_end_straight(net, drops_known(frame, drops, pair));
        let mut rest = vec![f64::INFINITY; self.hidden];
        let mut before = vec![f64::INFINITY; self.hidden];
        for runs in 0..self.runs {
            self.after(frame, state, runs, false, &mut rest);
            self.back(kind, &rest, &mut before, ends_straight);
            let stay = ((here * self.kinds + kind) * self.runs + runs) * self.hidden;
            for (entry, before) in self.stay[stay..].iter_mut().zip(&before) {
                *entry = cost + before;
            }
            let with = if self.counts_runs() { runs + 1 } else { runs };
            if with < self.runs {
                self.after(frame, state, runs, true, &mut rest);
                self.back(kind, &rest, &mut before, true);
                let change = (here * self.runs + with) * self.hidden;
                for (entry, before) in self.change[change..].iter_mut().zip(&before) {
                    *entry = entry.min(cost + before);
                }
            }
        }
    }

    /// Least cost of what comes after a state whose last run has one move so far, or more.
    pub(super) fn after(
        &self,
        frame: &Frame<'_>,
        state: State,
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
        let stay = ((place * self.kinds + state.kind) * self.runs + runs) * self.hidden;
        let change = (place * self.runs + runs) * self.hidden;
        let both = self.stay[stay..].iter().zip(&self.change[change..]);
        for (rest, (stay, change)) in rest.iter_mut().zip(both) {
            *rest = stay.min(change + lone);
        }
    }

    /// From the costs after a move of this kind to those before it.
    fn back(&self, kind: usize, after: &[f64], before: &mut [f64], may_begin: bool) {
        let n = self.rates.classes();
        let [straight, across, slopes] = self.rates.steps(kind);
        let mut begun = [f64::INFINITY; PARTS];
        for sections in 0..MOST_SECTIONS {
            let at = |part: usize| (sections * PARTS + part) * n;
            let mut begins = [f64::INFINITY; PARTS];
            for class in 0..n {
                let on = after[at(STRAIGHT) + class] + straight[class];
                let down = after[at(SLOPES) + class];
                let on = on.min(down + across[class].min(slopes[class]));
                let down = down + slopes[class];
                before[at(STRAIGHT) + class] = on.min(begun[STRAIGHT]);
                before[at(SLOPES) + class] = down.min(begun[SLOPES]);
                begins[STRAIGHT] = begins[STRAIGHT].min(on);
                begins[SLOPES] = begins[SLOPES].min(down);
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
        for sections in (0..MOST_SECTIONS).rev() {
            let at = |sections: usize, part: usize| (sections * PARTS + part) * n;
            let begun = |part: usize| {
                if !may_begin || sections + 1 == MOST_SECTIONS {
                    return f64::INFINITY;
                }
                let from = at(sections + 1, part);
                let least = before[from..from + n].iter().copied();
                least.fold(f64::INFINITY, f64::min) + self.rates.section
            };
            let (begun_straight, begun_slopes) = (begun(STRAIGHT), begun(SLOPES));
            for class in 0..n {
                let on = before[at(sections, STRAIGHT) + class].min(begun_straight);
                let down = before[at(sections, SLOPES) + class].min(begun_slopes);
                after[at(sections, STRAIGHT) + class] = on + straight[class];
                let crosses = on + across[class].min(slopes[class]);
                after[at(sections, SLOPES) + class] = crosses.min(down + slopes[class]);
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
        let from = (self.runs - 1) * self.hidden;
        let first = self.first();
        let change = self.change.get(from..).unwrap_or(&[]);
        least(&first, change) + self.begins(frame)
    }
}

/// The least sum of two vectors' entries.
pub(super) fn least(a: &[f64], b: &[f64]) -> f64 {
    let sums = a.iter().zip(b).map(|(a, b)| a + b);
    sums.fold(f64::INFINITY, f64::min)
}

/// Decreases so far: as many as are counted, or all that can have been.
pub(super) fn drops_known(frame: &Frame<'_>, drops: usize, pair: usize) -> usize {
    if frame.counts_drops() {
        drops
    } else {
        pair * frame.most_drop()
    }
}
