//! The upper arm against the arm that goes into it: a case that raises each rule and one that does not.

use super::findings::{arm, codes, woman};
use crate::common::{armhole, example_cap, example_rows, gauge, ledger};
use capwright::body::{Arm, Key, look_up};
use capwright::check::{Garment, adapted_to, arm_findings, arm_share};
use capwright::measure::{Length, Units};

fn arm_codes(width: Length, arm: Option<&Arm>) -> Vec<&'static str> {
    codes(&arm_findings(Units::In, "upper arm", width, arm, &|_| true))
}

/// The chart's arm for women's M is 11 in.
#[test]
fn the_upper_arm_against_the_arm() {
    let arm = woman("M");
    let share = ["upper-arm-share"];
    let tight = ["upper-arm-tight", "caution-tight", "upper-arm-share"];
    let loose = ["upper-arm-loose", "upper-arm-share"];
    for (inches, expected) in [
        (9.8, &tight[..]),
        (10.0, &share[..]),
        (13.0, &share[..]),
        (16.9, &share[..]),
        (17.1, &loose[..]),
    ] {
        assert_eq!(
            arm_codes(Length::inches(inches), Some(&arm)),
            expected,
            "{inches} in"
        );
    }
    // A measured arm has no share; it is judged all the same.
    let measured = look_up("", &Key::UpperArm(Length::inches(14.0))).0.unwrap();
    let found = arm_codes(Length::inches(12.5), Some(&measured));
    assert_eq!(found, ["upper-arm-tight", "caution-tight"]);
    assert_eq!(arm_codes(Length::inches(12.7), Some(&measured)), [""; 0]);
    assert_eq!(arm_codes(Length::inches(13.0), None), [""; 0]);
}

/// Half of the people have an arm below the median of their own spread.
/// Another cap is advised only where one can be made.
#[test]
fn a_cap_for_the_arm_is_tried_before_it_is_advised() {
    let arm = woman("M");
    let width = Length::inches(9.0);
    for possible in [true, false] {
        let found = arm_findings(Units::In, "upper arm", width, Some(&arm), &|_| possible);
        let tight = found
            .iter()
            .find(|f| f.code.id == "upper-arm-tight")
            .unwrap();
        assert_eq!(
            tight.advice().contains("adapt.upper_arm"),
            possible,
            "{}",
            tight.advice()
        );
    }
    let cap = example_cap();
    let rows = ledger(70, &example_rows());
    let fits = |edge_cm: f64, arm_cm: f64| {
        let edge = armhole(edge_cm, 1.8, edge_cm - 1.0, gauge(22.0, 30.0));
        let garment = Garment {
            units: Units::Cm,
            cap: &cap,
            ledger: &rows,
            front: &edge,
            back: &edge,
            saddle: Length::ZERO,
            bust: None,
            arm: None,
            adapts: false,
            counterparts: &[],
        };
        adapted_to(&garment, Some(Length::cm(arm_cm))).is_some()
    };
    assert!(fits(18.5, 32.0));
    // Half of a sleeve of 50 cm, less the underarm and half the top, is farther across than this edge.
    assert!(!fits(14.0, 50.0));
}

#[test]
fn the_share_is_that_of_the_spread() {
    let arm = woman("M");
    let spread = arm.spread.clone().unwrap();
    for share in [0.05, 0.5, 0.9] {
        let width = spread.quantile(share);
        let found = arm_share(width, &arm).unwrap();
        approx::assert_abs_diff_eq!(found.as_it_is, share, epsilon = 1e-6);
        let stretched = arm_share(width * 0.9, &arm).unwrap();
        approx::assert_abs_diff_eq!(stretched.stretched, share, epsilon = 1e-6);
    }
    let measured = look_up("", &Key::UpperArm(Length::inches(14.0))).0.unwrap();
    assert_eq!(arm_share(Length::inches(15.0), &measured), None);
}

#[test]
fn garments_for_infants() {
    let baby = arm("baby", &Key::Size("12 months".to_owned()));
    assert!(arm_codes(Length::inches(8.0), Some(&baby)).contains(&"caution-infant"));
    assert!(!arm_codes(Length::inches(13.0), Some(&woman("M"))).contains(&"caution-infant"));
    // Without a size the width itself tells: the chart's arm at 24 months is 7.5 in.
    assert_eq!(arm_codes(Length::inches(7.5), None), ["caution-infant"]);
    assert_eq!(arm_codes(Length::inches(8.0), None), [""; 0]);
}
