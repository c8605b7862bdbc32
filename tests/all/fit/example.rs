//! The fit on the project's small example.

use crate::common::{armhole, example_cap, gauge};
use capwright::fit::{Problem, Status, Wishes, certify, fit, measure, recipe};
use capwright::outline::{ArmholeEdge, Cap};
use capwright::plan::Repeat;

fn problem<'a>(cap: &'a Cap, edge: &'a ArmholeEdge) -> Problem<'a> {
    Problem {
        cap,
        front: edge,
        back: edge,
        cap_gauge: gauge(22.0, 30.0),
        tube_gauge: gauge(23.0, 32.0),
        upper_arm: cap.upper_arm(),
        repeat: Repeat::ANY,
        live: None,
        wishes: Wishes::default(),
    }
}

#[test]
fn the_small_cap_is_fitted_and_certified() {
    let cap = example_cap();
    // 34 rows, 11.3 cm, 200.6 cm2, 68 and 12 net stitches: design example, computed by hand.
    assert_eq!(cap.rows().count(), 34);
    approx::assert_abs_diff_eq!(cap.depth().to_cm(), 11.333, epsilon = 1e-3);
    approx::assert_abs_diff_eq!(cap.area_cm2(), 200.6, epsilon = 0.05);
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = problem(&cap, &edge);
    let fit = fit(&problem).unwrap();
    assert_eq!(fit.status, Status::Optimal);
    assert_eq!(certify(&problem, &fit.plan, &fit.measures), []);
    // 68 net stitches at 22 are 30.9 cm, which is 71 stitches at 23 (arithmetic).
    assert_eq!(fit.plan.upper_arm().count(), 71);
    assert!(fit.measures.depth_error.abs().to_cm() <= 10.0 / 30.0);
    assert!(fit.measures.area_error_pct.abs() <= 1.5);
    let baseline = measure(&problem, &recipe(&problem));
    assert!(baseline.objective > fit.measures.objective);
}

#[test]
fn a_tampered_cap_is_not_certified() {
    let cap = example_cap();
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    let mut moved = good.plan.clone();
    moved.front.moves.rotate_left(1);
    assert_ne!(moved, good.plan);
    assert!(!certify(&problem, &moved, &good.measures).is_empty());
    let mut wider = good.plan.clone();
    wider.crown.stitches += capwright::measure::Stitches(1);
    assert!(!certify(&problem, &wider, &good.measures).is_empty());
    let mut sparse = good.plan.clone();
    sparse.back.zones[0].rows += capwright::measure::Rows(1);
    assert!(!certify(&problem, &sparse, &good.measures).is_empty());
}
