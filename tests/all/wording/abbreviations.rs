//! Our short words against the published standard list.

use std::collections::BTreeSet;

use capwright::case::{Style, Turn};
use capwright::measure::{Rows, Stitches};
use capwright::needle::words_of;
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Sleeve, TubePlan, Zone};
use capwright::wording::{SleeveText, abbreviations, write};

/// Craft Yarn Council, knitting abbreviations: those of the list that a sleeve can need.
const STANDARD: &[&str] = &[
    "dec", "inc", "k", "k2tog", "p", "p2tog", "pm", "RS", "sl", "sm", "ssk", "ssp", "st", "sts",
    "tbl", "tog", "w&t", "WS",
];

/// Not in the list; explained in every pattern that uses it.
const OURS: &[&str] = &["ds"];

fn sentences(turn: Turn) -> Vec<String> {
    let flank = FlankPlan {
        moves: vec![Move::new(2, 0), Move::new(2, 1), Move::new(1, 1)],
        zones: vec![Zone {
            stitches: Stitches(5),
            rows: Rows(8),
        }],
    };
    let plan = CapPlan {
        join_change: 0,
        crown: Crown {
            stitches: Stitches(9),
            live: Stitches(3),
            rows: Rows(7),
        },
        base_front: Stitches(3),
        base_back: Stitches(2),
        front: flank.clone(),
        back: flank,
    };
    let tube = TubePlan {
        upper_arm: plan.upper_arm(),
        cuff: plan.upper_arm() - Stitches(2),
        rounds: Rows(9),
        decrease_rounds: vec![4],
        worked: Rows::ZERO,
        beside: 0,
    };
    let input = SleeveText {
        plan: &plan,
        tube: Some(&tube),
        cuff: None,
        style: Style {
            turn,
            ..Style::default()
        },
        sleeve: Sleeve::Left,
    };
    write(&input).sentences()
}

fn words(sentences: &[String]) -> Vec<String> {
    sentences.iter().flat_map(|s| words_of(s)).collect()
}

#[test]
fn only_those_used_are_listed() {
    let shorts = |sentence: &str| -> Vec<&str> {
        let listed = abbreviations(&words_of(sentence));
        listed.iter().map(|a| a.short).collect()
    };
    assert_eq!(
        shorts("Row 1 (RS): k17 to the marker, w&t."),
        ["k", "RS", "w&t"]
    );
    assert_eq!(
        shorts("Dec round: k1, k2tog, k to the last 3 sts, ssk, k1."),
        ["dec", "k", "k2tog", "ssk", "sts"]
    );
}

/// Every word of a text without a vowel, or with capitals alone, is an abbreviation: it must be
/// in the standard list or explained as ours.
#[test]
fn every_short_word_is_a_standard_one() {
    for turn in [Turn::Wrap, Turn::German] {
        let text = sentences(turn);
        let words = words(&text);
        let listed: BTreeSet<&str> = abbreviations(&words).iter().map(|a| a.short).collect();
        for short in &listed {
            assert!(STANDARD.contains(short) || OURS.contains(short), "{short}");
        }
        let headings = ["PICK", "UP", "SHORT", "ROWS", "JOIN", "TUBE"];
        for word in words {
            let vowels = word.contains(['a', 'e', 'i', 'o', 'u', 'y']);
            // `th` and the like belong to a number, a single capital is a step.
            let ordinal = ["th", "st", "nd", "rd"].contains(&word.as_str());
            let step = word.len() == 1 && word.chars().all(char::is_uppercase);
            if !vowels && !ordinal && !step && !headings.contains(&word.as_str()) {
                assert!(listed.contains(word.as_str()), "{word} is not explained");
            }
        }
    }
}
