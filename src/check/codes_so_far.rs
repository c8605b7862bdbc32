//! The findings on what is on the needles.

use crate::diagnostic::{Code, Level};

macro_rules! finding {
    ($name:ident, $id:literal, $level:ident, $title:literal, $why:literal, $source:literal, $next:literal) => {
        pub(super) static $name: Code = Code {
            id: $id,
            level: Level::$level,
            title: $title,
            why: $why,
            source: $source,
            next: $next,
        };
    };
}

finding!(
    SO_FAR_GAUGE,
    "so-far-gauge",
    Note,
    "what the work says of its gauge",
    "A stretch of the work that was counted and measured is a swatch of its own, and a larger one than most. \
     Its error is that of the tape, which is read to about 3 mm either way.",
    "common practice, no source (the tape); arithmetic",
    "Nothing: what is to come goes by the work from here on."
);
finding!(
    SO_FAR_GAUGE_FAR,
    "so-far-gauge-far",
    Warning,
    "the work is far from its swatch",
    "Work that differs from its swatch by more than 15 % was miscounted, mismeasured or knitted with other \
     needles; 4 to 5 % are usual.",
    "common practice, no source",
    "Count and measure again, flat and not stretched."
);
finding!(
    SO_FAR_COUNTS,
    "so-far-counts",
    Warning,
    "the counts on the needle are not those of the plan",
    "The words to come start from the counts on the needle. Where these are not the plan's, the moves to come are \
     chosen anew with them, or the difference is made or taken away among the stitches that wait.",
    "arithmetic",
    "Count again. If it is so, go by the pattern below: it starts from these counts."
);
finding!(
    SO_FAR_BEYOND,
    "so-far-beyond",
    Error,
    "more rows than the cap has",
    "What is said to be worked lies beyond the end of the cap, so nothing of it is left to be planned.",
    "arithmetic",
    "Count again; below the join give rounds instead of rows."
);
finding!(
    SO_FAR_REST,
    "so-far-rest",
    Note,
    "the rest of the cap is planned from the needles",
    "What is picked up and worked stays. The moves to come are the best that lead from there to the upper arm, at \
     the gauge the work shows, found and certified like a whole cap.",
    "the fit's own model",
    "Go on by the pattern below: it says where."
);
finding!(
    SO_FAR_PAIR,
    "so-far-pair",
    Note,
    "the work stands in the middle of a pair",
    "After an RS row of the cap one side has turned once more than the other. The pattern goes on from a whole pair, so the \
     WS row that ends it counts as worked.",
    "the pattern's own unit",
    "Work the WS row that ends the pair as its step says, then go on from there."
);
finding!(
    SO_FAR_MEND,
    "so-far-mend",
    Warning,
    "what is worked cannot all be mended from here",
    "Rows that are knitted keep their widths, and stitches that are picked up keep their places. Where the best rest \
     is visibly further from the old cap than the plan was, each way back was tried on the whole model.",
    "the fit's own model; what can be seen: common practice, no source",
    "Accept it, or take one of the ways that were tried."
);
finding!(
    SO_FAR_PICK_UP,
    "so-far-pick-up",
    Note,
    "a pick-up that came out otherwise, kept or put right",
    "Before the first short row a pick-up can be kept, with moves chosen for it, or put right: a stitch passed over its \
     neighbour is gone, a strand lifted onto the needle is one more. Both are planned; the pattern takes the one that \
     costs less in width, strain, ease, runs and stitches to be put right.",
    "the fit's own model",
    "Leave it, or take the other (so_far.mend)."
);
finding!(
    SO_FAR_STATE,
    "so-far-state",
    Error,
    "no plan of this cap leads to what is on the needles",
    "A row of the armhole holds one stitch at the most, every turn pair takes in one to ten stitches on each side, and \
     three rows without a stitch are a hole. Counts outside that were miscounted, or belong to another cap.",
    "common practice, no source",
    "Count again, and correct the count in the case."
);
finding!(
    SO_FAR_MEASURE,
    "so-far-measure",
    Error,
    "a measure that this work cannot have",
    "Other needles and another hand change a gauge by a tenth, a loose yarn by a fifth. Work that measures half as much \
     again as its swatch, or a third less, was miscounted or mismeasured, or is no work of this yarn.",
    "common practice, no source",
    "Count and measure again, flat and not stretched; see that the number is in the units of the case."
);
finding!(
    SO_FAR_NEEDLES,
    "so-far-needles",
    Note,
    "the cap goes on with other needles",
    "Rows that are worked keep their width and height; those to come have the gauge of the other needles, and so has the tube, \
     as far as cap and tube differ in the swatches. The rest is fitted with both.",
    "arithmetic",
    "Go on by the pattern below, and hold the work against its measures on the way."
);
finding!(
    SO_FAR_JOINED,
    "so-far-joined",
    Note,
    "the rest of the cap was planned on the way, and the tube is begun",
    "A cap that was planned anew from some row on stays what it was planned to be then; its rows to come are worked when \
     rounds are.",
    "arithmetic",
    "Nothing, if the cap was worked by the pattern from that row on."
);
finding!(
    TUBE_PAST_LENGTH,
    "tube-past-length",
    Warning,
    "the sleeve is longer already than it was to be",
    "No round is left for the shaping that is missing, nor to be worked straight.",
    "arithmetic",
    "Begin the cuff now, or rip back to the length that is wanted."
);
/// This part of the room's table of findings.
pub(super) static CODES_SO_FAR: &[&Code] = &[
    &SO_FAR_GAUGE,
    &SO_FAR_GAUGE_FAR,
    &SO_FAR_COUNTS,
    &SO_FAR_BEYOND,
    &SO_FAR_REST,
    &SO_FAR_PAIR,
    &SO_FAR_MEND,
    &SO_FAR_PICK_UP,
    &SO_FAR_STATE,
    &SO_FAR_MEASURE,
    &SO_FAR_NEEDLES,
    &SO_FAR_JOINED,
    &TUBE_PAST_LENGTH,
];
