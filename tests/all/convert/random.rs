//! Random caps through the whole job: every feasible one is fitted, written, knitted back and
//! drawn.

use crate::common::figures::{assert_drawn_to_measure, faults_of_words};
use crate::common::random::{Numbers, case_text, numbers};
use capwright::case::read_case;
use capwright::convert::convert;
use capwright::needle::{knit_sentences, prove};
use capwright::report::size_figures;
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::TestRunner;

/// What may keep a random cap from being converted: its armhole, arm or shoulder, never a fault of
/// the fit or of the words.
const LIMITS: [&str; 5] = [
    "armhole-too-short",
    "armhole-too-long",
    "cap-too-shallow-for-arm",
    "crown-and-base-too-wide",
    "no-cap",
];

/// Random caps, the same in every run.
const CAPS: u32 = 75;

/// True for a cap that could be converted; then it has been knitted back, and its figures are to
/// measure and can be read.
fn knits_back(numbers: &Numbers) -> bool {
    let text = case_text(numbers);
    let (case, said) = read_case(&text);
    let case = case.unwrap_or_else(|| panic!("{said:#?}\n{text}"));
    let conversion = match convert(&case, None) {
        Ok(conversion) => conversion,
        Err(found) => {
            for error in found.iter().filter(|d| d.level.word() == "error") {
                assert!(LIMITS.contains(&error.code.id), "{error:#?}\n{text}");
            }
            return false;
        }
    };
    let size = &conversion.sizes[0];
    let plan = &size.fit.plan;
    // C + N_front + N_back + U + j = B.
    let sum = plan.crown.stitches + plan.front.net() + plan.back.net() + plan.base();
    let sum = i64::from(sum.count()) + i64::from(plan.join_change);
    assert_eq!(sum, i64::from(plan.upper_arm().count()), "{text}");
    for written in &size.written {
        let (knitted, faults) = knit_sentences(&written.instructions.sentences());
        assert!(faults.is_empty(), "{faults:#?}\n{text}");
        let proof = prove(
            plan,
            (size.tube.as_ref(), None),
            case.style,
            written.sleeve,
            &knitted,
        );
        assert!(proof.is_empty(), "{proof:#?}\n{text}");
        assert_eq!(knitted.upper_arm, plan.upper_arm(), "{text}");
    }
    let drawn = size_figures(&case, &conversion, 0);
    assert_drawn_to_measure(size, &drawn);
    let faults: Vec<String> = drawn.iter().flat_map(faults_of_words).collect();
    assert!(faults.is_empty(), "{faults:#?}\n{text}");
    true
}

#[test]
fn every_feasible_cap_knits_back_and_is_drawn_to_measure() {
    let mut runner = TestRunner::deterministic();
    let knitted = (0..CAPS)
        .filter(|_| knits_back(&numbers().new_tree(&mut runner).unwrap().current()))
        .count();
    // Most can be knitted, so that this is about something.
    assert!(knitted >= 60, "{knitted} of {CAPS}");
}
