//! What the lines state: counts, sides, and references to other parts of the pattern.

use crate::diagnostic::Diagnostic;

use super::super::codes;
use super::super::program::{Action, Num};
use super::super::term::Term;
use super::Parser;

/// A row that is named as the last one worked.
enum EndRow {
    Numbered(u32),
    /// One that shapes.
    Shaping,
}

impl Parser<'_> {
    /// `(51 sts)`, `51 sts rem`, `there are now 51 sts`, `-- 51 sts`, `(2 sts dec'd)`.
    pub(super) fn count_check(&mut self) -> Option<()> {
        let from = self.at;
        let mut said = 0;
        let equals = self.is(0, &[Term::Equals]) || self.is_before(&[Term::Equals]);
        while let Some(term) = self.eat_any(&[
            Term::There,
            Term::Dash,
            Term::Remaining,
            Term::Equals,
            Term::For,
            Term::InAll,
            Term::Until,
            Term::With,
            Term::Only,
        ]) {
            if term == Term::Until && said == 0 {
                return None;
            }
            said += usize::from(term != Term::Dash);
        }
        let count = self.amount()?;
        let stitches = self.eat(Term::Stitch);
        let ends = self.term(1).is_none() || self.is(1, &[Term::Close, Term::Stop, Term::Comma]);
        let ended = ends || self.is(1, &[Term::Semicolon]);
        let gone = stitches && ended && self.is(0, &[Term::Dec, Term::Inc, Term::BindOff]);
        let way = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        if self.eat(Term::Done) || gone {
            self.eat_any(&[Term::Dec, Term::Inc, Term::BindOff]);
            // `2 sts inc'd` beside a row that decreases.
            let comes = way.is_some_and(|word| word.starts_with("inc"));
            let turned = match self.last_shapes() {
                Some(Term::Dec) => comes,
                Some(_) => !comes,
                None => false,
            };
            (!turned).then_some(())?;
            self.push(Action::Change(count), from);
            return Some(());
        }
        let mut rest = false;
        while let Some(term) =
            self.eat_any(&[Term::Remaining, Term::There, Term::InAll, Term::Stitch])
        {
            rest |= term == Term::Remaining;
        }
        // `16 sts each side`, a sentence of its own, counts the halves of divided work.
        let halves = from == self.sentence_at || rest;
        if halves && self.is(0, &[Term::Every]) && self.is(1, &[Term::Side, Term::ForShoulder]) {
            let end = [Term::Stop, Term::Close, Term::Semicolon];
            self.at += if self.is(2, &end) || self.term(2).is_none() {
                2
            } else {
                0
            };
        }
        let end = self.lexeme(0).is_none_or(|l| l.starts_line);
        let end = end || self.is(0, &[Term::Stop, Term::Semicolon]);
        let alone = self.depth_of_bracket(from) && self.is(0, &[Term::Close]) || equals && end;
        if !stitches && !rest && !alone || !self.check_ends() {
            return None;
        }
        self.push(Action::Count(count), from);
        Some(())
    }

    /// True when the lexeme before `from` opens a bracket.
    fn depth_of_bracket(&self, from: usize) -> bool {
        let before = from.checked_sub(1).and_then(|at| self.lexemes.get(at));
        before.is_some_and(|l| l.term == Term::Open)
    }

    /// A count is followed by a mark, the end, or the start of another clause.
    fn check_ends(&self) -> bool {
        !self.is(
            0,
            &[
                Term::Beginning,
                Term::Every,
                Term::Armhole,
                Term::Neck,
                Term::Cross,
                Term::Often,
                Term::Times,
                Term::Number,
                Term::Next,
                Term::Side,
                Term::Edge,
                Term::Slip,
            ],
        )
    }

    /// `ending with a WS row`, `RS facing for next row`, `ending after a purl row`.
    pub(super) fn side_check(&mut self) -> Option<()> {
        let from = self.at;
        if self.attempt(Self::side_begun).is_some() {
            return Some(());
        }
        let short = self.is(0, &[Term::End]) && self.is(1, &[Term::Rs, Term::Ws]);
        self.at += usize::from(short);
        let ending = short || self.eat(Term::Ending);
        while self
            .eat_any(&[Term::With, Term::From, Term::Every, Term::Or])
            .is_some()
        {}
        if ending && let Some(row) = self.attempt(Self::row_named) {
            let number = match row {
                EndRow::Numbered(number) => Some(number),
                EndRow::Shaping => None,
            };
            self.push(Action::EndedRow(number), from);
            return Some(());
        }
        let side = self.side()?;
        self.eat(Term::Side);
        let facing = self.eat(Term::Facing);
        if !ending && !facing {
            return None;
        }
        self.eat(Term::Row);
        if facing {
            let _ = self.attempt(|p| {
                while p
                    .eat_any(&[Term::For, Term::Until, Term::Beginning])
                    .is_some()
                {}
                p.need(Term::Next)?;
                p.need(Term::Row)
            });
        }
        let ended = if facing { side.turned() } else { side };
        self.push(Action::Ended(ended), from);
        Some(())
    }

    /// `beginning with a RS row`, `starting on WS`: the row that follows.
    fn side_begun(&mut self) -> Option<()> {
        let from = self.at;
        let word = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        self.need(Term::Beginning)?;
        let starts = word.is_some_and(|w| w.ends_with("ing") && w != "beginning");
        let with = self.eat(Term::With);
        (with || starts).then_some(())?;
        let side = self.side()?;
        self.eat(Term::Side);
        self.eat(Term::Row);
        let ends = [
            Term::Comma,
            Term::Stop,
            Term::Colon,
            Term::Semicolon,
            Term::BindOff,
            Term::Dec,
            Term::Inc,
        ];
        (self.is(0, &ends) || self.term(0).is_none()).then_some(())?;
        self.push(Action::OfSide { side, next: true }, from);
        Some(())
    }

    /// `ending with 2nd row`, `ending with row 4`, `ending with a dec row`.
    fn row_named(&mut self) -> Option<EndRow> {
        if self.eat(Term::Row) {
            return self.plain_number().map(EndRow::Numbered);
        }
        self.eat_any(&[Term::These, Term::Last]);
        let named = match self.lexeme(0)? {
            l if l.term == Term::Ordinal => EndRow::Numbered(l.count()?),
            l if l.term == Term::Dec => EndRow::Shaping,
            _ => return None,
        };
        self.at += 1;
        self.need(Term::Row)?;
        Some(named)
    }

    /// `as for back to **`, `same as back`, `until armhole equals back's`, and `work other side to
    /// match, reversing shapings`, which is another piece.
    pub(super) fn elsewhere(&mut self) -> Option<()> {
        let from = self.at;
        let before = [
            Term::Work,
            Term::Until,
            Term::Armhole,
            Term::Piece,
            Term::Garment,
            Term::Rep,
            Term::Even,
            Term::Alternate,
            Term::Ordinal,
            Term::Side,
            Term::Neck,
            Term::Edge,
            Term::Colon,
        ];
        while self.eat_any(&before).is_some() {}
        let term = self.eat_any(&[Term::As, Term::Elsewhere, Term::Reversing])?;
        let mut mirrored = term == Term::Reversing;
        // What belongs to the reference; anything else is read like the rest.
        let about = [
            Term::As,
            Term::Elsewhere,
            Term::Reversing,
            Term::Side,
            Term::Ordinal,
            Term::Alternate,
            Term::Piece,
            Term::Garment,
            Term::Neck,
            Term::Armhole,
            Term::Edge,
            Term::These,
            Term::Comma,
            Term::And,
            Term::All,
            Term::Back,
            Term::Star,
            Term::Until,
            Term::For,
            Term::ForNeck,
            Term::ForShoulder,
            Term::Row,
            Term::Every,
            Term::Divide,
        ];
        while self.at < self.end && self.is(0, &about) {
            mirrored |= self.is(0, &[Term::Reversing]);
            self.at += 1;
        }
        let span = self.span_from(from);
        let words = self.slice(span).to_owned();
        let found = if mirrored {
            Diagnostic::new(
                &codes::MIRRORED,
                format!("'{words}' is about the mirrored piece"),
            )
        } else {
            let message = format!("'{words}' refers to rows that are not in these lines");
            Diagnostic::new(&codes::ELSEWHERE, message)
        };
        self.diagnostics.push(found.at(span));
        if mirrored {
            self.push(Action::OtherSide { rejoined: false }, from);
        }
        Some(())
    }

    /// `slip the first st of each bind-off`: the edge is smoothed, the count is not changed.
    pub(super) fn sloped(&mut self) -> Option<()> {
        let from = self.at;
        self.need(Term::Slip)?;
        let first = self
            .lexeme(0)
            .filter(|l| l.term == Term::Ordinal && l.count() == Some(1));
        first?;
        self.at += 1;
        self.need(Term::Stitch)?;
        self.eat_any(&[Term::Every, Term::These]);
        self.need(Term::BindOff)?;
        self.eat_any(&[Term::Row]);
        let span = self.span_from(from);
        let message = format!(
            "'{}' smooths the edge and changes no count",
            self.slice(span)
        );
        self.diagnostics
            .push(Diagnostic::new(&codes::SLOPED, message).at(span));
        Some(())
    }

    /// Short rows are not read: their sentence is left out, and that is an error.
    pub(super) fn short_row(&mut self) -> Option<()> {
        let from = self.at;
        let words = self.lexemes.get(from..(from + 60).min(self.end))?;
        let sentence = words.iter().take_while(|l| l.term != Term::Stop);
        let short = sentence.into_iter().any(|l| l.term == Term::ShortRow);
        let slips =
            self.is(0, &[Term::Turn]) && self.is(1, &[Term::Comma]) && self.is(2, &[Term::Slip]);
        let here = self.is(0, &[Term::ShortRow]) || slips;
        if !(here || from == self.sentence_at && short) {
            return None;
        }
        while self.at < self.end && !self.is(0, &[Term::Stop]) {
            self.at += 1;
        }
        let span = self.span_from(from);
        let message = format!("'{}' is about short rows and is not read", self.slice(span));
        self.diagnostics
            .push(Diagnostic::new(&codes::SHORT_ROW_WORDS, message).at(span));
        Some(())
    }

    /// The number of an instruction that may go without one.
    pub(super) fn amount_or(&mut self, fixed: u32) -> Num {
        self.attempt(Self::amount).unwrap_or(Num::Fixed(fixed))
    }
}
