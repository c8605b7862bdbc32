//! Conversion -> text, JSON, figures and pages. No arithmetic of its own: numbers are rounded and laid out, never
//! computed.

mod adapt;
mod checks;
mod drift;
mod drift_exercise;
mod drift_json;
mod drift_sleeves;
mod drift_sure;
mod figure;
mod grading;
mod groups;
mod json;
mod pattern_text;
mod reading;
mod sheet;
mod summary;
mod summary_csv;
mod summary_page;
mod summary_text;
mod text;
mod trade_text;

pub use checks::{check_json, check_text};
pub use drift::drift_text;
pub use drift_exercise::{drift_exercise_json, drift_exercise_text};
pub use drift_json::drift_json;
pub use figure::{Figure, drift_figures, set_figures, size_figures};
pub use grading::{grading_csv, grading_json, grading_text};
pub use json::{conversion_json, finding_json};
pub use reading::{ReadingRow, reading_json, reading_rows, reading_text};
#[cfg(feature = "pdf")]
pub use sheet::{Paper, PdfError, exercise_pdf, lesson_pdf, worksheet_pdf};
pub use sheet::{exercise_html, lesson_html, worksheet_html};
pub use summary::{CaseSummary, Ending, Said, SizeSummary};
pub use summary_csv::summary_csv;
pub use summary_page::summary_page;
pub use summary_text::{Batch, summary_text};
pub use text::{checklist_csv, checklist_text, conversion_text, flat_lines_text, together_text};
