//! One list of runs for all sizes, against every list and every sequence looked at one by one.
//!
//! Outside check: brute force over the model written a second time in `fit_oracle`.

use std::collections::BTreeMap;

use crate::fit_oracle::cases::{Case, Kind, case};
use crate::fit_oracle::{
    Sizes, UNLIKE, flank_cost, frames, pickups, taken_and_net, turn_pairs, wanted_cm,
};
use capwright::fit::{Fit, Problem, certify, fit, together};
use capwright::plan::Move;

/// Sizes whose flanks are alike, with the same moves.
const KIND: Kind = Kind {
    pairs: (4, 7),
    moves: (3, 3),
    alike: true,
    fixed_crown: false,
    gap: 2.2,
};

fn every_sequence(moves: &[Move], length: usize) -> Vec<Vec<Move>> {
    let mut all = vec![Vec::new()];
    for _ in 0..length {
        let longer = all.iter().flat_map(|begun: &Vec<Move>| {
            moves
                .iter()
                .map(move |m| [begun.as_slice(), &[*m]].concat())
        });
        all = longer.collect();
    }
    all
}

fn runs_of(moves: &[Move]) -> Vec<Move> {
    moves.chunk_by(|a, b| a == b).map(|run| run[0]).collect()
}

/// The least objective for every list of runs.
fn by_list(problem: &Problem<'_>) -> BTreeMap<Vec<Move>, f64> {
    let mut least: BTreeMap<Vec<Move>, f64> = BTreeMap::new();
    for counts in turn_pairs(problem) {
        for pairs in counts {
            let sizes = Sizes::of(problem, pairs);
            for frame in frames(problem, pairs) {
                let sites = problem
                    .front
                    .sites()
                    .count()
                    .saturating_sub(frame.crown_sites);
                for moves in every_sequence(&sizes.moves, pairs - 1) {
                    let (taken, net) = taken_and_net(&moves);
                    if net != frame.net[0] {
                        continue;
                    }
                    for zones in pickups(sites, taken, problem.wishes.gap_limit) {
                        let wanted =
                            wanted_cm(problem, &sizes, problem.front, frame.crown_sites, &zones);
                        let cost = flank_cost(&sizes, frame.crown, &zones, &wanted, &moves);
                        let all = 2.0 * cost.own + sizes.area_term(2.0 * cost.widths_cm);
                        let place = least.entry(runs_of(&moves)).or_insert(f64::INFINITY);
                        *place = place.min(all);
                    }
                }
            }
        }
        if !least.is_empty() {
            break;
        }
    }
    least
}

#[test]
fn the_best_list_is_the_one_that_brute_force_finds() {
    let moves = Some(vec![
        Move::new(1, 0),
        Move::new(2, 0),
        Move::new(2, 1),
        Move::new(3, 0),
    ]);
    let mut compared = 0;
    let cases: Vec<Case> = (0..120)
        .map(|n| {
            let mut case = case(KIND, n);
            case.wishes.moves.clone_from(&moves);
            case
        })
        .collect();
    let feasible: Vec<(&Case, Fit)> = cases
        .iter()
        .filter_map(|case| Some((case, fit(&case.problem()).ok()?)))
        .collect();
    for three in feasible.chunks_exact(3).take(12) {
        let problems: Vec<Problem<'_>> = three.iter().map(|(case, _)| case.problem()).collect();
        let fits: Vec<Fit> = three.iter().map(|(_, fit)| fit.clone()).collect();
        let tables: Vec<BTreeMap<Vec<Move>, f64>> = problems.iter().map(by_list).collect();
        for most in [2, 3, 4] {
            let lists = tables[0].keys().filter(|list| list.len() <= most);
            let sums = lists.filter_map(|list| {
                tables
                    .iter()
                    .map(|t| t.get(list).copied())
                    .sum::<Option<f64>>()
            });
            let least = sums.fold(f64::INFINITY, f64::min);
            let Some(found) = together(&problems, &fits, most) else {
                assert!(least.is_infinite(), "brute force finds {least}");
                continue;
            };
            compared += 1;
            let sum: f64 = found.fits.iter().map(|fit| fit.measures.objective).sum();
            assert!(
                (sum - least).abs() < 1e-9,
                "{sum} for {least} with {most} runs"
            );
            for (problem, fit) in problems.iter().zip(&found.fits) {
                assert_eq!(certify(problem, &fit.plan, &fit.measures), []);
                assert_eq!(runs_of(&fit.plan.front.moves), found.runs);
                assert!(fit.plan.flanks_alike() && UNLIKE > 0.0);
            }
        }
    }
    assert!(compared >= 12, "{compared}");
}
