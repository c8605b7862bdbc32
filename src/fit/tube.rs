//! The tube below the cap: where its decrease rounds fall.

use crate::measure::{Gauge, Length, Rows, Stitches, nearest_whole};
use crate::plan::{CuffPlan, CuffStitch, JOIN_ROW, Repeat, TubePlan, even_intervals};

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

/// What a shaping round leaves at least: `k1, k2tog, ssk, k1`.
const LEAST: u32 = 4;

/// The tube in rounds: two stitches decreased on each shaping round (increased, where the cuff is
/// wider: a bell sleeve), evenly spaced, the last one followed by one more interval of plain rounds.
///
/// The cuff is the nearest count that the repeat allows and that differs from the upper arm by an
/// even number. Returns `None` when there are too few rounds for the shaping.
pub fn tube(upper_arm: Stitches, tube: Tube, gauge: Gauge, repeat: Repeat) -> Option<TubePlan> {
    let wanted = tube.cuff / gauge.stitch_width();
    let cuff = nearest_cuff(upper_arm, wanted, repeat, &|_| true)?.count();
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
        worked: Rows::ZERO,
        beside: 0,
    })
}

/// The count nearest to the one wanted that two stitches a shaping round lead to from what is on the
/// needle, that the repeat allows if what is there is allowed, and that is no other way out.
pub(super) fn nearest_cuff(
    now: Stitches,
    wanted: f64,
    repeat: Repeat,
    allowed: &dyn Fn(u32) -> bool,
) -> Option<Stitches> {
    let fits = |n: &u32| {
        let even = now.count().abs_diff(*n).is_multiple_of(2);
        let left = *n >= LEAST.min(now.count());
        even && left && allowed(*n) && (repeat.allows(Stitches(*n)) || !repeat.allows(now))
    };
    let off = |n: &u32| ((f64::from(*n) - wanted).abs() * 1024.0).round();
    let widest = nearest_whole(wanted).max(now.count()) + 2 * repeat.multiple.max(1);
    let nearest = (1..=widest)
        .filter(fits)
        .min_by(|a, b| off(a).total_cmp(&off(b)).then(b.cmp(a)))?;
    Some(Stitches(nearest))
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

    /// A round of `k1, k2tog, ssk, k1` takes six stitches: nothing under four is reached by shaping.
    #[test]
    fn a_narrow_cuff_keeps_what_a_shaping_round_leaves() {
        for (upper_arm, cuff) in [(70, 4), (71, 5), (4, 4), (3, 3)] {
            for stitches in [1.0, 2.0, 3.0] {
                let narrow = planned(upper_arm, stitches / 2.0, 45.0).unwrap();
                assert_eq!(narrow.cuff, Stitches(cuff), "{upper_arm} {stitches}");
            }
        }
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
}
