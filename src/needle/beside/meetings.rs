//! Where the stripes meet the body: the table against its own sentence, and against one row of the body's
//! stripes that must serve all its lines.

use super::printed::PrintedSection;
use crate::diagnostic::{Diagnostic, Span};
use crate::needle::codes;
use crate::needle::cursor::Cursor;
use crate::needle::lexer::{Token, lex};
use crate::stitch::{Striped, Stripes};

/// A line of the table.
struct MeetingSaid {
    side: &'static str,
    pair: u32,
    /// As it is printed, and as a number.
    height: String,
    number: f64,
    body_row: u32,
    body_rows: u32,
    off: Option<i64>,
    alike: bool,
    place: Span,
}

const SIDES: [&str; 3] = ["front and back", "front", "back"];

/// What is wrong in the table of a sleeve whose row 1 is this row of its stripes; nothing where there is no table.
pub(super) fn meetings(
    printed: &PrintedSection,
    sentences: &[&[Token<'_>]],
    (sleeve, body): (&Stripes, &Stripes),
    (first, pairs): (u32, u32),
) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let mut told: Vec<MeetingSaid> = Vec::new();
    for (at, line) in printed.lines() {
        match line_of(at, line) {
            MeetingLine::Told(meeting) => told.push(meeting),
            MeetingLine::Unread => {
                let message = "where the sleeve meets the body cannot be read here".to_owned();
                let place = Span::new(at, at + line.trim_end().len());
                found.push(printed.at(&codes::UNREADABLE, message, place));
            }
            MeetingLine::Other => {}
        }
    }
    let striped = |armhole_row: u32| Striped {
        body: body.clone(),
        sleeve: sleeve.clone(),
        armhole_row,
        first_row: Some(first),
        match_at: 0.0,
    };
    // The row of the body's stripes at the underarm is not told: it must be one for all lines.
    let each = (0..body.period()).map(|row| unlike(&striped(row), first, &told));
    let unlike = each.min_by_key(Vec::len).unwrap_or_default();
    found.extend(unlike.into_iter().map(|meeting| {
        let message = "the stripe lies otherwise than in the other lines".to_owned();
        printed.at(&codes::COUNT, message, meeting.place)
    }));
    for side in SIDES {
        let own: Vec<&MeetingSaid> = told.iter().filter(|meeting| meeting.side == side).collect();
        if !own.is_empty() {
            found.extend(in_order(printed, &own, pairs));
            found.extend(sentence(printed, sentences, side, &own));
        }
    }
    found
}

/// The lines that do not follow from this row of the body's stripes at the underarm.
fn unlike<'m>(striped: &Striped, first: u32, told: &'m [MeetingSaid]) -> Vec<&'m MeetingSaid> {
    let wrong = told.iter().filter(|m| {
        let sleeve = i64::from(first) - (2 * i64::from(m.pair) - 1);
        let body = i64::from(striped.armhole_row) + i64::from(m.body_row) - 1;
        m.off != striped.off(sleeve, body)
            || m.alike != (striped.sleeve.colour(sleeve) == striped.body.colour(body))
    });
    wrong.collect()
}

/// Pairs follow one another down to the last; heights and rows of the body fall, and one height of a row serves all.
fn in_order(printed: &PrintedSection, own: &[&MeetingSaid], pairs: u32) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let mut say = |message: &str, meeting: &MeetingSaid| {
        found.push(printed.at(&codes::COUNT, message.to_owned(), meeting.place));
    };
    for (left, meeting) in (0..).zip(own.iter().rev()) {
        if meeting.pair.checked_add(left) != Some(pairs) {
            say(
                "the pairs do not follow one another down to the last",
                meeting,
            );
        }
    }
    for (above, below) in own.iter().zip(own.iter().skip(1)) {
        if below.number > above.number || below.body_row > above.body_row {
            say("it lies above the line before it", below);
        }
    }
    // Heights are printed to a tenth.
    let least = |m: &MeetingSaid| (m.number - 0.05) / f64::from(m.body_row.max(1));
    let most = |m: &MeetingSaid| (m.number + 0.05) / f64::from(m.body_row.saturating_sub(1));
    let low = own.iter().max_by(|a, b| least(a).total_cmp(&least(b)));
    let high = own.iter().min_by(|a, b| most(a).total_cmp(&most(b)));
    if let (Some(low), Some(high)) = (low, high)
        && least(low) > most(high)
    {
        say(
            "its height and its row of the body do not go with the other lines",
            low,
        );
    }
    found
}

/// The sentence above the table counts its lines.
fn sentence(
    printed: &PrintedSection,
    sentences: &[&[Token<'_>]],
    side: &str,
    own: &[&MeetingSaid],
) -> Option<Diagnostic> {
    let alike = own.iter().filter(|m| m.alike).count();
    let in_step: Vec<_> = own.iter().filter(|m| m.body_rows == 2).collect();
    let step = match (in_step.first(), in_step.last()) {
        (Some(high), Some(low)) => format!(
            "{} lie row for row along the body, between {} and {} above the underarm",
            in_step.len(),
            low.height,
            high.height
        ),
        _ => "none lies row for row along the body".to_owned(),
    };
    let rows: u64 = own.iter().map(|m| u64::from(m.body_rows)).sum();
    let wanted = format!(
        "{side}: {alike} of {} turn pairs meet the body in its colour; {step}; together they lie along {rows} rows of it",
        own.len()
    );
    let words = format!("{side}:");
    let said = sentences
        .iter()
        .find(|said| Cursor::new(said).phrase(&words));
    let said = said.copied().unwrap_or_default();
    let near = PrintedSection::nearest(said, &wanted)?;
    let place = if near.is_empty() { said } else { near };
    let message = format!("the lines of the table make \"{wanted}\"");
    Some(printed.differs(&codes::COUNT, message, place))
}

/// A line of the section.
enum MeetingLine {
    /// Of another table, or a heading.
    Other,
    /// One of this table that cannot be read.
    Unread,
    Told(MeetingSaid),
}

/// `front and back, pair 2   13.8 cm   39   2   3 rows too high   no`.
fn line_of(at: usize, line: &str) -> MeetingLine {
    let tokens = lex(line);
    let mut c = Cursor::new(&tokens);
    let side = c.any(&SIDES).and_then(|side| SIDES.get(side));
    let Some(side) = side.filter(|_| c.phrase(", pair")) else {
        return MeetingLine::Other;
    };
    cells(&mut c, side, at, &tokens).map_or(MeetingLine::Unread, MeetingLine::Told)
}

fn cells(
    c: &mut Cursor<'_, '_>,
    side: &'static str,
    at: usize,
    tokens: &[Token<'_>],
) -> Option<MeetingSaid> {
    let (first, last) = (tokens.first()?, tokens.last()?);
    let pair = c.number()?;
    let whole = c.number()?;
    c.expect(".")?;
    let tenths = c.number()?;
    let unit = ["cm", "in"].get(c.any(&["cm", "in"])?)?;
    let body_row = c.number()?;
    let body_rows = c.number()?;
    let RowsOff(off) = off(c)?;
    let alike = c.any(&["yes", "no"])? == 0;
    c.done().then(|| MeetingSaid {
        side,
        pair,
        height: format!("{whole}.{tenths} {unit}"),
        number: f64::from(whole) + f64::from(tenths) / 10.0,
        body_row,
        body_rows,
        off,
        alike,
        place: Span::new(at + first.span.from, at + last.span.to),
    })
}

/// By how many rows a stripe lies too high; none where its colour never comes.
struct RowsOff(Option<i64>);

/// `level`, `never`, `3 rows too high`.
fn off(c: &mut Cursor<'_, '_>) -> Option<RowsOff> {
    if c.phrase("level") {
        return Some(RowsOff(Some(0)));
    }
    if c.phrase("never") {
        return Some(RowsOff(None));
    }
    let rows = i64::from(c.number()?);
    c.any(&["rows too", "row too"])?;
    let high = c.any(&["high", "low"])? == 0;
    Some(RowsOff(Some(if high { rows } else { -rows })))
}
