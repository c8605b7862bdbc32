//! The lesson on drift as plain text.

use super::checks::finding_line;
use super::text::{signed, signed_pct, wrapped};
use crate::case::Case;
use crate::convert::drift::{DriftLesson, Part, PlannedSleeve, SizeDrift, Sweep, Taken};
use crate::convert::{GaugeSource, GaugesUsed};
use crate::measure::{Gauge, Length, Units};
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
    for size in &lesson.sizes {
        out.push_str(&size_text(case, lesson, size));
    }
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
        "YOUR SWATCHES, over {over} (in brackets: where the true gauge lies, 95 % sure)\n{}\n",
        columns(&rows)
    )
}

fn swatch_row(units: Units, name: &str, measured: &Measured, counted: bool) -> Vec<String> {
    let show = |e: &Estimate| show_gauge(e.mean, units);
    let interval = |e: &Estimate| {
        let ends = format!(
            "({} to {})",
            show_gauge(e.low.max(0.0), units),
            show_gauge(e.high, units)
        );
        if counted {
            ends
        } else {
            "as printed".to_owned()
        }
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
        .any(|e| e.method == Method::ReadingError);
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
    for sweep in &size.sweeps {
        out.push_str(&sweep_text(units, sweep));
    }
    for finding in &size.findings {
        out.push_str(&finding_line(finding));
    }
    out
}

fn counts_of(gauge: Gauge, units: Units) -> String {
    format!(
        "{} sts and {} rows",
        show_gauge(gauge.stitches_per_10cm(), units),
        show_gauge(gauge.rows_per_10cm(), units)
    )
}

/// The same sleeve planned four ways and knitted by the same hands.
fn four_sleeves(units: Units, gauge: &GaugesUsed, size: &SizeDrift) -> String {
    let mut out = "THE SAME SLEEVE, PLANNED WITH DIFFERENT GAUGES\n".to_owned();
    out.push_str(&paragraph(&format!(
        "Whatever the plan says, these hands knit the cap back and forth at {} and the tube in rounds at {}. So this comes off the needles (in brackets: off what was wanted, or off the right counts):",
        counts_of(gauge.cap, units),
        counts_of(gauge.tube, units)
    )));
    let mut rows = vec![{
        let mut row = vec!["planned with".to_owned()];
        row.extend(size.sleeves.iter().map(|sleeve| taken(sleeve.taken)));
        row
    }];
    for (name, cell) in SLEEVE_ROWS {
        let mut row = vec![(*name).to_owned()];
        row.extend(size.sleeves.iter().map(|sleeve| cell(units, sleeve)));
        if row.iter().skip(1).any(|cell| !cell.is_empty()) {
            rows.push(row);
        }
    }
    out.push_str(&columns(&rows));
    out.push_str(&paragraph(
        "The stitches do not change at the join, their width does: cap and tube differ in width just there, in every one of these sleeves. A right plan puts the tube's width right and lets the cap take up the difference.",
    ));
    out.push('\n');
    out
}

fn taken(taken: Taken) -> String {
    match taken {
        Taken::EachItsOwn => "each its own",
        Taken::OneForAll(GaugeSource::Pattern) => "pattern's for all",
        Taken::OneForAll(GaugeSource::Flat) => "flat for all",
        Taken::OneForAll(GaugeSource::Round) => "round for all",
    }
    .to_owned()
}

type SleeveCell = fn(Units, &PlannedSleeve) -> String;

/// One row of the table of sleeves: its name and its cell.
const SLEEVE_ROWS: &[(&str, SleeveCell)] = &[
    ("stitches at the join", |_, s| {
        with(
            s.plan.cap.upper_arm().count().to_string(),
            &more(s.off.stitches),
        )
    }),
    ("upper arm, in rounds", |units, s| {
        with(
            units.show(s.knitted.upper_arm),
            &off(units, s.off.upper_arm),
        )
    }),
    ("cap's side of the join", |units, s| {
        units.show(s.knitted.join_cap_side)
    }),
    ("jump at the join", |units, s| {
        signed_length(units, s.knitted.jump())
    }),
    ("cap rows", |_, s| {
        with(
            (2 * s.plan.cap.turn_pairs()).to_string(),
            &more(s.off.cap_rows),
        )
    }),
    ("cap depth", |units, s| {
        with(units.show(s.knitted.depth), &off(units, s.off.depth))
    }),
    ("cap area", |units, s| {
        with(
            units.show_area(s.knitted.area_cm2),
            &signed_pct(s.off.area_pct),
        )
    }),
    ("cap edge : armhole", |_, s| {
        format!("{:.1} %", s.knitted.armhole_share_pct)
    }),
    ("rounds to the cuff", |_, s| {
        let rounds = s.plan.tube.as_ref().map(|tube| tube.rounds.count());
        both(rounds.map(|n| n.to_string()), s.off.rounds.map(more))
    }),
    ("underarm to cuff", |units, s| {
        let is = s.knitted.tube_length.map(|length| units.show(length));
        both(is, s.off.tube_length.map(|length| off(units, length)))
    }),
    ("cuff", |units, s| {
        let is = s.knitted.cuff.map(|length| units.show(length));
        both(is, s.off.cuff.map(|length| off(units, length)))
    }),
];

fn both(is: Option<String>, off: Option<String>) -> String {
    with(is.unwrap_or_default(), &off.unwrap_or_default())
}

fn with(is: String, off: &str) -> String {
    if off.is_empty() || is.is_empty() {
        is
    } else {
        format!("{is} ({off})")
    }
}

/// `-3`, `+2`, or `right`.
fn more(count: i64) -> String {
    if count == 0 {
        "right".to_owned()
    } else {
        format!("{count:+}")
    }
}

fn off(units: Units, length: Length) -> String {
    signed(units.number(length))
}

fn signed_length(units: Units, length: Length) -> String {
    format!("{} {}", off(units, length), units.word())
}

/// A table over every drift, for one part of the sleeve.
fn sweep_text(units: Units, sweep: &Sweep) -> String {
    let (title, story) = match (sweep.part, sweep.assumed) {
        (Part::Tube, true) => (
            "IF YOUR ROUNDS ARE NOT WHAT WAS ASSUMED",
            format!(
                "There is no swatch in the round, so the tube was planned at {}. If your rounds differ from that by the drift shown:",
                counts_of(sweep.planned_at, units)
            ),
        ),
        (Part::Tube, false) => (
            "WHAT A DRIFT DOES TO THE TUBE",
            format!(
                "A sleeve planned with the cap's gauge alone, {}, for the tube as well. If your rounds differ from it by the drift shown:",
                counts_of(sweep.planned_at, units)
            ),
        ),
        (Part::Cap, true) => (
            "IF YOUR FLAT ROWS ARE NOT WHAT WAS ASSUMED",
            format!(
                "There is no flat swatch, so the cap was planned at {}. If round differs from flat by the drift shown, your flat knitting differs from that the other way:",
                counts_of(sweep.planned_at, units)
            ),
        ),
        (Part::Cap, false) => (
            "WHAT A DRIFT DOES TO THE CAP",
            format!(
                "A cap planned with the tube's gauge alone, {}. If round differs from flat by the drift shown:",
                counts_of(sweep.planned_at, units)
            ),
        ),
    };
    let rows = match sweep.part {
        Part::Tube => tube_rows(units, sweep),
        Part::Cap => cap_rows(units, sweep),
    };
    format!("{title}\n{}{}\n", paragraph(&story), columns(&rows))
}

/// `+2 %`, `0 %`, `-4 %`.
fn pct(pct: i32) -> String {
    if pct == 0 {
        "0 %".to_owned()
    } else {
        format!("{pct:+} %")
    }
}

fn tube_rows(units: Units, sweep: &Sweep) -> Vec<Vec<String>> {
    let mut head = cells(&["drift", "upper arm", "off", "jump", "stitches right"]);
    let tube = sweep.rounds.is_some();
    if tube {
        head.extend(cells(&["cuff", "underarm to cuff", "off", "rounds right"]));
    }
    let mut rows = vec![head];
    for row in &sweep.rows {
        let mut line = vec![
            pct(row.drift_pct),
            units.show(row.knitted.upper_arm),
            off(units, row.upper_arm_off),
            off(units, row.knitted.jump()),
            row.right_stitches.count().to_string(),
        ];
        if tube {
            let show = |length: Option<Length>| length.map(|l| units.show(l)).unwrap_or_default();
            line.extend([
                show(row.knitted.cuff),
                show(row.knitted.tube_length),
                row.tube_off.map(|l| off(units, l)).unwrap_or_default(),
                row.right_rounds
                    .map(|r| r.count().to_string())
                    .unwrap_or_default(),
            ]);
        }
        rows.push(line);
    }
    rows
}

fn cap_rows(units: Units, sweep: &Sweep) -> Vec<Vec<String>> {
    let mut rows = vec![cells(&[
        "drift",
        "cap depth",
        "off",
        "cap area",
        "off",
        "cap edge : armhole",
        "jump",
    ])];
    rows.extend(sweep.rows.iter().map(|row| {
        vec![
            pct(row.drift_pct),
            units.show(row.knitted.depth),
            off(units, row.depth_off),
            units.show_area(row.knitted.area_cm2),
            signed_pct(row.area_pct),
            format!("{:.1} %", row.knitted.armhole_share_pct),
            off(units, row.knitted.jump()),
        ]
    }));
    rows
}
