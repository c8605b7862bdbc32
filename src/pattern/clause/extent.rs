//! How far and how often: `5 more times`, `until 51 sts remain`, `for 8 rows`.

use super::super::program::{Extent, Num, RowPlace};
use super::super::term::Term;
use super::Parser;
use super::select::{RowStretch, TimesTold};

impl Parser<'_> {
    /// A number of times after a stretch that has one already: `next 2 rows twice`.
    pub(super) fn repeats(&mut self, found: &mut RowStretch) {
        // `next row until 50 sts` is not `next row`: only a number of times belongs here.
        let times = self.attempt(|p| match p.extent()? {
            (Extent::Times(times), told) => Some((times, told)),
            _ => None,
        });
        if let Some((times, told)) = times {
            found.repeats = times;
            found.told.more = told.more;
        }
    }

    pub(super) fn extent_of(&mut self, found: &mut RowStretch) {
        if self.times_told {
            return;
        }
        // `on every foll 4th row from previous dec`: on the neck's edge, whose rows are beside those of the armhole.
        if self.verb.is_some_and(|going| going.place == RowPlace::Neck) {
            self.attempt(Self::since_previous);
        }
        if let Some((extent, told)) = self.attempt(Self::spaced_extent) {
            found.extent = Some(extent);
            found.told = told;
        }
    }

    fn since_previous(&mut self) -> Option<()> {
        self.need(Term::From)?;
        self.need(Term::Last)?;
        self.need(Term::Dec)
    }

    pub(super) fn spaced_extent(&mut self) -> Option<(Extent, TimesTold)> {
        self.eat_any(&[Term::Comma, Term::Colon]);
        self.extent()
    }

    /// `n times`, `n more times`, `another n times`, `twice more`, `until 51 sts remain`,
    /// `for 8 rows`, `until cap measures 5 in`.
    pub(super) fn extent(&mut self) -> Option<(Extent, TimesTold)> {
        if self.is(0, &[Term::Until]) {
            return self.until().map(|extent| (extent, TimesTold::default()));
        }
        let mut told = TimesTold {
            times: true,
            ..TimesTold::default()
        };
        // `over the next 8 rows`.
        let word = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        let across = word.as_deref() == Some("over") && self.is(1, &[Term::Next, Term::Number]);
        self.at += usize::from(across);
        let over = across || self.eat(Term::For);
        // `every row for the next 5 rows`.
        let next = over && self.eat(Term::Next);
        if self.is(0, &[Term::Cross]) {
            self.at += 1;
            let count = self.amount()?;
            self.eat(Term::Times);
            return Some((Extent::Times(count), told));
        }
        told.more |= self.eat(Term::More);
        told.in_all |= self.eat_any(&[Term::There, Term::InAll]).is_some();
        let count = match self.often() {
            Some(count) => count,
            None => self.amount()?,
        };
        if over && self.eat(Term::Row) {
            return Some((Extent::Rows(count), told));
        }
        (!next && !across).then_some(())?;
        let often = self
            .lexemes
            .get(self.at.wrapping_sub(1))
            .is_some_and(|l| l.term == Term::Often);
        told.more |= self.eat(Term::More);
        let crossed = self.is(0, &[Term::Cross]) && !self.is(1, &[Term::Number]);
        self.at += usize::from(crossed);
        if !self.eat(Term::Times) && !crossed && !often && !self.listed_often(count) {
            return None;
        }
        told.more |= self.eat(Term::More);
        told.in_all |= self.eat(Term::InAll);
        // `a total of 3 times more`.
        told.in_all &= !told.more;
        Some((Extent::Times(count), told))
    }

    /// True for `once (twice, twice)`.
    pub(super) fn listed_often(&self, count: Num) -> bool {
        let Num::Given(id) = count else { return false };
        self.amounts
            .get(id)
            .is_some_and(|a| a.entries.iter().any(|e| e.often))
    }

    /// `until 51 sts remain`, `to 51 sts`, `until there are 51 sts`, `until armhole measures 8 in`.
    fn until(&mut self) -> Option<Extent> {
        self.need(Term::Until)?;
        if let Some(extent) = self.attempt(Self::until_measures) {
            return Some(extent);
        }
        while self
            .eat_any(&[
                Term::There,
                Term::Remaining,
                Term::Only,
                Term::Done,
                Term::Until,
                Term::InAll,
            ])
            .is_some()
        {}
        self.eat(Term::Stitch);
        self.eat(Term::Measures);
        let count = self.amount()?;
        if self.is(0, &[Term::Row, Term::Times, Term::Inch, Term::Cm]) {
            return None;
        }
        while self
            .eat_any(&[Term::Stitch, Term::Remaining, Term::InAll])
            .is_some()
        {}
        Some(Extent::Until(count))
    }

    fn until_measures(&mut self) -> Option<Extent> {
        let mut whole = false;
        let names = [Term::Piece, Term::Garment, Term::Armhole, Term::Work];
        while let Some(name) = self.eat_any(&names) {
            whole |= matches!(name, Term::Garment | Term::Work);
        }
        self.eat(Term::Measures);
        let number = self.amount()?;
        let unit = self.unit()?;
        let below = self.is_from_below();
        let from_cap = self.measured_from();
        // What lies below these lines is not known, so that no row of them is.
        (!below && (from_cap || !whole)).then_some(())?;
        Some(Extent::Measure(number, unit))
    }
}
