//! The moves of a fitted cap against a mixed-integer program (`good_lp` with `microlp`): for its sections no moves are
//! better. Squares are tangents, added where the last answer lies until they meet (J. E. Kelley, The cutting-plane
//! method, 1960).

use std::ops::Range;

use good_lp::{
    Constraint, Expression, ProblemVariables, Solution, SolverModel, Variable, constraint,
    default_solver, variable,
};

use crate::common::armhole;
use crate::fit_oracle::cases::{Case, Kind, case};
use crate::fit_oracle::{
    AREA, DECREASE, EASE, Edge, HIGH_DECREASE, LONE_MOVE, STRAIN, edges_cm, frame_of, kappa,
    moves_cost, row_cm, runs, stitch_cm, strain, targets_cm, words,
};
use capwright::fit::{Ease, Problem, Status, Work, fit_within};
use capwright::measure::Gauge;
use capwright::plan::{CapPlan, Move};

/// A square whose size costs something, as a sum over choices and a constant.
struct Square {
    weight: f64,
    of: Vec<(usize, usize, f64)>,
    constant: f64,
    /// Only what lies outside this range counts.
    free: (f64, f64),
    touches: Vec<f64>,
}

impl Square {
    fn value(&self, chosen: &[usize]) -> f64 {
        let sum = self.of.iter().filter(|(t, m, _)| chosen[*t] == *m);
        let value = self.constant + sum.map(|(_, _, x)| x).sum::<f64>();
        value - value.clamp(self.free.0, self.free.1)
    }
}

/// The first move of each section with its stitches, and the rate of every move.
fn sections(plan: &CapPlan) -> (Vec<(usize, u32)>, Vec<f64>) {
    let moves = &plan.front.moves;
    let mut sections = Vec::new();
    let mut rates = Vec::new();
    let (mut taken, mut end) = (0, 0);
    for zone in &plan.front.zones {
        sections.push((rates.len(), zone.stitches.count()));
        end += zone.stitches.count();
        while rates.len() < moves.len() && taken < end {
            taken += moves[rates.len()].take;
            rates.push(zone.rows.as_f64() / zone.stitches.as_f64());
        }
        assert_eq!(taken, end, "a section ends within a move");
    }
    (sections, rates)
}

/// What the program knows of a cap: sections and everything but the moves.
struct Program {
    kinds: Vec<Move>,
    /// Costs of a move at a place by itself.
    alone: Vec<Vec<f64>>,
    squares: Vec<Square>,
    /// The first move of each section, and its stitches.
    sections: Vec<(usize, u32)>,
    net: u32,
    most_runs: usize,
}

impl Program {
    fn of(problem: &Problem<'_>, plan: &CapPlan, kinds: Vec<Move>, most_runs: usize) -> Self {
        let (s, r, k) = (stitch_cm(problem), row_cm(problem), kappa(problem));
        let frame = frame_of(plan);
        let (pairs, moves) = (frame.pairs as f64, &plan.front.moves);
        let edge = Edge::of(problem.front, &frame);
        let all_cm = 2.0 * edge.whole_cm();
        let each = edges_cm(problem, &kinds);
        let row = edge.to_cm(1.0);
        let (sections, rates) = sections(plan);
        let alone = |t: usize, m: usize| {
            let a = f64::from(kinds[m].take) * rates[t] * row;
            let off = each[m] - 1.02 * a;
            let high = pairs - (t as f64 + 2.0);
            let drop = f64::from(kinds[m].drop);
            // Both flanks are alike.
            2.0 * STRAIN * off * off / a / all_cm
                + drop * (DECREASE / pairs + HIGH_DECREASE * high / pairs / pairs)
        };
        let wide = |m: usize| f64::from(kinds[m].take - kinds[m].drop) * s;
        let count = moves.len();
        let all = || (0..count).flat_map(|t| (0..kinds.len()).map(move |m| (t, m)));
        let half = f64::from(frame.crown) / 2.0 * s;
        let targets = targets_cm(problem, frame.pairs);
        let everywhere = (0.0, 0.0);
        let mut squares: Vec<Square> = (0..count)
            .map(|t| Square {
                weight: 1.0 / pairs,
                of: all()
                    .filter(|(i, _)| *i <= t)
                    .map(|(i, m)| (i, m, wide(m) + if i == t { k * each[m] / 2.0 } else { 0.0 }))
                    .collect(),
                constant: half - targets[t + 1],
                free: everywhere,
                touches: vec![0.0],
            })
            .collect();
        let old = problem.cap.area_cm2();
        let first = k * r * 2.0 * half + 2.0 * (half * 2.0 * r + k * r * 2.0 * r);
        squares.push(Square {
            weight: AREA,
            of: all()
                .map(|(t, m)| {
                    let below = (count - t) as f64;
                    (
                        t,
                        m,
                        2.0 * (below * wide(m) * 2.0 * r + k * r * each[m]) / old,
                    )
                })
                .collect(),
            constant: (first + 2.0 * count as f64 * half * 2.0 * r) / old - 1.0,
            free: everywhere,
            touches: vec![0.0],
        });
        let armhole_cm =
            (problem.front.edge() + problem.back.edge()).to_cm() + f64::from(frame.live) * s;
        let own = 2.0 * problem.cap.edge_above_underarm().to_cm() - armhole_cm;
        squares.push(Square {
            weight: EASE,
            of: all().map(|(t, m)| (t, m, 2.0 * each[m])).collect(),
            constant: 2.0 * (half + k * r + 2.0 * r) - armhole_cm,
            free: (own.min(0.0), own.max(2.54)),
            touches: vec![0.0],
        });
        Self {
            alone: (0..count)
                .map(|t| (0..kinds.len()).map(|m| alone(t, m)).collect())
                .collect(),
            net: moves.iter().map(|m| m.take - m.drop).sum(),
            kinds,
            squares,
            sections,
            most_runs,
        }
    }

    /// The best moves, and what no moves cost less than: but for what all have in common.
    fn solve(&mut self) -> (Vec<Move>, f64) {
        loop {
            let (chosen, bound) = self.relaxed();
            let mut met = true;
            for square in &mut self.squares {
                let at = square.value(&chosen);
                let known = square.touches.iter().map(|z| 2.0 * z * at - z * z);
                let known = known.fold(0.0, f64::max);
                if square.weight * (at * at - known) > 1e-10 {
                    square.touches.push(at);
                    met = false;
                }
            }
            if met {
                return (chosen.iter().map(|m| self.kinds[*m]).collect(), bound);
            }
        }
    }

    fn relaxed(&self) -> (Vec<usize>, f64) {
        let mut variables = ProblemVariables::new();
        let unknown = Unknown::new(self, &mut variables);
        let cost = unknown.cost(self);
        let mut model = variables.minimise(cost.clone()).using(default_solver);
        let all = [
            unknown.one_move_each(self),
            unknown.runs(self),
            unknown.tangents(self),
        ];
        for constraint in all.into_iter().flatten() {
            model.add_constraint(constraint);
        }
        let solution = model.solve().unwrap();
        let chosen = unknown
            .x
            .iter()
            .map(|row| row.iter().position(|x| solution.value(*x) > 0.5).unwrap());
        (chosen.collect(), solution.eval(cost))
    }
}

/// The program's variables.
struct Unknown {
    /// Which kind every move is.
    x: Vec<Vec<Variable>>,
    /// What every square is at the least, and of what.
    squares: Vec<(Variable, Variable)>,
    /// Where a run begins, but for the first.
    changes: Vec<Variable>,
    lone: Vec<Variable>,
}

fn sum(of: impl Iterator<Item = (f64, Variable)>) -> Expression {
    of.fold(Expression::from(0.0), |sum, (a, x)| sum + a * x)
}

impl Unknown {
    fn new(program: &Program, variables: &mut ProblemVariables) -> Self {
        let (count, kinds) = (program.alone.len(), program.kinds.len());
        let mut binary = |n: usize| -> Vec<Variable> {
            (0..n).map(|_| variables.add(variable().binary())).collect()
        };
        let x = (0..count).map(|_| binary(kinds)).collect();
        let changes = binary(count - 1);
        let squares = program.squares.iter().map(|_| {
            let size = variables.add(variable().min(0.0));
            (size, variables.add(variable()))
        });
        Self {
            x,
            changes,
            squares: squares.collect(),
            lone: (0..count)
                .map(|_| variables.add(variable().min(0.0)))
                .collect(),
        }
    }

    fn cost(&self, program: &Program) -> Expression {
        let alone = self.x.iter().zip(&program.alone);
        let alone = alone.flat_map(|(row, costs)| costs.iter().copied().zip(row.iter().copied()));
        let weights = program.squares.iter().map(|square| square.weight);
        let squares = weights.zip(self.squares.iter().map(|square| square.0));
        let lone = self.lone.iter().map(|lone| (LONE_MOVE, *lone));
        sum(alone.chain(squares).chain(lone))
    }

    /// One kind each, that add up to the stitches of every section and of the whole.
    fn one_move_each(&self, program: &Program) -> Vec<Constraint> {
        let count = self.x.len();
        let weighed = |of: &dyn Fn(&Move) -> f64, rows: Range<usize>| {
            let rows = self.x[rows].iter();
            sum(rows.flat_map(|row| row.iter().zip(&program.kinds).map(|(x, m)| (of(m), *x))))
        };
        let widens = weighed(&|m| f64::from(m.take - m.drop), 0..count);
        let mut all = vec![constraint!(widens == f64::from(program.net))];
        for row in &self.x {
            all.push(constraint!(sum(row.iter().map(|x| (1.0, *x))) == 1.0));
        }
        for (i, (first, stitches)) in program.sections.iter().enumerate() {
            let end = program.sections.get(i + 1).map_or(count, |next| next.0);
            let takes = weighed(&|m| f64::from(m.take), *first..end);
            all.push(constraint!(takes == f64::from(*stitches)));
            if *first > 0 {
                // A section begins where a run does.
                all.push(constraint!(self.changes[*first - 1] == 1.0));
            }
        }
        all
    }

    /// Where runs begin, how many there are, which have one move.
    fn runs(&self, program: &Program) -> Vec<Constraint> {
        let mut all = Vec::new();
        for (pair, change) in self.x.windows(2).zip(&self.changes) {
            for (before, here) in pair[0].iter().zip(&pair[1]) {
                all.push(constraint!(*here - *before <= *change));
                all.push(constraint!(*here + *before <= 2.0 - *change));
            }
        }
        let begun = sum(self.changes.iter().map(|change| (1.0, *change)));
        all.push(constraint!(begun <= program.most_runs as f64 - 1.0));
        let change = |at: Option<usize>| {
            let change = at.and_then(|at| self.changes.get(at));
            change.map_or(Expression::from(1.0), |change| (*change).into())
        };
        for (t, lone) in self.lone.iter().enumerate() {
            let both = change(t.checked_sub(1)) + change(Some(t));
            all.push(constraint!(*lone >= both - 1.0));
        }
        all
    }

    /// Squares by the tangents known so far.
    fn tangents(&self, program: &Program) -> Vec<Constraint> {
        let mut all = Vec::new();
        for (square, (size, out)) in program.squares.iter().zip(&self.squares) {
            let of = square.of.iter().map(|(t, m, a)| (*a, self.x[*t][*m]));
            let value = square.constant + sum(of);
            let everywhere = square.free == (0.0, 0.0);
            if everywhere {
                all.push(constraint!(*out == value));
            } else {
                // By how much it lies outside, on either side.
                all.push(constraint!(*out >= value.clone() - square.free.1));
                all.push(constraint!(*out >= square.free.0 - value));
            }
            for z in &square.touches {
                let z = if everywhere { *z } else { z.abs() };
                all.push(constraint!(*size >= 2.0 * z * *out - z * z));
            }
        }
        all
    }
}

/// A problem whose armholes are straight: every place is as long as every other.
fn straight(kind: Kind, n: u64) -> Case {
    let mut case = case(kind, n);
    let body: Gauge = case.cap_gauge;
    let rows = f64::from(case.front.sites().count());
    let edge_cm = rows * body.row_height().to_cm();
    let underarm_cm = case.front.underarm_width().to_cm();
    case.front = armhole(edge_cm, underarm_cm, edge_cm, body);
    case.back = case.front.clone();
    case.wishes.ease = Ease::Even;
    case
}

#[test]
fn no_moves_are_better_for_the_sections() {
    let (mut caps, mut several) = (0, 0);
    for n in 0..24 {
        let kind = Kind {
            pairs: (7, 11),
            moves: (2, 4),
            alike: true,
            fixed_crown: false,
            gap: 2.4,
        };
        let case = straight(kind, n);
        let problem = case.problem();
        let Ok(found) = fit_within(&problem, Work::USUAL) else {
            continue;
        };
        assert_eq!(found.status, Status::Optimal, "case {n}");
        caps += 1;
        let plan = &found.plan;
        several += usize::from(plan.front.zones.len() > 1);
        let allowed = problem.wishes.moves.clone().unwrap();
        let most_runs = runs(&plan.front.moves);
        let mut program = Program::of(&problem, plan, allowed, most_runs);
        let (moves, _) = program.solve();
        let frame = frame_of(plan);
        let edge = Edge::of(problem.front, &frame);
        let zones = plan
            .front
            .zones
            .iter()
            .map(|z| (z.stitches.count(), z.rows.count()));
        let zones = zones.collect::<Vec<_>>();
        let cost = moves_cost(&problem, &frame, i64::from(plan.join_change), &moves)
            + STRAIN * strain(&problem, &edge, &zones, &moves) / edge.whole_cm()
            + words(edge.sites, &zones);
        let own = found.measures.objective;
        assert!(
            (cost - own).abs() < 1e-8,
            "case {n}: {cost} for {own}, {moves:?}"
        );
    }
    assert!(
        caps >= 8 && several >= 4,
        "{caps} caps, {several} of several sections"
    );
}
