//! The abbreviations a text uses, and no others.

use std::collections::BTreeSet;

use serde::Serialize;

/// An abbreviation and its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Abbreviation {
    /// As it stands in the text.
    pub short: &'static str,
    /// What it stands for.
    pub meaning: &'static str,
}

/// Where the abbreviations are from.
const STANDARD: &str = "standard abbreviations of the Craft Yarn Council";

/// The one that is not among the standard ones.
const DOUBLE_STITCH: &str = "ds";

/// Where these abbreviations are from.
pub fn abbreviations_source(shown: &[&str]) -> String {
    if shown.contains(&DOUBLE_STITCH) {
        format!("{STANDARD}; {DOUBLE_STITCH}: common practice, no source")
    } else {
        STANDARD.to_owned()
    }
}

const TABLE: &[Abbreviation] = &[
    entry("dec", "decrease"),
    entry(
        DOUBLE_STITCH,
        "double st: after the turn bring the yarn to the front, slip the st just worked and pull the yarn up and over the needle until both legs of the st below show",
    ),
    entry("inc", "increase"),
    entry("k", "knit"),
    entry("k2tog", "knit 2 together"),
    entry("p", "purl"),
    entry("p2tog", "purl 2 together"),
    entry("pm", "place marker"),
    entry("RS", "right side"),
    entry(
        "ssk",
        "slip, slip, knit the 2 slipped sts together through the back loops",
    ),
    entry("st", "stitch"),
    entry("sts", "stitches"),
    entry("tbl", "through the back loops"),
    entry(
        "w&t",
        "wrap and turn: slip the next st purlwise, bring the yarn between the needles to the other side, slip the st back, turn",
    ),
    entry("WS", "wrong side"),
];

const fn entry(short: &'static str, meaning: &'static str) -> Abbreviation {
    Abbreviation { short, meaning }
}

/// Those of the table that are among these words of a text, in the order of the alphabet.
pub fn abbreviations(words: &[String]) -> Vec<Abbreviation> {
    let used: BTreeSet<&str> = words.iter().map(String::as_str).collect();
    TABLE
        .iter()
        .filter(|entry| used.contains(entry.short))
        .copied()
        .collect()
}
