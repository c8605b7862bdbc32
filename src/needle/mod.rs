//! Sentences -> stitches: the simulator that proves a written pattern.
//!
//! The needle reads the text as a knitter would and never the plan: `lexer` and `parse` turn
//! sentences into what they say, `knitter` (with `cap` and `tube`) does it on the circular needle
//! of `machine`, and every count in square brackets is compared with what lies there. [`prove()`]
//! then compares the result with the plan. Anything that cannot be read is an error.

#![warn(clippy::indexing_slicing)]

mod beside;
mod cap;
mod claims;
pub mod codes;
mod cursor;
mod edges;
mod file;
mod first_round;
mod headings;
mod knitted;
mod knitter;
mod lexer;
mod lists;
mod machine;
mod parse;
mod parse_list;
mod parse_pattern;
mod parse_rounds;
mod parse_rows;
mod parse_stretch;
mod pattern;
mod prove;
mod prove_pattern;
mod put_right;
mod repair;
mod said;
mod show;
mod sizes;
mod tube;
mod turns;

pub use codes::CODES;
pub use file::{Piece, knit_file};
pub use knitted::{Column, Knitted, PickedStretch, ToldChart};
pub use prove::prove;
pub use prove_pattern::prove_pattern;
pub use show::{draw_columns, show_row};
pub use sizes::{knit_sizes, sizes_of};

use crate::diagnostic::Diagnostic;

/// The words of a text as the needle sees them, `k2tog` and `p2tog` in one piece; `Dec` is `dec`.
pub fn words_of(text: &str) -> Vec<String> {
    let tokens = lexer::lex(text);
    let mut words: Vec<String> = Vec::new();
    for (i, token) in tokens.iter().enumerate() {
        let before = |n: usize| i.checked_sub(n).and_then(|j| tokens.get(j)).map(|t| t.text);
        if token.text == "tog" && before(1) == Some("2") {
            let stitch = words.pop().unwrap_or_default();
            words.push(format!("{stitch}2tog"));
        } else if token.kind == lexer::WordKind::Word {
            let capital_only = token.text.chars().all(char::is_uppercase);
            let word = token.text.to_lowercase();
            words.push(if capital_only {
                token.text.to_owned()
            } else {
                word
            });
        }
    }
    words
}

/// Knits a written pattern: headings, sentences and counts, white space of any kind between them.
///
/// Spans are bytes of `text`. The result is what lies on the needle at the end, as far as the
/// text could be followed; after an error in the stitches themselves the rest is only read.
pub fn knit(text: &str) -> (Knitted, Vec<Diagnostic>) {
    knitter::Knitter::new(text).knit(&parse::parse(text))
}

/// The same for sentences in a list; spans are bytes of the sentences joined by line breaks.
pub fn knit_sentences(sentences: &[String]) -> (Knitted, Vec<Diagnostic>) {
    knit(&sentences.join("\n"))
}
