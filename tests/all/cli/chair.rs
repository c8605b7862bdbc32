//! What goes to the chair: checklists, all sizes in one text, the needle row by row.

use std::fs;
use std::process::{Command, Output};

use serde_json::Value;

fn capwright(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("capwright runs")
}

fn text(args: &[&str]) -> String {
    let output = capwright(args);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

const ONE: &str = "cases/tern-harbour.toml";
const TEN: &str = "cases/quillam-cardigan.toml";

/// One line a row of the cap: two for each turn pair, and the row that runs on to the join.
#[test]
fn a_checklist_has_a_line_for_every_row() {
    let result: Value = serde_json::from_str(&text(&["convert", ONE, "--format", "json"])).unwrap();
    let pairs = result["sizes"][0]["fit"]["turn_pairs"].as_u64().unwrap();
    let csv = text(&["convert", ONE, "--checklist", "csv"]);
    assert_eq!(csv.lines().count() as u64, 1 + 2 * pairs + 1, "{csv}");
    let columns = csv.lines().next().unwrap().split(',').count();
    assert!(columns >= 9, "{csv}");
    let boxes = text(&["convert", ONE, "--checklist"]);
    let rows = boxes
        .lines()
        .filter(|line| line.starts_with("[ ] ") && line.contains('S'));
    assert!(rows.count() as u64 >= 2 * pairs, "{boxes}");
}

/// The text for ten sizes is knitted back size by size, each to its own upper arm.
#[test]
fn all_sizes_in_one_text_knit_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("together.txt");
    fs::write(&path, text(&["convert", TEN, "--together"])).unwrap();
    let knitted = text(&["knit", path.to_str().unwrap(), "--format", "json"]);
    let knitted: Value = serde_json::from_str(&knitted).unwrap();
    let pieces = knitted["pieces"].as_array().unwrap();
    let result: Value = serde_json::from_str(&text(&["convert", TEN, "--format", "json"])).unwrap();
    let sizes = result["sizes"].as_array().unwrap();
    // A left and a right sleeve of every size.
    assert_eq!(pieces.len(), 2 * sizes.len());
    for (i, piece) in pieces.iter().enumerate() {
        let size = &sizes[i % sizes.len()];
        assert_eq!(piece["size"], size["size"]);
        assert_eq!(
            piece["upper_arm_stitches"],
            size["fit"]["upper_arm_stitches"]
        );
        assert_eq!(piece["turn_pairs"], size["fit"]["turn_pairs"]);
    }
}

#[test]
fn the_needle_is_shown_row_by_row() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sleeve.txt");
    fs::write(&path, text(&["convert", ONE])).unwrap();
    let path = path.to_str().unwrap();
    let row = text(&["knit", path, "--row", "12"]);
    assert!(row.contains("12") && row.contains("WS"), "{row}");
    let far = text(&["knit", path, "--row", "1200"]);
    assert!(far.contains("the cap has no row 1200"), "{far}");
    let result: Value = serde_json::from_str(&text(&["convert", ONE, "--format", "json"])).unwrap();
    let pairs = result["sizes"][0]["fit"]["turn_pairs"].as_u64().unwrap();
    let drawn = text(&["knit", path, "--columns"]);
    let lines = drawn.lines().filter(|line| line.contains('#'));
    assert!(lines.count() as u64 >= pairs, "{drawn}");
}

/// The pick-up lists name as many rows as the section has stitches, none twice, none beyond it.
#[test]
fn pick_up_lists_add_up() {
    let result: Value = serde_json::from_str(&text(&["convert", ONE, "--format", "json"])).unwrap();
    let size = &result["sizes"][0];
    let lists = size["sleeves"][0]["pick_up_rows"].as_array().unwrap();
    let rows = |name: &str| {
        let list = lists.iter().find(|list| list["section"] == name).unwrap();
        let mut rows: Vec<u64> = list["rows"]
            .as_array()
            .unwrap()
            .iter()
            .map(|row| row.as_u64().unwrap())
            .collect();
        rows.sort_unstable();
        rows.dedup();
        assert!(*rows.last().unwrap() <= list["of"].as_u64().unwrap());
        rows.len() as u64
    };
    // From the shoulder seam down, the same on both sides; an odd stitch lies in the seam.
    let crown = size["fit"]["crown"].as_u64().unwrap();
    assert_eq!(2 * rows("Crown") + crown % 2, crown);
    assert_eq!(
        rows("First flank"),
        size["fit"]["front"]["picked_up"].as_u64().unwrap()
    );
    assert_eq!(
        rows("Second flank"),
        size["fit"]["back"]["picked_up"].as_u64().unwrap()
    );
}

/// A pattern that was printed before a remark was reworded is still read.
#[test]
fn what_was_written_before_is_knitted() {
    let folder = tempfile::tempdir().unwrap();
    let written = text(&["convert", ONE]);
    let (now, before) = (
        "in the stitch of the old one and as long",
        "as the old pattern has it or as you like",
    );
    let told = written.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains(now));
    let lines: Vec<String> = written
        .lines()
        .map(|line| line.replace(now, before))
        .collect();
    let file = folder.path().join("old.txt");
    fs::write(&file, lines.join("\n")).unwrap();
    assert!(lines.iter().any(|line| line.contains(before)));
    text(&["knit", file.to_str().unwrap()]);
}

/// The cuff has one count wherever it is told: that of its own stitch, where one is told.
#[test]
fn the_cuff_is_the_same_in_every_form() {
    let cuff = [
        "--set",
        "sleeve.cuff_stitches=46",
        "--set",
        "sleeve.cuff={ stitch = \"1x1\", length = 2 }",
    ];
    let json = text(&[&["convert", ONE, "--format", "json"], &cuff[..]].concat());
    let json: Value = serde_json::from_str(&json).unwrap();
    let stitches = json["sizes"][0]["sleeve"]["cuff_stitches"]
        .as_u64()
        .unwrap();
    let drawn = text(&[&["convert", ONE, "--figure", "schematic"], &cuff[..]].concat());
    let written = text(&[&["convert", ONE], &cuff[..]].concat());
    assert!(written.contains(&format!("{stitches} sts]")), "{written}");
    assert!(
        drawn.contains(&format!("({stitches} stitches).")),
        "{drawn}"
    );
}
