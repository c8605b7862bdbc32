//! `knit --follow`: the pattern one step at a time, its place kept beside the case.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// A folder with one of our cases in it.
struct Chair {
    _folder: tempfile::TempDir,
    case: PathBuf,
}

impl Chair {
    fn with(name: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("cases")
            .join(name);
        let case = folder.path().join(name);
        fs::copy(from, &case).unwrap();
        Self {
            _folder: folder,
            case,
        }
    }

    fn of(text: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let case = folder.path().join("case.toml");
        fs::write(&case, text).unwrap();
        Self {
            _folder: folder,
            case,
        }
    }

    fn place(&self) -> PathBuf {
        self.case.with_extension("place.json")
    }

    fn follow(&self, more: &[&str], answers: &str) -> Output {
        let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
            .args(["knit", "--follow"])
            .arg(&self.case)
            .args(more)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Whoever is refused does not wait for the answers.
        let _ = child.stdin.take().unwrap().write_all(answers.as_bytes());
        child.wait_with_output().unwrap()
    }

    fn said(&self, more: &[&str], answers: &str) -> String {
        let output = self.follow(more, answers);
        let err = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(0), "{err}");
        String::from_utf8(output.stdout).unwrap()
    }

    fn json(&self) -> Value {
        let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
            .args(["convert", "--format", "json"])
            .arg(&self.case)
            .output()
            .unwrap();
        serde_json::from_slice(&output.stdout).unwrap()
    }

    fn checklist(&self) -> Vec<BTreeMap<String, String>> {
        let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
            .args(["convert", "--checklist", "csv"])
            .arg(&self.case)
            .output()
            .unwrap();
        let text = String::from_utf8(output.stdout).unwrap();
        let mut table = csv::Reader::from_reader(text.as_bytes());
        let rows = table.deserialize::<BTreeMap<String, String>>();
        rows.map(Result::unwrap).collect()
    }
}

const TERN: &str = "tern-harbour.toml";

/// All steps to the end: each row of the checklist once, in order, with its side and its count; each round
/// of the tube once, two stitches fewer after every one that the plan decreases on.
#[test]
fn every_row_and_every_round_comes_once() {
    let chair = Chair::with(TERN);
    let said = chair.said(&[], &"\n".repeat(1000));
    assert!(said.contains("That was the last step."));
    let json = chair.json();
    let sleeve = &json["sizes"][0]["sleeve"];
    let rows: Vec<&str> = said
        .lines()
        .filter(|line| line.contains(", Row "))
        .collect();
    let list = chair.checklist();
    assert_eq!(rows.len(), list.len());
    for (row, cells) in rows.iter().zip(&list) {
        let named = format!(", Row {} ({})", cells["row"], cells["side"]);
        assert!(row.contains(&named), "{row}");
    }
    let worked: Vec<&str> = said
        .lines()
        .filter_map(|line| line.strip_prefix("  Then: ")?.strip_suffix(" flank"))
        .filter_map(|line| line.split_once(" worked").map(|found| found.0))
        .collect();
    let rows = list.iter().map(|cells| cells["worked"].as_str());
    let wanted: Vec<&str> = rows.take(list.len() - 1).collect();
    assert_eq!(worked, wanted);

    let mut stitches = json["sizes"][0]["fit"]["upper_arm_stitches"]
        .as_u64()
        .unwrap();
    let decreases: Vec<u64> = sleeve["decrease_rounds"]
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n.as_u64().unwrap())
        .collect();
    let rounds = sleeve["rounds"].as_u64().unwrap();
    let steps: Vec<&str> = said.split("\n\n").collect();
    for round in 2..=rounds {
        let head = format!("Tube, Round {round} of {rounds} ");
        let step: Vec<&&str> = steps.iter().filter(|step| step.contains(&head)).collect();
        assert_eq!(step.len(), 1, "{head}");
        if decreases.contains(&round) {
            stitches -= 2;
            assert!(step[0].contains("Dec round"), "{}", step[0]);
        }
        assert!(
            step[0].contains(&format!("Then: {stitches} sts")),
            "{}",
            step[0]
        );
    }
    assert_eq!(Some(stitches), sleeve["cuff_stitches"].as_u64());
}

#[test]
fn the_place_is_kept_beside_the_case() {
    let chair = Chair::with(TERN);
    let first = chair.said(&[], "g 13\n\nnote the blue marker\nq\n");
    assert!(first.contains("Short rows, Row 13 (RS)") && first.contains("Short rows, Row 14 (WS)"));
    assert!(chair.place().exists());
    let again = chair.said(&[], "b\n");
    let heads: Vec<&str> = again
        .lines()
        .filter(|line| line.contains(" of ") && line.ends_with(']'))
        .collect();
    assert!(heads[0].starts_with("Short rows, Row 14 (WS)"), "{heads:?}");
    assert!(heads[1].starts_with("Short rows, Row 13 (RS)"), "{heads:?}");
    assert!(again.contains("Note: the blue marker"));
    // The answers ended after one step back: that is where it is now.
    assert!(chair.said(&[], "q\n").contains("Short rows, Row 13 (RS)"));
    // g goes on to a round further down, b at the start stays there.
    assert!(
        chair
            .said(&[], "g 20\ng 100\nq\n")
            .contains("Tube, Round 100 of ")
    );
    assert!(
        chair
            .said(&[], "g 5000\nhelp me\nq\n")
            .contains("There is no row or round 5000.")
    );
}

/// The landmark half way is 2.6 in give or take 0.2: a third of an inch is too much, a tenth is not.
#[test]
fn what_is_measured_is_judged() {
    let chair = Chair::with(TERN);
    let at = chair.json()["sizes"][0]["landmarks"]["steps"][1].clone();
    let inch = |key: &str| at[key].as_f64().unwrap() / 2.54;
    let row = format!("g {}\n", at["rows"]);
    let ask = |depth: f64| chair.said(&[], &format!("{row}m {depth}\nq\n"));
    assert!(ask(inch("depth_cm")).contains("nothing to worry about (up to"));
    assert!(
        ask(inch("depth_cm") + 3.0 * inch("depth_off_cm")).contains("At this rate the cap ends")
    );
    assert!(ask(inch("depth_cm") - 3.0 * inch("depth_off_cm")).contains("short, more than"));
    assert!(
        chair
            .said(&[], &format!("{row}m a span\nm -3\nq\n"))
            .contains("Say what it measures in in: m 6.5")
    );
}

/// At 29 rows to 10 cm, the picked-up row counted, row 18 lies 19 rows deep, 6.55 cm; at 30 rounds to 10 cm round 20 lies
/// 21 rows below the underarm, 7.0 cm.
#[test]
fn a_measure_is_held_against_the_row_one_is_on() {
    let chair = Chair::of(include_str!("../../data/needles/plover.toml"));
    let ask = |at: &str, typed: &str| {
        let said = chair.said(&[], &format!("{at}\nm {typed}\nq\n"));
        let answer = said
            .lines()
            .find_map(|line| line.strip_prefix("> After ").map(str::to_owned));
        answer.unwrap_or_else(|| panic!("{said}"))
    };
    for typed in ["6.6", "6,6", "66 mm", "2.6 in", "2 5/8\"", "2\u{bd} in"] {
        let answer = ask("g 18", typed);
        assert!(answer.starts_with("row 18 6.6 cm are planned"), "{answer}");
        assert!(
            answer.contains("nothing to worry about (up to"),
            "{typed}: {answer}"
        );
    }
    let short = ask("g 18", "4.5");
    assert!(
        short.contains("so_far.rows = 18 and so_far.depth = 4.5"),
        "{short}"
    );
    // The row that joins is a row of the tube below the cap: what is given is the last pair's.
    let pairs = chair.json()["sizes"][0]["fit"]["turn_pairs"]
        .as_u64()
        .unwrap();
    let join = ask(&format!("g {}", 2 * pairs + 1), "4.0");
    assert!(
        join.contains("joins and is no row of the cap's pairs"),
        "{join}"
    );
    assert!(
        join.contains(&format!("so_far.rows = {}", 2 * pairs)),
        "{join}"
    );
    let odd = ask("g 17", "4.0");
    assert!(
        odd.contains("work row 18") && odd.contains("so_far.rows = 18"),
        "{odd}"
    );
    let tube = ask("g round 20", "7.1");
    assert!(
        tube.starts_with("round 20 7.0 cm are planned") && tube.contains("nothing to worry"),
        "{tube}"
    );
    let long = ask("g round 20", "8.5");
    let stitches = "so_far.rounds = 20, so_far.stitches = 74";
    assert!(
        long.contains(stitches) && long.contains("so_far.length = 8.5"),
        "{long}"
    );
    assert!(long.contains("the tube ends"), "{long}");
    let none = chair.said(&[], "b\nb\ng 1\nb\nm 5\nq\n");
    assert!(none.contains("This step is none to be measured"), "{none}");
}

/// A number stays in the part one is in, and says where else it could lead.
#[test]
fn a_number_leads_to_the_part_one_is_in() {
    let chair = Chair::of(include_str!("../../data/needles/plover.toml"));
    let heads = |answers: &str| -> Vec<String> {
        let said = chair.said(&[], &format!("g row 1\n{answers}q\n"));
        let heads = said
            .lines()
            .filter(|line| line.ends_with(']') && line.contains(" of "));
        heads
            .map(|line| line.split("  ").next().unwrap().to_owned())
            .collect()
    };
    let cap = heads("g 30\ng 20\n");
    assert_eq!(
        cap[1..],
        [
            "Short rows, Row 1 (RS)",
            "Short rows, Row 30 (WS)",
            "Short rows, Row 20 (WS)"
        ]
    );
    let tube = heads("g 100\ng 20\ng row 20\ng 37\n");
    assert_eq!(
        tube[2..4],
        ["Tube, Round 100 of 131", "Tube, Round 20 of 131"]
    );
    assert_eq!(tube[4..], ["Short rows, Row 20 (WS)", "Join, Row 37 (RS)"]);
    let said = chair.said(&[], "g row 5\ng 20\ng round 30\ng 20\nq\n");
    assert!(
        said.contains("There is a round 20, too: g round 20."),
        "{said}"
    );
    assert!(said.contains("There is a row 20, too: g row 20."), "{said}");
}

#[test]
fn a_plan_that_changed_begins_again_and_says_so() {
    let chair = Chair::with(TERN);
    fs::write(
        chair.place(),
        r#"{"one size / both":{"part":"Short rows","at":"Row 99"}}"#,
    )
    .unwrap();
    let said = chair.said(&[], "q\n");
    assert!(
        said.contains("there is no Short rows, Row 99 any more"),
        "{said}"
    );
    assert!(said.contains("Before you start, 1 of "));
}

/// The case is changed between two evenings: the row has the same name and another meaning.
#[test]
fn a_plan_that_changed_below_the_same_name_says_so() {
    let chair = Chair::with(TERN);
    let same = "has changed";
    chair.said(&[], "g 9\nq\n");
    assert!(!chair.said(&[], "q\n").contains(same));
    let text = fs::read_to_string(&chair.case).unwrap();
    let tube = text.replacen("length = 17.5", "length = 18", 1);
    assert_ne!(tube, text);
    fs::write(&chair.case, tube).unwrap();
    let said = chair.said(&[], "q\n");
    assert!(said.contains("the rows to come are others"), "{said}");
    let cap = text.replacen("edge = 8.2", "edge = 8.6", 1);
    assert_ne!(cap, text);
    fs::write(&chair.case, cap).unwrap();
    let said = chair.said(&[], "q\n");
    assert!(
        said.contains("rows that are worked read otherwise"),
        "{said}"
    );
    // At the next step the plan that is there now is the one that is followed.
    chair.said(&[], "g 9\nq\n");
    assert!(!chair.said(&[], "q\n").contains(same));
}

#[test]
fn what_cannot_be_followed_is_refused() {
    let refused = |chair: &Chair, more: &[&str]| {
        let output = chair.follow(more, "\n");
        assert_eq!(output.status.code(), Some(2));
        String::from_utf8(output.stderr).unwrap()
    };
    let broken = Chair::with(TERN);
    fs::write(broken.place(), "not a place").unwrap();
    assert!(refused(&broken, &[]).contains("does not hold a place"));
    assert_eq!(fs::read_to_string(broken.place()).unwrap(), "not a place");
    #[cfg(unix)]
    {
        let linked = Chair::with(TERN);
        let elsewhere = linked.case.with_extension("other");
        fs::write(&elsewhere, "{}").unwrap();
        std::os::unix::fs::symlink(&elsewhere, linked.place()).unwrap();
        assert!(refused(&linked, &[]).contains("is a link"));
        assert_eq!(fs::read_to_string(&elsewhere).unwrap(), "{}");
    }
    let set = Chair::with("quillam-cardigan.toml");
    assert!(refused(&set, &[]).contains("name one with --size"));
    assert!(refused(&set, &["--size", "91 cm"]).contains("say which with --sleeve"));
    let left = set.said(&["--size", "91 cm", "--sleeve", "left"], "\nq\n");
    assert!(left.contains("size 91 cm, left sleeve"));
    let pattern = Chair::with(TERN);
    fs::write(&pattern.case, "PICK UP\n").unwrap();
    refused(&pattern, &[]);
    let piped = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["knit", "--follow", "-"])
        .output()
        .unwrap();
    assert_eq!(piped.status.code(), Some(2));
}

/// What is typed never acts on the terminal, and a place that is none of ours is not trusted.
#[test]
fn notes_and_places_are_shown_made_visible() {
    let chair = Chair::with(TERN);
    let said = chair.said(&[], "note red\u{1b}[31m\u{202e}\nq\n");
    assert!(
        said.contains("red\\u") && !said.contains('\u{1b}'),
        "{said}"
    );
    for odd in [
        "{\"one size / both\":3}",
        "{\"one size / both\":{\"notes\":7,\"part\":[]}}",
        "{}",
    ] {
        fs::write(chair.place(), odd).unwrap();
        chair.said(&[], "\nnote x\nq\n");
    }
}

/// A line nobody can have meant is no Enter, and notes that are not kept are spoken of.
#[test]
fn what_is_not_done_is_said() {
    let chair = Chair::with(TERN);
    let long = "x".repeat(2001);
    let said = chair.said(&[], &format!("\n{long}\nq\n"));
    assert!(said.contains("longer than 2000 bytes"), "{said}");
    let shown: Vec<&str> = said
        .lines()
        .filter(|line| line.contains(" of ") && line.ends_with(']'))
        .collect();
    assert_eq!(shown.len(), 3, "{said}");
    assert_eq!(shown[1], shown[2], "the step is the same");
    let kept: Value = serde_json::from_str(&fs::read_to_string(chair.place()).unwrap()).unwrap();
    let mine = kept.as_object().unwrap().values().next().unwrap();
    let at = format!(
        "{}, {}",
        mine["part"].as_str().unwrap(),
        mine["at"].as_str().unwrap()
    );
    assert!(shown[1].starts_with(&at), "{at} {shown:?}");
    let notes: Vec<String> = (1..=201).map(|n| format!("note number {n}\n")).collect();
    let said = chair.said(&[], &format!("{}q\n", notes.concat()));
    assert_eq!(
        said.matches("This note is not kept: 200 are kept").count(),
        1
    );
    let kept = fs::read_to_string(chair.place()).unwrap();
    assert!(kept.contains("number 200") && !kept.contains("number 201"));
}
