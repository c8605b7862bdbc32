//! From centimetres and other numbers to user units: true to scale in both directions, or one
//! direction at a time; and labels kept apart.

use nalgebra::Point2;

use super::sheet::{Pen, SMALL, Sheet, TextSet};

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

/// One direction of a chart: `from` lies at `low`, `to` at `high`, in user units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) low: f64,
    pub(super) high: f64,
}

/// Steps between marks that read well.
const STEPS: [f64; 22] = [
    0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0,
    200.0, 500.0, 1e3, 1e4, 1e5, 1e6,
];

impl Axis {
    /// The axis of these numbers between two places, with a little air; zero is on it when asked.
    pub(super) fn of(numbers: &[f64], with_zero: bool, low: f64, high: f64) -> Self {
        let zero = [0.0].into_iter().filter(|_| with_zero);
        let all: Vec<f64> = numbers.iter().copied().chain(zero).collect();
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if !(least.is_finite() && most.is_finite()) {
            return Self {
                from: 0.0,
                to: 1.0,
                low,
                high,
            };
        }
        // One number alone still needs a stretch to lie in.
        let air = ((most - least) * 0.08)
            .max(most.abs().max(least.abs()) * 1e-3)
            .max(1e-3);
        // An end that is zero because it was asked for gets no air, unless all are zero.
        let bare = |end: f64| with_zero && end == 0.0 && least < most;
        Self {
            from: if bare(least) { least } else { least - air },
            to: if bare(most) { most } else { most + air },
            low,
            high,
        }
    }

    /// The place of a number.
    pub(super) fn at(&self, number: f64) -> f64 {
        let share = (number - self.from) / (self.to - self.from);
        self.low + share * (self.high - self.low)
    }

    /// Round numbers on the axis, so many at the most, each with its label.
    pub(super) fn marks(&self, most: u32) -> Vec<(f64, String)> {
        let fits = |step: &&f64| (self.to - self.from) / **step <= f64::from(most);
        let step = STEPS.iter().find(fits).copied().unwrap_or(1e7);
        let first = (self.from / step - 1e-9).ceil();
        let numbers = (0..=most).map(|i| (first + f64::from(i)) * step);
        let decimals = match step {
            s if s < 0.01 => 3,
            s if s < 0.1 => 2,
            s if s < 1.0 => 1,
            _ => 0,
        };
        numbers
            .filter(|number| *number <= self.to + step * 1e-9)
            .map(|number| (number, format!("{:.decimals$}", number + 0.0)))
            .collect()
    }
}

/// Where a chart lies on its sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct ChartFrame {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

impl ChartFrame {
    /// Guides across with numbers at the left. The line of zero is drawn as an axis.
    pub(super) fn across(&self, sheet: &mut Sheet, axis: &Axis, marks: &[(f64, String)]) {
        for (number, label) in marks {
            let y = axis.at(*number);
            let pen = if *number == 0.0 {
                Pen::AXIS
            } else {
                Pen::GUIDE
            };
            sheet.rule((self.left, y), (self.right, y), pen);
            let at = (self.left - 8.0, y + SMALL / 3.0);
            sheet.text(at, TextSet::LABEL.end(), label);
        }
    }

    /// Marks and numbers below the frame.
    pub(super) fn below(&self, sheet: &mut Sheet, axis: &Axis, marks: &[(f64, String)]) {
        sheet.rule(
            (self.left, self.bottom),
            (self.right, self.bottom),
            Pen::AXIS,
        );
        for (number, label) in marks {
            let x = axis.at(*number);
            sheet.rule((x, self.bottom), (x, self.bottom + 6.0), Pen::AXIS);
            sheet.text((x, self.bottom + 22.0), TextSet::LABEL.middle(), label);
        }
    }
}

/// Places at least `gap` apart and at most `last`, as near to the wanted ones (rising) as pushing
/// down, then up, brings them.
pub(super) fn kept_apart(wanted: &[f64], gap: f64, last: f64) -> Vec<f64> {
    let mut places = Vec::with_capacity(wanted.len());
    let mut least = f64::NEG_INFINITY;
    for &place in wanted {
        least = place.max(least);
        places.push(least);
        least += gap;
    }
    let mut most = last;
    for place in places.iter_mut().rev() {
        *place = place.min(most);
        most = *place - gap;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_are_pushed_apart_and_stay_above_the_last_place() {
        assert_eq!(
            kept_apart(&[0.0, 1.0, 50.0], 10.0, 100.0),
            [0.0, 10.0, 50.0]
        );
        assert_eq!(
            kept_apart(&[90.0, 95.0, 99.0], 10.0, 100.0),
            [80.0, 90.0, 100.0]
        );
    }

    #[test]
    fn marks_are_round_and_on_the_axis() {
        let axis = Axis::of(&[0.0, 5.08], true, 0.0, 100.0);
        let labels: Vec<String> = axis.marks(6).into_iter().map(|mark| mark.1).collect();
        assert_eq!(labels, ["0", "1", "2", "3", "4", "5"]);
        let axis = Axis::of(&[-0.11, 0.02], true, 0.0, 100.0);
        let labels: Vec<String> = axis.marks(4).into_iter().map(|mark| mark.1).collect();
        assert_eq!(labels, ["-0.10", "-0.05", "0.00"]);
    }
}
