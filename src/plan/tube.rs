//! The sleeve below the cap: counts a repeat allows, tube, cuff, even spacing.

use crate::measure::{Rows, Stitches};

/// A count must be `multiple * n + plus`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Repeat {
    /// Stitches of one repeat; 1 allows every count.
    pub multiple: u32,
    /// Stitches besides the repeats.
    pub plus: u32,
}

impl Repeat {
    /// Every count is allowed.
    pub const ANY: Self = Self {
        multiple: 1,
        plus: 0,
    };

    /// True for a count this repeat allows.
    pub fn allows(self, stitches: Stitches) -> bool {
        let multiple = self.multiple.max(1);
        stitches.count() >= self.plus && (stitches.count() - self.plus).is_multiple_of(multiple)
    }
}

/// The sleeve from underarm to cuff, worked in rounds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TubePlan {
    /// Stitches at the upper arm, where rounds begin.
    pub upper_arm: Stitches,
    /// Stitches at the cuff.
    pub cuff: Stitches,
    /// Rounds from the join to the cuff.
    pub rounds: Rows,
    /// The rounds on which two stitches are decreased (increased, where the cuff is wider), counted
    /// from 1 at the underarm. The first round is never one of them: it closes the join.
    pub decrease_rounds: Vec<u32>,
    /// Rounds that are knitted already; none for a tube that is planned from the join on. Which of them
    /// were shaped nobody has noted: [`worked_shaping`] says which are taken to be.
    pub worked: Rows,
    /// Stitches that lie on the needle after those rounds beside what the join and their shaping lead to: a count that
    /// came out otherwise, from which the shaping to come is planned.
    pub beside: i32,
}

impl TubePlan {
    /// True when its shaping rounds make stitches: a bell sleeve.
    pub fn widens(&self) -> bool {
        let upper_arm = i64::from(self.upper_arm.count()) + i64::from(self.beside);
        i64::from(self.cuff.count()) > upper_arm
    }

    /// Stitches on the needle after this round.
    pub fn stitches_after(&self, round: u32) -> Stitches {
        let shaped = self.decrease_rounds.partition_point(|at| *at <= round);
        let shaped = 2 * i64::try_from(shaped).unwrap_or(0);
        let beside = if self.beside != 0 && Rows(round) >= self.worked {
            i64::from(self.beside)
        } else {
            0
        };
        let change = if self.widens() { shaped } else { -shaped };
        let all = i64::from(self.upper_arm.count()) + beside + change;
        Stitches(u32::try_from(all).unwrap_or(0))
    }

    /// Rows from the underarm to the cuff: the row of the join, which runs on to the middle of the base,
    /// lies below the underarm line like the row picked up along the base, and the rounds below it. It
    /// is counted as one of the tube's (common practice, no source).
    pub fn rows_below_underarm(&self) -> Rows {
        self.rounds + JOIN_ROW
    }
}

/// The row that joins the cap to the tube.
pub(crate) const JOIN_ROW: Rows = Rows(1);

/// The stitch of a cuff.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CuffStitch {
    /// Knit 1, purl 1.
    #[default]
    Rib1,
    /// Knit 2, purl 2.
    Rib2,
    /// Garter stitch.
    Garter,
    /// Plain knitting, which rolls.
    Plain,
}

impl CuffStitch {
    /// Stitches of its repeat.
    pub const fn multiple(self) -> u32 {
        match self {
            Self::Rib1 => 2,
            Self::Rib2 => 4,
            Self::Garter | Self::Plain => 1,
        }
    }
}

/// The cuff below the tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CuffPlan {
    /// Its stitches: a multiple that its stitch pattern allows.
    pub stitches: Stitches,
    /// Its rounds.
    pub rounds: Rows,
    /// How it is worked.
    pub stitch: CuffStitch,
}

/// The rounds that are taken to have been shaped among those that are knitted already: spread evenly, the
/// last of them the last round. From there on it makes no difference which they were.
pub fn worked_shaping(rounds: u32, shaped: u32) -> Vec<u32> {
    let mut at = 1;
    let intervals = even_intervals(rounds.saturating_sub(1), shaped).into_iter();
    let round = |interval| {
        at += interval;
        at
    };
    intervals.map(round).collect()
}

/// Even spacing in the trade's order: `times` intervals that add up to `length`, the short ones
/// first.
///
/// With `length = q * times + r` the interval `q` comes `times - r` times and `q + 1` comes `r`
/// times. Source of the rule: A. Budd, "magic formula" handout, 2010: 124 over 14 gives every 8th
/// twice and every 9th twelve times.
pub fn even_intervals(length: u32, times: u32) -> Vec<u32> {
    if times == 0 {
        return Vec::new();
    }
    let (short, longer) = (length / times, length % times);
    let short_ones = std::iter::repeat_n(short, (times - longer) as usize);
    short_ones
        .chain(std::iter::repeat_n(short + 1, longer as usize))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counted(length: u32, times: u32) -> Vec<(u32, usize)> {
        let mut out: Vec<(u32, usize)> = Vec::new();
        for interval in even_intervals(length, times) {
            match out.last_mut() {
                Some((last, n)) if *last == interval => *n += 1,
                _ => out.push((interval, 1)),
            }
        }
        out
    }

    /// A. Budd, "magic formula" handout, 2010 (124 over 14); designyourownsweater, 2007 (176 rows,
    /// 42 a side).
    #[test]
    fn published_examples_of_even_spacing() {
        assert_eq!(counted(124, 14), [(8, 2), (9, 12)]);
        assert_eq!(counted(176, 42), [(4, 34), (5, 8)]);
    }

    /// Bresenham's line gives the same intervals in another order.
    #[test]
    fn the_same_intervals_as_a_drawn_line() {
        for (length, times) in [(124, 14), (176, 42), (31, 7), (40, 40), (5, 9)] {
            let mut drawn: Vec<u32> = (0..times)
                .map(|i| (i + 1) * length / times - i * length / times)
                .collect();
            drawn.sort_unstable();
            assert_eq!(even_intervals(length, times), drawn);
        }
        assert!(even_intervals(10, 0).is_empty());
    }
}
