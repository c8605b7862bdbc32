//! From the error of the counts to the error of the sleeve, against closed forms.

use crate::common::drift::{Swatches, lesson};
use approx::assert_relative_eq;
use capwright::convert::GaugeSource;
use capwright::convert::drift::{DriftLesson, Drives, Quantity, QuantitySpread, Why};
use capwright::measure::Interval;

/// Two-sided 95 % points of Student's t for 2 and 4 degrees of freedom, as in every printed table.
const T2: f64 = 4.303;
const T4: f64 = 2.776;

fn pair(flat: &str, round: &str) -> DriftLesson {
    lesson(&Swatches {
        flat: Some(flat),
        round: Some(round),
        ..Swatches::default()
    })
}

fn spread(lesson: &DriftLesson, quantity: Quantity) -> &QuantitySpread {
    let mut spreads = lesson.sizes[0].spreads.iter();
    spreads.find(|s| s.quantity == quantity).unwrap()
}

fn half_width(spread: &QuantitySpread) -> f64 {
    (spread.high - spread.low) / 2.0
}

/// Counts 22.5, 23, 23.5: mean 23, deviation 0.5, standard error 0.5 / sqrt(3).
const THREE_AT_23: &str = "stitches = [22.5, 23, 23.5]\nrows = [31, 32, 33]";
const THREE_AT_22: &str = "stitches = [21.5, 22, 22.5]\nrows = [29, 30, 31]";

/// A width is stitches over gauge, so its relative error is that of the gauge; the same for lengths
/// and rows.
#[test]
fn widths_and_lengths_have_the_relative_error_of_their_gauge() {
    let lesson = pair(THREE_AT_22, THREE_AT_23);
    let root = 3_f64.sqrt();
    for (quantity, mean, sd) in [
        (Quantity::UpperArm, 23.0, 0.5),
        (Quantity::Cuff, 23.0, 0.5),
        (Quantity::TubeLength, 32.0, 1.0),
        (Quantity::CapDepth, 30.0, 1.0),
    ] {
        let spread = spread(&lesson, quantity);
        let expected = spread.value * T2 * sd / root / mean;
        assert_relative_eq!(half_width(spread), expected, max_relative = 2e-4);
    }
}

/// An area is one over the product of both gauges, so the squares of the relative errors add up:
/// here 0.5/22 and 1/30, each over sqrt(3), with 2 degrees of freedom each.
#[test]
fn an_area_adds_the_squares_of_both_errors() {
    let lesson = pair(THREE_AT_22, THREE_AT_23);
    let area = spread(&lesson, Quantity::CapArea);
    let (s, r) = (0.5_f64 / 22.0, 1.0_f64 / 30.0);
    let (s2, r2) = (s * s / 3.0, r * r / 3.0);
    let df = (s2 + r2) * (s2 + r2) / (s2 * s2 / 2.0 + r2 * r2 / 2.0);
    let t = capwright::swatch::statistics::t_critical(Some(df));
    // Between 2 and 4 degrees of freedom t lies between the printed points.
    assert!((2.0..=4.0).contains(&df) && (T4..=T2).contains(&t));
    let expected = area.value * t * (s2 + r2).sqrt();
    // The picked-up row along the edge, some hundredths of the area, hangs on the rows twice.
    assert_relative_eq!(half_width(area), expected, max_relative = 0.04);
    let shares: Vec<f64> = area
        .effects
        .iter()
        .flatten()
        .filter_map(|effect| effect.variance_share)
        .collect();
    assert_eq!(shares.len(), 2);
    assert_relative_eq!(shares[0], s2 / (s2 + r2), max_relative = 0.1);
    assert_relative_eq!(shares[0] + shares[1], 1.0, max_relative = 1e-12);
}

const ONE_AT_23: &str = "stitches = 23\nrows = 32";
const ONE_AT_22: &str = "stitches = 22\nrows = 30";

/// Four counts that agree more closely than they can be read: off by the reading error of one and no
/// more, a quarter of a stitch in 23.
const EVEN_AT_23: &str = "stitches = [23, 23, 23, 23]\nrows = [32, 32, 32, 32]";
const EVEN_AT_22: &str = "stitches = [22, 22, 22, 22]\nrows = [30, 30, 30, 30]";

/// One count has no interval: what hangs on it is shown over what two swatches of one knitter are
/// usually apart (2 %), as an effect only.
#[test]
fn a_single_count_gives_no_interval() {
    let lesson = pair(ONE_AT_22, ONE_AT_23);
    for spread in &lesson.sizes[0].spreads {
        assert!(!spread.is_counted(), "{:?}", spread.quantity);
        let mut effects = spread.effects.iter().flatten();
        assert!(effects.all(|effect| effect.variance_share.is_none()));
    }
    assert!(lesson.sizes[0].tighter.is_none());
    let effect = spread(&lesson, Quantity::UpperArm).effects[0].unwrap();
    let arm = spread(&lesson, Quantity::UpperArm).value;
    assert_relative_eq!(effect.at_low, arm / 0.98, max_relative = 1e-12);
    assert_relative_eq!(effect.at_high, arm / 1.02, max_relative = 1e-12);
    // One of the two gauges of an area is not enough.
    let half = pair("stitches = [22, 22.5, 22]\nrows = 30", THREE_AT_23);
    assert!(!spread(&half, Quantity::CapArea).is_counted());
    assert!(!spread(&half, Quantity::CapDepth).is_counted());
    assert!(spread(&half, Quantity::UpperArm).is_counted());
}

#[test]
fn counts_that_agree_move_a_width_by_the_reading_error() {
    let lesson = pair(EVEN_AT_22, EVEN_AT_23);
    let arm = spread(&lesson, Quantity::UpperArm);
    assert_relative_eq!(
        half_width(arm),
        arm.value * 0.25 / 23.0,
        max_relative = 1e-6
    );
    let effect = arm.effects[0].unwrap();
    assert_relative_eq!(
        effect.at_low,
        arm.value * 23.0 / 22.75,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        effect.at_high,
        arm.value * 23.0 / 23.25,
        max_relative = 1e-12
    );
    // Two reading errors at their limits: the area can be off by no more than both together.
    let area = spread(&lesson, Quantity::CapArea);
    let both = area.value * (0.25 / 22.0 + 0.25 / 30.0);
    assert!(half_width(area) < both);
    assert!(half_width(area) > both / 2.0_f64.sqrt());
}

/// Every sleeve of the simulation knitted alone would have this width: the quantile of the gauge
/// gives that of the width exactly.
#[test]
fn the_simulation_is_exact_for_a_width() {
    let lesson = pair(THREE_AT_22, THREE_AT_23);
    let arm = spread(&lesson, Quantity::UpperArm);
    let stitches = arm.value * 23.0 / 10.0;
    let at = |gauge: f64| stitches * 10.0 / gauge;
    let se = 0.5 / 3_f64.sqrt();
    let Interval { low, high } = arm.simulated;
    assert_relative_eq!(low, at(23.0 + T2 * se), max_relative = 2e-4);
    assert_relative_eq!(high, at(23.0 - T2 * se), max_relative = 2e-4);
}

/// Counts from `mean - step` to `mean + step`, most of them in the middle.
fn many(stitches: f64, rows: f64) -> String {
    let list = |mean: f64, step: f64| {
        let off = [-1.0, -0.5, -0.5, 0.0, 0.0, 0.0, 0.0, 0.5, 0.5, 1.0];
        let counts = off
            .iter()
            .chain(&off)
            .map(|x| (mean + x * step).to_string());
        counts.collect::<Vec<_>>().join(", ")
    };
    format!(
        "stitches = [{}]\nrows = [{}]",
        list(stitches, 1.0),
        list(rows, 2.0)
    )
}

/// The delta method is first order only; where errors are small the simulation must agree. Where counts
/// agree within their reading the errors are uniform: 95 % of a sum of two equal ones (a triangle) is 3 %
/// narrower than the normal distribution has it, of one that outweighs the other 16 % (closed
/// forms: 2 h (1 - sqrt 0.05) against 1.96 h sqrt(2/3), and 0.95 h against 1.96 h / sqrt 3).
#[test]
fn delta_method_and_simulation_agree() {
    for (lesson, allowed) in [
        (pair(&many(22.0, 30.0), &many(23.0, 32.0)), 0.94..1.06),
        (pair(EVEN_AT_22, EVEN_AT_23), 0.83..1.02),
    ] {
        assert_eq!(lesson.sizes[0].spreads.len(), 6);
        for spread in &lesson.sizes[0].spreads {
            let Interval { low, high } = spread.simulated;
            let ratio = (high - low) / (spread.high - spread.low);
            assert!(allowed.contains(&ratio), "{:?}: {ratio}", spread.quantity);
            let off = f64::midpoint(low, high) - f64::midpoint(spread.low, spread.high);
            assert!(off.abs() < 0.05 * (high - low), "{:?}", spread.quantity);
        }
    }
}

/// Two uniform errors of half widths a and b add up to a trapezium. Its tail beyond x holds
/// (a + b - x)^2 / (8 a b), so 95 % lie within a + b - sqrt(a b / 5). The area is one over both
/// gauges, each a quarter off at the most.
#[test]
fn two_reading_errors_add_up_to_a_trapezium() {
    let lesson = pair(EVEN_AT_22, EVEN_AT_23);
    let area = spread(&lesson, Quantity::CapArea);
    let (a, b) = (area.value * 0.25 / 22.0, area.value * 0.25 / 30.0);
    let expected = a + b - (a * b / 5.0).sqrt();
    let half = (area.simulated.high - area.simulated.low) / 2.0;
    // But for the picked-up row along the edge.
    assert_relative_eq!(half, expected, max_relative = 0.04);
}

/// With few counts the simulation is the cautious one: Behrens and Fisher's interval is wider than
/// Welch's. A measure that hangs on one count alone has but one interval.
#[test]
fn with_few_counts_the_simulation_is_the_cautious_one() {
    for spread in &pair(THREE_AT_22, THREE_AT_23).sizes[0].spreads {
        let Interval { low, high } = spread.simulated;
        let ratio = (high - low) / (spread.high - spread.low);
        let hangs_on = spread.effects.iter().flatten().count();
        let allowed = if hangs_on == 1 { 0.99..1.02 } else { 1.0..1.8 };
        assert!(allowed.contains(&ratio), "{:?}: {ratio}", spread.quantity);
    }
}

/// With 2 degrees of freedom Student's t has a closed form: F(t) = 1/2 + t / (2 sqrt(2 + t^2))
/// (Abramowitz and Stegun 26.7.1).
#[test]
fn the_chance_of_a_tight_upper_arm_is_the_closed_form() {
    let lesson = pair(THREE_AT_22, THREE_AT_23);
    let size = &lesson.sizes[0];
    let stitches = size.sleeves[0].plan.cap.upper_arm().as_f64();
    let wanted_cm = 680.0 / 22.0;
    let se = 0.5 / 3_f64.sqrt();
    let chance = |width_cm: f64| {
        let t = (10.0 * stitches / width_cm - 23.0) / se;
        1.0 - (0.5 + t / (2.0 * (2.0 + t * t).sqrt()))
    };
    let tighter = size.tighter.unwrap();
    assert_relative_eq!(tighter.at_all, chance(wanted_cm), max_relative = 1e-6);
    assert_relative_eq!(tighter.margin.to_cm(), 1.0);
    assert_relative_eq!(
        tighter.by_margin,
        chance(wanted_cm - 1.0),
        max_relative = 1e-6
    );
    // Counts that agree: any gauge within a quarter of a stitch alike.
    let lesson = pair(EVEN_AT_22, EVEN_AT_23);
    let stitches = lesson.sizes[0].sleeves[0].plan.cap.upper_arm().as_f64();
    let above = (23.25 - 10.0 * stitches / wanted_cm) / 0.5;
    let tighter = lesson.sizes[0].tighter.unwrap();
    assert_relative_eq!(tighter.at_all, above.clamp(0.0, 1.0), max_relative = 1e-9);
    assert_relative_eq!(tighter.by_margin, 0.0);
}

#[test]
fn each_measure_hangs_on_the_counts_it_should() {
    let lesson = pair(THREE_AT_22, THREE_AT_23);
    let names: Vec<String> = lesson
        .inputs
        .iter()
        .map(capwright::convert::drift::Input::name)
        .collect();
    assert_eq!(
        names,
        ["round stitches", "round rows", "flat stitches", "flat rows"]
    );
    let hangs = |quantity| -> Vec<bool> {
        let effects = &spread(&lesson, quantity).effects;
        effects.iter().map(Option::is_some).collect()
    };
    assert_eq!(hangs(Quantity::UpperArm), [true, false, false, false]);
    assert_eq!(hangs(Quantity::Cuff), [true, false, false, false]);
    assert_eq!(hangs(Quantity::TubeLength), [false, true, false, false]);
    assert_eq!(hangs(Quantity::CapDepth), [false, false, false, true]);
    assert_eq!(hangs(Quantity::CapArea), [false, false, true, true]);
    assert_eq!(hangs(Quantity::ArmholeShare), [false, false, true, true]);
}

#[test]
fn the_widest_counts_come_first_and_are_the_ones_to_count_again() {
    let wide = "stitches = [21, 23, 25]\nrows = [31.5, 32, 32.5]";
    let lesson = pair("stitches = [22, 22, 22.5]\nrows = [30, 30, 30.5]", wide);
    let first = lesson.sizes[0].by_effect[0];
    assert_eq!(lesson.inputs[first].name(), "round stitches");
    assert_eq!(lesson.next.swatch, GaugeSource::Round);
    assert_eq!(lesson.next.why, Why::LeastSure);
}

/// The cap knitted at the round swatch, because the case says so: one count moves cap and tube.
#[test]
fn a_shared_swatch_is_one_uncertainty() {
    let lesson = lesson(&Swatches {
        flat: Some("stitches = 22\nrows = 30"),
        round: Some(THREE_AT_23),
        chosen: "cap = \"round\"",
    });
    assert_eq!(lesson.inputs.len(), 2);
    assert!(lesson.inputs.iter().all(|i| i.drives == Drives::Both));
    assert!(lesson.assumptions.is_empty());
    let hangs: Vec<bool> = spread(&lesson, Quantity::CapArea)
        .effects
        .iter()
        .map(Option::is_some)
        .collect();
    assert_eq!(hangs, [true, true]);
}

/// An assumed gauge has no interval, only an effect over the usual range; it never narrows one.
#[test]
fn an_assumption_is_not_counted_as_knowledge() {
    let lesson = lesson(&Swatches {
        flat: Some(THREE_AT_22),
        ..Swatches::default()
    });
    let arm = spread(&lesson, Quantity::UpperArm);
    assert!(arm.is_assumed() && !arm.is_counted());
    let effect = arm.effects[0].unwrap();
    assert_relative_eq!(effect.at_low, arm.value / 0.94, max_relative = 1e-12);
    assert_relative_eq!(effect.at_high, arm.value / 1.06, max_relative = 1e-12);
    assert_eq!(effect.variance_share, None);
    assert!(lesson.sizes[0].tighter.is_none());
    assert!(spread(&lesson, Quantity::CapDepth).is_counted());
    assert_eq!(lesson.next.swatch, GaugeSource::Round);
    assert_eq!(lesson.next.why, Why::Missing);
    // 15 cm at 22 stitches and 30 rows, even, and a selvedge stitch at each edge: 34 + 2, 46.
    assert_eq!(lesson.next.cast_on.count(), 36);
    assert_eq!(lesson.next.rows.count(), 46);
}

#[test]
fn the_same_case_gives_the_same_numbers() {
    let (first, second) = (
        pair(THREE_AT_22, THREE_AT_23),
        pair(THREE_AT_22, THREE_AT_23),
    );
    let simulated = |lesson: &DriftLesson| -> Vec<Interval> {
        let spreads = lesson.sizes[0].spreads.iter();
        spreads.map(|spread| spread.simulated).collect()
    };
    assert_eq!(simulated(&first), simulated(&second));
}
