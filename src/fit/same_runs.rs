//! One list of runs for all sizes: the same moves in the same order, each size with its own numbers.

use super::codes::NO_SAME_RUNS;
use super::exact::{Aim, Best, FoundCap, Frames, Moves};
use super::plan::Move;
use super::problem::Problem;
use super::trade::{Fit, measured};
use crate::diagnostic::Diagnostic;
use crate::measure::Stop;

/// Work spent on one list in one size once a cap with it is known, in nodes of the search. Without one the search ends
/// when it is through or [`super::exact::GIVE_UP`] is spent.
const MOST_WORK: u64 = 20_000;

/// The fits of all sizes with the same runs, and what that costs.
#[derive(Clone, Debug)]
pub struct SameRunsFit {
    /// The moves of the runs, from the crown down.
    pub runs: Vec<Move>,
    /// One for each size, in the order given.
    pub fits: Vec<Fit>,
}

/// Finds the list of at most `most_runs` runs that all sizes can work with the least objective in
/// sum; `fits` are the sizes' own best caps. `None` when no list serves all sizes.
///
/// The lists tried are those that some size's own best caps use, for any number of runs: a list that is best for
/// none is hardly best for all. Each is fitted in every size by the fit's own search, and given up as soon as
/// its sum, with every size that is left at its own best, is no better than a list that is known.
pub fn same_runs(problems: &[Problem<'_>], fits: &[Fit], most_runs: usize) -> Option<SameRunsFit> {
    same_runs_until(problems, fits, most_runs, &Stop::never())
}

/// The same; once `stop` is set it ends with what is known by then.
pub fn same_runs_until(
    problems: &[Problem<'_>],
    fits: &[Fit],
    most_runs: usize,
    stop: &Stop,
) -> Option<SameRunsFit> {
    let least: Vec<f64> = fits.iter().map(|fit| own_least(fit, most_runs)).collect();
    let mut best: Option<(f64, Vec<Move>, Vec<FoundCap>)> = None;
    for list in lists(fits, most_runs) {
        let limit = best.as_ref().map_or(f64::INFINITY, |best| best.0);
        if let Some((sum, caps)) = worked(problems, &least, (&list, limit), stop) {
            best = Some((sum, list, caps));
        }
    }
    let (_, runs, caps) = best?;
    let fits = problems.iter().zip(fits).zip(caps);
    let fits = fits.map(|((problem, fit), cap)| {
        let (plan, measures) = measured(problem, &cap);
        fit.clone().with(plan, measures)
    });
    Some(SameRunsFit {
        runs,
        fits: fits.collect(),
    })
}

/// No cap of a size with as many runs at the most costs less.
fn own_least(fit: &Fit, most_runs: usize) -> f64 {
    let points = fit.trade.iter().filter(|point| point.runs <= most_runs);
    let objectives = points.filter_map(|point| Some(point.cap.as_ref()?.1.objective));
    objectives.fold(f64::INFINITY, f64::min).min(fit.bound)
}

/// The lists of runs of the sizes' own best caps, those of most sizes first.
fn lists(fits: &[Fit], most_runs: usize) -> Vec<Vec<Move>> {
    let mut counted: Vec<(usize, Vec<Move>)> = Vec::new();
    let points = fits.iter().flat_map(|fit| &fit.trade);
    for (plan, _) in points.filter_map(|point| point.cap.as_ref()) {
        let list: Vec<Move> = plan.front.runs().into_iter().map(|run| run.0).collect();
        if list.len() > most_runs {
            continue;
        }
        match counted.iter_mut().find(|(_, known)| *known == list) {
            Some((times, _)) => *times += 1,
            None => counted.push((1, list)),
        }
    }
    counted.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    counted.into_iter().map(|(_, list)| list).collect()
}

/// The best caps of all sizes with these runs, if their sum is below the limit.
fn worked(
    problems: &[Problem<'_>],
    least: &[f64],
    (list, limit): (&[Move], f64),
    stop: &Stop,
) -> Option<(f64, Vec<FoundCap>)> {
    let mut to_come: f64 = least.iter().sum();
    let (mut sum, mut caps) = (0.0, Vec::new());
    for (problem, least) in problems.iter().zip(least) {
        to_come -= least;
        let cap = with_runs(problem, list, limit - sum - to_come, stop)?;
        sum += cap.objective;
        caps.push(cap);
    }
    (sum < limit).then_some((sum, caps))
}

/// The best cap of one size with these runs, each worked once at the least, below a limit.
fn with_runs(problem: &Problem<'_>, list: &[Move], limit: f64, stop: &Stop) -> Option<FoundCap> {
    let mut best = Best::new(Aim::Below(limit), MOST_WORK).until(stop);
    Frames::of(problem, Moves::Chain(list)).search(&mut best);
    best.into_best()
}

/// What is said when no list serves all sizes.
pub(crate) fn no_same_runs(most_runs: usize) -> Diagnostic {
    let message = format!(
        "No list of {most_runs} runs or fewer was found that can be worked in all sizes (tried: those of each size's own best caps)."
    );
    Diagnostic::new(&NO_SAME_RUNS, message)
}
