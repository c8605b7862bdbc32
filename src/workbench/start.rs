//! What the page needs before anything is typed: the keys of a case, body tables, our cases.

use serde_json::{Value, json};

use crate::body;
use crate::case::{Key, Kind, SECTIONS, form_of};
use crate::report::{TableLine, table_list, table_view};

/// Our cases, in the order offered.
const CASES: &[&str] = &[
    include_str!("../../cases/tern-harbour.toml"),
    include_str!("../../cases/quillam-cardigan.toml"),
    include_str!("../../cases/tern-wider-arm.toml"),
    include_str!("../../cases/heron-topdown.toml"),
    include_str!("../../cases/gannet-saddle.toml"),
    include_str!("../../cases/skua-stripes.toml"),
    include_str!("../../cases/dunlin-texture.toml"),
    // The lesson stays last: the door for teachers opens on it.
    include_str!("../../cases/saddle-lesson.toml"),
];

/// Everything as one JSON object.
pub(super) fn start() -> Value {
    json!({
        "version": env!("CARGO_PKG_VERSION"),
        "pdf": cfg!(feature = "pdf"),
        "leaflet_pdf": cfg!(feature = "leaflet-pdf"),
        "sections": SECTIONS.iter().map(|section| json!({
            "path": section.path,
            "about": section.about,
            "keys": section.keys.iter().map(key_json).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "tables": table_list().iter().map(table_json).collect::<Vec<_>>(),
        "cases": CASES.iter().filter_map(|text| form_of(text)).collect::<Vec<_>>(),
    })
}

fn key_json(key: &Key) -> Value {
    let words = match key.kind {
        Kind::Word(words) => json!(words),
        _ => Value::Null,
    };
    let inner = match key.kind {
        Kind::Inline(keys) | Kind::LengthsOr(keys) | Kind::Named(keys) => {
            keys.iter().map(key_json).collect()
        }
        _ => Value::Null,
    };
    json!({
        "name": key.name, "kind": key.kind.word(), "length": key.kind.is_length(),
        "label": key.label, "help": key.help, "words": words, "keys": inner,
    })
}

fn table_json(line: &TableLine) -> Value {
    let sizes = body::find(line.id).map(|table| {
        let rows = table_view(table).rows.into_iter();
        rows.map(|row| row.label).collect::<Vec<_>>()
    });
    json!({ "id": line.id, "title": line.title, "sizes": sizes.unwrap_or_default() })
}
