//! The words of every figure can be read: large enough, on the paper, apart from one another.
#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests")]

#[path = "common/figures.rs"]
mod figures;
#[path = "common/random.rs"]
mod random;

use capwright::case::read_case;
use capwright::convert::convert;
use capwright::convert::drift::drift;
use capwright::report::{drift_figures, size_figures};
use figures::{CASES, Drawn, case_file, faults_of_words};
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;

#[test]
fn the_words_of_the_cases_can_be_read() {
    for name in CASES {
        let drawn = Drawn::of(&case_file(name));
        let faults: Vec<String> = drawn.all().iter().flat_map(faults_of_words).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
}

#[test]
fn the_words_of_random_conversions_can_be_read() {
    let mut runner = TestRunner::deterministic();
    let mut drawn = 0;
    let mut faults = Vec::new();
    for i in 0..75 {
        let numbers = random::numbers().new_tree(&mut runner).unwrap().current();
        let case = read_case(&random::case_text(&numbers)).0.unwrap();
        let Ok(conversion) = convert(&case, None) else {
            continue;
        };
        drawn += 1;
        let mut all = size_figures(&case, &conversion, 0);
        // Four plans more take their time.
        if i % 6 == 0 {
            all.extend(drift_figures(&case, &drift(&case, None).unwrap()));
        }
        faults.extend(all.iter().flat_map(faults_of_words));
    }
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(drawn >= 60, "{drawn}");
}

/// The check itself: it sees what it should see.
#[test]
fn words_over_words_are_noticed() {
    let drawn = Drawn::of(&case_file("tern-harbour"));
    let figures = drawn.size(0);
    let mut figure = figures[0].clone();
    let again =
        r#"<text x="14" y="30" font-size="9" text-anchor="start">over the heading</text></svg>"#;
    figure.svg = figure.svg.replace("</svg>", again);
    let faults = faults_of_words(&figure);
    assert!(faults.iter().any(|fault| fault.contains(" over ")));
    assert!(faults.iter().any(|fault| fault.contains(" pt: ")));
    figure.height = 20.0;
    let outside = faults_of_words(&figure);
    assert!(outside.iter().any(|fault| fault.contains("outside")));
}
