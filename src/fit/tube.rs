//! The tube below the cap: where its decrease rounds fall.

use super::problem::Repeat;
use crate::case::CuffStitch;
use crate::measure::{Gauge, Length, Rows, Stitches, nearest_whole};

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
}

impl TubePlan {
    /// Rows from the underarm to the cuff: the row of the join, which runs on to the middle of the base,
    /// lies below the underarm line like the row picked up along the base, and the rounds below it. It
    /// is counted as one of the tube's (common practice, no source).
    pub fn rows_below_underarm(&self) -> Rows {
        self.rounds + JOIN_ROW
    }
}

/// The row that joins the cap to the tube.
const JOIN_ROW: Rows = Rows(1);

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

/// The cuff of so many rounds that follows a tube: the nearest multiple to the tube's last count,
/// fewer where two are as near.
pub fn cuff(
    tube: &TubePlan,
    length: Length,
    gauge: Gauge,
    stitch: CuffStitch,
    multiple: u32,
) -> CuffPlan {
    let n = tube.cuff.count();
    let under = n - n % multiple.max(1);
    let over = under + multiple.max(1);
    let nearest = if under > 0 && n - under <= over - n {
        under
    } else {
        over
    };
    CuffPlan {
        stitches: Stitches(nearest),
        rounds: Rows(nearest_whole(length / gauge.row_height()).max(1)),
        stitch,
    }
}

/// What the old pattern says about the sleeve below the cap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Finished width at the cuff, net of seams.
    pub cuff: Length,
    /// Length from underarm to cuff.
    pub length: Length,
}

/// The tube in rounds: two stitches decreased on each shaping round (increased, where the cuff is
/// wider: a bell sleeve), evenly spaced, the last one followed by one more interval of plain rounds.
///
/// The cuff is the nearest count that the repeat allows and that differs from the upper arm by an
/// even number. Returns `None` when there are too few rounds for the shaping.
pub fn tube(upper_arm: Stitches, tube: Tube, gauge: Gauge, repeat: Repeat) -> Option<TubePlan> {
    let wanted = tube.cuff / gauge.stitch_width();
    let fits = |n: &u32| {
        let even = upper_arm.count().abs_diff(*n).is_multiple_of(2);
        even && (repeat.allows(Stitches(*n)) || !repeat.allows(upper_arm))
    };
    let off = |n: &u32| ((f64::from(*n) - wanted).abs() * 1024.0).round();
    let widest = nearest_whole(wanted).max(upper_arm.count()) + 2 * repeat.multiple.max(1);
    let cuff = (1..=widest)
        .filter(fits)
        .min_by(|a, b| off(a).total_cmp(&off(b)).then(b.cmp(a)))?;
    let rows = nearest_whole(tube.length / gauge.row_height());
    let rounds = rows.saturating_sub(JOIN_ROW.count()).max(1);
    let times = upper_arm.count().abs_diff(cuff) / 2;
    if times > 0 && rounds < times + 2 {
        return None;
    }
    // The first round closes the join; shaping is counted from there.
    let mut at = 1;
    let intervals = even_intervals(rounds - at, times + 1);
    let decrease_rounds = intervals
        .into_iter()
        .take(times as usize)
        .map(|interval| {
            at += interval;
            at
        })
        .collect();
    Some(TubePlan {
        upper_arm,
        cuff: Stitches(cuff),
        rounds: Rows(rounds),
        decrease_rounds,
    })
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

    fn planned(upper_arm: u32, cuff_cm: f64, length_cm: f64) -> Option<TubePlan> {
        let tube_wanted = Tube {
            cuff: Length::cm(cuff_cm),
            length: Length::cm(length_cm),
        };
        let gauge = Gauge::per_10cm(20.0, 30.0).unwrap();
        tube(Stitches(upper_arm), tube_wanted, gauge, Repeat::ANY)
    }

    /// Arithmetic: 20 cm are 40 stitches at 20, 45 cm are 135 rows at 30, the first of them the join's.
    #[test]
    fn narrower_straight_and_bell() {
        let narrow = planned(70, 20.0, 45.0).unwrap();
        assert_eq!((narrow.cuff, narrow.rounds), (Stitches(40), Rows(134)));
        assert_eq!(narrow.rows_below_underarm(), Rows(135));
        assert_eq!(narrow.decrease_rounds.len(), 15);
        let straight = planned(70, 35.0, 45.0).unwrap();
        assert_eq!(straight.cuff, Stitches(70));
        assert!(straight.decrease_rounds.is_empty());
        let bell = planned(70, 50.0, 45.0).unwrap();
        assert_eq!(bell.cuff, Stitches(100));
        assert_eq!(bell.decrease_rounds.len(), 15);
        assert!(bell.decrease_rounds.is_sorted());
        // 133 rounds after the first one in 16 intervals: 8 eleven times, 9 five times.
        assert_eq!(narrow.decrease_rounds.first(), Some(&9));
        assert_eq!(narrow.decrease_rounds.last(), Some(&(1 + 11 * 8 + 4 * 9)));
        // A cuff cannot be reached in fewer rounds than it has shaping rounds.
        assert_eq!(planned(70, 20.0, 3.0), None);
    }

    /// Arithmetic: 45 is nearest to 44 and 46 in twos (44 wins), to 44 in fours, to 48 in eights.
    #[test]
    fn a_rib_comes_out_even() {
        let tube = TubePlan {
            cuff: Stitches(45),
            ..planned(70, 20.0, 45.0).unwrap()
        };
        let gauge = Gauge::per_10cm(20.0, 30.0).unwrap();
        let stitches = |multiple| {
            let plan = cuff(&tube, Length::cm(6.0), gauge, CuffStitch::Rib1, multiple);
            (plan.stitches.count(), plan.rounds.count())
        };
        let found = [2, 4, 8, 1, 100].map(stitches);
        assert_eq!(found, [(44, 18), (44, 18), (48, 18), (45, 18), (100, 18)]);
    }

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
