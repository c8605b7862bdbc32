//! Whole patterns of our own, each with its truth beside it (written with the pattern, from the
//! numbers it was made of, never from what the program found), and what is right of them.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use capwright::check::prove_leaflet;
use capwright::leaflet::{Leaflet, Status, read_leaflet};
use capwright::measure::{Stitches, nearest_whole, parse_size_list};
use capwright::pattern::{Context, Piece, read};
use toml::Value;

/// A pattern and what is true of it.
pub(crate) struct Printed {
    pub(crate) name: String,
    pub(crate) text: String,
    pub(crate) construction: String,
    pub(crate) truth: BTreeMap<String, Value>,
}

/// How a fact came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Result {
    Right,
    UnsureRight,
    Missing,
    Flagged,
    Silent,
}

/// All patterns, in the order of their names.
pub(crate) fn patterns() -> Vec<Printed> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/leaflets");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.retain(|path| path.extension().is_some_and(|end| end == "txt"));
    files.sort();
    let all = files.iter().map(|path| {
        let truth: toml::Table = fs::read_to_string(path.with_extension("truth.toml"))
            .unwrap()
            .parse()
            .unwrap();
        Printed {
            name: path.file_stem().unwrap().to_string_lossy().into_owned(),
            text: fs::read_to_string(path).unwrap(),
            construction: truth["construction"].as_str().unwrap().to_owned(),
            truth: truth
                .get("facts")
                .and_then(Value::as_table)
                .cloned()
                .unwrap_or_default()
                .into_iter()
                .collect(),
        }
    });
    all.collect()
}

/// Reads a text as the door does.
pub(crate) fn found(text: &str) -> Leaflet {
    let mut leaflet = read_leaflet(text);
    prove_leaflet(&mut leaflet);
    leaflet
}

fn numbers(value: &Value) -> Vec<f64> {
    match value {
        Value::Array(list) => list.iter().flat_map(numbers).collect(),
        Value::Integer(n) => vec![*n as f64],
        Value::Float(n) => vec![*n],
        _ => Vec::new(),
    }
}

fn alike(a: &[f64], b: &[f64]) -> bool {
    let one = |list: &[f64], i: usize| {
        if list.len() == 1 {
            list[0]
        } else {
            list.get(i).copied().unwrap_or(f64::NAN)
        }
    };
    !a.is_empty()
        && !b.is_empty()
        && (0..a.len().max(b.len())).all(|i| (one(a, i) - one(b, i)).abs() < 0.01)
}

fn words(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace('*', "")
}

/// The stitches that the lines end with.
fn finals(leaflet: &Leaflet, stitches: &str, lines: &str, piece: Piece) -> Vec<f64> {
    let value = |key: &str| {
        leaflet
            .fact(key)
            .map_or(String::new(), |fact| fact.value.clone())
    };
    let Ok(start) = parse_size_list(&value(stitches)) else {
        return Vec::new();
    };
    let labels = value("sizes").split(", ").map(str::to_owned).collect();
    let mut context = Context::new(
        labels,
        start.iter().map(|n| Stitches(nearest_whole(*n))).collect(),
    );
    context.piece = piece;
    context.row_heights = Some(vec![capwright::measure::Length::cm(1.0 / 3.0)]);
    let (reading, _) = read(&value(lines), &context);
    reading
        .sizes
        .iter()
        .map(|size| size.ledger.final_stitches().as_f64())
        .collect()
}

/// Whether this fact has the true value.
fn holds(leaflet: &Leaflet, place: &str, truth: &Value) -> bool {
    let value = leaflet.fact(place).map_or("", |fact| fact.value.as_str());
    match truth {
        Value::String(text) => value == *text,
        Value::Array(list) if list.first().is_some_and(Value::is_str) => {
            let labels: Vec<&str> = list.iter().filter_map(Value::as_str).collect();
            value.eq_ignore_ascii_case(&labels.join(", "))
        }
        truth => parse_size_list(value).is_ok_and(|found| alike(&found, &numbers(truth))),
    }
}

/// Whether lines begin or end with the true words.
fn words_hold(leaflet: &Leaflet, place: &str, key: &str, truth: &Value) -> bool {
    let text = words(leaflet.fact(place).map_or("", |fact| &fact.value));
    let text = text.trim_end_matches(['.', ' ', ')', ';', ',']);
    let part = words(truth.as_str().unwrap());
    if key.ends_with("from") {
        text.starts_with(&part)
    } else {
        text.ends_with(part.trim_end_matches('.'))
    }
}

/// Every true fact with how it came out.
pub(crate) fn judge(pattern: &Printed, leaflet: &Leaflet) -> Vec<(String, Result)> {
    let back = if leaflet.fact("armhole.back.lines").is_some() {
        "armhole.back"
    } else {
        "armhole"
    };
    let mut out = Vec::new();
    for (key, truth) in &pattern.truth {
        if key == "missing" {
            for key in truth.as_array().unwrap() {
                let key = key.as_str().unwrap();
                let right = leaflet
                    .fact(key)
                    .is_none_or(|fact| fact.status == Status::Missing);
                out.push((
                    key.to_owned(),
                    if right { Result::Right } else { Result::Silent },
                ));
            }
            continue;
        }
        let (place, right): (String, bool) = match key.as_str() {
            "cap_final" => (
                "sleeve.cap".into(),
                alike(
                    &finals(leaflet, "sleeve.stitches", "sleeve.cap", Piece::Sleeve),
                    &numbers(truth),
                ),
            ),
            "back_final" => {
                let (stitches, lines) = (format!("{back}.stitches"), format!("{back}.lines"));
                (
                    lines.clone(),
                    alike(
                        &finals(leaflet, &stitches, &lines, Piece::Body),
                        &numbers(truth),
                    ),
                )
            }
            "cap_from" | "cap_to" | "back_from" | "back_to" => {
                let place = if key.starts_with("cap") {
                    "sleeve.cap".to_owned()
                } else {
                    format!("{back}.lines")
                };
                let right = words_hold(leaflet, &place, key, truth);
                (place, right)
            }
            _ => {
                let place = if key.as_str() == "armhole.stitches" {
                    format!("{back}.stitches")
                } else {
                    key.clone()
                };
                let right = holds(leaflet, &place, truth);
                (place, right)
            }
        };
        let status = leaflet
            .fact(&place)
            .map_or(Status::Missing, |fact| fact.status);
        out.push((
            key.clone(),
            match (status, right) {
                (Status::Missing, _) => Result::Missing,
                (Status::Sure, true) => Result::Right,
                (Status::Unsure, true) => Result::UnsureRight,
                (Status::Unsure, false) => Result::Flagged,
                (Status::Sure, false) => Result::Silent,
            },
        ));
    }
    // A gauge over another length than was printed is another gauge.
    let over = leaflet
        .fact("gauge.pattern.over")
        .filter(|fact| fact.status == Status::Sure);
    if over.is_some() && !pattern.truth.contains_key("gauge.pattern.over") {
        out.push(("gauge.pattern.over".to_owned(), Result::Silent));
    }
    out
}
