//! The counts of a cap on the needles: the state they come to, or why there is none.

use crate::case::{CapSoFar, PickedUp};
use crate::fit::Begun;
use crate::measure::{Rows, Stitches};
use crate::plan::{Flank, FlankPlan, STEEPEST};

/// The state as it was counted.
pub(super) fn really(planned: &Begun, cap: &CapSoFar, first_is: Flank) -> Result<Begun, String> {
    let picked = |flank: &FlankPlan| -> Stitches { flank.zones.iter().map(|z| z.stitches).sum() };
    let base = planned.base_front + planned.base_back;
    let (front, back) = (picked(&planned.front), picked(&planned.back));
    let counts = match cap.picked_up {
        None => (planned.crown.stitches, base, front, back),
        Some(PickedUp::Sections {
            crown,
            first,
            base,
            second,
        }) => match first_is {
            Flank::Front => (crown, base, first, second),
            Flank::Back => (crown, base, second, first),
        },
        Some(PickedUp::Total(all)) => {
            let around = planned.crown.stitches + base;
            let flanks = all.checked_sub(around).unwrap_or(Stitches::ZERO).count();
            let before = (front + back).count();
            // Each flank has its share of what is too many or too few; the odd one is the second's.
            let off = i64::from(flanks) - i64::from(before);
            let shared = |n: Stitches, off: i64| {
                Stitches(u32::try_from(i64::from(n.count()) + off).unwrap_or(0))
            };
            let (one, other) = (off.div_euclid(2), off - off.div_euclid(2));
            match first_is {
                Flank::Front => (
                    planned.crown.stitches,
                    base,
                    shared(front, one),
                    shared(back, other),
                ),
                Flank::Back => (
                    planned.crown.stitches,
                    base,
                    shared(front, other),
                    shared(back, one),
                ),
            }
        }
    };
    let (crown, base, front, back) = counts;
    room(planned, crown, [front, back])?;
    let counted = planned.counted(crown, base, front, back);
    if !counted.has_enough() {
        let moves: u32 = planned.front.moves.iter().map(|m| m.take).sum();
        return Err(format!(
            "The plan's first {} rows take in {moves} sts on each side, but {} are picked up at the front and {} at the back: count again, or say how many wait (so_far.turned_at).",
            2 * planned.turn_pairs,
            front.count(),
            back.count()
        ));
    }
    match cap.turned_at {
        None => Ok(counted),
        Some([first, second]) => counted.turned_at(match first_is {
            Flank::Front => [first, second],
            Flank::Back => [second, first],
        }).ok_or_else(|| {
            let steps = planned.turn_pairs.saturating_sub(1);
            let few = front.min(back).count();
            let waiting = if first == second {
                format!("{} sts cannot wait on each side", first.count())
            } else {
                format!("{} and {} sts cannot wait", first.count(), second.count())
            };
            if steps == 0 {
                return format!(
                    "After {} rows {waiting}: no flank stitch is taken in yet, so all {few} wait.",
                    2 * planned.turn_pairs
                );
            }
            format!(
                "After {} rows {waiting}: of {few} sts {steps} turns take in {steps} to {} on each side, so {} to {} wait.",
                2 * planned.turn_pairs,
                STEEPEST * steps,
                few.saturating_sub(STEEPEST * steps),
                few.saturating_sub(steps)
            )
        }),
    }
}

/// Every section has a row for each stitch, and no hole.
fn room(planned: &Begun, crown: Stitches, flanks: [Stitches; 2]) -> Result<(), String> {
    let named = [
        ("front flank", &planned.front, flanks[0]),
        ("back flank", &planned.back, flanks[1]),
    ];
    let fits = |name: &str, stitches: Stitches, rows: Rows| {
        let (least, most) = (rows.count().div_ceil(MOST_APART), rows.count());
        if (least..=most).contains(&stitches.count()) {
            return Ok(());
        }
        Err(format!(
            "The {name} cannot have {} sts over its {most} rows: one a row at the most and {least} at the least, so that no hole shows.",
            stitches.count()
        ))
    };
    for (name, flank, stitches) in named {
        fits(
            name,
            stitches,
            flank.zones.iter().map(|zone| zone.rows).sum(),
        )?;
    }
    let live = planned.crown.live;
    let picked = crown.checked_sub(live).ok_or_else(|| {
        format!(
            "The crown has {} sts, but {} wait on the holder for it.",
            crown.count(),
            live.count()
        )
    })?;
    if planned.crown.stitches == crown {
        return Ok(());
    }
    fits("crown", picked, planned.crown.rows)
}

/// More rows than this from one picked-up stitch to the next are a hole (common practice, no source).
const MOST_APART: u32 = 3;
