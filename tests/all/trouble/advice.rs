//! What a next step names, set in the case as it is printed, makes its finding go away.
//!
//! The oracle is the program's own answer to the changed case: advice that has not been tried shows here as a
//! finding that is still there. Cases are plausible ones with a spoilt armhole, few moves or odd wishes.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::common::plausible::{Numbers, case_text};
use capwright::case::{read_case, set_key};
use capwright::convert::convert;
use regex::Regex;

/// Code and next step of everything that is said of a case.
fn said(text: &str) -> Vec<(String, String)> {
    let (case, mut found) = read_case(text);
    if let Some(case) = case {
        match convert(&case, None) {
            Ok(done) => {
                found.extend(done.findings);
                found.extend(done.sizes.into_iter().flat_map(|size| size.findings));
            }
            Err(said) => found.extend(said),
        }
    }
    let each = found.into_iter();
    each.map(|said| (said.code.id.to_owned(), said.advice().to_owned()))
        .collect()
}

/// A plausible case of one size with something wrong; `None` where the number gives a set, or a cap that
/// takes long.
fn spoilt(number: u64) -> Option<String> {
    let mut text = case_text(number);
    let stitches = Regex::new(r#"stitches = "(\d+)""#).unwrap();
    let count: u32 = stitches.captures(&text)?[1].parse().ok()?;
    if text.contains("\nsizes = ") || count > 70 {
        return None;
    }
    let mut n = Numbers(number);
    let shares = [100, 100, 45, 55, 65, 75, 85, 115, 130, 150];
    let share = shares[n.within(0, 9) as usize];
    text = with_armhole(&text, |cm| cm * f64::from(share) / 100.0);
    let set = |text: &mut String, key: &str| *text = set_key(text, key).unwrap();
    if n.within(0, 2) == 0 {
        let tenths = [10, 12, 14, 16, 18, 20][n.within(0, 5) as usize];
        set(
            &mut text,
            &format!("fit.gap_limit={}", f64::from(tenths) / 10.0),
        );
    }
    let moves = ["1/0,2/0", "1/0,1/1", "1/0", "2/0,3/0", "1/1,4/0"];
    if n.within(0, 2) == 0 {
        let list = moves[n.within(0, 4) as usize].replace(',', "\", \"");
        set(&mut text, &format!("fit.moves=[\"{list}\"]"));
    }
    if n.within(0, 5) == 0 {
        let wishes = [
            "depth=8",
            "keep=\"area\"",
            "ease=-2",
            "top=4",
            "upper_arm=20",
        ];
        let wish = wishes[n.within(0, 4) as usize];
        set(&mut text, &format!("adapt.{wish}"));
    }
    Some(text)
}

/// Edge and depth of the armhole changed.
fn with_armhole(text: &str, change: impl Fn(f64) -> f64) -> String {
    let measure = Regex::new(r#"(edge|depth) = "([\d.]+)""#).unwrap();
    let changed = measure.replace_all(text, |found: &regex::Captures<'_>| {
        let cm: f64 = found[2].parse().unwrap();
        format!("{} = \"{:.2}\"", &found[1], change(cm))
    });
    changed.into_owned()
}

fn with_rows(text: &str, rows: f64) -> String {
    let per_10cm = Regex::new(r"\[gauge.pattern\]\nstitches = [\d.]+\nrows = ([\d.]+)").unwrap();
    let per_10cm: f64 = per_10cm.captures(text).unwrap()[1].parse().unwrap();
    with_armhole(text, |cm| cm + rows * 10.0 / per_10cm)
}

/// Everything in a next step that can be set, with the case in which it is set.
fn changes(text: &str, next: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let left_out = next.contains("(with fit.choice left out)");
    let base = if left_out {
        set_key(text, "fit.choice=").unwrap()
    } else {
        text.to_owned()
    };
    let mut set = |key: &str, value: &str| {
        let changed = set_key(&base, &format!("{key}={value}")).unwrap();
        out.push((format!("{key} = {value}"), changed));
    };
    let pairs = r"((?:fit|adapt)\.[a-z_]+) (?:=|to) (\{[^}]*\}|\[[^\]]*\]|-?\d+(?:\.\d+)?)";
    for found in Regex::new(pairs).unwrap().captures_iter(next) {
        set(&found[1], &found[2]);
    }
    for key in ["fit.moves", "fit.choice"] {
        let leave = ["leaving", "Leave"].map(|word| format!("{word} {key} out"));
        if leave.iter().any(|words| next.contains(words)) {
            set(key, "");
        }
    }
    if next.contains("`[adapt]` with `ease = 0`") {
        set("adapt.ease", "0");
    }
    let arm = Regex::new(r"(?i)(?:narrow|widen) the arm to ([\d.]+) cm").unwrap();
    for found in arm.captures_iter(next) {
        set("adapt.upper_arm", &found[1]);
    }
    let runs = Regex::new(r"Ask for (\d+) runs or more").unwrap();
    for found in runs.captures_iter(next) {
        set("fit.runs", &found[1]);
    }
    let more = r"(\d+) rows? more on each side|[Dd]eepen the armhole by (\d+) rows?";
    let fewer =
        r"(\d+) rows? fewer on each side|take (\d+) rows? out of (?:each side of )?the armhole";
    for (words, sign) in [(more, 1.0), (fewer, -1.0)] {
        for found in Regex::new(words).unwrap().captures_iter(next) {
            let rows = found.get(1).or_else(|| found.get(2)).unwrap().as_str();
            let changed = with_rows(text, sign * rows.parse::<f64>().unwrap());
            out.push((found[0].to_owned(), changed));
        }
    }
    out
}

#[test]
fn what_is_advised_makes_the_finding_go_away() {
    let (mut tried, mut failed) = (BTreeMap::new(), String::new());
    let cases: Vec<String> = (0..400).filter_map(spoilt).take(CASES).collect();
    let by_case = cases.iter().map(|text| {
        let mut out = Vec::new();
        for (code, next) in said(text) {
            for (change, changed) in changes(text, &next) {
                let after = said(&changed);
                let still = after.iter().any(|(other, _)| *other == code);
                out.push((code.clone(), change, next.clone(), still));
            }
        }
        out
    });
    for (text, found) in cases.iter().zip(by_case) {
        for (code, change, next, still) in found {
            *tried.entry(code.clone()).or_insert(0) += 1;
            if still {
                let _ = writeln!(failed, "{code} by {change}: {next}\n{text}");
            }
        }
    }
    assert!(failed.is_empty(), "{failed}");
    assert!(
        tried.len() >= 5 && tried.values().sum::<u32>() >= 15,
        "{tried:?}"
    );
}

/// So many cases take some seconds on one core of an idle machine.
const CASES: usize = 24;
