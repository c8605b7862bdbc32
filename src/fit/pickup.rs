//! Where stitches are picked up along the armhole: what both solver and certificate know of it.

use super::problem::{Ease, Problem, WANTED_EASE};
use crate::measure::{Rows, Stitches, nearest_whole};
use crate::outline::ArmholeEdge;
use crate::plan::Crown;

/// Rows for a stitch of the crown: at the shoulder nearly every row is picked up, nine stitches in ten
/// rows; or as along any row ends, four in five, three in four or two in three (common practice, no
/// source).
const CROWN_ROWS_PER_STITCH: [f64; 4] = [10.0 / 9.0, 5.0 / 4.0, 4.0 / 3.0, 3.0 / 2.0];

/// The most sections a flank is picked up in, each at one rate.
pub const MOST_SECTIONS: usize = 3;

/// A section has so many stitches at the least, unless the whole flank has fewer: a rate for one or two
/// stitches is none.
pub const LEAST_OF_SECTION: u32 = 3;

/// Rows of the armhole the crown's picked-up stitches may be spread over, front and back together, the
/// fewest first: an even number, so that each side of the shoulder gets half, and never fewer rows than
/// stitches. A thinner rate than the first needs a crown that is not pulled: its edge, with the side of the
/// first pair, is no shorter than its rows of the armhole.
pub(crate) fn crown_rows(problem: &Problem<'_>, picked_up: Stitches) -> Vec<Rows> {
    let edge = problem.cap_gauge.width(picked_up) / 2.0 + problem.cap_gauge.row_height() * 2.0;
    let pulled = |rows: &Rows| {
        let sides = [problem.front, problem.back];
        sides
            .iter()
            .any(|side| side.length_to(rows.as_f64() / 2.0) > edge)
    };
    let rows = |rate: f64| {
        let even = 2 * nearest_whole(picked_up.as_f64() * rate / 2.0);
        let least = picked_up.count() + picked_up.count() % 2;
        Rows(even.max(least))
    };
    let mut all: Vec<Rows> = CROWN_ROWS_PER_STITCH.into_iter().map(rows).collect();
    all.dedup();
    let mut first = true;
    all.retain(|rows| std::mem::take(&mut first) || !pulled(rows));
    all
}

/// The armhole below the crown on one side.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlankEdge<'a> {
    armhole: &'a ArmholeEdge,
    /// Places the crown takes on this side of the shoulder.
    crown_sites: Rows,
    ease: Ease,
}

impl<'a> FlankEdge<'a> {
    /// The flank below this crown.
    pub(crate) fn new(problem: &Problem<'a>, armhole: &'a ArmholeEdge, crown: Crown) -> Self {
        Self {
            armhole,
            crown_sites: Rows(crown.rows.count() / 2),
            ease: problem.wishes.ease,
        }
    }

    /// True when the wanted ease is the same everywhere.
    pub(crate) fn is_even(&self) -> bool {
        self.ease == Ease::Even
    }

    /// Places left for the flank.
    pub(crate) fn sites(&self) -> Rows {
        self.armhole.sites().saturating_sub(self.crown_sites)
    }

    /// Length of the flank from its top down to so many places, in centimetres.
    pub(crate) fn length_to_cm(&self, sites: f64) -> f64 {
        let crown = self.crown_sites.as_f64();
        let top = self.armhole.length_to(crown);
        (self.armhole.length_to(crown + sites) - top).to_cm()
    }

    /// Length of the whole flank, in centimetres.
    pub(crate) fn length_cm(&self) -> f64 {
        self.length_to_cm(self.sites().as_f64())
    }

    /// The cap edge that should lie above this length of the flank: the wanted ease is even, or all of it
    /// in the third nearest the shoulder.
    pub(crate) fn wanted_to_cm(&self, length_cm: f64, whole_cm: f64) -> f64 {
        let above_cm = match self.ease {
            Ease::Even => length_cm,
            Ease::Shoulder => (3.0 * length_cm).min(whole_cm),
        };
        length_cm + WANTED_EASE * above_cm
    }
}
