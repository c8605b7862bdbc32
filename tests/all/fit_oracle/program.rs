//! The model of the fit as a mixed-integer program, for a general solver.
//!
//! Outside source: the crates `good_lp` and `microlp`. One unit of flow goes through the states
//! (widened by, taken in) of one pick-up plan of each flank; a binary for each pair counts a
//! change of move; the area term is convex, so it lies on its chords between whole sums.
#![allow(unreachable_pub, reason = "a module of tests")]

use std::collections::BTreeMap;

use super::{
    Frame, LONE_MOVE, Sizes, UNLIKE, ZONE, frames, move_cost, pickups, turn_pairs, wanted_cm,
    width_cost,
};
use capwright::fit::{MOST_RUNS, Problem};
use good_lp::{
    Constraint, Expression, ProblemVariables, Solution, SolverModel, Variable, constraint,
    default_solver, variable,
};

/// A state of a plan after a pair: (plan, pair, widened by, taken in).
type State = (usize, usize, u32, u32);

/// The flow of one flank.
#[derive(Default)]
struct Flow {
    cost: Expression,
    /// What comes into a state minus what goes out.
    balance: BTreeMap<State, Expression>,
    /// For each pair and move, whether that move is worked there.
    worked: BTreeMap<(usize, usize), Expression>,
    /// Net stitches of all pairs, added up.
    sum: Expression,
    ends: Expression,
}

struct Program<'a> {
    problem: &'a Problem<'a>,
    sizes: &'a Sizes,
    frame: &'a Frame,
    variables: ProblemVariables,
    arcs: usize,
}

/// How the flanks are worked.
#[derive(Clone, Copy, PartialEq)]
enum Work {
    /// The armholes are alike: one flank stands for both.
    One,
    /// The armholes differ, the moves and the upper zones do not.
    Alike,
    /// Each on its own, for a surcharge.
    Apart,
}

impl Program<'_> {
    /// Both flanks as one: every front plan with every back plan of the same upper zone.
    fn both(&mut self) -> Flow {
        let frame = self.frame;
        let gap = self.problem.wishes.gap_limit;
        let sites = [self.problem.front, self.problem.back]
            .map(|armhole| armhole.sites().count().saturating_sub(frame.crown_sites));
        let mut flow = Flow::default();
        let mut plan = 0;
        for taken in (frame.net[0]..=sites[0]).take(frame.pairs) {
            for front in pickups(sites[0], taken, gap) {
                for back in pickups(sites[1], taken, gap) {
                    if front[..front.len() - 1] != back[..back.len() - 1] {
                        continue;
                    }
                    let wanted = [(self.problem.front, &front), (self.problem.back, &back)];
                    let wanted = wanted.map(|(armhole, zones)| {
                        wanted_cm(self.problem, self.sizes, armhole, frame.crown_sites, zones)
                    });
                    let zone_cost = ZONE * (front.len() as f64 - 1.0);
                    self.plan(&mut flow, (plan, 0, taken, 1.0), zone_cost, &wanted);
                    plan += 1;
                }
            }
        }
        flow
    }

    fn flank(&mut self, side: usize, share: f64) -> Flow {
        let armhole = [self.problem.front, self.problem.back][side];
        let frame = self.frame;
        let sites = armhole.sites().count().saturating_sub(frame.crown_sites);
        let mut flow = Flow::default();
        let mut plan = 0;
        for taken in (frame.net[side]..=sites).take(frame.pairs) {
            for zones in pickups(sites, taken, self.problem.wishes.gap_limit) {
                let wanted =
                    wanted_cm(self.problem, self.sizes, armhole, frame.crown_sites, &zones);
                let zone_cost = share * ZONE * (zones.len() as f64 - 1.0);
                self.plan(&mut flow, (plan, side, taken, share), zone_cost, &[wanted]);
                plan += 1;
            }
        }
        flow
    }

    /// Adds every arc of one pick-up plan.
    fn plan(
        &mut self,
        flow: &mut Flow,
        (plan, side, taken, share): (usize, usize, u32, f64),
        zone_cost: f64,
        wanted: &[Vec<f64>],
    ) {
        let (sizes, frame) = (self.sizes, self.frame);
        let mut layer = vec![(0, 0)];
        for pair in 1..frame.pairs {
            let mut next = Vec::new();
            for &(net, p) in &layer {
                for (m, mv) in sizes.moves.iter().enumerate() {
                    let (net_after, after) = (net + mv.take - mv.drop, p + mv.take);
                    if net_after > frame.net[side] || after > taken {
                        continue;
                    }
                    let moves = wanted.iter();
                    let moves = moves.map(|w| move_cost(sizes, (frame.pairs, pair), w, p, *mv));
                    let mut cost = moves.sum::<f64>() / wanted.len() as f64;
                    cost += width_cost(sizes, frame, pair, net_after);
                    if pair == 1 {
                        cost += width_cost(sizes, frame, 0, 0) + zone_cost / share;
                    }
                    let arc = self.arc(flow, pair, m);
                    flow.cost += share * cost * arc;
                    flow.sum += f64::from(net_after) * arc;
                    if pair > 1 {
                        *flow.balance.entry((plan, pair - 1, net, p)).or_default() -= arc;
                    }
                    if pair < frame.pairs - 1 {
                        *flow
                            .balance
                            .entry((plan, pair, net_after, after))
                            .or_default() += arc;
                        next.push((net_after, after));
                    } else if net_after == frame.net[side] && after == taken {
                        flow.ends += arc;
                    } else {
                        // An arc to a wrong end carries nothing.
                        *flow
                            .balance
                            .entry((plan, pair, net_after, after))
                            .or_default() += arc;
                    }
                }
            }
            next.sort_unstable();
            next.dedup();
            layer = next;
        }
    }

    fn arc(&mut self, flow: &mut Flow, pair: usize, m: usize) -> Variable {
        self.arcs += 1;
        let arc = self.variables.add(variable().binary());
        *flow.worked.entry((pair, m)).or_default() += arc;
        arc
    }

    /// Lone moves of a flank: a variable for each move is at least one where a change lies before it
    /// and one behind it (the ends of the flank are changes).
    fn lone(&mut self, changes: &[Variable]) -> (Vec<Variable>, Vec<Constraint>) {
        let change = |at: usize| match at.checked_sub(2).and_then(|i| changes.get(i)) {
            Some(change) => Expression::from(*change),
            None => Expression::from(1.0),
        };
        let lone: Vec<Variable> = (1..self.frame.pairs)
            .map(|_| self.variables.add(variable().min(0.0)))
            .collect();
        let constraints = (1..self.frame.pairs).zip(&lone);
        let constraints = constraints
            .map(|(pair, lone)| constraint!(*lone >= change(pair) + change(pair + 1) - 1.0));
        let constraints = constraints.collect();
        (lone, constraints)
    }

    /// Changes of move along a flank: one binary for each pair after the first move.
    fn changes(&mut self) -> Vec<Variable> {
        (2..self.frame.pairs)
            .map(|_| self.variables.add(variable().binary()))
            .collect()
    }
}

/// Least objective of one frame, with the flanks worked alike or, for a surcharge, apart.
fn solve_frame(
    problem: &Problem<'_>,
    sizes: &Sizes,
    frame: &Frame,
    (runs, most_arcs): (usize, usize),
) -> Result<Option<f64>, ()> {
    if problem.front == problem.back {
        return solve_worked(problem, sizes, frame, (runs, most_arcs), Work::One);
    }
    let alike = solve_worked(problem, sizes, frame, (runs, most_arcs), Work::Alike)?;
    let apart = solve_worked(problem, sizes, frame, (runs, most_arcs), Work::Apart)?;
    let apart = apart.map(|objective| objective + UNLIKE);
    Ok(alike.into_iter().chain(apart).min_by(f64::total_cmp))
}

/// The same for one way of working; an error when the program is too large.
fn solve_worked(
    problem: &Problem<'_>,
    sizes: &Sizes,
    frame: &Frame,
    (runs, most_arcs): (usize, usize),
    work: Work,
) -> Result<Option<f64>, ()> {
    let mut program = Program {
        problem,
        sizes,
        frame,
        variables: ProblemVariables::new(),
        arcs: 0,
    };
    let alike = work != Work::Apart;
    let share = if alike { 1.0 } else { 0.5 };
    let flows: Vec<Flow> = match work {
        Work::One => vec![program.flank(0, share)],
        Work::Alike => vec![program.both()],
        Work::Apart => (0..2).map(|side| program.flank(side, share)).collect(),
    };
    if program.arcs > most_arcs {
        return Err(());
    }
    let changes: Vec<Vec<Variable>> = flows.iter().map(|_| program.changes()).collect();
    let lone: Vec<_> = changes
        .iter()
        .map(|changes| program.lone(changes))
        .collect();
    let area = program.variables.add(variable().min(0.0));
    let mut cost: Expression = area.into();
    let mut constraints = Vec::new();
    let mut sum = Expression::default();
    for (lone, behind) in lone {
        cost += (share * LONE_MOVE) * lone.iter().sum::<Expression>();
        constraints.extend(behind);
    }
    for (flow, changes) in flows.into_iter().zip(changes) {
        cost += flow.cost;
        sum += (2.0 * share) * flow.sum;
        constraints.push(constraint!(flow.ends == 1));
        constraints.extend(
            flow.balance
                .into_values()
                .map(|balance| constraint!(balance == 0)),
        );
        for ((pair, m), here) in &flow.worked {
            if *pair > 1 {
                let before = flow
                    .worked
                    .get(&(pair - 1, *m))
                    .cloned()
                    .unwrap_or_default();
                constraints.push(constraint!(here.clone() - before <= changes[pair - 2]));
            }
        }
        let all: Expression = changes.iter().sum();
        constraints.push(constraint!(all <= (runs - 1) as f64));
    }
    // Chords of the area term between neighbouring sums; with flanks alike the sum is even.
    let crowns_cm = sizes.stitch_cm * f64::from(frame.crown) * frame.pairs as f64;
    let term = |n: usize| sizes.area_term(crowns_cm + sizes.stitch_cm * n as f64);
    let most = (frame.net[0] + frame.net[1]) as usize * frame.pairs;
    let step = if alike { 2 } else { 1 };
    for n in (0..=most).step_by(step) {
        let slope = (term(n + step) - term(n)) / step as f64;
        constraints.push(constraint!(
            area >= term(n) + slope * (sum.clone() - n as f64)
        ));
    }
    let model = program
        .variables
        .minimise(cost.clone())
        .using(default_solver);
    Ok(model
        .with_all(constraints)
        .solve()
        .ok()
        .map(|solution| solution.eval(&cost)))
}

/// Least objective with at most so many runs; `None` when a program is too large.
pub fn solve(problem: &Problem<'_>, runs: usize, most_arcs: usize) -> Option<f64> {
    for counts in turn_pairs(problem) {
        let mut least = f64::INFINITY;
        let mut with_any_runs = f64::INFINITY;
        for pairs in counts {
            let sizes = Sizes::of(problem, pairs);
            for frame in frames(problem, pairs) {
                let objective = solve_frame(problem, &sizes, &frame, (runs, most_arcs)).ok()?;
                least = least.min(objective.unwrap_or(f64::INFINITY));
                if least.is_infinite() {
                    let any = solve_frame(problem, &sizes, &frame, (MOST_RUNS, most_arcs)).ok()?;
                    with_any_runs = with_any_runs.min(any.unwrap_or(f64::INFINITY));
                }
            }
        }
        if least.is_finite() || with_any_runs.is_finite() {
            return Some(least);
        }
    }
    Some(f64::INFINITY)
}
