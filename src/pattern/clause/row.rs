//! Rows told one by one: `Row 1 (RS): BO 3, k to end`, `Dec row: k2, ssk, k to last 4, k2tog, k2`.

use crate::diagnostic::Diagnostic;
use crate::measure::Side;

use super::super::codes;
use super::super::program::{
    Action, Along, Doubt, Extent, Joined, Label, Num, Pace, Repeated, RowBody, RowPlace, Verb,
    shapes,
};
use super::super::term::Term;
use super::row_list::stretch_of;
use super::row_name::{Labels, NamedRow};
use super::select::RowStretch;
use super::{OnGoing, Parser};

impl Parser<'_> {
    /// A row with a name.
    pub(super) fn labelled_row(&mut self) -> Option<()> {
        let from = self.at;
        let readers: [fn(&mut Self) -> Option<NamedRow>; 5] = [
            Self::sided_named,
            Self::numbered,
            Self::ordinal_named,
            Self::next_named,
            Self::dec_named,
        ];
        let (label, side) = readers.iter().find_map(|reader| self.attempt(reader))?;
        let dec_row = matches!(self.lexemes.get(from), Some(l) if matches!(l.term, Term::Dec | Term::Inc | Term::Double));
        let of_side = side.and_then(|side| self.of_side(&label, side, dec_row, from));
        let side = self.side_beside(side)?;
        let _ = self.attempt(Self::row_kind);
        let and_every = self.attempt(Self::and_every);
        // `Row 5 and every WS row` is a row of that side.
        let side = match (and_every, side) {
            (Some(Some(named)), Some(side)) if named != side => return None,
            (Some(named), side) => named.or(side),
            (None, side) => side,
        };
        let side = self.side_beside(side)?;
        // `Next 4 rows (RS)`: the first of them, or four of that side?
        let several = matches!(label, Labels::One(Label::Next(Num::Given(_))));
        (!several || side.is_none() || of_side.is_some()).then_some(())?;
        let in_pattern = self.said_in_pattern();
        let colon = self
            .eat_any(&[
                Term::Colon,
                Term::Dash,
                Term::Stop,
                Term::Comma,
                Term::Semicolon,
                Term::Equals,
            ])
            .is_some();
        if let Labels::One(Label::Numbered(first, last)) = label
            && last > first
            && and_every.is_none()
            && self.attempt(|p| p.rows_paced(first, last, from)).is_some()
        {
            return Some(());
        }
        let in_pattern = in_pattern.or_else(|| self.said_plain(colon));
        let body = self.attempt(|p| p.body(true)).or(in_pattern);
        let body = body.or_else(|| self.attempt(Self::repeats_row));
        if body.is_none() && colon && self.is(0, &[Term::Rep]) {
            return self.told_by_repeat(&label, of_side, from);
        }
        if body.is_none()
            && and_every.is_none()
            && let Labels::One(Label::Numbered(first, last)) = label
            && let Some(()) = self.attempt(|p| p.as_rows(first, last, from))
        {
            return Some(());
        }
        if body.is_none() && (!colon || matches!(label, Labels::One(Label::Next(_)))) {
            return None;
        }
        if and_every.is_some()
            && body
                .as_ref()
                .is_some_and(|b| shapes(&b.along) || b.again || b.close)
        {
            // `Row 1 and every alternate row: dec` would be worked once only.
            return None;
        }
        if body.is_none() {
            self.nothing_told(from);
        }
        if dec_row && self.used_untold {
            self.told_late(from);
        }
        let body = body.unwrap_or_default();
        if let Some((count, side)) = of_side {
            self.push_of_side(count, side, &body, from);
            return Some(());
        }
        self.push_labelled(label, and_every.is_some(), side, &body, from)
    }

    /// `next 3 RS rows`: so many rows of that side. Before the one of `next RS row` a plain row may lie.
    fn of_side(
        &mut self,
        label: &Labels,
        side: Side,
        dec_row: bool,
        from: usize,
    ) -> Option<(Num, Side)> {
        match *label {
            Labels::One(Label::Next(Num::Fixed(1))) if !dec_row => {
                self.push(Action::Reach(side), from);
                None
            }
            Labels::One(Label::Next(count)) if !dec_row => Some((count, side)),
            _ => None,
        }
    }

    /// `Next 3 RS rows: dec 1 st each end`: so many rows of that side, one plain row before each but the first.
    fn push_of_side(&mut self, count: Num, side: Side, body: &RowBody, from: usize) {
        let before = self.steps.len();
        self.push(Action::Reach(side), from);
        self.push_row(Label::Next(Num::Fixed(1)), Some(side), body.clone(), from);
        let steps = self.steps.split_off(before);
        let extent = Extent::Times(count);
        self.push(Action::Group { steps, extent }, from);
    }

    fn push_labelled(
        &mut self,
        label: Labels,
        and_every: bool,
        side: Option<Side>,
        body: &RowBody,
        from: usize,
    ) -> Option<()> {
        match (label, and_every) {
            (Labels::One(Label::Numbered(n, last)), true) => {
                (n == last).then_some(())?;
                self.push_row(Label::AndEvery(n), side, body.clone(), from);
            }
            (Labels::One(label), _) => self.push_row(label, side, body.clone(), from),
            (Labels::Listed(_), true) => return None,
            (Labels::Listed(list), false) => {
                for number in list {
                    self.push_row(Label::Listed(number), side, body.clone(), from);
                }
            }
        }
        Some(())
    }

    /// `Rows 3-10: dec 1 st each end of every RS row`: so many rows, with shaping on some of them.
    fn rows_paced(&mut self, first: u32, last: u32, from: usize) -> Option<()> {
        let (verb, by) = self.what()?;
        let place = self.place()?;
        let found = self.stretch(true)?;
        let spaced = !matches!(found.pace, Pace::EveryRow | Pace::At(_));
        (spaced && found.extent.is_none()).then_some(())?;
        let before = self.steps.len();
        let going = OnGoing { verb, by, place };
        let extent = Some(Extent::Rest);
        self.stretch_part(going, RowStretch { extent, ..found }, Joined::No, from);
        let steps = self.steps.split_off(before);
        self.verb = Some(going);
        // No row of its own: it says which numbers come.
        let label = Label::Numbered(first, first.checked_sub(1)?);
        let (side, body) = (None, RowBody::default());
        self.push(Action::Row { label, side, body }, from);
        let rows = Num::Fixed(last - first + 1);
        self.push(Action::Within { rows, steps }, from);
        Some(())
    }

    /// `Row 2: patt`, `Next 3 rows: st st`: plain rows.
    pub(super) fn said_in_pattern(&self) -> Option<RowBody> {
        let before = self.at.checked_sub(1).and_then(|at| self.lexemes.get(at))?;
        let ends = [Term::Stop, Term::Semicolon, Term::Comma, Term::Open];
        let ended = self
            .lexeme(0)
            .is_none_or(|l| l.starts_line || ends.contains(&l.term))
            || self.is(0, &[Term::Number]) && self.is(1, &[Term::Stitch]);
        (before.in_pattern && ended).then(RowBody::default)
    }

    /// `Row 2: patt`, `Row 2: even`.
    fn said_plain(&mut self, colon: bool) -> Option<RowBody> {
        let in_pattern = self.said_in_pattern();
        in_pattern.or_else(|| self.attempt(|p| p.said_even(colon)))
    }

    /// `Row 2: even`.
    fn said_even(&mut self, colon: bool) -> Option<RowBody> {
        colon.then_some(())?;
        self.eat(Term::Work);
        self.need(Term::Even)?;
        let ends = [Term::Stop, Term::Semicolon, Term::Open];
        let ended = self.lexeme(0).is_none_or(|l| l.starts_line);
        (ended || self.is(0, &ends)).then(RowBody::default)
    }

    /// `Row 3: As row 1`, `Rows 3 and 4: same as rows 1 and 2`.
    fn as_rows(&mut self, first: u32, last: u32, from: usize) -> Option<()> {
        self.need(Term::As)?;
        let list = if self.eat(Term::Row) {
            self.row_list(Term::Number)?
        } else {
            let list = self.row_list(Term::Ordinal)?;
            self.need(Term::Row)?;
            list
        };
        let Label::Numbered(told, end) = stretch_of(&list)? else {
            return None;
        };
        let ends = self.term(0).is_none()
            || self.is(0, &[Term::Stop, Term::Semicolon, Term::Open])
            || self.is(0, &[Term::Row]) && self.is(1, &[Term::Number]);
        let (rows, of) = (last.checked_sub(first)? + 1, end - told + 1);
        (ends && rows.is_multiple_of(of) && end < first).then_some(())?;
        // No row of its own: the numbers go on from there.
        self.push(
            Action::Row {
                label: Label::Numbered(first, first.checked_sub(1)?),
                side: None,
                body: RowBody::default(),
            },
            from,
        );
        let span = self.span_from(from);
        let choice = self.choice(Doubt::Repeat, span);
        self.push(
            Action::Repeat {
                what: Repeated::Labels(told, end),
                extent: Extent::Times(Num::Fixed(rows / of)),
                more: true,
                in_all: false,
                choice,
            },
            from,
        );
        Some(())
    }

    /// `Next row: rep dec row`.
    fn repeats_row(&mut self) -> Option<RowBody> {
        self.eat_any(&[Term::Rep, Term::Work])?;
        self.eat_any(&[Term::Dec, Term::Inc])?;
        self.need(Term::Row)?;
        self.clause_ends().then(|| RowBody {
            again: true,
            ..RowBody::default()
        })
    }

    /// `Row 5: Rep row 3`, `Next 4 rows: rep rows 1 and 2` is told by the repeat.
    fn told_by_repeat(
        &mut self,
        label: &Labels,
        of_side: Option<(Num, Side)>,
        from: usize,
    ) -> Option<()> {
        match *label {
            Labels::One(Label::Numbered(first, last)) => {
                let _ = self.attempt(|p| p.repeated_as(first, last, from));
            }
            // Rows of one side cannot be a repeat of rows.
            Labels::One(Label::Next(_)) if of_side.is_some() => return None,
            Labels::One(Label::Next(count)) => {
                let rows = self.program_number(count)?;
                let _ = self.attempt(|p| p.repeated_over(rows, from));
            }
            Labels::One(_) | Labels::Listed(_) => {}
        }
        Some(())
    }

    /// `Rows 3-6: rep rows 1 and 2`: as often as the rows hold; `twice` must come to as many rows.
    fn repeated_as(&mut self, first: u32, last: u32, from: usize) -> Option<()> {
        let label = Label::Numbered(first, first.checked_sub(1)?);
        let (side, body) = (None, RowBody::default());
        self.push(Action::Row { label, side, body }, from);
        self.repeated_over(last - first + 1, from)
    }

    /// A repeat that works so many rows.
    fn repeated_over(&mut self, rows: u32, from: usize) -> Option<()> {
        self.repeat()?;
        let bare = self.is_before(&[Term::Row, Term::Number]);
        let what = match self.steps.last().map(|s| &s.action) {
            Some(Action::Repeat { what, .. }) if bare && self.clause_ends() => Some(*what),
            _ => None,
        };
        let of = match what {
            Some(Repeated::Labels(told, end)) => (end + 1).checked_sub(told),
            Some(Repeated::LastRows(number)) => self.program_number(number),
            _ => None,
        };
        if let Some(Action::Repeat { extent, .. }) = self.steps.last_mut().map(|s| &mut s.action)
            && let Some(of @ 1..) = of
            && rows.is_multiple_of(of)
        {
            *extent = Extent::Times(Num::Fixed(rows / of));
        }
        self.push(Action::RowsNamed(rows), from);
        Some(())
    }

    /// A row that was worked by its name before it is told: it was worked as something else.
    fn told_late(&mut self, from: usize) {
        let span = self.span_from(from);
        self.not_understood(
            span,
            "is told after it was worked; put it before, with the row on which it is worked first",
        );
    }

    /// The name of a row with nothing told after it that is done on a row.
    fn nothing_told(&mut self, from: usize) {
        let span = self.span_from(from);
        let name = self.slice(span).trim_end_matches([':', ',', '.', '-']);
        let message = format!(
            "nothing that can be worked is told after '{}'",
            name.trim_end()
        );
        self.diagnostics
            .push(Diagnostic::new(&codes::NOT_UNDERSTOOD, message).at(span));
    }

    /// Another word for the side; `None` when it is the other side.
    #[expect(clippy::option_option, reason = "no side named, or two that disagree")]
    fn side_beside(&mut self, side: Option<Side>) -> Option<Option<Side>> {
        match (self.attempt(Self::bracketed_side), side) {
            (Some(one), Some(other)) if one != other => None,
            (named, before) => Some(named.or(before)),
        }
    }

    /// `(RS)`, `RS`, `(WS facing)`, `(RS, dec row)`.
    fn bracketed_side(&mut self) -> Option<Side> {
        let open = self.eat(Term::Open);
        while self
            .eat_any(&[Term::Comma, Term::Dec, Term::Inc, Term::Row])
            .is_some()
        {}
        // `Row 2 purl` is worked so.
        let bare = !open && self.is(0, &[Term::Knit, Term::Purl]);
        (!bare).then_some(())?;
        let side = self.side()?;
        let after = [
            Term::Facing,
            Term::Side,
            Term::Row,
            Term::Comma,
            Term::Dec,
            Term::Inc,
        ];
        while self.eat_any(&after).is_some() {}
        if open {
            self.need(Term::Close)?;
        } else if !self.is(0, &[Term::Colon, Term::Dash, Term::Stop]) {
            return None;
        }
        Some(side)
    }

    /// `(dec row)` beside the name of a row.
    fn row_kind(&mut self) -> Option<()> {
        self.need(Term::Open)?;
        self.eat_any(&[Term::Dec, Term::Inc, Term::Even])?;
        self.eat(Term::Row);
        self.need(Term::Close)
    }

    /// `and every alt row`, `(and all foll WS rows)`.
    #[expect(
        clippy::option_option,
        reason = "the words may stand there and name no side"
    )]
    fn and_every(&mut self) -> Option<Option<Side>> {
        let open = self.eat(Term::Open);
        self.need(Term::And)?;
        // `2nd and alt rows`.
        if !self.is(0, &[Term::Alternate]) {
            self.eat_any(&[Term::Every, Term::All])?;
        }
        let mut side = None;
        let words = [
            Term::Following,
            Term::Alternate,
            Term::Ws,
            Term::Rs,
            Term::Row,
        ];
        while let Some(word) = self.eat_any(&words) {
            side = match word {
                Term::Rs => Some(Side::Rs),
                Term::Ws => Some(Side::Ws),
                _ => side,
            };
        }
        if open {
            self.need(Term::Close)?;
        }
        Some(side)
    }

    /// `BO 4 sts, k to end`: a row that begins with a bind-off and goes on.
    pub(super) fn bound_row(&mut self) -> Option<()> {
        self.is(0, &[Term::BindOff]).then_some(())?;
        let from = self.at;
        let body = self.body(false)?;
        (!body.close && body.along.len() > 1).then_some(())?;
        self.push_row(Label::Next(Num::Fixed(1)), None, body, from);
        Some(())
    }

    /// A row told stitch by stitch without a name.
    pub(super) fn told_row(&mut self) -> Option<()> {
        let from = self.at;
        let starts = [
            Term::Knit,
            Term::Purl,
            Term::DecOp,
            Term::IncOp,
            Term::Slip,
            Term::Work,
            Term::Open,
        ];
        let body = if self.is(0, &[Term::Dec]) && self.is(1, &[Term::Row]) {
            self.at += 2;
            // `Dec row (RS):` tells it.
            let close = self
                .closes
                .get(self.at)
                .filter(|_| self.is(0, &[Term::Open]));
            let colon = close.map_or(self.at, |close| close + 1);
            let told = self
                .lexemes
                .get(colon)
                .is_some_and(|l| l.term == Term::Colon);
            (!told).then_some(())?;
            RowBody {
                again: true,
                ..RowBody::default()
            }
        } else {
            self.is(0, &starts).then_some(())?;
            // `work even` does not say how far.
            (!(self.is(0, &[Term::Work]) && self.is(1, &[Term::Even]))).then_some(())?;
            self.body(false)?
        };
        if self.is_rest_of_row(from) {
            return Some(());
        }
        self.push_row(Label::Next(Num::Fixed(1)), None, body, from);
        Some(())
    }

    /// `BO 4 sts. K to end.`, `BO 4 sts; knit across`: after stitches that leave where a row begins, `to end` is the rest of
    /// that row.
    fn is_rest_of_row(&self, from: usize) -> bool {
        let words = self.lexemes.get(from..self.at).unwrap_or_default();
        let [verb, rest @ ..] = words else {
            return false;
        };
        let works = matches!(verb.term, Term::Knit | Term::Purl | Term::Work);
        let to_end = [Term::Until, Term::End, Term::Spread, Term::Row, Term::These];
        let whole = rest.iter().all(|l| to_end.contains(&l.term));
        let reaches = |l: &super::Lexeme| matches!(l.term, Term::End | Term::Spread);
        let ends = rest.iter().any(reaches);
        let begun = match self.steps.last().map(|step| &step.action) {
            Some(Action::Shape(part)) => {
                part.verb == Verb::BindOff || part.place == RowPlace::Beginning
            }
            Some(Action::Row { body, .. }) => matches!(
                body.along.last(),
                Some(Along::BindOff(_) | Along::Edge { end: 0, .. })
            ),
            _ => false,
        };
        works && whole && ends && begun
    }

    pub(super) fn push_row(
        &mut self,
        label: Label,
        side: Option<Side>,
        body: RowBody,
        from: usize,
    ) {
        self.going_after(&body);
        self.push(Action::Row { label, side, body }, from);
    }

    /// After a row told stitch by stitch, `then every 4th row` does that row again.
    fn going_after(&mut self, body: &RowBody) {
        let decreases = |a: &Along| match a {
            Along::Group { along, .. } => shapes(along),
            a => matches!(a, Along::Op { .. } | Along::Edge { .. }),
        };
        let shaped = body.again || body.along.iter().any(decreases);
        self.verb = shaped.then_some(OnGoing {
            verb: Verb::Again,
            by: Num::Fixed(1),
            place: RowPlace::EachEnd,
        });
    }
}
