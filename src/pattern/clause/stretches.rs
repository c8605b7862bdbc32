//! How far a shaping goes: `every alt row 3 times, then every row until 51 sts`.

use super::super::program::{
    Action, Doubt, Extent, Instruction, Joined, Num, Pace, RowPlace, ShapedPart, Verb,
};
use super::super::term::{Lexeme, Term};
use super::place::agreed;
use super::select::RowStretch;
use super::{OnGoing, Parser};

impl Parser<'_> {
    /// All stretches after what is done; one row where none is named, as in `[dec each end]`.
    pub(super) fn stretches(&mut self, going: OnGoing, from: usize) {
        let found = self.attempt(|p| {
            let _ = p.attempt(Self::inset);
            // `dec 1 st each end, every 2nd row, 5 times`.
            let of_side = [Term::Rs, Term::Ws, Term::Knit, Term::Purl, Term::Alternate];
            let several = p.is(0, &[Term::Comma]) && p.is(1, &of_side);
            let comma =
                p.is(0, &[Term::Comma]) && p.is(1, &[Term::Every]) || p.is(0, &[Term::Colon]);
            p.at += usize::from(comma || several);
            let found = p.stretch(true)?;
            // `dec 1 st each end, on RS rows, 4 times`; `, RS row: knit` is another row.
            let told = !several || found.is_spaced() && found.extent.is_some();
            (told && !p.follows_plain_rows(found)).then_some(found)
        });
        match found.or_else(|| self.attempt(Self::rows_behind_comma)) {
            Some(first) => {
                let after = self.attempt(|p| agreed(going.place, p.place()?));
                let going = OnGoing {
                    place: after.unwrap_or(going.place),
                    ..going
                };
                self.verb = Some(going);
                if first.extent.is_none()
                    && self.attempt(|p| p.listed_by(going, first, from)).is_some()
                {
                    // `; every 4 rows: 1 st twice`.
                    while self.attempt(|p| p.next_listed(going)).is_some() {}
                    return;
                }
                if first.extent.is_none()
                    && self
                        .attempt(|p| p.while_working(going, first, from))
                        .is_some()
                {
                    return;
                }
                let joined = self.counts_row_before(going, first, from);
                self.stretch_part(going, first, joined, from);
                self.more_stretches(going, first);
            }
            None => self.without_rows(going, from),
        }
    }

    /// `dec 1 st each end of next row, then dec every 4th row 3 times in all`: with the row before, or after it?
    fn counts_row_before(&mut self, going: OnGoing, found: RowStretch, from: usize) -> Joined {
        let last = self
            .steps
            .get(self.sentence..)
            .and_then(<[Instruction]>::last);
        let once = Extent::Times(Num::Fixed(1));
        let one = last.is_some_and(|step| {
            matches!(&step.action, Action::Shape(part)
                if part.verb == going.verb && part.pace == Pace::EveryRow && part.extent == once)
        });
        if !(one && found.told.in_all) {
            return Joined::No;
        }
        let span = self.span_from(from);
        Joined::Open(self.choice(Doubt::NextAndEvery, span))
    }

    /// `dec 1 st each end, next 3 rows`: the rows of what stands before the comma.
    pub(super) fn rows_behind_comma(&mut self) -> Option<RowStretch> {
        self.eat_any(&[Term::Comma, Term::Semicolon])?;
        let named = self.is(0, &[Term::Next]) && self.is(1, &[Term::Number, Term::Open]);
        named.then_some(())?;
        let found = self.stretch(true)?;
        let ends = [
            Term::Stop,
            Term::Comma,
            Term::Semicolon,
            Term::And,
            Term::Then,
            Term::Open,
            Term::Close,
        ];
        (self.term(0).is_none() || self.is(0, &ends)).then_some(found)
    }

    /// `work 3 rows, then dec 1 st each end of 4th row`: it is not clear from where the 4th is counted.
    pub(super) fn follows_plain_rows(&self, found: RowStretch) -> bool {
        let plain = self.steps.last().map(|s| &s.action);
        let here = self.steps.len() > self.sentence;
        found.counted
            && match plain {
                Some(Action::Even(rows)) => here || self.all_within(found, *rows),
                Some(Action::EvenLength { .. }) => here,
                _ => false,
            }
    }

    /// `Work 9 rows. Dec 1 st each end of 1st, 5th and 9th rows`: may be of the nine. `Work 5 rows. Dec 1 st each end of 6th row`:
    /// counts them, most likely, or goes on from them.
    fn all_within(&self, found: RowStretch, rows: Num) -> bool {
        let Pace::At(list) = found.pace else {
            return false;
        };
        let list = self.lists.get(list).map_or(&[][..], |list| &list.rows);
        let last = list.last().and_then(|&row| self.program_number(row));
        let rows = self.program_number(rows);
        last.zip(rows).is_some_and(|(last, rows)| {
            let alone =
                found.one_row && self.clause_ends() && !self.is(0, &[Term::And, Term::Then]);
            let next = list.len() == 1 && last == rows.saturating_add(1);
            last <= rows && (list.len() > 1 || alone) || next
        })
    }

    fn next_listed(&mut self, going: OnGoing) -> Option<()> {
        let joints = [Term::Comma, Term::Semicolon, Term::And, Term::Then];
        self.eat_any(&joints)?;
        while self.eat_any(&joints).is_some() {}
        let from = self.at;
        let found = self.stretch(false).filter(|f| f.extent.is_none())?;
        self.listed_by(going, found, from)
    }

    /// `every other row: 1 st 8 times, 2 sts twice`, `every 2nd row 1 st x 8`.
    fn listed_by(&mut self, going: OnGoing, found: RowStretch, from: usize) -> Option<()> {
        // `dec 7 each side: 1 st 3 times`: one number too many.
        matches!(going.by, Num::Fixed(_)).then_some(())?;
        let mut count = 0;
        while let Some((by, extent)) = self.attempt(|p| {
            while p
                .eat_any(&[Term::Comma, Term::Colon, Term::And, Term::Then])
                .is_some()
            {}
            p.attempt(Self::times_by).or_else(|| {
                let by = p.amount()?;
                p.need(Term::Stitch)?;
                Some((by, p.extent()?.0))
            })
        }) {
            count += 1;
            let going = OnGoing { by, ..going };
            self.verb = Some(going);
            let extent = Some(extent);
            self.stretch_part(going, RowStretch { extent, ..found }, Joined::No, from);
        }
        (count > 0).then_some(())
    }

    /// `decreasing until 25 sts` goes on at the pace before; a bare `dec each end` is one row.
    fn without_rows(&mut self, going: OnGoing, from: usize) {
        let bare = going.by == Num::Fixed(1) && self.depth == 0 && going.verb != Verb::Again;
        // `decreasing 1 st at each end, work 4 rows`: the rows are told after it.
        let word = self
            .lexemes
            .get(from)
            .map(|l| self.slice(l.span).to_lowercase());
        if word.is_some_and(|word| word.ends_with("ing")) && self.is(0, &[Term::Comma]) {
            return self.names_no_row(from);
        }
        let loose = !self.clause_ends() || going.place == RowPlace::Unnamed && self.depth == 0;
        let found = match self.attempt(Self::extent) {
            None if bare || loose || self.goes_with_rows_before(going, from) => {
                return self.names_no_row(from);
            }
            Some((extent @ Extent::Until(_), told)) if self.pace.is_some() => {
                let pace = self.pace.unwrap_or(Pace::EveryRow);
                RowStretch {
                    pace,
                    told,
                    ..RowStretch::every_row(extent)
                }
            }
            Some(_) => return self.names_no_row(from),
            None if self.may_be_of_rows_before(from) => {
                let span = self.span_from(from);
                self.not_understood(span, "may be of the same row as the step before");
                return;
            }
            None => RowStretch::every_row(Extent::Times(Num::Fixed(1))),
        };
        self.stretch_part(going, found, Joined::No, from);
        self.rowless = Some(self.steps.len());
    }

    /// `knit 1 row, dec 1 st each end`: on the row that is knitted, or on the next? `work 1 row even, dec 1 st each end`
    /// leaves no doubt.
    fn may_be_of_rows_before(&self, from: usize) -> bool {
        let term = |at: usize| self.lexemes.get(at).map(|l| l.term);
        let behind_comma = from.checked_sub(1).and_then(term) == Some(Term::Comma);
        let begins = matches!(term(from), Some(Term::Dec | Term::Inc));
        let last = self.steps.get(self.sentence..).and_then(<[_]>::last);
        let rows = last.filter(|step| matches!(step.action, Action::Even(_)));
        let told_even = |step: &Instruction| {
            let within = |l: &&Lexeme| step.span.from <= l.span.from && l.span.to <= step.span.to;
            let mut words = self.lexemes.iter().filter(within);
            words.any(|l| l.term == Term::Even)
        };
        behind_comma && begins && rows.is_some_and(|step| !told_even(step))
    }

    /// `dec 10 sts in 5 rows`: in all, or on each? Nothing says `each` or `every`, and no edge is named.
    fn may_be_in_all(&self, going: OnGoing, found: RowStretch, from: usize) -> bool {
        let Some(Extent::Times(rows)) = found.extent else {
            return false;
        };
        let named = self.lexemes.get(from..self.at).unwrap_or_default();
        let each = named.iter().any(|l| l.term == Term::Every);
        let most = |num: Num| match num {
            Num::Fixed(n) => f64::from(n),
            Num::Given(id) => {
                let entries = self.amounts.get(id).map(|amount| amount.entries.as_slice());
                let values = entries.unwrap_or_default().iter().filter_map(|e| e.value);
                values.fold(0.0, f64::max)
            }
        };
        let shapes = matches!(going.verb, Verb::Dec | Verb::Inc);
        let open = going.place == RowPlace::Unnamed && !each && !found.told.times;
        shapes && open && most(rows) > 1.0 && most(going.by) > 2.0
    }

    /// `decreases` alone names no row, and neither does `dec 1 st each side 5 times`.
    pub(super) fn names_no_row(&mut self, from: usize) {
        let span = self.span_from(from);
        self.not_understood(span, "does not say how many, or on which row");
    }

    /// `..., then every foll 4th row to 41 sts, and foll 2 rows`.
    pub(super) fn more_stretches(&mut self, going: OnGoing, first: RowStretch) {
        let mut before = first;
        let mut going = going;
        while let Some((found, joined, place, from)) = self.attempt(|p| p.joined_stretch(before)) {
            going.place = place.unwrap_or(going.place);
            self.verb = Some(going);
            if before.plain_next && matches!(found.extent, Some(Extent::Rows(_))) {
                // `next and every alt row for 12 rows`: with the next row, or after it?
                let span = self.span_from(from);
                self.not_understood(
                    span,
                    "does not say whether the row before is one of these rows",
                );
            }
            let joined = match joined {
                true if found.told.in_all => Joined::Yes,
                true => {
                    let span = self.span_from(from);
                    Joined::Open(self.choice(Doubt::NextAndEvery, span))
                }
                false => Joined::No,
            };
            self.stretch_part(going, found, joined, from);
            before = found;
        }
    }

    /// What stands after these rows, perhaps behind a comma, is a verb of its own.
    fn tells_rows(&self, found: RowStretch) -> bool {
        let shaping = [
            Term::BindOff,
            Term::CastOn,
            Term::Dec,
            Term::Inc,
            Term::DecOp,
        ];
        let comma = usize::from(self.is(0, &[Term::Comma]));
        let plain = found.plain_next && self.is(0, &[Term::Knit, Term::Purl]);
        plain || self.is(comma, &shaping)
    }

    pub(super) fn joined_stretch(
        &mut self,
        before: RowStretch,
    ) -> Option<(RowStretch, bool, Option<RowPlace>, usize)> {
        let mut and = false;
        let mut then = false;
        while let Some(joint) = self.eat_any(&[
            Term::Comma,
            Term::And,
            Term::Then,
            Term::Semicolon,
            Term::Work,
        ]) {
            and |= joint == Term::And;
            then |= joint == Term::Then;
        }
        let from = self.at;
        // `, work 1 WS row`: plain rows.
        let counted = [Term::Number, Term::Rs, Term::Ws, Term::Knit, Term::Purl];
        (!(self.is_before(&[Term::Work]) && self.is(0, &counted))).then_some(())?;
        (!self.names_a_start()).then_some(())?;
        // `next 2 rows of every 4 rows 3 times`: rows of rows.
        let unjoined = !self.after_joint() && matches!(before.pace, Pace::EveryRow);
        // `rows 1, 3 and 5 of the next 8 rows`: rows of rows as well.
        let of_list = !self.after_joint() && matches!(before.pace, Pace::At(_));
        (!of_list || !self.is(0, &[Term::Next])).then_some(())?;
        if unjoined && matches!(before.extent, Some(Extent::Times(Num::Given(_)))) {
            let of_rows = self.is(0, &[Term::Every]) && !before.told.times;
            (!of_rows).then_some(())?;
        }
        let place = self.attempt(Self::place);
        let side = [Term::Rs, Term::Ws, Term::Knit, Term::Purl];
        let bare = self.is(0, &side);
        let next = self.is(0, &[Term::Next]) && place.is_none() && !and && !then;
        let coming = self.is(0, &[Term::Next, Term::Following]);
        let found = self.stretch(false)?;
        // `Next row: work in pattern`, `Next row (WS): bind off 4`: the name of a row.
        let bracket = self.is(0, &[Term::Open]) && self.is(1, &[Term::Rs, Term::Ws]);
        (!(coming && (bracket || self.is(0, &[Term::Colon])))).then_some(())?;
        // `, following row, ...`: one row, of which something is told.
        let one = matches!(found.pace, Pace::EveryRow)
            && found.extent == Some(Extent::Times(Num::Fixed(1)));
        (!(coming && one && place.is_none() && !and && !then)).then_some(())?;
        // `next row purl`, `next row, dec 1 st each end`: something else is told of these rows.
        if next && self.tells_rows(found) {
            return None;
        }
        // `then WS row`: nothing is said to be shaped on it.
        if bare && matches!(found.extent, Some(Extent::Times(Num::Fixed(1)))) {
            return None;
        }
        // `at beg of foll 4 rows cast off 2 sts`, `on every 2nd row 8 times, dec 1 st at each end`: another verb has these rows.
        if self.is(0, &[Term::BindOff, Term::CastOn, Term::Dec, Term::Inc])
            || self.rowless_verb_behind()
        {
            return None;
        }
        // `then every 2nd row 2 x 2 sts`: other stitches, which stand after the rows.
        let colon = usize::from(self.is(0, &[Term::Colon]));
        let other = found.extent.is_none() && self.is(colon, &[Term::Number]);
        if other || matches!(before.pace, Pace::At(_)) && found.extent.is_none() {
            return None;
        }
        // `next row, 3rd row and 5th row`: from where each is counted is not said.
        let listed = before.plain_next || matches!(before.pace, Pace::At(_));
        if found.counted && listed
            || matches!((before.pace, found.pace), (Pace::At(_), Pace::At(_)))
        {
            return None;
        }
        // `RS rows 3 times and WS rows twice`: after them, or between?
        if and && !then && other_side(before.pace, found.pace) {
            return None;
        }
        // All of which rows, where there were several before?
        let one = before.plain_next || before.one_row;
        if found.told.in_all && !one {
            return None;
        }
        let paced = !matches!(found.pace, Pace::At(_));
        let times = one && paced && found.told.times && !found.told.more;
        let joined = times && (and && !then || found.told.in_all);
        Some((found, joined, place, from))
    }

    /// `, dec 1 st at each end`, and no rows behind it.
    pub(super) fn rowless_verb_behind(&mut self) -> bool {
        let mut rowless = false;
        let _ = self.attempt(|p| {
            let marks = [
                Term::Comma,
                Term::Semicolon,
                Term::Colon,
                Term::Dash,
                Term::Stop,
            ];
            p.eat_any(&marks)?;
            if p.eat(Term::BindOff) {
                p.amount()?;
                p.eat(Term::Stitch);
            } else {
                p.what()?;
            }
            let _ = p.attempt(Self::place);
            rowless = p.attempt(|p| p.stretch(true)).is_none() && p.clause_ends();
            None::<()>
        });
        rowless
    }

    /// A lone nought, for all sizes.
    fn is_none(&self, by: Num) -> bool {
        let Num::Given(id) = by else { return false };
        let entries = self.amounts.get(id).map(|amount| amount.entries.as_slice());
        matches!(entries, Some([one]) if one.value == Some(0.0))
    }

    /// Pushes one stretch of shaping; says so when it does not tell how far it goes.
    pub(super) fn stretch_part(
        &mut self,
        going: OnGoing,
        found: RowStretch,
        joined: Joined,
        from: usize,
    ) {
        let start = from.min(self.at.saturating_sub(1));
        let span = self.span_from(start);
        let Some(extent) = found.extent else {
            self.not_understood(span, "does not say how often, or until how many stitches");
            return;
        };
        let other_end = going.place == RowPlace::End && self.depth == 0;
        if other_end && self.rowless == Some(self.steps.len()) {
            // `bind off 4 sts at beg and dec 1 st at end of next row`: on one row, or on two?
            self.not_understood(span, "may be of the same row as the step before");
            return;
        }
        if self.may_be_in_all(going, found, from) {
            self.not_understood(span, "may be meant in all, or on each of these rows");
            return;
        }
        // `dec 0 sts`, for every size: a slip, or a step that should not be there.
        if self.is_none(going.by) {
            self.not_understood(span, "takes no stitch away");
            return;
        }
        // `3 sts at beg of 1st and 2nd rows, 2 sts at beg of 3rd to 6th rows`.
        let listed = |s: &Instruction| matches!(&s.action, Action::Shape(part) if matches!(part.pace, Pace::At(_)));
        let before = self
            .steps
            .get(self.sentence..)
            .and_then(<[Instruction]>::last);
        if found.counted && before.is_some_and(listed) {
            self.not_understood(span, "counts rows, and it is not said from which row");
            return;
        }
        let other = match (found.pace, going.place) {
            (Pace::At(_), _) => Doubt::RowList,
            (_, RowPlace::Unnamed) => Doubt::Edge,
            _ => Doubt::RowsTwice,
        };
        let first = match (going.verb, found.pace) {
            (Verb::BindOff, Pace::EveryRow) => Doubt::TrailingRow,
            _ => Doubt::FirstDecrease,
        };
        let (first, other) = self.open_choices(start, first, other);
        self.push_part(ShapedPart {
            verb: going.verb,
            by: going.by,
            place: going.place,
            pace: found.pace,
            extent,
            more: found.told.more,
            repeats: found.repeats,
            joined,
            first,
            other,
            span,
        });
    }
}

/// Rows of the one side, and rows of the other.
pub(super) fn other_side(one: Pace, other: Pace) -> bool {
    match (one, other) {
        (Pace::OfSide(one, _), Pace::OfSide(other, _)) => one != other,
        _ => false,
    }
}
