//! An armhole whose end is told from the hem: `until back measures 38 [42, 46] cm`, where the back is worked to
//! 22 [25, 28] cm before it.

use std::sync::LazyLock;

use regex::Regex;

use super::lengths::length;
use super::lists::{UNIT, fits, in_trade_notation, lengths, list, regex, unit_word};
use super::{Evidence, Flow};

/// The armhole's own length, from two printed heights.
pub(super) struct FromHem {
    /// The lines with it in the place of the height.
    pub(super) lines: String,
    /// The height at which the armhole begins.
    pub(super) side: Evidence,
    pub(super) why: String,
}

/// The two heights and what lies between them, of these lines and what stands from the piece's beginning to its armhole; nothing
/// where the second is not printed, or where no armhole is so deep.
pub(super) fn from_hem(
    flow: &Flow,
    lines: &str,
    (begins, armhole): (usize, usize),
    sizes: usize,
) -> Option<FromHem> {
    static HEIGHT: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)\b((?:back|front|work|piece|knitting|it) (?:now )?(?:measures?|is) )({})\s*({UNIT})\.?((?: from (?:the )?(?:cast[- ]on(?: edge)?|beg\w*\b\.?|start|lower edge|hem))?)( from| of| above| after)?",
            list()
        ))
    });
    let found = HEIGHT.captures(lines)?;
    let (all, list, unit) = (found.get(0)?, found.get(2)?, found.get(3)?);
    // Another place: `from first cast-off`, `from beg of armhole shaping`.
    if found.get(5).is_some() {
        return None;
    }
    let (heights, two_readings) = lengths(list.as_str(), sizes);
    let side = length(flow, begins, armhole, sizes)?;
    let unit = unit_word(unit.as_str());
    if two_readings || side.more || side.unit != unit || !fits(&heights, sizes) {
        return None;
    }
    let deep = between(&heights, &side.values)?;
    let inches = unit == "in";
    if !deep.iter().all(|n| is_deep(*n, inches)) {
        return None;
    }
    let said = in_trade_notation(&deep);
    let mut lines = lines.to_owned();
    lines.replace_range(all.range(), &format!("armhole measures {said} {unit}"));
    Some(FromHem {
        lines,
        side: flow.evidence(side.from, side.to),
        why: format!(
            "The piece is worked to {} {unit}, and to the armhole to {} {unit}; what lies between, {said} {unit}, is written here as the armhole's length. See that both are measured from the cast-on.",
            in_trade_notation(&heights),
            in_trade_notation(&side.values)
        ),
    })
}

/// One height less the other, size by size.
fn between(above: &[f64], below: &[f64]) -> Option<Vec<f64>> {
    let at = |list: &[f64], i: usize| list.get(if list.len() == 1 { 0 } else { i }).copied();
    let sizes = above.len().max(below.len());
    (0..sizes)
        .map(|i| Some(at(above, i)? - at(below, i)?))
        .collect()
}

/// Depths that armholes have, a baby's to the largest; common practice, no source.
fn is_deep(depth: f64, inches: bool) -> bool {
    let cm = if inches {
        depth * crate::measure::CM_PER_INCH
    } else {
        depth
    };
    (7.0..=35.0).contains(&cm)
}
