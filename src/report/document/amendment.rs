//! A print with the new sleeve in it: what changes and why, what is left to decide, and the text itself.

use super::{Amended, Block, Changed, Chapter, Document};
use crate::amend::{Amendment, Piece, RIGHTS};

/// How the marks of the text are read.
const MARKS: &str = "What is taken out and what is put in carry the number of their change. Everything else stands as printed: without what is put in, it is the print, byte for byte.";

/// The amended pattern with its changes marked.
pub fn amendment_document(amendment: &Amendment) -> Document {
    let changes = amendment
        .changes
        .iter()
        .map(|change| format!("Line {}: {}", amendment.line_of(change), change.reason));
    let numbered = |texts: Vec<String>| Block::Numbered { texts, room: false };
    let parts = vec![
        Chapter::new(
            "Before it is printed",
            vec![
                Block::Text(RIGHTS.to_owned()),
                Block::Text(MARKS.to_owned()),
            ],
        ),
        Chapter::new("What is changed", vec![numbered(changes.collect())]),
        Chapter::new(
            "What you must decide",
            vec![numbered(amendment.decide.clone())],
        ),
        Chapter::new(
            "The amended pattern",
            vec![Block::Amended(pieces(amendment))],
        ),
    ];
    Document {
        title: amendment.title.clone(),
        subtitle: "The pattern with a short-row sleeve cap picked up round the armhole".to_owned(),
        foot: amendment.title.clone(),
        parts,
        paged: false,
    }
}

fn pieces(amendment: &Amendment) -> Vec<Amended> {
    let pieces = amendment.pieces().into_iter().map(|piece| match piece {
        Piece::Kept(text) => (None, text),
        Piece::Old(number, text) => (Some((number, Changed::Old)), text),
        Piece::New(number, text) => (Some((number, Changed::New)), text),
    });
    pieces
        .map(|(change, text)| Amended {
            change,
            text: text.to_owned(),
        })
        .collect()
}
