//! The lesson on drift as plain text.

use super::checks::finding_line;
use super::text::{signed, signed_pct, wrapped};
use crate::case::Case;
use crate::convert::drift::{
    ASSUMED_PCT, DriftLesson, Kind, NextSwatch, Part, PlannedSleeve, Quantity, SLEEVES, SizeDrift,
    Spread, Sweep, Taken, Why,
};
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
    out.push_str(&how_sure(units, lesson, size));
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
    if size.sleeves.len() < 2 {
        return String::new();
    }
    let mut out = "THE SAME SLEEVE, PLANNED WITH DIFFERENT GAUGES\n".to_owned();
    out.push_str(&paragraph(&format!(
        "Whatever the plan says, these hands knit the cap back and forth at {} and the tube in rounds at {}{}. So this comes off the needles (in brackets: off what was wanted, or off the right counts):",
        counts_of(gauge.cap, units),
        counts_of(gauge.tube, units),
        if gauge.assumed(Part::Tube) || gauge.assumed(Part::Cap) {
            " (as far as that is known, see above)"
        } else {
            ""
        },
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

/// A measure in the case's units, with two decimals when it is small.
fn amount(units: Units, kind: Kind, value: f64) -> String {
    match kind {
        Kind::Length => units.show(Length::cm(value)),
        Kind::Area => units.show_area(value),
        Kind::Share => format!("{value:.1} %"),
    }
}

/// Intervals from the error of the counts, and which count matters most.
fn how_sure(units: Units, lesson: &DriftLesson, size: &SizeDrift) -> String {
    if !size.spreads.iter().any(Spread::is_counted) {
        return tornado(units, lesson, size);
    }
    let mut rows = vec![cells(&[
        "",
        "planned",
        "between",
        "and",
        "simulated",
        "and",
    ])];
    for spread in &size.spreads {
        let show = |value| small(units, spread.quantity.kind(), value);
        let mut row = vec![spread.quantity.name().to_owned(), show(spread.value)];
        if spread.is_counted() {
            let (low, high) = spread.simulated;
            row.extend([spread.low, spread.high, low, high].map(show));
        } else {
            row.push("not known".to_owned());
        }
        rows.push(row);
    }
    let mut out = "HOW SURE IS THE RIGHT SLEEVE?\n".to_owned();
    out.push_str(&paragraph(&format!(
        "What the error of the counts allows, with 95 % confidence: worked out (delta method), and checked with {SLEEVES} simulated sleeves (with few counts the more cautious of the two). Needles, yarn and mood can do more; so can an armhole that is not what the case says."
    )));
    out.push_str(&columns(&rows));
    out.push_str(&tighter(units, size));
    out.push('\n');
    out.push_str(&tornado(units, lesson, size));
    out
}

/// A chance in plain words.
fn chance(p: f64) -> String {
    match (p * 100.0).round() {
        percent if percent < 1.0 => "under 1 in 100".to_owned(),
        percent if percent > 99.0 => "over 99 in 100".to_owned(),
        percent => format!("{percent:.0} in 100"),
    }
}

fn tighter(units: Units, size: &SizeDrift) -> String {
    let wanted = units.show(size.wanted.upper_arm);
    paragraph(&match size.tighter {
        Some(tighter) => format!(
            "Chance that the upper arm ends tighter than the {wanted} wanted: {}; by more than {}: {}.",
            chance(tighter.at_all),
            units.show(tighter.margin),
            chance(tighter.by_margin)
        ),
        None => format!(
            "Nobody can say how likely the upper arm ends tighter than the {wanted} wanted: the tube's gauge was not counted."
        ),
    })
}

/// How far each count moves each measure, the one that moves most first.
fn tornado(units: Units, lesson: &DriftLesson, size: &SizeDrift) -> String {
    let mut head = vec![String::new()];
    head.extend(size.spreads.iter().map(|s| s.quantity.name().to_owned()));
    let mut rows = vec![head];
    for &place in &size.by_effect {
        let Some(input) = lesson.inputs.get(place) else {
            continue;
        };
        let mut row = vec![input.name()];
        row.extend(size.spreads.iter().map(|spread| {
            let effect = spread.effects.get(place).copied().flatten();
            effect.map_or_else(
                || "-".to_owned(),
                |effect| {
                    let kind = spread.quantity.kind();
                    format!("+-{}", small(units, kind, effect.either_way()))
                },
            )
        }));
        rows.push(row);
    }
    let ends = if lesson.assumptions.is_empty() {
        "the brackets of the first table"
    } else {
        "the brackets of the first table, or 6 % off where it was assumed"
    };
    let what = format!(
        "How far each measure moves when a true gauge lies at one end of its range ({ends}), the one that moves any of them most first:"
    );
    format!(
        "WHICH COUNT MATTERS MOST?\n{}{}\n",
        paragraph(&what),
        columns(&rows)
    )
}

fn small(units: Units, kind: Kind, value: f64) -> String {
    match kind {
        Kind::Length => units.show_fine(Length::cm(value)),
        Kind::Area => units.show_area(value),
        Kind::Share => format!("{value:.1} %"),
    }
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
