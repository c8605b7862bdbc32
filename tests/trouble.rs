//! Disks and files that misbehave: a sentence and an exit code, nothing half-written, nothing lost.
#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stderr,
    reason = "helpers of tests; what cannot run here says so"
)]

#[path = "common/shelf.rs"]
mod shelf;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const PROGRAM: &str = env!("CARGO_BIN_EXE_capwright");

fn run(args: &[&str]) -> Output {
    Command::new(PROGRAM)
        .args(args)
        .output()
        .expect("capwright runs")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn text(path: &Path) -> &str {
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
    let unchanged = said.split(" done now, ").nth(1).unwrap();
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
    assert!(
        summary.starts_with("2 cases checked, 2 sizes;"),
        "{summary}"
    );
    for words in ["gone: ", "there is no such file", "loop: "] {
        assert!(summary.contains(words), "`{words}` is not in\n{summary}");
    }
    assert!(
        !summary.contains("again/") && !summary.contains("pipe"),
        "{summary}"
    );
}
