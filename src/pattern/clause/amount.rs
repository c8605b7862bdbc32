//! Numbers: one for all sizes, or a list in any notation of the trade.

use crate::diagnostic::{Diagnostic, Span};
use crate::measure::told_twice;

use super::super::codes;
use super::super::program::{Amount, Num, SizeEntry};
use super::super::term::{Lexeme, Term, whole};
use super::Parser;

const JOINTS: &[Term] = &[
    Term::Comma,
    Term::Colon,
    Term::Semicolon,
    Term::Dash,
    Term::Slash,
];

/// Entries of one list that are still looked at; a list this long is wrong anyway.
const LONGEST: usize = super::super::limits::MAX_SIZES + 8;

/// The entry a lexeme stands for inside a list.
fn entry(lexeme: Lexeme) -> Option<SizeEntry> {
    let value = match lexeme.term {
        Term::Number | Term::Often | Term::Ordinal => Some(lexeme.value),
        Term::Dash | Term::NoneOf => None,
        _ => return None,
    };
    Some(SizeEntry {
        value,
        span: lexeme.span,
        often: lexeme.term == Term::Often,
    })
}

/// The entries of the bracket that opens at `at`, and the place after it; `None` when it holds
/// anything but numbers, dashes and joints.
fn bracketed(lexemes: &[Lexeme], mut at: usize) -> Option<(Vec<SizeEntry>, usize)> {
    let mut list = Vec::new();
    if lexemes.get(at)?.term != Term::Open {
        return None;
    }
    at += 1;
    while list.len() <= LONGEST {
        let lexeme = *lexemes.get(at)?;
        list.push(entry(lexeme)?);
        at += 1;
        if lexemes.get(at)?.term == Term::Times && lexeme.term == Term::Number {
            at += 1;
        }
        let joint = lexemes.get(at)?.term;
        if joint == Term::Close {
            return Some((list, at + 1));
        }
        if JOINTS.contains(&joint) && lexemes.get(at + 1)?.term != Term::Close {
            at += 1;
        }
    }
    None
}

/// True for a number behind the colon of another: it is in the midst of a list that was looked at from its beginning, and
/// looking again from each of its numbers would take the square of its length.
fn within_colons(lexemes: &[Lexeme], at: usize) -> bool {
    let before = |n: usize| at.checked_sub(n).and_then(|place| lexemes.get(place));
    let colon = before(1).is_some_and(|l| l.term == Term::Colon && l.joined);
    colon && before(2).is_some_and(|l| l.term == Term::Number)
}

/// The longest list in brackets that starts with the entry at `at`: its entries and the place after.
///
/// `20 (22, 24)`, `41 (46, 46) (54, 56)` and, when it then has one number for each of `sizes`,
/// `5 (6) 7 (8) 9`, `5-6-7` and `5/6/7`.
fn listed(lexemes: &[Lexeme], at: usize, sizes: usize) -> Option<(Vec<SizeEntry>, usize)> {
    let first = entry(*lexemes.get(at)?)?;
    let colons = !within_colons(lexemes, at);
    let mut list = vec![first];
    let mut next = at + 1;
    let mut only_brackets = true;
    let mut standard = None;
    let mut exact = None;
    while list.len() <= LONGEST {
        if let Some((more, after)) = times_in_brackets(lexemes, next, &list) {
            for entry in &mut list {
                entry.often = true;
            }
            list.extend(more);
            next = after;
            standard = Some((list.clone(), next));
        } else if let Some((more, after)) = bracketed(lexemes, next) {
            list.extend(more);
            next = after;
            if only_brackets {
                standard = Some((list.clone(), next));
            }
        } else if list.len() < sizes
            && let Some((more, after)) = bracketed_after_joint(lexemes, next)
        {
            list.extend(more);
            next = after;
            only_brackets = false;
        } else if list.len() < sizes
            && let Some((more, after)) = follows(lexemes, next, (standard.is_some(), colons))
        {
            list.push(more);
            next = after;
            only_brackets = false;
        } else {
            break;
        }
        if list.len() == sizes {
            exact = Some((list.clone(), next));
        }
    }
    if first.value.is_none() && list.len() == 1 && lexemes.get(at)?.term == Term::Dash {
        return None;
    }
    // `4: 5: 6: 7` for three sizes: the list is longer than the sizes are many.
    if let Some((_, end)) = exact
        && let Some((more, after)) = follows(lexemes, end, (false, colons))
        && sizes > 1
    {
        list.push(more);
        return Some((list, after));
    }
    exact.or(standard).or(Some((vec![first], at + 1)))
}

/// `4 times (5 times, 6 times)`: the times of all sizes, each with its word.
fn times_in_brackets(
    lexemes: &[Lexeme],
    at: usize,
    list: &[SizeEntry],
) -> Option<(Vec<SizeEntry>, usize)> {
    let times = lexemes.get(at)?.term == Term::Times && list.len() == 1;
    let word = lexemes.get(at + 3)?.term == Term::Times;
    let (mut more, after) = bracketed(lexemes, at + 1).filter(|_| times && word)?;
    for entry in &mut more {
        entry.often = true;
    }
    Some((more, after))
}

/// `4, (5, 6)`, `4 - (5) - 6`: a joint before the bracket.
fn bracketed_after_joint(lexemes: &[Lexeme], at: usize) -> Option<(Vec<SizeEntry>, usize)> {
    let (joint, open) = (lexemes.get(at)?, lexemes.get(at + 1)?);
    let tight = matches!(joint.term, Term::Dash | Term::Slash) && joint.joined && open.joined;
    (tight || joint.term == Term::Comma)
        .then(|| bracketed(lexemes, at + 1))
        .flatten()
}

/// One more number of a list that has no bracket here: after a bracket, or after a bare joint.
fn follows(
    lexemes: &[Lexeme],
    at: usize,
    (bracket_before, colons): (bool, bool),
) -> Option<(SizeEntry, usize)> {
    let here = lexemes.get(at)?;
    if bracket_before && here.term == Term::Number {
        return Some((entry(*here)?, at + 1));
    }
    let next = lexemes.get(at + 1)?;
    // `4 - (5) - 6`, `4, (5), 6`; `4 - 5 - 6`, `4 / 5 / 6`: white space on both sides, or on none.
    let between = matches!(here.term, Term::Dash | Term::Slash);
    let tight = between && here.joined == next.joined;
    let joint = tight || here.term == Term::Comma;
    let after_bracket = at.checked_sub(1).and_then(|b| lexemes.get(b));
    let closed = joint && after_bracket.is_some_and(|l| l.term == Term::Close);
    // `4: 5: 6`.
    let colon = colons && here.term == Term::Colon && here.joined;
    let number = matches!(next.term, Term::Number | Term::Ordinal);
    let bare = number && (tight || colon || closed);
    bare.then(|| entry(*next)).flatten().map(|e| (e, at + 2))
}

impl Parser<'_> {
    /// A number, or a list of numbers with one for each size.
    pub(super) fn amount(&mut self) -> Option<Num> {
        if let Some(num) = self.attempt(Self::labelled) {
            return Some(num);
        }
        let is_number = match self.term(0)? {
            Term::Number | Term::NoneOf => true,
            Term::Dash => self.is(1, &[Term::Open]),
            _ => false,
        };
        if !is_number {
            return None;
        }
        self.listed_here()
    }

    /// `S 4, M 5, L 6 sts`, `S: 4, M: 5`, `4 sts (S), 5 sts (M)`: a number for each size, beside its label.
    fn labelled(&mut self) -> Option<Num> {
        (self.labels.len() > 1).then_some(())?;
        let near = self.at..(self.at + 4).min(self.end);
        let label = |l: &Lexeme| l.term == Term::Label;
        let labelled = self.lexemes.get(near)?.iter().any(label);
        let numbers = self.is(0, &[Term::Number]) && self.is(1, &[Term::Colon, Term::Equals]);
        (labelled || numbers).then_some(())?;
        let from = self.at;
        let mut of_size: Vec<Option<SizeEntry>> = vec![None; self.labels.len()];
        let mut left = self.sizes_now();
        while left > 0 {
            let (size, entry) = self.one_labelled()?;
            let place = of_size.get_mut(usize::try_from(size).ok()?)?;
            let meant = self.mask.checked_shr(size)? & 1 == 1;
            (meant && place.replace(entry).is_none()).then_some(())?;
            left -= 1;
            if left > 0 {
                let joints = [Term::Comma, Term::Semicolon, Term::Slash, Term::And];
                while self.eat_any(&joints).is_some() {}
            }
        }
        let span = self.span_from(from);
        let none = SizeEntry {
            value: None,
            span,
            often: false,
        };
        let entries = of_size.into_iter().map(|e| e.unwrap_or(none)).collect();
        self.amounts.push(Amount { entries, span });
        Some(Num::Given(self.amounts.len() - 1))
    }

    /// `M 5`, `M: 5`, `(M: 5)`, `5 (M)`, `5 sts (M)`.
    fn one_labelled(&mut self) -> Option<(u32, SizeEntry)> {
        let label_first = self.attempt(|p| {
            let open = p.eat(Term::Open);
            let number = p.is(0, &[Term::Number]);
            let size = p.label_here()?;
            let marked = p.eat_any(&[Term::Colon, Term::Equals]).is_some();
            (marked || !number).then_some(())?;
            let entry = p.labelled_number()?;
            if open {
                p.eat(Term::Stitch);
                p.need(Term::Close)?;
            } else if p.is(0, &[Term::Stitch]) && p.is(1, &[Term::Comma, Term::And, Term::Slash]) {
                p.at += 1;
            }
            Some((size, entry))
        });
        label_first.or_else(|| {
            self.attempt(|p| {
                let entry = p.labelled_number()?;
                p.eat(Term::Stitch);
                p.need(Term::Open)?;
                p.eat(Term::Size);
                p.is(0, &[Term::Label]).then_some(())?;
                let size = p.label_here()?;
                p.need(Term::Close)?;
                Some((size, entry))
            })
        })
    }

    fn labelled_number(&mut self) -> Option<SizeEntry> {
        let lexeme = self.lexeme(0).filter(|l| l.term == Term::Number)?;
        self.at += 1;
        entry(lexeme)
    }

    /// `once`, `twice`, or `once (twice, 3 times)`.
    pub(super) fn often(&mut self) -> Option<Num> {
        (self.term(0)? == Term::Often)
            .then(|| self.listed_here())
            .flatten()
    }

    /// `4th`, `4th (4th, 6th)`.
    pub(super) fn ordinal(&mut self) -> Option<Num> {
        (self.term(0)? == Term::Ordinal)
            .then(|| self.listed_here())
            .flatten()
    }

    fn listed_here(&mut self) -> Option<Num> {
        let from = self.at;
        let lexemes = self.lexemes.get(..self.end)?;
        let sizes = self.labels.len();
        let (mut entries, mut next) = listed(lexemes, from, sizes)?;
        if let Some((few, after)) = listed(lexemes, from, self.sizes_now())
            && entries.len() != sizes
            && few.len() == self.sizes_now()
            && few.len() > 1
        {
            (entries, next) = (few, after);
        }
        self.at = next;
        let span = self.span_from(from);
        if self.told_twice(&entries) {
            entries.truncate(1);
        }
        if entries.len() == self.sizes_now() && entries.len() > 1 && entries.len() < sizes {
            entries = self.for_sizes_now(entries, span);
        }
        self.check_length(&entries, span);
        self.amounts.push(Amount { entries, span });
        Some(Num::Given(self.amounts.len() - 1))
    }

    /// `fifty (50)`: one number, in words and again in figures.
    fn told_twice(&self, entries: &[SizeEntry]) -> bool {
        let [one, again] = entries else { return false };
        let words = |entry: &SizeEntry| self.slice(entry.span);
        one.value == again.value && one.value.is_some() && told_twice(words(one), words(again))
    }

    /// True where the words are not for every size.
    pub(super) fn for_some_sizes(&self) -> bool {
        self.sizes_now() < self.labels.len()
    }

    /// How many sizes the words are for.
    fn sizes_now(&self) -> usize {
        let now = (self.mask & self.every_size()).count_ones();
        usize::try_from(now).unwrap_or(usize::MAX)
    }

    /// `Sizes M and L: 2 (3) sts`: the list has a number for each of these, and none for the others.
    fn for_sizes_now(&self, entries: Vec<SizeEntry>, span: Span) -> Vec<SizeEntry> {
        let mut given = entries.into_iter();
        let none = SizeEntry {
            value: None,
            span,
            often: false,
        };
        let of = |size: usize| {
            let bit = u32::try_from(size).ok().and_then(|n| 1_u64.checked_shl(n));
            bit.is_some_and(|bit| self.mask & bit != 0)
        };
        let all = 0..self.labels.len();
        all.map(|size| if of(size) { given.next() } else { None }.unwrap_or(none))
            .collect()
    }

    fn check_length(&mut self, entries: &[SizeEntry], span: Span) {
        let sizes = self.labels.len();
        if entries.len() != 1 && entries.len() != sizes {
            let message = length_message(self.slice(span), entries.len(), sizes);
            self.diagnostics
                .push(Diagnostic::new(&codes::LIST_LENGTH, message).at(span));
        }
    }

    /// A number without a list, for row labels.
    pub(super) fn plain_number(&mut self) -> Option<u32> {
        let lexeme = self.lexeme(0).filter(|l| l.term == Term::Number)?;
        self.at += 1;
        lexeme.count()
    }
}

fn length_message(list: &str, given: usize, sizes: usize) -> String {
    let plural = if sizes == 1 { "" } else { "s" };
    format!("'{list}' has {given} numbers for {sizes} size{plural}")
}

/// Reads a text that is one size set and nothing else: `67 [71:77]`, `36-38 (40-42) 44-46`.
///
/// The number of sizes is what the set itself gives.
pub(in super::super) fn read_set(text: &str) -> (Vec<SizeEntry>, Vec<Diagnostic>) {
    let lexed = super::super::lexeme::lexemes(text, &[]);
    let (lexemes, mut diagnostics) = (lexed.terms, lexed.diagnostics);
    diagnostics.extend(lexed.aside.iter().map(|&span| not_a_number(text, span)));
    let brackets = lexemes.iter().any(|l| l.term == Term::Open);
    let ranges = brackets && hyphens_are_ranges(&lexemes);
    let mut list = Vec::new();
    let mut at = 0;
    while let Some(&lexeme) = lexemes.get(at) {
        at += 1;
        let skipped = matches!(
            lexeme.term,
            Term::Open | Term::Close | Term::Stitch | Term::Stop
        );
        let joint = JOINTS.contains(&lexeme.term) && lexeme.term != Term::Dash;
        if skipped || joint {
            continue;
        }
        if lexeme.term == Term::Dash && is_separator(&lexemes, at - 1) {
            if ranges && let Some(high) = lexemes.get(at).filter(|l| l.term == Term::Number) {
                at += 1;
                let span = list
                    .last()
                    .map_or(high.span, |e: &SizeEntry| e.span.join(high.span));
                diagnostics.push(range_note(text, span));
            }
            continue;
        }
        match entry(lexeme) {
            Some(found) => list.push(found),
            None => diagnostics.push(not_a_number(text, lexeme.span)),
        }
    }
    whole_only(text, &list, &mut diagnostics);
    (list, diagnostics)
}

/// A dash between two entries separates them; elsewhere it stands for a size that is skipped.
fn is_separator(lexemes: &[Lexeme], at: usize) -> bool {
    let before = at
        .checked_sub(1)
        .and_then(|b| lexemes.get(b))
        .map(|l| l.term);
    let after = lexemes.get(at + 1).map(|l| l.term);
    let value = |t: Option<Term>| matches!(t, Some(Term::Number | Term::Dash | Term::NoneOf));
    before == Some(Term::Number) && value(after)
        || before == Some(Term::Dash) && value(after) && !leading(lexemes, at)
}

/// True when the dashes before this one leave it the place of a number.
fn leading(lexemes: &[Lexeme], at: usize) -> bool {
    let dashes = lexemes
        .get(..at)
        .unwrap_or_default()
        .iter()
        .rev()
        .take_while(|l| l.term == Term::Dash)
        .count();
    dashes % 2 == 0
}

/// Hyphens are ranges where a number outside brackets has one: `36-38 (40-42)`.
fn hyphens_are_ranges(lexemes: &[Lexeme]) -> bool {
    let mut depth = 0_u32;
    for pair in lexemes.windows(2) {
        let [first, second] = pair else { continue };
        match first.term {
            Term::Open => depth += 1,
            Term::Close => depth = depth.saturating_sub(1),
            Term::Number if depth == 0 && second.term == Term::Dash => return true,
            _ => {}
        }
    }
    false
}

fn range_note(text: &str, span: Span) -> Diagnostic {
    let words = text.get(span.from..span.to).unwrap_or_default();
    let message = format!("'{words}' is read as a range for one size; its first number is used");
    Diagnostic::new(&codes::READING_HYPHEN, message).at(span)
}

fn not_a_number(text: &str, span: Span) -> Diagnostic {
    let words = text.get(span.from..span.to).unwrap_or_default();
    Diagnostic::new(&codes::NOT_UNDERSTOOD, format!("'{words}' is not a number")).at(span)
}

fn whole_only(text: &str, list: &[SizeEntry], diagnostics: &mut Vec<Diagnostic>) {
    for entry in list {
        if entry.value.is_some_and(|v| whole(v).is_none()) {
            let words = text.get(entry.span.from..entry.span.to).unwrap_or_default();
            let message = format!("'{words}' is not a whole number of stitches");
            diagnostics.push(Diagnostic::new(&codes::NOT_WHOLE, message).at(entry.span));
        }
    }
}
