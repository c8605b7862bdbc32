//! The fit on the project's small example.

use crate::common::{armhole, example_cap, example_problem, gauge};
use capwright::fit::{Live, Measures, Problem, Status, certify, fit, measure, recipe};
use capwright::measure::{Rows, Stitches};
use capwright::plan::{CapPlan, Zone};

#[test]
fn the_small_cap_is_fitted_and_certified() {
    let cap = example_cap();
    // 34 rows, 11.3 cm, 200.6 cm2, 68 and 12 net stitches: design example, computed by hand.
    assert_eq!(cap.rows().count(), 34);
    approx::assert_abs_diff_eq!(cap.depth().to_cm(), 11.333, epsilon = 1e-3);
    approx::assert_abs_diff_eq!(cap.area_cm2(), 200.6, epsilon = 0.05);
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = example_problem(&cap, &edge);
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
    let problem = example_problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    let mut moved = good.plan.clone();
    moved.front.moves.rotate_left(1);
    assert_ne!(moved, good.plan);
    assert!(!certify(&problem, &moved, &good.measures).is_empty());
    let mut wider = good.plan.clone();
    wider.crown.stitches += Stitches(1);
    assert!(!certify(&problem, &wider, &good.measures).is_empty());
    let mut sparse = good.plan.clone();
    sparse.back.zones[0].rows += Rows(1);
    assert!(!certify(&problem, &sparse, &good.measures).is_empty());
}

/// What is no number is near to none, a rate for two stitches is none, and a crown has the width of the cap's top.
#[test]
fn what_is_no_cap_of_the_model_is_not_certified() {
    let cap = example_cap();
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = example_problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    let faults = |plan: &CapPlan, claimed: &Measures| -> String {
        let said = certify(&problem, plan, claimed).into_iter();
        said.map(|d| d.message + "\n").collect()
    };
    let nan = Measures {
        objective: f64::NAN,
        ..good.measures.clone()
    };
    let said = faults(&good.plan, &nan);
    assert!(said.contains("objective is claimed to be NaN"), "{said}");
    let mut short = good.plan.clone();
    let zones = &mut short.front.zones;
    let whole = zones[0];
    zones.truncate(1);
    let (stitches, rows) = good.plan.front.zones.iter().fold((0, 0), |sum, zone| {
        (sum.0 + zone.stitches.count(), sum.1 + zone.rows.count())
    });
    zones[0] = Zone {
        stitches: Stitches(2),
        rows: Rows(3),
    };
    zones.push(Zone {
        stitches: Stitches(stitches - 2),
        rows: Rows(rows - 3),
    });
    assert!(whole.stitches > Stitches(2));
    let said = faults(&short, &measure(&problem, &short));
    assert!(said.contains("a section of 2"), "{said}");
    // Seven more than the first pair is wide, nine in ten rows of the armhole, as many fewer at the join.
    let mut wide = good.plan.clone();
    let target = 2.0 * problem.targets_cm(good.plan.turn_pairs())[0] / (10.0 / 22.0);
    let count = target.round() as u32 + 7;
    let change = count - wide.crown.stitches.count();
    wide.crown.stitches = Stitches(count);
    wide.crown.rows = Rows(2 * (f64::from(count) * 10.0 / 9.0 / 2.0).round() as u32);
    wide.join_change -= i32::try_from(change).unwrap();
    let said = faults(&wide, &measure(&problem, &wide));
    assert!(said.contains("the cap's top has"), "{said}");
}

/// The least a flank must take in, and the most it can, are worked out by hand: 12 sts wait at the shoulder, 8 are the
/// base of the upper arm's 71; both gauges call for 3 made at the join, and 4 more or fewer are looked at.
#[test]
fn why_there_is_no_cap_is_true_for_every_change_at_the_join() {
    let cap = example_cap();
    let nets = |joins: std::ops::RangeInclusive<i32>| {
        let left = joins.map(|join| 71 - join - 12 - 8);
        left.filter(|left| left % 2 == 0).map(|left| left / 2)
    };
    let (least, most) = (nets(-1..=7).min().unwrap(), nets(-1..=7).max().unwrap());
    assert_eq!((least, most), (22, 26));
    let (mut short, mut long) = (0, 0);
    for tenths in (30..=600).step_by(7) {
        let length = f64::from(tenths) / 10.0;
        let edge = armhole(length, 4.0 / 2.2, length, gauge(22.0, 30.0));
        let problem = Problem {
            live: Some(Live {
                stitches: Stitches(10),
                extra_each_side: Stitches(1),
            }),
            ..example_problem(&cap, &edge)
        };
        let Err(found) = fit(&problem) else { continue };
        let message = &found.message;
        let number = |before: &str| -> i32 {
            let rest = message.split(before).nth(1).unwrap();
            let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
            digits.parse().unwrap()
        };
        match found.code.id {
            "armhole-too-short" => {
                assert_eq!(number("at least "), least, "{message}");
                assert!(number("crown it has ") < least, "{message}");
                short += 1;
            }
            "armhole-too-long" => {
                assert_eq!(number("at the most ("), most, "{message}");
                long += 1;
            }
            _ => {}
        }
    }
    assert!(short > 0 && long > 0, "{short} {long}");
}
