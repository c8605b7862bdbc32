//! A batch as one table for people: every size of every case, what needs a look, what failed.

use std::fmt::Write as _;

use super::pattern_text::wrapped;
use super::summary::{CaseSummary, Ending, SizeSummary};
use super::text::{signed, signed_pct};
use crate::diagnostic::Level;
use crate::measure::{Length, Units};

/// What was done with every case of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Batch {
    /// Converted.
    Convert,
    /// Checked.
    Check,
}

/// Width of the lists under the table in characters.
const WIDTH: usize = 96;

/// Sentences told of one failure; the others are counted.
const MOST_REASONS: usize = 3;

/// The table of all sizes, then what needs a look, then what failed and why.
pub fn summary_text(batch: Batch, cases: &[CaseSummary]) -> String {
    let units = units_of(cases);
    let mut out = format!("{} ({units})\n\n", headline(batch, cases));
    let table = table(batch, units, cases);
    if !table.is_empty() {
        out.push_str(&table);
        out.push_str(legend(batch));
    }
    out.push_str(&listed("NEED A LOOK", &looks(cases)));
    out.push_str(&listed("FAILED", &failures(cases)));
    out
}

/// `3 cases converted, 12 sizes; 1 size needs a look; 1 case failed.`
pub(super) fn headline(batch: Batch, cases: &[CaseSummary]) -> String {
    let done = cases.iter().flat_map(|case| &case.sizes).filter(|s| s.done);
    let (done, look): (Vec<&SizeSummary>, Vec<bool>) =
        done.map(|size| (size, !size.look().is_empty())).unzip();
    let used = cases
        .iter()
        .filter(|case| case.sizes.iter().any(|s| s.done));
    let look = look.into_iter().filter(|look| *look).count();
    let failed = cases
        .iter()
        .filter(|c| c.ending() == Ending::Failed)
        .count();
    let word = match batch {
        Batch::Convert => "converted",
        Batch::Check => "checked",
    };
    let mut out = format!(
        "{} {word}, {}",
        counted(used.count(), "case"),
        counted(done.len(), "size")
    );
    let verb = if look == 1 { "needs" } else { "need" };
    let _ = write!(out, "; {} {verb} a look", counted(look, "size"));
    let _ = write!(
        out,
        "; {} failed in whole or in part",
        counted(failed, "case")
    );
    out
}

pub(super) fn counted(n: usize, word: &str) -> String {
    let plural = if n == 1 { "" } else { "s" };
    format!("{n} {word}{plural}")
}

/// Inches when every case is in inches, else centimetres.
pub(super) fn units_of(cases: &[CaseSummary]) -> Units {
    let known = || cases.iter().filter(|case| !case.sizes.is_empty());
    if known().next().is_some() && known().all(|case| case.units == Units::In.word()) {
        Units::In
    } else {
        Units::Cm
    }
}

/// Headings of the table, and whether a column is set to the left.
pub(super) fn headings(batch: Batch) -> &'static [(&'static str, bool)] {
    match batch {
        Batch::Convert => &[
            ("case", true),
            ("size", true),
            ("area", false),
            ("depth", false),
            ("ease", false),
            ("upper arm", false),
            ("body", false),
            ("looser by", false),
            ("runs", false),
            ("findings", true),
        ],
        Batch::Check => &[
            ("case", true),
            ("size", true),
            ("depth", false),
            ("share", false),
            ("ease", false),
            ("upper arm", false),
            ("body", false),
            ("looser by", false),
            ("findings", true),
        ],
    }
}

/// What the columns say.
pub(super) fn legend(batch: Batch) -> &'static str {
    match batch {
        Batch::Convert => {
            "\n  area, depth: new against old cap; ease: cap edge longer than the armhole; upper arm: finished;
  body: the arm it is for; findings: errors, warnings and notes, and the codes of what is no note\n\n"
        }
        Batch::Check => {
            "\n  depth: the old cap's; share: of the armhole's depth; ease: cap edge longer than the armhole;
  upper arm: the old one; body: the arm it is for; findings: errors, warnings and notes, and codes\n\n"
        }
    }
}

/// The cells of one size, in the order of the headings.
pub(super) fn cells(batch: Batch, units: Units, case: &str, size: &SizeSummary) -> Vec<String> {
    let text = |cell: Option<String>| cell.unwrap_or_else(|| "-".to_owned());
    let number = |cm: Option<f64>| {
        let tenths = |cm: f64| format!("{:.1}", units.number(Length::cm(cm)) + 0.0);
        text(cm.map(tenths))
    };
    let difference = |cm: Option<f64>| text(cm.map(|cm| signed(units.number(Length::cm(cm)))));
    let pct = |pct: Option<f64>| text(pct.map(signed_pct));
    let mut out = vec![case.to_owned(), size.size.clone()];
    match batch {
        Batch::Convert => {
            out.push(pct(size.area_error_pct));
            out.push(difference(size.depth_error_cm));
        }
        Batch::Check => {
            out.push(number(size.old_depth_cm));
            out.push(text(
                size.depth_share.map(|s| format!("{:.0} %", 100.0 * s)),
            ));
        }
    }
    out.push(pct(size.ease_pct));
    out.push(number(size.upper_arm_cm));
    out.push(number(size.arm_cm));
    out.push(difference(size.arm_ease_cm()));
    if batch == Batch::Convert {
        out.push(text(size.runs.map(|runs| runs.to_string())));
    }
    out.push(findings(size));
    out
}

/// `1 error, 2 notes: ease-uneven`, or `none`.
fn findings(size: &SizeSummary) -> String {
    let levels = [Level::Error, Level::Warning, Level::Note];
    let counts = levels.into_iter().filter_map(|level| {
        let n = size.count(level);
        (n > 0).then(|| counted(n, level.word()))
    });
    let counts: Vec<String> = counts.collect();
    let look = size.look();
    let failed = if size.done { "" } else { "failed, " };
    match (counts.is_empty(), look.is_empty()) {
        (true, _) => format!("{failed}none"),
        (false, true) => format!("{failed}{}", counts.join(", ")),
        (false, false) => format!("{failed}{}: {}", counts.join(", "), look.join(", ")),
    }
}

fn table(batch: Batch, units: Units, cases: &[CaseSummary]) -> String {
    let headings = headings(batch);
    let mut rows: Vec<Vec<String>> = vec![headings.iter().map(|(h, _)| (*h).to_owned()).collect()];
    for case in cases {
        let sizes = case.sizes.iter();
        rows.extend(sizes.map(|size| cells(batch, units, &case.case, size)));
    }
    if rows.len() == 1 {
        return String::new();
    }
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..headings.len()).map(width).collect();
    let mut out = String::new();
    for row in &rows {
        let mut line = String::new();
        for ((cell, (_, left)), width) in row.iter().zip(headings).zip(&widths) {
            let _ = if *left {
                write!(line, "  {cell:<width$}")
            } else {
                write!(line, "  {cell:>width$}")
            };
        }
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out
}

/// `(where, why)` of every size that is done and needs a look; sizes with the same codes together.
pub(super) fn looks(cases: &[CaseSummary]) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for case in cases {
        let mut groups: Vec<(Vec<&str>, Vec<&str>)> = Vec::new();
        for size in case.sizes.iter().filter(|size| size.done) {
            let codes = size.look();
            if codes.is_empty() {
                continue;
            }
            match groups.iter_mut().find(|(known, _)| *known == codes) {
                Some((_, sizes)) => sizes.push(&size.size),
                None => groups.push((codes, vec![&size.size])),
            }
        }
        let lines = groups.iter().map(|(codes, sizes)| {
            let place = format!("{}, size {}", case.case, sizes.join(", "));
            (place, codes.join(", "))
        });
        out.extend(lines);
    }
    out
}

/// `(where, why)` of every case or size that could not be used.
pub(super) fn failures(cases: &[CaseSummary]) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for case in cases {
        if case.sizes.is_empty() {
            out.push((case.case.clone(), reasons(&case.findings)));
        }
        for size in case.sizes.iter().filter(|size| !size.done) {
            let place = format!("{}, size {}", case.case, size.size);
            let own = reasons(&size.findings);
            // What keeps all sizes back is not said of each.
            let why = if own.is_empty() {
                reasons(&case.findings)
            } else {
                own
            };
            out.push((place, why));
        }
    }
    out
}

/// The errors' sentences, the first few.
fn reasons(findings: &[super::Said]) -> String {
    let errors = findings
        .iter()
        .filter(|said| said.level == Level::Error.word());
    let sentences: Vec<String> = errors
        .map(|said| format!("{} [{}]", said.message, said.code))
        .collect();
    let mut out: Vec<String> = sentences.iter().take(MOST_REASONS).cloned().collect();
    if sentences.len() > MOST_REASONS {
        out.push(format!("({} more)", sentences.len() - MOST_REASONS));
    }
    out.join("; ")
}

/// A heading with one entry a place; nothing when there are none.
fn listed(heading: &str, entries: &[(String, String)]) -> String {
    if entries.is_empty() {
        return String::new();
    }
    let mut out = format!("{heading}\n");
    for (place, why) in entries {
        for (i, line) in wrapped(&format!("{place}: {why}"), WIDTH - 6)
            .iter()
            .enumerate()
        {
            let _ = writeln!(out, "{}{line}", if i == 0 { "  " } else { "      " });
        }
    }
    out.push('\n');
    out
}
