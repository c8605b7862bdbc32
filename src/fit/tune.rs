//! The multiplier of the area: any gives a valid bound, a good one a high bound.

use std::rc::Rc;

use super::best::Best;
use super::flanks::{FlankSet, Group};
use super::objective::WEIGHTS;
use super::region::{Pass, Region};
use super::search::ROUNDING;

impl Region<'_> {
    /// Finds a multiplier at which the bound of one group a flank is nearly as high as it can be, and
    /// offers what it meets; `None` when the bound rules out a better cap.
    ///
    /// Every cap met bounds the bound from above by a parabola, `own + l E - l^2 / 4b`: the next
    /// multiplier is where the lowest two of them are highest (cutting planes; J. E. Kelley, 1960).
    pub(super) fn tune(
        &self,
        set: &FlankSet<'_>,
        flanks: &[(f64, &Group<'_>)],
        runs: usize,
        best: &mut Best,
    ) -> Option<Rc<Pass>> {
        let mut multiplier = best.multiplier(runs);
        let mut highest: Option<(f64, Rc<Pass>)> = None;
        let (mut rises, mut falls): (Option<Line>, Option<Line>) = (None, None);
        // A first answer keeps all later tables small.
        let mut rising = best.asks_anew(runs);
        for _ in 0..best.tunings(MOST_TUNINGS) {
            let aim = (runs, multiplier);
            let (line, pass) = self.offer_cheapest(set, flanks, aim, rising, best)?;
            rising = false;
            let bound = line.bound(multiplier);
            let known = [rises, falls].into_iter().flatten();
            let known = known.map(|known| known.bound(multiplier));
            let most = known.fold(f64::INFINITY, f64::min);
            if highest.as_ref().is_none_or(|highest| bound > highest.0) {
                highest = Some((bound, pass));
            }
            let aim = 2.0 * WEIGHTS.area * line.error;
            let tight = (aim - multiplier).powi(2) <= TIGHT * 4.0 * WEIGHTS.area;
            if tight || most <= bound + TIGHT {
                break;
            }
            if aim > multiplier {
                rises = Some(line);
            } else {
                falls = Some(line);
            }
            multiplier = match rises.zip(falls) {
                Some((rises, falls)) => rises.meets(falls),
                None => aim,
            };
        }
        let (_, pass) = highest?;
        best.set_multiplier(runs, pass.multiplier);
        let limit = best.limit(runs);
        // A cap may cost more than its bound, which was found below a lower limit.
        if pass.limit < limit {
            return Some(self.pass(set, (runs, pass.multiplier), limit));
        }
        Some(pass)
    }

    /// Works one group a flank at this multiplier and offers the cap; `None` when the bound rules out a
    /// better one. Where no answer is known it looks below low limits first: their tables are small.
    fn offer_cheapest(
        &self,
        set: &FlankSet<'_>,
        flanks: &[(f64, &Group<'_>)],
        (runs, multiplier): (usize, f64),
        rising: bool,
        best: &mut Best,
    ) -> Option<(Line, Rc<Pass>)> {
        let frame = &self.choice.frame;
        let edges = flanks
            .iter()
            .map(|(_, group)| group.bound(frame).before().least);
        let least = self.roots[runs - 1] + edges.sum::<f64>() + set.surcharge;
        let first = if rising { least } else { f64::INFINITY };
        for limit in limits(first, best.limit(runs)) {
            let pass = self.pass(set, (runs, multiplier), limit);
            let room = limit + ROUNDING - pass.constant(set);
            let floors = flanks
                .iter()
                .map(|(share, group)| pass.floor(group.bound(frame), *share));
            let all: f64 = floors.clone().sum();
            let (mut priced, mut error, mut worked) = (0.0, 0.0, Vec::new());
            for ((share, group), own) in flanks.iter().zip(floors) {
                let room = room - (all - own);
                let Some((least, places)) = self.cheapest(*share, group, &pass, room) else {
                    break;
                };
                let one = self.best_plan(*share, group, &places)?;
                priced += least;
                error += share * self.widths.area_error(one.sum);
                worked.push(vec![one]);
            }
            if worked.len() == flanks.len() {
                self.combine(set.surcharge, &worked, best);
                let own = priced - multiplier * error;
                return Some((Line { own, error }, pass));
            }
        }
        None
    }

    /// Least priced cost below a limit for all plans of a group, and moves that come to it.
    pub(super) fn cheapest(
        &self,
        share: f64,
        group: &Group<'_>,
        pass: &Pass,
        limit: f64,
    ) -> Option<(f64, Vec<usize>)> {
        let costs = group.bound(&self.choice.frame);
        let steps = self.steps(costs, share, pass.multiplier, group.drops);
        let table = self.table(&steps, costs, pass, limit);
        Some((table.root(), table.cheapest(&steps)?))
    }
}

/// A cap's cost without its area, and its area error.
#[derive(Clone, Copy)]
struct Line {
    own: f64,
    error: f64,
}

impl Line {
    /// The multiplier at which another line, of a smaller error, costs as much.
    fn meets(self, other: Self) -> f64 {
        (other.own - self.own) / (self.error - other.error)
    }

    /// What it shows about the bound at a multiplier: it is no higher.
    fn bound(self, multiplier: f64) -> f64 {
        self.own + multiplier * (self.error - multiplier / (4.0 * WEIGHTS.area))
    }
}

/// Limits from a little above the least to the most.
fn limits(least: f64, most: f64) -> impl Iterator<Item = f64> {
    let growing = (0..20).map(move |n| least + (0.1 * least + 0.001) * 2.5_f64.powi(n));
    let below = growing.take_while(move |limit| *limit < most);
    below.chain([most])
}

/// So much may the bound lie below the answer before a better multiplier is looked for.
const TIGHT: f64 = 5e-4;

/// Tables made while looking for it: any multiplier gives a valid bound.
const MOST_TUNINGS: usize = 6;
