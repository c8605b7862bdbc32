//! The exact fit against trying everything: every turn pair, crown, base, join, pick-up and move sequence of
//! small problems, measured with formulas written again in `fit_oracle`.

use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::{every_sequence, frames, least, runs, turn_pairs};
use capwright::fit::{MOST_RUNS, Problem, Status, Work, certify, fit_within};

/// Least objective with at most 1, 2, ... runs; infinite where there is no cap.
type Least = [f64; MOST_RUNS];

fn brute_force(problem: &Problem<'_>) -> Least {
    let mut found = [f64::INFINITY; MOST_RUNS];
    let allowed = problem.wishes.moves.clone().unwrap();
    for pairs in turn_pairs(problem) {
        let sequences = every_sequence(&allowed, pairs - 1);
        for frame in frames(problem, pairs) {
            for moves in sequences.iter().filter(|moves| runs(moves) <= MOST_RUNS) {
                if let Some(cost) = least(problem, &frame, moves) {
                    let place = &mut found[runs(moves) - 1];
                    *place = place.min(cost);
                }
            }
        }
    }
    for r in 1..MOST_RUNS {
        found[r] = found[r].min(found[r - 1]);
    }
    found
}

/// Each of the two engines alone: the table that lets the pick-ups go, and the one with sections as stages.
const WAYS: [Work; 2] = [
    Work::unproven(50_000_000),
    Work {
        first: 0,
        each: 50_000_000,
        proof: 50_000_000,
    },
];

/// True when the fit found a cap.
fn agrees(problem: &Problem<'_>, n: u64) -> bool {
    let least = brute_force(problem);
    WAYS.iter().all(|work| finds(problem, *work, least, n))
}

fn finds(problem: &Problem<'_>, work: Work, least: Least, n: u64) -> bool {
    let Ok(found) = fit_within(problem, work) else {
        assert!(
            !least[MOST_RUNS - 1].is_finite(),
            "case {n}: brute force found a cap"
        );
        return false;
    };
    assert_eq!(found.status, Status::Optimal, "case {n}");
    for (point, least) in found.trade.iter().zip(least) {
        match &point.cap {
            Some((plan, measures)) => {
                let off = (measures.objective - least).abs();
                assert!(
                    off <= 1e-9,
                    "case {n}, {} runs: {} for {least}, {plan:?}",
                    point.runs,
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
fn small_caps_with_any_crown() {
    let kind = Kind {
        pairs: (3, 4),
        moves: (2, 4),
        alike: true,
        fixed_crown: false,
        gap: 2.4,
    };
    all_agree(kind, 60);
}

#[test]
fn a_crown_that_live_stitches_fix() {
    let kind = Kind {
        pairs: (5, 6),
        moves: (3, 4),
        alike: true,
        fixed_crown: true,
        gap: 2.4,
    };
    all_agree(kind, 40);
}

#[test]
fn longer_caps_of_two_moves() {
    let kind = Kind {
        pairs: (7, 8),
        moves: (2, 2),
        alike: true,
        fixed_crown: true,
        gap: 2.4,
    };
    all_agree(kind, 40);
}

#[test]
fn flanks_that_differ() {
    let kind = Kind {
        pairs: (4, 5),
        moves: (2, 4),
        alike: false,
        fixed_crown: true,
        gap: 2.4,
    };
    all_agree(kind, 60);
}
