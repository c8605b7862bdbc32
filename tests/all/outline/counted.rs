//! Armholes by counts, alone, with a tape, and over the body's lines.

use crate::common::{SEAM, gauge};
use capwright::diagnostic::Diagnostic;
use capwright::measure::{Length, Rows, Side, Stitches};
use capwright::outline::{
    ArmholeCounts, ArmholeEdge, armhole_from_counts, armhole_from_counts_and_tape,
    armhole_from_ledger, armhole_from_ledger_as_counted,
};
use capwright::pattern::{Context, Ledger, Piece, read};

fn counts(rows: u32, steps: u32, decreases: u32) -> ArmholeCounts {
    ArmholeCounts {
        rows: Rows(rows),
        steps: Stitches(steps),
        decreases: Stitches(decreases),
        underarm: Stitches(4),
    }
}

fn edge_cm(counts: &ArmholeCounts) -> f64 {
    let edge = armhole_from_counts(counts, gauge(22.0, 30.0)).unwrap();
    assert_eq!(edge.sites(), counts.rows);
    let all = edge.length_to(edge.sites().as_f64()).to_cm();
    assert!(
        (all - edge.edge().to_cm()).abs() < 1e-9,
        "the places add up"
    );
    all
}

/// Arithmetic: 53 straight rows at 30 to 10 cm are 53/3 cm, each place a third of a centimetre.
#[test]
fn straight_rows_are_their_height() {
    for rows in [6, 50, 53, 56, 400] {
        assert!((edge_cm(&counts(rows, 0, 0)) - f64::from(rows) / 3.0).abs() < 1e-9);
    }
    let edge = armhole_from_counts(&counts(53, 0, 0), gauge(22.0, 30.0)).unwrap();
    assert!((edge.length_to(10.0).to_cm() - 10.0 / 3.0).abs() < 1e-9);
    assert_eq!(edge.underarm(), Stitches(4));
    assert!((edge.underarm_width().to_cm() - 40.0 / 22.0).abs() < 1e-9);
}

/// The broken line through the middles of the row pairs by hand, at 10 stitches and 10 rows to 10 cm, so
/// that a stitch and a row are a centimetre each. Ten places, two of them steps: eight rows, the steps on
/// row 3, a decrease on row 5. Positions after the rows: 0 0 2 2 3 3 3 3; pair means 0, 2, 3, 3 at heights
/// 1, 3, 5, 7, corners at 0 and (3, 8).
#[test]
fn steps_and_decreases_slant_the_edge() {
    let edge = armhole_from_counts(&counts(10, 2, 1), gauge(10.0, 10.0)).unwrap();
    let by_hand = 1.0 + 8_f64.sqrt() + 5_f64.sqrt() + 2.0 + 1.0;
    assert!((edge.edge().to_cm() - by_hand).abs() < 1e-9);
    assert!((edge.depth().to_cm() - 8.0).abs() < 1e-9);
    assert_eq!(edge.sites(), Rows(10));
    assert_eq!(edge.stepped_stitches(), Stitches(2));
}

/// What is shaped on paper as lines is the same edge when it is counted: the same rows by brute force.
#[test]
fn counts_come_to_what_their_lines_come_to() {
    let lines = lines(
        "Bind off 5 sts at beg of next 2 rows. Bind off 2 sts at beg of next 4 rows. Dec 1 st each end \
         every RS row 5 times. Work even for 40 rows. Bind off rem sts.",
    );
    let of_lines = armhole_from_ledger(&lines, gauge(22.0, 30.0), SEAM).unwrap();
    let counts = ArmholeCounts {
        rows: of_lines.sites(),
        ..counts(0, 4, 5)
    };
    let counted = armhole_from_counts(&counts, gauge(22.0, 30.0)).unwrap();
    let (a, b) = (counted.edge().to_cm(), of_lines.edge().to_cm());
    // Both edges of the piece are averaged: one of them steps a row later.
    assert!((a - b).abs() < 0.1, "{a} {b}");
    assert_eq!(counted.stepped_stitches(), of_lines.stepped_stitches());
    assert!((counted.depth().to_cm() - of_lines.depth().to_cm()).abs() < 1e-9);
}

#[test]
fn a_tape_gives_the_lengths_and_the_counts_the_places() {
    let taped = |edge, underarm, depth| {
        let cm = |cm: Option<f64>| cm.map(Length::cm);
        let tape = (cm(edge), cm(underarm), cm(depth));
        armhole_from_counts_and_tape(&counts(50, 0, 0), tape, gauge(22.0, 30.0)).unwrap()
    };
    let edge = taped(Some(21.0), Some(3.0), Some(18.0));
    assert_eq!(edge.sites(), Rows(50));
    assert!((edge.length_to(25.0).to_cm() - 10.5).abs() < 1e-9);
    assert!((edge.edge().to_cm() - 21.0).abs() < 1e-9);
    assert!((edge.depth().to_cm() - 18.0).abs() < 1e-9);
    assert!((edge.underarm_width().to_cm() - 3.0).abs() < 1e-9);
    // A depth alone stretches the rows, an edge alone never leaves the depth longer than itself.
    assert!((taped(None, None, Some(20.0)).edge().to_cm() - 20.0).abs() < 1e-9);
    assert!((taped(Some(15.0), None, None).depth().to_cm() - 15.0).abs() < 1e-9);
}

#[test]
fn counts_that_cannot_be_are_refused() {
    let refused = |rows, steps, decreases| {
        armhole_from_counts(&counts(rows, steps, decreases), gauge(22.0, 30.0)).is_err()
    };
    assert!(refused(5, 5, 0) && refused(5, 6, 0) && refused(8, 0, 8) && refused(8, 4, 3));
    assert!(!refused(8, 0, 7));
    let crowded = (None, None, Some(Length::cm(0.5)));
    assert!(armhole_from_counts_and_tape(&counts(50, 0, 0), crowded, gauge(22.0, 30.0)).is_err());
}

fn lines(text: &str) -> Ledger {
    let mut context = Context::new(vec!["M".to_owned()], vec![Stitches(90)]);
    context.piece = Piece::Body;
    context.first_row = Side::Rs;
    context.row_heights = Some(vec![gauge(22.0, 30.0).row_height()]);
    read(text, &context).0.sizes[0].ledger.clone()
}

const SHAPED: &str = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end every RS row 6 times. \
    Work even for 40 rows. Bind off rem sts.";

fn as_counted(rows: Option<u32>, underarm: Option<u32>) -> Result<ArmholeEdge, Diagnostic> {
    let counted = (rows.map(Rows), underarm.map(Stitches));
    armhole_from_ledger_as_counted(&lines(SHAPED), gauge(22.0, 30.0), SEAM, counted)
}

/// Rows go on or off where the edge is straight, a third of a centimetre each; below, all stays.
#[test]
fn lines_keep_their_shape_below_what_was_counted() {
    let whole = armhole_from_ledger(&lines(SHAPED), gauge(22.0, 30.0), SEAM).unwrap();
    let rows = whole.sites().count();
    assert_eq!(as_counted(Some(rows), None).unwrap(), whole);
    assert_eq!(as_counted(None, None).unwrap(), whole);
    for change in [-30, -3, 1, 4] {
        let found = as_counted(Some(rows.saturating_add_signed(change)), Some(6)).unwrap();
        assert_eq!(found.underarm(), Stitches(6));
        let longer = found.edge().to_cm() - whole.edge().to_cm();
        assert!(
            (longer - f64::from(change) / 3.0).abs() < 1e-9,
            "{change}: {longer}"
        );
        let low = Length::cm(4.0);
        let (a, b) = (found.length_up_to(low), whole.length_up_to(low));
        assert!((a.to_cm() - b.to_cm()).abs() < 1e-9);
    }
    let error = as_counted(Some(11), None).unwrap_err();
    assert_eq!(error.code.id, "armhole-count");
}
