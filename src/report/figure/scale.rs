//! From centimetres to user units: true to scale in both directions, or one direction at a time.

use nalgebra::Point2;

/// A drawing true to scale: the same number of units for a centimetre across and down.
#[derive(Clone, Copy, Debug)]
pub(super) struct True {
    /// Where (0, 0) lies.
    pub(super) origin: (f64, f64),
    /// Units for one centimetre.
    pub(super) k: f64,
}

impl True {
    /// The place of a point in centimetres.
    pub(super) fn at(&self, x_cm: f64, y_cm: f64) -> (f64, f64) {
        (self.origin.0 + self.k * x_cm, self.origin.1 + self.k * y_cm)
    }

    /// The places of points in centimetres.
    pub(super) fn all(&self, points_cm: &[Point2<f64>]) -> Vec<Point2<f64>> {
        points_cm
            .iter()
            .map(|p| {
                let (x, y) = self.at(p.x, p.y);
                Point2::new(x, y)
            })
            .collect()
    }
}
