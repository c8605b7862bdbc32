//! Words from outside, on their way to a terminal, a file or a page.
#![cfg(unix)]

use super::attacks::{run, said, script, text};
use crate::common::shelf;
use std::fs;

const EVIL: &str = "a\u{1b}[2J\u{202e}b\u{7f}\u{9b}1m\u{2066}c";

/// Cases with such words in every place that a case has for them.
fn evil_cases() -> Vec<String> {
    let codes: Vec<String> = EVIL
        .chars()
        .map(|c| format!("\\U{:08X}", u32::from(c)))
        .collect();
    let quoted = codes.concat();
    let good = shelf::bulky_case_text(1, 2);
    let title = good.lines().find(|line| line.starts_with("title")).unwrap();
    let sizes = good.lines().find(|line| line.starts_with("sizes")).unwrap();
    vec![
        good.replace(title, &format!("title = \"{quoted}\"")),
        good.replace(sizes, &format!("sizes = [\"{quoted}\", \"x\"]")),
        good.replace(title, &format!("\"{quoted}\" = 1")),
        good.replace("units = \"cm\"", &format!("units = \"{quoted}\"")),
        good.replace("table = \"woman\"", &format!("table = \"{quoted}\"")),
        good.replace("Bind off", &format!("{quoted} off")),
        good.replace(title, &format!("title = \"t\" # {EVIL}")),
        format!("{good}\n{EVIL}"),
    ]
}

fn is_plain(text: &str, with: &str) {
    let acts =
        |c: &char| (c.is_control() && !"\n\r\t".contains(*c)) || "\u{202e}\u{2066}".contains(*c);
    assert_eq!(text.chars().find(acts), None, "{with}: {text:?}");
}

/// Nothing of foreign words acts on a terminal, in a file or on a page.
#[test]
fn foreign_text_is_made_visible() {
    for (number, case) in evil_cases().iter().enumerate() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(format!("{EVIL}.toml"));
        let inside = folder.path().join(format!("{EVIL}/x"));
        let set = format!("title=\"{EVIL}\"");
        fs::write(&path, case).unwrap();
        for args in [
            &["convert", text(&path)][..],
            &["convert", text(&path), "--format", "json"],
            &["convert", text(&path), "--grading=csv"],
            &["check", text(&path)],
            &["read", text(&path)],
            &["knit", text(&path)],
            &["check", text(folder.path())],
            &["convert", text(&path), "--size", EVIL],
            &["convert", text(&path), "--set", &set],
            &["convert", text(&path), "-o", text(&inside)],
            &["convert", text(&path), EVIL],
            &["explain", EVIL],
            &["tables", EVIL],
            &["man", EVIL],
            &[EVIL],
        ] {
            let output = run(args);
            let with = format!("case {number}, {args:?}");
            is_plain(&String::from_utf8_lossy(&output.stdout), &with);
            is_plain(&said(&output), &with);
        }
        let line = serde_json::json!({ "id": EVIL, "toml": case }).to_string();
        let lines = folder.path().join("lines.jsonl");
        fs::write(&lines, line).unwrap();
        let output = run(&["check", "--lines", text(&lines)]);
        let out = String::from_utf8_lossy(&output.stdout).into_owned();
        is_plain(&out, "--lines");
        let answer: serde_json::Value = serde_json::from_str(&out).unwrap();
        assert_eq!(answer["id"], EVIL, "an id comes back as it was");
        let results = tempfile::tempdir().unwrap();
        let results = text(results.path());
        run(&[
            "convert",
            text(folder.path()),
            "-o",
            results,
            "--worksheets",
            "html",
        ]);
        for look in ["find . -type f -print0 | xargs -0 cat", "find ."] {
            let found = script(&format!("cd \"$1\" && {look}"), &[results]);
            is_plain(&found.1, "a batch");
        }
    }
}

#[test]
fn titles_and_labels_have_limits() {
    let good = shelf::bulky_case_text(1, 2);
    let title = good.lines().find(|line| line.starts_with("title")).unwrap();
    let sizes = good.lines().find(|line| line.starts_with("sizes")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    for (old, new, words) in [
        (
            title,
            format!("title = \"{}\"", "x".repeat(201)),
            "title has 201 characters; 200 is the limit",
        ),
        (
            title,
            "title = \"one\\ntwo\"".to_owned(),
            "title holds a line break: 'one\\u000atwo'",
        ),
        (
            title,
            "title = \"one\\u2028two\"".to_owned(),
            "title holds a line break",
        ),
        (
            sizes,
            format!("sizes = [\"{}\", \"b\"]", "y".repeat(41)),
            "sizes has 41 characters; 40 is the limit",
        ),
        (
            sizes,
            "sizes = [\"a\", \" \"]".to_owned(),
            "Size 2 has an empty label",
        ),
        (
            sizes,
            "sizes = [\"a\", \"a \"]".to_owned(),
            "Size 2 has the label of another: 'a '",
        ),
        (
            sizes,
            "sizes = [\"a\", \"b\\r\"]".to_owned(),
            "sizes holds a line break",
        ),
    ] {
        fs::write(&path, good.replace(old, &new)).unwrap();
        let output = run(&["convert", text(&path)]);
        assert_eq!(output.status.code(), Some(2), "{new}");
        assert!(said(&output).contains(words), "{new}: {}", said(&output));
    }
    // A long value anywhere is quoted up to a limit.
    fs::write(
        &path,
        good.replace("\"woman\"", &format!("\"{}\"", "z".repeat(100_000))),
    )
    .unwrap();
    let output = run(&["check", text(&path)]);
    let all = said(&output) + &String::from_utf8_lossy(&output.stdout);
    assert!(all.contains("more characters)"), "{}", all.len());
}
