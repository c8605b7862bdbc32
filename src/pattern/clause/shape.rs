//! Decreases and increases: `dec 1 st each end of next and every alt row until 51 sts`.

use super::super::program::{Action, Instruction, Joined, Num, Pace, RowPlace, Verb};
use super::super::term::Term;
use super::place::agreed;
use super::{OnGoing, Parser};

impl Parser<'_> {
    pub(super) fn shape(&mut self) -> Option<()> {
        let from = self.at;
        self.up_to_verb()?;
        let mut place = self.attempt(Self::place).unwrap_or(RowPlace::Unnamed);
        let early = if place == RowPlace::Unnamed {
            self.attempt(Self::rows_before)
        } else {
            let early = self.attempt(|p| {
                p.eat(Term::Comma);
                p.stretch(true)
            });
            early.map(|found| (found, None))
        };
        // `work 9 rows, at each end of 1st, 5th and 9th rows, dec 1 st`.
        let open = early.is_some_and(|(found, _)| self.follows_plain_rows(found));
        (!open).then_some(())?;
        self.eat(Term::Comma);
        if early.is_none()
            && place == RowPlace::Unnamed
            && self.attempt(|p| p.again(from)).is_some()
        {
            return Some(());
        }
        if early.is_none() && self.attempt(|p| p.listed_changes(place)).is_some() {
            return Some(());
        }
        // `work next row, then on foll 3 alt rows decreasing 1 st each end`: on the first of these rows too?
        let spaced = early.is_some_and(|(found, _)| !matches!(found.pace, Pace::EveryRow));
        (!(spaced && self.goes_with_plain_rows())).then_some(())?;
        let counted = self.attempt(Self::times_what);
        let (verb, mut by, often) = if let Some((verb, by, often)) = counted {
            (verb, by, Some(often))
        } else {
            let (verb, by) = self.what()?;
            (verb, by, self.attempt(Self::often_before_rows))
        };
        place = self.place_beside(place)?;
        let known = early.is_some();
        by = self
            .attempt(|p| p.stitches_behind_edge(by, known))
            .unwrap_or(by);
        if place == RowPlace::Unnamed
            && let Some(each) = self.attempt(|p| p.each_in_brackets(by))
        {
            (by, place) = (each, RowPlace::EachEnd);
        }
        let going = OnGoing {
            verb,
            by,
            place: self.neck_meant(self.edge_going_on(place)),
        };
        self.verb = Some(going);
        let Some((early, second)) = early else {
            if let Some(often) = often {
                return self.often_over_rows(going, often, from);
            }
            self.stretches(going, from);
            return Some(());
        };
        if let Some((second, and)) = second {
            return self.early_and_second(going, early, (second, and), from);
        }
        let mut found = early;
        let after = often.or_else(|| self.attempt(Self::spaced_extent));
        if let Some((extent, told)) = after {
            // Two numbers of times, of which one would be lost.
            let open = found.extent.is_none() || found.plain_next;
            open.then_some(())?;
            found.extent = Some(extent);
            found.told = told;
        }
        // `work rows 1-4, dec 1 st each end of rows 1 and 3`: rows before the verb and other ones behind it.
        let joints = [Term::Comma, Term::And, Term::Then, Term::Semicolon];
        if !self.is(0, &joints) && self.attempt(|p| p.joined_stretch(found)).is_some() {
            return None;
        }
        self.stretch_part(going, found, Joined::No, from);
        self.more_stretches(going, found);
        Some(())
    }

    /// `decreasing` stands here, and plain rows before it in its sentence.
    fn goes_with_plain_rows(&self) -> bool {
        let verb = self.lexeme(0).map_or("", |l| self.slice(l.span));
        let plain = self
            .steps
            .get(self.sentence..)
            .and_then(<[Instruction]>::last);
        verb.to_lowercase().ends_with("ing")
            && plain.is_some_and(|step| matches!(step.action, Action::Even(_)))
    }

    /// Goes past `continue to`, `work`, `then` before the verb; `None` before the name of a row.
    fn up_to_verb(&mut self) -> Option<()> {
        // `continue to dec 1 st`.
        let to = self.is(0, &[Term::Work]) && self.is(1, &[Term::Until]);
        self.at += if to && self.is(2, &[Term::Dec, Term::Inc]) {
            2
        } else {
            0
        };
        while self.is(0, &[Term::Work, Term::Rep, Term::Then])
            && self.is(1, &[Term::Dec, Term::Inc])
        {
            if self.is(2, &[Term::Row]) || self.is(0, &[Term::Rep]) {
                return None;
            }
            self.at += 1;
        }
        Some(())
    }

    /// `at armhole edge cast off 4 sts, then dec 1 st`: the edge stands for the whole sentence.
    pub(super) fn edge_going_on(&self, place: RowPlace) -> RowPlace {
        let before = self.verb.map(|going| going.place);
        match before {
            Some(edge @ (RowPlace::Armhole | RowPlace::Neck | RowPlace::EachEnd))
                if place == RowPlace::Unnamed && self.steps.len() > self.sentence =>
            {
                edge
            }
            _ => place,
        }
    }

    /// Another word for the edge beside one that is known: they must agree.
    pub(super) fn place_beside(&mut self, place: RowPlace) -> Option<RowPlace> {
        match self.attempt(Self::place) {
            Some(other) => agreed(place, other),
            None => Some(place),
        }
    }

    /// Under the heading of the neck an edge that goes without saying is the neck's.
    pub(super) fn neck_meant(&self, place: RowPlace) -> RowPlace {
        match place {
            RowPlace::Unnamed | RowPlace::Beginning if self.at_neck => RowPlace::Neck,
            place => place,
        }
    }

    /// `dec 1 st`, `inc 2 sts`, `k 2 tog`, `cast on 3 sts`.
    pub(super) fn what(&mut self) -> Option<(Verb, Num)> {
        if let Some(by) = self.attempt(Self::worked_together) {
            return Some((Verb::Dec, by));
        }
        let verb = match self.term(0)? {
            Term::Dec => Verb::Dec,
            Term::Inc => Verb::Inc,
            Term::CastOn => Verb::CastOn,
            _ => return None,
        };
        self.at += 1;
        if self.is(0, &[Term::Row, Term::Spread]) {
            return None;
        }
        // `decrease by working 2 tog at each end`.
        if verb == Verb::Dec
            && let Some(by) = self.attempt(Self::worked_together)
        {
            return Some((verb, by));
        }
        // `narrow once each side`.
        if self.is(0, &[Term::Often]) && self.is(1, &[Term::Every, Term::Beginning, Term::End]) {
            let by = self.often()?;
            return Some((verb, by));
        }
        let by = self.attempt(|p| {
            let by = p.amount()?;
            (!p.is(0, &[Term::Row, Term::Times, Term::Following, Term::Cross])).then_some(by)
        });
        self.eat(Term::Stitch);
        let _ = self.attempt(Self::inset);
        Some((verb, by.unwrap_or(Num::Fixed(1))))
    }

    /// `k 2 tog`, `work 2 sts together`, `k2tog` before an edge.
    fn worked_together(&mut self) -> Option<Num> {
        if self.is(0, &[Term::DecOp]) && self.is(1, &[Term::Every, Term::Beginning, Term::End]) {
            let by = self.lexeme(0)?.count()?;
            self.at += 1;
            return Some(Num::Fixed(by));
        }
        self.eat_any(&[Term::Knit, Term::Purl, Term::Work])?;
        let count = self.plain_number()?.checked_sub(1)?;
        self.eat(Term::Stitch);
        self.need(Term::Together)?;
        self.is(
            0,
            &[
                Term::Every,
                Term::Beginning,
                Term::End,
                Term::Armhole,
                Term::Neck,
            ],
        )
        .then_some(Num::Fixed(count))
    }
}
