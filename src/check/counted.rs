//! The body as it was counted, against its lines and against the tape.

use super::codes::{ARMHOLE_AS_COUNTED, ARMHOLE_COUNTS_DISAGREE, finding};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Rows, Stitches, Units};
use crate::outline::ArmholeEdge;

/// One side of an armhole that was counted and measured.
#[derive(Clone, Copy, Debug)]
pub struct CountedArmhole<'a> {
    /// Units for the messages.
    pub units: Units,
    /// `front `, `back `, or nothing where both are alike.
    pub side: &'a str,
    /// The body's gauge.
    pub gauge: Gauge,
    /// What the counts alone come to at that gauge.
    pub drawn: &'a ArmholeEdge,
    /// Stitches of the underarm that were counted, net of the seam.
    pub underarm: Option<Stitches>,
    /// The tape along the edge.
    pub edge: Option<Length>,
    /// The tape straight up.
    pub depth: Option<Length>,
    /// The tape along the underarm.
    pub underarm_width: Option<Length>,
}

/// A tape along a curve is read to about half a centimetre, and two swatches that one knitter makes
/// alike differ by 2 to 3 % (common practice, no source).
const TAPE: Length = Length::cm(0.5);
const GAUGE_SHARE: f64 = 0.03;

/// Where the counts and the tape cannot both be right.
pub fn counted_findings(of: &CountedArmhole<'_>) -> Vec<Diagnostic> {
    let along = along(of);
    along.into_iter().chain(underarm(of)).collect()
}

/// The edge, or else the depth: one finding tells of both.
fn along(of: &CountedArmhole<'_>) -> Option<Diagnostic> {
    let edge = of.edge.map(|tape| ("edge", of.drawn.edge(), tape));
    let depth = of.depth.map(|tape| ("depth", of.drawn.depth(), tape));
    let (what, counted, tape) = [edge, depth]
        .into_iter()
        .flatten()
        .find(|(_, counted, tape)| disagree(*counted, *tape, Length::ZERO))?;
    let (units, gauge) = (of.units, of.gauge.rows_per_10cm());
    let over = units.swatch_length();
    let per = |rows: f64| rows * over.to_cm() / 10.0;
    let message = format!(
        "The {}armhole's {} counted rows make {} {what} of {} at the body's {:.1} rows over {}; the tape says {}, as if there were {:.1}.",
        of.side,
        of.drawn.sites().count(),
        if what == "edge" { "an" } else { "a" },
        units.show(counted),
        per(gauge),
        units.show(over),
        units.show(tape),
        per(gauge * (counted / tape)),
    );
    Some(finding(&ARMHOLE_COUNTS_DISAGREE, message))
}

fn underarm(of: &CountedArmhole<'_>) -> Option<Diagnostic> {
    let (stitches, tape) = (of.underarm?, of.underarm_width?);
    let counted = of.gauge.width(stitches);
    disagree(counted, tape, of.gauge.stitch_width()).then(|| {
        let message = format!(
            "The {}armhole's {} underarm stitches beside the seam are {} wide at the body's gauge; the tape says {}.",
            of.side,
            stitches.count(),
            of.units.show(counted),
            of.units.show(tape)
        );
        finding(&ARMHOLE_COUNTS_DISAGREE, message)
    })
}

fn disagree(counted: Length, tape: Length, least: Length) -> bool {
    let off = (counted.to_cm() - tape.to_cm()).abs();
    off > (TAPE.to_cm() + GAUGE_SHARE * counted.to_cm()).max(least.to_cm())
}

/// The lines' armhole against the body's own counts.
pub fn lines_as_counted(
    side: &str,
    lines: &ArmholeEdge,
    rows: Option<Rows>,
    underarm: Option<Stitches>,
) -> Vec<Diagnostic> {
    let mut said = Vec::new();
    let of_lines = lines.sites().count();
    if let Some(rows) = rows.map(Rows::count).filter(|rows| *rows != of_lines) {
        let change = if rows > of_lines {
            format!("{} more, put on", rows - of_lines)
        } else {
            format!("{} fewer, taken off", of_lines - rows)
        };
        said.push(format!(
            "{rows} rows up to the shoulder where the lines have {of_lines}: {change} where the edge is straight"
        ));
    }
    if let Some(stitches) = underarm.filter(|stitches| *stitches != lines.underarm()) {
        said.push(format!(
            "{} underarm stitches beside the seam where the lines leave {}",
            stitches.count(),
            lines.underarm().count()
        ));
    }
    if said.is_empty() {
        return Vec::new();
    }
    let message = format!(
        "The {side}armhole is taken as counted: {}.",
        said.join("; ")
    );
    vec![finding(&ARMHOLE_AS_COUNTED, message)]
}
