//! The text for one sleeve: what to have ready, the instructions, the pick-up row by row, the boxes to
//! tick.

use super::steps::section;
use super::{Block, ColumnKind, Reader, Steps, TableBlock, TableColumn};
use crate::convert::Written;
use crate::plan::Sleeve;
use crate::report::row_columns::RowColumn;
use crate::wording::{CheckRow, Checklist, Instructions, PickUpList, abbreviations_source};

/// The abbreviations of these texts, each once.
pub(super) fn abbreviations(written: &[&Written]) -> Vec<Block> {
    let mut terms: Vec<(String, String)> = Vec::new();
    for one in written.iter().flat_map(|written| &written.abbreviations) {
        if terms.iter().all(|(short, _)| short != one.short) {
            terms.push((one.short.to_owned(), one.meaning.to_owned()));
        }
    }
    terms.sort_by_key(|(short, _)| short.to_lowercase());
    let shown: Vec<&str> = terms.iter().map(|(short, _)| short.as_str()).collect();
    let source = abbreviations_source(&shown);
    vec![
        Block::heading("Abbreviations"),
        Block::Terms(terms),
        Block::Small(capital(&source)),
    ]
}

/// The rows picked up, one by one.
pub(super) fn rows_picked_up(written: &Written, reader: Reader) -> Vec<Block> {
    if written.lists.is_empty() {
        return Vec::new();
    }
    let steps = pick_up_sentences(&written.lists).into_iter();
    let steps = Steps {
        steps: steps.map(|sentence| (sentence, None)).collect(),
        table: (reader == Reader::Paper).then(|| pick_up_table(&written.lists)),
    };
    vec![Block::heading(ROWS_PICKED_UP), Block::Steps(steps)]
}

/// True where the rows of both sleeves are the same, whichever end they are told from.
pub(super) fn same_rows(one: &Written, other: &Written) -> bool {
    let sorted = |list: &PickUpList| {
        let mut rows = list.rows.clone();
        rows.sort_unstable();
        (list.section, list.counted_from, rows, list.of)
    };
    let known: Vec<_> = one.lists.iter().map(sorted).collect();
    other.lists.iter().all(|list| known.contains(&sorted(list)))
}

const ROWS_PICKED_UP: &str = "Rows picked up";

fn rows(count: u32) -> String {
    let word = if count == 1 { "row" } else { "rows" };
    format!("{count} {word}")
}

/// A section a row, as planned and one row off.
fn pick_up_table(lists: &[PickUpList]) -> TableBlock {
    let row_of = |list: &PickUpList| {
        let (more, fewer) = (list.of + 1, list.of.saturating_sub(1));
        vec![
            list.section.to_owned(),
            format!("{} (of {}, {})", list.numbers(), list.of, list.counted_from),
            format!(
                "{}: {}",
                rows(more),
                changed(&list.one_row_more, list.fewer())
            ),
            format!(
                "{}: {}",
                rows(fewer),
                changed(list.fewer(), &list.one_row_more)
            ),
        ]
    };
    let columns = vec![
        TableColumn::new("Section", ColumnKind::Head),
        TableColumn::new("Pick up in rows", ColumnKind::Words),
        TableColumn::new("Where there is one row more", ColumnKind::Words),
        TableColumn::new("Where there is one row fewer", ColumnKind::Words),
    ];
    let table = lists.iter().map(row_of).collect();
    TableBlock {
        whole: false,
        ..TableBlock::new(ROWS_PICKED_UP, columns, table).under_heading()
    }
}

/// Of a section of several stretches the one that has a row more or fewer; the others stay as they are.
fn changed(told: &str, other: &str) -> String {
    let parts: Vec<&str> = told.split(THEN).collect();
    let others: Vec<&str> = other.split(THEN).collect();
    let own = parts.iter().filter(|part| !others.contains(part));
    let own: Vec<&str> = own.copied().collect();
    if own.len() == parts.len() || others.len() != parts.len() || own.is_empty() {
        return told.to_owned();
    }
    format!("{}; the rest as planned", own.join(THEN))
}

/// Between two stretches of a pick-up.
const THEN: &str = "; then ";

/// The stitches of the pattern and how they are worked.
pub(super) fn pattern_stitches(written: &Written) -> Vec<Block> {
    let Some(pattern) = &written.pattern else {
        return Vec::new();
    };
    vec![
        Block::heading("Stitches of the pattern"),
        Block::Terms(pattern.words.terms.clone()),
    ]
}

/// Charts and rows in pattern, stitch by stitch.
pub(super) fn rows_in_pattern(written: &Written) -> Vec<Block> {
    let sections = written.pattern.iter().map(|pattern| &pattern.words.section);
    sections.flat_map(section).collect()
}

/// Section by section.
pub(super) fn instructions(text: &Instructions) -> Vec<Block> {
    text.sections.iter().flat_map(section).collect()
}

/// The second sleeve on paper: what is worked as in the first is not told again.
pub(super) fn instructions_beside(text: &Instructions, first: &Instructions) -> Vec<Block> {
    let (alike, own): (Vec<_>, Vec<_>) = text
        .sections
        .iter()
        .partition(|section| first.sections.contains(section));
    let mut blocks: Vec<Block> = own.into_iter().flat_map(section).collect();
    let names = alike.iter().map(|section| section.heading.to_lowercase());
    let names: Vec<String> = names.collect();
    if let Some((last, others)) = names.split_last() {
        let named = match others {
            [] => last.clone(),
            others => format!("{} and {last}", others.join(", ")),
        };
        let words = format!("{} as for the first sleeve.", capital(&named));
        blocks.push(Block::Sentences(vec![words]));
    }
    blocks
}

/// The heading above a sleeve's text.
pub(super) const fn sleeve_title(sleeve: Sleeve) -> &'static str {
    match sleeve {
        Sleeve::Both => "Pattern, both sleeves alike",
        Sleeve::Left => "Left sleeve (the wearer's left)",
        Sleeve::Right => "Right sleeve (the wearer's right)",
    }
}

/// The exact rows, and the rate when the armhole came out a row longer or shorter.
fn pick_up_sentences(lists: &[PickUpList]) -> Vec<String> {
    let lists = lists.iter();
    lists
        .flat_map(|list| std::iter::once(list.sentence()).chain(list.one_row_off()))
        .collect()
}

/// A box for every row of the cap.
pub(super) fn checklist(list: &Checklist, more: &[RowColumn], title: &str) -> TableBlock {
    let number = |name: &str| TableColumn::new(name, ColumnKind::Number);
    let short = |name: &str| TableColumn::new(name, ColumnKind::Short);
    let row = |(at, row): (usize, &CheckRow)| {
        let mut cells = vec![row.row.to_string(), row.side.to_owned()];
        cells.extend(cells_at(more, at));
        cells.extend([
            row.step.clone(),
            row.turn.clone(),
            row.worked.to_string(),
            row.waiting_first.to_string(),
            row.waiting_second.to_string(),
            row.decreases.to_string(),
            row.on_needle.to_string(),
        ]);
        cells
    };
    let mut columns = vec![TableColumn::new("Row", ColumnKind::Head), short("Side")];
    columns.extend(more.iter().map(|column| short(&column.name)));
    columns.extend([
        short("Step"),
        short("Turn"),
        number("Worked"),
        number(&format!("Waiting, {}", list.first)),
        number(&format!("Waiting, {}", list.second)),
        number("Decreased"),
        number("On the needle"),
    ]);
    TableBlock {
        caption: format!("{title}: every row of the cap"),
        captioned: false,
        columns,
        rows: list.rows.iter().enumerate().map(row).collect(),
        links: Vec::new(),
        boxes: vec!["Done"],
        whole: false,
    }
}

/// What these columns have for a row.
fn cells_at(columns: &[RowColumn], at: usize) -> impl Iterator<Item = String> {
    let cell = move |column: &RowColumn| column.cells.get(at).cloned().unwrap_or_default();
    columns.iter().map(cell)
}

/// The same for a page of paper: narrow enough to stand in two halves beside one another, with a box for
/// each sleeve. `None` where the sleeves' rows differ.
pub(super) fn narrow_checklist(
    lists: &[(&Checklist, Vec<RowColumn>)],
    title: &str,
) -> Option<TableBlock> {
    let (first, others) = lists.split_first()?;
    let rows = |(list, more): &(&Checklist, Vec<RowColumn>)| -> Vec<Vec<String>> {
        let row = |(at, row)| narrow_row(row, cells_at(more, at));
        list.rows.iter().enumerate().map(row).collect()
    };
    let cells = rows(first);
    if others.iter().any(|other| rows(other) != cells) {
        return None;
    }
    let short = |name: &str| TableColumn::new(name, ColumnKind::Short);
    let mut columns = vec![TableColumn::new("Row", ColumnKind::Head)];
    columns.extend(first.1.iter().map(|column| short(&column.name)));
    columns.extend([
        short("Step"),
        short("Turn on st"),
        TableColumn::new("Worked", ColumnKind::Number),
        TableColumn::new("Waiting", ColumnKind::Number),
    ]);
    Some(TableBlock {
        caption: format!("{title}: every row of the cap"),
        captioned: false,
        columns,
        rows: cells,
        links: Vec::new(),
        boxes: match others {
            [] => vec!["1", "2"],
            _ => vec!["L", "R"],
        },
        whole: false,
    })
}

fn narrow_row(row: &CheckRow, more: impl Iterator<Item = String>) -> Vec<String> {
    let mut cells = vec![format!("{} {}", row.row, row.side)];
    cells.extend(more);
    cells.extend([
        row.step.clone(),
        row.place.clone(),
        row.worked.to_string(),
        format!("{}, {}", row.waiting_first, row.waiting_second),
    ]);
    cells
}

/// What the narrow one leaves to be said: stitches on the needle, and which flank is which.
pub(super) fn narrow_remark(lists: &[&Checklist]) -> String {
    let Some(list) = lists.first() else {
        return String::new();
    };
    let mut said = String::from(
        "A box for each sleeve; each block goes down its left half, then down its right one. Waiting: on the 1st flank and on the 2nd, whose sts are counted from the crown.",
    );
    if list.first == "back" || list.first == "front" {
        let of = |list: &&Checklist, sleeve: &str| format!("the {} on the {sleeve}", list.first);
        let sleeves = lists.iter().zip(["left sleeve", "right sleeve"]);
        let named: Vec<String> = sleeves.map(|(list, sleeve)| of(list, sleeve)).collect();
        said = format!("{said} The 1st flank is {}.", named.join(", "));
    }
    let decreases = list.rows.iter().any(|row| row.decreases > 0);
    let waits = |row: &CheckRow| row.worked + row.waiting_first + row.waiting_second;
    if let Some(row) = list.rows.first() {
        let on_needle = row.on_needle;
        said = match (decreases, on_needle.saturating_sub(waits(row))) {
            (false, _) => format!("{said} There are {on_needle} sts on the needle all along."),
            (true, 0) => format!("{said} On the needle is what was worked and what waits."),
            (true, base) => format!(
                "{said} On the needle is what was worked, what waits and the base of {base}."
            ),
        };
    }
    said
}

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}
