//! What the needle can say about a written pattern.

use crate::diagnostic::{Code, Level};

const PRACTICE: &str = "common practice, no source";

/// A sentence that cannot be read.
pub static UNREADABLE: Code = Code {
    id: "needle-unreadable",
    level: Level::Error,
    title: "a sentence of the pattern cannot be read",
    why: "Every sentence between PICK UP and the end of the tube is knitted stitch by stitch. One that is not understood could hide a mistake, so it is never skipped.",
    source: "our own rule",
    next: "Write the sentence as the pattern wrote it first, or move remarks out of the instructions.",
};

/// A stated count that is not what the needle holds.
pub static COUNT: Code = Code {
    id: "needle-count",
    level: Level::Error,
    title: "a stated count is not what the needle holds",
    why: "The counts are the knitter's safety net. When one of them and the stitches disagree, one of the two is wrong.",
    source: "arithmetic",
    next: "Look at this sentence and the one before it: one of their numbers was changed or misread.",
};

/// A pick-up rate that does not give the stitches or rows of its stretch.
pub static RATE: Code = Code {
    id: "needle-rate",
    level: Level::Error,
    title: "the pick-up rates do not add up",
    why: "The rates of a stretch, each times how often it is worked, must give exactly its stitches and its rows, or the pick-up does not come out even.",
    source: "arithmetic",
    next: "Compare the rate with the stitches and rows of the same sentence.",
};

/// An action for which the stitches are not there.
pub static IMPOSSIBLE: Code = Code {
    id: "needle-impossible",
    level: Level::Error,
    title: "what the sentence asks for cannot be knitted here",
    why: "The stitch it works, wraps or decreases is not the next one on the needle.",
    source: "our own rule",
    next: "Compare the sentence with the turn before it: what is wrapped at a turn is worked at the next one on that side.",
};

/// Short rows that run over the base.
pub static PAST_MARKER: Code = Code {
    id: "needle-past-marker",
    level: Level::Error,
    title: "a short row works past the base marker",
    why: "Short rows end at the base markers; the base is worked when rounds begin.",
    source: PRACTICE,
    next: "A number before this place is too large: count the stitches waiting before the marker.",
};

/// Rows or steps that do not follow one another.
pub static ORDER: Code = Code {
    id: "needle-order",
    level: Level::Error,
    title: "a row or step is missing or out of order",
    why: "RS and WS rows alternate, rows and steps are numbered without gaps.",
    source: "our own rule",
    next: "Put the missing row or step back.",
};

/// Wrapped or double stitches nobody works.
pub static LEFT_TURNED: Code = Code {
    id: "needle-left-turned",
    level: Level::Error,
    title: "a turned stitch is never worked",
    why: "Every wrapped or double stitch must be worked later, the last ones in the first round.",
    source: PRACTICE,
    next: "Say where it is worked.",
};

/// Stitches that no row reaches.
pub static NEVER_WORKED: Code = Code {
    id: "needle-never-worked",
    level: Level::Error,
    title: "a flank stitch is never worked in the short rows",
    why: "The last turn pair must reach the base on both sides, or stitches wait when rounds begin.",
    source: "our own rule",
    next: "A run is too short: compare its number of times with the counts after it.",
};

/// The middle of the base is missed.
pub static UNEVEN_JOIN: Code = Code {
    id: "needle-uneven-join",
    level: Level::Error,
    title: "rounds do not begin in the middle of the base",
    why: "Half of the base lies on either side of the start of the round, so that the sleeve's decreases line up with the underarm.",
    source: PRACTICE,
    next: "Count the base stitches on both sides of the marker.",
};

/// Decreases that lean away from the edge.
pub static LEAN: Code = Code {
    id: "needle-lean",
    level: Level::Error,
    title: "a decrease leans the wrong way",
    why: "In the cap a decrease lies along the armhole edge: ssk where an RS row ends, p2tog where a WS row ends. In the tube the two of a round mirror one another.",
    source: "leans: Craft Yarn Council, knitting abbreviations; the choice: common practice, no source",
    next: "Use ssk on RS rows and p2tog on WS rows; in rounds k2tog first and ssk last.",
};

/// Picked-up stitches far apart.
pub static HOLE: Code = Code {
    id: "needle-hole",
    level: Level::Warning,
    title: "a pick-up rate leaves holes",
    why: "Where neighbouring picked-up stitches lie more than three rows apart, the strands between them show as holes.",
    source: PRACTICE,
    next: "Pick up more often there and decrease the stitches that are then too many.",
};

/// Numbers for sizes that are not there.
pub static SIZES: Code = Code {
    id: "needle-sizes",
    level: Level::Error,
    title: "a list of numbers does not fit the sizes",
    why: "Where sizes differ, one number stands for each size: the first one, then the others in round brackets.",
    source: "trade notation",
    next: "Count the numbers of the list against the sizes.",
};

/// A stitch that is not the chart's.
pub static NOT_THE_CHART: Code = Code {
    id: "needle-not-the-chart",
    level: Level::Error,
    title: "a stitch that is not the chart's",
    why: "The rows in pattern tell every stitch, and the charts above them say what belongs on each: column by column the two must agree. A plain stitch may stand for what would be cut at a turn.",
    source: "our own rule",
    next: "Look at the row and at the row of the chart that it names; one of them has another stitch.",
};

/// The text and the plan differ.
pub static NOT_THE_PLAN: Code = Code {
    id: "needle-not-the-plan",
    level: Level::Error,
    title: "the knitted text is not the planned cap",
    why: "The text was knitted stitch by stitch. Its stitches, turn pairs, rows in every column and decreases must be those that were computed.",
    source: "our own rule",
    next: "This is a fault of the program when it wrote the text itself: please report it with the case.",
};

/// Every code of this room.
pub static CODES: &[&Code] = &[
    &UNREADABLE,
    &COUNT,
    &RATE,
    &IMPOSSIBLE,
    &PAST_MARKER,
    &ORDER,
    &LEFT_TURNED,
    &NEVER_WORKED,
    &UNEVEN_JOIN,
    &LEAN,
    &HOLE,
    &SIZES,
    &NOT_THE_CHART,
    &NOT_THE_PLAN,
];
