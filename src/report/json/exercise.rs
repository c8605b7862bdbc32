//! The exercises on drift.

use serde_json::{Value, json};

use crate::case::Case;
use crate::convert::drift::DriftLesson;
use crate::report::document::questions_of;

/// The questions on the lesson's first size, with their answers; null without both gauges.
pub fn drift_exercise_json(case: &Case, lesson: &DriftLesson) -> Value {
    let Some(asked) = questions_of(case, lesson) else {
        return Value::Null;
    };
    let questions = asked
        .list
        .iter()
        .map(|question| json!({ "question": question.question, "answer": question.answer }));
    json!({
        "case": case.title,
        "units": case.units.word(),
        "size": lesson.sizes.first().map(|size| &size.size),
        "given": asked.given,
        "exercises": questions.collect::<Vec<_>>(),
    })
}
