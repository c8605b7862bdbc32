//! The armhole's edge on one side: what its lines or three measures come to.

use nalgebra::Point2;

use super::codes::ARMHOLE_EMPTY;
use super::polyline::{Climb, point_along, polyline_length};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, nearest_whole, whole};

/// One side of an armhole, as the places where a stitch can be picked up.
#[derive(Clone, Debug, PartialEq)]
pub struct ArmholeEdge {
    /// The edge from the shoulder down to the end of each place: one place for each row end, and
    /// one for each stitch bound off in the curve above the underarm.
    ends_cm: Vec<f64>,
    edge: Length,
    depth: Length,
    underarm: Stitches,
    underarm_width: Length,
    stepped_stitches: Stitches,
    climb: Climb,
    /// From the underarm corner (0, 0) up: how far in, how high.
    shape: Vec<Point2<f64>>,
    finished: bool,
    above: Rows,
}

/// What the lines of an armhole come to.
#[derive(Clone, Debug)]
pub(super) struct DrawnArmhole {
    /// Stitches decreased (negative for increased) and stitches bound off, for each row from the
    /// underarm up to the shoulder.
    pub(super) lost: Vec<(f64, f64)>,
    /// Stitches of the underarm bind-off, net of the seam.
    pub(super) underarm: Stitches,
    /// False when the lines stop while the armhole is still being shaped.
    pub(super) finished: bool,
    /// Even rows above what is taken for the shoulder: so many that it may be none.
    pub(super) above: Rows,
}

impl ArmholeEdge {
    /// The edge that these rows draw: the broken line through the middle of every row pair.
    pub(super) fn drawn(drawn: &DrawnArmhole, gauge: Gauge) -> Self {
        let points = pair_points(&drawn.lost, gauge);
        let edge = polyline_length(&points);
        let stepped: f64 = drawn.lost.iter().map(|row| row.1.round()).sum();
        let climb = Climb::along(&points);
        Self {
            ends_cm: ends(&sites(&drawn.lost, gauge, &climb)),
            edge,
            depth: gauge.row_height() * drawn.lost.len() as f64,
            underarm: drawn.underarm,
            underarm_width: gauge.width(drawn.underarm),
            stepped_stitches: Stitches(nearest_whole(stepped)),
            climb,
            shape: points,
            finished: drawn.finished,
            above: drawn.above,
        }
    }

    /// The same rows along an edge that a tape found longer or shorter; each place keeps its share.
    pub(super) fn taped(self, edge: Length) -> Self {
        let stretch = edge / self.edge;
        let depth = if self.depth > edge { edge } else { self.depth };
        let (climb, shape) = shape_of_measures(edge, depth);
        Self {
            ends_cm: self.ends_cm.iter().map(|end| end * stretch).collect(),
            edge,
            depth,
            climb,
            shape,
            ..self
        }
    }

    /// The same armhole with so many straight rows more (or fewer) below the shoulder; `None` where it has not so
    /// many. Only what is picked up from is changed: its drawing stays that of the old one.
    pub(crate) fn taller(&self, rows: i32) -> Option<Self> {
        let row_cm = *self.ends_cm.first()?;
        let more_cm = row_cm * f64::from(rows);
        let fewer = usize::try_from(-rows).unwrap_or(0);
        if fewer >= self.ends_cm.len() {
            return None;
        }
        let added = (1..=rows.max(0)).map(|row| row_cm * f64::from(row));
        let kept = self.ends_cm.iter().skip(fewer).map(|end| end + more_cm);
        let (edge, depth) = (
            self.edge + Length::cm(more_cm),
            self.depth + Length::cm(more_cm),
        );
        let drawn = edge.is_positive() && depth.is_positive();
        drawn.then(|| Self {
            ends_cm: added.chain(kept).collect(),
            edge,
            depth,
            ..self.clone()
        })
    }

    /// The same edge above an underarm of this width.
    pub(super) fn above(self, underarm_width: Length) -> Self {
        Self {
            underarm_width,
            ..self
        }
    }

    /// Length of the edge from the underarm bind-off to the shoulder.
    pub fn edge(&self) -> Length {
        self.edge
    }

    /// Height from the underarm line to the shoulder.
    pub fn depth(&self) -> Length {
        self.depth
    }

    /// Stitches of the underarm bind-off, net of the side seam.
    pub fn underarm(&self) -> Stitches {
        self.underarm
    }

    /// Net width of the underarm bind-off.
    pub fn underarm_width(&self) -> Length {
        self.underarm_width
    }

    /// Places to pick up in: rows, and stepped bound-off stitches counted as rows.
    pub fn sites(&self) -> Rows {
        Rows(u32::try_from(self.ends_cm.len()).unwrap_or(u32::MAX))
    }

    /// How many of the places are stitches bound off in steps above the underarm.
    pub fn stepped_stitches(&self) -> Stitches {
        self.stepped_stitches
    }

    /// Length of the edge from the underarm up to this height; beyond the ends that of the end.
    pub fn length_up_to(&self, height: Length) -> Length {
        self.climb.length_up_to(height)
    }

    /// The edge as drawn, from the underarm corner (0, 0) up: centimetres in from the corner, and
    /// above the underarm line. As long as [`Self::edge`].
    ///
    /// An armhole known by three measures alone is drawn straight above a rounded corner, or
    /// slanted where no such corner is long enough: nothing is measured from that shape.
    pub fn shape_cm(&self) -> &[Point2<f64>] {
        &self.shape
    }

    /// The point of the shape that lies so far along the edge below the shoulder.
    pub fn point_below_shoulder_cm(&self, length: Length) -> Point2<f64> {
        let down: Vec<Point2<f64>> = self.shape.iter().rev().copied().collect();
        point_along(&down, length)
    }

    /// False when the lines stop while the armhole is still being shaped, so that edge and depth
    /// are those of its lower part.
    pub fn is_finished(&self) -> bool {
        self.finished
    }

    /// Even rows of the lines above what is taken for the shoulder; none where there are few.
    pub fn rows_above_shoulder(&self) -> Rows {
        self.above
    }

    /// Length of the edge from the shoulder down to so many places, parts of one allowed.
    pub fn length_to(&self, sites: f64) -> Length {
        let sites = sites.clamp(0.0, self.ends_cm.len() as f64);
        let full_sites = whole(sites) as usize;
        let end = |n: usize| if n == 0 { 0.0 } else { self.ends_cm[n - 1] };
        let from = end(full_sites);
        let to = end((full_sites + 1).min(self.ends_cm.len()));
        Length::cm(from + (to - from) * sites.fract())
    }
}

/// Where each place ends.
fn ends(sites_cm: &[f64]) -> Vec<f64> {
    let mut end = 0.0;
    let add = |site: &f64| {
        end += site;
        end
    };
    sites_cm.iter().map(add).collect()
}

/// An armhole edge from what a person can measure on the body.
///
/// `edge` runs from the underarm bind-off to the shoulder along one edge, `underarm` is the width
/// bound off at that edge net of the seam, `depth` is the height. The rows are those of the depth
/// at the body's gauge; what the edge is longer than the depth lies in the lowest quarter, where armholes
/// are shaped (common practice, no source).
///
/// # Errors
/// A finding when there is not a single row in the depth.
pub fn armhole_from_measures(
    edge: Length,
    underarm: Length,
    depth: Length,
    gauge: Gauge,
) -> Result<ArmholeEdge, Diagnostic> {
    let rows = (depth / gauge.row_height()).round();
    if !(edge.is_positive() && rows >= 1.0) {
        return Err(Diagnostic::new(
            &ARMHOLE_EMPTY,
            "The armhole's edge and depth must both be longer than one row.",
        ));
    }
    let (climb, shape) = shape_of_measures(edge, depth);
    Ok(ArmholeEdge {
        ends_cm: ends(&measured_sites(edge.to_cm(), depth.to_cm(), whole(rows))),
        edge,
        depth,
        underarm: Stitches(nearest_whole(underarm / gauge.stitch_width())),
        underarm_width: underarm,
        stepped_stitches: Stitches::ZERO,
        climb,
        shape,
        finished: true,
        above: Rows::ZERO,
    })
}

/// The places from the shoulder down: a row high each, longer in the lowest quarter.
fn measured_sites(edge_cm: f64, depth_cm: f64, rows: u32) -> Vec<f64> {
    let row_cm = depth_cm.min(edge_cm) / f64::from(rows);
    let shaped = rows.div_ceil(4);
    let longer_cm = row_cm + (edge_cm - depth_cm).max(0.0) / f64::from(shaped);
    (0..rows)
        .map(|row| {
            if row + shaped < rows {
                row_cm
            } else {
                longer_cm
            }
        })
        .collect()
}

/// How an edge known by its length and height alone climbs, evenly, and how it is drawn.
fn shape_of_measures(edge: Length, depth: Length) -> (Climb, Vec<Point2<f64>>) {
    let (edge_cm, depth_cm) = (edge.to_cm(), depth.to_cm());
    let across = (edge_cm * edge_cm - depth_cm * depth_cm).max(0.0).sqrt();
    let slanted = [Point2::new(0.0, 0.0), Point2::new(across, depth_cm)];
    (Climb::along(&slanted), rounded_corner(edge_cm, depth_cm))
}

/// Chords a rounded corner is drawn with.
const CORNER_CHORDS: u32 = 24;

/// An edge of this length and height: a quarter of a circle from the underarm corner, straight up
/// from there. A slanted line where the quarter would be higher than the whole.
fn rounded_corner(edge_cm: f64, depth_cm: f64) -> Vec<Point2<f64>> {
    let quarter = std::f64::consts::FRAC_PI_2;
    let chords = f64::from(CORNER_CHORDS);
    // A quarter of radius 1, drawn with chords, is so long.
    let arc = 2.0 * chords * libm::sin(quarter / chords / 2.0);
    let radius = ((edge_cm - depth_cm) / (arc - 1.0)).max(0.0);
    let corner = Point2::new(0.0, 0.0);
    if radius > depth_cm {
        let across = (edge_cm * edge_cm - depth_cm * depth_cm).max(0.0).sqrt();
        return vec![corner, Point2::new(across, depth_cm)];
    }
    let on_arc = |i: u32| {
        let angle = quarter * f64::from(i) / chords;
        Point2::new(radius * libm::sin(angle), radius * (1.0 - libm::cos(angle)))
    };
    let mut points: Vec<Point2<f64>> = (0..=CORNER_CHORDS).map(on_arc).collect();
    points.push(Point2::new(radius, depth_cm));
    points
}

/// Points (stitches lost, rows) in centimetres from the underarm up: the underarm corner, the
/// middle of every row pair, the shoulder corner.
fn pair_points(lost: &[(f64, f64)], gauge: Gauge) -> Vec<Point2<f64>> {
    let (s, r) = (gauge.stitch_width().to_cm(), gauge.row_height().to_cm());
    let mut so_far = 0.0;
    let positions: Vec<f64> = lost
        .iter()
        .map(|row| {
            so_far += row.0 + row.1;
            so_far * s
        })
        .collect();
    let mut points = vec![Point2::new(0.0, 0.0)];
    for (i, pair) in positions.chunks(2).enumerate() {
        let mean = pair.iter().sum::<f64>() / pair.len() as f64;
        points.push(Point2::new(
            mean,
            (2.0 * i as f64 + pair.len() as f64 / 2.0) * r,
        ));
    }
    points.push(Point2::new(so_far * s, positions.len() as f64 * r));
    points
}

/// The places from the shoulder down. Those of a row pair add up to the edge in that pair: by
/// themselves row ends and bound-off stitches follow the steps, which the seam does not. Both row ends of a
/// pair have as much of it: the edge is the broken line through the pairs, wherever in one a decrease lies.
fn sites(lost: &[(f64, f64)], gauge: Gauge, climb: &Climb) -> Vec<f64> {
    let (s, r) = (gauge.stitch_width().to_cm(), gauge.row_height());
    let mut up: Vec<f64> = Vec::new();
    for (pair, rows) in lost.chunks(2).enumerate() {
        let from = r * (2 * pair) as f64;
        let to = from + r * rows.len() as f64;
        let edge = climb.length_up_to(to) - climb.length_up_to(from);
        let steps: Vec<f64> = rows
            .iter()
            .flat_map(|row| steps(row.1, s, r.to_cm()))
            .collect();
        let sum: f64 = steps.iter().sum();
        up.extend(steps.iter().map(|step| step / sum * edge.to_cm()));
    }
    up.reverse();
    up
}

/// The places of one row from below: the stitches it binds off, then its end.
fn steps(bound_off: f64, s: f64, r: f64) -> impl Iterator<Item = f64> {
    let stitches = std::iter::repeat_n(s, nearest_whole(bound_off) as usize);
    stitches.chain([r])
}
