//! A batch as comma-separated values (RFC 4180): one line a size, lengths in centimetres.

use super::summary::{CaseSummary, SizeSummary};
use crate::diagnostic::Level;

const HEADINGS: [&str; 18] = [
    "case",
    "title",
    "size",
    "outcome",
    "area_error_pct",
    "depth_error_cm",
    "old_depth_cm",
    "depth_share",
    "ease_pct",
    "upper_arm_cm",
    "body_arm_cm",
    "turn_pairs",
    "upper_arm_stitches",
    "runs",
    "errors",
    "warnings",
    "notes",
    "look",
];

/// The whole table; a case that could not be used at all has one line with an empty size.
pub fn summary_csv(cases: &[CaseSummary]) -> String {
    let mut out = format!("{}\r\n", HEADINGS.join(","));
    for case in cases {
        if case.sizes.is_empty() {
            let unused = SizeSummary {
                findings: case.findings.clone(),
                ..SizeSummary::default()
            };
            out.push_str(&line(case, &unused));
        }
        for size in &case.sizes {
            out.push_str(&line(case, size));
        }
    }
    out
}

fn line(case: &CaseSummary, size: &SizeSummary) -> String {
    fn text<T: ToString>(cell: Option<T>) -> String {
        cell.map(|cell| cell.to_string()).unwrap_or_default()
    }
    let cells: [String; HEADINGS.len()] = [
        quoted(&case.case),
        quoted(&case.title),
        quoted(&size.size),
        if size.done { "done" } else { "failed" }.to_owned(),
        text(size.area_error_pct),
        text(size.depth_error_cm),
        text(size.old_depth_cm),
        text(size.depth_share),
        text(size.ease_pct),
        text(size.upper_arm_cm),
        text(size.arm_cm),
        text(size.turn_pairs),
        text(size.upper_arm_stitches),
        text(size.runs),
        size.count(Level::Error).to_string(),
        size.count(Level::Warning).to_string(),
        size.count(Level::Note).to_string(),
        quoted(&size.look().join(" ")),
    ];
    format!("{}\r\n", cells.join(","))
}

/// A cell in quotes where it needs them. A cell that a spreadsheet would take for a formula gets
/// an apostrophe in front.
pub(super) fn quoted(cell: &str) -> String {
    let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let cell = if formula {
        format!("'{cell}")
    } else {
        cell.to_owned()
    };
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, rules 5 to 7, with its own examples.
    #[test]
    fn cells_are_quoted_as_the_standard_says() {
        assert_eq!(quoted("aaa"), "aaa");
        assert_eq!(quoted("b CRLF\r\nbb"), "\"b CRLF\r\nbb\"");
        assert_eq!(quoted("b\"bb"), "\"b\"\"bb\"");
        assert_eq!(quoted("S, M"), "\"S, M\"");
        assert_eq!(quoted("=1+1"), "'=1+1");
    }
}
