//! A smooth curve that rises and falls only where its points do.

use kurbo::{BezPath, ParamCurveArclen, PathSeg, Point};
use nalgebra::Point2;

/// A piecewise cubic through points of rising abscissa, once continuously differentiable.
///
/// Source: F. N. Fritsch and R. E. Carlson, Monotone Piecewise Cubic Interpolation, SIAM J. Numer.
/// Anal. 17 (1980) 238; slopes inside by F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5
/// (1984) 300 (weighted harmonic mean), at the ends by the three-point formula of C. Moler,
/// Numerical Computing with MATLAB (2004), 3.6. Assumes nothing but rising abscissas. Guarantees
/// that it passes through every point and is monotone between any two of them, so it never
/// overshoots; the second derivative jumps at the points.
#[derive(Clone, Debug, PartialEq)]
pub struct Monotone {
    points: Vec<Point2<f64>>,
    slopes: Vec<f64>,
}

impl Monotone {
    /// The curve through points (abscissa, ordinate); `None` for fewer than two, for abscissas
    /// that do not rise, or for a coordinate that is no number.
    pub fn through(points: Vec<Point2<f64>>) -> Option<Self> {
        let finite = points.iter().all(|p| p.x.is_finite() && p.y.is_finite());
        let rising = points.windows(2).all(|w| matches!(w, [a, b] if a.x < b.x));
        if points.len() < 2 || !finite || !rising {
            return None;
        }
        let slopes = slopes(&points);
        Some(Self { points, slopes })
    }

    /// The ordinate at this abscissa; beyond the ends that of the end.
    pub fn at(&self, x: f64) -> f64 {
        let x = self.clamped(x);
        self.piece(x).map_or(f64::NAN, |piece| piece.at(x))
    }

    /// The slope at this abscissa; beyond the ends that of the end.
    pub fn slope_at(&self, x: f64) -> f64 {
        let x = self.clamped(x);
        self.piece(x).map_or(f64::NAN, |piece| piece.slope_at(x))
    }

    /// The curve as cubic Béziers from the first point to the last.
    pub fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        if let Some(first) = self.points.first() {
            path.move_to(Point::new(first.x, first.y));
        }
        for piece in self.pieces() {
            let [one, two] = piece.handles();
            path.curve_to(one, two, Point::new(piece.to.x, piece.to.y));
        }
        path
    }

    /// Arc length to this accuracy (Gauss-Legendre quadrature of kurbo).
    pub fn arc_length(&self, accuracy: f64) -> f64 {
        let share = accuracy / (self.points.len() as f64);
        self.path()
            .segments()
            .map(|segment: PathSeg| segment.arclen(share))
            .sum()
    }

    fn clamped(&self, x: f64) -> f64 {
        let first = self.points.first().map_or(x, |p| p.x);
        let last = self.points.last().map_or(x, |p| p.x);
        x.max(first).min(last)
    }

    fn piece(&self, x: f64) -> Option<Cubic> {
        let last = self.points.len().saturating_sub(2);
        let index = self.points.partition_point(|p| p.x <= x);
        self.pieces().nth(index.saturating_sub(1).min(last))
    }

    fn pieces(&self) -> impl Iterator<Item = Cubic> {
        let points = self.points.windows(2);
        points
            .zip(self.slopes.windows(2))
            .filter_map(|pair| match pair {
                ([from, to], [s, t]) => Some(Cubic {
                    from: *from,
                    to: *to,
                    slopes: (*s, *t),
                }),
                _ => None,
            })
    }
}

/// One cubic between two points, in Hermite form.
#[derive(Clone, Copy, Debug)]
struct Cubic {
    from: Point2<f64>,
    to: Point2<f64>,
    slopes: (f64, f64),
}

impl Cubic {
    fn width(&self) -> f64 {
        self.to.x - self.from.x
    }

    fn at(&self, x: f64) -> f64 {
        let (h, t) = (self.width(), (x - self.from.x) / self.width());
        let u = 1.0 - t;
        let ends = u * u * (1.0 + 2.0 * t) * self.from.y + t * t * (3.0 - 2.0 * t) * self.to.y;
        ends + h * t * u * (u * self.slopes.0 - t * self.slopes.1)
    }

    fn slope_at(&self, x: f64) -> f64 {
        let (h, t) = (self.width(), (x - self.from.x) / self.width());
        let chord = (self.to.y - self.from.y) / h;
        let (s, e) = self.slopes;
        6.0 * t * (1.0 - t) * chord + (1.0 - t) * (1.0 - 3.0 * t) * s + t * (3.0 * t - 2.0) * e
    }

    fn handles(&self) -> [Point; 2] {
        let third = self.width() / 3.0;
        [
            Point::new(self.from.x + third, self.from.y + third * self.slopes.0),
            Point::new(self.to.x - third, self.to.y - third * self.slopes.1),
        ]
    }
}

/// Slopes at the points.
fn slopes(points: &[Point2<f64>]) -> Vec<f64> {
    let pieces: Vec<(f64, f64)> = points
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some((b.x - a.x, (b.y - a.y) / (b.x - a.x))),
            _ => None,
        })
        .collect();
    let (first, last) = match pieces.as_slice() {
        [] => return Vec::new(),
        [(_, chord)] => return vec![*chord; 2],
        [a, b, ..] => {
            let (y, z) = match pieces.as_slice() {
                [.., y, z] => (*y, *z),
                _ => (*a, *b),
            };
            (end_slope(*a, *b), end_slope(z, y))
        }
    };
    let inner = pieces.windows(2).map(|pair| match pair {
        [a, b] => inner_slope(*a, *b),
        _ => 0.0,
    });
    std::iter::once(first)
        .chain(inner)
        .chain(std::iter::once(last))
        .collect()
}

/// The weighted harmonic mean of the chords on both sides; 0 where they turn.
fn inner_slope((h, m): (f64, f64), (k, n): (f64, f64)) -> f64 {
    if m * n <= 0.0 {
        return 0.0;
    }
    let (v, w) = (2.0 * k + h, k + 2.0 * h);
    (v + w) / (v / m + w / n)
}

/// The three-point slope at an end, cut so that the curve stays monotone; the end's own piece
/// first.
fn end_slope((h, m): (f64, f64), (k, n): (f64, f64)) -> f64 {
    let slope = ((2.0 * h + k) * m - h * n) / (h + k);
    if slope * m <= 0.0 {
        0.0
    } else if m * n <= 0.0 && slope.abs() > 3.0 * m.abs() {
        3.0 * m
    } else {
        slope
    }
}
