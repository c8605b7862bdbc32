//! The exact fit against a general solver: the same model written as a mixed-integer program, equal
//! objectives on hundreds of random problems.
//!
//! Outside source: the crates `good_lp` and `microlp`.

use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::program::solve;
use capwright::fit::fit;

/// Larger programs are left out: they take minutes.
const MOST_ARCS: usize = 350;

/// Compares the objectives of a kind of problem; returns how many were compared.
fn all_agree(kind: Kind, cases: u64) -> (usize, usize) {
    let (mut compared, mut feasible) = (0, 0);
    for n in 0..cases {
        let case = case(kind, n);
        let problem = case.problem();
        let found = fit(&problem).ok();
        for runs in [1, 2, 3, 5] {
            let Some(least) = solve(&problem, runs, MOST_ARCS) else {
                break;
            };
            let point = found.as_ref().and_then(|found| found.trade.get(runs - 1));
            let objective = point
                .and_then(|point| point.cap.as_ref())
                .map(|cap| cap.1.objective);
            let objective = objective.unwrap_or(f64::INFINITY);
            compared += 1;
            feasible += usize::from(objective.is_finite());
            let both_none = objective.is_infinite() && least.is_infinite();
            let agree = both_none || (objective - least).abs() <= 1e-7;
            assert!(agree, "case {n}, {runs} runs: {objective} for {least}");
        }
    }
    (compared, feasible)
}

#[test]
fn flanks_alike() {
    let kind = Kind {
        pairs: (4, 8),
        moves: (3, 5),
        alike: true,
        fixed_crown: true,
        gap: 1.6,
    };
    let (compared, feasible) = all_agree(kind, 220);
    assert!(
        compared >= 250 && feasible >= 100,
        "{feasible} of {compared}"
    );
}

#[test]
fn flanks_that_differ() {
    let kind = Kind {
        pairs: (4, 6),
        moves: (3, 4),
        alike: false,
        fixed_crown: true,
        gap: 1.5,
    };
    let (compared, feasible) = all_agree(kind, 110);
    assert!(
        compared >= 200 && feasible >= 50,
        "{feasible} of {compared}"
    );
}
