//! Best first through the sequences of moves of one frame, every node with all its pick-ups.

use super::super::super::frontier::Frontier;
use super::super::super::objective::WEIGHTS;
use super::super::best::Best;
use super::super::best::ROUNDING;
use super::super::frame::Frame;
use super::super::search::try_moves;
use super::super::sections::PickedFlank;
use super::super::table::{FlankState, shaping_cost};
use super::table::{Hidden, StagedTable, drops_known, least};
use crate::plan::Move;

/// What a node takes beside one of the search without stages.
const NODE: u64 = 8;

/// A beginning of a flank that may still lead to a better cap.
#[derive(Debug)]
struct StagedNode {
    /// What the beginning costs under the tangents, without its pick-up.
    cost: f64,
    hidden: Hidden,
    state: FlankState,
    alone: bool,
    runs: usize,
    /// Its place among the moves made.
    made: Option<usize>,
}

/// What is open, every move made, and room to work a node out in.
#[derive(Debug)]
struct OpenNodes {
    made: Vec<(Option<usize>, usize)>,
    nodes: Frontier<StagedNode>,
    rest: Hidden,
    hidden: Hidden,
}

/// One frame and its table.
#[derive(Debug)]
pub(super) struct StagedSearch<'p, 'a> {
    pub(super) frame: &'p Frame<'a>,
    pub(super) flanks: &'p [PickedFlank<'a>],
    pub(super) table: &'p StagedTable,
}

impl StagedSearch<'_, '_> {
    /// Offers every cap with at most so many runs that is better than what is known; what was not looked
    /// at costs no less than what it returns.
    pub(super) fn run(&self, runs: usize, best: &mut Best) -> f64 {
        let first = self.table.first();
        let mut open = OpenNodes {
            made: Vec::new(),
            nodes: Frontier::new(),
            rest: first.clone(),
            hidden: first.clone(),
        };
        let start = StagedNode {
            cost: self.table.begins(self.frame),
            hidden: first,
            state: FlankState {
                pair: 1,
                net: 0,
                drops: 0,
                kind: 0,
            },
            alone: false,
            runs,
            made: None,
        };
        for kind in 0..self.frame.kinds.len() {
            self.add(&start, kind, f64::INFINITY, &mut open);
        }
        while let Some((bound, node)) = open.nodes.pop() {
            if bound + ROUNDING >= best.limit(runs) {
                break;
            }
            if best.is_out_of_proof() {
                return bound;
            }
            best.works(NODE);
            if node.state.pair == self.frame.pairs {
                try_moves(
                    self.frame,
                    self.flanks,
                    &moves(self.frame, &open.made, &node),
                    best,
                );
                continue;
            }
            for kind in 0..self.frame.kinds.len() {
                self.add(&node, kind, best.limit(runs), &mut open);
            }
        }
        f64::INFINITY
    }

    /// Adds the beginning that is one move longer, if what it leads to can be good enough.
    fn add(&self, node: &StagedNode, kind: usize, limit: f64, open: &mut OpenNodes) {
        let frame = self.frame;
        let first = node.made.is_none();
        let begins = first || kind != node.state.kind;
        let moved = &frame.kinds[kind];
        let net = node.state.net + moved.widens;
        let drops = frame.drops_after(node.state.drops, moved.moved);
        let Some(drops) = drops.filter(|_| net <= frame.most_net()) else {
            return;
        };
        if begins && node.runs == 0 {
            return;
        }
        let state = FlankState {
            pair: node.state.pair + 1,
            net,
            drops,
            kind,
        };
        let runs = node.runs - usize::from(begins);
        let lone = if begins && node.alone {
            WEIGHTS.lone_move
        } else {
            0.0
        };
        let cost = node.cost + lone + shaping_cost(frame, self.table.touches, state);
        self.table.after(frame, state, runs, begins, &mut open.rest);
        let so_far = drops_known(frame, node.state.drops, node.state.pair);
        let ends = self.table.rates.may_end_straight(node.state.net, so_far);
        let may_begin = !first && (begins || ends);
        self.table
            .forth(kind, &node.hidden, &mut open.hidden, may_begin);
        let bound = cost + least(&open.hidden, &open.rest);
        if bound + ROUNDING >= limit || bound.is_infinite() {
            return;
        }
        open.made.push((node.made, kind));
        let next = StagedNode {
            cost,
            hidden: open.hidden.clone(),
            state,
            alone: begins,
            runs,
            made: Some(open.made.len() - 1),
        };
        open.nodes.push(bound, state.pair, next);
    }
}

fn moves(frame: &Frame<'_>, made: &[(Option<usize>, usize)], node: &StagedNode) -> Vec<Move> {
    let mut moves: Vec<Move> = Vec::with_capacity(frame.pairs);
    let mut at = node.made;
    while let Some((before, kind)) = at.and_then(|at| made.get(at).copied()) {
        moves.push(frame.kinds[kind].moved);
        at = before;
    }
    moves.reverse();
    moves
}
