//! The exercises on drift: a page of questions and a page of answers.

use super::questions::{Question, questions_of};
use super::{Block, Chapter, Document};
use crate::case::Case;
use crate::convert::drift::DriftLesson;

/// Both pages for the lesson's first size; empty pages without both gauges.
pub fn exercise_document(case: &Case, lesson: &DriftLesson) -> Document {
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
        Chapter {
            id: id.to_owned(),
            title: title.to_owned(),
            new_page: id == "answers",
            blocks,
        }
    };
    Document {
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
        paged: true,
    }
}
