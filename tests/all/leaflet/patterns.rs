//! Whole patterns against the truths written beside them, in many layouts and with misprints.

use std::fmt::Write as _;

use capwright::leaflet::Status;

use crate::common::leaflets::{Printed, Result, found, judge, patterns};
use crate::common::misprints::{Misprint, misprints};

fn set_in() -> Vec<Printed> {
    let all = patterns()
        .into_iter()
        .filter(|pattern| !pattern.truth.is_empty());
    all.collect()
}

#[test]
fn nine_facts_in_ten_are_found_and_none_is_wrong_in_silence() {
    let (mut right, mut all) = (0, 0);
    let patterns = set_in();
    assert!(patterns.len() >= 30);
    for pattern in patterns {
        for (key, result) in judge(&pattern, &found(&pattern.text)) {
            assert_ne!(result, Result::Silent, "{}: {key}", pattern.name);
            all += 1;
            right += usize::from(matches!(result, Result::Right));
        }
    }
    assert!(right * 10 >= all * 9, "{right} of {all}");
}

#[test]
fn what_is_no_set_in_sleeve_is_refused_with_its_signs() {
    for pattern in patterns() {
        let leaflet = found(&pattern.text);
        assert_eq!(
            leaflet.construction, pattern.construction,
            "{}",
            pattern.name
        );
        assert_eq!(
            leaflet.refused.is_empty(),
            !pattern.truth.is_empty(),
            "{}",
            pattern.name
        );
        if !leaflet.refused.is_empty() {
            assert!(leaflet.facts.is_empty() && leaflet.case.is_empty());
        }
    }
}

#[test]
fn with_the_two_swatches_the_pattern_is_written() {
    let mut written = 0;
    for pattern in set_in() {
        let mut case = found(&pattern.text).case;
        for key in [
            "gauge.round.stitches=22",
            "gauge.round.rows=30",
            "gauge.flat.stitches=22",
            "gauge.flat.rows=30",
        ] {
            // The knitter's counts are taken over the usual length.
            case = capwright::case::set_key(&case, key).unwrap();
        }
        let (case, said) = capwright::case::read_case(&case);
        match case.map(|case| capwright::convert::convert(&case, Some(0))) {
            Some(Ok(_)) => written += 1,
            other => println!(
                "{}: {:?} {:?}",
                pattern.name,
                other.map(|done| done.is_ok()),
                said.first().map(|said| &said.message)
            ),
        }
    }
    assert!(written >= 25, "{written} of 30");
}

/// Lines of at most so many letters; long words are divided at their third letter.
fn set(text: &str, width: usize) -> Vec<String> {
    let mut out = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let free = width.saturating_sub(line.chars().count() + 1);
            if line.is_empty() || word.chars().count() <= free {
                if !line.is_empty() {
                    line.push(' ');
                }
                line += word;
                continue;
            }
            let plain = word.len() > 7 && word.chars().all(|letter| letter.is_ascii_lowercase());
            if plain && free > 4 {
                out.push(format!("{line} {}-", &word[..3]));
                word[3..].clone_into(&mut line);
            } else {
                out.push(std::mem::take(&mut line));
                word.clone_into(&mut line);
            }
        }
        out.push(line);
    }
    out
}

/// Pages with a running head and a number.
fn paged(text: &str) -> String {
    let mut out = String::new();
    for (page, lines) in (1..).zip(set(text, 66).chunks(24)) {
        let _ = write!(
            out,
            "The Tarn Collection, page {page}\n\n{}\n\n{page}\n\u{c}",
            lines.join("\n")
        );
    }
    out
}

/// Two columns on every page.
fn columns(text: &str) -> String {
    let mut out = String::new();
    for page in set(text, 40).chunks(60) {
        let (left, right) = page.split_at(page.len().div_ceil(2));
        for (i, line) in left.iter().enumerate() {
            let right = right.get(i).map_or("", String::as_str);
            let _ = writeln!(out, "{}", format!("{line:<46}{right}").trim_end());
        }
        out.push('\u{c}');
    }
    out
}

#[test]
fn layouts_change_nothing_in_silence() {
    let (mut right, mut all) = (0, 0);
    for pattern in set_in()
        .iter()
        .filter(|pattern| !pattern.text.contains('\u{c}') && !pattern.name.contains("columns"))
    {
        for (layout, text) in [
            ("narrow", set(&pattern.text, 52).join("\n")),
            ("pages", paged(&pattern.text)),
            ("columns", columns(&pattern.text)),
        ] {
            for (key, result) in judge(pattern, &found(&text)) {
                all += 1;
                right += usize::from(matches!(result, Result::Right | Result::UnsureRight));
                assert_ne!(result, Result::Silent, "{} ({layout}): {key}", pattern.name);
                if result == Result::Missing || result == Result::Flagged {
                    println!("{} ({layout}): {key} {result:?}", pattern.name);
                }
            }
        }
    }
    assert!(right * 10 >= all * 9, "{right} of {all}");
}

/// A number that is printed once is what is printed: its fact shows the very words. All that is
/// printed twice must be noticed.
#[test]
fn misprints_are_noticed_where_the_print_can_tell() {
    let (mut tried, mut once) = (0, 0);
    for pattern in set_in().iter().step_by(6) {
        let before = found(&pattern.text);
        // One higher: what is printed once may be any number, `until there are 98` for 88.
        let all = misprints(&pattern.text).into_iter();
        for Misprint { at, text, .. } in all.filter(Misprint::is_one_more) {
            let leaflet = found(&text);
            tried += 1;
            for (key, result) in judge(pattern, &leaflet) {
                if result != Result::Silent {
                    continue;
                }
                let place = match key.split('_').next().unwrap() {
                    "cap" => "sleeve.cap",
                    "back" => "armhole",
                    _ => &key,
                };
                let facts = leaflet
                    .facts
                    .iter()
                    .filter(|fact| fact.key.starts_with(place));
                let shown = facts.filter(|fact| {
                    let old = before.fact(&fact.key).map_or("", |old| old.value.as_str());
                    fact.value != old || fact.key.contains("lines")
                });
                let words = shown
                    .clone()
                    .flat_map(|fact| fact.evidence.iter().map(|at| at.text.as_str()));
                // Lines are counted on their page.
                let page = text[..at].rfind('\u{c}').map_or(0, |end| end + 1);
                let line = text[page..at].matches('\n').count() as u32 + 1;
                let lines = shown.flat_map(|fact| &fact.evidence).map(|at| at.line);
                let near = lines
                    .into_iter()
                    .any(|from| from <= line && line <= from + 12);
                assert!(
                    near && words.count() > 0,
                    "{}: {key} is wrong in silence after a misprint at {:?}",
                    pattern.name,
                    &text[at.saturating_sub(20)..(at + 20).min(text.len())]
                );
                assert!(
                    key != "cap_final" && key != "sleeve.stitches",
                    "{}: {key}, misprint at {:?}",
                    pattern.name,
                    text.get(at.saturating_sub(30)..at + 12)
                );
                once += 1;
            }
        }
    }
    println!("{tried} misprints, {once} facts as misprinted, printed once");
    assert!(tried > 150);
}

#[test]
fn every_fact_that_is_found_shows_its_words() {
    for pattern in set_in() {
        for fact in found(&pattern.text).facts {
            let shown = fact
                .evidence
                .iter()
                .all(|at| at.page > 0 && at.line > 0 && !at.text.is_empty());
            assert!(shown, "{}: {}", pattern.name, fact.key);
            assert!(fact.status != Status::Unsure || !fact.why.is_empty());
        }
    }
}

#[test]
fn any_text_is_read_in_bounded_time() {
    for text in [
        "",
        "\u{c}\u{c}",
        "((((((((",
        "1 1 1 1",
        "BACK\nSLEEVES\nBind off",
        "\u{fb01}½¾ \u{ad}\n-\n-a",
    ] {
        let leaflet = found(text);
        assert!(!leaflet.refused.is_empty() || !leaflet.facts.is_empty());
    }
    let began = std::time::Instant::now();
    let long = "Sizes S (M, L)\nSLEEVES: Cast on 40 (42, 44) sts. Shape cap: Bind off 4 sts at beg of next 2 rows. Dec 1 st each end.\n".repeat(3000);
    let _ = capwright::leaflet::read_leaflet(&long);
    assert!(began.elapsed().as_secs() < 60);
}

/// The numbers are those printed in the two patterns.
#[test]
fn one_of_several_garments_or_sleeves_is_taken() {
    use capwright::leaflet::{Flow, Which, read_flow, read_flow_of};
    let print = |name: &str| {
        let found = patterns().into_iter().find(|pattern| pattern.name == name);
        Flow::of_text(&found.unwrap().text)
    };
    let two = print("56-two-garments");
    let refused = read_flow(&two);
    assert!(!refused.refused.is_empty());
    assert_eq!(refused.garments, ["HER PULLOVER", "HIS PULLOVER"]);
    let sleeve = print("66-plain-and-panel");
    let first = read_flow(&sleeve);
    assert_eq!(
        first.sleeves,
        ["RIGHT SLEEVE (plain)", "LEFT SLEEVE (with cable panel)"]
    );
    assert_eq!(first.fact("sleeve.cap").unwrap().status, Status::Unsure);
    let taken = [
        (
            &two,
            Some(1),
            None,
            "66 (70, 74, 80)",
            "Bind off rem 22 (22, 24, 26) sts",
        ),
        (&two, Some(2), None, "76 (80)", "Bind off rem 22 (24) sts"),
        (
            &sleeve,
            None,
            Some(1),
            "68 (72, 78)",
            "Bind off rem 14 (16, 18) sts",
        ),
        (
            &sleeve,
            None,
            Some(2),
            "74 (78, 84)",
            "Bind off rem 20 (22, 24) sts",
        ),
    ];
    for (flow, garment, sleeve, stitches, last) in taken {
        let mut leaflet = read_flow_of(flow, Which { garment, sleeve });
        capwright::check::prove_leaflet(&mut leaflet);
        for (key, words) in [("sleeve.stitches", stitches), ("sleeve.cap", last)] {
            let fact = leaflet.fact(key).unwrap();
            assert_eq!(fact.status, Status::Sure, "{stitches}: {}", fact.why);
            assert!(fact.value.contains(words), "{}", fact.value);
            assert!(fact.evidence.iter().all(|at| at.line > 1));
        }
    }
    for which in [
        Which {
            garment: Some(3),
            sleeve: None,
        },
        Which {
            garment: Some(0),
            sleeve: None,
        },
    ] {
        assert!(!read_flow_of(&two, which).refused.is_empty());
    }
    let which = Which {
        garment: None,
        sleeve: Some(3),
    };
    assert!(!read_flow_of(&sleeve, which).refused.is_empty());
}

/// The text of a pattern printed to a PDF is that pattern: by a browser (two columns), by a report
/// library (two pages) and by a drawing library.
#[cfg(feature = "leaflet-pdf")]
#[test]
fn three_producers_of_pdf_give_the_same_facts() {
    for (file, name) in [
        ("browser", "03-cardigan-halves"),
        ("reportlab", "13-magazine"),
        ("cairo", "01-alder-pullover"),
        // By a browser: justified in two columns with 4 mm between them and with as much as it leaves by itself, and
        // ragged in three.
        ("gutter-4mm", "01-alder-pullover"),
        ("gutter-usual", "01-alder-pullover"),
        ("three-columns", "03-cardigan-halves"),
    ] {
        let path = format!("{}/tests/leaflets/{file}.pdf", env!("CARGO_MANIFEST_DIR"));
        let flow = capwright::leaflet::read_pdf(std::fs::read(path).unwrap()).unwrap();
        let mut leaflet = capwright::leaflet::read_flow(&flow);
        capwright::check::prove_leaflet(&mut leaflet);
        let pattern = patterns()
            .into_iter()
            .find(|pattern| pattern.name == name)
            .unwrap();
        for (key, result) in judge(&pattern, &leaflet) {
            let right = matches!(result, Result::Right | Result::UnsureRight);
            assert!(right, "{file}: {key} {result:?}\n{}", flow.text);
        }
    }
}

#[cfg(feature = "leaflet-pdf")]
#[test]
fn a_damaged_pdf_is_refused_or_read_and_never_panics() {
    let path = format!(
        "{}/tests/leaflets/reportlab.pdf",
        env!("CARGO_MANIFEST_DIR")
    );
    let bytes = std::fs::read(path).unwrap();
    for at in (0..bytes.len()).step_by(97) {
        let mut cut = bytes.clone();
        cut.truncate(at);
        let _ = capwright::leaflet::read_pdf(cut);
        let mut changed = bytes.clone();
        changed[at] ^= 0x55;
        let _ = capwright::leaflet::read_pdf(changed);
    }
    assert!(capwright::leaflet::read_pdf(b"%PDF-1.7\n%%EOF".to_vec()).is_err());
}
