//! The counts of a swatch as the knitter wrote them down: `[gauge.*]` of a case, `[so_far.gauge]`.

use super::codes::{LIST_LENGTH, OUT_OF_RANGE};
use super::table::{CaseTable, article};
use crate::measure::{
    Bound, COUNT_SPAN, DIVISION, EDGE_STITCHES, Length, ROWS_PER_10CM, STITCHES_PER_10CM,
    SWATCH_OVER,
};

/// One count: so many stitches (or rows), halves allowed, over a measured length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwatchCount {
    /// What was counted.
    pub counted: f64,
    /// The length it was counted over.
    pub over: Length,
}

/// A swatch: every count of stitches and of rows that was taken on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Swatch {
    /// Counts along a row; at least one.
    pub stitches: Vec<SwatchCount>,
    /// Counts up the fabric; at least one.
    pub rows: Vec<SwatchCount>,
    /// Counted after washing, if that was said.
    pub washed: Option<bool>,
    /// A swatch "in the round" that was worked as a flat strip with floats behind it.
    pub floats: bool,
    /// Edge stitches that are part of every count of stitches; 0 when counted in the middle.
    pub edge_stitches: u32,
    /// The smallest part of a stitch or row that was counted; a half when nothing is said.
    pub division: Option<f64>,
    /// The same swatch counted before it was washed, when both were done.
    pub before_washing: Option<Box<Swatch>>,
}

pub(super) fn swatch(table: &CaseTable<'_>) -> Option<Swatch> {
    let overs = overs(table);
    let stitches = counts(table, "stitches", &overs, &STITCHES_PER_10CM);
    let rows = counts(table, "rows", &overs, &ROWS_PER_10CM);
    for (key, list) in [("stitches", &stitches), ("rows", &rows)] {
        if list.is_none() && !table.has(key) {
            table.missing(key, &format!("{key} = 22"));
        }
    }
    let before_washing = table.table("before_washing").and_then(|t| swatch(&t));
    let swatch = Swatch {
        stitches: stitches.unwrap_or_default(),
        rows: rows.unwrap_or_default(),
        washed: table.flag("washed"),
        floats: table.flag("floats").unwrap_or(false),
        edge_stitches: table.count("edge_stitches", &EDGE_STITCHES).unwrap_or(0),
        division: table.number("division", &DIVISION),
        before_washing: before_washing.map(Box::new),
    };
    table.finish();
    (!swatch.stitches.is_empty() && !swatch.rows.is_empty()).then_some(swatch)
}

/// The lengths counts were taken over: one for all, or one for each count.
fn overs(table: &CaseTable<'_>) -> Vec<Length> {
    let units = table.reading().units;
    let numbers = table.numbers("over");
    let Some(numbers) = numbers else {
        return vec![units.swatch_length()];
    };
    let span = table.place_of("over");
    let lengths = numbers.into_iter().filter_map(|number| {
        let length = units.length(number);
        if SWATCH_OVER.check(length.to_cm()).is_err() {
            let message = format!(
                "The swatch is measured over {number} {units}; it lies between {} and {}.",
                units.show(Length::cm(SWATCH_OVER.min)),
                units.show(Length::cm(SWATCH_OVER.max)),
            );
            table.say(&OUT_OF_RANGE, span, message);
            return None;
        }
        Some(length)
    });
    let lengths: Vec<Length> = lengths.collect();
    if lengths.is_empty() {
        vec![units.swatch_length()]
    } else {
        lengths
    }
}

fn counts(
    table: &CaseTable<'_>,
    key: &str,
    overs: &[Length],
    per_10cm: &'static Bound,
) -> Option<Vec<SwatchCount>> {
    let numbers = table.numbers(key)?;
    let span = table.place_of(key);
    if overs.len() > 1 && overs.len() != numbers.len() {
        let message = format!(
            "There are {} counts of {key} but {} lengths in `over`; give one length for all, or one for each count.",
            numbers.len(),
            overs.len()
        );
        table.say(&LIST_LENGTH, span, message);
        return None;
    }
    let checked: Vec<Option<SwatchCount>> = numbers
        .iter()
        .enumerate()
        .map(|(i, &counted)| {
            let over = overs.get(i).or(overs.first()).copied()?;
            table.within(key, counted, &COUNT_SPAN, span)?;
            let gauge = counted * 10.0 / over.to_cm();
            if per_10cm.check(gauge).is_err() {
                let message = format!(
                    "{counted} {key} over {} would be {gauge:.1} per 10 cm; {} {} lies within {}.",
                    table.reading().units.show(over),
                    article(per_10cm.name),
                    per_10cm.name,
                    per_10cm.allowed()
                );
                table.say(&OUT_OF_RANGE, span, message);
                return None;
            }
            Some(SwatchCount { counted, over })
        })
        .collect();
    checked.into_iter().collect()
}
