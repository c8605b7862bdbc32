//! Lists of steps with their rows behind them, or how often before each: the manner of translated patterns.
//!
//! `once 4 sts, twice 2 sts`, `4 sts 1x, 2 sts 2x each side in every 2nd row`, `3 x 1 st in every 4th row and 5 x 1 st in
//! every 2nd row`. A list is taken as a whole or not at all.

use super::super::program::{Joined, Num, Pace, RowPlace, Verb};
use super::super::term::Term;
use super::crossed::Crossed;
use super::going::STEP_JOINTS as JOINTS;
use super::place::agreed;
use super::select::RowStretch;
use super::{OnGoing, Parser};

impl OnGoing {
    /// `each side every row 2 sts twice`: stitches are bound off where a row begins, so that no row does it at both edges.
    pub(super) fn binds_both_in_every(self, found: RowStretch) -> bool {
        let both = self.verb == Verb::BindOff && self.place == RowPlace::EachEnd;
        both && matches!(found.pace, Pace::EveryRow) && found.extent.is_none()
    }
}

impl Parser<'_> {
    /// Steps that tell how often before or behind each: edge and rows before them, or behind.
    pub(super) fn listed_steps(
        &mut self,
        place: RowPlace,
        stretch: Option<RowStretch>,
    ) -> Option<()> {
        let open = self.eat(Term::Open);
        let place = self.place_beside(place)?;
        let comma = self.is(0, &[Term::Comma]) && self.is(1, &[Term::Every]);
        self.at += usize::from(comma);
        self.times_told = true;
        let stretch = stretch.or_else(|| self.attempt(|p| p.stretch(true)));
        self.times_told = false;
        let place = self.place_beside(place)?;
        (!open || self.eat(Term::Close)).then_some(())?;
        while self.eat_any(&[Term::Comma, Term::Colon]).is_some() {}
        self.step_list(Verb::BindOff, place, stretch)
    }

    /// `every 2nd row 3 sts, 2 sts, 1 st`: each with its word, and none more than the one before, as a count that is stated
    /// would be.
    pub(super) fn falling_steps(&mut self, told: Option<RowStretch>, steps: &mut Vec<Num>) {
        let told = told.is_some_and(|t| t.extent.is_none());
        while told
            && let Some(next) = self.attempt(|p| {
                p.eat_any(&[Term::Comma, Term::And])?;
                p.eat_any(&[Term::And, Term::Then]);
                let next = p.amount()?;
                p.need(Term::Stitch)?;
                let falls = p.is_at_most(next, *steps.last()?);
                (falls && p.clause_ends()).then_some(next)
            })
        {
            steps.push(next);
        }
    }

    /// `at the beginning of the next 2 rows 4 sts each`: each of these rows.
    pub(super) fn each_of_them(&mut self, told: Option<RowStretch>) {
        let each = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        let counted = told.is_some_and(|t| t.extent.is_some());
        if counted && each.as_deref() == Some("each") {
            self.at += 1;
            self.at -= usize::from(!self.clause_ends());
        }
    }

    /// `then at the beginning of the next 24 rows 1 st each`: stitches of their own, behind their rows.
    pub(super) fn rows_then_each(&mut self) -> Option<()> {
        let from = self.at;
        let going = self.verb?;
        let place = self.attempt(Self::place).unwrap_or(going.place);
        let found = self.stretch(true)?;
        let by = self.amount()?;
        self.need(Term::Stitch)?;
        let here = self.at;
        self.each_of_them(Some(found));
        (self.at > here && !found.cannot_bind_off(place)).then_some(())?;
        let going = OnGoing { by, place, ..going };
        self.verb = Some(going);
        self.stretch_part(going, found, Joined::No, from);
        Some(())
    }

    /// No more than the other number in any size.
    fn is_at_most(&self, one: Num, other: Num) -> bool {
        let of = |num: Num, size: usize| match num {
            Num::Fixed(n) => Some(f64::from(n)),
            Num::Given(id) => self.amounts.get(id).and_then(|amount| amount.of(size)),
        };
        (0..self.labels.len().max(1)).all(|size| match (of(one, size), of(other, size)) {
            (Some(one), Some(other)) => one <= other,
            (None, _) => true,
            (Some(_), None) => false,
        })
    }

    /// `3, 2, 1`, `3-2-1`; of one size also `3/2/1`.
    pub(super) fn joint_of_steps(&mut self) -> Option<Term> {
        let one_size = self.labels.len() == 1;
        let slash = one_size && self.eat(Term::Slash);
        if slash {
            return Some(Term::Dash);
        }
        self.eat_any(&[Term::Comma, Term::And, Term::Then, Term::Dash])
    }

    /// `then in every 2nd row 3 sts once, 2 sts twice`, `then on every 2nd row 2-2-1-1 sts`: the verb and the edge are
    /// those of before.
    pub(super) fn rows_then_steps(&mut self) -> Option<()> {
        let from = self.at;
        let going = self.verb?;
        let mut place = self.attempt(Self::place).unwrap_or(going.other_rows());
        self.times_told = true;
        let found = self.stretch(false);
        self.times_told = false;
        let found = found.filter(|found| {
            found.extent.is_none() && !matches!(found.pace, Pace::EveryRow | Pace::At(_))
        })?;
        place = self.place_beside(place)?;
        while self.eat_any(&[Term::Comma, Term::Colon]).is_some() {}
        self.eat(Term::BindOff);
        if let Some(done) = self.attempt(|p| p.step_list(Verb::BindOff, place, Some(found))) {
            return Some(done);
        }
        let mut steps = self.steps()?;
        self.falling_steps(Some(found), &mut steps);
        self.bound_off(&steps, place, Some(found), from)
    }

    /// `dec at both edges 3 x 1 st in every 4th row and 5 x 1 st in every 2nd row`.
    pub(super) fn listed_changes(&mut self, place: RowPlace) -> Option<()> {
        let verb = match self.eat_any(&[Term::Dec, Term::Inc])? {
            Term::Dec => Verb::Dec,
            _ => Verb::Inc,
        };
        let told = self.place_beside(place)?;
        self.eat_any(&[Term::Comma, Term::Colon]);
        // Without an edge before them these are the stitches of the usual sentence, `dec 1 st 5 times`.
        let several = told != RowPlace::Unnamed || self.is(1, &[Term::Cross]);
        several.then_some(())?;
        self.step_list(verb, told, None)
    }

    /// `decrease at both sides 1 st in every 2nd row`: the stitches behind the edge.
    pub(super) fn stitches_behind_edge(&mut self, by: Num, known: bool) -> Option<Num> {
        (by == Num::Fixed(1) && !known).then_some(())?;
        let by = self.amount()?;
        self.need(Term::Stitch)?;
        let rows = [Term::Every, Term::Next, Term::Following, Term::Rs, Term::Ws];
        (self.program_number(by).is_some() && self.is(0, &rows)).then_some(by)
    }

    /// Steps whose rows are known from before or stand behind them, and more such groups.
    pub(super) fn step_list(
        &mut self,
        verb: Verb,
        place: RowPlace,
        before: Option<RowStretch>,
    ) -> Option<()> {
        let mut place = place;
        let mut groups: Vec<(Vec<Crossed>, RowStretch)> = Vec::new();
        while let Some((list, found, named)) = self.attempt(|p| {
            while !groups.is_empty() && p.eat_any(JOINTS).is_some() {}
            p.one_group(place, before, groups.is_empty())
        }) {
            place = named;
            groups.push((list, found));
        }
        let (first, _) = groups.first()?;
        let by = first.first()?.first;
        let going = OnGoing {
            verb,
            by,
            place: self.neck_meant(self.edge_going_on(place)),
        };
        let told = |(_, found): &(_, RowStretch)| !going.binds_both_in_every(*found);
        groups.iter().all(told).then_some(())?;
        // `dec 1 x 4 and 2 x 2 sts`: four times one stitch, or once four?
        let mut all = groups.iter().flat_map(|(list, _)| list);
        let clear = verb == Verb::BindOff || all.all(|one| one.stitches_first.is_some());
        clear.then_some(())?;
        for (list, found) in &groups {
            self.push_list(list, going, *found);
        }
        Some(())
    }

    /// `1 x 4 sts and 2 x 2 sts at each side in every 2nd row`; with rows that are known, times before the stitches.
    fn one_group(
        &mut self,
        place: RowPlace,
        before: Option<RowStretch>,
        first: bool,
    ) -> Option<(Vec<Crossed>, RowStretch, RowPlace)> {
        let mut list = vec![self.one_of_list()?];
        while let Some(next) = self.attempt(|p| {
            p.eat_any(JOINTS)?;
            while p.eat_any(JOINTS).is_some() {}
            p.one_of_list()
        }) {
            list.push(next);
        }
        let mut place = self.place_of_list(place)?;
        self.times_told = true;
        let rows = self.attempt(|p| {
            p.eat_any(&[Term::Comma, Term::All]);
            p.stretch(true).filter(|found| found.extent.is_none())
        });
        self.times_told = false;
        if rows.is_some() {
            place = self.place_of_list(place)?;
        }
        let times_first =
            |one: &Crossed| one.stitches_first == Some(false) && !self.is_crossed(one);
        let known =
            before.filter(|found| found.extent.is_none() && first && list.iter().all(times_first));
        let found = rows.or(known)?;
        (!matches!(found.pace, Pace::At(_))).then_some(())?;
        Some((list, found, place))
    }

    /// Another word for the edge, where one stands here.
    fn place_of_list(&mut self, place: RowPlace) -> Option<RowPlace> {
        let named = self.attempt(|p| {
            p.eat(Term::Comma);
            p.place()
        });
        match named {
            Some(RowPlace::Spread) => None,
            // `at each side at the beginning of every 2nd row`.
            Some(RowPlace::Beginning) if place == RowPlace::EachEnd => Some(place),
            Some(named) => agreed(place, named),
            None => Some(place),
        }
    }

    /// `3 x 1 st`: an `x` between the two numbers.
    fn is_crossed(&self, one: &Crossed) -> bool {
        let words = self.lexemes.get(one.from..one.to).unwrap_or_default();
        words.iter().any(|l| l.term == Term::Cross)
    }

    /// `once 4 sts`, `3 times 1 st`, `4 sts once`, `1 st (3 times)`, `3 x 1 st`.
    fn one_of_list(&mut self) -> Option<Crossed> {
        let from = self.at;
        if let Some((times, by)) = self.attempt(|p| {
            let times = if let Some(times) = p.attempt(Self::often) {
                times
            } else {
                let times = p.amount()?;
                p.need(Term::Times)?;
                times
            };
            let by = p.amount()?;
            p.eat(Term::Stitch);
            let other = [Term::Times, Term::Cross, Term::Often, Term::Row];
            let number = usize::from(p.is(0, &[Term::Number]));
            (!p.is(number, &other)).then_some((times, by))
        }) {
            return Some(self.listed_step(times, by, false, from));
        }
        let first = self.amount()?;
        let stitches = self.eat(Term::Stitch);
        if self.is(0, &[Term::Cross])
            && let Some(crossed) = self.attempt(|p| {
                p.is(1, &[Term::Number]).then_some(())?;
                let one = p.crossed_one(first, from)?;
                p.eat(Term::Times);
                Some(one)
            })
        {
            return Some(crossed);
        }
        stitches.then_some(())?;
        let times = self.how_often_of_list()?;
        Some(self.listed_step(first, times, true, from))
    }

    /// `once`, `3 times`, `3x`, `(3 times)`.
    fn how_often_of_list(&mut self) -> Option<Num> {
        let open = self.eat(Term::Open);
        let times = if let Some(times) = self.attempt(Self::often) {
            times
        } else {
            let times = self.amount()?;
            self.eat_any(&[Term::Times, Term::Cross])?;
            times
        };
        (!open || self.eat(Term::Close)).then_some(times)
    }

    fn listed_step(&self, first: Num, second: Num, stitches_first: bool, from: usize) -> Crossed {
        Crossed {
            first,
            second,
            stitches_first: Some(stitches_first),
            from,
            to: self.at,
        }
    }
}
