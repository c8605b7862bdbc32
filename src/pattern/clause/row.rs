//! Rows told one by one: `Row 1 (RS): BO 3, k to end`, `Dec row: k2, ssk, k to last 4, k2tog, k2`.

use crate::measure::Side;

use super::super::program::{Action, Label, Num, Place, RowBody, Verb};
use super::super::term::Term;
use super::{Going, Parser};

/// The name of a row and the side it gives.
type Named = (Label, Option<Side>);

impl Parser<'_> {
    /// A row with a name.
    pub(super) fn labelled_row(&mut self) -> Option<()> {
        let from = self.at;
        let readers: [fn(&mut Self) -> Option<Named>; 4] = [
            Self::numbered,
            Self::ordinal_named,
            Self::next_named,
            Self::dec_named,
        ];
        let (label, side) = readers.iter().find_map(|reader| self.attempt(reader))?;
        let side = self.attempt(Self::bracketed_side).or(side);
        let _ = self.attempt(Self::row_kind);
        let and_every = self.attempt(Self::and_every);
        let side = self.attempt(Self::bracketed_side).or(side);
        let colon = self
            .eat_any(&[Term::Colon, Term::Dash, Term::Stop, Term::Comma])
            .is_some();
        let body = self.attempt(|p| p.body(true));
        if body.is_none() && colon && self.is(0, &[Term::Rep]) {
            // `Row 5: Rep row 3` is told by the repeat.
            return Some(());
        }
        if body.is_none() && (!colon || matches!(label, Label::Next(_))) {
            return None;
        }
        let label = match (label, and_every) {
            (Label::Numbered(n, _), Some(())) => Label::AndEvery(n),
            (label, _) => label,
        };
        let body = body.unwrap_or_default();
        self.push(Action::Row { label, side, body }, from);
        self.going_after(body);
        Some(())
    }

    /// `(RS)`, `RS`, `(WS facing)`, `(RS, dec row)`.
    fn bracketed_side(&mut self) -> Option<Side> {
        let open = self.eat(Term::Open);
        while self
            .eat_any(&[Term::Comma, Term::Dec, Term::Inc, Term::Row])
            .is_some()
        {}
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
    fn and_every(&mut self) -> Option<()> {
        let open = self.eat(Term::Open);
        self.need(Term::And)?;
        self.eat_any(&[Term::Every, Term::All])?;
        while self
            .eat_any(&[
                Term::Following,
                Term::Alternate,
                Term::Ws,
                Term::Rs,
                Term::Row,
                Term::Ordinal,
            ])
            .is_some()
        {}
        if open {
            self.need(Term::Close)?;
        }
        Some(())
    }

    /// `Row 3`, `Rows 3-6`, `Rows 3 and 4`.
    fn numbered(&mut self) -> Option<Named> {
        self.need(Term::Row)?;
        let first = self.plain_number()?;
        let last = self.attempt(|p| {
            p.eat_any(&[Term::Dash, Term::And, Term::Until])?;
            p.plain_number()
        });
        self.label_end()?;
        Some((Label::Numbered(first, last.unwrap_or(first)), None))
    }

    fn label_end(&self) -> Option<()> {
        let ends = &[
            Term::Colon,
            Term::Open,
            Term::Dash,
            Term::Stop,
            Term::And,
            Term::Rs,
            Term::Ws,
            Term::BindOff,
            Term::Knit,
            Term::Purl,
            Term::Work,
            Term::Dec,
            Term::Equals,
        ];
        (self.is(0, ends) && !self.is(1, &[Term::Number])
            || self.is(0, &[Term::Colon])
            || self.is(0, &[Term::Knit, Term::Purl, Term::BindOff, Term::Dec]))
        .then_some(())
    }

    /// `1st row:`, `2nd row (WS):`, `1st and 2nd rows:`.
    fn ordinal_named(&mut self) -> Option<Named> {
        let first = self
            .lexeme(0)
            .filter(|l| l.term == Term::Ordinal)?
            .count()?;
        self.at += 1;
        let last = self.attempt(|p| {
            p.eat_any(&[Term::And, Term::Until, Term::Dash])?;
            let last = p.lexeme(0).filter(|l| l.term == Term::Ordinal)?.count()?;
            p.at += 1;
            Some(last)
        });
        self.need(Term::Row)?;
        self.label_end()?;
        Some((Label::Numbered(first, last.unwrap_or(first)), None))
    }

    /// `Next row (RS):`, `Next 4 rows:`, `Next row: `, `Next row bind off 5`.
    fn next_named(&mut self) -> Option<Named> {
        self.eat_any(&[Term::Next, Term::Following])?;
        let count = self.amount_or(1);
        let side = self.attempt(Self::side);
        self.need(Term::Row)?;
        let verbs = &[
            Term::Colon,
            Term::BindOff,
            Term::Knit,
            Term::Purl,
            Term::Dec,
            Term::DecOp,
            Term::Slip,
            Term::Work,
            Term::Inc,
        ];
        let bracket = self.is(0, &[Term::Open])
            && self.is(1, &[Term::Rs, Term::Ws, Term::Dec, Term::Inc, Term::Even]);
        (self.is(0, verbs) || bracket || self.is(0, &[Term::Dash])).then_some(())?;
        Some((Label::Next(count), side))
    }

    /// `Dec row (RS):`, `Decrease row -`.
    fn dec_named(&mut self) -> Option<Named> {
        let side = self.attempt(Self::side);
        self.eat_any(&[Term::Dec, Term::Inc])?;
        let _ = self.attempt(|p| {
            let number = p.plain_number();
            p.is(0, &[Term::Row]).then_some(number)
        });
        self.need(Term::Row)?;
        let _ = self.plain_number();
        let side_next = self.is(0, &[Term::Open]) && self.is(1, &[Term::Rs, Term::Ws]);
        let colon = self.is(0, &[Term::Colon, Term::Dash]);
        (colon || side_next).then_some(())?;
        Some((Label::Next(Num::Fixed(1)), side))
    }

    /// A row told stitch by stitch without a name.
    pub(super) fn told_row(&mut self) -> Option<()> {
        let from = self.at;
        let starts = [Term::Knit, Term::Purl, Term::DecOp, Term::IncOp, Term::Slip];
        let body = if self.is(0, &[Term::Dec]) && self.is(1, &[Term::Row]) {
            self.at += 2;
            RowBody {
                again: true,
                ..RowBody::default()
            }
        } else {
            self.is(0, &starts).then_some(())?;
            self.body(false)?
        };
        let label = Label::Next(Num::Fixed(1));
        self.push(
            Action::Row {
                label,
                side: None,
                body,
            },
            from,
        );
        self.going_after(body);
        Some(())
    }

    /// The stitches of one row. `named` is true after a label, where `purl` alone is a whole row.
    fn body(&mut self, named: bool) -> Option<RowBody> {
        let mut body = RowBody::default();
        let mut row = Told {
            passed: false,
            whole: false,
            shaped: false,
        };
        let start = self.at;
        while self.at < self.end && !self.body_ends(start) {
            if self.stitches(&mut body, &mut row).is_none() {
                break;
            }
        }
        let told = row.shaped || row.whole || body.again || body.close;
        let enough = if named {
            self.at > start
        } else {
            row.whole && (row.shaped || row.passed)
        };
        (told && enough).then_some(body)
    }

    /// After a row told stitch by stitch, `then every 4th row` does that row again.
    fn going_after(&mut self, body: RowBody) {
        let shapes =
            body.again || body.dec_start + body.dec_end + body.inc_start + body.inc_end > 0;
        self.verb = shapes.then_some(Going {
            verb: Verb::Again,
            by: Num::Fixed(1),
            place: Place::EachEnd,
        });
    }

    fn body_ends(&self, start: usize) -> bool {
        let Some(here) = self.lexeme(0) else {
            return true;
        };
        let new_line = self.at > start && here.starts_line;
        let stops = matches!(
            here.term,
            Term::Stop
                | Term::Semicolon
                | Term::Rep
                | Term::Next
                | Term::Size
                | Term::Close
                | Term::Ending
                | Term::Star
        );
        let label = here.term == Term::Row && self.is(1, &[Term::Number]);
        let check =
            matches!(here.term, Term::Open | Term::Dash) && self.is(1, &[Term::Number, Term::Dash]);
        let repeat = here.term == Term::Then
            || here.term == Term::Until && !self.is(1, &[Term::End, Term::Last]);
        new_line || stops || label || check || repeat && self.at > start
    }

    /// One step along the row.
    fn stitches(&mut self, body: &mut RowBody, row: &mut Told) -> Option<()> {
        let here = self.lexeme(0)?;
        match here.term {
            Term::BindOff => return self.bind_off_in_row(body, row),
            Term::Dec | Term::Inc => return self.shaping_in_row(body, row),
            Term::DecOp | Term::IncOp => {
                self.at += 1;
                row.shaped = true;
                let number = here.count().unwrap_or(1);
                add(body, here.term == Term::DecOp, row.passed, number);
            }
            Term::Knit | Term::Purl | Term::Work | Term::Slip => {
                self.at += 1;
                return self.along(body, row, here.term);
            }
            Term::Comma
            | Term::Colon
            | Term::And
            | Term::Even
            | Term::Stitch
            | Term::Row
            | Term::For
            | Term::Open
            | Term::Dash
            | Term::From
            | Term::With => self.at += 1,
            Term::Until if self.is(1, &[Term::End, Term::Last]) => {
                return self.along(body, row, Term::Work);
            }
            Term::Every | Term::All if self.is(1, &[Term::Row, Term::Stitch]) => self.at += 2,
            Term::Beginning => self.at += 1,
            Term::Number if self.is(1, &[Term::Stitch, Term::Comma]) => self.at += 1,
            _ => return None,
        }
        Some(())
    }

    /// After `k`, `p`, `work`, `sl`: `2`, `2 tog`, `to last 3 sts`, `to end`, `even`.
    fn along(&mut self, body: &mut RowBody, row: &mut Told, verb: Term) -> Option<()> {
        if let Some(count) = self.attempt(Self::plain_number) {
            self.eat(Term::Stitch);
            if self.eat(Term::Together) {
                row.shaped = true;
                add(body, true, row.passed, count.saturating_sub(1));
            }
            if !self.is(0, &[Term::Until]) {
                return Some(());
            }
        }
        if verb == Term::Slip {
            return Some(());
        }
        row.whole = true;
        if self.eat(Term::Until) {
            row.passed = true;
            while self
                .eat_any(&[
                    Term::Last,
                    Term::End,
                    Term::Row,
                    Term::Stitch,
                    Term::Remaining,
                    Term::With,
                    Term::Until,
                    Term::From,
                    Term::Beginning,
                ])
                .is_some()
                || self
                    .attempt(|p| {
                        p.plain_number()?;
                        p.is(0, &[Term::Stitch, Term::Comma, Term::Remaining])
                            .then_some(())
                    })
                    .is_some()
            {}
            if self.term(0) == Some(Term::Unknown) {
                return None;
            }
        }
        Some(())
    }

    fn bind_off_in_row(&mut self, body: &mut RowBody, row: &mut Told) -> Option<()> {
        self.at += 1;
        row.shaped = true;
        if self.eat_any(&[Term::Remaining, Term::All]).is_some() {
            self.attempt(Self::amount);
            self.eat(Term::Stitch);
            body.close = true;
            return Some(());
        }
        let count = self.amount()?;
        self.eat(Term::Stitch);
        self.attempt(|p| {
            let place = p.place()?;
            while p
                .eat_any(&[Term::Every, Term::Row, Term::These, Term::Next])
                .is_some()
            {}
            Some(place)
        });
        if row.passed {
            body.bind_off_end = Some(count);
        } else {
            body.bind_off = Some(count);
        }
        Some(())
    }

    fn shaping_in_row(&mut self, body: &mut RowBody, row: &mut Told) -> Option<()> {
        let dec = self.term(0)? == Term::Dec;
        self.at += 1;
        row.shaped = true;
        if self.eat(Term::Row) {
            body.again = true;
            return Some(());
        }
        let by = self.attempt(Self::plain_number).unwrap_or(1);
        self.eat(Term::Stitch);
        let place = self.attempt(Self::place);
        self.attempt(|p| {
            p.eat_any(&[Term::Every, Term::These])?;
            p.need(Term::Row)
        });
        row.whole |= place.is_some();
        match place {
            Some(Place::EachEnd) => {
                add(body, dec, false, by);
                add(body, dec, true, by);
            }
            Some(Place::End) => add(body, dec, true, by),
            Some(_) => add(body, dec, false, by),
            None => add(body, dec, row.passed, by),
        }
        Some(())
    }
}

/// What has been told of a row so far.
#[derive(Clone, Copy)]
struct Told {
    /// Past the middle: `k to last 3 sts`.
    passed: bool,
    /// Stitches across the row were named.
    whole: bool,
    shaped: bool,
}

fn add(body: &mut RowBody, dec: bool, end: bool, number: u32) {
    let place = match (dec, end) {
        (true, false) => &mut body.dec_start,
        (true, true) => &mut body.dec_end,
        (false, false) => &mut body.inc_start,
        (false, true) => &mut body.inc_end,
    };
    *place = place.saturating_add(number);
}
