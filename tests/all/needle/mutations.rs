//! Change one number of a written pattern by hand and the needle objects.

use crate::common::plans as common;
use capwright::diagnostic::Level;
use capwright::needle::knit_sentences;
use capwright::wording::{SleeveText, pick_up_lists, pick_up_section, write};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// The text with each number one larger and one smaller, and each number word exchanged.
fn mutants(text: &str) -> Vec<String> {
    let mut out = Vec::new();
    let digits = |c: char| c.is_ascii_digit();
    let mut at = 0;
    while let Some(from) = text[at..].find(digits).map(|i| at + i) {
        let to = text[from..]
            .find(|c| !digits(c))
            .map_or(text.len(), |i| from + i);
        let n: u32 = text[from..to].parse().unwrap();
        for other in [n.checked_sub(1), Some(n + 1)].into_iter().flatten() {
            out.push(format!("{}{other}{}", &text[..from], &text[to..]));
        }
        at = to;
    }
    for (word, other) in [
        ("once", "twice"),
        ("Once", "Twice"),
        ("twice", "once"),
        ("Twice", "Once"),
        ("twice", "3 times"),
        ("Twice", "3 times"),
    ] {
        for (from, found) in text.match_indices(word) {
            // "and once round" is no number.
            if !text[..from].ends_with("and ") {
                out.push(format!(
                    "{}{other}{}",
                    &text[..from],
                    &text[from + found.len()..]
                ));
            }
        }
    }
    out
}

fn objects(text: &str) -> bool {
    let sentences = [text.to_owned()];
    let (_, diagnostics) = knit_sentences(&sentences);
    diagnostics.iter().any(|d| d.level == Level::Error)
}

/// Random sleeves with their tubes, in every style: about two thousand changes.
#[test]
fn every_changed_number_is_objected_to() {
    let mut runner = TestRunner::deterministic();
    let strategy = common::plan().prop_flat_map(|plan| {
        let tube = common::tube(plan.upper_arm().count());
        (proptest::strategy::Just(plan), tube, common::style())
    });
    let strategy = strategy.prop_flat_map(|(plan, tube, style)| {
        let cuff = common::cuff(&tube);
        (proptest::strategy::Just((plan, tube, style)), cuff)
    });
    let mut changes = 0;
    for _ in 0..4 {
        let ((plan, tube, style), cuff) = strategy.new_tree(&mut runner).unwrap().current();
        for &sleeve in common::sleeves(&plan) {
            let input = SleeveText {
                plan: &plan,
                tube: Some(&tube),
                cuff: Some(&cuff),
                style,
                sleeve,
            };
            let mut text = write(&input);
            text.sections.push(pick_up_section(&pick_up_lists(&input)));
            let text = text.sentences().join("\n");
            assert!(!objects(&text), "{text}");
            for mutant in mutants(&text) {
                changes += 1;
                assert!(objects(&mutant), "unnoticed:\n{mutant}\n\nwas:\n{text}");
            }
        }
    }
    assert!(changes > 1500, "only {changes} changes were tried");
}

/// Leave a sentence out and the needle objects, unless it only gives advice.
#[test]
fn every_missing_step_is_objected_to() {
    let mut runner = TestRunner::deterministic();
    let strategy = (common::plan(), common::style());
    for _ in 0..16 {
        let (plan, style) = strategy.new_tree(&mut runner).unwrap().current();
        let sleeve = common::sleeves(&plan)[0];
        let input = SleeveText {
            plan: &plan,
            tube: None,
            cuff: None,
            style,
            sleeve,
        };
        let sentences = write(&input).sentences();
        for i in 0..sentences.len() {
            // Advice holds no numbers but those of abbreviations.
            let advice = !sentences[i]
                .replace("2tog", "")
                .contains(|c: char| c.is_ascii_digit());
            let mut shorter = sentences.clone();
            let gone = shorter.remove(i);
            if !advice {
                assert!(objects(&shorter.join("\n")), "unnoticed without: {gone}");
            }
            // Picked up twice in the same place.
            if gone.contains("pick up") {
                let mut longer = sentences.clone();
                longer.insert(i, gone.clone());
                assert!(objects(&longer.join("\n")), "unnoticed twice: {gone}");
            }
        }
    }
}
