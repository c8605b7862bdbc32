//! The shape an outline starts from: an old cap's, or that of a tube cut slantwise.

use nalgebra::Point2;

use super::least::Reference;
use crate::measure::Length;
use crate::outline::Cap;

/// Where the ends of an outline lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// Half the width of the top.
    pub top: Length,
    /// Half the width above the underarm bind-offs.
    pub below: Length,
    /// Height of a row.
    pub row: Length,
}

/// What is stretched between the ends.
#[derive(Clone, Debug)]
pub enum Shape {
    /// One side of an old cap: points (x, y) in centimetres from the top corner down.
    Old(Vec<Point2<f64>>),
    /// The cut through a tube of this girth: `y = r tan a (1 + cos(s / r))` unrolled, between the
    /// ends of its flat top and its underarm.
    Cut {
        /// Girth of the tube.
        upper_arm: Length,
    },
}

impl Shape {
    /// The shape of an old cap.
    pub fn of(cap: &Cap) -> Self {
        Self::Old(cap.edge_points_cm())
    }

    /// The shape between these ends over so many row pairs. Widths and depth are stretched evenly, so
    /// that slopes keep their proportions and turn at the same share of the depth.
    pub fn between(&self, ends: Ends, pairs: u32) -> Reference {
        let (top, rise) = (ends.top.to_cm(), (ends.below - ends.top).to_cm());
        let share_of = |pair: u32| (2.0 * f64::from(pair) + 1.0) / (2.0 * f64::from(pairs));
        let mut half_widths_cm: Vec<f64> = (0..pairs)
            .map(|pair| top + rise * self.share(share_of(pair), ends))
            .collect();
        if let Some(last) = half_widths_cm.last_mut() {
            *last = ends.below.to_cm();
        }
        Reference {
            top_cm: top,
            below_cm: ends.below.to_cm(),
            row_cm: ends.row.to_cm(),
            half_widths_cm,
        }
    }

    /// The share of the rise that is reached at this share of the depth.
    fn share(&self, depth: f64, ends: Ends) -> f64 {
        match self {
            Self::Old(points) => along(points, depth).clamp(0.0, 1.0),
            Self::Cut { upper_arm } => cut(depth, *upper_arm, ends),
        }
    }
}

/// The rise at a share of the depth of a broken line, as a share of the whole rise.
fn along(points: &[Point2<f64>], depth: f64) -> f64 {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return depth;
    };
    let (rise, height) = (last.x - first.x, last.y - first.y);
    if rise <= 0.0 || height <= 0.0 {
        return depth;
    }
    let y = first.y + depth * height;
    let x = points.windows(2).find_map(|pair| match pair {
        [a, b] if y <= b.y && b.y > a.y => Some(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)),
        _ => None,
    });
    (x.unwrap_or(last.x) - first.x) / rise
}

/// The same of the cut: its height between the ends, solved for the width.
fn cut(depth: f64, upper_arm: Length, ends: Ends) -> f64 {
    let r = upper_arm.to_cm() / std::f64::consts::TAU;
    let (from, to) = (ends.top.to_cm(), ends.below.to_cm());
    if r <= 0.0 || to <= from {
        return depth;
    }
    let high = libm::cos(from / r);
    let low = libm::cos((to / r).min(std::f64::consts::PI));
    let angle = libm::acos((high + (low - high) * depth).clamp(-1.0, 1.0));
    ((r * angle - from) / (to - from)).clamp(0.0, 1.0)
}

/// Length of the slanting cut's edge on one side, between the ends, when it is so deep: the arc of
/// the unrolled curve by Simpson's rule.
pub fn cut_edge(upper_arm: Length, ends: Ends, depth: Length) -> Length {
    let r = upper_arm.to_cm() / std::f64::consts::TAU;
    let (from, to) = (ends.top.to_cm(), ends.below.to_cm());
    let fall = libm::cos(from / r) - libm::cos(to / r);
    let steep = depth.to_cm() / fall / r;
    let pace = |s: f64| {
        let slope = steep * libm::sin(s / r);
        (1.0 + slope * slope).sqrt()
    };
    let step = (to - from) / f64::from(SIMPSON);
    let sum: f64 = (0..=SIMPSON)
        .map(|i| {
            let weight = match i {
                0 | SIMPSON => 1.0,
                i if i % 2 == 1 => 4.0,
                _ => 2.0,
            };
            weight * pace(from + step * f64::from(i))
        })
        .sum();
    Length::cm(sum * step / 3.0)
}

/// Strips of the rule: its error falls with their fourth power, so that these leave nothing that is shown.
const SIMPSON: u32 = 200;

/// The depth at which the slanting cut between these ends has an edge of this length on one side,
/// half the flat top included; `None` when the edge is no longer than the way across.
pub fn cut_depth(upper_arm: Length, ends: Ends, edge: Length) -> Option<Length> {
    let curve = edge - ends.top;
    if !upper_arm.is_positive() || ends.below <= ends.top || curve <= ends.below - ends.top {
        return None;
    }
    let (mut low, mut high) = (0.0, curve.to_cm());
    while high - low > 1e-6 {
        let middle = f64::midpoint(low, high);
        if cut_edge(upper_arm, ends, Length::cm(middle)) < curve {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(Length::cm(f64::midpoint(low, high)))
}
