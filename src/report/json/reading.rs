//! Ledgers as they were read.

use serde_json::{Value, json};

use super::conversion::{finding_json, ledger_row};
use crate::diagnostic::Diagnostic;
use crate::pattern::Reading;

/// A reading as one JSON object.
pub fn reading_json(reading: &Reading, diagnostics: &[Diagnostic]) -> Value {
    let sizes = reading.sizes.iter().map(|size| {
        json!({
            "size": size.size,
            "stitches": size.ledger.start.count(),
            "ledger": size.ledger.rows.iter().map(ledger_row).collect::<Vec<_>>(),
            "final_stitches": size.ledger.final_stitches().count(),
        })
    });
    json!({
        "sizes": sizes.collect::<Vec<_>>(),
        "diagnostics": diagnostics.iter().map(finding_json).collect::<Vec<_>>(),
    })
}
