//! The counts in square brackets.

use super::cursor::Cursor;
use super::lexer::Token;
use super::said::Claim;
use crate::diagnostic::Span;
use crate::plan::Flank;

/// What may stand after a number, the longer words first.
const WORDS: &[(&str, Claim)] = &[
    ("turn pairs", Claim::TurnPairs),
    ("turn pair", Claim::TurnPairs),
    ("rows", Claim::Rows),
    ("rounds", Claim::Rounds),
    ("round", Claim::Rounds),
    ("worked", Claim::Worked),
    ("waiting each side", Claim::WaitingEach),
    ("waiting at the back", Claim::WaitingAt(Flank::Back)),
    ("waiting at the front", Claim::WaitingAt(Flank::Front)),
    ("at the back", Claim::WaitingAt(Flank::Back)),
    ("at the front", Claim::WaitingAt(Flank::Front)),
    ("on the needle", Claim::OnNeedle),
    ("base sts before the marker", Claim::BaseBefore),
    ("base st before the marker", Claim::BaseBefore),
    ("after it", Claim::BaseAfter),
    ("sts fewer", Claim::Fewer),
    ("sts more", Claim::More),
    ("sts", Claim::Stitches),
    ("st", Claim::Stitches),
];

/// Reads `6 rows, 29 worked, 19 waiting each side`; nothing when a part is not understood.
pub(crate) fn read(tokens: &[Token<'_>]) -> Option<Vec<(Claim, u32, Span)>> {
    let mut c = Cursor::new(tokens);
    let mut claims = Vec::new();
    loop {
        let span = c.peek()?.span;
        let n = c.number()?;
        let (_, claim) = WORDS.iter().find(|(words, _)| c.phrase(words))?;
        claims.push((*claim, n, span));
        if c.done() {
            return Some(claims);
        }
        c.expect(",")?;
    }
}
