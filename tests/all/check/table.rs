//! The table of findings.

use std::collections::BTreeSet;

use capwright::check::{CODES, all_codes};

/// The table of findings holds what the tests of this room raise, and every entry can be read.
#[test]
fn the_table_is_whole() {
    let raised = [
        // These are raised in `convert/so_far.rs`.
        "tube-past-cuff",
        // These two are raised in `case/counts.rs`.
        "armhole-counts-disagree",
        "armhole-as-counted",
        "cap-edge-short",
        "cap-edge-long",
        "cap-too-deep",
        "cap-too-shallow",
        "row-off-curve",
        "armhole-unfinished",
        "armhole-rows-above",
        "armhole-share",
        "underarm-unequal",
        "underarm-too-wide",
        "front-longer-than-back",
        "top-width-odd",
        "armhole-depth-odd",
        "upper-arm-tight",
        "upper-arm-loose",
        "upper-arm-share",
        "gauge-assumed",
        "flat-gauge-assumed",
        "body-gauge-assumed",
        "depth-not-kept",
        "not-proven-optimal",
        "puffed-crown",
        "area-not-kept",
        "width-not-kept",
        "section-strain",
        "new-edge-long",
        "new-edge-short",
        "upper-arm-rounded",
        "tube-too-short",
        "caution-tight",
        "caution-infant",
        "size-order",
        "grading-jump",
        "stopped",
        "same-runs-jump",
    ];
    let raised: BTreeSet<&str> = raised.into_iter().collect();
    let listed: BTreeSet<&str> = CODES.iter().map(|code| code.id).collect();
    assert_eq!(raised, listed);
    let all = all_codes();
    let ids: BTreeSet<&str> = all.iter().map(|code| code.id).collect();
    assert_eq!(ids.len(), all.len(), "two codes of one name");
    for code in all {
        for text in [code.title, code.why, code.source, code.next] {
            assert!(!text.trim().is_empty(), "{}", code.id);
            assert!(
                !text.contains("  "),
                "{}: two spaces in a row: {text}",
                code.id
            );
        }
    }
}
