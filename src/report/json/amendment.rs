//! An amended pattern.

use std::ops::Range;

use serde::Serialize;
use serde_json::{Value, json};

use crate::amend::{Amendment, Change, RIGHTS};

/// The changes with their bytes in the print, what is left to decide, and the amended text.
pub fn amendment_json(amendment: &Amendment) -> Value {
    let changes = (1..).zip(&amendment.changes);
    json!(AmendmentJson {
        title: &amendment.title,
        rights: RIGHTS,
        changes: changes
            .map(|(number, change)| ChangeJson::of(number, change, amendment))
            .collect(),
        decide: &amendment.decide,
        print: &amendment.print,
        amended: amendment.text(),
    })
}

#[derive(Serialize)]
struct AmendmentJson<'a> {
    title: &'a str,
    /// Who may publish it.
    rights: &'static str,
    /// In the order of the print.
    changes: Vec<ChangeJson<'a>>,
    /// What a person has to decide.
    decide: &'a [String],
    /// The print as it came.
    print: &'a str,
    /// The same with the changes made.
    amended: String,
}

#[derive(Serialize)]
struct ChangeJson<'a> {
    /// From 1.
    number: usize,
    /// Its line in the print.
    line: usize,
    reason: &'a str,
    removed: Vec<RemovedJson<'a>>,
    added: Vec<AddedJson<'a>>,
}

/// Bytes of the print that go.
#[derive(Serialize)]
struct RemovedJson<'a> {
    from: usize,
    to: usize,
    text: &'a str,
}

/// What is put in before a byte of the print.
#[derive(Serialize)]
struct AddedJson<'a> {
    at: usize,
    text: &'a str,
}

impl<'a> ChangeJson<'a> {
    fn of(number: usize, change: &'a Change, amendment: &'a Amendment) -> Self {
        let removed = |range: &Range<usize>| RemovedJson {
            from: range.start,
            to: range.end,
            text: amendment.print.get(range.clone()).unwrap_or_default(),
        };
        let added = change.added.iter();
        Self {
            number,
            line: amendment.line_of(change),
            reason: &change.reason,
            removed: change.removed.iter().map(removed).collect(),
            added: added
                .map(|(at, text)| AddedJson { at: *at, text })
                .collect(),
        }
    }
}
