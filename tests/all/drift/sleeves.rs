//! The sleeve planned four ways, and the table over -6 to +6 %, against arithmetic done here and
//! against published pairs of swatches.

use crate::common::drift::{Swatches, lesson, read};
use approx::assert_relative_eq;
use capwright::convert::GaugeSource;
use capwright::convert::convert;
use capwright::convert::drift::{DRIFTS_PCT, PlannedSleeve, SizeDrift, SleevePart, Taken};
use capwright::plan::CapPlan;

/// Flat and round of the published pairs (This Is Knit, 25 Mar 2011: 22 and 23 stitches on 3.75 mm,
/// 21 and 22 on 4 mm needles); the rows are made up.
const PAIRS: [(f64, f64); 2] = [(22.0, 23.0), (21.0, 22.0)];

fn size(swatches: &Swatches<'_>) -> SizeDrift {
    lesson(swatches).sizes.remove(0)
}

fn pair(flat: &str, round: &str) -> SizeDrift {
    size(&Swatches {
        flat: Some(flat),
        round: Some(round),
        ..Swatches::default()
    })
}

fn of(size: &SizeDrift, taken: Taken) -> &PlannedSleeve {
    size.sleeves.iter().find(|s| s.taken == taken).unwrap()
}

/// Area by the formula of the model, from the moves alone: every turn pair is two rows as wide as
/// the stitches worked so far.
fn area_cm2(plan: &CapPlan, stitches: f64, rows: f64) -> f64 {
    let (s, r) = (10.0 / stitches, 10.0 / rows);
    let mut width = f64::from(plan.crown.stitches.count());
    let edge = |m: &capwright::plan::Move| {
        let across = f64::from(m.take - m.drop) * s;
        (across * across + 4.0 * r * r).sqrt()
    };
    // The picked-up row lies over the crown, beside the first pair and along every move.
    let mut area = width * s * 2.0 * r + r * width * s + 2.0 * r * 2.0 * r;
    for (front, back) in plan.front.moves.iter().zip(&plan.back.moves) {
        let widened = front.take - front.drop + back.take - back.drop;
        width += f64::from(widened);
        area += width * s * 2.0 * r + r * (edge(front) + edge(back));
    }
    area
}

/// A sleeve of 13 in by the flat swatch is 12.43 in round at 23 against 22 stitches: 13 x 22/23.
#[test]
fn published_pairs_make_the_join_jump_by_their_ratio() {
    assert_relative_eq!(13.0 * 22.0 / 23.0, 12.43, epsilon = 0.005);
    for (flat, round) in PAIRS {
        let size = pair(
            &format!("stitches = {flat}\nrows = 30"),
            &format!("stitches = {round}\nrows = 31"),
        );
        for sleeve in &size.sleeves {
            let knitted = &sleeve.knitted;
            // A stitch for a stitch the tube is so much narrower; what is made at the join takes it away.
            let cap = &sleeve.plan.cap;
            let stitches = cap.upper_arm().as_f64() / cap.cap_end().as_f64();
            assert_relative_eq!(
                knitted.upper_arm / knitted.join_cap_side,
                flat / round * stitches,
                max_relative = 1e-12
            );
            let jump = knitted.upper_arm - knitted.join_cap_side;
            assert_eq!(knitted.jump(), jump);
        }
    }
}

#[test]
fn every_sleeve_measures_what_its_counts_give_at_the_true_gauges() {
    let size = pair("stitches = 22.5\nrows = 30.5", "stitches = 23.5\nrows = 32");
    assert_eq!(size.sleeves.len(), 5);
    // Joined plainly the whole drift is a jump: 23.5 to 22.5 stitches.
    let plain = of(&size, Taken::PlainJoin);
    assert_eq!(plain.plan.cap.join_change, 0);
    assert_relative_eq!(
        plain.knitted.upper_arm / plain.knitted.join_cap_side,
        22.5 / 23.5,
        max_relative = 1e-12
    );
    for sleeve in &size.sleeves {
        let (plan, knitted, off) = (&sleeve.plan, &sleeve.knitted, &sleeve.off);
        let (tube, stitches) = (plan.tube.as_ref().unwrap(), plan.cap.upper_arm().as_f64());
        let close = |is: f64, wanted: f64| assert_relative_eq!(is, wanted, max_relative = 1e-9);
        close(knitted.upper_arm.to_cm(), stitches * 10.0 / 23.5);
        // What is made at the join is not on the cap's side of it.
        let cap_end = stitches - f64::from(plan.cap.join_change);
        close(knitted.join_cap_side.to_cm(), cap_end * 10.0 / 22.5);
        close(
            knitted.depth.to_cm(),
            (2.0 * f64::from(plan.cap.turn_pairs()) + 1.0) * 10.0 / 30.5,
        );
        close(knitted.area_cm2, area_cm2(&plan.cap, 22.5, 30.5));
        close(
            knitted.cuff.unwrap().to_cm(),
            tube.cuff.as_f64() * 10.0 / 23.5,
        );
        close(
            knitted.tube_length.unwrap().to_cm(),
            (tube.rounds.as_f64() + 1.0) * 10.0 / 32.0,
        );
        // What was wanted: 68 stitches net at 22, 44 cm, 42 stitches net at 22.
        close(
            off.upper_arm.to_cm() + 680.0 / 22.0,
            knitted.upper_arm.to_cm(),
        );
        close(
            off.tube_length.unwrap().to_cm() + 44.0,
            knitted.tube_length.unwrap().to_cm(),
        );
        close(
            off.cuff.unwrap().to_cm() + 420.0 / 22.0,
            knitted.cuff.unwrap().to_cm(),
        );
    }
}

/// A plan with one gauge for everything is what `convert` gives to a knitter who has no drift.
#[test]
fn the_wrong_plans_are_those_of_knitters_without_drift() {
    let (flat, round) = ("stitches = 22.5\nrows = 30.5", "stitches = 23.5\nrows = 32");
    let size = pair(flat, round);
    let converted = |flat: &str, round: &str| {
        let swatches = Swatches {
            flat: Some(flat),
            round: Some(round),
            ..Swatches::default()
        };
        convert(&read(&swatches), None).unwrap().sizes.remove(0)
    };
    let right = of(&size, Taken::EachItsOwn);
    for (taken, planned) in [
        (Taken::EachItsOwn, converted(flat, round)),
        (Taken::OneForAll(GaugeSource::Flat), converted(flat, flat)),
        (
            Taken::OneForAll(GaugeSource::Round),
            converted(round, round),
        ),
        (
            Taken::OneForAll(GaugeSource::Pattern),
            converted("stitches = 22\nrows = 30", "stitches = 22\nrows = 30"),
        ),
    ] {
        let sleeve = of(&size, taken);
        assert_eq!(sleeve.plan.cap, planned.fit.plan, "{taken:?}");
        assert_eq!(sleeve.plan.tube, planned.tube, "{taken:?}");
        let count = |plan: &CapPlan| i64::from(plan.upper_arm().count());
        assert_eq!(
            sleeve.off.stitches,
            count(&sleeve.plan.cap) - count(&right.plan.cap)
        );
    }
    assert_eq!(right.off.stitches, 0);
    assert_eq!((right.off.cap_rows, right.off.rounds), (0, Some(0)));
    // 4.4 % tighter rounds: the flat plan has fewer stitches and fewer rounds than it takes.
    let wrong = of(&size, Taken::OneForAll(GaugeSource::Flat));
    assert!(wrong.off.stitches < 0 && wrong.off.rounds.unwrap() < 0);
    assert!(wrong.knitted.upper_arm < right.knitted.upper_arm);
}

/// Widths and lengths go with one over the drift, the area with its square.
#[test]
fn a_table_over_every_drift_follows_its_closed_form() {
    let size = pair("stitches = 22.5\nrows = 30.5", "stitches = 23.5\nrows = 32");
    let [tube, cap] = size.sweeps.as_slice() else {
        panic!("two tables: {:?}", size.sweeps.len());
    };
    assert_eq!((tube.part, tube.assumed), (SleevePart::Tube, false));
    assert_eq!((cap.part, cap.assumed), (SleevePart::Cap, false));
    let none = DRIFTS_PCT.iter().position(|pct| *pct == 0).unwrap();
    for (at, pct) in DRIFTS_PCT.into_iter().enumerate() {
        let ratio = 1.0 + f64::from(pct) / 100.0;
        let close = |is: f64, wanted: f64| assert_relative_eq!(is, wanted, max_relative = 1e-9);
        let (row, planned) = (&tube.rows[at].knitted, &tube.rows[none].knitted);
        close(row.upper_arm.to_cm(), planned.upper_arm.to_cm() / ratio);
        close(
            row.cuff.unwrap().to_cm(),
            planned.cuff.unwrap().to_cm() / ratio,
        );
        close(
            row.tube_length.unwrap().to_cm(),
            planned.tube_length.unwrap().to_cm() / ratio,
        );
        // The right count is the nearest to 68 stitches at 22 per 10 cm, at the drifted gauge.
        let right = (680.0 / 22.0 * 22.5 * ratio / 10.0).round();
        assert_relative_eq!(tube.rows[at].right_stitches.as_f64(), right);
        // The first of the rows to the cuff is the join's.
        let right = (44.0 * 30.5 * ratio / 10.0).round() - 1.0;
        assert_relative_eq!(tube.rows[at].right_rounds.unwrap().as_f64(), right);
        let (row, planned) = (&cap.rows[at].knitted, &cap.rows[none].knitted);
        close(row.depth.to_cm(), planned.depth.to_cm() * ratio);
        close(row.area_cm2, planned.area_cm2 * ratio * ratio);
        assert_eq!(row.upper_arm, planned.upper_arm);
    }
}

#[test]
fn missing_swatches_are_swept_at_the_converted_sleeve() {
    let no_round = size(&Swatches {
        flat: Some("stitches = 22.5\nrows = 30.5"),
        ..Swatches::default()
    });
    let [tube] = no_round.sweeps.as_slice() else {
        panic!("one table");
    };
    assert_eq!((tube.part, tube.assumed), (SleevePart::Tube, true));
    assert_relative_eq!(tube.planned_at.stitches_per_10cm(), 22.0);
    assert_eq!(
        tube.stitches,
        of(&no_round, Taken::EachItsOwn).plan.cap.upper_arm()
    );
    let no_flat = size(&Swatches {
        round: Some("stitches = 23.5\nrows = 32"),
        ..Swatches::default()
    });
    let [cap] = no_flat.sweeps.as_slice() else {
        panic!("one table");
    };
    assert_eq!((cap.part, cap.assumed), (SleevePart::Cap, true));
    assert_relative_eq!(cap.planned_at.rows_per_10cm(), 32.0);
    // The round gauge is right for both, as far as is known: only the pattern's is another plan.
    let taken: Vec<Taken> = no_flat.sleeves.iter().map(|s| s.taken).collect();
    assert_eq!(
        taken,
        [Taken::EachItsOwn, Taken::OneForAll(GaugeSource::Pattern)]
    );
}
