//! The words of a case that go into results as they are: its title and the labels of its sizes.

use super::ONE_SIZE;
use super::codes::{HIDDEN, LIST_LENGTH, WORDS};
use super::table::CaseTable;
use crate::diagnostic::visible;
use crate::measure::limits::{MAX_LABEL, MAX_SIZES, MAX_TITLE};

/// The labels of the sizes, made visible; one size where none are given.
pub(super) fn labels(root: &CaseTable<'_>) -> Vec<String> {
    match root.texts("sizes").filter(|sizes| !sizes.is_empty()) {
        Some(sizes) => sizes.into_iter().map(shown).collect(),
        None => vec![ONE_SIZE.to_owned()],
    }
}

/// The title, made visible.
pub(super) fn title(root: &CaseTable<'_>) -> String {
    let Some(title) = root.text("title") else {
        return "Untitled".to_owned();
    };
    judge(root, "title", title, MAX_TITLE);
    shown(title)
}

/// A name of the case's own, made visible: it goes into headings and tables.
pub(super) fn name(table: &CaseTable<'_>, key: &str, words: &str) -> String {
    judge(table, key, words, MAX_LABEL);
    shown(words)
}

fn shown(words: &str) -> String {
    visible(words).into_owned()
}

/// What is wrong with the list of sizes.
pub(super) fn judge_labels(root: &CaseTable<'_>) {
    let Some(sizes) = root.texts("sizes") else {
        return;
    };
    let say = |code, message| root.say(code, root.place_of("sizes"), message);
    if sizes.is_empty() {
        say(&LIST_LENGTH, "sizes is an empty list.".to_owned());
    }
    if sizes.len() > MAX_SIZES {
        let message = format!("There are {} sizes; {MAX_SIZES} is the limit.", sizes.len());
        say(&LIST_LENGTH, message);
    }
    for (place, label) in sizes.iter().enumerate() {
        judge(root, "sizes", label, MAX_LABEL);
        let number = place + 1;
        if label.trim().is_empty() {
            say(&WORDS, format!("Size {number} has an empty label."));
        } else if sizes
            .iter()
            .take(place)
            .any(|one| one.trim() == label.trim())
        {
            say(
                &WORDS,
                format!("Size {number} has the label of another: '{label}'."),
            );
        }
    }
}

/// Words that cannot stand in a heading or a table.
fn judge(root: &CaseTable<'_>, key: &str, words: &str, most: usize) {
    let say = |code, message| root.say(code, root.place_of(key), message);
    let length = words.chars().count();
    if length > most {
        say(
            &WORDS,
            format!("{key} has {length} characters; {most} is the limit."),
        );
    } else if words.contains(['\n', '\r', '\u{85}', '\u{2028}', '\u{2029}']) {
        say(&WORDS, format!("{key} holds a line break: '{words}'."));
    } else if visible(words) != words {
        let message = format!(
            "{key} holds characters that cannot be seen, or that change how others are shown: '{words}'. They are written out."
        );
        say(&HIDDEN, message);
    }
}
