//! Findings for a person and as JSON: what `check` prints.

use std::fmt::Write as _;

use serde_json::{Value, json};

use super::adapt::{adapt_json, adapt_set, adapt_text, printed_json};
use super::groups::{Group, groups};
use super::json::{adapted_cap, armhole, cm, finding_json, old_cap, round};
use super::pattern_text::wrapped;
use super::text::signed_in;
use crate::body::share_in_short;
use crate::case::Case;
use crate::convert::Old;
use crate::diagnostic::{Diagnostic, Level};
use crate::measure::{Length, Units};
use crate::outline::{CapCurve, EaseBand};

/// The old garment and its findings as one JSON object.
pub fn check_json(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Value {
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": sizes.iter().map(size_json).collect::<Vec<_>>(),
        "findings": findings.iter().map(finding_json).collect::<Vec<_>>(),
        "groups": all_groups(sizes, findings).iter().map(group_json).collect::<Vec<_>>(),
    })
}

fn size_json(old: &Old) -> Value {
    let (front, back) = old.ease();
    json!({
        "size": old.size,
        "old_cap": old_cap(old),
        "adapted_cap": adapted_cap(old),
        "printed_cap": printed_json(old),
        "adapt": adapt_json(old),
        "curve": curve_json(old),
        "armhole": armhole(&old.front, &old.back),
        "depth_share": round(old.depth_share(), 4),
        "ease": { "front_cm": cm(front), "back_cm": cm(back) },
        "ease_strip": strip_json(&old.front_ease, &old.back_ease),
        "arm": old.arm.as_ref().map(|arm| json!(arm.view())),
        "arm_share": old.share.map(|share| json!({
            "people": old.arm.as_ref().map(|arm| arm.people.as_str()),
            "as_it_is": coarse(share.as_it_is),
            "at_armpit": share.at_armpit.map(coarse),
            "stretched": coarse(share.stretched),
            "at_chosen_ease": share.at_ease.map(coarse),
        })),
        "findings": old.findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

/// A share to the nearest twentieth: a survey's few hundred people of one size know it no finer.
fn coarse(share: f64) -> Value {
    round((share * 20.0).round() / 20.0, 2)
}

/// Ease along both edges, from the underarm up.
pub(crate) fn strip_json(front: &[EaseBand], back: &[EaseBand]) -> Value {
    json!({
        "front": front.iter().map(band_json).collect::<Vec<_>>(),
        "back": back.iter().map(band_json).collect::<Vec<_>>(),
    })
}

fn curve_json(old: &Old) -> Value {
    let deviations =
        old.cap.row_deviations().into_iter().map(
            |deviation| json!({ "row": deviation.row, "stitches": round(deviation.stitches, 2) }),
        );
    json!({
        "inflection_cm": CapCurve::of(&old.cap).map(|curve| cm(curve.inflection())),
        "deviations": deviations.collect::<Vec<_>>(),
    })
}

fn band_json(band: &EaseBand) -> Value {
    json!({
        "from_cm": cm(band.from),
        "to_cm": cm(band.to),
        "cap_cm": cm(band.cap),
        "armhole_cm": cm(band.armhole),
        "ease_cm": cm(band.ease()),
        "ease_pct": round(band.pct(), 1),
    })
}

fn group_json(group: &Group<'_>) -> Value {
    json!({
        "code": group.first.code.id,
        "level": group.first.level.word(),
        "sizes": group.sizes,
        "message": group.first.message,
        "next": group.first.advice(),
    })
}

/// The old garment as a table to scan, where its ease sits, then every finding once.
pub fn check_text(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> String {
    let mut out = format!("{} - check ({})\n\n", case.title, case.units);
    out.push_str(&table(case, sizes, findings));
    out.push_str(&strips(case.units, sizes));
    match sizes {
        [one] => out.push_str(&adapt_text(case.units, one)),
        several => out.push_str(&adapt_set(case, several)),
    }
    let groups = all_groups(sizes, findings);
    if groups.is_empty() {
        out.push_str("Nothing was found.\n");
        return out;
    }
    let levels: Vec<Level> = findings
        .iter()
        .chain(sizes.iter().flat_map(|old| &old.findings))
        .map(|finding| finding.level)
        .collect();
    let _ = writeln!(out, "FINDINGS: {}", tally(&levels));
    for group in &groups {
        out.push_str(&group_text(group, case));
    }
    out
}

fn all_groups<'a>(sizes: &'a [Old], findings: &'a [Diagnostic]) -> Vec<Group<'a>> {
    groups(
        findings
            .iter()
            .chain(sizes.iter().flat_map(|old| &old.findings)),
    )
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

/// One line a size; sizes whose lines hold an error say so.
fn table(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> String {
    let mut out = String::new();
    if !sizes.is_empty() {
        out.push_str(&line(&HEADINGS.map(str::to_owned)));
    }
    for label in &case.sizes {
        let failed = |f: &&Diagnostic| f.level == Level::Error && f.size.as_ref() == Some(label);
        if let Some(old) = sizes.iter().find(|old| old.size == *label) {
            out.push_str(&line(&cells(case.units, old)));
        } else if let Some(finding) = findings.iter().find(failed) {
            let _ = writeln!(out, "  {label:<9} no outline: {}", finding.code.id);
        }
    }
    if !sizes.is_empty() {
        out.push_str(LEGEND);
    }
    out
}

const LEGEND: &str = "
  depth: the cap's; armhole: its depth; share: depth of the cap in per cent of the armhole's
  arms: of 100 people of the size in the survey (soldiers, for adults), about how many arms the old
    upper arm goes round as it is
  cap edge: half the top and the curve, one side; front, back: armhole edge above the underarm
  ease: cap edge less front (and back) edge

";

fn cells(units: Units, old: &Old) -> [String; 13] {
    let number = |length: Length| format!("{:.1}", units.number(length) + 0.0);
    let (front, back) = old.ease();
    let ease = if old.is_alike() {
        signed_in(units, front)
    } else {
        format!("{} {}", signed_in(units, front), signed_in(units, back))
    };
    let levels: Vec<Level> = old.findings.iter().map(|finding| finding.level).collect();
    [
        old.size.clone(),
        old.cap.rows().count().to_string(),
        number(old.cap.depth()),
        number(old.armhole_depth()),
        format!("{:.0} %", 100.0 * old.depth_share()),
        number(old.cap.upper_arm()),
        old.share
            .map_or_else(|| "-".to_owned(), |s| share_in_short(s.as_it_is).to_owned()),
        number(old.cap.top()),
        number(old.cap.edge_above_underarm()),
        number(old.front.edge()),
        number(old.back.edge()),
        ease,
        tally(&levels),
    ]
}

fn line(cells: &[String; 13]) -> String {
    let [
        size,
        rows,
        depth,
        armhole,
        share,
        arm,
        arms,
        top,
        edge,
        front,
        back,
        ease,
        findings,
    ] = cells;
    format!(
        "  {size:<9} {rows:>4} {depth:>6} {armhole:>7} {share:>5} {arm:>9} {arms:>4} {top:>5} {edge:>8} {front:>6} {back:>6} {ease:>10}  {findings}\n"
    )
}

/// Where along the edge the cap is longer or shorter, one line a side.
fn strips(units: Units, sizes: &[Old]) -> String {
    if sizes.is_empty() {
        return String::new();
    }
    let mut out = format!(
        "EASE ALONG THE EDGE ({units}): cap less armhole at the same heights; the last one up to the shoulder\n  {:<9} {:<6} underarm {:>36} shoulder\n",
        "size", "side", ""
    );
    for old in sizes {
        let sides = [("front", &old.front_ease), ("back", &old.back_ease)];
        for (side, strip) in sides.iter().take(if old.is_alike() { 1 } else { 2 }) {
            let side = if old.is_alike() { "both" } else { side };
            let _ = writeln!(out, "  {:<9} {side:<6} {}", old.size, bands(units, strip));
        }
    }
    out.push('\n');
    out
}

/// The ease of every band, from the underarm up.
pub(crate) fn bands(units: Units, strip: &[EaseBand]) -> String {
    let bands = strip
        .iter()
        .map(|band| format!("{:>6}", band_ease(units, band)));
    bands.collect::<Vec<String>>().join(" ")
}

/// The ease of one band: `+0.16`.
pub(crate) fn band_ease(units: Units, band: &EaseBand) -> String {
    let fine = (units.number(band.ease()) * 100.0).round() / 100.0 + 0.0;
    format!("{fine:+.2}")
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

/// One finding for all sizes that have it.
fn group_text(group: &Group<'_>, case: &Case) -> String {
    let finding = group.first;
    let sizes = case.sizes.len();
    let named = match group.sizes.as_slice() {
        [] | [_] if sizes <= 1 => String::new(),
        [] => String::new(),
        all if all.len() == sizes => format!(" all {sizes} sizes"),
        [one] => format!(" size {one}"),
        some => format!(" sizes {}", some.join(", ")),
    };
    let figures = match group.sizes.as_slice() {
        [first, _, ..] if group.differs => format!(" (figures of size {first})"),
        _ => String::new(),
    };
    let mut out = format!("  {} [{}]{named}\n", finding.level.word(), finding.code.id);
    for line in wrapped(
        &format!("{}{figures}{}", finding.message, place(finding, case)),
        WIDTH,
    ) {
        let _ = writeln!(out, "      {line}");
    }
    for (i, line) in wrapped(finding.advice(), WIDTH - 3).iter().enumerate() {
        let _ = writeln!(out, "      {}{line}", if i == 0 { "-> " } else { "   " });
    }
    out
}

const WIDTH: usize = 94;

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

fn tally(levels: &[Level]) -> String {
    let counted = [Level::Error, Level::Warning, Level::Note].map(|level| {
        let n = levels.iter().filter(|found| **found == level).count();
        match n {
            0 => None,
            1 => Some(format!("1 {}", level.word())),
            _ => Some(format!("{n} {}s", level.word())),
        }
    });
    let words: Vec<String> = counted.into_iter().flatten().collect();
    if words.is_empty() {
        "none".to_owned()
    } else {
        words.join(", ")
    }
}
