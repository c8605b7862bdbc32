//! All move sequences of one flank that could still win, one for each sum of widths.
//!
//! The area term couples all pairs and both flanks, so it cannot be a sum of costs. It depends on
//! the moves only through the sum of the widths, a whole number of stitches; so labels that agree
//! in state and sum compete, and the others are kept while their bound allows (label setting, as
//! for resource-constrained shortest paths; M. Desrochers and F. Soumis, 1988). The bound adds the
//! least cost to go of the widths and of the edges, each exact for itself, so what is dropped is
//! proven not to be better than the limit.

use super::plan::Move;
use super::table::{EdgeCosts, EdgeToGo, WidthCosts, WidthToGo};

/// A whole sequence of moves, as far as the other flank and the area term need to know it.
#[derive(Clone, Debug)]
pub(crate) struct Finish {
    /// Net stitches of all pairs, added up.
    pub(crate) sum: usize,
    /// Cost at the multiplier the widths were priced with.
    pub(crate) priced: f64,
    pub(crate) moves: Vec<Move>,
}

/// What a search found, and whether it looked at everything below the limit.
#[derive(Debug)]
pub(crate) struct Found {
    pub(crate) finishes: Vec<Finish>,
    pub(crate) complete: bool,
}

#[derive(Clone, Copy, Debug)]
struct Label {
    /// Stitches the flank has widened by.
    net: usize,
    /// Stitches taken in.
    picked_up: usize,
    last: usize,
    changes: usize,
    sum: usize,
    cost: f64,
    trail: usize,
}

/// More labels than this on one pair end the search without proof; the fit says so.
const MOST_LABELS: usize = 200_000;

/// Slack that covers the rounding of sums of costs, far below any difference that matters.
pub(crate) const ROUNDING: f64 = 1e-12;

/// One flank with one pick-up plan: its costs, and its bounds to the end.
pub(crate) struct Search<'a> {
    pub(crate) widths: &'a WidthCosts,
    pub(crate) widths_to_go: &'a WidthToGo,
    pub(crate) edges: &'a EdgeCosts,
    pub(crate) edges_to_go: &'a EdgeToGo,
}

impl Search<'_> {
    /// Every sequence with at most `runs` runs whose priced cost is at most `limit`, the cheapest
    /// for each sum of widths.
    pub(crate) fn below(&self, runs: usize, limit: f64) -> Found {
        let mut growth = Growth {
            search: self,
            classes: self
                .edges
                .moves
                .iter()
                .map(|m| self.widths_to_go.class(*m))
                .collect(),
            limit: limit + ROUNDING,
            trail: Vec::new(),
        };
        let mut labels = growth.first(runs - 1);
        let mut complete = true;
        for pair in 2..self.edges.pairs {
            labels = growth.grow(pair, &labels);
            if labels.len() > MOST_LABELS {
                complete = false;
                labels.sort_by(|a, b| a.cost.total_cmp(&b.cost));
                labels.truncate(MOST_LABELS / 10);
            }
        }
        Found {
            finishes: growth.finish(&labels),
            complete,
        }
    }
}

struct Growth<'a> {
    search: &'a Search<'a>,
    /// Place of each move's widening in the width table.
    classes: Vec<usize>,
    limit: f64,
    /// (label before, move index): paths share their beginnings.
    trail: Vec<(usize, usize)>,
}

const NO_TRAIL: usize = usize::MAX;

impl Growth<'_> {
    fn first(&mut self, changes: usize) -> Vec<Label> {
        let root = Label {
            net: 0,
            picked_up: 0,
            last: usize::MAX,
            changes,
            sum: 0,
            cost: self.search.widths.at(1, 0) + self.search.edges.constant,
            trail: NO_TRAIL,
        };
        let mut labels = Vec::new();
        for m in 0..self.classes.len() {
            self.push(&mut labels, 1, &root, m, changes);
        }
        labels
    }

    fn grow(&mut self, pair: usize, labels: &[Label]) -> Vec<Label> {
        let mut grown = Vec::new();
        for label in labels {
            for m in 0..self.classes.len() {
                if m == label.last {
                    self.push(&mut grown, pair, label, m, label.changes);
                } else if label.changes > 0 {
                    self.push(&mut grown, pair, label, m, label.changes - 1);
                }
            }
        }
        cheapest(grown)
    }

    /// Works move `m` on the pair after `pair`, if what follows can stay below the limit.
    fn push(&mut self, out: &mut Vec<Label>, pair: usize, from: &Label, m: usize, changes: usize) {
        let s = self.search;
        let mv = s.edges.moves[m];
        let net = from.net + mv.widens().count() as usize;
        let picked_up = from.picked_up + mv.take as usize;
        if net > s.widths.net || picked_up > s.edges.picked_up {
            return;
        }
        let cost = from.cost + s.widths.at(pair + 1, net) + s.edges.at(m, from.picked_up);
        let rest = s.widths_to_go.rest(changes, pair + 1, net, self.classes[m])
            + s.edges_to_go.rest(pair + 1, picked_up);
        // What cannot reach the end costs infinitely much, which an infinite limit would let pass.
        if rest.is_finite() && cost + rest <= self.limit {
            self.trail.push((from.trail, m));
            out.push(Label {
                net,
                picked_up,
                last: m,
                changes,
                sum: from.sum + net,
                cost,
                trail: self.trail.len() - 1,
            });
        }
    }

    fn finish(&self, labels: &[Label]) -> Vec<Finish> {
        let mut ends: Vec<&Label> = labels.iter().collect();
        ends.sort_by(|a, b| a.sum.cmp(&b.sum).then(a.cost.total_cmp(&b.cost)));
        ends.dedup_by_key(|label| label.sum);
        ends.into_iter()
            .map(|label| Finish {
                sum: label.sum,
                priced: label.cost,
                moves: self.path(label.trail),
            })
            .collect()
    }

    fn path(&self, mut trail: usize) -> Vec<Move> {
        let mut moves = Vec::new();
        while let Some(&(before, m)) = self.trail.get(trail) {
            moves.push(self.search.edges.moves[m]);
            trail = before;
        }
        moves.reverse();
        moves
    }
}

/// One label for each state, last move, changes left and sum: the cheapest.
fn cheapest(mut labels: Vec<Label>) -> Vec<Label> {
    let key = |l: &Label| (l.net, l.picked_up, l.last, l.changes, l.sum);
    labels.sort_by(|a, b| key(a).cmp(&key(b)).then(a.cost.total_cmp(&b.cost)));
    labels.dedup_by_key(|label| key(label));
    labels
}
