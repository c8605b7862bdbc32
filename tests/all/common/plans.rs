//! Random caps for the tests of the words and the needle.
#![allow(dead_code, reason = "each test uses its own part")]

use capwright::case::{BodyMade, Style, Terms, Turn, TurnDecrease, Underarm};
use capwright::measure::{Rows, Stitches};
use capwright::plan::{
    CapPlan, Crown, CuffPlan, CuffStitch, FlankPlan, Hand, Move, Sleeve, TubePlan, Zone,
    worked_shaping,
};
use proptest::prelude::*;

/// Every move of the design: 1/0 to 10/0, 2/1, 1/1, and 3/1 for good measure.
fn one_move() -> impl Strategy<Value = Move> {
    prop_oneof![
        4 => Just(Move::new(1, 0)),
        2 => Just(Move::new(2, 0)),
        2 => (3u32..=10).prop_map(|take| Move::new(take, 0)),
        3 => Just(Move::new(2, 1)),
        3 => Just(Move::new(1, 1)),
        1 => Just(Move::new(3, 1)),
    ]
}

/// Runs of equal moves that are `pairs` long in all.
fn moves(pairs: usize) -> impl Strategy<Value = Vec<Move>> {
    let runs = prop::collection::vec((one_move(), 1usize..6), pairs);
    runs.prop_map(move |runs| {
        let all = runs
            .into_iter()
            .flat_map(|(m, n)| std::iter::repeat_n(m, n));
        all.take(pairs).collect()
    })
}

/// One to three zones, each with at most three rows a stitch.
fn zones(picked_up: u32) -> impl Strategy<Value = Vec<Zone>> {
    let extra = prop::collection::vec(0..=2 * picked_up, 3);
    (0..picked_up, 0..picked_up, extra).prop_map(move |(a, b, extra)| {
        let (first, second) = (a.min(b), a.max(b));
        let parts = [first, second - first, picked_up - second];
        let zone = |(stitches, more): (u32, &u32)| Zone {
            stitches: Stitches(stitches),
            rows: Rows(stitches + (*more).min(2 * stitches)),
        };
        let zones = parts.into_iter().zip(&extra).map(zone);
        zones.filter(|z| z.stitches.count() > 0).collect()
    })
}

fn flank(pairs: usize) -> impl Strategy<Value = FlankPlan> {
    moves(pairs).prop_flat_map(|moves| {
        let picked_up = moves.iter().map(|m| m.take).sum();
        zones(picked_up).prop_map(move |zones| FlankPlan {
            moves: moves.clone(),
            zones,
        })
    })
}

fn crown() -> impl Strategy<Value = Crown> {
    (1u32..30, 0u32..12, 0u32..8).prop_map(|(picked, live, skipped)| Crown {
        stitches: Stitches(picked + live),
        live: Stitches(live),
        rows: Rows(picked + skipped.min(picked)),
    })
}

/// A cap whose front and back are alike or differ, with or without live stitches.
pub(crate) fn plan() -> impl Strategy<Value = CapPlan> {
    let flanks = (1usize..24).prop_flat_map(|pairs| (flank(pairs), flank(pairs), any::<bool>()));
    let change = prop_oneof![1 => Just(0), 2 => -5i32..=5];
    let parts = (crown(), 0u32..9, 0u32..9, flanks, change);
    parts.prop_map(|(crown, front_base, back_base, flanks, wanted)| {
        let (front, back, alike) = flanks;
        let (back, back_base) = if alike {
            (front.clone(), front_base)
        } else {
            (back, back_base)
        };
        let mut plan = CapPlan {
            join_change: 0,
            crown,
            base_front: Stitches(front_base),
            base_back: Stitches(back_base),
            front,
            back,
        };
        // Each decrease takes two stitches, and a few are left between the corners.
        let room = plan
            .cap_end()
            .count()
            .min(plan.crown.stitches.count() + plan.front.net().count());
        let most = i32::try_from(room / 4).unwrap_or(0);
        plan.join_change = wanted.max(-most);
        plan
    })
}

pub(crate) fn style() -> impl Strategy<Value = Style> {
    let ways = any::<([bool; 4], [u32; 3])>();
    ways.prop_map(|([uk, german, left, next], [under, body, lost])| Style {
        terms: if uk { Terms::Uk } else { Terms::Us },
        turn: if german { Turn::German } else { Turn::Wrap },
        hand: if left { Hand::Left } else { Hand::Right },
        decrease: if next {
            TurnDecrease::Next
        } else {
            TurnDecrease::Together
        },
        underarm: [Underarm::BoundOff, Underarm::Live, Underarm::CastOn][under as usize % 3],
        body: [BodyMade::Pieces, BodyMade::Round, BodyMade::Steeked][body as usize % 3],
        in_seam: Stitches(lost % 4),
        stepped: Stitches::ZERO,
        in_pattern: lost % 8 > 3,
    })
}

/// A tube below `upper_arm` stitches: narrower, straight, or wider by two a shaping round.
pub(crate) fn tube(upper_arm: u32) -> impl Strategy<Value = TubePlan> {
    let most = (upper_arm.saturating_sub(4) / 2).min(12) as usize;
    let gaps = prop::collection::vec(1u32..9, 0..=most);
    (gaps, 0u32..20, any::<[bool; 2]>()).prop_map(move |(gaps, rest, [widens, begun])| {
        let mut at = 1;
        let rounds: Vec<u32> = gaps
            .iter()
            .map(|gap| {
                at += gap;
                at
            })
            .collect();
        let change = 2 * u32::try_from(rounds.len()).unwrap_or(0);
        // Of a tube that is begun nobody knows which rounds were shaped.
        let (worked, rounds) = match rounds.get(rounds.len() / 2).filter(|_| begun) {
            Some(&worked) => {
                let (past, later) = rounds.split_at(rounds.len() / 2 + 1);
                let past = worked_shaping(worked, u32::try_from(past.len()).unwrap_or(0));
                (worked, [past, later.to_vec()].concat())
            }
            None => (0, rounds),
        };
        TubePlan {
            upper_arm: Stitches(upper_arm),
            cuff: Stitches(if widens {
                upper_arm + change
            } else {
                upper_arm - change
            }),
            rounds: Rows(at + rest),
            decrease_rounds: rounds,
            worked: Rows(worked),
            beside: 0,
        }
    })
}

/// The texts a plan needs.
pub(crate) fn sleeves(plan: &CapPlan) -> &'static [Sleeve] {
    Sleeve::needed(plan)
}

/// A cuff below a tube, its count the tube's or another one.
pub(crate) fn cuff(tube: &TubePlan) -> impl Strategy<Value = CuffPlan> + use<> {
    let stitches = tube.cuff.count();
    (0u32..4, 1u32..20, any::<bool>()).prop_map(move |(kind, rounds, up)| {
        let stitch = [
            CuffStitch::Rib1,
            CuffStitch::Rib2,
            CuffStitch::Garter,
            CuffStitch::Plain,
        ][kind as usize];
        let multiple = stitch.multiple();
        let down = stitches - stitches % multiple;
        // A round can decrease every other stitch at most.
        let fits = down > 0 && stitches - down <= stitches / 2;
        CuffPlan {
            stitches: Stitches(if fits && !up {
                down
            } else {
                stitches.next_multiple_of(multiple)
            }),
            rounds: Rows(rounds),
            stitch,
        }
    })
}
