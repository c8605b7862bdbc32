//! The whole conversion: a case whose lines, counts and measures the bytes choose, small enough to be fitted quickly.
#![no_main]

use capwright::{convert, read_case};
use libfuzzer_sys::fuzz_target;

/// Codes that blame the program.
const FAULTS: &[&str] = &["not-certified", "needle-"];

fuzz_target!(|text: &str| {
    let (Some(case), _) = read_case(text) else {
        return;
    };
    // Large caps take seconds, which is no fault.
    let large = |n: u32| n > 90;
    if case.sizes.len() > 2 || case.sleeve.stitches.iter().any(|s| large(s.count())) {
        return;
    }
    // What does not knit back is no conversion but an error that blames the program.
    let said = match convert(&case, None) {
        Ok(done) => done.findings,
        Err(said) => {
            assert!(!said.is_empty(), "refused without a word");
            said
        }
    };
    for found in &said {
        let blames = FAULTS.iter().any(|fault| found.code.id.starts_with(fault));
        assert!(!blames, "{found:?}");
    }
});
