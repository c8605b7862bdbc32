//! The smooth curve of one side of a cap: slope, inflection, and the rows that are off it.

use nalgebra::Point2;

use super::cap::Cap;
use super::monotone::Monotone;
use crate::measure::Length;

/// The monotone curve through the row-pair points of one side of a cap.
///
/// It draws the cap, shows slope and inflection, and finds rows off the curve. It is never the
/// source of area or depth, which are exact without it.
#[derive(Clone, Debug, PartialEq)]
pub struct CapCurve {
    /// Points (depth, half width) in centimetres from the top down.
    points: Vec<Point2<f64>>,
    curve: Monotone,
    /// The slope of half a stitch on a row pair: what stitches cannot tell apart.
    half_stitch_slope: f64,
}

/// How far one row lies from the curve drawn through the row pairs around its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowDeviation {
    /// Number of the row, from row 1 at the underarm.
    pub row: u32,
    /// Stitches by which it is wider on each side; negative for narrower.
    pub stitches: f64,
}

/// Rows that narrow the cap far more than the rows below and above them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jump {
    /// The first row of the pair that stands out, from row 1 at the underarm.
    pub from: u32,
    /// The last row of the pair that falls in.
    pub to: u32,
    /// Stitches by which the one pair stands out of the curve on each side.
    pub out_stitches: f64,
    /// Stitches by which the other falls in.
    pub in_stitches: f64,
}

/// A row pair farther off than this is off the curve: one stitch, as the model has it. The excess
/// keeps rounding out of it.
const OFF_STITCHES: f64 = 1.0 + 1e-6;

impl CapCurve {
    /// The curve of a cap; every cap has one.
    pub fn of(cap: &Cap) -> Option<Self> {
        let points: Vec<Point2<f64>> = cap
            .edge_points_cm()
            .iter()
            .map(|point| Point2::new(point.y, point.x))
            .collect();
        let curve = Monotone::through(points.clone())?;
        Some(Self {
            points,
            curve,
            half_stitch_slope: cap.stitch_width() / (cap.row_height() * 4.0),
        })
    }

    /// Half the width of the curve at this depth below the top.
    pub fn half_width_at(&self, depth: Length) -> Length {
        Length::cm(self.curve.at(depth.to_cm()))
    }

    /// Centimetres by which one side widens for each centimetre down, at this depth.
    pub fn slope_at(&self, depth: Length) -> f64 {
        self.curve.slope_at(depth.to_cm())
    }

    /// Arc length of one side to this accuracy, between the top bind-off and the underarm line.
    pub fn length(&self, accuracy: Length) -> Length {
        Length::cm(self.curve.arc_length(accuracy.to_cm()))
    }

    /// The curve as a path: abscissa the depth, ordinate the half width, in centimetres.
    pub fn path(&self) -> kurbo::BezPath {
        self.curve.path()
    }

    /// The depth at which the curve turns from rounding off (towards the top) to flaring out
    /// (towards the underarm).
    ///
    /// It is the depth that leaves least wrong: above it a chord should never be flatter than the
    /// one below it, beneath it never steeper. In a straight flank many depths are equally good, to
    /// half a stitch on a row pair; their middle is given.
    pub fn inflection(&self) -> Length {
        let inner = self.row_pairs();
        let chords: Vec<f64> = inner.windows(2).filter_map(chord).collect();
        // Rise k is at the point between chord k and chord k + 1, which is inner point k + 1.
        let rises: Vec<f64> = chords.windows(2).filter_map(difference).collect();
        let mut wrong: f64 = rises.iter().map(|rise| (-rise).max(0.0)).sum();
        let mut wrongs = vec![wrong];
        for rise in &rises {
            wrong += rise.max(0.0) - (-rise).max(0.0);
            wrongs.push(wrong);
        }
        let least = wrongs.iter().copied().fold(f64::INFINITY, f64::min);
        let good = |wrong: &f64| *wrong <= least + self.half_stitch_slope;
        let first = wrongs.iter().position(good).unwrap_or(0);
        let last = wrongs.iter().rposition(good).unwrap_or(first);
        let from = inner.get(first).map_or(0.0, |p| p.x);
        let to = inner.get(last + 1).map_or(from, |p| p.x);
        Length::cm(f64::midpoint(from, to))
    }

    /// The points without the corners: a chord to a corner covers half a step.
    fn row_pairs(&self) -> &[Point2<f64>] {
        let last = self.points.len().saturating_sub(1);
        self.points.get(1..last).unwrap_or(&[])
    }
}

fn chord(pair: &[Point2<f64>]) -> Option<f64> {
    match pair {
        [a, b] => Some((b.y - a.y) / (b.x - a.x)),
        _ => None,
    }
}

fn difference(pair: &[f64]) -> Option<f64> {
    match pair {
        [a, b] => Some(b - a),
        _ => None,
    }
}

impl Cap {
    /// Row by row from row 1 up: how far each lies from the curve drawn without its own row pair.
    ///
    /// The pairs next to the top and to the underarm line have nothing beyond them to be judged by
    /// and are left out, with the corners.
    pub fn row_deviations(&self) -> Vec<RowDeviation> {
        let points = self.depth_points();
        let mut rows = Vec::new();
        for judged in judged(&points) {
            for row in self.rows_of(judged.index) {
                let (depth, half_width) = self.row_middle(row);
                rows.push(RowDeviation {
                    row: self.number_of(row),
                    stitches: (half_width - judged.curve.at(depth)) / self.stitch_width().to_cm(),
                });
            }
        }
        rows.sort_by_key(|deviation| deviation.row);
        rows
    }

    /// Rows that no cap's curve passes through within one stitch.
    ///
    /// From the underarm up a cap first flares (each row pair at a corner lies inside the curve
    /// through its neighbours) and then rounds off (each lies outside). A pair more than one
    /// stitch outside with a pair above it more than one stitch inside is the reverse: between
    /// them too many stitches are taken away. A single corner, as where the last bind-offs begin,
    /// is no jump.
    pub fn jumps(&self) -> Vec<Jump> {
        let points = self.depth_points();
        let mut jumps = Vec::new();
        let mut out: Option<(usize, f64)> = None;
        for judged in judged(&points).into_iter().rev() {
            let Some(point) = points.get(judged.index) else {
                continue;
            };
            let off = (point.y - judged.curve.at(point.x)) / self.stitch_width().to_cm();
            if off > OFF_STITCHES {
                out = Some((judged.index, off));
            } else if off < -OFF_STITCHES
                && let Some((below, out_stitches)) = out.take()
            {
                let numbers = |point| self.rows_of(point).map(|row| self.number_of(row));
                jumps.push(Jump {
                    from: numbers(below).min().unwrap_or(0),
                    to: numbers(judged.index).max().unwrap_or(0),
                    out_stitches,
                    in_stitches: -off,
                });
            }
        }
        jumps
    }

    /// The edge points as (depth, half width).
    fn depth_points(&self) -> Vec<Point2<f64>> {
        let points = self.edge_points_cm();
        points.iter().map(|p| Point2::new(p.y, p.x)).collect()
    }

    /// The rows of an edge point, counted from the top row as 0.
    fn rows_of(&self, point: usize) -> std::ops::Range<usize> {
        let odd = self.rows().count() as usize % 2;
        match (odd, point) {
            (_, 0) => 0..0,
            (1, 1) => 0..1,
            (1, _) => 2 * point - 3..2 * point - 1,
            _ => 2 * point - 2..2 * point,
        }
    }

    /// A row's number from row 1 at the underarm, from its place counted from the top.
    fn number_of(&self, from_top: usize) -> u32 {
        let from_top = u32::try_from(from_top).unwrap_or(u32::MAX);
        self.rows().count().saturating_sub(from_top)
    }

    /// Depth of a row's middle and half its width, in centimetres.
    fn row_middle(&self, from_top: usize) -> (f64, f64) {
        let depth = self.row_height() * (from_top as f64 + 0.5);
        (depth.to_cm(), self.width_at(depth).to_cm() / 2.0)
    }
}

/// An inner point and the curve drawn without it.
struct Judged {
    index: usize,
    curve: Monotone,
}

/// The inner points from the top down, each with the curve through two on either side of it. A
/// slope of the curve depends on no point farther away, so this is the whole curve there.
fn judged(points: &[Point2<f64>]) -> Vec<Judged> {
    let inner = 2..points.len().saturating_sub(2);
    inner
        .filter_map(|index| {
            let around = points.get(index - 2..=index + 2)?;
            let mut others = around.to_vec();
            others.remove(2);
            Some(Judged {
                index,
                curve: Monotone::through(others)?,
            })
        })
        .collect()
}
