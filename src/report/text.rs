//! The written pattern as plain text, with the numbers table before it and the cautions after it.

use std::fmt::Write as _;

use super::adapt::{adapt_text, flat_lines, flat_name, flat_word, printed_cells, replaced};
use super::checks::{bands, finding_line};
use super::pattern_text::{WIDTH, instructions, sleeve_name, sleeve_text, wrapped};
use super::trade_text::trade_text;
use crate::case::Case;
use crate::convert::{Conversion, SizeConversion};
use crate::diagnostic::{Diagnostic, Level};
use crate::fit::{CapPlan, Measures};
use crate::measure::{Gauge, Length, Units};
use crate::outline::EaseBand;
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

/// Headings of the table of all sizes.
pub(super) const OVERVIEW: [&str; 13] = [
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
    "ease",
    "recipe's area",
];

/// What the headings mean.
pub(super) const OVERVIEW_LEGEND: &str = "front, back: stitches picked up; sts: stitches at the upper arm; area, depth: new against old cap";

/// One row a size, as [`OVERVIEW`] names its cells.
pub(super) fn overview_row(units: Units, size: &SizeConversion) -> [String; 13] {
    let (plan, m) = (&size.fit.plan, &size.fit.measures);
    [
        size.old.size.clone(),
        plan.crown.stitches.count().to_string(),
        plan.front.picked_up().count().to_string(),
        plan.back.picked_up().count().to_string(),
        plan.base().count().to_string(),
        plan.turn_pairs().to_string(),
        plan.upper_arm().count().to_string(),
        plan.runs().to_string(),
        units.show(m.upper_arm),
        signed_pct(m.area_error_pct),
        signed(units.number(m.depth_error)),
        signed_pct(m.ease_pct()),
        signed_pct(size.recipe.1.area_error_pct),
    ]
}

/// One line a size.
fn overview(case: &Case, conversion: &Conversion) -> String {
    let units = case.units;
    let mut out = title(&format!("{} - all sizes ({units})", case.title));
    out.push_str(&overview_line(&OVERVIEW.map(str::to_owned)));
    for size in &conversion.sizes {
        out.push_str(&overview_line(&overview_row(units, size)));
    }
    let _ = write!(out, "  {OVERVIEW_LEGEND}\n\n\n");
    out
}

fn overview_line(cells: &[String; 13]) -> String {
    let [
        size,
        crown,
        front,
        back,
        base,
        pairs,
        sts,
        runs,
        arm,
        area,
        depth,
        ease,
        recipe,
    ] = cells;
    format!(
        "  {size:<10} {crown:>5} {front:>5} {back:>5} {base:>5} {pairs:>5} {sts:>5} {runs:>6} {arm:>9} {area:>7} {depth:>7} {ease:>6}  {recipe}\n"
    )
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
    let mut out = format!(
        "Gauge over {}\n",
        case.units.show(case.units.swatch_length())
    );
    for (name, gauge) in gauge_rows(case, size) {
        let _ = writeln!(out, "  {name:<11}  {gauge}");
    }
    out.push('\n');
    out
}

/// The gauges used and their drift, named.
pub(super) fn gauge_rows(case: &Case, size: &SizeConversion) -> [(&'static str, String); 4] {
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
    let assumed = if gauge.tube_assumed {
        " (assumed: no swatch in the round)"
    } else {
        ""
    };
    let (stitches, rows) = gauge.drift_pct();
    [
        (
            if case.sleeve.has_old_cap() {
                "old pattern"
            } else {
                "pattern"
            },
            show(gauge.pattern),
        ),
        ("new cap", format!("{}, back and forth", show(gauge.cap))),
        ("tube", format!("{}, in rounds{assumed}", show(gauge.tube))),
        (
            "drift",
            format!(
                "{} in stitches, {} in rows from cap to tube",
                signed_pct(stitches),
                signed_pct(rows)
            ),
        ),
    ]
}

fn numbers(units: Units, size: &SizeConversion) -> String {
    let rows = number_rows(units, size);
    let table = match replaced(&size.old) {
        None => laid_out(&rows),
        Some((_, printed)) => {
            // The cap of the lines comes first; what is only asked of a new cap stays empty.
            let cells = std::iter::once("old cap".to_owned()).chain(printed_cells(units, printed));
            let with = rows
                .into_iter()
                .zip(cells.chain(std::iter::repeat(String::new())));
            let rows: Vec<[String; 5]> = with
                .map(|([name, flat, new, recipe], old)| [name, old, flat, new, recipe])
                .collect();
            laid_out(&rows)
        }
    };
    table + "\n" + &trade_text(units, size) + &ease_text(units, size)
}

/// Old cap, new cap and recipe side by side; the first row names the columns.
pub(super) fn number_rows(units: Units, size: &SizeConversion) -> Vec<[String; 4]> {
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
            format!("off the {} width", flat_word(&size.old)),
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
    table
}

/// Where along the edge the old and the new cap are fuller (+) or tighter (-) than the armhole.
fn ease_text(units: Units, size: &SizeConversion) -> String {
    let mut out =
        format!("Ease along the edge ({units}), underarm to shoulder, at the same heights\n");
    for (name, strip) in ease_strips(size) {
        let _ = writeln!(out, "  {name:<10} {}", bands(units, strip));
    }
    out + "\n"
}

/// The strips of ease, named; two where front and back are alike, else four.
pub(super) fn ease_strips(size: &SizeConversion) -> Vec<(&'static str, &[EaseBand])> {
    let alike = size.old.is_alike() && size.front_ease == size.back_ease;
    let old = flat_word(&size.old) == "old";
    if alike {
        return vec![
            (flat_word(&size.old), size.old.front_ease.as_slice()),
            ("new", size.front_ease.as_slice()),
        ];
    }
    vec![
        (
            if old { "old front" } else { "flat front" },
            size.old.front_ease.as_slice(),
        ),
        ("new front", size.front_ease.as_slice()),
        (
            if old { "old back" } else { "flat back" },
            size.old.back_ease.as_slice(),
        ),
        ("new back", size.back_ease.as_slice()),
    ]
}

pub(super) fn laid_out<const N: usize>(table: &[[String; N]]) -> String {
    let widths: Vec<usize> = (0..N)
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

/// A length with its sign and one decimal, in the case's units without their name.
pub(crate) fn signed_in(units: Units, length: Length) -> String {
    signed(units.number(length))
}

fn finished(case: &Case, size: &SizeConversion) -> String {
    let mut out = "FINISHED MEASUREMENTS\n".to_owned();
    for line in finished_lines(case, size) {
        for (i, line) in wrapped(&line, WIDTH).iter().enumerate() {
            let _ = writeln!(out, "{}{line}", if i == 0 { "  " } else { "      " });
        }
    }
    if let Some(line) = drifted_arms(case.units, size) {
        out.push_str("  Upper arm if your rounds differ from the pattern's gauge by\n");
        let _ = writeln!(out, "    {line}");
    }
    out.push('\n');
    out
}

/// What the sleeve measures, and the yarn, one sentence each.
pub(super) fn finished_lines(case: &Case, size: &SizeConversion) -> Vec<String> {
    let units = case.units;
    let m = &size.fit.measures;
    let mut lines = vec![
        format!("upper arm {}", units.show(m.upper_arm)),
        format!("cap depth {}", units.show(m.depth)),
    ];
    let tube = &size.gauge.tube;
    match (&size.tube, &case.sleeve.length) {
        (Some(plan), _) => lines.extend([
            format!("cuff {}", units.show(tube.width(plan.cuff))),
            format!(
                "sleeve from underarm to cuff {}, the row of the join counted as its first",
                units.show(tube.height(plan.rows_below_underarm()))
            ),
        ]),
        (None, Some(_)) => {
            lines.push("The tube is not planned: it is too short for its shaping.".to_owned());
        }
        (None, None) => lines.push(
            "The tube is not planned: give sleeve.length (and sleeve.cuff_stitches) in the case."
                .to_owned(),
        ),
    }
    lines.push(format!(
        "stitches knitted in the cap: {}, the {} picked up among them; in the {} one {}, those bound off among them; yarn in about that proportion, a few per cent either way; two seams fewer (cap into armhole, sleeve)",
        size.loops.all().count(),
        size.loops.picked_up.count(),
        flat_word(&size.old),
        size.flat_loops.count(),
    ));
    lines
}

/// The upper arm at other drifts, where the tube's gauge is assumed.
pub(super) fn drifted_arms(units: Units, size: &SizeConversion) -> Option<String> {
    let cells = size
        .sensitivity
        .iter()
        .map(|(pct, width)| format!("{pct:+} %: {}", units.show(*width)));
    let cells: Vec<String> = cells.collect();
    (!cells.is_empty()).then(|| cells.join("   "))
}

/// Said with every pattern.
pub(super) const REST: &str = "Long sessions tire the hands: put the work down now and then.";

fn cautions(size: &SizeConversion) -> String {
    let mut out = "FINDINGS AND CAUTIONS\n".to_owned();
    for finding in &size.findings {
        out.push_str(&finding_line(finding));
    }
    let _ = write!(out, "  {REST}\n\n\n");
    out
}
