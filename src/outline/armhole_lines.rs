//! An armhole from the lines of a body piece: what is underarm, what is armhole, what is shoulder.

use super::armhole::{ArmholeEdge, DrawnArmhole};
use super::armhole_counts::as_counted;
use super::cap::Seam;
use super::codes::{ARMHOLE_EMPTY, ARMHOLE_RAGLAN};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Rows, Side, Stitches, nearest_whole, whole};
use crate::pattern::{Ledger, LedgerRow};

/// An armhole edge from the lines of a body piece, from the underarm bind-off to the shoulder.
///
/// A piece has an armhole at each edge that is bound off at the start: a back or a pullover's
/// front at both (their mean is taken, as for a cap), half a front at one; what is shaped at its
/// other edge is neck. At an armhole's edge
///
/// - the first bind-off is the underarm, and bind-offs that follow without a stretch of five rows
///   between belong to the curve;
/// - the first bind-off after such a stretch begins the shoulder;
/// - decreases that begin after ten even rows and go to the end flatter than the diagonal are a
///   shoulder's slope too (the limits are common practice, no source);
/// - increases toward the shoulder are armhole.
///
/// Where the work is divided for the neck, the edge of the half that is followed is the armhole's;
/// the other one is neck ([`Ledger::neck`]).
///
/// The edge is the broken line through the middle of every row pair.
///
/// # Errors
/// A finding when there is no underarm bind-off, or no row between it and the shoulder.
pub fn armhole_from_ledger(
    ledger: &Ledger,
    gauge: Gauge,
    seam: Seam,
) -> Result<ArmholeEdge, Diagnostic> {
    drawn_from_ledger(ledger, gauge, seam).map(|drawn| ArmholeEdge::drawn(&drawn, gauge))
}

/// The same with as many rows, and as many stitches at the underarm net of the seam, as were counted on
/// the finished body; rows are put on or taken off where the edge is straight, at the top.
///
/// # Errors
/// As [`armhole_from_ledger`], and a finding when the straight part has too few rows.
pub fn armhole_from_ledger_as_counted(
    ledger: &Ledger,
    gauge: Gauge,
    seam: Seam,
    (rows, underarm): (Option<Rows>, Option<Stitches>),
) -> Result<ArmholeEdge, Diagnostic> {
    let drawn = as_counted(drawn_from_ledger(ledger, gauge, seam)?, rows, underarm)?;
    Ok(ArmholeEdge::drawn(&drawn, gauge))
}

fn drawn_from_ledger(
    ledger: &Ledger,
    gauge: Gauge,
    seam: Seam,
) -> Result<DrawnArmhole, Diagnostic> {
    let closed = ledger.rows.len() > ledger.fabric().len();
    if let Some(signs) = raglan_signs(ledger) {
        return Err(Diagnostic::new(&ARMHOLE_RAGLAN, signs));
    }
    let followed = |side: &Side| ledger.divided.is_none_or(|d| d.edge == *side);
    let edges: Vec<EdgeRows> = [Side::Rs, Side::Ws]
        .into_iter()
        .filter(followed)
        .filter_map(|starts_on| EdgeRows::of(from_underarm(ledger.fabric()), starts_on))
        .map(|edge| edge.without_slope(gauge))
        .collect();
    let Some(armhole) = merge(&edges) else {
        let message = "No underarm bind-off was found in the armhole's lines.";
        return Err(Diagnostic::new(&ARMHOLE_EMPTY, message));
    };
    armhole.net(seam, closed).ok_or_else(|| {
        let message = "There is no row between the underarm bind-off and the shoulder.";
        Diagnostic::new(&ARMHOLE_EMPTY, message)
    })
}

/// Even rows that an armhole of a set-in sleeve has above its shaping, at least (common practice, no
/// source).
const LEAST_EVEN_ROWS: usize = 6;

/// A raglan's shaping takes so large a share of the stitches above the underarm (common practice, no
/// source: a set-in armhole takes an eighth to a quarter).
const RAGLAN_SHARE: f64 = 0.45;

/// The signs of a raglan: the decreases run to the end with no shoulder, and take most stitches.
fn raglan_signs(ledger: &Ledger) -> Option<String> {
    let rows = from_underarm(ledger.fabric());
    let decreases = |row: &LedgerRow| row.decrease_start + row.decrease_end;
    let shaped: Vec<usize> = (0..rows.len())
        .filter(|&at| rows.get(at).is_some_and(|r| decreases(r) > Stitches::ZERO))
        .collect();
    let (first, last) = (*shaped.first()?, *shaped.last()?);
    let taken: Stitches = rows.iter().map(decreases).sum();
    let wide = rows.get(first)?.stitches + decreases(rows.get(first)?);
    let both = rows
        .iter()
        .all(|row| row.decrease_start == row.decrease_end);
    let longest_gap = shaped
        .windows(2)
        .map(|pair| pair.last().unwrap_or(&0) - pair.first().unwrap_or(&0))
        .max();
    let runs_on = rows.len() - 1 - last < LEAST_EVEN_ROWS
        && longest_gap.is_none_or(|gap| gap <= LEAST_EVEN_ROWS);
    let share = taken.as_f64() / wide.as_f64();
    (ledger.divided.is_none() && both && runs_on && share > RAGLAN_SHARE).then(|| {
        format!(
            "This is no armhole of a set-in sleeve: decreases at both edges run from row {} to row {} of {} with no \
             shoulder, and take {} of {} stitches.",
            first + 1,
            last + 1,
            rows.len(),
            taken.count(),
            wide.count()
        )
    })
}

/// A bind-off after so many rows without one is the shoulder's; in the curve they follow one
/// another on every row of that edge (common practice, no source).
const ROWS_BEFORE_SHOULDER: usize = 5;

/// Decreases after so many even rows may be the shoulder's slope; those of an armhole are seldom
/// so far apart (common practice, no source).
const EVEN_ROWS_BEFORE_SLOPE: usize = 10;

/// Fewer stitches than these make no shoulder.
const LEAST_SLOPE: f64 = 3.0;

/// An edge bound off later than the row after the first bind-off of all has no armhole.
const LATEST_UNDERARM: usize = 1;

/// Rows of shaping that may come before the underarm, e.g. a neck that begins a row earlier.
const LEAD: usize = 2;

/// The rows from the first bind-off on. Plain rows before it are below the armhole. When shaping
/// goes on for longer before any bind-off, there is no underarm bind-off, and nothing is left.
fn from_underarm(rows: &[LedgerRow]) -> &[LedgerRow] {
    let Some(first) = rows.iter().position(LedgerRow::binds_off) else {
        return &[];
    };
    let before = rows.get(..first).unwrap_or(&[]);
    if first > LEAD && !before.iter().all(LedgerRow::is_even) {
        return &[];
    }
    rows.get(first..).unwrap_or(&[])
}

/// What one edge of the piece loses on each row above the underarm, in stitches.
#[derive(Clone, Debug)]
struct EdgeRows {
    underarm: f64,
    /// From row 1 up to the shoulder: (stitches decreased less increased, stitches bound off).
    lost: Vec<(f64, f64)>,
    /// True when the shoulder was found.
    shoulder: bool,
    /// The longest stretch of even rows above the shoulder.
    above: usize,
}

impl EdgeRows {
    /// The edge where rows of this side start, if it has an underarm bind-off.
    fn of(rows: &[LedgerRow], starts_on: Side) -> Option<Self> {
        let first = rows
            .iter()
            .position(|row| at_edge(row, starts_on).1 > 0.0)?;
        if first > LATEST_UNDERARM {
            return None;
        }
        let underarm = at_edge(rows.get(first)?, starts_on).1;
        let mut lost = vec![(0.0, 0.0); first + 1];
        let mut without = 0;
        for (i, row) in rows.iter().enumerate().skip(first + 1) {
            let here = at_edge(row, starts_on);
            if here.1 > 0.0 && without >= ROWS_BEFORE_SHOULDER {
                let above = rows.get(i..).unwrap_or(&[]);
                let even = above.split(|row| at_edge(row, starts_on) != (0.0, 0.0));
                return Some(Self {
                    underarm,
                    lost,
                    shoulder: true,
                    above: even.map(<[LedgerRow]>::len).max().unwrap_or(0),
                });
            }
            without = if here.1 > 0.0 { 0 } else { without + 1 };
            lost.push(here);
        }
        Some(Self {
            underarm,
            lost,
            shoulder: false,
            above: 0,
        })
    }

    /// The same without a shoulder that slopes by decreases.
    fn without_slope(mut self, gauge: Gauge) -> Self {
        let shaped = self.lost.iter().rposition(|row| *row != (0.0, 0.0));
        let (Some(last), Some(start)) = (shaped, self.last_long_stretch()) else {
            return self;
        };
        let tail = self.lost.get(start..=last).unwrap_or(&[]);
        let stitches: f64 = tail.iter().map(|row| row.0 + row.1).sum();
        let run = gauge.stitch_width() * stitches;
        if stitches >= LEAST_SLOPE && run > gauge.row_height() * tail.len() as f64 {
            self.above = self.above.max(self.lost.len() - 1 - last);
            self.lost.truncate(start);
            self.shoulder = true;
        }
        self
    }

    /// The row after the last long even stretch that shaping follows.
    fn last_long_stretch(&self) -> Option<usize> {
        let mut even = 0;
        let mut after = None;
        for (row, lost) in self.lost.iter().enumerate() {
            if *lost == (0.0, 0.0) {
                even += 1;
                continue;
            }
            if even >= EVEN_ROWS_BEFORE_SLOPE {
                after = Some(row);
            }
            even = 0;
        }
        after
    }

    /// Net of the seam; `None` when no row is left. The lines end too early when they neither
    /// reach a shoulder, nor close the piece, nor end on a stretch of even rows.
    fn net(&self, seam: Seam, closed: bool) -> Option<DrawnArmhole> {
        let kept = self.lost.len().checked_sub(seam.rows.count() as usize)?;
        let lost = self.lost.get(..kept).filter(|rows| !rows.is_empty())?;
        let shaping_at_the_end = self
            .lost
            .iter()
            .rev()
            .take(ROWS_BEFORE_SHOULDER)
            .any(|row| *row != (0.0, 0.0));
        Some(DrawnArmhole {
            lost: lost.to_vec(),
            underarm: Stitches(nearest_whole(self.underarm)).saturating_sub(seam.stitches),
            finished: self.shoulder || closed || !shaping_at_the_end,
            above: Rows(if self.above >= EVEN_ROWS_BEFORE_SLOPE {
                whole(self.above as f64)
            } else {
                0
            }),
        })
    }
}

/// What a row takes away at the edge where rows of a side start: stitches decreased (less those
/// increased), stitches bound off.
fn at_edge(row: &LedgerRow, starts_on: Side) -> (f64, f64) {
    if row.side == starts_on {
        let decreased = row.decrease_start.as_f64() - row.increase_start.as_f64();
        (decreased, row.bind_off.as_f64())
    } else {
        (row.decrease_end.as_f64() - row.increase_end.as_f64(), 0.0)
    }
}

/// The mean of the edges, as far up as all of them go.
fn merge(edges: &[EdgeRows]) -> Option<EdgeRows> {
    let n = edges.len() as f64;
    let rows = edges.iter().map(|edge| edge.lost.len()).min()?;
    let mean = |row: usize, part: fn(&(f64, f64)) -> f64| {
        let lost = edges.iter().filter_map(|edge| edge.lost.get(row));
        lost.map(part).sum::<f64>() / n
    };
    Some(EdgeRows {
        underarm: edges.iter().map(|edge| edge.underarm).sum::<f64>() / n,
        lost: (0..rows)
            .map(|row| (mean(row, |l| l.0), mean(row, |l| l.1)))
            .collect(),
        shoulder: edges.iter().any(|edge| edge.shoulder),
        above: edges.iter().map(|edge| edge.above).max()?,
    })
}
