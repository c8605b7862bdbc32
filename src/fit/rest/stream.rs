//! Whole lists of moves of one flank in the order of their cost under the tangents.

use super::super::frontier::Frontier;
use super::table::{RestFrame, RestState, Track, lone_cost};
use crate::plan::Move;

/// The end of a list, from this state on.
#[derive(Clone, Copy, Debug)]
struct ListEnd {
    /// What no list with this end costs less than.
    bound: f64,
    /// What the end itself costs.
    cost: f64,
    state: RestState,
    parent: Option<usize>,
    place: usize,
}

/// A list of moves to come.
#[derive(Clone, Debug)]
pub(super) struct MoveList {
    /// Under the tangents, all moves of the flank included.
    pub(super) cost: f64,
    pub(super) moves: Vec<Move>,
}

/// The lists of a flank with a fixed number of decreases, the cheapest first.
#[derive(Debug)]
pub(super) struct Stream<'t, 's> {
    frame: &'t RestFrame,
    track: &'t Track<'s>,
    nodes: Vec<ListEnd>,
    open: Frontier<ListEnd>,
    /// Nodes taken up.
    pub(super) work: u64,
}

impl<'t, 's> Stream<'t, 's> {
    pub(super) fn new(
        frame: &'t RestFrame,
        track: &'t Track<'s>,
        drops: usize,
        runs: usize,
    ) -> Self {
        let mut stream = Self {
            frame,
            track,
            nodes: Vec::new(),
            open: Frontier::new(),
            work: 0,
        };
        for state in track.ends(frame.pairs, drops, runs) {
            let cost = if state.alone {
                lone_cost(track.sides)
            } else {
                0.0
            };
            stream.push(state, cost, None);
        }
        stream
    }

    fn push(&mut self, state: RestState, cost: f64, parent: Option<usize>) {
        let node = ListEnd {
            bound: cost + self.track.least(state),
            cost,
            state,
            parent,
            place: self.nodes.len(),
        };
        if node.bound.is_finite() {
            self.nodes.push(node);
            // It is begun at the end.
            let done = self.frame.pairs.saturating_sub(state.pair);
            self.open.push(node.bound, done, node);
        }
    }

    /// What the next list costs; infinite where there is none.
    pub(super) fn bound(&self) -> f64 {
        self.open.bound()
    }

    /// The next list below a limit, if so much work finds one.
    pub(super) fn next_below(&mut self, limit: f64, most_work: u64) -> Option<MoveList> {
        while self.bound() < limit && self.work < most_work {
            let (_, node) = self.open.pop()?;
            self.work += 1;
            if node.state.pair == self.track.start.pair {
                return Some(self.list(node));
            }
            let to = (node.state.taken, node.state.drops);
            let here = self
                .track
                .cost(self.frame, node.state.pair, node.state.kind, to);
            for (before, ended) in self.track.before(self.frame, node.state) {
                self.push(before, node.cost + here + ended, Some(node.place));
            }
        }
        None
    }

    fn list(&self, node: ListEnd) -> MoveList {
        let mut moves = Vec::new();
        let mut at = node.parent.and_then(|i| self.nodes.get(i));
        while let Some(node) = at {
            moves.extend(self.frame.kinds.get(node.state.kind).map(|kind| kind.moved));
            at = node.parent.and_then(|i| self.nodes.get(i));
        }
        MoveList {
            cost: node.bound,
            moves,
        }
    }
}
