//! Which way round the armhole the stitches lie on the needle.

use super::cap::{CapPlan, FlankPlan};
use crate::measure::Stitches;

/// Which way the knitter goes round.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// Stitches move from the left needle to the right one.
    #[default]
    Right,
    /// The mirror image.
    Left,
}

/// The sleeve a text is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sleeve {
    /// Either: front and back are alike.
    #[default]
    Both,
    /// The wearer's left sleeve.
    Left,
    /// The wearer's right sleeve.
    Right,
}

impl Sleeve {
    /// The word in JSON: `both`, `left`, `right`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The sleeves that need a text of their own: one when front and back are alike, else two.
    pub fn needed(plan: &CapPlan) -> &'static [Self] {
        if plan.front == plan.back && plan.base_front == plan.base_back {
            &[Self::Both]
        } else {
            &[Self::Left, Self::Right]
        }
    }
}

/// One of the two flanks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Flank {
    /// The wearer's front.
    Front,
    /// The wearer's back.
    Back,
}

impl Flank {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Front => Self::Back,
            Self::Back => Self::Front,
        }
    }
}

/// A plan laid out as the needle goes: crown, first flank, base, second flank.
///
/// In the round, RS outside, a right-handed knitter advances clockwise seen from the cuff: on the
/// wearer's left sleeve the crown is followed by the back, on the right sleeve by the front. A
/// left-handed knitter's are mirrored.
#[derive(Clone, Copy, Debug)]
pub struct Going<'a> {
    /// The flank that is picked up right after the crown; its turns end the RS rows.
    pub first: &'a FlankPlan,
    /// The flank that is picked up last; its turns end the WS rows.
    pub second: &'a FlankPlan,
    /// Which of the two the first one is.
    pub first_is: Flank,
    /// Base stitches between the first flank and the middle of the base, where rounds begin.
    pub base_before: Stitches,
    /// Base stitches between the middle of the base and the second flank.
    pub base_after: Stitches,
    /// What the first round does where it leaves the base, and where it comes back to it.
    pub corners: [Corner; 2],
}

/// A corner between base and flank in the first round; without a base, where the flanks meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Corner {
    /// Stitches made there; below zero, decreased.
    pub change: i32,
}

impl Corner {
    /// True when this change at the join can be shared by both corners: no more is made at one than there are
    /// stitches on the needle, and what is decreased there are stitches of their own, two for each, of the base as
    /// far as it reaches and of the `others` beyond it.
    pub(crate) fn have_room(join_change: i32, base: Stitches, others: Stitches) -> bool {
        let each = join_change.unsigned_abs().div_ceil(2);
        if join_change >= 0 {
            return each <= (base + others).count();
        }
        let of_base = 2 * each.min(base.count() / 2);
        each.saturating_mul(4) <= others.count().saturating_add(of_base)
    }
}

impl<'a> Going<'a> {
    /// The plan as one sleeve and one hand meet it; [`Sleeve::Both`] is read as the left one.
    pub fn round(plan: &'a CapPlan, sleeve: Sleeve, hand: Hand) -> Self {
        let back_first = (sleeve != Sleeve::Right) == (hand == Hand::Right);
        let (base_first, base_second) = if back_first {
            (plan.base_back, plan.base_front)
        } else {
            (plan.base_front, plan.base_back)
        };
        let before = middle(base_first, base_second);
        Self {
            first: if back_first { &plan.back } else { &plan.front },
            second: if back_first { &plan.front } else { &plan.back },
            first_is: if back_first {
                Flank::Back
            } else {
                Flank::Front
            },
            base_before: before,
            base_after: plan.base().saturating_sub(before),
            corners: corners(plan.join_change, back_first),
        }
    }
}

/// Half of the join's change at each corner; the odd stitch goes to the back, so that a left and a
/// right sleeve are mirror images.
fn corners(join_change: i32, back_first: bool) -> [Corner; 2] {
    let less = Corner {
        change: join_change / 2,
    };
    let more = Corner {
        change: join_change - less.change,
    };
    // The round leaves the base on the second flank's side and comes back on the first one's.
    if back_first {
        [less, more]
    } else {
        [more, less]
    }
}

/// Half of the base; the odd stitch goes to the longer side, so that a left and a right sleeve
/// are mirror images.
fn middle(first: Stitches, second: Stitches) -> Stitches {
    let all = (first + second).count();
    let half = if first >= second {
        all.div_ceil(2)
    } else {
        all / 2
    };
    // A base of one stitch has it before the marker: the row that joins turns on it.
    Stitches(half.max(all.min(1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Rows;
    use crate::plan::{Crown, Move};

    fn plan() -> CapPlan {
        let flank = |take| FlankPlan {
            moves: vec![Move::new(take, 0)],
            zones: Vec::new(),
        };
        CapPlan {
            join_change: 0,
            crown: Crown {
                stitches: Stitches(10),
                live: Stitches(0),
                rows: Rows(10),
            },
            base_front: Stitches(4),
            base_back: Stitches(5),
            front: flank(2),
            back: flank(3),
        }
    }

    /// Advancing clockwise seen from the cuff, the wearer's left arm has its back next after the
    /// shoulder: looking up the left sleeve from the cuff, the front is on the viewer's left.
    #[test]
    fn the_four_ways_round() {
        let plan = plan();
        for (sleeve, hand, first) in [
            (Sleeve::Left, Hand::Right, Flank::Back),
            (Sleeve::Right, Hand::Right, Flank::Front),
            (Sleeve::Left, Hand::Left, Flank::Front),
            (Sleeve::Right, Hand::Left, Flank::Back),
        ] {
            let going = Going::round(&plan, sleeve, hand);
            assert_eq!(going.first_is, first);
            let taken = if first == Flank::Back { 3 } else { 2 };
            assert_eq!(going.first.picked_up(), Stitches(taken));
            let before = if first == Flank::Back { 5 } else { 4 };
            assert_eq!(going.base_before, Stitches(before));
            assert_eq!(going.base_after, Stitches(9 - before));
            let odd = CapPlan {
                join_change: -3,
                ..plan.clone()
            };
            let [leaving, coming] = Going::round(&odd, sleeve, hand).corners;
            let back = if first == Flank::Back {
                coming
            } else {
                leaving
            };
            assert_eq!((leaving.change + coming.change, back.change), (-3, -2));
        }
    }
}
