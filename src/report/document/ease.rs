//! Where along the edge a cap is fuller or tighter than the armhole.

use super::{Block, Column, ColumnKind, Table};
use crate::convert::{Old, SizeConversion};
use crate::measure::Units;
use crate::outline::EaseBand;
use crate::report::flat::flat_word;
use crate::report::number::signed_to;

const PLUS_MINUS: &str =
    "Plus: the cap is longer there and is eased in. Minus: it is shorter and is stretched.";

/// The flat cap and the new one, from the underarm up.
pub(super) fn of_size(units: Units, size: &SizeConversion) -> Vec<Block> {
    strip_table(units, strips(size))
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
    let mut columns = vec![Column::new("", ColumnKind::Head)];
    columns.extend((1..=bands).map(|band| Column::new(band_name(band, bands), ColumnKind::Number)));
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
        Block::Table(Table::new(caption, columns, rows.collect())),
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

/// The strips of ease, named; two where front and back are alike, else four.
fn strips(size: &SizeConversion) -> Vec<(String, &[EaseBand])> {
    let old = &size.old;
    let alike = old.is_alike() && size.front_ease == size.back_ease;
    let flat = flat_word(old);
    if alike {
        return vec![
            (flat.to_owned(), old.front_ease.as_slice()),
            ("new".to_owned(), size.front_ease.as_slice()),
        ];
    }
    vec![
        (format!("{flat} front"), old.front_ease.as_slice()),
        ("new front".to_owned(), size.front_ease.as_slice()),
        (format!("{flat} back"), old.back_ease.as_slice()),
        ("new back".to_owned(), size.back_ease.as_slice()),
    ]
}
