//! The armhole's edge from what was counted on the finished body.

use super::armhole::{ArmholeEdge, DrawnArmhole};
use super::codes::{ARMHOLE_COUNT, ARMHOLE_EMPTY};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, nearest_whole};

/// What was counted along one edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ArmholeCounts {
    /// Places from the underarm to the shoulder: row ends, and stitches bound off in steps.
    pub rows: Rows,
    /// How many of the places are stitches bound off in steps.
    pub steps: Stitches,
    /// Stitches decreased along the edge.
    pub decreases: Stitches,
    /// Stitches of the underarm, net of the seam.
    pub underarm: Stitches,
}

/// Steps of an armhole are mostly bound off in twos (common practice, no source).
const STEP: u32 = 2;

/// An armhole edge from counts, at the body's gauge.
///
/// Where the steps and decreases lie is not counted: they are taken to follow one another on every
/// other row above the underarm, steps of two first (common practice, no source).
///
/// # Errors
/// A finding when the shaping does not fit on the rows.
pub fn armhole_from_counts(
    counts: &ArmholeCounts,
    gauge: Gauge,
) -> Result<ArmholeEdge, Diagnostic> {
    let Some(lost) = shaping(counts) else {
        let message = format!(
            "{} rows do not hold {} stitches bound off in steps and {} decreases.",
            counts.rows.count(),
            counts.steps.count(),
            counts.decreases.count()
        );
        return Err(Diagnostic::new(&ARMHOLE_EMPTY, message));
    };
    Ok(ArmholeEdge::drawn(
        &DrawnArmhole {
            lost,
            underarm: counts.underarm,
            finished: true,
            above: Rows::ZERO,
        },
        gauge,
    ))
}

/// What each row loses (stitches decreased, stitches bound off), from the underarm up.
fn shaping(counts: &ArmholeCounts) -> Option<Vec<(f64, f64)>> {
    let rows = counts.rows.count().checked_sub(counts.steps.count())? as usize;
    let mut lost = vec![(0.0, 0.0); rows];
    let steps = counts.steps.count().div_ceil(STEP) as usize;
    let events = steps + counts.decreases.count() as usize;
    let apart = if 2 * events < rows { 2 } else { 1 };
    let mut left = counts.steps.count();
    for event in 0..events {
        let row = lost.get_mut((event + 1) * apart)?;
        if event < steps {
            row.1 = f64::from(left.min(STEP));
            left = left.saturating_sub(STEP);
        } else {
            row.0 = 1.0;
        }
    }
    (!lost.is_empty()).then_some(lost)
}

/// The edge of counts along which a tape was laid: its length is the tape's, and so is its height.
///
/// # Errors
/// A finding when so many rows on that height are no knitted gauge.
pub fn armhole_from_counts_and_tape(
    counts: &ArmholeCounts,
    (edge, underarm, depth): (Option<Length>, Option<Length>, Option<Length>),
    gauge: Gauge,
) -> Result<ArmholeEdge, Diagnostic> {
    let stitches = gauge.stitches_per_10cm();
    let row_ends = counts.rows.as_f64() - counts.steps.as_f64();
    let gauge = match depth {
        Some(depth) => {
            Gauge::per_10cm(stitches, 10.0 * row_ends / depth.to_cm()).map_err(|out| {
                let message = format!(
                    "{} rows cannot lie in the depth of the armhole: {out}.",
                    counts.rows.count()
                );
                Diagnostic::new(&ARMHOLE_EMPTY, message)
            })?
        }
        None => gauge,
    };
    let drawn = armhole_from_counts(counts, gauge)?;
    let drawn = match underarm {
        Some(width) => drawn.above(width),
        None => drawn,
    };
    Ok(match edge {
        Some(edge) => drawn.taped(edge),
        None => drawn,
    })
}

/// The rows that lines draw, as many as were counted: what differs is put on or taken off at the top,
/// where the edge is straight.
pub(super) fn as_counted(
    mut drawn: DrawnArmhole,
    rows: Option<Rows>,
    underarm: Option<Stitches>,
) -> Result<DrawnArmhole, Diagnostic> {
    drawn.underarm = underarm.unwrap_or(drawn.underarm);
    let Some(rows) = rows.map(Rows::count) else {
        return Ok(drawn);
    };
    let of_lines = places(&drawn.lost);
    while places(&drawn.lost) < rows {
        drawn.lost.push((0.0, 0.0));
    }
    while places(&drawn.lost) > rows && drawn.lost.last() == Some(&(0.0, 0.0)) {
        drawn.lost.pop();
    }
    if places(&drawn.lost) != rows {
        let message = format!(
            "The armhole's lines have {of_lines} rows, each stepped stitch counted as one; only {rows} were counted, and the straight part at the top has no {} to spare.",
            of_lines.saturating_sub(rows)
        );
        return Err(Diagnostic::new(&ARMHOLE_COUNT, message));
    }
    drawn.finished = true;
    Ok(drawn)
}

/// Row ends, and stepped stitches as rows.
fn places(lost: &[(f64, f64)]) -> u32 {
    let stepped: f64 = lost.iter().map(|row| row.1.round()).sum();
    nearest_whole(stepped + lost.len() as f64)
}
