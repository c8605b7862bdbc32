//! All move sequences of one flank that could still win, one for each sum of widths.
//!
//! The area term couples all pairs and both flanks, so it cannot be a sum of costs. It depends on
//! the moves only through the sum of the widths, a whole number of stitches; so labels that agree
//! in state and sum compete, and the others are kept while their bound allows (label setting, as
//! for resource-constrained shortest paths; M. Desrochers and F. Soumis, 1988). The bound is the
//! exact cost to go of the priced flank, so what is dropped is proven not to be better than the limit.

use super::joint::{Joint, State, Steps};
use super::plan::Move;

/// A whole sequence of moves, as far as the other flank and the area term need to know it.
#[derive(Clone, Debug)]
pub(crate) struct Finish {
    /// Net stitches of all pairs, added up.
    pub(crate) sum: usize,
    /// Cost without any price of the area.
    pub(crate) own: f64,
    pub(crate) moves: Vec<Move>,
}

/// What a search found, and whether it looked at everything below the limit.
#[derive(Debug)]
pub(crate) struct Found {
    pub(crate) finishes: Vec<Finish>,
    /// How many labels were made.
    pub(crate) labels: u64,
    pub(crate) complete: bool,
}

#[derive(Clone, Copy, Debug)]
struct Label {
    key: u128,
    state: State,
    sum: usize,
    cost: f64,
    trail: usize,
}

/// A number for every state and sum: labels that share it compete.
fn key(at: &State, sum: usize) -> u128 {
    let parts = [at.last, usize::from(at.fresh), at.changes];
    let small = parts.iter().fold(0, |key, part| key << 8 | *part as u128);
    let large = [at.net, at.drops, sum];
    large
        .iter()
        .fold(small, |key, part| key << 32 | *part as u128)
}

/// More labels than this on one pair end the search without proof; the fit says so.
const MOST_LABELS: usize = 100_000;

/// Slack that covers the rounding of sums of costs, far below any difference that matters.
pub(crate) const ROUNDING: f64 = 1e-12;

/// One flank with one pick-up plan at one multiplier.
#[derive(Clone, Copy)]
pub(crate) struct Search<'a> {
    pub(crate) steps: Steps<'a>,
    pub(crate) table: &'a Joint,
}

impl Search<'_> {
    /// Every sequence whose priced cost is at most `limit`, the cheapest for each sum of widths. The
    /// table was made for this limit or a higher one.
    pub(crate) fn below(&self, limit: f64) -> Found {
        let mut trail = Vec::new();
        let mut complete = true;
        let (mut labels, mut grown) = (Vec::new(), Vec::new());
        self.grow(1, None, limit + ROUNDING, &mut trail, &mut labels);
        for pair in 2..self.steps.widths.pairs {
            grown.clear();
            for label in &labels {
                self.grow(pair, Some(label), limit + ROUNDING, &mut trail, &mut grown);
            }
            keep_cheapest(&mut grown);
            if grown.len() > MOST_LABELS {
                complete = false;
                grown.sort_by(|a, b| a.cost.total_cmp(&b.cost));
                grown.truncate(MOST_LABELS / 10);
            }
            std::mem::swap(&mut labels, &mut grown);
        }
        Found {
            finishes: self.finishes(&labels, &trail),
            labels: trail.len() as u64,
            complete,
        }
    }

    /// What can follow a label (none: the crown) with the cost at or below the limit.
    fn grow(
        &self,
        pair: usize,
        from: Option<&Label>,
        limit: f64,
        trail: &mut Vec<(usize, usize)>,
        grown: &mut Vec<Label>,
    ) {
        let (cost, sum, before) = from.map_or((self.steps.first(), 0, NO_TRAIL), |label| {
            (label.cost, label.sum, label.trail)
        });
        let state = from.map(|label| label.state);
        for (state, step, rest) in self.table.next(&self.steps, pair, state) {
            if cost + step + rest <= limit {
                trail.push((before, state.last));
                grown.push(Label {
                    key: key(&state, sum + state.net),
                    state,
                    sum: sum + state.net,
                    cost: cost + step,
                    trail: trail.len() - 1,
                });
            }
        }
    }

    fn finishes(&self, ends: &[Label], trail: &[(usize, usize)]) -> Vec<Finish> {
        let lone = |label: &Label| {
            if label.state.fresh {
                self.steps.edges.lone
            } else {
                0.0
            }
        };
        let mut ends: Vec<(usize, f64, usize)> = (ends.iter())
            .map(|label| (label.sum, label.cost + lone(label), label.trail))
            .collect();
        ends.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
        ends.dedup_by_key(|end| end.0);
        let finishes = ends.into_iter().map(|(sum, priced, end)| Finish {
            sum,
            own: priced - self.steps.price(sum),
            moves: self.path(end, trail),
        });
        finishes.collect()
    }

    fn path(&self, mut at: usize, trail: &[(usize, usize)]) -> Vec<Move> {
        let mut moves = Vec::new();
        while let Some(&(before, m)) = trail.get(at) {
            moves.push(self.steps.edges.moves[m]);
            at = before;
        }
        moves.reverse();
        moves
    }
}

const NO_TRAIL: usize = usize::MAX;

/// One label for each state and sum: the cheapest.
fn keep_cheapest(labels: &mut Vec<Label>) {
    labels.sort_unstable_by(|a, b| {
        let cheaper = a.cost.total_cmp(&b.cost).then(a.trail.cmp(&b.trail));
        a.key.cmp(&b.key).then(cheaper)
    });
    labels.dedup_by_key(|label| label.key);
}
