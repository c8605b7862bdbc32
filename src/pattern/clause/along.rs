//! The stitches of one row: `k2, ssk, k to last 4 sts, k2tog, k2`, `(k2, k2tog) to end`.

use super::super::program::{Along, Num, Reach, RowBody, RowPlace};
use super::super::term::Term;
use super::super::vocabulary::plain;
use super::Parser;

impl Parser<'_> {
    /// The stitches of one row. `named` is true after a label, where `purl` alone is a whole row.
    pub(super) fn body(&mut self, named: bool) -> Option<RowBody> {
        let mut body = RowBody::default();
        let start = self.at;
        loop {
            let before = self.at;
            while self.at > start && self.eat_any(&[Term::Comma, Term::And]).is_some() {}
            self.at += usize::from(self.goes_on_behind_mark(&body));
            if self.at >= self.end || self.body_ends(start) || body.close || body.again {
                self.at = before;
                break;
            }
            if self.attempt(|p| p.step_along(&mut body)).is_none() {
                self.at = before;
                break;
            }
            // What follows a turn is the next row, or a short row.
            if matches!(body.along.last(), Some(Along::Turn)) {
                break;
            }
        }
        if matches!(body.along.first(), Some(Along::Turn)) {
            return None;
        }
        let whole = body.close || body.again || is_whole(&body.along, self.at - start);
        (self.at > start && (whole || named && !body.along.is_empty())).then_some(body)
    }

    /// `bind off 4 sts; k to last 2 sts, k2tog`, `bind off center 14 sts - k to end`: after stitches that leave, the rest of
    /// the row may stand behind any mark.
    fn goes_on_behind_mark(&self, body: &RowBody) -> bool {
        let marks = [Term::Semicolon, Term::Colon, Term::Dash];
        let left = matches!(
            body.along.last(),
            Some(Along::BindOff(_) | Along::Centre(_))
        );
        let works = self.is(1, &[Term::Knit, Term::Purl, Term::Work]);
        let far = self.is(2, &[Term::Until]) && self.is(3, &[Term::End, Term::Last]);
        left && self.is(0, &marks) && works && (far || self.is(2, &[Term::Spread]))
    }

    fn body_ends(&self, start: usize) -> bool {
        let Some(here) = self.lexeme(0) else {
            return true;
        };
        let new_line = self.at > start && here.starts_line;
        let stops = matches!(
            here.term,
            Term::Stop | Term::Semicolon | Term::Rep | Term::Size | Term::Close | Term::Ending
        );
        let label = here.term == Term::Row && self.is(1, &[Term::Number]);
        let check =
            matches!(here.term, Term::Open | Term::Dash) && self.is(1, &[Term::Number, Term::Dash]);
        let shaping = here.term == Term::Dec && self.is(1, &[Term::Row]) && self.at > start;
        new_line || stops || label || check || shaping
    }

    /// One step along the row.
    fn step_along(&mut self, body: &mut RowBody) -> Option<()> {
        if self.is(0, &[Term::Star]) {
            body.along.push(self.starred()?);
            return Some(());
        }
        // `..., k2tog, purl row`: the next one.
        let row = self.is(0, &[Term::Knit, Term::Purl, Term::Work]) && self.is(1, &[Term::Row]);
        (!row || body.along.is_empty()).then_some(())?;
        match self.term(0)? {
            Term::Open => {
                let close = self
                    .closes
                    .get(self.at)
                    .copied()
                    .filter(|&c| c < self.end)?;
                self.at += 1;
                let along = self.steps_up_to(close)?;
                self.at = close + 1;
                let extent = self.reach()?;
                body.along.push(Along::Group { along, extent });
            }
            Term::BindOff => return self.bind_off_along(body),
            // `k3tog at each end`.
            Term::DecOp if self.is(1, &[Term::Every]) && self.is(2, &[Term::End, Term::Side]) => {
                let by = self.lexeme(0)?.count()?;
                self.at += 3;
                self.eat_any(&[Term::These, Term::Row]);
                let (dec, start, end) = (true, by, by);
                body.along.push(Along::Edge { dec, start, end });
            }
            Term::Dec | Term::Inc => return self.shaping_along(body),
            _ => {
                let along = self.stitch()?;
                let one = |a: &Along| matches!(a, Along::Op { .. } | Along::Turn);
                match self.attempt(Self::reach).filter(|_| along.iter().any(one)) {
                    Some(extent) => body.along.push(Along::Group { along, extent }),
                    None => body.along.extend(along),
                }
            }
        }
        Some(())
    }

    /// The steps up to this bracket, all of them.
    fn steps_up_to(&mut self, close: usize) -> Option<Vec<Along>> {
        let mut inner = RowBody::default();
        let end = std::mem::replace(&mut self.end, close);
        let mut whole = true;
        while self.at < close && whole {
            while self.eat_any(&[Term::Comma, Term::And]).is_some() {}
            whole = self.at >= close || self.attempt(|p| p.step_along(&mut inner)).is_some();
        }
        self.end = end;
        (whole && !inner.close && !inner.again && !inner.along.is_empty()).then_some(inner.along)
    }

    /// `*k2, k2tog; rep from * to last st`.
    fn starred(&mut self) -> Option<Along> {
        self.need(Term::Star)?;
        let from = self.at;
        let ahead = self.lexemes.get(from..self.end)?;
        let ends = [Term::Stop, Term::BindOff];
        let rep = ahead
            .iter()
            .take_while(|l| !ends.contains(&l.term))
            .position(|l| l.term == Term::Rep)?;
        let close = from + rep;
        let mut stop = close;
        let joints = [Term::Comma, Term::Semicolon, Term::Star];
        while stop > from
            && self
                .lexemes
                .get(stop - 1)
                .is_some_and(|l| joints.contains(&l.term))
        {
            stop -= 1;
        }
        let along = self.steps_up_to(stop)?;
        self.at = close + 1;
        self.eat(Term::From);
        self.need(Term::Star)?;
        if self.is(0, &[Term::Until]) && self.is(1, &[Term::Star]) {
            self.at += 2;
        }
        let extent = match self.reach()? {
            Reach::Times(_) => return None,
            extent => extent,
        };
        Some(Along::Group { along, extent })
    }

    /// `6 times`, `to end`, `all along the row`, `to last 2 sts`.
    fn reach(&mut self) -> Option<Reach> {
        if let Some(count) = self.attempt(|p| {
            p.eat(Term::Rep);
            let count = match p.often() {
                Some(count) => return Some(count),
                None => p.amount()?,
            };
            p.need(Term::Times)?;
            Some(count)
        }) {
            return (!self.is(0, &[Term::More])).then_some(Reach::Times(count));
        }
        self.eat(Term::Rep);
        if let Some(()) = self.attempt(|p| {
            p.eat(Term::All);
            p.need(Term::Spread)?;
            while p.eat(Term::Spread) {}
            p.eat_any(&[Term::These, Term::Row]);
            p.eat(Term::Row);
            Some(())
        }) {
            return Some(Reach::ToEnd);
        }
        match self.far()? {
            Along::ToEnd => Some(Reach::ToEnd),
            Along::ToLast(n) => Some(Reach::ToLast(n)),
            _ => None,
        }
    }

    /// `to end of row`, `to last 3 sts`, `to 3 sts before end`, `until there are 20 sts on needle`.
    fn far(&mut self) -> Option<Along> {
        self.need(Term::Until)?;
        if self.eat(Term::End) {
            self.eat(Term::Row);
            return Some(Along::ToEnd);
        }
        if self.eat(Term::Last) {
            let count = self.amount_or(1);
            self.eat(Term::Remaining);
            self.eat(Term::Stitch);
            return Some(Along::ToLast(count));
        }
        if self.eat(Term::There) {
            while self.eat(Term::There) {}
            let count = self.amount()?;
            self.need(Term::Stitch)?;
            self.eat(Term::Remaining);
            return Some(Along::UntilOn(count));
        }
        let count = self.amount()?;
        self.need(Term::Stitch)?;
        let on_needle = self.lexeme(0).filter(|l| l.term == Term::Remaining);
        if on_needle.is_some_and(|l| self.slice(l.span).to_lowercase().starts_with("on")) {
            self.at += 1;
            return Some(Along::UntilOn(count));
        }
        self.eat_any(&[Term::From, Term::Before, Term::Remaining]);
        self.need(Term::End)?;
        self.eat(Term::Row);
        Some(Along::ToLast(count))
    }

    /// `until 3 sts remain, k2tog, k1`: to the last 3.
    fn until_left(&mut self) -> Option<Along> {
        self.need(Term::Until)?;
        self.eat(Term::There);
        let count = self.amount()?;
        self.need(Term::Stitch)?;
        self.need(Term::Remaining)?;
        self.need(Term::Comma)?;
        self.is(0, &[Term::DecOp, Term::Knit, Term::Purl, Term::IncOp])
            .then_some(Along::ToLast(count))
    }

    /// One stitch or stretch of stitches.
    fn stitch(&mut self) -> Option<Vec<Along>> {
        let here = self.lexeme(0)?;
        self.at += 1;
        let one = |along| Some(vec![along]);
        match here.term {
            Term::DecOp => {
                let lose = here.count()?;
                let word = plain(self.slice(here.span));
                let passed = word.starts_with("pass") || word != "skpsso" && word.ends_with("sso");
                let takes = if passed { 0 } else { lose + 1 };
                one(Along::Op {
                    takes,
                    lose,
                    gain: 0,
                })
            }
            Term::IncOp => {
                let word = self.slice(here.span).to_lowercase();
                let takes = u32::from(word.ends_with("fb"));
                one(Along::Op {
                    takes,
                    lose: 0,
                    gain: 1,
                })
            }
            Term::Turn => one(Along::Turn),
            Term::Knit | Term::Purl | Term::Work | Term::Slip => self.worked(here.term),
            // `, to end`: the rest of the row.
            Term::Until => {
                self.at -= 1;
                self.far().map(|along| vec![along])
            }
            _ => None,
        }
    }

    /// After `k`, `p`, `work`, `sl`: `2`, `2 tog`, `to last 3 sts`, `to end`, `even`, `across`.
    fn worked(&mut self, verb: Term) -> Option<Vec<Along>> {
        if let Some(count) = self.attempt(Self::amount) {
            self.eat(Term::Stitch);
            // `sl 2 tog` takes none away.
            if verb == Term::Slip && self.eat(Term::Together) {
                return Some(vec![Along::Work(count)]);
            }
            if self.eat(Term::Together) {
                let fixed = self.program_number(count)?;
                let lose = fixed.checked_sub(1)?;
                return Some(vec![Along::Op {
                    takes: fixed,
                    lose,
                    gain: 0,
                }]);
            }
            let other = [
                Term::Row,
                Term::Ridge,
                Term::Times,
                Term::Inch,
                Term::Cm,
                Term::Even,
                Term::More,
                Term::Rs,
                Term::Ws,
                Term::Following,
                Term::Remaining,
                Term::Hold,
                Term::Every,
                Term::Beginning,
            ];
            return (!self.is(0, &other)).then_some(vec![Along::Work(count)]);
        }
        if verb == Term::Slip {
            return self.set_aside_along();
        }
        // `work dec row` is that row.
        if self.is(0, &[Term::Dec, Term::Inc]) && self.is(1, &[Term::Row]) {
            return None;
        }
        if let Some(far) = self.attempt(Self::far) {
            return Some(vec![far]);
        }
        if let Some(far) = self.attempt(Self::until_left) {
            return Some(vec![far]);
        }
        let even = self.eat_any(&[Term::Even, Term::Back]).is_some();
        let spread = self.eat(Term::Spread);
        if (even || spread) && self.is(0, &[Term::Until]) {
            return self.far().map(|far| vec![far]);
        }
        self.eat_any(&[Term::These, Term::All]);
        if spread || self.is(0, &[Term::Stitch, Term::Row]) {
            self.eat(Term::Row);
            self.eat(Term::Stitch);
        }
        let ends = [
            Term::Stop,
            Term::Semicolon,
            Term::Comma,
            Term::Close,
            Term::Open,
            Term::Dash,
            Term::Then,
            Term::And,
        ];
        let ended =
            self.term(0).is_none() || self.is(0, &ends) || self.body_ends(self.at.wrapping_sub(1));
        ended.then_some(vec![Along::ToEnd])
    }

    /// `place next 24 sts on a holder` on the way.
    fn set_aside_along(&mut self) -> Option<Vec<Along>> {
        self.eat_any(&[Term::Next, Term::Following, Term::Centre])?;
        self.eat(Term::Centre);
        let count = self.amount()?;
        self.eat(Term::Stitch);
        self.eat_any(&[Term::Until, Term::For]);
        self.need(Term::Hold)?;
        self.eat(Term::ForNeck);
        Some(vec![Along::Centre(count)])
    }

    pub(super) fn program_number(&self, num: Num) -> Option<u32> {
        match num {
            Num::Fixed(n) => Some(n),
            Num::Given(id) => match self.amounts.get(id)?.entries.as_slice() {
                [one] => one.value.and_then(super::super::term::whole),
                _ => None,
            },
        }
    }

    fn bind_off_along(&mut self, body: &mut RowBody) -> Option<()> {
        self.at += 1;
        // `Next row: cast off.`
        if body.along.is_empty() && (self.term(0).is_none() || self.is(0, &[Term::Stop])) {
            body.close = true;
            return Some(());
        }
        if self.eat_any(&[Term::Remaining, Term::All]).is_some() {
            if let Some(count) = self.attempt(Self::amount) {
                body.along.push(Along::BindOff(count));
            } else if !body.along.is_empty() {
                return None;
            } else {
                body.close = true;
            }
            self.eat(Term::Stitch);
            return Some(());
        }
        let centre = self.eat(Term::Centre);
        self.eat_any(&[Term::Next, Term::Following]);
        let centre = self.eat(Term::Centre) || centre;
        let count = self.amount()?;
        self.eat(Term::Stitch);
        let neck = self.eat(Term::ForNeck);
        let _ = self.attempt(|p| {
            (p.place()? == RowPlace::Beginning).then_some(())?;
            while p
                .eat_any(&[Term::Every, Term::Row, Term::These, Term::Next])
                .is_some()
            {}
            Some(())
        });
        let middle = centre || neck && !body.along.is_empty();
        body.along.push(if middle {
            Along::Centre(count)
        } else {
            Along::BindOff(count)
        });
        Some(())
    }

    fn shaping_along(&mut self, body: &mut RowBody) -> Option<()> {
        let dec = self.term(0)? == Term::Dec;
        self.at += 1;
        if self.eat(Term::Row) {
            body.again = true;
            return body.along.is_empty().then_some(());
        }
        let by = self.attempt(Self::plain_number);
        self.eat(Term::Stitch);
        // `dec 1, work to last 2 sts, dec 1`: where it stands along the row.
        let ends = [
            Term::Comma,
            Term::Stop,
            Term::Semicolon,
            Term::Open,
            Term::Close,
            Term::Dash,
        ];
        if let Some(lose @ 1..=2) = by
            && dec
            && (self.term(0).is_none() || self.is(0, &ends))
        {
            let takes = lose + 1;
            body.along.push(Along::Op {
                takes,
                lose,
                gain: 0,
            });
            return Some(());
        }
        let by = by.unwrap_or(1);
        let place = self.place()?;
        let _ = self.attempt(|p| {
            p.eat_any(&[Term::Every, Term::These]);
            p.need(Term::Row)?;
            (!p.is(0, &[Term::Number])).then_some(())
        });
        // `each end every RS row 3 times` is more than this row.
        let rows = [
            Term::Every,
            Term::Next,
            Term::Following,
            Term::Alternate,
            Term::Ordinal,
        ];
        if self.is(0, &rows) {
            return None;
        }
        let (start, end) = match place {
            RowPlace::EachEnd => (by, by),
            RowPlace::End => (0, by),
            RowPlace::Beginning => (by, 0),
            _ => return None,
        };
        body.along.push(Along::Edge { dec, start, end });
        Some(())
    }
}

/// True when the steps tell the row to its end, or to a turn.
fn is_whole(along: &[Along], words: usize) -> bool {
    let ends = |a: &Along| match a {
        Along::ToEnd | Along::Turn | Along::ToLast(_) | Along::UntilOn(_) => true,
        Along::Group { extent, .. } => !matches!(extent, Reach::Times(_)),
        Along::Centre(_) => true,
        _ => false,
    };
    let more = along.iter().any(|a| !matches!(a, Along::ToEnd));
    (more || words > 1) && along.iter().any(ends)
}
