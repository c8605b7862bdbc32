//! The common-practice recipe, as the baseline beside the fit (common practice, no source).
//!
//! Pick up nearly every row at the shoulder, about one stitch for every two rows on the flanks,
//! the underarm one for one; turn at every second stitch for the first third of the armhole, then
//! at every stitch, then in pairs decreased together over the last six stitches.

use super::pickup::crown_rows;
use super::plan::{CapPlan, Crown, FlankPlan, Move, Zone};
use super::problem::Problem;
use crate::measure::{Rows, Stitches, nearest_whole};
use crate::outline::ArmholeEdge;

/// Stitches at the end of each flank that are worked in pairs.
const LAST_STITCHES: u32 = 6;

/// What the recipe makes of this armhole, whatever it does to width, depth and area.
pub fn recipe(problem: &Problem<'_>) -> CapPlan {
    let crown = crown(problem);
    let half = Rows(crown.rows.count() / 2);
    let front = stitches(problem.front, half);
    let back = stitches(problem.back, half);
    // Both flanks are worked in the same turn pairs: the shorter one gets the same number of
    // moves as the longer one, each as the recipe says, and its surplus pairs go straight down.
    let moves = moves(front, crown).len().max(moves(back, crown).len());
    CapPlan {
        join_change: 0,
        crown,
        base_front: problem.front.underarm(),
        base_back: problem.back.underarm(),
        front: flank(problem.front, front, half, crown, moves),
        back: flank(problem.back, back, half, crown, moves),
    }
}

/// The top's own stitches, or those that wait there.
fn crown(problem: &Problem<'_>) -> Crown {
    if let Some(live) = problem.live {
        let extra = live.extra_each_side + live.extra_each_side;
        return Crown {
            stitches: live.stitches + extra,
            live: live.stitches,
            rows: Rows(extra.count()),
        };
    }
    let top = problem.cap.top() / problem.cap_gauge.stitch_width();
    let count = Stitches(nearest_whole(top).max(4));
    Crown {
        stitches: count,
        live: Stitches::ZERO,
        rows: crown_rows(problem, count)
            .first()
            .copied()
            .unwrap_or(Rows(0)),
    }
}

fn stitches(armhole: &ArmholeEdge, crown: Rows) -> Stitches {
    let sites = armhole.sites().saturating_sub(crown);
    Stitches(nearest_whole(sites.as_f64() / 2.0).max(LAST_STITCHES + 1))
}

/// The recipe's moves for a flank: thirds of the armhole are counted from the shoulder, so the
/// crown's own half is part of the first third.
fn moves(picked_up: Stitches, crown: Crown) -> Vec<Move> {
    let body = picked_up.count() - LAST_STITCHES;
    let half_crown = crown.stitches.as_f64() / 2.0;
    let third = (half_crown + picked_up.as_f64()) / 3.0 - half_crown;
    let twos = nearest_whole(third / 2.0).min(body / 2);
    let mut moves = vec![Move::new(2, 0); twos as usize];
    moves.extend(std::iter::repeat_n(
        Move::new(1, 0),
        (body - 2 * twos) as usize,
    ));
    moves.extend(std::iter::repeat_n(
        Move::new(2, 1),
        (LAST_STITCHES / 2) as usize,
    ));
    moves
}

fn flank(
    armhole: &ArmholeEdge,
    picked_up: Stitches,
    crown_half: Rows,
    crown: Crown,
    moves_wanted: usize,
) -> FlankPlan {
    let mut moves = moves(picked_up, crown);
    let mut stitches = picked_up;
    // A straight pair takes one stitch and decreases it.
    while moves.len() < moves_wanted {
        moves.push(Move::new(1, 1));
        stitches += Stitches(1);
    }
    FlankPlan {
        moves,
        zones: vec![Zone {
            stitches,
            rows: armhole.sites().saturating_sub(crown_half),
        }],
    }
}
