//! Bind-offs: `bind off 5 sts at beg of next 2 rows`, stepped lists, per-side lists, the last one.

use super::super::program::{Action, Extent, Joined, Num, Pace, RowPlace, Verb};
use super::super::term::{Lexeme, Term};
use super::going::JOINTS;
use super::place::agreed;
use super::select::RowStretch;
use super::{OnGoing, Parser};

impl Parser<'_> {
    pub(super) fn bind_off(&mut self) -> Option<()> {
        let from = self.at;
        // `continue to bind off 2 sts`.
        let goes_on = self.is(0, &[Term::Work]) && self.is(1, &[Term::Until]);
        self.at += if goes_on && self.is(2, &[Term::BindOff]) {
            2
        } else {
            0
        };
        self.eat(Term::Work);
        let before = self.attempt(|p| {
            let every = p.is(0, &[Term::Every, Term::Row]) && !p.is(1, &[Term::Next]);
            let early = p.attempt(|p| every.then(|| p.stretch(true)).flatten());
            let place = p.attempt(Self::place);
            let place = match early {
                Some(_) => place.unwrap_or(RowPlace::Unnamed),
                None => place?,
            };
            let stretch = early.or_else(|| {
                p.attempt(|p| {
                    p.eat(Term::Comma);
                    p.stretch(true)
                })
            });
            while p.eat_any(&[Term::Comma, Term::Colon]).is_some() {}
            p.is(0, &[Term::BindOff]).then_some((place, stretch))
        });
        self.need(Term::BindOff)?;
        if before.is_none() && self.attempt(|p| p.centre(from)).is_some() {
            return Some(());
        }
        if before.is_none() && self.attempt(|p| p.close(from)).is_some() {
            return Some(());
        }
        let (mut place, stretch) = before.unwrap_or((RowPlace::Unnamed, None));
        if let Some(done) = self.attempt(|p| p.listed_steps(place, stretch)) {
            return Some(done);
        }
        // `bind off the first 4 sts of next 2 rows`.
        let first = self.lexeme(0).filter(|l| l.term == Term::Ordinal);
        if first.and_then(Lexeme::count) == Some(1) && self.is(1, &[Term::Number]) {
            self.at += 1;
            place = agreed(place, RowPlace::Beginning)?;
        }
        if let Some(mut steps) = self.attempt(Self::steps) {
            self.falling_steps(stretch, &mut steps);
            self.each_of_them(stretch);
            return self.bound_off(&steps, place, stretch, from);
        }
        // The rows before the stitches: `cast off at each edge every alt row: 3 sts once`.
        let place = self.place_beside(place)?;
        self.eat(Term::Comma);
        let stretch = stretch.or_else(|| self.attempt(|p| p.stretch(true)));
        // `on alternate rows, each side, 4 sts`.
        let comma = self.is(0, &[Term::Comma]) && self.is(1, &[Term::Every]);
        self.at += usize::from(comma && self.is(2, &[Term::Side, Term::End, Term::Edge]));
        let place = self.place_beside(place)?;
        while self.eat_any(&[Term::Comma, Term::Colon]).is_some() {}
        let mut steps = self.steps()?;
        self.falling_steps(stretch, &mut steps);
        self.each_of_them(stretch);
        self.bound_off(&steps, place, stretch, from)
    }

    /// `bind off centre 24 sts`, `bind off 24 sts for neck`.
    fn centre(&mut self, from: usize) -> Option<()> {
        let centre = self.eat(Term::Centre);
        let count = self.amount()?;
        self.eat(Term::Stitch);
        let neck = self.eat(Term::ForNeck);
        let ends = [
            Term::Stop,
            Term::Semicolon,
            Term::Comma,
            Term::And,
            Term::Then,
        ];
        let ended = self.term(0).is_none() || self.is(0, &ends);
        (centre && !self.is(0, &[Term::Until]) || neck && ended).then_some(())?;
        self.push_centre(count, from);
        let _ = self.attempt(Self::rest_of_row);
        Some(())
    }

    /// The last bind-off: `bind off rem 21 sts`, `cast off`, `leave rem sts on a holder`.
    fn close(&mut self, from: usize) -> Option<()> {
        let mut rest = false;
        let mut last = false;
        while let Some(term) = self.eat_any(&[
            Term::All,
            Term::Remaining,
            Term::These,
            Term::Last,
            Term::Even,
            Term::Spread,
        ]) {
            rest |= !matches!(term, Term::These | Term::Even | Term::Spread);
            last |= term == Term::Last;
        }
        // `bind off straight across the last 3 in`: all that is left.
        if last
            && self
                .attempt(|p| p.amount().and_then(|_| p.unit()))
                .is_some()
        {
            self.push(Action::Close(None), from);
            return Some(());
        }
        let these = self
            .lexemes
            .get(self.at.wrapping_sub(1))
            .is_some_and(|l| l.term == Term::These);
        let count = self.amount();
        if count.is_some() {
            self.eat(Term::Stitch);
            // `cast off these 20 sts`.
            rest |= these;
            rest |= self.eat(Term::Remaining);
        }
        self.eat(Term::Remaining);
        self.eat(Term::Stitch);
        // At the very end, without an edge or a row: `bind off 52 sts`, `..., bind off 52 sts`.
        let ahead = self.lexemes.get(self.at..).unwrap_or_default();
        let end = ahead.iter().all(|l| l.term == Term::Stop);
        let begins = from == self.sentence_at || self.stands_before(from, JOINTS);
        let alone = begins && !self.steps.is_empty() && self.depth == 0;
        rest |= count.is_some() && end && alone && !self.for_some_sizes();
        // `on next RS row`.
        let next = self.attempt(|p| {
            p.need(Term::Next)?;
            let side = p.attempt(Self::side);
            p.need(Term::Row)?;
            Some(side)
        });
        let ends = match self.term(0) {
            None
            | Some(Term::Stop | Term::Semicolon | Term::Open | Term::Close | Term::ForNeck) => true,
            Some(Term::Dash) => !self.is(1, &[Term::Number]),
            _ => false,
        };
        let bare = count.is_none() && ends;
        if !rest && !bare || next.is_some() && !ends {
            return None;
        }
        if let Some(Some(side)) = next {
            self.push(Action::Reach(side), from);
        }
        self.eat(Term::Even);
        self.eat(Term::ForNeck);
        self.push(Action::Close(count), from);
        Some(())
    }

    /// The stitches: one number, or a stepped list `3, 2, 2, 1, 1`.
    pub(super) fn steps(&mut self) -> Option<Vec<Num>> {
        // `another 4 sts`, `4 more sts`: others than those before, as any are.
        self.eat(Term::More);
        let mut list = vec![self.amount()?];
        let more = self.is(0, &[Term::More]) && self.is(1, &[Term::Stitch]);
        self.at += usize::from(more);
        self.eat(Term::Stitch);
        while let Some(next) = self.attempt(|p| {
            let joint = p.joint_of_steps()?;
            p.eat(Term::And);
            p.eat(Term::Then);
            let next = p.amount()?;
            let stitches = p.eat(Term::Stitch);
            let ends = p.clause_ends() || p.is(0, &[Term::Number]);
            let last = joint == Term::Dash && stitches && ends;
            let follows = if last {
                true
            } else if stitches {
                p.is(
                    0,
                    &[
                        Term::Comma,
                        Term::And,
                        Term::Every,
                        Term::Beginning,
                        Term::Armhole,
                        Term::Neck,
                    ],
                )
            } else {
                p.is(
                    0,
                    &[
                        Term::Comma,
                        Term::And,
                        Term::Dash,
                        Term::Slash,
                        Term::Every,
                        Term::Beginning,
                    ],
                )
            };
            follows.then_some(next)
        }) {
            list.push(next);
        }
        Some(list)
    }

    /// `3 times`, `until 20 sts remain` behind what is bound off.
    fn how_often(&mut self, told: Option<RowStretch>, place: RowPlace, found: &mut RowStretch) {
        let counted = told.is_some_and(|t| t.extent.is_some() && !t.plain_next);
        let extent = self.attempt(|p| {
            let found = p.extent()?;
            // `next 2 rows until 30 sts` has two ends.
            (!counted || matches!(found.0, Extent::Times(_))).then_some(found)
        });
        if let Some((extent, times)) = extent {
            found.told.more |= times.more;
            if told.is_some_and(|t| t.extent.is_some()) && matches!(extent, Extent::Times(_)) {
                if let Extent::Times(times) = extent {
                    found.repeats = times;
                }
            } else {
                found.extent = Some(extent);
                if told.is_none() && place == RowPlace::EachEnd {
                    // `2 sts each side 3 times`: three pairs of rows.
                    found.pace = Pace::Rows(Num::Fixed(2));
                }
            }
        }
    }

    pub(super) fn bound_off(
        &mut self,
        steps: &[Num],
        place: RowPlace,
        stretch: Option<RowStretch>,
        from: usize,
    ) -> Option<()> {
        let place = self.place_beside(place)?;
        // `at the armhole edge at beg of next row`.
        let edge =
            matches!(place, RowPlace::Armhole | RowPlace::Neck) && self.is(0, &[Term::Beginning]);
        let place = if edge {
            self.place_beside(place)?
        } else {
            place
        };
        let place = self.edge_going_on(place);
        let place = if self.eat(Term::ForNeck) {
            RowPlace::Neck
        } else {
            place
        };
        let told = stretch.or_else(|| self.attempt(|p| p.rows_of_bind_off(place)));
        let told = told.or_else(|| self.attempt(Self::rows_behind_comma));
        // `until 26 sts rem. cast off 3 at beg of next 2 rows`: the rows before the verb are of something else.
        let before = stretch.is_some_and(|s| s.extent.is_some() && !s.plain_next);
        if before && self.attempt(|p| p.stretch(true)).is_some() {
            return None;
        }
        let listed = self.is(
            0,
            &[
                Term::Cross,
                Term::Often,
                Term::Number,
                Term::For,
                Term::Until,
            ],
        );
        let bare = told.is_none() && place == RowPlace::Unnamed && self.is(0, &[Term::Number]);
        if bare || told.is_none() && !listed && !self.clause_ends() {
            return None;
        }
        let place = self.place_behind_rows(place)?;
        let verb = Verb::BindOff;
        let place = if self.eat(Term::ForNeck) {
            RowPlace::Neck
        } else {
            place
        };
        let place = self.neck_meant(place);
        if told.is_none() && place == RowPlace::Unnamed && self.for_some_sizes() && !listed {
            // `for size S cast off 5 sts; for size M 6 sts at beg of next 2 rows`: the rows may be meant for both.
            self.names_no_row(from);
        }
        self.rowless = (told.is_none() && !listed).then_some(self.steps.len() + 1);
        let (place, mut found) = settled(place, told);
        if told.is_some_and(|told| told.cannot_bind_off(place)) {
            return None;
        }
        if steps.len() > 1 {
            // `4, 5, 6 sts` of three sizes: steps, or one number for each size?
            (self.labels.len() == 1 || steps.len() != self.labels.len()).then_some(())?;
            self.stepped(steps, place, found, from)?;
            self.rowless = self.rowless.map(|_| self.steps.len());
            return Some(());
        }
        let by = *steps.first()?;
        let going = OnGoing { verb, by, place };
        self.verb = Some(going);
        (place != RowPlace::Spread).then_some(())?;
        if self.is(0, &[Term::Cross]) {
            // A number of rows or times before `2 x 1` would be one too many.
            (!told.is_some_and(|t| t.extent.is_some() && !t.plain_next)).then_some(())?;
            return self.crossed(going, found, by, from);
        }
        self.how_often(told, place, &mut found);
        let before = self.steps.len();
        self.stretch_part(going, found, Joined::No, from);
        let _ = self.attempt(Self::rest_of_row);
        let every = told.is_some_and(|t| t.extent.is_none() || t.told.times);
        let both = told.is_some_and(|told| going.binds_both_in_every(told));
        (!(both && matches!(found.extent, Some(Extent::Times(_))))).then_some(())?;
        self.per_side_list(going, found, every);
        if self.rowless.is_none() {
            self.more_stretches(going, found);
        }
        if let Some(edge) = self.attempt(Self::place_in_brackets) {
            self.at_edge(before, edge);
        }
        Some(())
    }

    /// `each side every 2nd row`, `at each side at the beginning of every 2nd row`.
    fn rows_of_bind_off(&mut self, place: RowPlace) -> Option<RowStretch> {
        let both = place == RowPlace::EachEnd && self.eat(Term::Beginning);
        let found = self.stretch(true)?;
        (!both || !matches!(found.pace, Pace::EveryRow)).then_some(found)
    }

    /// Another word for the edge behind the rows; `None` when it is another edge.
    fn place_behind_rows(&mut self, place: RowPlace) -> Option<RowPlace> {
        let beside = self.attempt(|p| p.place().or_else(|| p.place_in_brackets()));
        match beside {
            Some(RowPlace::Spread) => None,
            Some(after)
                if place == RowPlace::Spread
                    || agreed(place, after).is_none() && after != RowPlace::EachEnd =>
            {
                None
            }
            Some(after)
                if matches!(place, RowPlace::Unnamed | RowPlace::Beginning)
                    || after == RowPlace::EachEnd =>
            {
                Some(after)
            }
            _ => Some(place),
        }
    }

    /// Nothing that could belong to the step stands here.
    pub(super) fn clause_ends(&self) -> bool {
        let ends = [
            Term::Stop,
            Term::Comma,
            Term::Semicolon,
            Term::Colon,
            Term::Close,
            Term::Open,
            Term::Dash,
            Term::And,
            Term::Then,
            Term::SameTime,
            Term::Turn,
            Term::ForNeck,
            Term::Every,
            Term::Star,
            Term::Ending,
            Term::There,
            Term::Rep,
            Term::With,
            Term::Equals,
        ];
        self.lexeme(0)
            .is_none_or(|l| l.starts_line || ends.contains(&l.term))
    }

    /// `(armhole edge)` beside the rows.
    fn place_in_brackets(&mut self) -> Option<RowPlace> {
        self.need(Term::Open)?;
        let place = self.place()?;
        self.need(Term::Close)?;
        matches!(place, RowPlace::Armhole | RowPlace::Neck).then_some(place)
    }

    /// The steps from this one on lie at an edge that is named after them.
    fn at_edge(&mut self, from: usize, edge: RowPlace) {
        for step in self.steps.iter_mut().skip(from) {
            if let Action::Shape(part) = &mut step.action
                && part.place == RowPlace::Beginning
            {
                part.place = edge;
            }
        }
    }

    /// `, work to end` after a bind-off.
    fn rest_of_row(&mut self) -> Option<()> {
        while self
            .eat_any(&[Term::Comma, Term::And, Term::Then])
            .is_some()
        {}
        let verb = self
            .eat_any(&[Term::Knit, Term::Purl, Term::Work])
            .is_some();
        if !(verb && self.eat_any(&[Term::Spread, Term::Back]).is_some()) {
            self.need(Term::Until)?;
            self.need(Term::End)?;
        }
        self.eat_any(&[Term::These, Term::Every]);
        self.eat(Term::Row);
        Some(())
    }

    /// `3, 2, 2, 1, 1 sts at beg of next and foll rows each side`: two rows for each number where
    /// both sides are meant.
    fn stepped(
        &mut self,
        steps: &[Num],
        place: RowPlace,
        found: RowStretch,
        from: usize,
    ) -> Option<()> {
        while self
            .attempt(|p| {
                p.eat_any(&[Term::And, Term::Comma])?;
                p.eat(Term::Following);
                p.eat(Term::Every);
                let pace = p.pace_words();
                let every_row = matches!(pace, None | Some(Pace::Rows(Num::Fixed(2))));
                every_row.then_some(())?;
                p.need(Term::Row)
            })
            .is_some()
        {}
        let place = match self.attempt(Self::place) {
            Some(after) => agreed(place, after).or((after == RowPlace::EachEnd).then_some(after))?,
            None => place,
        };
        let both = place == RowPlace::EachEnd;
        // `at each side every row 4-3-2-1`: stitches are bound off where a row begins.
        let every = matches!(found.pace, Pace::EveryRow) && found.extent.is_none();
        (!(both && every)).then_some(())?;
        let given = match found.extent {
            Some(Extent::Times(rows @ Num::Given(_))) => Some(rows),
            _ => None,
        };
        (!(both && given.is_some())).then_some(())?;
        // `3, 2, 1 sts at beg of next 6 rows`: two rows for each number, and no row left over.
        let rows_each = if let Some(rows) = given {
            let told = self
                .program_number(rows)
                .and_then(|n| usize::try_from(n).ok());
            // `4, 4, 3, 3 sts at beg of next 4 rows`: each number is a row.
            let each = told == Some(steps.len()) && self.in_pairs(steps);
            (each || told == Some(2 * steps.len())).then_some(())?;
            Some(if each { 1 } else { 2 })
        } else {
            let spaced = !matches!(found.pace, Pace::EveryRow) && found.extent.is_none();
            let paired = place == RowPlace::Beginning && found.extent.is_none();
            (both || spaced || paired && self.in_pairs(steps)).then_some(1)
        };
        for &by in steps {
            let going = OnGoing {
                verb: Verb::BindOff,
                by,
                place,
            };
            self.verb = Some(going);
            let times = match rows_each {
                Some(rows) => Extent::Times(Num::Fixed(rows)),
                None => found.extent?,
            };
            let one = RowStretch {
                extent: Some(times),
                ..found
            };
            self.stretch_part(going, one, Joined::No, from);
        }
        Some(())
    }

    /// Each number stands twice, once for either edge.
    fn in_pairs(&self, steps: &[Num]) -> bool {
        let same = |pair: &[Num]| match pair {
            &[one, two] => {
                let one = self.program_number(one);
                one.is_some() && one == self.program_number(two)
            }
            _ => false,
        };
        steps.chunks(2).all(same)
    }

    /// `..., m sts twice, k sts 11 times` at the same edge and pace; on `every` row they are rows, after
    /// `next 2 rows once` pairs of rows.
    fn per_side_list(&mut self, going: OnGoing, found: RowStretch, every: bool) {
        while let Some((by, times, from)) = self.attempt(|p| {
            while p
                .eat_any(&[Term::Comma, Term::And, Term::Then, Term::Semicolon])
                .is_some()
            {}
            let from = p.at;
            let by = p.amount()?;
            p.eat(Term::Stitch);
            let (extent, _) = p.extent()?;
            match extent {
                Extent::Times(times) => Some((by, times, from)),
                _ => None,
            }
        }) {
            let mut next = found;
            match (found.pace, found.extent) {
                (Pace::EveryRow, Some(Extent::Times(_)))
                    if going.place == RowPlace::Beginning && !every =>
                {
                    next.repeats = times;
                }
                _ => next.extent = Some(Extent::Times(times)),
            }
            let going = OnGoing { by, ..going };
            self.verb = Some(going);
            self.stretch_part(going, next, Joined::No, from);
        }
    }

    /// `then 3 sts at beg of next 2 rows`, `2 sts twice`, `every 4th row 1 x 2`.
    pub(super) fn bound_off_next(&mut self) -> Option<()> {
        let from = self.at;
        let going = self.verb?;
        if let Some(found) = self.attempt(|p| {
            let found = p.stretch(false)?;
            p.eat(Term::Colon);
            let by = p.amount()?;
            p.eat(Term::Stitch);
            p.is(0, &[Term::Cross]).then_some((found, by))
        }) {
            let place = if found.0.is_spaced() {
                going.other_rows()
            } else {
                going.place
            };
            let going = OnGoing { place, ..going };
            return self.crossed(going, found.0, found.1, from);
        }
        if let Some(done) = self.attempt(Self::rows_then_steps) {
            return Some(done);
        }
        if let Some(done) = self.attempt(|p| p.step_list(Verb::BindOff, going.place, None)) {
            return Some(done);
        }
        let steps = self.attempt(Self::steps)?;
        let placed = self.is(
            0,
            &[
                Term::Beginning,
                Term::Every,
                Term::Armhole,
                Term::Neck,
                Term::Next,
                Term::Following,
            ],
        );
        placed.then_some(())?;
        // `2 sts at each neck edge once. 16 sts each side`: a count, or one more step?
        let here = self.at;
        let counts = self.place().is_some() && self.clause_ends();
        self.at = here;
        (!counts || self.rowless == Some(self.steps.len())).then_some(())?;
        // `2 at next 6`: rows, as before.
        self.rows_left_out = true;
        let found = self.bound_off(&steps, RowPlace::Unnamed, None, from);
        self.rows_left_out = false;
        found
    }
}

/// The edge and rows of a bind-off when the text leaves one of them out.
fn settled(place: RowPlace, told: Option<RowStretch>) -> (RowPlace, RowStretch) {
    let once = RowStretch::every_row(Extent::Times(Num::Fixed(1)));
    match (place, told) {
        // `every 2nd row 3 sts once`: at one edge, or at both?
        (RowPlace::Unnamed, Some(found)) if found.is_spaced() => (RowPlace::Unnamed, found),
        (RowPlace::Unnamed, Some(found)) => (RowPlace::Beginning, found),
        (place, Some(found)) => (place, found),
        (RowPlace::Unnamed, None) => (RowPlace::Beginning, once),
        (place, None) => (place, once),
    }
}
