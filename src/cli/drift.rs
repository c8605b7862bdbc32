//! `drift`: flat against round, the lesson and its exercises.

use super::args::{DriftArgs, Format};
use super::convert::{code, json_line, open, refused};
use super::{Outcome, files};
use crate::convert::drift::drift as lesson_of;
use crate::report::{drift_exercise_json, drift_exercise_text, drift_json, drift_text};

pub(crate) fn drift(args: &DriftArgs) -> Outcome {
    let opened = match open(&args.case) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    let lesson = match lesson_of(case, opened.only) {
        Ok(lesson) => lesson,
        Err(found) => return refused(case, &found, opened.err),
    };
    let output = &args.case.output;
    let out = match (output.format, args.exercise) {
        (Format::Text, false) => drift_text(case, &lesson),
        (Format::Json, false) => json_line(&drift_json(case, &lesson)),
        (Format::Text, true) => drift_exercise_text(case, &lesson),
        (Format::Json, true) => json_line(&drift_exercise_json(case, &lesson)),
    };
    let outcome = Outcome {
        out,
        err: opened.err,
        code: code(lesson.worst()),
    };
    files::deliver(outcome, output)
}
