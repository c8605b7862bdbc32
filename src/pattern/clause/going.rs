//! Clauses that leave out what is done, and go on with what was done before: `then every 4th row twice`.

use super::super::program::{Action, Extent, Joined, Num, Pace, RowPlace, Verb};
use super::super::term::Term;
use super::select::RowStretch;
use super::stretches::other_side;
use super::{OnGoing, Parser};

impl OnGoing {
    /// The edge on other rows, where none is named: `at the beginning of the next 2 rows` is each edge in turn, and every 2nd
    /// row begins at one of them alone.
    pub(super) fn other_rows(self) -> RowPlace {
        match (self.verb, self.place) {
            (Verb::BindOff, RowPlace::Beginning) => RowPlace::Unnamed,
            (_, place) => place,
        }
    }
}

/// What joins a clause to the one before it.
pub(super) const JOINTS: &[Term] = &[
    Term::Comma,
    Term::And,
    Term::Then,
    Term::Semicolon,
    Term::Colon,
];

/// What joins the steps of a list: a colon parts it from what stands before.
pub(super) const STEP_JOINTS: &[Term] = JOINTS.split_at(4).0;

impl Parser<'_> {
    /// `2 sts at beg of next 4 rows` after `cast on 3 sts at beg of next 2 rows`.
    fn other_number(&mut self) -> Option<(Num, RowPlace, RowStretch)> {
        let by = self.amount()?;
        self.need(Term::Stitch)?;
        let place = self.place()?;
        let found = self.stretch(true)?;
        let binds = self.verb.is_some_and(|going| going.verb == Verb::BindOff);
        (!(binds && found.cannot_bind_off(place))).then_some(())?;
        Some((by, place, found))
    }

    /// A mark, a joint or the end of a clause stands before: what follows is no tail of other words.
    pub(super) fn after_joint(&self) -> bool {
        let ends = [
            Term::Stop,
            Term::Work,
            Term::Dash,
            Term::Star,
            Term::SameTime,
        ];
        let said = matches!(
            self.steps.last().map(|s| &s.action),
            Some(
                Action::Count(_)
                    | Action::Change(_)
                    | Action::Ended(_)
                    | Action::Rows(_)
                    | Action::RowsNamed(_)
                    | Action::OfSide { .. }
            )
        );
        let here = self.lexeme(0).is_some_and(|l| l.starts_line);
        let joined = self.is_before(JOINTS) || self.is_before(&ends);
        self.at == 0 || joined || said && self.is_before(&[Term::Close]) || here
    }

    /// `dec 1 st each end; every RS row 4 times`: are these the rows of the step, or more of them? `Then` tells that they are
    /// more, and so do stitches of their own after a bind-off.
    fn not_of_a_rowless_step(&mut self, going: OnGoing) -> Option<()> {
        let rowless = self.rowless == Some(self.steps.len());
        let of_its_own = going.verb == Verb::BindOff && self.is(0, &[Term::Number, Term::Often]);
        // `cast off 4. 3, 2, 1 sts`: a mark between numbers of one list, as it seems.
        let number = self.at.checked_sub(2).and_then(|at| self.lexemes.get(at));
        let of_its_own = of_its_own && number.is_none_or(|l| l.term != Term::Number);
        let edge = going.verb == Verb::BindOff && self.is(0, &[Term::Beginning]);
        let then = self.is_before(&[Term::Then]) && !edge;
        (!rowless || then || of_its_own).then_some(())
    }

    /// `every 4th row 3 times, starting next row`: where something begins, and no edge.
    pub(super) fn names_a_start(&self) -> bool {
        let Some(here) = self.lexeme(0).filter(|l| l.term == Term::Beginning) else {
            return false;
        };
        let word = self.slice(here.span).to_lowercase();
        let before = self.at.checked_sub(1).and_then(|at| self.lexemes.get(at));
        let gap = before.map_or("", |l| {
            self.text.get(l.span.to..here.span.from).unwrap_or_default()
        });
        let at_edge = gap
            .split_whitespace()
            .any(|word| word.eq_ignore_ascii_case("at"));
        !at_edge && word != "beg" && !word.ends_with(" of")
    }

    /// One of these stands before.
    pub(super) fn is_before(&self, terms: &[Term]) -> bool {
        self.stands_before(self.at, terms)
    }

    /// One of these stands before this place.
    pub(super) fn stands_before(&self, place: usize, terms: &[Term]) -> bool {
        let before = place.checked_sub(1).and_then(|at| self.lexemes.get(at));
        before.is_some_and(|l| terms.contains(&l.term))
    }

    /// A clause that leaves out what is done: `then every 4th row twice`, `3 sts at beg of next 2
    /// rows`, `2 sts twice`.
    pub(super) fn going_on(&mut self) -> Option<()> {
        let from = self.at;
        let going = self.verb?;
        self.after_joint().then_some(())?;
        self.not_of_a_rowless_step(going)?;
        (!self.names_a_start()).then_some(())?;
        if going.verb == Verb::BindOff && self.attempt(Self::rows_then_each).is_some() {
            return Some(());
        }
        if let Some((place, found)) = self.attempt(|p| Some((p.place()?, p.stretch(true)?))) {
            (!(going.verb == Verb::BindOff && found.cannot_bind_off(place))).then_some(())?;
            // `then at each end of next row, dec 1 st`.
            (!self.rowless_verb_behind()).then_some(())?;
            let going = OnGoing { place, ..going };
            self.verb = Some(going);
            self.stretch_part(going, found, Joined::No, from);
            self.more_stretches(going, found);
            return Some(());
        }
        if going.verb == Verb::BindOff && self.attempt(Self::bound_off_next).is_some() {
            return Some(());
        }
        self.at = from;
        if let Some((by, place, found)) = self.attempt(Self::other_number) {
            let going = OnGoing { by, place, ..going };
            self.verb = Some(going);
            self.stretch_part(going, found, Joined::No, from);
            self.more_stretches(going, found);
            return Some(());
        }
        let and = self.is_before(&[Term::And]);
        let found = self.stretch(false)?;
        let between = and && self.pace.is_some_and(|pace| other_side(pace, found.pace));
        (!between).then_some(())?;
        // Of how many in all, or counted from which row?
        let open = found.told.in_all || found.counted && from != self.sentence_at;
        (!open).then_some(())?;
        // A new sentence that names one row and nothing to do on it goes on with something else.
        let new =
            from == self.sentence_at && matches!(found.extent, Some(Extent::Times(Num::Fixed(1))));
        // `next 3 rows:` names rows of which something else is told.
        let rows = self.lexemes.get(from).map(|l| l.term);
        let named =
            self.is(0, &[Term::Colon]) && matches!(rows, Some(Term::Next | Term::Following));
        // `on rows 3 and 5 bind off` belongs to that verb.
        let verbs = [
            Term::BindOff,
            Term::Dec,
            Term::Inc,
            Term::DecOp,
            Term::CastOn,
        ];
        let comma = usize::from(self.is(0, &[Term::Comma]));
        let other = matches!(found.pace, Pace::At(_)) && self.is(comma, &verbs);
        // `work a WS row`: nothing is said to be shaped on it.
        let after_work = self.lexemes.get(from.wrapping_sub(1)).map(|l| l.term) == Some(Term::Work);
        let one = matches!(found.extent, Some(Extent::Times(Num::Fixed(1))));
        let side = [Term::Rs, Term::Ws, Term::Knit, Term::Purl];
        let bare = rows.is_some_and(|term| side.contains(&term));
        (!((after_work || bare) && one)).then_some(())?;
        // `work 1 (1, 1) WS row`.
        (!(after_work && rows == Some(Term::Number))).then_some(())?;
        // `dec on next 2 rows; L: next 3 rows`: more rows, or other ones?
        let narrowed = self
            .steps
            .last()
            .is_some_and(|s| s.sizes & self.mask != s.sizes);
        let next = matches!(found.pace, Pace::EveryRow) && found.extent.is_some();
        (!(narrowed && next)).then_some(())?;
        // `dec 1 st each end, then next 3 rows`: in three rows or in four?
        let rowless = self.rowless == Some(self.steps.len()) && from != self.sentence_at;
        (!(rowless && next && rows == Some(Term::Next))).then_some(())?;
        // `Next 4 rows.`, `Next 4 rows dec 1 st each end of next row`: what is done on them is not told.
        let untold = from == self.sentence_at && found.extent.is_some() && rows == Some(Term::Next);
        // `Row 2 purl`: the name of a row.
        let numbered = from == self.sentence_at && rows == Some(Term::Row);
        (!numbered).then_some(())?;
        // `, following row; dec 1 st each end`.
        let every = matches!(found.pace, Pace::EveryRow);
        (!(every && one && rows == Some(Term::Following))).then_some(())?;
        (!found.plain_next && !new && !named && !other && !untold).then_some(())?;
        self.stretch_part(going, found, Joined::No, from);
        self.more_stretches(going, found);
        Some(())
    }
}
