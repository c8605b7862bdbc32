//! Properties of every fit of random problems, and of its certificate: no answer is believed that
//! was changed in one place.

use crate::fit_oracle;
use crate::fit_oracle::cases::{Kind, case};
use capwright::fit::{Measures, Problem, Status, Work, certify, fit, fit_within, measure};
use capwright::measure::{Length, Rows, Stitches};
use capwright::plan::{CapPlan, FlankPlan, Move};
use proptest::prelude::*;

const KIND: Kind = Kind {
    pairs: (4, 16),
    moves: (3, 6),
    alike: false,
    fixed_crown: false,
    gap: 2.4,
};

/// C + N front + N back + U = B and depth, added up here from the moves.
fn adds_up(problem: &Problem<'_>, plan: &CapPlan) {
    let net = |flank: &FlankPlan| -> u32 { flank.moves.iter().map(|m| m.take - m.drop).sum() };
    let taken = |flank: &FlankPlan| -> u32 { flank.moves.iter().map(|m| m.take).sum() };
    let picked_up = |flank: &FlankPlan| -> u32 { flank.zones.iter().map(|z| z.stitches.0).sum() };
    let flanks = net(&plan.front) + net(&plan.back);
    let base = plan.base_front.count() + plan.base_back.count();
    let cap_end = i64::from(plan.crown.stitches.count() + flanks + base);
    let upper_arm = cap_end + i64::from(plan.join_change);
    assert_eq!(upper_arm, i64::from(fit_oracle::upper_arm(problem)));
    let off = i64::from(plan.join_change) - fit_oracle::join(problem);
    assert!(off.abs() <= 4, "{off}");
    for flank in [&plan.front, &plan.back] {
        assert_eq!(taken(flank), picked_up(flank));
    }
    let underarm = problem.front.underarm() + problem.back.underarm();
    assert!(base.abs_diff(underarm.count()) <= problem.wishes.base_tolerance.count());
}

/// One change, so that the plan or what it is said to measure is no longer true.
fn tamper(plan: &mut CapPlan, claimed: &mut Measures, how: u32, at: usize) {
    let moves = plan.front.moves.len();
    let at = at % moves;
    match how {
        0 => plan.crown.stitches += Stitches(1),
        1 => plan.base_front += Stitches(1),
        2 => {
            plan.base_front += Stitches(1);
            plan.base_back = plan.base_back.saturating_sub(Stitches(1));
        }
        3 => plan.front.moves[at].take += 1,
        4 => plan.back.moves[at].take += 1,
        5 => plan.back.moves[at] = Move::new(11, 0),
        6 => drop(plan.front.moves.remove(at)),
        7 => plan.front.zones[0].rows += Rows(1),
        8 => plan.back.zones[0].stitches += Stitches(1),
        9 => plan.crown.rows += Rows(2),
        10 => plan.crown.live += Stitches(1),
        11 => plan.front.zones.clear(),
        12 => claimed.area_cm2 *= 1.001,
        13 => claimed.area_error_pct += 0.01,
        14 => claimed.depth = claimed.depth + Length::cm(0.01),
        15 => claimed.depth_error = claimed.depth_error + Length::cm(0.01),
        16 => claimed.width_rms = claimed.width_rms + Length::cm(0.001),
        17 => claimed.objective *= 0.999,
        18 => claimed.front.edge = claimed.front.edge + Length::cm(0.01),
        19 => claimed.back.half_widths_cm[at] += 0.01,
        20 => {
            let armhole = claimed.front.moves[at].armhole;
            claimed.front.moves[at].armhole = armhole + Length::cm(0.01);
        }
        21 => claimed.terms[0].1 += 1e-4,
        22 => claimed.upper_arm = claimed.upper_arm + Length::cm(0.01),
        _ => claimed.back.armhole = claimed.back.armhole + Length::cm(0.01),
    }
}

const WAYS_TO_TAMPER: u32 = 24;

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 40,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn every_fit_adds_up_and_is_certified(n in 0u64..1 << 40) {
        let case = case(KIND, n);
        let problem = case.problem();
        if let Ok(found) = fit(&problem) {
            prop_assert!(found.status != Status::Picked);
            prop_assert_eq!(certify(&problem, &found.plan, &found.measures), []);
            adds_up(&problem, &found.plan);
            let pairs = found.plan.turn_pairs() as usize;
            prop_assert!(fit_oracle::turn_pairs(&problem).contains(&pairs));
            for point in &found.trade {
                if let Some((plan, measures)) = &point.cap {
                    adds_up(&problem, plan);
                    prop_assert!(plan.runs() <= point.runs);
                    prop_assert_eq!(certify(&problem, plan, measures), []);
                }
            }
        }
    }

    #[test]
    fn a_tampered_plan_is_refused(n in 0u64..1 << 40, how in 0..WAYS_TO_TAMPER, at in 0usize..100) {
        let case = case(KIND, n);
        let problem = case.problem();
        if let Ok(found) = fit(&problem) {
            let (mut plan, mut claimed) = (found.plan.clone(), found.measures.clone());
            tamper(&mut plan, &mut claimed, how, at);
            prop_assert!(!certify(&problem, &plan, &claimed).is_empty());
            // Measured again, a changed plan still breaks a limit or is another, allowed one.
            if plan != found.plan {
                let again = measure(&problem, &plan);
                let refused = !certify(&problem, &plan, &again).is_empty();
                let best = found.trade.iter().filter_map(|point| point.cap.as_ref()).map(|cap| cap.1.objective);
                let best = best.fold(f64::INFINITY, f64::min);
                prop_assert!(refused || again.objective + 1e-9 >= best);
            }
        }
    }
}

/// What a fit says that gave up: its cap is a cap, and none that it did not look at is better than it says.
#[test]
fn a_fit_that_gives_up_says_how_much_better_a_cap_could_be() {
    let (mut gave_up, mut proven) = (0, 0);
    for n in 0..60 {
        let kind = Kind {
            pairs: (4, 8),
            ..KIND
        };
        let case = case(kind, n);
        let mut problem = case.problem();
        // Caps of one run and of two are all tried in any case.
        problem.wishes.runs = Some(4);
        let Ok(exact) = fit_within(&problem, Work::unproven(20_000_000)) else {
            continue;
        };
        for most_work in [0, 3_000, 300_000] {
            let found = fit_within(&problem, Work::unproven(most_work)).unwrap();
            assert_eq!(certify(&problem, &found.plan, &found.measures), []);
            let as_few = &exact.trade[found.plan.runs() - 1];
            let least = as_few.cap.as_ref().unwrap().1.objective;
            assert!(found.bound <= least + 1e-9, "case {n}: {least}");
            assert!(least <= found.measures.objective + 1e-9, "case {n}");
            assert!((0.0..=100.0).contains(&found.gap_pct()), "case {n}");
            if found.status == Status::Feasible {
                gave_up += 1;
            } else {
                proven += 1;
                assert!((found.measures.objective - least).abs() < 1e-9);
            }
        }
    }
    assert!(
        gave_up > 20 && proven >= 5,
        "{gave_up} gave up, {proven} proven"
    );
}
