//! Pages of text -> one running text. Columns are set one under the other, running heads and
//! page numbers left out, divided words joined; every character keeps its page and line.

use std::collections::BTreeMap;

use super::Evidence;

/// One printed line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Line {
    page: u32,
    number: u32,
    text: String,
}

/// The running text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flow {
    /// The text, a line end where the print has one.
    pub text: String,
    /// Where each line starts in the text, with its page and number.
    starts: Vec<(usize, u32, u32)>,
}

impl Flow {
    /// From plain text; a form feed ends a page.
    pub fn of_text(text: &str) -> Self {
        let pages = text.split('\u{c}').map(|page| {
            let lines = page.lines().map(|line| fold(line.trim_end()));
            lines.collect::<Vec<_>>()
        });
        Self::of_pages(&pages.collect::<Vec<_>>())
    }

    /// From pages of lines.
    pub fn of_pages(pages: &[Vec<String>]) -> Self {
        let mut lines: Vec<Vec<Line>> = Vec::new();
        for (page, text) in (1..).zip(pages) {
            let numbered = (1..).zip(text).map(|(number, text)| Line {
                page,
                number,
                text: text.clone(),
            });
            lines.push(numbered.collect());
        }
        without_running_heads(&mut lines);
        let lines: Vec<Line> = lines.into_iter().flat_map(one_column).collect();
        Self::join(lines)
    }

    fn join(mut lines: Vec<Line>) -> Self {
        join_divided(&mut lines);
        let mut flow = Self {
            text: String::new(),
            starts: Vec::new(),
        };
        for line in lines {
            flow.starts.push((flow.text.len(), line.page, line.number));
            flow.text += line.text.trim();
            flow.text.push('\n');
        }
        flow
    }

    /// The text of these bytes.
    pub(super) fn get(&self, from: usize, to: usize) -> &str {
        self.text.get(from..to).unwrap_or_default()
    }

    /// These bytes as evidence: where they begin, and their words on one line.
    pub(super) fn evidence(&self, from: usize, to: usize) -> Evidence {
        let at = self.starts.partition_point(|start| start.0 <= from);
        let (_, page, line) = self
            .starts
            .get(at.saturating_sub(1))
            .copied()
            .unwrap_or((0, 1, 1));
        let words: Vec<&str> = self.get(from, to).split_whitespace().collect();
        let mut text: String = words.join(" ").chars().take(160).collect();
        if words.join(" ").chars().count() > 160 {
            text += " ...";
        }
        Evidence { page, line, text }
    }
}

/// Ligatures, soft hyphens and raised figures as a person reads them. Halves stay halves.
pub(super) fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{fb00}' => out += "ff",
            '\u{fb01}' => out += "fi",
            '\u{fb02}' => out += "fl",
            '\u{fb03}' => out += "ffi",
            '\u{fb04}' => out += "ffl",
            '\u{fb05}' | '\u{fb06}' => out += "st",
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
    out
}

/// A line that stands at the head or foot of more than one page, figures aside, or is but a page
/// number, is none of the pattern's.
fn without_running_heads(pages: &mut [Vec<Line>]) {
    let pattern = |line: &Line| -> String {
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
fn ends(page: &[Line]) -> Vec<usize> {
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
fn one_column(page: Vec<Line>) -> Vec<Line> {
    let Some(gutter) = gutter(&page) else {
        return page;
    };
    let mut out = Vec::new();
    let mut right = Vec::new();
    for line in page {
        let letters: Vec<char> = line.text.chars().collect();
        if letters.len() <= gutter {
            out.push(line);
        } else if is_gap(&letters, gutter) {
            let (a, b) = letters.split_at(gutter);
            right.push(Line {
                text: b.iter().collect::<String>().trim().to_owned(),
                ..line.clone()
            });
            let text = a.iter().collect::<String>().trim().to_owned();
            out.push(Line { text, ..line });
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
fn gutter(page: &[Line]) -> Option<usize> {
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
fn join_divided(lines: &mut [Line]) {
    let mut at = 0;
    while at + 1 < lines.len() {
        let next = (at + 1..lines.len()).find(|&i| {
            lines
                .get(i)
                .is_some_and(|line| !line.text.trim().is_empty())
        });
        let Some(next) = next else { return };
        if let Some((end, rest)) = divided(lines.get(at), lines.get(next)) {
            if let Some(line) = lines.get_mut(at) {
                line.text = end;
            }
            if let Some(line) = lines.get_mut(next) {
                line.text = rest;
            }
        }
        at += 1;
    }
}

/// The line with the whole word at its end, and what is left of the next.
fn divided(line: Option<&Line>, next: Option<&Line>) -> Option<(String, String)> {
    let head = line?.text.trim_end().strip_suffix('-')?;
    let next = next?.text.trim_start();
    let stem: String = head
        .chars()
        .rev()
        .take_while(|letter| letter.is_alphabetic())
        .collect();
    let stem: String = stem.chars().rev().collect::<String>().to_lowercase();
    let tail_ends = next.find(char::is_whitespace).unwrap_or(next.len());
    let (tail, rest) = next.split_at(tail_ends);
    if stem.is_empty() || !tail.starts_with(char::is_lowercase) {
        return None;
    }
    let hyphen = if HYPHENED.contains(&stem.as_str()) {
        "-"
    } else {
        ""
    };
    Some((
        format!("{head}{hyphen}{tail}"),
        rest.trim_start().to_owned(),
    ))
}
