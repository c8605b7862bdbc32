//! `drift`: flat against round, the lesson and its exercises.

use super::args::DriftArgs;
use super::figure::lesson_picture;
use super::form::{EXERCISE_FORMS, Form, LESSON_FORMS};
use super::open::{open, refused};
use super::outcome::{Outcome, code};
use super::output::Targets;
use super::render::{json_line, laid_out, reader};
use crate::case::Case;
use crate::convert::drift::{DriftLesson, drift as lesson_of};
use crate::report::{drift_exercise_json, drift_json, exercise_document, lesson_document};

pub(crate) fn drift(args: &DriftArgs) -> Outcome {
    let can = match &args.figure {
        _ if args.exercise => EXERCISE_FORMS,
        Some(_) if args.case.output.output.is_empty() => &[Form::Svg],
        _ => LESSON_FORMS,
    };
    let targets = match Targets::new(&args.case.output, &[&args.case.case], can) {
        Ok(targets) => targets,
        Err(outcome) => return outcome,
    };
    let opened = match open(&args.case) {
        Ok(opened) => opened,
        Err(outcome) => return outcome,
    };
    let case = &opened.case;
    let lesson = match lesson_of(case, opened.only) {
        Ok(lesson) => lesson,
        Err(found) => return refused(case, &found, opened.err),
    };
    let outcome = Outcome {
        out: String::new(),
        err: opened.err,
        code: code(lesson.worst()),
    };
    targets.deliver(outcome, |form| written(args, case, &lesson, form))
}

fn written(
    args: &DriftArgs,
    case: &Case,
    lesson: &DriftLesson,
    form: Form,
) -> Result<Vec<u8>, String> {
    let text = match (form, args.exercise) {
        (Form::Json, false) => json_line(&drift_json(case, lesson)),
        (Form::Json, true) => json_line(&drift_exercise_json(case, lesson)),
        (Form::Svg, _) => lesson_picture(case, lesson, args.figure.as_deref())?,
        (form, exercise) => {
            let document = if exercise {
                exercise_document(case, lesson)
            } else {
                lesson_document(case, lesson, reader(form))
            };
            return laid_out(&document, form, args.paper);
        }
    };
    Ok(text.into_bytes())
}
