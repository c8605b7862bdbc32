//! The exact fit: every crown, base and pick-up plan that could win, each by dynamic programming.
//!
//! For one frame (turn pairs, crown, base) the flanks are independent but for the area term
//! `b E^2`. Since `b E^2 >= l E - l^2 / 4b` for every multiplier `l`, pricing the area at `l`
//! splits the problem into one table a flank, whose least cost is a lower bound (Lagrangian
//! relaxation). [`super::search`] then lists every sequence between that bound and the best
//! answer known; the true best is among them. The bound decides only what need not be looked at,
//! so the answer is exact whatever the multiplier.
//!
//! Bounds from the cheapest to the dearest: widths alone, with any runs; widths alone, by runs;
//! widths and edges of a plan together, with any runs; the table of a plan, by runs.

use std::cell::Cell;

use super::best::{Best, MOST_RUNS};
use super::few_runs::{FEW, Short, ShortRuns};
use super::flanks::{Flank, FlankSet, Plan, cap_plan, flank_sets};
use super::frames::Choice;
use super::joint::{Joint, Layers, Steps};
use super::objective::WEIGHTS;
use super::plan::Move;
use super::problem::Problem;
use super::region::{
    Alive, Held, Region, Side, Worked, finished, lone_moves, one_for_each_sum, runs,
};
use super::search::{ROUNDING, Search};
use super::table::EdgeCosts;
use super::widths::Widths;

/// What one frame hands on to the next: the multiplier that was right for every number of runs.
pub(crate) type Multipliers = [f64; MOST_RUNS];

/// Looks for better caps in one frame.
pub(crate) fn improve(
    problem: &Problem<'_>,
    (choice, widths): &(Choice, Widths),
    multipliers: &mut Multipliers,
    best: &mut Best,
) {
    let most = (1..=FEW).map(|runs| best.limit_of_few(runs));
    let most = most.fold(widest(best), f64::max);
    if !widths.root.is_finite() || widths.root > most + ROUNDING {
        return;
    }
    let region = Region {
        choice,
        widths,
        roots: width_roots(choice, widths, best),
        work: Cell::new(best.work),
    };
    let shorts = ShortRuns::new(&choice.frame, widths);
    for set in flank_sets(problem, choice) {
        if set.flanks.iter().any(|flank| flank.groups.is_empty()) {
            continue;
        }
        // The runs of a chain are given: the tables do them all.
        if !choice.frame.chain {
            region.few(&set, &shorts, best);
        }
        region.many(&set, multipliers, best);
    }
    best.work = region.work.get();
}

/// Least cost of the widths alone with at most 1, 2, ... runs: no cap of this frame costs less.
fn width_roots(choice: &Choice, widths: &Widths, best: &Best) -> Vec<f64> {
    let edges = EdgeCosts::none(&choice.frame);
    let steps = Steps {
        widths,
        edges: &edges,
        share: 1.0,
        multiplier: 0.0,
        drops: 0,
    };
    let layers = Layers::new(&steps, None, widest(best));
    let table = Joint::new(&steps, layers);
    (1..=MOST_RUNS).map(|runs| table.root(runs)).collect()
}

/// The largest objective that the tables still look for.
fn widest(best: &Best) -> f64 {
    let limits = (FEW + 1..=MOST_RUNS).map(|runs| best.limit(runs));
    limits.fold(f64::NEG_INFINITY, f64::max) + ROUNDING
}

impl Region<'_> {
    /// Sequences of few runs, each with every plan of as many decreases.
    fn few(&self, set: &FlankSet<'_>, shorts: &ShortRuns<'_>, best: &mut Best) {
        let limits = |best: &Best| {
            std::array::from_fn(|i| best.limit_of_few(i + 1) - set.surcharge + ROUNDING)
        };
        let shorts = shorts.below(limits(best));
        if let [flank] = set.flanks.as_slice() {
            for short in &shorts {
                let worked = self.short_flank(flank, short, limits(best));
                self.combine(set.surcharge, &[worked], best);
            }
            return;
        }
        for runs in 1..=FEW {
            let own = shorts.iter().filter(|short| short.run_count() <= runs);
            let own: Vec<&Short> = own.collect();
            let limits = [limits(best)[runs - 1]; FEW];
            let worked: Vec<Vec<Worked<'_, '_>>> = (set.flanks.iter())
                .map(|flank| {
                    let all = own.iter();
                    all.flat_map(|short| self.short_flank(flank, short, limits))
                        .collect()
                })
                .collect();
            self.combine(set.surcharge, &worked, best);
        }
    }

    /// A short sequence with every plan that fits it and leaves room below the limit for its runs.
    fn short_flank<'p, 'a>(
        &self,
        flank: &'p Flank<'a>,
        short: &Short,
        limits: [f64; FEW],
    ) -> Vec<Worked<'p, 'a>> {
        let limit = limits[short.run_count() - 1];
        // The other flank's widths cost as much at the least as the narrowest way there is.
        let widths = flank.share * short.widths + (1.0 - flank.share) * self.widths.root;
        let groups = flank
            .groups
            .iter()
            .filter(|group| group.drops == short.drops && widths + group.certain <= limit);
        groups
            .flat_map(|group| &group.plans)
            .map(|plan| self.short_worked(flank.share, plan, short))
            .collect()
    }

    fn short_worked<'p, 'a>(
        &self,
        share: f64,
        plan: &'p Plan<'a>,
        short: &Short,
    ) -> Worked<'p, 'a> {
        let costs = plan.costs(&self.choice.frame);
        let steps = self.steps(costs, share, 0.0, short.drops);
        let (mut w, mut d, mut sum, mut own) = (0, 0, 0, steps.first());
        for (i, m) in short.places().enumerate() {
            own += steps.step(m, i + 1, w, d);
            w += steps.edges.widens[m];
            d += steps.edges.drops[m];
            sum += w;
        }
        let moves = short.moves(&self.choice.frame);
        own += steps.edges.lone * lone_moves(&moves) as f64;
        Worked {
            plan,
            moves,
            sum,
            own,
        }
    }

    /// Sequences of more runs.
    fn many(&self, set: &FlankSet<'_>, multipliers: &mut Multipliers, best: &mut Best) {
        let Some(mut sides) = self.sides(set, best) else {
            return;
        };
        // The most faithful first: what it finds with fewer runs bounds those too.
        for runs in (FEW + 1..=MOST_RUNS).rev() {
            let multiplier = &mut multipliers[runs - 1];
            // A first answer keeps the tables of all other plans small.
            if best.wants_an_answer(runs) {
                *multiplier = self.tune(set, &mut sides, runs, *multiplier, best);
            }
            if self.hopeless(set, &mut sides, (runs, *multiplier), best) {
                continue;
            }
            *multiplier = self.tune(set, &mut sides, runs, *multiplier, best);
            self.solve(set, &mut sides, runs, *multiplier, best);
        }
    }

    /// True when the bounds of all groups rule out a better cap with at most `runs` runs. The most
    /// promising groups come first afterwards.
    fn hopeless(
        &self,
        set: &FlankSet<'_>,
        sides: &mut [Side<'_, '_>],
        (runs, multiplier): (usize, f64),
        best: &Best,
    ) -> bool {
        let limit = best.limit(runs) + ROUNDING;
        let floors: Vec<f64> = sides.iter().map(|side| side.least(self, runs)).collect();
        let floor: f64 = floors.iter().sum();
        if floor + set.surcharge > limit {
            return true;
        }
        let constant = set.surcharge - multiplier * multiplier / (4.0 * WEIGHTS.area);
        let mut all = 0.0;
        for (side, own) in sides.iter_mut().zip(&floors) {
            let others = floor - own + set.surcharge;
            for alive in &mut side.groups {
                alive.priced = f64::INFINITY;
                alive.priced_at = f64::NAN;
                let floor = alive.floor(self, side.share, runs);
                if floor + others <= limit && self.spent() {
                    alive.priced = floor;
                } else if floor + others <= limit {
                    let budget = limit - side.others;
                    alive.price(self, side.share, (runs, multiplier), budget);
                }
            }
            side.groups.sort_by(|a, b| a.priced.total_cmp(&b.priced));
            all += side
                .groups
                .first()
                .map_or(f64::INFINITY, |alive| alive.priced);
        }
        all + constant > limit
    }

    /// The plans of every flank that could be part of a better cap; `None` when a flank has none.
    fn sides<'p, 'a>(&self, set: &'p FlankSet<'a>, best: &Best) -> Option<Vec<Side<'p, 'a>>> {
        let all: f64 = set.flanks.iter().map(Flank::certain).sum();
        let sides = set.flanks.iter().map(|flank| {
            let edges = all - flank.certain() + set.surcharge;
            self.side(flank, edges, best)
        });
        sides.collect()
    }

    /// `others` is what the other flank costs at the least, its widths aside.
    fn side<'p, 'a>(&self, flank: &'p Flank<'a>, others: f64, best: &Best) -> Option<Side<'p, 'a>> {
        // A cap costs the widths of both sides; they are bounded together.
        let hopeful = |rest: f64| {
            let mut runs = FEW + 1..=MOST_RUNS;
            runs.any(|runs| self.roots[runs - 1] + rest + others <= best.limit(runs) + ROUNDING)
        };
        let others_all = others + (1.0 - flank.share) * self.widths.root;
        let budget = widest(best) - others_all;
        let mut groups = Vec::new();
        for group in flank.groups.iter().filter(|group| hopeful(group.certain)) {
            let costs = group.bound(&self.choice.frame);
            if !hopeful(costs.through().least) {
                continue;
            }
            let steps = self.steps(costs, flank.share, 0.0, group.drops);
            let least = steps.least(&Layers::new(&steps, Some(costs.through()), budget));
            if least <= budget {
                groups.push(Alive {
                    group,
                    least,
                    priced: least,
                    priced_at: f64::NAN,
                    tables: group.plans.iter().map(|_| Held::default()).collect(),
                });
            }
        }
        groups.sort_by(|a, b| a.least.total_cmp(&b.least));
        let side = Side {
            share: flank.share,
            others: others_all,
            groups,
        };
        (!side.groups.is_empty()).then_some(side)
    }

    /// Finds a multiplier at which the bound of the most promising plans is nearly tight,
    /// `l = 2 b E(l)`: by halving, since `E(l)` never rises with `l`. Offers what it meets.
    fn tune(
        &self,
        set: &FlankSet<'_>,
        sides: &mut [Side<'_, '_>],
        runs: usize,
        start: f64,
        best: &mut Best,
    ) -> f64 {
        let (mut multiplier, mut low, mut high) = (start, f64::NEG_INFINITY, f64::INFINITY);
        for _ in 0..MOST_TUNINGS {
            let Some(error) = self.offer_cheapest(set, sides, runs, multiplier, best) else {
                break;
            };
            let aim = 2.0 * WEIGHTS.area * error;
            if WEIGHTS.area * (error - multiplier / (2.0 * WEIGHTS.area)).powi(2) <= TIGHT {
                break;
            }
            if aim > multiplier {
                (low, high) = (multiplier, high.min(aim));
            } else {
                (low, high) = (low.max(aim), multiplier);
            }
            multiplier = f64::midpoint(low, high);
        }
        multiplier
    }

    /// Works the most promising plans of all flanks at this multiplier, offers the cap, and returns
    /// its area error.
    fn offer_cheapest(
        &self,
        set: &FlankSet<'_>,
        sides: &mut [Side<'_, '_>],
        runs: usize,
        multiplier: f64,
        best: &mut Best,
    ) -> Option<f64> {
        let mut worked = Vec::new();
        let mut error = 0.0;
        for side in sides {
            let budget = best.limit(runs) - side.others;
            let Alive { group, tables, .. } = side.groups.first_mut()?;
            let frame = &self.choice.frame;
            let edges = |plan: &Plan<'_>| plan.costs(frame).through().least;
            let plans = group.plans.iter().zip(tables);
            let (plan, held) = plans.min_by(|a, b| edges(a.0).total_cmp(&edges(b.0)))?;
            let costs = plan.costs(frame);
            let steps = self.steps(costs, side.share, multiplier, group.drops);
            let table = held.table(&steps, costs, budget, &self.work);
            let (moves, sum) = table.cheapest(&steps, runs)?;
            let own = table.root(runs) - steps.price(sum);
            error += side.share * self.widths.area_error(sum);
            worked.push(vec![Worked {
                plan,
                moves,
                sum,
                own,
            }]);
        }
        self.combine(set.surcharge, &worked, best);
        Some(error)
    }

    /// Looks at every plan that could be part of a better cap with at most `runs` runs.
    fn solve(
        &self,
        set: &FlankSet<'_>,
        sides: &mut [Side<'_, '_>],
        runs: usize,
        multiplier: f64,
        best: &mut Best,
    ) {
        let constant = set.surcharge - multiplier * multiplier / (4.0 * WEIGHTS.area);
        let floors: Vec<f64> = sides.iter().map(|side| side.least(self, runs)).collect();
        let floor: f64 = floors.iter().sum();
        let mut least = Vec::new();
        for (side, own) in sides.iter_mut().zip(&floors) {
            let others = (floor - own + set.surcharge, constant);
            least.push(self.price_groups(set, side, (runs, multiplier), others, best));
        }
        let all: f64 = least.iter().sum();
        let mut worked = Vec::new();
        for (side, own) in sides.iter().zip(&least) {
            let limit = best.limit(runs) - (all - own) - constant;
            worked.push(self.search_side(side, (runs, multiplier), limit, best, all + constant));
        }
        self.combine(set.surcharge, &worked, best);
        for alive in sides.iter_mut().flat_map(|side| &mut side.groups) {
            alive.tables.iter_mut().for_each(|held| held.table = None);
        }
    }

    /// Makes the tables of all plans whose bounds allow, and returns the least priced cost of any. A
    /// flank that stands for both offers what it meets. `others` is what the other flank and the
    /// surcharge cost at the least, and what has to be added to priced costs.
    fn price_groups(
        &self,
        set: &FlankSet<'_>,
        side: &mut Side<'_, '_>,
        (runs, multiplier): (usize, f64),
        (others, constant): (f64, f64),
        best: &mut Best,
    ) -> f64 {
        let frame = &self.choice.frame;
        let only = set.flanks.len() == 1;
        let mut least = f64::INFINITY;
        for alive in &mut side.groups {
            let floor = alive.floor(self, side.share, runs) + others;
            if floor > best.limit(runs) + ROUNDING {
                continue;
            }
            if self.spent() {
                best.left_unproven(runs, floor);
                continue;
            }
            let budget = best.limit(runs) - side.others;
            let bound = alive.price(self, side.share, (runs, multiplier), budget);
            // Priced costs of one flank bound the cap only when it is the whole of it.
            if bound.is_infinite() || only && bound + constant > best.limit(runs) + ROUNDING {
                continue;
            }
            for (plan, held) in alive.group.plans.iter().zip(&mut alive.tables) {
                let costs = plan.costs(frame);
                let floor = side.share * self.roots[runs - 1] + costs.through().least;
                if floor + others > best.limit(runs) + ROUNDING {
                    continue;
                }
                let steps = self.steps(costs, side.share, multiplier, alive.group.drops);
                let table = held.table(&steps, costs, best.limit(runs) - side.others, &self.work);
                let root = table.root(runs);
                let cheapest = table
                    .cheapest(&steps, runs)
                    .filter(|_| only && root < least);
                least = least.min(root);
                // What cannot be searched need not be kept: tables are large.
                if root.is_infinite() || only && root + constant > best.limit(runs) + ROUNDING {
                    held.table = None;
                }
                if let Some((moves, sum)) = cheapest {
                    let own = root - steps.price(sum);
                    let worked = vec![Worked {
                        plan,
                        moves,
                        sum,
                        own,
                    }];
                    self.combine(set.surcharge, &[worked], best);
                }
            }
        }
        least
    }

    /// Every sequence of a flank whose priced cost is at most `limit`.
    fn search_side<'p, 'a>(
        &self,
        side: &Side<'p, 'a>,
        (runs, multiplier): (usize, f64),
        limit: f64,
        best: &mut Best,
        bound: f64,
    ) -> Vec<Worked<'p, 'a>> {
        let mut worked = Vec::new();
        for alive in &side.groups {
            for (plan, held) in alive.group.plans.iter().zip(&alive.tables) {
                let table = held.table.as_ref().map(|held| &held.0);
                let table = table.filter(|table| table.serves(multiplier));
                let Some(table) = table.filter(|table| table.root(runs) <= limit + ROUNDING) else {
                    continue;
                };
                let costs = plan.costs(&self.choice.frame);
                let steps = self.steps(costs, side.share, multiplier, alive.group.drops);
                let found = Search { steps, table }.below(runs, limit);
                if !found.complete {
                    best.left_unproven(runs, bound);
                }
                let finishes = found.finishes.into_iter();
                worked.extend(finishes.map(|finish| finished(plan, finish)));
            }
        }
        worked
    }

    /// The true objective of every pair of sequences, with the area term unpriced.
    fn combine(&self, surcharge: f64, worked: &[Vec<Worked<'_, '_>>], best: &mut Best) {
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

/// So much may the bound lie below the answer before a better multiplier is looked for.
const TIGHT: f64 = 2e-5;

/// Tables made while looking for it: any multiplier gives a valid bound.
const MOST_TUNINGS: usize = 6;
