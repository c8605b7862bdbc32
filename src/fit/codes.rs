//! The findings of this room.

use crate::diagnostic::{Code, Level};

macro_rules! no_fit {
    ($name:ident, $id:literal, $title:literal, $why:literal, $next:literal) => {
        pub(crate) static $name: Code = Code {
            id: $id,
            level: Level::Error,
            title: $title,
            why: $why,
            source: "the fit's own limits (gap limit and pick-up: common practice, no source)",
            next: $next,
        };
    };
}

no_fit!(
    ARMHOLE_TOO_SHORT,
    "armhole-too-short",
    "the armhole has too few rows for the stitches the cap needs",
    "At most one stitch is picked up in a row. A flank must take in at least as many stitches as \
     the upper arm has beyond crown and base; a shorter armhole cannot carry them.",
    "Deepen the armhole, narrow the upper arm, or allow a wider base (fit.base_tolerance)."
);
no_fit!(
    ARMHOLE_TOO_LONG,
    "armhole-too-long",
    "the armhole has too many rows for the stitches the cap can take",
    "Two picked-up stitches may not be farther apart than the gap limit, or holes show; each turn \
     pair can work off at most one surplus stitch. A long armhole above a narrow arm asks for more.",
    "Raise fit.gap_limit (2.4 at most), shorten the armhole, or widen the upper arm."
);
no_fit!(
    ARM_TOO_WIDE,
    "cap-too-shallow-for-arm",
    "the cap has too few turn pairs to reach the upper arm",
    "Each turn pair widens a flank by the largest move at most. A shallow cap under a wide arm \
     needs steeper moves than are allowed.",
    "Allow steeper moves (fit.moves, up to 10/0), or deepen the cap."
);
no_fit!(
    CROWN_TOO_WIDE,
    "crown-and-base-too-wide",
    "crown and base together are wider than the upper arm",
    "The upper arm is crown + both flanks + base; the flanks cannot be negative.",
    "Use fewer stitches at the shoulder, a smaller underarm, or a wider upper arm."
);
no_fit!(
    TOO_FEW_RUNS,
    "too-few-runs",
    "no cap has as few runs as were asked for",
    "One run turns at the same rate from crown to base; the stitches to add and the number of turn pairs \
     seldom allow that. The fewest runs that do are named.",
    "Ask for more runs (fit.runs), or leave it out."
);
no_fit!(
    NO_SAME_RUNS,
    "no-same-runs",
    "no list of runs serves all sizes",
    "With fit.same_runs every size works the same moves in the same order, each with its own numbers. Where the \
     sizes differ much, no list of so few runs can be worked in all of them.",
    "Leave out fit.same_runs: each size has a cap of its own then."
);
no_fit!(
    NO_SUCH_CHOICE,
    "no-such-choice",
    "the case picks a cap that is not offered",
    "fit.choice counts the caps that are offered: 1 is the best, the others are nearly as good and simpler to \
     knit. Another size, gauge or number of runs offers others.",
    "Leave fit.choice out, look at the list, and pick one of it."
);
no_fit!(
    NO_CAP,
    "no-cap",
    "no cap was found that meets all limits at once",
    "No single limit rules a cap out, but all together leave none that was found; a search that grows too long is given up.",
    "Allow more moves (leave fit.moves out), a larger gap limit, or a base tolerance of one or two \
     stitches."
);
no_fit!(
    NOT_CERTIFIED,
    "not-certified",
    "the fit and its certificate disagree",
    "Every fit is measured again from its moves alone; counts, area, depth, edges and objective \
     must agree. A difference is a fault of this program.",
    "Please report it with the case file; do not knit from it."
);

no_fit!(
    TUBE_STATE,
    "tube-state",
    "the stitches on the needle do not come of this tube",
    "Every shaping round of a tube takes away or makes two stitches, and the round that closes the join is \
     none of them. A count that two at a time cannot lead to was miscounted, or a stitch was lost.",
    "Count again; correct the count on the needle, or the one in the case."
);

no_fit!(
    NO_REST,
    "no-rest",
    "no rest of the cap leads from the needles to the upper arm",
    "Every turn pair to come takes in a stitch on each side at the least, decreases one at the most, and the first \
     round makes or decreases a few. What is picked up and worked can lie outside what that can bring together.",
    "Rip back, or make or decrease stitches among those that wait; each that helps was tried and is named."
);

/// This room's part of the table of findings.
pub static CODES: &[&Code] = &[
    &TUBE_STATE,
    &NO_REST,
    &ARMHOLE_TOO_SHORT,
    &ARMHOLE_TOO_LONG,
    &ARM_TOO_WIDE,
    &CROWN_TOO_WIDE,
    &NO_CAP,
    &NO_SUCH_CHOICE,
    &NO_SAME_RUNS,
    &TOO_FEW_RUNS,
    &NOT_CERTIFIED,
];
