//! Plain rows: `work 3 rows even`, `purl back`, `cont straight until armhole measures 8 in`.

use super::super::program::{Action, Extent, Joined, Num, RowPlace};
use super::super::term::Term;
use super::place::agreed;
use super::select::RowStretch;
use super::{OnGoing, Parser};

const PLAIN_WORDS: &[Term] = &[
    Term::Work,
    Term::Even,
    Term::Knit,
    Term::Purl,
    Term::For,
    Term::Then,
];

impl Parser<'_> {
    pub(super) fn even(&mut self) -> Option<()> {
        let from = self.at;
        let readers: [fn(&mut Self, usize) -> Option<()>; 5] = [
            Self::even_until,
            Self::even_rows,
            Self::purl_back,
            Self::when_measures,
            Self::even_alone,
        ];
        readers
            .iter()
            .find_map(|reader| self.attempt(|p| reader(p, from)))
    }

    /// `work even` alone does not say how far.
    fn even_alone(&mut self, from: usize) -> Option<()> {
        while self.eat(Term::Work) {}
        self.need(Term::Even)?;
        let ends = [
            Term::Stop,
            Term::Comma,
            Term::Semicolon,
            Term::Then,
            Term::And,
        ];
        if !(self.term(0).is_none() || self.is(0, &ends)) {
            return None;
        }
        let span = self.span_from(from);
        self.not_understood(span, "does not say how many rows, or until what length");
        Some(())
    }

    /// `work 3 rows even`, `2 rows straight`, `work even for 4 rows`, `work 4 cm more`.
    fn even_rows(&mut self, from: usize) -> Option<()> {
        let mut plain = false;
        while let Some(word) = self.eat_any(PLAIN_WORDS) {
            // `for 8 rows` alone may belong to what was done before.
            let joint = matches!(word, Term::For | Term::Then);
            plain |= !joint || word == Term::For && self.after_work();
        }
        if plain && let Some(count) = self.attempt(Self::count_on_the_way) {
            self.push(Action::Count(count), from);
            self.eat(Term::For);
            if self.is(0, &[Term::Until]) {
                return self.even_until(from);
            }
        }
        let worked = self.counts_rows(from);
        let next = self.eat(Term::Next);
        let ahead = self.eat(Term::Following);
        let mut more = self.eat(Term::More);
        let one = self.is(0, &[Term::Row]) && !self.is_plural(0);
        let number = match self.attempt(Self::amount) {
            Some(number) => number,
            None if (next || more || ahead) && one => Num::Fixed(1),
            // `work a WS row`.
            None if plain && self.is(0, &[Term::Rs, Term::Ws]) && !self.is_plural(1) => {
                Num::Fixed(1)
            }
            None => return None,
        };
        more |= self.eat(Term::More);
        if let Some(unit) = self.unit() {
            more |= self.eat(Term::More);
            self.eat(Term::Even);
            (plain || more).then_some(())?;
            self.push(
                Action::EvenLength {
                    number,
                    unit,
                    more: true,
                    whole_work: false,
                },
                from,
            );
            return Some(());
        }
        let side = self.attempt(|p| {
            let side = p.side()?;
            p.is(0, &[Term::Row]).then_some(side)
        });
        // `2 RS rows` are not two rows.
        (side.is_none() || self.program_number(number) == Some(1)).then_some(())?;
        // `2 plain rows`.
        plain |= side.is_none() && self.is(1, &[Term::Row]) && self.eat(Term::Even);
        let ridge = self.term(0) == Some(Term::Ridge);
        self.eat_any(&[Term::Row, Term::Ridge])?;
        if worked && !ridge && side.is_none() && !self.is(0, &[Term::Even]) {
            self.push(Action::Rows(number), from);
            return Some(());
        }
        while self
            .eat_any(&[Term::Even, Term::More, Term::Knit, Term::Purl])
            .is_some()
        {
            plain = true;
        }
        if !plain && (next || !self.after_work() || self.after_length(from)) {
            return None;
        }
        if !ridge && self.attempt(|p| p.within(number, from)).is_some() {
            return Some(());
        }
        self.push(Action::Even(number), from);
        if let Some(side) = side {
            self.push(Action::Ended(side), from);
        }
        if ridge {
            self.push(Action::Even(number), from);
        }
        Some(())
    }

    /// `you have worked 8 rows` counts them.
    fn counts_rows(&self, from: usize) -> bool {
        let word = self.lexemes.get(from).map(|l| self.slice(l.span));
        let worked = word.is_some_and(|w| w.eq_ignore_ascii_case("worked"));
        worked && self.is_before(&[Term::Work]) && self.at == from + 1
    }

    /// `until cap measures 1 in, about 8 rows`: the same stretch again, or more rows?
    fn after_length(&self, from: usize) -> bool {
        let last = self.steps.last().map(|s| &s.action);
        let words = self.lexemes.get(from..self.at).unwrap_or_default();
        let then = words
            .iter()
            .any(|l| matches!(l.term, Term::Then | Term::For));
        matches!(last, Some(Action::EvenLength { .. })) && !then
    }

    /// `work 12 rows, decreasing 1 st each end of next and every foll 4th row`: 12 rows in all.
    fn within(&mut self, rows: Num, from: usize) -> Option<()> {
        while self
            .eat_any(&[Term::Comma, Term::And, Term::With])
            .is_some()
        {}
        self.eat(Term::SameTime);
        let word = self.lexeme(0)?;
        let shaping = self.slice(word.span).to_lowercase().ends_with("ing");
        let (verb, by) = self.what()?;
        let place = self.attempt(Self::place).unwrap_or(RowPlace::Unnamed);
        let place = self.neck_meant(self.edge_going_on(place));
        let going = OnGoing { verb, by, place };
        let mut found = Vec::new();
        while let Some(stretch) = self.attempt(|p| {
            while p.eat_any(&[Term::Comma, Term::And, Term::Then]).is_some() {}
            let start = p.at;
            p.attempt(|p| agreed(place, p.place()?));
            p.stretch(true).map(|stretch| (stretch, start))
        }) {
            found.push(stretch);
        }
        // `work next row, decreasing 1 st at each end`: that row.
        if found.is_empty() && shaping && self.program_number(rows) == Some(1) && self.clause_ends()
        {
            let once = RowStretch::every_row(Extent::Times(Num::Fixed(1)));
            self.verb = Some(going);
            self.stretch_part(going, once, Joined::No, from);
            return Some(());
        }
        let open = found.iter().any(|(stretch, _)| stretch.extent.is_none());
        // `work 4 rows, dec 1 st each end of 3rd row`.
        let counted = found.iter().all(|(stretch, _)| stretch.counted);
        (!found.is_empty() && (open || shaping || counted)).then_some(())?;
        let before = self.steps.len();
        for (stretch, start) in found {
            let extent = Some(stretch.extent.unwrap_or(Extent::Rest));
            self.stretch_part(going, RowStretch { extent, ..stretch }, Joined::No, start);
        }
        let steps = self.steps.split_off(before);
        self.verb = Some(going);
        self.push(Action::Within { rows, steps }, from);
        Some(())
    }

    /// `work even on these 51 sts for 3 rows` states the count on the way.
    fn count_on_the_way(&mut self) -> Option<Num> {
        self.eat(Term::These);
        self.eat(Term::Remaining);
        let count = self.amount()?;
        self.need(Term::Stitch)?;
        self.is(0, &[Term::For, Term::Until]).then_some(count)
    }

    /// In a list of plain stretches the verb stands once: `work 2 rows, then 3 rows`.
    fn after_work(&self) -> bool {
        let last = self.steps.last().map(|s| &s.action);
        matches!(last, Some(Action::Even(_) | Action::EvenLength { .. }))
    }

    /// `work even until armhole measures 8 in`.
    fn even_until(&mut self, from: usize) -> Option<()> {
        let joined = self.after_joint();
        while self.eat_any(PLAIN_WORDS).is_some() {}
        // `next 2 rows until cap measures 1 in`: not a clause of its own.
        (joined || self.at > from || from == self.sentence_at).then_some(())?;
        self.need(Term::Until)?;
        self.measured(from)
    }

    /// `when work measures 46 cm`, after which the next clause happens.
    fn when_measures(&mut self, from: usize) -> Option<()> {
        self.need(Term::When)?;
        self.is(0, &[Term::Piece, Term::Garment, Term::Armhole, Term::Work])
            .then_some(())?;
        self.measured(from)
    }

    /// `armhole measures 8 in from first bind-off`; the whole work is measured from below unless
    /// it says otherwise.
    fn measured(&mut self, from: usize) -> Option<()> {
        let mut garment = false;
        let names = [
            Term::Piece,
            Term::Garment,
            Term::Armhole,
            Term::Work,
            Term::These,
        ];
        while let Some(name) = self.eat_any(&names) {
            garment |= matches!(name, Term::Garment | Term::Work);
        }
        self.eat(Term::Measures);
        let number = self.amount()?;
        let unit = self.unit()?;
        self.eat(Term::Even);
        let since = self.at;
        if self.attempt(Self::measured_from_a_decrease).is_some() {
            let span = self.span_from(since);
            self.not_understood(
                span,
                "is no place that these rows are measured from; give the length from the first bind-off",
            );
            return Some(());
        }
        let below = self.is_from_below();
        let from_cap = self.measured_from();
        let whole_work = below || garment && !from_cap;
        let action = Action::EvenLength {
            number,
            unit,
            more: false,
            whole_work,
        };
        self.push(action, from);
        Some(())
    }

    /// `from first dec row`: within these lines, above their first bind-off.
    fn measured_from_a_decrease(&mut self) -> Option<()> {
        self.need(Term::From)?;
        while self
            .eat_any(&[Term::Ordinal, Term::Last, Term::Beginning, Term::Armhole])
            .is_some()
        {}
        self.eat_any(&[Term::Dec, Term::Piece])
            .filter(|term| *term == Term::Dec)?;
        while self.eat_any(&[Term::Piece, Term::Row]).is_some() {}
        Some(())
    }

    /// `from cast-on edge` lies below these lines.
    pub(super) fn is_from_below(&self) -> bool {
        self.is(0, &[Term::From]) && (1..4).any(|ahead| self.term(ahead) == Some(Term::CastOn))
    }

    /// `purl back`, `purl next row`, `knit 1 row` without a number.
    fn purl_back(&mut self, from: usize) -> Option<()> {
        self.eat_any(&[Term::Purl, Term::Knit, Term::Work])?;
        if self.eat(Term::Back) {
            (!self.is(0, &[Term::Number, Term::Next, Term::Every])).then_some(())?;
        } else {
            self.need(Term::Next)?;
            (!self.is_plural(0)).then_some(())?;
            self.need(Term::Row)?;
        }
        self.eat(Term::Even);
        self.push(Action::Even(Num::Fixed(1)), from);
        Some(())
    }
}
