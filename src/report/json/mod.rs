//! Results as JSON: one struct a result, its names those of the contract. Lengths are centimetres, gauges per
//! 10 cm; a key says its unit where it is no count (`_cm`, `_cm2`, `_pct`), and `rounded` how many decimals it has.
//!
//! `docs/result.schema.json` is made from the structs of a conversion and their comments (`schema`).

mod adapt;
mod amendment;
mod cap;
mod check;
mod conversion;
mod exercise;
mod finding;
mod flat;
mod follow;
mod gauge;
mod grading;
mod lesson;
mod reading;
mod rounded;
#[cfg(test)]
mod schema;
mod sleeves;
mod tables;
mod written;

pub use amendment::amendment_json;
pub use check::check_json;
pub use conversion::conversion_json;
pub use exercise::drift_exercise_json;
pub use follow::follow_json;
pub use grading::grading_json;
pub(crate) use grading::{number, unit};
pub use lesson::drift_json;
pub use reading::reading_json;
pub use tables::{
    ArmView, BandView, CellView, ColumnView, EdgesView, LengthView, RowView, TableLine, TableView,
    table_list, table_view,
};

use serde_json::{Value, json};

use crate::diagnostic::Diagnostic;

/// A finding or diagnostic.
pub fn finding_json(finding: &Diagnostic) -> Value {
    json!(finding::FindingJson::from(finding))
}

/// Each of them as it is written.
fn all<'a, T, J: From<&'a T>>(of: &'a [T]) -> Vec<J> {
    of.iter().map(J::from).collect()
}
