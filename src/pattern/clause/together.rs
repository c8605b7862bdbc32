//! `At the same time`: what goes on beside the clause before.

use super::super::limits::MAX_DEPTH;
use super::super::program::{Action, Extent, Num, Pace, Step, When};
use super::super::term::Term;
use super::Parser;

impl Parser<'_> {
    /// `at the same time`: the next clause starts with the one before, or when a condition holds.
    pub(super) fn same_time(&mut self) {
        let from = self.at;
        self.at += 1;
        self.eat(Term::Comma);
        let when = self.attempt(Self::condition);
        let before = self.steps.len();
        let clause = self.last_clause;
        if self.depth >= MAX_DEPTH {
            return;
        }
        self.depth += 1;
        for _ in 0..3 {
            if self.steps.len() > before || matches!(self.term(0), None | Some(Term::Stop)) {
                break;
            }
            self.item();
        }
        self.depth -= 1;
        if self.steps.len() == before {
            let span = self.span_from(from);
            self.not_understood(span, "does not say what is done then");
        }
        if before > 0 && self.steps.len() > before {
            let steps = self.steps.split_off(before);
            self.push(Action::Together { steps, when }, from);
            if when.is_none() {
                self.begins_with_clause(clause, before);
            }
        }
    }

    /// `next and foll 4th row, at the same time ...` goes with the first of its two parts.
    fn begins_with_clause(&mut self, clause: usize, together: usize) {
        let Some([first, more @ ..]) = self.steps.get(clause..together) else {
            return;
        };
        let shapes = |step: &Step| matches!(step.action, Action::Shape(_));
        if more.is_empty() || !shapes(first) || !more.iter().all(shapes) {
            return;
        }
        let next = matches!(&first.action, Action::Shape(part)
            if part.pace == Pace::EveryRow && part.extent == Extent::Times(Num::Fixed(1)));
        if next && more.len() == 1 {
            let step = self.steps.remove(together);
            self.steps.insert(clause + 1, step);
        }
    }

    /// `when 50 sts remain`, `when armhole measures 3 in`.
    pub(super) fn condition(&mut self) -> Option<When> {
        self.need(Term::When)?;
        let from = self.at;
        while self
            .eat_any(&[
                Term::There,
                Term::Piece,
                Term::Garment,
                Term::Armhole,
                Term::Measures,
            ])
            .is_some()
        {}
        let number = self.amount()?;
        if let Some(unit) = self.unit() {
            self.measured_from();
            self.eat(Term::Comma);
            return Some(When::Measures(number, unit));
        }
        let named = self.lexemes.get(from..self.at).unwrap_or_default();
        let edge = named.iter().any(|l| l.term == Term::Armhole);
        (!edge).then_some(())?;
        self.need(Term::Stitch)?;
        self.eat(Term::Remaining);
        self.eat(Term::Comma);
        Some(When::Count(number))
    }
}
