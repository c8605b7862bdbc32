//! A case as a line of JSON in, a result as a line of JSON out.
//!
//! The oracle of a result is what the same case gives alone; that of the protocol is this: as many
//! lines out as there are lines in that are not empty, in the same order, each JSON by itself.

use crate::common::plausible;
use crate::common::shelf;
use std::fs;
use std::io::{BufRead as _, BufReader, Write as _};
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};

fn start(args: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("capwright starts")
}

/// Exit code, lines out, and what was said.
fn piped(args: &[&str], input: &[u8]) -> (Option<i32>, Vec<Value>, String) {
    let mut child = start(args);
    let mut stdin = child.stdin.take().unwrap();
    let input = input.to_vec();
    let feeder = std::thread::spawn(move || stdin.write_all(&input));
    let output = child.wait_with_output().unwrap();
    feeder.join().unwrap().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.is_empty() || text.ends_with('\n'));
    let lines = text.lines().map(|line| serde_json::from_str(line).unwrap());
    let said = String::from_utf8(output.stderr).unwrap();
    (output.status.code(), lines.collect(), said)
}

/// A case as TOML turned into JSON by the TOML library.
fn json_of(toml: &str) -> Value {
    json!(toml.parse::<toml::Table>().unwrap())
}

#[test]
fn the_result_of_a_line_is_what_the_case_gives_alone() {
    let toml = shelf::bulky_case_text(3, 3);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("case.toml");
    fs::write(&file, &toml).unwrap();
    let alone = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", file.to_str().unwrap(), "--format", "json"])
        .output()
        .unwrap();
    let alone: Value = serde_json::from_slice(&alone.stdout).unwrap();
    let bare = json_of(&toml);
    let input = format!(
        "{bare}\n{}\r\n\n\u{feff}{}\n",
        json!({ "id": { "shelf": 7 }, "case": bare }),
        json!({ "toml": toml, "id": "t" }),
    );
    let (code, lines, said) = piped(&["convert", "--lines"], input.as_bytes());
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(said, "note: 3 lines, 0 failed.\n");
    assert_eq!(lines.len(), 3);
    assert!(
        lines
            .iter()
            .all(|line| line["result"] == alone && line["ok"] == true)
    );
    let numbers: Vec<&Value> = lines.iter().map(|line| &line["line"]).collect();
    assert_eq!(numbers, [1, 2, 4]);
    assert_eq!(lines[0].get("id"), None);
    assert_eq!(lines[1]["id"], json!({ "shelf": 7 }));
    assert_eq!(lines[2]["id"], "t");
}

/// Good and bad lines by turns; `tests/by_hand/lines.sh` does the same with 10,000.
#[test]
fn the_order_is_kept_and_a_bad_line_is_an_error_line() {
    let mut input: Vec<u8> = Vec::new();
    let cases = 60;
    for number in 0..cases {
        match number % 6 {
            1 => input.extend(b"{\"title\": \"no end"),
            3 => input.extend(b"\"\xff\xfe not UTF-8\""),
            5 => input.extend(
                json!({ "id": number, "case": { "title": "bare" } })
                    .to_string()
                    .bytes(),
            ),
            _ => {
                let text = shelf::bulky_case_text(number, 1);
                input.extend(json!({ "id": number, "toml": text }).to_string().bytes());
            }
        }
        input.push(b'\n');
    }
    let one = piped(&["convert", "--lines", "--jobs", "1"], &input);
    let three = piped(&["convert", "--lines", "--jobs", "3"], &input);
    assert_eq!(one, three);
    let (code, lines, said) = one;
    assert_eq!(code, Some(2));
    assert_eq!(said, "note: 60 lines, 30 failed.\n");
    for (number, line) in (0..cases).zip(&lines) {
        assert_eq!(line["line"], number + 1);
        assert_eq!(line["ok"], number % 2 == 0, "{line}");
        if number % 2 == 0 {
            assert_eq!(line["id"], number);
            assert_eq!(line["result"]["case"], format!("Invented shelf {number}"));
        } else {
            let errors = line["errors"].as_array().unwrap();
            assert!(!errors.is_empty());
            for error in errors {
                for key in ["message", "next", "code"] {
                    assert!(!error[key].as_str().unwrap().is_empty(), "{error}");
                }
            }
        }
    }
    let (_, lines, _) = piped(&["convert", "--lines=summary"], &input);
    assert_eq!(lines.len(), 60);
    assert!(lines[0]["summary"]["sizes"][0]["runs"].is_number());
    let (_, lines, _) = piped(&["check", "--lines"], &input);
    assert!(lines[0]["result"]["sizes"][0]["depth_share"].is_number());
}

#[test]
fn a_line_too_long_is_refused_and_the_next_is_read() {
    let mut input = vec![b' '; 4 << 20];
    input.extend(b"\n{}\n");
    let (code, lines, _) = piped(&["check", "--lines"], &input);
    assert_eq!((code, lines.len()), (Some(2), 2));
    assert!(
        lines[0]["errors"][0]["message"]
            .as_str()
            .unwrap()
            .contains("1 MB")
    );
    assert_eq!(lines[1]["line"], 2);
}

/// Whoever writes a line may wait for its answer before the next.
#[test]
fn each_answer_comes_before_the_next_question() {
    let mut child = start(&["check", "--lines", "--jobs", "2"]);
    let mut stdin = child.stdin.take().unwrap();
    let mut answers = BufReader::new(child.stdout.take().unwrap()).lines();
    for number in 0..3 {
        let line = json!({ "id": number, "toml": shelf::bulky_case_text(number, 1) });
        writeln!(stdin, "{line}").unwrap();
        let answer: Value = serde_json::from_str(&answers.next().unwrap().unwrap()).unwrap();
        assert_eq!(answer["id"], number);
    }
    drop(stdin);
    assert!(answers.next().is_none());
    assert_eq!(child.wait().unwrap().code(), Some(0));
}

/// `... | head -1`: a reader that goes away ends the run in peace.
#[test]
fn a_reader_may_go_away() {
    let mut child = start(&["check", "--lines", "--jobs", "2"]);
    let mut stdin = child.stdin.take().unwrap();
    let mut answers = BufReader::new(child.stdout.take().unwrap());
    let line = json!({ "toml": shelf::bulky_case_text(1, 1) }).to_string();
    let feeder = std::thread::spawn(move || while writeln!(stdin, "{line}").is_ok() {});
    let mut first = String::new();
    answers.read_line(&mut first).unwrap();
    drop(answers);
    assert_eq!(child.wait().unwrap().code(), Some(0));
    feeder.join().unwrap();
}

#[test]
fn lines_come_from_files_and_go_to_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let line = |n: u32| json!({ "id": n, "toml": shelf::bulky_case_text(n, 1) }).to_string();
    fs::write(at("a.jsonl"), line(0)).unwrap();
    fs::write(at("b.jsonl"), format!("{}\n{}\n", line(1), line(2))).unwrap();
    let (a, b, gone, out) = (at("a.jsonl"), at("b.jsonl"), at("gone"), at("out.jsonl"));
    let (code, lines, _) = piped(&["check", "--lines", &a, &b, &gone, "-o", &out], b"");
    assert_eq!((code, lines.len()), (Some(2), 0));
    let written = fs::read_to_string(&out).unwrap();
    let lines: Vec<Value> = written
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    let ids: Vec<&Value> = lines.iter().map(|line| &line["id"]).collect();
    assert_eq!(ids, [&json!(0), &json!(1), &json!(2), &Value::Null]);
    assert!(
        lines[3]["errors"][0]["message"]
            .as_str()
            .unwrap()
            .contains("no such file")
    );
}

/// A case may be refused, but no answer blames the program. `examples/plausible.rs` does the same
/// with as many cases as wanted.
#[test]
fn no_plausible_case_ends_in_a_fault_of_the_program() {
    let mut input = String::new();
    for number in 0..80 {
        let line = json!({ "id": number, "toml": plausible::case_text(number) });
        input += &line.to_string();
        input.push('\n');
    }
    let (_, lines, _) = piped(&["convert", "--lines=summary"], input.as_bytes());
    assert_eq!(lines.len(), 80);
    for line in &lines {
        let errors = line["errors"].as_array().into_iter().flatten();
        for error in errors {
            let code = error["code"].as_str().unwrap();
            let next = error["next"].as_str().unwrap();
            let blames = code.starts_with("needle-") || next.contains("report");
            assert!(!blames, "{}: {error}", line["id"]);
        }
    }
    let done = lines.iter().filter(|line| line["ok"] == true).count();
    assert!(done > 40, "{done} of 80 can be knitted");
}
