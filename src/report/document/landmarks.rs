//! What the work measures on the way.

use super::{Block, ColumnKind, Reader, TableBlock, TableColumn};
use crate::convert::{GaugeError, GiveOrTake, HalfWay, Landmark, Landmarks, MEASURED_TO};
use crate::measure::Units;

/// The depth and width after every step, and the check half way.
pub(super) fn landmarks(units: Units, of: &Landmarks, reader: Reader) -> Vec<Block> {
    vec![
        Block::heading("Measures to check"),
        Block::Table(table(units, &of.steps)),
        Block::Sentences(sentences(units, of, reader)),
    ]
}

fn table(units: Units, steps: &[Landmark]) -> TableBlock {
    let number = |name: &str| TableColumn::new(name, ColumnKind::Number);
    let row = |landmark: &Landmark| {
        let name = landmark.step.clone();
        vec![
            name.unwrap_or_else(|| "Rows 1 and 2".to_owned()),
            landmark.turn_pairs.to_string(),
            (2 * landmark.turn_pairs).to_string(),
            give_or_take(units, landmark.depth),
            give_or_take(units, landmark.width),
        ]
    };
    let columns = vec![
        TableColumn::new("After step", ColumnKind::Head),
        number("turn pairs"),
        number("rows"),
        number("depth so far"),
        number("width between the turns"),
    ];
    let caption = "The cap after every step".to_owned();
    TableBlock::new(caption, columns, steps.iter().map(row).collect()).under_heading()
}

/// `2.4 in ± 0.2`.
fn give_or_take(units: Units, of: GiveOrTake) -> String {
    format!("{} ± {}", units.show(of.length), bare(units, of))
}

fn bare(units: Units, of: GiveOrTake) -> String {
    let shown = units.show(of.off);
    let number = shown.split(' ').next();
    number.unwrap_or_default().to_owned()
}

fn sentences(units: Units, of: &Landmarks, reader: Reader) -> Vec<String> {
    let error = match of.error {
        GaugeError::Counts => "the 95 % interval of your counts",
        GaugeError::OneCount => {
            "2 % for a swatch counted once, as is usual (common practice, no source)"
        }
        GaugeError::Work => "what the tape leaves open of the rows you measured",
        GaugeError::OtherNeedles => {
            "2 % at the least, as two swatches of one knitter usually differ (common practice, no source)"
        }
        GaugeError::NoSwatch => {
            "5 % where there is no swatch of your own, as is usual (common practice, no source)"
        }
    };
    let mut said = vec![
        "Measure on a table, flat and not stretched: the depth from the picked-up edge in the middle of the crown straight down to the needle, the width along the needle from turn to turn. Hung up it measures more; how much, only a swatch that has hung can tell.".to_owned(),
        format!(
            "Up to ± off is nothing to worry about: that is {error}, and {} of the tape.",
            units.show(MEASURED_TO)
        ),
    ];
    // The case tells one change of needles, at the last row worked: it takes no later row beside it.
    let cure = match of.error {
        GaugeError::OtherNeedles => None,
        GaugeError::Work => Some("what was measured"),
        _ => Some("those of the swatch"),
    };
    let half = of.half_way.as_ref();
    said.extend(half.map(|half| half_way(units, half, cure, reader)));
    said
}

fn half_way(units: Units, half: &HalfWay, cure: Option<&str>, reader: Reader) -> String {
    let (at, rows) = (&half.at, 2 * half.at.turn_pairs);
    let step = at
        .step
        .as_ref()
        .map_or_else(String::new, |step| format!(", in step {step}"));
    let cure = cure.map_or_else(String::new, |of_what| {
        let give = format!("give {rows} rows and what they measure");
        let how = match reader {
            Reader::Terminal => format!("{give} in the case (so_far.rows, so_far.depth)"),
            Reader::Browser => format!("{give} under \u{201c}On the needles already\u{201d}"),
            Reader::Page | Reader::Paper => give,
        };
        format!(
            " If it is further off, your rows are not {of_what}: {how}, and the rest is planned from there."
        )
    });
    format!(
        "Half way, after pair {} (row {rows}{step}), it is {} deep, {} either way. At the end it is {}: whatever is missing or too much here is {:.1} times as much there, and a turn pair makes {}.{cure}",
        at.turn_pairs,
        units.show(at.depth.length),
        units.show(at.depth.off),
        units.show(half.end.length),
        half.end.length / at.depth.length,
        units.show(half.pair),
    )
}
