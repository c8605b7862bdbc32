//! Case files made or changed by a program: one key set, or a case that came as JSON.
//!
//! Both give the text of a case file, so that reading, checking and every message stay the same.

use serde_json::Value as Json;
use toml_edit::{DocumentMut, Item, Key, Table, TableLike, Value};

/// Sets one key in the text of a case: `fit.runs=4`, `sizes=["S", "M"]`, `armhole.edge=20 (21, 22)`.
///
/// What is not a TOML value is taken as a string; nothing after the `=` takes the key away. The rest
/// of the text stays as it is, comments and all. Whether the key is known and the value allowed is
/// for [`super::read_case`] to say.
///
/// # Errors
/// A sentence when this is no `key=value`, when the text is not TOML, or when the key stands for a
/// whole table or lies inside a value that is none.
pub fn set_key(text: &str, assignment: &str) -> Result<String, String> {
    let (path, value) = assignment.split_once('=').ok_or_else(|| {
        format!("'{assignment}' sets nothing: write key=value, for example fit.runs=4.")
    })?;
    let keys = Key::parse(path.trim())
        .map_err(|_| format!("'{path}' is no key: write names with dots, for example fit.runs."))?;
    let mut document: DocumentMut = text
        .parse()
        .map_err(|_| "Nothing can be set in a case file that is not TOML.".to_owned())?;
    let Some((last, tables)) = keys.split_last() else {
        return Err(format!("'{assignment}' names no key."));
    };
    let mut inside: &mut dyn TableLike = document.as_table_mut();
    for key in tables {
        inside = table_in(inside, key).ok_or_else(|| {
            format!(
                "{path} cannot be set: {} is a value, not a table.",
                key.get()
            )
        })?;
    }
    put(inside, last, value.trim(), path)?;
    Ok(document.to_string())
}

/// The table of this name, made when there is none.
fn table_in<'a>(outer: &'a mut dyn TableLike, key: &Key) -> Option<&'a mut dyn TableLike> {
    let mut fresh = Table::new();
    fresh.set_implicit(true);
    outer
        .entry(key.get())
        .or_insert(Item::Table(fresh))
        .as_table_like_mut()
}

fn put(inside: &mut dyn TableLike, key: &Key, value: &str, path: &str) -> Result<(), String> {
    if value.is_empty() {
        inside.remove(key.get());
        return Ok(());
    }
    if inside.get(key.get()).is_some_and(Item::is_table) {
        return Err(format!(
            "{path} is a table: set one of its keys, for example {path}.{}.",
            inside
                .get(key.get())
                .and_then(Item::as_table)
                .and_then(|table| table.iter().next())
                .map_or("key", |(name, _)| name)
        ));
    }
    let value = value
        .parse::<Value>()
        .unwrap_or_else(|_| Value::from(value));
    inside.insert(key.get(), Item::Value(value));
    Ok(())
}

/// The text of a case file that says what this JSON object says, key by key. A null is a key left out.
///
/// # Errors
/// A sentence when this is no object, or holds what a case file cannot.
pub fn case_text(json: &Json) -> Result<String, String> {
    let Json::Object(_) = json else {
        return Err(
            "A case is a JSON object with the keys of a case file: {\"title\": ..., \"units\": ...}.".to_owned(),
        );
    };
    let Some(toml::Value::Table(table)) = toml_value(json)? else {
        return Ok(String::new());
    };
    toml::to_string(&table)
        .map_err(|error| format!("This case cannot be written as TOML: {error}."))
}

fn toml_value(json: &Json) -> Result<Option<toml::Value>, String> {
    Ok(Some(match json {
        Json::Null => return Ok(None),
        Json::Bool(yes) => toml::Value::Boolean(*yes),
        Json::String(text) => toml::Value::String(text.clone()),
        Json::Number(number) => match (number.as_i64(), number.as_f64()) {
            (Some(whole), _) => toml::Value::Integer(whole),
            (None, Some(float)) => toml::Value::Float(float),
            (None, None) => return Err(format!("The number {number} is out of all bounds.")),
        },
        Json::Array(items) => toml::Value::Array(
            items
                .iter()
                .filter_map(|item| toml_value(item).transpose())
                .collect::<Result<_, _>>()?,
        ),
        Json::Object(fields) => toml::Value::Table(
            fields
                .iter()
                .filter_map(|(key, field)| Some((key.clone(), toml_value(field).transpose()?)))
                .map(|(key, field)| Ok((key, field?)))
                .collect::<Result<_, String>>()?,
        ),
    }))
}
