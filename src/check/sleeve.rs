//! The new sleeve: upper arm against the arm, depth kept, cautions.

use super::arm::arm_findings;
use super::codes::{ARM_OFF_WANTED, DEPTH_OFF, NOT_PROVEN, TUBE_SHORT, finding};
use crate::body::Arm;
use crate::diagnostic::Diagnostic;
use crate::fit::{Fit, Status};
use crate::measure::{Length, Units};

/// What is known of the new sleeve in one size.
#[derive(Clone, Copy, Debug)]
pub struct SleeveFacts<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The fit.
    pub fit: &'a Fit,
    /// Height of a row of the new cap.
    pub row_height: Length,
    /// The upper arm that was wanted.
    pub wanted: Length,
    /// The arms of the people it is for.
    pub arm: Option<&'a Arm>,
}

/// Rounding of the upper arm that is worth a word.
const ROUNDING: Length = Length::cm(1.0);

/// All findings on the new sleeve.
pub fn sleeve_findings(facts: &SleeveFacts<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    found.extend(depth(facts));
    found.extend(rounded(facts));
    if facts.fit.status == Status::Feasible {
        let message = "The search for a better cap was cut short.";
        found.push(finding(&NOT_PROVEN, message.to_owned()));
    }
    let finished = facts.fit.measures.upper_arm;
    found.extend(arm_findings(
        facts.units,
        "finished upper arm",
        finished,
        facts.arm,
    ));
    found
}

fn depth(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let off = facts.fit.measures.depth_error;
    (off.abs().to_cm() > facts.row_height.to_cm() * 1.000_001).then(|| {
        let message = format!(
            "The new cap is {} {} than the old one, more than one row.",
            facts.units.show(off.abs()),
            if off.to_cm() > 0.0 {
                "deeper"
            } else {
                "shallower"
            },
        );
        finding(&DEPTH_OFF, message)
    })
}

fn rounded(facts: &SleeveFacts<'_>) -> Option<Diagnostic> {
    let finished = facts.fit.measures.upper_arm;
    let off = finished - facts.wanted;
    (off.abs() > ROUNDING).then(|| {
        let message = format!(
            "The upper arm comes to {}; {} was wanted.",
            facts.units.show(finished),
            facts.units.show(facts.wanted),
        );
        finding(&ARM_OFF_WANTED, message)
    })
}

/// Said when a length is given but no tube of that length reaches the cuff.
pub fn tube_too_short() -> Diagnostic {
    let message =
        "The sleeve is too short to reach the cuff by two stitches on each shaping round.";
    finding(&TUBE_SHORT, message.to_owned())
}
