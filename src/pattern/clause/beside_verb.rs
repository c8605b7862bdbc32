//! What stands around the verb of a decrease: rows before it, how often, where along the row.

use super::super::program::{Action, Doubt, Extent, Joined, Num, Pace, RowPlace, Verb};
use super::super::term::Term;
use super::select::{RowStretch, TimesTold};
use super::{OnGoing, Parser};

impl Parser<'_> {
    /// `every 2nd row dec 1 st each end`, `on rows 1, 3 and 5 dec 1 st each end`.
    pub(super) fn rows_before(&mut self) -> Option<(RowStretch, Option<(RowStretch, bool)>)> {
        let found = self.stretch(true)?;
        // `on next and every foll 4th row dec 1 st each end until 40 sts`.
        let second = self.attempt(|p| {
            let (second, _, place, _) = p.joined_stretch(found)?;
            let and = second.told.more || p.is(0, &[Term::Dec, Term::Inc]);
            (found.plain_next && second.extent.is_none() && place.is_none() && and)
                .then_some((second, true))
        });
        self.eat_any(&[Term::Comma, Term::Colon]);
        self.is(0, &[Term::Dec, Term::Inc])
            .then_some((found, second))
    }

    /// Two stretches before the verb; how often, or until what count, stands after it.
    pub(super) fn early_and_second(
        &mut self,
        going: OnGoing,
        first: RowStretch,
        (second, and): (RowStretch, bool),
        from: usize,
    ) -> Option<()> {
        let (extent, told) = self.spaced_extent()?;
        self.stretch_part(going, first, Joined::No, from);
        let joined = match (and, told) {
            (_, told) if told.in_all => Joined::Yes,
            (true, told) if told.times && !told.more => {
                let span = self.span_from(from);
                Joined::Open(self.choice(Doubt::NextAndEvery, span))
            }
            _ => Joined::No,
        };
        let extent = Some(extent);
        let second = RowStretch {
            extent,
            told,
            ..second
        };
        self.stretch_part(going, second, joined, from);
        self.more_stretches(going, second);
        Some(())
    }

    /// `dec again on next row`: as before.
    pub(super) fn again(&mut self, from: usize) -> Option<()> {
        let going = self.verb?;
        let verb = match self.eat_any(&[Term::Dec, Term::Inc])? {
            Term::Dec => Verb::Dec,
            _ => Verb::Inc,
        };
        let word = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        (going.verb == verb && word.as_deref() == Some("again")).then_some(())?;
        self.at += 1;
        let found = self.stretch(true)?;
        self.stretch_part(going, found, Joined::No, from);
        self.more_stretches(going, found);
        Some(())
    }

    /// `dec 4 times 1 st`, `dec 4 x 1 st`.
    pub(super) fn times_what(&mut self) -> Option<(Verb, Num, (Extent, TimesTold))> {
        let verb = match self.eat_any(&[Term::Dec, Term::Inc])? {
            Term::Dec => Verb::Dec,
            _ => Verb::Inc,
        };
        let often = self.attempt(Self::often);
        let count = if let Some(count) = often {
            count
        } else {
            let count = self.amount()?;
            self.eat_any(&[Term::Cross, Term::Times])?;
            count
        };
        let by = self.amount()?;
        self.need(Term::Stitch)?;
        (!self.is(0, &[Term::Cross, Term::Times, Term::Number, Term::Often])).then_some(())?;
        let told = TimesTold {
            times: true,
            ..TimesTold::default()
        };
        Some((verb, by, (Extent::Times(count), told)))
    }

    /// `working decs 2 sts in from edge`: how, not how many.
    pub(super) fn how_worked(&mut self) -> Option<()> {
        while self
            .eat_any(&[Term::Work, Term::All, Term::These, Term::Every])
            .is_some()
        {}
        let plural = self
            .lexeme(0)
            .is_some_and(|l| self.slice(l.span).to_lowercase().ends_with('s'));
        let worked = self
            .lexemes
            .get(self.at.wrapping_sub(1))
            .is_some_and(|l| l.term == Term::Work);
        self.eat_any(&[Term::Dec, Term::Inc, Term::Done]);
        self.attempt(Self::amount);
        self.eat(Term::Stitch);
        // `working decreases as before`.
        let ends =
            self.term(0).is_none() || self.is(0, &[Term::Stop, Term::Comma, Term::Semicolon]);
        (self.eat(Term::Inset) || plural && worked && ends).then_some(())
    }

    /// `knit 4 rows decreasing 1 st at each end`, `dec 1 st at beg and dec 1 st at end`: a step without a row may be of the
    /// rows that were told just before.
    pub(super) fn goes_with_rows_before(&self, going: OnGoing, from: usize) -> bool {
        let joints = [
            Term::Then,
            Term::Stop,
            Term::Semicolon,
            Term::Comma,
            Term::And,
        ];
        let before = from.checked_sub(1).and_then(|at| self.lexemes.get(at));
        let joined = before.is_none_or(|l| joints.contains(&l.term));
        // `work 4 rows, decreasing 1 st at each end`.
        let word = self
            .lexemes
            .get(from)
            .map(|l| self.slice(l.span).to_lowercase());
        let participle = word.is_some_and(|word| word.ends_with("ing"));
        let joined = joined && !participle;
        match self.steps.last().map(|step| &step.action) {
            Some(Action::Even(_)) => !joined && self.depth == 0,
            Some(Action::Row { body, .. }) => going.place == RowPlace::End && !body.is_plain(),
            Some(Action::Shape(part)) => {
                going.place == RowPlace::End && part.place == RowPlace::Beginning && self.depth == 0
            }
            _ => false,
        }
    }

    /// `2 sts (1 each end)`.
    pub(super) fn each_in_brackets(&mut self, by: Num) -> Option<Num> {
        self.need(Term::Open)?;
        let each = self.amount()?;
        self.eat(Term::Stitch);
        (self.place()? == RowPlace::EachEnd).then_some(())?;
        self.need(Term::Close)?;
        let (all, one) = (self.program_number(by)?, self.program_number(each)?);
        (one.checked_mul(2) == Some(all)).then_some(each)
    }

    /// `2 sts in from edge`, `inside 1 edge st`: where on the row, not how many.
    pub(super) fn inset(&mut self) -> Option<()> {
        self.eat(Term::Comma);
        if self.eat(Term::Inside) {
            self.amount()?;
            let edge = self.eat(Term::Edge);
            self.need(Term::Stitch)?;
            (edge || self.eat(Term::Edge)).then_some(())?;
        } else {
            self.amount()?;
            self.eat(Term::Stitch);
            self.need(Term::Inset)?;
        }
        let rows = [Term::Every, Term::Next, Term::Following];
        let comma = self.is(0, &[Term::Comma]) && self.is(1, &rows);
        self.at += usize::from(comma);
        Some(())
    }

    /// `5 times` in `dec 1 st 5 times at each end of every other row`.
    pub(super) fn often_before_rows(&mut self) -> Option<(Extent, TimesTold)> {
        let found = self.extent()?;
        let often = matches!(found.0, Extent::Times(_));
        let rows = [
            Term::Every,
            Term::From,
            Term::Beginning,
            Term::End,
            Term::Armhole,
            Term::Neck,
            Term::Alternate,
            Term::Rs,
            Term::Ws,
        ];
        (often && self.is(0, &rows)).then_some(found)
    }

    pub(super) fn often_over_rows(
        &mut self,
        going: OnGoing,
        (extent, told): (Extent, TimesTold),
        from: usize,
    ) -> Option<()> {
        let found = match self.attempt(|p| p.stretch(true).filter(|f| f.extent.is_none())) {
            Some(found) => found,
            // `every 2nd row cast off 1 x 3 sts and dec 6 x 1 st`: on these rows.
            None => self.pace_of_sentence(going.place)?,
        };
        let found = RowStretch {
            extent: Some(extent),
            told,
            ..found
        };
        self.stretch_part(going, found, Joined::No, from);
        self.more_stretches(going, found);
        Some(())
    }

    /// The pace of the step before in this sentence, at the same edge, where nothing more is told of this one.
    fn pace_of_sentence(&self, place: RowPlace) -> Option<RowStretch> {
        let steps = self.steps.get(self.sentence..)?;
        let Some(Action::Shape(part)) = steps.last().map(|step| &step.action) else {
            return None;
        };
        let spaced = !matches!(part.pace, Pace::EveryRow | Pace::At(_));
        let same = part.place == place && part.verb == Verb::BindOff && self.clause_ends();
        (spaced && same).then(|| RowStretch {
            pace: part.pace,
            ..RowStretch::every_row(part.extent)
        })
    }

    /// `decreasing 1 st each end of every row, work until 44 sts remain`, `..., work 8 rows`.
    pub(super) fn while_working(
        &mut self,
        going: OnGoing,
        found: RowStretch,
        from: usize,
    ) -> Option<()> {
        let word = self
            .lexemes
            .get(from)
            .map(|l| self.slice(l.span).to_lowercase());
        word.is_some_and(|w| w.ends_with("ing")).then_some(())?;
        self.need(Term::Comma)?;
        self.need(Term::Work)?;
        if let Some((extent @ Extent::Until(_), told)) = self.attempt(Self::extent) {
            let extent = Some(extent);
            self.stretch_part(
                going,
                RowStretch {
                    extent,
                    told,
                    ..found
                },
                Joined::No,
                from,
            );
            return Some(());
        }
        let rows = self.amount()?;
        self.need(Term::Row)?;
        self.clause_ends().then_some(())?;
        let before = self.steps.len();
        let extent = Some(Extent::Rest);
        self.stretch_part(going, RowStretch { extent, ..found }, Joined::No, from);
        let steps = self.steps.split_off(before);
        self.push(Action::Within { rows, steps }, from);
        Some(())
    }

    /// `3 x 1 st`: three times one stitch.
    pub(super) fn times_by(&mut self) -> Option<(Num, Extent)> {
        let times = self.amount()?;
        self.need(Term::Cross)?;
        let by = self.amount()?;
        self.need(Term::Stitch)?;
        Some((by, Extent::Times(times)))
    }
}
