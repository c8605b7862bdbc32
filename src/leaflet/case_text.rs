//! Facts -> the commented text of a case.

use std::fmt::Write as _;

use super::{Fact, Status};

/// Tables of a case that this room fills, in their order.
const TABLES: &[&str] = &[
    "",
    "gauge.pattern",
    "gauge.body",
    "sleeve",
    "sleeve.cuff",
    "armhole",
    "armhole.back",
    "armhole.front",
    "shoulder",
    "body",
    "wording",
];

/// What stands in place of the swatches, which are on no page.
pub(super) const YOUR_SWATCHES: &str = "\n# Your own swatches stand on no page: fill them in.\n# [gauge.flat]\n# stitches =\n# rows =\n# [gauge.round]\n# stitches =\n# rows =\n";

/// The text, each key with the words it stands in above it.
pub(super) fn write(facts: &[Fact]) -> String {
    let mut out = "# Written from a printed pattern. Above each key stand the words it was found in;\n# \"look:\" marks what is unsure, \"missing:\" what has to be filled in.\n".to_owned();
    for table in TABLES {
        let mine: Vec<(&Fact, &str)> = facts
            .iter()
            .filter_map(|fact| {
                let (place, key) = fact.key.rsplit_once('.').unwrap_or(("", &fact.key));
                (place == *table).then_some((fact, key))
            })
            .collect();
        if mine.is_empty() {
            continue;
        }
        if !table.is_empty() {
            let _ = write!(out, "\n[{table}]\n");
        }
        for (fact, key) in mine {
            entry(&mut out, fact, key);
        }
        if *table == "gauge.pattern" {
            out += YOUR_SWATCHES;
        }
    }
    out
}

fn entry(out: &mut String, fact: &Fact, key: &str) {
    for at in &fact.evidence {
        let _ = writeln!(
            out,
            "# page {}, line {}: \"{}\"",
            at.page,
            at.line,
            comment(&at.text)
        );
    }
    let mark = match fact.status {
        Status::Sure => "",
        Status::Unsure => "look: ",
        Status::Missing => "missing: ",
    };
    if !fact.why.is_empty() {
        let _ = writeln!(out, "# {mark}{}", comment(&fact.why));
    }
    if fact.status == Status::Missing && fact.value.is_empty() {
        let _ = writeln!(out, "# {key} =");
        return;
    }
    let _ = writeln!(out, "{key} = {}", value(key, &fact.value));
}

fn comment(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .chars()
        .filter(|letter| !letter.is_control())
        .collect()
}

fn value(key: &str, text: &str) -> String {
    match key {
        "cap" | "lines" => format!("\"\"\"\n{}\n\"\"\"", escaped(text)),
        "sizes" => {
            let labels: Vec<String> = text
                .split(", ")
                .map(|label| format!("\"{}\"", escaped(label)))
                .collect();
            format!("[{}]", labels.join(", "))
        }
        "stitch" => format!("\"{}\"", escaped(text)),
        _ if text.parse::<f64>().is_ok() && !matches!(key, "title" | "size") => text.to_owned(),
        _ => format!("\"{}\"", escaped(text)),
    }
}

fn escaped(text: &str) -> String {
    let kept = text
        .chars()
        .filter(|letter| *letter == '\n' || !letter.is_control());
    kept.collect::<String>()
        .replace('\\', "\\\\")
        .replace('"', "\\\"")
}
