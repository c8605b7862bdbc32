//! Every kind of fault has its own words in the certificate: each plan here has one fault, and that one must be named.
//! What is wrong with each is worked out by hand from the model (design, pick-up rules: common practice, no source).

use crate::common::{armhole, example_cap, example_problem, gauge};
use crate::fit_oracle::cases::{Kind, case};
use capwright::diagnostic::Diagnostic;
use capwright::fit::{Begun, Fit, Measures, Problem, certify, certify_rest, fit, measure};
use capwright::measure::{Length, Rows, Stitches};
use capwright::plan::{CapPlan, Move, Zone};

fn words(found: Vec<Diagnostic>) -> String {
    found.into_iter().map(|d| d.message + "\n").collect()
}

/// The faults of a plan that was changed so, its measures taken again.
fn faults(problem: &Problem<'_>, good: &Fit, change: impl Fn(&mut CapPlan)) -> String {
    let mut plan = good.plan.clone();
    change(&mut plan);
    assert_ne!(plan, good.plan);
    words(certify(problem, &plan, &measure(problem, &plan)))
}

#[test]
fn each_fault_of_a_cap_is_named() {
    let cap = example_cap();
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = example_problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    assert_eq!(certify(&problem, &good.plan, &good.measures), []);

    let said = faults(&problem, &good, |plan| {
        plan.front.moves.push(Move::new(1, 0));
    });
    assert!(said.contains("different numbers of moves"), "{said}");

    let said = faults(&problem, &good, |plan| plan.front.zones[0].rows += Rows(1));
    assert!(said.contains("front flank's pick-up covers"), "{said}");

    // Four sections where three are the most.
    let said = faults(&problem, &good, |plan| {
        let part = Zone {
            stitches: Stitches(3),
            rows: Rows(4),
        };
        plan.back.zones = vec![part; 4];
    });
    assert!(
        said.contains("back flank's pick-up has 4 sections"),
        "{said}"
    );

    // One stitch more at the front and one at the back: two in all, and none is allowed.
    let said = faults(&problem, &good, |plan| {
        plan.base_front += Stitches(1);
        plan.base_back += Stitches(1);
        plan.join_change -= 2;
    });
    assert!(
        said.contains("The base differs from the underarm by 1 at the front and 1 at the back"),
        "{said}"
    );

    // Five stitches fewer than the first pair is wide, where four are allowed.
    let wide_cm = 2.0 * problem.targets_cm(good.plan.turn_pairs())[0];
    let near = (wide_cm / (10.0 / 22.0)).round() as u32;
    let few = near.checked_sub(5).filter(|few| *few >= 4).unwrap();
    let said = faults(&problem, &good, |plan| plan.crown.stitches = Stitches(few));
    assert!(said.contains("the cap's top has"), "{said}");

    // Two pairs are four rows, of which three may be missing at the most; the same for two too many.
    let said = faults(&problem, &good, |plan| {
        for flank in [&mut plan.front, &mut plan.back] {
            flank.moves.truncate(flank.moves.len() - 2);
        }
    });
    assert!(said.contains("rows off"), "{said}");
    let said = faults(&problem, &good, |plan| {
        for flank in [&mut plan.front, &mut plan.back] {
            flank.moves.extend([Move::new(1, 0); 3]);
        }
    });
    assert!(said.contains("rows off"), "{said}");
}

/// A claim about one side is held against that side.
#[test]
fn what_is_claimed_of_either_side_is_looked_at() {
    let cap = example_cap();
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let problem = example_problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    let longer = Length::cm(0.5);
    let mut claimed = good.measures.clone();
    claimed.front.edge = claimed.front.edge + longer;
    let said = words(certify(&problem, &good.plan, &claimed));
    assert!(said.contains("The front edge is claimed to be"), "{said}");
    assert!(!said.contains("The back edge"), "{said}");
    let mut claimed = good.measures.clone();
    claimed.back.edge = claimed.back.edge + longer;
    let said = words(certify(&problem, &good.plan, &claimed));
    assert!(said.contains("The back edge is claimed to be"), "{said}");
    assert!(!said.contains("The front edge"), "{said}");
}

/// A pick-up exactly as far apart as is allowed is allowed.
#[test]
fn the_limit_of_the_gap_itself_is_allowed() {
    let cap = example_cap();
    let edge = armhole(18.2, 4.0 / 2.2, 18.2, gauge(22.0, 30.0));
    let mut problem = example_problem(&cap, &edge);
    let good = fit(&problem).unwrap();
    let zones = good.plan.front.zones.iter().chain(&good.plan.back.zones);
    let gaps = zones.map(|zone| zone.rows.as_f64() / zone.stitches.as_f64());
    let widest = gaps.fold(0.0, f64::max);
    problem.wishes.gap_limit = widest;
    assert_eq!(certify(&problem, &good.plan, &good.measures), []);
    problem.wishes.gap_limit = widest - 0.01;
    let said = words(certify(&problem, &good.plan, &good.measures));
    assert!(said.contains("rows apart, outside 1 to"), "{said}");
}

const UNLIKE: Kind = Kind {
    pairs: (7, 9),
    moves: (3, 5),
    alike: false,
    fixed_crown: false,
    gap: 2.4,
};

#[test]
fn each_fault_of_a_rest_is_named() {
    let found = (0..).filter_map(|n| {
        let case = case(UNLIKE, n);
        let plan = fit(&case.problem()).ok()?.plan;
        (plan.turn_pairs() > 5).then_some((plan, case))
    });
    let (plan, case) = found.into_iter().next().unwrap();
    let problem = case.problem();
    let begun = Begun::of(&plan, 3);
    let measures = measure(&problem, &plan);
    assert_eq!(certify_rest(&problem, &begun, &plan, &measures), []);

    // The last move takes as many stitches, by a move that nobody allows.
    let mut other = plan.clone();
    let last = other.back.moves.last_mut().unwrap();
    *last = Move::new(last.take + 9, last.drop + 9);
    let said = words(certify_rest(
        &problem,
        &begun,
        &other,
        &measure(&problem, &other),
    ));
    assert!(said.contains("back flank uses the move"), "{said}");

    // Of the right plan a wrong measure is claimed.
    let claimed = Measures {
        area_cm2: measures.area_cm2 + 1.0,
        ..measures
    };
    let said = words(certify_rest(&problem, &begun, &plan, &claimed));
    assert!(said.contains("The area is claimed to be"), "{said}");
}
