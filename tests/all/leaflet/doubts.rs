//! What other words of a print say against a fact. A sentence of a plain pattern is changed, and the fact it spoils may not be sure any more; a
//! sentence that spoils nothing leaves it sure. Worked out by hand.

use capwright::check::draft;
use capwright::leaflet::Status;

const PLAIN: &str = "SANDPIPER\nWoman's pullover\nTo fit bust 86 cm\nTension: 22 sts and 30 rows to 10 cm in st st.\nBACK\nCast on 106 sts. Work 6 cm in k1, p1 rib. Work in st st until back measures 38 cm, ending with a WS row.\nShape armholes\nCast off 5 sts at beg of next 2 rows. Dec 1 st each end of every alt row until 86 sts rem. Work straight until armholes measure 19 cm.\nShape shoulders\nCast off 8 sts at beg of next 6 rows. Cast off rem 38 sts.\nFRONT\nWork as back.\nSLEEVES\nCast on 46 sts. Work 6 cm in k1, p1 rib. Work in st st, inc 1 st each end of every 8th row until there are 76 sts. Work straight until sleeve measures 44 cm, ending with a WS row.\nShape top\nCast off 5 sts at beg of next 2 rows. Dec 1 st each end of next and every foll alt row until 32 sts rem. Cast off 4 sts at beg of next 4 rows. Cast off rem 16 sts.\nMAKING UP\nSet in sleeves.\n";

fn status(text: &str, key: &str) -> Option<Status> {
    draft(text).fact(key).map(|fact| fact.status)
}

/// These words instead of those.
fn changed(words: &str, by: &str) -> String {
    assert!(PLAIN.contains(words), "{words}");
    PLAIN.replacen(words, by, 1)
}

#[test]
fn the_plain_pattern_is_sure() {
    for key in [
        "sleeve.stitches",
        "sleeve.cap",
        "sleeve.length",
        "sleeve.cuff_length",
        "sleeve.cuff_stitches",
        "armhole.stitches",
        "armhole.lines",
        "body.bust",
        "body.table",
        "gauge.pattern.stitches",
        "gauge.pattern.rows",
    ] {
        assert_eq!(status(PLAIN, key), Some(Status::Sure), "{key}");
    }
}

/// The words, what stands instead of them, and the fact that it spoils.
const SPOILT: &[(&str, &str, &str)] = &[
    (
        "6 cm in k1, p1 rib. Work in st st, inc",
        "eighteen rows in k1, p1 rib. Work in st st, inc",
        "sleeve.cuff_length",
    ),
    (
        "Work 6 cm in k1, p1 rib. Work in st st, inc",
        "K1, p1 rib 18 rows. Work in st st, inc",
        "sleeve.cuff_length",
    ),
    (
        "MAKING UP",
        "ERRATA\nSleeve top: 34 sts, not 32 sts.\nMAKING UP",
        "sleeve.cap",
    ),
    (
        "MAKING UP",
        "CORRECTION SLIP\nSleeves, line 6: 78 sts, not 76 sts.\nMAKING UP",
        "sleeve.stitches",
    ),
    (
        "MAKING UP",
        "There is a misprint in the sleeve: work to 78 sts, not 76.\nMAKING UP",
        "sleeve.stitches",
    ),
    (
        "measures 44 cm, ending with a WS row.",
        "measures 44 cm (15 in) for every size– or so.",
        "sleeve.length",
    ),
    (
        "6 cm in k1, p1 rib. Work in st st, inc",
        "18 rows in k1, p1 rib. Work in st st, inc",
        "sleeve.cuff_length",
    ),
    (
        "6 cm in k1, p1 rib. Work in st st, inc",
        "2½ in in k1, p1 rib. Work in st st, inc",
        "sleeve.cuff_length",
    ),
    (
        "SANDPIPER\n",
        "SANDPIPER\nCorrection to first printing: sleeve top, for 32 read 34\n",
        "sleeve.cap",
    ),
    ("Woman's pullover", "His and hers pullover", "body.table"),
    (
        "measures 44 cm,",
        "measures 44 cm (or 30 cm for three-quarter sleeves),",
        "sleeve.length",
    ),
    (
        "measures 44 cm,",
        "measures 44 cm (15 in),",
        "sleeve.length",
    ),
    (
        "measures 44 cm, ending with a WS row.",
        "measures 44 cm. Mark each end of last row. Work 6 rows more, ending with a WS row.",
        "sleeve.length",
    ),
    (
        "measures 44 cm,",
        "measures 44 cm, then work 2 cm more in garter st,",
        "sleeve.length",
    ),
    (
        "until sleeve measures 44 cm",
        "until st st section measures 38 cm",
        "sleeve.length",
    ),
    (
        "6 cm in k1, p1 rib. Work in st st, inc",
        "12 cm in k1, p1 rib (cuff is folded back by half). Work in st st, inc",
        "sleeve.length",
    ),
    (
        "FRONT\nWork as back.",
        "FRONT\nWork as back, working armhole decs 2 more times.",
        "armhole.lines",
    ),
    (
        "FRONT\nWork as back.",
        "FRONT\nCast on 112 sts and complete as back to armholes. Cast off 8 sts at beg of next 2 rows. 96 sts. Complete as back.",
        "armhole.lines",
    ),
    (
        "BACK\n",
        "The edge sts are not counted in the numbers.\nBACK\n",
        "sleeve.stitches",
    ),
    (
        "MAKING UP",
        "SHORT SLEEVES\nWork as long sleeves.\nLONG SLEEVES:\nAs above.\nMAKING UP",
        "sleeve.length",
    ),
    (
        "Woman's pullover",
        "A jumper for the business girl",
        "body.table",
    ),
    (
        "Woman's pullover",
        "Pullover for girls and women",
        "body.table",
    ),
    ("86 cm", "86 cm (38 in)", "body.bust"),
    (
        "in st st.\nBACK",
        "over cables.\nBACK",
        "gauge.pattern.stitches",
    ),
    (
        "in st st.\nBACK",
        "in k2, p2 rib.\nBACK",
        "gauge.pattern.stitches",
    ),
    (
        "22 sts and 30 rows",
        "32 sts and 30 rows",
        "gauge.pattern.stitches",
    ),
    (
        "Work 6 cm in k1, p1 rib. Work in st st, inc",
        "Work 6 cm in k1, p1 rib, inc 5 sts evenly on last row. 52 sts. Work in st st, inc",
        "sleeve.cuff_stitches",
    ),
    (
        "MAKING UP",
        "ERRATUM: the sleeve should read 78 sts.\nMAKING UP",
        "sleeve.stitches",
    ),
];

#[test]
fn words_that_spoil_a_fact_leave_it_open() {
    for &(words, by, key) in SPOILT {
        let found = draft(&changed(words, by));
        let fact = found.fact(key);
        assert!(
            fact.is_some_and(|fact| matches!(fact.status, Status::Unsure | Status::Missing)),
            "{by}: {fact:?}"
        );
    }
}

#[test]
fn words_that_spoil_nothing_leave_it_sure() {
    for (words, by, key) in [
        (
            "MAKING UP\n",
            "MAKING UP\nMake any corrections to the length of the body before the armholes.\n",
            "sleeve.stitches",
        ),
        (
            "BACK\n",
            "Look for errata at the publisher's before you begin.\nBACK\n",
            "sleeve.stitches",
        ),
        (
            "measures 44 cm,",
            "measures 44 cm (17½ in),",
            "sleeve.length",
        ),
        ("86 cm", "86 cm (34 in)", "body.bust"),
        (
            "Cast on 46 sts",
            "Cast on forty-six (46) sts",
            "sleeve.cuff_stitches",
        ),
        (
            "until there are 76 sts",
            "until there are seventy-six (76) sts",
            "sleeve.stitches",
        ),
    ] {
        let found = draft(&changed(words, by));
        let fact = found.fact(key);
        assert!(
            fact.is_some_and(|fact| fact.status == Status::Sure),
            "{by}: {fact:?}"
        );
    }
    assert_eq!(
        draft(&changed("Cast on 46 sts", "Cast on forty-six (46) sts"))
            .fact("sleeve.cuff_stitches")
            .map(|fact| fact.value.clone()),
        Some("46".to_owned())
    );
}

/// A height, the hips or an age are no bust.
#[test]
fn the_bust_is_the_bust() {
    for words in [
        "To fit hips 92 cm\nTo fit bust 86 cm",
        "To fit height 168 cm. To fit bust 86 cm",
    ] {
        let found = draft(&changed("To fit bust 86 cm", words));
        let bust = found.fact("body.bust").map(|fact| fact.value.as_str());
        assert_eq!(bust, Some("86"), "{words}");
    }
}

/// Years are no sizes of their own.
#[test]
fn sizes_by_years() {
    let text = changed(
        "Woman's pullover",
        "Child's pullover\nSIZES 2 yrs 4 yrs 6 yrs 8 yrs",
    );
    let found = draft(&text);
    let sizes = found.fact("sizes").map(|fact| fact.value.as_str());
    assert_eq!(sizes, Some("2, 4, 6, 8"));
}

/// A sentence that goes on from the cast-on to the count after the increases, and a height before the bind-off.
#[test]
fn a_sleeve_in_two_sentences() {
    let words = "Cast on 46 sts. Work 6 cm in k1, p1 rib. Work in st st, inc 1 st each end of every 8th row until there are 76 sts. Work straight until sleeve measures 44 cm, ending with a WS row.\nShape top\nCast off 5 sts at beg of next 2 rows. Dec 1 st each end of next and every foll alt row until 32 sts rem. Cast off 4 sts at beg of next 4 rows.";
    let by = "Cast on 46 sts, work 6 cm in k1, p1 rib, then st st, increasing 1 st at each side every 8th row 15 times = 76 sts. At 44 cm from cast-on edge cast off for the cap at each side every 2nd row: 4 sts once, 3 sts once, 2 sts 3 times, 1 st 10 times, 2 sts twice, 3 sts once.";
    let found = draft(&changed(words, by));
    for (key, value) in [
        ("sleeve.cuff_stitches", "46"),
        ("sleeve.stitches", "76"),
        ("sleeve.length", "44"),
        ("sleeve.cuff_length", "6"),
    ] {
        let fact = found.fact(key);
        assert_eq!(fact.map(|fact| fact.value.as_str()), Some(value), "{key}");
    }
    let cap = found.fact("sleeve.cap");
    assert!(
        cap.is_some_and(|cap| cap.status == Status::Sure && cap.value.starts_with("cast off for")),
        "{cap:?}"
    );
}

const FRONT_OF_ITS_OWN: &str = "FRONT\nCast on 110 sts. Work 6 cm in k1, p1 rib. Work in st st until front measures 38 cm.\nShape armholes\nCast off 7 sts at beg of next 2 rows. Dec 1 st each end of every alt row until 86 sts rem. Work straight until armholes measure 12 cm.\nShape neck\nK 36, turn. Dec 1 st at neck edge of every row until 24 sts rem. Work straight until armhole measures 19 cm.\nCast off 8 sts at beg of next and foll 2 alt rows.\n";

/// A length that stands before the neck is the height of the neck, not of the shoulder.
#[test]
fn a_front_goes_on_beside_its_neck() {
    let text = changed("FRONT\nWork as back.\n", FRONT_OF_ITS_OWN);
    let found = draft(&text);
    let lines = found.fact("armhole.front.lines");
    assert!(
        lines.is_some_and(|lines| lines.value.contains("measure 19 cm")
            && !lines.value.contains("12 cm")
            && lines.status == Status::Sure),
        "{lines:?}"
    );
    let without = text.replacen(
        "Work straight until armholes measure 19 cm.\nShape sh",
        "Shape sh",
        1,
    );
    let later = text.replacen(
        "measure 12 cm.\n",
        "measure 12 cm. Dec 1 st at armhole edge of next 2 rows.\n",
        1,
    );
    for text in [without, later] {
        assert_eq!(status(&text, "armhole.front.lines"), Some(Status::Unsure));
    }
}

/// What is denied, or the name of a colour, is no saddle; nor is a cap that binds off all it has.
#[test]
fn a_saddle_is_one_that_is_meant() {
    for words in [
        "Woman's pullover without saddle shoulders",
        "Woman's pullover\n50 g balls in saddle brown",
        "Woman's pullover (no saddle)",
    ] {
        let found = draft(&changed("Woman's pullover", words));
        assert_eq!(found.construction, "set-in", "{words}");
        assert!(found.fact("shoulder.live_stitches").is_none(), "{words}");
    }
    let named = changed("Woman's pullover", "Woman's pullover with saddle shoulders");
    assert_eq!(
        status(&named, "shoulder.live_stitches"),
        Some(Status::Unsure)
    );
}
