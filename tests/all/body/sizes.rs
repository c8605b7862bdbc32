//! Arms and armholes of single sizes and busts, against what is published of them.

use super::arms::{mm, size};
use approx::assert_abs_diff_eq;
use capwright::body::{Key, armhole_counterparts, look_up};
use capwright::measure::Length;

/// The chart's arm at 24 months is 19 cm against 16, youth 16 is 24 against 29 to 30 (comparison
/// of the chart with NHANES 2015-2018).
#[test]
fn where_chart_and_survey_part_it_is_said() {
    let said = |table: &str, name: &str| -> Vec<&'static str> {
        let (_, said) = look_up(table, &Key::Size(name.to_owned()));
        said.iter().map(|d| d.code.id).collect()
    };
    assert_eq!(said("baby", "24 mo"), ["body-chart-and-survey-differ"]);
    assert_eq!(said("youth", "16"), ["body-chart-and-survey-differ"]);
    assert!(said("child", "8").is_empty());
    assert_eq!(said("woman", "M"), ["body-relaxed-by-mens-equation"]);
    assert_eq!(
        said("woman", "3X"),
        ["body-relaxed-by-mens-equation", "body-extrapolated"]
    );
    assert!(said("man", "L").is_empty());
    assert_eq!(said("man", "4X"), ["body-extrapolated"]);
    assert!(size("baby", "6 months").infant && !size("child", "2").infant);
    assert!(size("nhanes-male", "9 months").infant);
}

/// Ease moves the arm that still fits, and a wider sleeve fits no fewer.
#[test]
fn a_share_counts_the_ease() {
    let arm = size("woman", "M");
    let share = |finished: f64, ease: f64| {
        arm.share_fitting(Length::cm(finished), Length::cm(ease))
            .unwrap()
    };
    assert_abs_diff_eq!(share(33.0, 3.0), share(30.0, 0.0), epsilon = 1e-12);
    assert_abs_diff_eq!(share(28.0, -2.0), share(30.0, 0.0), epsilon = 1e-12);
    assert_abs_diff_eq!(share(arm.low.to_cm(), 0.0), 0.05, epsilon = 1e-9);
    assert_abs_diff_eq!(share(arm.high.to_cm(), 0.0), 0.95, epsilon = 1e-9);
    let shares: Vec<f64> = (0..60).map(|cm| share(f64::from(cm), 0.0)).collect();
    assert!(shares.windows(2).all(|pair| pair[0] <= pair[1]));
    assert!(shares[0].abs() < 1e-12 && shares[59] > 0.999);
}

/// Spread of arms at one chest: 5 to 95 % about 7 cm, counted from the public rows (NATICK/TR-15/007), flexed.
#[test]
fn the_spread_at_one_bust_is_wide() {
    for (table, bust) in [("ansur2-women", 94.7), ("ansur2-men", 105.9)] {
        let arm = look_up(table, &Key::Bust(Length::cm(bust))).0.unwrap();
        let width = (arm.high - arm.low).to_cm();
        assert!((6.0..7.5).contains(&width), "{table} {width}");
    }
}

/// NATICK/TR-89/044: scye girth of women 371.3 mm (sd 23.0), scye depth 185.7 (14.4); men's half
/// scye girth over the shoulder point from the USAF line 0.288 chest + 199.76 mm.
#[test]
fn armhole_counterparts_are_the_published_ones() {
    let women = armhole_counterparts("woman", Length::cm(94.0));
    let shown: Vec<(&str, f64, f64)> = women
        .iter()
        .map(|c| (c.what, mm(c.mean), mm(c.sd)))
        .collect();
    assert_eq!(shown.len(), 2);
    assert_eq!(shown[0].0, "half the scye girth");
    assert_abs_diff_eq!(shown[0].1, 371.3 / 2.0, epsilon = 1e-9);
    assert_abs_diff_eq!(shown[0].2, 23.0 / 2.0, epsilon = 1e-9);
    assert_eq!(shown[1].0, "scye depth");
    // The printed 5th and 95th percentiles, 162.7 and 210.4: the normal shape is 2 mm off at most.
    let (low, high) = women[1].range();
    assert_abs_diff_eq!(mm(low), 162.7, epsilon = 2.0);
    assert_abs_diff_eq!(mm(high), 210.4, epsilon = 2.0);
    assert_abs_diff_eq!(
        women[1].share_fitting(Length::cm(20.57), Length::cm(2.0)),
        0.5,
        epsilon = 1e-9
    );
    let men = armhole_counterparts("man", Length::cm(100.0));
    let over = men.iter().find(|c| c.of_this_bust).unwrap();
    assert_abs_diff_eq!(
        mm(over.mean),
        0.5 * (0.288 * 1000.0 + 199.7576),
        epsilon = 1e-9
    );
    assert!(
        armhole_counterparts("man", Length::cm(160.0))
            .iter()
            .all(|c| !c.of_this_bust)
    );
    assert!(armhole_counterparts("child", Length::cm(60.0)).is_empty());
}
