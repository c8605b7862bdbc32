//! The doors that `attacks` does not try: commands with two inputs, standard input by its other names, threads.
#![cfg(unix)]

use crate::common::shelf;
use std::fs;
use std::os::unix::fs::symlink;

use super::attacks::{script, text};

/// Commands that read `$1/print.txt`, `$1/case.toml` or both, writing to `$2`.
const READERS: &[(&str, &[&str])] = &[
    (
        "\"$0\" amend \"$1/print.txt\" \"$1/case.toml\" --format text -o \"$2\"",
        &["print.txt", "case.toml"],
    ),
    (
        "\"$0\" amend - \"$1/case.toml\" --format text -o \"$2\" < \"$1/print.txt\"",
        &["print.txt", "case.toml"],
    ),
    (
        "\"$0\" knit \"$1/print.txt\" --format text -o \"$2\"",
        &["print.txt"],
    ),
    (
        "\"$0\" knit - --format text -o \"$2\" < \"$1/print.txt\"",
        &["print.txt"],
    ),
    (
        "\"$0\" drift \"$1/case.toml\" --format text -o \"$2\"",
        &["case.toml"],
    ),
    (
        "\"$0\" drift - --format text -o \"$2\" < \"$1/case.toml\"",
        &["case.toml"],
    ),
    (
        "yes yes | \"$0\" new --from \"$1/print.txt\" \"$2\"",
        &["print.txt", "case.toml"],
    ),
];

#[test]
fn no_command_writes_over_one_of_its_inputs() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::write(at("print.txt"), "Sleeve. Bind off 5 sts.").unwrap();
    fs::write(at("case.toml"), shelf::bulky_case_text(1, 1)).unwrap();
    let before = ["print.txt", "case.toml"].map(|name| fs::read(at(name)).unwrap());
    for name in ["print.txt", "case.toml"] {
        fs::hard_link(at(name), at(&format!("hard {name}"))).unwrap();
        symlink(at(name), at(&format!("soft {name}"))).unwrap();
    }
    for (command, inputs) in READERS {
        for input in *inputs {
            for target in [
                (*input).to_owned(),
                format!("hard {input}"),
                format!("soft {input}"),
            ] {
                let target = at(&target);
                let (code, _, said) = script(command, &[text(folder.path()), text(&target)]);
                assert_eq!(code, Some(2), "{command} {}: {said}", target.display());
            }
        }
    }
    let after = ["print.txt", "case.toml"].map(|name| fs::read(at(name)).unwrap());
    assert!(before == after);
}

/// Standard input's own file under the names that a system has for it.
#[cfg(target_os = "linux")]
#[test]
fn standard_input_is_not_written_over_by_another_name() {
    let folder = tempfile::tempdir().unwrap();
    let case = folder.path().join("case.toml");
    let toml = shelf::bulky_case_text(1, 1);
    fs::write(&case, &toml).unwrap();
    for name in ["/dev/stdin", "/dev/fd/0", "/proc/self/fd/0"] {
        for command in [
            "check -",
            "check",
            "convert -",
            "check --lines -",
            "check --lines",
        ] {
            let command = format!("\"$0\" {command} --format json -o {name} < \"$1\"");
            let command = command.replace("--lines - --format json", "--lines -");
            let command = command.replace("--lines --format json", "--lines");
            let (code, _, said) = script(&command, &[text(&case)]);
            assert_eq!(code, Some(2), "{command}: {said}");
            assert_eq!(fs::read_to_string(&case).unwrap(), toml, "{command}");
        }
    }
}

/// Lines, a folder, and all sizes in one text.
#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let mut lines = String::new();
    for number in 0..6 {
        let toml = shelf::bulky_case_text(number, 1 + number % 3);
        fs::write(folder.path().join(format!("{number}.toml")), &toml).unwrap();
        lines += &serde_json::json!({ "id": number, "toml": toml }).to_string();
        lines.push('\n');
    }
    let file = folder.path().join("lines");
    fs::write(&file, lines).unwrap();
    for command in [
        "\"$0\" convert --lines --jobs $2 \"$1/lines\"",
        "\"$0\" convert --lines=summary --jobs $2 < \"$1/lines\"",
        "\"$0\" convert --together --jobs $2 \"$1/2.toml\"",
        "d=$(mktemp -d); \"$0\" convert --together --jobs $2 \"$1\" -o \"$d\"; \
         cd \"$d\" && find . -type f | LC_ALL=C sort | xargs cat; rm -r \"$d\"",
    ] {
        let with = |jobs: &str| script(command, &[text(folder.path()), jobs]);
        let (code, alone, said) = with("1");
        assert!(code == Some(0) && alone.len() > 1000, "{command}: {said}");
        for jobs in ["2", "3", "8"] {
            let (code, out, said) = with(jobs);
            assert!(code == Some(0) && out == alone, "{command} {jobs}: {said}");
        }
    }
}
