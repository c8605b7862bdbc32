//! The rest of a cap against trying every rest, measured with formulas written again here and in `fit_oracle`.

use crate::fit_oracle::cases::{Case, Kind, case};
use crate::fit_oracle::random::Random;
use crate::fit_oracle::{
    AREA, DECREASE, DEPTH, EASE, Edge, Frame, HIGH_DECREASE, JOIN, JOIN_OFF, LONE_MOVE, STRAIN,
    Zones, at_pair_cm, depth_cm, edges_cm, every_sequence, join, kappa, lone_moves, of_top_cm,
    runs, strain, targets_cm, turn_pairs, upper_arm, words,
};
use capwright::fit::{
    Begun, Correction, Problem, Status, Turned, Worked, certify_rest, fit, fit_rest,
    fit_rest_below, measure,
};
use capwright::measure::{Gauge, Stitches};
use capwright::plan::{FlankPlan, Move};

/// What an unlike pair of lists costs; copied by hand from the table of weights.
const UNLIKE: f64 = 0.01;

const KIND: Kind = Kind {
    pairs: (3, 5),
    moves: (3, 5),
    alike: false,
    fixed_crown: false,
    gap: 2.4,
};

fn zones(flank: &FlankPlan) -> Zones {
    let of = |zone: &capwright::plan::Zone| (zone.stitches.count(), zone.rows.count());
    flank.zones.iter().map(of).collect()
}

fn sum(moves: &[Move], of: fn(&Move) -> u32) -> u32 {
    moves.iter().map(of).sum()
}

/// The objective of two whole lists, from the documents' formulas.
fn cost(problem: &Problem<'_>, begun: &Begun, lists: [&[Move]; 2], change: i64) -> f64 {
    let (top_s, top_r) = of_top_cm(problem);
    let k = kappa(problem);
    let pairs = lists[0].len() + 1;
    let frame = Frame {
        pairs,
        crown: begun.crown.stitches.count(),
        live: begun.crown.live.count(),
        crown_sites: begun.crown.rows.count() / 2,
        base: [begun.base_front.count(), begun.base_back.count()],
        ends: Vec::new(),
    };
    let targets = targets_cm(problem, pairs);
    let crown_cm = f64::from(frame.crown) * top_s;
    let sides = [(problem.front, &begun.front), (problem.back, &begun.back)];
    let flank_edges = sides.map(|side| Edge::of(side.0, &frame));
    let all_cm: f64 = flank_edges.iter().map(Edge::whole_cm).sum();
    let (mut width, mut area, mut edge, mut rest) = (0.0, k * top_r * crown_cm, 0.0, 0.0);
    for ((moves, side), flank) in lists.iter().zip(sides).zip(&flank_edges) {
        let mut half = f64::from(frame.crown) / 2.0;
        let edges = edges_cm(problem, moves);
        for t in 0..pairs {
            let (s, r) = at_pair_cm(problem, t);
            let here = if t == 0 { 2.0 * r } else { edges[t - 1] };
            if t > 0 {
                half += f64::from(moves[t - 1].take - moves[t - 1].drop);
                let above = (pairs - t - 1) as f64 / (pairs * pairs) as f64;
                rest += f64::from(moves[t - 1].drop)
                    * (DECREASE / pairs as f64 + HIGH_DECREASE * above)
                    / 2.0;
            }
            // The picked-up row is as high as it was knitted, and lies along rows of the pair's own height.
            let off = half * s + k * top_r * here / (2.0 * r) - targets[t];
            width += off * off / pairs as f64 / 2.0;
            area += 2.0 * r * half * s + k * top_r * here;
            edge += here;
        }
        edge += crown_cm / 2.0 + k * top_r;
        let zones = zones(side.1);
        rest += STRAIN * strain(problem, flank, &zones, moves) / all_cm
            + words(flank.sites, &zones) / 2.0
            + LONE_MOVE * lone_moves(moves) as f64 / 2.0;
    }
    let error = area / problem.cap.area_cm2() - 1.0;
    let depth = depth_cm(problem, pairs) - problem.cap.depth().to_cm();
    let live_cm = f64::from(frame.live) * top_s;
    let armhole = (problem.front.edge() + problem.back.edge()).to_cm() + live_cm;
    let old = 2.0 * problem.cap.edge_above_underarm().to_cm() - armhole;
    let ease = edge - armhole;
    let outside = (old.min(0.0) - ease).max(ease - old.max(2.54)).max(0.0);
    let unlike = if lists[0] == lists[1] { 0.0 } else { UNLIKE };
    width
        + rest
        + AREA * error * error
        + DEPTH * depth * depth
        + EASE * outside * outside
        + JOIN * change.abs() as f64
        + JOIN_OFF * (change - join(problem)).abs() as f64
        + unlike
}

/// Every list that goes on from the work and takes in all that waits.
fn lists(flank: &FlankPlan, begun: &Begun, allowed: &[Move], pairs: usize) -> Vec<Vec<Move>> {
    let Some(left) = pairs.checked_sub(begun.turn_pairs.max(1) as usize) else {
        return Vec::new();
    };
    let picked: u32 = zones(flank).iter().map(|zone| zone.0).sum();
    let waiting = picked - sum(&flank.moves, |m| m.take);
    let of_two = |m: &Move| m.drop > 0 && m.take > 1;
    let follows = |m: &Move| match begun.turned {
        None => true,
        Some(Turned::One) => !of_two(m),
        Some(Turned::Two) => of_two(m),
    };
    let rests = every_sequence(allowed, left).into_iter();
    rests
        .filter(|rest| sum(rest, |m| m.take) == waiting && rest.first().is_none_or(follows))
        .map(|rest| [flank.moves.as_slice(), &rest].concat())
        .collect()
}

/// The least costs with at most 1, 2, ... runs of all rests with so many pairs.
fn every_rest(problem: &Problem<'_>, begun: &Begun, pairs: usize) -> [f64; 12] {
    let mut least = [f64::INFINITY; 12];
    let allowed = problem.wishes.moves.clone().unwrap();
    let [front, back] =
        [&begun.front, &begun.back].map(|flank| lists(flank, begun, &allowed, pairs));
    let picked = |flank: &FlankPlan| zones(flank).iter().map(|zone| zone.0).sum::<u32>();
    let alike =
        begun.front.moves == begun.back.moves && picked(&begun.front) == picked(&begun.back);
    for a in &front {
        for b in back.iter().filter(|b| !alike || *b == a) {
            let net = |moves: &[Move]| i64::from(sum(moves, |m| m.take) - sum(moves, |m| m.drop));
            let around = begun.crown.stitches + begun.base_front + begun.base_back;
            let change =
                i64::from(upper_arm(problem)) - i64::from(around.count()) - net(a) - net(b);
            let allowed = if problem.wishes.plain_join {
                change == 0
            } else {
                (change - join(problem)).abs() <= 4
            };
            if allowed {
                let place = &mut least[runs(a).max(runs(b)) - 1];
                *place = place.min(cost(problem, begun, [a, b], change));
            }
        }
    }
    for r in 1..12 {
        least[r] = least[r].min(least[r - 1]);
    }
    least
}

/// The pairs nearest to the depth and one either way; where none has a rest, the nearest that has.
fn brute_force(problem: &Problem<'_>, begun: &Begun) -> [f64; 12] {
    let near = turn_pairs(problem);
    let mut least = [f64::INFINITY; 12];
    for pairs in &near {
        let found = every_rest(problem, begun, *pairs);
        for (least, found) in least.iter_mut().zip(found) {
            *least = least.min(found);
        }
    }
    if least[11].is_finite() {
        return least;
    }
    let middle = *near
        .iter()
        .min_by_key(|t| near.iter().map(|o| t.abs_diff(*o)).max())
        .unwrap();
    let mut others: Vec<usize> = (1..=7).filter(|t| !near.contains(t)).collect();
    others.sort_by_key(|t| (t.abs_diff(middle), *t));
    let found = others.iter().map(|t| every_rest(problem, begun, *t));
    let mut found = found.filter(|least| least[11].is_finite());
    found.next().unwrap_or(least)
}

/// A state that a plan of the case can come to, with something wrong in it most of the time.
fn state(case: &Case, random: &mut Random) -> Option<Begun> {
    let plan = fit(&case.problem()).ok()?.plan;
    let begun = Begun::of(&plan, random.from(0, plan.turn_pairs() - 1));
    let off = |random: &mut Random, n: Stitches| {
        Stitches((n.count() + random.from(0, 2)).saturating_sub(1).max(1))
    };
    let (front, back) = (plan.front.picked_up(), plan.back.picked_up());
    let counted = match random.from(0, 3) {
        0 => begun,
        1 => {
            let both = off(random, front);
            begun.counted(off(random, plan.crown.stitches), plan.base(), both, both)
        }
        _ => {
            let (front, back) = (off(random, front), off(random, back));
            begun.counted(plan.crown.stitches, plan.base(), front, back)
        }
    };
    let turned = if random.one_in(3) && counted.turn_pairs > 1 {
        counted.turned_at([Stitches(counted.waiting()[0].saturating_sub(1)); 2])
    } else {
        Some(counted)
    };
    turned.filter(|begun| {
        let flanks = [&begun.front, &begun.back];
        let fits = |flank: &&FlankPlan| {
            flank
                .zones
                .iter()
                .all(|z| z.stitches.count() > 0 && z.stitches.count() <= z.rows.count())
        };
        begun.has_enough() && flanks.iter().all(fits)
    })
}

/// The same problem after what is worked was knitted with other needles: up to a fifth looser or tighter.
fn with_other_needles<'a>(
    problem: &Problem<'a>,
    begun: &Begun,
    random: &mut Random,
) -> Problem<'a> {
    let gauge = problem.cap_gauge;
    let mut changed = |per_10cm: f64| per_10cm * random.between(0.8, 1.2);
    let (stitches, rows) = (
        changed(gauge.stitches_per_10cm()),
        changed(gauge.rows_per_10cm()),
    );
    Problem {
        worked: Some(Worked {
            turn_pairs: begun.turn_pairs,
            gauge: Gauge::per_10cm(stitches, rows).unwrap(),
        }),
        ..problem.clone()
    }
}

#[test]
fn the_best_of_all_rests() {
    best_of_all_rests(false);
}

#[test]
fn the_best_of_all_rests_with_other_needles() {
    best_of_all_rests(true);
}

fn best_of_all_rests(other_needles: bool) {
    let (mut with, mut without, mut unlike) = (0, 0, 0);
    for n in 0..400 {
        let case = case(
            Kind {
                alike: n % 2 == 0,
                ..KIND
            },
            n,
        );
        let problem = case.problem();
        let random = &mut Random(n + 1000);
        let Some(begun) = state(&case, random) else {
            continue;
        };
        let problem = if other_needles {
            with_other_needles(&problem, &begun, random)
        } else {
            problem
        };
        let least = brute_force(&problem, &begun);
        let Ok(found) = fit_rest(&problem, &begun) else {
            assert!(
                !least[11].is_finite(),
                "case {n}: there is a rest: {begun:?}"
            );
            without += 1;
            continue;
        };
        with += 1;
        unlike += u32::from(found.plan.front.moves != found.plan.back.moves);
        assert_eq!(found.status, Status::Optimal, "case {n}");
        // Asked for what costs less than a little more than the best, the best is found; for less, nothing better.
        for (below, some) in [(least[11] + 1e-6, true), (least[11] - 1e-6, false)] {
            let best = |fit: capwright::fit::Fit| {
                let caps = fit.trade.into_iter().filter_map(|point| point.cap);
                let costs = caps.map(|(_, measures)| measures.objective);
                costs.fold(f64::INFINITY, f64::min)
            };
            let found = fit_rest_below(&problem, &begun, below).map(best);
            assert!(found.is_some() || !some, "case {n}");
            assert!(found.is_none_or(|best| (best - least[11]).abs() <= 1e-9));
        }
        for (point, least) in found.trade.iter().zip(least) {
            match &point.cap {
                Some((plan, measures)) => {
                    assert!(
                        (measures.objective - least).abs() <= 1e-9,
                        "case {n}, {} runs: {} for {least}: {plan:?} {begun:?}",
                        point.runs,
                        measures.objective
                    );
                    assert_eq!(
                        certify_rest(&problem, &begun, plan, measures),
                        [],
                        "case {n}"
                    );
                }
                None => assert!(!least.is_finite(), "case {n}, {} runs", point.runs),
            }
        }
    }
    // A check that never meets one of these would check only half of the answers.
    assert!(
        with > 80 && without > 10 && unlike > 30,
        "{with} {without} {unlike}"
    );
}

/// Nothing wrong: from every pair of a proven cap no rest of as many runs is better than the plan's own.
#[test]
fn nothing_wrong_finds_nothing_better() {
    let kind = Kind {
        pairs: (7, 14),
        ..KIND
    };
    let mut looked_at = 0;
    for n in 0..40 {
        let case = case(kind, n);
        let problem = case.problem();
        let Ok(whole) = fit(&problem) else { continue };
        if whole.status != Status::Optimal {
            continue;
        }
        for pairs in 0..=whole.plan.turn_pairs() {
            let begun = Begun::of(&whole.plan, pairs);
            let rest = fit_rest(&problem, &begun).unwrap();
            let point = &rest.trade[whole.plan.runs() - 1];
            let own = whole.measures.objective;
            let (plan, measures) = point.cap.as_ref().unwrap();
            let off = (measures.objective - own).abs();
            assert!(
                off <= 1e-9,
                "case {n}, {pairs}: {} for {own}, {plan:?}",
                measures.objective
            );
            looked_at += 1;
        }
    }
    assert!(looked_at > 100, "{looked_at}");
}

/// Turned where the plan turns is the plan, decreases of every kind among the moves; elsewhere as many wait as were
/// said, and no turn takes in fewer than it decreases.
#[test]
fn turned_where_the_plan_turns_is_the_plan() {
    let kinds = [(1, 0), (1, 1), (2, 0), (2, 1), (4, 0), (10, 0)].map(|(a, b)| Move::new(a, b));
    let (mut same, mut bent) = (0, 0);
    for n in 0..60 {
        let random = &mut Random(n);
        let moves: Vec<Move> = (0..random.from(1, 20))
            .map(|_| kinds[random.from(0, 5) as usize])
            .collect();
        let picked = sum(&moves, |m| m.take);
        let flank = FlankPlan {
            moves,
            zones: vec![capwright::plan::Zone {
                stitches: Stitches(picked),
                rows: capwright::measure::Rows(2 * picked),
            }],
        };
        let plan = capwright::plan::CapPlan {
            crown: capwright::plan::Crown {
                stitches: Stitches(12),
                live: Stitches(0),
                rows: capwright::measure::Rows(12),
            },
            base_front: Stitches(4),
            base_back: Stitches(4),
            front: flank.clone(),
            back: flank,
            join_change: 0,
        };
        for pairs in 0..=plan.turn_pairs() {
            let begun = Begun::of(&plan, pairs);
            let waiting = begun.waiting()[0];
            assert_eq!(
                begun.turned_at([Stitches(waiting); 2]),
                Some(begun.clone()),
                "{n}"
            );
            same += 1;
            for other in waiting.saturating_sub(3)..waiting + 3 {
                let Some(found) = begun.turned_at([Stitches(other); 2]) else {
                    continue;
                };
                bent += u32::from(found != begun);
                assert_eq!(found.waiting(), [other; 2]);
                assert!(found.front.moves.iter().all(|m| m.take >= m.drop.max(1)));
            }
        }
    }
    assert!(same > 300 && bent > 300, "{same} {bent}");
}

#[test]
fn a_changed_rest_is_not_certified() {
    let case = (0..).map(|n| {
        case(
            Kind {
                pairs: (7, 9),
                ..KIND
            },
            n,
        )
    });
    let found = case.filter_map(|case| Some((fit(&case.problem()).ok()?.plan, case)));
    let (plan, case) = found
        .into_iter()
        .find(|(plan, _)| plan.turn_pairs() > 5)
        .unwrap();
    let problem = case.problem();
    let begun = Begun::of(&plan, 3);
    let measures = measure(&problem, &plan);
    assert_eq!(certify_rest(&problem, &begun, &plan, &measures), []);
    let worked = Begun {
        front: FlankPlan {
            moves: vec![Move::new(9, 0), Move::new(9, 0)],
            ..begun.front.clone()
        },
        ..begun.clone()
    };
    let crown = begun.counted(
        plan.crown.stitches + Stitches(1),
        plan.base(),
        plan.front.picked_up(),
        plan.back.picked_up(),
    );
    let base = Begun {
        base_back: begun.base_back + Stitches(1),
        ..begun.clone()
    };
    let flank = begun
        .corrected(Correction {
            front: 1,
            ..Correction::default()
        })
        .unwrap();
    for other in [worked, crown, base, flank] {
        assert_ne!(
            certify_rest(&problem, &other, &plan, &measures),
            [],
            "{other:?}"
        );
    }
}
