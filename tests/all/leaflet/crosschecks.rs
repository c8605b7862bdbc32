//! The print against itself: a plain pattern whose numbers all agree, one of them misprinted at a time. Every fact of the
//! contradiction is open then and shows both numbers. The sums are worked out by hand; those of bodies are Craft Yarn Council's.

use capwright::check::draft;
use capwright::leaflet::Status;

use crate::common::leaflets::{found, patterns};
use crate::common::misprints::misprints;

/// 22 stitches and 30 rows to 10 cm. Body: 198 stitches round are 90 cm; 99 - 10 - 12 = 77 = 2 x 22 + 33; side 36 and armhole 19
/// are 55. Sleeve: 46 + 2 x 11 = 68; 88 rows of increases, (44 - 6) x 3 = 114 from cuff to cap; 68 stitches are 31 cm.
const PLAIN: &str = "KITTIWAKE
Woman's pullover
Sizes: S (M, L)
To fit bust: 82 (90, 98) cm
Finished bust: 90 (98, 106) cm
Length 56 (57, 58) cm
Upper arm: 31 (33, 35) cm
Tension: 22 sts and 30 rows to 10 cm in st st.
BACK
Cast on 99 (108, 117) sts. Work 6 cm in k1, p1 rib. Work in st st until back measures 36 cm, ending with a WS row.
Shape armholes
Cast off 5 (5, 6) sts at beg of next 2 rows. Dec 1 st each end of every alt row 6 (8, 9) times. Work straight until armholes measure 19 (20, 21) cm.
Shape shoulders
Cast off 11 (12, 13) sts at beg of next 4 rows. Cast off rem 33 (34, 35) sts.
FRONT
Work as back until armholes measure 12 cm, ending with a WS row.
Next row: k 31 (33, 35), cast off next 15 (16, 17) sts, k to end. Dec 1 st at neck edge of next 9 rows.
SLEEVES
Cast on 46 (48, 50) sts. Work 6 cm in k1, p1 rib. Work in st st, inc 1 st each end of every 8th row 11 (12, 13) times. 68 (72, 76) sts. Work straight until sleeve measures 44 (45, 45) cm, ending with a WS row.
Shape top
Cast off 5 (5, 6) sts at beg of next 2 rows. 58 (62, 64) sts. Dec 1 st each end of every alt row 15 (16, 16) times. 28 (30, 32) sts. Cast off 4 sts at beg of next 2 rows. Cast off rem 20 (22, 24) sts.
MAKING UP
Set in sleeves.
";

#[test]
fn numbers_that_agree_are_sure() {
    for fact in draft(PLAIN).facts {
        assert_eq!(fact.status, Status::Sure, "{}: {}", fact.key, fact.why);
    }
}

/// The words, what is printed instead, the facts that it opens, and the two numbers that do not agree.
const MISPRINTS: &[(&str, &str, &[&str], [&str; 2])] = &[
    // 198 stitches at 22 are 90 cm.
    (
        "Finished bust: 90 (98, 106)",
        "Finished bust: 70 (78, 86)",
        &["armhole.stitches", "gauge.pattern.stitches"],
        ["90 cm", "70 cm"],
    ),
    (
        "Upper arm: 31 (33, 35)",
        "Upper arm: 41 (43, 45)",
        &["sleeve.stitches", "gauge.pattern.stitches"],
        ["30.9 cm", "41 cm"],
    ),
    // 77 stitches are left, 44 + 43 are taken.
    (
        "rem 33 (34, 35)",
        "rem 43 (34, 35)",
        &["armhole.lines"],
        ["77", "87"],
    ),
    (
        "Cast off 11 (12, 13) sts",
        "Cast off 12 (12, 13) sts",
        &["armhole.lines"],
        ["77", "81"],
    ),
    // 31 + 15 + 31 = 77; 41 + 15 + 41 = 97.
    (
        "k 31 (33, 35)",
        "k 41 (33, 35)",
        &["armhole.lines", "armhole.stitches"],
        ["97", "77"],
    ),
    // 47 + 22 = 69.
    (
        "Cast on 46 (48, 50)",
        "Cast on 47 (48, 50)",
        &["sleeve.cuff_stitches", "sleeve.stitches"],
        ["69", "68"],
    ),
    // 13 x 11 = 143 rows, 38 cm are 114.
    (
        "every 8th row 11",
        "every 13th row 11",
        &["sleeve.length", "gauge.pattern.rows"],
        ["143", "114"],
    ),
    (
        "Length 56 (57, 58)",
        "Length 46 (47, 48)",
        &["armhole.lines"],
        ["55 cm", "46 cm"],
    ),
    // A woman of 82 cm: XS to M have 6 to 7.5 in of armhole.
    (
        "armholes measure 19 (20, 21)",
        "armholes measure 29 (30, 31)",
        &["armhole.lines", "body.bust"],
        ["29 cm", "82 cm"],
    ),
    (
        "sleeve measures 44 (45, 45)",
        "sleeve measures 54 (55, 55)",
        &["sleeve.length", "body.bust"],
        ["54 cm", "82 cm"],
    ),
    (
        "armholes measure 19 (20, 21)",
        "armholes measure 19 (20, 12)",
        &["armhole.lines"],
        ["60", "36"],
    ),
    (
        "sleeve measures 44 (45, 45)",
        "sleeve measures 44 (45, 54)",
        &["sleeve.length"],
        ["45", "54"],
    ),
    (
        "Cast off 5 (5, 6) sts at beg of next 2 rows. 58 (62, 64)",
        "Cast off 5 (6, 6) sts at beg of next 2 rows. 58 (60, 64)",
        &["sleeve.cap", "armhole.lines"],
        ["6", "5"],
    ),
    (
        "bust: 82 (90, 98)",
        "bust: 82 (90, 89)",
        &["body.bust"],
        ["90", "89"],
    ),
    (
        "of every alt row 15",
        "of every 3nd row 15",
        &["sleeve.cap"],
        ["3nd", "ending"],
    ),
];

#[test]
fn each_contradiction_opens_its_facts_with_both_numbers() {
    for &(words, by, keys, numbers) in MISPRINTS {
        assert!(PLAIN.contains(words), "{words}");
        let leaflet = draft(&PLAIN.replacen(words, by, 1));
        for key in keys {
            let fact = leaflet.fact(key).unwrap();
            assert_ne!(fact.status, Status::Sure, "{by}: {key}");
            for number in numbers {
                assert!(fact.why.contains(number), "{by}: {key}: {}", fact.why);
            }
        }
    }
}

/// What is no contradiction: seams, rounding, a classic or a roomy fit, a steep set of sizes.
#[test]
fn what_may_be_so_opens_nothing() {
    for (words, by) in [
        ("Finished bust: 90 (98, 106)", "Finished bust: 88 (96, 104)"),
        (
            "Finished bust: 90 (98, 106)",
            "Finished bust: 93 (101, 109)",
        ),
        ("To fit bust: 82 (90, 98)", "To fit bust: 76 (84, 92)"),
        ("To fit bust: 82 (90, 98)", "To fit bust: 80 (86, 98)"),
        ("Length 56 (57, 58)", "Length 58 (59, 60)"),
        ("Upper arm: 31 (33, 35)", "Upper arm: 30 (32, 34)"),
        (
            "every 8th row 11 (12, 13) times",
            "every 6th row 11 (12, 13) times",
        ),
        (
            "inc 1 st each end of every 8th row 11 (12, 13) times",
            "inc 1 st each end of next and every foll 8th row 10 (11, 12) times more",
        ),
        (
            "inc 1 st each end of every 8th row 11 (12, 13) times",
            "inc 1 st each end of every 8th row 5 times, then every 6th row 6 (7, 8) times",
        ),
    ] {
        assert!(PLAIN.contains(words), "{words}");
        for fact in draft(&PLAIN.replacen(words, by, 1)).facts {
            assert_eq!(
                fact.status,
                Status::Sure,
                "{by}: {}: {}",
                fact.key,
                fact.why
            );
        }
    }
}

/// Misprints by a tenth at the least in counts and lengths of whole patterns: nine in ten are noticed. Which, and of what: the
/// example `leaflet_misprints` and DEVELOPERS.md.
#[test]
fn large_misprints_are_noticed() {
    const KEYS: [&str; 6] = [
        "sleeve.stitches",
        "sleeve.cuff_stitches",
        "sleeve.length",
        "sleeve.cap",
        "armhole.stitches",
        "armhole.lines",
    ];
    let (mut all, mut noticed) = (0, 0);
    for pattern in patterns().iter().filter(|one| !one.truth.is_empty()) {
        let before = found(&pattern.text);
        let large = misprints(&pattern.text);
        for misprint in large.iter().filter(|one| one.is_large()).step_by(31) {
            let after = found(&misprint.text);
            for key in KEYS {
                let (Some(old), Some(new)) = (before.fact(key), after.fact(key)) else {
                    continue;
                };
                if old.status == Status::Sure && old.value != new.value {
                    all += 1;
                    noticed += usize::from(new.status != Status::Sure);
                }
            }
        }
    }
    assert!(all > 150, "{all}");
    assert!(noticed * 10 >= all * 9, "{noticed} of {all}");
}
