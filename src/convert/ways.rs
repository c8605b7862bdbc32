//! Ways on from a state that is not the plan's: as it is, put right among what waits, or ripped back. Each is fitted
//! before anything is said of it.

use super::landmarks::MEASURED_TO;
use super::on_needles_words::{correction_words, ripped_words};
use crate::case::Mend;
use crate::check::{Outcome, Tried};
use crate::fit::{
    Begun, Correction, Fit, Measures, Problem, WEIGHTS, fit_rest, fit_rest_below, looks_like,
    upper_arm_stitches,
};
use crate::measure::{Length, Stitches, Stop, Units};
use crate::plan::{Flank, FlankPlan};

/// What is done before the work goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum WayKind {
    /// Nothing.
    Keep,
    /// Stitches are put right among those that wait.
    Correct(Correction),
    /// So many pairs are ripped back.
    RipBack(u32),
}

/// A way that was tried.
pub(super) struct Way {
    pub(super) kind: WayKind,
    pub(super) begun: Begun,
    /// The upper arm that has to be accepted, where the one wanted cannot be had.
    pub(super) upper_arm: Option<Length>,
    fit: Option<Fit>,
    /// What the upper arm costs that is not the one wanted.
    off: f64,
}

/// All that were tried: as it is, the best correction, the shortest way back that helps.
pub(super) struct Ways {
    planned: Fit,
    kept: Way,
    correction: Option<Way>,
    back: Option<Way>,
}

/// So many stitches a side are put right at the most, unless the plan's own counts are further off.
const MOST_A_SIDE: i32 = 6;

/// A step more to remember costs as much as flanks that differ, in square centimetres of width.
const A_STEP: f64 = WEIGHTS.unlike;

/// Stitches by which another upper arm is accepted at the most.
const MOST_ARM_CHANGE: u32 = 20;

impl Ways {
    /// Once `stop` is set no more is tried.
    pub(super) fn tried(
        (problem, fit): (&Problem<'_>, &Fit),
        planned: &Begun,
        begun: &Begun,
        stop: &Stop,
    ) -> Self {
        // What cannot cost less than the best way known is not looked for.
        let way = |kind, begun: Begun, below: f64| Way {
            fit: if stop.is_set() {
                None
            } else {
                fit_rest_below(problem, &begun, below)
            },
            kind,
            begun,
            upper_arm: None,
            off: 0.0,
        };
        let kept = Way::kept(problem, begun, stop);
        let good = |way: &Way| {
            let rest = way.fit.as_ref();
            let as_wanted = way.upper_arm.is_none();
            as_wanted && rest.is_some_and(|rest| looks_like(&rest.measures, &fit.measures))
        };
        let enough = good(&kept) && begun.turn_pairs > 0;
        let corrections = if enough {
            Vec::new()
        } else {
            corrections(planned, begun)
        };
        let kept_cost = kept.cost().unwrap_or(f64::INFINITY);
        // A pick-up shows both; worked rows only what is better than going on.
        let mut least = if begun.turn_pairs > 0 {
            kept_cost
        } else {
            f64::INFINITY
        };
        let mut correction = None;
        for by in corrections {
            let Some(begun) = begun.corrected(by) else {
                continue;
            };
            let way = way(WayKind::Correct(by), begun, least - put_right(by));
            if let Some(cost) = way.cost().filter(|cost| *cost < least) {
                least = cost;
                correction = Some(way);
            }
        }
        let nearer = |way: &Way| match (way.cost(), kept.cost()) {
            (Some(cost), Some(kept)) => cost < kept,
            (cost, kept) => cost.is_some() && kept.is_none(),
        };
        let mut back = None;
        // Needles change after a row: what is ripped back to the pick-up is a cap of the other needles alone.
        let most = begun.turn_pairs - begun.turn_pairs.min(u32::from(problem.worked.is_some()));
        for pairs in 1..=if enough { 0 } else { most } {
            let other = way(WayKind::RipBack(pairs), begun.ripped_back(pairs), kept_cost);
            let found = good(&other);
            let better = back.as_ref().is_none_or(|best: &Way| {
                other.cost().unwrap_or(f64::INFINITY) < 0.9 * best.cost().unwrap_or(f64::INFINITY)
            });
            if nearer(&other) && (found || better) {
                back = Some(other);
            }
            if found {
                break;
            }
        }
        Self {
            planned: fit.clone(),
            correction: correction.filter(|way| begun.turn_pairs == 0 || nearer(way)),
            back,
            kept,
        }
    }

    /// The way the pattern takes, with its cap: a pick-up takes what costs less, worked rows stay as they are,
    /// unless the case says which.
    pub(super) fn taken(&self, mend: Option<Mend>) -> Option<(&Way, &Fit)> {
        let with = |way: &'_ Way| way.fit.is_some();
        let correction = self.correction.as_ref().filter(|way| with(way));
        let kept = Some(&self.kept).filter(|way| with(way));
        let begun = self.kept.begun.turn_pairs > 0;
        let way = match (mend, correction, kept) {
            (Some(Mend::Correct), Some(way), _) | (None, Some(way), None)
                if !begun || mend.is_some() =>
            {
                Some(way)
            }
            (None, Some(corrected), Some(kept)) if !begun && cheaper(corrected, kept) => {
                Some(corrected)
            }
            _ => kept,
        }?;
        Some((way, way.fit.as_ref()?))
    }

    /// True when nobody can tell with a tape that a cap is further off than the plan was.
    pub(super) fn is_close(&self, way: &Way, rest: &Fit) -> bool {
        way.upper_arm.is_none() && no_further(&rest.measures, &self.planned.measures)
    }

    pub(super) fn has_correction(&self) -> bool {
        self.correction.is_some()
    }

    pub(super) fn has_kept(&self) -> bool {
        self.kept.fit.is_some()
    }

    /// What was tried beside going on as it is, or beside the way that is taken.
    pub(super) fn words(
        &self,
        units: Units,
        first_is: Flank,
        taken: Option<&Way>,
        keys: &dyn Fn(&Way) -> Vec<String>,
    ) -> Vec<Tried> {
        let others = [self.correction.as_ref(), self.back.as_ref()];
        let is_taken = |way: &Way| taken.is_some_and(|taken| taken.kind == way.kind);
        let others = others.into_iter().flatten();
        let others = others.filter(|way| way.fit.is_some() && !is_taken(way));
        let told = |way: &Way| Tried {
            keys: keys(way),
            ..way.words(units, first_is)
        };
        others.map(told).collect()
    }

    /// The pick-up kept and put right.
    pub(super) fn both(&self, units: Units, first_is: Flank) -> Vec<Tried> {
        let both = [Some(&self.kept), self.correction.as_ref()];
        let both = both.into_iter().flatten();
        both.map(|way| way.words(units, first_is)).collect()
    }
}

impl Way {
    /// The state as it is, with the upper arm nearest to the one wanted that can be had.
    fn kept(problem: &Problem<'_>, begun: &Begun, stop: &Stop) -> Self {
        let way = |fit, upper_arm: Option<Length>| {
            let off = upper_arm.map_or(0.0, |other| (other - problem.upper_arm).to_cm() / 2.0);
            Self {
                kind: WayKind::Keep,
                begun: begun.clone(),
                upper_arm,
                fit,
                off: off * off,
            }
        };
        if let Ok(fit) = fit_rest(problem, begun) {
            return way(Some(fit), None);
        }
        let other = |change: i32| {
            if stop.is_set() {
                return None;
            }
            let count = upper_arm_stitches(problem)
                .count()
                .checked_add_signed(change)?;
            let upper_arm = problem.tube_gauge.stitch_width() * f64::from(count);
            let other = Problem {
                upper_arm,
                ..problem.clone()
            };
            let so_many = upper_arm_stitches(&other) == Stitches(count);
            let fit = fit_rest(&other, begun).ok().filter(|_| so_many)?;
            Some(way(Some(fit), Some(upper_arm)))
        };
        let most = i32::try_from(MOST_ARM_CHANGE).unwrap_or(0);
        let mut nearest = (1..=most).flat_map(|n| [-n, n]);
        nearest.find_map(other).unwrap_or_else(|| way(None, None))
    }

    /// The objective, and what it costs to put stitches right: each as much as one made at the join.
    fn cost(&self) -> Option<f64> {
        let put_right = match self.kind {
            WayKind::Correct(by) => put_right(by),
            WayKind::Keep | WayKind::RipBack(_) => 0.0,
        };
        Some(self.fit.as_ref()?.measures.objective + put_right + self.off)
    }

    /// `, the upper arm 12.7 in`, where it is not the one wanted.
    pub(super) fn arm_words(&self, units: Units, fit: &Fit) -> String {
        match self.upper_arm {
            None => String::new(),
            Some(_) => format!(", the upper arm {}", units.show(fit.measures.upper_arm)),
        }
    }

    fn words(&self, units: Units, first_is: Flank) -> Tried {
        let outcome = |fit: &Fit| {
            Outcome {
                units,
                plan: &fit.plan,
                measures: &fit.measures,
            }
            .words()
        };
        Tried {
            keys: Vec::new(),
            way: match self.kind {
                WayKind::Keep => "Kept as it is".to_owned(),
                WayKind::Correct(by) => correction_words(by, first_is),
                WayKind::RipBack(pairs) => ripped_words(pairs, self.begun.turn_pairs),
            },
            comes_to: self
                .fit
                .as_ref()
                .map(|fit| format!("{}{}", outcome(fit), self.arm_words(units, fit))),
        }
    }
}

/// What it costs to put stitches right: each as much as one made at the join.
fn put_right(by: Correction) -> f64 {
    WEIGHTS.join * f64::from(by.count())
}

/// Widths and depth to what a tape is read to, area and edge to two parts in a hundred (common practice, no source).
fn no_further(rest: &Measures, planned: &Measures) -> bool {
    let tape = MEASURED_TO.to_cm();
    let width = (rest.width_rms - planned.width_rms).to_cm();
    let depth = (rest.depth_error.abs() - planned.depth_error.abs()).to_cm();
    let area = rest.area_error_pct.abs() - planned.area_error_pct.abs();
    let ease = rest.ease_pct().abs() - planned.ease_pct().abs();
    width <= tape && depth <= tape && area <= 2.0 && ease <= 2.0
}

/// True when the counts put right cost less: kept ones win where nobody can see a difference and nothing more has
/// to be remembered.
fn cheaper(corrected: &Way, kept: &Way) -> bool {
    let (Some(right), Some(as_is)) = (&corrected.fit, &kept.fit) else {
        return corrected.fit.is_some();
    };
    let alike = kept.upper_arm.is_none() && looks_like(&as_is.measures, &right.measures);
    let (steps, fewer) = (as_is.plan.steps(), right.plan.steps());
    let cost = |way: &Way, steps: usize| way.cost().map(|cost| cost + A_STEP * steps as f64);
    !(alike && steps <= fewer) && cost(corrected, fewer) < cost(kept, steps)
}

/// Corrections worth a try: to the plan's counts where the counts are off, and a few stitches a side either way, so
/// that as many wait on both.
fn corrections(planned: &Begun, begun: &Begun) -> Vec<Correction> {
    let picked = |flank: &FlankPlan| -> i64 {
        flank
            .zones
            .iter()
            .map(|zone| i64::from(zone.stitches.count()))
            .sum()
    };
    let less = |a: i64, b: i64| i32::try_from(a - b).unwrap_or(0);
    let front = less(picked(&planned.front), picked(&begun.front));
    let back = less(picked(&planned.back), picked(&begun.back));
    let crown = less(
        i64::from(planned.crown.stitches.count()),
        i64::from(begun.crown.stitches.count()),
    );
    let mut all = vec![
        Correction { crown, front, back },
        Correction {
            crown: 0,
            front,
            back,
        },
        Correction {
            crown,
            front: 0,
            back: 0,
        },
    ];
    let [a, b] = begun.waiting().map(i64::from);
    let uneven = less(a, b);
    for front in -MOST_A_SIDE..=MOST_A_SIDE {
        let back = front + uneven;
        if back.abs() <= MOST_A_SIDE {
            all.push(Correction {
                crown: 0,
                front,
                back,
            });
        }
    }
    all.retain(|by| by.count() > 0);
    let mut distinct: Vec<Correction> = Vec::new();
    for by in all {
        if !distinct.contains(&by) {
            distinct.push(by);
        }
    }
    distinct
}
