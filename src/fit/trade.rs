//! The fit: the best cap for every number of runs, and the choice between simple and faithful.

use super::best::Best;
use super::codes::TOO_FEW_RUNS;
use super::frames::{Choice, choices, turn_pair_counts};
use super::infeasible::explain;
use super::measures::{Measures, measure};
use super::plan::CapPlan;
use super::problem::Problem;
use super::solve::improve;
use super::widths::Widths;
use crate::diagnostic::Diagnostic;

/// The smallest number of runs within this share of the best objective is chosen.
const NEAR_BEST: f64 = 1.10;

/// What has been proven about a fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// No cap of the model has a lower objective with as many runs.
    Optimal,
    /// A cap of the model; a better one was not ruled out.
    Feasible,
    /// A cap of the model that was picked although a better one is known.
    Picked,
}

impl Status {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Optimal => "optimal",
            Self::Feasible | Self::Picked => "feasible",
        }
    }
}

/// The best cap with at most so many runs.
#[derive(Clone, Debug)]
pub struct TradePoint {
    /// Runs allowed.
    pub runs: usize,
    /// The best cap with that many, and its measures; `None` when there is none.
    pub cap: Option<(CapPlan, Measures)>,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The chosen cap.
    pub plan: CapPlan,
    /// What it measures.
    pub measures: Measures,
    /// What has been proven.
    pub status: Status,
    /// No cap of the model with as many runs has a lower objective than this; the objective itself
    /// where it is optimal.
    pub bound: f64,
    /// The best cap for every number of runs.
    pub trade: Vec<TradePoint>,
}

impl Fit {
    /// How far below the objective a better cap could be at the most, in per cent of it.
    pub fn gap_pct(&self) -> f64 {
        100.0 * (1.0 - self.bound / self.measures.objective.max(f64::MIN_POSITIVE))
    }

    /// The same fit with a cap that was picked instead.
    #[must_use]
    pub fn with(self, plan: CapPlan, measures: Measures) -> Self {
        Self {
            plan,
            measures,
            status: Status::Picked,
            ..self
        }
    }
}

/// Fits a short-row cap to the old cap and the armhole.
///
/// Minimises the objective of [`super::WEIGHTS`] over the turn pairs within a row of the old
/// depth (one pair off where none of those can be knitted), crowns within four stitches of the top
/// width, the base within its tolerance, the candidate pick-up plans (one even zone, or a denser
/// upper zone at every row, 3 in 4 or 2 in 3 over a quarter, a third or half of the stitches) and
/// all move sequences of at most eight runs.
///
/// # Errors
/// A finding that names the limit that leaves no cap, and what to change.
pub fn fit(problem: &Problem<'_>) -> Result<Fit, Diagnostic> {
    fit_from(problem, &Best::none())
}

/// The same, but what is left after so many table entries is given up once a cap is known; the status
/// then says so, and [`Fit::bound`] what a better cap would cost at the least.
///
/// # Errors
/// As [`fit`].
pub fn fit_within(problem: &Problem<'_>, most_work: u64) -> Result<Fit, Diagnostic> {
    fit_from(problem, &Best::within(most_work))
}

fn fit_from(problem: &Problem<'_>, start: &Best) -> Result<Fit, Diagnostic> {
    for counts in turn_pair_counts(problem) {
        let mut best = start.clone();
        search_frames(problem, &frames(problem, &counts), &mut best);
        best.carry_over();
        if let Some(fit) = choose(problem, &best) {
            return Ok(fit);
        }
        // There are caps, but none with as few runs as were asked for.
        if let (Some(asked), Some(fewest)) = (problem.wishes.runs, best.fewest_runs()) {
            return Err(too_few_runs(asked, fewest));
        }
    }
    Err(explain(problem))
}

/// The frames of these numbers of turn pairs and their widths, the most promising first.
fn frames(problem: &Problem<'_>, counts: &[u32]) -> Vec<(Choice, Widths)> {
    let choices = counts.iter().flat_map(|pairs| choices(problem, *pairs));
    let mut frames: Vec<(Choice, Widths)> = choices
        .map(|choice| {
            let widths = Widths::new(&choice.frame, choice.net);
            (choice, widths)
        })
        .collect();
    frames.sort_by(|a, b| a.1.root.total_cmp(&b.1.root));
    frames
}

/// The frames that a cap was chosen from.
pub(crate) fn frames_of(problem: &Problem<'_>, plan: &CapPlan) -> Vec<(Choice, Widths)> {
    let mut counts = turn_pair_counts(problem).into_iter();
    let counts = counts.find(|counts| counts.contains(&plan.turn_pairs()));
    frames(problem, &counts.unwrap_or_default())
}

pub(crate) fn search_frames(problem: &Problem<'_>, frames: &[(Choice, Widths)], best: &mut Best) {
    for frame in frames {
        improve(problem, frame, best);
    }
}

fn choose(problem: &Problem<'_>, best: &Best) -> Option<Fit> {
    let objectives: Vec<Option<f64>> = best
        .by_runs
        .iter()
        .map(|candidate| candidate.as_ref().map(|c| c.objective))
        .collect();
    let least = objectives
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let near = |objective: &Option<f64>| objective.is_some_and(|o| o <= least * NEAR_BEST);
    let chosen = match problem.wishes.runs {
        Some(runs) => runs.clamp(1, best.by_runs.len()) - 1,
        None => objectives.iter().position(near)?,
    };
    let plan = best.by_runs.get(chosen)?.as_ref()?.plan.clone();
    let measures = measure(problem, &plan);
    let unproven = best.unproven.iter().take(chosen + 1).copied();
    Some(Fit {
        bound: unproven.fold(measures.objective, f64::min).max(0.0),
        measures,
        plan,
        status: if best.unproven.iter().all(|bound| bound.is_infinite()) {
            Status::Optimal
        } else {
            Status::Feasible
        },
        trade: trade(problem, best),
    })
}

fn too_few_runs(asked: usize, fewest: usize) -> Diagnostic {
    let message =
        format!("No cap of this sleeve has {asked} runs or fewer; {fewest} are the fewest.");
    let next = format!("Ask for {fewest} runs or more (fit.runs), or leave it out.");
    Diagnostic::new(&TOO_FEW_RUNS, message).next(next)
}

fn trade(problem: &Problem<'_>, best: &Best) -> Vec<TradePoint> {
    let points = best.by_runs.iter().enumerate();
    points
        .map(|(i, candidate)| TradePoint {
            runs: i + 1,
            cap: candidate
                .as_ref()
                .map(|c| (c.plan.clone(), measure(problem, &c.plan))),
        })
        .collect()
}
