//! The table of the stitches beside the marker, from each shaping of the tube on.

use super::printed::PrintedSection;
use crate::diagnostic::{Diagnostic, Span};
use crate::needle::codes;
use crate::needle::knitted::Knitted;
use crate::needle::lexer::{WordKind, lex};

const CAPTION: &str = "Stitches of the repeat beside the marker, from each shaping on";

/// Every number of the table against the tube as it was knitted.
pub(super) fn check(printed: &PrintedSection, knitted: &Knitted) -> Vec<Diagnostic> {
    let table = printed.table(CAPTION).into_iter();
    let told: Vec<_> = table
        .filter_map(|(cells, place)| Some((row(&cells)?, place)))
        .collect();
    let wanted = rows(knitted);
    let mut found = Vec::new();
    for ((said, place), wanted) in told.iter().zip(&wanted) {
        if said != wanted {
            let message = format!(
                "the table of the pattern in the tube has {said:?}, the sleeve as it was knitted {wanted:?}"
            );
            found.push(printed.at(&codes::COUNT, message, *place));
        }
    }
    if told.len() != wanted.len() {
        let message = format!(
            "the table of the pattern in the tube has {} rows, the tube {} shapings",
            told.len(),
            wanted.len()
        );
        let place = told.last().map_or(Span::new(0, 0), |(_, place)| *place);
        found.push(printed.at(&codes::COUNT, message, place));
    }
    found
}

/// The numbers of a row; none of the headings, and none where it is all noughts: a size with fewer shapings.
fn row(cells: &[String]) -> Option<Vec<u32>> {
    let number = |cell: &String| match lex(cell).as_slice() {
        [token] => match token.kind {
            WordKind::Number(n) => Some(n),
            _ => None,
        },
        _ => None,
    };
    let numbers: Vec<u32> = cells.iter().map(number).collect::<Option<_>>()?;
    numbers.iter().any(|n| *n > 0).then_some(numbers)
}

/// Round, stitches, row of the repeat where it has several, the stitches of the repeat beside the marker.
fn rows(knitted: &Knitted) -> Vec<Vec<u32>> {
    let Some(repeat) = knitted.charts.first() else {
        return Vec::new();
    };
    let widens = !knitted.increase_rounds.is_empty();
    let shaped = if widens {
        &knitted.increase_rounds
    } else {
        &knitted.decrease_rounds
    };
    let (from, to) = first_round(knitted);
    let cap_rows = knitted.needle_rows.last().map_or(0, |row| row.row);
    let number = |column: i64| {
        let place = column + i64::from(repeat.first_stitch) - 1;
        u32::try_from(place.rem_euclid(i64::from(repeat.width.max(1))) + 1).unwrap_or(0)
    };
    let row = |(times, round): (i64, &u32)| {
        let times = if widens { -times } else { times };
        let begun = *round > knitted.worked_rounds.count();
        // Stitches beside the plan's are taken to lie half at either end.
        let beside = if begun {
            i64::from(knitted.beside) / 2
        } else {
            0
        };
        let (from, to) = (from + times - beside, to - times + beside);
        let mut all = vec![*round, u32::try_from(to - from).unwrap_or(0)];
        let of_repeat = repeat.row_at(cap_rows.saturating_add(*round)) + 1;
        all.extend((repeat.height > 1).then_some(of_repeat));
        all.extend([from + 1, to - 2].map(number));
        all
    };
    (1..).zip(shaped).map(row).collect()
}

/// The columns of the first round, counted from the first crown stitch: the stitches that WS rows have added, the
/// corner where they leave the base, and the base after the marker lie before it.
fn first_round(knitted: &Knitted) -> (i64, i64) {
    let rows = knitted.needle_rows.iter();
    let pairs = rows.clone().zip(rows.skip(1));
    let on_ws = pairs.filter(|(_, at)| !at.right_side);
    let added = on_ws.map(|(before, at)| at.worked.saturating_sub(before.worked).count());
    let added: i64 = added.map(i64::from).sum();
    let [leaving, _] = knitted.corners.map(|corner| i64::from(corner.change));
    let from = -(added + leaving + i64::from(knitted.base_after.count()));
    (from, from + i64::from(knitted.upper_arm.count()))
}
