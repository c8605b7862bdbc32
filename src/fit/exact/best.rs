//! The best caps known for every number of runs, what may still be looked for, and how much work is left.

use super::sections::FlankPickUp;
use super::table::MOST_RUNS;
use crate::measure::{Stitches, Stop};
use crate::plan::{Crown, Move};

/// Differences below this are the last bits of sums.
pub(super) const ROUNDING: f64 = 1e-9;

/// Caps of so many runs at the most are few enough to try each.
pub(super) const FEW: usize = 2;

/// A cap that was found, and its objective as the solver adds it up.
#[derive(Clone, Debug)]
pub(crate) struct FoundCap {
    pub(crate) objective: f64,
    pub(crate) runs: usize,
    pub(super) join_change: i32,
    pub(crate) moves: Vec<Move>,
    pub(super) crown: Crown,
    pub(super) base: (Stitches, Stitches),
    pub(super) picked: Vec<FlankPickUp>,
}

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Aim {
    /// The best cap for every number of runs.
    Best,
    /// The best cap of all below a cost, however many runs it has.
    Below(f64),
    /// Every cap with at most so many runs that costs no more.
    Near(usize, f64),
    /// Any cap.
    Any,
}

/// The best caps with at most 1, 2, ... runs so far.
#[derive(Clone, Debug)]
pub(crate) struct Best {
    by_runs: Vec<Option<FoundCap>>,
    /// What was left without proof costs at least this much, for every number of runs.
    unproven: Vec<f64>,
    wanted: Aim,
    /// The number of runs looked for last.
    asked: Option<usize>,
    /// Caps of any number of runs were looked for.
    all_asked: bool,
    near: Vec<FoundCap>,
    /// Work done and the most that may be done: tables, nodes and pick-ups, in nodes.
    work: u64,
    most_work: u64,
    stop: Stop,
}

/// More caps near the best than this are not kept.
const MOST_NEAR: usize = 4000;

impl Best {
    pub(crate) fn new(wanted: Aim, most_work: u64) -> Self {
        Self {
            by_runs: vec![None; MOST_RUNS],
            unproven: vec![f64::INFINITY; MOST_RUNS],
            wanted,
            asked: None,
            all_asked: false,
            near: Vec::new(),
            work: 0,
            most_work,
            stop: Stop::never(),
        }
    }

    /// The same, but no more work is done once this is set.
    #[must_use]
    pub(crate) fn until(mut self, stop: &Stop) -> Self {
        self.stop = stop.clone();
        self
    }

    pub(crate) fn works(&mut self, by: u64) {
        self.work += by;
    }

    /// True when the work is spent, and a cap is known or will not be found.
    pub(crate) fn is_spent(&self, runs: usize) -> bool {
        let known = self.least(runs).is_finite() || !self.near.is_empty();
        // A third of the work is kept for fewer runs, which are quickly looked through.
        let share = match self.wanted {
            Aim::Best if !self.all_asked => self.most_work / 3,
            Aim::Best if runs == MOST_RUNS => self.most_work / 3 * 2,
            _ => self.most_work,
        };
        if self.stop.is_set() {
            return true;
        }
        self.work >= share && (known || self.work >= share.max(GIVE_UP))
    }

    /// So much more work is allowed.
    pub(super) const fn begin_proof(&mut self, most_work: u64) {
        self.most_work = self.work + most_work;
    }

    /// True when the work of the proof is spent.
    pub(super) fn is_out_of_proof(&self) -> bool {
        self.work >= self.most_work || self.stop.is_set()
    }

    /// Notes what a proof left: both bounds hold, so the better one does.
    pub(super) fn left_by_proof(&mut self, runs: usize, bound: f64) {
        if let Some(least) = self.unproven.get_mut(runs - 1) {
            *least = least.max(bound);
        }
    }

    /// The objective to beat with at most this many runs.
    pub(crate) fn limit(&self, runs: usize) -> f64 {
        match self.wanted {
            Aim::Best => self.least(runs),
            Aim::Below(limit) => limit.min(self.least(MOST_RUNS)),
            Aim::Near(_, limit) if self.near.len() < MOST_NEAR => limit,
            Aim::Near(..) => f64::NEG_INFINITY,
            Aim::Any if self.least(MOST_RUNS).is_finite() => f64::NEG_INFINITY,
            Aim::Any => f64::INFINITY,
        }
    }

    /// The next number of runs to look for, the most first: the best cap with eight that has four is the best
    /// with seven, six, five and four, too.
    pub(super) fn next_runs(&mut self) -> Option<usize> {
        let next = match (self.wanted, self.asked) {
            (Aim::Near(runs, _), None) => runs,
            // A good cap of few runs makes all later tables small.
            (Aim::Best, None) => FIRST_RUNS,
            (_, None) => MOST_RUNS,
            (Aim::Best, Some(FIRST_RUNS)) if !self.all_asked => {
                self.all_asked = true;
                MOST_RUNS
            }
            (Aim::Best, Some(before)) => {
                // Where none was found, what was left without proof may have any number of runs.
                let fewest = self.fewest_of_best(before).unwrap_or(FEW + 1);
                let bound = self.unproven.get(before - 1).copied()?;
                // All with the fewest runs were tried.
                for runs in fewest.max(FEW + 1)..before {
                    self.left_unproven(runs, bound);
                }
                fewest - 1
            }
            _ => return None,
        };
        self.asked = Some(next);
        let tried = matches!(self.wanted, Aim::Best) && next <= FEW;
        (next > 0 && !tried).then_some(next)
    }

    /// Runs of the best cap with at most so many.
    fn fewest_of_best(&self, runs: usize) -> Option<usize> {
        let caps = self.by_runs.iter().take(runs).flatten();
        let best = caps.min_by(|a, b| a.objective.total_cmp(&b.objective))?;
        Some(best.runs)
    }

    /// True when caps of one run and of two are to be tried first.
    pub(super) fn wants_few_runs(&self) -> bool {
        matches!(self.wanted, Aim::Best)
    }

    /// True when caps with fewer pick-up rates are wanted, too.
    pub(crate) fn wants_fewer_rates(&self) -> bool {
        matches!(self.wanted, Aim::Near(..))
    }

    /// The best objective known with at most this many runs.
    fn least(&self, runs: usize) -> f64 {
        let known = self.by_runs.iter().take(runs).flatten();
        known.map(|cap| cap.objective).fold(f64::INFINITY, f64::min)
    }

    pub(crate) fn offer(&mut self, cap: FoundCap) {
        if let Aim::Near(_, limit) = self.wanted {
            if cap.objective <= limit {
                self.near.push(cap);
            }
        } else if cap.objective + ROUNDING < self.least(cap.runs)
            && let Some(place) = self.by_runs.get_mut(cap.runs - 1)
        {
            *place = Some(cap);
        }
    }

    /// Notes that caps of this cost or more were left without proof.
    pub(crate) fn left_unproven(&mut self, runs: usize, bound: f64) {
        if let Some(least) = self.unproven.get_mut(runs - 1) {
            *least = least.min(bound);
        }
    }

    /// No cap with at most so many runs that was not looked at costs less.
    pub(crate) fn unproven(&self, runs: usize) -> f64 {
        self.unproven.get(runs - 1).copied().unwrap_or(0.0)
    }

    /// The best caps by runs: with more runs allowed the answer is never worse.
    pub(crate) fn into_by_runs(mut self) -> Vec<Option<FoundCap>> {
        let mut best: Option<FoundCap> = None;
        for cap in &mut self.by_runs {
            let better = |best: &FoundCap| {
                let own = cap.as_ref();
                own.is_none_or(|own| own.objective > best.objective)
            };
            if best.as_ref().is_some_and(better) {
                cap.clone_from(&best);
            }
            best.clone_from(cap);
        }
        self.by_runs
    }

    /// The best cap of all.
    pub(crate) fn into_best(self) -> Option<FoundCap> {
        let found = self.by_runs.into_iter().flatten();
        found.min_by(|a, b| a.objective.total_cmp(&b.objective))
    }

    /// The caps near the best, the best first.
    pub(crate) fn into_near(mut self) -> Vec<FoundCap> {
        self.near
            .sort_by(|a, b| a.objective.total_cmp(&b.objective));
        self.near
    }
}

/// Runs looked for first: most caps have no more.
pub(super) const FIRST_RUNS: usize = 4;

/// Work after which a search that found nothing ends, if it was not to do more: there may be a cap that it did not see.
pub(crate) const GIVE_UP: u64 = 200_000;
