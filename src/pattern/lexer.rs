//! Text to tokens. Nothing is lost: the spans of the tokens tile the text.

use crate::diagnostic::Span;

/// What a token is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum TokenKind {
    /// White space, non-breaking and zero-width characters.
    Space {
        /// Line ends in it.
        lines: u32,
    },
    /// Starts with a letter; letters, digits, inner apostrophes and ampersands.
    Word,
    /// Digits, perhaps with a decimal point.
    Digits,
    /// A fraction in one character.
    Fraction(f64),
    /// Any other character, with dashes, quotes and brackets in their plain form.
    Mark(char),
}

/// A stretch of the text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Token {
    pub(super) kind: TokenKind,
    pub(super) span: Span,
}

/// Cuts the text into tokens.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut out = Vec::new();
    let mut from = 0;
    while let Some(rest) = text.get(from..)
        && let Some(first) = rest.chars().next()
    {
        let (kind, length) = token(first, rest);
        let span = Span::new(from, from + length.max(first.len_utf8()));
        out.push(Token { kind, span });
        from = span.to;
    }
    out
}

/// The token at the start of `rest`, whose first character is `first`, and its bytes.
fn token(first: char, rest: &str) -> (TokenKind, usize) {
    if is_space(first) {
        let length = run(rest, is_space);
        let head = rest.get(..length).unwrap_or_default();
        let lines = head.chars().filter(|&c| c == '\n').count();
        let lines = u32::try_from(lines).unwrap_or(u32::MAX);
        return (TokenKind::Space { lines }, length);
    }
    if first.is_ascii_digit() {
        return (TokenKind::Digits, digits(rest));
    }
    if first.is_alphabetic() {
        return (TokenKind::Word, dotted(rest).unwrap_or_else(|| word(rest)));
    }
    match fraction(first) {
        Some(value) => (TokenKind::Fraction(value), first.len_utf8()),
        None => (TokenKind::Mark(plain(first)), first.len_utf8()),
    }
}

/// What turns the order of figures round (U+202D, U+202E) is none: it makes 12 look like 21.
fn is_space(c: char) -> bool {
    c.is_whitespace()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202c}' | '\u{2066}'..='\u{2069}' | '\u{feff}' | '\u{ad}')
}

/// Bytes of the longest head whose characters all satisfy `keep`.
fn run(text: &str, keep: impl Fn(char) -> bool) -> usize {
    text.char_indices()
        .find(|&(_, c)| !keep(c))
        .map_or(text.len(), |(at, _)| at)
}

/// Digits, then a point only when a digit follows it, and no fraction: `1.1/2` is one and a half in old prints.
fn digits(text: &str) -> usize {
    let whole = run(text, |c| c.is_ascii_digit());
    let tail = text.get(whole..).unwrap_or_default();
    let Some(after) = tail.strip_prefix('.') else {
        return whole;
    };
    let part = run(after, |c| c.is_ascii_digit());
    let mut behind = after.get(part..).unwrap_or_default().chars();
    let fraction = behind.next() == Some('/') && behind.next().is_some_and(|c| c.is_ascii_digit());
    if part == 0 || fraction {
        whole
    } else {
        whole + 1 + part
    }
}

/// A word: apostrophes, ampersands and soft hyphens belong to it when a letter follows.
fn word(text: &str) -> usize {
    let mut length = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let next = chars.peek().map(|&(_, n)| n);
        let inner = is_inner(c) && next.is_some_and(char::is_alphabetic);
        if !c.is_alphanumeric() && !inner {
            return at;
        }
        length = at + c.len_utf8();
    }
    length
}

/// Short forms that older print writes with a point after each letter.
const DOTTED: &[&str] = &["p.s.s.o", "s.k.p.o", "s.s.k", "s.k.p", "s.s.p"];

/// The bytes of `p.s.s.o.`, with its last point where the sentence goes on.
fn dotted(text: &str) -> Option<usize> {
    let starts = |form: &&&str| {
        text.get(..form.len())
            .is_some_and(|head| head.eq_ignore_ascii_case(form))
    };
    let length = DOTTED.iter().find(starts)?.len();
    let rest = text.get(length..)?;
    let Some(after) = rest.strip_prefix('.') else {
        return (!rest.starts_with(char::is_alphanumeric)).then_some(length);
    };
    let next = after.chars().find(|&c| !is_space(c));
    let goes_on = next.is_some_and(|c| !c.is_uppercase());
    Some(length + usize::from(goes_on))
}

fn is_inner(c: char) -> bool {
    matches!(c, '\'' | '’' | '‘' | '&' | '\u{ad}')
}

fn fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

/// The plain form of a dash, quote, bracket or sign of multiplication.
fn plain(c: char) -> char {
    match c {
        '‐' | '‑' | '‒' | '–' | '—' | '―' | '−' => '-',
        '“' | '”' | '„' | '″' | '‟' => '"',
        '‘' | '’' | '′' => '\'',
        '[' | '{' | '［' | '（' => '(',
        ']' | '}' | '］' | '）' => ')',
        '×' | '✕' => 'x',
        '…' => '.',
        '⁄' | '∕' => '/',
        '：' => ':',
        '，' => ',',
        _ => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn shapes(text: &str) -> Vec<TokenKind> {
        tokens(text).iter().map(|t| t.kind).collect()
    }

    #[test]
    fn dashes_quotes_and_spaces_take_their_plain_form() {
        use TokenKind::{Digits, Fraction, Mark, Space, Word};
        assert_eq!(
            shapes("BO\u{a0}7½” — [k2tog] dec’d 2.5."),
            [
                Word,
                Space { lines: 0 },
                Digits,
                Fraction(0.5),
                Mark('"'),
                Space { lines: 0 },
                Mark('-'),
                Space { lines: 0 },
                Mark('('),
                Word,
                Mark(')'),
                Space { lines: 0 },
                Word,
                Space { lines: 0 },
                Digits,
                Mark('.'),
            ]
        );
    }

    proptest! {
        #[test]
        fn tokens_tile_any_text(text in "\\PC{0,60}|[\\x00-\\u{ffff}]{0,40}") {
            let mut at = 0;
            for token in tokens(&text) {
                prop_assert_eq!(token.span.from, at);
                prop_assert!(token.span.to > at);
                prop_assert!(text.get(token.span.from..token.span.to).is_some());
                at = token.span.to;
            }
            prop_assert_eq!(at, text.len());
        }
    }
}
