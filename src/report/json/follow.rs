//! The steps to follow at the needles.

use serde::Serialize;
use serde_json::{Value, json};

use super::rounded::Cm;
use crate::case::Case;
use crate::convert::SizeConversion;
use crate::report::follow::{FollowStep, follow_steps};

/// The steps of every sleeve of a size, each sleeve by its word.
pub fn follow_json(case: &Case, size: &SizeConversion) -> Value {
    let sleeves = size.written.iter().map(|written| FollowJson {
        sleeve: written.sleeve.word(),
        steps: follow_steps(case, size, written)
            .into_iter()
            .map(StepJson::from)
            .collect(),
    });
    json!(sleeves.collect::<Vec<_>>())
}

#[derive(Serialize)]
struct FollowJson {
    /// `both`, `left` or `right`.
    sleeve: &'static str,
    steps: Vec<StepJson>,
}

#[derive(Serialize)]
struct StepJson {
    /// The part of the work: `Pick up`, `Short rows`.
    part: String,
    /// Where in it: `Row 13`, `Round 20 of 134`, `2 of 4`.
    at: String,
    /// The side that faces, where it is a row.
    side: Option<&'static str>,
    /// What is done, in sentences.
    say: Vec<String>,
    /// What is then on the needle; empty where nothing is counted.
    then: String,
    /// What it then measures; empty where nothing is.
    measure: String,
    /// The row of the cap or the round of the tube that it is.
    number: Option<u32>,
    /// Depth of the cap after it, where it is a row of it.
    depth_cm: Option<Cm>,
    /// More or less of it.
    depth_off_cm: Option<Cm>,
    /// Length below the underarm after it, where it is a round of the tube.
    length_cm: Option<Cm>,
    /// More or less of it.
    length_off_cm: Option<Cm>,
}

impl From<FollowStep> for StepJson {
    fn from(step: FollowStep) -> Self {
        Self {
            part: step.part,
            at: step.at,
            side: step.side,
            say: step.say,
            then: step.then,
            measure: step.measure,
            depth_cm: step.depth.map(|depth| Cm(depth.length)),
            depth_off_cm: step.depth.map(|depth| Cm(depth.off)),
            number: step.number,
            length_cm: step.length.map(|length| Cm(length.length)),
            length_off_cm: step.length.map(|length| Cm(length.off)),
        }
    }
}
