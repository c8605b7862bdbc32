//! Best first through the sequences of moves of one frame, each whole one with its best pick-up.

use super::super::frontier::Frontier;
use super::super::objective::WEIGHTS;
use super::super::pickup::{FlankEdge, MOST_SECTIONS};
use super::best::{Best, FoundCap, ROUNDING};
use super::frame::Frame;
use super::sections::{FlankPickUp, PickedFlank, SectionWay, TakenMove};
use super::table::{CostTable, FlankState, move_cost};
use crate::plan::Move;

/// A beginning of a flank.
#[derive(Clone, Copy, Debug)]
struct FlankNode {
    /// What the beginning itself costs under the tangent.
    cost: f64,
    state: FlankState,
    /// Its last run has one move so far.
    alone: bool,
    /// Runs that may still begin.
    runs: usize,
    parent: u32,
    place: u32,
}

const ROOT: u32 = u32::MAX;

/// One frame, its flanks and its table.
#[derive(Debug)]
pub(super) struct FrameSearch<'f, 'a> {
    pub(super) frame: &'f Frame<'a>,
    pub(super) flanks: &'f [PickedFlank<'a>],
    pub(super) table: &'f CostTable,
}

impl FrameSearch<'_, '_> {
    /// Looks for every cap with at most so many runs that is better than what is known, until none can be
    /// or the work is spent; what then is left is noted as unproven.
    pub(super) fn run(&self, runs: usize, best: &mut Best) {
        let mut nodes: Vec<FlankNode> = Vec::new();
        let mut open = Frontier::new();
        self.begin(runs, &mut nodes, &mut open);
        while let Some((bound, node)) = open.pop() {
            if bound + ROUNDING >= best.limit(runs) {
                return;
            }
            if best.is_spent(runs) {
                best.left_unproven(runs, bound);
                return;
            }
            best.works(1);
            if node.state.pair == self.frame.pairs {
                self.offer(&nodes, node, best);
            } else {
                self.go_on(node, best.limit(runs), &mut nodes, &mut open);
            }
        }
    }

    fn begin(&self, runs: usize, nodes: &mut Vec<FlankNode>, open: &mut Frontier<FlankNode>) {
        let start = FlankNode {
            cost: self.table.begins(self.frame),
            state: FlankState {
                pair: 1,
                net: 0,
                drops: 0,
                kind: 0,
            },
            alone: false,
            runs,
            parent: ROOT,
            place: ROOT,
        };
        let kinds = if self.frame.chain {
            1
        } else {
            self.frame.kinds.len()
        };
        for kind in 0..kinds {
            self.add(start, kind, f64::INFINITY, nodes, open);
        }
    }

    fn go_on(
        &self,
        node: FlankNode,
        limit: f64,
        nodes: &mut Vec<FlankNode>,
        open: &mut Frontier<FlankNode>,
    ) {
        self.add(node, node.state.kind, limit, nodes, open);
        if self.frame.chain {
            if node.state.kind + 1 < self.frame.kinds.len() {
                self.add(node, node.state.kind + 1, limit, nodes, open);
            }
            return;
        }
        if node.runs == 0 {
            return;
        }
        for kind in (0..self.frame.kinds.len()).filter(|kind| *kind != node.state.kind) {
            self.add(node, kind, limit, nodes, open);
        }
    }

    /// Adds the beginning that is one move longer, if what it leads to can be good enough.
    fn add(
        &self,
        node: FlankNode,
        kind: usize,
        limit: f64,
        nodes: &mut Vec<FlankNode>,
        open: &mut Frontier<FlankNode>,
    ) {
        let frame = self.frame;
        let moved = &frame.kinds[kind];
        let net = node.state.net + moved.widens;
        if net > frame.most_net() {
            return;
        }
        let pair = node.state.pair + 1;
        let first = node.parent == ROOT && node.place == ROOT;
        let begins = first || kind != node.state.kind;
        let lone = if begins && node.alone {
            WEIGHTS.lone_move
        } else {
            0.0
        };
        let cost = node.cost + lone + move_cost(frame, self.table.touches, pair, kind, net);
        let Some(drops) = frame.drops_after(node.state.drops, moved.moved) else {
            return;
        };
        let state = FlankState {
            pair,
            net,
            drops,
            kind,
        };
        let runs = if begins && !frame.chain {
            node.runs - 1
        } else {
            node.runs
        };
        let to_come = self.table.after(frame, state, runs, begins);
        let bound = cost + to_come;
        if bound + ROUNDING >= limit || bound.is_infinite() {
            return;
        }
        let place = u32::try_from(nodes.len()).unwrap_or(ROOT);
        let next = FlankNode {
            cost,
            state,
            alone: begins,
            runs,
            parent: node.place,
            place,
        };
        nodes.push(next);
        open.push(bound, pair, next);
    }

    fn offer(&self, nodes: &[FlankNode], node: FlankNode, best: &mut Best) {
        let mut moves: Vec<Move> = Vec::with_capacity(self.frame.pairs);
        let mut at = Some(node);
        while let Some(node) = at {
            moves.push(self.frame.kinds[node.state.kind].moved);
            at = nodes.get(node.parent as usize).copied();
        }
        moves.reverse();
        try_moves(self.frame, self.flanks, &moves, best);
    }
}

/// Tries every list of one or two runs that ends where a flank may end.
pub(super) fn few_runs(frame: &Frame<'_>, flanks: &[PickedFlank<'_>], least: f64, best: &mut Best) {
    if least >= best.limit(1) {
        return;
    }
    let moves = frame.pairs - 1;
    for (a, first) in frame.kinds.iter().enumerate() {
        for (b, second) in frame.kinds.iter().enumerate() {
            // A run that goes on is one run: it is tried once.
            let times = if a == b { moves..moves + 1 } else { 1..moves };
            for times in times {
                let net = first.widens * times + second.widens * (moves - times);
                if !frame.is_end(net) {
                    continue;
                }
                best.works(1);
                let mut list: Vec<Move> = vec![first.moved; times];
                list.extend(std::iter::repeat_n(second.moved, moves - times));
                try_moves(frame, flanks, &list, best);
            }
        }
    }
}

/// Offers the best cap with these moves, and where fewer rates are wanted those with fewer.
pub(super) fn try_moves(
    frame: &Frame<'_>,
    flanks: &[PickedFlank<'_>],
    moves: &[Move],
    best: &mut Best,
) {
    let picked: u32 = moves.iter().map(|m| m.take).sum();
    if !frame.can_pick_up(picked) {
        return;
    }
    let whole = WholeCost::of(frame, moves);
    if whole.cost + frame.least_strain(moves) >= best.limit(whole.starts.len()) {
        return;
    }
    let fewest = if best.wants_fewer_rates() {
        1
    } else {
        MOST_SECTIONS
    };
    for most in fewest..=MOST_SECTIONS {
        let limit = best.limit(whole.starts.len());
        if let Some(cap) = cap(frame, flanks, (moves, &whole), (most, limit), best) {
            best.offer(cap);
        }
    }
}

/// The best cap with these moves and at most so many sections a flank, if it costs no more than the limit.
fn cap(
    frame: &Frame<'_>,
    flanks: &[PickedFlank<'_>],
    (moves, whole): (&[Move], &WholeCost),
    (most, limit): (usize, f64),
    best: &mut Best,
) -> Option<FoundCap> {
    best.works(WAYS);
    let ways = flanks.iter();
    let ways: Vec<Vec<SectionWay>> = ways
        .map(|flank| flank.ways(&whole.taken, &whole.starts, most))
        .collect();
    let least = |ways: &Vec<SectionWay>| ways.first().map_or(f64::INFINITY, |way| way.least);
    let mut objective = whole.cost + ways.iter().map(least).sum::<f64>();
    let mut picked: Vec<FlankPickUp> = Vec::with_capacity(flanks.len());
    for (flank, ways) in flanks.iter().zip(&ways) {
        if objective > limit + ROUNDING {
            return None;
        }
        best.works(LEAF);
        let others = objective - least(ways);
        let found = flank.best(&whole.taken, ways, limit + ROUNDING - others)?;
        objective = others + found.cost;
        picked.push(found);
    }
    let all_cm: f64 = frame.edges.iter().map(FlankEdge::length_cm).sum();
    let strain: f64 = picked.iter().map(|p| p.strain_cm).sum::<f64>() / all_cm;
    let words: f64 = picked.iter().map(|p| p.words).sum();
    Some(FoundCap {
        objective: whole.cost + WEIGHTS.strain * strain + words,
        runs: whole.starts.len(),
        join_change: frame.join_change(whole.net),
        moves: moves.to_vec(),
        crown: frame.choice.crown,
        base: frame.base(),
        picked,
    })
}

/// What it takes to see which sections are worth sharing out, in nodes.
const WAYS: u64 = 5;

/// What it takes to share the rows of one flank out, in nodes.
const LEAF: u64 = 20;

/// All of a cap's cost but strain, holes and sections.
struct WholeCost {
    cost: f64,
    net: usize,
    taken: Vec<TakenMove>,
    /// The move at which each run begins.
    starts: Vec<usize>,
}

impl WholeCost {
    fn of(frame: &Frame<'_>, moves: &[Move]) -> Self {
        let mut area_cm2 = frame.first_area_cm2();
        let mut cost = frame.width_cost(1, 0, frame.pair_cm);
        let (mut net, mut edge_cm) = (0, 0.0);
        let mut taken: Vec<TakenMove> = Vec::with_capacity(moves.len());
        let mut starts = Vec::new();
        let mut last = None;
        for (i, m) in moves.iter().enumerate() {
            net += m.widens().count() as usize;
            let across_cm = frame.stitch_cm * m.widens().as_f64();
            let here_cm = (across_cm * across_cm + frame.pair_cm * frame.pair_cm).sqrt();
            area_cm2 += frame.area_cm2(net, here_cm);
            cost += frame.width_cost(i + 2, net, here_cm) + frame.decrease_cost(i + 2, m.drop);
            taken.push(TakenMove::after(taken.last(), m.take, here_cm));
            edge_cm += here_cm;
            if last != Some(*m) {
                starts.push(i);
            }
            last = Some(*m);
        }
        let ends = starts.iter().skip(1).copied().chain([moves.len()]);
        let lone = starts
            .iter()
            .zip(ends)
            .filter(|(a, b)| *b == **a + 1)
            .count();
        let error = area_cm2 / frame.old_area_cm2 - 1.0;
        cost += WEIGHTS.area * error * error
            + WEIGHTS.lone_move * lone as f64
            + frame.join_cost(frame.join_change(net))
            + frame.depth_cost()
            + frame.range.cost(frame.ease_cm(edge_cm));
        Self {
            cost,
            net,
            taken,
            starts,
        }
    }
}
