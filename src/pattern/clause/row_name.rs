//! The names of rows: `Row 1 (RS)`, `Rows 3 and 4`, `1st row`, `Next 4 rows`, `RS:`, `Dec row`.

use crate::measure::Side;

use super::super::program::{Label, Num};
use super::super::term::Term;
use super::Parser;
use super::row_list::stretch_of;

/// The name of a row and the side it gives.
pub(super) type NamedRow = (Labels, Option<Side>);

/// Rows with one text: in one stretch, or by a list of numbers.
pub(super) enum Labels {
    One(Label),
    Listed(Vec<u32>),
}

impl Labels {
    pub(super) fn of(list: Vec<u32>) -> Self {
        stretch_of(&list).map_or(Self::Listed(list), Self::One)
    }
}

impl Parser<'_> {
    /// `RS:`, `WS row:` at the start of a sentence.
    pub(super) fn sided_named(&mut self) -> Option<NamedRow> {
        let starts = self.at == self.sentence_at || self.lexeme(0)?.starts_line;
        let side = match self.term(0)? {
            Term::Rs => Side::Rs,
            Term::Ws => Side::Ws,
            _ => return None,
        };
        self.at += 1;
        let plural = self.is(0, &[Term::Row]) && self.is_plural(0);
        self.eat(Term::Row);
        (starts && !plural && self.is(0, &[Term::Colon])).then_some(())?;
        Some((Labels::One(Label::Next(Num::Fixed(1))), Some(side)))
    }

    /// `Row 3`, `Rows 3-6`, `Rows 3 and 4`, `Rows 1, 3 and 5`.
    pub(super) fn numbered(&mut self) -> Option<NamedRow> {
        let begins = self.at == self.sentence_at || self.lexeme(0)?.starts_line;
        self.need(Term::Row)?;
        let list = self.row_list(Term::Number)?;
        // `Row 3, dec 1 st each end`.
        let verbs = [
            Term::Knit,
            Term::Purl,
            Term::BindOff,
            Term::Dec,
            Term::DecOp,
        ];
        let comma = begins && self.is(0, &[Term::Comma]) && self.is(1, &verbs);
        let one = Labels::of(list.clone());
        if comma && matches!(one, Labels::One(_)) {
            return Some((one, None));
        }
        self.labels_of(list)
    }

    fn label_end(&self) -> Option<()> {
        let ends = &[
            Term::Colon,
            Term::Open,
            Term::Dash,
            Term::Stop,
            Term::And,
            Term::Rs,
            Term::Ws,
            Term::BindOff,
            Term::Knit,
            Term::Purl,
            Term::Work,
            Term::Dec,
            Term::DecOp,
            Term::Equals,
        ];
        (self.is(0, ends) && !self.is(1, &[Term::Number])
            || self.is(0, &[Term::Colon])
            || self.is(
                0,
                &[
                    Term::Knit,
                    Term::Purl,
                    Term::BindOff,
                    Term::Dec,
                    Term::DecOp,
                ],
            ))
        .then_some(())
    }

    /// `1st row:`, `2nd row (WS):`, `1st and 2nd rows:`, `1st, 3rd and 5th rows:`.
    pub(super) fn ordinal_named(&mut self) -> Option<NamedRow> {
        let list = self.row_list(Term::Ordinal)?;
        self.need(Term::Row)?;
        self.labels_of(list)
    }

    /// A list with gaps is a name only before a mark: `on rows 1 and 3 dec` is no name.
    fn labels_of(&self, list: Vec<u32>) -> Option<NamedRow> {
        self.label_end()?;
        let labels = Labels::of(list);
        let marks = [
            Term::Colon,
            Term::Open,
            Term::Dash,
            Term::Stop,
            Term::Rs,
            Term::Ws,
        ];
        let named = matches!(labels, Labels::One(_)) || self.is(0, &marks);
        named.then_some((labels, None))
    }

    /// `Next row (RS):`, `Next 4 rows:`, `Next row: `, `Next row bind off 5`.
    pub(super) fn next_named(&mut self) -> Option<NamedRow> {
        self.eat_any(&[Term::Next, Term::Following])?;
        let count = self.amount_or(1);
        let side = self
            .attempt(Self::side)
            .or_else(|| self.knit_or_purl_rows());
        self.need(Term::Row)?;
        let verbs = &[
            Term::Colon,
            Term::BindOff,
            Term::Knit,
            Term::Purl,
            Term::Dec,
            Term::DecOp,
            Term::Slip,
            Term::Work,
            Term::Inc,
        ];
        // `On next row, dec 1 st at each end`.
        let comma = self.is(0, &[Term::Comma]) && self.is(1, verbs);
        let bracket = self.is(0, &[Term::Open])
            && self.is(1, &[Term::Rs, Term::Ws, Term::Dec, Term::Inc, Term::Even]);
        let plain = self.said_in_pattern().is_some();
        (self.is(0, verbs) || comma || bracket || plain || self.is(0, &[Term::Dash]))
            .then_some(())?;
        Some((Labels::One(Label::Next(count)), side))
    }

    /// `next 3 knit rows`: knit rows are right-side rows.
    fn knit_or_purl_rows(&mut self) -> Option<Side> {
        let side = match self.term(0)? {
            Term::Knit => Side::Rs,
            Term::Purl => Side::Ws,
            _ => return None,
        };
        self.is(1, &[Term::Row]).then(|| self.at += 1)?;
        Some(side)
    }

    /// `Dec row (RS):`, `Decrease row -`.
    pub(super) fn dec_named(&mut self) -> Option<NamedRow> {
        let begins = self.at == self.sentence_at || self.lexeme(0)?.starts_line;
        let side = self.attempt(Self::side);
        self.eat(Term::Double);
        self.eat_any(&[Term::Dec, Term::Inc])?;
        let _ = self.attempt(|p| {
            let number = p.plain_number();
            p.is(0, &[Term::Row]).then_some(number)
        });
        self.need(Term::Row)?;
        let _ = self.plain_number();
        let side_next = self.is(0, &[Term::Open]) && self.is(1, &[Term::Rs, Term::Ws]);
        let colon = self.is(0, &[Term::Colon, Term::Dash]);
        // `Dec row k1, k2tog, ...`, and `Dec row, k1, k2tog, ...` where no such row was told.
        let stitches = [Term::Knit, Term::Purl, Term::DecOp, Term::Slip];
        let mark = usize::from(
            self.is(0, &[Term::Comma, Term::Semicolon, Term::Stop]) && !self.shaped_before(),
        );
        let told = begins && self.is(mark, &stitches);
        (colon || side_next || told).then_some(())?;
        Some((Labels::One(Label::Next(Num::Fixed(1))), side))
    }
}
