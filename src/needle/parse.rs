//! Tokens -> sentences. Never fails: what cannot be read is a sentence without a meaning.

use super::claims;
use super::cursor::{Cursor, span_of};
use super::lexer::{Token, lex};
use super::parse_list;
use super::parse_pattern;
use super::parse_rounds;
use super::parse_rows;
use super::parse_stretch::{part, rows, section, stitches};
use super::said::{Said, Sentence};
use crate::diagnostic::Span;
use crate::plan::Flank;
use crate::plan::remarks::{HEADINGS, REMARKS, WRITTEN_BEFORE};

/// Splits a text into sentences and reads each.
pub(crate) fn parse(text: &str) -> Vec<Sentence> {
    let tokens = lex(text);
    let mut cursor = Cursor::new(&tokens);
    let mut sentences = Vec::new();
    while !cursor.done() {
        sentences.push(next_sentence(&mut cursor));
    }
    sentences
}

/// A heading, or everything up to a full stop and the square brackets that may follow it.
fn next_sentence(cursor: &mut Cursor<'_, '_>) -> Sentence {
    if let Some(heading) = heading(cursor) {
        return heading;
    }
    let mut words = label(cursor);
    while let Some(token) = cursor.bump() {
        if token.is(".") {
            break;
        }
        words.push(*token);
    }
    let mut span = span_of(&words);
    let brackets = brackets(cursor);
    let claims = match &brackets {
        Some((inside, whole)) => {
            span = span.join(*whole);
            claims::read(inside)
        }
        None => Some(Vec::new()),
    };
    Sentence {
        said: read(&Cursor::new(&words)),
        claims,
        span,
    }
}

fn heading(cursor: &mut Cursor<'_, '_>) -> Option<Sentence> {
    let start = cursor.peek()?;
    let capitals = start.text.chars().all(char::is_uppercase);
    if !capitals || cursor.any(HEADINGS).is_none() {
        return None;
    }
    Some(Sentence {
        said: Some(Said::Words),
        claims: Some(Vec::new()),
        span: start.span,
    })
}

/// The letters of a step, whose full stop ends no sentence.
fn label<'a>(cursor: &mut Cursor<'_, 'a>) -> Vec<Token<'a>> {
    let label = cursor.attempt(|c| {
        let letters = c.bump()?;
        let short = letters.text.len() <= 2 && letters.text.chars().all(|c| c.is_ascii_uppercase());
        let stop = c.bump()?;
        (short && stop.is(".")).then(|| vec![*letters, *stop])
    });
    label.unwrap_or_default()
}

/// The tokens inside square brackets, when some follow, and the place of the whole; to the end
/// when they are not closed.
fn brackets<'a>(cursor: &mut Cursor<'_, 'a>) -> Option<(Vec<Token<'a>>, Span)> {
    let mut whole = cursor.peek()?.span;
    cursor.expect("[")?;
    let mut inside = Vec::new();
    while let Some(token) = cursor.bump() {
        whole = whole.join(token.span);
        if token.is("]") {
            break;
        }
        inside.push(*token);
    }
    Some((inside, whole))
}

fn read(words: &Cursor<'_, '_>) -> Option<Said> {
    let remark = |text: &&str| {
        words
            .whole(|c| c.expect(text.trim_end_matches('.')))
            .is_some()
    };
    if REMARKS.iter().chain(WRITTEN_BEFORE).any(remark) {
        return Some(Said::Words);
    }
    words
        .whole(start)
        .or_else(|| words.whole(pick_up))
        .or_else(|| words.whole(put_right))
        .or_else(|| words.whole(parse_rows::first_row))
        .or_else(|| words.whole(parse_rows::so_far))
        .or_else(|| words.whole(parse_rows::step))
        .or_else(|| words.whole(parse_rounds::join))
        .or_else(|| words.whole(parse_rounds::first_round))
        .or_else(|| words.whole(parse_rounds::shape_round))
        .or_else(|| words.whole(parse_rounds::worked))
        .or_else(|| words.whole(parse_rounds::shape))
        .or_else(|| words.whole(parse_rounds::even))
        .or_else(|| words.whole(parse_rounds::adjust))
        .or_else(|| words.whole(parse_rounds::cuff))
        .or_else(|| words.whole(parse_list::row_list))
        .or_else(|| words.whole(parse_list::one_row_off))
        .or_else(|| words.whole(parse_pattern::pattern))
}

/// `With RS facing, begin on the front, 7 rows below the shoulder seam, ...`, for one sleeve or both.
fn start(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("With RS facing, begin")?;
    let on = c.any(&["on the front,", "on the back,"]);
    let rows = c.attempt(|c| {
        let rows = rows(c)?;
        c.expect("below")?;
        Some(rows)
    });
    if rows.is_none() {
        c.expect("at")?;
    }
    c.any(&["the shoulder seam", "the live sts of the saddle"])?;
    if on.is_none() {
        c.any(&[
            "(left sleeve: on the front; right sleeve: on the back)",
            "(left sleeve: on the back; right sleeve: on the front)",
        ])?;
    }
    c.expect(", and go over the shoulder and once round the armhole; the needle goes in")?;
    c.any(&[
        "one whole st inside the edge",
        "between the body and the steek",
    ])?;
    Some(Said::Start {
        rows,
        on: on.map(|i| if i == 0 { Flank::Front } else { Flank::Back }),
    })
}

/// `Crown: pick up and k ...; pm`, and the same for the other sections.
fn pick_up(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let (section, flank) = section(c)?;
    let ways = [
        ", from the crown down",
        ", from the base up",
        ", up to the shoulder seam",
    ];
    c.any(&ways);
    c.expect(":")?;
    let mut parts = vec![part(c)?];
    while c.phrase(";") {
        parts.push(part(c)?);
    }
    Some(Said::PickUp {
        section,
        flank,
        parts,
    })
}

/// `First flank, the sts that wait, from the crown down: skip 6 sts, pass the next over the one after it; skip 1 st, ...;
/// then 5 sts`, or `lift the strand` instead.
fn put_right(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let (section, flank) = section(c)?;
    c.any(&[
        ", the sts that wait, from the crown down:",
        ", the sts that wait, from the base up:",
        ", in the order of the pick-up:",
    ])?;
    let mut skips = Vec::new();
    let mut made = None;
    let left = loop {
        if let Some(left) = c.attempt(|c| {
            c.expect("then")?;
            stitches(c)
        }) {
            break left;
        }
        let skip = c.attempt(|c| {
            c.expect("skip")?;
            let skip = stitches(c)?;
            c.expect(",")?;
            Some(skip)
        });
        let lifts = c.any(&["pass the next over the one after it;", "lift the strand;"])? == 1;
        if made.is_some_and(|made| made != lifts) {
            return None;
        }
        made = Some(lifts);
        skips.push(skip.unwrap_or(0));
    };
    Some(Said::PutRight {
        section,
        flank,
        made: made?,
        skips,
        left,
    })
}
