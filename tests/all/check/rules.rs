//! The published rules and worked examples of caps: figures S1-01 to S1-21 and E1, E2.

use crate::common::{RowSpec, SEAM, example_cap, gauge, ledger};
use capwright::adapt::{
    cap_depth_by_chest, cap_depth_by_cylinder, cap_depth_by_top, cap_depth_by_top_and_chest,
    cap_depths, chest_allowance,
};
use capwright::convert::flat_loops;
use capwright::measure::{Gauge, Length, Rows, Stitches, nearest_whole};
use capwright::outline::{Cap, Seam};
use capwright::plan::Repeat;

fn inches(inches: f64) -> Length {
    Length::inches(inches)
}

fn per_inch(stitches: f64, rows: f64) -> Gauge {
    gauge(stitches * 10.0 / 2.54, rows * 10.0 / 2.54)
}

fn close(found: Length, wanted_inches: f64) {
    approx::assert_abs_diff_eq!(found.to_inches(), wanted_inches, epsilon = 1e-9);
}

/// S1-05 to S1-07: Slipped Stitches, Mar 2014, and R. Hunter, 2011, as published.
#[test]
fn the_allowance_goes_by_chest() {
    for (chest, allowance) in [
        (30.0, 2.0),
        (31.0, 3.0),
        (40.0, 3.0),
        (48.0, 3.0),
        (50.0, 4.0),
    ] {
        close(chest_allowance(inches(chest)), allowance);
    }
}

/// S1-01 (published: Slipped Stitches, 2014), S1-08 (rule published by R. Hunter, 2011), S1-09 and
/// S1-10 (formula published by the 30-day sweater course, day 24).
#[test]
fn depths_by_the_published_rules() {
    close(
        cap_depth_by_top_and_chest(inches(8.5), inches(3.0), inches(40.0)),
        5.5,
    );
    close(cap_depth_by_chest(inches(8.0), inches(36.0)), 5.0);
    close(cap_depth_by_top(inches(8.0), inches(2.0)), 5.5);
    close(cap_depth_by_top(inches(8.0), inches(3.0)), 5.0);
}

/// Rule 1.6 equals rules 1.7 and 1.8 for chests of 31 to 48 in only when the top is 3 in wide
/// (derived); the range shows the difference, and without a chest there is one rule.
#[test]
fn the_rules_differ_by_the_top() {
    let (low, high) = cap_depths(inches(8.0), inches(3.0), Some(inches(36.0)));
    close(low, 5.0);
    close(high, 5.0);
    let (low, high) = cap_depths(inches(8.0), inches(2.0), Some(inches(36.0)));
    close(low, 5.0);
    close(high, 5.5);
    let (low, high) = cap_depths(inches(8.0), inches(2.0), None);
    close(low, 5.5);
    close(high, 5.5);
    let (low, high) = cap_depths(inches(9.0), inches(3.0), Some(inches(52.0)));
    close(low, 5.0);
    close(high, 6.0);
}

/// S1-16: the common rule of two thirds; 5 of 8 in and 5.5 of 8.5 in are 0.625 and 0.647.
#[test]
fn the_rules_are_about_two_thirds() {
    for (depth, expected) in [(8.0, 0.625), (8.5, 0.647)] {
        let share = cap_depth_by_chest(inches(depth), inches(36.0)) / inches(depth);
        approx::assert_abs_diff_eq!(share, expected, epsilon = 5e-4);
        assert!((share - 2.0 / 3.0).abs() < 0.07, "{depth}: {share}");
    }
}

/// C1 to C4: a tube of the upper arm's girth cut slantwise to the armhole's (method: S. Partlan,
/// 2013; the figures derived from the ellipse), in inches to 0.005.
#[test]
fn depth_of_a_slanting_cut() {
    for (upper_arm, armhole, depth) in [
        (13.0, 17.0, 5.075),
        (13.0, 16.0, 4.296),
        (14.0, 18.0, 5.233),
        (12.0, 16.0, 4.912),
    ] {
        let found = cap_depth_by_cylinder(inches(upper_arm), inches(armhole)).unwrap();
        approx::assert_abs_diff_eq!(found.to_inches(), depth, epsilon = 0.005);
    }
    assert_eq!(cap_depth_by_cylinder(inches(13.0), inches(13.0)), None);
    assert_eq!(cap_depth_by_cylinder(inches(13.0), inches(11.0)), None);
    assert_eq!(cap_depth_by_cylinder(Length::ZERO, inches(11.0)), None);
    // A tube of next to no girth would be cut lengthwise: half the armhole's girth.
    let thin = cap_depth_by_cylinder(inches(0.001), inches(17.0)).unwrap();
    approx::assert_abs_diff_eq!(thin.to_inches(), 8.5, epsilon = 0.01);
}

/// E1 (Slipped Stitches, 2014): S1-02, S1-03 and S1-04. 66 sts; 5.5 in at 6.5 rows to the inch are
/// 36 rows; 10 + 8 + 16 sts are bound off, 32 go in between, 16 a side.
#[test]
fn worked_example_e1() {
    let gauge = per_inch(5.25, 6.5);
    assert_eq!(nearest_whole(inches(5.5) / gauge.row_height()), 36);
    let mut rows: Vec<RowSpec> = vec![(5, 0, 0); 2];
    // 36 rows: two of the underarm, four of the small steps at the top, 30 in the middle with 16
    // decreases a side: every other row 14 times, then two more.
    rows.extend([(0, 1, 1), (0, 0, 0)].repeat(14));
    rows.extend([(0, 1, 1); 2]);
    rows.extend([(2, 0, 0); 4]);
    assert_eq!(rows.len(), 36);
    let ledger = ledger(66, &rows);
    let middle: Stitches = ledger
        .fabric()
        .iter()
        .map(|row| row.decrease_start + row.decrease_end)
        .sum();
    assert_eq!(middle, Stitches(32));
    let cap = Cap::from_ledger(&ledger, gauge, SEAM).unwrap();
    assert_eq!(cap.final_stitches(), Stitches(16));
    assert_eq!(cap.rows(), Rows(36));
    // 36 rows at 6.5 to the inch (arithmetic); the example says 5.5 in before rounding.
    close(cap.depth(), 36.0 / 6.5);
    // 16 sts are 3 in at the gauge the example implies, seams included.
    let seamless = Seam {
        stitches: Stitches(0),
        rows: Rows(0),
    };
    let cap = Cap::from_ledger(&ledger, gauge, seamless).unwrap();
    approx::assert_abs_diff_eq!(cap.top().to_inches(), 3.0, epsilon = 0.05);
}

/// E2 (Knitting Unplugged, 2016), S1-19 and S1-20: at 5.5 sts to the inch 9 in are 50 sts and 13 in
/// are 72, to the nearest even number.
#[test]
fn worked_example_e2() {
    let gauge = per_inch(5.5, 7.0);
    let even = Repeat {
        multiple: 2,
        plus: 0,
    };
    for (width, stitches) in [(9.0, 50), (13.0, 72)] {
        let exact = inches(width) / gauge.stitch_width();
        let nearest = (1..200)
            .map(Stitches)
            .filter(|n| even.allows(*n))
            .min_by(|a, b| {
                (a.as_f64() - exact)
                    .abs()
                    .total_cmp(&(b.as_f64() - exact).abs())
            });
        assert_eq!(nearest, Some(Stitches(stitches)));
    }
    // 5.5 in tall are 38.5 rows, the top of 3 in is 16.5 sts.
    approx::assert_abs_diff_eq!(inches(5.5) / gauge.row_height(), 38.5, epsilon = 1e-9);
    approx::assert_abs_diff_eq!(inches(3.0) / gauge.stitch_width(), 16.5, epsilon = 1e-9);
}

/// S1-14 (Interweave, 2013): what is sewn to one side of the armhole is one side of the cap and
/// half of its top. S1-18: a seamed sleeve of N stitches is N - 2 wide.
#[test]
fn what_is_sewn_to_what() {
    let cap = example_cap();
    let sewn = cap.curve() + cap.top() / 2.0;
    assert_eq!(sewn, cap.edge_above_underarm());
    assert_eq!(cap.upper_arm_stitches(), Stitches(70 - 2));
    approx::assert_abs_diff_eq!(cap.upper_arm().to_cm(), 68.0 * 10.0 / 22.0, epsilon = 1e-9);
}

/// The Knitter, 17 Sep 2020 (E3): five sizes; rows before the last cast-off and stitch-rows as
/// counted from the published lines, so areas in stitch-rows without any gauge.
#[test]
fn areas_of_a_published_cap_in_five_sizes() {
    let sizes = [
        (101, 5, 11, 44, 2689),
        (107, 7, 12, 46, 2861),
        (113, 9, 13, 48, 3037),
        (119, 11, 14, 50, 3217),
        (125, 13, 15, 52, 3401),
    ];
    let seamless = Seam {
        stitches: Stitches(0),
        rows: Rows(0),
    };
    for (start, first, alternate, rows, stitch_rows) in sizes {
        let mut specs: Vec<RowSpec> = vec![(first, 0, 0); 2];
        specs.extend([(0, 1, 1); 9]);
        specs.extend([(0, 0, 0), (0, 1, 1)].repeat(alternate));
        specs.extend([(0, 1, 1); 7]);
        specs.extend([(4, 0, 0); 4]);
        let gauge = gauge(20.0, 28.0);
        let ledger = ledger(start, &specs);
        let cap = Cap::from_ledger(&ledger, gauge, seamless).unwrap();
        assert_eq!(cap.rows(), Rows(rows));
        // Every loop: the stitches left on the needle after each row, those bound off in it (knitted
        // first), and the last 21, cast off in a row of their own.
        let bound_off = 2 * first + 4 * 4 + 21;
        assert_eq!(flat_loops(&ledger), Stitches(stitch_rows + bound_off));
        assert_eq!(cap.final_stitches(), Stitches(21));
        // Row 1 counts the width after both underarm bind-offs (trade convention): one bind-off
        // less than is on the needle after it.
        let per_cm2 = 2.0 * 2.8;
        let counted = cap.area_cm2() * per_cm2 + f64::from(first);
        approx::assert_abs_diff_eq!(counted, f64::from(stitch_rows), epsilon = 1e-6);
        assert_eq!(cap.jumps(), []);
    }
}
