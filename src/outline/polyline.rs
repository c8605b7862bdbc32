//! Lengths of broken lines.

use nalgebra::Point2;

use crate::measure::Length;

/// Length of the broken line through the points, given in centimetres.
pub fn polyline_length(points_cm: &[Point2<f64>]) -> Length {
    let steps = points_cm.windows(2).map(|pair| match pair {
        [a, b] => (b - a).norm(),
        _ => 0.0,
    });
    Length::cm(steps.sum())
}

/// The point so far along a broken line; beyond its end the end, of no points the origin.
pub(super) fn point_along(points_cm: &[Point2<f64>], length: Length) -> Point2<f64> {
    let mut left = length.to_cm().max(0.0);
    for pair in points_cm.windows(2) {
        let [a, b] = pair else { continue };
        let step = (b - a).norm();
        if left <= step && step > 0.0 {
            return a + (b - a) * (left / step);
        }
        left -= step;
    }
    points_cm.last().copied().unwrap_or_default()
}

/// The length of a broken line up to any height, for lines that climb at every step.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Climb {
    /// (height, length up to it) in centimetres, from (0, 0) up.
    points: Vec<(f64, f64)>,
}

impl Climb {
    /// Along points (x, height) in centimetres, from the lowest up.
    pub(super) fn along(points_cm: &[Point2<f64>]) -> Self {
        let mut points = vec![(0.0, 0.0)];
        let start = points_cm.first().map_or(0.0, |point| point.y);
        let mut length = 0.0;
        for pair in points_cm.windows(2) {
            if let [a, b] = pair {
                length += (b - a).norm();
                points.push((b.y - start, length));
            }
        }
        Self { points }
    }

    /// The length up to this height; beyond the ends that of the end.
    pub(super) fn length_up_to(&self, height: Length) -> Length {
        let height = height.to_cm();
        let above = self.points.partition_point(|(y, _)| *y <= height);
        let (y0, length) = above
            .checked_sub(1)
            .and_then(|below| self.points.get(below))
            .copied()
            .unwrap_or((0.0, 0.0));
        let more = self.points.get(above).filter(|_| height >= 0.0);
        let part = more.map_or(0.0, |(y1, next)| {
            (next - length) * (height - y0) / (y1 - y0)
        });
        Length::cm(length + part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Synthetic 66-stitch cap at 5 stitches and 7 rows to the inch (perimeter method: one segment
    /// for each run of one rate): 5 sts, 16 sts over 32 rows, 4 sts over 4 rows, half of a top of
    /// 16 sts. Segments 1.0000, 5.5801, 0.9831 and 1.6000 in, together 9.1633 in (arithmetic).
    #[test]
    fn perimeter_of_the_synthetic_cap() {
        let (s, r) = (1.0 / 5.0, 1.0 / 7.0);
        let corners_sts_rows = [
            (33.0, 0.0),
            (28.0, 0.0),
            (12.0, 32.0),
            (8.0, 36.0),
            (0.0, 36.0),
        ];
        let points: Vec<Point2<f64>> = corners_sts_rows
            .iter()
            .map(|(sts, rows)| Point2::new(sts * s, rows * r))
            .collect();
        approx::assert_abs_diff_eq!(polyline_length(&points).to_cm(), 9.1633, epsilon = 1e-4);
    }
}
