//! `-o`: the ending decides on the form; whole or not at all; nothing that is read is overwritten.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

const ONE: &str = "cases/tern-harbour.toml";
const TEN: &str = "cases/quillam-cardigan.toml";
const SADDLE: &str = "cases/gannet-saddle.toml";
const LESSON: &str = "cases/saddle-lesson.toml";

fn capwright(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("capwright runs")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn refused(args: &[&str], words: &[&str]) {
    let output = capwright(args);
    let said = said(&output);
    assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
    for word in words {
        assert!(said.contains(word), "{args:?}: {said}");
    }
}

fn in_folder(folder: &TempDir, name: &str) -> (PathBuf, String) {
    let path = folder.path().join(name);
    let text = path.to_str().unwrap().to_owned();
    (path, text)
}

/// The names in a folder.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn several_files_each_in_the_form_of_its_ending() {
    let folder = TempDir::new().unwrap();
    let mut args = vec!["convert".to_owned(), ONE.to_owned()];
    for name in ["a.txt", "b.json", "c.html", "d.svg", "e.csv", "f"] {
        args.extend(["-o".to_owned(), in_folder(&folder, name).1]);
    }
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let output = capwright(&args);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(output.stdout.is_empty());
    assert_eq!(
        names(folder.path()),
        ["a.txt", "b.json", "c.html", "d.svg", "e.csv", "f"]
    );
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    let printed = |args: &[&str]| String::from_utf8(capwright(args).stdout).unwrap();
    assert_eq!(read("a.txt"), printed(&["convert", ONE]));
    assert_eq!(read("f"), read("a.txt"));
    assert_eq!(
        read("b.json"),
        printed(&["convert", ONE, "--format", "json"])
    );
    assert_eq!(
        read("e.csv"),
        printed(&["convert", ONE, "--checklist", "csv"])
    );
    assert!(read("c.html").starts_with("<!DOCTYPE html>"));
    assert!(read("d.svg").starts_with("<svg"));
}

#[cfg(feature = "pdf")]
#[test]
fn a_pdf_on_either_paper() {
    let folder = TempDir::new().unwrap();
    for (paper, name) in [("a4", "a.pdf"), ("letter", "b.PDF")] {
        let (path, text) = in_folder(&folder, name);
        let output = capwright(&["convert", ONE, "--paper", paper, "-o", &text]);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        assert!(fs::read(path).unwrap().starts_with(b"%PDF-"));
    }
}

#[test]
fn an_ending_that_is_not_known_is_answered_with_those_that_are() {
    let folder = TempDir::new().unwrap();
    let (_, doc) = in_folder(&folder, "sleeve.doc");
    refused(
        &["convert", ONE, "-o", &doc],
        &[".doc", ".txt, .json, .html, .pdf, .svg and .csv"],
    );
    let (_, html) = in_folder(&folder, "check.html");
    let (_, csv) = in_folder(&folder, "check.csv");
    for command in ["check", "read"] {
        refused(
            &[command, ONE, "-o", &csv],
            &["it writes .txt, .json, .html and .pdf"],
        );
    }
    refused(
        &["convert", ONE, "--format", "json", "-o", &html],
        &["leave one of them out"],
    );
    refused(
        &["convert", ONE, "--together", "-o", &csv],
        &["it writes .txt, .html and .pdf"],
    );
    assert!(names(folder.path()).is_empty());
    // Said in so many words, any ending will do.
    let output = capwright(&["convert", ONE, "--format", "text", "-o", &doc]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
}

#[test]
fn other_commands_write_by_ending_too() {
    let folder = TempDir::new().unwrap();
    for (i, command) in [
        vec!["check", ONE],
        vec!["read", ONE],
        vec!["drift", ONE],
        vec!["drift", LESSON, "--exercise"],
        vec!["explain", "upper-arm-tight"],
        vec!["tables", "woman", "M"],
    ]
    .into_iter()
    .enumerate()
    {
        let (json, json_text) = in_folder(&folder, &format!("{i}.json"));
        let (txt, txt_text) = in_folder(&folder, &format!("{i}.txt"));
        let args = [command.clone(), vec!["-o", &json_text, "-o", &txt_text]].concat();
        let output = capwright(&args);
        assert_eq!(output.status.code(), Some(0), "{args:?}: {}", said(&output));
        assert_eq!(fs::read(txt).unwrap(), capwright(&command).stdout);
        let value: serde_json::Value = serde_json::from_slice(&fs::read(json).unwrap()).unwrap();
        assert!(value.is_object());
    }
}

#[test]
fn a_file_that_is_read_is_never_overwritten() {
    let folder = TempDir::new().unwrap();
    let (case, case_text) = in_folder(&folder, "case.toml");
    let before = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(ONE)).unwrap();
    fs::write(&case, &before).unwrap();
    let dotted = folder.path().join(".").join("case.toml");
    let mut others = vec![case_text.clone(), dotted.to_str().unwrap().to_owned()];
    #[cfg(unix)]
    {
        let (link, link_text) = in_folder(&folder, "link.txt");
        std::os::unix::fs::symlink(&case, link).unwrap();
        let (hard, hard_text) = in_folder(&folder, "hard.txt");
        fs::hard_link(&case, hard).unwrap();
        others.extend([link_text, hard_text]);
    }
    for other in &others {
        for command in ["convert", "check", "read", "drift", "knit"] {
            let args = [command, &case_text, "--format", "text", "-o", other];
            refused(&args, &["never overwritten"]);
        }
    }
    assert_eq!(fs::read(&case).unwrap(), before);
}

#[test]
fn when_one_file_cannot_be_written_none_is() {
    let folder = TempDir::new().unwrap();
    let (_, good) = in_folder(&folder, "good.txt");
    let (_, far) = in_folder(&folder, "no/such/folder/sleeve.txt");
    let whole = folder.path().to_str().unwrap();
    refused(
        &["convert", ONE, "-o", &good, "-o", &far],
        &["there is no folder"],
    );
    refused(
        &["convert", ONE, "-o", &good, "-o", whole],
        &["is a folder"],
    );
    refused(
        &["convert", ONE, "-o", &good, "-o", &good],
        &["named twice"],
    );
    // The picture is missing only when it is about to be written.
    let (_, svg) = in_folder(&folder, "sleeve.svg");
    refused(
        &[
            "convert", ONE, "--figure", "overley", "-o", &good, "-o", &svg,
        ],
        &["Did you mean overlay?"],
    );
    // Every picture has a name, and all of them are told.
    refused(
        &["convert", SADDLE, "--figure", "chart-peice-2", "-o", &svg],
        &[
            "chart-piece, chart-piece-2, chart-piece-3",
            "Did you mean chart-piece-2?",
            "repeat-chart, repeat-chart-2",
        ],
    );
    // All that is wrong is said at once.
    let (_, doc) = in_folder(&folder, "sleeve.doc");
    refused(
        &["convert", ONE, "-o", &doc, "-o", &far],
        &[".doc", "there is no folder"],
    );
    assert!(names(folder.path()).is_empty());
}

#[test]
fn a_picture_of_many_sizes_needs_one_of_them() {
    let folder = TempDir::new().unwrap();
    let (path, svg) = in_folder(&folder, "cap.svg");
    refused(
        &["convert", TEN, "-o", &svg],
        &["--size", "91 cm", "--figure size-set"],
    );
    for args in [
        vec!["convert", TEN, "--size", "91 cm", "-o", &svg],
        vec!["convert", TEN, "--figure", "size-set", "-o", &svg],
        vec!["convert", ONE, "--figure", "fabric-map", "-o", &svg],
        vec!["drift", LESSON, "-o", &svg],
    ] {
        let output = capwright(&args);
        assert_eq!(output.status.code(), Some(0), "{args:?}: {}", said(&output));
        assert!(fs::read_to_string(&path).unwrap().starts_with("<svg"));
    }
}

#[test]
fn what_is_printed_can_be_written_at_the_same_time() {
    let folder = TempDir::new().unwrap();
    let (path, text) = in_folder(&folder, "b.json");
    let output = capwright(&["convert", ONE, "-o", "-", "-o", &text]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert_eq!(output.stdout, capwright(&["convert", ONE]).stdout);
    assert!(fs::read_to_string(path).unwrap().starts_with('{'));
    // A picture that is named and sent nowhere is printed.
    for command in ["convert", "drift"] {
        let name = ["overlay", "swatch"][usize::from(command == "drift")];
        let output = capwright(&[command, ONE, "--figure", name]);
        assert!(output.stdout.starts_with(b"<svg"), "{}", said(&output));
    }
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::PermissionsExt as _;

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    /// A new file is as any other program would make it; an old one keeps what its owner chose.
    #[test]
    fn permissions_are_ordinary() {
        let folder = TempDir::new().unwrap();
        for (umask, expected) in [("022", 0o644), ("027", 0o640), ("077", 0o600)] {
            let (path, text) = in_folder(&folder, &format!("{umask}.txt"));
            let command = format!("umask {umask}; exec \"$0\" explain -o \"$1\"");
            let status = Command::new("sh")
                .args(["-c", &command, env!("CARGO_BIN_EXE_capwright"), &text])
                .status()
                .unwrap();
            assert!(status.success());
            assert_eq!(mode(&path), expected, "umask {umask}");
        }
        let (path, text) = in_folder(&folder, "022.txt");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o664)).unwrap();
        assert_eq!(capwright(&["explain", "-o", &text]).status.code(), Some(0));
        assert_eq!(mode(&path), 0o664);
        assert_eq!(names(folder.path()).len(), 3, "nothing else is left behind");
    }
}
