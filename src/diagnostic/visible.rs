//! Foreign text made safe to show: characters that act on a terminal or on the direction of
//! reading, or that cannot be seen, are written out.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Characters of a message; a longer one, which quotes a long value, is cut: it must still be read.
pub const MAX_MESSAGE: usize = 1_000;

/// The text with every character that acts instead of showing written as `\u202e` is, so that the
/// result can stand inside a string of JSON, too. Line ends and tabs are among them.
pub fn visible(text: &str) -> Cow<'_, str> {
    written_out(text, acts)
}

/// The same for a text of several lines: line ends, tabs and page ends (a sheet of answers begins a page) stay.
pub fn visible_lines(text: &str) -> Cow<'_, str> {
    if !text.contains('\r') {
        return written_out(text, |c| acts(c) && !in_text(c));
    }
    // A line may end the way comma-separated values do (RFC 4180).
    let lines: Vec<Cow<'_, str>> = text
        .split("\r\n")
        .map(|line| written_out(line, |c| acts(c) && !in_text(c)))
        .collect();
    Cow::Owned(lines.join("\r\n"))
}

/// What divides a text into lines, columns and pages.
const fn in_text(c: char) -> bool {
    matches!(c, '\n' | '\t' | '\u{c}')
}

/// A sentence to be shown: visible, and of bounded length.
pub(super) fn shown(text: String) -> String {
    let text = match visible(&text) {
        Cow::Borrowed(_) => text,
        Cow::Owned(text) => text,
    };
    match text.char_indices().nth(MAX_MESSAGE) {
        None => text,
        Some((end, _)) => {
            let cut = text.get(end..).unwrap_or_default().chars().count();
            let kept = text.get(..end).unwrap_or_default();
            format!("{kept}... ({cut} more characters)")
        }
    }
}

fn written_out(text: &str, hidden: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.contains(&hidden) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if hidden(c) {
            for unit in c.encode_utf16(&mut [0; 2]) {
                let _ = write!(out, "\\u{unit:04x}");
            }
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// Controls (general category Cc), line and paragraph separators, and format characters (Cf): the
/// explicit directional ones of Unicode Standard Annex 9, table 4, and all others that cannot be
/// seen. The two joiners (U+200C, U+200D) stay: words of many languages need them.
fn acts(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{600}'..='\u{605}' | '\u{61c}' | '\u{6dd}' | '\u{70f}' | '\u{180e}'
            | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_acts_is_written_out_and_all_else_stays() {
        for plain in ["Tern Harbour", "Größe 4–6 (μ)", "می‌خواهم", "👩‍🎨"] {
            assert_eq!(visible(plain), plain);
        }
        assert_eq!(visible("a\u{202e}b\u{2066}"), "a\\u202eb\\u2066");
        assert_eq!(
            visible("\u{1b}[2J\u{9b}1m\u{7f}"),
            "\\u001b[2J\\u009b1m\\u007f"
        );
        assert_eq!(visible("one\ntwo"), "one\\u000atwo");
        assert_eq!(visible("\u{e0041}"), "\\udb40\\udc41");
        assert_eq!(visible_lines("one\n\ttwo\r"), "one\n\ttwo\\u000d");
        assert_eq!(
            visible_lines("a,b\r\nc\u{85},d\r\n"),
            "a,b\r\nc\\u0085,d\r\n"
        );
    }

    /// What JSON has escaped means what it meant before.
    #[test]
    fn json_means_the_same() {
        let told = serde_json::json!({ "a": "x\u{202e}\u{7f}\u{e0041}\u{feff}\ny" });
        let safe = visible_lines(&told.to_string()).into_owned();
        assert!(safe.is_ascii(), "{safe}");
        assert_eq!(safe.parse::<serde_json::Value>().unwrap(), told);
    }

    #[test]
    fn a_long_sentence_is_cut() {
        assert_eq!(shown("x".repeat(MAX_MESSAGE)).len(), MAX_MESSAGE);
        let long = shown("\u{fc}".repeat(MAX_MESSAGE + 7));
        assert!(long.ends_with("\u{fc}... (7 more characters)"), "{long}");
    }
}
