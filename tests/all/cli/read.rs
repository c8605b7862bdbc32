//! `read`, its repairs and its rewriting, through the command line.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

/// An Australian sleeve top, paraphrased (issuhub.com/view/index/9142?pageIndex=49): six sizes, and
/// a list of seven numbers. Without one of its fives all six sizes end at 10 stitches.
const SEVEN_FOR_SIX: &str = "Cast off 4 (5, 5, 5, 6, 6, 7) sts at beg of next 2 rows. Dec 1 st at \
    each end of next 8 (8, 8, 9, 10, 10) rows, then each end of every RS row 10 (10, 12, 12, 12, \
    12) times, then next 6 rows. Cast off 4 sts at beg of next 2 rows. Cast off rem 10 sts.";
const SIX: &str = "74 (76, 80, 84, 86, 88)";

fn capwright(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(folder)
        .output()
        .expect("capwright runs")
}

fn with_lines(lines: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("cap.txt"), lines).unwrap();
    folder
}

fn finals(output: &Output) -> Vec<u64> {
    let result: Value = serde_json::from_slice(&output.stdout).unwrap();
    let sizes = result["sizes"].as_array().unwrap();
    sizes
        .iter()
        .map(|size| size["final_stitches"].as_u64().unwrap())
        .collect()
}

#[test]
fn a_misprint_is_named_and_changed_only_when_asked() {
    let folder = with_lines(SEVEN_FOR_SIX);
    let args = ["read", "cap.txt", "--stitches", SIX, "--format", "json"];
    let as_printed = capwright(folder.path(), &args);
    assert_eq!(as_printed.status.code(), Some(1));
    let result: Value = serde_json::from_slice(&as_printed.stdout).unwrap();
    let diagnostics = result["diagnostics"].as_array().unwrap();
    let list = diagnostics
        .iter()
        .find(|d| d["code"] == "size-list-length")
        .unwrap();
    let repair = &list["repairs"][0];
    let (from, to) = (
        repair["span"][0].as_u64().unwrap(),
        repair["span"][1].as_u64().unwrap(),
    );
    let changed = SEVEN_FOR_SIX.get(from as usize..to as usize).unwrap();
    assert!(changed.contains("5, 5, 5"), "{changed}");

    let accepted = capwright(folder.path(), &[&args[..], &["--accept-repair"]].concat());
    assert_eq!(accepted.status.code(), Some(0));
    // As published: the final cast-off of all six sizes.
    assert_eq!(finals(&accepted), [10; 6]);
    let said = String::from_utf8(accepted.stderr).unwrap();
    assert!(
        said.contains("as --accept-repair asked; the file is not changed"),
        "{said}"
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("cap.txt")).unwrap(),
        SEVEN_FOR_SIX
    );
}

#[test]
fn a_repair_that_nobody_proposed_is_refused() {
    let folder = with_lines("Bind off 5 sts at beg of next 2 rows. Bind off rem 10 sts.");
    let args = ["read", "cap.txt", "--stitches", "20", "--accept-repair"];
    let output = capwright(folder.path(), &args);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("nothing in the lines calls for one"),
        "{said}"
    );
}

#[test]
fn lines_are_written_back_in_either_terms() {
    let folder = with_lines(SEVEN_FOR_SIX);
    let args = [
        "read",
        "cap.txt",
        "--stitches",
        SIX,
        "--accept-repair",
        "--rewrite",
    ];
    for (terms, verb) in [("us", "Bind off"), ("uk", "Cast off")] {
        let output = capwright(folder.path(), &[&args[..], &[terms]].concat());
        let text = String::from_utf8(output.stdout).unwrap();
        assert!(text.starts_with(verb), "{text}");
        let again = with_lines(&text);
        let read = ["read", "cap.txt", "--stitches", SIX, "--format", "json"];
        let output = capwright(again.path(), &read);
        assert_eq!(finals(&output), [10; 6]);
    }
}

/// "Next and every alternate row 4 times" is 4 rows in all (Beehive for Bairns vol 2: 76 stitches,
/// cast off 3 twice, 62 left); the other reading takes a fifth.
#[test]
fn a_case_picks_the_reading() {
    let case = |readings: &str| {
        format!(
            "units = \"cm\"\n[gauge.pattern]\nstitches = 22\nrows = 30\n[sleeve]\nstitches = 76\n\
             cap = \"Cast off 3 sts at beg of next 2 rows. Dec 1 st each end of next and every alternate \
             row 4 times.\"\n[armhole]\nedge = 18\nunderarm = 2\ndepth = 17\n{readings}"
        )
    };
    for (readings, left) in [("", 62), ("[readings]\nnext_and_every = \"second\"\n", 60)] {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("case.toml"), case(readings)).unwrap();
        let output = capwright(folder.path(), &["read", "case.toml", "--format", "json"]);
        assert_eq!(
            finals(&output),
            [left],
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
    }
}

#[test]
fn sizes_stand_side_by_side() {
    let folder = with_lines(SEVEN_FOR_SIX);
    let args = ["read", "cap.txt", "--stitches", SIX, "--accept-repair"];
    let output = capwright(folder.path(), &args);
    insta::assert_snapshot!("six-sizes-read", String::from_utf8(output.stdout).unwrap());
}
