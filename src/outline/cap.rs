//! The outline of an old flat cap: exact area and depth, seam edge and stepped edge.

use nalgebra::Point2;

use super::codes::{CAP_EMPTY, CAP_WIDENS, FROM_THE_TOP, SEAM_EATS_CAP};
use super::polyline::polyline_length;
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, whole};
use crate::pattern::{Ledger, LedgerRow};

/// What the seams take: stitches at each edge, rows at the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seam {
    /// Stitches lost at each edge.
    pub stitches: Stitches,
    /// Rows lost at the top.
    pub rows: Rows,
}

/// A flat cap, net of its seams: one rectangle for each row.
#[derive(Clone, Debug, PartialEq)]
pub struct Cap {
    /// Widths of the rows in centimetres, from the top row down to row 1.
    widths_cm: Vec<f64>,
    row_height: Length,
    stitch_width: Length,
    upper_arm: Stitches,
    top: Stitches,
    final_stitches: Stitches,
    area_from_top_cm2: Vec<f64>,
}

/// What is said of a cap whose rows were turned round.
pub(crate) fn worked_from_the_top() -> Diagnostic {
    let message = "The cap's lines only add stitches: it is worked from the top, and its rows are counted from the underarm here.";
    Diagnostic::new(&FROM_THE_TOP, message.to_owned())
}

/// A cap of fewer rows has no curve to speak of.
const LEAST_ROWS: usize = 4;

impl Cap {
    /// The outline that the rows of a ledger draw at this gauge.
    ///
    /// Assumes a cap worked from the underarm up, alike at both edges over each pair of rows.
    /// Row 1 is the first bind-off at the underarm and gets the width after both underarm
    /// bind-offs, so that both edges start level (trade convention).
    ///
    /// # Errors
    /// All reasons why the rows are no cap: too few, widening, or fewer stitches than the seam
    /// takes.
    pub fn from_ledger(ledger: &Ledger, gauge: Gauge, seam: Seam) -> Result<Self, Vec<Diagnostic>> {
        let rows = ledger.fabric();
        let kept = rows
            .len()
            .saturating_sub(seam.rows.count() as usize)
            .min(rows.len());
        let rows = rows.get(..kept).unwrap_or(rows);
        let problems = problems(ledger, rows, seam);
        if !problems.is_empty() {
            return Err(problems);
        }
        let net = |stitches: Stitches| stitches.saturating_sub(seam.stitches + seam.stitches);
        let mut counts: Vec<Stitches> = rows.iter().map(|row| row.stitches).collect();
        level_the_underarm(rows, &mut counts);
        let widths_cm: Vec<f64> = counts
            .iter()
            .rev()
            .map(|&count| gauge.width(net(count)).to_cm())
            .collect();
        let final_stitches = ledger.final_stitches();
        let top = rows.last().map_or(final_stitches, |row| row.stitches);
        Ok(Self {
            area_from_top_cm2: cumulative(&widths_cm, gauge.row_height().to_cm()),
            widths_cm,
            row_height: gauge.row_height(),
            stitch_width: gauge.stitch_width(),
            upper_arm: net(ledger.start),
            top: net(top),
            final_stitches,
        })
    }

    /// Rows of fabric from the first underarm bind-off to the last before the final bind-off.
    pub fn rows(&self) -> Rows {
        Rows(u32::try_from(self.widths_cm.len()).unwrap_or(u32::MAX))
    }

    /// Depth from the top bind-off to the underarm line.
    pub fn depth(&self) -> Length {
        self.row_height * self.widths_cm.len() as f64
    }

    /// Height of one row at the pattern's gauge.
    pub fn row_height(&self) -> Length {
        self.row_height
    }

    /// Width of one stitch at the pattern's gauge.
    pub fn stitch_width(&self) -> Length {
        self.stitch_width
    }

    /// Fabric area in square centimetres.
    pub fn area_cm2(&self) -> f64 {
        self.area_from_top_cm2.last().copied().unwrap_or(0.0)
    }

    /// Fabric area between the top and this depth: piecewise linear, exact.
    pub fn area_to_cm2(&self, depth: Length) -> f64 {
        let rows = (depth / self.row_height).clamp(0.0, self.widths_cm.len() as f64);
        let index = whole(rows) as usize;
        let before = match index {
            0 => 0.0,
            _ => self
                .area_from_top_cm2
                .get(index - 1)
                .copied()
                .unwrap_or(0.0),
        };
        let width = self.widths_cm.get(index).copied().unwrap_or(0.0);
        before + width * rows.fract() * self.row_height.to_cm()
    }

    /// Width of the row at this depth.
    pub fn width_at(&self, depth: Length) -> Length {
        let index = whole(depth / self.row_height) as usize;
        let last = self.widths_cm.len().saturating_sub(1);
        Length::cm(self.widths_cm.get(index.min(last)).copied().unwrap_or(0.0))
    }

    /// Net width before the underarm bind-offs: the upper arm.
    pub fn upper_arm(&self) -> Length {
        self.stitch_width * self.upper_arm.as_f64()
    }

    /// Net stitches before the underarm bind-offs.
    pub fn upper_arm_stitches(&self) -> Stitches {
        self.upper_arm
    }

    /// Net width of the final bind-off.
    pub fn top(&self) -> Length {
        self.stitch_width * self.top.as_f64()
    }

    /// Stitches of the final bind-off, seam stitches included.
    pub fn final_stitches(&self) -> Stitches {
        self.final_stitches
    }

    /// Net width of the underarm bind-off at one edge.
    pub fn underarm(&self) -> Length {
        let below = self.widths_cm.last().copied().unwrap_or(0.0);
        (self.upper_arm() - Length::cm(below)) / 2.0
    }

    /// One side of the curve as points (x, y) in centimetres: the top corner, the middle of every
    /// row pair, the corner at the underarm line.
    ///
    /// Pairs are counted from row 1 up; a last single row at the top is a point of its own. A
    /// pair's edge is half of the mean width of its two rows, which is the mean of both edges.
    pub fn edge_points_cm(&self) -> Vec<Point2<f64>> {
        let r = self.row_height.to_cm();
        let mut points = vec![Point2::new(self.top().to_cm() / 2.0, 0.0)];
        let odd = self.widths_cm.len() % 2;
        if let Some(&width) = self.widths_cm.first().filter(|_| odd == 1) {
            points.push(Point2::new(width / 2.0, r / 2.0));
        }
        let pairs = self.widths_cm.get(odd..).unwrap_or(&[]).chunks_exact(2);
        for (i, pair) in pairs.enumerate() {
            let mean = pair.iter().sum::<f64>() / 2.0;
            let y = (odd as f64 + 2.0 * i as f64 + 1.0) * r;
            points.push(Point2::new(mean / 2.0, y));
        }
        let below = self.widths_cm.last().copied().unwrap_or(0.0);
        points.push(Point2::new(below / 2.0, self.depth().to_cm()));
        points
    }

    /// Seam edge of one side: half the top + the curve + the underarm bind-off.
    pub fn edge(&self) -> Length {
        self.curve() + self.top() / 2.0 + self.underarm()
    }

    /// What is sewn to one side of the armhole above its underarm: half the top + the curve.
    pub fn edge_above_underarm(&self) -> Length {
        self.curve() + self.top() / 2.0
    }

    /// The curve of one side alone, between the top and the underarm line.
    pub fn curve(&self) -> Length {
        polyline_length(&self.edge_points_cm())
    }

    /// The same edge along every step of stitches and rows.
    pub fn stepped_edge(&self) -> Length {
        let mut steps_cm = 0.0;
        let mut last = self.top().to_cm();
        for &width in &self.widths_cm {
            steps_cm += (width - last).abs();
            last = width;
        }
        let last_step = (self.upper_arm().to_cm() - last).abs();
        self.top() / 2.0 + Length::cm(f64::midpoint(steps_cm, last_step)) + self.depth()
    }
}

fn problems(ledger: &Ledger, rows: &[LedgerRow], seam: Seam) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    if rows.len() < LEAST_ROWS {
        let n = rows.len();
        let message = format!("The lines give {n} rows of fabric; a cap needs {LEAST_ROWS}.");
        found.push(Diagnostic::new(&CAP_EMPTY, message));
    }
    if let Some(row) = rows.iter().find(|row| row.added() > row.removed()) {
        let message = format!(
            "Row {} goes up to {}; a cap only gets narrower.",
            row.row, row.stitches
        );
        found.push(Diagnostic::new(&CAP_WIDENS, message).at(row.span));
    }
    let least = rows.iter().map(|row| row.stitches).min();
    let least = least.unwrap_or(ledger.start);
    let lost = seam.stitches + seam.stitches;
    if least <= lost {
        let message = format!(
            "A row of {least} is left, but the seams take {lost} of it; the seam may take at most {}.",
            Stitches(least.count().saturating_sub(1) / 2)
        );
        found.push(Diagnostic::new(&SEAM_EATS_CAP, message));
    }
    found
}

/// Gives row 1 the width after both underarm bind-offs.
fn level_the_underarm(rows: &[LedgerRow], counts: &mut [Stitches]) {
    let [first, second, ..] = rows else { return };
    let both = first.binds_off() && second.binds_off();
    if let Some(count) = counts.first_mut().filter(|_| both) {
        *count = count.saturating_sub(second.bind_off);
    }
}

fn cumulative(widths_cm: &[f64], row_height_cm: f64) -> Vec<f64> {
    let mut sum = 0.0;
    widths_cm
        .iter()
        .map(|width| {
            sum += width * row_height_cm;
            sum
        })
        .collect()
}
