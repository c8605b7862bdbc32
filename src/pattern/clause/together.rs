//! `At the same time`: what goes on beside the clause before.

use super::super::limits::MAX_DEPTH;
use super::super::program::{Action, Extent, Instruction, Num, Pace, RowPlace, When};
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

    /// `next and foll 4th row, at the same time ...` goes with the first of its parts; where more of them stand before it, and
    /// it is not of the other edge, it may as well be meant with the last.
    fn begins_with_clause(&mut self, clause: usize, together: usize) {
        let Some([first, more @ ..]) = self.steps.get(clause..together) else {
            return;
        };
        let shapes = |step: &Instruction| matches!(step.action, Action::Shape(_));
        if more.is_empty() || !shapes(first) || !more.iter().all(shapes) {
            return;
        }
        let next = matches!(&first.action, Action::Shape(part)
            if part.pace == Pace::EveryRow && part.extent == Extent::Times(Num::Fixed(1)));
        let span = first.span;
        if next && more.len() == 1 {
            let step = self.steps.remove(together);
            self.steps.insert(clause + 1, step);
            return;
        }
        let Some(beside) = self.steps.pop() else {
            return;
        };
        if !self.at_other_edge(clause, &beside) {
            self.not_understood(
                beside.span,
                "may begin with the first of the rows before it, or with the last of them",
            );
        }
        let sizes = self.mask;
        let steps = self.steps.split_off(clause);
        let extent = Extent::Times(Num::Fixed(1));
        let action = Action::Group { steps, extent };
        self.steps.push(Instruction {
            action,
            span,
            sizes,
        });
        self.steps.push(beside);
    }

    /// `at armhole edge of next 5 rows, then on foll 4 alt rows, at the same time at neck edge of ...`: one edge each.
    fn at_other_edge(&self, clause: usize, beside: &Instruction) -> bool {
        let edge = |step: &Instruction| match &step.action {
            Action::Shape(part) => Some(part.place),
            _ => None,
        };
        let Action::Together { steps, .. } = &beside.action else {
            return false;
        };
        let edges = [RowPlace::Armhole, RowPlace::Neck];
        let first = self.steps.get(clause).and_then(edge);
        let second = steps.first().and_then(edge);
        first.zip(second).is_some_and(|(one, other)| {
            one != other && edges.contains(&one) && edges.contains(&other)
        })
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
