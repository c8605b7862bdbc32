//! Increases of a sleeve, in the words they are printed in: the count they give is held against the printed one.

use capwright::leaflet::{Flow, Status, read_flow};

const PRINTED: &str = include_str!("../../leaflets/01-alder-pullover.txt");
const INCREASES: &str =
    "Inc 1 st each end of next row and every 8th row 10 (12, 13, 16) times more";

/// 44 (44, 46, 46) sts, and 2 for each time: 11 (13, 14, 17) times, worked out by hand.
#[test]
fn the_first_row_of_a_cadence_is_one_more() {
    for words in [
        INCREASES,
        "Inc 1 st each end of 7th row and then every 6th row 10 (12, 13, 16) times more",
        "Inc 1 st each end of 7th row, then every 6th row 10 (12, 13, 16) times more",
        "Inc 1 st each end of 5th and every foll 6th row 10 (12, 13, 16) more times",
        "Inc 1 st each end of every 6th row 11 (13, 14, 17) times",
    ] {
        assert!(PRINTED.contains(INCREASES));
        let leaflet = read_flow(&Flow::of_text(&PRINTED.replace(INCREASES, words)));
        let stitches = leaflet.fact("sleeve.stitches").unwrap();
        assert_eq!(stitches.status, Status::Sure, "{words}: {}", stitches.why);
        assert!(
            stitches.why.contains("as many"),
            "{words}: {}",
            stitches.why
        );
    }
}

/// One time more or fewer than the printed count has is a doubt.
#[test]
fn a_count_that_the_increases_do_not_give_is_doubted() {
    let words = "Inc 1 st each end of 7th row and then every 6th row 11 (13, 14, 17) times more";
    let leaflet = read_flow(&Flow::of_text(&PRINTED.replace(INCREASES, words)));
    let stitches = leaflet.fact("sleeve.stitches").unwrap();
    assert_eq!(stitches.status, Status::Unsure, "{}", stitches.why);
}
