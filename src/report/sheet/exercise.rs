//! The lesson on drift to project or to print, and its exercises as a page of questions and a page of
//! answers.

use super::html::html;
use super::{Block, Part, Sheet};
use crate::case::Case;
use crate::convert::drift::DriftLesson;
use crate::report::drift::drift_text;
use crate::report::drift_exercise::{Question, questions_of};
use crate::report::figure::drift_figures;

/// Both pages as one self-contained page of HTML that prints as two; the lesson's first size.
pub fn exercise_html(case: &Case, lesson: &DriftLesson) -> String {
    html(&exercise(case, lesson))
}

/// The lesson as one self-contained page of HTML: its pictures, then its text.
pub fn lesson_html(case: &Case, lesson: &DriftLesson) -> String {
    html(&lesson_sheet(case, lesson))
}

/// The lesson before it is laid out.
pub(super) fn lesson_sheet(case: &Case, lesson: &DriftLesson) -> Sheet {
    let part = |id: &str, title: &str, block| Part {
        id: id.to_owned(),
        title: title.to_owned(),
        new_page: false,
        blocks: vec![block],
    };
    let figures = drift_figures(case, lesson);
    let mut parts = Vec::new();
    if !figures.is_empty() {
        parts.push(part("pictures", "Pictures", Block::Figures(figures)));
    }
    parts.push(part(
        "numbers",
        "In numbers",
        Block::Lines(drift_text(case, lesson)),
    ));
    Sheet {
        title: case.title.clone(),
        subtitle: "Flat against round: what the change of gauge does to this sleeve".to_owned(),
        foot: case.title.clone(),
        parts,
    }
}

/// Both pages before they are laid out.
pub(super) fn exercise(case: &Case, lesson: &DriftLesson) -> Sheet {
    let questions = questions_of(case, lesson);
    let size = questions.as_ref().map(|questions| questions.size.clone());
    let (given, list) = questions
        .map(|questions| (questions.given, questions.list))
        .unwrap_or_default();
    let page = |id: &str, title: &str, text: fn(&Question) -> &String, room| {
        let mut blocks = vec![Block::Text(given.clone())];
        blocks.push(Block::Numbered {
            texts: list.iter().map(text).cloned().collect(),
            room,
        });
        Part {
            id: id.to_owned(),
            title: title.to_owned(),
            new_page: id == "answers",
            blocks,
        }
    };
    Sheet {
        title: case.title.clone(),
        subtitle: format!("Flat against round{}", size.unwrap_or_default()),
        foot: case.title.clone(),
        parts: vec![
            page(
                "questions",
                "Questions",
                |question| &question.question,
                true,
            ),
            page("answers", "Answers", |question| &question.answer, false),
        ],
    }
}
