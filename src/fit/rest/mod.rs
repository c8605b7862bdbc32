//! The rest of a cap: what is picked up and worked stays, the moves to come are chosen anew.
//!
//! # What is easier than in the whole cap
//!
//! Crown, base and pick-ups lie on the needle. So the stretch of armhole that a move meets follows from the
//! stitches taken in before it, and its strain is a number, not a choice: every term of the objective adds up
//! over the moves of a flank but two, the squares of the area error and of the ease of the whole. These are
//! replaced by tangents, as in [`super::exact`] (`x^2 >= 2 z x - z^2`), and what is left is exact.
//!
//! 1. **A table** (`table.rs`): the least cost from where the work stands down to every state (pair, stitches
//!    taken in, decreases, kind of the last move, runs begun, whether the last run has one move), for each flank;
//!    for both at once where both stand alike (R. Bellman, 1957).
//! 2. **Best first, from the end up** (`stream.rs`): whole lists of moves in the order of that cost, for every number
//!    of decreases (P. Hart, N. Nilsson, B. Raphael, 1968: the table is the exact cost to go).
//! 3. **Pairs of lists** (`search.rs`): where the flanks stand differently (one stitch more was picked up on one side)
//!    each has its own list. Under the tangents a pair costs the sum of both, so pairs are taken up until that sum is
//!    no better than the best cap known; then the best rest is proven.
//!
//! # What is looked at
//!
//! The turn pairs nearest to the depth wanted and one either way, as far as the stitches that wait allow them: every
//! move takes one in at least. Where none of them can be, the nearest that can. The change at the join lies
//! within four of what both gauges call for. Both flanks make the same moves where they stand alike, as in the
//! whole fit; the first move follows from how the last turn was made.

mod search;
mod side;
mod state;
mod stream;
mod table;

pub(crate) use state::waiting_by_zone;
pub use state::{Begun, Correction, Turned};

use super::codes::NO_REST;
use super::frames::{join_near, turn_pair_counts, upper_arm_stitches};
use super::measures::{Measures, measure};
use super::plan::CapPlan;
use super::problem::Problem;
use super::trade::{Fit, Status, TradePoint, simplest};
use crate::diagnostic::Diagnostic;
use crate::measure::Stitches;
use crate::plan::Corner;
use search::{ReadyRest, RestSearch};

/// So many turn pairs beyond the nearest that can be are tried where none of the nearest has a rest.
const MORE_PAIRS: u32 = 12;

/// The best rest of a cap, for every number of runs of the whole, and the simplest of them that looks like the best.
///
/// Where a rest needs more runs than were asked for, the fewest are taken: what is worked cannot be chosen again.
///
/// # Errors
/// A finding that names what waits where no rest leads from there to the upper arm.
pub fn fit_rest(problem: &Problem<'_>, begun: &Begun) -> Result<Fit, Diagnostic> {
    fit_rest_below(problem, begun, f64::INFINITY).ok_or_else(|| no_rest(problem, begun))
}

/// The same; none where no rest costs less than so much, which its bounds show before it is looked for.
pub fn fit_rest_below(problem: &Problem<'_>, begun: &Begun, below: f64) -> Option<Fit> {
    let problem = &problem.after(begun.turn_pairs);
    let search = found(problem, begun, below)?;
    let mut trade = Vec::new();
    let mut bounds = Vec::new();
    for (i, (cap, bound)) in search.into_by_runs().into_iter().enumerate() {
        let measured = |(plan, objective): (CapPlan, f64)| {
            let measures = Measures {
                objective,
                ..measure(problem, &plan)
            };
            (plan, measures)
        };
        trade.push(TradePoint {
            runs: i + 1,
            cap: cap.map(measured),
        });
        bounds.push(bound);
    }
    chosen(problem, trade, &bounds)
}

/// The search through the pairs nearest to the depth, or the nearest beyond that have a rest.
fn found(problem: &Problem<'_>, begun: &Begun, below: f64) -> Option<RestSearch> {
    let near = turn_pair_counts(problem);
    let wanted = near.first().copied().unwrap_or(2);
    let allowed = |pairs: u32| problem.allowed_moves(&problem.targets_cm(pairs));
    let can = |pairs: &u32| begun.can_end(*pairs, &allowed(*pairs));
    let ready = |pairs: u32| ReadyRest::new(problem, begun, pairs, &allowed(pairs));
    let first: Vec<u32> = near.into_iter().filter(can).collect();
    let mut search = RestSearch::new(begun, below);
    search.run(first.iter().filter_map(|pairs| ready(*pairs)).collect());
    if search.is_above() {
        return None;
    }
    if search.has_found() {
        return Some(search);
    }
    let least = begun.turn_pairs.max(1);
    let most = wanted.max(least + begun.most_waiting()) + MORE_PAIRS;
    let mut others: Vec<u32> = (least..=most)
        .filter(|pairs| can(pairs) && !first.contains(pairs))
        .collect();
    others.sort_by_key(|pairs| (pairs.abs_diff(wanted), *pairs));
    for pairs in others.into_iter().take(MORE_PAIRS as usize) {
        search.run(ready(pairs).into_iter().collect());
        if search.is_above() {
            return None;
        }
        if search.has_found() {
            return Some(search);
        }
    }
    None
}

fn chosen(problem: &Problem<'_>, trade: Vec<TradePoint>, bounds: &[f64]) -> Option<Fit> {
    let fewest = trade.iter().position(|point| point.cap.is_some())?;
    let chosen = match problem.wishes.runs {
        Some(runs) => (runs.clamp(1, trade.len()) - 1).max(fewest),
        None => simplest(&trade).unwrap_or(fewest),
    };
    let (plan, measures) = trade.get(chosen)?.cap.clone()?;
    let bound = bounds.get(chosen).copied().unwrap_or(0.0).max(0.0);
    let proven = bound + 1e-9 >= measures.objective;
    Some(Fit {
        bound: if proven { measures.objective } else { bound },
        status: if proven {
            Status::Optimal
        } else {
            Status::Feasible
        },
        plan,
        measures,
        trade,
    })
}

fn no_rest(problem: &Problem<'_>, begun: &Begun) -> Diagnostic {
    let [front, back] = begun.waiting();
    let message = format!(
        "From here no rest of the cap leads to the {} of the upper arm: after {} {front} sts wait at the front and {back} at the back.{}",
        upper_arm_stitches(problem),
        match begun.turn_pairs {
            1 => "1 turn pair".to_owned(),
            pairs => format!("{pairs} turn pairs"),
        },
        no_room(problem, begun).unwrap_or_default()
    );
    Diagnostic::new(&NO_REST, message)
}

/// What is said where the change at the join is more than its two corners can take.
fn no_room(problem: &Problem<'_>, begun: &Begun) -> Option<String> {
    let base = begun.base_front + begun.base_back;
    let near = join_near(problem);
    // What is on the needle before the join: the upper arm without the change.
    let left = i64::from(upper_arm_stitches(problem).count()) - i64::from(near);
    let left = Stitches(u32::try_from(left).unwrap_or(0));
    (!Corner::have_room(near, base, left.saturating_sub(base))).then(|| {
        format!(
            " Cap and tube are of such different gauges that {} would have to be {} at the two corners of the base, with {left} on the needle: measure the width of the work again.",
            Stitches(near.unsigned_abs()),
            if near < 0 { "decreased" } else { "made" },
        )
    })
}
