//! Outlines against closed forms, along a ladder of finer and finer gauges, and against kurbo.

use crate::common::{RowSpec, SEAM, armhole, example_cap, gauge, ledger};
use capwright::measure::{Gauge, Length};
use capwright::outline::{Cap, CapCurve, ease_strip, polyline_length};
use kurbo::{BezPath, ParamCurveArclen, Shape};
use nalgebra::Point2;

/// The gauges of the ladder: each twice as fine as the one before.
fn ladder() -> impl Iterator<Item = Gauge> {
    [10.0, 20.0, 40.0, 80.0]
        .into_iter()
        .map(|sts| gauge(sts, 1.5 * sts))
}

/// A cap whose rows are as wide as a shape is at their middle, to the nearest stitch a side; one
/// seam stitch an edge is added.
fn knitted(gauge: Gauge, depth_cm: f64, half_width_cm: impl Fn(f64) -> f64) -> Cap {
    let (s, r) = (gauge.stitch_width().to_cm(), gauge.row_height().to_cm());
    let rows = capwright::measure::nearest_whole(depth_cm / r);
    let half = |row: u32| {
        let middle = (f64::from(rows - row) - 0.5) * r;
        capwright::measure::nearest_whole(half_width_cm(middle) / s).max(1)
    };
    let start = half(0);
    let mut last = start;
    let specs: Vec<RowSpec> = (0..rows)
        .map(|row| {
            let lost = last - half(row);
            last -= lost;
            (0, lost, lost)
        })
        .collect();
    Cap::from_ledger(&ledger(2 * start + 2, &specs), gauge, SEAM).unwrap()
}

/// Off by how much, for each rung of the ladder.
fn errors(
    depth_cm: f64,
    half_width_cm: impl Fn(f64) -> f64 + Copy,
    area_cm2: f64,
    edge_cm: f64,
) -> Vec<(f64, f64)> {
    let rungs = ladder().map(|gauge| {
        let cap = knitted(gauge, depth_cm, half_width_cm);
        approx::assert_abs_diff_eq!(cap.depth().to_cm(), depth_cm, epsilon = 1e-9);
        (
            (cap.area_cm2() / area_cm2 - 1.0).abs(),
            (cap.edge_above_underarm().to_cm() / edge_cm - 1.0).abs(),
        )
    });
    rungs.collect()
}

/// At three stitches wide for four high (0.75 at this ratio of stitches to rows) every row pair
/// takes one stitch a side, so that nothing is rounded: both errors are those of the corners and
/// halve with every rung.
#[test]
fn a_triangle() {
    // 18 cm wide below, 12 cm deep: 108 cm2, side 15 cm.
    let found = errors(12.0, |y| 0.75 * y, 108.0, 15.0);
    for (rung, (area, edge)) in found.iter().enumerate() {
        let limit = 0.04 / f64::from(1 << rung);
        assert!(*area < limit && *edge < limit, "rung {rung}: {found:?}");
    }
}

#[test]
fn a_trapezoid() {
    // 26 cm below, 8 cm on top, 12 cm deep: 204 cm2; half the top and a side of 15 cm.
    let found = errors(12.0, |y| 4.0 + 0.75 * y, 204.0, 19.0);
    for (rung, (area, edge)) in found.iter().enumerate() {
        let limit = 0.02 / f64::from(1 << rung);
        assert!(*area < limit && *edge < limit, "rung {rung}: {found:?}");
    }
}

/// A slope that stitches cannot follow evenly: the broken line zigzags by parts of a stitch at
/// every gauge alike. Its length stays a little too long, the area converges all the same.
#[test]
fn a_slope_between_the_stitches() {
    let side = (10.0_f64 * 10.0 + 12.0 * 12.0).sqrt();
    let found = errors(12.0, |y| 4.0 + 10.0 * y / 12.0, 216.0, 4.0 + side);
    for (rung, (area, edge)) in found.iter().enumerate() {
        assert!(
            *area < 0.01 / f64::from(1 << rung),
            "rung {rung}: {found:?}"
        );
        assert!(*edge < 0.005, "rung {rung}: {found:?}");
    }
}

/// Quarter of the perimeter of an ellipse by Simpson's rule over the angle; it converges
/// exponentially for a smooth periodic integrand.
fn quarter_ellipse(a: f64, b: f64) -> f64 {
    let n = 400;
    let h = std::f64::consts::FRAC_PI_2 / f64::from(n);
    let speed = |i: i32| {
        let (sin, cos) = libm::sincos(f64::from(i) * h);
        (a * a * sin * sin + b * b * cos * cos).sqrt()
    };
    let sum: f64 = (0..=n)
        .map(|i| match i {
            0 => speed(i),
            _ if i == n => speed(i),
            _ if i % 2 == 1 => 4.0 * speed(i),
            _ => 2.0 * speed(i),
        })
        .sum();
    sum * h / 3.0
}

#[test]
fn half_an_ellipse() {
    // A circle of radius 1 has a quarter of pi / 2.
    approx::assert_abs_diff_eq!(
        quarter_ellipse(1.0, 1.0),
        std::f64::consts::FRAC_PI_2,
        epsilon = 1e-12
    );
    let (a, h) = (15.0_f64, 12.0_f64);
    let shape = |y: f64| a * (1.0 - (1.0 - y / h) * (1.0 - y / h)).sqrt();
    let area = std::f64::consts::FRAC_PI_2 * a * h;
    let found = errors(h, shape, area, quarter_ellipse(a, h));
    for (rung, (area, edge)) in found.iter().enumerate() {
        assert!(
            *area < 0.02 / f64::from(1 << rung),
            "rung {rung}: {found:?}"
        );
        // The zigzag of stitches is alike at every gauge; see the slope between the stitches.
        let floor = 0.006 + 0.02 / f64::from(1 << rung);
        assert!(*edge < floor, "rung {rung}: {found:?}");
    }
}

#[test]
fn area_and_lengths_are_those_of_kurbo() {
    let cap = example_cap();
    // The stair of rectangles as one closed path.
    let r = cap.row_height().to_cm();
    let rows = cap.rows().count();
    let mut right: Vec<(f64, f64)> = Vec::new();
    for row in 0..rows {
        let half = cap.width_at(Length::cm((f64::from(row) + 0.5) * r)).to_cm() / 2.0;
        right.push((half, f64::from(row) * r));
        right.push((half, f64::from(row + 1) * r));
    }
    let left = right.iter().rev().map(|(x, y)| (-x, *y));
    let mut path = BezPath::new();
    path.move_to(right[0]);
    for point in right.iter().copied().skip(1).chain(left) {
        path.line_to(point);
    }
    path.close_path();
    approx::assert_abs_diff_eq!(path.area().abs(), cap.area_cm2(), epsilon = 1e-9);
    let mut edge = BezPath::new();
    let points = cap.edge_points_cm();
    edge.move_to((points[0].x, points[0].y));
    for point in &points[1..] {
        edge.line_to((point.x, point.y));
    }
    let length: f64 = edge.segments().map(|s| s.arclen(1e-12)).sum();
    approx::assert_abs_diff_eq!(length, cap.curve().to_cm(), epsilon = 1e-9);
    // No curve through the same points is shorter than the broken line.
    let smooth = CapCurve::of(&cap).unwrap().length(Length::cm(1e-6)).to_cm();
    assert!(
        smooth >= length && smooth < 1.02 * length,
        "{smooth} {length}"
    );
}

#[test]
fn the_area_to_a_depth_is_the_sum_of_its_rectangles() {
    let cap = example_cap();
    let r = cap.row_height().to_cm();
    for tenths in 0..=cap.rows().count() * 10 {
        let depth = f64::from(tenths) / 10.0 * r;
        // Brute force: thin strips of a thousandth of a row.
        let strips = u64::from(tenths) * 100;
        let summed: f64 = (0..strips)
            .map(|i| {
                let middle = (i as f64 + 0.5) * r / 1000.0;
                cap.width_at(Length::cm(middle)).to_cm() * r / 1000.0
            })
            .sum();
        let found = cap.area_to_cm2(Length::cm(depth));
        assert!((found - summed).abs() < 1e-6, "{depth}: {found} {summed}");
    }
}

#[test]
fn a_strip_of_ease_adds_up_to_the_ease_of_the_edge() {
    let cap = example_cap();
    let edge = armhole(17.9, 1.8, 17.0, gauge(22.0, 30.0));
    for bands in [1, 4, 8, 13] {
        let saddle = Length::cm(1.5);
        let strip = ease_strip(&(&cap).into(), &edge, saddle, bands);
        assert_eq!(strip.len(), bands as usize);
        let ease: Length = strip.iter().map(capwright::outline::EaseBand::ease).sum();
        let whole = cap.edge_above_underarm() - edge.edge() - saddle;
        approx::assert_abs_diff_eq!(ease.to_cm(), whole.to_cm(), epsilon = 1e-9);
        assert!(strip.windows(2).all(|pair| pair[0].to == pair[1].from));
    }
}

#[test]
fn a_cap_of_its_armholes_own_shape_has_no_ease_anywhere() {
    // A straight side of three stitches in four against an armhole of the same height and edge.
    let gauge = gauge(80.0, 120.0);
    let cap = knitted(gauge, 12.0, |y| 0.75 * y);
    let edge = armhole(15.0, 2.0, 12.0, gauge);
    for band in ease_strip(&(&cap).into(), &edge, Length::ZERO, 8) {
        // The uppermost band holds half of a top two stitches wide, 0.125 cm.
        let top = band.to >= cap.depth();
        let limit = if top { 0.125 } else { 0.05 };
        assert!(band.ease().abs() < Length::cm(limit), "{band:?}");
    }
    // A cap that flares near the underarm has its ease there.
    let flared = knitted(gauge, 12.0, |y| 9.0 * (y / 12.0) * (y / 12.0) * (y / 12.0));
    let strip = ease_strip(&(&flared).into(), &edge, Length::ZERO, 4);
    assert!(strip[0].ease() > Length::cm(1.0) && strip[3].ease() < Length::cm(-0.5));
}

/// E1 (Slipped Stitches, 2014) and E2 (Knitting Unplugged, 2016) are in `tests/all/check/rules.rs`; this
/// is the perimeter by one segment for each run of one rate, S1-21 of the trade figures
/// (arithmetic): 1.0000 + 5.5801 + 0.9831 + 1.6000 in.
#[test]
fn the_perimeter_by_runs() {
    let (s, r) = (1.0 / 5.0, 1.0 / 7.0);
    let corners = [
        (33.0, 0.0),
        (28.0, 0.0),
        (12.0, 32.0),
        (8.0, 36.0),
        (0.0, 36.0),
    ];
    let points: Vec<Point2<f64>> = corners.map(|(x, y)| Point2::new(x * s, y * r)).into();
    approx::assert_abs_diff_eq!(polyline_length(&points).to_cm(), 9.1633, epsilon = 1e-4);
    // The same cap as a ledger: BO 5 twice, 16 a side over 32 rows, 4 a side over 4 rows (2 bound
    // off at the start of each), 16 left. Row by row it comes within half a row of the runs.
    let mut rows: Vec<RowSpec> = vec![(5, 0, 0), (5, 0, 0)];
    rows.extend([(0, 1, 1), (0, 0, 0)].repeat(16));
    rows.extend([(2, 0, 0); 4]);
    let inch = 2.54;
    let gauge = gauge(5.0 * 10.0 / inch, 7.0 * 10.0 / inch);
    let seamless = capwright::outline::Seam {
        stitches: capwright::measure::Stitches(0),
        rows: capwright::measure::Rows(0),
    };
    let cap = Cap::from_ledger(&ledger(66, &rows), gauge, seamless).unwrap();
    assert_eq!(cap.final_stitches().count(), 16);
    let edge = cap.edge().to_inches();
    // The ledger has two rows more than the runs, those of the underarm bind-off.
    assert!((edge - 9.1633 - 2.0 / 7.0).abs() < 1.0 / 14.0, "{edge}");
}

/// Along steps that only go out, one side is as long as the height and half the upper arm, however they lie.
#[test]
fn the_edge_along_its_steps_is_height_and_half_the_width() {
    let cap = example_cap();
    let wanted = cap.upper_arm().to_cm() / 2.0 + cap.depth().to_cm();
    approx::assert_abs_diff_eq!(cap.stepped_edge().to_cm(), wanted, epsilon = 1e-9);
}
