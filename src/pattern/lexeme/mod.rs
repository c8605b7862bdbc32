//! Tokens to lexemes: words become terms, numbers get their value, fillers fall away.

mod hundreds;
mod points;

use crate::diagnostic::{Diagnostic, Repair, Span};

use super::codes;
use super::lexer::{Token, TokenKind, tokens};
use super::term::{Lexeme, Term};
use super::vocabulary::{is_label_word, is_shortened, is_ten, letters_and_number, phrases, plain};

/// A text in terms of the trade.
pub(super) struct Lexed {
    /// The terms, in order: what the parser has to account for.
    pub(super) terms: Vec<Lexeme>,
    /// Words that are no term of the trade: set aside, so that they change nothing that is read,
    /// and told as errors.
    pub(super) aside: Vec<Span>,
    /// What the scan of a printed page may have spoiled.
    pub(super) diagnostics: Vec<Diagnostic>,
}

/// The lexemes of the text for sizes with these labels.
pub(super) fn lexemes(text: &str, labels: &[String]) -> Lexed {
    let all = tokens(text);
    let labels = label_words(labels);
    let (tokens, mut aside) = super::aside::set_aside(text, &all, &labels);
    let mut reader = LexemeReader {
        text,
        labels: &labels,
        tokens: &tokens,
        at: 0,
        lines: 1,
        spaced: true,
        inches: false,
        out: Vec::new(),
        aside: Vec::new(),
        diagnostics: Vec::new(),
    };
    while let Some(&token) = reader.tokens.get(reader.at) {
        reader.step(token);
    }
    let LexemeReader {
        out: terms,
        aside: mut more,
        diagnostics,
        ..
    } = reader;
    aside.append(&mut more);
    aside.sort();
    Lexed {
        terms,
        aside,
        diagnostics,
    }
}

fn is_space(token: Token) -> bool {
    matches!(token.kind, TokenKind::Space { .. })
}

/// The words of all labels, as printed.
fn label_words(labels: &[String]) -> Vec<String> {
    let words = labels
        .iter()
        .flat_map(|label| label.split(|c: char| !c.is_alphanumeric()));
    words
        .filter(|w| w.chars().next().is_some_and(char::is_alphabetic))
        .map(str::to_owned)
        .collect()
}

struct LexemeReader<'a> {
    text: &'a str,
    labels: &'a [String],
    tokens: &'a [Token],
    at: usize,
    /// Line ends since the last lexeme.
    lines: u32,
    spaced: bool,
    /// Within a list of inches in which every number has its mark.
    inches: bool,
    out: Vec<Lexeme>,
    aside: Vec<Span>,
    diagnostics: Vec<Diagnostic>,
}

impl LexemeReader<'_> {
    fn step(&mut self, token: Token) {
        match token.kind {
            TokenKind::Space { lines } => {
                self.turned(token.span);
                self.at += 1;
                self.spaced = true;
                self.lines = self.lines.max(lines);
                if lines > 1 {
                    self.push(Term::Stop, 0.0, Span::new(token.span.from, token.span.from));
                    self.lines = lines;
                }
            }
            TokenKind::Digits | TokenKind::Fraction(_) => self.number(token),
            TokenKind::Word => self.word(token),
            TokenKind::Mark(mark) => self.mark(mark, token.span),
        }
    }

    /// A sign that turns the direction of writing: what is seen then is not what is read.
    fn turned(&mut self, span: Span) {
        let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        let found = self.slice(span).char_indices().find(|&(_, c)| turns(c));
        if let Some((at, sign)) = found {
            let from = span.from + at;
            let span = Span::new(from, from + sign.len_utf8());
            let message = format!(
                "an invisible sign ({}) turns the direction of writing here: what an editor shows may not be what is read; \
                 take it out",
                sign.escape_unicode()
            );
            let found = Diagnostic::new(&codes::NOT_UNDERSTOOD, message).at(span);
            self.diagnostics.push(found);
        }
    }

    fn push(&mut self, term: Term, value: f64, span: Span) {
        let capital = self
            .slice(span)
            .chars()
            .next()
            .is_some_and(char::is_uppercase);
        let joined = !self.spaced;
        (self.spaced, self.lines) = (
            false,
            if matches!(term, Term::Stop) {
                self.lines
            } else {
                0
            },
        );
        let starts_line = self.out.last().is_none() || self.starts(span);
        if term == Term::InPattern
            && let Some(last) = self.out.last_mut()
        {
            last.in_pattern = true;
        }
        if term == Term::Likewise
            && let Some(last) = self.out.last_mut()
        {
            last.likewise = true;
        }
        let nothing = [Term::Filler, Term::Plain, Term::InPattern, Term::Likewise];
        if nothing.contains(&term) {
            return;
        }
        if term == Term::Close && self.closes_a_remark(span) {
            self.out.pop();
            return;
        }
        if term == Term::Unknown {
            self.aside.push(span);
            return;
        }
        self.out.push(Lexeme {
            term,
            value,
            span,
            starts_line: starts_line && capital,
            capital,
            joined,
            in_pattern: false,
            likewise: false,
        });
    }

    /// Nothing but fillers stood in the bracket that closes here: `(i-cord edge)`.
    fn closes_a_remark(&self, close: Span) -> bool {
        let open = self.out.last().filter(|l| l.term == Term::Open);
        open.is_some_and(|l| {
            let words = self.slice(Span::new(l.span.to, close.from));
            words.chars().any(char::is_alphabetic) && !l.in_pattern && !l.likewise
        })
    }

    /// True when a line end stands before the token of this span.
    fn starts(&self, span: Span) -> bool {
        let at = self.tokens.partition_point(|t| t.span.from < span.from);
        let before = at.checked_sub(1).and_then(|at| self.tokens.get(at));
        before.is_none_or(|t| matches!(t.kind, TokenKind::Space { lines: 1.. }))
    }

    fn slice(&self, span: Span) -> &str {
        self.text.get(span.from..span.to).unwrap_or_default()
    }

    fn peek(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }

    /// The token at `at + ahead` when it is this mark.
    fn is_mark(&self, ahead: usize, mark: char) -> bool {
        self.peek(ahead)
            .is_some_and(|t| t.kind == TokenKind::Mark(mark))
    }

    fn digits(&self, ahead: usize) -> Option<f64> {
        let token = self.peek(ahead).filter(|t| t.kind == TokenKind::Digits)?;
        self.slice(token.span).parse().ok()
    }

    /// A fraction written `1/2` at `at + ahead`.
    fn slashed(&self, ahead: usize) -> Option<f64> {
        let (over, under) = (self.digits(ahead)?, self.digits(ahead + 2)?);
        // `5/6/7` is a list; printed fractions are halves, thirds, quarters and eighths.
        let fraction = [2.0, 3.0, 4.0, 8.0].contains(&under) && over >= 1.0 && over < under;
        let list =
            self.is_mark(ahead + 3, '/') || self.out.last().is_some_and(|l| l.term == Term::Slash);
        (self.is_mark(ahead + 1, '/') && fraction && !list).then_some(over / under)
    }

    /// `7`, `7.5`, `1/2`, `7 1/2`, `7-1/2`, `7.1/2`, `7½`, `4th`, and `1O` for 10.
    fn number(&mut self, token: Token) {
        if let TokenKind::Fraction(value) = token.kind {
            self.at += 1;
            return self.push(Term::Number, value, token.span);
        }
        if let Some(slip) = self.slip(token) {
            return self.slipped(slip);
        }
        // `1.000` is a thousand to some readers and one to others.
        let thousand = self.slice(token.span).ends_with(".000");
        let whole = self.digits(0).filter(|_| !thousand);
        let whole = whole.unwrap_or(f64::INFINITY);
        if let Some(value) = self.slashed(0) {
            return self.take(3, Term::Number, value);
        }
        match self.peek(1).map(|t| t.kind) {
            Some(TokenKind::Fraction(part)) => self.take(2, Term::Number, whole + part),
            Some(TokenKind::Word) if self.ordinal_suffix() => self.take(2, Term::Ordinal, whole),
            Some(TokenKind::Space { lines: 0 } | TokenKind::Mark('-' | '.')) => {
                match self.part(2) {
                    Some((part, length)) => self.take(2 + length, Term::Number, whole + part),
                    None => self.take(1, Term::Number, whole),
                }
            }
            _ => self.take(1, Term::Number, whole),
        }
    }

    /// A fraction at `at + ahead`, and its tokens.
    fn part(&self, ahead: usize) -> Option<(f64, usize)> {
        match self.peek(ahead)?.kind {
            TokenKind::Fraction(value) => Some((value, 1)),
            _ => self.slashed(ahead).map(|value| (value, 3)),
        }
    }

    fn ordinal_suffix(&self) -> bool {
        let word = self.peek(1).map(|t| self.slice(t.span).to_lowercase());
        matches!(word.as_deref(), Some("th" | "st" | "nd" | "rd" | "d"))
    }

    /// Pushes one lexeme made of the next `count` tokens.
    fn take(&mut self, count: usize, term: Term, value: f64) {
        let from = self.peek(0).map_or(0, |t| t.span.from);
        let to = self.peek(count - 1).map_or(from, |t| t.span.to);
        self.at += count;
        self.push(term, value, Span::new(from, to));
    }

    /// A number in which letters stand for digits, as scanned print has it: its span and value.
    fn slip(&self, token: Token) -> Option<(Span, usize, String)> {
        let mut span = token.span;
        let mut count = 1;
        if token.kind == TokenKind::Digits
            && let Some(next) = self.peek(1).filter(|t| t.kind == TokenKind::Word)
        {
            span = span.join(next.span);
            count = 2;
        }
        let word = self.slice(span);
        let has_digit = word.chars().any(|c| c.is_ascii_digit());
        let known =
            |c: char| c.is_ascii_digit() || matches!(c, 'l' | 'I' | 'O') || has_digit && c == 'o';
        let letters = word.chars().any(char::is_alphabetic);
        if !letters || word.len() > 4 || !word.chars().all(known) {
            return None;
        }
        let read = word.replace(['l', 'I'], "1").replace(['O', 'o'], "0");
        Some((span, count, read))
    }

    fn slipped(&mut self, (span, count, read): (Span, usize, String)) {
        let message = format!(
            "'{}' looks like a slip of the scan; it is read as {read} for now",
            self.slice(span)
        );
        let repair = Repair {
            span,
            text: read.clone(),
        };
        self.diagnostics.push(
            Diagnostic::new(&codes::SCAN_SLIP, message)
                .at(span)
                .repairs(vec![repair]),
        );
        self.at += count;
        self.push(Term::Number, read.parse().unwrap_or(f64::INFINITY), span);
    }

    fn word(&mut self, token: Token) {
        let printed = self.slice(token.span);
        if is_label_word(printed, self.labels) && self.phrase(&plain(printed)).is_none() {
            return self.take(1, Term::Label, 0.0);
        }
        if let Some(slip) = self.slip(token) {
            return self.slipped(slip);
        }
        let word = plain(self.slice(token.span));
        if word == "eor" {
            // `EOR`, every other row.
            self.at += 1;
            for term in [Term::Every, Term::Alternate, Term::Row] {
                self.push(term, 1.0, token.span);
            }
            return;
        }
        if let Some((term, value, count)) = self.phrase(&word) {
            return self.spelled(&word, (term, value, count));
        }
        if let Some((letters, number)) = letters_and_number(token, &word) {
            self.at += 1;
            let (term, value) = phrases(&letters)
                .last()
                .map_or((Term::Unknown, 0.0), |p| (p.term, p.value));
            let middle = token.span.from + letters.len();
            self.push(term, value, Span::new(token.span.from, middle));
            return self.push(Term::Number, number, Span::new(middle, token.span.to));
        }
        self.at += 1;
        self.push(Term::Unknown, 0.0, token.span);
    }

    fn spelled(&mut self, word: &str, (term, value, count): (Term, f64, usize)) {
        if term == Term::Number
            && let Some((number, used)) = self.hundreds(word, value)
        {
            return self.take(used, Term::Number, number);
        }
        if is_ten(word)
            && let Some((unit, used)) = self.unit(0)
        {
            return self.take(used, Term::Number, value + unit);
        }
        // `at either end`; `either of them` is one.
        if word == "either" && !self.before_edge() {
            return self.take(1, Term::Unknown, 0.0);
        }
        if word == "in" && count == 1 && self.means_inches() {
            return self.take(1, Term::Inch, 0.0);
        }
        // `at each end on the following 3 rows` ends nothing.
        let of_row = self
            .out
            .last()
            .is_some_and(|l| matches!(l.term, Term::Every | Term::And));
        if term == Term::Ending && matches!(word, "end" | "ends") && of_row {
            return self.take(1, Term::End, 1.0);
        }
        // `every knit row after that` is every one; `the 4th row after that` is another count.
        if word == "after" && term == Term::Filler {
            let mut before = self.out.iter().rev().take(4);
            let of_every = before.any(|l| l.term == Term::Every);
            return self.take(count, if of_every { term } else { Term::Unknown }, 0.0);
        }
        // `7 in from beg of armhole shaping`: from its first row.
        if term == Term::Plain && matches!(word, "armhole" | "cap" | "sleeve" | "top") {
            let begins = matches!(
                self.out.as_slice(),
                [.., from, begin] if from.term == Term::From && begin.term == Term::Beginning
            );
            return self.take(count, if begins { Term::Piece } else { term }, value);
        }
        if term == Term::InPattern && count == 1 && self.before_number() {
            return self.take(1, Term::Work, 1.0);
        }
        self.take(count, term, value);
    }

    /// The next word is `end`, `side` or `edge`.
    fn before_edge(&self) -> bool {
        let next = self.next_word(0, "").and_then(|ahead| self.peek(ahead));
        next.is_some_and(|t| matches!(plain(self.slice(t.span)).as_str(), "end" | "side" | "edge"))
    }

    /// `patt 3 rows`, `rib 1 row`: a number stands after the word.
    fn before_number(&self) -> bool {
        let next = self.next_word(0, "").and_then(|ahead| self.peek(ahead));
        next.is_some_and(|t| match t.kind {
            TokenKind::Digits => true,
            _ => matches!(self.slice(t.span), "one" | "two" | "three"),
        })
    }

    /// The longest phrase that starts here: its term, value and tokens.
    fn phrase(&self, word: &str) -> Option<(Term, f64, usize)> {
        phrases(word).iter().find_map(|phrase| {
            let mut ahead = 0;
            let mut last = word.to_owned();
            for &wanted in &phrase.rest {
                ahead = self.next_word(ahead, &last)?;
                let token = self.peek(ahead)?;
                last = plain(self.slice(token.span));
                if last != wanted {
                    return None;
                }
            }
            Some((phrase.term, phrase.value, ahead + 1))
        })
    }

    /// The place of the word after the one at `ahead`, when nothing but white space, a hyphen or
    /// the point of a shortened word stands between.
    fn next_word(&self, mut ahead: usize, before: &str) -> Option<usize> {
        for _ in 0..3 {
            ahead += 1;
            match self.peek(ahead)?.kind {
                TokenKind::Word | TokenKind::Digits => return Some(ahead),
                TokenKind::Mark('&') => return Some(ahead),
                TokenKind::Space { lines: 0 | 1 } | TokenKind::Mark('-') => {}
                TokenKind::Mark('.') if is_shortened(before) => {}
                _ => return None,
            }
        }
        None
    }

    /// `in` after a number is inches, unless it says where: `dec 5 in next row`.
    fn means_inches(&self) -> bool {
        let number = self
            .out
            .last()
            .is_some_and(|l| matches!(l.term, Term::Number | Term::Close));
        let next = self.next_word(0, "in").and_then(|ahead| self.peek(ahead));
        let place = next.map(|t| plain(self.slice(t.span)));
        number
            && !matches!(
                place.as_deref(),
                Some("next" | "each" | "every" | "this" | "the" | "foll")
            )
    }

    fn mark(&mut self, mark: char, span: Span) {
        let after_number = self
            .out
            .last()
            .is_some_and(|l| matches!(l.term, Term::Number | Term::Close));
        if mark == '(' && self.rest_is("(more)", span) {
            return self.take(3, Term::More, 1.0);
        }
        // `4 sts (underarm)`: which stitches they are.
        let named = ["(underarm)", "(underarms)", "(armhole)", "(armholes)"];
        if mark == '(' && named.iter().any(|name| self.rest_is(name, span)) {
            return self.take(3, Term::Filler, 0.0);
        }
        if mark == '(' && !self.spaced && self.rest_is("(s)", span) {
            // `st(s)`: one or more.
            self.at += 3;
            return;
        }
        let term = match mark {
            '(' => Term::Open,
            ')' => Term::Close,
            ',' => Term::Comma,
            ':' => Term::Colon,
            ';' => Term::Semicolon,
            '-' => Term::Dash,
            '/' => Term::Slash,
            '*' => Term::Star,
            '=' => Term::Equals,
            'x' => Term::Cross,
            // `3+2 sts` is no list of two steps; `rows 1+2` are two rows.
            '+' if self.sum_of_numbers() => Term::Unknown,
            '&' | '+' => Term::And,
            '!' | '?' => Term::Stop,
            '.' if self.goes_on() || self.is_mark(1, '-') => Term::Filler,
            '<' | '>' if self.in_angles(mark) => match mark {
                '<' => Term::Open,
                _ => Term::Close,
            },
            '→' | '⇒' => Term::Equals,
            '.' => Term::Stop,
            '"' if after_number && !self.spaced && self.list_of_inches() => {
                self.inches = true;
                Term::Filler
            }
            // The last mark of such a list stands within its bracket; it is the unit of all.
            '"' if std::mem::take(&mut self.inches) && self.is_mark(1, ')') => {
                self.take(1, Term::Close, 0.0);
                return self.take(1, Term::Inch, 0.0);
            }
            '"' if after_number && !self.spaced => Term::Inch,
            '>' if self.starts(span) => Term::Filler,
            '"' | '\'' | '•' | '·' | '_' | '|' | '~' | '#' | '`' | '†' | '‡' | '°' => {
                Term::Filler
            }
            _ => Term::Unknown,
        };
        self.at += 1;
        self.push(term, 0.0, span);
    }

    /// A number stands on either side, and neither is a row's.
    fn sum_of_numbers(&self) -> bool {
        let next = (1..3).find_map(|ahead| self.peek(ahead).filter(|t| !is_space(*t)));
        let digits = next.is_some_and(|t| t.kind == TokenKind::Digits);
        let mut before = self.out.iter().rev().map(|l| l.term);
        digits && before.next() == Some(Term::Number) && before.next() != Some(Term::Row)
    }

    /// True where the next number of a list has its mark too: `7½" (7¾", 8")`. The last one is the unit of all.
    fn list_of_inches(&self) -> bool {
        let mut ahead = 1;
        let mut joint = false;
        while let Some(token) = self.peek(ahead)
            && matches!(
                token.kind,
                TokenKind::Space { lines: 0 | 1 } | TokenKind::Mark('(' | '[' | ',' | ':' | '/')
            )
        {
            joint |= matches!(token.kind, TokenKind::Mark(_));
            ahead += 1;
        }
        let number = |ahead: usize| {
            self.peek(ahead)
                .is_some_and(|t| matches!(t.kind, TokenKind::Digits | TokenKind::Fraction(_)))
        };
        let first = ahead;
        while number(ahead)
            || ahead > first
                && (number(ahead + 1) || self.is_mark(ahead + 1, '/'))
                && self.peek(ahead).is_some_and(|t| {
                    matches!(
                        t.kind,
                        TokenKind::Space { lines: 0 } | TokenKind::Mark('/' | '-' | '.')
                    )
                })
        {
            ahead += 1;
        }
        joint && ahead > first && self.is_mark(ahead, '"')
    }

    /// True for one of a pair of angle brackets with a list of sizes between: `4 <5, 6>`.
    fn in_angles(&self, mark: char) -> bool {
        let of_list = |t: &&Token| {
            let mark = matches!(t.kind, TokenKind::Mark(',' | ':' | '-' | '/'));
            mark || matches!(t.kind, TokenKind::Digits | TokenKind::Space { .. })
        };
        let digits = |list: &[&Token]| list.iter().any(|t| t.kind == TokenKind::Digits);
        let (before, after) = self.tokens.split_at(self.at.min(self.tokens.len()));
        if mark == '<' {
            let after = after.get(1..).unwrap_or_default();
            let inner: Vec<&Token> = after.iter().take_while(of_list).collect();
            let close = after.get(inner.len());
            return digits(&inner) && close.is_some_and(|t| t.kind == TokenKind::Mark('>'));
        }
        let inner: Vec<&Token> = before.iter().rev().take_while(of_list).collect();
        let open = before.iter().rev().nth(inner.len());
        digits(&inner) && open.is_some_and(|t| t.kind == TokenKind::Mark('<'))
    }

    /// True when the text goes on with these letters from the start of the span.
    fn rest_is(&self, letters: &str, span: Span) -> bool {
        let end = span.from + letters.len();
        self.text
            .get(span.from..end)
            .is_some_and(|here| here.eq_ignore_ascii_case(letters))
    }
}
