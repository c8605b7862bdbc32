//! A batch as comma-separated values (RFC 4180): one line a size, lengths in centimetres.

use super::summary::{CaseSummary, SizeSummary};
use crate::diagnostic::Level;
use crate::wording::{Csv, words};

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
    let mut csv = Csv::default();
    csv.line(HEADINGS);
    for case in cases {
        if case.sizes.is_empty() {
            let unused = SizeSummary {
                findings: case.findings.clone(),
                ..SizeSummary::default()
            };
            csv.line(line(case, &unused));
        }
        for size in &case.sizes {
            csv.line(line(case, size));
        }
    }
    csv.text()
}

fn line(case: &CaseSummary, size: &SizeSummary) -> [String; HEADINGS.len()] {
    fn number<T: ToString>(cell: Option<T>) -> String {
        cell.map(|cell| cell.to_string()).unwrap_or_default()
    }
    [
        words(&case.case),
        words(&case.title),
        words(&size.size),
        if size.done { "done" } else { "failed" }.to_owned(),
        number(size.area_error_pct),
        number(size.depth_error_cm),
        number(size.old_depth_cm),
        number(size.depth_share),
        number(size.ease_pct),
        number(size.upper_arm_cm),
        number(size.arm_cm),
        number(size.turn_pairs),
        number(size.upper_arm_stitches),
        number(size.runs),
        size.count(Level::Error).to_string(),
        size.count(Level::Warning).to_string(),
        size.count(Level::Note).to_string(),
        words(&size.look().join(" ")),
    ]
}
