//! Many cases at once: the same bytes whatever the threads, the pauses and the kills; nothing lost.
//!
//! The oracle of a worksheet is what the same case gives alone; that of a table is RFC 4180 and the
//! JSON beside it.

use crate::common::shelf;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::Instant;

use serde_json::Value;
use tempfile::TempDir;

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
}

fn run(args: &[&str]) -> Output {
    program().args(args).output().expect("capwright runs")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// A folder of so many cases of two sizes, in two folders.
fn shelf(cases: u32) -> TempDir {
    let root = tempfile::tempdir().unwrap();
    for number in 0..cases {
        let folder = root
            .path()
            .join(if number % 2 == 0 { "even" } else { "odd" });
        fs::create_dir_all(&folder).unwrap();
        let text = shelf::bulky_case_text(number, 2);
        fs::write(folder.join(format!("case {number}.toml")), text).unwrap();
    }
    root
}

/// Every file below a folder with its bytes; the names relative to it.
fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut out = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path
                    .strip_prefix(root)
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_owned();
                out.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    out
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// Lines of a table by RFC 4180, with quotes and doubled quotes.
fn table(csv: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let (mut quoted, mut letters) = (false, csv.chars().peekable());
    while let Some(letter) = letters.next() {
        let row = rows.last_mut().unwrap();
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                row.last_mut().unwrap().push('"');
                letters.next();
            }
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(String::new()),
            '\r' if !quoted && letters.peek() == Some(&'\n') => {
                letters.next();
                rows.push(vec![String::new()]);
            }
            letter => row.last_mut().unwrap().push(letter),
        }
    }
    assert_eq!(rows.pop(), Some(vec![String::new()]), "the last line ends");
    rows
}

#[test]
fn a_folder_is_converted_and_summed_up() {
    let shelf = shelf(4);
    let out = tempfile::tempdir().unwrap();
    let output = run(&["convert", text(shelf.path()), "-o", text(out.path())]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let files = files(out.path());
    assert_eq!(output.stdout, files["summary.txt"]);
    let names = ["even/case 0", "even/case 2", "odd/case 1", "odd/case 3"];
    // A worksheet is what the case gives alone.
    for name in names {
        let case = shelf.path().join(format!("{name}.toml"));
        let alone = run(&["convert", text(&case)]);
        assert_eq!(
            alone.stdout,
            files[&format!("worksheets/{name}.txt")],
            "{name}"
        );
    }
    // The page links every worksheet, once a size.
    let page = String::from_utf8(files["index.html"].clone()).unwrap();
    let links = page
        .split("href=\"")
        .skip(1)
        .map(|rest| rest.split('"').next().unwrap())
        .filter(|link| !link.starts_with('#'));
    let links: Vec<String> = links.map(|link| link.replace("%20", " ")).collect();
    assert_eq!(links.len(), 8);
    assert!(
        links.iter().all(|link| files.contains_key(link)),
        "{links:?}"
    );
    // The table and the lines say the same.
    let csv = table(std::str::from_utf8(&files["summary.csv"]).unwrap());
    let column = |name: &str| csv[0].iter().position(|heading| heading == name).unwrap();
    let lines = std::str::from_utf8(&files["results.jsonl"])
        .unwrap()
        .lines();
    let cases: Vec<Value> = lines
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let found: Vec<&str> = cases
        .iter()
        .map(|case| case["case"].as_str().unwrap())
        .collect();
    assert_eq!(found, names);
    let mut rows = csv.iter().skip(1);
    for case in &cases {
        for size in case["sizes"].as_array().unwrap() {
            let row = rows.next().unwrap();
            assert_eq!(row[column("case")], case["case"].as_str().unwrap());
            for figure in ["area_error_pct", "upper_arm_cm", "runs", "ease_pct"] {
                let number: f64 = row[column(figure)].parse().unwrap();
                assert_eq!(Some(number), size[figure].as_f64(), "{figure}");
            }
        }
    }
    assert!(rows.next().is_none());
}

#[test]
fn one_bad_file_never_stops_the_rest() {
    let shelf = shelf(1);
    let at = |name: &str| shelf.path().join(name);
    fs::write(at("a not toml.toml"), "title = ").unwrap();
    fs::write(at("b not utf8.toml"), b"title = \"\xff\xfe\"").unwrap();
    fs::write(at("c empty.toml"), "").unwrap();
    let mut half = shelf::bulky_case_text(7, 3);
    // The first number of the second size is wrong: that size alone fails.
    let from = half.find("then every other row").unwrap();
    let at_number = from + half.get(from..).unwrap().find('(').unwrap() + 1;
    half.insert(at_number, '9');
    fs::write(at("d one size.toml"), half).unwrap();
    fs::create_dir(at("e a folder.toml")).unwrap();
    let gone = shelf.path().join("gone.toml");
    let out = tempfile::tempdir().unwrap();
    let args = [
        "convert",
        text(shelf.path()),
        text(&gone),
        "-o",
        text(out.path()),
    ];
    let output = run(&args);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    let summary = String::from_utf8(output.stdout.clone()).unwrap();
    assert!(
        summary.contains("\n2 cases converted, 4 sizes;"),
        "{summary}"
    );
    let failed = summary.split("Failed\n").nth(1).unwrap();
    for words in [
        "a not toml: ",
        "UTF-8",
        "c empty: The case lacks",
        "d one size, size 2: ",
        "gone: ",
    ] {
        assert!(failed.contains(words), "`{words}` is not in\n{failed}");
    }
    let folder = shelf.path().file_name().unwrap().to_str().unwrap();
    let worksheets: Vec<String> = files(out.path())
        .into_keys()
        .filter_map(|name| name.strip_prefix("worksheets/").map(str::to_owned))
        .collect();
    assert_eq!(
        worksheets,
        [
            format!("{folder}/d one size.txt"),
            format!("{folder}/even/case 0.txt")
        ]
    );
    // What failed fails again, with the same words, without being done again where it can be told.
    let again = run(&args);
    assert_eq!(again.status.code(), Some(2));
    assert_eq!(again.stdout, output.stdout);
    assert!(
        said(&again).contains("2 worked on now, 4 unchanged"),
        "{}",
        said(&again)
    );
}

#[test]
fn only_what_has_changed_is_done_again() {
    let shelf = shelf(3);
    let out = tempfile::tempdir().unwrap();
    let args = ["convert", text(shelf.path()), "-o", text(out.path())];
    run(&args);
    let first = files(out.path());
    let done = |args: &[&str], wanted: &str| {
        let output = run(args);
        assert!(said(&output).contains(wanted), "{}", said(&output));
    };
    done(&args, "0 worked on now, 3 unchanged");
    assert_eq!(
        files(out.path()),
        first,
        "nothing is changed by a run with nothing to do"
    );
    // A worksheet that was edited or is gone is made again.
    let worksheet = out.path().join("worksheets/odd/case 1.txt");
    fs::write(&worksheet, "scribble").unwrap();
    fs::remove_file(out.path().join("worksheets/even/case 0.txt")).unwrap();
    done(&args, "2 worked on now, 1 unchanged");
    assert_eq!(files(out.path()), first);
    // So is a case that was edited, and all of them with other options or when asked.
    let case = shelf.path().join("odd/case 1.toml");
    let edited = fs::read_to_string(&case)
        .unwrap()
        .replace("length = 44", "length = 45");
    fs::write(&case, edited).unwrap();
    done(&args, "1 worked on now, 2 unchanged");
    assert_ne!(files(out.path()), first);
    let with = |more: &[&'static str]| [&args[..], more].concat();
    done(
        &with(&["--set", "fit.runs=4"]),
        "3 worked on now, 0 unchanged",
    );
    done(
        &with(&["--set", "fit.runs=4", "--again"]),
        "3 worked on now, 0 unchanged",
    );
}

#[test]
fn the_same_bytes_on_any_number_of_threads() {
    let shelf = shelf(5);
    let results = ["1", "2", "7"].map(|jobs| {
        let out = tempfile::tempdir().unwrap();
        let args = [
            "convert",
            text(shelf.path()),
            "--jobs",
            jobs,
            "-o",
            text(out.path()),
        ];
        let output = run(&args);
        (output.stdout, files(out.path()))
    });
    assert_eq!(results[0], results[1]);
    assert_eq!(results[0], results[2]);
    // Without a folder for the results only the summary is made.
    let alone = run(&["convert", text(shelf.path())]);
    assert_eq!(alone.stdout, results[0].0.as_slice().to_vec());
}

/// Killed without warning again and again: whatever stands in the folder is whole, and the last
/// run leaves what a run without a pause does. `tests/by_hand/kills.sh` does the same 100 times.
#[cfg(unix)]
#[test]
fn kills_lose_nothing() {
    let shelf = shelf(8);
    let reference = tempfile::tempdir().unwrap();
    let begun = Instant::now();
    run(&["convert", text(shelf.path()), "-o", text(reference.path())]);
    let whole = begun.elapsed();
    let wanted = files(reference.path());
    let out = tempfile::tempdir().unwrap();
    let args = ["convert", text(shelf.path()), "-o", text(out.path())];
    // Early, in the middle and late in what is left, as the runs get shorter.
    for share in [4, 9, 14, 3, 19, 6, 24, 11] {
        let mut child = program()
            .args(args)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(whole * share / 50);
        // SIGKILL: nothing can be tidied up.
        child.kill().unwrap();
        child.wait().unwrap();
        for (name, bytes) in files(out.path()) {
            if name.starts_with("worksheets/") {
                assert!(wanted[&name] == bytes, "{name} is not whole");
            }
        }
    }
    let last = run(&args);
    assert_eq!(last.status.code(), Some(0), "{}", said(&last));
    let mut found = files(out.path());
    found.retain(|name, _| !name.starts_with(".capwright-partial/"));
    assert_eq!(found, wanted);
}

#[test]
fn a_check_of_a_folder() {
    let shelf = shelf(3);
    let output = run(&["check", text(shelf.path())]);
    let summary = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{summary}");
    assert!(summary.contains("\n3 cases checked, 6 sizes;"), "{summary}");
    let out = tempfile::tempdir().unwrap();
    let args = [
        "check",
        text(shelf.path()),
        "--format",
        "json",
        "-o",
        text(out.path()),
    ];
    assert_eq!(run(&args).status.code(), Some(0));
    let worksheet = &files(out.path())["worksheets/odd/case 1.json"];
    let json: Value = serde_json::from_slice(worksheet).unwrap();
    assert_eq!(json["sizes"].as_array().unwrap().len(), 2);
}

#[test]
fn an_empty_folder_and_a_folder_that_cannot_be_made() {
    let empty = tempfile::tempdir().unwrap();
    let output = run(&["convert", text(empty.path())]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains(".toml"), "{}", said(&output));
    let shelf = shelf(1);
    let file: PathBuf = shelf.path().join("a file");
    fs::write(&file, "").unwrap();
    let output = run(&["convert", text(shelf.path()), "-o", text(&file)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said(&output).contains("cannot be written"),
        "{}",
        said(&output)
    );
    assert!(output.stdout.is_empty());
}
