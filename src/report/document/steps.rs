//! Steps of a pattern: what is done, and what the knitter then has: in brackets in a text, in columns
//! on a page.

use super::{Block, ColumnKind, Steps, TableBlock, TableColumn};
use crate::plan::remarks::PICK_UP;
use crate::wording::{Counts, Section, Step, Waiting};

/// The headings of the columns of counts in a section.
fn columns(section: &Section) -> Vec<&'static str> {
    let mut counts = section.steps.iter().filter_map(|step| step.counts.as_ref());
    match counts.next() {
        None => Vec::new(),
        Some(Counts::PickUp { .. } | Counts::PutRight { .. }) => vec!["Stitches", "On the needle"],
        Some(Counts::ShortRows {
            waiting: Waiting::EachSide(_),
            ..
        }) => vec!["Rows", "Worked", "Waiting each side"],
        Some(Counts::ShortRows { .. } | Counts::SoFar { .. }) => {
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
        Counts::PutRight { waiting, on_needle } => {
            vec![waiting.to_string(), on_needle.to_string()]
        }
        Counts::ShortRows {
            rows,
            worked,
            waiting,
        } => short_row_cells(rows.to_string(), *worked, *waiting),
        Counts::SoFar { worked, waiting } => short_row_cells(String::new(), *worked, *waiting),
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

fn short_row_cells(rows: String, worked: u32, waiting: Waiting) -> Vec<String> {
    let mut cells = vec![rows, worked.to_string()];
    match waiting {
        Waiting::EachSide(n) => cells.push(n.to_string()),
        Waiting::BackAndFront { back, front } => {
            cells.extend([back.to_string(), front.to_string()]);
        }
    }
    cells
}

/// A section: its heading and its steps.
pub(super) fn section(section: &Section) -> [Block; 2] {
    let title = sentence_case(&section.heading);
    let names = columns(section);
    let table = (!names.is_empty()).then(|| {
        let mut columns = vec![TableColumn::new("What to do", ColumnKind::Words)];
        let names = names.iter();
        columns.extend(
            names
                .clone()
                .map(|name| TableColumn::new(*name, ColumnKind::Number)),
        );
        let rows = section.steps.iter().map(|step| row(step, names.len()));
        let caption = format!("{title}, and what you then have");
        TableBlock {
            // Its steps are long; those of the short rows are looked at together.
            whole: section.heading != PICK_UP,
            ..TableBlock::new(caption, columns, rows.collect()).under_heading()
        }
    });
    let steps = section.steps.iter().map(|step| {
        let counts = step.counts.as_ref().map(ToString::to_string);
        (step.sentence.clone(), counts)
    });
    let steps = Steps {
        steps: steps.collect(),
        table,
    };
    [Block::heading(title), Block::Steps(steps)]
}

/// The sentence and its numbers; alone where nothing is counted.
fn row(step: &Step, numbers: usize) -> Vec<String> {
    // Among short rows other things are counted.
    if matches!(step.counts, Some(Counts::PutRight { .. })) && numbers != 2 {
        return vec![step.full()];
    }
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
