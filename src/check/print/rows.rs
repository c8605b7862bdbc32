//! The lines of a print as the reader of patterns reads them.

use crate::diagnostic::Diagnostic;
use crate::leaflet::Leaflet;
use crate::measure::{Side, Stitches, Units, nearest_whole, parse_size_list};
use crate::pattern::{Context, Piece, Reading, read};

/// These lines as the reader reads them.
pub(in crate::check) fn reading(
    leaflet: &Leaflet,
    lines: &str,
    stitches: &str,
    piece: Piece,
) -> Option<(Reading, Vec<Diagnostic>)> {
    let text = leaflet.fact(lines).filter(|fact| !fact.value.is_empty())?;
    let mut context = context(leaflet, stitches)?;
    context.piece = piece;
    if piece == Piece::Sleeve
        && leaflet
            .fact("sleeve.first_row")
            .is_some_and(|side| side.value == "WS")
    {
        context.first_row = Side::Ws;
    }
    let (reading, mut said) = read(&text.value, &context);
    // Without a row gauge lengths are nothing that could disagree.
    if context.row_heights.is_none() {
        said.retain(|said| said.code.id != "needs-row-gauge");
    }
    Some((reading, said))
}

fn context(leaflet: &Leaflet, stitches: &str) -> Option<Context> {
    let number = |key: &str| {
        leaflet
            .fact(key)
            .and_then(|fact| fact.value.parse::<f64>().ok())
    };
    let counts = parse_size_list(&leaflet.fact(stitches)?.value).ok()?;
    let labels = leaflet.fact("sizes").map_or_else(
        || vec![crate::case::ONE_SIZE.to_owned()],
        |fact| fact.value.split(", ").map(str::to_owned).collect(),
    );
    let counts = counts.into_iter().map(|n| Stitches(nearest_whole(n)));
    let mut context = Context::new(labels, counts.collect());
    let inches = leaflet
        .fact("units")
        .is_some_and(|units| units.value == "in");
    context.units = if inches { Units::In } else { Units::Cm };
    // Rows of the body are of its own gauge, where it has one.
    let body = stitches.starts_with("armhole") && number("gauge.body.rows").is_some();
    let gauge = if body { "gauge.body" } else { "gauge.pattern" };
    let usual = if inches { 4.0 } else { 10.0 };
    let over = number(&format!("{gauge}.over")).unwrap_or(usual);
    context.row_heights = number(&format!("{gauge}.rows"))
        .filter(|rows| *rows > 0.0)
        .map(|rows| vec![context.units.length(over / rows)]);
    Some(context)
}
