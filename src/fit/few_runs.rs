//! All move sequences of one, two or three runs: few enough to be looked at one by one.
//!
//! The stitches to add fix where the last change is, so a sequence of three runs has one free number;
//! its widths cost two differences of sums along diagonals.

use super::table::Frame;
use super::widths::Widths;

/// How many runs this room looks at; the tables do the rest.
pub(crate) const FEW: usize = 3;

/// A sequence of at most [`FEW`] runs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Short {
    /// Moves by their place in the frame's list, and how often.
    runs: [(usize, usize); FEW],
    /// Decreases of the whole sequence.
    pub(crate) drops: usize,
    /// Squares of its widths, for both sides of the cap.
    pub(crate) widths: f64,
}

impl Short {
    pub(crate) fn run_count(&self) -> usize {
        self.runs.iter().filter(|(_, times)| *times > 0).count()
    }

    /// Places of the moves in the frame's list, from the crown down.
    pub(crate) fn places(&self) -> impl Iterator<Item = usize> {
        let runs = self.runs.iter();
        runs.flat_map(|(m, times)| std::iter::repeat_n(*m, *times))
    }
}

/// The sequences of at most three runs of a frame.
pub(crate) struct ShortRuns<'a> {
    frame: &'a Frame,
    widths: &'a Widths,
    /// For every move: squares added up along its diagonal, `[pair * (net + 1) + w]`.
    sums: Vec<Vec<f64>>,
}

impl<'a> ShortRuns<'a> {
    pub(crate) fn new(frame: &'a Frame, widths: &'a Widths) -> Self {
        let sums = frame.moves.iter();
        let sums = sums
            .map(|m| widths.diagonal_sums(m.widens().count() as usize))
            .collect();
        Self {
            frame,
            widths,
            sums,
        }
    }

    /// Every sequence whose widths cost no more than the limit for its number of runs, the cheapest
    /// widths first.
    pub(crate) fn below(&self, limits: [f64; FEW]) -> Vec<Short> {
        let mut found = Vec::new();
        let moves = self.frame.moves.len();
        let count = self.widths.pairs - 1;
        for a in 0..moves {
            self.push(&mut found, &[(a, count)], limits);
            for b in (0..moves).filter(|b| *b != a) {
                for times in 1..count {
                    self.push(&mut found, &[(a, times), (b, count - times)], limits);
                }
                for c in (0..moves).filter(|c| *c != b) {
                    self.three(&mut found, [a, b, c], limits);
                }
            }
        }
        found.sort_by(|a, b| a.widths.total_cmp(&b.widths));
        found
    }

    fn widens(&self, m: usize) -> usize {
        self.frame.moves[m].widens().count() as usize
    }

    fn three(&self, found: &mut Vec<Short>, [a, b, c]: [usize; 3], limits: [f64; FEW]) {
        let count = self.widths.pairs - 1;
        let (wa, wb, wc) = (self.widens(a), self.widens(b), self.widens(c));
        for first in 1..count.saturating_sub(1) {
            let rest = count - first;
            // first * wa + second * wb + (rest - second) * wc = net
            let base = first * wa + rest * wc;
            let seconds = if wb == wc {
                if base == self.widths.net {
                    1..rest
                } else {
                    0..0
                }
            } else {
                let missing = self.widths.net.abs_diff(base);
                let step = wb.abs_diff(wc);
                let right_way = (self.widths.net >= base) == (wb > wc);
                let second = missing / step;
                let fits = right_way && missing.is_multiple_of(step) && (1..rest).contains(&second);
                if fits { second..second + 1 } else { 0..0 }
            };
            for second in seconds {
                self.push(
                    found,
                    &[(a, first), (b, second), (c, rest - second)],
                    limits,
                );
            }
        }
    }

    /// Keeps a sequence that adds the right number of stitches and is not too dear.
    fn push(&self, found: &mut Vec<Short>, runs: &[(usize, usize)], limits: [f64; FEW]) {
        let net: usize = runs.iter().map(|(m, times)| times * self.widens(*m)).sum();
        if net != self.widths.net {
            return;
        }
        let widths = self.cost(runs);
        if widths > limits[runs.len() - 1] {
            return;
        }
        let drops = runs
            .iter()
            .map(|(m, times)| times * self.frame.moves[*m].drop as usize);
        let mut all = [(0, 0); FEW];
        all.iter_mut()
            .zip(runs)
            .for_each(|(place, run)| *place = *run);
        found.push(Short {
            runs: all,
            drops: drops.sum(),
            widths,
        });
    }

    fn cost(&self, runs: &[(usize, usize)]) -> f64 {
        let row = self.widths.net + 1;
        let (mut pair, mut w, mut cost) = (0, 0, self.widths.at(1, 0, 0.0));
        for &(m, times) in runs {
            let (end, wide) = (pair + times, w + times * self.widens(m));
            cost += self.sums[m][end * row + wide] - self.sums[m][pair * row + w];
            (pair, w) = (end, wide);
        }
        cost
    }
}
