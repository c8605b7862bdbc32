//! `check CASE` on whole case files: the table, the groups, JSON, exit codes, bad input.

use std::io::Write as _;
use std::process::Command;

use serde_json::Value;

const TWELVE: &str = include_str!("../../data/check/twelve.toml");

struct Checked {
    code: i32,
    out: String,
    err: String,
}

impl Checked {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }

    /// Codes at error level, of the whole and of the sizes.
    fn errors(&self) -> Vec<String> {
        let json = self.json();
        let sizes = json["sizes"].as_array().unwrap().iter();
        let lists = sizes
            .map(|size| &size["findings"])
            .chain([&json["findings"]]);
        let found = lists.flat_map(|list| list.as_array().unwrap());
        found
            .filter(|finding| finding["level"] == "error")
            .map(|finding| finding["code"].as_str().unwrap().to_owned())
            .collect()
    }

    fn sizes(&self) -> Vec<String> {
        let json = self.json();
        let sizes = json["sizes"].as_array().unwrap().iter();
        sizes
            .map(|size| size["size"].as_str().unwrap().to_owned())
            .collect()
    }

    /// The group of a code: its sizes.
    fn group(&self, code: &str) -> Option<Vec<String>> {
        let json = self.json();
        let group = json["groups"]
            .as_array()
            .unwrap()
            .iter()
            .find(|g| g["code"] == code)?
            .clone();
        let sizes = group["sizes"].as_array().unwrap().iter();
        Some(
            sizes
                .map(|size| size.as_str().unwrap().to_owned())
                .collect(),
        )
    }
}

fn check(case: &str, more: &[&str]) -> Checked {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(case.as_bytes()).unwrap();
    let out = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .arg("check")
        .arg(file.path())
        .args(more)
        .output()
        .unwrap();
    Checked {
        code: out.status.code().unwrap(),
        out: String::from_utf8(out.stdout).unwrap(),
        err: String::from_utf8(out.stderr).unwrap(),
    }
}

fn json(case: &str) -> Checked {
    check(case, &["--format", "json"])
}

fn with(from: &str, to: &str) -> String {
    assert!(TWELVE.contains(from), "{from}");
    TWELVE.replacen(from, to, 1)
}

#[test]
fn twelve_sizes_at_a_glance() {
    let checked = check(TWELVE, &[]);
    assert_eq!((checked.code, checked.err.as_str()), (0, ""));
    insta::assert_snapshot!("twelve_sizes", checked.out);
    let longest = checked.out.lines().map(|line| line.chars().count()).max();
    assert!(longest < Some(125), "{longest:?}");
}

#[test]
fn json_has_every_size_and_adds_up() {
    let checked = json(TWELVE);
    let found = checked.json();
    assert_eq!(checked.sizes().len(), 12);
    for size in found["sizes"].as_array().unwrap() {
        let strip = size["ease_strip"]["front"].as_array().unwrap();
        let sum: f64 = strip
            .iter()
            .map(|band| band["ease_cm"].as_f64().unwrap())
            .sum();
        let whole = size["old_cap"]["edge_above_underarm_cm"].as_f64().unwrap()
            - size["armhole"]["front_cm"].as_f64().unwrap();
        assert!((sum - whole).abs() < 0.01, "{sum} {whole}");
        let share = size["old_cap"]["depth_cm"].as_f64().unwrap()
            / size["armhole"]["depth_cm"].as_f64().unwrap();
        assert!((share - size["depth_share"].as_f64().unwrap()).abs() < 1e-3);
        let inflection = size["curve"]["inflection_cm"].as_f64().unwrap();
        assert!(inflection > 0.0 && inflection < size["old_cap"]["depth_cm"].as_f64().unwrap());
        for deviation in size["curve"]["deviations"].as_array().unwrap() {
            assert!(
                deviation["stitches"].as_f64().unwrap().abs() <= 1.5,
                "{deviation}"
            );
        }
    }
    // A group names each of its sizes once, and is as bad as its findings.
    for group in found["groups"].as_array().unwrap() {
        let sizes = group["sizes"].as_array().unwrap();
        let mut once = sizes.clone();
        once.dedup();
        assert_eq!(&once, sizes);
    }
    assert_eq!(checked.group("cap-edge-short").unwrap(), ["1", "2", "3"]);
}

#[test]
fn a_wrong_count_in_one_size_leaves_the_others() {
    let case = with(
        "58, 62, 64, 68, 70, 74, 76, 80) sts.",
        "58, 62, 65, 68, 70, 74, 76, 80) sts.",
    );
    let checked = json(&case);
    assert_eq!(checked.code, 1);
    assert_eq!(checked.errors(), ["stated-count"]);
    assert_eq!(checked.sizes().len(), 11);
    assert!(!checked.sizes().contains(&"7".to_owned()));
    let text = check(&case, &[]);
    assert_eq!(text.code, 1);
    assert!(
        text.out.contains("  7: no outline: stated-count"),
        "{}",
        text.out
    );
    // Asked for another size alone, there is nothing wrong.
    let other = check(&case, &["--size", "6", "--format", "json"]);
    assert_eq!((other.code, other.sizes()), (0, vec!["6".to_owned()]));
}

/// Ten stitches too many go in the middle of the fifth size: a misprint that no stated count
/// catches when the counts are left out.
#[test]
fn a_misprint_without_stated_counts_is_off_the_curve() {
    let plain = TWELVE
        .replace("Bind off rem 16 sts", "Bind off rem sts")
        .replace(" 50 (52, 54, 56, 58, 62, 64, 68, 70, 74, 76, 80) sts.", "")
        .replace(" 22 (22, 22, 22, 22, 22, 22, 22, 22, 22, 22, 22) sts.", "");
    assert_eq!(json(&plain).group("row-off-curve"), None);
    let odd = plain
        .replace(
            "Dec 1 st each end of every RS row 9 (10, 11, 12, 13, 13, 14, 14, 15, 15, 16, 16) times.",
            "Dec 1 st each end of every RS row 5 times. Bind off 0 (0, 0, 0, 8, 0, 0, 0, 0, 0, 0, 0) \
             sts at beg of next 2 rows. Dec 1 st each end of every RS row 4 (5, 6, 7, 8, 8, 9, 9, 10, \
             10, 11, 11) times.",
        )
        .replace("66, 70, 74, 78, 82", "66, 86, 74, 78, 82");
    let checked = json(&odd);
    assert_eq!(checked.group("row-off-curve").unwrap(), ["5"]);
    let text = check(&odd, &[]).out;
    assert!(
        text.contains("(row 16: 'Bind off 0 (0, 0, 0, 8, 0"),
        "{text}"
    );
    assert!(text.contains("warning [row-off-curve] size 5"), "{text}");
}

#[test]
fn a_bust_or_size_without_a_table_names_the_tables() {
    let checked = json(&with("table = \"woman\"\n", ""));
    assert_eq!(checked.code, 0);
    assert_eq!(checked.group("body-table-missing").unwrap().len(), 12);
    let text = check(&with("table = \"woman\"\n", ""), &[]).out;
    let words: Vec<&str> = text.split_whitespace().collect();
    let text = words.join(" ");
    let named = text.split("looked up in ").nth(1).unwrap();
    for table in ["ansur2-women", "man", "woman"] {
        assert!(named.contains(table), "{text}");
    }
}

#[test]
fn an_unknown_table_names_the_nearest() {
    let checked = json(&with("table = \"woman\"", "table = \"womann\""));
    assert_eq!(checked.code, 1);
    assert_eq!(checked.errors()[0], "body-table-unknown");
    assert!(checked.out.contains("The nearest is 'woman'."));
    // The old garment is still measured.
    assert_eq!(checked.sizes().len(), 12);
}

#[test]
fn an_unknown_size_names_the_nearest() {
    let bust = "bust = \"30 (32, 34, 36, 38, 40, 42, 44, 46, 48, 50, 52)\"";
    let checked = json(&with(bust, "size = \"QM\""));
    assert_eq!(checked.code, 1);
    assert_eq!(checked.errors()[0], "body-size-unknown");
}

#[test]
fn a_measured_arm_beside_a_bust() {
    let bust = "bust = \"30 (32, 34, 36, 38, 40, 42, 44, 46, 48, 50, 52)\"";
    let arm = |arm: &str| json(&with(bust, &format!("{bust}\nupper_arm = {arm}")));
    let fine = arm("\"9 (9, 9, 10, 11, 12, 12, 13, 14, 15, 16, 17)\"");
    assert_eq!(fine.code, 0);
    assert_eq!(fine.group("body-arm-odd-for-bust"), None);
    // The measured arm beats the table: there is no share of people any more.
    assert_eq!(fine.group("upper-arm-share"), None);
    let odd = arm("\"9 (9, 9, 10, 11, 12, 12, 13, 14, 15, 16, 28)\"");
    assert_eq!(odd.group("body-arm-odd-for-bust").unwrap(), ["12"]);
    let wider = arm("\"33 (9, 9, 10, 11, 12, 12, 13, 14, 15, 16, 17)\"");
    assert_eq!(wider.code, 1);
    assert_eq!(wider.errors(), ["body-arm-wider-than-bust"]);
    assert_eq!(wider.group("body-arm-wider-than-bust").unwrap(), ["1"]);
    assert!(
        wider
            .group("caution-tight")
            .unwrap()
            .contains(&"1".to_owned())
    );
}

#[test]
fn busts_outside_the_table() {
    let bust = "bust = \"30 (32, 34, 36, 38, 40, 42, 44, 46, 48, 50, 52)\"";
    let near = json(&with(bust, "bust = 50"));
    assert_eq!(
        (near.code, near.group("body-extrapolated").unwrap().len()),
        (0, 12)
    );
    let far = json(&with(bust, "bust = 9"));
    assert_eq!(
        (far.code, far.errors()[0].as_str()),
        (1, "body-bust-out-of-range")
    );
    let mixed = json(&with(bust, "bust = 92"));
    assert_eq!(
        (mixed.code, mixed.errors()[0].as_str()),
        (1, "body-units-mixed")
    );
}

#[test]
fn armhole_lines_that_never_end() {
    let even = "Work even until armhole measures 6.5 (6.75, 7, 7.25, 7.5, 7.75, 8, 8.25, 8.5, 8.75, 9, 9.25) in, ending with a WS row.\n";
    let case = with(even, "").replace(
        "Bind off 6 sts at beg of next 4 rows. Bind off rem sts.\n\"\"\"\n\n[body]",
        "\"\"\"\n\n[body]",
    );
    let checked = json(&case);
    assert_eq!(checked.group("armhole-unfinished").unwrap().len(), 12);
    assert_eq!(checked.group("cap-too-deep").unwrap().len(), 12);
    assert_eq!(json(TWELVE).group("armhole-unfinished"), None);
}

#[test]
fn a_front_without_a_back_is_no_case() {
    let checked = check(&with("[armhole]\n", "[armhole.front]\n"), &[]);
    assert_eq!(checked.code, 2);
    assert_eq!(checked.out, "");
    assert!(
        checked.err.contains("but no [armhole.back]"),
        "{}",
        checked.err
    );
}

#[test]
fn order_and_steps_of_the_sizes() {
    let stitches = "\"58 (60, 64, 66, 70, 74, 78, 82, 86, 90, 94, 98)\"";
    let plain = TWELVE
        .replace("Bind off rem 16 sts", "Bind off rem sts")
        .replace(" 50 (52, 54, 56, 58, 62, 64, 68, 70, 74, 76, 80) sts.", "")
        .replace(" 22 (22, 22, 22, 22, 22, 22, 22, 22, 22, 22, 22) sts.", "");
    let odd = plain.replace(
        stitches,
        "\"58 (60, 64, 66, 70, 74, 78, 76, 86, 90, 94, 98)\"",
    );
    let checked = json(&odd);
    assert_eq!(checked.group("size-order").unwrap(), ["8"]);
    let jump = plain.replace(
        stitches,
        "\"58 (60, 64, 66, 70, 74, 78, 82, 94, 98, 102, 106)\"",
    );
    assert_eq!(json(&jump).group("grading-jump").unwrap(), ["9"]);
    assert_eq!(json(&plain).group("grading-jump"), None);
}

#[test]
fn what_is_said_of_armhole_lines_quotes_them() {
    let checked = check(TWELVE, &[]);
    let words: Vec<&str> = checked.out.split_whitespace().collect();
    let text = words.join(" ");
    assert!(text.contains("(armhole.lines, '"), "{text}");
    // In JSON each names the lines its place lies in.
    let result = json(TWELVE);
    let findings = result.json()["findings"].as_array().unwrap().clone();
    let named = findings.iter().filter(|f| f["lines"] == "armhole.lines");
    assert!(named.clone().count() > 0);
    assert!(named.into_iter().all(|f| f["span"].is_array()));
}
