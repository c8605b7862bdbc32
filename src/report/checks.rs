//! Findings for a person and as JSON: what `check` prints.

use std::fmt::Write as _;

use serde_json::{Value, json};

use super::json::{armhole, finding_json, old_cap};
use crate::case::Case;
use crate::convert::Old;
use crate::diagnostic::Diagnostic;

/// The old garment and its findings as one JSON object.
pub fn check_json(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Value {
    let sizes = sizes.iter().map(|old| {
        json!({
            "size": old.size,
            "old_cap": old_cap(old),
            "armhole": armhole(&old.front, &old.back),
            "findings": old.findings.iter().map(finding_json).collect::<Vec<_>>(),
        })
    });
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": sizes.collect::<Vec<_>>(),
        "findings": findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

/// The old garment as a table to scan, then every finding.
pub fn check_text(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> String {
    let units = case.units;
    let number = |length| format!("{:.1}", units.number(length) + 0.0);
    let mut out = format!("{} - check ({})\n\n", case.title, units);
    let _ = writeln!(
        out,
        "  {:<10} {:>5} {:>7} {:>9} {:>9} {:>9} {:>9} {:>8}  findings",
        "size", "rows", "depth", "upper arm", "cap edge", "front", "back", "armhole"
    );
    for old in sizes {
        let levels: Vec<&str> = old.findings.iter().map(|f| f.level.word()).collect();
        let _ = writeln!(
            out,
            "  {:<10} {:>5} {:>7} {:>9} {:>9} {:>9} {:>9} {:>8}  {}",
            old.size,
            old.cap.rows().count(),
            number(old.cap.depth()),
            number(old.cap.upper_arm()),
            number(old.cap.edge_above_underarm()),
            number(old.front.edge()),
            number(old.back.edge()),
            number((old.front.depth() + old.back.depth()) / 2.0),
            tally(&levels),
        );
    }
    out.push_str(
        "  cap edge: half the top and the curve, one side; front, back: armhole edge above the underarm; armhole: its depth\n\n",
    );
    for finding in findings
        .iter()
        .chain(sizes.iter().flat_map(|old| &old.findings))
    {
        out.push_str(&finding_line(finding));
    }
    out
}

/// One finding as a paragraph.
pub(crate) fn finding_line(finding: &Diagnostic) -> String {
    let size = finding
        .size
        .as_ref()
        .map(|s| format!(" size {s}:"))
        .unwrap_or_default();
    let advice = finding.advice();
    format!(
        "  {} [{}]{size} {}\n      -> {advice}\n",
        finding.level.word(),
        finding.code.id,
        finding.message
    )
}

fn tally(levels: &[&str]) -> String {
    let words = ["error", "warning", "note"].into_iter().filter_map(|word| {
        let n = levels.iter().filter(|level| **level == word).count();
        match n {
            0 => None,
            1 => Some(format!("1 {word}")),
            _ => Some(format!("{n} {word}s")),
        }
    });
    let words: Vec<String> = words.collect();
    if words.is_empty() {
        "none".to_owned()
    } else {
        words.join(", ")
    }
}
