//! Rows told together by their numbers: `Rows 1 and 3: ...`, `1st, 3rd and 5th rows: ...`.

// Circle with clause/mod.rs: a parser reads the list, and puts the steps that lists have mixed in order.
use super::super::program::{Action, Instruction, Label};
use super::super::term::Term;
use super::Parser;

/// Numbers that one label may name.
const MOST_ROWS: u32 = 400;

impl Parser<'_> {
    /// `3`, `3-6`, `1 and 3`, `1, 3 and 5 to 8`, rising.
    pub(super) fn row_list(&mut self, term: Term) -> Option<Vec<u32>> {
        let mut list = vec![self.row_number(term)?];
        while let Some(more) = self.attempt(|p| p.row_joined(term, *list.last()?)) {
            list.extend(more);
            if list.len() > usize::try_from(MOST_ROWS).ok()? {
                return None;
            }
        }
        list.is_sorted_by(|one, next| one < next).then_some(list)
    }

    fn row_number(&mut self, term: Term) -> Option<u32> {
        let found = self.lexeme(0).filter(|l| l.term == term)?.count()?;
        self.at += 1;
        Some(found)
    }

    /// `-`, `to`, `through`; `until 52 sts` is no row.
    pub(super) fn up_to_row(&mut self) -> bool {
        let here = self.lexeme(0);
        let word = here.map(|l| self.slice(l.span).to_lowercase());
        let to = matches!(word.as_deref(), Some("to" | "through" | "thru"));
        let joint = self.is(0, &[Term::Dash]) || to;
        let stitches = self.is(2, &[Term::Stitch, Term::Remaining]);
        self.at += usize::from(joint && !stitches);
        joint && !stitches
    }

    /// What one joint and one number add to the list.
    pub(super) fn row_joined(&mut self, term: Term, before: u32) -> Option<Vec<u32>> {
        if self.up_to_row() {
            let last = self.row_number(term)?;
            let fits = last > before && last - before <= MOST_ROWS;
            return fits.then(|| (before + 1..=last).collect());
        }
        let comma = self.eat_any(&[Term::Comma, Term::And])? == Term::Comma;
        self.eat(Term::And);
        // `rep rows 3 to 6, 4 times more`.
        let more = usize::from(self.is(1, &[Term::More]));
        (!(comma && self.is(1 + more, &[Term::Times]))).then_some(())?;
        Some(vec![self.row_number(term)?])
    }
}

/// The label of rows in one stretch; `None` where there are gaps between them.
pub(super) fn stretch_of(list: &[u32]) -> Option<Label> {
    let (first, last) = (*list.first()?, *list.last()?);
    let whole = usize::try_from(last - first).ok()? + 1 == list.len();
    whole.then_some(Label::Numbered(first, last))
}

/// Puts rows that were told together in the order of their numbers.
pub(super) fn in_order(steps: &mut Vec<Instruction>) {
    for step in steps.iter_mut() {
        if let Action::Group { steps, .. } | Action::Together { steps, .. } = &mut step.action {
            in_order(steps);
        }
    }
    if !steps.iter().any(is_listed) {
        return;
    }
    let mut out = Vec::with_capacity(steps.len());
    let mut block = NumberedRows::default();
    for step in std::mem::take(steps) {
        let label = numbers(&step);
        let check = matches!(
            step.action,
            Action::Count(_) | Action::Change(_) | Action::Rows(_) | Action::OfSide { .. }
        );
        let again = label.is_some_and(|(first, _)| block.has(first));
        if again || label.is_none() && !check {
            block.close(&mut out);
        }
        match label {
            Some((first, last)) => block.rows.push((first, last, vec![step])),
            // A check belongs to the row before it.
            None => match block.rows.last_mut().filter(|_| check) {
                Some((_, _, row)) => row.push(step),
                None => out.push(step),
            },
        }
    }
    block.close(&mut out);
    *steps = out;
}

/// Rows with numbers, none of them twice, with the checks after each.
#[derive(Default)]
struct NumberedRows {
    rows: Vec<(u32, u32, Vec<Instruction>)>,
}

impl NumberedRows {
    fn has(&self, number: u32) -> bool {
        self.rows
            .iter()
            .any(|&(first, last, _)| (first..=last).contains(&number))
    }

    fn close(&mut self, out: &mut Vec<Instruction>) {
        let mut rows = std::mem::take(&mut self.rows);
        if rows.iter().flat_map(|(_, _, steps)| steps).any(is_listed) {
            rows.sort_by_key(|&(first, _, _)| first);
        }
        for mut step in rows.into_iter().flat_map(|(_, _, steps)| steps) {
            if let Action::Row { label, .. } = &mut step.action
                && let Label::Listed(number) = *label
            {
                *label = Label::Numbered(number, number);
            }
            out.push(step);
        }
    }
}

fn is_listed(step: &Instruction) -> bool {
    matches!(
        step.action,
        Action::Row {
            label: Label::Listed(_),
            ..
        }
    )
}

/// First and last number of a step that is told by numbers.
fn numbers(step: &Instruction) -> Option<(u32, u32)> {
    let Action::Row { label, .. } = &step.action else {
        return None;
    };
    match *label {
        Label::Numbered(first, last) => Some((first, last)),
        Label::AndEvery(number) | Label::Listed(number) => Some((number, number)),
        Label::Next(_) => None,
    }
}
