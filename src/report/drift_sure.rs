//! How sure the sleeve is: intervals, chances, and which count matters most.

use std::fmt::Write as _;

use super::drift::{cells, columns, paragraph};
use crate::convert::drift::{DriftLesson, Kind, SLEEVES, SizeDrift, Spread};
use crate::measure::{Length, Units};
use crate::swatch::USUALLY_APART_PCT;

/// A measure in the case's units, with two decimals when it is small.
pub(super) fn amount(units: Units, kind: Kind, value: f64) -> String {
    match kind {
        Kind::Length => units.show(Length::cm(value)),
        Kind::Area => units.show_area(value),
        Kind::Share => format!("{value:.1} %"),
    }
}

/// Intervals from the error of the counts, and which count matters most.
pub(super) fn how_sure(units: Units, lesson: &DriftLesson, size: &SizeDrift) -> String {
    if !size.spreads.iter().any(Spread::is_counted) {
        return unsure(units, size) + &tornado(units, lesson, size);
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

/// Said where no measure has an interval.
fn unsure(units: Units, size: &SizeDrift) -> String {
    format!(
        "HOW SURE IS THE RIGHT SLEEVE?\n{}{}\n",
        paragraph(
            "Nobody can say: every measure hangs on a gauge that was assumed or counted once, and one count says nothing of how evenly the swatch is knit. With two counts of each kind there is an interval, with three a useful one."
        ),
        tighter(units, size),
    )
}

/// A chance in plain words.
pub(super) fn chance(p: f64) -> String {
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
            "Nobody can say how likely the upper arm ends tighter than the {wanted} wanted: the tube's gauge was not counted, or only once."
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
    let mut ends = "the brackets of the first table".to_owned();
    if lesson
        .inputs
        .iter()
        .any(|input| !input.assumed && !input.is_known())
    {
        let _ = write!(
            ends,
            ", or {USUALLY_APART_PCT} % off where there is a single count, as two swatches of one knitter usually are"
        );
    }
    if !lesson.assumptions.is_empty() {
        ends.push_str(", or 6 % off where it was assumed");
    }
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
