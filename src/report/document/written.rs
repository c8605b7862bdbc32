//! The text for one sleeve: what to have ready, the instructions, the pick-up row by row, the boxes to
//! tick.

use super::steps::section;
use super::{Block, Column, ColumnKind, Table, sentences};
use crate::convert::Written;
use crate::plan::Sleeve;
use crate::wording::{ABBREVIATIONS_SOURCE, Checklist, Instructions, PickUpList};

/// The abbreviations of these texts, each once.
pub(super) fn abbreviations(written: &[&Written]) -> Vec<Block> {
    let mut terms: Vec<(String, String)> = Vec::new();
    for one in written.iter().flat_map(|written| &written.abbreviations) {
        if terms.iter().all(|(short, _)| short != one.short) {
            terms.push((one.short.to_owned(), one.meaning.to_owned()));
        }
    }
    terms.sort_by_key(|(short, _)| short.to_lowercase());
    vec![
        Block::heading("Abbreviations"),
        Block::Terms(terms),
        Block::Small(capital(ABBREVIATIONS_SOURCE)),
    ]
}

/// The rows picked up, one by one.
pub(super) fn rows_picked_up(written: &Written) -> Vec<Block> {
    sentences("Rows picked up", &pick_up_sentences(&written.lists))
}

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
pub(super) fn checklist(list: &Checklist, title: &str) -> Table {
    let number = |name: &str| Column::new(name, ColumnKind::Number);
    let short = |name: &str| Column::new(name, ColumnKind::Short);
    let row = |row: &crate::wording::CheckRow| {
        vec![
            row.row.to_string(),
            row.side.to_owned(),
            row.step.clone(),
            row.turn.clone(),
            row.worked.to_string(),
            row.waiting_first.to_string(),
            row.waiting_second.to_string(),
            row.decreases.to_string(),
            row.on_needle.to_string(),
        ]
    };
    Table {
        caption: format!("{title}: every row of the cap"),
        captioned: false,
        columns: vec![
            Column::new("Row", ColumnKind::Head),
            short("Side"),
            short("Step"),
            short("Turn"),
            number("Worked"),
            number(&format!("Waiting, {}", list.first)),
            number(&format!("Waiting, {}", list.second)),
            number("Decreased"),
            number("On the needle"),
        ],
        rows: list.rows.iter().map(row).collect(),
        links: Vec::new(),
        boxes: true,
        whole: false,
    }
}

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}
