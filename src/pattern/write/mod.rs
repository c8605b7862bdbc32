//! Ledgers back to clean lines, in US or UK terms, for one size or a size set.

mod merge;
mod phrase;

use std::fmt::Write as _;

use crate::case::Terms;
use crate::measure::Side;

use super::context::Context;
use super::read::{SizeReading, read};

use merge::{SharedPhrase, side_by_side};
use phrase::{Mixed, PhraseKey, ShapedBy, ShapedEdge, SizePhrase, phrases};

/// Writes the rows of all sizes as lines that give the same rows when they are read.
///
/// Sizes share their sentences, with a list of numbers where they differ and 0 for a size that
/// skips a step; each sentence is followed by the count it leads to. Where sizes have too little in
/// common for that, each size has its own sentences. Both are read back before they are returned:
/// what does not give the same rows is not written.
pub fn write_lines(sizes: &[SizeReading], terms: Terms) -> String {
    let list: Vec<Vec<SizePhrase>> = sizes.iter().map(|s| phrases(&s.ledger)).collect();
    let shared = side_by_side(&list).map(|shared| LineWriter::new(terms).text(sizes, &shared));
    match shared {
        Some(text) if reads_back(&text, sizes) => text,
        _ => one_by_one(sizes, terms),
    }
}

/// True when the lines give these rows.
pub(super) fn reads_back(text: &str, sizes: &[SizeReading]) -> bool {
    let labels = sizes.iter().map(|s| s.size.clone()).collect();
    let stitches = sizes.iter().map(|s| s.ledger.start).collect();
    let mut context = Context::new(labels, stitches);
    let first = sizes.iter().find_map(|s| s.ledger.rows.first());
    context.first_row = first.map_or(Side::Rs, |row| row.side);
    let (reading, _) = read(text, &context);
    reading.sizes.len() == sizes.len()
        && reading
            .sizes
            .iter()
            .zip(sizes)
            .all(|(read, wanted)| same_rows(read, wanted))
}

/// The same rows, wherever in a text they were asked for.
fn same_rows(read: &SizeReading, wanted: &SizeReading) -> bool {
    let (read, wanted) = (&read.ledger, &wanted.ledger);
    let mut pairs = read.rows.iter().zip(&wanted.rows);
    read.rows.len() == wanted.rows.len()
        && pairs.all(|(a, b)| {
            let mut a = *a;
            a.span = b.span;
            a == *b
        })
}

/// Every size in its own sentences.
fn one_by_one(sizes: &[SizeReading], terms: Terms) -> String {
    let mut out = String::new();
    for (place, size) in sizes.iter().enumerate() {
        let one = std::slice::from_ref(size);
        let shared = phrases(&size.ledger)
            .into_iter()
            .map(|phrase| SharedPhrase {
                key: phrase.key,
                sizes: vec![Some(phrase)],
            })
            .collect::<Vec<_>>();
        let text = LineWriter::new(terms).text(one, &shared);
        for sentence in text.lines() {
            if sizes.len() > 1 {
                let _ = write!(out, "{} size only: ", ordinal(place + 1));
            }
            let _ = writeln!(out, "{sentence}");
        }
    }
    out
}

/// Numbers and words of one dialect.
struct LineWriter {
    terms: Terms,
    out: String,
    /// What the sentence being written does, for a stretch that goes on in it.
    going: Option<(ShapedBy, ShapedEdge, Vec<u32>)>,
    /// Stitches of every size.
    counts: Vec<u32>,
}

impl LineWriter {
    fn new(terms: Terms) -> Self {
        Self {
            terms,
            out: String::new(),
            going: None,
            counts: Vec::new(),
        }
    }

    fn text(mut self, sizes: &[SizeReading], shared: &[SharedPhrase]) -> String {
        self.counts = sizes.iter().map(|s| s.ledger.start.count()).collect();
        for one in shared {
            self.phrase(one);
        }
        self.end_sentence();
        self.out
    }

    /// `5 (6, 7)` or `5 [6:7]`; one number where all sizes agree.
    fn list(&self, numbers: &[u32]) -> String {
        let (first, rest) = match numbers.split_first() {
            Some((first, rest)) if rest.iter().any(|n| n != first) => (first, rest),
            Some((first, _)) => return first.to_string(),
            None => return String::new(),
        };
        let words: Vec<String> = rest.iter().map(u32::to_string).collect();
        match self.terms {
            Terms::Us => format!("{first} ({})", words.join(", ")),
            Terms::Uk => format!("{first} [{}]", words.join(":")),
        }
    }

    fn bind_off(&self) -> &'static str {
        match self.terms {
            Terms::Us => "Bind off",
            Terms::Uk => "Cast off",
        }
    }

    fn phrase(&mut self, shared: &SharedPhrase) {
        let numbers = |of: fn(&SizePhrase) -> u32| -> Vec<u32> {
            shared
                .sizes
                .iter()
                .map(|p| p.as_ref().map_or(0, of))
                .collect()
        };
        let counts = numbers(|p| p.count);
        match shared.key {
            PhraseKey::Rows { verb, edge, by } => self.rows(shared, (verb, edge, by), &counts),
            PhraseKey::Every {
                verb,
                edge,
                by,
                every,
            } => self.every(shared, (verb, edge, by), every, &counts),
            PhraseKey::Even => {
                self.end_sentence();
                let _ = write!(self.out, "Work {} even", self.rows_word(&counts));
                self.going = None;
            }
            PhraseKey::Told(row) => {
                self.end_sentence();
                self.told(row, &counts);
            }
            PhraseKey::Close => {
                self.end_sentence();
                let stitches = numbers(|p| p.by);
                let _ = write!(
                    self.out,
                    "{} remaining {}",
                    self.bind_off(),
                    self.stitches(&stitches)
                );
            }
        }
        for (count, phrase) in self.counts.iter_mut().zip(&shared.sizes) {
            *count = phrase.map_or(*count, |p| p.after);
        }
    }

    fn stitches(&self, numbers: &[u32]) -> String {
        let word = if numbers.iter().all(|&n| n == 1) {
            "st"
        } else {
            "sts"
        };
        format!("{} {word}", self.list(numbers))
    }

    fn rows_word(&self, numbers: &[u32]) -> String {
        let word = if numbers.iter().all(|&n| n == 1) {
            "row"
        } else {
            "rows"
        };
        format!("{} {word}", self.list(numbers))
    }

    /// The number of stitches for every size; a size that skips the phrase keeps its last one.
    fn by(&self, shared: &SharedPhrase, by: u32) -> Vec<u32> {
        let before = self
            .going
            .as_ref()
            .map(|(_, _, list)| list.clone())
            .unwrap_or_default();
        let of = |(at, phrase): (usize, &Option<SizePhrase>)| {
            let kept = if by > 0 {
                by
            } else {
                before.get(at).copied().unwrap_or(1)
            };
            phrase.map_or(kept, |p| p.by)
        };
        shared.sizes.iter().enumerate().map(of).collect()
    }

    fn rows(
        &mut self,
        shared: &SharedPhrase,
        (verb, edge, by): (ShapedBy, ShapedEdge, u32),
        counts: &[u32],
    ) {
        let by = self.by(shared, by);
        let next = if counts.iter().all(|&n| n == 1) {
            "next row".to_owned()
        } else {
            format!("next {} rows", self.list(counts))
        };
        let goes_on = self.going.as_ref() == Some(&(verb, edge, by.clone()));
        if goes_on && verb != ShapedBy::BindOff {
            let rows = if counts.iter().all(|&n| n == 1) {
                "row".to_owned()
            } else {
                self.rows_word(counts)
            };
            let _ = write!(self.out, ", then next {rows}");
        } else {
            self.start(verb, edge, by);
            let _ = write!(self.out, " of {next}");
        }
    }

    fn every(
        &mut self,
        shared: &SharedPhrase,
        (verb, edge, by): (ShapedBy, ShapedEdge, u32),
        every: u32,
        counts: &[u32],
    ) {
        let by = self.by(shared, by);
        let pace = match (self.terms, every) {
            (Terms::Us, 2) => "every other row".to_owned(),
            (Terms::Uk, 2) => "every following alternate row".to_owned(),
            (Terms::Us, n) => format!("every {} row", ordinal(n as usize)),
            (Terms::Uk, n) => format!("every following {} row", ordinal(n as usize)),
        };
        if self.going.as_ref() == Some(&(verb, edge, by.clone())) {
            let _ = write!(self.out, ", then {pace}");
        } else {
            self.start(verb, edge, by);
            let _ = write!(self.out, " of {pace}");
        }
        let times = match counts {
            list if list.iter().all(|&n| n == 1) => "once".to_owned(),
            list if list.iter().all(|&n| n == 2) => "twice".to_owned(),
            list => format!("{} times", self.list(list)),
        };
        let _ = write!(self.out, " {times}");
    }

    /// `Decrease 1 st at each end`.
    fn start(&mut self, verb: ShapedBy, edge: ShapedEdge, by: Vec<u32>) {
        self.end_sentence();
        let verb_word = match verb {
            ShapedBy::BindOff => self.bind_off(),
            ShapedBy::Dec => "Decrease",
            ShapedBy::Inc => "Increase",
        };
        let _ = write!(
            self.out,
            "{verb_word} {} at {}",
            self.stitches(&by),
            edge_word(edge)
        );
        self.going = Some((verb, edge, by));
    }

    /// A row that does several things: `Next row: bind off 2 sts, dec 1 st at end`.
    fn told(&mut self, row: Mixed, counts: &[u32]) {
        let next = match counts {
            [1] => "Next row".to_owned(),
            list => format!("Next {} rows", self.list(list)),
        };
        let mut parts = Vec::new();
        let bind = self.bind_off().to_lowercase();
        if row.bind_off > 0 {
            parts.push(format!("{bind} {}", self.stitches(&[row.bind_off])));
        }
        let shaping = [
            ("dec", row.dec_start, ShapedEdge::Start),
            ("dec", row.dec_end, ShapedEdge::End),
            ("inc", row.inc_start, ShapedEdge::Start),
            ("inc", row.inc_end, ShapedEdge::End),
        ];
        for (verb, by, edge) in shaping.into_iter().filter(|s| s.1 > 0) {
            parts.push(format!(
                "{verb} {} at {}",
                self.stitches(&[by]),
                edge_word(edge)
            ));
        }
        let _ = write!(self.out, "{next}: {}", parts.join(", "));
        self.going = None;
    }

    /// Ends the sentence with the count it leads to.
    fn end_sentence(&mut self) {
        if self.out.is_empty() || self.out.ends_with('\n') {
            return;
        }
        let stays = self.counts.iter().all(|&n| n == 0);
        if stays {
            self.out.push_str(".\n");
        } else {
            let same = self.counts.windows(2).all(|w| w.first() == w.last());
            let counts = self.stitches(&self.counts);
            let _ = if same {
                writeln!(self.out, " ({counts}).")
            } else {
                writeln!(self.out, ": {counts}.")
            };
        }
    }
}

fn edge_word(edge: ShapedEdge) -> &'static str {
    match edge {
        ShapedEdge::Both => "each end",
        ShapedEdge::Start => "beginning",
        ShapedEdge::End => "end",
    }
}

fn ordinal(n: usize) -> String {
    let suffix = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{n}{suffix}")
}
