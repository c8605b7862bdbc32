//! The common-practice recipe against its rules of thumb, counted here by hand
//! (common practice, no source): nearly every row at the shoulder, about half of the rows on the
//! flanks, the underarm one for one; turns at every second stitch for the first third, then at
//! every stitch, then in pairs decreased together over the last six stitches.

use crate::common::{armhole, example_cap, gauge};
use capwright::fit::{Problem, Wishes, recipe};
use capwright::plan::Repeat;

#[test]
fn the_recipe_follows_the_rules_of_thumb() {
    let cap = example_cap();
    let body = gauge(22.0, 30.0);
    // 60 rows on each side of the shoulder; 4 stitches bound off at each underarm.
    let edge = armhole(21.0, 4.0 / 2.2, 20.0, body);
    let problem = Problem {
        cap: &cap,
        front: &edge,
        back: &edge,
        cap_gauge: body,
        worked: None,
        tube_gauge: body,
        upper_arm: cap.upper_arm(),
        repeat: Repeat::ANY,
        live: None,
        wishes: Wishes::default(),
    };
    let plan = recipe(&problem);
    // The old top has 12 stitches net of seams; nine in ten rows take 13.3, evenly 14 rows.
    assert_eq!(plan.crown.stitches.count(), 12);
    assert_eq!(plan.crown.rows.count(), 14);
    assert_eq!((plan.base_front.count(), plan.base_back.count()), (4, 4));
    assert_eq!(plan.front, plan.back);
    // 60 - 7 rows are left on a flank: half of 53 is 26.5, 27 stitches.
    assert_eq!(plan.front.picked_up().count(), 27);
    assert_eq!(plan.front.zones.len(), 1);
    assert_eq!(plan.front.zones[0].rows.count(), 53);
    // A side of the armhole has 6 + 27 = 33 stitches; its first third ends after 11, 5 of them on
    // the flank: 2.5 turns at every second stitch, so 3. The last six make 3 pairs, the rest are
    // 27 - 6 - 6 = 15 turns at every stitch.
    let runs: Vec<(u32, u32, u32)> = plan
        .front
        .runs()
        .iter()
        .map(|(m, n)| (m.take, m.drop, *n))
        .collect();
    assert_eq!(runs, [(2, 0, 3), (1, 0, 15), (2, 1, 3)]);
    // 1 + 21 turn pairs; 12 + 2 * 24 + 8 stitches.
    assert_eq!(plan.turn_pairs(), 22);
    assert_eq!(plan.upper_arm().count(), 12 + 2 * 24 + 8);
}

/// A longer back flank is worked in the same turn pairs: the shorter front goes straight at the end.
#[test]
fn flanks_of_different_length_turn_together() {
    let cap = example_cap();
    let body = gauge(22.0, 30.0);
    let front = armhole(21.0, 4.0 / 2.2, 20.0, body);
    let back = armhole(23.0, 4.0 / 2.2, 22.0, body);
    let problem = Problem {
        cap: &cap,
        front: &front,
        back: &back,
        cap_gauge: body,
        worked: None,
        tube_gauge: body,
        upper_arm: cap.upper_arm(),
        repeat: Repeat::ANY,
        live: None,
        wishes: Wishes::default(),
    };
    let plan = recipe(&problem);
    assert_eq!(plan.front.moves.len(), plan.back.moves.len());
    // 66 - 7 rows: 29.5, 30 stitches. A third of 36 is 12, 6 of them on the flank: 3 twos, 18 ones,
    // 3 pairs; the front's 21 moves are followed by 3 straight ones that take a stitch each.
    assert_eq!(plan.back.picked_up().count(), 30);
    assert_eq!(plan.back.moves.len(), 24);
    assert_eq!(plan.front.picked_up().count(), 27 + 3);
    assert_eq!(plan.front.net().count(), 24);
}
