//! The fit: the best cap for every number of runs, and the choice between simple and faithful.

use super::codes::TOO_FEW_RUNS;
use super::exact::{Aim, Best, FoundCap, Frames, MOST_RUNS, Moves};
use super::infeasible::explain;
use super::measures::{Measures, measure};
use super::plan::CapPlan;
use super::problem::Problem;
use crate::diagnostic::Diagnostic;
use crate::measure::Stop;

/// How much work a fit may do, in nodes of the search without stages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Work {
    /// To find first caps.
    pub first: u64,
    /// To find the best cap of three runs, and of four; more runs get a share of it.
    pub each: u64,
    /// To prove the cap that is chosen.
    pub proof: u64,
}

impl Work {
    /// What a fit does: the least found enough by trying on 60 random caps, when a table still took more of it. With a
    /// quarter for every number of runs the caps of long sleeves were worse, with two fifths of the last a tenth fewer
    /// were proven.
    pub const USUAL: Self = Self {
        first: 5_000,
        each: 100_000,
        proof: 1_000_000,
    };

    /// So much work to find a good cap, and none to prove it.
    pub const fn unproven(first: u64) -> Self {
        Self {
            first,
            each: 0,
            proof: 0,
        }
    }
}

/// How far a cap may stay behind the best of its list and be taken for as faithful.
#[derive(Clone, Copy, Debug)]
struct Eye {
    width_cm: f64,
    depth_cm: f64,
    area_pct: f64,
    strain_pct: f64,
}

/// What can be seen where nobody has to remember more than four runs: widths within a third of a millimetre, depth within
/// a millimetre, area within half a per cent and strain within a point (common practice, no source). Measured on 100 random
/// caps: with half a millimetre and two points a cap has 2.9 runs instead of 3.2, and a quarter of a point more strain.
const CLOSE: Eye = Eye {
    width_cm: 0.03,
    depth_cm: 0.1,
    area_pct: 0.5,
    strain_pct: 1.0,
};

/// What more than four runs must do better to be worth learning: a millimetre and a half of width, a per cent of area, two points
/// of strain (common practice, no source). Measured on the same caps: 3.0 runs instead of 3.2, the medians as before.
const PLAIN: Eye = Eye {
    width_cm: 0.15,
    depth_cm: 0.1,
    area_pct: 1.0,
    strain_pct: 2.0,
};

/// As many runs as a hand keeps in mind without looking (common practice, no source).
const FEW_RUNS: usize = 4;

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
    /// What it measures; the objective is the solver's own sum, which the certificate compares.
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
/// Minimises the objective of [`super::WEIGHTS`] over the turn pairs nearest to the old depth and one either
/// way, crowns within four stitches of the top width, the base within its tolerance, the stitches made
/// at the join within four of what both gauges call for, all move sequences of at most eight runs, and
/// pick-ups of at most three sections a flank that begin where a run begins or the straight part of
/// the armhole ends. Both flanks make the same moves, each is picked up along its own armhole.
///
/// # Errors
/// A finding that names the limit that leaves no cap, and what to change.
pub fn fit(problem: &Problem<'_>) -> Result<Fit, Diagnostic> {
    fit_within(problem, Work::USUAL)
}

/// The same with other work: what is left after it is given up once a cap is known; the status then says so, and
/// [`Fit::bound`] what a better cap would cost at the least.
///
/// # Errors
/// As [`fit`].
pub fn fit_within(problem: &Problem<'_>, work: Work) -> Result<Fit, Diagnostic> {
    fit_until(problem, work, &Stop::never())
}

/// The same; once `stop` is set it ends with what is known by then.
///
/// # Errors
/// As [`fit`].
pub fn fit_until(problem: &Problem<'_>, work: Work, stop: &Stop) -> Result<Fit, Diagnostic> {
    let mut best = Best::new(Aim::Best, work.first).until(stop);
    let mut frames = Frames::of(problem, Moves::Allowed);
    frames.search(&mut best);
    frames.improve(work.each, &mut best);
    let mut asked = Vec::new();
    loop {
        let chosen = choose(problem, best.clone())?;
        let (runs, found) = chosen.ok_or_else(|| explain(problem, stop))?;
        let done = found.status == Status::Optimal || work.proof == 0 || stop.is_set();
        if done || asked.contains(&runs) {
            return Ok(found);
        }
        // What the proof finds may make another number of runs the choice.
        asked.push(runs);
        frames.prove(runs, work.proof, &mut best);
    }
}

/// A cap's plan and its measures, with the objective as the solver added it up.
pub(super) fn measured(problem: &Problem<'_>, cap: &FoundCap) -> (CapPlan, Measures) {
    let plan = cap.plan();
    let measures = Measures {
        objective: cap.objective,
        ..measure(problem, &plan)
    };
    (plan, measures)
}

/// The choice, with the runs it may have.
fn choose(problem: &Problem<'_>, best: Best) -> Result<Option<(usize, Fit)>, Diagnostic> {
    let unproven: Vec<f64> = (1..=MOST_RUNS).map(|runs| best.unproven(runs)).collect();
    let by_runs = best.into_by_runs().into_iter().enumerate();
    let trade: Vec<TradePoint> = by_runs
        .map(|(i, cap)| TradePoint {
            runs: i + 1,
            cap: cap.map(|cap| measured(problem, &cap)),
        })
        .collect();
    let Some(fewest) = trade.iter().position(|point| point.cap.is_some()) else {
        return Ok(None);
    };
    let chosen = match problem.wishes.runs {
        Some(runs) => runs.clamp(1, trade.len()) - 1,
        None => simplest(&trade).unwrap_or(fewest),
    };
    let Some((plan, measures)) = trade.get(chosen).and_then(|point| point.cap.clone()) else {
        return Err(too_few_runs(chosen + 1, fewest + 1));
    };
    let bound = unproven.get(chosen).copied().unwrap_or(0.0).max(0.0);
    let proven = bound + 1e-9 >= measures.objective;
    let found = Fit {
        bound: if proven { measures.objective } else { bound },
        status: if proven {
            Status::Optimal
        } else {
            Status::Feasible
        },
        plan,
        measures,
        trade,
    };
    Ok(Some((chosen + 1, found)))
}

/// The fewest runs whose cap nobody can tell from the best; more than four only where the best of four is plainly worse.
pub(super) fn simplest(trade: &[TradePoint]) -> Option<usize> {
    let few = trade.get(..FEW_RUNS).unwrap_or(trade);
    let best = of_least_objective(trade)?;
    let plain = |at: &usize| {
        let cap = trade.get(*at).and_then(|point| point.cap.as_ref());
        cap.is_some_and(|(_, measures)| PLAIN.takes_for(measures, best))
    };
    let simple = of_least_objective(few).and_then(|best| fewest(few, best, &CLOSE));
    simple.filter(plain).or_else(|| fewest(trade, best, &CLOSE))
}

fn of_least_objective(trade: &[TradePoint]) -> Option<&Measures> {
    let caps = trade
        .iter()
        .filter_map(|point| Some(&point.cap.as_ref()?.1));
    caps.min_by(|a, b| a.objective.total_cmp(&b.objective))
}

/// The first of a list that this eye takes for as faithful as the best.
fn fewest(trade: &[TradePoint], best: &Measures, eye: &Eye) -> Option<usize> {
    trade.iter().position(|point| {
        let cap = point.cap.as_ref();
        cap.is_some_and(|(_, measures)| eye.takes_for(measures, best))
    })
}

/// True when the eye takes a cap for as faithful as another.
pub(crate) fn looks_like(cap: &Measures, best: &Measures) -> bool {
    CLOSE.takes_for(cap, best)
}

impl Eye {
    fn takes_for(&self, cap: &Measures, best: &Measures) -> bool {
        let width_cm = (cap.width_rms - best.width_rms).to_cm();
        let area_pct = cap.area_error_pct.abs() - best.area_error_pct.abs();
        let strain_pct = cap.strain_rms_pct - best.strain_rms_pct;
        let depth_cm = (cap.depth_error.abs() - best.depth_error.abs()).to_cm();
        width_cm <= self.width_cm
            && depth_cm <= self.depth_cm
            && area_pct <= self.area_pct
            && strain_pct <= self.strain_pct
    }
}

fn too_few_runs(asked: usize, fewest: usize) -> Diagnostic {
    let message =
        format!("No cap of this sleeve has {asked} runs or fewer; {fewest} are the fewest.");
    let next = format!("Ask for {fewest} runs or more (fit.runs), or leave it out.");
    Diagnostic::new(&TOO_FEW_RUNS, message).next(next)
}
