//! What every width costs at every turn pair, and which widths a cap below a limit can have.

use super::table::Frame;

/// Squares of the widths of a flank that adds `net` stitches, for both sides of the cap alike.
#[derive(Debug)]
pub(crate) struct Widths {
    pub(crate) pairs: usize,
    pub(crate) net: usize,
    /// `square[(pair - 1) * (net + 1) + w]`, shared by the pairs, in square centimetres.
    square: Vec<f64>,
    /// Half width minus target, in the same order, in centimetres.
    off_cm: Vec<f64>,
    /// Relative area error of one centimetre of half width on both sides of one pair.
    area_per_cm: f64,
    stitch_cm: f64,
    /// Half widths minus targets, added up, of a flank that never widens.
    crown_off_cm: f64,
    /// Least sum of squares of a whole flank that has this width at this pair.
    through: Vec<f64>,
    /// Least sum of squares of all pairs below this one, at this width.
    to_end: Vec<f64>,
    /// Least sum of squares of any flank.
    pub(crate) root: f64,
}

impl Widths {
    pub(crate) fn new(frame: &Frame, net: usize) -> Self {
        let pairs = frame.turn_pairs();
        let mut square = Vec::with_capacity(pairs * (net + 1));
        let mut off_cm = Vec::with_capacity(pairs * (net + 1));
        for target_cm in &frame.targets_cm {
            for w in 0..=net {
                let off = frame.half_width_cm(w) - target_cm;
                off_cm.push(off);
                square.push(off * off / pairs as f64);
            }
        }
        let mut widths = Self {
            pairs,
            net,
            square,
            off_cm,
            area_per_cm: 4.0 * frame.row_cm / frame.old_area_cm2,
            stitch_cm: frame.stitch_cm,
            crown_off_cm: (frame.targets_cm.iter())
                .map(|target_cm| frame.half_width_cm(0) - target_cm)
                .sum(),
            through: Vec::new(),
            to_end: Vec::new(),
            root: f64::INFINITY,
        };
        widths.find_through(&widenings(frame));
        widths
    }

    fn place(&self, pair: usize, w: usize) -> usize {
        (pair - 1) * (self.net + 1) + w
    }

    /// Cost of a width at a pair (from 1), its area priced at a multiplier.
    pub(crate) fn at(&self, pair: usize, w: usize, multiplier: f64) -> f64 {
        let place = self.place(pair, w);
        self.square[place] + multiplier * self.area_per_cm * self.off_cm[place]
    }

    /// Relative area error of a cap whose sides both have net widths that add up to `sum` stitches.
    pub(crate) fn area_error(&self, sum: usize) -> f64 {
        self.area_per_cm * (self.crown_off_cm + self.stitch_cm * sum as f64)
    }

    /// Squares added up from the first pair along lines that widen by so many stitches a pair:
    /// `[pair * (net + 1) + w]`, pairs from 0.
    pub(crate) fn diagonal_sums(&self, widens: usize) -> Vec<f64> {
        let row = self.net + 1;
        let mut sums = self.square.clone();
        for pair in 1..self.pairs {
            for w in widens..row {
                sums[pair * row + w] += sums[(pair - 1) * row + w - widens];
            }
        }
        sums
    }

    /// Bellman's recursion from both ends; a flank is as narrow as the crown at the first pair and
    /// has added all its stitches at the last.
    fn find_through(&mut self, widenings: &[usize]) {
        let row = self.net + 1;
        let mut from_top = vec![f64::INFINITY; self.pairs * row];
        let mut to_end = from_top.clone();
        from_top[0] = self.square[0];
        for pair in 1..self.pairs {
            for w in 0..row {
                let least = (widenings.iter().filter(|k| **k <= w))
                    .map(|k| from_top[(pair - 1) * row + w - k])
                    .fold(f64::INFINITY, f64::min);
                from_top[pair * row + w] = least + self.square[pair * row + w];
            }
        }
        to_end[self.pairs * row - 1] = 0.0;
        for pair in (0..self.pairs - 1).rev() {
            for w in 0..row {
                let after = widenings.iter().map(|k| w + k).filter(|w| *w < row);
                to_end[pair * row + w] = after
                    .map(|w| to_end[(pair + 1) * row + w] + self.square[(pair + 1) * row + w])
                    .fold(f64::INFINITY, f64::min);
            }
        }
        self.root = to_end[0] + self.square[0];
        self.through = from_top;
        for (through, rest) in self.through.iter_mut().zip(&to_end) {
            *through += rest;
        }
        self.to_end = to_end;
    }

    /// Least sums of squares of the beginnings of a flank: none but the crown at the first pair.
    ///
    /// `[(pair - 1) * (net + 1) + w]`, as in the other tables.
    pub(crate) fn beginning(&self) -> Vec<f64> {
        let mut sums = vec![f64::INFINITY; self.square.len()];
        if let (Some(first), Some(square)) = (sums.first_mut(), self.square.first()) {
            *first = *square;
        }
        sums
    }

    /// The same after one more run of moves that widen by `widens`, once at the least, where each move
    /// costs `each` besides.
    pub(crate) fn one_run_more(&self, before: &[f64], widens: usize, each: f64) -> Vec<f64> {
        let row = self.net + 1;
        let mut after = vec![f64::INFINITY; before.len()];
        for place in row..after.len() {
            let from = place - row;
            if place % row >= widens {
                let from = from - widens;
                let least = before[from].min(after[from]);
                after[place] = least + self.square[place] + each;
            }
        }
        after
    }

    /// Of such beginnings: the least sum of one that is a whole flank, and of one with the least rest.
    pub(crate) fn ends(&self, sums: &[f64]) -> (f64, f64) {
        let whole = sums.last().copied().unwrap_or(f64::INFINITY);
        let all = sums.iter().zip(&self.to_end).map(|(sum, rest)| sum + rest);
        (whole, all.fold(f64::INFINITY, f64::min))
    }

    /// Narrowest and widest at a pair among flanks whose squares add up to no more than this; empty
    /// where none does.
    pub(crate) fn range(&self, pair: usize, most: f64) -> std::ops::Range<usize> {
        let row = self.net + 1;
        let here = &self.through[(pair - 1) * row..pair * row];
        let fits = |cost: &f64| cost.is_finite() && *cost <= most;
        let low = here.iter().position(fits).unwrap_or(0);
        low..here.iter().rposition(fits).map_or(low, |high| high + 1)
    }
}

/// The numbers of stitches a move can widen by.
fn widenings(frame: &Frame) -> Vec<usize> {
    let mut widenings: Vec<usize> = (frame.moves.iter())
        .map(|m| m.widens().count() as usize)
        .collect();
    widenings.sort_unstable();
    widenings.dedup();
    widenings
}
