//! Swatches that are missing: what is assumed instead is said, never assumed in silence.

use super::codes::{FLAT_ASSUMED, GAUGE_ASSUMED, finding};
use crate::diagnostic::Diagnostic;

/// Findings on swatches the case does not give.
pub fn gauge_findings(flat: bool, round: bool) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    if !round {
        let message = if flat {
            "There is no swatch in the round; the pattern's own gauge is taken for the tube. Each per cent it is off makes the upper arm and the cuff one per cent wider or narrower; 4 to 5 % are usual."
        } else {
            "There is no swatch of your own, neither flat nor in the round; the pattern's own gauge is taken for cap and tube. Each per cent it is off changes every width and length by one per cent; 4 to 5 % between flat and round are usual."
        };
        found.push(finding(&GAUGE_ASSUMED, message.to_owned()));
    }
    if round && !flat {
        let message = "There is no flat swatch; the cap is computed at the gauge in the round. Each per cent that your flat rows are off changes the cap's depth by one per cent; 4 to 5 % are usual.";
        found.push(finding(&FLAT_ASSUMED, message.to_owned()));
    }
    found
}
