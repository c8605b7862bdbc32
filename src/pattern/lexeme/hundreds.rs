//! Numbers in words beyond twenty.

use super::super::lexer::TokenKind;
use super::super::term::Term;
use super::super::vocabulary::{is_ten, phrases, plain};
use super::LexemeReader;

impl LexemeReader<'_> {
    /// `one hundred and thirty-two`, `hundred and two`: the number and its tokens.
    pub(super) fn hundreds(&self, word: &str, value: f64) -> Option<(f64, usize)> {
        let is = |at: usize, wanted: &str| {
            let token = self.peek(at).filter(|t| t.kind == TokenKind::Word);
            token.is_some_and(|t| plain(self.slice(t.span)) == wanted)
        };
        let parted = |at: usize| {
            let kind = self.peek(at).map(|t| t.kind);
            matches!(
                kind,
                Some(TokenKind::Mark('-') | TokenKind::Space { lines: 0 | 1 })
            )
        };
        let small = (1.0..10.0).contains(&value) && value.fract() == 0.0;
        let (hundreds, used) = match word {
            "hundred" => (1.0, 1),
            _ if small && parted(1) && is(2, "hundred") => (value, 3),
            _ => return None,
        };
        let and = parted(used) && is(used + 1, "and") && parted(used + 2);
        let at = used + if and { 3 } else { 1 };
        let rest = self
            .peek(at)
            .filter(|t| t.kind == TokenKind::Word && parted(at - 1));
        let rest = rest.and_then(|token| {
            let word = plain(self.slice(token.span));
            let number = phrases(&word)
                .iter()
                .find(|p| p.term == Term::Number && p.rest.is_empty())?;
            let whole = (1.0..100.0).contains(&number.value);
            let unit = self.unit(at).filter(|_| is_ten(&word));
            let unit = unit.unwrap_or((0.0, 1));
            whole.then_some((number.value + unit.0, at + unit.1))
        });
        let (rest, used) = rest.unwrap_or((0.0, used));
        Some((hundreds * 100.0 + rest, used))
    }

    /// The `four` of `twenty-four`, which begins at this token from here, and the tokens of both.
    pub(super) fn unit(&self, at: usize) -> Option<(f64, usize)> {
        let token = self.peek(at + 2).filter(|t| t.kind == TokenKind::Word)?;
        let between = self.peek(at + 1)?.kind;
        let word = plain(self.slice(token.span));
        let joined = matches!(
            between,
            TokenKind::Mark('-') | TokenKind::Space { lines: 0 }
        );
        let unit = phrases(&word)
            .iter()
            .find(|p| p.term == Term::Number && p.rest.is_empty())?;
        let fits = joined && unit.value >= 1.0 && unit.value < 10.0;
        fits.then_some((unit.value, 3))
    }
}
