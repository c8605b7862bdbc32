//! One list of runs for all sizes, against every list and every sequence looked at one by one.
//!
//! Outside check: brute force over the model written a second time in `fit_oracle`.

use std::collections::BTreeMap;

use crate::fit_oracle::cases::{Case, Kind, case};
use crate::fit_oracle::{every_sequence, frames, least, turn_pairs};
use capwright::fit::{Fit, Problem, certify, fit, same_runs};
use capwright::plan::Move;

/// Sizes whose flanks are alike, with the same moves.
const KIND: Kind = Kind {
    pairs: (4, 5),
    moves: (3, 3),
    alike: true,
    fixed_crown: true,
    gap: 2.2,
};

fn runs_of(moves: &[Move]) -> Vec<Move> {
    moves.chunk_by(|a, b| a == b).map(|run| run[0]).collect()
}

/// The least objective for every list of runs.
fn by_list(problem: &Problem<'_>) -> BTreeMap<Vec<Move>, f64> {
    let mut found: BTreeMap<Vec<Move>, f64> = BTreeMap::new();
    let allowed = problem.wishes.moves.clone().unwrap();
    for pairs in turn_pairs(problem) {
        for frame in frames(problem, pairs) {
            for moves in every_sequence(&allowed, pairs - 1) {
                if let Some(cost) = least(problem, &frame, &moves) {
                    let place = found.entry(runs_of(&moves)).or_insert(f64::INFINITY);
                    *place = place.min(cost);
                }
            }
        }
    }
    found
}

/// The lists of the sizes' own best caps.
fn lists_of(fits: &[Fit], most: usize) -> Vec<Vec<Move>> {
    let caps = fits.iter().flat_map(|fit| &fit.trade);
    let lists = caps.filter_map(|point| Some(runs_of(&point.cap.as_ref()?.0.front.moves)));
    lists.filter(|list| list.len() <= most).collect()
}

#[test]
fn the_best_list_is_the_one_that_brute_force_finds() {
    let moves = Some(vec![
        Move::new(1, 0),
        Move::new(2, 0),
        Move::new(2, 1),
        Move::new(3, 0),
    ]);
    let (mut compared, mut best_of_all) = (0, 0);
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
                let costs = tables.iter().map(|t| t.get(list).copied());
                Some((costs.sum::<Option<f64>>()?, list.clone()))
            });
            let best = sums.min_by(|a, b| a.0.total_cmp(&b.0));
            let Some(found) = same_runs(&problems, &fits, most) else {
                assert!(
                    lists_of(&fits, most)
                        .iter()
                        .all(|list| tables.iter().any(|t| !t.contains_key(list)))
                );
                continue;
            };
            compared += 1;
            let sum: f64 = found.fits.iter().map(|fit| fit.measures.objective).sum();
            let (least, _) = best.expect("a list was found");
            assert!(sum + 1e-9 >= least, "{sum} for {least} with {most} runs");
            best_of_all += usize::from(sum <= least + 1e-9);
            // Of the lists that the sizes' own caps use, it is the best.
            for list in lists_of(&fits, most) {
                let other: Option<f64> = tables.iter().map(|t| t.get(&list).copied()).sum();
                assert!(other.is_none_or(|other| sum <= other + 1e-9), "{list:?}");
            }
            for (problem, fit) in problems.iter().zip(&found.fits) {
                assert_eq!(certify(problem, &fit.plan, &fit.measures), []);
                assert_eq!(runs_of(&fit.plan.front.moves), found.runs);
                assert!(fit.plan.flanks_alike());
            }
        }
    }
    assert!(
        compared >= 12 && best_of_all * 2 > compared,
        "{best_of_all} of {compared}"
    );
}
