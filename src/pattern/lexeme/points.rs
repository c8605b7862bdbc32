//! Points that end no sentence: `sts.`, `R.S.`; commas that part no list: `11,5 cm`.

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

    /// `11,5 cm` where there is one size: two numbers would be a list for two.
    pub(super) fn decimal_comma(&self) -> Option<f64> {
        (self.one_size && self.is_mark(1, ',')).then_some(())?;
        let whole = self.digits(0)?;
        let part = self.peek(2).filter(|t| t.kind == TokenKind::Digits)?;
        let part = self.slice(part.span);
        let ahead = (3..5).filter_map(|ahead| self.peek(ahead));
        let mut next = ahead.filter(|t| !matches!(t.kind, TokenKind::Space { lines: 0 }));
        let unit = plain(self.slice(next.next()?.span));
        let metric = matches!(
            unit.as_str(),
            "cm" | "cms" | "mm" | "centimetre" | "centimetres"
        );
        let short = part.len() < 3 && part.bytes().all(|b| b.is_ascii_digit());
        (metric && short).then(|| format!("{whole}.{part}").parse().ok())?
    }
}
