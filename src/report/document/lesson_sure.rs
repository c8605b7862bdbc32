//! How sure the sleeve is: intervals, chances, and which count matters most.

use std::fmt::Write as _;

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::convert::drift::{
    DriftLesson, Effect, QuantityKind, QuantitySpread, SLEEVES, SizeDrift,
};
use crate::measure::{Interval, Length, Units};
use crate::swatch::USUALLY_APART_PCT;

/// A measure in the case's units, with two decimals when it is small.
pub(super) fn amount(units: Units, kind: QuantityKind, value: f64) -> String {
    match kind {
        QuantityKind::Length => units.show(Length::cm(value)),
        QuantityKind::Area => units.show_area(value),
        QuantityKind::Share => format!("{value:.1} %"),
    }
}

/// Intervals from the error of the counts, and which count matters most.
pub(super) fn how_sure(units: Units, lesson: &DriftLesson, size: &SizeDrift) -> Vec<Block> {
    if !size.spreads.iter().any(QuantitySpread::is_counted) {
        let mut blocks = unsure(units, size);
        blocks.extend(tornado(units, lesson, size));
        return blocks;
    }
    let rows = size.spreads.iter().map(|spread| {
        let show = |value| small(units, spread.quantity.kind(), value);
        let mut row = vec![spread.quantity.name().to_owned(), show(spread.value)];
        if spread.is_counted() {
            let Interval { low, high } = spread.simulated;
            row.extend([spread.low, spread.high, low, high].map(show));
        } else {
            row.push("not known".to_owned());
            row.resize(6, String::new());
        }
        row
    });
    let names = ["", "planned", "between", "and", "simulated", "and"];
    let mut blocks = vec![
        Block::heading(HOW_SURE),
        Block::Text(format!(
            "What the error of the counts allows, with 95 % confidence: worked out (delta method), and checked with {SLEEVES} simulated sleeves (with few counts the more cautious of the two). Needles, yarn and mood can do more; so can an armhole that is not what the case says."
        )),
        Block::Table(
            TableBlock::new(
                HOW_SURE,
                TableColumn::all(&names, ColumnKind::Number),
                rows.collect(),
            )
            .under_heading(),
        ),
        Block::Text(tighter(units, size)),
    ];
    blocks.extend(tornado(units, lesson, size));
    blocks
}

const HOW_SURE: &str = "How sure is the right sleeve?";

/// Said where no measure has an interval.
fn unsure(units: Units, size: &SizeDrift) -> Vec<Block> {
    vec![
        Block::heading(HOW_SURE),
        Block::Text("Nobody can say: every measure hangs on a gauge that was assumed or counted once, and one count says nothing of how evenly the swatch is knit. With two counts of each kind there is an interval, with three a useful one.".to_owned()),
        Block::Text(tighter(units, size)),
    ]
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
    match size.tighter {
        Some(tighter) => format!(
            "Chance that the upper arm ends tighter than the {wanted} wanted: {}; by more than {}: {}.",
            chance(tighter.at_all),
            units.show(tighter.margin),
            chance(tighter.by_margin)
        ),
        None => format!(
            "Nobody can say how likely the upper arm ends tighter than the {wanted} wanted: the tube's gauge was not counted, or only once."
        ),
    }
}

/// How far each count moves each measure, the one that moves most first.
fn tornado(units: Units, lesson: &DriftLesson, size: &SizeDrift) -> Vec<Block> {
    let mut names = vec![""];
    names.extend(size.spreads.iter().map(|s| s.quantity.name()));
    let rows = size.by_effect.iter().filter_map(|&place| {
        let input = lesson.inputs.get(place)?;
        let mut row = vec![input.name()];
        row.extend(size.spreads.iter().map(|spread| {
            let effect = spread.effects.get(place).copied().flatten();
            let shown = |effect: Effect| {
                let kind = spread.quantity.kind();
                format!("\u{b1}{}", small(units, kind, effect.either_way()))
            };
            effect.map_or_else(|| "-".to_owned(), shown)
        }));
        Some(row)
    });
    let mut ends = "the brackets of the first table".to_owned();
    let mut inputs = lesson.inputs.iter();
    if inputs.any(|input| !input.assumed && !input.is_known()) {
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
    let title = "Which count matters most?";
    let columns = TableColumn::all(&names, ColumnKind::Number);
    vec![
        Block::heading(title),
        Block::Text(what),
        Block::Table(TableBlock::new(title, columns, rows.collect()).under_heading()),
    ]
}

fn small(units: Units, kind: QuantityKind, value: f64) -> String {
    match kind {
        QuantityKind::Length => units.show_fine(Length::cm(value)),
        QuantityKind::Area => units.show_area(value),
        QuantityKind::Share => format!("{value:.1} %"),
    }
}
