//! What is said about an input: one data type for the terminal, JSON and pages.
//!
//! Every room keeps its codes in a table of its own (`CODES`); `check` joins them into the one
//! table that `explain` prints.

mod finding;
mod groups;
mod visible;

pub use finding::{Code, Diagnostic, Level, Repair, Span, nearest, worst};
pub(crate) use groups::{Group, groups};
pub use visible::{MAX_MESSAGE, visible, visible_lines};
