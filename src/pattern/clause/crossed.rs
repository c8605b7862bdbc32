//! Lists of `2 x 1 st`: times by stitches, or stitches by times.

use super::super::program::{Action, Doubt, Extent, Joined, Num, RowPlace, Verb};
use super::super::term::Term;
use super::select::RowStretch;
use super::{OnGoing, Parser};

impl Parser<'_> {
    /// `2 x 1 st, 1 x 2 sts`: times by stitches where `st` stands after the second number,
    /// stitches by times where it stands after the first; open where it stands nowhere.
    pub(super) fn crossed(
        &mut self,
        going: OnGoing,
        found: RowStretch,
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
            OnGoing {
                place: after.unwrap_or(going.place),
                ..going
            },
            rows.unwrap_or(found),
        );
        (!going.binds_both_in_every(found)).then_some(())?;
        // `cast off 1 x 3, 3 x 2 sts`: at which edge, on which rows?
        let bare = going.verb == Verb::BindOff && going.place == RowPlace::Beginning;
        (!(bare && found.extent.is_some())).then_some(())?;
        self.push_list(&list, going, found);
        Some(())
    }

    /// Each step of a list, so often, at one pace.
    pub(super) fn push_list(&mut self, list: &[Crossed], going: OnGoing, found: RowStretch) {
        let told = list.iter().find_map(|c| c.stitches_first);
        for one in list {
            let order = one.stitches_first.or(told);
            let (by, times) = if order == Some(false) {
                (one.second, one.first)
            } else {
                (one.first, one.second)
            };
            let extent = Some(Extent::Times(times));
            let end = std::mem::replace(&mut self.at, one.to);
            self.stretch_part(
                OnGoing { by, ..going },
                RowStretch { extent, ..found },
                Joined::No,
                one.from,
            );
            if order.is_none() {
                self.open_cross(one.from);
            }
            self.at = end;
        }
        self.verb = Some(going);
    }

    /// From the first number on: `x 1 st`.
    pub(super) fn crossed_one(&mut self, first: Num, from: usize) -> Option<Crossed> {
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

/// One step of a list, so often: `2 x 1`, `1 st twice`, `twice 1 st`.
#[derive(Clone, Copy)]
pub(super) struct Crossed {
    pub(super) first: Num,
    pub(super) second: Num,
    /// Which number is that of stitches, where the text tells it.
    pub(super) stitches_first: Option<bool>,
    pub(super) from: usize,
    pub(super) to: usize,
}
