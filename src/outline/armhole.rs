//! The armhole's edge on one side, from its lines or from three measures.

use nalgebra::Point2;

use super::cap::Seam;
use super::codes::ARMHOLE_EMPTY;
use super::polyline::polyline_length;
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Side, Stitches, nearest_whole, whole};
use crate::pattern::{Ledger, LedgerRow};

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
}

impl ArmholeEdge {
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

/// An armhole edge from what a person can measure on the body.
///
/// `edge` runs from the underarm bind-off to the shoulder along one edge, `underarm` is the width
/// bound off at that edge net of the seam, `depth` is the height. The rows are those of the depth
/// at the body's gauge; each is taken to carry an equal part of the edge.
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
    Ok(ArmholeEdge {
        ends_cm: ends(&vec![edge.to_cm() / rows; whole(rows) as usize]),
        edge,
        depth,
        underarm: Stitches(nearest_whole(underarm / gauge.stitch_width())),
        underarm_width: underarm,
        stepped_stitches: Stitches::ZERO,
    })
}

/// An armhole edge from the lines of a body piece, from the underarm bind-off to the shoulder.
///
/// The first bind-off at an edge is the underarm. Bind-offs that follow without an even stretch
/// belong to the curve; the first bind-off after one begins the shoulder, and what follows it is
/// not armhole. Where both edges are shaped, the mean of the two is taken, as for a cap. The edge
/// is the broken line through the middle of every row pair.
///
/// # Errors
/// A finding when no row lies between underarm and shoulder.
pub fn armhole_from_ledger(
    ledger: &Ledger,
    gauge: Gauge,
    seam: Seam,
) -> Result<ArmholeEdge, Diagnostic> {
    let all = ledger.fabric();
    let edges: Vec<EdgeRows> = [Side::Rs, Side::Ws]
        .into_iter()
        .filter_map(|starts_on| EdgeRows::of(all, starts_on))
        .collect();
    let Some(armhole) = merge(&edges) else {
        return Err(Diagnostic::new(
            &ARMHOLE_EMPTY,
            "No underarm bind-off was found in the armhole's lines.",
        ));
    };
    armhole.measured(gauge, seam).ok_or_else(|| {
        let message = "There is no row between the underarm bind-off and the shoulder.";
        Diagnostic::new(&ARMHOLE_EMPTY, message)
    })
}

/// A bind-off after so many even rows is the shoulder's: decreases of an armhole are seldom more
/// than four rows apart (common practice, no source).
const EVEN_ROWS_BEFORE_SHOULDER: usize = 5;

/// What one edge of the piece loses on each row above the underarm, in stitches.
#[derive(Clone, Debug)]
struct EdgeRows {
    underarm: f64,
    /// From row 1 up to the shoulder: (stitches decreased, stitches bound off in a step).
    lost: Vec<(f64, f64)>,
}

impl EdgeRows {
    /// The edge where rows of this side start, if it has an underarm bind-off.
    fn of(all: &[LedgerRow], starts_on: Side) -> Option<Self> {
        let at_edge = |row: &LedgerRow| {
            if row.side == starts_on {
                (row.decrease_start.as_f64(), row.bind_off.as_f64())
            } else {
                (row.decrease_end.as_f64(), 0.0)
            }
        };
        let first = all.iter().position(|row| at_edge(row).1 > 0.0)?;
        // A half piece has its armhole at one edge; its neck is bound off much later.
        if first > 1 {
            return None;
        }
        let underarm = at_edge(all.get(first)?).1;
        let mut lost = vec![(0.0, 0.0); first + 1];
        let mut even = 0;
        for row in all.iter().skip(first + 1) {
            let here = at_edge(row);
            if here.1 > 0.0 && even >= EVEN_ROWS_BEFORE_SHOULDER {
                break;
            }
            even = if here == (0.0, 0.0) { even + 1 } else { 0 };
            lost.push(here);
        }
        Some(Self { underarm, lost })
    }
}

/// The mean of the edges, as far up as all of them go.
fn merge(edges: &[EdgeRows]) -> Option<EdgeRows> {
    let n = edges.len() as f64;
    let rows = edges.iter().map(|edge| edge.lost.len()).min()?;
    let mean = |row: usize, part: fn(&(f64, f64)) -> f64| {
        edges
            .iter()
            .filter_map(|e| e.lost.get(row))
            .map(part)
            .sum::<f64>()
            / n
    };
    Some(EdgeRows {
        underarm: edges.iter().map(|edge| edge.underarm).sum::<f64>() / n,
        lost: (0..rows)
            .map(|row| (mean(row, |l| l.0), mean(row, |l| l.1)))
            .collect(),
    })
}

impl EdgeRows {
    fn measured(&self, gauge: Gauge, seam: Seam) -> Option<ArmholeEdge> {
        let kept = self.lost.len().checked_sub(seam.rows.count() as usize)?;
        let lost = self.lost.get(..kept).filter(|rows| !rows.is_empty())?;
        let edge = polyline_length(&pair_points(lost, gauge));
        let underarm = Stitches(nearest_whole(self.underarm)).saturating_sub(seam.stitches);
        let stepped: f64 = lost.iter().map(|row| row.1.round()).sum();
        Some(ArmholeEdge {
            ends_cm: ends(&sites(lost, gauge, edge)),
            edge,
            depth: gauge.row_height() * kept as f64,
            underarm,
            underarm_width: gauge.width(underarm),
            stepped_stitches: Stitches(nearest_whole(stepped)),
        })
    }
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

/// Where each place ends.
fn ends(sites_cm: &[f64]) -> Vec<f64> {
    let mut end = 0.0;
    let add = |site: &f64| {
        end += site;
        end
    };
    sites_cm.iter().map(add).collect()
}

/// The places from the shoulder down, scaled so that they add up to the edge.
fn sites(lost: &[(f64, f64)], gauge: Gauge, edge: Length) -> Vec<f64> {
    let (s, r) = (gauge.stitch_width().to_cm(), gauge.row_height().to_cm());
    let mut raw: Vec<f64> = Vec::new();
    for (decreased, bound_off) in lost.iter().rev() {
        raw.push((r * r + decreased * decreased * s * s).sqrt());
        raw.extend(std::iter::repeat_n(s, nearest_whole(*bound_off) as usize));
    }
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|site| site / sum * edge.to_cm()).collect()
}
