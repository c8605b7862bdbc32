//! Conversion -> text and JSON. No arithmetic of its own: numbers are rounded and laid out, never
//! computed.

mod checks;
mod groups;
mod json;
mod reading;
mod text;

pub use checks::{check_json, check_text};
pub use json::{conversion_json, finding_json};
pub use reading::{reading_json, reading_text};
pub use text::conversion_text;
