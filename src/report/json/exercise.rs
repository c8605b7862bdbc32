//! The exercises on drift.

use serde::Serialize;
use serde_json::{Value, json};

use crate::case::Case;
use crate::convert::drift::DriftLesson;
use crate::report::document::{Question, questions_of};

/// The questions on the lesson's first size, with their answers; null without both gauges.
pub fn drift_exercise_json(case: &Case, lesson: &DriftLesson) -> Value {
    let asked = questions_of(case, lesson);
    json!(asked.as_ref().map(|asked| ExerciseJson {
        case: &case.title,
        units: case.units.word(),
        size: lesson.sizes.first().map(|size| size.size.as_str()),
        given: &asked.given,
        exercises: &asked.list,
    }))
}

#[derive(Serialize)]
struct ExerciseJson<'a> {
    /// The case's title.
    case: &'a str,
    /// The units of its texts: `cm` or `in`.
    units: &'static str,
    size: Option<&'a str>,
    /// What is known.
    given: &'a str,
    exercises: &'a [Question],
}
