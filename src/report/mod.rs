//! What a conversion, a check or a lesson says, composed once (`document`) and laid out in every form
//! (`render`); the same as JSON, and pictures. No arithmetic of its own: numbers are rounded and laid out,
//! never computed.

mod columns;
mod document;
mod figure;
mod flat;
mod follow;
mod json;
mod number;
mod render;
mod row_columns;
mod summary;

pub use columns::{checklist_csv, grading_csv, summary_csv};
pub use document::{
    Batch, Document, MadeFrom, Reader, ReadingRow, amendment_document, batch_document,
    check_document, checklist_document, conversion_document, exercise_document, flat_lines_text,
    grading_document, lesson_document, reading_document, reading_rows, together_document,
};
#[cfg(any(feature = "cli", feature = "desk"))]
pub(crate) use figure::picture;
pub use figure::{Figure, drift_figures, set_figures, size_figures};
pub use follow::{FollowStep, follow_steps};
pub use json::{
    ArmView, BandView, CellView, ColumnView, EdgesView, LengthView, RowView, TableLine, TableView,
    amendment_json, check_json, conversion_json, drift_exercise_json, drift_json, finding_json,
    follow_json, grading_json, reading_json, table_list, table_view,
};
#[cfg(feature = "pdf")]
pub use render::{Paper, PdfError};
pub use summary::{CaseSummary, Ending, Said, SizeSummary};

/// The version of the JSON that [`conversion_json`] gives, as `docs/result.schema.json` describes it. Within
/// a version no key goes or changes its meaning; new ones may come.
pub const SCHEMA_VERSION: u32 = 2;
