//! Pages of text -> one running text. Columns are set one under the other, running heads and
//! page numbers left out, divided words joined; every character keeps its page and line.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::LazyLock;

use regex::Regex;

use super::Evidence;
use super::lists::regex;

/// One printed line: each byte of its text with the byte of the print that it stands for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct PrintedLine {
    page: u32,
    number: u32,
    text: String,
    at: Vec<u32>,
}

impl PrintedLine {
    /// These bytes of it, without blanks at either end.
    fn part(&self, from: usize, to: usize) -> Self {
        let part = self.text.get(from..to).unwrap_or_default();
        let from = from + part.len() - part.trim_start().len();
        let text = part.trim();
        Self {
            text: text.to_owned(),
            at: self
                .at
                .get(from..from + text.len())
                .unwrap_or_default()
                .to_vec(),
            ..*self
        }
    }

    fn push(&mut self, other: &Self) {
        self.text += &other.text;
        self.at.extend(&other.at);
    }
}

/// What stands for no byte of the print: the line ends of the running text.
const NOWHERE: u32 = u32::MAX;

/// The running text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Flow {
    /// The text, a line end where the print has one, without the points of abbreviations: a sentence ends at a point.
    pub text: String,
    /// Before which bytes of the text such a point stood.
    points: Vec<usize>,
    /// The print that it was made of. Of columns side by side it is the running text itself: what is
    /// changed in one column would break the lines of the other.
    print: String,
    /// Where each line starts in the text, with its page and number.
    starts: Vec<(usize, u32, u32)>,
    /// The byte of the print for each byte of the text.
    at: Vec<u32>,
}

impl Flow {
    /// From plain text, whose columns are told by their blanks; a form feed ends a page.
    pub fn of_text(text: &str) -> Self {
        Self::of(text, gutter)
    }

    fn of(text: &str, gutter: impl Fn(&[PrintedLine]) -> Option<usize>) -> Self {
        let mut from = 0;
        let pages = (1..).zip(text.split('\u{c}')).map(|(page, print)| {
            let start = from;
            from += print.len() + 1;
            lines(page, print, start)
        });
        let mut pages: Vec<Vec<PrintedLine>> = pages.collect();
        without_running_heads(&mut pages);
        let mut columns = false;
        let mut all = Vec::new();
        for page in pages {
            let gutter = gutter(&page);
            columns |= gutter.is_some();
            all.extend(gutter.map_or(page.clone(), |gutter| one_column(page, gutter)));
        }
        let mut flow = Self::join(all);
        if columns {
            flow.print = flow.said(0, flow.text.len());
            let before = |at: usize| flow.points.partition_point(|&point| point <= at);
            let places = (0..flow.text.len()).map(|at| at + before(at));
            flow.at = places
                .map(|at| u32::try_from(at).unwrap_or(NOWHERE))
                .collect();
        } else {
            text.clone_into(&mut flow.print);
        }
        flow
    }

    /// From pages of lines, their columns under one another already.
    #[cfg(feature = "leaflet-pdf")]
    pub(super) fn of_pages(pages: &[Vec<String>]) -> Self {
        let pages: Vec<String> = pages.iter().map(|lines| lines.join("\n")).collect();
        Self::of(&pages.join("\u{c}"), |_| None)
    }

    fn join(mut lines: Vec<PrintedLine>) -> Self {
        join_divided(&mut lines);
        let mut flow = Self::default();
        let mut lines = lines.into_iter().peekable();
        while let Some(line) = lines.next() {
            flow.starts.push((flow.text.len(), line.page, line.number));
            let line = line.part(0, line.text.len());
            let below = lines.peek().map_or("", |next| next.text.as_str());
            let dotted = points_of(&line.text, below);
            for (at, letter) in line.text.char_indices() {
                if dotted.contains(&at) {
                    flow.points.push(flow.text.len());
                    continue;
                }
                // `17.1/2 ins`: a point divides the whole from its fraction.
                let divides = letter == '.' && divides_fraction(&line.text, at);
                flow.text.push(if divides { ' ' } else { letter });
                let places = line.at.get(at..at + letter.len_utf8());
                flow.at.extend(places.unwrap_or_default());
            }
            flow.text.push('\n');
            flow.at.push(NOWHERE);
        }
        flow
    }

    /// These bytes as a running text of their own, of the same print.
    pub(super) fn stretch(&self, from: usize, to: usize) -> Self {
        let first = self.starts.partition_point(|start| start.0 <= from);
        let starts = self.starts.iter().skip(first.saturating_sub(1));
        let starts = starts.take_while(|start| start.0 < to);
        let points = self.points.iter().filter(|&&at| from < at && at <= to);
        Self {
            text: self.get(from, to).to_owned(),
            points: points.map(|at| at - from).collect(),
            print: self.print.clone(),
            starts: starts
                .map(|&(at, page, line)| (at.saturating_sub(from), page, line))
                .collect(),
            at: self.at.get(from..to).unwrap_or_default().to_vec(),
        }
    }

    /// The print that it was made of.
    pub fn print(&self) -> &str {
        &self.print
    }

    /// Where these bytes stand in the print: one stretch, or several where something else lies between
    /// them, such as the head of the next page.
    pub(super) fn printed(&self, from: usize, to: usize) -> Vec<Range<usize>> {
        let mut out: Vec<Range<usize>> = Vec::new();
        for &at in self.at.get(from..to).unwrap_or_default() {
            let at = at as usize;
            let Some(letter) = self.print.get(at..).and_then(|rest| rest.chars().next()) else {
                continue;
            };
            let end = at + letter.len_utf8();
            match out.last_mut() {
                Some(last) if at < last.end => {}
                Some(last) if self.is_nothing(last.end, at) => last.end = end,
                _ => out.push(at..end),
            }
        }
        out
    }

    /// True for a gap of blanks, line ends, the hyphen of a divided word and the point of an abbreviation.
    fn is_nothing(&self, from: usize, to: usize) -> bool {
        let gap = self.print.get(from..to);
        gap.is_some_and(|gap| {
            gap.chars().all(|letter| {
                letter.is_whitespace() && letter != '\u{c}' || "-\u{ad}\u{2010}.".contains(letter)
            })
        })
    }

    /// The text of these bytes.
    pub(super) fn get(&self, from: usize, to: usize) -> &str {
        self.text.get(from..to).unwrap_or_default()
    }

    /// The text of these bytes as it is printed, the points of its abbreviations in it.
    pub(super) fn said(&self, from: usize, to: usize) -> String {
        let mut out = String::with_capacity(to.saturating_sub(from));
        let mut at = from;
        for &point in self.points.iter().filter(|&&at| from < at && at <= to) {
            out += self.get(at, point);
            out.push('.');
            at = point;
        }
        out + self.get(at, to)
    }

    /// These bytes as evidence: where they begin, and their words on one line.
    pub(super) fn evidence(&self, from: usize, to: usize) -> Evidence {
        // A count is found with the mark before it, which is no word of it.
        let all = self.said(from, to);
        let words = all.trim_start_matches([' ', '\n', '.', ',', ';', '=', '–', '—']);
        let from = from + all.len() - words.len();
        let at = self.starts.partition_point(|start| start.0 <= from);
        let (_, page, line) = self
            .starts
            .get(at.saturating_sub(1))
            .copied()
            .unwrap_or((0, 1, 1));
        let words: Vec<&str> = words.split_whitespace().collect();
        let mut text: String = words.join(" ").chars().take(160).collect();
        if words.join(" ").chars().count() > 160 {
            text += " ...";
        }
        Evidence { page, line, text }
    }
}

/// A point between a whole number and a fraction, as old prints have it.
fn divides_fraction(line: &str, point: usize) -> bool {
    let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let before = line.get(..point).and_then(|before| before.chars().last());
    let behind = line.get(point + 1..).unwrap_or_default();
    let mut behind = behind.chars();
    digit(before) && digit(behind.next()) && behind.next() == Some('/') && digit(behind.next())
}

/// Where the points of abbreviations stand in this line: `sts. at`, `k.1`, `ins.,`, and at its end where the line below goes
/// on in small letters. A point before a capital ends its sentence, and so may one behind stitches or lengths before a number.
fn points_of(line: &str, below: &str) -> Vec<usize> {
    static SHORT: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)(?:\b|\d)(?:(sts?|ins?|cms?|mm|rem|times|rows?)|ozs?|grs?|gms?|beg|dec|inc|alt|foll|follow|rep|patt?|cont|tog|sl|nos?|approx|meas|tbl|psso|ws|rs|rnds?|yds?|ndls?|[kpm])\.",
        )
    });
    static LENGTH: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)(?:ins?|cms?|mm)\.$"));
    static AGAIN: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)^ ?[(\[]\d[^a-z]{0,40}(?:ins?|cms?|mm)\b"));
    let next_of = |rest: &str| {
        let here = rest.trim_start().chars().next();
        here.or_else(|| below.trim_start().chars().next())
    };
    let abbreviation = |found: regex::Captures<'_>| {
        let end = found.get(0)?.end();
        let rest = line.get(end..)?;
        let counts = found.get(1).is_some();
        let next = next_of(rest)?;
        let apart = rest.chars().next().is_none_or(char::is_whitespace);
        let goes_on = match next {
            ',' | ';' | ':' | ')' | ']' => true,
            // `17½ ins. (44 cm)`: the same length again.
            '(' | '[' => LENGTH.is_match(found.get(0)?.as_str()) && AGAIN.is_match(rest),
            _ if next.is_lowercase() => apart,
            // `k.1`, `No. 10`; but `54 sts. 1st row`.
            _ if next.is_ascii_digit() => !counts && !rest.trim_start().is_empty(),
            _ => false,
        };
        goes_on.then_some(end - 1)
    };
    SHORT.captures_iter(line).filter_map(abbreviation).collect()
}

/// The lines of a page that begins at this byte of the print.
fn lines(page: u32, print: &str, start: usize) -> Vec<PrintedLine> {
    let mut at = start;
    let lines = (1..)
        .zip(print.split_inclusive('\n'))
        .map(|(number, print)| {
            let mut line = PrintedLine {
                page,
                number,
                ..PrintedLine::default()
            };
            for (place, letter) in print.trim_end().char_indices() {
                let before = line.text.len();
                fold_letter(letter, &mut line.text);
                let place = u32::try_from(at + place).unwrap_or(NOWHERE);
                line.at
                    .extend(std::iter::repeat_n(place, line.text.len() - before));
            }
            at += print.len();
            line
        });
    lines.collect()
}

/// Ligatures, soft hyphens and raised figures as a person reads them. Halves stay halves.
#[cfg(feature = "leaflet-pdf")]
pub(super) fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        fold_letter(letter, &mut out);
    }
    out
}

fn fold_letter(letter: char, out: &mut String) {
    match letter {
        '\u{fb00}' => *out += "ff",
        '\u{fb01}' => *out += "fi",
        '\u{fb02}' => *out += "fl",
        '\u{fb03}' => *out += "ffi",
        '\u{fb04}' => *out += "ffl",
        '\u{fb05}' | '\u{fb06}' => *out += "st",
        '\u{ad}' => out.push('-'),
        '\u{2044}' => out.push('/'),
        '¹' => out.push('1'),
        '²' => out.push('2'),
        '³' => out.push('3'),
        '\u{2074}' => out.push('4'),
        '\u{2080}'..='\u{2089}' => {
            out.push(char::from_digit(u32::from(letter) - 0x2080, 10).unwrap_or('0'));
        }
        '\u{2010}' | '\u{2011}' => out.push('-'),
        '\u{a0}' | '\u{2007}' | '\u{2009}' | '\u{202f}' => out.push(' '),
        '“' | '”' | '″' => out.push('"'),
        '‘' | '’' => out.push('\''),
        other => out.push(other),
    }
}

/// A line that stands at the head or foot of more than one page, figures aside, or is but a page
/// number, is none of the pattern's.
fn without_running_heads(pages: &mut [Vec<PrintedLine>]) {
    let pattern = |line: &PrintedLine| -> String {
        let letters = line.text.chars().filter(|letter| !letter.is_ascii_digit());
        letters.collect::<String>().trim().to_lowercase()
    };
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    if pages.len() < 2 {
        return;
    }
    for page in pages.iter() {
        for at in ends(page) {
            if let Some(line) = page.get(at) {
                *seen.entry(pattern(line)).or_default() += 1;
            }
        }
    }
    for page in pages {
        let mut at = ends(page);
        at.sort_unstable();
        for at in at.into_iter().rev() {
            let repeated = page.get(at).is_some_and(|line| {
                let pattern = pattern(line);
                let plain = pattern.trim_matches(['-', ' ', '–', '.']);
                matches!(plain, "" | "page" | "p") || seen.get(&pattern).is_some_and(|&n| n > 1)
            });
            if repeated {
                page.remove(at);
            }
        }
    }
}

/// The first and the last line of a page that are not blank.
fn ends(page: &[PrintedLine]) -> Vec<usize> {
    let mut at: Vec<usize> = (0..page.len())
        .filter(|&i| page.get(i).is_some_and(|line| !line.text.trim().is_empty()))
        .collect();
    match at.len() {
        0 | 1 => at,
        n => {
            at.drain(1..n - 1);
            at
        }
    }
}

/// Columns side by side, set one under the other: left before right. A line that runs across ends
/// a band of columns.
fn one_column(page: Vec<PrintedLine>, gutter: usize) -> Vec<PrintedLine> {
    let mut out = Vec::new();
    let mut right = Vec::new();
    for line in page {
        let letters: Vec<char> = line.text.chars().collect();
        if letters.len() <= gutter {
            out.push(line);
        } else if is_gap(&letters, gutter) {
            let cut = line.text.char_indices().nth(gutter);
            let cut = cut.map_or(line.text.len(), |(at, _)| at);
            right.push(line.part(cut, line.text.len()));
            out.push(line.part(0, cut));
        } else {
            out.append(&mut right);
            out.push(line);
        }
    }
    out.append(&mut right);
    out
}

fn is_gap(letters: &[char], at: usize) -> bool {
    let two = letters.get(at.saturating_sub(2)..at);
    two.is_some_and(|two| two.iter().all(|letter| *letter == ' '))
}

/// The column where right halves begin: after two blanks in nearly every long line, in the middle
/// three fifths of the page, in eight lines at the least.
fn gutter(page: &[PrintedLine]) -> Option<usize> {
    let lines: Vec<Vec<char>> = page
        .iter()
        .map(|line| line.text.chars().collect())
        .collect();
    let width = lines.iter().map(Vec::len).max()?;
    let filled = lines.iter().filter(|line| !line.is_empty()).count();
    let score = |at: usize| {
        let begins = |line: &&Vec<char>| {
            is_gap(line, at) && line.get(at).is_some_and(|letter| *letter != ' ')
        };
        let begin = lines.iter().filter(begins).count();
        let crossing = lines
            .iter()
            .filter(|line| line.len() > at && !is_gap(line, at));
        let crossing = crossing.count();
        (begin >= 8 && begin * 3 >= filled && crossing * 4 <= filled).then_some(begin)
    };
    let middle = width / 5..=width * 4 / 5;
    middle
        .filter_map(|at| Some((score(at)?, at)))
        .max()
        .map(|(_, at)| at)
}

/// Words that stand before a hyphen of their own: `stocking-stitch` stays hyphened.
const HYPHENED: &[&str] = &[
    "stocking", "right", "left", "wrong", "cast", "set", "garter", "double", "single", "two",
    "three", "four", "moss", "button", "side", "short", "cable", "half", "round", "v", "stitch",
    "cuff", "one", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    "neck", "back", "front",
];

/// A word divided at a line end is joined, on its first line.
fn join_divided(lines: &mut [PrintedLine]) {
    let mut at = 0;
    while at + 1 < lines.len() {
        let next = (at + 1..lines.len()).find(|&i| {
            lines
                .get(i)
                .is_some_and(|line| !line.text.trim().is_empty())
        });
        let Some(next) = next else { return };
        if let Some((whole, rest)) = divided(lines.get(at), lines.get(next)) {
            if let Some(line) = lines.get_mut(at) {
                *line = whole;
            }
            if let Some(line) = lines.get_mut(next) {
                *line = rest;
            }
        }
        at += 1;
    }
}

/// The line with the whole word at its end, and what is left of the next.
fn divided(
    line: Option<&PrintedLine>,
    next: Option<&PrintedLine>,
) -> Option<(PrintedLine, PrintedLine)> {
    let line = line?;
    let line = line.part(0, line.text.len());
    let next = next?;
    let next = next.part(0, next.text.len());
    let head = line.text.strip_suffix('-')?;
    let stem: String = head
        .chars()
        .rev()
        .take_while(|letter| letter.is_alphabetic())
        .collect();
    let stem: String = stem.chars().rev().collect::<String>().to_lowercase();
    let tail = next.text.find(char::is_whitespace);
    let tail = tail.unwrap_or(next.text.len());
    if stem.is_empty() || !next.text.starts_with(char::is_lowercase) {
        return None;
    }
    let keeps_hyphen = HYPHENED.contains(&stem.as_str());
    let end = if keeps_hyphen {
        line.text.len()
    } else {
        head.len()
    };
    let mut whole = line.part(0, end);
    whole.push(&next.part(0, tail));
    Some((whole, next.part(tail, next.text.len())))
}
