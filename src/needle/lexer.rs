//! Words, numbers and marks of a written pattern, each with its place.

use crate::diagnostic::Span;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum WordKind {
    /// Letters, with `&` and inner hyphens: `w&t`, `bound-off`.
    Word,
    /// Digits. `k17` is a word and a number, `p2tog` a word, a number and a word.
    Number(u32),
    /// Any other character that is not white space.
    Mark,
}

/// A piece of the text and where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Token<'a> {
    pub(crate) kind: WordKind,
    pub(crate) text: &'a str,
    pub(crate) span: Span,
}

impl Token<'_> {
    /// Equal words (whatever the case), numbers or marks.
    pub(crate) fn same(&self, other: &Self) -> bool {
        match (self.kind, other.kind) {
            (WordKind::Number(a), WordKind::Number(b)) => a == b,
            _ => self.text.eq_ignore_ascii_case(other.text),
        }
    }

    /// A hyphen or a dash by itself.
    pub(crate) fn is_dash(&self) -> bool {
        matches!(self.text, "-" | "\u{2013}" | "\u{2014}")
    }

    pub(crate) fn is(&self, text: &str) -> bool {
        self.text.eq_ignore_ascii_case(text)
    }
}

/// The tokens of a text; white space of any kind only separates.
#[derive(Clone, Debug)]
pub(crate) struct Lexer<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Lexer<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text, at: 0 }
    }
}

impl<'a> Iterator for Lexer<'a> {
    type Item = Token<'a>;

    fn next(&mut self) -> Option<Token<'a>> {
        let rest = self.text.get(self.at..)?;
        let start = rest.trim_start();
        let from = self.at + rest.len() - start.len();
        let first = start.chars().next()?;
        let belongs = |c: char| match first {
            '0'..='9' => c.is_ascii_digit(),
            _ => in_word(first) && in_word(c),
        };
        let end = start.find(|c| !belongs(c)).unwrap_or(start.len());
        let to = from + end.max(first.len_utf8());
        let piece = self.text.get(from..to)?;
        self.at = to;
        Some(Token {
            kind: kind(piece, first),
            text: piece,
            span: Span::new(from, to),
        })
    }
}

/// All tokens of a text.
pub(crate) fn lex(text: &str) -> Vec<Token<'_>> {
    Lexer::new(text).collect()
}

fn in_word(c: char) -> bool {
    c.is_alphabetic() || c == '&' || c == '-'
}

/// A number too large to be one of stitches or rows stays a word, which nothing accepts.
fn kind(piece: &str, first: char) -> WordKind {
    if first.is_ascii_digit() {
        piece.parse().map_or(WordKind::Word, WordKind::Number)
    } else if in_word(first) {
        WordKind::Word
    } else {
        WordKind::Mark
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<&str> {
        lex(text).iter().map(|t| t.text).collect()
    }

    #[test]
    fn abbreviations_fall_apart_into_words_and_numbers() {
        assert_eq!(texts("k17, w&t"), ["k", "17", ",", "w&t"]);
        assert_eq!(texts("p2tog (8th)"), ["p", "2", "tog", "(", "8", "th", ")"]);
        assert_eq!(texts("bound-off\n  st."), ["bound-off", "st", "."]);
        assert_eq!(texts(""), [""; 0]);
    }

    #[test]
    fn a_number_beyond_counting_is_no_number() {
        assert_eq!(lex("99999999999")[0].kind, WordKind::Word);
        assert_eq!(lex("42")[0].kind, WordKind::Number(42));
    }

    #[test]
    fn spans_lie_on_characters() {
        for token in lex("½ \u{a0}k2 – ä[") {
            assert_eq!(
                "½ \u{a0}k2 – ä[".get(token.span.from..token.span.to),
                Some(token.text)
            );
        }
    }
}
