//! Findings for the page: with the field they belong to and places as a browser counts them.

use serde_json::{Value, json};

use crate::case::{Case, key_at};
use crate::diagnostic::{Diagnostic, Span};
use crate::report::finding_json;

/// What was found while reading a case: each with the key it is about.
pub(super) fn of_case(said: &[Diagnostic], text: &str) -> Vec<Value> {
    let one = |diagnostic: &Diagnostic| {
        let at = diagnostic.span.and_then(|span| key_at(text, span));
        let field = diagnostic.key.clone().or(at);
        with_field(diagnostic, field.as_deref())
    };
    said.iter().map(one).collect()
}

/// Findings on the lines of a case or on the garment: places are in those lines.
pub(super) fn of_lines(said: &[Diagnostic], case: Option<&Case>) -> Vec<Value> {
    let one = |diagnostic: &Diagnostic| {
        let lines = diagnostic.lines;
        let text = lines.and_then(|name| case?.lines(name));
        let field = lines.or(diagnostic.key.as_deref());
        located(diagnostic, field, text.unwrap_or_default())
    };
    said.iter().map(one).collect()
}

/// One finding on these lines.
pub(super) fn located(diagnostic: &Diagnostic, field: Option<&str>, text: &str) -> Value {
    let mut value = with_field(diagnostic, field);
    value["at"] = json!(diagnostic.span.map(|span| place(text, span)));
    let repairs = diagnostic.repairs.iter().map(|repair| {
        json!({
            "at": place(text, repair.span),
            "old": text.get(repair.span.from..repair.span.to).unwrap_or_default(),
            "text": repair.text,
        })
    });
    value["repairs"] = repairs.collect();
    value
}

fn with_field(diagnostic: &Diagnostic, field: Option<&str>) -> Value {
    let mut value = finding_json(diagnostic);
    value["field"] = json!(field.or_else(|| swatch_field(&diagnostic.message)));
    value["title"] = json!(diagnostic.code.title);
    value["why"] = json!(diagnostic.code.why);
    value
}

/// A finding on a swatch names its table: `[gauge.flat] There is only one count.`
fn swatch_field(message: &str) -> Option<&str> {
    let (table, _) = message.strip_prefix('[')?.split_once(']')?;
    (table.starts_with("gauge.") || table == "so_far.gauge").then_some(table)
}

/// Bytes to UTF-16 units, which is how a browser counts.
pub(super) fn place(text: &str, span: Span) -> [usize; 2] {
    let units = |to: usize| -> usize {
        let before = text.char_indices().take_while(|(at, _)| *at < to);
        before.map(|(_, letter)| letter.len_utf16()).sum()
    };
    [units(span.from), units(span.to)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_as_a_browser_does() {
        // U+00BD is two bytes and one unit, U+1F9F6 four bytes and two units (Unicode Standard,
        // chapter 3.9).
        let text = "\u{bd} \u{1f9f6} k2tog";
        let from = text.find("k2tog").unwrap();
        assert_eq!(place(text, Span::new(from, from + 5)), [5, 10]);
        assert_eq!(place("abc", Span::new(1, 99)), [1, 3]);
    }
}
