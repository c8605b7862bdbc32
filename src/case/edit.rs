//! Case files made or changed by a program: one key set, or a case that came as JSON.
//!
//! Both give the text of a case file, so that reading, checking and every message stay the same.

use serde_json::Value as Json;
use thiserror::Error;
use toml_edit::{DocumentMut, Item, Key, Table, TableLike, Value};

/// Why a case could not be changed, or not be made of JSON.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum EditError {
    /// There is no `=`.
    #[error("'{0}' sets nothing: write key=value, for example fit.runs=4.")]
    NoValue(String),
    /// What stands before the `=` is no name.
    #[error("'{0}' is no key: write names with dots, for example fit.runs.")]
    NoKey(String),
    /// Nothing stands before the `=`.
    #[error("'{0}' names no key.")]
    NoName(String),
    /// The text is no case file.
    #[error("Nothing can be set in a case file that is not TOML.")]
    NotToml,
    /// The key would lie inside a value.
    #[error("{key} cannot be set: {value} is a value, not a table.")]
    InsideValue {
        /// The key.
        key: String,
        /// The name in it that stands for a value.
        value: String,
    },
    /// The key stands for a whole table.
    #[error("{key} is a table: set one of its keys, for example {key}.{inside}.")]
    WholeTable {
        /// The key.
        key: String,
        /// A key of its table.
        inside: String,
    },
    /// The JSON is no object.
    #[error(
        "A case is a JSON object with the keys of a case file: {{\"title\": ..., \"units\": ...}}."
    )]
    NotAnObject,
    /// A number that TOML cannot hold.
    #[error("The number {0} is out of all bounds.")]
    Number(String),
    /// Something else that TOML cannot hold.
    #[error("This case cannot be written as TOML: {0}.")]
    Unwritable(String),
}

/// Sets one key in the text of a case: `fit.runs=4`, `sizes=["S", "M"]`, `armhole.edge=20 (21, 22)`.
///
/// What is not a TOML value is taken as a string; nothing after the `=` takes the key away. The rest
/// of the text stays as it is, comments and all. Whether the key is known and the value allowed is
/// for [`super::read_case`] to say.
///
/// # Errors
/// When this is no `key=value`, when the text is not TOML, or when the key stands for a whole table
/// or lies inside a value that is none.
pub fn set_key(text: &str, assignment: &str) -> Result<String, EditError> {
    let (path, value) = assignment
        .split_once('=')
        .ok_or_else(|| EditError::NoValue(assignment.to_owned()))?;
    let keys = Key::parse(path.trim()).map_err(|_| EditError::NoKey(path.to_owned()))?;
    let mut document: DocumentMut = text.parse().map_err(|_| EditError::NotToml)?;
    let Some((last, tables)) = keys.split_last() else {
        return Err(EditError::NoName(assignment.to_owned()));
    };
    let mut inside: &mut dyn TableLike = document.as_table_mut();
    for key in tables {
        inside = table_in(inside, key).ok_or_else(|| EditError::InsideValue {
            key: path.to_owned(),
            value: key.get().to_owned(),
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

fn put(inside: &mut dyn TableLike, key: &Key, value: &str, path: &str) -> Result<(), EditError> {
    if value.is_empty() {
        inside.remove(key.get());
        return Ok(());
    }
    if inside.get(key.get()).is_some_and(Item::is_table) {
        let first = inside
            .get(key.get())
            .and_then(Item::as_table)
            .and_then(|table| table.iter().next())
            .map_or("key", |(name, _)| name);
        return Err(EditError::WholeTable {
            key: path.to_owned(),
            inside: first.to_owned(),
        });
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
/// When this is no object, or holds what a case file cannot.
pub fn case_text(json: &Json) -> Result<String, EditError> {
    let Json::Object(_) = json else {
        return Err(EditError::NotAnObject);
    };
    let Some(toml::Value::Table(table)) = toml_value(json)? else {
        return Ok(String::new());
    };
    toml::to_string(&table).map_err(|error| EditError::Unwritable(error.to_string()))
}

fn toml_value(json: &Json) -> Result<Option<toml::Value>, EditError> {
    Ok(Some(match json {
        Json::Null => return Ok(None),
        Json::Bool(yes) => toml::Value::Boolean(*yes),
        Json::String(text) => toml::Value::String(text.clone()),
        Json::Number(number) => match (number.as_i64(), number.as_f64()) {
            (Some(whole), _) => toml::Value::Integer(whole),
            (None, Some(float)) => toml::Value::Float(float),
            (None, None) => return Err(EditError::Number(number.to_string())),
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
                .collect::<Result<_, EditError>>()?,
        ),
    }))
}
