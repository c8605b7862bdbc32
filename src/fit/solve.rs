//! The exact fit: every crown, base and pick-up plan that could win, each by dynamic programming.
//!
//! For one frame (turn pairs, crown, base) the flanks are independent but for the area term
//! `b E^2`. Since `b E^2 >= l E - l^2 / 4b` for every multiplier `l`, pricing the area at `l`
//! splits the problem into one table a flank, whose least cost is a lower bound (Lagrangian
//! relaxation). [`super::search`] then lists every sequence between that bound and the best
//! answer known; the true best is among them. The bound decides only what need not be looked at,
//! so the answer is exact whatever the multiplier.

use std::cell::OnceCell;

use super::frames::Choice;
use super::objective::WEIGHTS;
use super::pickup::{FlankEdge, Pickup, Wanted, candidates, stitch_range};
use super::plan::{CapPlan, FlankPlan, same_kind};
use super::problem::Problem;
use super::search::{Finish, Found, ROUNDING, Search};
use super::table::{EdgeCosts, EdgeToGo, Frame, WidthCosts, WidthToGo, certain_cost, fewest_runs};
use crate::measure::Stitches;
use crate::outline::ArmholeEdge;

/// The largest number of runs looked at.
pub const MOST_RUNS: usize = 8;

/// A cap with at most so many runs, and its objective as the solver added it up.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) objective: f64,
    pub(crate) plan: CapPlan,
}

/// The best caps with at most 1, 2, ... runs so far, and whether each was proven.
#[derive(Clone, Debug)]
pub(crate) struct Best {
    pub(crate) by_runs: Vec<Option<Candidate>>,
    pub(crate) complete: bool,
}

impl Best {
    pub(crate) fn none() -> Self {
        Self {
            by_runs: vec![None; MOST_RUNS],
            complete: true,
        }
    }

    /// The objective to beat with at most this many runs.
    fn limit(&self, runs: usize) -> f64 {
        self.by_runs
            .iter()
            .take(runs)
            .flatten()
            .map(|candidate| candidate.objective)
            .fold(f64::INFINITY, f64::min)
    }

    fn offer(&mut self, runs: usize, objective: f64, plan: impl FnOnce() -> CapPlan) {
        if objective + ROUNDING < self.limit(runs)
            && let Some(place) = self.by_runs.get_mut(runs - 1)
        {
            *place = Some(Candidate {
                objective,
                plan: plan(),
            });
        }
    }

    /// With more runs allowed the answer is never worse: where a later frame found a better cap
    /// with fewer runs, that one stands.
    pub(crate) fn carry_over(&mut self) {
        for i in 1..self.by_runs.len() {
            let own = self.by_runs[i].as_ref();
            if own.is_none_or(|own| own.objective > self.limit(i)) {
                self.by_runs[i] = self.by_runs[i - 1].clone();
            }
        }
    }
}

/// One flank of a frame, or both where they are alike: the ways to pick it up.
struct Flank {
    /// 2 where one stands for both, 1 for one of two.
    sides: f64,
    plans: Vec<Plan>,
}

/// A pick-up plan; what its moves cost along the edge is worked out when it is first asked for.
struct Plan {
    /// Of the flanks that the moves are worked on: one, or front and back worked alike.
    pickups: Vec<Pickup>,
    sides: f64,
    /// Decreases and zones alone: the plan costs at least this.
    certain: f64,
    /// Fewer runs cannot take its stitches in.
    fewest_runs: usize,
    edges: OnceCell<(EdgeCosts, EdgeToGo)>,
}

impl Plan {
    fn edges(&self, frame: &Frame) -> &(EdgeCosts, EdgeToGo) {
        self.edges.get_or_init(|| {
            let edges = EdgeCosts::new(frame, &self.pickups, self.sides);
            let to_go = EdgeToGo::new(&edges);
            (edges, to_go)
        })
    }

    fn whole(&self, frame: &Frame) -> f64 {
        self.edges(frame).1.whole
    }
}

impl Flank {
    /// Least cost of any plan that so many runs can work.
    fn least(&self, frame: &Frame, runs: usize) -> f64 {
        let mut least = f64::INFINITY;
        for plan in self.plans.iter().filter(|plan| plan.fewest_runs <= runs) {
            if plan.certain >= least {
                break;
            }
            least = least.min(plan.whole(frame));
        }
        least
    }
}

/// Flanks that are searched together, and what the objective adds for searching them apart.
struct FlankSet {
    flanks: Vec<Flank>,
    surcharge: f64,
}

/// A flank's chosen sequence and how it is picked up.
#[derive(Clone)]
struct Worked {
    finish: Finish,
    plan: usize,
}

/// Looks for better caps in one frame.
pub(crate) fn improve(problem: &Problem<'_>, choice: &Choice, best: &mut Best) {
    if hopeless(choice, best) {
        return;
    }
    for set in flank_sets(problem, choice) {
        if set.flanks.iter().any(|flank| flank.plans.is_empty()) {
            continue;
        }
        let mut multiplier = 0.0;
        for runs in 1..=MOST_RUNS {
            let limit = best.limit(runs);
            let widths = WidthBounds::new(choice, &set.flanks, runs, multiplier, limit);
            let mut pricing = Pricing {
                choice,
                flanks: &set.flanks,
                surcharge: set.surcharge,
                runs,
                multiplier,
                widths,
            };
            if pricing.tune(limit) {
                pricing.solve(best);
            }
            multiplier = pricing.multiplier;
        }
    }
}

/// True when the widths alone cost more than the best cap known, for every number of runs.
fn hopeless(choice: &Choice, best: &Best) -> bool {
    let costs = WidthCosts::new(&choice.frame, choice.net, 2.0, 0.0, best.limit(1));
    let to_go = WidthToGo::new(&costs, &choice.frame.moves, MOST_RUNS);
    let roots = to_go.roots.iter().enumerate();
    let mut some = roots.filter(|(i, root)| **root <= best.limit(i + 1) + ROUNDING);
    some.all(|(_, root)| root.is_infinite())
}

/// Both flanks worked alike; then, where the armholes differ, each on its own.
fn flank_sets(problem: &Problem<'_>, choice: &Choice) -> Vec<FlankSet> {
    let fronts = pickups(problem, choice, problem.front);
    if problem.alike() {
        let flanks = vec![flank(choice, 2.0, alone(fronts))];
        return vec![FlankSet {
            flanks,
            surcharge: 0.0,
        }];
    }
    let backs = pickups(problem, choice, problem.back);
    vec![
        FlankSet {
            flanks: vec![flank(choice, 2.0, paired(&fronts, &backs))],
            surcharge: 0.0,
        },
        FlankSet {
            flanks: vec![
                flank(choice, 1.0, alone(fronts)),
                flank(choice, 1.0, alone(backs)),
            ],
            surcharge: WEIGHTS.unlike,
        },
    ]
}

fn alone(pickups: Vec<Pickup>) -> Vec<Vec<Pickup>> {
    pickups.into_iter().map(|pickup| vec![pickup]).collect()
}

/// Front and back plans of as many stitches and of the same kind.
fn paired(fronts: &[Pickup], backs: &[Pickup]) -> Vec<Vec<Pickup>> {
    let alike = |a: &Pickup, b: &Pickup| a.stitches == b.stitches && same_kind(&a.zones, &b.zones);
    let pairs = fronts.iter().flat_map(|front| {
        let backs = backs.iter().filter(move |back| alike(front, back));
        backs.map(move |back| vec![front.clone(), back.clone()])
    });
    pairs.collect()
}

fn flank(choice: &Choice, sides: f64, plans: Vec<Vec<Pickup>>) -> Flank {
    let drops = |pickups: &[Pickup]| {
        let taken = pickups
            .first()
            .map_or(0, |pickup| pickup.stitches.count() as usize);
        taken.saturating_sub(choice.net)
    };
    let frame = &choice.frame;
    let most = plans
        .iter()
        .map(|pickups| drops(pickups))
        .max()
        .unwrap_or(0);
    let fewest = fewest_runs(&frame.moves, frame.turn_pairs(), choice.net, most);
    let mut plans: Vec<Plan> = plans
        .into_iter()
        .map(|pickups| Plan {
            certain: certain_cost(frame, &pickups, sides, drops(&pickups)),
            fewest_runs: fewest[drops(&pickups)],
            edges: OnceCell::new(),
            pickups,
            sides,
        })
        .filter(|plan| plan.fewest_runs <= MOST_RUNS)
        .collect();
    plans.sort_by(|a, b| a.certain.total_cmp(&b.certain));
    Flank { sides, plans }
}

/// Every way to pick up one flank.
fn pickups(problem: &Problem<'_>, choice: &Choice, armhole: &ArmholeEdge) -> Vec<Pickup> {
    let edge = FlankEdge {
        armhole,
        crown_sites: choice.crown_sites(),
    };
    let wanted = Wanted {
        ratio: target_edge_cm(&choice.frame) / edge.length_cm(),
        ease: problem.wishes.ease,
    };
    let (least, most) = stitch_range(edge.sites(), problem.wishes.gap_limit);
    let net_stitches = Stitches(u32::try_from(choice.net).unwrap_or(u32::MAX));
    let droppable = choice.frame.turn_pairs() - 1;
    let low = least.max(net_stitches).count();
    let high = most
        .count()
        .min(net_stitches.count() + u32::try_from(droppable).unwrap_or(0));
    (low..=high)
        .flat_map(|n| candidates(edge, Stitches(n), problem.wishes.gap_limit, wanted))
        .collect()
}

/// Edge of the target outline between the middles of the first and the last pair: what the moves
/// together have to supply.
pub(crate) fn target_edge_cm(frame: &Frame) -> f64 {
    let y = 2.0 * frame.row_cm;
    frame
        .targets_cm
        .windows(2)
        .map(|pair| match pair {
            [a, b] => ((b - a) * (b - a) + y * y).sqrt(),
            _ => 0.0,
        })
        .sum()
}

/// Halvings of the bracket of the multiplier: enough, for any multiplier gives a valid bound.
const BISECTIONS: usize = 6;

/// One frame with one number of runs, its area priced at a multiplier.
struct Pricing<'a> {
    choice: &'a Choice,
    flanks: &'a [Flank],
    surcharge: f64,
    runs: usize,
    multiplier: f64,
    /// A flank's widths alone: their costs, and the least of them to the end.
    widths: WidthBounds,
}

/// The widths of every flank of a set: all add as many stitches to the same crown.
struct WidthBounds {
    costs: WidthCosts,
    to_go: WidthToGo,
}

impl WidthBounds {
    /// `limit` is the objective to beat: widths that alone cost more are left out.
    fn new(choice: &Choice, flanks: &[Flank], runs: usize, multiplier: f64, limit: f64) -> Self {
        let frame = &choice.frame;
        let sides = flanks.first().map_or(2.0, |flank| flank.sides);
        let costs = WidthCosts::new(frame, choice.net, sides, multiplier, limit);
        Self {
            to_go: WidthToGo::new(&costs, &frame.moves, runs),
            costs,
        }
    }
}

impl Pricing<'_> {
    /// Finds a multiplier at which the bound is nearly tight, `l = 2 b E(l)`: by bisection on the
    /// widths alone, since `E(l)` never rises with `l`. False when the bound already rules out the
    /// frame.
    fn tune(&mut self, limit: f64) -> bool {
        let (mut low, mut high) = (self.multiplier, 2.0 * WEIGHTS.area * self.widths_error());
        if low > high {
            (low, high) = (high, low);
        }
        for _ in 0..BISECTIONS {
            if self.bound() > limit + ROUNDING {
                return false;
            }
            let middle = f64::midpoint(low, high);
            self.price(middle, limit);
            if self.widths_error() > middle / (2.0 * WEIGHTS.area) {
                low = middle;
            } else {
                high = middle;
            }
        }
        self.bound() <= limit + ROUNDING && self.bound().is_finite()
    }

    fn price(&mut self, multiplier: f64, limit: f64) {
        self.multiplier = multiplier;
        self.widths = WidthBounds::new(self.choice, self.flanks, self.runs, multiplier, limit);
    }

    /// Area error of the cheapest widths of all flanks.
    fn widths_error(&self) -> f64 {
        let WidthBounds { costs, to_go } = &self.widths;
        let Some(sum) = to_go.cheapest_sum(costs, self.runs) else {
            return 0.0;
        };
        let sides: f64 = self.flanks.iter().map(|flank| flank.sides).sum();
        self.choice.frame.area_error(sum, sides)
    }

    /// Least cost of each flank: widths and edges, each for itself.
    fn bounds(&self) -> Vec<f64> {
        let widths = self.widths.to_go.roots[self.runs - 1];
        let flanks = self.flanks.iter();
        flanks
            .map(|flank| widths + flank.least(&self.choice.frame, self.runs))
            .collect()
    }

    /// No cap of this frame costs less.
    fn bound(&self) -> f64 {
        self.bounds().iter().sum::<f64>() + self.constant()
    }

    /// Whether a plan of a flank can cost no more than a limit, and whether those after it can.
    fn worth(&self, i: usize, j: usize, limit: f64) -> Worth {
        let plan = &self.flanks[i].plans[j];
        let widths = self.widths.to_go.roots[self.runs - 1];
        if widths + plan.certain > limit + ROUNDING {
            return Worth::NoneFromHere;
        }
        let workable = plan.fewest_runs <= self.runs;
        if workable && widths + plan.whole(&self.choice.frame) <= limit + ROUNDING {
            Worth::Looking
        } else {
            Worth::Nothing
        }
    }

    /// The constant of the relaxation, and the surcharge.
    fn constant(&self) -> f64 {
        self.surcharge - self.multiplier * self.multiplier / (4.0 * WEIGHTS.area)
    }

    fn solve(&self, best: &mut Best) {
        let bounds = self.bounds();
        let cheapest: Option<Vec<Vec<Worked>>> = (0..self.flanks.len())
            .map(|i| self.cheapest(i, &bounds, best))
            .collect();
        // A flank that nothing can finish leaves no cap in this frame.
        let Some(cheapest) = cheapest else { return };
        self.combine(&cheapest, best);
        let least: Vec<f64> = cheapest.iter().map(|worked| least_priced(worked)).collect();
        if least.iter().sum::<f64>() + self.constant() > best.limit(self.runs) + ROUNDING {
            return;
        }
        let mut kept: Vec<Vec<Worked>> = vec![Vec::new(); self.flanks.len()];
        for (i, kept_here) in kept.iter_mut().enumerate() {
            let others = least.iter().enumerate().filter(|(k, _)| *k != i);
            let others: f64 = others.map(|(_, cost)| cost).sum();
            for j in 0..self.flanks[i].plans.len() {
                let limit = best.limit(self.runs) - others - self.constant();
                match self.worth(i, j, limit) {
                    Worth::NoneFromHere => break,
                    Worth::Nothing => continue,
                    Worth::Looking => {}
                }
                let worked = self.search(i, j, limit, best);
                // Flanks that are alike need nothing of each other: each answer counts at once.
                if self.flanks.len() == 1 {
                    self.combine(&[worked], best);
                } else {
                    kept_here.extend(worked);
                }
            }
        }
        self.combine(&kept, best);
    }

    /// The cheapest priced sequences of a flank over all its plans: what the other flank may count
    /// on at the least.
    fn cheapest(&self, i: usize, bounds: &[f64], best: &mut Best) -> Option<Vec<Worked>> {
        let others = bounds.iter().sum::<f64>() - bounds[i];
        let ceiling = best.limit(self.runs) - others - self.constant();
        let mut found = self.first_answer(i, ceiling)?;
        for j in 0..self.flanks[i].plans.len() {
            let limit = least_priced(&found);
            match self.worth(i, j, limit) {
                Worth::NoneFromHere => break,
                Worth::Nothing => continue,
                Worth::Looking => {}
            }
            let better = self.search(i, j, limit, best);
            if least_priced(&better) < limit {
                found = better;
            }
        }
        Some(found)
    }

    /// The cheapest sequences of the first plan that has some, the limit raised until there are
    /// any or nothing below the ceiling is left.
    fn first_answer(&self, i: usize, ceiling: f64) -> Option<Vec<Worked>> {
        let widths = self.widths.to_go.roots[self.runs - 1];
        for (j, plan) in self.flanks[i].plans.iter().enumerate() {
            match self.worth(i, j, ceiling) {
                Worth::NoneFromHere => break,
                Worth::Nothing => continue,
                Worth::Looking => {}
            }
            let bound = widths + plan.whole(&self.choice.frame);
            let mut slack = FIRST_SLACK;
            loop {
                let limit = (bound + slack).min(ceiling);
                let found = self.searching(i, j).below(self.runs, limit);
                if !found.finishes.is_empty() {
                    return Some(worked(found, j));
                }
                if limit >= ceiling || slack > LAST_SLACK {
                    break;
                }
                slack *= 3.0;
            }
        }
        None
    }

    fn searching(&self, i: usize, j: usize) -> Search<'_> {
        let (edges, edges_to_go) = self.flanks[i].plans[j].edges(&self.choice.frame);
        Search {
            widths: &self.widths.costs,
            widths_to_go: &self.widths.to_go,
            edges,
            edges_to_go,
        }
    }

    /// Every sequence of flank `i` with plan `j` that could be part of a better cap.
    fn search(&self, i: usize, j: usize, limit: f64, best: &mut Best) -> Vec<Worked> {
        let found = self.searching(i, j).below(self.runs, limit);
        best.complete &= found.complete;
        worked(found, j)
    }

    /// The true objective of every pair of sequences, with the area term unpriced.
    fn combine(&self, worked: &[Vec<Worked>], best: &mut Best) {
        let lists: Vec<Vec<&Worked>> = worked.iter().map(|w| one_for_each_sum(w)).collect();
        match lists.as_slice() {
            [both] => {
                for one in both {
                    self.offer(&[one], best);
                }
            }
            [fronts, backs] => {
                for front in fronts {
                    for back in backs {
                        self.offer(&[front, back], best);
                    }
                }
            }
            _ => {}
        }
    }

    fn offer(&self, worked: &[&Worked], best: &mut Best) {
        let flanks = self.flanks.iter().zip(worked);
        let error: f64 = flanks
            .map(|(flank, w)| self.choice.frame.area_error(w.finish.sum, flank.sides))
            .sum();
        let priced: f64 = worked.iter().map(|w| w.finish.priced).sum();
        let area = WEIGHTS.area * error * error - self.multiplier * error;
        let objective = priced + area + self.surcharge;
        best.offer(self.runs, objective, || self.plan(worked));
    }

    fn plan(&self, worked: &[&Worked]) -> CapPlan {
        let flanks = self.flanks.iter().zip(worked);
        let mut flanks = flanks.flat_map(|(flank, w)| {
            let pickups = flank.plans[w.plan].pickups.iter();
            pickups.map(|pickup| FlankPlan {
                moves: w.finish.moves.clone(),
                zones: pickup.zones.clone(),
            })
        });
        let front = flanks.next().unwrap_or(FlankPlan {
            moves: Vec::new(),
            zones: Vec::new(),
        });
        let back = flanks.next().unwrap_or_else(|| front.clone());
        CapPlan {
            crown: self.choice.crown,
            base_front: self.choice.base_front,
            base_back: self.choice.base_back,
            front,
            back,
        }
    }
}

/// How far above the bound the first answer is looked for, and where that is given up, in square
/// centimetres.
const FIRST_SLACK: f64 = 0.002;
const LAST_SLACK: f64 = 100.0;

fn worked(found: Found, plan: usize) -> Vec<Worked> {
    let finishes = found.finishes.into_iter();
    finishes.map(|finish| Worked { finish, plan }).collect()
}

fn least_priced(worked: &[Worked]) -> f64 {
    lowest(worked.iter().map(|w| w.finish.priced))
}

fn lowest(costs: impl Iterator<Item = f64>) -> f64 {
    costs.fold(f64::INFINITY, f64::min)
}

/// What is known of a plan before its sequences are searched.
enum Worth {
    Looking,
    Nothing,
    /// Neither this plan nor a later one can cost so little.
    NoneFromHere,
}

fn one_for_each_sum(worked: &[Worked]) -> Vec<&Worked> {
    let mut list: Vec<&Worked> = worked.iter().collect();
    list.sort_by(|a, b| {
        (a.finish.sum.cmp(&b.finish.sum)).then(a.finish.priced.total_cmp(&b.finish.priced))
    });
    list.dedup_by_key(|w| w.finish.sum);
    list
}
