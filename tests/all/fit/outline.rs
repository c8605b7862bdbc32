//! Outlines against closed forms: a cylinder cut by a slanting plane, and a synthetic cap.

use crate::common::{RowSpec, gauge, ledger};
use capwright::measure::{Gauge, Rows, Stitches};
use capwright::outline::{Cap, Seam};

const NO_SEAM: Seam = Seam {
    stitches: Stitches(0),
    rows: Rows(0),
};

/// A sleeve of radius `r` cut at the angle `a`: unrolled, its edge is `y = r tan a (1 + cos(x/r))`
/// above the underarm (S. Partlan, Style Made By Hand, 18 Feb 2013, for the method; the formula
/// is the section of a cylinder by a plane).
struct SlantingCut {
    radius: f64,
    tan: f64,
}

impl SlantingCut {
    /// The cut whose edge is an ellipse of this perimeter, found by bisection.
    fn of(upper_arm: f64, edge: f64) -> Self {
        let radius = upper_arm / (2.0 * std::f64::consts::PI);
        let (mut low, mut high) = (0.0, 10.0);
        for _ in 0..60 {
            let tan = f64::midpoint(low, high);
            if ellipse_perimeter(radius, radius * (1.0 + tan * tan).sqrt()) < edge {
                low = tan;
            } else {
                high = tan;
            }
        }
        Self { radius, tan: low }
    }

    fn height(&self) -> f64 {
        2.0 * self.radius * self.tan
    }

    /// Half the width at this height above the underarm.
    fn half_width(&self, y: f64) -> f64 {
        self.radius * libm::acos((y / (self.radius * self.tan) - 1.0).clamp(-1.0, 1.0))
    }

    /// The cut as a flat cap `scale` times as large, each row as wide as at its middle.
    fn cap(&self, scale: f64, gauge: Gauge) -> Cap {
        let row = gauge.row_height().to_cm() / scale;
        let stitch = gauge.stitch_width().to_cm() / scale;
        let half = |y: f64| (self.half_width(y) / stitch).round() as u32;
        let start = half(0.0);
        let mut before = start;
        let rows: Vec<RowSpec> = (0..(self.height() / row).round() as u32)
            .map(|i| {
                let now = half((f64::from(i) + 0.5) * row);
                let lost = before - now;
                before = now;
                (0, lost, lost)
            })
            .collect();
        Cap::from_ledger(&ledger(2 * start, &rows), gauge, NO_SEAM).unwrap()
    }
}

/// Perimeter by Gauss and Legendre's arithmetic-geometric mean (Abramowitz and Stegun, 17.6).
fn ellipse_perimeter(minor: f64, major: f64) -> f64 {
    let (mut a, mut g) = (major, minor);
    let mut sum = 0.5 * (major * major - minor * minor);
    let mut weight = 0.5;
    for _ in 0..40 {
        let c = (a - g) / 2.0;
        (a, g) = (f64::midpoint(a, g), (a * g).sqrt());
        weight *= 2.0;
        sum += weight * c * c;
    }
    2.0 * std::f64::consts::PI * (major * major - sum) / a
}

/// Upper arm and armhole edge in inches with the height of the cut, computed from the method of
/// S. Partlan, 2013.
const CUTS: [(f64, f64, f64); 4] = [
    (13.0, 17.0, 5.075),
    (13.0, 16.0, 4.296),
    (14.0, 18.0, 5.233),
    (12.0, 16.0, 4.912),
];

#[test]
fn height_of_a_slanting_cut() {
    for (upper_arm, edge, height) in CUTS {
        approx::assert_abs_diff_eq!(
            SlantingCut::of(upper_arm, edge).height(),
            height,
            epsilon = 0.005
        );
    }
}

/// Relative errors of area (upper arm times half the height), edge (half the ellipse) and depth.
fn errors(upper_arm: f64, edge: f64, scale: f64, gauge: Gauge) -> [f64; 3] {
    let cut = SlantingCut::of(upper_arm, edge);
    let cap = cut.cap(scale, gauge);
    let area = upper_arm * cut.height() / 2.0;
    [
        (cap.area_cm2() / scale / scale / area - 1.0).abs(),
        (cap.edge().to_cm() / scale / (edge / 2.0) - 1.0).abs(),
        (cap.depth().to_cm() / scale / cut.height() - 1.0).abs(),
    ]
}

/// The cut knitted ever finer: stitches four times as fine as rows, so that whole stitches do not
/// make the edge zigzag.
#[test]
fn a_slanting_cut_is_measured_ever_better() {
    for (upper_arm, edge, _) in CUTS {
        let coarse = errors(upper_arm, edge, 10.0, gauge(48.0, 12.0));
        let fine = errors(upper_arm, edge, 80.0, gauge(80.0, 12.0));
        assert!(coarse.iter().all(|e| *e < 0.02), "{coarse:?}");
        assert!(fine.iter().all(|e| *e < 0.0025), "{coarse:?} {fine:?}");
        assert!(fine[0] < 1e-3, "area {fine:?}");
    }
}

/// At a usual gauge a cut is already measured within a per cent.
#[test]
fn a_slanting_cut_at_a_usual_gauge() {
    for (upper_arm, edge, _) in CUTS {
        let [area, edge, depth] = errors(upper_arm, edge, 2.54, gauge(22.0, 30.0));
        assert!(
            area < 0.02 && edge < 0.03 && depth < 0.015,
            "{area} {edge} {depth}"
        );
    }
}

/// A synthetic cap of 66 stitches at 5 stitches and 7 rows to the inch, `times` as fine: bind off
/// 5 a side, 16 a side over 32 rows, 4 a side over 4 rows, a top of 16.
fn synthetic(times: u32) -> f64 {
    let mut rows: Vec<RowSpec> = vec![(5 * times, 0, 0); 2];
    rows.extend((0..16 * times).flat_map(|_| [(0, 1, 1), (0, 0, 0)]));
    rows.extend(vec![(0, 1, 1); 4 * times as usize]);
    let inch = gauge(5.0 / 0.254, 7.0 / 0.254);
    let cap = Cap::from_ledger(&ledger(66 * times, &rows), inch, NO_SEAM).unwrap();
    assert_eq!(cap.rows().count(), 36 * times + 2);
    assert_eq!(cap.final_stitches().count(), 16 * times);
    cap.edge().to_inches() / f64::from(times)
}

/// 1 + sqrt(3.2^2 + (32/7)^2) + sqrt(0.8^2 + (4/7)^2) + half of a top of 3.2 in: 9.1633 in
/// (arithmetic, one straight segment for each run of one rate). The two bind-off rows add less the
/// finer the cap is.
#[test]
fn edge_of_the_synthetic_cap() {
    let off = |times: u32| (synthetic(times) - 9.1633).abs();
    let all: Vec<f64> = [1, 2, 4, 8, 16].into_iter().map(off).collect();
    assert!(all[0] < 2.0 / 7.0 + 1e-4, "{all:?}");
    assert!(
        all.windows(2).all(|pair| pair[1] < 0.6 * pair[0]),
        "{all:?}"
    );
    assert!(off(400) < 1e-3, "{}", off(400));
}
