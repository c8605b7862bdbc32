//! `new` with piped answers: what it writes converts; what cannot be is asked for again.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn answered(folder: &Path, answers: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["new", "mine.toml"])
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It may end before every answer is read.
    let _ = child.stdin.take().unwrap().write_all(answers.as_bytes());
    child.wait_with_output().unwrap()
}

/// Units, title, sizes, gauge, swatches, sleeve, armhole, shoulder, wearer, wording.
const ANSWERS: &str = "in
Marsh pullover


22
30
no
yes

23
31.5
74

Bind off 5 sts at the beginning of the next 2 rows (64 sts).
Decrease 1 st each end of the next 3 rows, then every other row 13 times, then the next 3 rows (26 sts).
Bind off 3 sts at the beginning of the next 4 rows.
Bind off the remaining 14 sts.

1
46
17.5
measures
no
8.2
0.75
7.5
no
bust
woman
36

us
german

";

#[test]
fn answers_make_a_case_that_converts() {
    let folder = tempfile::tempdir().unwrap();
    let output = answered(folder.path(), ANSWERS);
    let asked = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{asked}");
    assert!(
        String::from_utf8(output.stdout)
            .unwrap()
            .contains("converts")
    );
    let text = fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    for line in [
        "units = \"in\"",
        "title = \"Marsh pullover\"",
        "turn = \"german\"",
        "bust = 36",
    ] {
        assert!(text.contains(line), "{line} in\n{text}");
    }
    // One comment a key.
    let keys = text.lines().filter(|line| line.contains(" = ")).count();
    let comments = text.lines().filter(|line| line.starts_with("# ")).count();
    assert!(comments >= keys, "{text}");
    let converted = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", "mine.toml"])
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert_eq!(converted.status.code(), Some(0));
    assert!(
        String::from_utf8(converted.stdout)
            .unwrap()
            .starts_with("Marsh pullover")
    );
}

#[test]
fn an_answer_that_cannot_be_is_asked_for_again() {
    let folder = tempfile::tempdir().unwrap();
    let answers = ANSWERS
        .replacen("in\n", "feet\nin\n", 1)
        .replacen("22\n30\n", "900\n22\nmany\n30\n", 1)
        .replacen("8.2\n", "5\n", 1)
        // The edge is shorter than the depth: seen only once both are there.
        .trim_end()
        .to_owned()
        + "\n\n8.2\n";
    let output = answered(folder.path(), &answers);
    let asked = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{asked}");
    for said in [
        "must be one of \"cm\", \"in\"",
        "lies within 2 to 400",
        "'many' is not a number",
        "shorter than its depth",
    ] {
        assert!(asked.contains(said), "{said} in\n{asked}");
    }
    let text = fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    assert!(text.contains("edge = 8.2"), "{text}");
}

#[test]
fn a_misprint_is_mended_when_asked() {
    let folder = tempfile::tempdir().unwrap();
    let answers = ANSWERS
        .replace("13 times, then", "12 times, then")
        .replacen("14 sts.\n\n", "14 sts.\n\n2\n", 1);
    let output = answered(folder.path(), &answers);
    let asked = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{asked}");
    let text = fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    assert!(text.contains("every other row 13 times"), "{text}");
}

#[test]
fn nothing_is_written_when_the_answers_end_or_the_file_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.toml");
    let half: Vec<&str> = ANSWERS.split_inclusive('\n').take(12).collect();
    assert_eq!(
        answered(folder.path(), &half.concat()).status.code(),
        Some(2)
    );
    assert_eq!(folder.path().read_dir().unwrap().count(), 0);
    fs::write(&path, "mine").unwrap();
    assert_eq!(answered(folder.path(), "no\n").status.code(), Some(2));
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    let output = answered(folder.path(), &format!("yes\n{ANSWERS}"));
    assert_eq!(output.status.code(), Some(0));
    assert!(fs::read_to_string(&path).unwrap().contains("Marsh"));
}
