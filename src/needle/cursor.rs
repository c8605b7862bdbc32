//! Reading along the tokens of one sentence.

use super::lexer::{Lexer, Token, WordKind};
use crate::diagnostic::Span;

/// A place in a list of tokens. Every reader either takes what it asks for or moves nothing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cursor<'t, 'a> {
    tokens: &'t [Token<'a>],
    at: usize,
}

impl<'t, 'a> Cursor<'t, 'a> {
    pub(crate) fn new(tokens: &'t [Token<'a>]) -> Self {
        Self { tokens, at: 0 }
    }

    pub(crate) fn peek(&self) -> Option<&'t Token<'a>> {
        self.tokens.get(self.at)
    }

    pub(crate) fn done(&self) -> bool {
        self.at >= self.tokens.len()
    }

    pub(crate) fn bump(&mut self) -> Option<&'t Token<'a>> {
        let token = self.peek()?;
        self.at += 1;
        Some(token)
    }

    /// Takes the words of `phrase` when they come next, whatever their case and spacing.
    pub(crate) fn phrase(&mut self, phrase: &str) -> bool {
        let mut at = self.at;
        for wanted in Lexer::new(phrase) {
            if !self.tokens.get(at).is_some_and(|token| token.same(&wanted)) {
                return false;
            }
            at += 1;
        }
        self.at = at;
        true
    }

    /// The same, as a step of a reader that gives up with `?`.
    pub(crate) fn expect(&mut self, phrase: &str) -> Option<()> {
        self.phrase(phrase).then_some(())
    }

    /// Takes whichever of the phrases comes next.
    pub(crate) fn any(&mut self, phrases: &[&str]) -> Option<usize> {
        phrases.iter().position(|phrase| self.phrase(phrase))
    }

    pub(crate) fn number(&mut self) -> Option<u32> {
        match self.peek()?.kind {
            WordKind::Number(n) => {
                self.at += 1;
                Some(n)
            }
            _ => None,
        }
    }

    /// Runs a reader and takes back what it took when it gives up.
    pub(crate) fn attempt<T>(&mut self, read: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let before = self.at;
        let found = read(self);
        if found.is_none() {
            self.at = before;
        }
        found
    }

    /// The same, for a reader that must take everything to the end.
    pub(crate) fn whole<T>(&self, read: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let mut copy = *self;
        let found = read(&mut copy)?;
        copy.done().then_some(found)
    }
}

/// From the first to the last of the tokens.
pub(crate) fn span_of(tokens: &[Token<'_>]) -> Span {
    match (tokens.first(), tokens.last()) {
        (Some(first), Some(last)) => first.span.join(last.span),
        _ => Span::new(0, 0),
    }
}
