//! What it costs to come from where the work stands to every state below it.

use super::super::frames::join_near;
use super::super::objective::WEIGHTS;
use super::super::problem::{FREE_GAP, Problem};
use super::side::RestFlank;
use super::state::{Begun, picked};
use crate::measure::Gauge;
use crate::plan::{FlankPlan, Move};

/// The squares that do not add up over the moves, replaced by their tangents.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Touches {
    /// Relative area error.
    pub(super) area: f64,
    /// Ease of both edges together, in centimetres.
    pub(super) ease_cm: f64,
}

/// What all rests of so many turn pairs share.
#[derive(Clone, Debug)]
pub(super) struct RestFrame {
    pub(super) pairs: usize,
    pub(super) kinds: Vec<MoveKind>,
    targets_cm: Vec<f64>,
    /// Width of a stitch and height of a pair, as they are to come.
    gauge_cm: (f64, f64),
    /// The same of what is worked, and how many pairs that is.
    worked_cm: (f64, f64),
    worked: usize,
    picked_up_cm: f64,
    crown: f64,
    old_area_cm2: f64,
    /// Both armhole edges above the underarm, live stitches included.
    armhole_cm: f64,
    ease_range_cm: (f64, f64),
    join_near: i32,
    /// Depth, holes, sections: what every rest of the frame costs.
    fixed: f64,
}

/// A kind of move.
#[derive(Clone, Copy, Debug)]
pub(super) struct MoveKind {
    pub(super) moved: Move,
    edge_cm: f64,
}

/// Sums over the moves of one list.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct ListSums {
    pub(super) cost: f64,
    pub(super) area_cm2: f64,
    pub(super) edge_cm: f64,
}

impl std::ops::Add for ListSums {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            cost: self.cost + other.cost,
            area_cm2: self.area_cm2 + other.area_cm2,
            edge_cm: self.edge_cm + other.edge_cm,
        }
    }
}

impl RestFrame {
    pub(super) fn new(problem: &Problem<'_>, begun: &Begun, pairs: u32, allowed: &[Move]) -> Self {
        let in_cm = |gauge: Gauge| {
            let pair_cm = 2.0 * gauge.row_height().to_cm();
            (gauge.stitch_width().to_cm(), pair_cm)
        };
        let worked = problem.worked.map_or(0, |worked| worked.turn_pairs);
        let depth_off_cm = (problem.depth_of(pairs) - problem.cap.depth()).to_cm();
        let words = |flank: &FlankPlan| {
            let rows: f64 = flank.zones.iter().map(|zone| zone.rows.as_f64()).sum();
            let beyond = flank
                .zones
                .iter()
                .map(|zone| (zone.rows.as_f64() - FREE_GAP * zone.stitches.as_f64()).max(0.0));
            WEIGHTS.holes * beyond.sum::<f64>() / rows.max(1.0)
                + WEIGHTS.section * flank.zones.len().saturating_sub(1) as f64
        };
        let unlike = if begun.is_alike() {
            0.0
        } else {
            WEIGHTS.unlike
        };
        let mut frame = Self {
            pairs: pairs as usize,
            kinds: Vec::new(),
            targets_cm: problem.targets_cm(pairs),
            gauge_cm: in_cm(problem.cap_gauge),
            worked_cm: in_cm(problem.top_gauge()),
            worked: worked as usize,
            picked_up_cm: problem.picked_up_height().to_cm(),
            crown: begun.crown.stitches.as_f64(),
            old_area_cm2: problem.cap.area_cm2(),
            armhole_cm: (problem.front.edge()
                + problem.back.edge()
                + problem.top_gauge().width(begun.crown.live))
            .to_cm(),
            ease_range_cm: problem.ease_range_cm(),
            join_near: join_near(problem),
            fixed: WEIGHTS.depth * depth_off_cm * depth_off_cm
                + f64::midpoint(words(&begun.front), words(&begun.back))
                + unlike,
        };
        let first = begun.turn_pairs as usize + 1;
        let kinds = allowed.iter().map(|m| frame.kind(first, *m));
        frame.kinds = kinds.collect();
        frame
    }

    /// The width of a stitch of this pair, and its height.
    fn at_pair_cm(&self, pair: usize) -> (f64, f64) {
        if pair <= self.worked {
            self.worked_cm
        } else {
            self.gauge_cm
        }
    }

    /// A move made at this pair; all pairs to come are of one gauge.
    fn kind(&self, pair: usize, moved: Move) -> MoveKind {
        let (stitch_cm, pair_cm) = self.at_pair_cm(pair);
        let across_cm = stitch_cm * moved.widens().as_f64();
        MoveKind {
            moved,
            edge_cm: (across_cm * across_cm + pair_cm * pair_cm).sqrt(),
        }
    }

    /// What a side's pair adds to the sums, whatever its strain.
    fn pair(&self, pair: usize, net: usize, edge_cm: f64) -> ListSums {
        let (stitch_cm, pair_cm) = self.at_pair_cm(pair);
        let half_cm = stitch_cm * (self.crown / 2.0 + net as f64);
        let covered_cm = self.picked_up_cm / pair_cm * edge_cm;
        let target_cm = self.targets_cm.get(pair - 1).copied().unwrap_or(0.0);
        let off = half_cm + covered_cm - target_cm;
        ListSums {
            cost: off * off / self.pairs as f64 / 2.0,
            area_cm2: pair_cm * half_cm + self.picked_up_cm * edge_cm,
            edge_cm,
        }
    }

    /// What one side's move adds: after it the flank has taken in `taken` and decreased `drops`.
    fn step(
        &self,
        side: &RestFlank,
        pair: usize,
        kind: MoveKind,
        (taken, drops): (usize, usize),
    ) -> ListSums {
        let take = kind.moved.take as usize;
        let mut sums = self.pair(pair, taken.saturating_sub(drops), kind.edge_cm);
        let pairs = self.pairs as f64;
        let above = (pairs - pair as f64) / (pairs * pairs);
        let each = WEIGHTS.decrease / pairs + WEIGHTS.high_decrease * above;
        sums.cost += side.strain(taken.saturating_sub(take), take, kind.edge_cm)
            + f64::from(kind.moved.drop) * each / 2.0;
        sums
    }

    /// The same of all sides that make the move.
    pub(super) fn steps(
        &self,
        sides: &[RestFlank],
        pair: usize,
        kind: MoveKind,
        to: (usize, usize),
    ) -> ListSums {
        let each = sides.iter().map(|side| self.step(side, pair, kind, to));
        each.fold(ListSums::default(), |sum, one| sum + one)
    }

    /// The first pair and these moves after it, runs of one move included, of all sides that make them.
    pub(super) fn whole(&self, sides: &[RestFlank], moves: &[Move]) -> ListSums {
        let first = self.pair(1, 0, self.at_pair_cm(1).1);
        let mut sums = sides.iter().fold(ListSums::default(), |sum, _| sum + first);
        let (mut taken, mut drops) = (0, 0);
        for (pair, m) in (2..).zip(moves) {
            taken += m.take as usize;
            drops += m.drop as usize;
            sums = sums + self.steps(sides, pair, self.kind(pair, *m), (taken, drops));
        }
        let lone = moves.chunk_by(|a, b| a == b).filter(|run| run.len() == 1);
        sums.cost += lone_cost(sides) * lone.count() as f64;
        sums
    }

    /// The objective of a cap with these sums over both sides.
    pub(super) fn objective(&self, sums: ListSums, join_change: i32) -> f64 {
        let error = self.area_error(sums);
        self.fixed
            + sums.cost
            + self.join_cost(join_change)
            + WEIGHTS.area * error * error
            + self.ease_cost(self.ease_cm(sums))
    }

    fn area_error(&self, sums: ListSums) -> f64 {
        let crown_cm2 = self.picked_up_cm * self.worked_cm.0 * self.crown;
        (sums.area_cm2 + crown_cm2) / self.old_area_cm2 - 1.0
    }

    fn ease_cm(&self, sums: ListSums) -> f64 {
        let crown_cm = self.worked_cm.0 * self.crown;
        // `pair` counts the side of the first pair as its edge.
        sums.edge_cm + crown_cm + 2.0 * self.picked_up_cm - self.armhole_cm
    }

    fn outside_cm(&self, ease_cm: f64) -> f64 {
        ease_cm - ease_cm.clamp(self.ease_range_cm.0, self.ease_range_cm.1)
    }

    fn ease_cost(&self, ease_cm: f64) -> f64 {
        let outside_cm = self.outside_cm(ease_cm);
        WEIGHTS.ease * outside_cm * outside_cm
    }

    pub(super) fn join_cost(&self, change: i32) -> f64 {
        let off = (change - self.join_near).abs();
        WEIGHTS.join * f64::from(change.abs()) + WEIGHTS.join_off * f64::from(off)
    }

    pub(super) fn join_near(&self) -> i32 {
        self.join_near
    }

    /// Where the tangents touch for a cap with these sums.
    pub(super) fn touches(&self, sums: ListSums) -> Touches {
        Touches {
            area: self.area_error(sums),
            ease_cm: self.ease_cm(sums),
        }
    }

    /// True when tangents there are as good: a fiftieth of a per cent of area, a fifth of a millimetre of ease.
    pub(super) fn are_near(&self, a: Touches, b: Touches) -> bool {
        let ease_cm = self.outside_cm(a.ease_cm) - self.outside_cm(b.ease_cm);
        (a.area - b.area).abs() < 2e-4 && ease_cm.abs() < 0.02
    }

    /// The sums' cost under the tangents.
    pub(super) fn priced(&self, sums: ListSums, at: Touches) -> f64 {
        let area_price = 2.0 * WEIGHTS.area * at.area / self.old_area_cm2;
        let edge_price = 2.0 * WEIGHTS.ease * self.outside_cm(at.ease_cm);
        sums.cost + area_price * sums.area_cm2 + edge_price * sums.edge_cm
    }

    /// What is left of the objective's bound beside the priced sums of both sides and the join.
    pub(super) fn constant(&self, at: Touches) -> f64 {
        let none = ListSums::default();
        let edge_price = 2.0 * WEIGHTS.ease * self.outside_cm(at.ease_cm);
        self.fixed + 2.0 * WEIGHTS.area * at.area * self.area_error(none)
            - WEIGHTS.area * at.area * at.area
            + self.ease_cost(at.ease_cm)
            + edge_price * (self.ease_cm(none) - at.ease_cm)
    }
}

/// What a run of one move costs on these sides.
pub(super) fn lone_cost(sides: &[RestFlank]) -> f64 {
    WEIGHTS.lone_move * sides.len() as f64 / 2.0
}

/// A state of a flank after a pair. `kind` is that of the last move; one past the kinds where it is none of
/// them, or where there is no move yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct RestState {
    pub(super) pair: usize,
    pub(super) taken: usize,
    pub(super) drops: usize,
    pub(super) kind: usize,
    /// Runs begun since the work stood still.
    pub(super) runs: usize,
    /// The last run has one move so far.
    pub(super) alone: bool,
}

/// How many of each are told apart.
#[derive(Clone, Copy, Debug)]
struct TableSizes {
    drops: usize,
    kinds: usize,
    runs: usize,
}

/// States of one pair: stitches taken in from so many to so many.
#[derive(Clone, Debug)]
struct Layer {
    from: usize,
    to: usize,
    least: Vec<f64>,
}

/// One flank, or both where they are worked alike, with the least cost down to every state.
#[derive(Clone, Debug)]
pub(super) struct Track<'s> {
    pub(super) sides: &'s [RestFlank],
    pub(super) start: RestState,
    pub(super) picked: usize,
    /// Decreases that are worked.
    pub(super) dropped: usize,
    begins: Vec<bool>,
    sizes: TableSizes,
    layers: Vec<Layer>,
    at: Touches,
}

impl<'s> Track<'s> {
    /// The table of a flank (its moves worked, its stitches picked up) for at most so many decreases and new runs.
    pub(super) fn new(
        frame: &RestFrame,
        begun: &Begun,
        (sides, flank): (&'s [RestFlank], &FlankPlan),
        (most_drops, most_runs): (usize, usize),
        at: Touches,
    ) -> Self {
        let sum = |of: fn(&Move) -> u32| flank.moves.iter().map(of).sum::<u32>() as usize;
        let (taken, dropped) = (sum(|m| m.take), sum(|m| m.drop));
        let last = flank.moves.last();
        let none = frame.kinds.len();
        let kind = last.and_then(|m| frame.kinds.iter().position(|kind| kind.moved == *m));
        let before = flank
            .moves
            .len()
            .checked_sub(2)
            .and_then(|i| flank.moves.get(i));
        let start = RestState {
            pair: begun.turn_pairs.max(1) as usize,
            taken,
            drops: 0,
            kind: kind.unwrap_or(none),
            runs: 0,
            alone: last.is_some() && before != last,
        };
        let mut track = Self {
            sides,
            start,
            picked: picked(flank) as usize,
            dropped,
            begins: frame
                .kinds
                .iter()
                .map(|kind| begun.may_begin(kind.moved))
                .collect(),
            sizes: TableSizes {
                drops: most_drops + 1,
                kinds: none + 1,
                runs: most_runs + 1,
            },
            layers: Vec::new(),
            at,
        };
        track.fill(frame, &flank.moves);
        track
    }

    fn fill(&mut self, frame: &RestFrame, moves: &[Move]) {
        let mut sums = frame.whole(self.sides, moves);
        if self.start.alone {
            // Whether the last run stays one move is not known yet.
            sums.cost -= lone_cost(self.sides);
        }
        let steepest = frame
            .kinds
            .iter()
            .map(|kind| kind.moved.take as usize)
            .max()
            .unwrap_or(0);
        let first = self.start.pair;
        for pair in first..=frame.pairs {
            let (done, left) = (pair - first, frame.pairs - pair);
            let from = (self.start.taken + done).max(self.picked.saturating_sub(left * steepest));
            let to = (self.start.taken + done * steepest).min(self.picked.saturating_sub(left));
            let states = (to + 1).saturating_sub(from)
                * self.sizes.drops
                * self.sizes.kinds
                * self.sizes.runs
                * 2;
            self.layers.push(Layer {
                from,
                to,
                least: vec![f64::INFINITY; states],
            });
        }
        let begun = frame.priced(sums, self.at);
        self.lower(self.start, begun);
        for pair in first + 1..=frame.pairs {
            self.fill_pair(frame, pair);
        }
    }

    fn fill_pair(&mut self, frame: &RestFrame, pair: usize) {
        let layer = pair - self.start.pair;
        let (above, below) = self.layers.split_at(layer);
        let Some(above) = above.last() else {
            return;
        };
        let (from, to) = below.first().map_or((1, 0), |layer| (layer.from, layer.to));
        let mut least = below
            .first()
            .map_or_else(Vec::new, |layer| layer.least.clone());
        let block = self.block();
        for (i, kind) in frame.kinds.iter().enumerate() {
            if layer == 1 && !self.may_begin(i) {
                continue;
            }
            let (take, drop) = (kind.moved.take as usize, kind.moved.drop as usize);
            for taken in above.from..=above.to {
                let then = taken + take;
                if then < from || then > to {
                    continue;
                }
                for drops in 0..self.sizes.drops.saturating_sub(drop) {
                    let cost = self.cost(frame, pair, i, (then, drops + drop));
                    let here = ((taken - above.from) * self.sizes.drops + drops) * block;
                    let there = ((then - from) * self.sizes.drops + drops + drop) * block;
                    let before = above.least.get(here..here + block).unwrap_or(&[]);
                    if let Some(after) = least.get_mut(there..there + block) {
                        self.step(i, cost, before, after);
                    }
                }
            }
        }
        if let Some(layer) = self.layers.get_mut(layer) {
            layer.least = least;
        }
    }

    /// States that differ in nothing but the kind of the last move, runs and their length: they lie together.
    fn block(&self) -> usize {
        self.sizes.kinds * self.sizes.runs * 2
    }

    /// From every state of a block by one kind of move.
    fn step(&self, kind: usize, cost: f64, before: &[f64], after: &mut [f64]) {
        let (runs, lone) = (self.sizes.runs, lone_cost(self.sides));
        for (i, so_far) in before.iter().enumerate() {
            if so_far.is_infinite() {
                continue;
            }
            let (last, run, alone) = (i / 2 / runs, i / 2 % runs, i % 2 == 1);
            let goes_on = last == kind;
            if !goes_on && run + 1 == runs {
                continue;
            }
            let ended = if alone && !goes_on { lone } else { 0.0 };
            let place = (kind * runs + run + usize::from(!goes_on)) * 2 + usize::from(!goes_on);
            if let Some(least) = after.get_mut(place) {
                *least = least.min(so_far + ended + cost);
            }
        }
    }

    /// States with so many stitches taken in and decreases.
    fn of(
        &self,
        pair: usize,
        taken: usize,
        drops: usize,
    ) -> impl Iterator<Item = RestState> + use<> {
        let TableSizes { kinds, runs, .. } = self.sizes;
        (0..kinds * runs * 2).map(move |i| RestState {
            pair,
            taken,
            drops,
            kind: i / 2 / runs,
            runs: i / 2 % runs,
            alone: i % 2 == 1,
        })
    }

    fn holds(&self, pair: usize, taken: usize) -> bool {
        let layer = pair
            .checked_sub(self.start.pair)
            .and_then(|i| self.layers.get(i));
        layer.is_some_and(|layer| layer.from <= taken && taken <= layer.to)
    }

    fn place(&self, state: RestState) -> Option<(usize, usize)> {
        let layer = state.pair.checked_sub(self.start.pair)?;
        let from = self.layers.get(layer)?.from;
        let TableSizes { drops, kinds, runs } = self.sizes;
        let within =
            self.holds(state.pair, state.taken) && state.drops < drops && state.runs < runs;
        let place =
            ((state.taken.checked_sub(from)? * drops + state.drops) * kinds + state.kind) * runs;
        within.then(|| (layer, (place + state.runs) * 2 + usize::from(state.alone)))
    }

    fn lower(&mut self, state: RestState, cost: f64) {
        let Some((layer, place)) = self.place(state) else {
            return;
        };
        if let Some(least) = self
            .layers
            .get_mut(layer)
            .and_then(|layer| layer.least.get_mut(place))
        {
            *least = least.min(cost);
        }
    }

    /// The least cost down to a state, its last run not judged yet.
    pub(super) fn least(&self, state: RestState) -> f64 {
        let least = self
            .place(state)
            .and_then(|(layer, place)| self.layers.get(layer)?.least.get(place));
        least.copied().unwrap_or(f64::INFINITY)
    }

    /// What a move costs that leads to so many stitches taken in and decreases since the work stood still.
    pub(super) fn cost(
        &self,
        frame: &RestFrame,
        pair: usize,
        kind: usize,
        to: (usize, usize),
    ) -> f64 {
        let Some(kind) = frame.kinds.get(kind) else {
            return f64::INFINITY;
        };
        let sums = frame.steps(self.sides, pair, *kind, (to.0, self.dropped + to.1));
        frame.priced(sums, self.at)
    }

    /// True when this kind may be the first move to come.
    pub(super) fn may_begin(&self, kind: usize) -> bool {
        self.begins.get(kind).copied().unwrap_or(false)
    }

    /// Whole flanks with so many decreases to come and at most so many new runs: their last states.
    pub(super) fn ends(&self, pairs: usize, drops: usize, runs: usize) -> Vec<RestState> {
        let all = self.of(pairs, self.picked, drops);
        all.filter(|state| state.runs <= runs && self.least(*state).is_finite())
            .collect()
    }

    /// The least cost of a whole flank with so many decreases to come.
    pub(super) fn root(&self, pairs: usize, drops: usize, runs: usize) -> f64 {
        let ends = self.ends(pairs, drops, runs).into_iter();
        let whole = ends.map(|state| {
            let lone = if state.alone {
                lone_cost(self.sides)
            } else {
                0.0
            };
            self.least(state) + lone
        });
        whole.fold(f64::INFINITY, f64::min)
    }

    /// States a state may come from by its own move, with what the end of their run costs.
    pub(super) fn before(&self, frame: &RestFrame, state: RestState) -> Vec<(RestState, f64)> {
        let moved = frame.kinds.get(state.kind).map(|kind| kind.moved);
        let Some((taken, drops)) = moved.and_then(|m| {
            let taken = state.taken.checked_sub(m.take as usize)?;
            Some((taken, state.drops.checked_sub(m.drop as usize)?))
        }) else {
            return Vec::new();
        };
        let pair = state.pair - 1;
        if pair == self.start.pair && !self.may_begin(state.kind) {
            return Vec::new();
        }
        let lone = lone_cost(self.sides);
        let last = if state.alone {
            0..self.sizes.kinds
        } else {
            state.kind..state.kind + 1
        };
        let Some(runs) = state.runs.checked_sub(usize::from(state.alone)) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        for kind in last.filter(|kind| !state.alone || *kind != state.kind) {
            for alone in [false, true] {
                let before = RestState {
                    pair,
                    taken,
                    drops,
                    kind,
                    runs,
                    alone,
                };
                if self.least(before).is_finite() {
                    let ended = if alone && state.alone { lone } else { 0.0 };
                    out.push((before, ended));
                }
            }
        }
        out
    }
}
