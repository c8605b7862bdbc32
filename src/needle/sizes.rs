//! A text for several sizes, read for one of them.
//!
//! What belongs to other sizes is blanked out, byte for byte, so that every place in the text of
//! one size is the same place in the whole text.

use super::codes;
use super::knitted::Knitted;
use super::lexer::{Token, WordKind, lex};
use crate::diagnostic::{Diagnostic, Span};
use crate::measure::limits::MAX_SIZES;
use crate::plan::remarks::HEADINGS;

/// The names of the sizes, when the text is for several: `The sizes are S (M, L).`
pub fn sizes_of(text: &str) -> Option<Vec<String>> {
    let tokens = lex(text);
    let at = (0..tokens.len()).find(|at| names_begin(&tokens, *at))?;
    let (names, _) = names_until(text, &tokens, at + 3, None)?;
    Some(listed(&names))
}

/// Knits a text for several sizes, size by size; one result, with an empty name, when the text
/// names no sizes, and none when it names more than [`MAX_SIZES`].
pub fn knit_sizes(text: &str) -> (Vec<(String, Knitted)>, Vec<Diagnostic>) {
    let Some(names) = sizes_of(text) else {
        let (knitted, diagnostics) = super::knit(text);
        return (vec![(String::new(), knitted)], diagnostics);
    };
    if names.len() > MAX_SIZES {
        let message = format!(
            "{} sizes are named; {MAX_SIZES} at the most are knitted: none of them was",
            names.len()
        );
        return (Vec::new(), vec![Diagnostic::new(&codes::SIZES, message)]);
    }
    let mut all = Vec::new();
    let mut diagnostics = Vec::new();
    for (index, name) in names.iter().enumerate() {
        let (of_size, mut found) = one_size(text, &names, index);
        let (knitted, of_knitting) = super::knit(&of_size);
        found.extend(of_knitting);
        diagnostics.extend(found.into_iter().map(|d| d.for_size(name.clone())));
        all.push((name.clone(), knitted));
    }
    (all, diagnostics)
}

/// The text as one size reads it, other sizes blanked.
pub(crate) fn one_size(text: &str, names: &[String], index: usize) -> (String, Vec<Diagnostic>) {
    let tokens = lex(text);
    let mut reader = SizeReader {
        text,
        names,
        index,
        scope: (0..names.len()).collect(),
        blank: Vec::new(),
        noughts: Vec::new(),
        diagnostics: Vec::new(),
    };
    let mut at = 0;
    while at < tokens.len() {
        at = reader.step(&tokens, at);
    }
    (
        blanked(text, &reader.blank, &reader.noughts),
        reader.diagnostics,
    )
}

struct SizeReader<'a> {
    text: &'a str,
    names: &'a [String],
    index: usize,
    scope: Vec<usize>,
    blank: Vec<Span>,
    /// Dashes in this size's place.
    noughts: Vec<Span>,
    diagnostics: Vec<Diagnostic>,
}

impl SizeReader<'_> {
    /// Reads what begins at this token; the index of the next one.
    fn step(&mut self, tokens: &[Token<'_>], at: usize) -> usize {
        let Some(token) = tokens.get(at) else {
            return at + 1;
        };
        if is_heading(tokens, at) {
            self.scope = (0..self.names.len()).collect();
        }
        if let Some(next) = self.scope_sentence(tokens, at) {
            let end = tokens.get(next - 1).map_or(token.span, |last| last.span);
            self.blank.push(token.span.join(end));
            return next;
        }
        let place = self.scope.iter().position(|size| *size == self.index);
        let Some(place) = place else {
            self.blank.push(token.span);
            return at + 1;
        };
        self.list(tokens, at, place)
    }

    fn scope_sentence(&mut self, tokens: &[Token<'_>], at: usize) -> Option<usize> {
        let word = |i: usize, text: &str| tokens.get(at + i).is_some_and(|t| t.is(text));
        if names_begin(tokens, at) {
            return names_until(self.text, tokens, at + 3, None).map(|(_, next)| next);
        }
        if word(0, "All") && word(1, "sizes") && word(2, ".") {
            self.scope = (0..self.names.len()).collect();
            return Some(at + 3);
        }
        // In the middle of a sentence the word is one of its own.
        let begins = tokens
            .get(at)
            .is_some_and(|t| ["Size", "Sizes"].contains(&t.text));
        if !begins {
            return None;
        }
        let (names, next) = names_until(self.text, tokens, at + 1, Some("only"))?;
        // One name alone may look like a list.
        let names = if self.names.contains(&names) {
            vec![names]
        } else {
            listed(&names)
        };
        let known = |name: &String| self.names.iter().position(|n| n == name);
        self.scope = names.iter().filter_map(known).collect();
        if self.scope.len() != names.len() {
            let message = format!(
                "one of the sizes {} is none of {}",
                names.join(", "),
                self.names.join(", ")
            );
            let span = tokens.get(at).map_or(Span::new(0, 0), |t| t.span);
            self.diagnostics
                .push(Diagnostic::new(&codes::SIZES, message).at(span));
        }
        Some(next)
    }

    /// A number, and the numbers of the other sizes in round brackets after it, with a dash for one that has nothing
    /// there.
    fn list(&mut self, tokens: &[Token<'_>], at: usize, place: usize) -> usize {
        let Some((places, next)) = list_at(tokens, at) else {
            return at + 1;
        };
        if places.len() != self.scope.len() {
            let message = format!(
                "a list of {} numbers stands where {} sizes are worked",
                places.len(),
                self.scope.len()
            );
            let whole = places.iter().map(|place| place.span).reduce(Span::join);
            let whole = whole.unwrap_or(Span::new(0, 0));
            self.diagnostics
                .push(Diagnostic::new(&codes::SIZES, message).at(whole));
        }
        let kept = places.get(place).map(|place| place.span);
        for token in tokens.get(at..next).unwrap_or_default() {
            if Some(token.span) != kept {
                self.blank.push(token.span);
            } else if token.is_dash() {
                self.noughts.push(token.span);
            }
        }
        next
    }
}

fn is_heading(tokens: &[Token<'_>], at: usize) -> bool {
    HEADINGS.iter().any(|heading| {
        let mut words = lex(heading).into_iter().enumerate();
        words.all(|(i, word)| tokens.get(at + i).is_some_and(|t| t.text == word.text))
    })
}

fn names_begin(tokens: &[Token<'_>], at: usize) -> bool {
    let words = ["The", "sizes", "are"];
    let same = |(i, word): (usize, &&str)| tokens.get(at + i).is_some_and(|t| t.is(word));
    words.iter().enumerate().all(same)
}

/// The list of names from this token up to the closing word, if there is one, and the full stop; and the
/// token after it.
fn names_until(
    text: &str,
    tokens: &[Token<'_>],
    from: usize,
    closing: Option<&str>,
) -> Option<(String, usize)> {
    let ends = |at: &usize| match (closing, tokens.get(*at), tokens.get(*at + 1)) {
        (Some(word), Some(last), Some(stop)) => last.is(word) && stop.is("."),
        (None, Some(stop), next) => {
            // A full stop inside a name (`2.5`) is followed at once by the rest of the name.
            stop.is(".") && next.is_none_or(|n| n.span.from > stop.span.to)
        }
        _ => false,
    };
    let end = (from..tokens.len()).find(ends)?;
    let span = Span::new(tokens.get(from)?.span.from, tokens.get(end)?.span.from);
    let raw = text.get(span.from..span.to)?;
    let one_line = raw.split_whitespace().collect::<Vec<_>>().join(" ");
    Some((one_line, end + 1 + usize::from(closing.is_some())))
}

/// `S (M, L)`, or `S / M (38) / L` where names have such signs.
fn listed(names: &str) -> Vec<String> {
    let bracketed = names
        .strip_suffix(')')
        .and_then(|list| list.split_once(" ("))
        .filter(|_| !names.contains(" / "));
    let all: Vec<&str> = match bracketed {
        Some((first, others)) => std::iter::once(first).chain(others.split(", ")).collect(),
        None => names.split(" / ").collect(),
    };
    all.into_iter().map(|name| name.trim().to_owned()).collect()
}

/// The places of `3 (4, 5)` or `3 (–, 5)` at this token, and the token after the bracket.
fn list_at<'a, 't>(tokens: &'t [Token<'a>], at: usize) -> Option<(Vec<&'t Token<'a>>, usize)> {
    let place = |i: usize| {
        let token = tokens.get(i)?;
        (matches!(token.kind, WordKind::Number(_)) || token.is_dash()).then_some(token)
    };
    let is = |i: usize, mark: &str| tokens.get(i).is_some_and(|t| t.is(mark));
    let mut places = vec![place(at)?];
    if !is(at + 1, "(") {
        return None;
    }
    let mut next = at + 2;
    loop {
        places.push(place(next)?);
        if is(next + 1, ")") {
            return Some((places, next + 2));
        }
        if !is(next + 1, ",") {
            return None;
        }
        next += 2;
    }
}

/// The text with these places turned to spaces and these to a nought; line breaks stay.
fn blanked(text: &str, blank: &[Span], noughts: &[Span]) -> String {
    let mut blank = blank.iter().peekable();
    let mut out = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        while blank.next_if(|place| place.to <= at).is_some() {}
        let hidden = blank.peek().is_some_and(|place| place.from <= at);
        let spaces = |n: usize| std::iter::repeat_n(' ', n);
        if hidden && c != '\n' {
            out.extend(spaces(c.len_utf8()));
        } else if noughts.iter().any(|place| place.from == at) {
            out.push('0');
            out.extend(spaces(c.len_utf8() - 1));
        } else {
            out.push(c);
        }
    }
    out
}
