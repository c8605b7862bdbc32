//! The workbench's answers are the library's own values, and its files the commands' bytes.
#![cfg(feature = "workbench")]

use std::process::Command;

use capwright::case::{Case, read_case};
use capwright::convert::{check, convert, drift::drift};
use capwright::report::{
    Reader, check_json, conversion_document, conversion_json, drift_json, exercise_document,
    size_figures,
};
use capwright::workbench::{Answer, answer};
use proptest::prelude::*;
use serde_json::{Value, json};

const CASES: [(&str, &str); 8] = [
    (
        "cases/tern-harbour.toml",
        include_str!("../../../cases/tern-harbour.toml"),
    ),
    (
        "cases/saddle-lesson.toml",
        include_str!("../../../cases/saddle-lesson.toml"),
    ),
    (
        "cases/tern-wider-arm.toml",
        include_str!("../../../cases/tern-wider-arm.toml"),
    ),
    (
        "cases/heron-topdown.toml",
        include_str!("../../../cases/heron-topdown.toml"),
    ),
    (
        "cases/quillam-cardigan.toml",
        include_str!("../../../cases/quillam-cardigan.toml"),
    ),
    (
        "cases/gannet-saddle.toml",
        include_str!("../../../cases/gannet-saddle.toml"),
    ),
    (
        "cases/skua-stripes.toml",
        include_str!("../../../cases/skua-stripes.toml"),
    ),
    (
        "cases/dunlin-texture.toml",
        include_str!("../../../cases/dunlin-texture.toml"),
    ),
];

fn asked(what: &str, body: &Value) -> Answer {
    answer(what, body.to_string().as_bytes()).expect(what)
}

fn json_of(what: &str, body: &Value) -> Value {
    let answer = asked(what, body);
    assert_eq!(answer.status, 200, "{what}");
    serde_json::from_slice(&answer.body).unwrap()
}

fn case(text: &str) -> Case {
    read_case(text).0.unwrap()
}

/// A value as it comes out of JSON text.
fn through_text(value: &Value) -> Value {
    serde_json::from_str(&value.to_string()).unwrap()
}

#[test]
fn answers_equal_the_library() {
    for (name, text) in CASES {
        let case = case(text);
        let asked = json!({ "toml": text, "size": 0 });
        let conversion = convert(&case, Some(0)).unwrap();
        let told = json_of("convert", &asked);
        assert_eq!(
            told["conversion"],
            through_text(&conversion_json(&case, &conversion)),
            "{name}"
        );
        assert_eq!(
            told["text"],
            conversion_document(&case, &conversion, Reader::Browser, None).text()
        );
        let figures = size_figures(&case, &conversion, 0);
        for figure in &figures {
            let same = told["figures"].as_array().unwrap().iter();
            assert!(
                same.clone().any(|one| one["svg"] == figure.svg.as_str()),
                "{}",
                figure.name
            );
        }
        assert_eq!(json_of("figures", &asked)["figures"], told["figures"]);
        let (sizes, findings) = check(&case, Some(0)).unwrap();
        let checked = json_of("check", &asked);
        assert_eq!(
            checked["check"],
            through_text(&check_json(&case, &sizes, &findings))
        );
        let lesson = drift(&case, Some(0)).unwrap();
        let told = json_of("drift", &asked);
        assert_eq!(told["drift"], through_text(&drift_json(&case, &lesson)));
        assert_eq!(told["exercise"], exercise_document(&case, &lesson).text());
    }
}

fn command(args: &[&str]) -> Vec<u8> {
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(0), "{args:?}");
    output.stdout
}

#[test]
fn files_are_the_commands_bytes() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in &CASES[..4] {
        let file = |kind: &str| asked("file", &json!({ "toml": text, "kind": kind })).body;
        assert_eq!(file("toml"), text.as_bytes());
        assert_eq!(file("txt"), command(&["convert", name]));
        assert_eq!(file("together"), command(&["convert", name, "--together"]));
        assert_eq!(
            file("json"),
            command(&["convert", name, "--format", "json"])
        );
        assert_eq!(
            file("csv"),
            command(&["convert", name, "--checklist", "csv"])
        );
        assert_eq!(file("drift-txt"), command(&["drift", name, "--exercise"]));
        let pdf = cfg!(feature = "pdf").then_some("pdf");
        for ending in ["html", "svg"].into_iter().chain(pdf) {
            let path = folder.path().join(format!("x.{ending}"));
            command(&["convert", name, "-o", path.to_str().unwrap()]);
            assert_eq!(
                file(ending),
                std::fs::read(path).unwrap(),
                "{name} {ending}"
            );
        }
    }
}

#[test]
fn a_form_as_typed_is_the_case() {
    let form = json!({
        "title": "Heron", "units": "cm", "sizes": "S (M, L)",
        "gauge": {
            "pattern": { "stitches": "21", "rows": "28", "over": "" },
            "round": { "stitches": "21.5, 22, 21.5", "rows": "29, 29.5, 29", "washed": true },
        },
        "sleeve": {
            "stitches": "72 (76, 80)", "first_row": "RS",
            "cap": "Bind off 6 sts at the beginning of the next 2 rows.\nDecrease 1 st each end of the next 3 rows, then every other row 12 (13, 14) times.\nBind off 3 sts at the beginning of the next 4 rows.\nBind off the remaining sts.",
        },
        "armhole": { "edge": "21 (21.5, 22)", "underarm": "2.8", "depth": "19.5 (20, 20.5)" },
    });
    let told = json_of("convert", &json!({ "case": form }));
    assert_eq!(told["valid"], true, "{}", told["case_findings"]);
    assert_eq!(told["sizes"], json!(["S", "M", "L"]));
    assert_eq!(told["conversion"]["sizes"].as_array().unwrap().len(), 3);
    let file = asked("file", &json!({ "case": form, "kind": "toml" }));
    assert_eq!(file.file.as_deref(), Some("heron.toml"));
    let text = String::from_utf8(file.body).unwrap();
    assert!(text.contains("stitches = [21.5, 22, 21.5]"), "{text}");
    assert!(text.contains("stitches = \"72 (76, 80)\""), "{text}");
    let again = json_of("convert", &json!({ "toml": text }));
    assert_eq!(again["conversion"], told["conversion"]);
}

/// The steps to follow come with one size, a list a sleeve: every sentence of the pattern that moves a stitch
/// of the cap is in one of them, and every row of the cap is one.
#[test]
fn the_steps_to_follow_come_with_one_size() {
    let text = CASES[4].1;
    let told = json_of("convert", &json!({ "toml": text, "size": 0 }));
    let sleeves = told["conversion"]["sizes"][0]["sleeves"]
        .as_array()
        .unwrap();
    let lists = told["follow"].as_array().unwrap();
    assert_eq!(lists.len(), sleeves.len());
    for (list, sleeve) in lists.iter().zip(sleeves) {
        assert_eq!(list["sleeve"], sleeve["sleeve"]);
        let steps = list["steps"].as_array().unwrap();
        let said: Vec<&str> = steps
            .iter()
            .flat_map(|step| step["say"].as_array().unwrap())
            .filter_map(Value::as_str)
            .collect();
        let sentences = sleeve["instructions"].as_array().unwrap().iter();
        for sentence in sentences.filter_map(Value::as_str) {
            let words = sentence.split(" [").next().unwrap_or_default();
            let counted = sentence.contains(" rows, ") && sentence.ends_with(']');
            assert!(!counted || said.contains(&words), "{words}");
        }
        let pairs = told["conversion"]["sizes"][0]["fit"]["turn_pairs"].as_u64();
        let rows = steps.iter().filter(|step| step["side"].is_string()).count();
        assert_eq!(rows as u64, 2 * pairs.unwrap() + 1);
    }
    let all = json_of("convert", &json!({ "toml": text }));
    assert!(all["follow"].is_null());
}

fn field_of<'a>(told: &'a Value, code: &str) -> Vec<&'a str> {
    let findings = told["case_findings"].as_array().unwrap().iter();
    findings
        .filter(|finding| finding["code"] == code)
        .filter_map(|finding| finding["field"].as_str())
        .collect()
}

#[test]
fn findings_name_their_field() {
    let told = json_of(
        "check",
        &json!({ "case": {
            "title": "x", "units": "cm", "colour": "blue",
            "gauge": { "pattern": { "stitches": "900", "rows": "28" } },
            "sleeve": { "stitches": "72", "cap": "Bind off the remaining sts.", "repeat": { "multiple": "x" } },
            "armhole": { "edge": "eight", "depth": "19" },
            "wording": { "terms": "french" },
        }}),
    );
    assert_eq!(told["valid"], false);
    assert_eq!(field_of(&told, "out-of-range"), ["gauge.pattern.stitches"]);
    assert_eq!(field_of(&told, "unknown-key"), ["colour"]);
    assert_eq!(field_of(&told, "missing-key"), ["armhole.underarm"]);
    assert_eq!(
        field_of(&told, "wrong-type"),
        ["sleeve.repeat.multiple", "armhole.edge"]
    );
    assert_eq!(field_of(&told, "unknown-word"), ["wording.terms"]);
}

/// What is found once the pattern lies on the cap has its field, too.
#[test]
fn a_panel_that_does_not_fit_is_named_at_its_field() {
    let text = include_str!("../../../cases/gannet-saddle.toml");
    let mut form = capwright::case::form_of(text).unwrap();
    form["stitch"]["panels"]["cable.wide"] = json!({ "rows": "k".repeat(30), "at": "crown" });
    let told = json_of("convert", &json!({ "case": form }));
    let found = &told["findings"][0];
    assert_eq!(found["code"], "stitch-panel");
    assert_eq!(found["field"], "stitch.panels.cable.wide");
}

#[test]
fn an_unfinished_case_shows_its_ledger_already() {
    let told = json_of(
        "read",
        &json!({ "case": {
            "units": "cm",
            "sleeve": { "stitches": "40 (44)", "cap": "Bind off 4 sts at the beginning of the next 2 rows. 32 (36) sts." },
        }}),
    );
    assert_eq!(told["valid"], false);
    let rows = told["lines"]["sleeve.cap"]["rows"].as_array().unwrap();
    assert_eq!(rows[0]["left"], "32 (36)");
}

/// The ledger is told in the terms that the case asks for, and a number that stands for all sizes is wrong once.
#[test]
fn a_ledger_in_uk_terms_and_one_wrong_number() {
    let cap = "Cast off 4 sts at the beginning of the next 2 rows. 32 (36) sts.";
    let form = |terms: &str| {
        json!({ "case": {
            "units": "cm", "sizes": "S, M", "wording": { "terms": terms },
            "sleeve": { "stitches": "40 (44)", "cap": cap, "length": "900" },
        }})
    };
    for (terms, word) in [("uk", "cast off"), ("us", "bound off")] {
        let told = json_of("read", &form(terms));
        let rows = &told["lines"]["sleeve.cap"]["rows"];
        assert!(rows[0]["what"].as_str().unwrap().contains(word), "{rows}");
    }
    let told = json_of("convert", &form("uk"));
    let all = told["case_findings"].as_array().unwrap();
    let wrong = all.iter().filter(|d| d["field"] == "sleeve.length");
    assert_eq!(wrong.count(), 1, "{all:?}");
}

#[test]
fn words_are_underlined_where_a_browser_counts_them() {
    // The words stand after letters of one, two and four bytes; a browser counts UTF-16 units.
    let lines = "\u{201c}Cap\u{201d} \u{1f9f6}\nBind off 5 sts at the beginning of the next 2 rows (63 sts).";
    let told = json_of(
        "read",
        &json!({ "case": { "units": "cm", "sleeve": { "stitches": "74", "cap": lines } } }),
    );
    let units: Vec<u16> = lines.encode_utf16().collect();
    let findings = told["lines"]["sleeve.cap"]["findings"].as_array().unwrap();
    // The count that is wrong stands behind all of them; the sign itself is underlined, too.
    let underlined = |code: &str| {
        let finding = findings.iter().find(|finding| finding["code"] == code);
        let at = finding.expect(code)["at"].as_array().unwrap();
        let at = |place: usize| usize::try_from(at[place].as_u64().unwrap()).unwrap();
        String::from_utf16(&units[at(0)..at(1)]).unwrap()
    };
    assert_eq!(underlined("not-understood"), "\u{1f9f6}");
    assert!(underlined("stated-count").contains("63"));
}

/// Whatever is sent, the answer is a whole JSON object or a sentence, and nothing panics.
fn answers_sanely(what: &str, body: &[u8]) {
    let answer = answer(what, body).unwrap();
    assert!(
        [200, 400, 422].contains(&answer.status),
        "{}",
        answer.status
    );
    if answer.mime == "application/json" {
        let told: Value = serde_json::from_slice(&answer.body).unwrap();
        assert!(told.is_object());
        assert_eq!(answer.status == 200, told.get("error").is_none());
    }
}

/// One of our cases with one piece of its text taken away, doubled or put elsewhere.
fn mutated() -> impl Strategy<Value = String> {
    (0..4_usize, any::<[prop::sample::Index; 3]>(), 0..3_u8).prop_map(|(case, places, how)| {
        let letters: Vec<char> = CASES[case].1.chars().collect();
        let mut at = places.map(|place| place.index(letters.len()));
        at.sort_unstable();
        let [a, b, c] = at;
        let pieces: [&[char]; 4] = match how {
            0 => [&letters[..a], &letters[b..c], &letters[c..], &[]],
            1 => [&letters[..b], &letters[a..b], &letters[b..c], &letters[c..]],
            _ => [&letters[..a], &letters[b..c], &letters[a..b], &letters[c..]],
        };
        pieces.concat().into_iter().collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_bytes_get_an_answer(body in prop::collection::vec(any::<u8>(), 0..200)) {
        for what in ["open", "read", "check", "convert", "drift", "figures", "file"] {
            answers_sanely(what, &body);
        }
    }

    #[test]
    fn a_mangled_case_gets_an_answer(text in mutated(), size in 0..3_u8) {
        for what in ["open", "read", "check", "convert"] {
            answers_sanely(what, json!({ "toml": text, "size": size, "brief": true }).to_string().as_bytes());
        }
    }

    #[test]
    fn any_lines_and_numbers_in_a_form_get_an_answer(
        cap in any::<String>(), stitches in any::<String>(), edge in any::<String>(), key in "[a-z_.]{0,12}",
    ) {
        let form = json!({
            "units": "cm", key: "x",
            "gauge": { "pattern": { "stitches": "21", "rows": stitches } },
            "sleeve": { "stitches": stitches, "cap": cap },
            "armhole": { "edge": edge, "underarm": "3", "depth": "19" },
        });
        for what in ["read", "check", "file"] {
            answers_sanely(what, json!({ "case": form, "kind": "toml" }).to_string().as_bytes());
        }
    }
}

/// A whole pattern, as the library reads it; and with the new sleeve in it, as the library amends it.
#[test]
fn a_pattern_is_read_and_amended_as_by_the_library() {
    let print = include_str!("../../leaflets/01-alder-pullover.txt");
    let told = json_of("leaflet", &json!({ "print": print }));
    let drafted = capwright::draft(print);
    assert_eq!(told["facts"], through_text(&json!(drafted.facts)));
    assert_eq!(told["print"], print);
    let mut case = told["case"].clone();
    case["gauge"]["round"] = json!({ "stitches": 22.5, "rows": 31 });
    let sent = json!({ "case": case, "print": print, "kind": "amended-plain" });
    let text = String::from_utf8(asked("file", &sent).body).unwrap();
    assert!(text.starts_with("ALDER PULLOVER") && text.contains("SHORT ROWS"));
    // Without the print, or with another one, there is nothing to amend.
    let bare = asked(
        "file",
        &json!({ "case": sent["case"], "kind": "amended-txt" }),
    );
    assert_eq!(bare.status, 400, "{}", String::from_utf8_lossy(&bare.body));
    let other = include_str!("../../leaflets/13-magazine.txt");
    let other = json!({ "case": sent["case"], "kind": "amended-txt", "print": other });
    assert_eq!(asked("file", &other).status, 400);
    let raglan = include_str!("../../leaflets/40-raglan.txt");
    let refused = json_of("leaflet", &json!({ "print": raglan }));
    assert!(refused["refused"].as_str().unwrap().contains("raglan"));
    for wrong in [json!({}), json!({ "pdf": "!!" }), json!({ "print": 1 })] {
        assert_eq!(asked("leaflet", &wrong).status, 400, "{wrong}");
    }
}

/// Of several garments and sleeves those are taken that the command takes: `new --from`, `amend`.
#[test]
fn one_of_several_garments_or_sleeves_is_chosen_as_by_the_command() {
    // What is open or found is said by the exit code.
    let command = |args: &[&str]| {
        let program = &mut Command::new(env!("CARGO_BIN_EXE_capwright"));
        let output = program.args(args).current_dir(env!("CARGO_MANIFEST_DIR"));
        let output = output.output().unwrap();
        assert!(output.status.code() < Some(2), "{args:?}: {output:?}");
        output.stdout
    };
    let two = "tests/leaflets/56-two-garments.txt";
    let print = std::fs::read_to_string(two).unwrap();
    let asked_first = json_of("leaflet", &json!({ "print": print }));
    assert!(!asked_first["refused"].as_str().unwrap().is_empty());
    assert_eq!(
        asked_first["garments"],
        json!(["HER PULLOVER", "HIS PULLOVER"])
    );
    let sleeves = "tests/leaflets/66-plain-and-panel.txt";
    for (path, flag, number) in [
        (two, "garment", 1),
        (two, "garment", 2),
        (sleeves, "sleeve", 1),
        (sleeves, "sleeve", 2),
    ] {
        let print = std::fs::read_to_string(path).unwrap();
        let told = json_of("leaflet", &json!({ "print": print, flag: number }));
        let (flag, number) = (format!("--{flag}"), number.to_string());
        let args = ["new", "--from", path, &flag, &number, "--format", "json"];
        let listed: Value = serde_json::from_slice(&command(&args)).unwrap();
        assert_eq!(told["facts"], listed["facts"], "{args:?}");
        assert_eq!(told["refused"], "");
    }
    // None of them, and what is no number.
    for which in [json!(3), json!(0), json!(-1), json!("two"), json!(1e9)] {
        let told = json_of("leaflet", &json!({ "print": print, "garment": which }));
        assert!(!told["refused"].as_str().unwrap().is_empty(), "{which}");
    }
    // Both amend the garment that was chosen, in the whole print.
    let mut case = json_of("leaflet", &json!({ "print": print, "garment": 2 }))["case"].clone();
    case["gauge"]["round"] = json!({ "stitches": 22.5, "rows": 31 });
    let sent = json!({ "case": case, "print": print, "garment": 2, "kind": "amended-plain" });
    let by_page = asked("file", &sent);
    assert_eq!(
        by_page.status,
        200,
        "{}",
        String::from_utf8_lossy(&by_page.body)
    );
    let toml = asked("file", &json!({ "case": case, "kind": "toml" })).body;
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("his.toml");
    std::fs::write(&file, toml).unwrap();
    let file = file.to_str().unwrap();
    let by_command = command(&["amend", two, file, "--garment", "2", "--unmarked"]);
    assert_eq!(by_page.body, by_command);
    let text = String::from_utf8(by_page.body).unwrap();
    let (hers, his) = text.split_at(text.find("HIS PULLOVER").unwrap());
    assert!(print.starts_with(hers) && his.contains("SHORT ROWS"));
}
