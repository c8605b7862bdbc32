//! Repeats: `rep last 2 rows 5 more times`, `rep dec row every RS row 3 times`, `rep from *`.

use super::super::program::{
    Action, Along, Doubt, Extent, Joined, Label, Num, Repeated, RowPlace, Verb,
};
use super::super::term::Term;
use super::row_list::stretch_of;
use super::{Instruction, OnGoing, Parser};

fn labels(list: &[u32]) -> Option<Repeated> {
    match stretch_of(list)? {
        Label::Numbered(first, last) => Some(Repeated::Labels(first, last)),
        _ => None,
    }
}

impl Parser<'_> {
    pub(super) fn repeat(&mut self) -> Option<()> {
        self.attempt(Self::row_once)
            .or_else(|| self.attempt(Self::repeat_told))
    }

    fn repeat_told(&mut self) -> Option<()> {
        let from = self.at;
        let work = self.eat(Term::Work);
        let rep = self.eat(Term::Rep);
        if !work && !rep {
            return None;
        }
        // `rep this dec every 4th row`.
        let this = rep && self.is(0, &[Term::These]) && self.is(1, &[Term::Dec, Term::Inc]);
        self.at += usize::from(this);
        let double = usize::from(self.is(0, &[Term::Double]));
        if self.is(double, &[Term::Dec, Term::Inc]) {
            // `work double dec row` after another dec row.
            (self.told_double() == (double == 1)).then_some(())?;
            self.at += double;
            return self.shaping_row(from);
        }
        // `repeat on every 4th row twice more`.
        let going = self
            .verb
            .is_some_and(|g| !matches!(g.verb, Verb::BindOff | Verb::CastOn));
        if rep && going && self.is(0, &[Term::Every]) {
            return self.again_at_pace(from);
        }
        let what = self.repeated(rep)?;
        let one_row = match what {
            Repeated::Labels(first, last) => first == last,
            Repeated::LastRows(count) => count == Num::Fixed(1),
            _ => false,
        };
        let comma = usize::from(self.is(0, &[Term::Comma]));
        if one_row && (self.is(comma, &[Term::Every]) || self.is(0, &[Term::Next])) {
            if let Repeated::Labels(row, _) = what {
                self.shaped_last(row).then_some(())?;
            }
            return self.again_at_pace(from);
        }
        let told = self.attempt(|p| {
            p.eat(Term::Comma);
            p.extent()
        });
        let (extent, told) = match told {
            Some((extent, told)) => (extent, told),
            None if rep || self.is(0, &[Term::More]) || what == Repeated::Marked => (
                Extent::Times(Num::Fixed(1)),
                super::select::TimesTold {
                    more: true,
                    ..Default::default()
                },
            ),
            None => return None,
        };
        let told_before = told;
        if what == Repeated::Sentence {
            self.mark_sentence(from);
        }
        self.eat(Term::More);
        let mut told = told;
        if self.is(0, &[Term::Open])
            && self
                .attempt(|p| p.in_all_beside(extent, &mut told))
                .is_none()
        {
            told = told_before;
        }
        let span = self.span_from(from);
        let choice = self.choice(Doubt::Repeat, span);
        // `work rows 1 to 6 three times` counts the rows just told as the first time.
        let counts_first = work && !rep && !told.more && self.just_told(what, extent);
        // `work row 1 once`, after other rows: as often as it says.
        if work && !rep && !counts_first && matches!(what, Repeated::Labels(..)) {
            told.more = true;
        }
        let in_all = told.in_all || counts_first;
        self.push(
            Action::Repeat {
                what,
                extent,
                more: told.more,
                in_all,
                choice,
            },
            from,
        );
        Some(())
    }

    /// `rep rows 1 and 2 8 times more, then row 1 once`: a row after the repeat, in its sentence.
    fn row_once(&mut self) -> Option<()> {
        let from = self.at;
        let last = self.steps.get(self.sentence..).and_then(<[_]>::last)?;
        matches!(
            last.action,
            Action::Repeat {
                what: Repeated::Labels(..),
                ..
            }
        )
        .then_some(())?;
        self.eat(Term::Then);
        self.is(0, &[Term::Row]).then_some(())?;
        let what = self.repeated(false)?;
        let times = self.often().and_then(|times| self.program_number(times))?;
        let row = matches!(what, Repeated::Labels(first, last) if first == last);
        (row && times == 1 && self.clause_ends()).then_some(())?;
        let span = self.span_from(from);
        let choice = self.choice(Doubt::Repeat, span);
        let action = Action::Repeat {
            what,
            extent: Extent::Times(Num::Fixed(1)),
            more: true,
            in_all: false,
            choice,
        };
        self.push(action, from);
        Some(())
    }

    /// `Row 1: ... Row 2: ... Work rows 1 and 2 three times`: they are told for the first time, and not worked before.
    fn just_told(&self, what: Repeated, extent: Extent) -> bool {
        let Repeated::Labels(_, end) = what else {
            return false;
        };
        let several = match extent {
            Extent::Times(times) => self.program_number(times) != Some(1),
            _ => true,
        };
        let last = self.steps.last().map(|step| &step.action);
        several
            && matches!(
                last,
                Some(Action::Row { label: Label::Numbered(_, last), .. }) if *last == end
            )
    }

    /// `4 times (5 times in all)`, `4 times (4 times in all)`: which of the two is meant.
    fn in_all_beside(&mut self, extent: Extent, told: &mut super::select::TimesTold) -> Option<()> {
        let Extent::Times(times) = extent else {
            return None;
        };
        self.need(Term::Open)?;
        let (all, beside) = self.extent()?;
        self.need(Term::Close)?;
        let Extent::Times(all) = all else {
            return None;
        };
        beside.in_all.then_some(())?;
        let (more, all) = (self.program_number(times)?, self.program_number(all)?);
        if more == all && !told.more {
            told.in_all = true;
        } else if Some(all) == more.checked_add(1) && !told.in_all {
            told.more = true;
        } else {
            return None;
        }
        Some(())
    }

    /// What is repeated.
    fn repeated(&mut self, rep: bool) -> Option<Repeated> {
        self.eat(Term::From);
        if self.eat(Term::Star) {
            let double = self.eat(Term::Star);
            if self.is(0, &[Term::Until, Term::And]) && self.is(1, &[Term::Star]) {
                self.at += 1;
            }
            while self.eat(Term::Star) {}
            return Some(if double {
                Repeated::Marked
            } else {
                Repeated::FromStar
            });
        }
        // `these last 4 rows`.
        let both = self.is(0, &[Term::These]) && self.is(1, &[Term::Last]);
        self.at += usize::from(both);
        if self.eat_any(&[Term::Last, Term::These]).is_some() {
            let count = self.attempt(Self::amount);
            let plural = self.is_plural(0);
            self.need(Term::Row)?;
            if count.is_none() && plural {
                return Some(Repeated::TheseRows);
            }
            let count = count.unwrap_or(Num::Fixed(1));
            return Some(Repeated::LastRows(count));
        }
        if self.eat(Term::Row) {
            // Rows that are not one after the other are not repeated as if they were.
            return labels(&self.row_list(Term::Number)?);
        }
        if let Some(list) = self.attempt(|p| {
            let list = p.row_list(Term::Ordinal)?;
            p.need(Term::Row)?;
            Some(list)
        }) {
            return labels(&list);
        }
        rep.then_some(Repeated::Sentence)
    }

    /// `work 3 rows, dec next row, rep 5 times`: everything since the sentence began.
    fn mark_sentence(&mut self, from: usize) {
        let Some(first) = self.first_repeated(from) else {
            return;
        };
        if !self.marked && first <= self.steps.len() {
            let span = self
                .steps
                .get(first)
                .map_or_else(|| self.span_from(self.at), |s| s.span);
            let star = Instruction {
                action: Action::Star,
                span,
                sizes: self.mask,
            };
            self.steps.insert(first, star);
            self.marked = true;
        }
    }

    /// Steps before those that a repeat without a name means: its sentence, or the bracket before it; `None`
    /// after a run that stars enclose.
    fn first_repeated(&self, from: usize) -> Option<usize> {
        let alone = self.sentence == self.steps.len();
        let before = self.lexemes.get(..from).unwrap_or_default();
        let last = before.iter().rposition(|l| l.term != Term::Stop);
        let last = last.filter(|_| alone);
        let star = |at: usize| self.lexemes.get(at).is_some_and(|l| l.term == Term::Star);
        match (last, self.once) {
            (Some(last), _) if star(last) => None,
            (Some(last), Some((steps, close))) if close == last => Some(steps),
            _ => Some(self.sentence),
        }
    }

    /// `rep dec row every RS row 3 more times`, `work dec row every 4th row twice`.
    fn shaping_row(&mut self, from: usize) -> Option<()> {
        let named = self.eat_any(&[Term::Dec, Term::Inc])?;
        // `rep inc row` after a row that decreases.
        (self.last_shapes().is_none_or(|last| last == named)).then_some(())?;
        let row = self.eat(Term::Row);
        // `work dec row as for armholes on next row`: which row it is stands elsewhere, and that is said.
        if row && self.is(0, &[Term::As, Term::Elsewhere]) {
            self.elsewhere()?;
        }
        if !row && !self.is(0, &[Term::Every, Term::Number, Term::Rs]) {
            return None;
        }
        self.again_at_pace(from)
    }

    /// The last row told stitch by stitch that shapes has the name `double dec row`.
    fn told_double(&self) -> bool {
        let mut rows = self.steps.iter().rev().filter(
            |step| matches!(&step.action, Action::Row { body, .. } if !body.is_plain() && !body.again),
        );
        let name = rows.next().map_or("", |step| self.slice(step.span));
        name.to_lowercase().starts_with("double")
    }

    /// The row with this number is the last one that shapes.
    fn shaped_last(&self, row: u32) -> bool {
        let mut shaping = self
            .steps
            .iter()
            .rev()
            .filter_map(|step| match &step.action {
                Action::Shape(_) | Action::Group { .. } => Some(None),
                Action::Row { label, body, .. } if !body.is_plain() => Some(Some(*label)),
                _ => None,
            });
        shaping.next() == Some(Some(Label::Numbered(row, row)))
    }

    /// What the last shaping row does, where that is one of the two.
    pub(super) fn last_shapes(&self) -> Option<Term> {
        let way = |decreases: bool| if decreases { Term::Dec } else { Term::Inc };
        self.steps.iter().rev().find_map(|step| match &step.action {
            Action::Shape(part) if part.verb == Verb::Dec => Some(way(true)),
            Action::Shape(part) if part.verb == Verb::Inc => Some(way(false)),
            Action::Row { body, .. } => {
                let loses = |a: &Along| match a {
                    Along::Op { lose, gain, .. } => Some(lose > gain),
                    Along::Edge { dec, .. } => Some(*dec),
                    _ => None,
                };
                body.along.iter().find_map(loses).map(way)
            }
            _ => None,
        })
    }

    /// Some row before this one shapes, and can be worked again.
    pub(super) fn shaped_before(&self) -> bool {
        self.steps.iter().any(|step| match &step.action {
            Action::Shape(part) => !matches!(part.verb, Verb::BindOff | Verb::Again),
            Action::Row { body, .. } => !body.again && !body.along.is_empty(),
            Action::Group { .. } | Action::Together { .. } | Action::Within { .. } => true,
            _ => false,
        })
    }

    /// `Dec row (RS): ... Work dec row on next row`: the row that was told just before, which is a row of a named side and
    /// cannot be worked twice in a row. True where its side is told.
    fn dec_row_before(&self) -> Option<bool> {
        let said = |step: &&Instruction| {
            !matches!(
                step.action,
                Action::Change(_) | Action::Count(_) | Action::OfSide { .. }
            )
        };
        let last = self.steps.iter().rev().find(said)?;
        let Action::Row {
            label: Label::Next(Num::Fixed(1)),
            side,
            body,
        } = &last.action
        else {
            return None;
        };
        let words = self.slice(last.span).to_lowercase();
        let name = words.split("row").next().unwrap_or_default();
        let named = name.contains("dec") || name.contains("inc");
        (named && !body.is_plain()).then_some(side.is_some())
    }

    /// The last shaping row once more, at its pace: `every RS row 3 more times`.
    fn again_at_pace(&mut self, from: usize) -> Option<()> {
        // `rep dec row, every 4th row twice`.
        self.at += usize::from(self.is(0, &[Term::Comma]) && self.is(1, &[Term::Every]));
        // `dec row on RS every 8th row`: the side goes without saying.
        if self.is(0, &[Term::Rs]) && self.is(1, &[Term::Every]) {
            self.at += 1;
        }
        let going = OnGoing {
            verb: Verb::Again,
            by: Num::Fixed(1),
            place: RowPlace::EachEnd,
        };
        let found = if let Some(found) = self.attempt(|p| p.stretch(true)) {
            found
        } else {
            let once = (self.clause_ends()).then_some(Extent::Times(Num::Fixed(1)));
            let extent = self.attempt(Self::extent).map(|(extent, _)| extent);
            let extent = extent.or(once)?;
            let mut found = super::select::RowStretch::every_row(extent);
            found.told.more = true;
            found
        };
        self.verb = Some(going);
        let work = self.lexemes.get(from).map(|l| l.term) == Some(Term::Work);
        if work
            && found.plain_next
            && let Some(sided) = self.dec_row_before()
        {
            if sided {
                self.more_stretches(going, found);
            } else {
                let span = self.span_from(from);
                self.not_understood(span, "may be the row that is told before it, or one more");
            }
            return Some(());
        }
        self.used_untold |= !self.shaped_before();
        let joined = if found.told.in_all {
            Joined::Yes
        } else {
            Joined::No
        };
        let bare = self.is_before(&[Term::Row, Term::Dec, Term::Inc]) && self.clause_ends();
        self.stretch_part(going, found, joined, from);
        // `rep dec row; every 4th row twice`: once more and then twice, or twice?
        self.rowless = bare.then_some(self.steps.len());
        if !bare {
            self.more_stretches(going, found);
        }
        Some(())
    }
}
