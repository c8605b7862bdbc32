//! Caps nearly as good as the best that are simpler to knit.

use super::codes::NO_SUCH_CHOICE;
use super::exact::{Aim, Best, Frames, Moves};
use super::measures::Measures;
use super::plan::{CapPlan, FlankPlan};
use super::problem::Problem;
use super::trade::{Fit, looks_like, measured};
use crate::diagnostic::Diagnostic;
use crate::measure::Stop;

/// A cap whose objective is within this share of the chosen one is looked at: what is then told apart by
/// nobody's eye is nearly as good.
pub const NEAR_TIE: f64 = 1.1;

/// Work spent on what is nearly as good, in nodes of the search: less than a fit takes.
const MOST_WORK: u64 = 60_000;

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

/// The caps within [`NEAR_TIE`] of the chosen one that look like it, with as many runs at the most, and are
/// simpler to knit: for each kind of simplicity the best cap found that has more of it, the best first.
///
/// The search is the fit's own; where it is spent before its end, a tie may be missed, none is made up.
///
/// Once `stop` is set it ends with what is known by then.
pub fn near_ties(problem: &Problem<'_>, fit: &Fit, stop: &Stop) -> Vec<NearTie> {
    let runs = fit.plan.runs();
    let limit = fit.measures.objective * NEAR_TIE;
    let mut best = Best::new(Aim::Near(runs, limit), MOST_WORK).until(stop);
    Frames::of(problem, Moves::Allowed).search(&mut best);
    let found: Vec<(CapPlan, Measures)> = best
        .into_near()
        .iter()
        .map(|cap| measured(problem, cap))
        .filter(|(_, measures)| looks_like(measures, &fit.measures))
        .collect();
    let mut ties: Vec<&(CapPlan, Measures)> = Vec::new();
    for kind in Simpler::ALL {
        let simpler = |plan: &CapPlan| kind.amount(plan) < kind.amount(&fit.plan);
        let tie = found.iter().find(|(plan, _)| simpler(plan));
        if let Some(tie) = tie.filter(|tie| !ties.iter().any(|known| known.0 == tie.0)) {
            ties.push(tie);
        }
    }
    let mut ties: Vec<NearTie> = ties
        .into_iter()
        .map(|(plan, measures)| NearTie {
            plan: plan.clone(),
            measures: measures.clone(),
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
