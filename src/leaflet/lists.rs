//! Numbers in print, one a size: `56 (60, 64)`, `67 [71:77]`, `80-86-92`, `17½ (18, 18½)`.

use std::sync::LazyLock;

use regex::Regex;

/// A number, whole, decimal or with a fraction.
pub(super) const NUMBER: &str =
    r"(?:\d+ [13]/[248]\b|\d+(?:[.,]\d+)?\s?[¼½¾⅛⅜⅝⅞]|[¼½¾]|\d+\.\d+|\d+)";

/// A list of numbers.
pub(super) fn list() -> String {
    format!(r"{NUMBER}(?:[\s,:;/()\[\]{{}}–-]+{NUMBER})*(?:\s?[)\]}}])?")
}

/// A unit of length.
pub(super) const UNIT: &str = "(?:cms?\\b|centimetres?|inch(?:es)?\\b|ins?\\b|\")";

/// A pattern of this room, in which a space is any white space: a phrase may be divided between
/// lines. They are constants, so that one that does not compile never leaves here.
#[expect(
    clippy::expect_used,
    reason = "the patterns are constants, compiled in the tests"
)]
pub(super) fn regex(pattern: &str) -> Regex {
    Regex::new(&pattern.replace(' ', r"\s")).expect("a pattern of this room compiles")
}

/// The numbers of a list.
pub(super) fn numbers(text: &str) -> Vec<f64> {
    static ONE: LazyLock<Regex> = LazyLock::new(|| regex(NUMBER));
    ONE.find_iter(text)
        .filter_map(|found| number(found.as_str()))
        .collect()
}

fn number(text: &str) -> Option<f64> {
    if let Some((whole, part)) = text.split_once(' ').filter(|(_, part)| part.contains('/')) {
        let (a, b) = part.split_once('/')?;
        return Some(whole.parse::<f64>().ok()? + a.parse::<f64>().ok()? / b.parse::<f64>().ok()?);
    }
    let eighths = text
        .chars()
        .find_map(|letter| "_⅛¼⅜½⅝¾⅞".chars().position(|known| known == letter));
    let digits: String = text
        .chars()
        .filter(|letter| letter.is_ascii_digit() || *letter == '.')
        .collect();
    let whole = if digits.is_empty() {
        0.0
    } else {
        digits.parse::<f64>().ok()?
    };
    Some(whole + eighths.unwrap_or(0) as f64 / 8.0)
}

/// As a case takes it: `60 (64, 68)`.
pub fn in_trade_notation(list: &[f64]) -> String {
    match list {
        [] => String::new(),
        [one] => one.to_string(),
        [first, rest @ ..] => {
            let rest: Vec<String> = rest.iter().map(f64::to_string).collect();
            format!("{first} ({})", rest.join(", "))
        }
    }
}

/// True for as many numbers as sizes, or one for all.
pub(super) fn fits(list: &[f64], sizes: usize) -> bool {
    list.len() == 1 || list.len() == sizes
}

/// `cm` or `in` for a unit as printed.
pub(super) fn unit_word(unit: &str) -> &'static str {
    if unit.to_lowercase().starts_with('c') {
        "cm"
    } else {
        "in"
    }
}
