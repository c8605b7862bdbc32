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
    /// Caps that cost more are not looked for yet.
    ceiling: f64,
    /// All caps that cost no more have been looked at.
    searched: f64,
    /// Table entries made so far.
    pub(crate) work: u64,
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

impl Best {
    pub(crate) fn none() -> Self {
        Self {
            by_runs: vec![None; MOST_RUNS],
            unproven: vec![f64::INFINITY; MOST_RUNS],
            ceiling: f64::INFINITY,
            searched: f64::NEG_INFINITY,
            work: 0,
            only_most: false,
            near: None,
        }
    }

    /// Looks for the best cap below a ceiling, its runs given.
    pub(crate) fn below(ceiling: f64) -> Self {
        Self {
            ceiling,
            only_most: true,
            ..Self::none()
        }
    }

    /// The best cap of all.
    pub(crate) fn into_best(self) -> Option<Candidate> {
        let found = self.by_runs.into_iter().flatten();
        found.min_by(|a, b| a.objective.total_cmp(&b.objective))
    }

    /// Looks for every cap with at most `runs` runs that costs no more than `limit`.
    pub(crate) fn near(runs: usize, limit: f64) -> Self {
        let near = Near {
            runs,
            limit,
            found: Vec::new(),
        };
        Self {
            near: Some(near),
            ..Self::none()
        }
    }

    /// The caps near the best, the best first.
    pub(crate) fn into_near(self) -> Vec<Candidate> {
        let mut found = self.near.map(|near| near.found).unwrap_or_default();
        found.sort_by(|a, b| a.objective.total_cmp(&b.objective));
        found
    }

    /// The objective to beat with at most this many runs; nothing beats one that is proven.
    pub(crate) fn limit(&self, runs: usize) -> f64 {
        if let Some(near) = &self.near {
            let wanted = near.runs == runs && near.found.len() < MOST_NEAR;
            return if wanted {
                near.limit
            } else {
                f64::NEG_INFINITY
            };
        }
        let least = self.least(runs);
        if least <= self.searched || self.only_most && runs < MOST_RUNS {
            return f64::NEG_INFINITY;
        }
        least.min(self.ceiling)
    }

    /// The same where all sequences are looked at one by one: no ceiling is needed.
    pub(crate) fn limit_of_few(&self, runs: usize) -> f64 {
        if self.near.is_some() || self.only_most {
            self.limit(runs)
        } else {
            self.least(runs)
        }
    }

    /// True where caps with so many runs are looked for and none is known below the ceiling.
    pub(crate) fn wants_an_answer(&self, runs: usize) -> bool {
        let least = self.least(runs);
        let unknown = least.is_infinite() || least > self.ceiling;
        self.near.is_none() && unknown && self.limit(runs) > f64::NEG_INFINITY
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

    /// Notes that caps of this cost or more were left without proof.
    pub(crate) fn left_unproven(&mut self, runs: usize, bound: f64) {
        if let Some(least) = self.unproven.get_mut(runs - 1) {
            *least = least.min(bound);
        }
    }

    /// Looks below a higher ceiling from now on; false when every answer for at least so many runs
    /// is proven.
    pub(crate) fn raise_ceiling(&mut self, runs: usize, ceiling: f64) -> bool {
        if self.ceiling.is_finite() {
            self.searched = self.ceiling;
        }
        self.ceiling = ceiling;
        (runs..=MOST_RUNS).any(|runs| self.limit(runs) > f64::NEG_INFINITY)
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
