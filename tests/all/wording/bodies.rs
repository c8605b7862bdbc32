//! Bodies that are not sewn from pieces with a bound-off underarm: their words, knitted back.

use capwright::case::{BodyMade, Style, Terms, Underarm, read_case};
use capwright::convert::convert;
use capwright::diagnostic::Level;
use capwright::measure::{Rows, Stitches};
use capwright::needle::{knit_sentences, prove};
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Sleeve, Zone};
use capwright::wording::{SleeveText, before_starting, write};

use BodyMade::{Pieces, Round, Steeked};
use Underarm::{BoundOff, CastOn, Live};

/// Crown of 5, 5 a flank, base of 4 and 4 turn pairs.
fn plan() -> CapPlan {
    let flank = FlankPlan {
        moves: vec![Move::new(2, 0), Move::new(1, 0), Move::new(2, 0)],
        zones: vec![Zone {
            stitches: Stitches(5),
            rows: Rows(9),
        }],
    };
    CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(5),
            live: Stitches(0),
            rows: Rows(6),
        },
        base_front: Stitches(2),
        base_back: Stitches(2),
        front: flank.clone(),
        back: flank,
    }
}

/// The instructions, knitted back, and what is said before them.
fn written(style: Style) -> (Vec<String>, Vec<String>) {
    let plan = plan();
    let input = SleeveText {
        plan: &plan,
        tube: None,
        cuff: None,
        style,
        sleeve: Sleeve::Both,
    };
    let sentences = write(&input).sentences();
    let (knitted, said) = knit_sentences(&sentences);
    assert_eq!(said, [], "{}", sentences.join("\n"));
    assert_eq!(
        prove(&plan, (None, None), style, Sleeve::Both, &knitted),
        []
    );
    (sentences, before_starting(&input))
}

fn base(style: Style) -> String {
    let (sentences, _) = written(style);
    let base = sentences.iter().find(|said| said.starts_with("Base"));
    base.unwrap().clone()
}

#[test]
fn the_base_is_picked_up_from_what_is_there() {
    let style = |underarm, body, lost| Style {
        underarm,
        body,
        in_seam: Stitches(lost),
        ..Style::default()
    };
    for (underarm, body, lost, words) in [
        (
            BoundOff,
            Pieces,
            0,
            "pick up and k 4 sts, one in each bound-off st beside the seam",
        ),
        (
            BoundOff,
            Pieces,
            2,
            "pick up and k 4 sts, one in each bound-off st that shows: 4 of the 6, 2 lie in the seam",
        ),
        (BoundOff, Pieces, 1, "4 of the 5, 1 lies in the seam"),
        (
            CastOn,
            Pieces,
            2,
            "one in each cast-on st that shows: 4 of the 6, 2 lie in the seam",
        ),
        (
            BoundOff,
            Round,
            0,
            "pick up and k 4 sts, one in each bound-off st of the underarm",
        ),
        (
            CastOn,
            Round,
            0,
            "pick up and k 4 sts, one in each cast-on st of the underarm",
        ),
        (
            BoundOff,
            Steeked,
            0,
            "one in each bound-off st of the underarm",
        ),
        (Live, Round, 0, "k the 4 live sts from the holder"),
        (Live, Steeked, 0, "k the 4 live sts from the holder"),
    ] {
        let said = base(style(underarm, body, lost));
        assert!(said.contains(words), "{said}");
    }
    let uk = Style {
        terms: Terms::Uk,
        ..style(BoundOff, Round, 0)
    };
    assert!(base(uk).contains("cast-off st of the underarm"));
}

/// A number of stitches in the seam that does not add up is noticed, whichever it is.
#[test]
fn stitches_in_the_seam_add_up() {
    let style = Style {
        in_seam: Stitches(2),
        ..Style::default()
    };
    let (sentences, _) = written(style);
    for (from, to) in [
        ("4 of the 6", "5 of the 6"),
        ("4 of the 6", "4 of the 7"),
        ("2 lie in", "3 lie in"),
        ("k 4 sts, one", "k 5 sts, one"),
    ] {
        let changed: Vec<String> = sentences
            .iter()
            .map(|said| said.replace(from, to))
            .collect();
        assert_ne!(changed, sentences);
        let (_, said) = knit_sentences(&changed);
        assert!(said.iter().any(|d| d.level == Level::Error), "{to}");
    }
}

/// What cannot be undone is said before it is done, and where to pick up.
#[test]
fn a_steek_is_secured_before_it_is_cut() {
    let style = Style {
        body: Steeked,
        underarm: Live,
        ..Style::default()
    };
    let (sentences, before) = written(style);
    let at = |word: &str| before.iter().position(|said| said.contains(word)).unwrap();
    assert!(at("secure first") < at("Only then cut"));
    assert!(before[at("secure first")].starts_with("Caution"));
    assert!(
        before
            .iter()
            .all(|said| !said.contains("sides of the body first"))
    );
    assert!(
        before
            .last()
            .unwrap()
            .contains("to the held sts of the underarm")
    );
    assert!(
        sentences
            .iter()
            .any(|said| said.ends_with("the needle goes in between the body and the steek."))
    );
    let (sentences, before) = written(Style::default());
    assert!(before.iter().all(|said| !said.contains("cut")));
    assert!(sentences.iter().all(|said| !said.contains("steek")));
}

const CASE: &str = include_str!("../../../cases/tern-harbour.toml");

fn with(armhole: &str, wording: &str) -> String {
    let from = CASE.find("[armhole]").unwrap();
    let to = CASE.find("[body]").unwrap();
    let text = format!("{}{armhole}\n{}", &CASE[..from], &CASE[to..]);
    text.replace("terms = \"us\"", wording)
}

/// From the case: six bound off at each edge, two of them in the seam, are "4 of the 6" twice.
#[test]
fn a_case_says_how_its_body_is_made() {
    let lost = "[armhole]\nrows = 56\nbound_off = 6\nseam_stitches = 2";
    let words = |armhole: &str, wording: &str| {
        let (case, said) = read_case(&with(armhole, wording));
        let case = case.unwrap_or_else(|| panic!("{said:?}"));
        let found = convert(&case, None).unwrap();
        let written = &found.sizes[0].written[0];
        assert!(written.knits_back);
        [written.before.clone(), written.instructions.sentences()]
            .concat()
            .join("\n")
    };
    let text = words(lost, "terms = \"us\"");
    assert!(text.contains("one in each bound-off st that shows: 8 of the 12, 4 lie in the seam"));
    assert!(text.contains("Of the 12 sts at the underarm 4 lie in the seam"));
    let round = words(
        "[armhole]\nrows = 56\nbound_off = 4",
        "body = \"round\"\nunderarm = \"live\"",
    );
    assert!(
        round.contains("it has no side seams")
            && round.contains("k the 8 live sts from the holder")
    );
    // The lines' usual seam stitch is not taken off where there is no seam.
    let lines = "[armhole]\nstitches = 90\nlines = \"Bind off 5 sts at beg of next 2 rows. Work even for 54 rows. Bind off rem sts.\"";
    assert!(
        words(lines, "terms = \"us\"")
            .contains("pick up and k 8 sts, one in each bound-off st beside")
    );
    assert!(
        words(lines, "body = \"steeked\"")
            .contains("pick up and k 10 sts, one in each bound-off st of the underarm")
    );
}

#[test]
fn a_seam_that_is_not_there_takes_no_stitches() {
    let lost = "[armhole]\nrows = 56\nbound_off = 6\nseam_stitches = 2";
    for wording in [
        "body = \"round\"",
        "body = \"steeked\"",
        "underarm = \"live\"",
    ] {
        let (case, said) = read_case(&with(lost, wording));
        assert!(case.is_none(), "{wording}");
        assert!(
            said.iter()
                .any(|d| d.code.id == "keys-clash" && d.message.contains("seam")),
            "{said:?}"
        );
    }
    for wording in ["body = \"knitted\"", "underarm = \"open\"", "body = 3"] {
        let (case, said) = read_case(&with(lost, wording));
        assert!(case.is_none(), "{wording}: {said:?}");
    }
    let none = "[armhole]\nrows = 56\nbound_off = 6\nseam_stitches = 0";
    assert!(read_case(&with(none, "body = \"round\"")).0.is_some());
}
