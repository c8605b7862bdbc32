//! A sleeve's upper arm against the arms it is for.

use super::codes::{ARM_LOOSE, ARM_SHARE, ARM_TIGHT, CAUTION_INFANT, CAUTION_TIGHT, finding};
use super::cure::arm_cure;
use crate::body::{Arm, share_in_words};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

/// A sleeve that has to stretch by more than a tenth binds.
pub const STRETCH: f64 = 0.10;

/// A sleeve so much wider than the arm is loose.
const LOOSE: Length = Length::inches(6.0);

/// A sleeve no wider than this may be an infant's: the chart's arm at 24 months is 7.5 in (19 cm).
const INFANT_WIDTH: Length = Length::inches(7.75);

/// The share (0 to 1) of the people surveyed whom an upper arm fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmShare {
    /// As it is: the arm is no thicker than the sleeve.
    pub as_it_is: f64,
    /// As it is, by the arm at the armpit, where the sleeve's upper arm lies; where a survey has it.
    pub at_armpit: Option<f64>,
    /// Stretched by up to a tenth.
    pub stretched: f64,
    /// With the ease that was chosen, where one was.
    pub at_ease: Option<f64>,
}

/// The people of this size or bust whom an upper arm of this width fits; `None` for one measured
/// arm.
pub fn arm_share(width: Length, arm: &Arm) -> Option<ArmShare> {
    Some(ArmShare {
        as_it_is: arm.share_fitting(width, Length::ZERO)?,
        at_armpit: arm.share_at_armpit(width, Length::ZERO),
        stretched: arm.share_fitting(width / (1.0 - STRETCH), Length::ZERO)?,
        at_ease: arm.ease.and_then(|ease| arm.share_fitting(width, ease)),
    })
}

/// Findings on an upper arm; `name` is what the messages call it, e.g. `finished upper arm`.
///
/// Without an arm only a very narrow sleeve says something: it may be an infant's.
///
/// `adapts_to` says whether a cap for that upper arm can be made: it is advised only then.
pub fn arm_findings(
    units: Units,
    name: &str,
    width: Length,
    arm: Option<&Arm>,
    adapts_to: &dyn Fn(Length) -> bool,
) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    if let Some(arm) = arm {
        found.extend(against(units, name, width, arm, adapts_to));
        found.extend(share(units, name, width, arm));
    }
    found.extend(infant(units, name, width, arm));
    found
}

fn against(
    units: Units,
    name: &str,
    width: Length,
    arm: &Arm,
    adapts_to: &dyn Fn(Length) -> bool,
) -> Vec<Diagnostic> {
    let typical = arm.typical();
    let whose = if arm.is_measured() {
        "the measured arm".to_owned()
    } else {
        format!("the arm of {} ({})", arm.label, arm.source)
    };
    let message = |word: &str, by: Length| {
        format!(
            "The {name} of {} is {} {word} than {whose}, {}.",
            units.show(width),
            units.show(by),
            units.show(typical),
        )
    };
    if width < typical * (1.0 - STRETCH) {
        let caution = format!(
            "The {name} of {} has to stretch by more than a tenth to go round an arm of {}.",
            units.show(width),
            units.show(typical)
        );
        vec![
            finding(&ARM_TIGHT, message("tighter", typical - width))
                .next(arm_cure(units, arm, adapts_to)),
            finding(&CAUTION_TIGHT, caution),
        ]
    } else if width - typical > LOOSE {
        let loose = finding(&ARM_LOOSE, message("wider", width - typical));
        vec![loose.next(format!(
            "Nothing, if a wide sleeve is meant. {}",
            arm_cure(units, arm, adapts_to)
        ))]
    } else {
        Vec::new()
    }
}

fn share(units: Units, name: &str, width: Length, arm: &Arm) -> Option<Diagnostic> {
    let share = arm_share(width, arm)?;
    let at_ease = share.at_ease.zip(arm.ease).map(|(share, ease)| {
        format!(
            ", of {} with the {} of ease chosen",
            share_in_words(share),
            units.show(ease)
        )
    });
    let at_armpit = share.at_armpit.map(|share| {
        format!(
            ", and at the armpit round the arms of {}",
            share_in_words(share)
        )
    });
    let message = format!(
        "The {name} of {} goes round the upper arms of {} of {}, {}, as it is, of {} when it stretches by a tenth{}{}{}.",
        units.show(width),
        share_in_words(share.as_it_is),
        arm.people,
        arm.label,
        share_in_words(share.stretched),
        at_ease.unwrap_or_default(),
        at_armpit.unwrap_or_default(),
        if arm.extrapolated {
            "; this size is beyond the survey's range (extrapolated)"
        } else {
            ""
        },
    );
    Some(finding(&ARM_SHARE, message))
}

fn infant(units: Units, name: &str, width: Length, arm: Option<&Arm>) -> Option<Diagnostic> {
    let message = match arm {
        Some(arm) if arm.infant => format!("{} is a size for an infant.", arm.label),
        Some(arm) if !arm.is_measured() => return None,
        _ if width <= INFANT_WIDTH => {
            format!("The {name} of {} may be an infant's.", units.show(width))
        }
        _ => return None,
    };
    Some(finding(&CAUTION_INFANT, message))
}
