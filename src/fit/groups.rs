//! Every plan of a frame that could be part of a better cap: of a flank that stands for both, or of two
//! that differ.

use super::best::Best;
use super::flanks::{Flank, FlankSet, Group, Plan};
use super::region::{Pass, Region, Side, Worked, finished};
use super::search::{ROUNDING, Search};

impl Region<'_> {
    /// Looks at every plan of a flank that stands for both, those with the fewest decreases first: they
    /// mostly win.
    pub(super) fn search_both(
        &self,
        set: &FlankSet<'_>,
        flank: &Flank<'_>,
        runs: usize,
        best: &mut Best,
    ) {
        let widths = self.roots[runs - 1] + set.surcharge;
        let frame = &self.choice.frame;
        for group in &flank.groups {
            let limit = best.limit(runs) + ROUNDING;
            if widths + group.certain > limit || widths + group.bound(frame).before().least > limit
            {
                continue;
            }
            if self.spent(runs, best) {
                best.left_unproven(runs, widths + group.certain);
                continue;
            }
            let Some(pass) = self.tune(set, &[(flank.share, group)], runs, best) else {
                continue;
            };
            for plan in &group.plans {
                let floor = pass.floor(plan.costs(frame), flank.share);
                if floor + pass.constant(set) <= best.limit(runs) + ROUNDING {
                    self.search_plan(set, &pass, (flank.share, plan), best);
                }
            }
        }
    }

    /// Looks at every sequence with a plan of a flank that stands for both.
    fn search_plan(
        &self,
        set: &FlankSet<'_>,
        pass: &Pass,
        (share, plan): (f64, &Plan<'_>),
        best: &mut Best,
    ) {
        let constant = pass.constant(set);
        let room = |best: &Best| best.limit(pass.runs) - constant;
        let costs = plan.costs(&self.choice.frame);
        let steps = self.steps(costs, share, pass.multiplier, plan.drops);
        let table = &self.table(&steps, costs, pass, room(best) + ROUNDING);
        let least = table.root();
        if least.is_infinite() {
            return;
        }
        for limit in best.stages(least, room(best)) {
            let found = Search { steps, table }.below(limit.min(room(best)));
            if !found.complete {
                best.left_unproven(pass.runs, least + constant);
            }
            self.add_work(found.labels);
            let finishes = found.finishes.into_iter();
            let worked = finishes.map(|finish| finished(plan, finish)).collect();
            self.combine(set.surcharge, &[worked], best);
            if limit >= room(best) || !found.complete {
                break;
            }
        }
    }

    /// Bounds every group of two flanks by its own table and leaves out those that cannot be part of a
    /// better cap; false when none is left on a flank.
    fn narrow(
        &self,
        set: &FlankSet<'_>,
        pass: &Pass,
        sides: &mut [Side<'_, '_>],
        best: &mut Best,
    ) -> bool {
        for side in sides.iter_mut() {
            let share = side.share;
            side.reset(|group| pass.floor(group.bound(&self.choice.frame), share));
        }
        let room = best.limit(pass.runs) + ROUNDING - pass.constant(set);
        let mut all: f64 = sides.iter().map(Side::least).sum();
        for side in sides.iter_mut() {
            let room = room - (all - side.least());
            all -= side.least();
            for one in &mut side.standing {
                let floor = std::mem::replace(&mut one.bound, f64::INFINITY);
                if floor > room {
                    continue;
                }
                if self.spent(pass.runs, best) {
                    best.left_unproven(pass.runs, floor + all + pass.constant(set));
                } else if let Some((bound, _)) = self.cheapest(side.share, one.group, pass, room) {
                    one.bound = bound;
                }
            }
            side.keep_below(room);
            all += side.least();
        }
        for side in sides.iter_mut() {
            side.keep_below(room - (all - side.least()));
        }
        all <= room
    }

    /// Looks at every pair of plans of two flanks.
    pub(super) fn search_apart(
        &self,
        set: &FlankSet<'_>,
        sides: &mut [Side<'_, '_>],
        runs: usize,
        best: &mut Best,
    ) {
        let firsts = sides
            .iter()
            .filter_map(|side| Some((side.share, side.standing.first()?.group)));
        let firsts: Vec<(f64, &Group<'_>)> = firsts.collect();
        let tuned = self.tune(set, &firsts, runs, best);
        let pass = &tuned
            .unwrap_or_else(|| self.pass(set, (runs, best.multiplier(runs)), best.limit(runs)));
        if !self.narrow(set, pass, sides, best) {
            return;
        }
        let all: f64 = sides.iter().map(Side::least).sum();
        let room = |best: &Best| best.limit(pass.runs) - pass.constant(set);
        for limit in best.stages(all, room(best)) {
            let limit = limit.min(room(best));
            let mut complete = true;
            let mut worked = Vec::new();
            for side in sides.iter() {
                let others = all - side.least();
                let (own, own_complete) = self.search_side(pass, side, limit - others, best);
                complete &= own_complete;
                worked.push(own);
            }
            if !complete {
                best.left_unproven(pass.runs, all + pass.constant(set));
            }
            self.combine(set.surcharge, &worked, best);
            if limit >= room(best) || !complete {
                break;
            }
        }
    }

    /// Every sequence of one of two flanks whose priced cost is within a limit, and whether these are
    /// all.
    fn search_side<'p, 'a>(
        &self,
        pass: &Pass,
        side: &Side<'p, 'a>,
        limit: f64,
        best: &Best,
    ) -> (Vec<Worked<'p, 'a>>, bool) {
        let (mut worked, mut complete) = (Vec::new(), true);
        for one in &side.standing {
            for plan in &one.group.plans {
                let costs = plan.costs(&self.choice.frame);
                if one.bound.max(pass.floor(costs, side.share)) > limit + ROUNDING {
                    continue;
                }
                if self.spent(pass.runs, best) {
                    complete = false;
                    continue;
                }
                let steps = self.steps(costs, side.share, pass.multiplier, plan.drops);
                let table = &self.table(&steps, costs, pass, limit + ROUNDING);
                let found = Search { steps, table }.below(limit);
                self.add_work(found.labels);
                complete &= found.complete;
                let finishes = found.finishes.into_iter();
                worked.extend(finishes.map(|finish| finished(plan, finish)));
            }
        }
        (worked, complete)
    }
}
