//! A count that is printed before stitches are made or taken away is no count of the needle any more, however that is said.
//!
//! The counts were worked out by hand from the sentences.

use capwright::leaflet::{Fact, Status, read_leaflet};

/// A pullover with these words before its armholes and before its cap.
fn pattern(body: &str, sleeve: &str) -> String {
    format!(
        "TESTING PULLOVER\nSizes: S (M, L)\nTension: 22 sts and 30 rows to 10 cm in st st.\nBACK\nCast on 96 (102, 110) sts. Work 5 cm in rib. {body} Work in st st until back measures 35 cm, ending with a WS row.\nShape armholes\nCast off 5 (5, 6) sts at beg of next 2 rows. Dec 1 st each end of every alt row until 76 (80, 84) sts rem. Work straight until armholes measure 19 (20, 21) cm.\nShape shoulders\nCast off 20 (21, 22) sts at beg of next 2 rows. Cast off rem sts.\nFRONT\nWork as back.\nSLEEVES\nCast on 44 (46, 48) sts. Work 5 cm in rib. {sleeve}, ending with a WS row.\nShape top\nCast off 5 (5, 6) sts at beg of next 2 rows. Dec 1 st each end of next and every foll alt row until 28 (30, 30) sts rem. Cast off.\nMAKING UP\nSet in sleeves.\n"
    )
}

fn fact(text: &str, key: &str) -> Fact {
    read_leaflet(text).fact(key).unwrap().clone()
}

const LONG: &str = "Work straight until sleeve measures 44 (45, 45) cm";

#[test]
fn the_upper_arm_is_right_or_in_doubt() {
    for words in [
        "Inc 1 st each end of every 8th row, giving 70 (74, 78) sts.",
        "Inc 1 st each end of every 8th row until you reach 70 (74, 78) sts.",
        "Inc 1 st at each edge of every 8th row 13 (14, 15) times: 70 (74, 78) sts.",
        "Inc 13 (14, 15) times at each end of every 8th row.",
        "Inc 1 st each end of every 8th row 5 times (54 (56, 58) sts), then of every 6th row 8 (9, 10) times.",
        "Make 1 st at each end of every 8th row 13 (14, 15) times.",
        "Widen 1 st each end of every 8th row 13 (14, 15) times.",
        "Shape sides by working m1 at each end of every 8th row, 13 (14, 15) times.",
        "Inc 1 st each end of every 8th row to 70 (74, 78).",
        "Inc 26 (28, 30) sts gradually up the sides.",
    ] {
        let arm = fact(&pattern("", &format!("{words} {LONG}")), "sleeve.stitches");
        let right = arm.value == "70 (74, 78)";
        assert!(right || arm.status == Status::Unsure, "{words}: {arm:?}");
    }
}

#[test]
fn what_is_made_below_the_armhole_puts_its_count_in_doubt() {
    for words in [
        "Inc 6 sts evenly across last row.",
        "Dec 1 st each end of every 10th row 3 times.",
        "Make 6 sts in the last row.",
        "Add 2 sts each side for the seams.",
        "Work 2 rows, taking in 1 st each side.",
        "Next row: k2, m1, k to last 2 sts, m1, k2.",
        "Next row: * k 8, k2tog; rep from * to end.",
    ] {
        let sleeve =
            format!("Inc 1 st each end of every 8th row until there are 70 (74, 78) sts. {LONG}");
        let count = fact(&pattern(words, &sleeve), "armhole.stitches");
        assert_eq!(count.status, Status::Unsure, "{words}: {count:?}");
    }
    let counted = pattern(
        "Inc 6 sts evenly across last row. 102 (108, 116) sts.",
        LONG,
    );
    let count = fact(&counted, "armhole.stitches");
    assert_eq!(
        (count.value.as_str(), count.status),
        ("102 (108, 116)", Status::Sure)
    );
}

#[test]
fn a_length_that_is_added_is_not_the_whole() {
    for words in ["another 20 cm", "20 cm more", "a further 20 cm"] {
        let text = pattern("", &format!("Work straight for {words}"));
        let length = read_leaflet(&text).fact("sleeve.length").cloned();
        assert!(
            length.is_none_or(|fact| fact.status != Status::Sure),
            "{words}"
        );
    }
}

#[test]
fn a_front_that_is_not_quite_the_back_is_in_doubt() {
    let sleeve =
        format!("Inc 1 st each end of every 8th row until there are 70 (74, 78) sts. {LONG}");
    let whole = pattern("", &sleeve);
    assert_eq!(fact(&whole, "armhole.lines").status, Status::Sure);
    for words in [
        "Work as back, but with armholes 2 rows shorter.",
        "Work as back, casting off 6 (6, 7) sts at armholes.",
        "Work as given for back, except armholes: cast off 7 sts at each side.",
        "Work as back to armholes. Shape as back, but dec 2 sts more each side.",
    ] {
        let text = whole.replace("Work as back.", words);
        let lines = fact(&text, "armhole.lines");
        assert_eq!(lines.status, Status::Unsure, "{words}: {lines:?}");
    }
}

#[test]
fn one_of_two_gauges_and_one_end_of_a_range_are_in_doubt() {
    for words in [
        "Tension: 22-23 sts and 30 rows to 10 cm.",
        "Tension: 22 sts and 30 rows = 10 cm before washing; 21 sts and 31 rows after washing.",
        "Tension: 28 sts and 38 rows to 10 cm on 3 mm; 22 sts and 30 rows to 10 cm on 4 mm.",
    ] {
        let old = "Tension: 22 sts and 30 rows to 10 cm in st st.";
        let text = pattern("", LONG).replace(old, words);
        let gauge = fact(&text, "gauge.pattern.stitches");
        assert_eq!(gauge.status, Status::Unsure, "{words}: {gauge:?}");
    }
}

/// To fit is the body; what the garment measures is not.
#[test]
fn whose_bust_it_is() {
    for (words, bust, status) in [
        (
            "Actual bust, buttoned: 90 (98, 106) cm. To fit bust: 84 (92, 100) cm.",
            "84 (92, 100)",
            Some(Status::Sure),
        ),
        (
            "Finished measurements: Bust 92 (98, 106) cm.",
            "",
            Some(Status::Missing),
        ),
        (
            "Chest: 84 (90, 96) cm.",
            "84 (90, 96)",
            Some(Status::Unsure),
        ),
        (
            "To fit bust 81-86 (91-97, 102-107) cm.",
            "81 (91, 102)",
            Some(Status::Unsure),
        ),
    ] {
        let text = pattern("", LONG).replace("Tension", &format!("{words}\nTension"));
        let found = read_leaflet(&text).fact("body.bust").cloned();
        assert_eq!(
            found.as_ref().map(|fact| fact.status),
            status,
            "{words}: {found:?}"
        );
        assert_eq!(
            found.map_or(String::new(), |fact| fact.value),
            bust,
            "{words}"
        );
    }
}

#[test]
fn what_stands_beside_a_number_may_be_about_it() {
    let inc = "Inc 1 st each end of every 8th row until there are 70 (74, 78) sts";
    let wide = pattern(
        "",
        &format!("{inc} [76 (80, 84) sts for the full sleeve]. {LONG}"),
    );
    assert_eq!(fact(&wide, "sleeve.stitches").status, Status::Unsure);
    let whole = pattern("", &format!("{inc}. {LONG}"));
    assert_eq!(fact(&whole, "sleeve.cap").status, Status::Sure);
    let mended = format!("{whole}ERRATA: in the sleeve top cast off 6 (6, 7) sts.\n");
    assert_eq!(fact(&mended, "sleeve.cap").status, Status::Unsure);
    let narrow = whole.replace(
        "5 cm in rib. Inc",
        "5 cm in rib, dec to 40 (42, 44) sts in last row. Inc",
    );
    assert_eq!(fact(&narrow, "sleeve.cuff_stitches").value, "40 (42, 44)");
}
