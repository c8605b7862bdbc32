//! All cases through the command line: the contract recomputed, texts as snapshots.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn capwright(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(root())
        .output()
        .expect("capwright runs")
}

fn text(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

const CARDIGAN: &str = "cases/quillam-cardigan.toml";
const SADDLE: &str = "cases/saddle-lesson.toml";
const TERN: &str = "cases/tern-harbour.toml";

/// Every case there is.
fn cases() -> Vec<String> {
    let files = fs::read_dir(root().join("cases")).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let mut cases: Vec<String> = names
        .filter_map(|name| Some(format!("cases/{}.toml", name.strip_suffix(".toml")?)))
        .collect();
    cases.sort();
    assert!(cases.len() >= 8, "{cases:?}");
    cases
}

fn converted(case: &str) -> Value {
    let output = capwright(&["convert", case, "--format", "json"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{case}: {said}");
    serde_json::from_slice(&output.stdout).unwrap()
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// Recomputes a cap from its own moves and gauge: counts, area, depth, runs (definitions of the
/// model: half widths times two rows a pair, two sides).
fn recompute(size: &Value) {
    let (fit, gauge) = (&size["fit"], &size["gauge"]["cap"]);
    let (s, r) = (
        10.0 / number(&gauge["stitches"]),
        10.0 / number(&gauge["rows"]),
    );
    let crown = number(&fit["crown"]);
    let join = fit["join_change"].as_i64().unwrap() as f64;
    // The picked-up row: its height over the crown and along every edge.
    let k = number(&fit["picked_up_row"]);
    let upper_arm = crown + number(&fit["base"]) + join;
    let (mut area, mut upper_arm, mut most_runs) = (k * r * crown * s, upper_arm, 0);
    for side in ["front", "back"] {
        let moves = fit[side]["moves"].as_array().unwrap();
        assert_eq!(moves.len() as f64, number(&fit["turn_pairs"]) - 1.0);
        let (mut half, mut taken, mut runs) = (crown / 2.0, 0.0, 0);
        area += half * s * 2.0 * r + k * r * 2.0 * r;
        for (i, m) in moves.iter().enumerate() {
            taken += number(&m["take"]);
            let widens = number(&m["take"]) - number(&m["drop"]);
            half += widens;
            area += half * s * 2.0 * r + k * r * (widens * s * widens * s + 4.0 * r * r).sqrt();
            runs += usize::from(i == 0 || moves[i - 1] != *m);
        }
        assert_eq!(taken, number(&fit[side]["picked_up"]));
        upper_arm += half - crown / 2.0;
        most_runs = most_runs.max(runs);
    }
    assert_eq!(upper_arm, number(&fit["upper_arm_stitches"]));
    assert_eq!(most_runs as f64, number(&fit["runs"]));
    assert!((area - number(&fit["area_cm2"])).abs() < 0.02 + 0.0005 * area);
    let depth = r * (2.0 * number(&fit["turn_pairs"]) + k);
    assert!((depth - number(&fit["depth_cm"])).abs() < 0.006);
    let old = &size["old_cap"];
    let area_error = 100.0 * (area / number(&old["area_cm2"]) - 1.0);
    assert!((area_error - number(&fit["area_error_pct"])).abs() < 0.06);
    // What the issue asks of every size: area within 1.5 %, depth within one row.
    assert!(area_error.abs() <= 1.5, "area {area_error}");
    assert!((depth - number(&old["depth_cm"])).abs() <= r + 0.002);
}

#[test]
fn every_size_of_every_case_keeps_the_contract() {
    for case in &cases() {
        let result = converted(case);
        for size in result["sizes"].as_array().unwrap() {
            recompute(size);
            assert_eq!(size["knits_back"], true);
            // What was not proven is said.
            let findings = size["findings"].as_array().unwrap();
            let said = findings.iter().any(|f| f["code"] == "not-proven-optimal");
            assert_eq!(size["fit"]["status"] == "optimal", !said);
            // The recipe is far off: by a tenth of the arm and 1 cm of depth in the cases the issue speaks of, by a
            // twentieth of the arm in all.
            let (recipe, old) = (&size["baseline"], &size["old_cap"]);
            let arm = number(&recipe["upper_arm_cm"]) / number(&old["upper_arm_cm"]);
            let depth = number(&recipe["depth_error_cm"]).abs();
            assert!((arm - 1.0).abs() > 0.05, "{case} {}: {arm}", size["size"]);
            if [CARDIGAN, SADDLE, TERN].contains(&case.as_str()) {
                assert!((arm - 1.0).abs() > 0.1, "{case} {}: {arm}", size["size"]);
                assert!(depth > 1.0, "{case}");
            }
        }
        assert!(result["sizes"].as_array().unwrap().iter().all(|size| {
            let findings = size["findings"].as_array().unwrap();
            findings.iter().all(|f| f["level"] != "error")
        }));
    }
}

#[test]
fn ledgers_close() {
    for case in &cases() {
        for size in converted(case)["sizes"].as_array().unwrap() {
            let mut count = None;
            for row in size["old_cap"]["ledger"].as_array().unwrap() {
                let removed = ["bind_off", "decrease_start", "decrease_end"]
                    .into_iter()
                    .map(|key| number(&row[key]))
                    .sum::<f64>();
                let left = number(&row["stitches"]);
                if let Some(before) = count {
                    assert_eq!(before - removed, left, "{case}: row {}", row["row"]);
                }
                count = Some(left);
            }
            assert_eq!(count, Some(0.0));
        }
    }
}

#[test]
fn the_texts_read_well() {
    insta::assert_snapshot!("tern-harbour", text(&capwright(&["convert", TERN])));
    insta::assert_snapshot!("saddle-lesson", text(&capwright(&["convert", SADDLE])));
    let one = capwright(&["convert", CARDIGAN, "--size", "91 cm"]);
    insta::assert_snapshot!("quillam-cardigan-91", text(&one));
    let check = capwright(&["check", CARDIGAN]);
    insta::assert_snapshot!("quillam-cardigan-check", text(&check));
    let read = capwright(&["read", TERN]);
    insta::assert_snapshot!("tern-harbour-read", text(&read));
}

#[test]
fn the_same_bytes_every_time() {
    for format in ["text", "json"] {
        let once = capwright(&["convert", CARDIGAN, "--format", format]);
        let again = capwright(&["convert", CARDIGAN, "--format", format]);
        assert_eq!(once.stdout, again.stdout);
    }
}

#[test]
fn a_written_file_is_the_printed_text_with_ordinary_permissions() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sleeve.txt");
    let output = capwright(&["convert", TERN, "-o", path.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stdout.is_empty());
    assert_eq!(
        fs::read_to_string(&path).unwrap(),
        text(&capwright(&["convert", TERN]))
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        assert_eq!(
            fs::metadata(&path).unwrap().permissions().mode() & 0o777,
            0o644
        );
    }
}

/// A whole printed pattern, every size, is knitted back from the text alone; one number changed
/// by hand and the needle objects.
#[test]
fn a_printed_pattern_knits_back_and_a_changed_one_does_not() {
    let folder = tempfile::tempdir().unwrap();
    for case in &cases() {
        let path = folder.path().join("sleeve.txt");
        let printed = text(&capwright(&["convert", case]));
        fs::write(&path, &printed).unwrap();
        let knit = capwright(&["knit", path.to_str().unwrap()]);
        let said = String::from_utf8_lossy(&knit.stderr).into_owned();
        assert_eq!(knit.status.code(), Some(0), "{case}: {said}");
    }
    let printed = text(&capwright(&["convert", TERN]));
    let changed = printed.replacen("A. 3 pairs", "A. 4 pairs", 1);
    assert_ne!(printed, changed);
    let path = folder.path().join("changed.txt");
    fs::write(&path, changed).unwrap();
    let knit = capwright(&["knit", path.to_str().unwrap()]);
    assert_eq!(knit.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&knit.stderr).contains("error"));
    // The rows to count before the yarn is joined: the digit before these words.
    for words in [" of them for the crown", " for the flank"] {
        let at = printed.find(words).unwrap() - 1;
        let digit = if &printed[at..=at] == "7" { "8" } else { "7" };
        let changed = format!("{}{digit}{}", &printed[..at], &printed[at + 1..]);
        fs::write(&path, changed).unwrap();
        let knit = capwright(&["knit", path.to_str().unwrap()]);
        let said = String::from_utf8_lossy(&knit.stderr).into_owned();
        assert!(
            said.contains("rows are to be counted there"),
            "{words}: {said}"
        );
    }
}

#[test]
fn lines_can_be_read_from_a_file_or_standard_input() {
    use std::io::Write as _;
    let lines = "Cast off 5 [6:7] sts at beg of next 2 rows. Dec 1 st each end of next 3 rows. \
                 Cast off rem sts.";
    let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args([
            "read",
            "-",
            "--stitches",
            "67 [71:77]",
            "--first-row",
            "WS",
            "--format",
            "json",
        ])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(lines.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    let result: Value = serde_json::from_slice(&output.stdout).unwrap();
    let sizes = result["sizes"].as_array().unwrap();
    // 67 - 10 - 6, 71 - 12 - 6, 77 - 14 - 6 (arithmetic).
    let finals: Vec<f64> = sizes
        .iter()
        .map(|size| number(&size["final_stitches"]))
        .collect();
    assert_eq!(finals, [51.0, 53.0, 57.0]);
    assert_eq!(sizes[0]["ledger"][0]["side"], "WS");
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn every_finding_is_explained() {
    let list = text(&capwright(&["explain"]));
    assert!(list.lines().count() > 40);
    for line in list.lines() {
        let code = line.split_whitespace().nth(1).unwrap();
        let one = text(&capwright(&["explain", code]));
        for part in ["Why:", "Source:", "Next:"] {
            assert!(one.contains(part), "{code} lacks {part}");
        }
    }
    let wrong = capwright(&["explain", "upper-arm-tihgt"]);
    assert_eq!(wrong.status.code(), Some(2));
    let said = String::from_utf8(wrong.stderr).unwrap();
    assert!(said.contains("Did you mean 'upper-arm-tight'?"), "{said}");
}

#[test]
fn body_tables_are_listed_shown_and_asked() {
    assert!(text(&capwright(&["tables"])).contains("woman"));
    assert!(text(&capwright(&["tables", "woman"])).contains("www.YarnStandards.com"));
    let arm = capwright(&["tables", "woman", "38 in"]);
    assert_eq!(arm.status.code(), Some(0));
    assert!(text(&arm).contains("upper arm"));
    let wrong = capwright(&["tables", "womn"]);
    assert_eq!(wrong.status.code(), Some(2));
}
