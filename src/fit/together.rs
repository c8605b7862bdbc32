//! One list of runs for all sizes: the same moves in the same order, each size with its own numbers.

use super::best::{Best, Candidate, MOST_RUNS};
use super::codes::NO_SAME_RUNS;
use super::frames::Choice;
use super::measures::measure;
use super::objective::WEIGHTS;
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
/// Exact: lists are built run by run, and a beginning is given up only when the widths of all sizes,
/// each at its best, already cost more than a list that is known (branch and bound; A. Land and
/// A. Doig, 1960). The turn pairs of a size are those its own fit was chosen from, its moves those
/// that all sizes allow.
pub fn together(problems: &[Problem<'_>], fits: &[Fit], most_runs: usize) -> Option<Together> {
    let sizes = problems.iter().zip(fits);
    let sizes: Vec<Size<'_, '_>> = sizes
        .map(|(problem, fit)| size_of(problem, fit, most_runs))
        .collect();
    let mut tree = Tree {
        moves: common_moves(&sizes),
        sizes,
        most_runs,
        best: None,
    };
    for fit in fits {
        tree.try_list(&own_runs(fit, most_runs));
    }
    let root = tree.root();
    tree.grow(&mut Vec::new(), &root);
    let (_, runs, caps) = tree.best?;
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

/// What the widths of a beginning of a list cost at the least: for every size and frame, by pair and
/// width.
type Beginning = Vec<Vec<Vec<f64>>>;

/// The tree of all lists of runs.
struct Tree<'a, 'p> {
    moves: Vec<Move>,
    sizes: Vec<Size<'a, 'p>>,
    most_runs: usize,
    /// Sum of objectives, list and caps of the best one known.
    best: Option<(f64, Vec<Move>, Vec<Candidate>)>,
}

impl Tree<'_, '_> {
    fn limit(&self) -> f64 {
        self.best.as_ref().map_or(f64::INFINITY, |best| best.0)
    }

    /// Works a list in all sizes and keeps it when it is better than the best known.
    fn try_list(&mut self, list: &[Move]) {
        if !list.is_empty()
            && let Some((sum, caps)) = worked(&self.sizes, list, self.limit())
        {
            self.best = Some((sum, list.to_vec(), caps));
        }
    }

    fn root(&self) -> Beginning {
        let sizes = self.sizes.iter();
        let frames = |size: &Size<'_, '_>| {
            let frames = size.frames.iter();
            frames.map(|(_, widths)| widths.beginning()).collect()
        };
        sizes.map(frames).collect()
    }

    /// Tries every list that goes on from this one.
    fn grow(&mut self, list: &mut Vec<Move>, beginning: &Beginning) {
        for m in self.moves.clone() {
            if list.last() == Some(&m) {
                continue;
            }
            let longer = self.one_run_more(beginning, m);
            let (whole, going_on) = self.bounds(&longer);
            list.push(m);
            if whole < self.limit() {
                self.try_list(list);
            }
            if list.len() < self.most_runs && going_on < self.limit() {
                self.grow(list, &longer);
            }
            list.pop();
        }
    }

    fn one_run_more(&self, beginning: &Beginning, m: Move) -> Beginning {
        let widens = m.widens().count() as usize;
        let sizes = self.sizes.iter().zip(beginning);
        let frames = |(size, sums): (&Size<'_, '_>, &Vec<Vec<f64>>)| {
            let frames = size.frames.iter().zip(sums);
            frames
                .map(|((_, widths), sums)| {
                    let each = WEIGHTS.decrease * f64::from(m.drop) / widths.pairs as f64;
                    widths.one_run_more(sums, widens, each)
                })
                .collect()
        };
        sizes.map(frames).collect()
    }

    /// No list that is these runs, and none that begins with them, costs less in all sizes together.
    fn bounds(&self, beginning: &Beginning) -> (f64, f64) {
        let (mut whole, mut going_on) = (0.0, 0.0);
        for (size, sums) in self.sizes.iter().zip(beginning) {
            let (mut ends, mut goes_on) = (f64::INFINITY, f64::INFINITY);
            for ((_, widths), sums) in size.frames.iter().zip(sums) {
                let bounds = widths.ends(sums);
                ends = ends.min(bounds.0);
                goes_on = goes_on.min(bounds.1);
            }
            whole += ends.max(size.least);
            going_on += goes_on.max(size.least);
        }
        (whole, going_on)
    }
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
    for (choice, widths) in &size.frames {
        if widths.root > best.limit(MOST_RUNS) || choice.frame.turn_pairs() <= list.len() {
            continue;
        }
        let mut choice = choice.clone();
        choice.frame.moves = list.to_vec();
        choice.frame.chain = true;
        let widths = Widths::new(&choice.frame, choice.net);
        improve(size.problem, &(choice, widths), &mut best);
    }
    best.into_best()
}

/// What is said when no list serves all sizes.
pub(crate) fn no_same_runs(most_runs: usize) -> Diagnostic {
    let message = format!("No list of {most_runs} runs or fewer can be worked in all sizes.");
    Diagnostic::new(&NO_SAME_RUNS, message)
}
