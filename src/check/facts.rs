//! What is judged: the old garment in one size; and what is assumed for want of a swatch.

use super::codes::{BODY_ASSUMED, FLAT_ASSUMED, GAUGE_ASSUMED, finding};
use crate::body::{Arm, Counterpart};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Length, Units, signed_pct};
use crate::outline::{ArmholeEdge, Cap};
use crate::pattern::Ledger;
use crate::swatch::USUALLY_APART_PCT;

/// What is known of the old garment in one size.
#[derive(Clone, Copy, Debug)]
pub struct Garment<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The old cap.
    pub cap: &'a Cap,
    /// Its rows.
    pub ledger: &'a Ledger,
    /// The front armhole.
    pub front: &'a ArmholeEdge,
    /// The back armhole.
    pub back: &'a ArmholeEdge,
    /// Width of the stitches that wait at the shoulder (a saddle's), which the cap's top meets.
    pub saddle: Length,
    /// Bust or chest of the people it is for.
    pub bust: Option<Length>,
    /// The arms of the people it is for.
    pub arm: Option<&'a Arm>,
    /// True when the case adapts its cap already: it is then not told to.
    pub adapts: bool,
    /// What the surveys hold that comes near an armhole.
    pub counterparts: &'a [Counterpart],
}

/// The mean of front and back, up to the middle of the shoulder: half of a saddle lies on each side of
/// it, above the armhole's own rows.
pub(super) fn armhole_depth_of(garment: &Garment<'_>) -> Length {
    (garment.front.depth() + garment.back.depth() + garment.saddle) / 2.0
}

/// Findings on swatches the case does not give: what is assumed instead is said, never in silence.
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

/// Said where an armhole is told by rows and the body's gauge is not given: the knitter's own rows are not the pattern's.
pub fn body_gauge_finding(units: Units, printed: Gauge, own: Gauge) -> Option<Diagnostic> {
    let pct = 100.0 * (own.rows_per_10cm() / printed.rows_per_10cm() - 1.0);
    (pct.abs() > USUALLY_APART_PCT).then(|| {
        let over = units.swatch_length();
        let per = |gauge: Gauge| gauge.rows_per_10cm() * over.to_cm() / 10.0;
        let longer = 100.0 * (printed.rows_per_10cm() / own.rows_per_10cm() - 1.0);
        let message = format!(
            "The armhole's rows are reckoned at the pattern's {:.1} over {}; your own swatch has {:.1} ({}). In a body knitted like your swatch the armhole is {} against what is reckoned here.",
            per(printed),
            units.show(over),
            per(own),
            signed_pct(pct),
            signed_pct(longer)
        );
        finding(&BODY_ASSUMED, message)
    })
}
