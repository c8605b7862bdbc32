//! The words of every figure can be read: large enough, on the paper, apart from one another.

use crate::common::figures::{CASES, Drawn, case_file, faults_of_words};
use capwright::report::drift_figures;

#[test]
fn the_words_of_the_cases_can_be_read() {
    for name in CASES {
        let drawn = Drawn::of(&case_file(name));
        let faults: Vec<String> = drawn.all().iter().flat_map(faults_of_words).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
}

/// Swatches that hardly say anything, none in the round, one gauge for all.
#[test]
fn the_words_of_lessons_can_be_read() {
    let swatches = [
        "[gauge.flat]\nstitches = [22, 26]\nrows = [30, 31]\n",
        "[gauge.flat]\nstitches = [22, 22]\nrows = [30, 30.5]\n[gauge.round]\nstitches = 24\nrows = 29\n",
        "",
    ];
    for swatches in swatches {
        let file = case_file("tern-harbour");
        let (before, rest) = file.split_once("[gauge.flat]").unwrap();
        let (_, after) = rest.split_once("[sleeve]").unwrap();
        let drawn = Drawn::of(&format!("{before}{swatches}[sleeve]{after}"));
        let figures = drift_figures(&drawn.case, &drawn.lesson());
        let faults: Vec<String> = figures.iter().flat_map(faults_of_words).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
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
