//! What a case asks of its repeat is what is held against the arm, size by size; where a pattern breaks or lies beside the
//! middle, the words say how.

use capwright::case::read_case;
use capwright::convert::{SizeConversion, convert};
use capwright::diagnostic::Diagnostic;

const PLOVER: &str = include_str!("../../data/needles/plover.toml");

fn all_of(text: &str) -> Vec<SizeConversion> {
    let (case, said) = read_case(text);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    convert(&case, None)
        .unwrap_or_else(|said| panic!("{said:?}"))
        .sizes
}

fn said(size: &SizeConversion, code: &str) -> String {
    let all = size.findings.iter().filter(|d| d.code.id == code);
    let words = all.map(|d: &Diagnostic| format!("{} -> {}", d.message, d.advice()));
    words.collect::<Vec<_>>().join("|")
}

fn with(repeat: &str, stitch: &str) -> String {
    let sleeve = format!("seam_stitches = 1\n{repeat}");
    PLOVER.replacen("seam_stitches = 1", &sleeve, 1) + "\n[stitch]\n" + stitch
}

/// 78 stitches are 19 times 4 and 2: exactly what was asked, and no repeat that breaks unasked.
#[test]
fn a_repeat_that_was_asked_for_is_no_news() {
    let asked = all_of(&with(
        "repeat = { multiple = 4, plus = 2 }",
        "ground = \"2x2 rib\"\n",
    ));
    assert_eq!(asked[0].fit.plan.upper_arm().count() % 4, 2);
    assert_eq!(said(&asked[0], "stitch-repeat-open"), "");
    let open = all_of(&with("repeat = { multiple = 2 }", "ground = \"2x2 rib\"\n"));
    let breaks = !open[0].fit.plan.upper_arm().count().is_multiple_of(4);
    assert_eq!(!said(&open[0], "stitch-repeat-open").is_empty(), breaks);
}

/// A chart wider than the arm has no repeat that could be counted.
#[test]
fn a_chart_wider_than_the_arm_is_called_that() {
    let chart = format!("rows = \"\"\"\n{}p\n\"\"\"\n", "k".repeat(89));
    let size = &all_of(&with("", &chart))[0];
    let told = said(size, "stitch-repeat-open");
    let arm = size.fit.plan.upper_arm().count();
    assert!(
        told.contains(&format!("90 sts wide and the upper arm has {arm}")),
        "{told}"
    );
    assert!(
        !told.contains("0 repeats") && told.contains("no wider than the upper arm"),
        "{told}"
    );
}

/// Two sizes with a multiple each.
#[test]
fn a_multiple_may_differ_by_size() {
    let set = PLOVER
        .replacen(
            "units = \"cm\"",
            "units = \"cm\"\nsizes = [\"S\", \"M\"]",
            1,
        )
        .replacen(
            "seam_stitches = 1",
            "seam_stitches = 1\nrepeat = { multiple = [6, 8], plus = [0, 4] }",
            1,
        );
    let sizes = all_of(&set);
    let arms: Vec<u32> = sizes
        .iter()
        .map(|size| size.fit.plan.upper_arm().count())
        .collect();
    assert!(arms[0].is_multiple_of(6) && arms[1] % 8 == 4, "{arms:?}");
    let wrong = set.replace("[6, 8]", "[6, 8, 9]");
    assert!(
        read_case(&wrong)
            .1
            .iter()
            .any(|d| d.code.id == "list-length")
    );
}

/// By hand: 8 stitches on 19 leave 11, five before the panel and six after it.
#[test]
fn a_panel_beside_the_middle_names_its_sides() {
    let panel = "[stitch.panels.cable]\nrows = \"kkkkpppp\"\nat = \"crown\"\n";
    let size = &all_of(&format!("{PLOVER}\n{panel}"))[0];
    assert_eq!(size.fit.plan.crown.stitches.count(), 19);
    let told = said(size, "stitch-off-centre");
    assert!(
        told.contains("5 sts before it in the order of the pick-up and 6 after it"),
        "{told}"
    );
}

/// Where stitches are made at the corner after the row that joins, the words say why like stitches lie side by side.
#[test]
fn the_row_that_joins_says_why_the_pattern_leaps() {
    let size = &all_of(&with("", "ground = \"2x2 rib\"\n"))[0];
    let made = size.fit.plan.join_change != 0;
    let pattern = size.written[0].pattern.as_ref().unwrap();
    let told = pattern.words.section.steps.iter().any(|step| {
        step.sentence
            .contains("the pattern leaps at the base marker")
    });
    assert!(made && told);
    let plain = &all_of(&with(
        "",
        "ground = \"2x2 rib\"\n[fit]\nplain_join = true\n",
    ))[0];
    let pattern = plain.written[0].pattern.as_ref().unwrap();
    assert!(
        pattern
            .words
            .section
            .steps
            .iter()
            .all(|step| !step.sentence.contains("leaps"))
    );
}

/// A cap whose fullness lies along its flanks is not cured by gathers at the crown: none are advised.
#[test]
fn gathers_are_advised_where_they_help() {
    let size = &all_of(PLOVER)[0];
    let told = said(size, "puffed-crown");
    // By hand: 19 stitches at 21 to 10 cm are 9.0 cm, and the crown's 28 rows at 29 are 9.7.
    let crown = size.fit.plan.crown;
    assert_eq!((crown.stitches.count(), crown.rows.count()), (19, 28));
    assert!(crown.stitches.as_f64() / 21.0 < crown.rows.as_f64() / 29.0);
    assert!(
        told.contains("lies along the flanks") && !told.contains("pick up 13"),
        "{told}"
    );
}

#[test]
fn what_is_no_choice_has_advice_of_its_own() {
    for (text, word) in [
        (
            format!("{PLOVER}\n[stitch.panels.a]\nrows = \"kp\"\nat = \"saddle\"\n"),
            "live_stitches",
        ),
        (
            format!("{PLOVER}\n[stitch]\nrows = \"\"\n"),
            "Write a line for every row",
        ),
        (
            format!("{PLOVER}\n[stripes]\nbody = [\"navy\", 4]\n"),
            "must be a list such as",
        ),
    ] {
        let said = read_case(&text).1;
        let words: Vec<String> = said
            .iter()
            .map(|d| format!("{} -> {}", d.message, d.advice()))
            .collect();
        let words = words.join("|");
        assert!(words.contains(word), "{words}");
        assert!(
            !words.contains("Keep one of them") && !words.contains("an array"),
            "{words}"
        );
    }
}
