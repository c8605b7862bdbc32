//! The exact fit: every crown, base and pick-up plan that could win, each by dynamic programming.
//!
//! For one frame (turn pairs, crown, base) the flanks are independent but for the area term
//! `b E^2`. Since `b E^2 >= l E - l^2 / 4b` for every multiplier `l`, pricing the area at `l`
//! splits the problem into one table a flank, whose least cost is a lower bound (Lagrangian
//! relaxation). [`super::search`] then lists every sequence between that bound and the best
//! answer known; the true best is among them. The bound decides only what need not be looked at,
//! so the answer is exact whatever the multiplier; [`super::tune`] looks for a good one.
//!
//! Bounds from the cheapest to the dearest: widths by runs and what is certain; widths by runs and
//! edges with any; the table of all plans of as many stitches; the table of one plan.

use super::best::{Best, MOST_RUNS};
use super::few_runs::{FEW, Short, ShortRuns};
use super::flanks::{Flank, FlankSet, Group, Plan, cap_plan, flank_sets};
use super::frames::Choice;
use super::objective::WEIGHTS;
use super::plan::Move;
use super::problem::Problem;
use super::region::{Region, Side, Standing, Worked, lone_moves, one_for_each_sum, runs};
use super::search::ROUNDING;
use super::widths::Widths;

/// Looks for better caps in one frame.
pub(crate) fn improve(problem: &Problem<'_>, (choice, widths): &(Choice, Widths), best: &mut Best) {
    let most = (1..=MOST_RUNS).map(|runs| best.limit(runs));
    let most = most.fold(f64::NEG_INFINITY, f64::max) + ROUNDING;
    if !widths.root.is_finite() || widths.root > most {
        return;
    }
    let region = Region::new(choice, widths, most, best.work);
    let shorts = ShortRuns::new(&choice.frame, widths);
    for set in flank_sets(problem, choice) {
        if set.flanks.iter().any(|flank| flank.groups.is_empty()) {
            continue;
        }
        // The runs of a chain are given: the tables do them all.
        if !choice.frame.chain {
            region.few(&set, &shorts, best);
        }
        // The most faithful first: no cap with fewer runs is better than the best with more.
        let mut proven = f64::NEG_INFINITY;
        for runs in (FEW + 1..=MOST_RUNS).rev() {
            if best.limit(runs) > proven {
                region.many(&set, runs, best);
                if best.is_proven(runs) {
                    proven = proven.max(best.limit(runs));
                }
            }
        }
    }
    best.work = region.work.get();
}

impl Region<'_> {
    /// Sequences of few runs, each with every plan of as many decreases.
    fn few(&self, set: &FlankSet<'_>, shorts: &ShortRuns<'_>, best: &mut Best) {
        let share = 1.0 / set.flanks.len() as f64;
        // What a flank may cost when the widths of the other cost as little as they can.
        let room = |best: &Best, runs: usize| {
            let others = set.surcharge + (1.0 - share) * self.roots[runs - 1];
            best.limit(runs) + ROUNDING - others
        };
        let widest = |best: &Best, fewest: usize| {
            let rooms = (fewest..=FEW).map(|runs| room(best, runs));
            rooms.fold(f64::NEG_INFINITY, f64::max) / share
        };
        let shorts = shorts.below(std::array::from_fn(|i| widest(best, i + 1)));
        if let [flank] = set.flanks.as_slice() {
            for short in &shorts {
                let room = room(best, short.run_count());
                let worked = self.short_flank(flank, short, room);
                self.combine(set.surcharge, &[worked], best);
            }
            return;
        }
        let certain: f64 = set.flanks.iter().map(Flank::certain).sum();
        for runs in 1..=FEW {
            let own = shorts.iter().filter(|short| short.run_count() <= runs);
            let own: Vec<&Short> = own.collect();
            let room = room(best, runs) - certain;
            let worked = set.flanks.iter().map(|flank| {
                let room = room + flank.certain();
                let all = own.iter();
                all.flat_map(|short| self.short_flank(flank, short, room))
                    .collect()
            });
            let worked: Vec<Vec<Worked<'_, '_>>> = worked.collect();
            self.combine(set.surcharge, &worked, best);
        }
    }

    /// A short sequence with every plan that fits it and costs no more than there is room for.
    fn short_flank<'p, 'a>(
        &self,
        flank: &'p Flank<'a>,
        short: &Short,
        room: f64,
    ) -> Vec<Worked<'p, 'a>> {
        let widths = flank.share * short.widths;
        let fits =
            |group: &&'p Group<'a>| group.drops == short.drops && widths + group.certain <= room;
        let groups = flank.groups.iter().filter(fits);
        let plans: Vec<&Plan<'_>> = groups.flat_map(|group| &group.plans).collect();
        if plans.is_empty() {
            return Vec::new();
        }
        let places: Vec<usize> = short.places().collect();
        let plans = plans.into_iter();
        plans
            .map(|plan| self.work_out(flank.share, plan, &places))
            .collect()
    }

    /// A sequence of moves, by their places in the frame's list, worked with a plan.
    fn work_out<'p, 'a>(&self, share: f64, plan: &'p Plan<'a>, places: &[usize]) -> Worked<'p, 'a> {
        let (own, sum) = self.cost(share, plan, places);
        let moves = places.iter().map(|m| self.choice.frame.moves[*m]);
        Worked {
            plan,
            moves: moves.collect(),
            sum,
            own,
        }
    }

    /// What these moves cost with a plan, and their net stitches of all pairs added up.
    fn cost(&self, share: f64, plan: &Plan<'_>, places: &[usize]) -> (f64, usize) {
        let costs = plan.costs(&self.choice.frame);
        let steps = self.steps(costs, share, 0.0, usize::MAX);
        let (mut w, mut d, mut sum, mut own) = (0, 0, 0, steps.first());
        for (i, m) in places.iter().enumerate() {
            own += steps.step(*m, i + 1, w, d);
            w += steps.edges.widens[*m];
            d += steps.edges.drops[*m];
            sum += w;
        }
        (own + steps.edges.lone * lone_moves(places) as f64, sum)
    }

    /// These moves with the plan of a group that suits them best.
    pub(super) fn best_plan<'p, 'a>(
        &self,
        share: f64,
        group: &'p Group<'a>,
        places: &[usize],
    ) -> Option<Worked<'p, 'a>> {
        let costs = group.plans.iter();
        let costs = costs.map(|plan| (plan, self.cost(share, plan, places).0));
        let (plan, _) = costs.min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(self.work_out(share, plan, places))
    }

    /// Sequences of more runs.
    fn many(&self, set: &FlankSet<'_>, runs: usize, best: &mut Best) {
        if let [both] = set.flanks.as_slice() {
            self.search_both(set, both, runs, best);
        } else if let Some(mut sides) = self.sides(set, runs, best) {
            self.search_apart(set, &mut sides, runs, best);
        }
    }

    /// The plans of two flanks that could be part of a better cap; `None` when a flank has none.
    fn sides<'p, 'a>(
        &self,
        set: &'p FlankSet<'a>,
        runs: usize,
        best: &Best,
    ) -> Option<Vec<Side<'p, 'a>>> {
        // A cap costs the widths of both sides; they are bounded together.
        let room = best.limit(runs) + ROUNDING - self.roots[runs - 1] - set.surcharge;
        let flanks = set.flanks.iter();
        let least: Vec<f64> = flanks.map(|flank| self.least_edges(flank, room)).collect();
        let all: f64 = least.iter().sum();
        let sides = set.flanks.iter().zip(&least).map(|(flank, own)| {
            let room = room - (all - own);
            let groups = flank.groups.iter().filter(|group| group.certain <= room);
            let standing = groups.map(|group| Standing {
                group,
                bound: group.bound(&self.choice.frame).before().least,
            });
            let standing = standing.filter(|one| one.bound <= room);
            Side::new(flank.share, standing.collect())
        });
        let sides: Vec<Side<'_, '_>> = sides.collect();
        let any = sides.iter().all(|side| !side.standing.is_empty());
        (all <= room && any).then_some(sides)
    }

    /// What the edges of a flank cost at the least, if no more than there is room for; plans whose zones
    /// and decreases alone cost more are not looked at.
    fn least_edges(&self, flank: &Flank<'_>, room: f64) -> f64 {
        let mut least = f64::INFINITY;
        for group in &flank.groups {
            if group.certain <= room.min(least) {
                let costs = group.bound(&self.choice.frame);
                least = least.min(costs.before().least);
            }
        }
        least
    }

    /// The true objective of every pair of sequences, with the area term unpriced.
    pub(super) fn combine(&self, surcharge: f64, worked: &[Vec<Worked<'_, '_>>], best: &mut Best) {
        match worked {
            [both] => {
                for one in both {
                    self.offer(surcharge, &[one], best);
                }
            }
            [fronts, backs] => {
                let (fronts, backs) = (one_for_each_sum(fronts), one_for_each_sum(backs));
                for front in &fronts {
                    for back in &backs {
                        self.offer(surcharge, &[front, back], best);
                    }
                }
            }
            _ => {}
        }
    }

    fn offer(&self, surcharge: f64, worked: &[&Worked<'_, '_>], best: &mut Best) {
        let share = 1.0 / worked.len() as f64;
        let error = |w: &&Worked<'_, '_>| share * self.widths.area_error(w.sum);
        let error: f64 = worked.iter().map(error).sum();
        let own: f64 = worked.iter().map(|w| w.own).sum();
        let runs = worked.iter().map(|w| runs(&w.moves)).max().unwrap_or(1);
        let objective = own + WEIGHTS.area * error * error + surcharge;
        best.offer(runs, objective, || {
            let worked: Vec<(&Plan<'_>, &[Move])> = worked
                .iter()
                .map(|w| (w.plan, w.moves.as_slice()))
                .collect();
            cap_plan(self.choice, &worked)
        });
    }
}
