//! Best first through the sequences of moves of one frame, every node with all its pick-ups.

use super::super::super::frontier::Frontier;
use super::super::super::objective::WEIGHTS;
use super::super::best::Best;
use super::super::frame::Frame;
use super::super::search::{ROUNDING, try_moves};
use super::super::sections::Flank;
use super::super::table::{State, shaping_cost};
use super::table::{Hidden, StagedTable, drops_known, least};
use crate::plan::Move;

/// What a node takes beside one of the search without stages.
const NODE: u64 = 8;

/// A beginning of a flank that may still lead to a better cap.
#[derive(Debug)]
struct Node {
    /// What the beginning costs under the tangents, without its pick-up.
    cost: f64,
    hidden: Hidden,
    state: State,
    alone: bool,
    runs: usize,
    /// Its place among the moves made.
    made: Option<usize>,
}

/// One frame and its table.
#[derive(Debug)]
pub(super) struct Proof<'p, 'a> {
    pub(super) frame: &'p Frame<'a>,
    pub(super) flanks: &'p [Flank<'a>],
    pub(super) table: &'p StagedTable,
}

impl Proof<'_, '_> {
    /// Offers every cap with at most so many runs that is better than what is known; what was not looked
    /// at costs no less than what it returns.
    pub(super) fn run(&self, runs: usize, best: &mut Best) -> f64 {
        let mut made: Vec<(Option<usize>, usize)> = Vec::new();
        let mut open = Frontier::new();
        let start = Node {
            cost: self.table.begins(self.frame),
            hidden: self.table.first(),
            state: State {
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
            self.add(&start, kind, f64::INFINITY, &mut made, &mut open);
        }
        while let Some((bound, node)) = open.pop() {
            if bound + ROUNDING >= best.limit(runs) {
                break;
            }
            if best.is_out_of_proof() {
                return bound;
            }
            best.works(NODE);
            if node.state.pair == self.frame.pairs {
                try_moves(self.frame, self.flanks, &self.moves(&made, &node), best);
                continue;
            }
            for kind in 0..self.frame.kinds.len() {
                self.add(&node, kind, best.limit(runs), &mut made, &mut open);
            }
        }
        f64::INFINITY
    }

    /// Adds the beginning that is one move longer, if what it leads to can be good enough.
    fn add(
        &self,
        node: &Node,
        kind: usize,
        limit: f64,
        made: &mut Vec<(Option<usize>, usize)>,
        open: &mut Frontier<Node>,
    ) {
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
        let state = State {
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
        let mut rest = vec![f64::INFINITY; node.hidden.len()];
        self.table.after(frame, state, runs, begins, &mut rest);
        let so_far = drops_known(frame, node.state.drops, node.state.pair);
        let ends = self.table.rates.may_end_straight(node.state.net, so_far);
        let mut hidden = vec![f64::INFINITY; node.hidden.len()];
        let may_begin = !first && (begins || ends);
        self.table.forth(kind, &node.hidden, &mut hidden, may_begin);
        let bound = cost + least(&hidden, &rest);
        if bound + ROUNDING >= limit || bound.is_infinite() {
            return;
        }
        made.push((node.made, kind));
        let next = Node {
            cost,
            hidden,
            state,
            alone: begins,
            runs,
            made: Some(made.len() - 1),
        };
        open.push(bound, state.pair, next);
    }

    fn moves(&self, made: &[(Option<usize>, usize)], node: &Node) -> Vec<Move> {
        let mut moves: Vec<Move> = Vec::with_capacity(self.frame.pairs);
        let mut at = node.made;
        while let Some((before, kind)) = at.and_then(|at| made.get(at).copied()) {
            moves.push(self.frame.kinds[kind].moved);
            at = before;
        }
        moves.reverse();
        moves
    }
}
