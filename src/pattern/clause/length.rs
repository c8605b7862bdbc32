//! Lengths: their unit, the same length in another unit beside it, and from where they are measured.

use crate::diagnostic::Span;
use crate::measure::Length;

use super::super::program::{Amount, SizeEntry};
use super::super::term::{Lexeme, Term};
use super::Parser;

impl Parser<'_> {
    /// `from first bind-off`, `from beg of cap`: the default, said in full. True when it names the
    /// cap or its first row.
    pub(super) fn measured_from(&mut self) -> bool {
        let mut cap = false;
        if self.eat_any(&[Term::From]).is_none() {
            return cap;
        }
        let places = [
            Term::Ordinal,
            Term::BindOff,
            Term::CastOn,
            Term::Beginning,
            Term::Piece,
            Term::Garment,
            Term::Armhole,
            Term::Edge,
            Term::Row,
            Term::These,
        ];
        let first = |l: Lexeme| l.term != Term::Ordinal || l.count() == Some(1);
        while self.lexeme(0).is_some_and(first)
            && let Some(place) = self.eat_any(&places)
        {
            cap |= matches!(place, Term::BindOff | Term::Piece | Term::Armhole);
        }
        cap
    }

    /// A unit of length after a number.
    pub(super) fn unit(&mut self) -> Option<Length> {
        let unit = match self.term(0)? {
            Term::Inch => Length::inches(1.0),
            Term::Cm => Length::cm(1.0),
            Term::Mm => Length::cm(0.1),
            _ => return None,
        };
        let number = self.amounts.last().filter(|_| self.at > 0).cloned();
        let stands = self.lexemes.get(self.at.wrapping_sub(1));
        let number = number.filter(|n| stands.is_some_and(|l| l.span.to == n.span.to));
        self.at += 1;
        let from = self.at - 1;
        let Some(other) = self.attempt(Self::other_unit) else {
            return Some(unit);
        };
        // `every inch (2.5 cm)` is one.
        let number = number.unwrap_or_else(|| one_of_it(self.span_from(from)));
        if let Some(again) = self.amounts.last()
            && !same_lengths((&number, unit), (again, other))
        {
            let span = number.span.join(self.span_from(from));
            self.not_understood(span, "are two lengths that differ");
        }
        Some(unit)
    }

    /// `(20.5 cm)` or `/20 cm` beside `8 in`: the same length again.
    fn other_unit(&mut self) -> Option<Length> {
        let open = self.eat(Term::Open);
        if !open {
            self.need(Term::Slash)?;
        }
        self.amount()?;
        let unit = match self.eat_any(&[Term::Inch, Term::Cm, Term::Mm])? {
            Term::Inch => Length::inches(1.0),
            Term::Cm => Length::cm(1.0),
            _ => Length::cm(0.1),
        };
        if open {
            self.need(Term::Close)?;
        }
        Some(unit)
    }
}

/// One length in two units, as print rounds it: to half a centimetre or a few in the hundred.
fn same_lengths((one, unit): (&Amount, Length), (other, other_unit): (&Amount, Length)) -> bool {
    let sizes = one.entries.len().max(other.entries.len());
    (0..sizes).all(|size| {
        let lengths = one.of(size).zip(other.of(size));
        lengths.is_none_or(|(one, other)| {
            let (one, other) = ((unit * one).to_cm(), (other_unit * other).to_cm());
            (one - other).abs() <= f64::max(0.65, 0.06 * one)
        })
    })
}

/// The number that goes without saying in `every inch`.
fn one_of_it(span: Span) -> Amount {
    let value = Some(1.0);
    let often = false;
    Amount {
        entries: vec![SizeEntry { value, span, often }],
        span,
    }
}
