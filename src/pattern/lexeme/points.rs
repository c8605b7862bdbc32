//! Points that end no sentence: `sts.`, `R.S.`.

use super::super::lexer::TokenKind;
use super::super::vocabulary::{is_shortened, plain};
use super::LexemeReader;

impl LexemeReader<'_> {
    /// True after `R.S`, `W.S`.
    pub(super) fn side_letters(&self) -> bool {
        let before = |back: usize| {
            let token = self.at.checked_sub(back).and_then(|at| self.tokens.get(at));
            token.map_or_else(String::new, |t| self.slice(t.span).to_lowercase())
        };
        before(2) == "." && matches!(before(3).as_str(), "r" | "w")
    }

    /// True for the point of a shortened word inside a sentence.
    pub(super) fn goes_on(&self) -> bool {
        let before = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        let word = before
            .filter(|t| t.kind == TokenKind::Word)
            .map(|t| plain(self.slice(t.span)));
        let side = word.as_deref() == Some("s") && self.side_letters();
        if !side && !word.is_some_and(|w| is_shortened(&w)) {
            return false;
        }
        let after = self.tokens.get(self.at + 1..).unwrap_or_default();
        let paragraph = matches!(
            after.first().map(|t| t.kind),
            Some(TokenKind::Space { lines: 2.. })
        );
        let next = after
            .iter()
            .find(|t| !matches!(t.kind, TokenKind::Space { .. }));
        let first = next.and_then(|t| self.slice(t.span).chars().next());
        // `EVERY R.S. ROW`: capitals tell nothing here.
        let of_row = next.is_some_and(|t| {
            let word = plain(self.slice(t.span));
            side && matches!(word.as_str(), "row" | "rows" | "facing")
        });
        !paragraph && (of_row || first.is_some_and(|c| !c.is_uppercase()))
    }
}
