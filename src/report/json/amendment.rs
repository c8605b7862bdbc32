//! An amended pattern.

use serde_json::{Value, json};

use crate::amend::{Amendment, RIGHTS};

/// The changes with their bytes in the print, what is left to decide, and the amended text.
pub fn amendment_json(amendment: &Amendment) -> Value {
    let print = &amendment.print;
    let changes = (1..).zip(&amendment.changes).map(|(number, change)| {
        let removed = change.removed.iter().map(|range| {
            json!({
                "from": range.start,
                "to": range.end,
                "text": print.get(range.clone()).unwrap_or_default(),
            })
        });
        let added = change.added.iter();
        let added = added.map(|(at, text)| json!({ "at": at, "text": text }));
        json!({
            "number": number,
            "line": amendment.line_of(change),
            "reason": change.reason,
            "removed": removed.collect::<Vec<_>>(),
            "added": added.collect::<Vec<_>>(),
        })
    });
    json!({
        "title": amendment.title,
        "rights": RIGHTS,
        "changes": changes.collect::<Vec<_>>(),
        "decide": amendment.decide,
        "print": print,
        "amended": amendment.text(),
    })
}
