//! What a second trial found in whole patterns: busts told apart, armholes told from the hem, needles between the counts of a
//! gauge, cuffs told by their length. The texts are ours; what is right of them is worked out by hand beside them.

use capwright::check::refused_keys;
use capwright::leaflet::{Flow, Leaflet, Status, read_print};

use crate::common::leaflets::{found, patterns};

fn value(leaflet: &Leaflet, key: &str) -> String {
    let fact = leaflet.fact(key);
    fact.map_or(String::new(), |fact| fact.value.clone())
}

fn status(leaflet: &Leaflet, key: &str) -> Option<Status> {
    leaflet.fact(key).map(|fact| fact.status)
}

fn why(leaflet: &Leaflet, key: &str) -> String {
    let fact = leaflet.fact(key);
    fact.map_or(String::new(), |fact| fact.why.clone())
}

/// A jumper in three sizes; its head, the back's end and the sleeve are put in.
fn jumper(head: &str, end: &str, sleeve: &str) -> String {
    format!(
        "A PLAIN JUMPER

{head}

BACK
Using 3¼ mm needles cast on 77 [83, 89] sts. Work 5 cm in k1, p1 rib. Change to 4 mm needles. Work in st st until back measures 22 [25, 28] cm, ending after a p row.
Shape armholes
Cast off 4 sts at beg of next 2 rows. 69 [75, 81] sts.
Dec 1 st at each end of next 3 rows, then on foll 2 [3, 3] alt rows. 59 [63, 69] sts.
{end}
Shape shoulders
Cast off 8 [9, 10] sts at beg of next 4 rows. Leave rem 27 [27, 29] sts on a holder.

FRONT
Work as back until armhole measures 11 [12, 13] cm, ending after a p row.

SLEEVES
{sleeve}
Shape top
Cast off 4 sts at beg of next 2 rows. 51 [55, 59] sts.
Dec 1 st at each end of next row and foll 4 [5, 6] alt rows. 41 [43, 45] sts.
Work 1 row.
Now dec 1 st at each end of every row until 25 [25, 27] sts rem.
Cast off 3 sts at beg of next 2 rows. Cast off rem 19 [19, 21] sts.

TO MAKE UP
Join shoulder seams. Sew in sleeves. Join side and sleeve seams.
"
    )
}

const HEAD: &str = "Sizes: S [M, L]\nTo fit chest 61 [66, 71] cm\nTension: 22 sts and 30 rows to 10 cm over st st using 4 mm needles.";
const END: &str = "Cont straight until armhole measures 16 [17, 18] cm, ending after a p row.";
const SLEEVE: &str = "Using 3¼ mm needles cast on 35 [37, 39] sts. Work 5 cm in k1, p1 rib. Change to 4 mm needles and st st, inc 1 st at each end of 5th and every foll 6th [5th, 5th] row to 59 [63, 67] sts. Cont straight until sleeve measures 28 [31, 35] cm, ending after a p row.";

#[test]
fn one_bust_is_not_that_of_three_sizes() {
    let head = |words: &str| {
        found(&jumper(
            &format!(
                "{words}\nTension: 22 sts and 30 rows to 10 cm over st st using 4 mm needles."
            ),
            END,
            SLEEVE,
        ))
    };
    for (words, bust, sure) in [
        (
            "To fit a 61 cm chest. Figures in brackets refer to the 66- and 71-cm sizes.",
            "61 (66, 71)",
            true,
        ),
        (
            "To fit a 61 cm chest. Instructions for 66 cm and 71 cm chests are in brackets.",
            "61 (66, 71)",
            true,
        ),
        // Names of sizes, or busts?
        (
            "To fit a 61 cm chest. Figures in brackets refer to sizes 12 and 14.",
            "61",
            false,
        ),
        // One too few.
        (
            "To fit a 61 cm chest. Figures in brackets refer to the 66-cm size.",
            "61",
            false,
        ),
        ("To fit a 61 cm chest.", "61", false),
        (
            "Sizes: S [M, L]\nTo fit chest 61 [66, 71] cm",
            "61 (66, 71)",
            true,
        ),
    ] {
        let leaflet = head(words);
        assert_eq!(value(&leaflet, "body.bust"), bust, "{words}");
        let is_sure = status(&leaflet, "body.bust") == Some(Status::Sure);
        assert_eq!(is_sure, sure, "{words}: {}", why(&leaflet, "body.bust"));
    }
}

/// 38 less 22, 42 less 25, 46 less 28: 16, 17 and 18, the armhole that the same jumper has in its own words.
#[test]
fn an_armhole_told_from_the_hem_is_the_difference_of_two_printed_heights() {
    let own = found(&jumper(HEAD, END, SLEEVE));
    assert_eq!(status(&own, "armhole.lines"), Some(Status::Sure));
    let wanted = value(&own, "armhole.lines").replace("16 [17, 18] cm", "16 (17, 18) cm");
    for words in [
        "back measures 38 [42, 46] cm",
        "back measures 38 [42, 46] cm from cast-on edge",
        "work measures 38 [42, 46] cm from beg.",
        "piece measures 38 [42, 46] cm",
    ] {
        let end = format!("Cont straight until {words}, ending after a p row.");
        let leaflet = found(&jumper(HEAD, &end, SLEEVE));
        assert_eq!(value(&leaflet, "armhole.lines"), wanted, "{words}");
        assert_eq!(status(&leaflet, "armhole.lines"), Some(Status::Unsure));
        let why = why(&leaflet, "armhole.lines");
        for printed in ["38 (42, 46) cm", "22 (25, 28) cm", "16 (17, 18) cm"] {
            assert!(why.contains(printed), "{why}");
        }
        // Nothing has to be typed.
        assert!(
            refused_keys(&leaflet).is_empty(),
            "{words}: {}",
            leaflet.case
        );
    }
    // Not deep enough for an armhole: both numbers stay as they are printed.
    let leaflet = found(&jumper(
        HEAD,
        &END.replace("armhole measures 16 [17, 18]", "work measures 24 [27, 30]"),
        SLEEVE,
    ));
    assert!(value(&leaflet, "armhole.lines").contains("24 [27, 30] cm"));
    assert!(refused_keys(&leaflet).contains(&"armhole.lines".to_owned()));
}

/// Three ways to say the first bind-off.
#[test]
fn the_beginning_of_the_shaping_is_the_first_bind_off() {
    for from in [
        "from beg. of armhole shaping",
        "from start of armhole shaping",
        "from the beginning of armhole shaping",
        "from beginning of the armhole shaping",
        "from first cast-off",
    ] {
        let end = format!("Cont straight until work measures 16 [17, 18] cm {from}.");
        let leaflet = found(&jumper(HEAD, &end, SLEEVE));
        let why = why(&leaflet, "armhole.lines");
        assert_eq!(
            status(&leaflet, "armhole.lines"),
            Some(Status::Sure),
            "{from}: {why}"
        );
    }
    let end = "Cont straight until work measures 16 [17, 18] cm from first dec.";
    let leaflet = found(&jumper(HEAD, end, SLEEVE));
    assert_eq!(status(&leaflet, "armhole.lines"), Some(Status::Unsure));
    let why = why(&leaflet, "armhole.lines");
    assert!(
        !why.contains("below these lines") && why.contains("from first dec"),
        "{why}"
    );
}

#[test]
fn needles_between_the_counts_of_a_gauge() {
    for gauge in [
        "22 sts and 30 rows to 10 cm over st st using 4 mm needles.",
        "10 cm of stocking stitch on needles 4 = 22 sts and 30 rows.",
        "10 cm in stocking stitch = 22 sts and 30 rows.",
        "22 sts and 30 rows in stockinette st on needles 4 mm = 10 x 10 cm.",
        "22 sts and 30 rows on 4 mm needles = 10 cm square.",
        "22 sts and 30 rows on 3.75 mm needles = 10 cm.",
        "22 sts and 30 rows with larger needles = 10 cm in stocking stitch.",
    ] {
        let head = format!("Sizes: S [M, L]\nTo fit chest 61 [66, 71] cm\nTension: {gauge}");
        let leaflet = found(&jumper(&head, END, SLEEVE));
        assert_eq!(value(&leaflet, "gauge.pattern.stitches"), "22", "{gauge}");
        assert_eq!(value(&leaflet, "gauge.pattern.rows"), "30", "{gauge}");
        assert_eq!(
            status(&leaflet, "gauge.pattern.rows"),
            Some(Status::Sure),
            "{gauge}"
        );
    }
    // The size of a needle is no length.
    let head =
        "Sizes: S [M, L]\nTo fit chest 61 [66, 71] cm\nTension: 22 sts on needles 4 in st st.";
    let leaflet = found(&jumper(head, END, SLEEVE));
    assert_eq!(
        status(&leaflet, "gauge.pattern.stitches"),
        Some(Status::Missing)
    );
}

#[test]
fn a_stitch_named_before_its_gauge() {
    let gauge = "Body in st st: 22 sts and 30 rows to 10 cm. Sleeves in moss st: 20 sts and 34 rows to 10 cm.";
    let head = format!("Sizes: S [M, L]\nTo fit chest 61 [66, 71] cm\nTension. {gauge}");
    let leaflet = found(&jumper(
        &head,
        END,
        &SLEEVE.replace("needles and st st", "needles and moss st"),
    ));
    assert_eq!(
        value(&leaflet, "gauge.pattern.stitches"),
        "20",
        "{}",
        leaflet.case
    );
    assert_eq!(
        value(&leaflet, "gauge.body.stitches"),
        "22",
        "{}",
        leaflet.case
    );
    assert_eq!(
        status(&leaflet, "gauge.pattern.stitches"),
        Some(Status::Sure)
    );
}

/// 42 and 6 are 48: the 12 are those beside which they are made.
#[test]
fn stitches_that_are_only_named_are_no_count() {
    let sleeve = |after: &str| {
        SLEEVE.replace(
            "Work 5 cm in k1, p1 rib. Change",
            &format!("Work 5 cm in k1, p1 rib, on the last row increase 6 sts evenly above the middle 12 sts for the cable = {after} sts. Change"),
        )
    };
    let said = |after: &str| {
        why(
            &found(&jumper(HEAD, END, &sleeve(after))),
            "sleeve.cuff_stitches",
        )
    };
    assert!(!said("41 [43, 45]").contains("do not agree"));
    assert!(said("41 [44, 45]").contains("do not agree"));
}

/// `Inches` are no increases: a count that is printed before them and misprinted is not taken over by what the increases give.
#[test]
fn inches_are_no_increases() {
    let text = |count: &str| {
        format!(
            "A JERSEY\nSLEEVES\nCO 38 sts. Inc 1 st at each end of every 8th row 11 times\u{2014}{count} sts. Work even until sleeve measures 16 inches.\nShape Cap: BO 4 sts at beg of next 2 rows. Dec 1 st at each end of every RS row 15 times. BO rem 22 sts.\n"
        )
    };
    assert_eq!(value(&found(&text("60")), "sleeve.stitches"), "60");
    let wrong = found(&text("64"));
    assert_eq!(status(&wrong, "sleeve.stitches"), Some(Status::Unsure));
    assert_eq!(value(&wrong, "sleeve.stitches"), "64");
    // A double hyphen is a dash.
    for dash in ["--", " -- ", " more--"] {
        let leaflet = found(&text("60").replace('\u{2014}', dash));
        let why = why(&leaflet, "sleeve.stitches");
        assert_eq!(value(&leaflet, "sleeve.stitches"), "60");
        assert!(!why.contains("no count is printed"), "{dash}: {why}");
    }
}

#[test]
fn what_is_missing_is_named() {
    let short = SLEEVE.replace(
        "Cont straight until sleeve measures 28 [31, 35] cm, ending after a p row.",
        "Work 6 [4, 8] rows straight.",
    );
    let leaflet = found(&jumper(HEAD, END, &short));
    let said = why(&leaflet, "sleeve.cuff_stitches");
    assert!(said.starts_with("35 (37, 39) are cast on"), "{said}");
    assert!(leaflet.fact("sleeve.cuff_stitches").unwrap().evidence.len() == 1);
    // A length for three sizes where two are named is not one that the case lacks.
    let two = HEAD.replace("S [M, L]", "S [M]");
    let leaflet = found(&jumper(&two, END, SLEEVE));
    assert!(
        !why(&leaflet, "sleeve.length").contains("lacks"),
        "{}",
        leaflet.case
    );
}

/// The two needles as each sleeve names them; cuff first.
#[test]
fn needles_have_the_names_of_the_print() {
    for (before, change, wanted) in [
        (
            "Using 3¼ mm needles cast on",
            "Change to 4 mm needles",
            ["3¼ mm needles", "4 mm needles"],
        ),
        (
            "Using 3.25 mm needles cast on",
            "Change to 4 mm needles",
            ["3.25 mm needles", "4 mm needles"],
        ),
        (
            "With smaller needles, cast on",
            "Switch to larger needles",
            ["smaller needles", "larger needles"],
        ),
        (
            "With No. 11 needles cast on",
            "Change to No. 9 needles",
            ["No. 11 needles", "No. 9 needles"],
        ),
        (
            "With needles 3 mm cast on",
            "Change to needles 3.5 mm",
            ["needles 3 mm", "needles 3.5 mm"],
        ),
        (
            "With needles no. 3.5 cast on",
            "Continue with needles no. 4.5",
            ["needles no. 3.5", "needles no. 4.5"],
        ),
        (
            "Using US 6 (4 mm) needles cast on",
            "Change to US 8 needles",
            ["US 6 (4 mm) needles", "US 8 needles"],
        ),
    ] {
        let sleeve = SLEEVE
            .replace("Using 3¼ mm needles cast on", before)
            .replace("Change to 4 mm needles", change);
        let print = read_print(&Flow::of_text(&jumper(HEAD, END, &sleeve))).unwrap();
        assert_eq!(
            print.needle_names,
            wanted.map(|name| Some(name.to_owned())),
            "{change}"
        );
    }
    let on = SLEEVE
        .replace(
            "Using 3¼ mm needles cast on 35 [37, 39] sts",
            "Cast on 35 [37, 39] sts on 4 mm needles",
        )
        .replace("Change to 4 mm needles", "Change to 4.5 mm needles");
    let print = read_print(&Flow::of_text(&jumper(HEAD, END, &on))).unwrap();
    assert_eq!(
        print.needle_names,
        ["4 mm needles", "4.5 mm needles"].map(|name| Some(name.to_owned()))
    );
    // `Until there are 59 sts on needle` names none.
    let none = SLEEVE
        .replace("Using 3¼ mm needles cast on", "Cast on")
        .replace(
            "Change to 4 mm needles and st st, inc",
            "Change to st st, inc",
        )
        .replace("67] sts.", "67] sts on needle.");
    let print = read_print(&Flow::of_text(&jumper(HEAD, END, &none))).unwrap();
    assert_eq!(print.needle_names, [None, None]);
}

/// However its length is told, the cuff is found.
#[test]
fn cuffs_told_by_their_length() {
    for cuff in [
        "Work 5 cm in k1, p1 rib.",
        "Work in rib for 2 inches.",
        "Work 2 inches in k2, p2 rib.",
        "Rib 2 inches.",
        "Work 2 inches of ribbing.",
        "Work 2 ins. in rib.",
    ] {
        let sleeve = SLEEVE.replace("Work 5 cm in k1, p1 rib.", cuff);
        let print = read_print(&Flow::of_text(&jumper(HEAD, END, &sleeve))).unwrap();
        let words = print.cuff.map(|cuff| cuff.at.text);
        assert_eq!(words.as_deref(), Some(cuff), "{sleeve}");
    }
}

/// A table's line is a length of the sleeve where it says what the sleeve is worked to.
#[test]
fn a_line_of_a_table_is_a_length() {
    for (line, found) in [
        ("Sleeve   28 [31, 35] cm", true),
        ("Sleeves: 28 [31, 35] cm", true),
        ("Sleeve   18 [21, 25] cm", false),
    ] {
        let head = format!("{HEAD}\n{line}");
        let print = read_print(&Flow::of_text(&jumper(&head, END, SLEEVE))).unwrap();
        assert_eq!(print.lengths.len(), usize::from(found), "{line}");
    }
}

/// Of our own patterns: what is refused is open, too.
#[test]
fn what_is_refused_is_open() {
    for pattern in patterns() {
        let leaflet = found(&pattern.text);
        if !leaflet.refused.is_empty() {
            continue;
        }
        for key in refused_keys(&leaflet) {
            let open = leaflet.open().any(|fact| fact.key == key);
            let known = leaflet.fact(&key).is_some();
            assert!(open || !known, "{}: {key}", pattern.name);
        }
    }
}
