//! All move sequences of one run or two: few enough to be looked at one by one.

use super::plan::Move;
use super::table::Frame;

/// How many runs this room looks at; the tables do the rest.
pub(crate) const FEW: usize = 2;

/// A sequence of one run or two.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Short {
    /// Moves by their place in the frame's list: above, then below.
    above: usize,
    below: usize,
    /// How many of the moves are the ones above.
    split: usize,
    /// Decreases of the whole sequence.
    pub(crate) drops: usize,
}

impl Short {
    pub(crate) fn runs(&self) -> usize {
        if self.above == self.below { 1 } else { 2 }
    }

    /// Place of the `i`-th move (from 0) in the frame's list.
    pub(crate) fn place(&self, i: usize) -> usize {
        if i < self.split {
            self.above
        } else {
            self.below
        }
    }

    pub(crate) fn moves(&self, frame: &Frame) -> Vec<Move> {
        let moves = 0..frame.turn_pairs() - 1;
        moves.map(|i| frame.moves[self.place(i)]).collect()
    }
}

/// Every sequence of one run or two that adds `net` stitches.
pub(crate) fn short_sequences(frame: &Frame, net: usize) -> Vec<Short> {
    let count = frame.turn_pairs() - 1;
    let widens = |m: usize| frame.moves[m].widens().count() as usize;
    let drop = |m: usize| frame.moves[m].drop as usize;
    let mut found = Vec::new();
    for above in 0..frame.moves.len() {
        for below in 0..frame.moves.len() {
            let splits = if above == below {
                count..=count
            } else {
                1..=count.saturating_sub(1)
            };
            for split in splits {
                if split * widens(above) + (count - split) * widens(below) == net {
                    found.push(Short {
                        above,
                        below,
                        split,
                        drops: split * drop(above) + (count - split) * drop(below),
                    });
                }
            }
        }
    }
    found
}
