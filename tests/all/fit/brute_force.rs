//! The exact fit against trying everything: every crown, base, pick-up plan and move sequence of
//! small problems, measured with formulas written again in `fit_oracle`.

use crate::fit_oracle;
use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::{
    FlankCost, Frame, Sizes, Zones, flank_cost, frames, pickups, runs, taken_and_net, turn_pairs,
    wanted_cm,
};
use capwright::fit::{MOST_RUNS, Problem, certify, fit};
use capwright::plan::Move;

/// Least objective with at most 1, 2, ... runs; infinite where there is no cap.
type Least = [f64; MOST_RUNS];

fn every_sequence(moves: &[Move], length: usize) -> Vec<Vec<Move>> {
    let mut all = vec![Vec::new()];
    for _ in 0..length {
        all = all
            .iter()
            .flat_map(|begun| {
                moves.iter().map(|m| {
                    let mut longer: Vec<Move> = begun.clone();
                    longer.push(*m);
                    longer
                })
            })
            .collect();
    }
    all
}

/// The plans of one side by the number of stitches picked up.
fn plans_by_stitches(
    problem: &Problem<'_>,
    sizes: &Sizes,
    frame: &Frame,
    side: usize,
) -> Vec<Vec<(Zones, Vec<f64>)>> {
    let armhole = [problem.front, problem.back][side];
    let sites = armhole.sites().count().saturating_sub(frame.crown_sites);
    (0..=sites)
        .map(|p| {
            let plans = pickups(sites, p, problem.wishes.gap_limit).into_iter();
            plans
                .map(|zones| {
                    let wanted = wanted_cm(problem, sizes, armhole, frame.crown_sites, &zones);
                    (zones, wanted)
                })
                .collect()
        })
        .collect()
}

/// Every sequence of one flank with its best pick-up plan, which nothing else depends on.
fn worked(
    problem: &Problem<'_>,
    sizes: &Sizes,
    frame: &Frame,
    side: usize,
) -> Vec<(usize, FlankCost)> {
    let plans = plans_by_stitches(problem, sizes, frame, side);
    let mut out = Vec::new();
    for moves in every_sequence(&sizes.moves, frame.pairs - 1) {
        let (taken, net) = taken_and_net(&moves);
        if net != frame.net[side] {
            continue;
        }
        let plans = plans.get(taken as usize).into_iter().flatten();
        let costs =
            plans.map(|(zones, wanted)| flank_cost(sizes, frame.crown, zones, wanted, &moves));
        let best = costs.min_by(|a, b| a.own.total_cmp(&b.own));
        out.extend(best.map(|cost| (runs(&moves), cost)));
    }
    out
}

/// Every sequence worked on both flanks alike, as (runs, own cost of both, widths of both): one
/// even zone on each side, or the same upper zone on both.
fn worked_alike(problem: &Problem<'_>, sizes: &Sizes, frame: &Frame) -> Vec<(usize, f64, f64)> {
    let fronts = plans_by_stitches(problem, sizes, frame, 0);
    let backs = plans_by_stitches(problem, sizes, frame, 1);
    let mut out = Vec::new();
    for moves in every_sequence(&sizes.moves, frame.pairs - 1) {
        let (taken, net) = taken_and_net(&moves);
        if net != frame.net[0] {
            continue;
        }
        for (zones, wanted) in fronts.get(taken as usize).into_iter().flatten() {
            let same = |other: &Zones| {
                zones.len() == other.len() && zones[..zones.len() - 1] == other[..other.len() - 1]
            };
            let front = flank_cost(sizes, frame.crown, zones, wanted, &moves);
            let matching = backs.get(taken as usize).into_iter().flatten();
            for (other, wanted) in matching.filter(|(other, _)| same(other)) {
                let back = flank_cost(sizes, frame.crown, other, wanted, &moves);
                let widths_cm = front.widths_cm + back.widths_cm;
                out.push((runs(&moves), front.own + back.own, widths_cm));
            }
        }
    }
    out
}

fn brute_force(problem: &Problem<'_>) -> Least {
    let mut least = [f64::INFINITY; MOST_RUNS];
    for counts in turn_pairs(problem) {
        for pairs in counts {
            let sizes = Sizes::of(problem, pairs);
            for frame in frames(problem, pairs) {
                try_frame(problem, &sizes, &frame, &mut least);
            }
        }
        if least.iter().any(|objective| objective.is_finite()) {
            break;
        }
    }
    for r in 1..MOST_RUNS {
        least[r] = least[r].min(least[r - 1]);
    }
    least
}

fn try_frame(problem: &Problem<'_>, sizes: &Sizes, frame: &Frame, least: &mut Least) {
    let mut offer = |runs: usize, objective: f64| {
        if runs <= MOST_RUNS {
            least[runs - 1] = least[runs - 1].min(objective);
        }
    };
    let fronts = worked(problem, sizes, frame, 0);
    // Flanks that are alike get the same moves.
    if problem.front == problem.back && frame.net[0] == frame.net[1] {
        for (runs, cost) in fronts {
            offer(runs, 2.0 * cost.own + sizes.area_term(2.0 * cost.widths_cm));
        }
        return;
    }
    for (runs, own, widths_cm) in worked_alike(problem, sizes, frame) {
        offer(runs, own + sizes.area_term(widths_cm));
    }
    // Flanks that are alike by chance were offered above without the surcharge.
    let backs = worked(problem, sizes, frame, 1);
    for (front_runs, front) in &fronts {
        for (back_runs, back) in &backs {
            let area = sizes.area_term(front.widths_cm + back.widths_cm);
            let own = front.own + back.own + fit_oracle::UNLIKE;
            offer(*front_runs.max(back_runs), own + area);
        }
    }
}

/// True when the fit found a cap.
fn agrees(problem: &Problem<'_>, n: u64) -> bool {
    let least = brute_force(problem);
    let Ok(found) = fit(problem) else {
        assert!(
            !least[MOST_RUNS - 1].is_finite(),
            "case {n}: brute force found a cap"
        );
        return false;
    };
    for (point, least) in found.trade.iter().zip(least) {
        match &point.cap {
            Some((plan, measures)) => {
                let off = (measures.objective - least).abs();
                assert!(
                    off <= 1e-9,
                    "case {n}: {} for {least}, {plan:?}",
                    measures.objective
                );
                assert!(plan.runs() <= point.runs, "case {n}");
                assert_eq!(certify(problem, plan, measures), [], "case {n}");
            }
            None => assert!(!least.is_finite(), "case {n}, {} runs", point.runs),
        }
    }
    true
}

fn all_agree(kind: Kind, cases: u64) {
    let feasible = (0..cases)
        .filter(|n| agrees(&case(kind, *n).problem(), *n))
        .count();
    // A check that never meets a cap, or always, would check only half of the answers.
    assert!(feasible as u64 > cases / 4, "{feasible} of {cases}");
}

#[test]
fn flanks_alike() {
    let kind = Kind {
        pairs: (4, 8),
        moves: (3, 4),
        alike: true,
        fixed_crown: false,
        gap: 2.4,
    };
    all_agree(kind, 240);
}

#[test]
fn flanks_alike_with_long_caps() {
    let kind = Kind {
        pairs: (9, 10),
        moves: (2, 3),
        alike: true,
        fixed_crown: false,
        gap: 2.4,
    };
    all_agree(kind, 80);
}

#[test]
fn flanks_that_differ() {
    let kind = Kind {
        pairs: (4, 7),
        moves: (3, 4),
        alike: false,
        fixed_crown: false,
        gap: 2.4,
    };
    all_agree(kind, 240);
}

#[test]
fn live_stitches_at_the_shoulder() {
    let kind = Kind {
        pairs: (4, 7),
        moves: (3, 5),
        alike: false,
        fixed_crown: true,
        gap: 2.4,
    };
    all_agree(kind, 200);
}

/// The weights are written again in the oracle; both tables must say the same.
#[test]
fn weights_are_the_stated_ones() {
    let weights = capwright::fit::WEIGHTS;
    let pairs = [
        (weights.edge, fit_oracle::EDGE),
        (weights.area, fit_oracle::AREA),
        (weights.decrease, fit_oracle::DECREASE),
        (weights.zone, fit_oracle::ZONE),
        (weights.high_decrease, fit_oracle::HIGH_DECREASE),
        (weights.lone_move, fit_oracle::LONE_MOVE),
        (weights.unlike, fit_oracle::UNLIKE),
    ];
    for (used, stated) in pairs {
        approx::assert_abs_diff_eq!(used, stated, epsilon = 1e-15);
    }
}
