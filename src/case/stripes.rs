//! `[stripes]`: colours and rows of body and sleeve.

use super::codes::OUT_OF_RANGE;
use super::table::CaseTable;
use super::words;
use crate::measure::{MATCH_AT, STRIPE_ROW, STRIPE_ROWS, nearest_whole};
use crate::stitch::{STRIPES, Stripe, Striped, Stripes};

pub(super) fn striped(table: &CaseTable<'_>) -> Option<Striped> {
    if !table.has("body") && !table.has("sleeve") {
        table.missing("body", "body = [[\"navy\", 4], [\"cream\", 2]]");
    }
    let body = table.has("body").then(|| stripes(table, "body"));
    let sleeve = table.has("sleeve").then(|| stripes(table, "sleeve"));
    let (body, sleeve) = match (body, sleeve) {
        (Some(body), Some(sleeve)) => (body, sleeve),
        (Some(both), None) | (None, Some(both)) => (both.clone(), both),
        (None, None) => (None, None),
    };
    let armhole_row = row(table, "armhole_row", body.as_ref());
    let first_row = row(table, "first_row", sleeve.as_ref());
    let match_at = table.number("match_at", &MATCH_AT).unwrap_or(0.5);
    table.finish();
    Some(Striped {
        body: body?,
        sleeve: sleeve?,
        armhole_row: armhole_row.unwrap_or(0),
        first_row,
        match_at,
    })
}

fn stripes(table: &CaseTable<'_>, key: &str) -> Option<Stripes> {
    let pairs = table.pairs(key)?;
    let mut stripes = Vec::new();
    let all = pairs.len();
    for (colour, rows, place) in pairs {
        let colour = colour.trim();
        if colour.is_empty() {
            let message = format!("stripes.{key} has a colour without a name.");
            table.say(&STRIPES, place, message);
            continue;
        }
        if rows.fract() != 0.0 {
            let message = format!("stripes.{key} has {rows} rows of {colour}; rows are whole.");
            table.say(&STRIPES, place, message);
        } else if STRIPE_ROWS.check(rows).is_err() {
            let message = format!(
                "stripes.{key} has {rows} rows of {colour}; a stripe has {} to {} rows.",
                STRIPE_ROWS.min, STRIPE_ROWS.max
            );
            table.say(&OUT_OF_RANGE, place, message);
        } else {
            stripes.push(Stripe {
                colour: words::name(table, key, colour),
                rows: nearest_whole(rows),
            });
        }
    }
    if all == 0 {
        let message = format!("stripes.{key} has no stripe.");
        table.say(&STRIPES, table.place_of(key), message);
    }
    (!stripes.is_empty() && stripes.len() == all).then_some(Stripes { stripes })
}

/// A row of the sequence, from 1 in the case and from 0 here.
fn row(table: &CaseTable<'_>, key: &str, of: Option<&Stripes>) -> Option<u32> {
    let given = table.count(key, &STRIPE_ROW)?;
    let most = of.map_or(given, Stripes::period);
    if given > most {
        let message =
            format!("stripes.{key} is {given}, but the stripes begin again after {most} rows.");
        table.say(&OUT_OF_RANGE, table.place_of(key), message);
        return None;
    }
    Some(given - 1)
}
