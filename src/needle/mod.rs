//! Sentences -> stitches: the simulator that proves a written pattern.
//!
//! The needle reads the text as a knitter would and never the plan: `lexer` and `parse` turn
//! sentences into what they say, `knitter` (with `cap` and `tube`) does it on the circular needle
//! of `machine`, and every count in square brackets is compared with what lies there. [`prove`]
//! then compares the result with the plan. Anything that cannot be read is an error.

#![warn(clippy::indexing_slicing)]

mod cap;
mod claims;
pub mod codes;
mod cursor;
mod file;
mod knitted;
mod knitter;
mod lexer;
mod machine;
mod order;
mod parse;
mod parse_rounds;
mod parse_rows;
mod prove;
pub mod remarks;
mod said;
mod tube;

pub use cap::step_label;
pub use codes::CODES;
pub use file::{Piece, knit_file};
pub use knitted::{Column, Knitted, NeedleRow, Section, Stretch};
pub use order::{Flank, Going, Sleeve};
pub use prove::prove;

use crate::diagnostic::Diagnostic;

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
