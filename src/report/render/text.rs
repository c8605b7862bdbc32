//! A document as plain text. The needle reads patterns in this form: a heading is a line of capitals, a
//! step's counts stand in square brackets at its end.

use std::fmt::Write as _;

use textwrap::{Options, WordSeparator, WordSplitter};

use crate::report::document::{
    Block, ColumnKind, Document, FindingBlock, Steps, TableBlock, TableColumn, with_marks,
};

/// Characters of a line.
const WIDTH: usize = 96;
/// The same on a sheet: at ten characters to the inch it has room for 80.
const SHEET: usize = 78;
/// What tells a printer to begin a new page.
const NEW_PAGE: char = '\u{c}';
/// Blank lines for an answer.
const ROOM: usize = 2;
/// A column of sentences is never narrower.
const WORDS_AT_LEAST: usize = 30;

/// The whole text.
pub(super) fn text(document: &Document) -> String {
    let mut writer = TextPage {
        out: String::new(),
        width: if document.paged { SHEET } else { WIDTH },
    };
    writer.ruled(&document.title, '=');
    if !document.subtitle.is_empty() {
        writer.paragraph(&document.subtitle, "", "");
    }
    let alone = document.parts.len() == 1;
    for part in &document.parts {
        writer.gap();
        if document.paged && part.new_page {
            writer.out.push(NEW_PAGE);
            writer.out.push('\n');
        }
        if !alone {
            writer.ruled(&part.title, '-');
        }
        for block in &part.blocks {
            writer.block(block);
        }
    }
    writer.out
}

struct TextPage {
    out: String,
    width: usize,
}

impl TextPage {
    fn ruled(&mut self, title: &str, rule: char) {
        let line: String = std::iter::repeat_n(rule, title.chars().count()).collect();
        let _ = writeln!(self.out, "{title}\n{line}");
    }

    /// An empty line, unless there is one.
    fn gap(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    fn paragraph(&mut self, text: &str, first: &str, others: &str) {
        for line in wrapped(text, self.width, first, others) {
            let _ = writeln!(self.out, "{line}");
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading(heading) => {
                self.gap();
                let _ = writeln!(self.out, "{}", capitals(&heading.text));
            }
            Block::Text(text) => self.paragraph(text, "  ", "  "),
            Block::Small(text) => {
                // What is said beside a table stands right below it.
                if self.out.ends_with("\n\n") {
                    self.out.pop();
                }
                self.paragraph(text, "  ", "  ");
            }
            Block::Sentences(sentences) => {
                for sentence in sentences {
                    self.paragraph(sentence, "  ", "      ");
                }
            }
            Block::Terms(terms) => {
                let terms = terms.iter();
                let terms = terms.map(|(word, meaning)| format!("{word}: {meaning}"));
                self.paragraph(&terms.collect::<Vec<_>>().join("; "), "  ", "      ");
            }
            Block::Numbered { texts, room } => self.numbered(texts, *room),
            Block::Steps(steps) => self.steps(steps),
            Block::Table(table) => self.table(table),
            Block::Figures(_) | Block::Chart(_) => {}
            Block::Findings(findings) => self.findings(findings),
            Block::Amended(pieces) => self.out.push_str(&with_marks(pieces)),
            Block::Lines(lines) => {
                for line in lines.lines() {
                    self.paragraph(line, "    ", "      ");
                }
            }
        }
    }

    fn numbered(&mut self, texts: &[String], room: bool) {
        self.gap();
        for (number, text) in (1..).zip(texts) {
            self.paragraph(text, &format!("{number:>2}. "), "    ");
            self.out.push_str(&"\n".repeat(if room { ROOM } else { 1 }));
        }
    }

    /// Sentences, the counts in a column at the right.
    fn steps(&mut self, steps: &Steps) {
        for (sentence, counts) in &steps.steps {
            let mut lines = wrapped(sentence, self.width - 4, "  ", "      ");
            if let Some(counts) = counts.as_ref().map(|counts| format!("[{counts}]")) {
                let width = self.width;
                let used = lines.last().map_or(0, |line| line.chars().count());
                if used + 2 + counts.chars().count() > width {
                    lines.push(format!("{counts:>width$}"));
                } else if let Some(last) = lines.last_mut() {
                    let _ = write!(last, "{counts:>rest$}", rest = width - used);
                }
            }
            for line in lines {
                let _ = writeln!(self.out, "{line}");
            }
        }
    }

    fn findings(&mut self, findings: &[FindingBlock]) {
        if findings.is_empty() {
            let _ = writeln!(self.out, "  Nothing was found.");
        }
        for finding in findings {
            let about = if finding.about.is_empty() {
                String::new()
            } else {
                format!(" {}", finding.about)
            };
            let (level, code) = (finding.level.word(), finding.code);
            let _ = writeln!(self.out, "  {level} [{code}]{about}");
            self.paragraph(&finding.message, "      ", "      ");
            if let Some(next) = &finding.next {
                self.paragraph(next, "      -> ", "         ");
            }
        }
    }

    /// Columns beside one another; as many tables below one another as the width asks for, each with
    /// the names of its rows.
    fn table(&mut self, table: &TableBlock) {
        self.gap();
        if table.captioned {
            self.paragraph(&table.caption, "  ", "  ");
        }
        let widths = widths(table, self.width);
        // Sentences at the end of a line may be longer than it; what they belong to stays beside them.
        let words = |column: &TableColumn| column.kind == ColumnKind::Words;
        let room = if table.columns.iter().any(words) {
            usize::MAX
        } else {
            self.width
        };
        for band in bands(&widths, room) {
            self.band(table, &widths, &band);
            self.out.push('\n');
        }
    }

    fn band(&mut self, table: &TableBlock, widths: &[usize], band: &[usize]) {
        let columns = || {
            band.iter()
                .filter_map(|&i| Some((i, table.columns.get(i)?)))
        };
        if columns().any(|(_, column)| !column.name.is_empty()) {
            let heads: Vec<Vec<String>> = columns()
                .map(|(i, column)| {
                    let width = widths.get(i).copied().unwrap_or(0);
                    wrapped(&column.name, width, "", "")
                })
                .collect();
            let most = heads.iter().map(Vec::len).max().unwrap_or(0);
            let padded = heads.into_iter().map(|mut lines| {
                // The last line of every heading stands right above its column.
                let missing = most - lines.len();
                lines.splice(0..0, std::iter::repeat_n(String::new(), missing));
                lines
            });
            let cells: Vec<Vec<String>> = padded.collect();
            self.row(table, widths, band, &cells);
        }
        for row in &table.rows {
            if let [alone] = row.as_slice() {
                self.paragraph(alone, "  ", "      ");
                continue;
            }
            let cells = columns().map(|(i, column)| {
                let cell = row.get(i).map(String::as_str).unwrap_or_default();
                let width = widths.get(i).copied().unwrap_or(0);
                match column.kind {
                    ColumnKind::Words => wrapped(cell, width, "", ""),
                    _ => vec![cell.to_owned()],
                }
            });
            self.row(table, widths, band, &cells.collect::<Vec<_>>());
        }
    }

    fn row(&mut self, table: &TableBlock, widths: &[usize], band: &[usize], cells: &[Vec<String>]) {
        let most = cells.iter().map(Vec::len).max().unwrap_or(0);
        for at in 0..most.max(1) {
            let mut line = String::new();
            if !table.boxes.is_empty() {
                line.push_str(if at == 0 { "[ ]" } else { "   " });
            }
            for (lines, &i) in cells.iter().zip(band) {
                let cell = lines.get(at).map(String::as_str).unwrap_or_default();
                let width = widths.get(i).copied().unwrap_or(0);
                let number = |column: &TableColumn| column.kind == ColumnKind::Number;
                let _ = if table.columns.get(i).is_some_and(number) {
                    write!(line, "  {cell:>width$}")
                } else {
                    write!(line, "  {cell:<width$}")
                };
            }
            let _ = writeln!(self.out, "{}", line.trim_end());
        }
    }
}

/// The columns of each table: all of them, or as many as fit, the first in each, as many in each as in
/// the others, rather than nine and one.
fn bands(widths: &[usize], room: usize) -> Vec<Vec<usize>> {
    let Some((first, rest)) = widths.split_first() else {
        return Vec::new();
    };
    let fits = |band: &[usize]| {
        let wide: usize = band.iter().map(|width| width + 2).sum();
        first + 2 + wide <= room
    };
    let mut tables = 1;
    while tables < rest.len() {
        let each = rest.len().div_ceil(tables).max(1);
        if rest.chunks(each).all(fits) {
            break;
        }
        tables += 1;
    }
    let each = rest.len().div_ceil(tables).max(1);
    let columns: Vec<usize> = (1..widths.len()).collect();
    if columns.is_empty() {
        return vec![vec![0]];
    }
    let bands = columns.chunks(each);
    bands
        .map(|band| std::iter::once(0).chain(band.iter().copied()).collect())
        .collect()
}

/// The width of every column; sentences take what the others leave.
fn widths(table: &TableBlock, room: usize) -> Vec<usize> {
    let cells = |at: usize| {
        let rows = table.rows.iter().filter(|row| row.len() > 1);
        let cells = rows.filter_map(move |row| row.get(at));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let columns = table.columns.iter().enumerate();
    let mut widths: Vec<usize> = columns
        .map(|(at, column)| match column.kind {
            ColumnKind::Words => 0,
            _ => cells(at).max(heading(&column.name)),
        })
        .collect();
    let used: usize = widths.iter().map(|width| width + 2).sum();
    let words = |column: &TableColumn| column.kind == ColumnKind::Words;
    let sentences = table.columns.iter().filter(|column| words(column)).count();
    let left = room.saturating_sub(used) / sentences.max(1);
    for (at, (width, column)) in widths.iter_mut().zip(&table.columns).enumerate() {
        if words(column) {
            let wanted = cells(at).max(column.name.chars().count());
            *width = wanted.min(left.max(WORDS_AT_LEAST));
        }
    }
    widths
}

/// The least width at which a heading has two lines at the most.
fn heading(name: &str) -> usize {
    let longest = name.split(' ').map(|word| word.chars().count()).max();
    let mut width = longest.unwrap_or(0);
    while wrapped(name, width, "", "").len() > 2 {
        width += 1;
    }
    width
}

/// A text in lines of at most so many characters; a word is never broken.
fn wrapped(text: &str, width: usize, first: &str, others: &str) -> Vec<String> {
    let options = Options::new(width)
        .initial_indent(first)
        .subsequent_indent(others)
        .break_words(false)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation);
    let lines = textwrap::wrap(text, options);
    lines
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect()
}

/// In capitals; units stay small, since the metre's letters are symbols (ISO 80000-1, from memory).
fn capitals(heading: &str) -> String {
    let mut after_number = false;
    let words = heading.split(' ').map(|word| {
        let letters = word.trim_matches(|c: char| !c.is_alphanumeric());
        let bracketed = word == format!("({letters})");
        let unit = ["cm", "mm", "m", "in"].contains(&letters) && (after_number || bracketed);
        after_number = letters.ends_with(|c: char| c.is_ascii_digit());
        if unit {
            word.to_owned()
        } else {
            word.to_uppercase()
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::document::Chapter;

    fn table(columns: usize) -> String {
        let names =
            (0..columns).map(|at| TableColumn::new(format!("size {at}"), ColumnKind::Number));
        let row = (0..columns).map(|at| (1000 + at).to_string());
        let table = TableBlock::new("Sizes", names.collect(), vec![row.collect()]);
        let document = Document {
            title: "T".to_owned(),
            parts: vec![Chapter::new("P", vec![Block::Table(table)])],
            ..Document::default()
        };
        document.text()
    }

    #[test]
    fn units_stay_small_in_capitals() {
        for (heading, shown) in [
            ("81 cm", "81 cm"),
            ("86 cm, 91 cm", "86 cm, 91 cm"),
            ("size 38.5 in, M", "SIZE 38.5 in, M"),
            ("Finished measurements (in)", "FINISHED MEASUREMENTS (in)"),
            ("Rows in pattern", "ROWS IN PATTERN"),
        ] {
            assert_eq!(capitals(heading), shown);
        }
    }

    /// Nothing is lost and no line is too long, however many sizes there are.
    #[test]
    fn a_wide_table_becomes_several() {
        for columns in [1, 2, 12, 13, 40] {
            let text = table(columns);
            assert!(
                text.lines().all(|line| line.chars().count() <= WIDTH),
                "{text}"
            );
            let cells = (0..columns).map(|at| (1000 + at).to_string());
            assert!(cells.into_iter().all(|cell| text.contains(&cell)), "{text}");
        }
        // The first column names the rows of every one of them.
        assert!(table(40).matches("1000").count() > 1);
    }
}
