//! What was not understood, told with its place.

use crate::diagnostic::{Diagnostic, Span, nearest};

use super::super::codes;
use super::super::term::{Lexeme, Term};
use super::super::vocabulary::words_like;
use super::Parser;

/// Lexemes told in one finding.
const LONGEST_STRETCH: usize = 60;

/// A word that stands for a step, so that passing over it would change the count.
fn matters(lexeme: Lexeme) -> bool {
    matches!(
        lexeme.term,
        Term::Number
            | Term::Ordinal
            | Term::Often
            | Term::BindOff
            | Term::Dec
            | Term::Inc
            | Term::CastOn
            | Term::DecOp
            | Term::IncOp
            | Term::Rep
            | Term::Row
            | Term::Until
            | Term::Every
            | Term::Next
            | Term::Following
            | Term::Times
    )
}

impl Parser<'_> {
    /// Passes over at least one lexeme, up to a mark or a word that starts a clause.
    pub(super) fn unknown(&mut self) {
        let from = self.at;
        self.at += 1;
        while self.at < self.end
            && self.at.saturating_sub(from) < LONGEST_STRETCH
            && !self.may_start()
        {
            self.at += 1;
        }
        self.report(from);
    }

    fn may_start(&self) -> bool {
        self.is(
            0,
            &[
                Term::Stop,
                Term::Semicolon,
                Term::Comma,
                Term::Colon,
                Term::Open,
                Term::Close,
                Term::BindOff,
                Term::Dec,
                Term::Inc,
                Term::Work,
                Term::Rep,
                Term::Then,
                Term::Ending,
                Term::Size,
                Term::SameTime,
                Term::Star,
            ],
        ) || self.lexeme(0).is_some_and(|l| l.starts_line)
    }

    /// One finding for a stretch of words; neighbours without a step between are one stretch.
    fn report(&mut self, from: usize) {
        let start = match self.last_unknown {
            Some((before, steps))
                if steps == self.steps.len()
                    && self.at.saturating_sub(before) < LONGEST_STRETCH
                    && self.only_joints(before, from) =>
            {
                self.diagnostics.pop();
                before
            }
            _ => from,
        };
        self.last_unknown = Some((start, self.steps.len()));
        let words = self
            .lexemes
            .get(start..self.at)
            .unwrap_or_default()
            .to_vec();
        let important = words.iter().copied().any(matters);
        let span = self.span_from(start);
        let text = shortened(self.slice(span));
        let near = words
            .iter()
            .filter(|l| l.term == Term::Unknown)
            .find_map(|l| self.near(l.span));
        let code = match (important, near) {
            (true, _) => &codes::NOT_UNDERSTOOD,
            (false, Some(_)) => &codes::NEAR_WORD,
            (false, None) => &codes::WORDS_PASSED_OVER,
        };
        let mut message = format!("'{text}' was not understood");
        if let Some(word) = near {
            message = format!("{message}; '{word}' may be meant");
        }
        self.diagnostics
            .push(Diagnostic::new(code, message).at(span));
    }

    /// Nothing but joints stands from the end of the last unknown stretch up to `from`, and the
    /// last finding is about that stretch.
    fn only_joints(&self, before: usize, from: usize) -> bool {
        let first = self.lexemes.get(before).map(|l| l.span.from);
        let last = self.diagnostics.last().and_then(|d| d.span);
        let Some(end) = last.filter(|s| Some(s.from) == first).map(|s| s.to) else {
            return false;
        };
        let between = self.lexemes.get(before..from).unwrap_or_default();
        between
            .iter()
            .rev()
            .take_while(|l| l.span.from >= end)
            .all(|l| {
                matches!(
                    l.term,
                    Term::Comma
                        | Term::Colon
                        | Term::And
                        | Term::Then
                        | Term::Open
                        | Term::Close
                        | Term::Stop
                        | Term::Equals
                        | Term::Semicolon
                )
            })
    }

    /// The known word nearest to a misspelt one.
    fn near(&mut self, span: Span) -> Option<&'static str> {
        let word = self.slice(span);
        let worth_it = self.suggestions > 0 && word.len() > 3 && word.len() < 24;
        let found = worth_it.then(|| nearest(word, words_like(word))).flatten();
        self.suggestions = self.suggestions.saturating_sub(1);
        found
    }
}

/// At most sixty characters of the words.
fn shortened(words: &str) -> String {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if words.chars().count() <= 60 {
        return words;
    }
    let head: String = words.chars().take(57).collect();
    format!("{head}...")
}
