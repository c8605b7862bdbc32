//! The ledger for a person and as JSON: what `read` prints.

use std::fmt::Write as _;

use serde_json::{Value, json};

use super::json::ledger_row;
use crate::diagnostic::{Diagnostic, Span};
use crate::pattern::{Ledger, LedgerRow, Reading};

/// A reading as one JSON object.
pub fn reading_json(reading: &Reading, diagnostics: &[Diagnostic]) -> Value {
    let sizes = reading.sizes.iter().map(|size| {
        json!({
            "size": size.size,
            "stitches": size.ledger.start.count(),
            "ledger": size.ledger.rows.iter().map(ledger_row).collect::<Vec<_>>(),
            "final_stitches": size.ledger.final_stitches().count(),
        })
    });
    json!({
        "sizes": sizes.collect::<Vec<_>>(),
        "diagnostics": diagnostics.iter().map(super::finding_json).collect::<Vec<_>>(),
    })
}

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

/// A reading as one table: rows that come from the same words folded, each with those words, the
/// sizes side by side.
pub fn reading_text(reading: &Reading, lines: &str) -> String {
    let mut out = String::new();
    let each = |of: &dyn Fn(&Ledger) -> u32| {
        let all: Vec<String> = reading
            .sizes
            .iter()
            .map(|s| of(&s.ledger).to_string())
            .collect();
        in_brackets(&all)
    };
    if reading.sizes.len() > 1 {
        let labels: Vec<String> = reading.sizes.iter().map(|s| s.size.clone()).collect();
        let _ = writeln!(out, "sizes           {}", in_brackets(&labels));
    }
    let _ = writeln!(out, "stitches        {}", each(&|l| l.start.count()));
    let _ = writeln!(out, "rows of fabric  {}", each(&|l| l.row_count().count()));
    let _ = writeln!(
        out,
        "stitches left   {}\n",
        each(&|l| l.final_stitches().count())
    );
    if reading.sizes.len() > 1 {
        let labels = reading.sizes.iter().map(|size| size.size.clone()).collect();
        let lines: Vec<String> = aligned(reading)
            .iter()
            .map(|line| line.block(lines))
            .collect();
        return out + &in_columns("", labels) + &lines.concat();
    }
    let heading = ["rows", "what", "stitches left", "from the words"].map(str::to_owned);
    let table: Vec<[String; 4]> = std::iter::once(heading)
        .chain(aligned(reading).iter().map(|line| line.cells(lines)))
        .collect();
    out + &laid_out(&table)
}

/// `60 (64, 68)`, or one word where all sizes agree.
fn in_brackets(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [first, rest @ ..] if rest.iter().all(|other| other == first) => first.clone(),
        [first, rest @ ..] => format!("{first} ({})", rest.join(", ")),
    }
}

/// A named line with one cell a size.
fn in_columns(name: &str, cells: Vec<String>) -> String {
    let cells: Vec<String> = cells.into_iter().map(|cell| format!("{cell:>7}")).collect();
    format!("      {name:<10}{}\n", cells.concat())
}

/// What the same words ask of every size; `None` for a size that skips them.
struct Aligned {
    span: (usize, usize),
    /// How many times these words were met before, in a repeat.
    again: usize,
    sizes: Vec<Option<Fold>>,
}

impl Aligned {
    /// The words, and under them what each size makes of them.
    fn block(&self, lines: &str) -> String {
        let words = lines.get(self.span.0..self.span.1).unwrap_or_default();
        let words: Vec<&str> = words.split_whitespace().collect();
        let mut out = format!("  {}\n", words.join(" "));
        let folds: Vec<Option<&Fold>> = self.sizes.iter().map(Option::as_ref).collect();
        let column = |of: &dyn Fn(&Fold) -> String| {
            let cells = folds.iter().map(|fold| fold.map_or("-".to_owned(), of));
            cells.collect::<Vec<_>>()
        };
        out += &in_columns("to row", column(&|fold| fold.last.clone()));
        for (i, name) in ["bound off", "decreased", "increased"]
            .into_iter()
            .enumerate()
        {
            let count = |fold: &Fold| fold.counts.get(i).copied().unwrap_or(0);
            if folds.iter().flatten().any(|fold| count(fold) > 0) {
                out += &in_columns(name, column(&|fold| count(fold).to_string()));
            }
        }
        out + &in_columns("left", column(&|fold| fold.stitches.to_string()))
    }

    fn cells(&self, lines: &str) -> [String; 4] {
        let each = |of: fn(&Fold) -> String| {
            let cells = self.sizes.iter();
            let cells = cells.map(|fold| fold.as_ref().map_or("-".to_owned(), of));
            in_brackets(&cells.collect::<Vec<_>>())
        };
        let words = lines.get(self.span.0..self.span.1).unwrap_or_default();
        let words: Vec<&str> = words.split_whitespace().collect();
        [
            each(|fold| fold.rows.clone()),
            each(|fold| fold.what.clone()),
            each(|fold| fold.stitches.to_string()),
            words.join(" "),
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

fn laid_out(table: &[[String; 4]]) -> String {
    let width = |column: usize| {
        let cells = table.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let [rows, what, left] = [0, 1, 2].map(width);
    let lines = table.iter().map(|[a, b, c, words]| {
        let line = format!("  {a:<rows$}  {b:<what$}  {c:<left$}  {words}");
        format!("{}\n", line.trim_end())
    });
    lines.collect()
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
