//! Where a stitch pattern stands on the round.

use capwright::case::Style;
use capwright::measure::{Rows, Stitches};
use capwright::needle::knit_sentences;
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Repeat, Section, Sleeve, Zone};
use capwright::wording::{SleeveText, stitch_pattern, write};

fn plan() -> CapPlan {
    let flank = FlankPlan {
        moves: vec![Move::new(2, 0), Move::new(2, 1), Move::new(1, 1)],
        zones: vec![Zone {
            stitches: Stitches(5),
            rows: Rows(8),
        }],
    };
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(9),
            live: Stitches(3),
            rows: Rows(7),
        },
        base_front: Stitches(3),
        base_back: Stitches(2),
        front: flank.clone(),
        back: flank,
    }
}

fn input(plan: &CapPlan) -> SleeveText<'_> {
    SleeveText {
        plan,
        tube: None,
        cuff: None,
        style: Style::default(),
        sleeve: Sleeve::Left,
    }
}

/// Brute force: number the stitches of the knitted round from its start and look the crown's
/// first one up.
#[test]
fn the_crown_meets_the_repeat_where_the_round_says() {
    let plan = plan();
    let (knitted, _) = knit_sentences(&write(&input(&plan)).sentences());
    let round = knitted.upper_arm.count();
    let base = |s: Section| s == Section::Base;
    let after = knitted
        .columns
        .iter()
        .filter(|c| base(c.section) && c.rows.count() == 0);
    let start = after.map(|c| c.stitch).min().unwrap();
    let in_round = i64::from(round) - i64::try_from(start).unwrap();
    for multiple in 2..7 {
        for plus in 0..multiple {
            let lines = stitch_pattern(&input(&plan), Repeat { multiple, plus });
            let before = i64::from(plus.div_ceil(2));
            let st = (in_round - before).rem_euclid(i64::from(multiple)) + 1;
            let said = format!("is st {st} of the repeat");
            assert!(
                lines[0].contains(&said),
                "{multiple}+{plus}: {lines:?}, {st}"
            );
        }
    }
    assert!(
        stitch_pattern(
            &input(&plan),
            Repeat {
                multiple: 1,
                plus: 0
            }
        )
        .is_empty()
    );
}
