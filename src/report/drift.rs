//! The lesson on drift as plain text.

use super::checks::finding_line;
use super::drift_sleeves::{four_sleeves, signed_length, sweep_text};
use super::drift_sure::{amount, chance, how_sure};
use super::pattern_text::wrapped;
use crate::case::Case;
use crate::convert::drift::{ASSUMED_PCT, DriftLesson, NextSwatch, Part, Quantity, SizeDrift, Why};
use crate::convert::{GaugeSource, GaugesUsed};
use crate::measure::{Gauge, Units};
use crate::swatch::{Estimate, Measured, Method, show_gauge};

/// Width of the text in characters.
const WIDTH: usize = 96;

/// The lesson: the swatches, the sleeve planned four ways, every drift, and how sure it all is.
pub fn drift_text(case: &Case, lesson: &DriftLesson) -> String {
    let mut out = heading(
        &format!(
            "{} - flat against round ({})",
            case.title,
            case.units.word()
        ),
        '=',
    );
    out.push_str(&swatches(case.units, &lesson.gauge));
    out.push_str(&verdicts(lesson));
    out.push_str(&assumed(case.units, lesson));
    if lesson.sizes.len() > 1 {
        out.push_str(&all_sizes(case.units, &lesson.sizes));
    }
    if let Some(first) = lesson.sizes.first() {
        out.push_str(&size_text(case, lesson, first));
    }
    out.push_str(&next(case.units, &lesson.next));
    let found: Vec<String> = lesson.findings.iter().map(finding_line).collect();
    if !found.is_empty() {
        out.push_str("FINDINGS\n");
        out.push_str(&found.concat());
    }
    out
}

fn heading(text: &str, rule: char) -> String {
    let line: String = std::iter::repeat_n(rule, text.chars().count()).collect();
    format!("{text}\n{line}\n\n")
}

/// What the two swatches say of each other, and what would settle it.
fn verdicts(lesson: &DriftLesson) -> String {
    if lesson.verdicts.is_empty() {
        return String::new();
    }
    let said = lesson.verdicts.iter().map(|verdict| {
        let next = wrapped(verdict.advice(), WIDTH - 5).join("\n     ");
        format!("{}  -> {next}\n", paragraph(&verdict.message))
    });
    let said: Vec<String> = said.collect();
    format!("WHAT THEY SAY OF EACH OTHER\n{}\n", said.concat())
}

/// Every gauge that stands in for a swatch, what that may do, and how to be rid of it.
fn assumed(units: Units, lesson: &DriftLesson) -> String {
    if lesson.assumptions.is_empty() {
        return String::new();
    }
    let said = lesson.assumptions.iter().map(|assumption| {
        let (part, missing) = match assumption.part {
            Part::Tube => ("tube", "swatch in the round"),
            Part::Cap => ("cap", "flat swatch"),
        };
        paragraph(&format!(
            "There is no {missing}: the {} gauge, {}, is taken for the {part}. {} A {missing} ends the guessing.",
            assumption.taken.word(),
            counts_of(assumption.gauge, units),
            effects(units, lesson, assumption.part),
        ))
    });
    let said: Vec<String> = said.collect();
    format!("ASSUMED\n{}\n", said.concat())
}

/// What an assumed gauge does over the usual range of a drift, in the first size.
fn effects(units: Units, lesson: &DriftLesson, part: Part) -> String {
    let Some(size) = lesson.sizes.first() else {
        return String::new();
    };
    let mut moved = Vec::new();
    for (place, input) in lesson.inputs.iter().enumerate() {
        if !(input.assumed && input.drives.includes(part)) {
            continue;
        }
        for spread in &size.spreads {
            let Some(effect) = spread.effects.get(place).copied().flatten() else {
                continue;
            };
            let show = |value| amount(units, spread.quantity.kind(), value);
            moved.push(format!(
                "{} from {} to {} ({})",
                spread.quantity.name(),
                show(effect.at_low),
                show(effect.at_high),
                input.counted.word(),
            ));
        }
    }
    format!(
        "If your own is looser or tighter than that by up to {ASSUMED_PCT} % in stitches or in rows, this sleeve has: {}.",
        moved.join("; ")
    )
}

/// One line a size.
fn all_sizes(units: Units, sizes: &[SizeDrift]) -> String {
    let mut rows = vec![cells(&[
        "size",
        "wanted",
        "upper arm",
        "between",
        "and",
        "jump",
        "cap depth",
        "between",
        "and",
        "tighter",
    ])];
    rows.extend(sizes.iter().filter_map(|size| size_row(units, size)));
    format!(
        "ALL SIZES\n{}{}\n",
        columns(&rows),
        paragraph(
            "tighter: chance that the upper arm ends tighter than wanted. The first size is shown in full below; --size shows another one."
        )
    )
}

fn size_row(units: Units, size: &SizeDrift) -> Option<Vec<String>> {
    let right = size.sleeves.first()?;
    let ends = |quantity: Quantity| {
        let spread = size.spreads.iter().find(|s| s.quantity == quantity);
        let show = |value: f64| amount(units, quantity.kind(), value);
        match spread.filter(|s| s.is_counted()) {
            Some(spread) => vec![show(spread.low), show(spread.high)],
            None => cells(&["not", "known"]),
        }
    };
    let mut row = vec![
        size.size.clone(),
        units.show(size.wanted.upper_arm),
        units.show(right.knitted.upper_arm),
    ];
    row.extend(ends(Quantity::UpperArm));
    row.push(signed_length(units, right.knitted.jump()));
    row.push(units.show(right.knitted.depth));
    row.extend(ends(Quantity::CapDepth));
    row.push(size.tighter.map_or_else(String::new, |t| chance(t.at_all)));
    Some(row)
}

/// The one swatch to knit or to count again, how wide, and how to measure it.
fn next(units: Units, next: &NextSwatch) -> String {
    let round = next.swatch == GaugeSource::Round;
    let kind = if round {
        "in the round"
    } else {
        "back and forth"
    };
    let why = match next.why {
        Why::Missing => format!("Knit one swatch {kind}: of all that is missing it tells most."),
        Why::LeastSure => format!(
            "Count your swatch {kind} in more places: its counts leave this sleeve the least sure. Where it is too small for that, knit it again:"
        ),
    };
    let how = if round {
        "Work every row from the right side: at its end slide the stitches back to the start of the needle and carry the yarn loosely behind (then say floats = true in the case), or knit a tube twice as wide."
    } else {
        "Work it back and forth, as the cap will be."
    };
    let recipe = format!(
        "Cast on {}, about {} wide, in the sleeve's stitch, with the sleeve's yarn and needles, and work {}. {how}",
        next.cast_on,
        units.show(next.width),
        next.rows,
    );
    let measure = format!(
        "Wash and dry it as the sleeve will be. Lay it flat without pulling. Count the stitches over {} in the middle, away from the edges, half stitches too, in {} {}; then the rows in the same way. Write every count into the case: stitches = [.., .., ..].",
        units.show(next.count_over),
        next.places,
        match next.why {
            Why::Missing => "places",
            Why::LeastSure => "more places",
        },
    );
    format!(
        "WHICH SWATCH NEXT?\n{}\n",
        [why, recipe, measure].map(|text| paragraph(&text)).concat()
    )
}

/// A sentence in lines with a small indent.
pub(super) fn paragraph(text: &str) -> String {
    format!("  {}\n", wrapped(text, WIDTH - 2).join("\n  "))
}

/// Rows of cells: the first column to the left, the others to the right, two spaces apart.
pub(super) fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).enumerate();
        let cells = cells.map(|(column, (cell, width))| match column {
            0 => format!("  {cell:<width$}"),
            _ => format!("  {cell:>width$}"),
        });
        let line: String = cells.collect();
        format!("{}\n", line.trim_end())
    };
    rows.iter().map(line).collect()
}

pub(super) fn cells(list: &[&str]) -> Vec<String> {
    list.iter().map(|&cell| cell.to_owned()).collect()
}

/// What was counted, with its 95 % interval.
fn swatches(units: Units, gauge: &GaugesUsed) -> String {
    let mut rows = vec![cells(&[
        "",
        "stitches",
        "",
        "rows",
        "",
        "sts for 1 row",
        "counts",
    ])];
    let all = [
        ("old pattern", Some(gauge.swatches.pattern)),
        ("flat", gauge.swatches.flat),
        ("round", gauge.swatches.round),
    ];
    for (name, measured) in all {
        rows.push(match measured {
            Some(measured) => swatch_row(units, name, &measured, name != "old pattern"),
            None => cells(&[name, "no swatch"]),
        });
    }
    let over = units.show(units.swatch_length());
    format!(
        "YOUR SWATCHES, over {over} (in brackets: where the true gauge lies, 95 % sure, from repeated counts)\n{}\n",
        columns(&rows)
    )
}

fn swatch_row(units: Units, name: &str, measured: &Measured, counted: bool) -> Vec<String> {
    let show = |e: &Estimate| show_gauge(e.mean, units);
    let interval = |e: &Estimate| match e.interval() {
        _ if !counted => "as printed".to_owned(),
        Some((low, high)) => format!(
            "({} to {})",
            show_gauge(low.max(0.0), units),
            show_gauge(high, units)
        ),
        None => "one count".to_owned(),
    };
    vec![
        name.to_owned(),
        show(&measured.stitches),
        interval(&measured.stitches),
        show(&measured.rows),
        interval(&measured.rows),
        format!("{:.2}", measured.stitch_row_ratio()),
        counts(measured, counted),
    ]
}

fn counts(measured: &Measured, counted: bool) -> String {
    if !counted {
        return String::new();
    }
    let (stitches, rows) = (&measured.stitches, &measured.rows);
    let reading = [stitches, rows]
        .iter()
        .any(|e| e.is_repeated() && e.method == Method::ReadingError);
    let note = if reading { ", reading error" } else { "" };
    if stitches.counts == rows.counts {
        format!("{}{note}", stitches.counts)
    } else {
        format!("{} and {}{note}", stitches.counts, rows.counts)
    }
}

fn size_text(case: &Case, lesson: &DriftLesson, size: &SizeDrift) -> String {
    let units = case.units;
    let mut out = String::new();
    if case.sizes.len() > 1 {
        out.push_str(&heading(&format!("Size {}", size.size), '-'));
    }
    out.push_str(&four_sleeves(units, &lesson.gauge, size));
    out.push_str(&how_sure(units, lesson, size));
    for sweep in &size.sweeps {
        out.push_str(&sweep_text(units, sweep));
    }
    for finding in &size.findings {
        out.push_str(&finding_line(finding));
    }
    out
}

pub(super) fn counts_of(gauge: Gauge, units: Units) -> String {
    format!(
        "{} sts and {} rows",
        show_gauge(gauge.stitches_per_10cm(), units),
        show_gauge(gauge.rows_per_10cm(), units)
    )
}
