//! Keys set from outside, and cases that come as JSON. TOML's own grammar (toml.io, 1.0) decides what
//! a value is.

use capwright::case::{case_text, read_case, set_key};
use serde_json::json;

const TERN: &str = include_str!("../../../cases/tern-harbour.toml");

#[test]
fn a_key_is_set_and_the_rest_of_the_text_stays() {
    let text = set_key(TERN, "gauge.round.rows=30").unwrap();
    assert!(text.contains("# One size, inches"), "comments stay");
    let (before, after) = (read_case(TERN).0.unwrap(), read_case(&text).0.unwrap());
    let rows = |case: &capwright::case::Case| {
        case.gauge
            .round
            .as_ref()
            .unwrap()
            .rows
            .first()
            .unwrap()
            .counted
    };
    assert!((rows(&before) - 31.5).abs() < 1e-12 && (rows(&after) - 30.0).abs() < 1e-12);
    assert_eq!(set_key(&text, "gauge.round.rows=31.5").unwrap(), TERN);
}

#[test]
fn a_table_is_made_where_there_is_none_and_a_key_can_go() {
    let text = set_key(TERN, "fit.runs = 4").unwrap();
    assert_eq!(read_case(&text).0.unwrap().fit.runs, Some(4));
    let text = set_key(TERN, "gauge.round=").unwrap();
    assert!(read_case(&text).0.unwrap().gauge.round.is_none());
    let inline = set_key("armhole = { edge = 20 }", "armhole.edge = 21").unwrap();
    assert_eq!(inline, "armhole = { edge = 21 }\n");
}

#[test]
fn what_is_no_toml_value_is_a_string() {
    let text = set_key(TERN, "armhole.edge=8.2 (8.4, 8.6)").unwrap();
    assert!(text.contains("edge = \"8.2 (8.4, 8.6)\""));
    assert!(
        set_key(TERN, "wording.terms=uk")
            .unwrap()
            .contains("terms = \"uk\"")
    );
}

#[test]
fn what_cannot_be_set_is_said_in_a_sentence() {
    for (assignment, says) in [
        ("fit.runs", "write key=value"),
        ("=4", "is no key"),
        ("a b=4", "is no key"),
        (
            "gauge=4",
            "gauge is a table: set one of its keys, for example gauge.",
        ),
        ("title.deep=4", "title is a value, not a table"),
    ] {
        let sentence = set_key(TERN, assignment).unwrap_err().to_string();
        assert!(sentence.contains(says), "{assignment}: {sentence}");
    }
    assert!(set_key("no = = toml", "fit.runs=4").is_err());
}

#[test]
fn a_case_as_json_is_the_same_case() {
    let table: toml::Table = TERN.parse().unwrap();
    let json = serde_json::to_value(&table).unwrap();
    let text = case_text(&json).unwrap();
    assert_eq!(read_case(&text).0, read_case(TERN).0);
}

#[test]
fn nulls_are_keys_left_out_and_no_object_is_refused() {
    assert_eq!(
        case_text(&json!({"a": null, "b": [1, null]})).unwrap(),
        "b = [1]\n"
    );
    assert!(
        case_text(&json!([1]))
            .unwrap_err()
            .to_string()
            .contains("JSON object")
    );
    assert!(case_text(&json!({"a": 18_446_744_073_709_551_615_u64})).is_ok());
}
