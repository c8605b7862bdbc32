//! A case as a person filled it in -> the text of its file: canonical order, one comment a key.
//!
//! Nothing that was given is left out: a key that no case has is written too, so that
//! [`read_case`](super::read_case) can name it. Values are written as they were typed wherever they
//! are not of the form expected, for the same reason.

use std::fmt::Write as _;

use serde_json::{Map, Value};
use toml::de::{DeTable, DeValue};

use super::keys::{Key, Kind, SECTIONS, Section};
use crate::measure::parse_size_list;

/// The text of a case file. `form` has the tables and keys of a case; a number may be a number or
/// as it was typed, a list may be a list or in trade notation; `null` and empty texts count as not
/// given.
pub fn write_case(form: &Value) -> String {
    let mut out = String::new();
    for section in SECTIONS {
        let Some(table) = table_at(form, section.path) else {
            continue;
        };
        let lines = section_lines(section, table);
        // An empty [adapt] is a wish of its own: a cap made to meet its armhole.
        if lines.is_empty() && section.path != "adapt" {
            continue;
        }
        if !section.path.is_empty() {
            let gap = if out.is_empty() { "" } else { "\n" };
            let _ = writeln!(out, "{gap}# {}\n[{}]", section.about, section.path);
        }
        out += &lines;
    }
    out
}

fn table_at<'a>(form: &'a Value, path: &str) -> Option<&'a Map<String, Value>> {
    let mut steps = path.split('.').filter(|step| !step.is_empty());
    steps.try_fold(form, |at, step| at.get(step))?.as_object()
}

fn section_lines(section: &Section, table: &Map<String, Value>) -> String {
    let mut out = String::new();
    for key in section.keys {
        let written = table.get(key.name).and_then(|value| value_of(key, value));
        if let Some(written) = written {
            let _ = writeln!(out, "# {}\n{} = {written}", key.help, key.name);
        }
    }
    for (name, value) in table {
        let known = section.keys.iter().any(|key| key.name == name);
        if known || is_section(section.path, name, value) || !is_given(value) {
            continue;
        }
        let _ = writeln!(out, "{} = {}", key_name(name), plain(value));
    }
    out
}

/// True when this entry is a table that is written under a heading of its own.
fn is_section(parent: &str, name: &str, value: &Value) -> bool {
    let path = match parent {
        "" => name.to_owned(),
        parent => format!("{parent}.{name}"),
    };
    value.is_object() && SECTIONS.iter().any(|section| section.path == path)
}

fn is_given(value: &Value) -> bool {
    match value {
        Value::Null => false,
        Value::String(text) => !text.trim().is_empty(),
        Value::Array(list) => !list.is_empty(),
        Value::Object(table) => table.values().any(is_given),
        Value::Bool(_) | Value::Number(_) => true,
    }
}

/// The value of a known key in TOML; `None` when it is not given.
fn value_of(key: &Key, value: &Value) -> Option<String> {
    if !is_given(value) {
        return None;
    }
    let Value::String(text) = value else {
        return Some(match (key.kind, value) {
            (Kind::Inline(keys) | Kind::LengthsOr(keys), Value::Object(table)) => {
                inline(keys, table)
            }
            (Kind::Named(keys), Value::Object(tables)) => named(keys, tables),
            (Kind::Legend, Value::Object(table)) => inline(&[], table),
            (Kind::Pairs, Value::Array(pairs)) => list(pairs, pair),
            _ => plain(value),
        });
    };
    let typed = text.trim();
    Some(match key.kind {
        Kind::Lines => lines(text),
        Kind::Labels => labels(typed),
        Kind::Flag if ["true", "false"].contains(&typed) => typed.to_owned(),
        Kind::Number
        | Kind::Length
        | Kind::Sized
        | Kind::Lengths
        | Kind::Amounts
        | Kind::LengthsOr(_) => number(typed).unwrap_or_else(|| quoted(typed)),
        Kind::Counts | Kind::Overs => counts(typed),
        Kind::Text | Kind::Word(_) | Kind::Flag | Kind::Inline(_) | Kind::Named(_) => quoted(typed),
        Kind::Pairs => typed_pairs(typed).unwrap_or_else(|| quoted(typed)),
        Kind::Legend => typed_legend(typed).unwrap_or_else(|| quoted(typed)),
    })
}

/// Small tables by their names.
fn named(keys: &[Key], tables: &Map<String, Value>) -> String {
    let entries = tables.iter().filter(|(_, value)| is_given(value));
    let entries = entries.map(|(name, value)| {
        let value = match value {
            Value::Object(table) => inline(keys, table),
            _ => plain(value),
        };
        format!("{} = {value}", key_name(name))
    });
    format!("{{ {} }}", entries.collect::<Vec<_>>().join(", "))
}

/// A word and a number, the number as a number whichever way it was given.
fn pair(value: &Value) -> String {
    let entry = |value: &Value| match value {
        Value::String(text) => number(text.trim()).unwrap_or_else(|| plain(value)),
        _ => plain(value),
    };
    match value {
        // A colour may be called 4: it is the second that is the number.
        Value::Array(entries) => match entries.as_slice() {
            [word, rows] => format!("[{}, {}]", plain(word), entry(rows)),
            _ => plain(value),
        },
        _ => plain(value),
    }
}

/// `navy 4, cream 2` as a list of lists; none when some part ends in no number.
fn typed_pairs(typed: &str) -> Option<String> {
    let pairs = typed.split(',').map(|part| {
        let (word, rows) = part.trim().rsplit_once(' ')?;
        Some(format!("[{}, {}]", quoted(word.trim()), number(rows)?))
    });
    let pairs: Option<Vec<String>> = pairs.collect();
    pairs.map(|pairs| format!("[{}]", pairs.join(", ")))
}

/// `L = 2/2 left`, one on a line, as a table; none when some line is no such thing, or a character is explained twice,
/// which no table can say.
fn typed_legend(typed: &str) -> Option<String> {
    let mut known: Vec<&str> = Vec::new();
    let mut entries = Vec::new();
    for line in typed.lines().map(str::trim).filter(|line| !line.is_empty()) {
        // The sign of equality may be the character that is explained.
        let after_first = line.char_indices().nth(1).map_or(line.len(), |(at, _)| at);
        let at = after_first + line.get(after_first..)?.find('=')?;
        let (letter, words) = (line.get(..at)?.trim(), line.get(at + 1..)?.trim());
        if letter.is_empty() || words.is_empty() || known.contains(&letter) {
            return None;
        }
        known.push(letter);
        entries.push(format!("{} = {}", key_name(letter), quoted(words)));
    }
    Some(format!("{{ {} }}", entries.join(", ")))
}

fn list(values: &[Value], of: impl Fn(&Value) -> String) -> String {
    let list: Vec<String> = values.iter().map(of).collect();
    format!("[{}]", list.join(", "))
}

fn inline(keys: &[Key], table: &Map<String, Value>) -> String {
    let known = keys.iter().filter_map(|key| {
        let value = value_of(key, table.get(key.name)?)?;
        Some(format!("{} = {value}", key.name))
    });
    let other = table
        .iter()
        .filter(|(name, value)| is_given(value) && keys.iter().all(|key| key.name != *name))
        .map(|(name, value)| format!("{} = {}", key_name(name), plain(value)));
    let entries: Vec<String> = known.chain(other).collect();
    format!("{{ {} }}", entries.join(", "))
}

/// A number as typed, without leading zeros or a plus sign; `None` for anything else.
fn number(typed: &str) -> Option<String> {
    let digits = typed.strip_prefix(['-', '+']).unwrap_or(typed);
    let simple = digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    let number: f64 = typed.parse().ok().filter(|_| simple)?;
    // Beyond this a float no longer holds every whole number.
    (number.abs() < 1e15).then(|| format!("{}", number + 0.0))
}

fn counts(typed: &str) -> String {
    match parse_size_list(typed) {
        Ok(list) if list.len() > 1 => {
            let list: Vec<String> = list.iter().map(|count| format!("{count}")).collect();
            format!("[{}]", list.join(", "))
        }
        _ => number(typed).unwrap_or_else(|| quoted(typed)),
    }
}

fn labels(typed: &str) -> String {
    let labels: Vec<String> = split_labels(typed).iter().map(|l| quoted(l)).collect();
    format!("[{}]", labels.join(", "))
}

/// The labels in `S (M, L)` or `S, M, L`; they keep their inner spaces.
pub fn split_labels(typed: &str) -> Vec<String> {
    let labels = typed
        .split(['(', ')', '[', ']', ',', ';', ':'])
        .map(str::trim);
    let labels = labels.filter(|label| !label.is_empty());
    labels.map(str::to_owned).collect()
}

fn plain(value: &Value) -> String {
    match value {
        Value::Null => quoted(""),
        Value::Bool(_) | Value::Number(_) => value.to_string(),
        Value::String(text) if text.contains('\n') => lines(text),
        Value::String(text) => quoted(text),
        Value::Array(values) => list(values, plain),
        Value::Object(table) => {
            let entries = table.iter().filter(|(_, value)| !value.is_null());
            let entries: Vec<String> = entries
                .map(|(name, value)| format!("{} = {}", key_name(name), plain(value)))
                .collect();
            format!("{{ {} }}", entries.join(", "))
        }
    }
}

fn key_name(name: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    if !name.is_empty() && name.chars().all(bare) {
        name.to_owned()
    } else {
        quoted(name)
    }
}

/// Text on one line.
fn quoted(text: &str) -> String {
    format!("\"{}\"", escaped(text, false))
}

/// Text over several lines; what is read back is the text to the byte.
fn lines(text: &str) -> String {
    format!("\"\"\"\n{}\"\"\"", escaped(text, true))
}

fn escaped(text: &str, several_lines: bool) -> String {
    let mut out = String::with_capacity(text.len());
    let mut quotes = 0;
    for (at, letter) in text.char_indices() {
        quotes = if letter == '"' { quotes + 1 } else { 0 };
        let last = at + letter.len_utf8() == text.len();
        match letter {
            '\\' => out.push_str("\\\\"),
            '"' if several_lines && quotes < 3 && !last => out.push('"'),
            '"' => {
                out.push_str("\\\"");
                quotes = 0;
            }
            '\n' if several_lines => out.push('\n'),
            '\t' if several_lines => out.push('\t'),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            letter if letter.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(letter));
            }
            letter => out.push(letter),
        }
    }
    out
}

/// The tables and keys of a case file as a form; `None` when it is not TOML.
pub fn form_of(text: &str) -> Option<Value> {
    let table = DeTable::parse(text).ok()?;
    Some(table_form(table.get_ref()))
}

fn table_form(table: &DeTable<'_>) -> Value {
    let entries = table.iter().map(|(name, value)| {
        let name = name.get_ref().as_ref().to_owned();
        (name, value_form(value.get_ref()))
    });
    Value::Object(entries.collect())
}

fn value_form(value: &DeValue<'_>) -> Value {
    match value {
        DeValue::String(text) => Value::from(text.as_ref()),
        DeValue::Boolean(flag) => Value::from(*flag),
        DeValue::Array(list) => list.iter().map(|v| value_form(v.get_ref())).collect(),
        DeValue::Table(table) => table_form(table),
        DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix())
            .map_or_else(|_| Value::from(whole.as_str()), Value::from),
        DeValue::Float(float) => {
            let number: Option<f64> = float.as_str().parse().ok();
            number.map_or_else(|| Value::from(float.as_str()), Value::from)
        }
        DeValue::Datetime(moment) => Value::from(moment.to_string()),
    }
}

/// The path of the key, e.g. `sleeve.cap`, whose name or value these bytes of a case file are; the
/// innermost one.
pub fn key_at(text: &str, span: crate::diagnostic::Span) -> Option<String> {
    let (table, _) = DeTable::parse_recoverable(text);
    let mut path = Vec::new();
    let mut table = table.get_ref();
    loop {
        let within =
            |place: std::ops::Range<usize>| place.start <= span.from && span.to <= place.end;
        let entry = table.iter().find(|(name, value)| {
            let inside = value
                .get_ref()
                .as_table()
                .is_some_and(|t| holds(t, &within));
            within(name.span()) || within(value.span()) || inside
        });
        let Some((name, value)) = entry else { break };
        path.push(name.get_ref().as_ref().to_owned());
        let Some(inner) = value.get_ref().as_table() else {
            break;
        };
        table = inner;
    }
    (!path.is_empty()).then(|| path.join("."))
}

/// True when a key or value anywhere inside is the place: a table under a heading does not span
/// its keys.
fn holds(table: &DeTable<'_>, within: &dyn Fn(std::ops::Range<usize>) -> bool) -> bool {
    table.iter().any(|(name, value)| {
        let inner = value.get_ref().as_table();
        within(name.span()) || within(value.span()) || inner.is_some_and(|t| holds(t, within))
    })
}
