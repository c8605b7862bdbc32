//! Lexemes to instructions, by recursive descent. The grammar is in the documentation of the room.

mod along;
mod amount;
mod beside_verb;
mod bind_off;
mod check;
mod crossed;
mod divided;
mod even;
mod extent;
mod going;
mod instead;
mod length;
mod place;
mod repeat;
mod row;
mod row_list;
mod row_name;
mod select;
mod shape;
mod sizes;
mod step_list;
mod stretches;
mod together;
mod unknown;

use crate::diagnostic::{Diagnostic, Span};

use super::account::{self, Fate};
use super::codes;
use super::lexeme::{Lexed, lexemes};
use super::limits::{MAX_CLAUSE, MAX_DEPTH};
use super::program::{
    Action, Amount, ChoiceId, Doubt, DoubtTaken, Instruction, Num, Pace, Program, RowList,
    RowPlace, ShapedPart, Verb,
};
use super::term::{Lexeme, Term};

pub(super) use amount::read_set;

/// Reads the whole text for these sizes.
pub(super) fn parse(text: &str, labels: &[String]) -> (Program, Vec<Diagnostic>) {
    let Lexed {
        terms: lexemes,
        mut aside,
        diagnostics,
    } = lexemes(text, labels);
    let closes = closes(&lexemes);
    let label_letters: Vec<String> = labels.iter().map(|l| sizes::letters_of(l)).collect();
    let mut parser = Parser {
        text,
        labels,
        longest_label: label_letters.iter().map(String::len).max().unwrap_or(0),
        label_letters,
        fates: vec![Fate::Used; lexemes.len()],
        lexemes,
        closes,
        at: 0,
        end: 0,
        depth: 0,
        steps: Vec::new(),
        amounts: Vec::new(),
        choices: Vec::new(),
        lists: Vec::new(),
        diagnostics,
        mask: u64::MAX,
        block: None,
        outer_sizes: Vec::new(),
        last_clause: 0,
        verb: None,
        at_neck: false,
        pace: None,
        sentence: 0,
        sentence_at: 0,
        marked: false,
        star_open: false,
        rows_left_out: false,
        once: None,
        times_told: false,
        used_untold: false,
        rowless: None,
        steps_numbered: 0,
    };
    parser.end = parser.lexemes.len();
    parser.items();
    parser.end_of_sizes();
    let Parser {
        lexemes,
        fates,
        mut steps,
        amounts,
        choices,
        lists,
        mut diagnostics,
        ..
    } = parser;
    row_list::in_order(&mut steps);
    // A sentence about short rows is an error as a whole.
    let short: Vec<Span> = diagnostics
        .iter()
        .filter(|d| d.code.id == codes::SHORT_ROW_WORDS.id)
        .filter_map(|d| d.span)
        .map(|span| {
            let mut stops = lexemes.iter().filter(|l| l.term == Term::Stop);
            let end = stops.find(|l| l.span.from >= span.to);
            Span::new(span.from, end.map_or(text.len(), |l| l.span.from))
        })
        .collect();
    aside.retain(|word| !short.iter().any(|s| s.from <= word.from && word.to <= s.to));
    diagnostics.extend(account::not_understood(text, &lexemes, &fates, &aside));
    (
        Program {
            steps,
            amounts,
            choices,
            lists,
        },
        diagnostics,
    )
}

/// For every opening bracket the place of its closing one; the end of the text when it has none.
fn closes(lexemes: &[Lexeme]) -> Vec<usize> {
    let mut out = vec![lexemes.len(); lexemes.len()];
    let mut open = Vec::new();
    for (at, lexeme) in lexemes.iter().enumerate() {
        match lexeme.term {
            Term::Open => open.push(at),
            Term::Close => {
                if let Some(place) = open.pop().and_then(|from| out.get_mut(from)) {
                    *place = at;
                }
            }
            _ => {}
        }
    }
    out
}

/// What shaping is going on, for a clause that leaves it out: `then every 4th row twice`.
#[derive(Clone, Copy, Debug)]
struct OnGoing {
    verb: Verb,
    by: Num,
    place: RowPlace,
}

#[expect(
    clippy::struct_excessive_bools,
    reason = "what has been said, each by itself"
)]
struct Parser<'a> {
    text: &'a str,
    labels: &'a [String],
    /// The labels' letters and digits.
    label_letters: Vec<String>,
    longest_label: usize,
    lexemes: Vec<Lexeme>,
    /// What became of every lexeme.
    fates: Vec<Fate>,
    closes: Vec<usize>,
    at: usize,
    /// One past the last lexeme of the bracket being read.
    end: usize,
    depth: usize,
    steps: Vec<Instruction>,
    amounts: Vec<Amount>,
    choices: Vec<DoubtTaken>,
    lists: Vec<RowList>,
    diagnostics: Vec<Diagnostic>,
    /// The sizes the next steps are for, one bit each.
    mask: u64,
    /// Sizes named and not closed yet.
    block: Option<sizes::SizeBlock>,
    /// Those that held before the brackets being read.
    outer_sizes: Vec<sizes::Outer>,
    /// Steps before the last clause that gave some.
    last_clause: usize,
    verb: Option<OnGoing>,
    /// The lines shape the neck from here on.
    at_neck: bool,
    pace: Option<Pace>,
    /// Steps before the sentence being read.
    sentence: usize,
    /// Its first lexeme.
    sentence_at: usize,
    /// A star or a repeated bracket stands in this sentence already.
    marked: bool,
    /// The last star opened a run; one before a repeat closes it.
    star_open: bool,
    /// `row` may be left out, since the clause before has it: `2 at next 6`.
    rows_left_out: bool,
    /// The last bracket that is worked once: steps before it, and the lexeme that closes it.
    once: Option<(usize, usize)>,
    /// How often stands before the rows being read.
    times_told: bool,
    /// The decrease row was worked before it was told.
    used_untold: bool,
    /// Steps there were after shaping of which no row was told, so that it is one row.
    rowless: Option<usize>,
    /// Steps that have a number before them, `1.`, `2.`.
    steps_numbered: u32,
}

/// A place to go back to.
#[derive(Clone, Copy)]
struct Checkpoint {
    at: usize,
    amounts: usize,
    choices: usize,
    lists: usize,
    steps: usize,
    diagnostics: usize,
}

impl Parser<'_> {
    fn items(&mut self) {
        while self.at < self.end {
            let before = self.at;
            self.close_sizes();
            self.item();
            if self.at == before {
                self.unknown();
            }
        }
    }

    /// Reads one instruction, check or joint. Consumes nothing when none stands here.
    fn item(&mut self) {
        match self.term(0) {
            Some(Term::Stop) => self.stop(),
            Some(
                Term::Comma
                | Term::Semicolon
                | Term::Colon
                | Term::And
                | Term::Then
                | Term::Close
                | Term::Equals,
            ) => self.at += 1,
            // A ruled line is no count.
            Some(Term::Dash) if self.is(1, &[Term::Dash, Term::Stop]) => self.at += 1,
            Some(Term::Open) => self.bracket(),
            Some(Term::Number) if self.numbers_a_step() => {
                self.steps_numbered += 1;
                self.at += 2;
                self.sentence_at = self.at;
            }
            Some(Term::Star) => self.star(),
            Some(Term::SameTime) => self.same_time(),
            _ => self.clause(),
        }
    }

    /// `1.`, `2)` before the steps, one after the other.
    fn numbers_a_step(&self) -> bool {
        let number = self.lexeme(0).and_then(Lexeme::count);
        let mark = self.lexeme(1).filter(|l| l.joined);
        let before = self.at.checked_sub(1).and_then(|at| self.lexemes.get(at));
        let gap = before.zip(self.lexeme(0)).map(|(one, next)| {
            let gap = self.text.get(one.span.to..next.span.from);
            gap.unwrap_or_default()
        });
        let line = gap.is_some_and(|gap| gap.contains('\n'));
        let begins = line || self.at == self.sentence_at || self.is_before(&[Term::Semicolon]);
        let marked = mark.is_some_and(|l| matches!(l.term, Term::Stop | Term::Close));
        let next = number == self.steps_numbered.checked_add(1);
        begins && marked && next && self.depth == 0 && self.term(2).is_some()
    }

    fn clause(&mut self) {
        let readers: [fn(&mut Self) -> Option<()>; 23] = [
            Self::short_row,
            Self::size_mask,
            Self::heading,
            Self::begin,
            Self::labelled_row,
            Self::side_check,
            Self::apart,
            Self::count_check,
            Self::elsewhere,
            Self::rejoined,
            Self::hold,
            Self::sloped,
            Self::bound_row,
            Self::bind_off,
            Self::how_worked,
            Self::shape,
            Self::repeat,
            Self::even,
            Self::told_row,
            Self::rows_remark_behind,
            Self::going_on,
            Self::turned,
            Self::joint,
        ];
        let end = self.end;
        self.end = end.min(self.at + MAX_CLAUSE);
        let before = self.steps.len();
        let _ = readers.iter().find_map(|&reader| self.attempt(reader));
        if self.steps.len() > before {
            self.last_clause = before;
        }
        self.end = end;
    }

    /// Words that say nothing by themselves.
    fn joint(&mut self) -> Option<()> {
        let skip = match self.term(0)? {
            Term::Work | Term::With | Term::For | Term::There | Term::Dash => 1,
            // A heading: `Sleeve cap:`, `Armhole.`
            Term::Piece | Term::Garment | Term::Armhole | Term::Back if self.is_heading(1) => 1,
            Term::Garment if self.is(1, &[Term::Piece]) && self.is_heading(2) => 2,
            _ => return None,
        };
        self.at += skip;
        Some(())
    }

    /// The sentence starts here, and a colon or its end stands `ahead` of here.
    fn is_heading(&self, ahead: usize) -> bool {
        let ends = [Term::Colon, Term::Stop, Term::Dash];
        let next_line = self
            .lexeme(ahead)
            .is_none_or(|l| l.starts_line || ends.contains(&l.term));
        self.at == self.sentence_at && next_line
    }

    fn stop(&mut self) {
        if self.steps.len() > self.sentence
            && let Some(block) = &mut self.block
        {
            block.sentences += 1;
            self.sentence = self.steps.len();
        }
        let paragraph = self.lexeme(0).is_some_and(|l| l.span.from == l.span.to);
        if paragraph {
            self.end_of_sizes();
        }
        self.at += 1;
        self.sentence = self.steps.len();
        self.sentence_at = self.at;
        self.marked = false;
    }

    fn star(&mut self) {
        let from = self.at;
        while self.eat(Term::Star) {}
        let double = self.at - from > 1;
        let closing =
            !double && self.star_open && (self.is(0, &[Term::Rep]) || self.is(1, &[Term::Rep]));
        self.star_open = !closing && !double;
        if closing {
            return;
        }
        self.push(if double { Action::Mark } else { Action::Star }, from);
        self.marked = true;
    }

    /// A bracket that is worked several times, or a remark whose contents are read like the rest.
    fn bracket(&mut self) {
        if self.attempt(Self::instead).is_some() {
            return;
        }
        let end = self.end;
        self.end = end.min(self.at + MAX_CLAUSE);
        let row = self.attempt(Self::told_row);
        self.end = end;
        if row.is_some() {
            return;
        }
        if self.depth >= MAX_DEPTH || self.attempt(Self::group).is_none() {
            let close = self.closes.get(self.at).copied();
            self.once = close.map(|close| (self.steps.len(), close));
            self.open_sizes();
            self.at += 1;
            let _ = self
                .attempt(Self::side_remark)
                .or_else(|| self.attempt(Self::rows_remark));
        }
    }

    /// `(RS)` and `(right side facing)` beside a row: the side of the row before, or of the one that follows.
    fn side_remark(&mut self) -> Option<()> {
        let from = self.at;
        let side = self.side()?;
        let facing = self.eat(Term::Facing);
        (self.term(0)? == Term::Close).then(|| self.at += 1)?;
        let first = from.checked_sub(1) == Some(self.sentence_at);
        let next = facing || first;
        self.push(Action::OfSide { side, next }, from);
        Some(())
    }

    /// `(12 rows)`, `(over 11 rows)` beside what was told: so many rows are worked.
    fn rows_remark(&mut self) -> Option<()> {
        let from = self.at;
        while self
            .eat_any(&[Term::For, Term::Up, Term::InAll, Term::Equals])
            .is_some()
        {}
        let rows = self.amount()?;
        self.need(Term::Row)?;
        self.eat_any(&[Term::InAll, Term::Work]);
        (self.term(0)? == Term::Close).then_some(())?;
        self.push(Action::Rows(rows), from);
        self.at += 1;
        Some(())
    }

    /// `(48 sts; 12 rows)`: behind another remark.
    fn rows_remark_behind(&mut self) -> Option<()> {
        self.is_before(&[Term::Semicolon, Term::Comma])
            .then_some(())?;
        self.rows_remark()
    }

    fn group(&mut self) -> Option<()> {
        let from = self.at;
        let close = self
            .closes
            .get(self.at)
            .copied()
            .filter(|&c| c < self.end)?;
        self.at = close + 1;
        let (extent, told) = self.extent()?;
        // `(dec row, work 1 row) twice more`: after they were worked once?
        (!told.more).then_some(())?;
        let after = self.at;
        let outer_end = std::mem::replace(&mut self.end, close);
        let outer_steps = std::mem::take(&mut self.steps);
        let mask = self.mask;
        self.at = from + 1;
        self.depth += 1;
        self.items();
        self.depth -= 1;
        self.end = outer_end;
        let steps = std::mem::replace(&mut self.steps, outer_steps);
        self.mask = mask;
        self.at = after;
        self.push(Action::Group { steps, extent }, from);
        self.marked = true;
        Some(())
    }

    // ---- Small steps.

    fn term(&self, ahead: usize) -> Option<Term> {
        self.lexeme(ahead).map(|l| l.term)
    }

    fn lexeme(&self, ahead: usize) -> Option<Lexeme> {
        let at = self.at.checked_add(ahead).filter(|&at| at < self.end)?;
        self.lexemes.get(at).copied()
    }

    fn is(&self, ahead: usize, terms: &[Term]) -> bool {
        self.term(ahead).is_some_and(|t| terms.contains(&t))
    }

    fn eat(&mut self, term: Term) -> bool {
        let here = self.term(0) == Some(term);
        self.at += usize::from(here);
        here
    }

    fn eat_any(&mut self, terms: &[Term]) -> Option<Term> {
        let term = self.term(0).filter(|t| terms.contains(t))?;
        self.at += 1;
        Some(term)
    }

    fn need(&mut self, term: Term) -> Option<()> {
        self.eat(term).then_some(())
    }

    /// Runs a reader and goes back when it finds nothing.
    fn attempt<T>(&mut self, reader: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let mark = self.mark();
        let end = self.end;
        let found = reader(self);
        if found.is_none() {
            self.end = end;
            self.back(mark);
        }
        found
    }

    fn mark(&self) -> Checkpoint {
        Checkpoint {
            at: self.at,
            amounts: self.amounts.len(),
            choices: self.choices.len(),
            lists: self.lists.len(),
            steps: self.steps.len(),
            diagnostics: self.diagnostics.len(),
        }
    }

    fn back(&mut self, mark: Checkpoint) {
        for fate in self.fates.iter_mut().take(self.at).skip(mark.at) {
            *fate = Fate::Used;
        }
        self.at = mark.at;
        self.amounts.truncate(mark.amounts);
        self.choices.truncate(mark.choices);
        self.lists.truncate(mark.lists);
        self.steps.truncate(mark.steps);
        self.diagnostics.truncate(mark.diagnostics);
    }

    /// The bytes from one lexeme up to the one last read.
    fn span_from(&self, from: usize) -> Span {
        let last = self.at.saturating_sub(1).max(from);
        let first = self.lexemes.get(from).map_or(Span::new(0, 0), |l| l.span);
        self.lexemes.get(last).map_or(first, |l| first.join(l.span))
    }

    fn push(&mut self, action: Action, from: usize) {
        let span = self.span_from(from);
        self.not_likewise(&action, from);
        self.steps.push(Instruction {
            action,
            span,
            sizes: self.mask,
        });
    }

    /// `work next row in the same way`: as what? Plain rows it is not.
    fn not_likewise(&mut self, action: &Action, from: usize) {
        let plain = match action {
            Action::Even(_) | Action::EvenLength { .. } => true,
            Action::Row { body, .. } => body.is_plain(),
            _ => false,
        };
        let words = self.lexemes.get(from.saturating_sub(1)..self.at);
        if plain && words.unwrap_or_default().iter().any(|l| l.likewise) {
            let span = self.span_from(from);
            self.not_understood(
                span,
                "is to be worked like other rows, and it is not said which",
            );
        }
    }

    fn push_part(&mut self, part: ShapedPart) {
        self.steps.push(Instruction {
            action: Action::Shape(part),
            span: part.span,
            sizes: self.mask,
        });
        let binds = matches!(part.verb, Verb::BindOff | Verb::CastOn);
        self.pace = (!binds).then_some(part.pace);
    }

    fn choice(&mut self, doubt: Doubt, span: Span) -> ChoiceId {
        self.choices.push(DoubtTaken {
            doubt,
            span,
            second: false,
        });
        self.choices.len() - 1
    }

    /// The words of a span, and what about them cannot be worked.
    fn not_understood(&mut self, span: Span, what: &str) {
        let message = format!("'{}' {what}", self.slice(span));
        self.diagnostics
            .push(Diagnostic::new(&codes::NOT_UNDERSTOOD, message).at(span));
    }

    fn slice(&self, span: Span) -> &str {
        self.text.get(span.from..span.to).unwrap_or_default()
    }
}
