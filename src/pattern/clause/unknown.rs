//! Words that no reader took.

use super::super::account::Fate;
use super::super::term::Term;
use super::Parser;

/// Lexemes left in one go.
const LONGEST_STRETCH: usize = 60;

impl Parser<'_> {
    /// Leaves at least one lexeme, up to a mark or a word that starts a clause.
    pub(super) fn unknown(&mut self) {
        let from = self.at;
        self.at += 1;
        while self.at < self.end
            && self.at.saturating_sub(from) < LONGEST_STRETCH
            && !self.may_start()
        {
            self.at += 1;
        }
        self.leave(from);
    }

    /// Marks the lexemes from here on, up to the one last read, as taken by nobody.
    pub(super) fn leave(&mut self, from: usize) {
        for fate in self.fates.iter_mut().take(self.at).skip(from) {
            *fate = Fate::Left;
        }
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
}
