//! The fit: the best cap for every number of runs, and the choice between simple and faithful.

use super::best::Best;
use super::few_runs::FEW;
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
}

impl Status {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Optimal => "optimal",
            Self::Feasible => "feasible",
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
    /// The best cap for every number of runs.
    pub trade: Vec<TradePoint>,
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
    for counts in turn_pair_counts(problem) {
        let best = best_of(problem, &counts);
        if let Some(fit) = choose(problem, &best) {
            return Ok(fit);
        }
    }
    Err(explain(problem))
}

/// The best caps of these numbers of turn pairs: below a low ceiling first, which keeps the tables
/// small, then below higher ones while there is a number of runs without an answer.
fn best_of(problem: &Problem<'_>, counts: &[u32]) -> Best {
    let choices = counts.iter().flat_map(|pairs| choices(problem, *pairs));
    let mut frames: Vec<(Choice, Widths)> = choices
        .map(|choice| {
            let widths = Widths::new(&choice.frame, choice.net);
            (choice, widths)
        })
        .collect();
    frames.sort_by(|a, b| a.1.root.total_cmp(&b.1.root));
    let least = frames.first().map_or(0.0, |frame| frame.1.root);
    let mut best = Best::none();
    for ceiling in ceilings(least) {
        if !best.raise_ceiling(FEW + 1, ceiling) {
            break;
        }
        for (choice, widths) in &frames {
            improve(problem, choice, widths, &mut best);
        }
    }
    best.carry_over();
    best
}

/// Objectives below which caps are looked for, one after the other: most answers lie below the first.
fn ceilings(least: f64) -> impl Iterator<Item = f64> {
    let growing = (0..10).map(move |n| (2.0 * least + 0.02) * f64::from(2_u32.pow(n)));
    growing.chain([f64::INFINITY])
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
    Some(Fit {
        measures: measure(problem, &plan),
        plan,
        status: if best.unproven.iter().all(|bound| bound.is_infinite()) {
            Status::Optimal
        } else {
            Status::Feasible
        },
        trade: trade(problem, best),
    })
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
