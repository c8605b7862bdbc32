//! The pattern's own lines as the page shows them: a table of rows, and what was found.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::request::Request;
use super::said::{located, place};
use crate::case::{Armhole, Case, Terms, split_labels};
use crate::convert::{armhole_context, cap_context};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Side, Stitches, Stop, Units, nearest_whole, parse_size_list};
use crate::pattern::{Context, Piece, Reading, Readings, read_until};
use crate::report::{ReadingRow, reading_rows};

/// Every set of lines of the case: its ledger as a table, for one size or for all.
pub(super) fn all_lines(request: &Request, only: Option<usize>) -> KeyedTables {
    let (sets, only) = match &request.case {
        Some(case) => (sets(case), only),
        // The cap can be read long before the rest of the case is there.
        None => (unfinished(&request.form), request.place()),
    };
    let uk = is_uk(request);
    let mut tables: KeyedTables = (sets.into_iter())
        .map(|(name, lines, context)| (name, table(name, lines, (&context, &request.stop), only)))
        .collect();
    let rows = tables.values_mut().flat_map(|table| table.rows.iter_mut());
    for row in rows.filter(|_| uk) {
        row.what = row.what.replace("bound off", "cast off");
    }
    tables
}

/// True when the sleeve is told in UK terms.
fn is_uk(request: &Request) -> bool {
    let terms = request.form.get("wording").and_then(|w| w.get("terms"));
    let typed = terms.and_then(Value::as_str) == Some("uk");
    let read = request.case.as_ref().map(|case| case.style.terms);
    read.map_or(typed, |terms| terms == Terms::Uk)
}

/// Tables by the keys of their lines.
pub(super) type KeyedTables = BTreeMap<&'static str, LineTable>;

/// The pattern's own lines, row by row.
#[derive(Serialize)]
pub(super) struct LineTable {
    rows: Vec<LineRow>,
    /// Each with its place in the lines.
    findings: Vec<Value>,
}

/// A row, or several that come from the same words; sizes in trade notation.
#[derive(Serialize)]
struct LineRow {
    rows: String,
    /// What is done on them.
    what: String,
    /// Stitches left.
    left: String,
    /// The words they come from, as a browser counts.
    at: [usize; 2],
}

/// A key of a case, the lines it holds, what is known beside them.
type KeyLines<'a> = (&'static str, &'a str, Context);

fn sets(case: &Case) -> Vec<KeyLines<'_>> {
    let mut sets = Vec::new();
    // A cap that is drafted has no lines.
    if let (false, Ok(context)) = (case.sleeve.cap.trim().is_empty(), cap_context(case)) {
        sets.push(("sleeve.cap", case.sleeve.cap.as_str(), context));
    }
    let armholes: &[(&'static str, &Armhole)] = if case.front == case.back {
        &[("armhole.lines", &case.front)]
    } else {
        &[
            ("armhole.front.lines", &case.front),
            ("armhole.back.lines", &case.back),
        ]
    };
    for (name, armhole) in armholes {
        if let (Armhole::Lines { lines, .. }, Ok(Some(context))) =
            (armhole, armhole_context(case, armhole))
        {
            sets.push((name, lines.as_str(), context));
        }
    }
    sets
}

/// The cap's lines of a case that is not complete yet.
fn unfinished(form: &Value) -> Vec<KeyLines<'_>> {
    let cap = unfinished_cap(form).into_iter();
    cap.map(|(lines, context)| ("sleeve.cap", lines, context))
        .collect()
}

fn unfinished_cap(form: &Value) -> Option<(&str, Context)> {
    let sleeve = form.get("sleeve")?;
    let lines = sleeve.get("cap")?.as_str()?;
    let stitches = numbers(sleeve.get("stitches")?)?;
    let labels = form.get("sizes").map(labels).unwrap_or_default();
    let sizes = if labels.len() == stitches.len() {
        labels
    } else {
        (1..=stitches.len()).map(|n| n.to_string()).collect()
    };
    let stitches = stitches.into_iter().map(|n| Stitches(nearest_whole(n)));
    let units = match form.get("units").and_then(Value::as_str) {
        Some("in") => Units::In,
        _ => Units::Cm,
    };
    let first_row = match sleeve.get("first_row").and_then(Value::as_str) {
        Some("WS") => Side::Ws,
        _ => Side::Rs,
    };
    let context = Context {
        sizes,
        stitches: stitches.collect(),
        first_row,
        row_heights: row_height(form, units).map(|height| vec![height]),
        units,
        piece: Piece::Sleeve,
        readings: Readings::default(),
    };
    Some((lines, context))
}

fn row_height(form: &Value, units: Units) -> Option<Length> {
    let swatch = form.get("gauge")?.get("pattern")?;
    let rows = *numbers(swatch.get("rows")?)?.first()?;
    let over = swatch.get("over").and_then(numbers);
    let over = over.and_then(|list| list.first().copied());
    let over = over.map_or(units.swatch_length(), |number| units.length(number));
    let height = over / rows;
    height.is_positive().then_some(height)
}

/// Labels of the sizes, as a list or as they were typed.
fn labels(value: &Value) -> Vec<String> {
    match value {
        Value::String(text) => split_labels(text),
        Value::Array(list) => {
            let labels = list.iter().filter_map(Value::as_str);
            labels.map(str::to_owned).collect()
        }
        _ => Vec::new(),
    }
}

/// One number or several, as a number, a list or text.
fn numbers(value: &Value) -> Option<Vec<f64>> {
    let list = match value {
        Value::Number(number) => vec![number.as_f64()?],
        Value::String(text) => parse_size_list(text).ok()?,
        Value::Array(list) => list.iter().map(Value::as_f64).collect::<Option<_>>()?,
        _ => return None,
    };
    let fine = |number: &f64| (0.0..1e6).contains(number);
    (!list.is_empty() && list.iter().all(fine)).then_some(list)
}

fn table(
    name: &'static str,
    lines: &str,
    (context, stop): (&Context, &Stop),
    only: Option<usize>,
) -> LineTable {
    let (reading, said) = read_until(lines, context, stop);
    let one = only.and_then(|only| reading.sizes.get(only));
    let shown = match one {
        Some(one) => Reading {
            sizes: vec![one.clone()],
        },
        None => reading,
    };
    // The rest of a body piece waits on the needle for the shoulder seam.
    let heard = |said: &&Diagnostic| name == "sleeve.cap" || said.code.id != "not-closed";
    let said = said.iter().filter(heard);
    let rows = reading_rows(&shown).into_iter();
    LineTable {
        rows: rows.map(|row| table_row(row, lines)).collect(),
        findings: said.map(|one| located(one, Some(name), lines)).collect(),
    }
}

fn table_row(row: ReadingRow, lines: &str) -> LineRow {
    let [rows, what, left] = row.cells;
    LineRow {
        rows,
        what,
        left,
        at: place(lines, row.words),
    }
}
