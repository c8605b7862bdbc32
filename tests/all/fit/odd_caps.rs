//! Old sleeves that are not a plain bell, from the lines to a pattern that knits back.
//!
//! Outside check: the old area is the sum of its rows' rectangles, worked by hand from the counts that
//! the lines state; the new cap keeps it. The caps are invented.

use capwright::case::read_case;
use capwright::convert::{Conversion, SizeConversion, convert};

/// A case in centimetres: gauge, stitches before the cap, its lines, and the armhole's edge, underarm
/// and depth.
struct Odd {
    gauge: (f64, f64),
    stitches: u32,
    cap: &'static str,
    armhole: (f64, f64, f64),
}

impl Odd {
    fn text(&self) -> String {
        let (st, rows) = self.gauge;
        let (edge, underarm, depth) = self.armhole;
        format!(
            "units = \"cm\"\n[gauge.pattern]\nstitches = {st}\nrows = {rows}\n[gauge.flat]\nstitches = {st}\nrows = {rows}\n\
             [gauge.round]\nstitches = {st}\nrows = {rows}\n[sleeve]\nstitches = {}\ncap = \"\"\"\n{}\n\"\"\"\nseam_stitches = 1\n\
             [armhole]\nedge = {edge}\nunderarm = {underarm}\ndepth = {depth}\n",
            self.stitches, self.cap
        )
    }

    fn convert(&self) -> Conversion {
        let (case, said) = read_case(&self.text());
        convert(&case.unwrap_or_else(|| panic!("{said:?}")), None)
            .unwrap_or_else(|e| panic!("{e:#?}"))
    }

    fn refused(&self) -> (String, String) {
        let found = convert(&read_case(&self.text()).0.unwrap(), None).unwrap_err();
        let error = found
            .iter()
            .find(|f| f.level == capwright::diagnostic::Level::Error)
            .unwrap();
        (error.code.id.to_owned(), error.advice().to_owned())
    }

    /// Area of rows with these counts, net of one seam stitch an edge.
    fn area_cm2(&self, counts: impl IntoIterator<Item = u32>) -> f64 {
        let stitches: u32 = counts.into_iter().map(|n| n - 2).sum();
        f64::from(stitches) * (10.0 / self.gauge.0) * (10.0 / self.gauge.1)
    }
}

/// The old area is the one worked by hand, the new one is within `pct` of it, the depth within a row.
fn keeps(conversion: &Conversion, by_hand_cm2: f64, pct: f64) -> &SizeConversion {
    let size = conversion.sizes.first().unwrap();
    approx::assert_abs_diff_eq!(size.old.cap.area_cm2(), by_hand_cm2, epsilon = 1e-9);
    let new = size.fit.measures.area_cm2;
    let off = 100.0 * (new / by_hand_cm2 - 1.0);
    assert!(off.abs() <= pct, "{off:.2} % off {by_hand_cm2}");
    let row = size.gauge.cap.row_height().to_cm();
    let depth = size.fit.measures.depth_error.to_cm();
    assert!(depth.abs() <= row * 1.000_001, "depth off by {depth} cm");
    size
}

/// Counts from `from` down to `to` by `step`.
fn down(from: u32, to: u32, step: u32) -> Vec<u32> {
    (0..=(from - to) / step).map(|i| from - i * step).collect()
}

#[test]
fn a_cap_of_steps_alone() {
    let odd = Odd {
        gauge: (20.0, 28.0),
        stitches: 68,
        cap: "Bind off 5 sts at the beginning of the next 2 rows (58 sts). Bind off 3 sts at the beginning of \
              the next 12 rows (22 sts). Bind off remaining 22 sts.",
        armhole: (12.5, 2.2, 12.0),
    };
    let done = odd.convert();
    keeps(
        &done,
        odd.area_cm2([58, 58].into_iter().chain(down(55, 22, 3))),
        1.0,
    );
}

#[test]
fn a_shallow_cap_with_moves_as_steep_as_ten() {
    let odd = Odd {
        gauge: (20.0, 28.0),
        stitches: 86,
        cap: "Bind off 4 sts at the beginning of the next 2 rows (78 sts). Bind off 10 sts at the beginning of \
              the next 6 rows (18 sts). Bind off remaining 18 sts.",
        armhole: (22.0, 2.0, 22.0),
    };
    let done = odd.convert();
    let size = keeps(
        &done,
        odd.area_cm2([78, 78].into_iter().chain(down(68, 18, 10))),
        3.0,
    );
    let steepest = size.fit.plan.front.moves.iter().map(|m| m.take).max();
    assert!(steepest >= Some(8), "{steepest:?}");
}

#[test]
fn a_square_armhole_under_a_plain_cap() {
    // The body's underarm is bound off square, 7 cm a side; the cap is bound off as far.
    let odd = Odd {
        gauge: (20.0, 28.0),
        stitches: 84,
        cap: "Bind off 14 sts at the beginning of the next 2 rows (56 sts). Decrease 1 st each end of the next \
              row, then every other row 11 times (32 sts). Work 1 row. Bind off 3 sts at the beginning of the next 4 rows (20 sts). Bind off \
              remaining 20 sts.",
        armhole: (19.0, 6.5, 18.5),
    };
    let done = odd.convert();
    let slow = (0..12).flat_map(|i| [54 - 2 * i, 54 - 2 * i]);
    let counts = [56, 56].into_iter().chain(slow).chain(down(29, 20, 3));
    keeps(&done, odd.area_cm2(counts), 1.0);
    let base = done.sizes.first().unwrap().fit.plan.base().count();
    assert_eq!(base, 26, "two underarms of 6.5 cm at 20 stitches in 10 cm");
}

#[test]
fn a_puffed_cap_is_named_and_its_gathers_are_counted() {
    let odd = Odd {
        gauge: (20.0, 28.0),
        stitches: 84,
        cap: "Bind off 5 sts at the beginning of the next 2 rows (74 sts). Decrease 1 st each end of every row 8 \
              times (58 sts). Work even 24 rows. Bind off 4 sts at the beginning of the next 4 rows (42 sts). \
              Bind off remaining 42 sts.",
        armhole: (20.5, 2.2, 19.0),
    };
    let done = odd.convert();
    let counts = [74, 74]
        .into_iter()
        .chain(down(72, 58, 2))
        .chain([58; 24])
        .chain(down(54, 42, 4));
    let size = keeps(&done, odd.area_cm2(counts), 1.0);
    let found = size
        .findings
        .iter()
        .find(|f| f.code.id == "puffed-crown")
        .unwrap();
    // Front and back are alike: twice the excess, in stitches of 0.5 cm.
    let side = &size.fit.measures.front;
    let excess = 2.0 * (side.edge.to_cm() - side.armhole.to_cm()) / 0.5;
    let said = format!("{} stitches in all", excess.round());
    assert!(found.message.contains(&said), "{said}: {}", found.message);
}

#[test]
fn a_cap_worked_from_the_top_is_the_same_cap() {
    let up = Odd {
        gauge: (22.0, 30.0),
        stitches: 54,
        cap: "Bind off 3 sts at the beginning of the next 2 rows (48 sts). Decrease 1 st each end of every row 4 \
              times (40 sts). Decrease 1 st each end of every 2nd row 9 times (22 sts). Decrease 1 st each end of \
              every row 4 times (14 sts). Bind off remaining 14 sts.",
        armhole: (13.5, 1.4, 13.0),
    };
    let down = Odd {
        stitches: 14,
        cap: "Increase 1 st each end of every row 4 times (22 sts). Increase 1 st each end of every 2nd row 9 \
              times (40 sts). Increase 1 st each end of every row 4 times (48 sts). Cast on 3 sts at the \
              beginning of the next 2 rows (54 sts).",
        ..up
    };
    let (up, down) = (up.convert(), down.convert());
    let (up, down) = (up.sizes.first().unwrap(), down.sizes.first().unwrap());
    assert_eq!(
        up.old.cap.upper_arm_stitches(),
        down.old.cap.upper_arm_stitches()
    );
    // One row of the slow decreases may lie above or below its plain row.
    assert!(
        up.old
            .cap
            .rows()
            .count()
            .abs_diff(down.old.cap.rows().count())
            <= 1
    );
    let (a, b) = (up.old.cap.area_cm2(), down.old.cap.area_cm2());
    assert!((a / b - 1.0).abs() < 0.04, "{a} {b}");
    let off = down.fit.measures.area_error_pct;
    assert!(off.abs() < 1.5, "{off}");
}

#[test]
fn a_childs_cap_of_twelve_rows() {
    let odd = Odd {
        gauge: (22.0, 30.0),
        stitches: 46,
        cap: "Bind off 3 sts at the beginning of the next 2 rows (40 sts). Decrease 1 st each end of the next 6 \
              rows (28 sts). Bind off 3 sts at the beginning of the next 4 rows (16 sts). Bind off remaining 16 \
              sts.",
        armhole: (10.4, 1.2, 10.0),
    };
    let counts = [40, 40]
        .into_iter()
        .chain(down(38, 28, 2))
        .chain(down(25, 16, 3));
    keeps(&odd.convert(), odd.area_cm2(counts), 1.5);
}

#[test]
fn a_bulky_cap_of_ten_rows() {
    let odd = Odd {
        gauge: (9.0, 12.0),
        stitches: 30,
        cap: "Bind off 2 sts at the beginning of the next 2 rows (26 sts). Decrease 1 st each end of the next 6 \
              rows (14 sts). Bind off 2 sts at the beginning of the next 2 rows (10 sts). Bind off remaining 10 \
              sts.",
        armhole: (14.5, 2.0, 14.0),
    };
    let counts = [26, 26].into_iter().chain(down(24, 14, 2)).chain([12, 10]);
    keeps(&odd.convert(), odd.area_cm2(counts), 2.0);
}

#[test]
fn a_fingering_cap_of_eighty_rows() {
    let odd = Odd {
        gauge: (32.0, 44.0),
        stitches: 124,
        cap: "Bind off 8 sts at the beginning of the next 2 rows (108 sts). Decrease 1 st each end of the next 6 \
              rows (96 sts). Decrease 1 st each end of the next row, then every other row 31 times (32 sts). Work \
              1 row. Bind off 2 sts at the beginning of the next 8 rows (16 sts). Bind off remaining 16 sts.",
        armhole: (22.5, 2.4, 21.0),
    };
    let slow = (0..32).flat_map(|i| [94 - 2 * i, 94 - 2 * i]);
    let counts: Vec<u32> = [108, 108]
        .into_iter()
        .chain(down(106, 96, 2))
        .chain(slow)
        .chain(down(30, 16, 2))
        .collect();
    assert_eq!(counts.len(), 80);
    let done = odd.convert();
    let size = keeps(&done, odd.area_cm2(counts), 0.6);
    // Eighty rows are 39 pairs and a half with the picked-up row: a tie.
    assert!((39..=40).contains(&size.fit.plan.turn_pairs()));
}

#[test]
fn what_cannot_be_a_short_row_cap_is_refused_with_a_way_out() {
    let straight = Odd {
        gauge: (20.0, 28.0),
        stitches: 70,
        cap: "Work even 12 rows. Bind off remaining 70 sts.",
        armhole: (17.0, 4.3, 17.0),
    };
    let (code, next) = straight.refused();
    assert_eq!(code, "crown-and-base-too-wide");
    assert!(next.contains("square armhole"), "{next}");
    let flat = Odd {
        stitches: 120,
        cap: "Bind off 17 sts at the beginning of the next 6 rows (18 sts). Bind off remaining 18 sts.",
        armhole: (30.0, 0.5, 30.0),
        ..straight
    };
    let (code, next) = flat.refused();
    assert_eq!(code, "cap-too-shallow-for-arm");
    // No move is steep enough; another cap is the way out.
    assert!(next.contains("`[adapt]` with `ease = 0`"), "{next}");
}
