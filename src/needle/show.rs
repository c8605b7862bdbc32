//! The needle and the fabric in plain text, for teaching.

use super::knitted::{Column, Knitted};
use crate::plan::{Flank, NeedleRow, Section};

/// The needle after one row of the cap: its picture, what the signs mean, and the counts.
///
/// Nothing when the cap has no such row. Rows are numbered from 1; the last one runs on to the
/// middle of the base.
pub fn show_row(knitted: &Knitted, row: u32) -> Option<String> {
    let shown = knitted.needle_rows.iter().find(|r| r.row == row)?;
    let side = if shown.right_side { "RS" } else { "WS" };
    let step = shown
        .step
        .as_ref()
        .map_or(String::new(), |step| format!(", step {step}"));
    let (first, second) = flank_names(knitted);
    Some(format!(
        "row {row} ({side}){step}\n{}\n{}\n{} worked, {} waiting on the {second}, {} on the {first}; {} decreased, {} on the needle\n",
        shown.picture,
        legend(shown),
        shown.worked.count(),
        shown.waiting_second.count(),
        shown.waiting_first.count(),
        shown.decreases,
        shown.stitches.count(),
    ))
}

/// The first and the second flank by name.
fn flank_names(knitted: &Knitted) -> (&'static str, &'static str) {
    match knitted.first_flank {
        None => ("first flank", "second flank"),
        Some(Flank::Back) => ("back flank", "front flank"),
        Some(Flank::Front) => ("front flank", "back flank"),
    }
}

/// The signs that occur, in words.
fn legend(row: &NeedleRow) -> String {
    let all = [
        ('-', "worked in this row"),
        ('/', "two worked together in this row"),
        ('=', "worked before"),
        ('w', "wrapped"),
        ('d', "double st"),
        ('.', "waiting"),
        ('|', "marker"),
    ];
    let used = all.iter().filter(|(sign, _)| row.picture.contains(*sign));
    let said = used.map(|(sign, words)| format!("{sign} {words}"));
    said.collect::<Vec<_>>().join("   ")
}

/// The cap as columns of stitches, the crown on top, one line a turn pair: `#` worked in this
/// pair, `/` decreased into its neighbour in this pair, a dot once it is part of its neighbour,
/// blank while it waits. Left to right as the needle goes from the middle of the base.
pub fn draw_columns(knitted: &Knitted) -> String {
    let columns = &knitted.columns;
    let half = columns
        .iter()
        .filter(|c| c.section == Section::Base)
        .count()
        / 2;
    let before = columns
        .iter()
        .take_while(|c| c.section < Section::Base)
        .count()
        + half;
    let order = || {
        columns
            .iter()
            .skip(before)
            .chain(columns.iter().take(before))
    };
    let mut out = String::new();
    for pair in 1..=knitted.turn_pairs {
        let line: String = order().map(|column| sign(column, pair)).collect();
        out.push_str(format!("{pair:>3} {line}").trim_end());
        out.push('\n');
    }
    out
}

fn sign(column: &Column, pair: u32) -> char {
    let begun = column.first_row.is_some_and(|row| row <= 2 * pair);
    let pair_of = |row: u32| row.div_ceil(2);
    match column.decreased_row.map(pair_of) {
        Some(ended) if ended < pair => '.',
        Some(ended) if ended == pair => '/',
        _ if begun => '#',
        _ => ' ',
    }
}
