//! Caps nearly as good as the best that are simpler to knit.

use super::best::Best;
use super::codes::NO_SUCH_CHOICE;
use super::measures::{Measures, measure};
use super::objective::WEIGHTS;
use super::plan::{CapPlan, FlankPlan};
use super::problem::Problem;
use super::trade::{Fit, frames_of, search_frames};
use crate::diagnostic::Diagnostic;

/// A cap whose objective is within this share of the best one with as many runs is nearly as good.
pub const NEAR_TIE: f64 = 1.05;

/// What makes a cap simpler to knit than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Simpler {
    /// One run fewer to remember, or more.
    FewerRuns,
    /// Front and back are worked alike, so both rows of a pair turn at the same rate.
    Alike,
    /// Fewer pick-up rates.
    FewerRates,
    /// Fewer runs of a single move.
    FewerLoneMoves,
    /// More of the runs are of even length.
    EvenRuns,
    /// Fewer decreases.
    FewerDecreases,
}

impl Simpler {
    const ALL: [Self; 6] = [
        Self::FewerRuns,
        Self::Alike,
        Self::FewerRates,
        Self::FewerLoneMoves,
        Self::EvenRuns,
        Self::FewerDecreases,
    ];

    /// The words for people.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FewerRuns => "fewer runs",
            Self::Alike => "front and back alike",
            Self::FewerRates => "fewer pick-up rates",
            Self::FewerLoneMoves => "fewer runs of a single pair",
            Self::EvenRuns => "more runs of even length",
            Self::FewerDecreases => "fewer decreases",
        }
    }

    /// How much of it a cap has: less is simpler.
    fn amount(self, plan: &CapPlan) -> u32 {
        let both = |of: fn(&FlankPlan) -> usize| of(&plan.front) + of(&plan.back);
        let amount = match self {
            Self::FewerRuns => plan.runs(),
            Self::Alike => usize::from(!plan.flanks_alike()),
            Self::FewerRates => both(|flank| flank.zones.len()),
            Self::FewerLoneMoves => both(|flank| count_runs(flank, |times| times == 1)),
            Self::EvenRuns => both(|flank| count_runs(flank, |times| times % 2 == 1)),
            Self::FewerDecreases => both(|flank| flank.decreases().count() as usize),
        };
        u32::try_from(amount).unwrap_or(u32::MAX)
    }
}

fn count_runs(flank: &FlankPlan, wanted: fn(u32) -> bool) -> usize {
    flank.runs().iter().filter(|run| wanted(run.1)).count()
}

/// A cap nearly as good as the chosen one.
#[derive(Clone, Debug)]
pub struct NearTie {
    /// The cap.
    pub plan: CapPlan,
    /// What it measures.
    pub measures: Measures,
    /// What is simpler about it.
    pub simpler: Vec<Simpler>,
}

/// The caps within [`NEAR_TIE`] of the chosen one, with as many runs at the most, that are simpler to
/// knit: for each kind of simplicity the best cap that has more of it, the best first.
///
/// Exact over the same model as the fit, but for caps that agree in frame, pick-up and sum of widths,
/// of which only the best is looked at.
pub fn near_ties(problem: &Problem<'_>, fit: &Fit) -> Vec<NearTie> {
    let runs = fit.plan.runs();
    let error = fit.measures.area_error_pct / 100.0;
    let limit = fit.measures.objective * NEAR_TIE;
    let mut best = Best::near(runs, limit, 2.0 * WEIGHTS.area * error);
    search_frames(problem, &frames_of(problem, &fit.plan), &mut best);
    let found = best.into_near();
    let mut ties: Vec<&CapPlan> = Vec::new();
    for kind in Simpler::ALL {
        let simpler = |plan: &CapPlan| kind.amount(plan) < kind.amount(&fit.plan);
        let tie = found.iter().find(|candidate| simpler(&candidate.plan));
        if let Some(tie) = tie.filter(|tie| !ties.contains(&&tie.plan)) {
            ties.push(&tie.plan);
        }
    }
    let mut ties: Vec<NearTie> = ties
        .into_iter()
        .map(|plan| NearTie {
            plan: plan.clone(),
            measures: measure(problem, plan),
            simpler: (Simpler::ALL.into_iter())
                .filter(|kind| kind.amount(plan) < kind.amount(&fit.plan))
                .collect(),
        })
        .collect();
    ties.sort_by(|a, b| a.measures.objective.total_cmp(&b.measures.objective));
    ties
}

/// What is said when a case picks a cap that is not offered.
pub(crate) fn no_such_choice(choice: usize, offered: usize) -> Diagnostic {
    let message = match offered {
        1 => format!("fit.choice is {choice}, but only the best cap is offered."),
        n => format!(
            "fit.choice is {choice}, but {n} caps are offered: the best and {} near it.",
            n - 1
        ),
    };
    Diagnostic::new(&NO_SUCH_CHOICE, message)
}
