//! Picking among the caps offered, from the command line.
//!
//! What is compared is the program's offer with what it then makes; the numbers themselves are held
//! against brute force and general solvers in the `fit_*` tests.

use std::process::Command;

use serde_json::Value;

fn run(args: &[&str]) -> (i32, String, String) {
    let out = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    (
        out.status.code().unwrap(),
        String::from_utf8(out.stdout).unwrap(),
        String::from_utf8(out.stderr).unwrap(),
    )
}

fn json(args: &[&str]) -> Value {
    let (code, out, err) = run(&[args, &["--format", "json"]].concat());
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

const TERN: &str = "cases/tern-harbour.toml";
const QUILLAM: &str = "cases/quillam-cardigan.toml";

fn fit(value: &Value) -> &Value {
    &value["sizes"][0]["fit"]
}

#[test]
fn a_cap_that_is_offered_can_be_taken() {
    let case = [QUILLAM, "--size", "97 cm"];
    let best = json(&[&["convert"][..], &case].concat());
    let offered = &fit(&best)["near_ties"][0];
    assert_eq!(offered["choice"], 2);
    let taken = json(&[&["convert"][..], &case, &["--choice", "2"]].concat());
    for key in ["objective", "runs", "area_error_pct"] {
        assert_eq!(fit(&taken)[key], offered[key], "{key}");
    }
    assert_eq!(fit(&taken)["front"]["moves"], offered["front"]["moves"]);
    assert_eq!(fit(&taken)["status"], "feasible", "a better one is known");
    let near = offered["objective"].as_f64().unwrap() / fit(&best)["objective"].as_f64().unwrap();
    assert!(near <= capwright::fit::NEAR_TIE + 1e-6, "{near}");
}

#[test]
fn a_cap_that_is_not_offered_is_refused() {
    let (code, out, err) = run(&["convert", TERN, "--choice", "9"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(
        err.contains("no-such-choice") && err.contains("offered"),
        "{err}"
    );
}

#[test]
fn fewer_runs_are_given_when_they_are_asked_for() {
    for runs in 2..=6 {
        let asked = runs.to_string();
        let given = json(&["convert", TERN, "--runs", &asked]);
        assert!(fit(&given)["runs"].as_u64().unwrap() <= runs);
    }
}

/// The moves of a flank's runs.
fn runs_of(flank: &Value) -> Vec<Value> {
    let mut moves = flank["moves"].as_array().unwrap().clone();
    moves.dedup();
    moves
}

#[test]
fn all_sizes_can_have_the_same_runs() {
    let same = json(&["convert", QUILLAM, "--same-runs", "--runs", "4"]);
    let sizes = same["sizes"].as_array().unwrap();
    let first = runs_of(&sizes[0]["fit"]["front"]);
    for size in sizes {
        assert_eq!(runs_of(&size["fit"]["front"]), first);
        assert_eq!(runs_of(&size["fit"]["back"]), first);
        assert_eq!(size["knits_back"], true);
    }
    // One size alone gets the cap that it has in the set.
    let label = sizes[3]["size"].as_str().unwrap();
    let alone = json(&[
        "convert",
        QUILLAM,
        "--same-runs",
        "--runs",
        "4",
        "--size",
        label,
    ]);
    assert_eq!(alone["sizes"].as_array().unwrap().len(), 1);
    assert_eq!(alone["sizes"][0]["fit"]["front"], sizes[3]["fit"]["front"]);
    let (_, text, _) = run(&[
        "convert",
        QUILLAM,
        "--same-runs",
        "--runs",
        "4",
        "--grading",
    ]);
    assert!(
        text.contains("All sizes are built alike") && text.contains("what they cost"),
        "{text}"
    );
}

#[test]
fn fewer_runs_than_any_cap_has_are_refused() {
    let (code, _, err) = run(&["convert", QUILLAM, "--same-runs", "--runs", "1"]);
    assert_eq!(code, 2);
    assert!(
        err.contains("no-same-runs") || err.contains("error"),
        "{err}"
    );
}
