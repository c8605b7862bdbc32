//! Armholes from lines: what is underarm, armhole, neck and shoulder; and from measures.

use crate::common::{SEAM, armhole, gauge, ledger};
use capwright::diagnostic::{Diagnostic, Level, worst};
use capwright::measure::{Length, Rows, Side, Stitches};
use capwright::outline::{ArmholeEdge, Seam, armhole_from_ledger};
use capwright::pattern::{Context, Ledger, Piece, read};

/// The ledger of a body piece's lines at 22 stitches and 30 rows; nothing in them may be an error.
fn lines(stitches: u32, first_row: Side, text: &str) -> Ledger {
    let mut context = Context::new(vec!["M".to_owned()], vec![Stitches(stitches)]);
    context.piece = Piece::Body;
    context.first_row = first_row;
    context.row_heights = Some(vec![gauge(22.0, 30.0).row_height()]);
    let (reading, said) = read(text, &context);
    assert!(worst(&said) != Some(Level::Error), "{text}: {said:?}");
    reading.sizes[0].ledger.clone()
}

fn edge(stitches: u32, first_row: Side, text: &str) -> Result<ArmholeEdge, Diagnostic> {
    armhole_from_ledger(&lines(stitches, first_row, text), gauge(22.0, 30.0), SEAM)
}

/// What an armhole should come to, worked out by hand from its lines: rows, net underarm, and on
/// which rows how many stitches go (or, negative, come) at one edge.
struct Expected {
    rows: u32,
    underarm: u32,
    shaping: Vec<(u32, f64)>,
}

impl Expected {
    /// The broken line through the middles of the row pairs, by brute force: position after every
    /// row, mean of two, corner to corner.
    fn edge_cm(&self) -> f64 {
        let (s, r) = (10.0 / 22.0, 10.0 / 30.0);
        let after = |row: u32| -> f64 {
            let until = self.shaping.iter().filter(|(at, _)| *at <= row);
            until.map(|(_, stitches)| stitches).sum::<f64>() * s
        };
        let mut points = vec![(0.0, 0.0)];
        let mut row = 1;
        while row < self.rows {
            points.push((
                f64::midpoint(after(row), after(row + 1)),
                f64::from(row) * r,
            ));
            row += 2;
        }
        if row == self.rows {
            points.push((after(row), (f64::from(row) - 0.5) * r));
        }
        points.push((after(self.rows), f64::from(self.rows) * r));
        let steps = points.windows(2).map(|pair| {
            let (x, y) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            (x * x + y * y).sqrt()
        });
        steps.sum()
    }

    fn hold(&self, edge: &ArmholeEdge, what: &str) {
        let depth = f64::from(self.rows) / 3.0;
        approx::assert_abs_diff_eq!(edge.depth().to_cm(), depth, epsilon = 1e-9);
        assert_eq!(edge.underarm(), Stitches(self.underarm), "{what}");
        let (found, wanted) = (edge.edge().to_cm(), self.edge_cm());
        assert!((found - wanted).abs() < 1e-9, "{what}: {found} {wanted}");
        let sites = edge.sites();
        let all = edge.length_to(sites.as_f64()).to_cm();
        assert!(
            (all - wanted).abs() < 1e-9,
            "{what}: the places add up to {all}"
        );
    }
}

/// One stitch on each of these rows.
fn ones(rows: impl IntoIterator<Item = u32>) -> Vec<(u32, f64)> {
    rows.into_iter().map(|row| (row, 1.0)).collect()
}

#[test]
fn a_back_with_stepped_shoulders() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
        Work even until armhole measures 20 cm, ending with a WS row. Bind off 8 sts at beg of \
        next 4 rows. Bind off rem 30 sts.";
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping: ones((3..=13).step_by(2)),
    };
    let found = edge(84, Side::Rs, text).unwrap();
    expected.hold(&found, "back");
    assert!(found.is_finished());
    assert_eq!(found.sites(), Rows(60));
}

#[test]
fn a_back_in_the_other_words_with_six_shoulder_rows_and_a_holder() {
    let text = "Cast off 6 sts at beg of next 2 rows. Dec 1 st at each end of next and every foll \
        alt row until 66 sts rem. Cont straight until armhole measures 19 cm, ending with a WS \
        row. Cast off 7 sts at beg of next 6 rows. Leave rem 24 sts on a holder.";
    let expected = Expected {
        // 19 cm are 57 rows, one more ends on a WS row.
        rows: 58,
        underarm: 5,
        shaping: ones((3..=13).step_by(2)),
    };
    expected.hold(&edge(90, Side::Rs, text).unwrap(), "cast off");
}

#[test]
fn stepped_bind_offs_above_the_underarm_are_armhole() {
    let text = "Bind off 5 sts at beg of next 2 rows, 3 sts at beg of next 2 rows, 2 sts at beg \
        of next 2 rows. Dec 1 st each end every RS row 4 times. Work even until armhole measures \
        20 cm. Bind off 8 sts at beg of next 4 rows. Bind off rem sts.";
    let found = edge(96, Side::Rs, text).unwrap();
    // At the right edge 3 and 2 go on rows 3 and 5, at the left on rows 4 and 6; their mean.
    let mut shaping = vec![(3, 1.5), (4, 1.5), (5, 1.0), (6, 1.0)];
    shaping.extend(ones((7..=13).step_by(2)));
    assert_eq!(found.stepped_stitches(), Stitches(6));
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping,
    };
    approx::assert_abs_diff_eq!(found.edge().to_cm(), expected.edge_cm(), epsilon = 1e-9);
    approx::assert_abs_diff_eq!(found.depth().to_cm(), 20.0, epsilon = 1e-9);
}

#[test]
fn decreases_up_to_the_shoulder_without_an_even_stretch() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end of every 4th row 10 \
        times. Work 3 rows even. Bind off 8 sts at beg of next 4 rows. Bind off rem sts.";
    let expected = Expected {
        rows: 42,
        underarm: 4,
        shaping: ones((3..=39).step_by(4)),
    };
    expected.hold(&edge(84, Side::Rs, text).unwrap(), "no even stretch");
}

#[test]
fn half_a_front_with_its_neck_at_the_other_edge() {
    let text = "Bind off 5 sts at armhole edge. Dec 1 st at armhole edge every RS row 6 times. \
        Work even until armhole measures 15 cm, ending with a RS row. Bind off 7 sts at neck \
        edge, then dec 1 st at neck edge every row 5 times. Work even until armhole measures 20 \
        cm, ending with a WS row. Bind off 7 sts at armhole edge twice. Bind off rem sts.";
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping: ones((3..=13).step_by(2)),
    };
    expected.hold(&edge(44, Side::Rs, text).unwrap(), "right front");
    // The mirrored piece begins on a WS row, where the same words shape the other edge.
    let mirrored = text.replace("ending with a RS", "ending with a XS");
    let mirrored = mirrored.replace("ending with a WS", "ending with a RS");
    let mirrored = mirrored.replace("ending with a XS", "ending with a WS");
    let mirrored = mirrored.replace("every RS row", "every WS row");
    expected.hold(&edge(44, Side::Ws, &mirrored).unwrap(), "left front");
}

#[test]
fn a_neck_in_three_steps_and_a_shoulder_in_three() {
    let text = "Bind off 5 sts at beg of next row. Dec 1 st at armhole edge on next 3 rows, then \
        every RS row 3 times. Work even until armhole measures 14 cm. Bind off 5 sts at neck edge \
        once, 3 sts once, 2 sts once, then dec 1 st at neck edge every RS row 4 times. Work even \
        until armhole measures 20 cm. Bind off 6 sts at armhole edge every other row 3 times.";
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping: ones([2, 3, 4, 5, 7, 9]),
    };
    expected.hold(&edge(44, Side::Rs, text).unwrap(), "steps");
}

#[test]
fn a_v_neck_beside_the_armhole_is_not_armhole() {
    let text = "Bind off 5 sts at armhole edge. Dec 1 st at armhole edge every RS row 6 times; \
        AT THE SAME TIME dec 1 st at neck edge every 4th row 12 times. Work even until armhole \
        measures 20 cm. Bind off rem sts.";
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping: ones((3..=13).step_by(2)),
    };
    expected.hold(&edge(44, Side::Rs, text).unwrap(), "v-neck");
}

#[test]
fn increases_toward_the_shoulder_are_armhole() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
        Work even until armhole measures 8 cm, ending with a WS row. Inc 1 st each end of next \
        row, then every 8th row 3 times. Work even until armhole measures 20 cm. Bind off 9 sts \
        at beg of next 4 rows. Bind off rem sts.";
    let mut shaping = ones((3..=13).step_by(2));
    shaping.extend([25, 33, 41, 49].map(|row| (row, -1.0)));
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping,
    };
    expected.hold(&edge(84, Side::Rs, text).unwrap(), "increases");
}

#[test]
fn a_shoulder_that_slopes_by_decreases_is_not_armhole() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
        Work even until armhole measures 20 cm, ending with a WS row. Dec 1 st each end every row \
        16 times. Bind off rem sts.";
    let expected = Expected {
        rows: 60,
        underarm: 4,
        shaping: ones((3..=13).step_by(2)),
    };
    expected.hold(&edge(84, Side::Rs, text).unwrap(), "slope");
    // One stitch every eighth row after a long stretch is steep: it stays armhole.
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 3 times. \
        Work 12 rows even. Dec 1 st each end of next row, then every 8th row 4 times. Work 9 rows \
        even. Bind off rem sts.";
    let found = edge(84, Side::Rs, text).unwrap();
    let expected = Expected {
        rows: nearest_rows(&found),
        underarm: 4,
        shaping: ones([3, 5, 7, 20, 28, 36, 44, 52]),
    };
    assert_eq!(expected.rows, 61);
    expected.hold(&found, "steep");
}

fn nearest_rows(edge: &ArmholeEdge) -> u32 {
    capwright::measure::nearest_whole(edge.depth() / gauge(22.0, 30.0).row_height())
}

#[test]
fn plain_rows_before_the_underarm_are_below_the_armhole() {
    let text = "Work 4 rows even. Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every \
        RS row 6 times. Work 40 rows even. Bind off rem sts.";
    let found = edge(84, Side::Rs, text).unwrap();
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
        Work 40 rows even. Bind off rem sts.";
    assert_eq!(found, edge(84, Side::Rs, text).unwrap());
}

#[test]
fn a_neck_bind_off_alone_is_no_underarm() {
    let text = "Dec 1 st at armhole edge every RS row 12 times. Work 20 rows even. Bind off 7 sts \
        at neck edge. Work 12 rows even. Bind off rem sts.";
    let error = edge(44, Side::Rs, text).unwrap_err();
    assert_eq!(error.code.id, "armhole-empty");
    assert_eq!(
        error.message,
        "No underarm bind-off was found in the armhole's lines."
    );
}

#[test]
fn lines_that_stop_in_the_shaping_are_not_finished() {
    let start = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times.";
    assert!(!edge(84, Side::Rs, start).unwrap().is_finished());
    let even = format!("{start} Work even until armhole measures 20 cm.");
    assert!(edge(84, Side::Rs, &even).unwrap().is_finished());
    let closed = format!("{start} Bind off rem sts.");
    assert!(edge(84, Side::Rs, &closed).unwrap().is_finished());
    let none = "Work 20 rows even. Bind off rem sts.";
    assert!(edge(84, Side::Rs, none).is_err());
}

#[test]
fn a_seam_that_takes_every_row_leaves_no_armhole() {
    let ledger = ledger(40, &[(3, 0, 0), (3, 0, 0)]);
    let seam = Seam {
        stitches: Stitches(1),
        rows: Rows(2),
    };
    let error = armhole_from_ledger(&ledger, gauge(22.0, 30.0), seam).unwrap_err();
    assert!(
        error.message.contains("no row between"),
        "{}",
        error.message
    );
}

#[test]
fn measures_give_what_they_say() {
    let edge = armhole(18.2, 2.0, 18.0, gauge(22.0, 30.0));
    assert_eq!(edge.sites(), Rows(54));
    assert!(edge.is_finished());
    // Rows are a third of a centimetre; what the edge is longer lies in the lowest quarter.
    approx::assert_abs_diff_eq!(edge.length_to(27.0).to_cm(), 9.0, epsilon = 1e-9);
    approx::assert_abs_diff_eq!(edge.length_to(54.0).to_cm(), 18.2, epsilon = 1e-9);
    // Measured along the edge without its shape, every part of the height has its share.
    approx::assert_abs_diff_eq!(
        edge.length_up_to(Length::cm(6.0)).to_cm(),
        18.2 / 3.0,
        epsilon = 1e-9
    );
    approx::assert_abs_diff_eq!(
        edge.length_up_to(Length::cm(50.0)).to_cm(),
        18.2,
        epsilon = 1e-9
    );
    assert_eq!(edge.length_up_to(Length::cm(-1.0)), Length::ZERO);
}

#[test]
fn length_by_height_and_length_by_place_are_two_views_of_one_edge() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
        Work 46 rows even. Bind off rem sts.";
    let edge = edge(84, Side::Rs, text).unwrap();
    // The upper 40 rows are straight: from the shoulder down and from the underarm up.
    let above = edge.length_to(40.0).to_cm();
    let below = edge
        .length_up_to(edge.depth() - Length::cm(40.0 / 3.0))
        .to_cm();
    approx::assert_abs_diff_eq!(above, 40.0 / 3.0, epsilon = 1e-9);
    approx::assert_abs_diff_eq!(above + below, edge.edge().to_cm(), epsilon = 1e-9);
}

/// Parts of a place are parts of its row: 51 rows of a third of a centimetre, straight up.
#[test]
fn a_part_of_a_place_is_a_part_of_its_row() {
    let edge = armhole(17.0, 1.8, 17.0, gauge(22.0, 30.0));
    for places in [0.25, 0.5, 10.75, 50.5] {
        let length = edge.length_to(places).to_cm();
        approx::assert_abs_diff_eq!(length, places / 3.0, epsilon = 1e-9);
    }
}

/// What is drawn of three measures is as long and as high as they say, and its ends are where they should be.
#[test]
fn the_drawing_of_measures_is_as_long_as_the_edge() {
    for (edge_cm, depth_cm) in [(17.0, 17.0), (18.2, 17.0), (22.0, 17.0), (30.0, 12.0)] {
        let edge = armhole(edge_cm, 1.8, depth_cm, gauge(22.0, 30.0));
        let shape = edge.shape_cm();
        let steps = shape.windows(2).map(|pair| (pair[1] - pair[0]).norm());
        approx::assert_abs_diff_eq!(steps.sum::<f64>(), edge_cm, epsilon = 1e-9);
        approx::assert_abs_diff_eq!(shape.last().unwrap().y, depth_cm, epsilon = 1e-9);
        let lowest = edge.point_below_shoulder_cm(edge.edge());
        assert!(
            lowest.x.abs() < 1e-9 && lowest.y.abs() < 1e-9,
            "{edge_cm} by {depth_cm}: {lowest}"
        );
    }
}
