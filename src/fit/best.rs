//! The best caps known for every number of runs, and what may still be looked for.

use super::plan::CapPlan;
use super::search::ROUNDING;

/// The largest number of runs looked at.
pub const MOST_RUNS: usize = 8;

/// A cap, and its objective as the solver added it up.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) objective: f64,
    pub(crate) plan: CapPlan,
}

/// The best caps with at most 1, 2, ... runs so far.
#[derive(Clone, Debug)]
pub(crate) struct Best {
    pub(crate) by_runs: Vec<Option<Candidate>>,
    /// What was left without proof costs at least this much, for every number of runs.
    pub(crate) unproven: Vec<f64>,
    /// Caps that cost more are not looked for.
    ceiling: f64,
    /// The multiplier of the area that was right last, for every number of runs.
    multipliers: [f64; MOST_RUNS],
    /// For every number of runs, whether a cap was looked for.
    asked: [bool; MOST_RUNS],
    /// Table entries and labels made so far, and how many may be made before what is left is given up.
    pub(crate) work: u64,
    pub(crate) most_work: u64,
    /// Only the largest number of runs is asked for.
    only_most: bool,
    near: Option<Near>,
}

/// All caps with at most so many runs that cost no more than a limit, instead of the best.
#[derive(Clone, Debug)]
struct Near {
    runs: usize,
    limit: f64,
    found: Vec<Candidate>,
}

/// More caps near the best than this are not kept.
const MOST_NEAR: usize = 4000;

/// Table entries and labels of one fit, all frames together: a few seconds. Caps of hand knitting stay far
/// below; beyond, the fit says how much better a cap could be.
const MOST_WORK: u64 = 100_000_000;

impl Best {
    pub(crate) fn none() -> Self {
        Self {
            by_runs: vec![None; MOST_RUNS],
            unproven: vec![f64::INFINITY; MOST_RUNS],
            ceiling: f64::INFINITY,
            multipliers: [0.0; MOST_RUNS],
            asked: [false; MOST_RUNS],
            work: 0,
            most_work: MOST_WORK,
            only_most: false,
            near: None,
        }
    }

    /// Gives up after so many table entries and labels, once a cap is known.
    pub(crate) fn within(most_work: u64) -> Self {
        Self {
            most_work,
            ..Self::none()
        }
    }

    /// Looks for the best cap below a ceiling, its runs given, and never gives up.
    pub(crate) fn below(ceiling: f64) -> Self {
        Self {
            ceiling,
            only_most: true,
            most_work: u64::MAX,
            ..Self::none()
        }
    }

    /// The best cap of all.
    pub(crate) fn into_best(self) -> Option<Candidate> {
        let found = self.by_runs.into_iter().flatten();
        found.min_by(|a, b| a.objective.total_cmp(&b.objective))
    }

    /// Looks for every cap with at most `runs` runs that costs no more than `limit`.
    pub(crate) fn near(runs: usize, limit: f64, multiplier: f64) -> Self {
        let near = Near {
            runs,
            limit,
            found: Vec::new(),
        };
        Self {
            near: Some(near),
            multipliers: [multiplier; MOST_RUNS],
            ..Self::none()
        }
    }

    /// The caps near the best, the best first.
    pub(crate) fn into_near(self) -> Vec<Candidate> {
        let mut found = self.near.map(|near| near.found).unwrap_or_default();
        found.sort_by(|a, b| a.objective.total_cmp(&b.objective));
        found
    }

    /// The objective to beat with at most this many runs.
    pub(crate) fn limit(&self, runs: usize) -> f64 {
        if let Some(near) = &self.near {
            let wanted = near.runs == runs && near.found.len() < MOST_NEAR;
            return if wanted {
                near.limit
            } else {
                f64::NEG_INFINITY
            };
        }
        if self.only_most && runs < MOST_RUNS {
            return f64::NEG_INFINITY;
        }
        self.least(runs).min(self.ceiling)
    }

    /// Notes that caps with so many runs are looked for; true when they were not before, or none is known.
    pub(crate) fn asks_anew(&mut self, runs: usize) -> bool {
        let unknown = self.least(runs).is_infinite();
        let first = self.asked.get_mut(runs - 1);
        let first = first.is_some_and(|asked| !std::mem::replace(asked, true));
        self.near.is_none() && (first || unknown)
    }

    /// Limits to look below, one after the other, until the best is found: what lies between grows fast
    /// with their distance. Only the last where all caps below it are wanted.
    pub(crate) fn stages(&self, least: f64, most: f64) -> impl Iterator<Item = f64> + use<> {
        let first = if self.near.is_some() { 0 } else { 4 };
        (0..=first)
            .rev()
            .map(move |n| most - (most - least) * (1.0 - 0.5_f64.powi(n)))
    }

    /// How often a better multiplier is looked for: where the best is known its own serves.
    pub(crate) const fn tunings(&self, most: usize) -> usize {
        if self.near.is_some() { 1 } else { most }
    }

    /// A multiplier of the area for so many runs.
    pub(crate) fn multiplier(&self, runs: usize) -> f64 {
        self.multipliers[runs - 1]
    }

    /// Notes the multiplier that was right.
    pub(crate) fn set_multiplier(&mut self, runs: usize, multiplier: f64) {
        self.multipliers[runs - 1] = multiplier;
    }

    /// The best objective known with at most this many runs.
    fn least(&self, runs: usize) -> f64 {
        let known = self.by_runs.iter().take(runs).flatten();
        known
            .map(|candidate| candidate.objective)
            .fold(f64::INFINITY, f64::min)
    }

    /// The fewest runs that a cap is known for.
    pub(crate) fn fewest_runs(&self) -> Option<usize> {
        self.by_runs.iter().position(Option::is_some).map(|i| i + 1)
    }

    /// Offers a cap that needs so many runs.
    pub(crate) fn offer(&mut self, runs: usize, objective: f64, plan: impl FnOnce() -> CapPlan) {
        if let Some(near) = &mut self.near {
            if objective <= near.limit {
                let plan = plan();
                near.found.push(Candidate { objective, plan });
            }
        } else if objective + ROUNDING < self.least(runs)
            && let Some(place) = self.by_runs.get_mut(runs - 1)
        {
            *place = Some(Candidate {
                objective,
                plan: plan(),
            });
        }
    }

    /// True when nothing was left without proof.
    pub(crate) fn is_proven(&self, runs: usize) -> bool {
        self.unproven
            .get(runs - 1)
            .is_some_and(|bound| bound.is_infinite())
    }

    /// Notes that caps of this cost or more were left without proof.
    pub(crate) fn left_unproven(&mut self, runs: usize, bound: f64) {
        if let Some(least) = self.unproven.get_mut(runs - 1) {
            *least = least.min(bound);
        }
    }

    /// With more runs allowed the answer is never worse: where a later frame found a better cap
    /// with fewer runs, that one stands.
    pub(crate) fn carry_over(&mut self) {
        for i in 1..self.by_runs.len() {
            let own = self.by_runs[i].as_ref();
            if own.is_none_or(|own| own.objective > self.least(i)) {
                self.by_runs[i] = self.by_runs[i - 1].clone();
            }
        }
    }
}
