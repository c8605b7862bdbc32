//! The lesson and the exercise sheet as a class reads them, and what is said of bad swatches.

use std::io::Write as _;
use std::process::Command;

use crate::common::drift::{Swatches, file, lesson, read};
use approx::assert_relative_eq;
use capwright::case::{Case, read_case};
use capwright::convert::drift::{DriftLesson, SleevePart, drift};
use capwright::diagnostic::Diagnostic;
use capwright::report::{
    Reader, drift_exercise_json, drift_json, exercise_document, lesson_document,
};

fn drift_text(case: &Case, lesson: &DriftLesson) -> String {
    lesson_document(case, lesson, Reader::Terminal).text()
}

fn drift_exercise_text(case: &Case, lesson: &DriftLesson) -> String {
    exercise_document(case, lesson).text()
}

const FLAT: &str = "stitches = [22, 22.5, 22]\nrows = [30, 30.5, 30]\nwashed = true";
const ROUND: &str = "stitches = [23, 23.5, 23.5]\nrows = [32, 31.5, 32]\nwashed = true";

const BOTH: Swatches<'_> = Swatches {
    flat: Some(FLAT),
    round: Some(ROUND),
    chosen: "",
};

const NO_ROUND: Swatches<'_> = Swatches {
    flat: Some(FLAT),
    round: None,
    chosen: "",
};

const NONE: Swatches<'_> = Swatches {
    flat: None,
    round: None,
    chosen: "",
};

#[test]
fn the_lesson_reads_well() {
    insta::assert_snapshot!("lesson", drift_text(&read(&BOTH), &lesson(&BOTH)));
}

#[test]
fn without_a_round_swatch_the_lesson_says_which_one_to_knit() {
    let text = drift_text(&read(&NO_ROUND), &lesson(&NO_ROUND));
    insta::assert_snapshot!("no_round_swatch", text);
}

#[test]
fn the_exercise_reads_well() {
    insta::assert_snapshot!(
        "exercise",
        drift_exercise_text(&read(&BOTH), &lesson(&BOTH))
    );
}

#[test]
fn each_page_of_the_exercise_fits_a_sheet() {
    for swatches in [BOTH, NO_ROUND, NONE] {
        let text = drift_exercise_text(&read(&swatches), &lesson(&swatches));
        let pages: Vec<&str> = text.split('\u{c}').collect();
        assert_eq!(pages.len(), 2);
        for page in pages {
            assert!(page.lines().count() <= 60, "{} lines", page.lines().count());
            assert!(page.lines().all(|line| line.chars().count() <= 80));
            assert!(page.contains(" 9. ") && !page.contains("10. "));
        }
    }
}

/// By hand, from what the questions print: 22 and 30 flat, 23 and 32 in the round, over 10 cm; upper
/// arm 30.9 cm, cap 11.3 cm, tube 44 cm.
#[test]
fn the_answers_follow_from_the_questions() {
    let swatches = Swatches {
        flat: Some("stitches = 22\nrows = 30"),
        round: Some("stitches = 23\nrows = 32"),
        chosen: "",
    };
    let lesson = lesson(&swatches);
    let exercise = lesson.sizes[0].exercise.as_ref().unwrap();
    assert_eq!(exercise.supposed, None);
    let close = |is: f64, wanted: f64| assert_relative_eq!(is, wanted, epsilon = 0.005);
    close(exercise.drift.stitches_pct, 4.545);
    close(exercise.drift.rows_pct, 6.667);
    // 30.9 x 2.3 = 71.07; 71 / 2.3 = 30.87, 71 / 2.2 = 32.27.
    assert_eq!(exercise.arm.right.count(), 71);
    close(exercise.arm.width.to_cm(), 30.87);
    close(exercise.arm.cap_side.to_cm(), 32.27);
    close(exercise.arm.jump().to_cm(), -1.40);
    // 30.9 x 2.2 = 67.98; 68 / 2.3 = 29.57.
    assert_eq!(exercise.arm.wrong.count(), 68);
    close(exercise.arm.wrong_width.to_cm(), 29.57);
    // 71 - 68 = 3 are made in the first round.
    assert_eq!(exercise.arm.made_at_join(), 3);
    // 11.3 x 3 = 33.9, one of them picked up: 32.9, nearest even 32; 11.3 x 3.2 = 36.16: 35.16, 36; 37 / 3 = 12.33.
    assert_eq!((exercise.cap.right, exercise.cap.wrong), (32, 36));
    close(exercise.cap.wrong_length.to_cm(), 12.333);
    // 33 rows, the picked-up one among them, of a third of a centimetre.
    close(exercise.cap.right_length.to_cm(), 11.0);
    // 44 x 3.2 = 140.8, one of them joins: 140; 44 x 3 = 132: 131; 132 / 3.2 = 41.25.
    let tube = exercise.tube.unwrap();
    assert_eq!((tube.right, tube.wrong), (140, 131));
    close(tube.wrong_length.to_cm(), 41.25);
    // 71 / 2.325 = 30.54, 71 / 2.275 = 31.21.
    close(exercise.misread[0].1.to_cm(), 30.54);
    close(exercise.misread[1].1.to_cm(), 31.21);
    let text = drift_exercise_text(&read(&swatches), &lesson);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for answer in [
        "23 / 22 = 1.045, so +4.5 %",
        "30.9 x 23 / 10 = 71.07, so 71 stitches. They measure 30.87 cm",
        "68 x 10 / 23 = 29.57 cm, which is 1.33 cm too narrow",
        "just there the sleeve gets 1.40 cm narrower",
        "Make 71 - 68 = 3 in the first round",
        "37 x 10 / 30 = 12.33 cm, which is 1.03 cm too deep; the right ones measure 11.00 cm",
        "132 x 10 / 32 = 41.25 cm, which is 2.75 cm too short",
    ] {
        assert!(words.contains(answer), "{answer}\n{text}");
    }
}

/// Without a second swatch the sheet supposes a drift and says so.
#[test]
fn an_exercise_without_two_swatches_supposes_one() {
    for (swatches, part, words) in [
        (NO_ROUND, SleevePart::Tube, "suppose it: 4 % tighter"),
        (
            Swatches {
                round: Some(ROUND),
                ..NONE
            },
            SleevePart::Cap,
            "suppose that flat is 4 % looser",
        ),
    ] {
        let lesson = lesson(&swatches);
        assert_eq!(lesson.sizes[0].exercise.unwrap().supposed, Some(part));
        let text = drift_exercise_text(&read(&swatches), &lesson);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(words), "{text}");
        let json = drift_exercise_json(&read(&swatches), &lesson);
        assert_eq!(json["exercises"].as_array().unwrap().len(), 9);
    }
}

#[test]
fn the_json_has_the_numbers_of_the_text() {
    let lesson = lesson(&BOTH);
    let json = drift_json(&read(&BOTH), &lesson);
    let size = &json["sizes"][0];
    assert_eq!(size["sleeves"].as_array().unwrap().len(), 5);
    assert_eq!(size["sweeps"].as_array().unwrap().len(), 2);
    assert_eq!(size["spreads"].as_array().unwrap().len(), 6);
    assert_eq!(json["verdicts"].as_array().unwrap().len(), 2);
    assert_eq!(json["drift"]["stitches"]["verdict"], "differ");
    let arm = &size["spreads"][0];
    assert_eq!(arm["measure"], "upper arm");
    assert_eq!(arm["by"][0]["input"], "round stitches");
    let share = arm["by"][0]["variance_share"].as_f64().unwrap();
    assert_relative_eq!(share, 1.0);
}

/// Nothing is assumed in silence: the gauge taken, its effect over the usual range, how to end it.
#[test]
fn what_is_assumed_is_said_with_its_effect_and_its_cure() {
    let lesson = lesson(&NONE);
    let parts: Vec<SleevePart> = lesson.assumptions.iter().map(|a| a.part).collect();
    assert_eq!(parts, [SleevePart::Tube, SleevePart::Cap]);
    let text = drift_text(&read(&NONE), &lesson);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "There is no swatch in the round: the pattern gauge, 22.0 sts and 30.0 rows, is taken for the tube.",
        // 68 stitches at 22: 30.9 cm; at 20.68 (6 % looser) 32.9, at 23.32 29.2.
        "upper arm from 32.9 cm to 29.2 cm (stitches)",
        "A swatch in the round ends the guessing.",
        "There is no flat swatch: the pattern gauge, 22.0 sts and 30.0 rows, is taken for the cap.",
        "A flat swatch ends the guessing.",
        "Knit one swatch in the round",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    let found = &lesson.findings;
    let said = found.iter().find(|d| d.code.id == "gauge-assumed").unwrap();
    assert!(said.message.contains("neither flat nor in the round"));
}

/// What is said of a case with this flat swatch, whether it can be used or not.
fn said(flat: &str, round: &str) -> Vec<Diagnostic> {
    let swatches = Swatches {
        flat: Some(flat),
        round: Some(round),
        chosen: "",
    };
    let (case, mut said) = read_case(&file(&swatches));
    match case.map(|case| drift(&case, None)) {
        Some(Ok(lesson)) => said.extend(lesson.findings.into_iter().chain(lesson.verdicts)),
        Some(Err(found)) => said.extend(found),
        None => {}
    }
    said
}

#[track_caller]
fn says(flat: &str, code: &str, words: &str) {
    let found = said(flat, ROUND);
    let one = found.iter().find(|d| d.code.id == code);
    let one = one.unwrap_or_else(|| panic!("{code} is not in {found:#?}"));
    assert!(one.message.contains(words), "{}", one.message);
    assert!(!one.advice().is_empty());
}

#[test]
fn bad_swatches_are_answered_in_sentences() {
    says(
        "stitches = 0\nrows = 30",
        "out-of-range",
        "gauge.flat.stitches is 0",
    );
    says(
        "stitches = []\nrows = 30",
        "wrong-type",
        "gauge.flat.stitches",
    );
    says("rows = 30", "missing-key", "lacks gauge.flat.stitches");
    says(
        "stitches = 22\nrows = 30",
        "swatch-one-count",
        "only one count of stitches",
    );
    says(
        "stitches = [22, 44]\nrows = 30",
        "swatch-counts-disagree",
        "cannot both be right for one swatch",
    );
    says(
        "stitches = [22, 22.5]\nrows = 30\nover = [10, 10, 10]",
        "list-length",
        "There are 2 counts of stitches but 3 lengths",
    );
    says(
        "stitches = 3\nrows = 4\nover = 1.27",
        "swatch-too-short",
        "were counted over 1.27 cm only",
    );
    says(
        "stitches = 30\nrows = 22",
        "swatch-exchanged",
        "Were stitches and rows exchanged",
    );
    says(
        "stitches = 22\nrows = 30\nover = 10.16",
        "swatch-lengths-mixed",
        "as 10 cm to 4 in",
    );
    says(
        "stitches = 22\nrows = 30\nwashed = false",
        "swatch-washed-mixed",
        "The flat swatch was not washed, the round one was washed",
    );
    says(
        "stitches = 22\nrows = 30\nfloats = true",
        "swatch-floats-flat",
        "strip with floats",
    );
}

#[test]
fn exchanged_counts_are_asked_about_and_not_changed() {
    let swatches = Swatches {
        flat: Some("stitches = 25\nrows = 22"),
        ..NONE
    };
    let case = read(&swatches);
    // Such a cap may not even be feasible; what was counted stays what was counted.
    let found = match drift(&case, None) {
        Ok(lesson) => {
            assert_relative_eq!(lesson.gauge.cap.stitches_per_10cm(), 25.0);
            lesson.findings
        }
        Err(found) => found,
    };
    assert!(
        found.iter().any(|d| d.code.id == "swatch-exchanged"),
        "{found:#?}"
    );
}

#[test]
fn washing_is_told_with_its_effect() {
    let flat = format!(
        "{FLAT}\n[gauge.flat.before_washing]\nstitches = [23, 23, 23.5]\nrows = [30, 30, 30.5]"
    );
    let found = said(&flat, ROUND);
    let washing = found
        .iter()
        .find(|d| d.code.id == "swatch-washing")
        .unwrap();
    assert!(
        washing
            .message
            .starts_with("Washing changed the stitches per 10 cm")
    );
}

#[test]
fn the_command_prints_the_lesson_and_the_sheet() {
    let mut case = tempfile::NamedTempFile::new().unwrap();
    case.write_all(file(&BOTH).as_bytes()).unwrap();
    let run = |options: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_capwright"));
        let out = command
            .arg("drift")
            .arg(case.path())
            .args(options)
            .output()
            .unwrap();
        (out.status.code(), String::from_utf8(out.stdout).unwrap())
    };
    let (code, text) = run(&[]);
    assert_eq!(code, Some(0));
    assert!(text.starts_with("Bell heather pullover - flat against round (cm)"));
    let (code, sheet) = run(&["--exercise"]);
    assert_eq!(code, Some(0));
    assert!(sheet.contains("Questions") && sheet.contains("Answers"));
    let (code, json) = run(&["--format", "json"]);
    assert_eq!(code, Some(0));
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["case"], "Bell heather pullover");
}
