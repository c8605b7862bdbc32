//! Lists of `2 x 1 st`: times by stitches, or stitches by times.

use super::super::program::{Action, Doubt, Extent, Joined, Num};
use super::super::term::Term;
use super::select::Stretch;
use super::{Going, Parser};

impl Parser<'_> {
    /// `2 x 1 st, 1 x 2 sts`: times by stitches where `st` stands after the second number,
    /// stitches by times where it stands after the first; open where it stands nowhere.
    pub(super) fn crossed(
        &mut self,
        going: Going,
        found: Stretch,
        first: Num,
        from: usize,
    ) -> Option<()> {
        let mut list = vec![self.crossed_one(first, from)?];
        while let Some(next) = self.attempt(|p| {
            while p.eat_any(&[Term::Comma, Term::And, Term::Then]).is_some() {}
            let from = p.at;
            let first = p.amount()?;
            p.eat(Term::Stitch);
            p.crossed_one(first, from)
        }) {
            list.push(next);
        }
        let after = self.attempt(Self::place);
        let rows = after.and_then(|_| self.attempt(|p| p.stretch(true)));
        let (going, found) = (
            Going {
                place: after.unwrap_or(going.place),
                ..going
            },
            rows.unwrap_or(found),
        );
        let told = list.iter().find_map(|c| c.stitches_first);
        for Crossed {
            first,
            second,
            stitches_first,
            from,
            to,
        } in list
        {
            let order = stitches_first.or(told);
            let (by, times) = if order == Some(false) {
                (second, first)
            } else {
                (first, second)
            };
            let extent = Some(Extent::Times(times));
            let end = std::mem::replace(&mut self.at, to);
            self.stretch_part(
                Going { by, ..going },
                Stretch { extent, ..found },
                Joined::No,
                from,
            );
            if order.is_none() {
                self.open_cross(from);
            }
            self.at = end;
        }
        self.verb = Some(going);
        Some(())
    }

    /// From the first number on: `x 1 st`.
    fn crossed_one(&mut self, first: Num, from: usize) -> Option<Crossed> {
        let before = self.lexemes.get(self.at.wrapping_sub(1));
        let after_first = before.is_some_and(|l| l.term == Term::Stitch);
        self.need(Term::Cross)?;
        let second = self.amount()?;
        let after_second = self.eat(Term::Stitch);
        let stitches_first = (after_first || after_second).then_some(after_first);
        Some(Crossed {
            first,
            second,
            stitches_first,
            from,
            to: self.at,
        })
    }

    /// Marks the stretch just pushed as open to both readings.
    fn open_cross(&mut self, from: usize) {
        let span = self.span_from(from);
        let choice = self.choice(Doubt::Cross, span);
        if let Some(step) = self.steps.last_mut()
            && let Action::Shape(part) = &mut step.action
        {
            part.other = choice;
        }
    }
}

/// One `2 x 1` of a list.
struct Crossed {
    first: Num,
    second: Num,
    /// Which number is that of stitches, where the text tells it.
    stitches_first: Option<bool>,
    from: usize,
    to: usize,
}
