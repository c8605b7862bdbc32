//! Which rows: `next 3 rows`, `every foll 4th row until 41 sts`, `RS rows 10 times`.

use crate::measure::Side;

use super::super::program::{Action, Doubt, Extent, Num, Pace, RowList, RowPlace};
use super::super::term::Term;
use super::Parser;

/// One stretch of rows as the text names it.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowStretch {
    pub(super) pace: Pace,
    pub(super) extent: Option<Extent>,
    pub(super) told: TimesTold,
    pub(super) repeats: Num,
    /// `next row`, which a number of times after it may count.
    pub(super) plain_next: bool,
    /// `the 3rd row`: one row, by its place.
    pub(super) one_row: bool,
    /// Rows by their places, counted from a row that goes without saying.
    pub(super) counted: bool,
}

impl RowStretch {
    fn new(pace: Pace, extent: Option<Extent>) -> Self {
        Self {
            pace,
            extent,
            told: TimesTold::default(),
            repeats: Num::Fixed(1),
            plain_next: false,
            one_row: false,
            counted: false,
        }
    }
}

impl RowStretch {
    /// One row after the other.
    pub(super) fn every_row(extent: Extent) -> Self {
        Self::new(Pace::EveryRow, Some(extent))
    }

    /// Rows with others between them, and more than one of them.
    pub(super) fn is_spaced(self) -> bool {
        let several = self.told.times || !matches!(self.extent, Some(Extent::Times(_)));
        several && !matches!(self.pace, Pace::EveryRow | Pace::At(_))
    }

    /// `at armhole edge of next 2 rows`, `each end of every row 4 times`: stitches are bound off where
    /// a row begins, so that rows one after the other cannot do it at one edge, nor one row at both.
    pub(super) fn cannot_bind_off(self, place: RowPlace) -> bool {
        let every = matches!(self.pace, Pace::EveryRow);
        let several = matches!(self.extent, Some(Extent::Times(Num::Given(_))));
        let one_edge = matches!(place, RowPlace::Armhole | RowPlace::Neck);
        every && several && (one_edge || place == RowPlace::EachEnd && self.told.times)
    }
}

/// The number of times, as the words around it tell it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct TimesTold {
    /// `times` stands beside it.
    pub(super) times: bool,
    pub(super) more: bool,
    pub(super) in_all: bool,
}

impl Parser<'_> {
    /// One stretch of rows. `direct` is true straight after what is done, where a bare `3 rows`
    /// can only mean the next three.
    pub(super) fn stretch(&mut self, direct: bool) -> Option<RowStretch> {
        // `each of the next 2 rows`.
        let each = self.lexeme(0).map(|l| self.slice(l.span).to_lowercase());
        let counted = self.is(1, &[Term::Following]) && self.is(2, &[Term::Number]);
        if self.is(0, &[Term::Every])
            && (self.is(1, &[Term::Next]) || counted && each.as_deref() == Some("each"))
        {
            self.at += 1;
        }
        let from = self.at;
        let found = self.rows_named(direct)?;
        // `next 2 rows in pattern`, `next 2 rows straight`: nothing is shaped on them.
        let plain = self.is(0, &[Term::Even]) || self.in_pattern_since(from);
        (direct || !plain).then_some(found)
    }

    /// `in pattern` stands after rows that were named from here on.
    pub(super) fn in_pattern_since(&self, from: usize) -> bool {
        let named = self.lexemes.get(from..self.at).unwrap_or_default();
        let mark = [Term::Comma, Term::Stop, Term::Colon, Term::Dash];
        let behind = self.lexeme(0).filter(|l| mark.contains(&l.term));
        named.iter().any(|l| l.term == Term::Row && l.in_pattern)
            || behind.is_some_and(|l| l.in_pattern)
    }

    fn rows_named(&mut self, direct: bool) -> Option<RowStretch> {
        match self.term(0)? {
            Term::These if self.is(1, &[Term::Row]) || self.this_and_next() => {
                // `and dec 1 st at end of this row`: the row that was told, not one more.
                // `work 2 rows. Dec 1 st each end of this row and every 4th row` begins here.
                let row = usize::from(self.is(1, &[Term::Row]));
                let begins = self.is(1 + row, &[Term::And]);
                let after_a_row = self.steps.last().is_some_and(|step| match step.action {
                    Action::Shape(_) | Action::Row { .. } => true,
                    Action::Even(_) => !begins,
                    _ => false,
                });
                (!after_a_row).then_some(())?;
                self.at += 1 + row;
                let mut found = RowStretch::every_row(Extent::Times(Num::Fixed(1)));
                found.plain_next = true;
                Some(found)
            }
            Term::Next => self.next_rows(),
            Term::Following => self.following_rows(),
            Term::Every | Term::All => self.every_row(),
            Term::Alternately => {
                self.at += 1;
                self.need(Term::Every)?;
                self.eat(Term::Following);
                self.turns_after_word()
            }
            Term::Number | Term::Often | Term::NoneOf | Term::Dash => self
                .attempt(Self::times_first)
                .or_else(|| self.counted_rows(direct)),
            Term::Ordinal => self.ordinal_rows(),
            Term::Rs | Term::Ws | Term::Knit | Term::Purl | Term::Alternate => self.rows_of_side(),
            Term::Row => self.row_numbers(),
            _ => None,
        }
    }

    /// `this and the next 3 rows`, `this and foll 2 alt rows`.
    fn this_and_next(&self) -> bool {
        self.is(1, &[Term::And]) && self.is(2, &[Term::Next, Term::Following])
    }

    /// `next row`, `next 3 rows`, `next 3 alt rows`, `next RS row`.
    fn next_rows(&mut self) -> Option<RowStretch> {
        if let Some(found) = self.attempt(Self::next_and_places) {
            return Some(found);
        }
        self.need(Term::Next)?;
        // `next 4th row` counts from nowhere.
        (!self.is(0, &[Term::Ordinal])).then_some(())?;
        let count = self.amount();
        let pace = self.pace_words();
        // `next rows` does not say how many.
        let open = count.is_none() && self.is(0, &[Term::Row]) && self.is_plural(0);
        if open && !self.is(1, &[Term::Until]) {
            return None;
        }
        let row = self.eat(Term::Row);
        let left_out = self.rows_left_out && count.is_some() && self.clause_ends();
        let mut found = RowStretch::new(
            pace.unwrap_or(Pace::EveryRow),
            Some(Extent::Times(count.unwrap_or(Num::Fixed(1)))),
        );
        found.plain_next = count.is_none() && pace.is_none();
        let goes_on = self.is(0, &[Term::And, Term::Comma, Term::Following]);
        if !row && !goes_on && !left_out {
            return None;
        }
        if open {
            found.extent = None;
            self.extent_of(&mut found);
            return Some(found);
        }
        self.repeats(&mut found);
        Some(found)
    }

    /// `4 x every 2nd row`, `3 times more on every 4th row`, `once more on foll alt row`.
    fn times_first(&mut self) -> Option<RowStretch> {
        let often = self.attempt(Self::often);
        let count = match often {
            Some(count) => count,
            None => self.amount()?,
        };
        self.eat(Term::More);
        let times = self.eat_any(&[Term::Cross, Term::Times]).is_some();
        (often.is_some() || times).then_some(())?;
        self.eat(Term::More);
        // `4 times every row, 4 times every alt row`: the second number is the next rows'.
        self.times_told = true;
        let found = match self.term(0)? {
            Term::Every => self.every_row(),
            Term::Following => self.following_rows(),
            _ => None,
        };
        self.times_told = false;
        let mut found = found?;
        let once = found.extent == Some(Extent::Times(Num::Fixed(1)));
        let same = once && self.program_number(count) == Some(1);
        (found.extent.is_none() || same).then_some(())?;
        found.extent = Some(Extent::Times(count));
        (found.told.times, found.told.more) = (true, true);
        Some(found)
    }

    /// `next, 3rd and 5th rows`: the 1st, 3rd and 5th from here.
    fn next_and_places(&mut self) -> Option<RowStretch> {
        self.need(Term::Next)?;
        self.need(Term::Comma)?;
        let found = self.ordinal_rows()?;
        let Pace::At(list) = found.pace else {
            return None;
        };
        let rows = &mut self.lists.get_mut(list)?.rows;
        (rows.len() > 1).then(|| rows.insert(0, Num::Fixed(1)))?;
        Some(found)
    }

    /// `foll 7 rows`, `foll 3 alt rows`, `foll 4th row`, `foll alt rows to 51 sts`.
    fn following_rows(&mut self) -> Option<RowStretch> {
        self.need(Term::Following)?;
        if self.is(0, &[Term::Every]) {
            return self.every_row();
        }
        let one = self.is(0, &[Term::Ordinal]);
        let count = self.amount();
        let pace = self.pace_words();
        self.eat(Term::Following);
        let plural = self.is_plural(0);
        let left_out = self.rows_left_out && count.is_some() && pace.is_none();
        if !(left_out && self.clause_ends()) {
            self.need(Term::Row)?;
        }
        if let (true, Some(Pace::Rows(row))) = (one, pace)
            && !self.is(0, &[Term::Until, Term::Number])
        {
            // The 4th row from here, which after a decrease is the 4th after it.
            self.lists.push(RowList {
                rows: vec![row],
                absolute: false,
            });
            return Some(RowStretch::new(
                Pace::At(self.lists.len() - 1),
                Some(Extent::Times(Num::Fixed(1))),
            ));
        }
        let mut found = RowStretch::new(pace.unwrap_or(Pace::EveryRow), None);
        match count {
            Some(count) => found.extent = Some(Extent::Times(count)),
            None => self.extent_of(&mut found),
        }
        if !plural {
            found.extent = found.extent.or(Some(Extent::Times(Num::Fixed(1))));
        }
        self.repeats(&mut found);
        Some(found)
    }

    /// `every row`, `every other row`, `every foll 4th row`, `every RS row`, `every inch`.
    fn every_row(&mut self) -> Option<RowStretch> {
        self.eat_any(&[Term::Every, Term::All])?;
        self.eat(Term::Following);
        if let Some(found) = self.attempt(Self::by_turns) {
            return Some(found);
        }
        let both = self.attempt(Self::both_sides);
        let pace = if both.is_some() || self.is(0, &[Term::Row]) {
            self.need(Term::Row)?;
            // `every row (RS and WS)`, `every row, RS and WS,`.
            let _ = self.attempt(|p| {
                let open = p.eat(Term::Open);
                p.eat(Term::Comma);
                p.both_sides()?;
                if open { p.need(Term::Close) } else { Some(()) }
            });
            Pace::EveryRow
        } else {
            let pace = self.every_pace()?;
            self.eat(Term::Row);
            self.only_of_side(pace);
            pace
        };
        self.eat(Term::Following);
        // `every row again until 30 sts remain`.
        self.at += usize::from(self.is(0, &[Term::More]) && self.is(1, &[Term::Until]));
        let mut found = RowStretch::new(pace, None);
        self.extent_of(&mut found);
        Some(found)
    }

    /// `RS and WS`.
    fn both_sides(&mut self) -> Option<()> {
        let one = self.side()?;
        self.need(Term::And)?;
        (self.side()? != one).then_some(())
    }

    /// `RS rows only`.
    fn only_of_side(&mut self, pace: Pace) {
        if matches!(pace, Pace::OfSide(..)) {
            self.eat(Term::Only);
        }
    }

    /// `every 2nd and 4th row alternately`, `every 4th row and every 6th row alternately`.
    fn by_turns(&mut self) -> Option<RowStretch> {
        let pace = self.two_paces()?;
        self.need(Term::Alternately)?;
        let mut found = RowStretch::new(pace, None);
        self.extent_of(&mut found);
        Some(found)
    }

    /// `alternately every 2nd and 4th row`, after its first two words.
    fn turns_after_word(&mut self) -> Option<RowStretch> {
        let pace = self.two_paces()?;
        let mut found = RowStretch::new(pace, None);
        self.extent_of(&mut found);
        Some(found)
    }

    fn two_paces(&mut self) -> Option<Pace> {
        let Pace::Rows(first) = self.pace_words()? else {
            return None;
        };
        self.eat(Term::Row);
        self.need(Term::And)?;
        while self
            .eat_any(&[Term::Then, Term::Every, Term::Following])
            .is_some()
        {}
        let Pace::Rows(second) = self.pace_words()? else {
            return None;
        };
        self.need(Term::Row)?;
        Some(Pace::Turns(first, second))
    }

    /// What stands between `every` and `row`.
    fn every_pace(&mut self) -> Option<Pace> {
        if let Some(unit) = self.unit() {
            return Some(Pace::Length(Num::Fixed(1), unit));
        }
        if self.eat(Term::Ridge) {
            return Some(Pace::Ridges(Num::Fixed(1)));
        }
        if let Some(number) = self.attempt(Self::amount) {
            if let Some(unit) = self.unit() {
                return Some(Pace::Length(number, unit));
            }
            if self.eat(Term::Ridge) {
                return Some(Pace::Ridges(number));
            }
            return self.is(0, &[Term::Row]).then_some(Pace::Rows(number));
        }
        self.pace_words()
    }

    /// `alt`, `4th`, `RS`, `alt RS`, `4th RS`, `knit` before `row`, `9th ridge`.
    pub(super) fn pace_words(&mut self) -> Option<Pace> {
        let first = self.lexeme(0)?;
        let every = match first.term {
            Term::Alternate => {
                self.at += 1;
                Some(Num::Fixed(2))
            }
            Term::Ordinal => self.ordinal(),
            _ => None,
        };
        if let Some(num) = every {
            self.eat(Term::Following);
            if self.eat(Term::Ridge) {
                let _ = self.attempt(|p| p.row_remark(num));
                return Some(Pace::Ridges(num));
            }
            return Some(match self.attempt(Self::side_of_row) {
                Some(side) => Pace::OfSide(side, num),
                None => Pace::Rows(num),
            });
        }
        if let Some(side) = self.attempt(Self::side_in_brackets) {
            return Some(Pace::OfSide(side, Num::Fixed(1)));
        }
        let side = self.attempt(Self::side_of_row)?;
        Some(if self.eat(Term::Alternate) {
            Pace::OfSide(side, Num::Fixed(2))
        } else {
            Pace::OfSide(side, Num::Fixed(1))
        })
    }

    /// `(18th row)` beside a 9th ridge: a ridge has two rows.
    fn row_remark(&mut self, ridges: Num) -> Option<()> {
        self.need(Term::Open)?;
        let row = self.lexeme(0)?.count()?;
        self.need(Term::Ordinal)?;
        let rows = self.program_number(ridges)?.checked_mul(2);
        (rows == Some(row)).then_some(())?;
        self.need(Term::Row)?;
        self.need(Term::Close)
    }

    /// `next 3 (RS) rows`.
    fn side_in_brackets(&mut self) -> Option<Side> {
        self.need(Term::Open)?;
        let side = self.side()?;
        self.need(Term::Close)?;
        self.is(0, &[Term::Row]).then_some(side)
    }

    /// A side that names rows: `RS`, `knit`.
    fn side_of_row(&mut self) -> Option<Side> {
        let side = self.side()?;
        self.is(0, &[Term::Row, Term::Alternate, Term::Following])
            .then_some(side)
    }

    /// `RS`, `WS`, `knit`, `purl`: knit rows are right-side rows in stocking stitch.
    pub(super) fn side(&mut self) -> Option<Side> {
        let side = match self.term(0)? {
            Term::Rs | Term::Knit => Side::Rs,
            Term::Ws | Term::Purl => Side::Ws,
            _ => return None,
        };
        self.at += 1;
        Some(side)
    }

    /// `3 foll alt rows`, `1 foll 4th row`, `10 RS rows`, and straight after the verb `3 rows`.
    fn counted_rows(&mut self, direct: bool) -> Option<RowStretch> {
        let count = self.amount()?;
        let following = self.eat(Term::Following);
        let pace = self.pace_words();
        self.eat(Term::Following);
        self.need(Term::Row)?;
        if !direct && !following && pace.is_none() || self.is(0, &[Term::Even]) {
            return None;
        }
        Some(RowStretch::new(
            pace.unwrap_or(Pace::EveryRow),
            Some(Extent::Times(count)),
        ))
    }

    /// `3rd row`, `3rd, 5th and 7th rows`: counted from here.
    fn ordinal_rows(&mut self) -> Option<RowStretch> {
        let mut list = Vec::new();
        while let Some(row) = self.attempt(Self::ordinal) {
            list.push(row);
            // `3rd to 6th rows`.
            let first = self.program_number(row);
            if let Some(first) = first
                && let Some(last) = self.attempt(Self::up_to_ordinal)
            {
                (last > first && last - first < 200).then_some(())?;
                list.extend((first + 1..=last).map(Num::Fixed));
            }
            let two = self.is(0, &[Term::Comma]) && self.is(1, &[Term::And]);
            if self.is(1, &[Term::Ordinal]) || two && self.is(2, &[Term::Ordinal]) {
                while self.eat_any(&[Term::Comma, Term::And]).is_some() {}
            }
        }
        let mut following = self.eat(Term::Following);
        if !self.eat(Term::Row) && !self.is(0, &[Term::And]) {
            return None;
        }
        following |= self.eat(Term::Following);
        let one_row = list.len() == 1;
        self.lists.push(RowList {
            rows: list,
            absolute: false,
        });
        let mut found = RowStretch::new(
            Pace::At(self.lists.len() - 1),
            Some(Extent::Times(Num::Fixed(1))),
        );
        (found.one_row, found.counted) = (one_row, !following);
        Some(found)
    }

    fn up_to_ordinal(&mut self) -> Option<u32> {
        self.up_to_row().then_some(())?;
        let last = self.lexeme(0).filter(|l| l.term == Term::Ordinal)?;
        self.at += 1;
        last.count()
    }

    /// `rows 3, 5 and 9`.
    fn row_numbers(&mut self) -> Option<RowStretch> {
        self.need(Term::Row)?;
        let mut list = vec![self.plain_number()?];
        while let Some(more) = self.attempt(|p| {
            let before = *list.last()?;
            let more = p.row_joined(Term::Number, before)?;
            // `rows 1 and 2, 3 sts at ...`
            // `rows 1 and 2, 3-3-4 sts at ...`
            let list = [Term::Dash, Term::Slash, Term::Open, Term::Colon];
            let of_sizes = p.labels.len() > 1 && p.is(0, &list) && p.is(1, &[Term::Number]);
            (!p.is(0, &[Term::Stitch]) && !of_sizes).then_some(more)
        }) {
            list.extend(more);
        }
        let list = list.into_iter().map(Num::Fixed).collect();
        self.lists.push(RowList {
            rows: list,
            absolute: true,
        });
        Some(RowStretch::new(
            Pace::At(self.lists.len() - 1),
            Some(Extent::Times(Num::Fixed(1))),
        ))
    }

    /// `RS rows 10 times`, `alt rows 5 times`, `knit rows until 38 sts`.
    fn rows_of_side(&mut self) -> Option<RowStretch> {
        let pace = self.pace_words()?;
        let row = self.lexeme(0)?;
        self.need(Term::Row)?;
        self.only_of_side(pace);
        let mut found = RowStretch::new(pace, None);
        self.extent_of(&mut found);
        if !self.slice(row.span).to_lowercase().ends_with('s') {
            // `on RS row`; `RS rows` does not say how many.
            found.extent = found.extent.or(Some(Extent::Times(Num::Fixed(1))));
        }
        Some(found)
    }

    /// The choices that every stretch of rows carries: about its first row, and one more.
    pub(super) fn open_choices(
        &mut self,
        from: usize,
        first: Doubt,
        other: Doubt,
    ) -> (usize, usize) {
        let span = self.span_from(from);
        (self.choice(first, span), self.choice(other, span))
    }
}
