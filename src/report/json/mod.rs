//! Results as JSON: one object a result, names as in the contract, lengths in centimetres.

mod adapt;
mod amendment;
mod check;
mod conversion;
mod exercise;
mod follow;
mod grading;
mod lesson;
mod reading;

pub use amendment::amendment_json;
pub use check::check_json;
pub use conversion::{conversion_json, finding_json};
pub use exercise::drift_exercise_json;
pub use follow::follow_json;
pub use grading::grading_json;
pub(crate) use grading::{number, unit};
pub use lesson::drift_json;
pub use reading::reading_json;

use serde_json::{Value, json};

use crate::measure::Length;

/// Centimetres to a hundredth of a millimetre.
pub(super) fn cm(length: Length) -> Value {
    round(length.to_cm(), 3)
}

/// A number rounded for writing; -0 is 0.
pub(super) fn round(number: f64, decimals: i32) -> Value {
    let scale = 10_f64.powi(decimals);
    json!((number * scale).round() / scale + 0.0)
}
