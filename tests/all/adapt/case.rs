//! `[adapt]` through the command line: the demo cases, what the advice of `check` leads to, size sets,
//! bad input.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

const WIDER: &str = "cases/tern-wider-arm.toml";
const TOPDOWN: &str = "cases/heron-topdown.toml";
const PLAIN: &str = "cases/tern-harbour.toml";
const TWELVE: &str = "tests/data/check/twelve.toml";

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

fn printed(args: &[&str]) -> String {
    let output = capwright(args);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{args:?}: {said}");
    String::from_utf8(output.stdout).unwrap()
}

fn json(args: &[&str]) -> Value {
    let mut args = args.to_vec();
    args.extend(["--format", "json"]);
    serde_json::from_str(&printed(&args)).unwrap()
}

fn only_size(value: &Value) -> &Value {
    let sizes = value["sizes"].as_array().unwrap();
    assert_eq!(sizes.len(), 1);
    &sizes[0]
}

/// A case file with something added or replaced, in a folder of its own.
fn changed(case: &str, from: &str, to: &str) -> (tempfile::TempDir, String) {
    let text = fs::read_to_string(root().join(case)).unwrap();
    assert!(from.is_empty() || text.contains(from), "{from}");
    let text = if from.is_empty() {
        text + to
    } else {
        text.replace(from, to)
    };
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    fs::write(&path, text).unwrap();
    let name = path.to_str().unwrap().to_owned();
    (folder, name)
}

fn codes(size: &Value) -> Vec<&str> {
    let findings = size["findings"].as_array().unwrap();
    findings
        .iter()
        .map(|f| f["code"].as_str().unwrap())
        .collect()
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn a_wider_arm_is_adapted_converted_and_knitted_back() {
    let result = json(&["convert", WIDER]);
    let size = only_size(&result);
    assert_eq!(size["adapt"]["status"], "adapted");
    assert_eq!(size["adapted_cap"], size["old_cap"]);
    let plain = json(&["convert", PLAIN]);
    assert_eq!(size["printed_cap"], only_size(&plain)["old_cap"]);
    // 13.4 in and 0.9 in of ease, to half a stitch of the tube's gauge (23 to 4 in).
    let wanted = (13.4 + 0.9) * 2.54;
    let half_stitch = 10.16 / 23.0 / 2.0;
    assert!((number(&size["fit"]["upper_arm_cm"]) - wanted).abs() <= half_stitch + 1e-6);
    // The edge of the old cap is kept, to half a stitch or row.
    let edges = ["old_cap", "printed_cap"].map(|cap| number(&size[cap]["edge_above_underarm_cm"]));
    assert!((edges[0] - edges[1]).abs() < 0.25, "{edges:?}");
    assert!(!codes(size).contains(&"upper-arm-tight"));
    assert_eq!(size["knits_back"], true);
    // The fit's errors are against the adapted cap.
    let off = number(&size["fit"]["area_cm2"]) / number(&size["adapted_cap"]["area_cm2"]) - 1.0;
    assert!((100.0 * off - number(&size["fit"]["area_error_pct"])).abs() < 0.06);

    let text = printed(&["convert", WIDER]);
    for words in [
        "The adapted cap, the new one",
        "ADAPTED\n",
        "The same cap flat",
        "rounds more below",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sleeve.txt");
    fs::write(&path, &text).unwrap();
    let knitted = printed(&["knit", path.to_str().unwrap()]);
    let stitches = size["fit"]["upper_arm_stitches"].to_string();
    assert!(
        knitted.contains(&format!("{stitches} stitches at the join")),
        "{knitted}"
    );
}

#[test]
fn a_sweater_from_the_top_without_an_old_cap() {
    let result = json(&["convert", TOPDOWN]);
    let size = only_size(&result);
    assert_eq!(size["adapt"]["status"], "drafted");
    assert_eq!(size["printed_cap"], Value::Null);
    assert_eq!(size["knits_back"], true);
    // The armhole's 20.4 cm and 2 %: half a stitch (0.25 cm) either way.
    let edge = number(&size["old_cap"]["edge_above_underarm_cm"]);
    assert!((edge - 20.4 * 1.02).abs() <= 0.25, "{edge}");
    // The rules side by side, each with its source; 19 cm deep and 97 cm (38 in) round the bust: less
    // 3 in (R. Hunter, 2011).
    let rules = size["adapt"]["depth_rules"].as_array().unwrap();
    assert_eq!(rules.len(), 4);
    assert!(
        rules
            .iter()
            .all(|rule| rule["source"].as_str().unwrap().len() > 8)
    );
    assert!((number(&rules[0]["depth_cm"]) - (19.0 - 3.0 * 2.54)).abs() < 0.001);
    // The text says the same, and `read` says why there is nothing to read.
    let text = printed(&["convert", TOPDOWN]);
    assert!(text.contains("drafted cap") && text.contains("R. Hunter, 21 Nov 2011"));
    assert!(!text.contains("old cap"), "{text}");
    let read = capwright(&["read", TOPDOWN]);
    assert_eq!(read.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&read.stderr).contains("no old cap to read"));
    // Every other command takes it as it takes any case.
    printed(&["check", TOPDOWN]);
    printed(&["drift", TOPDOWN]);
}

/// A rule's depth that the edge does not ask for is met by bending, and said so.
#[test]
fn a_depth_by_rule_far_from_the_edge_is_bent_and_warned_of() {
    let result = json(&["convert", TOPDOWN, "--set", "adapt.depth=chest"]);
    let size = only_size(&result);
    // 19 cm less 3 in is 11.38 cm: 32 rows at 28 to 10 cm.
    assert!((number(&size["old_cap"]["rows"]) - 32.0).abs() < 0.5);
    let findings = size["findings"].as_array().unwrap();
    let bent = findings
        .iter()
        .find(|f| f["code"] == "adapt-bent-far")
        .unwrap();
    let next = bent["next"].as_str().unwrap();
    assert!(next.contains("the cap has 38 rows, 13.6 cm deep"), "{next}");
    let free = json(&["convert", TOPDOWN]);
    assert!(!codes(only_size(&free)).contains(&"adapt-bent-far"));
}

/// A sleeve 15 % smaller than the arm is drafted, with the caution; 25 % is refused (see below).
#[test]
fn a_tight_sleeve_comes_with_the_caution() {
    let wish = "adapt.upper_arm={ body = 31, ease = \"-15 %\" }";
    let result = json(&["convert", TOPDOWN, "--set", wish]);
    let found = codes(only_size(&result));
    assert!(
        found.contains(&"upper-arm-tight") && found.contains(&"caution-tight"),
        "{found:?}"
    );
}

/// The lines for those who sew are read as a pattern's lines and give the adapted outline.
#[test]
fn the_flat_lines_read_back_as_the_adapted_cap() {
    for case in [WIDER, TOPDOWN] {
        let lines = printed(&["convert", case, "--flat-lines"]);
        let result = json(&["convert", case]);
        let cap = &only_size(&result)["adapted_cap"];
        let first = &cap["ledger"][0];
        let start = number(&first["stitches"]) + number(&first["bind_off"]);
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("lines.txt");
        fs::write(&path, lines).unwrap();
        let read = json(&[
            "read",
            path.to_str().unwrap(),
            "--stitches",
            &start.to_string(),
        ]);
        assert_eq!(only_size(&read)["ledger"], cap["ledger"], "{case}");
    }
}

/// A wish that holds already: the same pattern, word for word.
#[test]
fn an_empty_adapt_changes_nothing_where_the_cap_fits() {
    let (_folder, case) = changed(PLAIN, "", "\n[adapt]\n");
    let (with, without) = (json(&["convert", &case]), json(&["convert", PLAIN]));
    let (with, without) = (only_size(&with), only_size(&without));
    assert_eq!(with["adapt"]["status"], "unchanged");
    for key in ["instructions", "fit", "old_cap", "findings"] {
        assert_eq!(with[key], without[key], "{key}");
    }
}

/// What `check` advises is done, and the finding is gone.
#[test]
fn the_advice_of_check_cures_its_finding() {
    for (edge, depth, code) in [
        ("8.9", "8.2", "cap-edge-short"),
        ("6.9", "6.4", "cap-edge-long"),
    ] {
        let armhole = format!("edge = {edge}\nunderarm = 0.75\ndepth = {depth}");
        let (_folder, case) = changed(PLAIN, "edge = 8.2\nunderarm = 0.75\ndepth = 7.5", &armhole);
        let found = json(&["check", &case]);
        let size = only_size(&found);
        let finding = size["findings"].as_array().unwrap().iter();
        let finding = finding.clone().find(|f| f["code"] == code).expect(code);
        let next = finding["next"].as_str().unwrap();
        assert!(next.contains("add `[adapt]` with `ease = 0`"), "{next}");
        let rows = next.split("a cap of ").nth(1).unwrap();
        let rows: f64 = rows.split(' ').next().unwrap().parse().unwrap();
        let cured = json(&["convert", &case, "--set", "adapt.ease=0"]);
        let cured = only_size(&cured);
        assert!(!codes(cured).contains(&code), "{cured}");
        assert!((number(&cured["old_cap"]["rows"]) - rows).abs() <= 2.0);
    }
    let (_folder, case) = changed(PLAIN, "bust = 36", "upper_arm = 15.5");
    let found = json(&["check", &case]);
    let finding = only_size(&found)["findings"].as_array().unwrap().clone();
    let tight = finding
        .iter()
        .find(|f| f["code"] == "upper-arm-tight")
        .unwrap();
    let next = tight["next"].as_str().unwrap();
    assert!(
        next.contains("adapt.upper_arm = { body = 15.5, ease = 0 }"),
        "{next}"
    );
    let wish = "adapt.upper_arm={ body = 15.5, ease = 0 }";
    let cured = json(&["check", &case, "--set", wish]);
    assert!(!codes(only_size(&cured)).contains(&"upper-arm-tight"));
}

#[test]
fn a_size_set_keeps_its_order() {
    let set = ["check", TWELVE, "--set", "adapt.ease=0"];
    let result = json(&set);
    let sizes = result["sizes"].as_array().unwrap();
    let rows: Vec<f64> = sizes
        .iter()
        .map(|s| number(&s["old_cap"]["rows"]))
        .collect();
    assert_eq!(rows.len(), 12);
    for (i, pair) in rows.windows(2).enumerate() {
        let said = codes(&sizes[i + 1]).contains(&"adapt-sizes-evened");
        assert!(pair[0] <= pair[1] || said, "{rows:?}");
    }
    let statuses: Vec<&str> = sizes
        .iter()
        .map(|s| s["adapt"]["status"].as_str().unwrap())
        .collect();
    assert!(
        statuses.contains(&"adapted") && statuses.contains(&"unchanged"),
        "{statuses:?}"
    );
    // One size asked for alone is the same as in the set.
    let alone = json(&["check", TWELVE, "--set", "adapt.ease=0", "--size", "4"]);
    assert_eq!(only_size(&alone)["old_cap"], sizes[3]["old_cap"]);
    assert_eq!(printed(&set), printed(&set), "the same bytes every time");
    let text = printed(&set);
    assert!(text.contains("\nADAPTED\n"), "{text}");
    assert!(text.contains("Old → new (in)"), "{text}");
}

/// One change for all: every cap has the same number of rows more.
#[test]
fn one_change_for_all_sizes() {
    let (_folder, case) = changed(
        "cases/quillam-cardigan.toml",
        "",
        "\n[adapt]\nupper_arm = { ease = \"16 %\" }\nsizes = \"alike\"\n",
    );
    let result = json(&["check", &case]);
    let sizes = result["sizes"].as_array().unwrap();
    let change =
        |size: &Value| number(&size["old_cap"]["rows"]) - number(&size["printed_cap"]["rows"]);
    let first = change(&sizes[0]);
    assert!(sizes.iter().all(|size| (change(size) - first).abs() < 1e-9));
    for size in sizes {
        let off = number(&size["adapt"]["front_left_cm"]) + number(&size["adapt"]["back_left_cm"]);
        assert!(off.abs() / 2.0 < 0.46 + 1.0 / 6.0, "{off}");
    }
}

fn refused(case: &str, from: &str, to: &str, words: &[&str]) {
    let (_folder, path) = changed(case, from, to);
    let output = capwright(&["convert", &path]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{to}: {said}");
    assert!(output.stdout.is_empty());
    let plain: String = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(plain.contains(word), "{to}: {word}\n{plain}");
    }
}

#[test]
fn bad_wishes_are_refused_with_the_reason_and_the_next_step() {
    let adapt = |wishes: &str| format!("\n[adapt]\n{wishes}\n");
    let plain: &[(&str, &[&str])] = &[
        (
            "uper_arm = 13",
            &["adapt.uper_arm is not a key", "Did you mean `upper_arm`?"],
        ),
        ("keep = \"width\"", &["must be one of", "\"area\""]),
        ("keep = \"depth\"\ndepth = 5", &["keeps the old depth"]),
        (
            "ease = -3",
            &["adapt.ease is -3", "ease along the armhole lies between"],
        ),
        ("ease = \"-9 %\"", &["adapt.ease is -9 %", "-5 to 40 %"]),
        ("ease = \"3 x %\"", &["'x' is not a number"]),
        ("ease = \"3 (4) %\"", &["has 2 numbers"]),
        ("upper_arm = 300", &["upper arm width lies between"]),
        ("upper_arm = { body = 13 }", &["lacks adapt.upper_arm.ease"]),
        (
            "upper_arm = { body = 13, ease = \"-25 %\" }",
            &["25 % smaller than the arm", "follow the clinician's advice"],
        ),
        ("top = \"live\"", &["no [shoulder]"]),
        ("top = \"wide\"", &["must be one of \"live\""]),
        ("depth = \"deep\"", &["\"top and chest\""]),
        (
            "upper_arm = 10\ntop = 9",
            &["no more than the top of", "et adapt.upper_arm to"],
        ),
        (
            "upper_arm = 24",
            &[
                "too short for this arm at any depth",
                "eepen the armhole by",
                "narrow the arm to",
            ],
        ),
        (
            "ease = 0\ndepth = 9",
            &[
                "too short for this arm at a depth of 9.0 in",
                "Make the cap",
            ],
        ),
        (
            "ease = 3\ndepth = 3",
            // No other depth has an edge three inches longer than this armhole: none is advised.
            &[
                "too long for this arm at a depth of 3.0 in",
                "out of the armhole",
            ],
        ),
    ];
    for (wishes, words) in plain {
        refused(PLAIN, "", &adapt(wishes), words);
    }
    refused(
        PLAIN,
        "underarm = 0.75\ndepth = 7.5",
        "underarm = 7\ndepth = 7.5\n\n[adapt]",
        &["underarm takes 7.1 in at each edge"],
    );
}

#[test]
fn a_draft_lacks_nothing_or_says_what() {
    let wish = "upper_arm = { body = 31, ease = 3 }\nease = \"2 %\"";
    refused(
        TOPDOWN,
        wish,
        "ease = 0",
        &["The case lacks adapt.upper_arm"],
    );
    refused(
        TOPDOWN,
        wish,
        "upper_arm = 34\nkeep = \"shape\"",
        &["is about an old cap"],
    );
    refused(
        TOPDOWN,
        "[adapt]\nupper_arm = { body = 31, ease = 3 }\nease = \"2 %\"",
        "",
        &["lacks sleeve.stitches", "lacks sleeve.cap"],
    );
    refused(
        TOPDOWN,
        "[armhole]\nedge = 20.4\nunderarm = 3.0\ndepth = 19.0",
        "",
        &["The case lacks armhole"],
    );
    refused(
        TOPDOWN,
        "underarm = 3.0",
        "underarm = 18",
        &["underarm takes 18.0 cm at each edge"],
    );
    refused(
        TOPDOWN,
        "bust = 97\nupper_arm = 31",
        "upper_arm = 31\n[adapt.none]",
        &["adapt.none is not a key"],
    );
    refused(
        TOPDOWN,
        "ease = \"2 %\"\n\n[body]\ntable = \"woman\"\nbust = 97",
        "depth = \"chest\"\n\n[body]\ntable = \"woman\"",
        &["needs the bust or chest of [body]"],
    );
    let body = "upper_arm = { body = 31, ease = 3 }\nease = \"2 %\"\n\n[body]\ntable = \"woman\"\nbust = 97\nupper_arm = 31";
    refused(
        TOPDOWN,
        body,
        "upper_arm = { ease = 3 }",
        &["no arm to add it to"],
    );
}
