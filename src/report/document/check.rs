//! The old garment: a table to scan, where its ease sits, what was adapted, then every finding once.

use super::adapt::{adapted, adapted_set};
use super::findings::of_group;
use super::{Block, Chapter, ColumnKind, Document, Reader, TableBlock, TableColumn, ease};
use crate::body::share_in_short;
use crate::case::Case;
use crate::convert::Old;
use crate::diagnostic::{Diagnostic, Group, Level, groups};
use crate::measure::{Length, Units};
use crate::report::number::{counted, plain, signed_in};

/// What `check` says.
pub fn check_document(
    case: &Case,
    sizes: &[Old],
    findings: &[Diagnostic],
    reader: Reader,
) -> Document {
    let mut garment = table(case, sizes, findings);
    garment.extend(ease::of_sizes(case.units, sizes));
    garment.extend(match sizes {
        [one] => adapted(case.units, one),
        several => adapted_set(case, several),
    });
    let levels: Vec<Level> = findings
        .iter()
        .chain(sizes.iter().flat_map(|old| &old.findings))
        .map(|finding| finding.level)
        .collect();
    let told = all_groups(sizes, findings).into_iter().map(|group| {
        let mut told = of_group(&group, case.sizes.len(), reader);
        told.message += &place(group.first, case);
        told
    });
    let found = vec![Block::Findings(told.collect())];
    Document {
        title: format!("{} - check ({})", case.title, case.units),
        subtitle: "The old cap and its armhole, before anything is changed".to_owned(),
        foot: case.title.clone(),
        parts: vec![
            Chapter::new("The old garment", garment),
            Chapter {
                id: "findings".to_owned(),
                ..Chapter::new(format!("Findings: {}", tally(&levels)), found)
            },
        ],
        paged: false,
    }
}

/// All findings, alike ones together.
pub(crate) fn all_groups<'a>(sizes: &'a [Old], findings: &'a [Diagnostic]) -> Vec<Group<'a>> {
    let of_sizes = sizes.iter().flat_map(|old| &old.findings);
    groups(findings.iter().chain(of_sizes))
}

const HEADINGS: [&str; 13] = [
    "size",
    "rows",
    "depth",
    "armhole",
    "share",
    "upper arm",
    "arms",
    "top",
    "cap edge",
    "front",
    "back",
    "ease",
    "findings",
];

const LEGEND: [&str; 4] = [
    "depth: the cap's; armhole: its depth; share: depth of the cap in per cent of the armhole's",
    "arms: of 100 people of the size in the survey (soldiers, for adults), about how many arms the old upper arm goes round as it is",
    "cap edge: half the top and the curve, one side; front, back: armhole edge above the underarm",
    "ease: cap edge less front (and back) edge",
];

/// The last line where a saddle lies between front and back.
const SADDLE_LEGEND: &str = "ease: cap edge less front (and back) edge and half the saddle; the armhole's depth goes to the middle of the saddle";

/// One line a size; sizes whose lines hold an error say so.
fn table(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Vec<Block> {
    let rows = case.sizes.iter().filter_map(|label| {
        let failed = |f: &&Diagnostic| f.level == Level::Error && f.size.as_ref() == Some(label);
        if let Some(old) = sizes.iter().find(|old| old.size == *label) {
            return Some(cells(case.units, old));
        }
        let finding = findings.iter().find(failed)?;
        Some(vec![format!("{label}: no outline: {}", finding.code.id)])
    });
    let rows: Vec<Vec<String>> = rows.collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let mut columns = TableColumn::all(&HEADINGS, ColumnKind::Number);
    if let Some(last) = columns.last_mut() {
        last.kind = ColumnKind::Short;
    }
    let caption = format!("Old cap and armhole ({})", case.units);
    let mut blocks = vec![Block::Table(TableBlock::new(caption, columns, rows))];
    if !sizes.is_empty() {
        let [lines @ .., last] = LEGEND;
        let saddle = sizes.iter().any(|old| old.saddle > Length::ZERO);
        let last = if saddle { SADDLE_LEGEND } else { last };
        let all = lines.into_iter().chain([last]);
        blocks.extend(all.map(|line| Block::Small(line.to_owned())));
    }
    blocks
}

fn cells(units: Units, old: &Old) -> Vec<String> {
    let (front, back) = old.ease();
    let ease = if old.is_alike() {
        signed_in(units, front)
    } else {
        format!("{} {}", signed_in(units, front), signed_in(units, back))
    };
    let levels: Vec<Level> = old.findings.iter().map(|finding| finding.level).collect();
    vec![
        old.size.clone(),
        old.cap.rows().count().to_string(),
        plain(units, old.cap.depth()),
        plain(units, old.armhole_depth()),
        format!("{:.0} %", 100.0 * old.depth_share()),
        plain(units, old.cap.upper_arm()),
        old.share
            .map_or_else(|| "-".to_owned(), |s| share_in_short(s.as_it_is).to_owned()),
        plain(units, old.cap.top()),
        plain(units, old.cap.edge_above_underarm()),
        plain(units, old.front.edge()),
        plain(units, old.back.edge()),
        ease,
        tally(&levels),
    ]
}

/// Which words of which lines a finding is about.
fn place(finding: &Diagnostic, case: &Case) -> String {
    let Some(lines) = finding.lines else {
        return String::new();
    };
    let text = case.lines(lines).zip(finding.span);
    let words = text.and_then(|(text, span)| text.get(span.from..span.to));
    match words.map(str::trim) {
        Some(words) if !words.is_empty() => format!(" ({lines}, '{words}')"),
        _ => format!(" ({lines})"),
    }
}

/// `1 error, 2 notes`, or `none`.
fn tally(levels: &[Level]) -> String {
    let counts = [Level::Error, Level::Warning, Level::Note].map(|level| {
        let n = levels.iter().filter(|found| **found == level).count();
        (n > 0).then(|| counted(n, level.word()))
    });
    let words: Vec<String> = counts.into_iter().flatten().collect();
    if words.is_empty() {
        "none".to_owned()
    } else {
        words.join(", ")
    }
}
