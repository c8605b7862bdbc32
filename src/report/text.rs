//! The written pattern as plain text, with the numbers table before it and the cautions after it.

use std::fmt::Write as _;

use super::adapt::{adapt_text, flat_lines, printed_cells};
use super::checks::{bands, finding_line};
use super::pattern_text::{instructions, sleeve_name, sleeve_text};
use crate::adapt::Status;
use crate::case::Case;
use crate::convert::{Conversion, Old, SizeConversion};
use crate::diagnostic::{Diagnostic, Level};
use crate::fit::{CapPlan, Measures};
use crate::measure::{Gauge, Units};
use crate::outline::Cap;
use crate::pattern::Ledger;
use crate::wording::write_set;

/// A whole conversion: a table of all sizes where there are several, then each size's pattern.
pub fn conversion_text(case: &Case, conversion: &Conversion) -> String {
    let mut out = String::new();
    if conversion.sizes.len() > 1 {
        out.push_str(&overview(case, conversion));
    }
    for size in &conversion.sizes {
        out.push_str(&size_text(case, size));
    }
    if !conversion.findings.is_empty() {
        out.push_str("ABOUT THE CASE\n");
        out.push_str(&about_the_case(&conversion.findings));
    }
    out
}

/// All sizes in one text, numbers in brackets: for pasting into a pattern.
///
/// One text for each sleeve that needs its own; sizes built otherwise get sentences of their own.
pub fn together_text(case: &Case, conversion: &Conversion) -> String {
    let mut out = overview(case, conversion);
    let most = conversion.sizes.iter().map(|size| size.written.len()).max();
    for i in 0..most.unwrap_or(0) {
        let of_sleeve: Vec<_> = conversion
            .sizes
            .iter()
            .filter_map(|size| {
                let written = size.written.get(i).or(size.written.first())?;
                Some((size.old.size.clone(), written.instructions.clone()))
            })
            .collect();
        let name = conversion.sizes.iter().find_map(|size| size.written.get(i));
        if let Some(name) = name.and_then(|written| sleeve_name(written.sleeve)) {
            let _ = writeln!(out, "{name}\n");
        }
        out.push_str(&instructions(&write_set(&of_sleeve)));
    }
    out
}

/// The flat caps alone, as a pattern's lines for all sizes: for those who stay with sewing.
pub fn flat_lines_text(case: &Case, conversion: &Conversion) -> String {
    let sizes = conversion.sizes.iter().map(|size| size.old.clone());
    flat_lines(case, &sizes.collect::<Vec<_>>())
}

/// The cap's rows to tick off, of every size and sleeve.
pub fn checklist_text(conversion: &Conversion) -> String {
    let mut out = String::new();
    for size in &conversion.sizes {
        for written in &size.written {
            let name = sleeve_name(written.sleeve).unwrap_or("CHECKLIST");
            let _ = writeln!(
                out,
                "{} - {name}\n{}",
                size.old.size,
                written.checklist.to_text()
            );
        }
    }
    out
}

/// The same as comma-separated values, with the size and the sleeve in front.
pub fn checklist_csv(conversion: &Conversion) -> String {
    let mut out = String::new();
    for size in &conversion.sizes {
        for written in &size.written {
            let csv = written.checklist.to_csv();
            let mut lines = csv.split_inclusive('\n');
            let heading = lines.next().unwrap_or_default();
            if out.is_empty() {
                let _ = write!(out, "size,sleeve,{heading}");
            }
            for line in lines {
                let _ = write!(
                    out,
                    "\"{}\",{},{line}",
                    size.old.size,
                    written.sleeve.word()
                );
            }
        }
    }
    out
}

/// Warnings and errors in full; of notes of one kind the first, and how many more there are.
fn about_the_case(findings: &[Diagnostic]) -> String {
    let mut out = String::new();
    for (i, finding) in findings.iter().enumerate() {
        let same = |other: &&Diagnostic| {
            other.code == finding.code && other.level == Level::Note && finding.level == Level::Note
        };
        if findings.iter().take(i).any(|other| same(&other)) {
            continue;
        }
        out.push_str(&finding_line(finding));
        let more = findings.iter().skip(i + 1).filter(same).count();
        if more > 0 {
            let _ = writeln!(
                out,
                "      ({more} more of this kind; `capwright check` shows each)"
            );
        }
    }
    out
}

fn title(text: &str) -> String {
    format!("{text}\n{}\n\n", "=".repeat(text.chars().count()))
}

/// One line a size.
fn overview(case: &Case, conversion: &Conversion) -> String {
    let units = case.units;
    let mut out = title(&format!("{} - all sizes ({units})", case.title));
    let _ = writeln!(
        out,
        "  {:<10} {:>5} {:>5} {:>5} {:>5} {:>5} {:>5} {:>6} {:>9} {:>7} {:>7} {:>6}  recipe's area",
        "size",
        "crown",
        "front",
        "back",
        "base",
        "pairs",
        "sts",
        "runs",
        "upper arm",
        "area",
        "depth",
        "ease"
    );
    for size in &conversion.sizes {
        let (plan, m) = (&size.fit.plan, &size.fit.measures);
        let _ = writeln!(
            out,
            "  {:<10} {:>5} {:>5} {:>5} {:>5} {:>5} {:>5} {:>6} {:>9} {:>7} {:>7} {:>6}  {}",
            size.old.size,
            plan.crown.stitches.count(),
            plan.front.picked_up().count(),
            plan.back.picked_up().count(),
            plan.base().count(),
            plan.turn_pairs(),
            plan.upper_arm().count(),
            plan.runs(),
            units.show(m.upper_arm),
            signed_pct(m.area_error_pct),
            signed(units.number(m.depth_error)),
            signed_pct(m.ease_pct()),
            signed_pct(size.recipe.1.area_error_pct),
        );
    }
    out.push_str(
        "  front, back: stitches picked up; sts: stitches at the upper arm; area, depth: new against old cap\n\n\n",
    );
    out
}

fn size_text(case: &Case, size: &SizeConversion) -> String {
    let mut out = title(&format!(
        "{} - {} ({})",
        case.title, size.old.size, case.units
    ));
    out.push_str(&gauge_lines(case, size));
    out.push_str(&numbers(case.units, size));
    out.push_str(&adapt_text(case.units, &size.old));
    for written in &size.written {
        out.push_str(&sleeve_text(written));
    }
    out.push_str(&finished(case, size));
    out.push_str(&cautions(size));
    out
}

fn gauge_lines(case: &Case, size: &SizeConversion) -> String {
    let over = case.units.swatch_length();
    let show = |gauge: Gauge| {
        let number = |per_10cm: f64| format!("{:.1}", per_10cm * over.to_cm() / 10.0);
        format!(
            "{} sts and {} rows",
            number(gauge.stitches_per_10cm()),
            number(gauge.rows_per_10cm())
        )
    };
    let gauge = &size.gauge;
    let mut out = format!("Gauge over {}\n", case.units.show(over));
    let pattern = if case.sleeve.has_old_cap() {
        "old pattern"
    } else {
        "pattern    "
    };
    let _ = writeln!(out, "  {pattern}  {}", show(gauge.pattern));
    let _ = writeln!(out, "  new cap      {}, back and forth", show(gauge.cap));
    let assumed = if gauge.tube_assumed {
        " (assumed: no swatch in the round)"
    } else {
        ""
    };
    let _ = writeln!(
        out,
        "  tube         {}, in rounds{assumed}",
        show(gauge.tube)
    );
    let (stitches, rows) = gauge.drift_pct();
    let _ = writeln!(
        out,
        "  drift        {} in stitches, {} in rows from cap to tube\n",
        signed_pct(stitches),
        signed_pct(rows)
    );
    out
}

/// Old cap, new cap and recipe side by side.
fn numbers(units: Units, size: &SizeConversion) -> String {
    let old = &size.old.cap;
    let (recipe, rm, _) = &size.recipe;
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    let mut table = vec![
        [
            String::new(),
            flat_name(&size.old).to_owned(),
            "new cap".to_owned(),
            "common recipe".to_owned(),
        ],
        [
            "rows".to_owned(),
            old.rows().count().to_string(),
            pairs(plan),
            pairs(recipe),
        ],
        [
            "depth".to_owned(),
            units.show(old.depth()),
            depth(units, m),
            depth(units, rm),
        ],
        [
            "area".to_owned(),
            units.show_area(old.area_cm2()),
            area(units, m),
            area(units, rm),
        ],
    ];
    table.extend([
        [
            "upper arm".to_owned(),
            units.show(old.upper_arm()),
            arm(units, plan, m),
            arm(units, recipe, rm),
        ],
        [
            "top".to_owned(),
            units.show(old.top()),
            format!("crown of {}", plan.crown.stitches.count()),
            format!("crown of {}", recipe.crown.stitches.count()),
        ],
        [
            format!("off the {} width", word_of_flat(&size.old)),
            String::new(),
            format!("{} rms", units.show_fine(m.width_rms)),
            format!("{} rms", units.show_fine(rm.width_rms)),
        ],
        [
            "edge on armhole".to_owned(),
            String::new(),
            ease(m),
            ease(rm),
        ],
        [
            "decreases".to_owned(),
            String::new(),
            drops(plan),
            drops(recipe),
        ],
        [
            "to remember".to_owned(),
            String::new(),
            format!("{} runs", plan.runs()),
            format!("{} runs", recipe.runs()),
        ],
    ]);
    let mut table: Vec<Vec<String>> = table.into_iter().map(Vec::from).collect();
    if let Some((_, printed)) = replaced(&size.old) {
        let cells = std::iter::once("old cap".to_owned()).chain(printed_cells(units, printed));
        for (row, cell) in table
            .iter_mut()
            .zip(cells.chain(std::iter::repeat(String::new())))
        {
            row.insert(1, cell);
        }
    }
    laid_out(&table) + "\n" + &ease_strips(units, size)
}

/// The cap of the lines, where another took its place.
fn replaced(old: &Old) -> Option<&(Ledger, Cap)> {
    let adapted = old
        .adapted
        .as_ref()
        .filter(|adapted| adapted.is_changed())?;
    adapted.printed.as_ref()
}

/// What the flat cap is called that the new one keeps.
fn flat_name(old: &Old) -> &'static str {
    match old.adapted.as_ref().map(|adapted| adapted.outline.status) {
        Some(Status::Adapted) => "adapted cap",
        Some(Status::Drafted) => "drafted cap",
        Some(Status::Unchanged) | None => "old cap",
    }
}

fn word_of_flat(old: &Old) -> &'static str {
    if flat_name(old) == "old cap" {
        "old"
    } else {
        "flat"
    }
}

/// Where along the edge the old and the new cap are fuller (+) or tighter (-) than the armhole.
fn ease_strips(units: Units, size: &SizeConversion) -> String {
    let mut out =
        format!("Ease along the edge ({units}), underarm to shoulder, at the same heights\n");
    let alike = size.old.is_alike() && size.front_ease == size.back_ease;
    let flat = word_of_flat(&size.old);
    let (front, back) = (format!("{flat} front"), format!("{flat} back"));
    let strips = [
        (front.as_str(), &size.old.front_ease),
        ("new front", &size.front_ease),
        (back.as_str(), &size.old.back_ease),
        ("new back", &size.back_ease),
    ];
    for (name, strip) in strips.into_iter().take(if alike { 2 } else { 4 }) {
        let name = if alike {
            name.split(' ').next().unwrap_or(name)
        } else {
            name
        };
        let _ = writeln!(out, "  {name:<10} {}", bands(units, strip));
    }
    out + "\n"
}

fn laid_out(table: &[Vec<String>]) -> String {
    let columns = table.first().map_or(0, Vec::len);
    let widths: Vec<usize> = (0..columns)
        .map(|column| {
            let cells = table.iter().filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    let lines = table.iter().map(|row| {
        let cells = row
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell:<width$}"));
        let line: Vec<String> = cells.collect();
        format!("{}\n", line.join("   ").trim_end())
    });
    lines.collect()
}

fn pairs(plan: &CapPlan) -> String {
    let pairs = plan.turn_pairs();
    format!("{pairs} turn pairs ({} rows)", 2 * pairs)
}

fn depth(units: Units, m: &Measures) -> String {
    format!(
        "{}  {}",
        units.show(m.depth),
        signed(units.number(m.depth_error))
    )
}

fn area(units: Units, m: &Measures) -> String {
    format!(
        "{}  {}",
        units.show_area(m.area_cm2),
        signed_pct(m.area_error_pct)
    )
}

fn arm(units: Units, plan: &CapPlan, m: &Measures) -> String {
    format!(
        "{} sts in rounds, {}",
        plan.upper_arm().count(),
        units.show(m.upper_arm)
    )
}

fn ease(m: &Measures) -> String {
    format!(
        "front {}, back {}",
        signed_pct(m.front.ease_pct()),
        signed_pct(m.back.ease_pct())
    )
}

fn drops(plan: &CapPlan) -> String {
    let (front, back) = (
        plan.front.decreases().count(),
        plan.back.decreases().count(),
    );
    if front == back {
        format!("{front} a side")
    } else {
        format!("{front} front, {back} back")
    }
}

pub(crate) fn signed_pct(pct: f64) -> String {
    format!("{} %", signed(pct))
}

pub(crate) fn signed(number: f64) -> String {
    let tenths = (number * 10.0).round() / 10.0 + 0.0;
    format!("{tenths:+.1}")
}

fn finished(case: &Case, size: &SizeConversion) -> String {
    let units = case.units;
    let m = &size.fit.measures;
    let mut out = "FINISHED MEASUREMENTS\n".to_owned();
    let _ = writeln!(out, "  upper arm {}", units.show(m.upper_arm));
    let _ = writeln!(out, "  cap depth {}", units.show(m.depth));
    if let Some(tube) = &size.tube {
        let _ = writeln!(
            out,
            "  cuff {}",
            units.show(size.gauge.tube.width(tube.cuff))
        );
        let _ = writeln!(
            out,
            "  sleeve from underarm to cuff {}",
            units.show(size.gauge.tube.height(tube.rounds))
        );
    } else if case.sleeve.length.is_some() {
        out.push_str("  The tube is not planned: it is too short for its shaping.\n");
    } else {
        out.push_str(
            "  The tube is not planned: give sleeve.length (and sleeve.cuff_stitches) in the case.\n",
        );
    }
    let (old, new) = size.knitted_stitches;
    let _ = writeln!(
        out,
        "  stitches knitted in the cap: {new}, in the {} one {old}; yarn in about that proportion, a few per\n      cent either way; two seams fewer (cap into armhole, sleeve)",
        word_of_flat(&size.old)
    );
    if !size.sensitivity.is_empty() {
        out.push_str("  Upper arm if your rounds differ from the pattern's gauge by\n");
        let cells = size
            .sensitivity
            .iter()
            .map(|(pct, width)| format!("{pct:+} %: {}", units.show(*width)));
        let cells: Vec<String> = cells.collect();
        let _ = writeln!(out, "    {}", cells.join("   "));
    }
    out.push('\n');
    out
}

fn cautions(size: &SizeConversion) -> String {
    let mut out = "FINDINGS AND CAUTIONS\n".to_owned();
    for finding in &size.findings {
        out.push_str(&finding_line(finding));
    }
    out.push_str("  Long sessions tire the hands: put the work down now and then.\n\n\n");
    out
}
