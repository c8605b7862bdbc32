//! One list of runs for all sizes: the same moves in the same order, each size with its own numbers.

use super::best::{Best, Candidate, MOST_RUNS};
use super::codes::NO_SAME_RUNS;
use super::frames::Choice;
use super::measures::measure;
use super::plan::Move;
use super::problem::Problem;
use super::solve::improve;
use super::trade::{Fit, frames_of};
use super::widths::Widths;
use crate::diagnostic::Diagnostic;

/// The fits of all sizes with the same runs, and what that costs.
#[derive(Clone, Debug)]
pub struct Together {
    /// The moves of the runs, from the crown down.
    pub runs: Vec<Move>,
    /// One for each size, in the order given.
    pub fits: Vec<Fit>,
}

/// One size, its own best cap, and the frames that cap was chosen from.
struct Size<'a, 'p> {
    problem: &'a Problem<'p>,
    frames: Vec<(Choice, Widths)>,
    /// No cap with as many runs at the most costs less.
    least: f64,
}

/// Finds the list of at most `most_runs` runs that all sizes can work with the least objective in
/// sum; `fits` are the sizes' own best caps. `None` when no list serves all sizes.
///
/// Exact: every list of moves that all sizes allow is looked at, unless the sizes' own best caps and
/// the sizes already worked prove that it cannot win (branch and bound; A. Land and A. Doig, 1960).
/// The turn pairs of a size are those its own fit was chosen from.
pub fn together(problems: &[Problem<'_>], fits: &[Fit], most_runs: usize) -> Option<Together> {
    let sizes = problems.iter().zip(fits);
    let sizes = sizes.map(|(problem, fit)| size_of(problem, fit, most_runs));
    let sizes: Vec<Size<'_, '_>> = sizes.collect();
    let mut lists: Vec<Vec<Move>> = fits.iter().map(|fit| own_runs(fit, most_runs)).collect();
    lists.retain(|list| !list.is_empty());
    lists.extend(every_list(&common_moves(&sizes), most_runs));
    let mut best: Option<(f64, Vec<Move>, Vec<Candidate>)> = None;
    for list in lists {
        let limit = best.as_ref().map_or(f64::INFINITY, |best| best.0);
        if let Some((sum, caps)) = worked(&sizes, &list, limit) {
            best = Some((sum, list, caps));
        }
    }
    let (_, runs, caps) = best?;
    let fits = problems.iter().zip(fits).zip(caps);
    let fits = fits.map(|((problem, fit), cap)| {
        let measures = measure(problem, &cap.plan);
        fit.clone().with(cap.plan, measures)
    });
    Some(Together {
        runs,
        fits: fits.collect(),
    })
}

fn size_of<'a, 'p>(problem: &'a Problem<'p>, fit: &Fit, most_runs: usize) -> Size<'a, 'p> {
    let points = fit.trade.iter().filter(|point| point.runs <= most_runs);
    let objectives = points.filter_map(|point| Some(point.cap.as_ref()?.1.objective));
    Size {
        problem,
        frames: frames_of(problem, &fit.plan),
        least: objectives.fold(f64::INFINITY, f64::min).min(fit.bound),
    }
}

/// The runs of a size's own best cap with at most so many, where both flanks have the same.
fn own_runs(fit: &Fit, most_runs: usize) -> Vec<Move> {
    let points = fit.trade.iter().filter(|point| point.runs <= most_runs);
    let Some((plan, _)) = points.filter_map(|point| point.cap.as_ref()).next_back() else {
        return Vec::new();
    };
    plan.front.runs().into_iter().map(|(m, _)| m).collect()
}

/// The moves that all frames of all sizes allow.
fn common_moves(sizes: &[Size<'_, '_>]) -> Vec<Move> {
    let mut frames = sizes.iter().flat_map(|size| &size.frames);
    let Some((first, _)) = frames.next() else {
        return Vec::new();
    };
    let mut common = first.frame.moves.clone();
    for (choice, _) in frames {
        common.retain(|m| choice.frame.moves.contains(m));
    }
    common
}

/// Every list of one run to `most` in which neighbours differ, the shortest first.
fn every_list(moves: &[Move], most: usize) -> Vec<Vec<Move>> {
    let mut all: Vec<Vec<Move>> = Vec::new();
    let mut longest: Vec<Vec<Move>> = vec![Vec::new()];
    for _ in 0..most {
        let longer = longest.iter().flat_map(|list| {
            let others = moves.iter().filter(move |m| list.last() != Some(m));
            others.map(move |m| [list.as_slice(), &[*m]].concat())
        });
        longest = longer.collect();
        all.extend(longest.iter().cloned());
    }
    all
}

/// The best caps of all sizes with these runs, if their sum is below the limit.
fn worked(sizes: &[Size<'_, '_>], list: &[Move], limit: f64) -> Option<(f64, Vec<Candidate>)> {
    let mut to_come: f64 = sizes.iter().map(|size| size.least).sum();
    let (mut sum, mut caps) = (0.0, Vec::new());
    for size in sizes {
        to_come -= size.least;
        let cap = with_runs(size, list, limit - sum - to_come)?;
        sum += cap.objective;
        caps.push(cap);
    }
    (sum < limit).then_some((sum, caps))
}

/// The best cap of one size with these runs, each worked once at the least, below a limit.
fn with_runs(size: &Size<'_, '_>, list: &[Move], limit: f64) -> Option<Candidate> {
    let mut best = Best::below(limit);
    let mut multipliers = [0.0; MOST_RUNS];
    for (choice, widths) in &size.frames {
        if widths.root > best.limit(MOST_RUNS) || choice.frame.turn_pairs() <= list.len() {
            continue;
        }
        let mut choice = choice.clone();
        choice.frame.moves = list.to_vec();
        choice.frame.chain = true;
        let widths = Widths::new(&choice.frame, choice.net);
        improve(size.problem, &(choice, widths), &mut multipliers, &mut best);
    }
    best.into_best()
}

/// What is said when no list serves all sizes.
pub(crate) fn no_same_runs(most_runs: usize) -> Diagnostic {
    let message = format!("No list of {most_runs} runs or fewer can be worked in all sizes.");
    Diagnostic::new(&NO_SAME_RUNS, message)
}
