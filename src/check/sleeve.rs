//! The new sleeve: upper arm against the arm, depth kept, cautions.

use super::codes::{
    ARM_LOOSE, ARM_OFF_WANTED, ARM_SHARE, ARM_TIGHT, CAUTION_INFANT, CAUTION_TIGHT, DEPTH_OFF,
    NOT_PROVEN, finding,
};
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

/// A sleeve that has to stretch by more than a tenth binds.
const STRETCH: f64 = 0.10;

/// A sleeve so much wider than the arm is loose.
const LOOSE: Length = Length::inches(6.0);

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
    if let Some(arm) = facts.arm {
        found.extend(against_arm(facts, arm));
    }
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

fn against_arm(facts: &SleeveFacts<'_>, arm: &Arm) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let (units, finished) = (facts.units, facts.fit.measures.upper_arm);
    let typical = arm.typical();
    let whose = if arm.is_measured() {
        "the measured arm".to_owned()
    } else {
        format!("the arm of {} ({})", arm.label, arm.source)
    };
    let ease = finished - typical;
    if finished.to_cm() < typical.to_cm() * (1.0 - STRETCH) {
        let message = format!(
            "The finished upper arm of {} is {} tighter than {whose}, {}.",
            units.show(finished),
            units.show(ease.abs()),
            units.show(typical),
        );
        found.push(finding(&ARM_TIGHT, message));
        let message = "This sleeve has to stretch by more than a tenth to go round the arm.";
        found.push(finding(&CAUTION_TIGHT, message.to_owned()));
    } else if ease > LOOSE {
        let message = format!(
            "The finished upper arm of {} is {} wider than {whose}, {}.",
            units.show(finished),
            units.show(ease),
            units.show(typical),
        );
        found.push(finding(&ARM_LOOSE, message));
    }
    if let Some(share) = arm.share_fitting(finished / (1.0 - STRETCH), Length::ZERO) {
        let message = format!(
            "With {} the upper arm fits about {:.0} in 100 people of {}{}.",
            units.show(finished),
            100.0 * share,
            arm.label,
            if arm.extrapolated {
                ", a size beyond the survey's range (extrapolated)"
            } else {
                ""
            },
        );
        found.push(finding(&ARM_SHARE, message));
    }
    if arm.infant {
        let message = format!("{} is a size for an infant.", arm.label);
        found.push(finding(&CAUTION_INFANT, message));
    }
    found
}
