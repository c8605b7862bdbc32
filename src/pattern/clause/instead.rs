//! `work 1 row (3 rows for largest size)`: another number for some sizes, in place of the one before the bracket.

use super::super::program::{Action, Amount, Num, SizeEntry};
use super::super::term::Term;
use super::Parser;

/// What a bracket says of some sizes.
struct Other {
    mask: u64,
    number: SizeEntry,
    /// A verb stands in the bracket: `(for L work 3 rows)`.
    worked: bool,
}

impl Parser<'_> {
    /// A bracket behind plain rows with a number of rows for some sizes: these rows, and none besides.
    pub(super) fn instead(&mut self) -> Option<()> {
        let from = self.at;
        let (at, rows) = self.plain_rows_before()?;
        self.need(Term::Open)?;
        let mut all = vec![self.for_a_size()?];
        while !self.eat(Term::Close) {
            self.eat_any(&[Term::Comma, Term::Semicolon, Term::And])?;
            all.push(self.for_a_size()?);
        }
        let mut told = 0;
        let apart = all.iter().all(|other| {
            let apart = told & other.mask == 0;
            told |= other.mask;
            apart
        });
        if !apart || all.iter().any(|other| other.worked) {
            let span = self.span_from(from);
            self.not_understood(
                span,
                "may be in place of the rows before it, or besides them",
            );
            return Some(());
        }
        let span = self.span_from(from);
        let entries = self.entries_with(rows, &all)?;
        self.amounts.push(Amount { entries, span });
        let given = Num::Given(self.amounts.len() - 1);
        if let Some(step) = self.steps.get_mut(at) {
            step.action = Action::Even(given);
        }
        Some(())
    }

    /// The place and the number of the plain rows that end before this bracket.
    fn plain_rows_before(&self) -> Option<(usize, Num)> {
        let before = self.lexemes.get(self.at.checked_sub(1)?)?;
        let last = self.steps.last()?;
        (last.span.to == before.span.to).then_some(())?;
        let side = usize::from(matches!(last.action, Action::Ended(_)));
        let at = self.steps.len().checked_sub(1 + side)?;
        match self.steps.get(at)?.action {
            Action::Even(rows) => Some((at, rows)),
            _ => None,
        }
    }

    /// `3 rows for L`, `L: 3 rows`, `for 3rd size work 3 rows`; nothing where `more` tells that they are besides.
    fn for_a_size(&mut self) -> Option<Other> {
        self.attempt(|p| {
            let worked = p.eat(Term::Work);
            let number = p.rows_of_a_size()?;
            p.eat(Term::For);
            let mask = p.some_sizes()?;
            Some(Other {
                mask,
                number,
                worked,
            })
        })
        .or_else(|| {
            self.attempt(|p| {
                p.eat(Term::For);
                let mask = p.some_sizes()?;
                p.eat_any(&[Term::Colon, Term::Comma, Term::Equals]);
                let worked = p.eat(Term::Work);
                let number = p.rows_of_a_size()?;
                Some(Other {
                    mask,
                    number,
                    worked,
                })
            })
        })
    }

    fn rows_of_a_size(&mut self) -> Option<SizeEntry> {
        let number = self.lexeme(0).filter(|l| l.count().is_some())?;
        self.need(Term::Number)?;
        self.need(Term::Row)?;
        self.eat(Term::Even);
        Some(SizeEntry {
            value: Some(number.value),
            span: number.span,
            often: false,
        })
    }

    /// One number for each size: those of the bracket, and the one before it for all others.
    fn entries_with(&self, rows: Num, others: &[Other]) -> Option<Vec<SizeEntry>> {
        let old = |size: usize| match rows {
            Num::Fixed(n) => Some(SizeEntry {
                value: Some(f64::from(n)),
                span: self.steps.last()?.span,
                often: false,
            }),
            Num::Given(id) => {
                let entries = &self.amounts.get(id)?.entries;
                entries.get(size).or(entries.last()).copied()
            }
        };
        let of = |size: usize| {
            let bit = u32::try_from(size)
                .ok()
                .and_then(|n| 1_u64.checked_shl(n))?;
            let other = others.iter().find(|other| other.mask & bit != 0);
            other.map(|other| other.number).or_else(|| old(size))
        };
        (0..self.labels.len()).map(of).collect()
    }
}
