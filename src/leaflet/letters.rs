//! Letters of a page and where they stand -> rows -> lines of text.

use super::flow::fold;

/// A letter and where it stands, from the top left of its page.
#[derive(Clone, Debug)]
pub(super) struct Letter {
    pub(super) text: String,
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) em: f64,
    pub(super) width: f64,
}

impl Letter {
    pub(super) fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }

    pub(super) fn end(&self) -> f64 {
        self.x + self.width
    }
}

/// Letters on one baseline, from the left.
#[derive(Clone, Debug)]
pub(super) struct LetterRow {
    pub(super) y: f64,
    pub(super) letters: Vec<Letter>,
}

impl LetterRow {
    /// Its stretches of ink: letters with no wider gap than this between them.
    pub(super) fn stretches(&self, gap: f64) -> Vec<(f64, f64)> {
        let mut out: Vec<(f64, f64)> = Vec::new();
        for letter in self.letters.iter().filter(|letter| !letter.is_blank()) {
            match out.last_mut() {
                Some(last) if letter.x - last.1 < gap => last.1 = last.1.max(letter.end()),
                _ => out.push((letter.x, letter.end())),
            }
        }
        out
    }

    /// The usual size of its letters.
    pub(super) fn em(&self) -> f64 {
        usual_em(&self.letters)
    }
}

/// The size of most letters.
pub(super) fn usual_em(letters: &[Letter]) -> f64 {
    let mut ems: Vec<f64> = letters.iter().map(|letter| letter.em).collect();
    ems.sort_by(f64::total_cmp);
    ems.get(ems.len() / 2).copied().unwrap_or(0.0)
}

/// The rows, from the top.
pub(super) fn rows(mut letters: Vec<Letter>, em: f64) -> Vec<LetterRow> {
    letters.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
    let mut rows: Vec<LetterRow> = Vec::new();
    for letter in letters {
        match rows.last_mut() {
            // A raised figure belongs to the line below or beside it.
            Some(row) if letter.y - row.y <= 0.35 * em => row.letters.push(letter),
            _ => rows.push(LetterRow {
                y: letter.y,
                letters: vec![letter],
            }),
        }
    }
    for row in &mut rows {
        row.letters.sort_by(|a, b| a.x.total_cmp(&b.x));
    }
    rows.retain(|row| row.letters.iter().any(|letter| !letter.is_blank()));
    rows
}

/// The rows as lines of text; a wide space between them is a blank line.
pub(super) fn lines(rows: &[LetterRow], em: f64) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut last: Option<f64> = None;
    for row in rows {
        if last.is_some_and(|last| row.y - last > 2.0 * em) {
            out.push(String::new());
        }
        last = Some(row.y);
        out.push(line(row, em));
    }
    out
}

/// A gap over a seventh of an em is a space.
const SPACE: f64 = 0.15;

/// One line; a gap over an em and a half is a jump to its column, as in a table, but not where all spaces of the line
/// are alike: those are spread to fill it.
fn line(row: &LetterRow, em: f64) -> String {
    let spread = is_spread(row, em);
    let column_width = 0.4 * em;
    let mut out = String::new();
    let mut count = 0.0;
    let mut end: Option<f64> = None;
    for letter in row.letters.iter().filter(|letter| !letter.is_blank()) {
        let gap = end.map_or(f64::INFINITY, |end| letter.x - end);
        let column = (letter.x / column_width).clamp(0.0, 400.0).floor();
        if gap > 1.5 * em && !(spread && end.is_some()) {
            let least = if out.is_empty() { 0.0 } else { 3.0 };
            let blanks = (column - count).max(least);
            let mut set = 0.0;
            while set < blanks {
                out.push(' ');
                set += 1.0;
            }
            count += set;
        } else if gap > SPACE * letter.em.min(em) {
            out.push(' ');
            count += 1.0;
        }
        let text = fold(&letter.text);
        count += text.chars().count() as f64;
        out += &text;
        end = Some(letter.end());
    }
    out
}

fn is_spread(row: &LetterRow, em: f64) -> bool {
    let words = row.stretches(SPACE * em);
    let gaps = words.windows(2).filter_map(|pair| match pair {
        [a, b] => Some(b.0 - a.1),
        _ => None,
    });
    let gaps: Vec<f64> = gaps.collect();
    let least = gaps.iter().copied().fold(f64::INFINITY, f64::min);
    let most = gaps.iter().copied().fold(0.0, f64::max);
    gaps.len() > 2 && most <= 2.2 * least
}
