//! Disks and files that misbehave: a sentence and an exit code, nothing half-written, nothing lost.
#![cfg(unix)]

use crate::common::shelf;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const PROGRAM: &str = env!("CARGO_BIN_EXE_capwright");

pub(super) fn run(args: &[&str]) -> Output {
    Command::new(PROGRAM)
        .args(args)
        .output()
        .expect("capwright runs")
}

pub(super) fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

pub(super) fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// A folder of so many cases.
fn shelf(cases: u32) -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    for number in 0..cases {
        let file = root.path().join(format!("case {number}.toml"));
        fs::write(file, shelf::bulky_case_text(number, 1)).unwrap();
    }
    root
}

/// A script in which small disks of its own can be mounted; `None` where the system allows none.
#[allow(clippy::print_stderr, reason = "what cannot run here says so")]
fn with_own_disks(script: &str, args: &[&str]) -> Option<Output> {
    let allowed = Command::new("unshare")
        .args(["-rm", "sh", "-c", "mount -t tmpfs none /mnt"])
        .output();
    if !allowed.is_ok_and(|output| output.status.success()) {
        eprintln!("not tested here: this system does not let a test mount a small disk");
        return None;
    }
    let output = Command::new("unshare")
        .args(["-rm", "sh", "-c", script, PROGRAM])
        .args(args)
        .output()
        .unwrap();
    Some(output)
}

#[test]
fn a_full_disk_keeps_what_is_done_and_a_larger_one_gets_the_rest() {
    let shelf = shelf(12);
    let wanted = tempfile::tempdir().unwrap();
    run(&["convert", text(shelf.path()), "-o", text(wanted.path())]);
    let copy = tempfile::tempdir().unwrap();
    let script = "mount -t tmpfs -o size=96k none /mnt || exit 9
        \"$0\" convert \"$1\" -o /mnt/out; echo \"code $?\"
        ls /mnt/out/worksheets | wc -l
        mount -o remount,size=8m /mnt || exit 9
        \"$0\" convert \"$1\" -o /mnt/out >&2; echo \"code $?\"
        cp -r /mnt/out/worksheets /mnt/out/summary.txt /mnt/out/manifest.jsonl \"$2\"";
    let args = [text(shelf.path()), text(copy.path())];
    let Some(output) = with_own_disks(script, &args) else {
        return;
    };
    let (out, said) = (
        String::from_utf8(output.stdout.clone()).unwrap(),
        said(&output),
    );
    let lines: Vec<&str> = out.lines().collect();
    assert_eq!((lines[0], lines[2]), ("code 2", "code 0"), "{out}{said}");
    let kept: u32 = lines[1].trim().parse().unwrap();
    assert!(kept > 0 && kept < 12, "{out}{said}");
    assert!(said.contains("of 12 cases are done and kept"), "{said}");
    let unchanged = said.split(" worked on now, ").nth(1).unwrap();
    assert!(!unchanged.starts_with("0 "), "{said}");
    for number in 0..12 {
        let name = format!("worksheets/case {number}.txt");
        let found = fs::read(copy.path().join(&name)).unwrap();
        assert!(
            found == fs::read(wanted.path().join(&name)).unwrap(),
            "{name}"
        );
    }
    for name in ["summary.txt", "manifest.jsonl"] {
        let found = fs::read(copy.path().join(name)).unwrap();
        assert!(
            found == fs::read(wanted.path().join(name)).unwrap(),
            "{name}"
        );
    }
}

#[test]
fn a_folder_that_is_only_for_reading() {
    let shelf = shelf(1);
    let case = shelf.path().join("case 0.toml");
    let script = "mount -t tmpfs none /mnt && mount -o remount,ro /mnt || exit 9
        \"$0\" convert \"$1\" -o /mnt/out; echo \"code $?\"
        \"$0\" convert \"$2\" -o /mnt/out.txt; echo \"code $?\"; ls -A /mnt";
    let Some(output) = with_own_disks(script, &[text(shelf.path()), text(&case)]) else {
        return;
    };
    assert_eq!(output.stdout, b"code 2\ncode 2\n", "{}", said(&output));
    let said = said(&output);
    assert_eq!(said.matches("Read-only file system").count(), 2, "{said}");
    assert_eq!(said.lines().count(), 2, "{said}");
}

#[test]
fn a_gigabyte_is_refused_by_its_size() {
    let shelf = shelf(1);
    let large = shelf.path().join("large.toml");
    let file = fs::File::create(&large).unwrap();
    file.set_len(1 << 30).unwrap();
    let began = std::time::Instant::now();
    for args in [
        &["convert", text(&large)][..],
        &["read", text(&large)],
        &["knit", text(&large)],
        &["convert", text(shelf.path())],
    ] {
        let output = run(args);
        assert_eq!(output.status.code(), Some(2));
        let all = said(&output) + &String::from_utf8_lossy(&output.stdout);
        assert!(all.contains("is larger than 4 MB"), "{all}");
    }
    assert!(began.elapsed().as_secs() < 30);
    // A pipe shows no size: it is read up to the limit and no further.
    let script = "yes | head -c 1000000000 | \"$0\" check";
    let output = Command::new("sh")
        .args(["-c", script, PROGRAM])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said(&output).contains("larger than 4 MB"),
        "{}",
        said(&output)
    );
}

/// Line ends and a byte order mark change nothing; other encodings are named.
#[test]
fn line_ends_marks_and_encodings() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.toml");
    let plain = shelf::bulky_case_text(5, 2);
    let convert = |bytes: &[u8]| {
        fs::write(&path, bytes).unwrap();
        let output = run(&["convert", text(&path)]);
        (output.status.code(), output.stdout.clone(), said(&output))
    };
    let wanted = convert(plain.as_bytes());
    assert_eq!(wanted.0, Some(0), "{}", wanted.2);
    let crlf = convert(plain.replace('\n', "\r\n").as_bytes());
    assert_eq!((crlf.0, &crlf.1), (wanted.0, &wanted.1), "{}", crlf.2);
    let mark = convert(format!("\u{feff}{plain}").as_bytes());
    assert_eq!((mark.0, &mark.1), (wanted.0, &wanted.1), "{}", mark.2);
    let wide: Vec<u8> = plain.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let latin = plain
        .replace("Invented", "Erfundene \u{fc}")
        .replace('\u{fc}', "\u{1}");
    let latin: Vec<u8> = latin
        .bytes()
        .map(|byte| if byte == 1 { 0xfc } else { byte })
        .collect();
    for (bytes, words) in [(wide, "case"), (latin, "is not text in UTF-8: byte 19 ")] {
        let (code, out, said) = convert(&bytes);
        assert_eq!((code, out.len()), (Some(2), 0), "{said}");
        assert!(said.contains(words), "{said}");
    }
}

#[test]
fn files_that_vanish_loop_or_are_none() {
    let shelf = shelf(2);
    let at = |name: &str| shelf.path().join(name);
    std::os::unix::fs::symlink("nowhere.toml", at("gone.toml")).unwrap();
    std::os::unix::fs::symlink("loop.toml", at("loop.toml")).unwrap();
    std::os::unix::fs::symlink(".", at("again")).unwrap();
    // A pipe with nobody at its other end would keep a reader waiting for ever.
    let pipe = Command::new("mkfifo")
        .arg(at("pipe.toml"))
        .status()
        .unwrap();
    assert!(pipe.success());
    let output = run(&["check", text(shelf.path())]);
    let summary = String::from_utf8(output.stdout.clone()).unwrap();
    assert_eq!(output.status.code(), Some(2), "{summary}");
    assert!(summary.contains("\n2 cases checked, 2 sizes;"), "{summary}");
    for words in ["gone: ", "there is no such file", "loop: "] {
        assert!(summary.contains(words), "`{words}` is not in\n{summary}");
    }
    assert!(
        !summary.contains("again/") && !summary.contains("pipe"),
        "{summary}"
    );
}

/// Runs a script with the program as `$0`; returns exit code, output and what was said.
pub(super) fn script(script: &str, args: &[&str]) -> (Option<i32>, String, String) {
    let output = Command::new("sh")
        .args(["-c", script, PROGRAM])
        .args(args)
        .output()
        .unwrap();
    let out = String::from_utf8_lossy(&output.stdout).into_owned();
    (output.status.code(), out, said(&output))
}

/// A line of JSON with a case, as `--lines` reads it.
fn line(number: u32) -> String {
    serde_json::json!({ "id": number, "toml": shelf::bulky_case_text(number, 1) }).to_string()
        + "\n"
}

#[test]
fn a_full_disk_behind_standard_output_is_an_error() {
    let folder = shelf(1);
    let case = folder.path().join("case 0.toml");
    let lines = folder.path().join("lines.jsonl");
    fs::write(&lines, line(1)).unwrap();
    for command in [
        "\"$0\" check \"$1\"",
        "\"$0\" convert \"$1\" --format json",
        "\"$0\" convert \"$1\" -o /dev/stdout",
        "\"$0\" check \"$3\"",
        "\"$0\" check --lines \"$2\"",
        "\"$0\" explain",
        "\"$0\" --help",
        "\"$0\" man",
    ] {
        let args = [text(&case), text(&lines), text(folder.path())];
        let (code, _, said) = script(&format!("{command} > /dev/full"), &args);
        assert_eq!(code, Some(2), "{command}: {said}");
        assert!(said.contains("cannot be written"), "{command}: {said}");
        // A reader that goes away is no error.
        let (_, out, said) = script(&format!("{{ {command}; echo $? >&2; }} | true"), &args);
        assert!(
            out.is_empty() && !said.contains("cannot be written"),
            "{command}: {said}"
        );
    }
}

/// Whatever writes files: one case, its picture, lines, a batch, questions.
const WRITERS: &[&str] = &[
    "\"$0\" check \"$1/case 0.toml\" --format json -o \"$2\"",
    "\"$0\" convert \"$1/case 0.toml\" --format text -o \"$2\"",
    "\"$0\" check --lines \"$1/lines.jsonl\" -o \"$2\"",
    "\"$0\" check --lines < \"$1/lines.jsonl\" -o \"$2\"",
    "\"$0\" explain --format text -o \"$2\"",
];

#[test]
fn no_file_is_written_through_a_link_or_over_what_is_read() {
    let shelf = shelf(1);
    let at = |name: &str| shelf.path().join(name);
    fs::write(at("lines.jsonl"), line(0)).unwrap();
    let before = |name: &str| fs::read(at(name)).unwrap();
    let kept: Vec<(&str, Vec<u8>)> = ["case 0.toml", "lines.jsonl"]
        .map(|name| (name, before(name)))
        .to_vec();
    for (number, (name, _)) in kept.iter().enumerate() {
        std::os::unix::fs::symlink(at(name), at(&format!("link{number}"))).unwrap();
        fs::hard_link(at(name), at(&format!("hard{number}"))).unwrap();
    }
    fs::write(at("other"), "other").unwrap();
    std::os::unix::fs::symlink(at("other"), at("link2")).unwrap();
    std::os::unix::fs::symlink(at("nowhere"), at("link3")).unwrap();
    for writer in WRITERS {
        for target in ["link0", "link1", "link2", "link3"] {
            let (code, _, said) = script(writer, &[text(shelf.path()), text(&at(target))]);
            assert_eq!(code, Some(2), "{writer} {target}: {said}");
        }
    }
    let over = [
        (0, ["hard0", "case 0.toml"]),
        (1, ["hard0", "case 0.toml"]),
        (2, ["hard1", "lines.jsonl"]),
        (3, ["hard1", "lines.jsonl"]),
    ];
    for (writer, targets) in over {
        for target in targets {
            let args = [text(shelf.path()), &at(target).display().to_string()].map(str::to_owned);
            let args: Vec<&str> = args.iter().map(String::as_str).collect();
            let (code, _, said) = script(WRITERS[writer], &args);
            assert_eq!(code, Some(2), "{writer} {target}: {said}");
            assert!(said.contains("never overwritten"), "{said}");
        }
    }
    let by_input = "\"$0\" check --format json -o \"$2\" < \"$1/case 0.toml\"";
    let (code, _, said) = script(by_input, &[text(shelf.path()), text(&at("hard0"))]);
    assert_eq!(code, Some(2), "{said}");
    for (name, bytes) in &kept {
        assert!(before(name) == *bytes, "{name}");
    }
    assert_eq!(fs::read(at("other")).unwrap(), b"other");
    assert!(!at("nowhere").exists());
}

#[test]
fn devices_stay_pipes_are_fed_and_modes_are_kept() {
    use std::os::unix::fs::{FileTypeExt as _, PermissionsExt as _};
    let shelf = shelf(1);
    let at = |name: &str| shelf.path().join(name);
    fs::write(at("lines.jsonl"), line(0)).unwrap();
    for writer in WRITERS {
        let (code, _, said) = script(writer, &[text(shelf.path()), "/dev/null"]);
        assert_eq!(code, Some(0), "{writer}: {said}");
        let about = fs::symlink_metadata("/dev/null").unwrap();
        assert!(about.file_type().is_char_device(), "{writer}");
        let (code, _, said) = script(writer, &[text(shelf.path()), "/dev/full"]);
        assert_eq!(code, Some(2), "{writer}: {said}");
        // What is written is the same through a pipe as in a file, and the file keeps its mode.
        let to_file = at("result");
        fs::write(&to_file, "old").unwrap();
        fs::set_permissions(&to_file, fs::Permissions::from_mode(0o640)).unwrap();
        let (code, _, said) = script(writer, &[text(shelf.path()), text(&to_file)]);
        assert_eq!(code, Some(0), "{writer}: {said}");
        let mode = fs::metadata(&to_file).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640, "{writer}");
        let piped = format!("mkfifo \"$1/pipe\"; cat \"$1/pipe\" & {writer}; wait; rm \"$1/pipe\"");
        let (_, out, said) = script(&piped, &[text(shelf.path()), text(&at("pipe"))]);
        assert_eq!(
            out,
            fs::read_to_string(&to_file).unwrap(),
            "{writer}: {said}"
        );
        fs::remove_file(&to_file).unwrap();
    }
    // Half a batch of files is none.
    let both = "\"$0\" check \"$1/case 0.toml\" -o \"$1/a.txt\" --format text -o /dev/full";
    let (code, _, _) = script(both, &[text(shelf.path())]);
    assert!(code == Some(2) && !at("a.txt").exists());
}

/// A folder of results that somebody else has had in hand.
#[test]
fn a_folder_of_results_is_not_trusted() {
    use std::os::unix::fs::symlink;
    let shelf = shelf(2);
    let outside = tempfile::tempdir().unwrap();
    let victim = outside.path().join("victim");
    for place in [
        ".capwright-lock",
        "manifest.jsonl",
        "worksheets",
        "worksheets/case 0.txt",
        "summary.csv",
        "index.html",
    ] {
        for pipe in [false, true] {
            let results = tempfile::tempdir().unwrap();
            let at = results.path().join(place);
            fs::create_dir_all(at.parent().unwrap()).unwrap();
            fs::write(&victim, "untouched").unwrap();
            if pipe {
                Command::new("mkfifo").arg(&at).status().unwrap();
            } else {
                symlink(&victim, &at).unwrap();
            }
            let command = "timeout 60 \"$0\" check \"$1\" -o \"$2\"";
            let args = [text(shelf.path()), text(results.path())];
            let (code, _, said) = script(command, &args);
            assert_eq!(code, Some(2), "{place}, pipe {pipe}: {said}");
            assert_eq!(fs::read(&victim).unwrap(), b"untouched", "{place}");
            assert!(
                !fs::symlink_metadata(&at).unwrap().is_file(),
                "{place} was replaced"
            );
        }
    }
    let names = fs::read_dir(outside.path()).unwrap().count();
    assert_eq!(names, 1, "something was written outside");
}

#[test]
fn worksheets_of_cases_that_are_gone_are_named_and_cases_are_never_overwritten() {
    let shelf = shelf(2);
    let results = tempfile::tempdir().unwrap();
    let run = |names: &[&str]| {
        let mut args = vec!["check"];
        args.extend(names);
        args.extend(["-o", text(results.path())]);
        let output = Command::new(PROGRAM)
            .args(args)
            .current_dir(shelf.path())
            .output()
            .unwrap();
        (output.status.code(), said(&output))
    };
    let (code, said) = run(&["."]);
    assert!(
        code == Some(0) && !said.contains("belong to no case"),
        "{said}"
    );
    fs::remove_file(shelf.path().join("case 1.toml")).unwrap();
    let (_, said) = run(&["."]);
    assert!(
        said.contains(
            "1 files among the worksheets belong to no case of this run: worksheets/case 1.txt"
        ),
        "{said}"
    );
    assert!(results.path().join("worksheets/case 1.txt").exists());
    // A case that lies where its own worksheet would.
    let inside = results.path().join("worksheets/mine.txt");
    fs::copy(shelf.path().join("case 0.toml"), &inside).unwrap();
    let before = fs::read(&inside).unwrap();
    let (code, said) = run(&["case 0.toml", text(&inside)]);
    assert_eq!(code, Some(2), "{said}");
    assert!(fs::read(&inside).unwrap() == before);
}

/// Names that clash are settled before the work is shared out.
#[test]
fn clashing_names_give_the_same_bytes_on_any_number_of_threads() {
    let shelf = tempfile::tempdir().unwrap();
    for (number, name) in [
        "one.toml",
        "One.toml",
        "one.txt/one.toml",
        "ONE.TXT/x.toml",
        "one-2.toml",
    ]
    .iter()
    .enumerate()
    {
        let at = shelf.path().join(name);
        fs::create_dir_all(at.parent().unwrap()).unwrap();
        fs::write(
            at,
            shelf::bulky_case_text(u32::try_from(number).unwrap(), 1),
        )
        .unwrap();
    }
    let wanted = tempfile::tempdir().unwrap();
    let command = "\"$0\" check \"$1\" -o \"$2\" --jobs $3 && cd \"$2\" && find . -type f | sort | xargs -d '\\n' sha256sum";
    let (code, sums, said) = script(command, &[text(shelf.path()), text(wanted.path()), "1"]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(sums.matches("worksheets/").count(), 5, "{sums}");
    for jobs in ["2", "5", "8"] {
        let again = tempfile::tempdir().unwrap();
        let (_, out, said) = script(command, &[text(shelf.path()), text(again.path()), jobs]);
        let files = |sums: &str| {
            sums.split_once("  ./").map(|_| {
                sums.lines()
                    .filter(|l| l.contains("  ./"))
                    .map(str::to_owned)
                    .collect::<Vec<_>>()
            })
        };
        assert_eq!(files(&out), files(&sums), "{said}");
    }
}
