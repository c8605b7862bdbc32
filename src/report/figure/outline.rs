//! Outlines of caps as points in centimetres, the old and the new by the same rules.

use nalgebra::Point2;

use crate::convert::SizeConversion;
use crate::fit::SideMeasures;
use crate::measure::{Gauge, Rows};
use crate::outline::Cap;
use crate::plan::TubePlan;

/// The right-hand side of a cap in steps, from the top down: every row or turn pair a rectangle.
fn steps(half_widths_cm: &[f64], heights_cm: &[f64]) -> Vec<Point2<f64>> {
    let mut top = 0.0;
    let rows = half_widths_cm.iter().zip(heights_cm);
    rows.flat_map(|(half, height_cm)| {
        let from = top;
        top += height_cm;
        [Point2::new(*half, from), Point2::new(*half, top)]
    })
    .collect()
}

/// A right-hand and a left-hand side, both given to the right, as one closed outline.
pub(super) fn closed(right: &[Point2<f64>], left: &[Point2<f64>]) -> Vec<Point2<f64>> {
    let right = right.iter().copied();
    right.chain(mirrored(left).into_iter().rev()).collect()
}

/// The same points on the other side of the centre line.
pub(super) fn mirrored(points: &[Point2<f64>]) -> Vec<Point2<f64>> {
    points.iter().map(|p| Point2::new(-p.x, p.y)).collect()
}

/// The rows of the old cap in steps.
pub(super) fn old_steps(cap: &Cap) -> Vec<Point2<f64>> {
    let row = cap.row_height();
    let middles = (0..cap.rows().count()).map(|i| row * (f64::from(i) + 0.5));
    let halves: Vec<f64> = middles
        .map(|depth| cap.width_at(depth).to_cm() / 2.0)
        .collect();
    steps(&halves, &vec![row.to_cm(); halves.len()])
}

/// The turn pairs of one side of the new cap in steps.
pub(super) fn new_steps(size: &SizeConversion, side: &SideMeasures) -> Vec<Point2<f64>> {
    let picked_up_cm = size.fit.measures.picked_up.to_cm();
    let crown = side.half_widths_cm.first().copied().unwrap_or(0.0);
    let mut points = vec![Point2::new(crown, 0.0), Point2::new(crown, picked_up_cm)];
    let below = steps(&side.fabric_cm, &side.pair_heights_cm).into_iter();
    points.extend(below.map(|p| Point2::new(p.x, p.y + picked_up_cm)));
    points
}

/// The curve of one side of the new cap, from the top corner to the underarm corner: the stitches', whose edge is measured.
/// The picked-up row lies along it outside.
pub(super) fn new_edge(size: &SizeConversion, side: &SideMeasures) -> Vec<Point2<f64>> {
    side.edge_points_cm(size.fit.measures.picked_up)
}

/// The right-hand side of a tube from the underarm down: the width changes on every shaping round.
pub(super) fn tube_steps(tube: &TubePlan, gauge: Gauge) -> Vec<Point2<f64>> {
    let change = if tube.widens() { 1.0 } else { -1.0 };
    let s = gauge.stitch_width().to_cm();
    let mut half = tube.upper_arm.as_f64() / 2.0;
    let mut points = vec![Point2::new(half * s, 0.0)];
    if tube.beside != 0 {
        half = tube.stitches_after(tube.worked.count()).as_f64() / 2.0;
        let worked = gauge.height(tube.worked).to_cm();
        points.push(Point2::new(half * s, worked));
    }
    for round in &tube.decrease_rounds {
        // Two stitches a round, one on each side.
        half += change;
        points.push(Point2::new(half * s, gauge.height(Rows(*round)).to_cm()));
    }
    points.push(Point2::new(
        half * s,
        gauge.height(tube.rows_below_underarm()).to_cm(),
    ));
    points
}
