//! Bad input: one clear sentence each, with the place and the next step, exit code 2, nothing
//! written.

use std::fs;
use std::process::{Command, Output};

/// A case that converts; each test below spoils one thing in it.
const GOOD: &str = r#"
title = "Spoilt"
units = "cm"

[gauge.pattern]
stitches = 22
rows = 30

[gauge.flat]
stitches = 22
rows = 30

[gauge.round]
stitches = 23
rows = 31

[sleeve]
stitches = 70
cap = """
Bind off 5 sts at the beginning of the next 2 rows.
Decrease 1 st each end of the next 3 rows, then every other row 11 times, then the next 3 rows.
Bind off 3 sts at the beginning of the next 4 rows.
Bind off the remaining 14 sts.
"""
cuff_stitches = 42
length = 43

[armhole]
edge = 18.2
underarm = 1.8
depth = 17.0
"#;

fn capwright(case: &str) -> (Output, bool) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    fs::write(&path, case).unwrap();
    let out = folder.path().join("out.txt");
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args([
            "convert",
            path.to_str().unwrap(),
            "-o",
            out.to_str().unwrap(),
        ])
        .output()
        .expect("capwright runs");
    (output, out.exists())
}

/// The same case with one text replaced; it must be there.
fn spoilt(from: &str, to: &str) -> String {
    assert!(GOOD.contains(from), "the case has no `{from}`");
    GOOD.replace(from, to)
}

/// Converting must end with code 2, write nothing, and say each of these.
#[track_caller]
fn refused(case: &str, wanted: &[&str]) {
    let (output, written) = capwright(case);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(!written, "a file was written");
    assert!(output.stdout.is_empty());
    for words in wanted {
        assert!(said.contains(words), "`{words}` is not in:\n{said}");
    }
    assert!(
        said.contains("help:") || said.starts_with("error:"),
        "no next step in:\n{said}"
    );
}

#[test]
fn the_case_itself_converts() {
    let (output, written) = capwright(GOOD);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(written);
}

/// The cap is still worth having: the pattern ends at the join and a finding says why.
#[test]
fn a_tube_too_short_for_its_shaping() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    let convert = |case: &str| {
        fs::write(&path, case).unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
            .args(["convert", path.to_str().unwrap(), "--format", "json"])
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0));
        let result: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        result["sizes"][0].clone()
    };
    let short = convert(&spoilt("length = 43", "length = 2"));
    assert_eq!(short["sleeve"]["rounds"], serde_json::Value::Null);
    let findings = short["findings"].as_array().unwrap();
    assert!(
        findings.iter().any(|f| f["code"] == "tube-too-short"),
        "{findings:?}"
    );
    // A bell sleeve widens, and a cuff that is part of the length is taken off it:
    // (43 - 5) cm at 31 rows are 117.8 rows (arithmetic), the first of them the row of the join.
    let bell = convert(&spoilt(
        "cuff_stitches = 42",
        "cuff_stitches = 90\ncuff_length = 5",
    ));
    assert_eq!(bell["sleeve"]["widens"], true);
    assert_eq!(bell["sleeve"]["rounds"], 118 - 1);
    let findings = bell["findings"].as_array().unwrap();
    assert!(findings.iter().all(|f| f["code"] != "tube-too-short"));
}

#[test]
fn a_cuff_longer_than_its_sleeve() {
    refused(
        &spoilt("length = 43", "length = 43\ncuff_length = 50"),
        &["The cuff of 50.0 cm is not shorter than the sleeve of 43.0 cm"],
    );
}

#[test]
fn a_missing_file() {
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", "no-such-case.toml"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        said,
        "error: no-such-case.toml cannot be read: there is no such file.\n"
    );
}

#[test]
fn not_text_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    fs::write(&path, [0x74, 0x69, 0xff, 0xfe]).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", path.to_str().unwrap()])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said.contains("is not text in UTF-8: byte 2 cannot be read"),
        "{said}"
    );
}

#[test]
fn broken_toml() {
    refused(
        &spoilt("units = \"cm\"", "units = \"cm"),
        &["This is not TOML", "case.toml:3"],
    );
}

#[test]
fn an_unknown_key_names_the_nearest() {
    refused(
        &spoilt("cuff_stitches", "cuf_stitches"),
        &[
            "sleeve.cuf_stitches is not a key of a case",
            "Did you mean `cuff_stitches`?",
        ],
    );
}

#[test]
fn every_problem_is_reported_not_the_first() {
    let case = spoilt("units = \"cm\"", "units = \"ft\"").replace("depth = 17.0", "deepth = 17.0");
    refused(
        &case,
        &[
            "units is \"ft\"",
            "armhole.deepth",
            "The case lacks armhole.depth",
        ],
    );
}

#[test]
fn a_missing_key() {
    refused(
        &spoilt("stitches = 70\n", ""),
        &[
            "The case lacks sleeve.stitches",
            "Add it, e.g. `stitches = 70`",
        ],
    );
}

#[test]
fn a_gauge_that_cannot_be() {
    for (gauge, words) in [
        ("-22", "gauge.pattern.stitches is -22"),
        ("0", "gauge.pattern.stitches is 0"),
        ("inf", "gauge.pattern.stitches is inf"),
        ("nan", "gauge.pattern.stitches is NaN"),
        ("350", "350 stitches over 10.0 cm would be 350.0 per 10 cm"),
        ("\"many\"", "'many' is not a number"),
    ] {
        let case = spoilt(
            "[gauge.pattern]\nstitches = 22",
            &format!("[gauge.pattern]\nstitches = {gauge}"),
        );
        refused(&case, &[words]);
    }
}

#[test]
fn four_inches_written_as_ten() {
    let case = spoilt("stitches = 23\n", "stitches = 23\nover = 4\n");
    refused(
        &case,
        &[
            "23 stitches over 4 cm are 57.5 per 10 cm",
            "over 4 in they would be 22.6. Was the length in inches?",
        ],
    );
}

#[test]
fn a_list_with_the_wrong_number_of_sizes() {
    let case = spoilt("units = \"cm\"", "units = \"cm\"\nsizes = [\"S\", \"M\"]")
        .replace("stitches = 70", "stitches = \"70 (74, 78)\"");
    refused(
        &case,
        &["sleeve.stitches has 3 numbers, but the case has 2 sizes"],
    );
}

#[test]
fn lines_that_remove_more_than_there_is() {
    refused(
        &spoilt("every other row 11 times", "every other row 40 times"),
        &["sleeve.cap:"],
    );
}

#[test]
fn a_cap_that_widens() {
    let case = spoilt(
        "then every other row 11 times",
        "then increase 1 st each end of every other row 11 times",
    );
    let case = case.replace("the remaining 14 sts", "the remaining sts");
    refused(&case, &["a cap only gets narrower"]);
}

#[test]
fn a_final_count_that_does_not_agree() {
    refused(
        &spoilt("remaining 14 sts", "remaining 16 sts"),
        &["16", "14"],
    );
}

#[test]
fn an_odd_number_between_crown_and_upper_arm_is_made_up_at_the_join() {
    let case = spoilt("cuff_stitches = 42", "repeat = { multiple = 2, plus = 0 }")
        + "\n[shoulder]\nlive_stitches = 15\n\n[fit]\nbase_tolerance = 0\n";
    let (case, said) = capwright::case::read_case(&case);
    let case = case.unwrap_or_else(|| panic!("{said:?}"));
    let done = capwright::convert::convert(&case, None).unwrap();
    let plan = &done.sizes.first().unwrap().fit.plan;
    // An even upper arm less an odd crown and two flanks that are alike.
    let odd = plan.upper_arm().count() - plan.crown.stitches.count() - plan.base().count();
    assert_eq!((plan.crown.stitches.count(), odd % 2), (15, 1));
    assert_eq!(plan.join_change.rem_euclid(2), 1, "{}", plan.join_change);
}

#[test]
fn an_armhole_too_short_for_its_stitches() {
    let case = spoilt("edge = 18.2", "edge = 8").replace("depth = 17.0", "depth = 7.5");
    refused(
        &case,
        &[
            "armhole is too short",
            "any one of these alone makes a cap possible",
            "more on each side of the armhole",
        ],
    );
}

#[test]
fn an_armhole_too_long_for_the_gap_limit() {
    let case = spoilt("edge = 18.2", "edge = 42").replace("depth = 17.0", "depth = 41");
    refused(
        &case,
        &[
            "armhole is too long",
            "gap of 2.4 rows",
            "fewer on each side of the armhole",
        ],
    );
}

#[test]
fn moves_too_flat_for_the_cap() {
    let case = spoilt("depth = 17.0", "depth = 17.0\n\n[fit]\nmoves = [\"1/0\"]");
    refused(
        &case,
        &[
            "the steepest allowed move adds 1",
            "fit.moves = [\"1/0\", \"2/0\"]",
        ],
    );
}

#[test]
fn moves_that_name_none() {
    let case = spoilt("depth = 17.0", "depth = 17.0\n\n[fit]\nmoves = []");
    refused(
        &case,
        &[
            "fit.moves is an empty list",
            "1/0 to 10/0, 1/1 or 2/1",
            ":34:",
        ],
    );
}

#[test]
fn a_front_without_a_back() {
    let case = spoilt("[armhole]", "[armhole.front]");
    refused(
        &case,
        &["There is an [armhole.front] but no [armhole.back]"],
    );
}

#[test]
fn an_unknown_size_on_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    fs::write(&path, GOOD).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", path.to_str().unwrap(), "--size", "XL"])
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(said, "error: The case has no size 'XL'; it has one size.\n");
}

#[test]
fn a_folder_that_cannot_be_written_to() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    fs::write(&path, GOOD).unwrap();
    let out = folder.path().join("no").join("such").join("out.txt");
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args([
            "convert",
            path.to_str().unwrap(),
            "-o",
            out.to_str().unwrap(),
        ])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("cannot be written")
    );
}

/// Numbers that no sleeve has are refused when they are read; the least that are allowed work.
#[test]
fn what_is_accepted_can_be_knitted() {
    for few in ["0", "4", "5"] {
        let case = spoilt("cuff_stitches = 42", &format!("cuff_stitches = {few}"));
        refused(&case, &["cuff_stitches", "6 to 1000"]);
    }
    let holder = |live: u32| format!("{GOOD}\n[shoulder]\nlive_stitches = {live}\n");
    refused(&holder(0), &["live_stitches", "1 to 200"]);
    for case in [
        spoilt("cuff_stitches = 42", "cuff_stitches = 6"),
        spoilt("cuff_stitches = 42", "cuff_stitches = 7"),
        holder(1),
        holder(2),
    ] {
        let (output, _) = capwright(&case);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(!said.contains("needle-"), "{said}");
    }
}
