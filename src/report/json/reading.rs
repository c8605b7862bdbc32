//! Ledgers as they were read.

use serde::Serialize;
use serde_json::{Value, json};

use super::all;
use super::finding::FindingJson;
use super::flat::LedgerRowJson;
use crate::diagnostic::Diagnostic;
use crate::measure::Stitches;
use crate::pattern::{Reading, SizeReading};

/// A reading as one JSON object.
pub fn reading_json(reading: &Reading, diagnostics: &[Diagnostic]) -> Value {
    json!(ReadingJson {
        sizes: all(&reading.sizes),
        diagnostics: all(diagnostics),
    })
}

#[derive(Serialize)]
struct ReadingJson<'a> {
    sizes: Vec<SizeReadingJson<'a>>,
    diagnostics: Vec<FindingJson<'a>>,
}

#[derive(Serialize)]
struct SizeReadingJson<'a> {
    /// Its label.
    size: &'a str,
    /// Stitches before row 1.
    stitches: Stitches,
    ledger: Vec<LedgerRowJson>,
    final_stitches: Stitches,
}

impl<'a> From<&'a SizeReading> for SizeReadingJson<'a> {
    fn from(size: &'a SizeReading) -> Self {
        Self {
            size: &size.size,
            stitches: size.ledger.start,
            ledger: all(&size.ledger.rows),
            final_stitches: size.ledger.final_stitches(),
        }
    }
}
