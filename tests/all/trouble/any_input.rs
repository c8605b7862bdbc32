//! Any input at every door: changed case files, JSON, lines and written patterns are answered, never
//! with a panic (overflow checks are on), with places that lie in the text.
//!
//! Texts that are nearly right reach deeper than random ones: each is a good one with a few edits.

use crate::common::shelf;
use std::fs;
use std::io::Write as _;
use std::num::NonZeroUsize;
use std::path::Path;
use std::process::{Command, Stdio};

use capwright::case::{Case, case_text, read_case, set_key};
use capwright::convert::{check, convert_each};
use capwright::diagnostic::Diagnostic;
use capwright::measure::limits;
use capwright::needle::knit_file;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use serde_json::Value;

/// One edit: where (in parts of 1000 of the text), over how many bytes, and what is put there.
type Edit = (u32, usize, Vec<u8>);

/// What slips into files: numbers out of all bounds, marks of the formats, other scripts, control
/// characters, and bytes that are no UTF-8.
fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let piece = prop_oneof![
        prop::sample::select(vec![
            "0",
            "-1",
            "1e308",
            "99999999999999999999",
            "nan",
            "inf",
            "4294967295",
            "4294967296",
            "9007199254740993",
            "\"",
            "\"\"\"",
            "[",
            "]",
            "{",
            "}",
            "=",
            "\n",
            "\r\n",
            "\r",
            ",",
            "(",
            ")",
            "[[",
            "#",
            "\\",
            "\u{feff}",
            "\u{0}",
            "\u{202e}",
            "½",
            "–",
            "١٢",
            "🧶",
            "null",
            "true",
            "rep",
            " sts",
            "every row",
            "[armhole.front]\n",
            "sizes = []\n",
        ])
        .prop_map(|text| text.as_bytes().to_vec()),
        prop::collection::vec(any::<u8>(), 0..6),
        "[0-9]{1,12}".prop_map(String::into_bytes),
    ];
    prop::collection::vec((0..1000_u32, 0..12_usize, piece), 1..5)
}

fn edited(text: &[u8], edits: &[Edit]) -> Vec<u8> {
    let mut bytes = text.to_vec();
    for (place, over, piece) in edits {
        let from = bytes.len() * *place as usize / 1000;
        let to = (from + over).min(bytes.len());
        bytes.splice(from..to, piece.iter().copied());
    }
    bytes
}

/// The same edits in every run; `PROPTEST_CASES` says how many.
fn for_edits(times: u32, check: impl Fn(&[Edit])) {
    let mut runner = TestRunner::deterministic();
    let asked = ProptestConfig::default().cases;
    for _ in 0..times.max(asked / 256 * times) {
        let tree = edits().new_tree(&mut runner).unwrap();
        check(&prop::strategy::ValueTree::current(&tree));
    }
}

fn said_well(text: &str, found: &[Diagnostic]) {
    for diagnostic in found {
        assert!(!diagnostic.message.is_empty() && !diagnostic.advice().is_empty());
        if let Some(span) = diagnostic.span {
            assert!(
                text.get(span.from..span.to).is_some(),
                "{diagnostic:?}\n{text}"
            );
        }
    }
}

fn lines_of<'a>(case: &'a Case, found: &Diagnostic) -> &'a str {
    case.lines(found.lines.unwrap_or_default())
        .unwrap_or_default()
}

/// Everything that a case goes through.
fn whole_way(text: &str) {
    let (case, found) = read_case(text);
    said_well(text, &found);
    assert!(found.len() <= limits::MAX_DIAGNOSTICS + 1);
    let Some(case) = case else {
        assert!(!found.is_empty());
        return;
    };
    let found = match check(&case, None) {
        Ok((sizes, mut found)) => {
            found.extend(sizes.into_iter().flat_map(|size| size.findings));
            found
        }
        Err(found) => found,
    };
    for one in &found {
        said_well(lines_of(&case, one), std::slice::from_ref(one));
    }
    // The fit of a large sleeve takes long and is tested elsewhere.
    let mut stitches = case.sleeve.stitches.iter();
    if stitches.all(|stitches| stitches.count() <= 50)
        && let Ok(result) = convert_each(&case, None, NonZeroUsize::MIN)
    {
        for size in &result.conversion.sizes {
            assert!(size.fit.plan.upper_arm().count() > 0);
        }
    }
}

#[test]
fn changed_case_files() {
    let texts = [
        shelf::bulky_case_text(1, 2),
        fs::read_to_string("cases/quillam-cardigan.toml").unwrap(),
        fs::read_to_string("cases/saddle-lesson.toml").unwrap(),
    ];
    for text in texts {
        for_edits(150, |edits| {
            whole_way(&String::from_utf8_lossy(&edited(text.as_bytes(), edits)));
        });
    }
}

#[test]
fn any_key_set_to_anything() {
    let text = shelf::bulky_case_text(2, 1);
    for_edits(200, |edits| {
        let line = edited(b"gauge.round.rows=30", edits);
        if let Ok(text) = set_key(&text, &String::from_utf8_lossy(&line)) {
            whole_way(&text);
        }
    });
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<u64>().prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    let key = prop_oneof![
        prop::sample::select(vec![
            "gauge", "sleeve", "sizes", "units", "cap", "pattern", "rows"
        ])
        .prop_map(str::to_owned),
        any::<String>(),
    ];
    leaf.prop_recursive(5, 40, 8, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..8).prop_map(Value::from),
            prop::collection::btree_map(key.clone(), inner, 0..8).prop_map(Value::from_iter),
        ]
    })
}

proptest! {
    #[test]
    fn any_json_is_a_case_or_a_sentence(json in any_json()) {
        match case_text(&json) {
            Ok(text) => whole_way(&text),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}

/// What is printed for a case, with a few edits, is knitted or objected to.
#[test]
fn changed_written_patterns() {
    let snapshot =
        fs::read_to_string("tests/all/cli/snapshots/all__cli__cases__tern-harbour.snap").unwrap();
    let from = snapshot.find("PICK UP").unwrap();
    let text = &snapshot[from..];
    for_edits(30, |edits| {
        let changed = edited(text.as_bytes(), edits);
        let changed = String::from_utf8_lossy(&changed);
        let (_, found) = knit_file(&changed);
        said_well(&changed, &found);
    });
}

/// Runs the program on these bytes: its exit code and what it printed.
fn program(args: &[&str], input: Vec<u8>) -> (Option<i32>, Vec<u8>, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // A program that refuses its input early does not read it to the end.
    let feeder = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().unwrap();
    feeder.join().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    (output.status.code(), output.stdout, said)
}

/// Hundreds of changed lines in one run: an answer for each, and the program lives.
#[test]
fn changed_lines() {
    let toml_text = shelf::bulky_case_text(4, 2);
    let case = serde_json::json!(toml_text.parse::<toml::Table>().unwrap());
    let line = serde_json::json!({ "id": 5, "case": case }).to_string();
    let input = std::cell::RefCell::new(Vec::new());
    for_edits(200, |edits| {
        let mut input = input.borrow_mut();
        input.extend(edited(line.as_bytes(), edits));
        input.push(b'\n');
        // The same edits inside a line that is JSON.
        let toml = edited(toml_text.as_bytes(), edits);
        let toml = String::from_utf8_lossy(&toml);
        input.extend(serde_json::json!({ "toml": toml }).to_string().bytes());
        input.push(b'\n');
        // One digit changed to another: mostly a case that can still be looked at.
        let mut near = toml_text.as_bytes().to_vec();
        let (place, to, _) = &edits[0];
        let from = near.len() * *place as usize / 1000;
        if let Some(digit) = near
            .iter_mut()
            .skip(from)
            .find(|byte| byte.is_ascii_digit())
        {
            *digit = b'0' + u8::try_from(to % 10).unwrap();
        }
        let near = String::from_utf8(near).unwrap();
        input.extend(serde_json::json!({ "toml": near }).to_string().bytes());
        input.push(b'\n');
    });
    let input = input.into_inner();
    let lines = input.split(|byte| *byte == b'\n');
    let wanted = lines
        .filter(|line| !line.iter().all(u8::is_ascii_whitespace))
        .count();
    let (code, out, said) = program(&["check", "--lines"], input);
    assert!(
        code.is_some_and(|code| code <= 2) && !said.contains("panicked"),
        "{said}"
    );
    let answers: Vec<Value> = out
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
        .map(|line| serde_json::from_slice(line).unwrap())
        .collect();
    assert_eq!(answers.len(), wanted);
    let well = answers.iter().filter(|answer| answer["ok"] == true).count();
    assert!(
        well > 20 && well < wanted,
        "{well} of {wanted} could be used"
    );
}

/// Nothing takes long or much memory because it is deep or repeats itself.
#[test]
fn deep_and_long_inputs() {
    let deep = |open: &str| open.repeat(100_000);
    let keys: Vec<String> = (0..60_000).map(|n| format!("k{n} = {n}")).collect();
    let keys = keys.join("\n");
    let sizes = format!("sizes = [{}]\n", "\"S\", ".repeat(200_000));
    let counts = format!("[gauge.pattern]\nstitches = [{}]\n", "-1, ".repeat(200_000));
    let texts = [
        format!("a = {}", deep("[")),
        format!("a = {}", deep("{a=")),
        format!("[{}]", vec!["a"; 50_000].join(".")),
        deep("a = \"\n"),
        keys,
        sizes,
        counts,
    ];
    for text in texts {
        let head = text[..30].to_owned();
        let began = std::time::Instant::now();
        let (code, _, said) = program(&["check"], text.into_bytes());
        assert_eq!(code, Some(2), "{head}");
        assert!(!said.contains("panicked") && !said.is_empty(), "{head}");
        assert!(said.len() < 2_000_000, "{head}: {} bytes said", said.len());
        assert!(
            began.elapsed().as_secs() < 60,
            "{head}: {:?}",
            began.elapsed()
        );
    }
    let lines = [deep("["), deep("{\"case\":"), deep("{\"a\":[")].join("\n");
    let (code, out, _) = program(&["check", "--lines"], lines.into_bytes());
    assert_eq!(code, Some(2));
    assert_eq!(out.split(|byte| *byte == b'\n').count(), 3 + 1);
    assert!(Path::new("cases").is_dir(), "run in the project's folder");
}
