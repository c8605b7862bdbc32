//! A batch: every size of every case, what needs a look, what failed.

use std::fmt::Write as _;

use super::{Block, Chapter, ColumnKind, Document, TableBlock, TableColumn};
use crate::case::ONE_SIZE;
use crate::diagnostic::Level;
use crate::measure::{Length, Units};
use crate::report::number::{counted, plain, signed_in, signed_pct};
use crate::report::summary::{CaseSummary, Ending, Said, SizeSummary};

/// What was done with every case of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Batch {
    /// Converted.
    Convert,
    /// Checked.
    Check,
}

/// Sentences told of one failure; the others are counted.
const MOST_REASONS: usize = 3;

/// The table of all sizes, then what needs a look, then what failed and why.
pub fn batch_document(batch: Batch, cases: &[CaseSummary]) -> Document {
    let units = InUnits::of(cases);
    let mut parts = Vec::new();
    if cases.iter().any(|case| !case.sizes.is_empty()) {
        parts.push(Chapter {
            id: "sizes".to_owned(),
            ..Chapter::new("Every size", table(batch, units, cases))
        });
    }
    for (title, entries) in [("Need a look", looks(cases)), ("Failed", failures(cases))] {
        if !entries.is_empty() {
            parts.push(Chapter::new(title, vec![Block::Sentences(entries)]));
        }
    }
    let title = match batch {
        Batch::Convert => "Converted cases",
        Batch::Check => "Checked cases",
    };
    Document {
        title: title.to_owned(),
        subtitle: format!("{} ({})", headline(batch, cases), units.words()),
        foot: title.to_owned(),
        parts,
        paged: false,
    }
}

/// `3 cases converted, 12 sizes; 1 size needs a look; 1 case failed.`
fn headline(batch: Batch, cases: &[CaseSummary]) -> String {
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

/// The units of the lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum InUnits {
    /// All cases have the same.
    Same(Units),
    /// Each case has its own, named at every length.
    Own,
}

impl InUnits {
    fn of(cases: &[CaseSummary]) -> Self {
        let known = || {
            cases
                .iter()
                .filter(|case| !case.sizes.is_empty())
                .map(units_of)
        };
        match known().next() {
            None => Self::Same(Units::Cm),
            Some(first) if known().all(|units| units == first) => Self::Same(first),
            Some(_) => Self::Own,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Same(units) => units.word(),
            Self::Own => "cm or in, as each case has it",
        }
    }

    /// What stands behind a length of this case.
    fn sign(self, case: &CaseSummary) -> String {
        match self {
            Self::Same(_) => String::new(),
            Self::Own => format!(" {}", case.units),
        }
    }
}

fn units_of(case: &CaseSummary) -> Units {
    if case.units == Units::In.word() {
        Units::In
    } else {
        Units::Cm
    }
}

/// The columns of the table and what they say.
const fn headings(batch: Batch) -> (&'static [&'static str], &'static str) {
    match batch {
        Batch::Convert => (
            &[
                "case",
                "size",
                "area",
                "depth",
                "ease",
                "upper arm",
                "body",
                "looser by",
                "runs",
                "findings",
            ],
            "area, depth: new against old cap; ease: cap edge longer than the armhole; upper arm: finished; body: the arm it is for; findings: errors, warnings and notes, and the codes of what is no note",
        ),
        Batch::Check => (
            &[
                "case",
                "size",
                "depth",
                "share",
                "ease",
                "upper arm",
                "body",
                "looser by",
                "findings",
            ],
            "depth: the old cap's; share: of the armhole's depth; ease: cap edge longer than the armhole; upper arm: the old one; body: the arm it is for; findings: errors, warnings and notes, and codes",
        ),
    }
}

fn table(batch: Batch, units: InUnits, cases: &[CaseSummary]) -> Vec<Block> {
    let (names, legend) = headings(batch);
    let last = names.len().saturating_sub(1);
    let columns = names.iter().enumerate().map(|(i, name)| {
        let kind = match i {
            0 => ColumnKind::Head,
            1 => ColumnKind::Short,
            _ if i == last => ColumnKind::Words,
            _ => ColumnKind::Number,
        };
        TableColumn::new(*name, kind)
    });
    let rows = cases.iter().flat_map(|case| {
        let sizes = case.sizes.iter();
        sizes.map(|size| cells(batch, units, case, size))
    });
    let links = cases.iter().flat_map(|case| {
        let sizes = case.sizes.iter();
        sizes.map(|_| case.worksheet.clone().unwrap_or_default())
    });
    let caption = format!("Lengths in {}", units.words());
    vec![
        Block::Table(TableBlock {
            links: links.collect(),
            whole: false,
            ..TableBlock::new(caption, columns.collect(), rows.collect()).under_heading()
        }),
        Block::Small(legend.to_owned()),
    ]
}

/// The cells of one size, in the order of the headings.
fn cells(batch: Batch, shown: InUnits, case: &CaseSummary, size: &SizeSummary) -> Vec<String> {
    let (units, sign) = (units_of(case), shown.sign(case));
    let text = |cell: Option<String>| cell.unwrap_or_else(|| "-".to_owned());
    let number = |cm: Option<f64>| text(cm.map(|cm| plain(units, Length::cm(cm)) + &sign));
    let difference = |cm: Option<f64>| text(cm.map(|cm| signed_in(units, Length::cm(cm)) + &sign));
    let pct = |pct: Option<f64>| text(pct.map(signed_pct));
    let mut out = vec![case.case.clone(), size.size.clone()];
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

/// `shelf/one, sizes S, M`; a case of one size is named alone.
fn of_sizes(case: &str, sizes: &[&str]) -> String {
    match sizes {
        [ONE_SIZE] => case.to_owned(),
        [one] => format!("{case}, size {one}"),
        all => format!("{case}, sizes {}", all.join(", ")),
    }
}

/// Every size that is done and needs a look, and why; sizes with the same codes together.
fn looks(cases: &[CaseSummary]) -> Vec<String> {
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
            let sizes = of_sizes(&case.case, sizes);
            format!("{sizes}: {}", codes.join(", "))
        });
        out.extend(lines);
    }
    out
}

/// Every case or size that could not be used, and why.
fn failures(cases: &[CaseSummary]) -> Vec<String> {
    let mut out = Vec::new();
    for case in cases {
        if case.sizes.is_empty() {
            out.push(format!("{}: {}", case.case, reasons(&case.findings)));
        }
        for size in case.sizes.iter().filter(|size| !size.done) {
            let own = reasons(&size.findings);
            // What keeps all sizes back is not said of each.
            let why = if own.is_empty() {
                reasons(&case.findings)
            } else {
                own
            };
            out.push(format!("{}: {why}", of_sizes(&case.case, &[&size.size])));
        }
    }
    out
}

/// The errors' sentences, the first few.
fn reasons(findings: &[Said]) -> String {
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
