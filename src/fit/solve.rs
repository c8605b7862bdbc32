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

use super::best::{Best, MOST_RUNS};
use super::few_runs::{FEW, Short, ShortRuns};
use super::flanks::{Flank, FlankSet, Plan, cap_plan, flank_sets};
use super::frames::Choice;
use super::joint::{Joint, Least, Steps};
use super::objective::WEIGHTS;
use super::plan::Move;
use super::problem::Problem;
use super::search::{Finish, ROUNDING, Search};
use super::table::EdgeCosts;
use super::widths::{Band, Widths};

/// A frame, what its widths cost, and the least of them with at most 1, 2, ... runs.
struct Region<'a> {
    choice: &'a Choice,
    widths: &'a Widths,
    roots: Vec<f64>,
}

/// Looks for better caps in one frame.
pub(crate) fn improve(problem: &Problem<'_>, choice: &Choice, widths: &Widths, best: &mut Best) {
    let most = (1..=FEW).map(|runs| best.limit_of_few(runs));
    let most = most.fold(widest(best), f64::max);
    if !widths.root.is_finite() || widths.root > most + ROUNDING {
        return;
    }
    let region = Region {
        choice,
        widths,
        roots: width_roots(choice, widths, best),
    };
    let shorts = ShortRuns::new(&choice.frame, widths);
    for set in flank_sets(problem, choice) {
        if set.flanks.iter().any(|flank| flank.plans.is_empty()) {
            continue;
        }
        region.few(&set, &shorts, best);
        region.many(&set, best);
    }
}

/// Least cost of the widths alone with at most 1, 2, ... runs: no cap of this frame costs less.
fn width_roots(choice: &Choice, widths: &Widths, best: &Best) -> Vec<f64> {
    let Some(band) = widths.band(widest(best)) else {
        return vec![f64::INFINITY; MOST_RUNS];
    };
    let edges = EdgeCosts::none(&choice.frame);
    let steps = Steps {
        widths,
        edges: &edges,
        share: 1.0,
        multiplier: 0.0,
        drops: 0,
    };
    let table = Joint::new(&steps, &band, MOST_RUNS);
    (1..=MOST_RUNS).map(|runs| table.root(runs)).collect()
}

/// The largest objective that the tables still look for.
fn widest(best: &Best) -> f64 {
    let limits = (FEW + 1..=MOST_RUNS).map(|runs| best.limit(runs));
    limits.fold(f64::NEG_INFINITY, f64::max) + ROUNDING
}

/// A plan that may be part of a better cap, and its table at the multiplier last asked for.
struct Alive<'p, 'a> {
    plan: &'p Plan<'a>,
    /// No sequence of this plan costs less, whatever its runs and its area.
    least: Least,
    table: Option<Joint>,
}

/// A flank with the plans that are still in question, the most promising first.
struct Side<'p, 'a> {
    share: f64,
    band: Band,
    plans: Vec<Alive<'p, 'a>>,
}

/// A flank's chosen sequence and how it is picked up.
struct Worked<'p, 'a> {
    plan: &'p Plan<'a>,
    moves: Vec<Move>,
    sum: usize,
    own: f64,
}

impl Region<'_> {
    fn steps<'s>(&'s self, plan: &'s Plan<'_>, share: f64, multiplier: f64) -> Steps<'s> {
        Steps {
            widths: self.widths,
            edges: plan.edges(&self.choice.frame),
            share,
            multiplier,
            drops: plan.drops,
        }
    }

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
        let plans = flank.plans.iter().filter(|plan| plan.drops == short.drops);
        plans
            .filter(|plan| widths + plan.certain <= limit)
            .map(|plan| self.short_worked(flank.share, plan, short))
            .collect()
    }

    fn short_worked<'p, 'a>(
        &self,
        share: f64,
        plan: &'p Plan<'a>,
        short: &Short,
    ) -> Worked<'p, 'a> {
        let steps = self.steps(plan, share, 0.0);
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
    fn many(&self, set: &FlankSet<'_>, best: &mut Best) {
        let Some(mut sides) = self.sides(set, best) else {
            return;
        };
        let mut multiplier = 0.0;
        // The most faithful first: what it finds with fewer runs bounds those too.
        for runs in (FEW + 1..=MOST_RUNS).rev() {
            let least: f64 = sides.iter().map(|side| side.least(self, runs)).sum();
            if least + set.surcharge > best.limit(runs) + ROUNDING {
                continue;
            }
            multiplier = self.tune(set, &mut sides, runs, multiplier, best);
            self.solve(set, &mut sides, runs, multiplier, best);
        }
    }

    /// The plans of every flank that could be part of a better cap; `None` when a flank has none.
    fn sides<'p, 'a>(&self, set: &'p FlankSet<'a>, best: &Best) -> Option<Vec<Side<'p, 'a>>> {
        let floor = |flank: &Flank<'_>| {
            let certain = flank
                .plans
                .first()
                .map_or(f64::INFINITY, |plan| plan.certain);
            flank.share * self.widths.root + certain
        };
        let all: f64 = set.flanks.iter().map(floor).sum();
        let mut sides = Vec::new();
        for flank in &set.flanks {
            let others = all - floor(flank) + set.surcharge;
            sides.push(self.side(flank, widest(best) - others)?);
        }
        Some(sides)
    }

    /// `budget` is what this flank may cost.
    fn side<'p, 'a>(&self, flank: &'p Flank<'a>, budget: f64) -> Option<Side<'p, 'a>> {
        let certain = flank.plans.first()?.certain;
        let band = self.widths.band((budget - certain) / flank.share)?;
        let mut plans = Vec::new();
        for plan in &flank.plans {
            if flank.share * self.widths.root + plan.certain > budget {
                break;
            }
            let least = self.steps(plan, flank.share, 0.0).least(&band);
            if least.all <= budget {
                plans.push(Alive {
                    plan,
                    least,
                    table: None,
                });
            }
        }
        plans.sort_by(|a, b| a.least.all.total_cmp(&b.least.all));
        let side = Side {
            share: flank.share,
            band,
            plans,
        };
        (!side.plans.is_empty()).then_some(side)
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
            let band = &side.band;
            let alive = side.plans.first_mut()?;
            let steps = self.steps(alive.plan, side.share, multiplier);
            let table = alive.table(&steps, band);
            let (moves, sum) = table.cheapest(&steps, runs)?;
            let own = table.root(runs) - steps.price(sum);
            error += side.share * self.widths.area_error(sum);
            worked.push(vec![Worked {
                plan: alive.plan,
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
            let others = floor - own;
            least.push(self.price_plans(
                side,
                (runs, multiplier),
                |best: &Best| best.limit(runs) - others - set.surcharge,
                best,
            ));
        }
        let all: f64 = least.iter().sum();
        let mut worked = Vec::new();
        for (side, own) in sides.iter().zip(&least) {
            let limit = best.limit(runs) - (all - own) - constant;
            worked.push(self.search_plans(side, (runs, multiplier), limit, best, all + constant));
        }
        self.combine(set.surcharge, &worked, best);
    }

    /// Makes the tables of all plans whose bound allows, and returns the least priced cost of any.
    fn price_plans(
        &self,
        side: &mut Side<'_, '_>,
        (runs, multiplier): (usize, f64),
        limit: impl Fn(&Best) -> f64,
        best: &Best,
    ) -> f64 {
        let mut least = f64::INFINITY;
        for alive in &mut side.plans {
            if alive.floor(self, side.share, runs) > limit(best) + ROUNDING {
                continue;
            }
            let steps = self.steps(alive.plan, side.share, multiplier);
            least = least.min(alive.table(&steps, &side.band).root(runs));
        }
        least
    }

    /// Every sequence of a flank whose priced cost is at most `limit`.
    fn search_plans<'p, 'a>(
        &self,
        side: &Side<'p, 'a>,
        (runs, multiplier): (usize, f64),
        limit: f64,
        best: &mut Best,
        bound: f64,
    ) -> Vec<Worked<'p, 'a>> {
        let mut worked = Vec::new();
        for alive in &side.plans {
            let table = alive.table.as_ref();
            let table = table.filter(|table| (table.multiplier - multiplier).abs() < ROUNDING);
            let Some(table) = table else { continue };
            if table.root(runs) > limit + ROUNDING {
                continue;
            }
            let steps = self.steps(alive.plan, side.share, multiplier);
            let found = Search { steps, table }.below(runs, limit);
            if !found.complete {
                best.left_unproven(runs, bound);
            }
            let finishes = found.finishes.into_iter();
            worked.extend(finishes.map(|finish| finished(alive.plan, finish)));
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

impl Side<'_, '_> {
    /// No sequence of this flank with so many runs costs less.
    fn least(&self, region: &Region<'_>, runs: usize) -> f64 {
        let floors = self
            .plans
            .iter()
            .map(|alive| alive.floor(region, self.share, runs));
        floors.fold(f64::INFINITY, f64::min)
    }
}

impl Alive<'_, '_> {
    fn floor(&self, region: &Region<'_>, share: f64, runs: usize) -> f64 {
        self.least
            .all
            .max(share * region.roots[runs - 1] + self.least.edges)
    }

    /// The table at the multiplier of these steps, made anew when it was made for another.
    fn table(&mut self, steps: &Steps<'_>, band: &Band) -> &Joint {
        let same = |table: &Joint| (table.multiplier - steps.multiplier).abs() < ROUNDING;
        let kept = self.table.take().filter(same);
        self.table
            .insert(kept.unwrap_or_else(|| Joint::new(steps, band, MOST_RUNS)))
    }
}

fn finished<'p, 'a>(plan: &'p Plan<'a>, finish: Finish) -> Worked<'p, 'a> {
    Worked {
        plan,
        moves: finish.moves,
        sum: finish.sum,
        own: finish.own,
    }
}

fn runs(moves: &[Move]) -> usize {
    1 + moves
        .windows(2)
        .filter(|pair| pair.first() != pair.last())
        .count()
}

fn lone_moves(moves: &[Move]) -> usize {
    moves
        .chunk_by(|a, b| a == b)
        .filter(|run| run.len() == 1)
        .count()
}

fn one_for_each_sum<'w, 'p, 'a>(worked: &'w [Worked<'p, 'a>]) -> Vec<&'w Worked<'p, 'a>> {
    let mut list: Vec<&Worked<'_, '_>> = worked.iter().collect();
    list.sort_by(|a, b| a.sum.cmp(&b.sum).then(a.own.total_cmp(&b.own)));
    list.dedup_by_key(|w| w.sum);
    list
}
