//! The pattern's lines -> size sets, ledger, diagnostics.
//!
//! # The way of a line
//!
//! `lexer` (tokens that tile the text) -> `lexeme` (words become terms of the trade by the table in
//! `spellings`; numbers get a value; fillers fall away) -> `clause` (recursive descent to
//! instructions; numbers are kept apart from them, one per size) -> `run` (carries the instructions
//! out for one size, row by row, into the ledger) -> `finding` (what disagreed, in a sentence) ->
//! `ambiguity` (the other reading of a wording that has two) and `repair` (one number changed and
//! all of it carried out again). `write` goes the other way.
//!
//! Nothing is passed over in silence: every word is a term, a filler of the table, or reported; a
//! word beside a number that is not understood is an error. Nothing is repaired in silence: the
//! ledger is that of the text as it stands. Limits are in [`limits`].
//!
//! # Grammar
//!
//! Capitals are terms (any spelling in the table, US, UK or older), `[ ]` may be missing, `{ }`
//! may repeat. A point, a blank line or a semicolon ends a sentence; the verb and the edge may be
//! left out where the clause before has them.
//!
//! ```text
//! lines     = { item }
//! item      = sizes | row | clause | check | joint | SHORT-ROW sentence | reference
//! sizes     = SIZE list [ONLY] [:] | ordinal { , ordinal } SIZE [ONLY] [:] | ALL SIZE
//! row       = label [ ( RS | WS ) ] [:] stitches
//! label     = ROW n [ - n ] [ AND EVERY ... ] | nth ROW | NEXT [ n ] ROW | DEC ROW
//! stitches  = { BIND-OFF n | K | P | n | K2TOG ... | M1 ... | TO LAST n | TO END | DEC [n] [place] }
//! clause    = bind | shape | even | repeat | group | close | SAME-TIME [ WHEN ... ] clause
//! bind      = BIND-OFF n { , n } [STS] [place] [rows] { , n [STS] often }
//!           | [place] [rows] BIND-OFF n [STS] ... | BIND-OFF { n x n [ST] } [place] [rows]
//! shape     = ( DEC | INC | CAST-ON | K n TOG ) [ n STS ] [place] rows { ( , | AND | THEN ) rows }
//! place     = EACH END | BEGINNING | END | ARMHOLE EDGE | NECK EDGE
//! rows      = NEXT [ n ] [pace] ROW | FOLL [ n ] [pace] ROW | EVERY [FOLL] pace [extent]
//!           | n FOLL pace ROW | nth { , nth } ROW | ROW n { , n } | pace ROW [extent]
//! pace      = ROW | ALT | nth [ RS | WS ] | RS | WS | n ROW | length | nth RIDGE | nth AND nth BY-TURNS
//! extent    = [ANOTHER] n [MORE] TIMES [MORE | IN ALL] | ONCE | TWICE | UNTIL n STS
//!           | UNTIL piece MEASURES length | FOR n ROW
//! even      = [WORK] n ROW [EVEN] | WORK [EVEN] UNTIL piece MEASURES length | WORK length [MORE]
//! repeat    = REP ( LAST n ROW | ROW n [ - n ] | FROM * [TO *] | FROM ** TO ** | DEC ROW rows ) [extent]
//! group     = ( lines ) extent
//! close     = BIND-OFF [ALL | REMAINING] [ n STS ] | ... ON A HOLDER
//! check     = n STS [REMAINING] | ( n STS ) | n STS DEC'D | ENDING WITH A ( RS | WS ) ROW | RS FACING
//!           | ( ( RS | WS ) ) | ( [OVER] n ROW ) | BEGINNING WITH A ( RS | WS ) ROW | = n
//! n         = number | number ( list ) { ( list ) } | number ( number ) number ... | n-n-n | n/n/n
//! list      = ( number | - | NONE ) { ( , | : | ; | - | / | space ) ( number | - | NONE ) }
//! ```
//!
//! # What the words mean
//!
//! - `next and every alternate row n times`: n rows in all; `next and foll n alt rows`: n + 1.
//! - `every 4th row` counts from the last decrease; after a bind-off it starts with the next
//!   right-side row, and the other reading is told.
//! - `repeat ... n times`: n times more. Brackets `n times`: n in all. `work rows 1 to 6 n times`:
//!   n in all.
//! - Plain rows after the last shaping row of a stretch are worked only when a side, a count of
//!   rows or a length asks for them.
//! - Bind-offs of both edges take two rows; `2 x 1` is two stitches once, `2 x 1 st` one stitch
//!   twice.
//! - A size with `0`, `-` or `none` works neither the stitches nor the rows of that step.
//! - Lengths count from the first row of the lines, or from below where the whole work is named,
//!   and end on the side that the next step needs.

#![warn(clippy::indexing_slicing)]

mod account;
mod advice;
mod ambiguity;
mod aside;
mod budget;
mod clause;
mod codes;
mod context;
mod finding;
mod ledger;
mod lexeme;
mod lexer;
mod program;
mod read;
mod repair;
mod run;
mod spellings;
mod term;
mod vocabulary;
mod write;

pub use crate::case::{Readings, Take};
pub use crate::measure::limits;
pub use codes::CODES;
pub use context::{Context, Piece};
pub use ledger::{Divided, Ledger, LedgerRow};
pub use read::{Reading, SizeReading, parse_size_set, read, read_until};
pub use repair::with_repair;
pub use write::write_lines;
