//! A section of a printed pattern, as one size reads it.

use crate::diagnostic::{Code, Diagnostic, Span};
use crate::needle::headings::heading;
use crate::needle::lexer::{Token, lex};
use crate::needle::sizes::one_size;

/// A section without its heading; what belongs to other sizes is blanked.
pub(super) struct PrintedSection {
    /// As it is printed.
    raw: String,
    text: String,
    /// Where it begins in the file.
    from: usize,
    /// The size that reads it, where the text is for several.
    size: Option<String>,
    /// The names of all of them, and its place.
    names: Option<(Vec<String>, usize)>,
}

/// Where the columns of a table begin, in letters: after two blanks or more that all its lines have in one place.
fn columns(lines: &[&str]) -> Vec<usize> {
    let letters: Vec<Vec<char>> = lines.iter().map(|line| line.chars().collect()).collect();
    let long = letters.iter().map(Vec::len).max().unwrap_or(0);
    let blank = |at: usize| {
        let mut there = letters.iter().filter_map(|line| line.get(at));
        there.all(|letter| *letter == ' ')
    };
    let begins = |at: &usize| {
        let before = at.checked_sub(2);
        !blank(*at) && before.is_none_or(|before| blank(before) && blank(before + 1))
    };
    (0..long).filter(begins).collect()
}

/// True where a line goes on with the row before it: that one's name is not closed, or the line has none.
fn is_open(row: &[String], line: &[String]) -> bool {
    let name = row.first().map_or("", String::as_str);
    let count = |mark: char| name.matches(mark).count();
    count('(') > count(')') || line.first().is_some_and(String::is_empty)
}

fn cut(line: &str, cuts: &[usize]) -> Vec<String> {
    let letters: Vec<char> = line.chars().collect();
    let ends = cuts.iter().skip(1).copied().chain([usize::MAX]);
    let cells = cuts.iter().zip(ends).map(|(from, to)| {
        let to = to.min(letters.len());
        let cell: String = letters.get(*from..to).unwrap_or_default().iter().collect();
        cell.trim().to_owned()
    });
    cells.collect()
}

impl PrintedSection {
    /// The last section with this heading in a part of the file.
    pub(super) fn find(
        file: &str,
        within: Span,
        wanted: &str,
        size: Option<(&[String], usize)>,
    ) -> Option<Self> {
        let mut at = within.from;
        let mut found: Option<Span> = None;
        let mut open = false;
        for line in file.get(within.from..within.to)?.split_inclusive('\n') {
            let from = at;
            at = from + line.len();
            match (heading(line), &mut found) {
                (Some(known), _) => {
                    open = known == wanted;
                    found = if open { Some(Span::new(at, at)) } else { found };
                }
                (None, Some(section)) if open => section.to = at,
                (None, _) => {}
            }
        }
        let span = found?;
        let own = file.get(span.from..span.to)?;
        let size_names = size.map(|(names, index)| (names.to_vec(), index));
        let (text, size) = match size {
            Some((names, index)) => (one_size(own, names, index).0, names.get(index).cloned()),
            None => (own.to_owned(), None),
        };
        Some(Self {
            raw: own.to_owned(),
            text,
            from: span.from,
            size,
            names: size_names,
        })
    }

    /// A table of it by its columns, each row as this size reads it and with its place: cells may be broken into lines.
    pub(super) fn table(&self, caption: &str) -> Vec<(Vec<String>, Span)> {
        let mut at = 0;
        let lines = self.raw.split_inclusive('\n').map(|line| {
            let from = at;
            at += line.len();
            (from, line.trim_end())
        });
        let lines: Vec<(usize, &str)> = lines
            .skip_while(|(_, line)| line.trim() != caption)
            .skip(1)
            .take_while(|(_, line)| !line.is_empty())
            .collect();
        let cuts = columns(&lines.iter().map(|(_, line)| *line).collect::<Vec<_>>());
        let mut rows: Vec<(Vec<String>, Span)> = Vec::new();
        for (from, line) in lines {
            let cells = cut(line, &cuts);
            let goes_on = rows.last().is_some_and(|(row, _)| is_open(row, &cells));
            if let Some((row, place)) = rows.last_mut().filter(|_| goes_on) {
                place.to = from + line.len();
                for (cell, more) in row.iter_mut().zip(cells) {
                    cell.push(' ');
                    cell.push_str(&more);
                }
            } else {
                let begins = line.len() - line.trim_start().len();
                rows.push((cells, Span::new(from + begins, from + line.len())));
            }
        }
        for cell in rows.iter_mut().flat_map(|(row, _)| row) {
            if let Some((names, index)) = &self.names {
                *cell = one_size(cell, names, *index).0;
            }
        }
        rows
    }

    pub(super) fn tokens(&self) -> Vec<Token<'_>> {
        lex(&self.text)
    }

    /// Its lines, each with its place in the section.
    pub(super) fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        let mut at = 0;
        self.text.split_inclusive('\n').map(move |line| {
            let from = at;
            at += line.len();
            (from, line)
        })
    }

    pub(super) fn words(&self, tokens: &[Token<'_>]) -> String {
        let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else {
            return String::new();
        };
        let text = self.text.get(first.span.from..last.span.to);
        let words = text.unwrap_or_default().split_whitespace();
        words.collect::<Vec<_>>().join(" ")
    }

    /// The sentences that this size reads, without the sizes that stand before them (`Sizes S / M: ...`).
    pub(super) fn sentences<'t, 'a>(&self, tokens: &'t [Token<'a>]) -> Vec<&'t [Token<'a>]> {
        // A full stop inside a number is followed at once by the rest of it.
        let ends = |at: usize| {
            let stop = tokens.get(at).filter(|token| token.is("."));
            let next = tokens.get(at + 1);
            stop.is_some_and(|stop| next.is_none_or(|next| next.span.from > stop.span.to))
        };
        let mut sentences = Vec::new();
        let mut from = 0;
        for at in (0..tokens.len()).filter(|at| ends(*at)) {
            sentences.extend(tokens.get(from..at).and_then(|said| self.own(said)));
            from = at + 1;
        }
        sentences
    }

    fn own<'t, 'a>(&self, said: &'t [Token<'a>]) -> Option<&'t [Token<'a>]> {
        let sized = said.first()?.is("Size") || said.first()?.is("Sizes");
        let Some(name) = self.size.as_ref().filter(|_| sized) else {
            return Some(said);
        };
        let colon = said.iter().position(|token| token.is(":"))?;
        let names = self.words(said.get(1..colon)?);
        names.split(" / ").any(|of| of == name).then_some(())?;
        said.get(colon + 1..)
    }

    /// Where these words should stand and do not: the tokens that begin like them for longest. None where they are
    /// there.
    pub(super) fn nearest<'t, 'a>(
        tokens: &'t [Token<'a>],
        wanted: &str,
    ) -> Option<&'t [Token<'a>]> {
        let wanted = lex(wanted);
        let alike = |at: usize| {
            let rest = tokens.get(at..).unwrap_or_default();
            let same = rest.iter().zip(&wanted);
            same.take_while(|(a, b)| a.same(b)).count()
        };
        let (at, long) = (0..tokens.len())
            .map(|at| (at, alike(at)))
            .max_by_key(|(at, long)| (*long, std::cmp::Reverse(*at)))
            .unwrap_or((0, 0));
        (long < wanted.len()).then(|| {
            let end = (at + long + 1).min(tokens.len());
            tokens.get(at..end).unwrap_or_default()
        })
    }

    /// Something said at these tokens.
    pub(super) fn differs(
        &self,
        code: &'static Code,
        message: String,
        tokens: &[Token<'_>],
    ) -> Diagnostic {
        let places = tokens.iter().map(|token| token.span);
        let place = places.reduce(Span::join).unwrap_or(Span::new(0, 0));
        self.at(code, message, place)
    }

    /// Something said at this place of the section.
    pub(super) fn at(&self, code: &'static Code, message: String, place: Span) -> Diagnostic {
        let place = Span::new(self.from + place.from, self.from + place.to);
        Diagnostic::new(code, message).at(place)
    }
}
