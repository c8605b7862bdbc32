//! Swatches that are missing: what is assumed instead is said, never assumed in silence.

use super::codes::{FLAT_ASSUMED, GAUGE_ASSUMED, finding};
use crate::diagnostic::Diagnostic;

/// Findings on swatches the case does not give.
pub fn gauge_findings(flat: bool, round: bool) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    if !round {
        let message =
            "There is no swatch in the round; the pattern's own gauge is taken for the tube.";
        found.push(finding(&GAUGE_ASSUMED, message.to_owned()));
    }
    if round && !flat {
        let message = "There is no flat swatch; the cap is computed at the gauge in the round.";
        found.push(finding(&FLAT_ASSUMED, message.to_owned()));
    }
    found
}
