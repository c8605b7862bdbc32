//! The pattern's lines -> size sets, ledger, diagnostics.

#![warn(clippy::indexing_slicing)]

mod advice;
mod ambiguity;
mod clause;
mod codes;
mod context;
mod finding;
mod ledger;
mod lexeme;
mod lexer;
pub mod limits;
mod program;
mod read;
mod repair;
mod run;
mod spellings;
mod term;
mod vocabulary;
mod write;

pub use codes::CODES;
pub use context::{Context, Piece, Readings, Take};
pub use ledger::{Ledger, LedgerRow};
pub use read::{Reading, SizeReading, parse_size_set, read};
pub use repair::with_repair;
pub use write::write_lines;
