//! Work before the lines, divided work, the other side, saddles and what the headings say.

use crate::diagnostic::Diagnostic;

use super::super::codes;
use super::super::program::{Action, Along, Label, Num, RowBody};
use super::super::term::Term;
use super::Parser;

impl Parser<'_> {
    /// `Shape neck:`, `Saddle:`, `Raglan shaping`, `Divide for V-neck:`.
    pub(super) fn heading(&mut self) -> Option<()> {
        let from = self.at;
        if self.eat(Term::Divide) {
            self.eat(Term::For);
            self.eat_any(&[Term::ForNeck, Term::Neck]);
            self.at_neck = true;
            self.eat_any(&[Term::Colon, Term::Comma, Term::Dash]);
            let both_at_once = false;
            self.push(Action::Divide { both_at_once }, from);
            return Some(());
        }
        let term = self.eat_any(&[
            Term::ForNeck,
            Term::ForShoulder,
            Term::ForArmhole,
            Term::Saddle,
            Term::Raglan,
        ])?;
        while self
            .eat_any(&[
                Term::And,
                Term::ForShoulder,
                Term::Piece,
                Term::For,
                Term::ForArmhole,
            ])
            .is_some()
        {}
        match term {
            Term::Saddle => self.push(Action::Saddle, from),
            Term::Raglan => {
                let span = self.span_from(from);
                let message = format!(
                    "'{}' stands in the lines: this is no set-in sleeve",
                    self.slice(span)
                );
                self.diagnostics
                    .push(Diagnostic::new(&codes::RAGLAN, message).at(span));
            }
            term => self.at_neck = term == Term::ForNeck,
        }
        self.eat_any(&[Term::Colon, Term::Dash]);
        Some(())
    }

    /// `Cast on 90 sts.`: the work begins here, before the lines that count.
    pub(super) fn begin(&mut self) -> Option<()> {
        let from = self.at;
        self.need(Term::CastOn)?;
        self.steps.is_empty().then_some(())?;
        let count = self.amount()?;
        self.eat(Term::Stitch);
        let ends = [
            Term::Stop,
            Term::Semicolon,
            Term::Comma,
            Term::And,
            Term::Then,
        ];
        (self.term(0).is_none() || self.is(0, &ends)).then_some(())?;
        self.push(Action::Begin(count), from);
        Some(())
    }

    /// `working each side separately`, `both sides at once`, `work this side first`, `on these 28 sts only`.
    pub(super) fn apart(&mut self) -> Option<()> {
        let from = self.at;
        self.eat(Term::Work);
        if self.eat(Term::These) {
            let count = self.attempt(Self::amount);
            let side = self.eat(Term::Side);
            if !side {
                self.need(Term::Stitch)?;
            }
            let only = self.eat(Term::Only);
            let first = self
                .lexeme(0)
                .is_some_and(|l| l.term == Term::Ordinal && l.count() == Some(1));
            self.at += usize::from(first && side);
            let ends = [Term::Stop, Term::Semicolon, Term::Comma, Term::Colon];
            let ended = self.term(0).is_none() || self.is(0, &ends);
            (ended && (only || side && first || count.is_some())).then_some(())?;
            if only {
                let both_at_once = false;
                self.push(Action::Divide { both_at_once }, from);
            }
            if let Some(count) = count {
                self.push(Action::Count(count), from);
            }
            return Some(());
        }
        self.need(Term::Every)?;
        self.need(Term::Side)?;
        let term = self.eat_any(&[Term::Apart, Term::SameTime])?;
        let last = self.lexemes.get(self.at.wrapping_sub(1));
        let at_once = last.is_some_and(|l| self.slice(l.span).to_lowercase().ends_with("once"));
        let both_at_once = term == Term::SameTime || at_once;
        self.push(Action::Divide { both_at_once }, from);
        Some(())
    }

    /// `rejoin yarn to rem sts`: the other half.
    pub(super) fn rejoined(&mut self) -> Option<()> {
        let from = self.at;
        self.need(Term::Rejoin)?;
        let about = [
            Term::Until,
            Term::Remaining,
            Term::Stitch,
            Term::Side,
            Term::Alternate,
            Term::Ordinal,
        ];
        while self.eat_any(&about).is_some() {}
        self.push(Action::OtherSide { rejoined: true }, from);
        Some(())
    }

    /// `leave rem sts on a holder`, `slip 21 sts to a holder`, `place centre 24 sts on a holder`.
    pub(super) fn hold(&mut self) -> Option<()> {
        let from = self.at;
        let mut count = None;
        let mut centre = false;
        for n in 0..12 {
            if n > 0 && self.eat(Term::Hold) {
                self.eat(Term::ForNeck);
                if self.eat(Term::For) {
                    while self
                        .eat_any(&[Term::Alternate, Term::Side, Term::Ordinal, Term::Neck])
                        .is_some()
                    {}
                }
                match count.filter(|_| centre) {
                    Some(count) => self.push_centre(count, from),
                    None => self.push(Action::Hold(count), from),
                }
                return Some(());
            }
            if count.is_none()
                && let Some(found) = self.attempt(Self::amount)
            {
                count = Some(found);
                continue;
            }
            centre |= self.is(0, &[Term::Centre]);
            self.eat_any(&[
                Term::There,
                Term::Remaining,
                Term::Stitch,
                Term::Slip,
                Term::All,
                Term::These,
                Term::Until,
                Term::Last,
                Term::For,
                Term::Centre,
                Term::Colon,
            ])?;
        }
        None
    }

    /// The stitches in the middle leave the work.
    pub(super) fn push_centre(&mut self, count: Num, from: usize) {
        let body = RowBody {
            along: vec![Along::Centre(count)],
            ..RowBody::default()
        };
        self.push_row(Label::Next(Num::Fixed(1)), None, body, from);
    }

    /// `, turn` after a whole row says nothing new.
    pub(super) fn turned(&mut self) -> Option<()> {
        self.need(Term::Turn)?;
        let after_row = self
            .steps
            .last()
            .is_some_and(|s| !matches!(s.action, Action::Count(_) | Action::Hold(_)));
        let ends = [Term::Stop, Term::Semicolon, Term::Comma, Term::Close];
        (after_row && (self.term(0).is_none() || self.is(0, &ends))).then_some(())
    }
}
