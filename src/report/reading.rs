//! The ledger for a person and as JSON: what `read` prints.

use std::fmt::Write as _;

use serde_json::{Value, json};

use super::json::ledger_row;
use crate::diagnostic::Diagnostic;
use crate::pattern::{Ledger, LedgerRow, Reading};

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
        "diagnostics": diagnostics.iter().map(super::finding_json).collect::<Vec<_>>(),
    })
}

/// A reading as a table for each size, alike rows folded.
pub fn reading_text(reading: &Reading, lines: &str) -> String {
    let mut out = String::new();
    for size in &reading.sizes {
        let ledger = &size.ledger;
        let _ = writeln!(
            out,
            "{}: {} before row 1, {} of fabric, {} left",
            size.size,
            ledger.start,
            ledger.row_count(),
            ledger.final_stitches()
        );
        let _ = writeln!(
            out,
            "  {:<9} {:<34} {:>8}  from the words",
            "rows", "what", "stitches"
        );
        for fold in folded(ledger) {
            let words: String = lines
                .get(fold.span.0..fold.span.1)
                .unwrap_or_default()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ");
            let _ = writeln!(
                out,
                "  {:<9} {:<34} {:>8}  {}",
                fold.rows, fold.what, fold.stitches, words
            );
        }
        out.push('\n');
    }
    out
}

struct Fold {
    rows: String,
    what: String,
    stitches: u32,
    span: (usize, usize),
}

/// Rows that come from the same words are one line of the table.
fn folded(ledger: &Ledger) -> Vec<Fold> {
    let groups = ledger.rows.chunk_by(|a, b| a.span == b.span && !b.closes());
    groups.filter_map(fold).collect()
}

fn fold(rows: &[LedgerRow]) -> Option<Fold> {
    let (first, last) = (rows.first()?, rows.last()?);
    let numbers = if last.closes() {
        "end".to_owned()
    } else if first.row == last.row {
        format!("{} {}", first.row, first.side)
    } else {
        format!("{}-{} {}", first.row, last.row, last.side)
    };
    Some(Fold {
        rows: numbers,
        what: what(rows),
        stitches: last.stitches.count(),
        span: (first.span.from, first.span.to),
    })
}

/// What a group of rows does, added up.
fn what(rows: &[LedgerRow]) -> String {
    let count = |of: fn(&LedgerRow) -> u32| rows.iter().map(of).sum::<u32>();
    let bound_off = count(|r| r.bind_off.count());
    let decreased = count(|r| r.decrease_start.count() + r.decrease_end.count());
    let increased = count(|r| r.added().count());
    let mut parts = Vec::new();
    let mut add = |n: u32, words: &str| {
        if n > 0 {
            parts.push(format!("{n} {words}"));
        }
    };
    add(bound_off, "bound off");
    add(decreased, "decreased");
    add(increased, "increased");
    if parts.is_empty() {
        parts.push("even".to_owned());
    }
    parts.join(", ")
}
