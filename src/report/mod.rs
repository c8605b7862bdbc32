//! Conversion -> text and JSON. No arithmetic of its own: numbers are rounded and laid out, never
//! computed.

mod adapt;
mod checks;
mod drift;
mod drift_exercise;
mod drift_json;
mod drift_sleeves;
mod drift_sure;
mod groups;
mod json;
mod pattern_text;
mod reading;
mod text;

pub use checks::{check_json, check_text};
pub use drift::drift_text;
pub use drift_exercise::{drift_exercise_json, drift_exercise_text};
pub use drift_json::drift_json;
pub use json::{conversion_json, finding_json};
pub use reading::{reading_json, reading_text};
pub use text::{checklist_csv, checklist_text, conversion_text, flat_lines_text, together_text};
