//! The rows to be counted along the armhole before the yarn is joined, held against those that are picked up from.

use super::codes;
use super::cursor::Cursor;
use super::knitted::Knitted;
use super::lexer::lex;
use super::parse::rows;
use crate::diagnostic::{Diagnostic, Span};
use crate::plan::{Flank, Section};

/// `back side 56 rows, 12 of them for the crown and 44 for the flank`.
struct Edge {
    side: Side,
    all: u32,
    crown: u32,
    flank: u32,
    span: Span,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    First,
    Second,
    Of(Flank),
}

const SIDES: [(&str, Side); 4] = [
    ("first side", Side::First),
    ("second side", Side::Second),
    ("back side", Side::Of(Flank::Back)),
    ("front side", Side::Of(Flank::Front)),
];

/// What the sentence that is last in this text, above instructions, says of the rows that these pick up from.
pub(crate) fn check(before: &str, knitted: &Knitted) -> Vec<Diagnostic> {
    let said = told(before);
    let wrong = said.iter().filter_map(|edge| differs(edge, knitted));
    wrong.collect()
}

/// Both sides of the last such sentence.
fn told(text: &str) -> Vec<Edge> {
    const BEGINS: &str = "Count the rows along each side of the armhole";
    // Lines are broken anywhere, so the words are looked for one by one.
    let tokens = lex(text);
    let begins = |at: &usize| {
        let rest = tokens.get(*at..).unwrap_or_default();
        rest.first().is_some_and(|token| token.is("Count")) && Cursor::new(rest).phrase(BEGINS)
    };
    let Some(from) = (0..tokens.len()).rev().find(begins) else {
        return Vec::new();
    };
    let rest = tokens.get(from..).unwrap_or_default();
    let end = rest.iter().position(|token| token.is("."));
    let sentence = rest.get(..end.unwrap_or(rest.len())).unwrap_or_default();
    let at = |at: usize| {
        let rest = sentence.get(at..)?;
        let mut cursor = Cursor::new(rest);
        let (side, all, crown, flank) = edge(&mut cursor)?;
        let whole = rest.first()?.span;
        Some(Edge {
            side,
            all,
            crown,
            flank,
            span: whole,
        })
    };
    (0..sentence.len()).filter_map(at).collect()
}

fn edge(c: &mut Cursor<'_, '_>) -> Option<(Side, u32, u32, u32)> {
    let (_, side) = *SIDES.get(c.any(&SIDES.map(|(words, _)| words))?)?;
    let all = rows(c)?;
    let parts = c.attempt(|c| {
        c.expect(",")?;
        let crown = c.number()?;
        c.expect("of them for the crown and")?;
        let flank = c.number()?;
        c.expect("for the flank")?;
        Some((crown, flank))
    });
    let (crown, flank) = parts.unwrap_or((0, all));
    Some((side, all, crown, flank))
}

fn differs(edge: &Edge, knitted: &Knitted) -> Option<Diagnostic> {
    let picked = |section: Section| -> u32 {
        let of_it = knitted.stretches.iter().filter(|s| s.section == section);
        of_it.map(|s| s.rows.count()).fold(0, u32::saturating_add)
    };
    let first = match edge.side {
        Side::First => true,
        Side::Second => false,
        Side::Of(flank) => knitted.first_flank? == flank,
    };
    let crown = picked(Section::Crown);
    let (crown, flank) = if first {
        (crown / 2, picked(Section::First))
    } else {
        (crown.div_ceil(2), picked(Section::Second))
    };
    let all = crown.saturating_add(flank);
    ((edge.all, edge.crown, edge.flank) != (all, crown, flank)).then(|| {
        let message = format!(
            "{} rows are to be counted there, {} for the crown and {} for the flank, but the pick-up goes over {all}: {crown} and {flank}",
            edge.all, edge.crown, edge.flank
        );
        Diagnostic::new(&codes::COUNT, message).at(edge.span)
    })
}
