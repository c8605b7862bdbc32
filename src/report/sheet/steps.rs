//! Instructions as tables: what is done, and in columns what the knitter then has.

use super::{Block, Column, ColumnKind, Table};
use crate::wording::{Counts, Section, Step, Waiting};

/// The headings of the columns of counts in a section.
fn columns(section: &Section) -> Vec<&'static str> {
    let mut counts = section.steps.iter().filter_map(|step| step.counts.as_ref());
    match counts.next() {
        None => Vec::new(),
        Some(Counts::PickUp { .. }) => vec!["Stitches", "On the needle"],
        Some(Counts::ShortRows {
            waiting: Waiting::EachSide(_),
            ..
        }) => vec!["Rows", "Worked", "Waiting each side"],
        Some(Counts::ShortRows { .. }) => {
            vec!["Rows", "Worked", "Waiting at the back", "at the front"]
        }
        // One step has counts, and they need words.
        Some(Counts::Join { .. }) => Vec::new(),
        Some(Counts::Shaping { .. } | Counts::Rounds { .. }) => vec!["Rounds", "Stitches"],
    }
}

/// The numbers for these columns.
fn cells(counts: &Counts) -> Vec<String> {
    match counts {
        Counts::PickUp {
            stitches,
            on_needle,
        } => vec![stitches.to_string(), on_needle.to_string()],
        Counts::ShortRows {
            rows,
            worked,
            waiting,
        } => {
            let mut cells = vec![rows.to_string(), worked.to_string()];
            match waiting {
                Waiting::EachSide(n) => cells.push(n.to_string()),
                Waiting::BackAndFront { back, front } => {
                    cells.extend([back.to_string(), front.to_string()]);
                }
            }
            cells
        }
        Counts::Join { .. } => Vec::new(),
        Counts::Shaping { fewer } => {
            let change = match fewer {
                0.. => format!("{fewer} fewer"),
                _ => format!("{} more", -fewer),
            };
            vec![String::new(), change]
        }
        Counts::Rounds { rounds, stitches } => vec![rounds.to_string(), stitches.to_string()],
    }
}

/// A section: its heading, then a table that is not split, or its sentences where nothing is counted.
pub(super) fn section(section: &Section) -> [Block; 2] {
    let title = sentence_case(&section.heading);
    let names = columns(section);
    let block = if names.is_empty() {
        Block::Sentences(section.steps.iter().map(Step::full).collect())
    } else {
        let mut columns = vec![Column::new("What to do", ColumnKind::Words)];
        columns.extend(
            names
                .iter()
                .map(|name| Column::new(*name, ColumnKind::Number)),
        );
        Block::Table(Table {
            caption: format!("{title}, and what you then have"),
            captioned: false,
            rows: section
                .steps
                .iter()
                .map(|step| row(step, names.len()))
                .collect(),
            columns,
            boxes: false,
            whole: true,
        })
    };
    [Block::heading(title), block]
}

/// The sentence and its numbers; alone where nothing is counted.
fn row(step: &Step, numbers: usize) -> Vec<String> {
    let mut row = vec![step.sentence.clone()];
    if let Some(counts) = &step.counts {
        row.extend(cells(counts));
        row.resize(numbers + 1, String::new());
    }
    row
}

/// `SHORT ROWS` as `Short rows`.
pub(super) fn sentence_case(heading: &str) -> String {
    let mut letters = heading.chars();
    let first = letters.next().into_iter();
    first.chain(letters.flat_map(char::to_lowercase)).collect()
}
