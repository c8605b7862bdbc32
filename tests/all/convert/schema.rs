//! The JSON that is promised: every result of our cases is held against `docs/result.schema.json`.

use std::fs;
use std::path::{Path, PathBuf};

use capwright::convert::convert;
use capwright::report::{SCHEMA_VERSION, conversion_json};
use serde_json::{Value, json};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn schema() -> Value {
    let text = fs::read_to_string(root().join("docs/result.schema.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// What of JSON Schema (draft 2020-12) the file uses: references, nothing or another, types, words, the least number,
/// lengths of lists, keys that must be there. A key that it does not describe is a fault here, though not for a reader.
fn check(whole: &Value, schema: &Value, value: &Value, at: &str, faults: &mut Vec<String>) {
    if let Some(name) = schema["$ref"].as_str() {
        let definition = &whole["$defs"][name.rsplit('/').next().unwrap()];
        assert!(definition.is_object(), "{name} is not defined");
        return check(whole, definition, value, at, faults);
    }
    if let Some(either) = schema["anyOf"].as_array() {
        assert_eq!(either[1], json!({ "type": "null" }), "{at}");
        if !value.is_null() {
            check(whole, &either[0], value, at, faults);
        }
        return;
    }
    if let Some(words) = schema["oneOf"].as_array() {
        if !words.iter().any(|word| word["const"] == *value) {
            faults.push(format!("{at} is {value}, not one of {words:?}"));
        }
        return;
    }
    let types = match &schema["type"] {
        Value::Array(types) => types.clone(),
        one => vec![one.clone()],
    };
    if !types
        .iter()
        .any(|name| is_of(name.as_str().unwrap(), value))
    {
        faults.push(format!("{at} is {value}, not {types:?}"));
    }
    if let Some(words) = schema["enum"].as_array()
        && !words.contains(value)
    {
        faults.push(format!("{at} is {value}, not one of {words:?}"));
    }
    if value.as_f64() < schema["minimum"].as_f64() && value.is_number() {
        faults.push(format!("{at} is {value}, less than {}", schema["minimum"]));
    }
    if let Some(items) = value.as_array() {
        let length = json!(items.len());
        let limits = [&schema["minItems"], &schema["maxItems"]];
        if limits
            .iter()
            .any(|limit| !limit.is_null() && **limit != length)
        {
            faults.push(format!("{at} has {length} items, not {}", limits[0]));
        }
        for item in items {
            check(whole, &schema["items"], item, &format!("{at}[]"), faults);
        }
    }
    if let Some(object) = value.as_object() {
        for key in schema["required"].as_array().unwrap() {
            if !object.contains_key(key.as_str().unwrap()) {
                faults.push(format!("{at} has no {key}"));
            }
        }
        for (key, inner) in object {
            match &schema["properties"][key] {
                Value::Null => faults.push(format!("{at}.{key} is not described")),
                known => check(whole, known, inner, &format!("{at}.{key}"), faults),
            }
        }
    }
}

fn is_of(name: &str, value: &Value) -> bool {
    match name {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|n| n.fract() == 0.0),
        "string" => value.is_string(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("{other} is no type of JSON"),
    }
}

fn faults(value: &Value) -> Vec<String> {
    let (whole, mut faults) = (schema(), Vec::new());
    check(&whole, &whole, value, "result", &mut faults);
    faults
}

fn result(case: &str) -> Value {
    let text = fs::read_to_string(root().join("cases").join(case)).unwrap();
    let case = capwright::read_case(&text).0.unwrap();
    conversion_json(&case, &convert(&case, None).unwrap())
}

#[test]
fn every_result_of_our_cases_is_as_promised() {
    let mut cases: Vec<String> = fs::read_dir(root().join("cases"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    cases.sort();
    assert!(cases.len() >= 5);
    for case in cases {
        let found = faults(&result(&case));
        assert!(
            found.is_empty(),
            "{case}: change docs/result.schema.json, and its version with SCHEMA_VERSION where a key goes or \
             changes its meaning:\n{}",
            found.join("\n")
        );
    }
}

#[test]
fn the_version_is_said_in_both_places() {
    assert_eq!(schema()["version"], json!(SCHEMA_VERSION));
}

#[test]
fn what_is_not_as_promised_is_noticed() {
    let good = result("tern-harbour.toml");
    assert!(faults(&good).is_empty());
    let spoilt: [fn(&mut Value); 7] = [
        |json| json["sizes"][0]["fit"]["crown"] = json!(-7),
        |json| {
            json["findings"] = json!([{
                "code": "", "level": "worse", "message": "", "source": "", "next": "", "size": null, "span": null,
                "lines": null, "key": null, "repairs": [],
            }]);
        },
        |json| json["sizes"][0]["fit"]["crown"] = json!("many"),
        |json| json["sizes"][0]["fit"]["crown"] = json!(7.5),
        |json| json["sizes"][0]["fit"]["status"] = json!("sure"),
        |json| json["sizes"][0]["new key"] = json!(1),
        |json| {
            json["sizes"][0].as_object_mut().unwrap().remove("old_cap");
        },
    ];
    for spoil in spoilt {
        let mut json = good.clone();
        spoil(&mut json);
        assert_eq!(faults(&json).len(), 1);
    }
}
