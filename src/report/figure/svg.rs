//! A small SVG writer: elements, escaped text, rounded numbers.

use std::fmt::Write as _;

use nalgebra::Point2;

/// One attribute: its name, and its value before escaping.
pub(super) type Attr = (&'static str, String);

/// A number rounded to three decimals, without `-0` and without trailing zeros.
pub(super) fn num(number: f64) -> String {
    let rounded = (number * 1000.0).round() / 1000.0 + 0.0;
    format!("{rounded}")
}

/// Text as XML has it. Characters that XML 1.0 does not know are left out.
pub(super) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            _ => out.push(letter),
        }
    }
    out
}

/// `<name a="b">`.
pub(super) fn open(out: &mut String, name: &str, attrs: &[Attr]) {
    start(out, name, attrs);
    out.push('>');
}

/// `</name>`.
pub(super) fn close(out: &mut String, name: &str) {
    let _ = writeln!(out, "</{name}>");
}

/// `<name a="b"/>`.
pub(super) fn empty(out: &mut String, name: &str, attrs: &[Attr]) {
    start(out, name, attrs);
    out.push_str("/>\n");
}

/// `<name a="b">text</name>`.
pub(super) fn leaf(out: &mut String, name: &str, attrs: &[Attr], text: &str) {
    open(out, name, attrs);
    out.push_str(&escape(text));
    close(out, name);
}

fn start(out: &mut String, name: &str, attrs: &[Attr]) {
    let _ = write!(out, "<{name}");
    for (key, value) in attrs {
        let _ = write!(out, " {key}=\"{}\"", escape(value));
    }
}

/// The `d` of a broken line through these points.
pub(super) fn line_data(points: &[Point2<f64>]) -> String {
    let mut out = String::new();
    for (i, point) in points.iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        let _ = write!(out, "{letter}{} {}", num(point.x), num(point.y));
    }
    out
}
