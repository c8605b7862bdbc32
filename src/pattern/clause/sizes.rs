//! Which sizes a step is for: `sizes 3 and 4 only:`, `1st size: ...; 2nd size: ...`.

use super::super::term::Term;
use super::Parser;

impl Parser<'_> {
    pub(super) fn size_mask(&mut self) -> Option<()> {
        let start = self.at;
        self.eat(Term::For);
        let mask = match self.attempt(Self::all_sizes) {
            Some(()) => u64::MAX,
            None => match self.attempt(Self::sizes_by_number) {
                Some(mask) => mask,
                None => self.sizes_by_place()?,
            },
        };
        let only = self.eat(Term::Only);
        let colon = self.is(0, &[Term::Colon, Term::Comma, Term::Dash]);
        let ends =
            self.is(0, &[Term::Stop, Term::Semicolon, Term::Close]) || self.term(0).is_none();
        let first = self.steps.len() == self.sentence;
        if !first && !colon && ends {
            self.narrow_last(mask);
            return Some(());
        }
        (only || colon || mask == u64::MAX || self.at > start).then_some(())?;
        self.eat_any(&[Term::Colon, Term::Comma, Term::Dash]);
        self.mask = mask;
        Some(())
    }

    /// `work 2 more rows for size 3 only` limits the step before.
    fn narrow_last(&mut self, mask: u64) {
        if let Some(step) = self.steps.last_mut() {
            step.sizes &= mask;
        }
    }

    fn all_sizes(&mut self) -> Option<()> {
        self.eat_any(&[Term::All, Term::Every])?;
        self.need(Term::Size)
    }

    /// `sizes 3 and 4`, `size M`, `sizes S, M and L`.
    fn sizes_by_number(&mut self) -> Option<u64> {
        self.need(Term::Size)?;
        let mut mask = 0;
        loop {
            let lexeme = self.lexeme(0)?;
            mask |= self
                .size_named(self.slice(lexeme.span))
                .or_else(|| match lexeme.term {
                    Term::Number => self.size_at(lexeme.count()?),
                    _ => None,
                })?;
            self.at += 1;
            let joint = self.is(0, &[Term::Comma, Term::And, Term::Or]);
            if !joint {
                return Some(mask);
            }
            let here = self.at;
            while self.eat_any(&[Term::Comma, Term::And, Term::Or]).is_some() {}
            let named = self.lexeme(0).is_some_and(|l| {
                l.term == Term::Number && !self.is(1, &[Term::Stitch, Term::Row, Term::Times])
                    || self.size_named(self.slice(l.span)).is_some()
            });
            if !named {
                self.at = here;
                return Some(mask);
            }
        }
    }

    /// `1st size`, `2nd and 3rd sizes`, `last size`.
    fn sizes_by_place(&mut self) -> Option<u64> {
        let mut mask = 0;
        loop {
            let lexeme = self.lexeme(0)?;
            mask |= match lexeme.term {
                Term::Ordinal => self.size_at(lexeme.count()?)?,
                Term::Last => self.size_at(u32::try_from(self.labels.len()).ok()?)?,
                _ => return None,
            };
            self.at += 1;
            if self.eat(Term::Size) {
                return Some(mask);
            }
            self.eat_any(&[Term::Comma, Term::And, Term::Or])?;
            self.eat(Term::And);
        }
    }

    /// One bit for the size with this label.
    fn size_named(&self, word: &str) -> Option<u64> {
        let at = self
            .labels
            .iter()
            .position(|l| l.eq_ignore_ascii_case(word))?;
        1_u64.checked_shl(u32::try_from(at).ok()?)
    }

    /// One bit for the size at this place, counted from 1.
    fn size_at(&self, place: u32) -> Option<u64> {
        let at = place.checked_sub(1)?;
        (usize::try_from(at).ok()? < self.labels.len())
            .then(|| 1_u64.checked_shl(at))
            .flatten()
    }
}
