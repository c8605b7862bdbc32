//! The limits told in DEVELOPERS.md are those of the code.

use std::fs;

use capwright::diagnostic::MAX_MESSAGE;
use capwright::measure::limits::{
    MAX_AHEAD, MAX_BYTES, MAX_CLAUSE, MAX_DEPTH, MAX_DIAGNOSTICS, MAX_ENTRIES, MAX_ENTRY_BYTES,
    MAX_FILE_BYTES, MAX_FOLDERS, MAX_LABEL, MAX_LINE_BYTES, MAX_LIST, MAX_NUMBER,
    MAX_REPAIRED_BYTES, MAX_ROWS, MAX_SHOWN, MAX_SIZES, MAX_STEPS, MAX_STITCHES, MAX_TITLE,
    MAX_TRIAL_ROWS, MAX_WORKSHEET_BYTES,
};

#[test]
fn the_table_of_limits_is_true() {
    let developers = fs::read_to_string("DEVELOPERS.md").unwrap();
    let table = developers.split("## Limits\n").nth(1).unwrap();
    let table = table.split("\n## ").next().unwrap();
    let row = |name: &str| {
        let line = table
            .lines()
            .find(|line| line.starts_with(&format!("| {name} |")));
        line.unwrap_or_else(|| panic!("no row '{name}'"))
    };
    let rows: &[(&str, Vec<String>)] = &[
        ("a file", vec![format!("{} MB", MAX_FILE_BYTES >> 20)]),
        (
            "a line of `--lines`",
            vec![format!("{} MB", MAX_LINE_BYTES >> 20)],
        ),
        ("a list in a case", vec![MAX_LIST.to_string()]),
        ("sizes of a set", vec![MAX_SIZES.to_string()]),
        (
            "characters of a title, of a size's label",
            vec![MAX_TITLE.to_string(), MAX_LABEL.to_string()],
        ),
        ("characters of a message", vec![MAX_MESSAGE.to_string()]),
        (
            "a worksheet, a line of the manifest, its entries, of an earlier run",
            vec![
                format!("{} MB", MAX_WORKSHEET_BYTES >> 20),
                format!("{} MB", MAX_ENTRY_BYTES >> 20),
                MAX_ENTRIES.to_string(),
            ],
        ),
        (
            "problems of one text",
            vec![MAX_DIAGNOSTICS.to_string(), format!("shows {MAX_SHOWN}")],
        ),
        ("pattern lines", vec![MAX_BYTES.to_string()]),
        (
            "the text of a printed pattern",
            vec![format!("{} MB", capwright::leaflet::MAX_BYTES / 1_000_000)],
        ),
        ("rows of one size", vec![MAX_ROWS.to_string()]),
        (
            "stitches on a needle, a number",
            vec![MAX_STITCHES.to_string(), format!("{MAX_NUMBER:.0}")],
        ),
        (
            "sizes and stitches of a written pattern that is knitted back",
            vec![
                MAX_SIZES.to_string(),
                capwright::measure::STITCH_COUNT.max.to_string(),
            ],
        ),
        ("brackets within brackets", vec![MAX_DEPTH.to_string()]),
        (
            "words of a clause, instructions of a size",
            vec![MAX_CLAUSE.to_string(), MAX_STEPS.to_string()],
        ),
        (
            "text in which a repair is looked for, rows tried",
            vec![MAX_REPAIRED_BYTES.to_string(), MAX_TRIAL_ROWS.to_string()],
        ),
        ("folders within folders", vec![MAX_FOLDERS.to_string()]),
        (
            "cases or lines begun ahead, each thread",
            vec![MAX_AHEAD.to_string()],
        ),
    ];
    for (name, numbers) in rows {
        for number in numbers {
            assert!(
                row(name).contains(number.as_str()),
                "{}: {number}",
                row(name)
            );
        }
    }
    let told = table.lines().filter(|line| line.starts_with("| ")).count();
    assert_eq!(told, rows.len() + 2, "rows, a heading and its rule");
}
