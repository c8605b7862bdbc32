//! The ledger as a table: what `read` prints.

use super::{Block, Chapter, ColumnKind, Document, TableBlock, TableColumn};
use crate::diagnostic::Span;
use crate::pattern::{Ledger, LedgerRow, Reading};

/// One line of the table of a reading: rows that come from the same words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadingRow {
    /// The rows, what is done on them and the stitches left; sizes in trade notation.
    pub cells: [String; 3],
    /// The words they come from, in the lines.
    pub words: Span,
}

/// A reading as a table: rows that come from the same words folded, sizes in trade notation.
pub fn reading_rows(reading: &Reading) -> Vec<ReadingRow> {
    let rows = aligned(reading).into_iter();
    rows.map(|line| {
        let [rows, what, left, _] = line.cells("");
        ReadingRow {
            cells: [rows, what, left],
            words: Span::new(line.span.0, line.span.1),
        }
    })
    .collect()
}

/// A reading as a table: rows that come from the same words folded, each with those words, the sizes
/// side by side.
pub fn reading_document(reading: &Reading, lines: &str) -> Document {
    let each = |name: &str, of: &dyn Fn(&Ledger) -> u32| {
        let all = reading.sizes.iter().map(|s| of(&s.ledger).to_string());
        vec![name.to_owned(), in_brackets(&all.collect::<Vec<_>>())]
    };
    let mut rows = vec![
        each("stitches", &|l| l.start.count()),
        each("rows of fabric", &|l| l.row_count().count()),
        each("stitches left", &|l| l.final_stitches().count()),
    ];
    let labels: Vec<String> = reading.sizes.iter().map(|s| s.size.clone()).collect();
    if labels.len() > 1 {
        rows.insert(0, vec!["sizes".to_owned(), in_brackets(&labels)]);
    }
    let columns = TableColumn::all(&["", ""], ColumnKind::Words);
    let mut blocks = vec![Block::Table(
        TableBlock::new("What was read", columns, rows).under_heading(),
    )];
    let lined_up = aligned(reading);
    if labels.len() > 1 {
        let mut columns = vec![TableColumn::new("size", ColumnKind::Head)];
        columns.extend(
            labels
                .iter()
                .map(|l| TableColumn::new(l, ColumnKind::Number)),
        );
        let rows = lined_up.iter().flat_map(|line| line.rows(lines));
        blocks.push(Block::Table(
            TableBlock::new("Row by row", columns, rows.collect()).under_heading(),
        ));
    } else {
        let names = ["rows", "what", "stitches left", "from the words"];
        let mut columns = TableColumn::all(&names, ColumnKind::Short);
        if let Some(last) = columns.last_mut() {
            last.kind = ColumnKind::Words;
        }
        let rows = lined_up.iter().map(|line| line.cells(lines).to_vec());
        blocks.push(Block::Table(
            TableBlock::new("Row by row", columns, rows.collect()).under_heading(),
        ));
    }
    Document {
        title: "The lines, row by row".to_owned(),
        parts: vec![Chapter::new("Rows", blocks)],
        ..Document::default()
    }
}

/// `60 (64, 68)`, or one word where all sizes agree.
fn in_brackets(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [first, rest @ ..] if rest.iter().all(|other| other == first) => first.clone(),
        [first, rest @ ..] => format!("{first} ({})", rest.join(", ")),
    }
}

/// What the same words ask of every size; `None` for a size that skips them.
struct Aligned {
    span: (usize, usize),
    /// How many times these words were met before, in a repeat.
    again: usize,
    sizes: Vec<Option<Fold>>,
}

impl Aligned {
    fn words(&self, lines: &str) -> String {
        let words = lines.get(self.span.0..self.span.1).unwrap_or_default();
        let words: Vec<&str> = words.split_whitespace().collect();
        words.join(" ")
    }

    /// The words, and under them what each size makes of them.
    fn rows(&self, lines: &str) -> Vec<Vec<String>> {
        let row = |name: &str, of: &dyn Fn(&Fold) -> String| {
            let folds = self.sizes.iter();
            let cells = folds.map(|fold| fold.as_ref().map_or("-".to_owned(), of));
            std::iter::once(name.to_owned()).chain(cells).collect()
        };
        let mut rows = vec![
            vec![self.words(lines)],
            row("to row", &|fold| fold.last.clone()),
        ];
        let names = ["bound off", "decreased", "increased"];
        for (i, name) in names.into_iter().enumerate() {
            let count = |fold: &Fold| fold.counts.get(i).copied().unwrap_or(0);
            if self.sizes.iter().flatten().any(|fold| count(fold) > 0) {
                rows.push(row(name, &|fold| count(fold).to_string()));
            }
        }
        rows.push(row("left", &|fold| fold.stitches.to_string()));
        rows
    }

    fn cells(&self, lines: &str) -> [String; 4] {
        let each = |of: fn(&Fold) -> String| {
            let cells = self.sizes.iter();
            let cells = cells.map(|fold| fold.as_ref().map_or("-".to_owned(), of));
            in_brackets(&cells.collect::<Vec<_>>())
        };
        [
            each(|fold| fold.rows.clone()),
            each(|fold| fold.what.clone()),
            each(|fold| fold.stitches.to_string()),
            self.words(lines),
        ]
    }
}

/// The folded rows of every size, those from the same words on one line, in the order worked.
fn aligned(reading: &Reading) -> Vec<Aligned> {
    let sizes = reading.sizes.len();
    let mut lines: Vec<Aligned> = Vec::new();
    for (i, size) in reading.sizes.iter().enumerate() {
        let mut after = 0;
        let mut met: Vec<(usize, usize)> = Vec::new();
        for fold in folded(&size.ledger) {
            let again = met.iter().filter(|span| **span == fold.span).count();
            met.push(fold.span);
            let known = lines
                .iter()
                .position(|line| line.span == fold.span && line.again == again);
            let at = known.unwrap_or_else(|| {
                let line = Aligned {
                    span: fold.span,
                    again,
                    sizes: (0..sizes).map(|_| None).collect(),
                };
                lines.insert(after.min(lines.len()), line);
                after.min(lines.len())
            });
            after = at + 1;
            if let Some(place) = lines.get_mut(at).and_then(|line| line.sizes.get_mut(i)) {
                *place = Some(fold);
            }
        }
    }
    lines
}

struct Fold {
    /// `1 RS, 2 WS`, `3 RS to 21 RS`: the first and the last of its rows, each with its side.
    rows: String,
    /// `5 RS`: the last of its rows.
    last: String,
    what: String,
    /// Stitches bound off, decreased, increased.
    counts: [u32; 3],
    stitches: u32,
    span: (usize, usize),
}

/// Rows that come from the same words are one line of the table.
fn folded(ledger: &Ledger) -> Vec<Fold> {
    let groups = ledger.rows.chunk_by(|a, b| a.span == b.span && !b.closes());
    groups.filter_map(fold).collect()
}

fn fold(rows: &[LedgerRow]) -> Option<Fold> {
    let (first, last) = (rows.first()?, rows.last()?);
    let numbers = if last.closes() {
        "end".to_owned()
    } else if first.row == last.row {
        format!("{} {}", first.row, first.side)
    } else {
        // Both sides as they are: rows that follow one another change sides.
        let joint = if last.row == first.row + 1 {
            ","
        } else {
            " to"
        };
        format!(
            "{} {}{joint} {} {}",
            first.row, first.side, last.row, last.side
        )
    };
    Some(Fold {
        last: if last.closes() {
            "end".to_owned()
        } else {
            format!("{} {}", last.row, last.side)
        },
        rows: numbers,
        what: what(counts(rows)),
        counts: counts(rows),
        stitches: last.stitches.count(),
        span: (first.span.from, first.span.to),
    })
}

/// Stitches that a group of rows binds off, decreases and increases.
fn counts(rows: &[LedgerRow]) -> [u32; 3] {
    let count = |of: fn(&LedgerRow) -> u32| rows.iter().map(of).sum::<u32>();
    [
        count(|r| r.bind_off.count()),
        count(|r| r.decrease_start.count() + r.decrease_end.count()),
        count(|r| r.added().count()),
    ]
}

/// The same in words.
fn what(counts: [u32; 3]) -> String {
    let words = ["bound off", "decreased", "increased"];
    let parts = counts.into_iter().zip(words).filter(|(n, _)| *n > 0);
    let parts: Vec<String> = parts.map(|(n, word)| format!("{n} {word}")).collect();
    if parts.is_empty() {
        "even".to_owned()
    } else {
        parts.join(", ")
    }
}
