//! What is said, composed once as blocks; `render` lays them out as text, page and paper. No layout here, and no
//! taking apart of what another wrote.

mod adapt;
mod amendment;
mod batch;
mod block;
mod check;
mod conversion;
mod ease;
mod exercise;
mod findings;
mod grading;
mod in_tube;
mod landmarks;
mod lesson;
mod lesson_sleeves;
mod lesson_sure;
mod measures;
mod questions;
mod reading;
mod size;
mod steps;
mod stripes;
mod together;
mod trade;
mod written;

pub use amendment::amendment_document;
pub use batch::{Batch, batch_document};
pub(crate) use check::all_groups;
pub use check::check_document;
pub use conversion::{MadeFrom, checklist_document, conversion_document, flat_lines_text};
pub use exercise::exercise_document;
pub use grading::grading_document;
pub(crate) use grading::labels;
pub use lesson::lesson_document;
pub(crate) use questions::{Question, questions_of};
pub use reading::{ReadingRow, reading_document, reading_rows};
pub use together::together_document;

pub(crate) use block::{
    Amended, Block, Changed, Chapter, ColumnKind, FindingBlock, Heading, Steps, TableBlock,
    TableColumn, bound, sentences, slug, with_marks,
};
pub use block::{Document, Reader};
