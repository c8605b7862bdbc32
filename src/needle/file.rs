//! The instructions inside a whole written pattern.

use super::beside::{self, Around};
use super::codes;
use super::edges;
use super::headings::heading;
use super::knitted::Knitted;
use super::repair;
use super::sizes::{knit_sizes, sizes_of};
use crate::diagnostic::{Diagnostic, Level, Repair, Span};
use crate::plan::remarks::{AS_LEFT, HEADINGS, PICK_UP};

/// One set of instructions of a written pattern: a sleeve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The last heading before the instructions that names a sleeve; empty without one.
    pub title: String,
    /// The size it was knitted in, when the text is for several.
    pub size: Option<String>,
    /// Where the instructions stand in the text.
    pub span: Span,
    /// What was knitted from them.
    pub knitted: Knitted,
}

/// Finds and knits every set of instructions in a whole written pattern.
///
/// Instructions begin with the heading PICK UP and end with the first heading that is none of
/// [`HEADINGS`], or with the text. A heading is a line of capitals, four or more of them, that
/// ends there or goes on with a comma, colon or bracket.
/// Spans are bytes of `text`. The first error of each set carries the edits of one number after
/// which all of it agrees.
pub fn knit_file(text: &str) -> (Vec<Piece>, Vec<Diagnostic>) {
    let mut pieces = Vec::new();
    let mut diagnostics = Vec::new();
    let mut told: Option<Span> = None;
    let parts = parts(text);
    for (place, (title, span)) in parts.iter().enumerate() {
        let (span, before) = (*span, place.checked_sub(1).and_then(|at| parts.get(at)));
        let above = Span::new(before.map_or(0, |(_, span)| span.to), span.from);
        let next = parts.get(place + 1);
        let below = Span::new(span.to, next.map_or(text.len(), |(_, span)| span.from));
        let around = Around { above, below };
        let whole = WholePart::new(text, span, told);
        if whole.places.len() < 2 {
            told = Some(span);
        }
        let part = whole.text.as_str();
        let names = sizes_of(part).unwrap_or_default();
        let (of_sizes, mut found) = knit_sizes(part);
        if names.is_empty() {
            offer_repairs(part, &mut found);
        }
        diagnostics.extend(found.into_iter().map(|d| moved_diagnostic(d, &whole)));
        let above = text.get(..span.from).unwrap_or_default();
        match (names.is_empty(), of_sizes.as_slice()) {
            (true, [(_, only)]) => diagnostics.extend(edges::check(above, only)),
            (_, of_sizes) => diagnostics.extend(edges::check_sizes(above, of_sizes)),
        }
        for (at, (name, knitted)) in of_sizes.iter().enumerate() {
            let size = (!names.is_empty()).then_some((names.as_slice(), at));
            let found = beside::check(text, around, size, knitted).into_iter();
            diagnostics.extend(found.map(|d| match size {
                Some(_) => d.for_size(name.clone()),
                None => d,
            }));
        }
        pieces.extend(of_sizes.into_iter().map(|(name, knitted)| Piece {
            title: title.clone(),
            size: Some(name).filter(|name| !name.is_empty()),
            span,
            knitted,
        }));
    }
    if pieces.is_empty() && diagnostics.is_empty() {
        let message = format!("there is no heading {PICK_UP} where instructions would begin");
        diagnostics.push(Diagnostic::new(&codes::UNREADABLE, message));
    }
    (pieces, diagnostics)
}

/// A part with what it takes from the part before: the text, and where its pieces stand in the file.
struct WholePart {
    text: String,
    /// Where a piece begins in the text, and in the file.
    places: Vec<(usize, usize)>,
}

impl WholePart {
    fn new(file: &str, part: Span, told: Option<Span>) -> Self {
        let mut whole = Self {
            text: String::new(),
            places: Vec::new(),
        };
        let before = told.map(|told| sections(file, told)).unwrap_or_default();
        for (heading, span) in sections(file, part) {
            let own = file.get(span.from..span.to).unwrap_or_default();
            let body = own.split_once('\n').map_or("", |(_, body)| body);
            let taken = before.iter().filter(|(known, _)| *known == heading);
            let taken = taken.map(|(_, span)| *span).next();
            match taken.filter(|_| body.trim() == AS_LEFT) {
                Some(taken) => whole.add(file, taken),
                None => whole.add(file, span),
            }
        }
        whole
    }

    fn add(&mut self, file: &str, span: Span) {
        let follows = self
            .places
            .last()
            .is_some_and(|(at, from)| from + self.text.len() - at == span.from);
        if !follows {
            self.places.push((self.text.len(), span.from));
        }
        self.text
            .push_str(file.get(span.from..span.to).unwrap_or_default());
    }

    /// The place in the file.
    fn in_file(&self, at: usize) -> usize {
        let before = self.places.partition_point(|(begin, _)| *begin <= at);
        let piece = before.checked_sub(1).and_then(|i| self.places.get(i));
        piece.map_or(at, |(begin, from)| from + at - begin)
    }
}

/// The sections of a part, each with its heading's line.
fn sections(file: &str, part: Span) -> Vec<(&str, Span)> {
    let text = file.get(part.from..part.to).unwrap_or_default();
    let mut found: Vec<(&str, Span)> = Vec::new();
    let mut at = part.from;
    for line in text.split_inclusive('\n') {
        let span = Span::new(at, at + line.len());
        at = span.to;
        match (
            heading(line).filter(|known| HEADINGS.contains(known)),
            found.last_mut(),
        ) {
            (Some(known), _) => found.push((known, span)),
            (None, Some((_, section))) => section.to = span.to,
            (None, None) => found.push(("", span)),
        }
    }
    found
}

fn moved_diagnostic(d: Diagnostic, whole: &WholePart) -> Diagnostic {
    let moved = |span: Span| Span::new(whole.in_file(span.from), whole.in_file(span.to));
    let repair = |r: Repair| Repair {
        span: moved(r.span),
        ..r
    };
    Diagnostic {
        span: d.span.map(moved),
        repairs: d.repairs.into_iter().map(repair).collect(),
        ..d
    }
}

/// The first error gets the edits of one number that would cure the whole text.
fn offer_repairs(text: &str, found: &mut [Diagnostic]) {
    let first = found.iter_mut().find(|d| d.level == Level::Error);
    if let Some(first) = first
        && let Some(span) = first.span
    {
        first.repairs = repair::repairs(text, span);
    }
}

/// The instructions with the heading before them.
fn parts(text: &str) -> Vec<(String, Span)> {
    let mut parts: Vec<(String, Span)> = Vec::new();
    let mut title = String::new();
    let mut open = false;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let (from, to) = (at, at + line.len());
        at = to;
        match heading(line) {
            Some(PICK_UP) => {
                parts.push((title.clone(), Span::new(from, to)));
                open = true;
            }
            Some(known) if HEADINGS.contains(&known) => {}
            Some(other) => {
                if other.contains("SLEEVE") {
                    other.clone_into(&mut title);
                }
                open = false;
            }
            None => {}
        }
        if let (true, Some((_, span))) = (open, parts.last_mut()) {
            span.to = to;
        }
    }
    parts
}
