//! The smallest change of the text after which every stated count agrees.
//!
//! All edits of one number are tried: another value, one entry of a list dropped or added, one
//! `more` dropped or added. An edit is carried out on the instructions first; what makes every
//! count agree in every size is then written into the text and the text is read again, so that a
//! repair is exact as it stands. Assumes that one misprint explains the disagreement; with two of
//! them in different sizes each size gets its own. Cost: a bounded number of rows is worked
//! ([`Budget`]), after which the search stops with what it has.

use std::collections::BTreeSet;

use crate::diagnostic::{Repair, Span};
use crate::measure::Stitches;

use super::budget::Budget;
use super::lexeme::lexemes;
use super::program::{Amount, Program, SizeEntry};
use super::run::{Setting, SizeOutcome, run};
use super::term::{Term, whole};

/// Repairs shown for one text.
const MOST: usize = 8;
/// Edits written into the text and read again.
const MOST_READ: usize = 40;

/// The text with one repair made.
pub fn with_repair(text: &str, repair: &Repair) -> String {
    let before = text.get(..repair.span.from).unwrap_or_default();
    let after = text.get(repair.span.to..).unwrap_or_default();
    format!("{before}{}{after}", repair.text)
}

/// How far from sound the sizes are: counts that disagree, then sides.
pub(super) type Faults = (usize, usize);

/// Counts the faults of one size.
pub(super) fn faults(outcome: &SizeOutcome) -> Faults {
    let counts = outcome
        .findings
        .iter()
        .filter(|f| f.kind.spoils_count())
        .count();
    let sides = outcome.findings.iter().filter(|f| f.kind.is_side()).count();
    (counts, sides)
}

/// What a repair is looked for in.
pub(super) struct Search<'a> {
    pub(super) text: &'a str,
    pub(super) program: &'a Program,
    pub(super) settings: &'a [Setting],
    /// The faults of every size as the text stands.
    pub(super) faults: Vec<Faults>,
    /// A list has not one number for each size: nothing but its length is looked at.
    pub(super) list: bool,
    /// Reads a text again and gives the faults of every size, with one more in the first size for
    /// every list of a wrong length or sentence not understood.
    pub(super) reread: &'a dyn Fn(&str) -> Vec<Faults>,
    /// Rows that may be worked.
    pub(super) budget: &'a Budget<'a>,
}

/// An edit of the text and how likely it is; smaller is likelier.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Edit {
    cost: u32,
    span: Span,
    text: String,
}

/// The repairs of the whole text, best first; where there are none, those of single sizes.
#[derive(Clone, Debug, Default)]
pub(super) struct Repairs {
    pub(super) whole: Vec<Repair>,
    /// One list per size.
    pub(super) sizes: Vec<Vec<Repair>>,
    /// Stitches before the lines, size by size, with which every stated count agrees; only where every
    /// faulty size has such a number.
    pub(super) starts: Vec<Option<u32>>,
}

impl Search<'_> {
    pub(super) fn find(&self) -> Repairs {
        let faulty = self.faults.iter().filter(|&&f| f != (0, 0)).count();
        let whole = self.best(self.edits(None), None);
        if !whole.is_empty() || faulty < 2 {
            return Repairs {
                whole,
                sizes: vec![Vec::new(); self.faults.len()],
                starts: self.starts(),
            };
        }
        let mut sizes = vec![Vec::new(); self.faults.len()];
        for (size, repairs) in sizes.iter_mut().enumerate() {
            if self.is_faulty(size) {
                let edits = self.edits(Some(size));
                *repairs = self.best(edits, Some(size));
            }
        }
        let starts = self.starts();
        Repairs {
            whole,
            sizes,
            starts,
        }
    }

    /// Other counts before the lines, which are no number of the text.
    fn starts(&self) -> Vec<Option<u32>> {
        let none = vec![None; self.faults.len()];
        if self.list {
            return none;
        }
        let mut out = none.clone();
        for (&setting, &before) in self.settings.iter().zip(&self.faults) {
            if before == (0, 0) {
                continue;
            }
            let found = self.start_of(setting, before);
            if found.is_none() {
                return none;
            }
            if let Some(place) = out.get_mut(setting.size) {
                *place = found;
            }
        }
        out
    }

    fn start_of(&self, setting: Setting, before: Faults) -> Option<u32> {
        let mut others = candidates(setting.start?.count());
        others.sort_by_key(|&(_, cost)| cost);
        let found = others.into_iter().find(|&(start, _)| {
            let start = Some(Stitches(start));
            let outcome = run(self.program, Setting { start, ..setting });
            self.budget.allows(outcome.work + self.program.steps.len())
                && sound(before, faults(&outcome))
        });
        found.map(|(start, _)| start)
    }

    fn is_faulty(&self, size: usize) -> bool {
        self.faults.get(size).is_some_and(|&f| f != (0, 0))
    }

    /// The edits that hold when the text is read again, without two that give the same text.
    fn best(&self, mut edits: Vec<Edit>, size: Option<usize>) -> Vec<Repair> {
        edits.sort();
        let mut seen = BTreeSet::new();
        let mut out = Vec::new();
        for edit in edits.into_iter().take(MOST_READ) {
            let repair = Repair {
                span: edit.span,
                text: edit.text,
            };
            let text = with_repair(self.text, &repair);
            if out.len() < MOST
                && !self.budget.is_spent()
                && !seen.contains(&text)
                && self.holds(&(self.reread)(&text), size)
            {
                out.push(repair);
            }
            seen.insert(text);
        }
        out
    }

    /// True when every size is sound, or the one that is looked at while the others are no worse.
    fn holds(&self, after: &[Faults], size: Option<usize>) -> bool {
        self.faults
            .iter()
            .zip(after)
            .enumerate()
            .all(|(at, (&before, &after))| {
                if size.is_none_or(|s| s == at) {
                    sound(before, after)
                } else {
                    after <= before
                }
            })
    }

    /// All edits whose run is sound.
    fn edits(&self, size: Option<usize>) -> Vec<Edit> {
        let mut program = self.program.clone();
        let mut out = if self.list {
            Vec::new()
        } else {
            self.more_edits()
        };
        for id in 0..program.amounts.len() {
            let Some(amount) = program.amounts.get(id).cloned() else {
                continue;
            };
            for (edited, edit) in self.changes(&amount, size) {
                if self.budget.is_spent() {
                    return out;
                }
                if let Some(place) = program.amounts.get_mut(id) {
                    *place = edited;
                }
                if self.runs_sound(&program, size) {
                    out.push(edit);
                }
            }
            if let Some(place) = program.amounts.get_mut(id) {
                *place = amount;
            }
        }
        out
    }

    fn runs_sound(&self, program: &Program, size: Option<usize>) -> bool {
        // The faulty sizes first: they rule most edits out at once.
        let order = |faulty: bool| {
            self.settings
                .iter()
                .zip(&self.faults)
                .filter(move |(_, f)| (**f != (0, 0)) == faulty)
        };
        order(true).chain(order(false)).all(|(&setting, &before)| {
            let outcome = run(program, setting);
            if !self
                .budget
                .allows(outcome.ledger.rows.len() + program.steps.len())
            {
                return false;
            }
            let after = faults(&outcome);
            if size.is_none_or(|s| s == setting.size) {
                sound(before, after)
            } else {
                after <= before
            }
        })
    }

    /// The edits of one number of the text.
    fn changes(&self, amount: &Amount, size: Option<usize>) -> Vec<(Amount, Edit)> {
        let sizes = self.settings.len();
        let mut out = Vec::new();
        if amount.entries.len() == sizes + 1 && sizes > 1 {
            out.extend((0..amount.entries.len()).filter_map(|at| self.without(amount, at)));
        }
        if amount.entries.len() + 1 == sizes && sizes > 2 {
            out.extend((0..sizes).flat_map(|at| self.with_one_more(amount, at)));
        }
        if self.list {
            return out;
        }
        let one_faulty = self.faults.iter().filter(|&&f| f != (0, 0)).count() == 1;
        for (at, entry) in amount.entries.iter().enumerate() {
            // The entry of one size can only cure that size.
            let listed = amount.entries.len() > 1;
            let useful = !listed || self.is_faulty(at) && (one_faulty || size == Some(at));
            let wanted = size.is_none_or(|s| listed && s == at);
            if useful && wanted {
                out.extend(self.other_values(amount, at, *entry));
            }
        }
        out
    }

    fn other_values(&self, amount: &Amount, at: usize, entry: SizeEntry) -> Vec<(Amount, Edit)> {
        let Some(value) = entry.value.and_then(whole) else {
            return Vec::new();
        };
        candidates(value)
            .into_iter()
            .map(|(new, cost)| {
                let mut edited = amount.clone();
                if let Some(place) = edited.entries.get_mut(at) {
                    place.value = Some(f64::from(new));
                }
                let order = u32::from(!is_rising(&edited) && is_rising(amount)) * 4;
                let better = u32::from(is_rising(&edited) && !is_rising(amount)) * 2;
                let cost = (cost + order).saturating_sub(better);
                let text = self.written(entry, value, new);
                (
                    edited,
                    Edit {
                        cost,
                        span: entry.span,
                        text,
                    },
                )
            })
            .collect()
    }

    /// The number as it would be printed: `4th` stays an ordinal, `twice` becomes `3 times`.
    fn written(&self, entry: SizeEntry, old: u32, new: u32) -> String {
        if entry.often {
            return match new {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                n => format!("{n} times"),
            };
        }
        let word = self.slice(entry.span).to_lowercase();
        let digits = old.to_string();
        let suffix = word.strip_prefix(digits.as_str()).unwrap_or_default();
        let named = ["th", "first", "second", "third"]
            .iter()
            .any(|end| word.ends_with(end));
        if !suffix.is_empty() || named {
            format!("{new}{}", ordinal_suffix(new))
        } else {
            new.to_string()
        }
    }

    /// The list with one entry dropped: later numbers move up, the last place goes.
    fn without(&self, amount: &Amount, at: usize) -> Option<(Amount, Edit)> {
        let mut edited = amount.clone();
        edited.entries.remove(at);
        let last = amount.entries.last()?;

        let words: Vec<&str> = edited.entries.iter().map(|e| self.slice(e.span)).collect();
        let kept = amount.entries.get(..amount.entries.len() - 1)?;
        let tail = Span::new(last.span.to, amount.span.to);
        let text = self.relisted(amount, kept, &words) + self.slice(tail);

        let cost = u32::from(!is_rising(&edited)) * 4;
        Some((
            edited,
            Edit {
                cost,
                span: amount.span,
                text,
            },
        ))
    }

    /// The list with one entry added before `at`: a neighbour's number, or one between.
    fn with_one_more(&self, amount: &Amount, at: usize) -> Vec<(Amount, Edit)> {
        let value = |at: Option<usize>| {
            at.and_then(|a| amount.entries.get(a))
                .and_then(|e| e.value)
                .and_then(whole)
        };
        let (left, right) = (value(at.checked_sub(1)), value(Some(at)));
        let near = left.into_iter().chain(right);
        let between = left.zip(right).map(|(a, b)| u32::midpoint(a, b));
        let values: BTreeSet<u32> = near
            .flat_map(|v| [v, v + 1, v.saturating_sub(1), v + 2])
            .chain(between)
            .collect();
        values
            .into_iter()
            .filter_map(|new| self.inserted(amount, at, new))
            .collect()
    }

    fn inserted(&self, amount: &Amount, at: usize, new: u32) -> Option<(Amount, Edit)> {
        let last = *amount.entries.last()?;
        let mut edited = amount.clone();
        edited.entries.insert(
            at,
            SizeEntry {
                value: Some(f64::from(new)),
                ..last
            },
        );
        let number = new.to_string();
        let mut words: Vec<&str> = amount.entries.iter().map(|e| self.slice(e.span)).collect();
        words.insert(at, &number);
        let added = words.pop()?;
        let tail = Span::new(last.span.to, amount.span.to);
        let head = self.relisted(amount, &amount.entries, &words);
        let text = format!("{head}{}{added}{}", self.joint(amount), self.slice(tail));
        let order = u32::from(!is_rising(&edited)) * 4;
        Some((
            edited,
            Edit {
                cost: 1 + order,
                span: amount.span,
                text,
            },
        ))
    }

    /// The head of the list up to the last of these places, with other words in them.
    fn relisted(&self, amount: &Amount, places: &[SizeEntry], words: &[&str]) -> String {
        let mut out = String::new();
        let mut from = amount.span.from;
        for (place, word) in places.iter().zip(words) {
            out += self.slice(Span::new(from, place.span.from));
            out += word;
            from = place.span.to;
        }
        out
    }

    /// What stands between the last two numbers of the list.
    fn joint(&self, amount: &Amount) -> &str {
        let mut last = amount.entries.iter().rev();
        let (Some(second), Some(first)) = (last.next(), last.next()) else {
            return ", ";
        };
        let joint = self.slice(Span::new(first.span.to, second.span.from));
        if joint.contains(['(', '[', ')', ']']) {
            ", "
        } else {
            joint
        }
    }

    /// One `more` dropped, or one added before `times`.
    fn more_edits(&self) -> Vec<Edit> {
        let lexemes = lexemes(self.text, &[]).terms;
        let mut out = Vec::new();
        for pair in lexemes.windows(2).take(2 * MOST_READ * MOST) {
            let [first, second] = pair else { continue };
            if first.term == Term::More && second.term == Term::Times {
                let span = Span::new(first.span.from, second.span.from);
                out.push(Edit {
                    cost: 2,
                    span,
                    text: String::new(),
                });
            } else if second.term == Term::More && matches!(first.term, Term::Times | Term::Often) {
                let span = Span::new(first.span.to, second.span.to);
                out.push(Edit {
                    cost: 2,
                    span,
                    text: String::new(),
                });
            } else if second.term == Term::Times && matches!(first.term, Term::Number | Term::Close)
            {
                let span = Span::new(second.span.from, second.span.from);
                out.push(Edit {
                    cost: 2,
                    span,
                    text: "more ".to_owned(),
                });
            }
        }
        out.truncate(MOST_READ / 2);
        out
    }

    fn slice(&self, span: Span) -> &str {
        self.text.get(span.from..span.to).unwrap_or_default()
    }
}

/// Counts agree, and sides too where only they were wrong.
fn sound(before: Faults, after: Faults) -> bool {
    after.0 == 0 && (after.1 == 0 || before.0 > 0 && after.1 <= before.1)
}

/// True when no number of the list is smaller than the one before: how size lists usually run.
fn is_rising(amount: &Amount) -> bool {
    let values: Vec<f64> = amount.entries.iter().filter_map(|e| e.value).collect();
    values.is_sorted() || values.iter().rev().is_sorted()
}

/// Other values of a number and how likely each is to be meant: one off, two digits swapped, one
/// digit wrong, dropped or added, then anything near.
fn candidates(value: u32) -> Vec<(u32, u32)> {
    let mut out: Vec<(u32, u32)> = Vec::new();
    let mut add = |new: Option<u32>, cost: u32| {
        if let Some(new) = new.filter(|&n| n != value)
            && !out.iter().any(|&(n, _)| n == new)
        {
            out.push((new, cost));
        }
    };
    add(value.checked_add(1), 1);
    add(value.checked_sub(1), 1);
    let text = value.to_string();
    let digits: Vec<char> = text.chars().collect();
    for at in 0..digits.len() {
        let mut swapped = digits.clone();
        if at + 1 < digits.len() {
            swapped.swap(at, at + 1);
            add(number(&swapped), 2);
        }
        let mut dropped = digits.clone();
        dropped.remove(at);
        add(number(&dropped), 4);
    }
    for digit in '0'..='9' {
        for at in 0..digits.len() {
            let mut changed = digits.clone();
            if let Some(place) = changed.get_mut(at) {
                *place = digit;
            }
            add(number(&changed), 3);
        }
        let mut longer = digits.clone();
        longer.insert(0, digit);
        add(number(&longer), 4);
        let mut longer = digits.clone();
        longer.push(digit);
        add(number(&longer), 4);
    }
    for by in 2..=12 {
        add(value.checked_add(by), 4 + by / 4);
        add(value.checked_sub(by), 4 + by / 4);
    }
    out
}

fn number(digits: &[char]) -> Option<u32> {
    digits.iter().collect::<String>().parse().ok()
}

pub(super) fn ordinal_suffix(n: u32) -> &'static str {
    match (n % 10, n % 100) {
        (1, 1..=9 | 21..=99 | 0) => "st",
        (2, 2..=9 | 22..=99 | 0) => "nd",
        (3, 3..=9 | 23..=99 | 0) => "rd",
        _ => "th",
    }
}
