//! The print and its changes as one row of pieces.

use std::collections::BTreeSet;
use std::ops::Range;

use super::change::{Amendment, Change};

/// A piece of an amended pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece<'a> {
    /// As printed.
    Kept(&'a str),
    /// Taken out by the change of this number.
    Old(usize, &'a str),
    /// Put in by the change of this number.
    New(usize, &'a str),
}

impl Amendment {
    /// The pieces in their order. Those that are not new are the print; those that are not old are the
    /// amended pattern. Changes are numbered from 1.
    pub fn pieces(&self) -> Vec<Piece<'_>> {
        let mut out = Vec::new();
        let mut from = 0;
        let mut owner = None;
        let cuts = self.cuts();
        for (at, next) in cuts.iter().zip(cuts.iter().skip(1).map(Some).chain([None])) {
            let now = next.and_then(|next| self.owner(*at..*next));
            let comes = self.new_at(*at);
            if now != owner || !comes.is_empty() || next.is_none() {
                out.extend(self.piece(owner, from..*at));
                out.extend(comes);
                (from, owner) = (*at, now);
            }
        }
        out
    }

    /// The amended pattern alone.
    pub fn text(&self) -> String {
        let pieces = self.pieces().into_iter();
        let new = pieces.filter_map(|piece| match piece {
            Piece::Kept(text) | Piece::New(_, text) => Some(text),
            Piece::Old(..) => None,
        });
        new.collect()
    }

    /// The line of the print on which a change begins, from 1.
    pub fn line_of(&self, change: &Change) -> usize {
        let before = self.print.get(..change.start()).unwrap_or_default();
        before.matches('\n').count() + 1
    }

    /// Every byte at which a piece begins or ends.
    fn cuts(&self) -> Vec<usize> {
        let mut cuts = BTreeSet::from([0, self.print.len()]);
        for change in &self.changes {
            cuts.extend(
                change
                    .removed
                    .iter()
                    .flat_map(|range| [range.start, range.end]),
            );
            cuts.extend(change.added.iter().map(|(at, _)| *at));
        }
        cuts.into_iter().collect()
    }

    /// The change that takes these bytes out.
    fn owner(&self, bytes: Range<usize>) -> Option<usize> {
        let takes = |range: &Range<usize>| range.start <= bytes.start && bytes.end <= range.end;
        let mut changes = self.changes.iter();
        changes.position(|change| change.removed.iter().any(takes))
    }

    fn new_at(&self, at: usize) -> Vec<Piece<'_>> {
        let all = (1..).zip(&self.changes);
        let added = all.flat_map(|(number, change)| {
            let here = change.added.iter().filter(move |(place, _)| *place == at);
            here.map(move |(_, text)| Piece::New(number, text.as_str()))
        });
        added.collect()
    }

    fn piece(&self, owner: Option<usize>, bytes: Range<usize>) -> Option<Piece<'_>> {
        let text = self.print.get(bytes).filter(|text| !text.is_empty())?;
        Some(match owner {
            None => Piece::Kept(text),
            Some(change) => Piece::Old(change + 1, text),
        })
    }
}

/// These bytes with the blanks that would be left over when they go: one of two blanks, an empty line.
pub(super) fn with_blanks(print: &str, range: &Range<usize>) -> Range<usize> {
    let before = print.get(..range.start).unwrap_or_default();
    let after = print.get(range.end..).unwrap_or_default();
    let blank = |c: char| c == ' ' || c == '\t';
    let opens = before.is_empty() || before.ends_with(char::is_whitespace);
    let follow = after.len() - after.trim_start_matches(blank).len();
    let rest = after.get(follow..).unwrap_or_default();
    let closes = rest.is_empty() || rest.starts_with(['\n', '\r']);
    let mut range = range.clone();
    if opens || closes {
        range.end += follow;
    }
    if closes {
        range.start = before.trim_end_matches(blank).len();
        let line_is_empty = range.start == 0
            || before
                .get(..range.start)
                .is_some_and(|text| text.ends_with('\n'));
        if line_is_empty && !rest.is_empty() {
            range.end += if rest.starts_with("\r\n") { 2 } else { 1 };
        }
    }
    range
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amended(removed: Vec<Range<usize>>, added: Vec<(usize, String)>) -> Amendment {
        let change = Change {
            removed,
            added,
            reason: String::new(),
        };
        Amendment {
            title: String::new(),
            print: "Sew shoulders. Set in. Press.\n".to_owned(),
            changes: vec![change],
            decide: Vec::new(),
        }
    }

    #[test]
    fn pieces_are_the_print_and_the_new_text() {
        let set_in = 15..23;
        let amendment = amended(vec![set_in], vec![(23, "Knit on. ".to_owned())]);
        assert_eq!(
            amendment.pieces(),
            [
                Piece::Kept("Sew shoulders. "),
                Piece::Old(1, "Set in. "),
                Piece::New(1, "Knit on. "),
                Piece::Kept("Press.\n"),
            ]
        );
        assert_eq!(amendment.text(), "Sew shoulders. Knit on. Press.\n");
        let at_the_end = amended(Vec::new(), vec![(30, "End.".to_owned())]);
        assert_eq!(at_the_end.text(), "Sew shoulders. Set in. Press.\nEnd.");
    }

    #[test]
    fn no_blanks_are_left_over() {
        let without = |range: Range<usize>, text: &str| {
            let range = with_blanks(text, &range);
            let part = |range| text.get(range).unwrap_or_default();
            [part(0..range.start), part(range.end..text.len())].concat()
        };
        assert_eq!(without(3..5, "A. B. C.\n"), "A. C.\n");
        assert_eq!(without(6..8, "A. B. C.\n"), "A. B.\n");
        assert_eq!(without(3..5, "A.\nB.\nC.\n"), "A.\nC.\n");
        assert_eq!(without(4..6, "A.\r\nB.\r\nC.\r\n"), "A.\r\nC.\r\n");
        assert_eq!(without(0..2, "A. B."), "B.");
    }
}
