//! Rows of the old cap that lie off its curve.

use super::codes::{ROW_OFF_CURVE, finding};
use crate::diagnostic::Diagnostic;
use crate::measure::Length;
use crate::outline::{Cap, Jump};
use crate::pattern::{Ledger, LedgerRow};

/// Rows more than one stitch off the curve, each with the words that asked for it.
///
/// `lines` is the text that the ledger was read from.
pub fn curve_findings(cap: &Cap, ledger: &Ledger, lines: &str) -> Vec<Diagnostic> {
    let jumps = cap.jumps().into_iter();
    jumps
        .map(|jump| off_curve(cap, &jump, ledger, lines))
        .collect()
}

fn off_curve(cap: &Cap, jump: &Jump, ledger: &Ledger, lines: &str) -> Diagnostic {
    let between = |row: &&LedgerRow| row.row >= jump.from && row.row <= jump.to;
    let rows = ledger.fabric().iter().filter(between);
    // The row that takes most away, the first of several.
    let row = rows.max_by_key(|row| (row.removed(), std::cmp::Reverse(row.row)));
    let off = jump.out_stitches.max(jump.in_stitches);
    let message = format!(
        "From row {} to row {} the cap narrows by {:.0} stitches a side and lies up to {off:.1} stitches off the curve through the rows below and above{}.",
        jump.from,
        jump.to,
        lost_stitches(cap, jump),
        row.map_or_else(String::new, |row| words(row, lines)),
    );
    let diagnostic = finding(&ROW_OFF_CURVE, message);
    match row {
        Some(row) => diagnostic.at(row.span),
        None => diagnostic,
    }
}

/// Stitches lost on one side from the first row of a jump to its last.
fn lost_stitches(cap: &Cap, jump: &Jump) -> f64 {
    let width = |row: u32| -> Length {
        let from_top = f64::from(cap.rows().count()) - f64::from(row) + 0.5;
        cap.width_at(cap.row_height() * from_top)
    };
    (width(jump.from) - width(jump.to)) / cap.stitch_width() / 2.0
}

/// The words of a row, cut to a readable length.
fn words(row: &LedgerRow, lines: &str) -> String {
    let text = lines.get(row.span.from..row.span.to).unwrap_or_default();
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.as_slice() {
        [] => String::new(),
        words if words.len() <= MOST_WORDS => format!(" (row {}: '{}')", row.row, words.join(" ")),
        words => {
            let start = words.get(..MOST_WORDS).unwrap_or(&[]);
            format!(" (row {}: '{} ...')", row.row, start.join(" "))
        }
    }
}

const MOST_WORDS: usize = 24;
