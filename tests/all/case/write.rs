//! Forms written as case files: whatever is typed comes back, and our cases stay the cases they are.

use capwright::case::{SECTIONS, find_key, form_of, key_at, read_case, write_case};
use capwright::diagnostic::Span;
use proptest::prelude::*;
use serde_json::{Value, json};

/// The same form as a page has it: every number by itself as a text.
fn typed(form: &Value) -> Value {
    match form {
        Value::Number(number) => json!(number.to_string()),
        Value::Array(list) if list.iter().all(Value::is_number) => form.clone(),
        // Stripes: `ink 4, chalk 2`.
        Value::Array(list) if list.iter().all(Value::is_array) => {
            let pair = |pair: &Value| format!("{} {}", pair[0].as_str().unwrap(), pair[1]);
            json!(list.iter().map(pair).collect::<Vec<_>>().join(", "))
        }
        Value::Array(list) => list.iter().map(typed).collect(),
        Value::Object(table) => {
            let entries = table.iter().map(|(name, value)| match value {
                // A line for each character.
                Value::Object(legend) if name == "legend" => (name.clone(), legend_lines(legend)),
                _ => (name.clone(), typed(value)),
            });
            entries.collect()
        }
        _ => form.clone(),
    }
}

fn legend_lines(legend: &serde_json::Map<String, Value>) -> Value {
    let line =
        |(letter, stitch): (&String, &Value)| format!("{letter} = {}", stitch.as_str().unwrap());
    json!(legend.iter().map(line).collect::<Vec<_>>().join("\n"))
}

#[test]
fn a_legend_is_typed_a_line_for_each_character() {
    let legend_of = |typed: &str| {
        let text = write_case(&json!({ "stitch": { "legend": typed } }));
        form_of(&text).unwrap()["stitch"]["legend"].clone()
    };
    assert_eq!(
        legend_of("L = 2/2 left\n\n . =k2tog \n= = purl\n, = ssk\nab=knit"),
        json!({ "L": "2/2 left", ".": "k2tog", "=": "purl", ",": "ssk", "ab": "knit" })
    );
    // What is no such line stays as it was typed, so that it can be named; a second meaning is not dropped.
    for typed in ["L", "L =", "= purl", "L = knit\nL = purl"] {
        assert_eq!(legend_of(typed), typed);
    }
}

#[test]
fn our_cases_survive_being_a_form() {
    for text in [
        include_str!("../../../cases/tern-harbour.toml"),
        include_str!("../../../cases/quillam-cardigan.toml"),
        include_str!("../../../cases/saddle-lesson.toml"),
        include_str!("../../../cases/tern-wider-arm.toml"),
        include_str!("../../../cases/heron-topdown.toml"),
        include_str!("../../../cases/gannet-saddle.toml"),
        include_str!("../../../cases/skua-stripes.toml"),
        include_str!("../../../cases/dunlin-texture.toml"),
        include_str!("../../data/check/twelve.toml"),
    ] {
        let form = form_of(text).unwrap();
        let written = write_case(&form);
        // What is said lies elsewhere in a text that is written otherwise.
        let read = |text: &str| {
            let (case, said) = read_case(text);
            let said = said.into_iter().map(|said| (said.code.id, said.message));
            (case, said.collect::<Vec<_>>())
        };
        assert_eq!(read(&written), read(text));
        // A page has its numbers as they were typed.
        assert_eq!(read(&write_case(&typed(&form))), read(text));
        assert_eq!(
            write_case(&form_of(&written).unwrap()),
            written,
            "canonical"
        );
    }
}

/// The keys of a case as the README lists them, against the table.
#[test]
fn every_key_that_is_read_is_in_the_table() {
    // A key that nobody knows is reported; so every key of the table must be known to the reader.
    for section in SECTIONS {
        for key in section.keys {
            let path = match section.path {
                "" => key.name.to_owned(),
                table => format!("{table}.{}", key.name),
            };
            assert!(find_key(&path).is_some());
            let mut form = json!({ "armhole": { "front": {}, "back": {} } });
            let mut at = &mut form;
            for step in path.split('.') {
                at = &mut at[step];
            }
            *at = json!("1");
            let (_, said) = read_case(&write_case(&form));
            let unknown = said.iter().find(|said| said.code.id == "unknown-key");
            let by = ["armhole.edge", "armhole.underarm", "armhole.depth"];
            if by.contains(&path.as_str()) || path.starts_with("armhole.") {
                continue;
            }
            assert!(unknown.is_none(), "{path}: {unknown:?}");
        }
    }
}

#[test]
fn what_is_wrong_is_written_so_that_the_reader_can_say_so() {
    let form = json!({
        "units": "cm", "sizes": ["S"], "shade": "blue", "empty": "",
        "sleeve": { "stitches": "72 or so", "seam_stitches": "007", "length": null },
        "gauge": 3,
        "other": { "a": [1, "x"], "b c": true },
    });
    let text = write_case(&form);
    let back = form_of(&text).unwrap();
    assert_eq!(back["shade"], "blue");
    assert_eq!(back["gauge"], 3);
    assert_eq!(back["other"], json!({ "a": [1, "x"], "b c": true }));
    assert_eq!(back["sleeve"]["stitches"], "72 or so");
    assert_eq!(back["sleeve"]["seam_stitches"], 7);
    assert!(back.get("empty").is_none());
    let (case, said) = read_case(&text);
    assert!(case.is_none());
    let codes: Vec<&str> = said.iter().map(|said| said.code.id).collect();
    assert!(
        codes.contains(&"unknown-key") && codes.contains(&"wrong-type"),
        "{codes:?}"
    );
}

#[test]
fn an_empty_wish_to_adapt_is_kept() {
    let text = write_case(&json!({ "units": "cm", "adapt": {}, "fit": {} }));
    let form = form_of(&text).unwrap();
    assert_eq!(form["adapt"], json!({}));
    assert!(form.get("fit").is_none());
}

#[test]
fn places_lead_to_their_key() {
    let text =
        "title = \"x\"\n[gauge.pattern]\nstitches = 22\n[sleeve]\nrepeat = { multiple = 4 }\n";
    let at = |words: &str| {
        let from = text.find(words).unwrap();
        key_at(text, Span::new(from, from + words.len()))
    };
    assert_eq!(at("22").as_deref(), Some("gauge.pattern.stitches"));
    assert_eq!(at("\"x\"").as_deref(), Some("title"));
    assert_eq!(at("4").as_deref(), Some("sleeve.repeat.multiple"));
    assert_eq!(at("repeat").as_deref(), Some("sleeve.repeat"));
}

fn any_value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        (-1e6..1e6).prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 24, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            prop::collection::btree_map(any::<String>(), inner, 0..4)
                .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
}

proptest! {
    /// Lines come back to the byte, whatever is in them (TOML 1.0, multi-line basic strings).
    #[test]
    fn lines_come_back_to_the_byte(lines in "(?s).*[^ ].*") {
        prop_assume!(!lines.trim().is_empty());
        let text = write_case(&json!({ "sleeve": { "cap": lines } }));
        let back = form_of(&text);
        prop_assert!(back.is_some(), "{text}");
        let back = back.unwrap();
        prop_assert_eq!(back["sleeve"]["cap"].as_str(), Some(lines.as_str()));
    }

    #[test]
    fn quotes_and_backslashes_come_back(lines in "[\"\\\\ \n\r\ta]{1,12}") {
        prop_assume!(!lines.trim().is_empty());
        let text = write_case(&json!({ "sleeve": { "cap": lines } }));
        let back = form_of(&text).unwrap();
        prop_assert_eq!(back["sleeve"]["cap"].as_str(), Some(lines.as_str()));
    }

    /// Any form gives TOML, and reading it never panics.
    #[test]
    fn any_form_is_toml(
        root in prop::collection::btree_map("title|units|sizes|sleeve|gauge|armhole|fit|x\"y", any_value(), 0..6),
    ) {
        let form = Value::Object(root.into_iter().collect());
        let text = write_case(&form);
        prop_assert!(form_of(&text).is_some(), "{text}");
        let _ = read_case(&text);
    }
}
