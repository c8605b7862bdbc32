//! The house: imports go one way. Reads the source and fails when a room uses one above it.

use std::fs;
use std::path::{Path, PathBuf};

/// Rooms from the doors down: a room may use those after it and none before it, but for
/// [`STRANGERS`].
const ROOMS: &[&str] = &[
    "cli",
    "workbench",
    "report",
    "amend",
    "convert",
    "check",
    "wording",
    "needle",
    "fit",
    "adapt",
    "body",
    "swatch",
    "outline",
    "pattern",
    "case",
    "stitch",
    "plan",
    "leaflet",
    "measure",
    "parallel",
    "diagnostic",
];

/// Rooms that use the same rooms and do not know each other: the two doors; and the three that
/// meet in `plan` alone, so that what is found, what is written and what is knitted check each
/// other.
const STRANGERS: &[&[&str]] = &[&["cli", "workbench"], &["wording", "needle", "fit"]];

fn strangers(room: &str, other: &str) -> bool {
    let both = |group: &&[&str]| group.contains(&room) && group.contains(&other);
    room != other && STRANGERS.iter().any(both)
}

fn rank(room: &str) -> Option<usize> {
    ROOMS.iter().position(|known| *known == room)
}

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|end| end == "rs") {
            out.push(path);
        }
    }
}

/// The room a file belongs to: the first folder below `src`, or the file's own name.
fn room(path: &Path, src: &Path) -> String {
    let inside = path.strip_prefix(src).unwrap();
    let first = inside.components().next().unwrap().as_os_str();
    first.to_str().unwrap().trim_end_matches(".rs").to_owned()
}

/// Rooms named after `crate::` in this text: in `use` lines, groups and paths.
fn used(text: &str) -> Vec<String> {
    let mut rooms = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        // Macros written as `$crate::` and other crates' paths do not occur here.
        let rest = &text[at + "crate::".len()..];
        if let Some(group) = rest.strip_prefix('{') {
            let end = group.find("};").expect("a group ends");
            let mut depth = 0;
            let mut word = String::new();
            for letter in group[..end].chars().chain([',']) {
                match letter {
                    '{' => depth += 1,
                    '}' => depth -= 1,
                    ',' if depth == 0 => {
                        rooms.push(word.split("::").next().unwrap().trim().to_owned());
                        word.clear();
                    }
                    _ if depth == 0 => word.push(letter),
                    _ => {}
                }
            }
        } else {
            let name = |letter: &char| letter.is_alphanumeric() || *letter == '_';
            rooms.push(rest.chars().take_while(name).collect());
        }
    }
    rooms
}

/// Imports in a file of this room that go up, or to a stranger.
fn upward(room: &str, text: &str) -> Vec<String> {
    let Some(own) = rank(room) else {
        return Vec::new();
    };
    let code: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n");
    used(&code)
        .into_iter()
        .filter(|other| rank(other).is_some_and(|o| o < own) || strangers(room, other))
        .collect()
}

#[test]
fn imports_go_one_way() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let mut problems = Vec::new();
    for file in files {
        let room = room(&file, &src);
        assert!(
            ["main", "lib"].contains(&room.as_str()) || rank(&room).is_some(),
            "{room} is a room without a place in the house"
        );
        for other in upward(&room, &fs::read_to_string(&file).unwrap()) {
            problems.push(format!("{}: {room} may not use {other}", file.display()));
        }
    }
    assert!(problems.is_empty(), "{}", problems.join("\n"));
}

#[test]
fn an_upward_import_is_noticed() {
    assert_eq!(
        upward("measure", "use crate::pattern::Ledger;"),
        ["pattern"]
    );
    assert_eq!(
        upward("fit", "use crate::{case::Case, wording::{self, x}};"),
        ["wording"]
    );
    assert_eq!(
        upward("fit", "let x = crate::report::json::cm(y);"),
        ["report"]
    );
    assert!(upward("report", "use crate::{convert::Old, case::Case};").is_empty());
    assert_eq!(upward("cli", "use crate::workbench::page;"), ["workbench"]);
    assert_eq!(upward("wording", "use crate::needle::knit;"), ["needle"]);
    assert_eq!(upward("needle", "use crate::{fit, plan};"), ["fit"]);
}
