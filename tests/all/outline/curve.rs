//! The monotone curve against SciPy and kurbo, and what it says about a cap.

use std::collections::BTreeMap;

use crate::common::{RowSpec, SEAM, example_cap, example_rows, gauge, ledger};
use capwright::measure::Length;
use capwright::outline::{Cap, CapCurve, Monotone};
use nalgebra::Point2;
use proptest::prelude::*;
use serde::Deserialize;

/// One set of `tests/data/outline/pchip.json`, made by `make.py` beside it with SciPy.
#[derive(Deserialize)]
struct Reference {
    x: Vec<f64>,
    y: Vec<f64>,
    places: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
    arc_length: f64,
}

fn references() -> BTreeMap<String, Reference> {
    serde_json::from_str(include_str!("../../data/outline/pchip.json")).unwrap()
}

fn curve(x: &[f64], y: &[f64]) -> Option<Monotone> {
    let points = x.iter().zip(y).map(|(x, y)| Point2::new(*x, *y));
    Monotone::through(points.collect())
}

#[test]
fn values_and_slopes_are_those_of_scipy() {
    for (name, set) in references() {
        let curve = curve(&set.x, &set.y).unwrap();
        let wanted = set.values.iter().zip(&set.slopes);
        for (place, (value, slope)) in set.places.iter().zip(wanted) {
            let (found, found_slope) = (curve.at(*place), curve.slope_at(*place));
            assert!(
                (found - value).abs() < 1e-12,
                "{name} at {place}: {found} {value}"
            );
            let near = 1e-10 * slope.abs().max(1.0);
            assert!(
                (found_slope - slope).abs() < near,
                "{name} at {place}: {found_slope} {slope}"
            );
        }
    }
}

#[test]
fn arc_length_follows_its_accuracy() {
    for (name, set) in references() {
        let curve = curve(&set.x, &set.y).unwrap();
        for digits in 2..11 {
            let accuracy = 10_f64.powi(-digits);
            let off = (curve.arc_length(accuracy) - set.arc_length).abs();
            assert!(off < accuracy, "{name} to {accuracy}: off by {off}");
        }
    }
}

#[test]
fn what_is_no_curve_is_refused() {
    assert_eq!(curve(&[1.0], &[1.0]), None);
    assert_eq!(curve(&[], &[]), None);
    assert_eq!(curve(&[1.0, 1.0], &[1.0, 2.0]), None);
    assert_eq!(curve(&[2.0, 1.0], &[1.0, 2.0]), None);
    assert_eq!(curve(&[1.0, f64::NAN], &[1.0, 2.0]), None);
    assert_eq!(curve(&[1.0, 2.0], &[1.0, f64::INFINITY]), None);
}

proptest! {
    /// Never overshoots, whatever the points: between two of them it stays between them.
    #[test]
    fn it_stays_between_its_points(
        steps in prop::collection::vec((0.01_f64..5.0, -8.0_f64..8.0), 2..20),
        share in 0.0_f64..1.0,
    ) {
        let mut at = Point2::new(0.0, 0.0);
        let points: Vec<Point2<f64>> = steps
            .iter()
            .map(|(dx, dy)| {
                at = Point2::new(at.x + dx, at.y + dy);
                at
            })
            .collect();
        let curve = Monotone::through(points.clone()).unwrap();
        for pair in points.windows(2) {
            let value = curve.at(pair[0].x + share * (pair[1].x - pair[0].x));
            let (low, high) = (pair[0].y.min(pair[1].y), pair[0].y.max(pair[1].y));
            prop_assert!(value >= low - 1e-9 && value <= high + 1e-9);
            prop_assert!((curve.at(pair[0].x) - pair[0].y).abs() < 1e-9);
        }
    }
}

/// A cap at 20 stitches and 20 rows to 10 cm with this many stitches less on each side of each
/// row pair, from the underarm up.
fn cap(start: u32, steps: &[u32]) -> Cap {
    let mut rows: Vec<RowSpec> = Vec::new();
    for &step in steps {
        rows.push((step, 0, 0));
        rows.push((step, 0, 0));
    }
    Cap::from_ledger(&ledger(start, &rows), gauge(20.0, 20.0), SEAM).unwrap()
}

#[test]
fn a_straight_side_has_one_slope_and_turns_in_its_middle() {
    // One stitch a side on each row pair: half a centimetre over one centimetre (arithmetic).
    let cap = cap(60, &[1; 20]);
    let curve = CapCurve::of(&cap).unwrap();
    for tenths in 30..170 {
        let slope = curve.slope_at(Length::cm(f64::from(tenths) / 10.0));
        approx::assert_abs_diff_eq!(slope, 0.5, epsilon = 1e-9);
    }
    approx::assert_abs_diff_eq!(curve.inflection().to_cm(), 10.0, epsilon = 1.0);
    let middle = curve.half_width_at(Length::cm(10.0));
    // 58 net stitches less 10 row pairs of 2 at that height: 38 stitches of 0.5 cm, half of it;
    // the pair's own rows lie half a stitch to either side.
    approx::assert_abs_diff_eq!(middle.to_cm(), 9.5, epsilon = 0.13);
}

#[test]
fn the_curve_turns_where_flare_meets_rounding() {
    // Eighteen row pairs of 1 cm. Pairs 6 to 9 from the underarm narrow by one stitch a side, all
    // others by more: the flank is straight from pair 5 to pair 9, and its middle, pair 7, lies
    // 18 - 6.5 cm down.
    let steps = [6, 5, 4, 3, 2, 1, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 5];
    let cap = cap(130, &steps);
    let curve = CapCurve::of(&cap).unwrap();
    approx::assert_abs_diff_eq!(curve.inflection().to_cm(), 11.5, epsilon = 0.5);
}

#[test]
fn a_cosine_turns_half_way_down_and_its_slope_is_the_closed_form() {
    // x = (W / 2) (1 - cos(pi y / H)) / 2 has its steepest slope pi W / (4 H) half way down.
    let (width, depth) = (30.0, 12.0);
    let mut last = f64::INFINITY;
    for n in [8_u32, 16, 32, 64] {
        let pi = std::f64::consts::PI;
        let points = (0..=n).map(|i| {
            let y = depth * f64::from(i) / f64::from(n);
            Point2::new(y, width / 4.0 * (1.0 - libm::cos(pi * y / depth)))
        });
        let curve = Monotone::through(points.collect()).unwrap();
        let off = (curve.slope_at(depth / 2.0) - pi * width / (4.0 * depth)).abs();
        assert!(
            off < last / 3.5,
            "{n} pieces: off by {off}, before by {last}"
        );
        last = off;
    }
    assert!(last < 1e-3);
}

#[test]
fn rows_of_a_smooth_cap_are_within_a_stitch_of_its_curve() {
    let cap = example_cap();
    let deviations = cap.row_deviations();
    assert!(deviations.len() > 25);
    assert!(deviations.windows(2).all(|pair| pair[0].row < pair[1].row));
    for deviation in deviations {
        assert!(deviation.stitches.abs() <= 1.0, "{deviation:?}");
    }
    assert_eq!(cap.jumps(), []);
}

/// The example cap with more stitches bound off at the start of two rows in its flank.
fn with_extra(first_row: usize, extra: u32) -> Cap {
    let mut rows = example_rows();
    rows[first_row - 1].0 += extra;
    rows[first_row].0 += extra;
    let start = 70 + 2 * extra;
    Cap::from_ledger(&ledger(start, &rows), gauge(22.0, 30.0), SEAM).unwrap()
}

#[test]
fn a_row_pair_that_takes_too_much_is_off_the_curve() {
    // The step is shared by two rows, so four more a side put each pair just one stitch off.
    assert_eq!(with_extra(15, 2).jumps(), []);
    assert_eq!(with_extra(15, 4).jumps(), []);
    for (row, extra) in [(15, 5), (15, 12), (16, 12), (10, 8), (22, 9)] {
        let jumps = with_extra(row, extra).jumps();
        assert_eq!(jumps.len(), 1, "row {row}, {extra} more: {jumps:?}");
        let jump = jumps[0];
        let row = u32::try_from(row).unwrap();
        // The pair below the step and the pair above it.
        assert!(
            jump.from + 4 >= row && jump.from < row,
            "row {row}: {jump:?}"
        );
        assert!(jump.to > row && jump.to <= row + 4, "row {row}: {jump:?}");
        assert!(jump.out_stitches > 1.0 && jump.in_stitches > 1.0);
    }
    // The worst row deviation sits there too.
    let worst = with_extra(15, 12)
        .row_deviations()
        .into_iter()
        .max_by(|a, b| a.stitches.abs().total_cmp(&b.stitches.abs()))
        .unwrap();
    assert!((13..=18).contains(&worst.row), "{worst:?}");
}

#[test]
fn a_long_jump_over_several_pairs_is_found() {
    let cap = cap(160, &[4, 2, 1, 1, 1, 1, 8, 8, 1, 1, 1, 2, 3, 4]);
    let jumps = cap.jumps();
    assert_eq!(jumps.len(), 1, "{jumps:?}");
    assert!(jumps[0].from <= 13 && jumps[0].to >= 15, "{jumps:?}");
}

#[test]
fn corners_of_caps_as_printed_are_no_jumps() {
    // Steps a side of each row pair from the underarm up, as published caps have them: The Knitter
    // 2020 (size 1), the DK sweater of a knitting handbook (size 1), an Australian magazine's
    // sleeve (size 1), a stepped continental one; then a few square or flared ones of our own.
    let caps: [&[u32]; 8] = [
        &[
            5, 2, 2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 4, 4,
        ],
        &[5, 2, 1, 1, 1, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 2, 4],
        &[4, 2, 2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 4],
        &[2, 1, 1, 0, 1, 0, 1, 1, 1, 1, 1, 1, 2, 2],
        &[3, 2, 2, 1, 1, 0, 0, 0, 1, 0, 0, 1, 0, 1, 1, 1, 2, 8, 9],
        &[8, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 10],
        &[6, 5, 4, 3, 2, 2, 2, 2, 2, 2, 3, 4, 5, 6],
        &[4, 1, 1, 2, 1, 1, 2, 1, 1, 2, 1, 1, 2, 3, 5],
    ];
    for steps in caps {
        let start = 2 * steps.iter().sum::<u32>() + 14;
        assert_eq!(cap(start, steps).jumps(), [], "{steps:?}");
    }
}
