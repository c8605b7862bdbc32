//! Where along the edge a cap is fuller or tighter than the armhole.

use super::{Block, ColumnKind, TableBlock, TableColumn};
use crate::convert::{Old, SizeConversion};
use crate::fit::Stretch;
use crate::measure::{Stitches, Units};
use crate::outline::EaseBand;
use crate::report::flat::flat_word;
use crate::report::number::{counted, signed_pct, signed_to};

const PLUS_MINUS: &str =
    "Plus: the cap is longer there and is eased in. Minus: it is shorter and is stretched.";

/// The new cap run by run where its stitches are picked up; the flat cap in bands from the underarm up.
pub(super) fn of_size(units: Units, size: &SizeConversion) -> Vec<Block> {
    let mut blocks = vec![along(units, size)];
    blocks.extend(strip_table(units, strips(size)));
    blocks
}

/// Every run against its own piece of the armhole.
fn along(units: Units, size: &SizeConversion) -> Block {
    let measures = &size.fit.measures;
    let alike = measures.front.moves == measures.back.moves;
    let sides = [("front", &measures.front), ("back", &measures.back)];
    let mut rows = Vec::new();
    let mut row = |what: String, stitches: Stitches, stretch: Stretch| {
        rows.push(vec![
            what,
            stitches.count().to_string(),
            units.show(stretch.cap),
            units.show(stretch.armhole),
            signed_pct(stretch.strain_pct()),
        ]);
    };
    let crown = measures.front.crown().beside(measures.back.crown());
    let stitches = size.fit.plan.crown.stitches;
    row("crown, first pair".to_owned(), stitches, crown);
    for (name, side) in sides.into_iter().take(if alike { 1 } else { 2 }) {
        for run in side.runs() {
            let pairs = counted(run.moves as usize, "turn pair");
            let what = if alike {
                pairs
            } else {
                format!("{name}, {pairs}")
            };
            row(what, run.stitches, run);
        }
    }
    let names = [
        ("run", ColumnKind::Head),
        ("stitches picked up", ColumnKind::Number),
        ("cap edge", ColumnKind::Number),
        ("armhole", ColumnKind::Number),
        ("cap longer", ColumnKind::Number),
    ];
    let columns = names
        .map(|(name, kind)| TableColumn::new(name, kind))
        .into();
    let caption = "Where it puckers (plus) or pulls (minus), from the crown down";
    Block::Table(TableBlock::new(caption, columns, rows))
}

/// The flat caps of all sizes.
pub(super) fn of_sizes(units: Units, sizes: &[Old]) -> Vec<Block> {
    let rows = sizes.iter().flat_map(|old| {
        let name = |side: &str| match sizes {
            [_] => side.to_owned(),
            _ => format!("{}, {side}", old.size),
        };
        if old.is_alike() {
            return vec![(name("both sides"), old.front_ease.as_slice())];
        }
        vec![
            (name("front"), old.front_ease.as_slice()),
            (name("back"), old.back_ease.as_slice()),
        ]
    });
    strip_table(units, rows.collect())
}

fn strip_table(units: Units, strips: Vec<(String, &[EaseBand])>) -> Vec<Block> {
    let bands = strips.iter().map(|(_, strip)| strip.len()).max();
    let bands = bands.unwrap_or(0);
    if bands == 0 {
        return Vec::new();
    }
    let mut columns = vec![TableColumn::new("", ColumnKind::Head)];
    columns.extend(
        (1..=bands).map(|band| TableColumn::new(band_name(band, bands), ColumnKind::Number)),
    );
    let rows = strips.into_iter().map(|(name, strip)| {
        let ease = |band: &EaseBand| signed_to(units.number(band.ease()), 2);
        let mut row = vec![name];
        row.extend(strip.iter().map(ease));
        row.resize(bands + 1, String::new());
        row
    });
    let caption = format!(
        "Ease along the edge: cap less armhole ({units}) in {bands} bands of equal height, the last up to the shoulder"
    );
    vec![
        Block::Table(TableBlock::new(caption, columns, rows.collect())),
        Block::Small(PLUS_MINUS.to_owned()),
    ]
}

fn band_name(band: usize, bands: usize) -> String {
    match band {
        1 => "underarm".to_owned(),
        _ if band == bands => "shoulder".to_owned(),
        _ => band.to_string(),
    }
}

/// The flat cap's strips of ease, named; one where front and back are alike.
fn strips(size: &SizeConversion) -> Vec<(String, &[EaseBand])> {
    let old = &size.old;
    let flat = flat_word(old);
    if old.is_alike() {
        return vec![(format!("{flat} cap"), old.front_ease.as_slice())];
    }
    vec![
        (format!("{flat} front"), old.front_ease.as_slice()),
        (format!("{flat} back"), old.back_ease.as_slice()),
    ]
}
