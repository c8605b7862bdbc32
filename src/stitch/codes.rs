//! The findings of this room.

use crate::diagnostic::{Code, Level};

macro_rules! finding {
    ($name:ident, $id:literal, $level:ident, $title:literal, $why:literal, $source:literal, $next:literal) => {
        pub(crate) static $name: Code = Code {
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
    CHART,
    "stitch-chart",
    Error,
    "a chart that cannot be worked",
    "All rows of a chart have as many stitches as its first one, every character stands for a stitch of the \
     table, a crossing is whole, and a row gives back the stitches it takes: an increase needs its decrease in \
     the same row, or the stitches of the sleeve would change where nobody counts them.",
    "the case format; counting",
    "Correct the row that is named; row 1 is the last line."
);
finding!(
    WRONG_SIDE,
    "stitch-wrong-side",
    Error,
    "a stitch that would come on a wrong-side row",
    "The cap is worked back and forth, so every other row is a wrong-side row; stitches that are passed over \
     or made from the strand are worked where the right side is seen. In a chart of an odd number of rows \
     every row comes on the wrong side sooner or later.",
    "common practice, no source",
    "Begin with another row of the chart, or give the chart an even number of rows."
);
finding!(
    PANEL,
    "stitch-panel",
    Error,
    "a panel that does not lie on the crown",
    "A panel runs down from the shoulder: it is no wider than the stitches it begins on, and no two panels \
     share a stitch.",
    "counting",
    "Make the panel narrower, put it elsewhere, or widen the crown (shoulder.extra_each_side beside a saddle)."
);
finding!(
    REPEAT_OPEN,
    "stitch-repeat-open",
    Warning,
    "repeats that do not close round the arm",
    "In rounds the last stitch is followed by the first one. Where the upper arm is no whole number of \
     repeats, a part of one stands at the underarm marker and the pattern breaks there: seen in a cable or \
     a lace, hardly in a rib.",
    "counting",
    "Ask for whole repeats in [sleeve], or leave it: it lies under the arm."
);
finding!(
    WHOLE_REPEATS,
    "stitch-whole-repeats",
    Note,
    "an upper arm of whole repeats",
    "In rounds the last stitch is followed by the first one, so a pattern that is no rib closes only over whole \
     repeats. Where the case asks for no repeat, they are taken while the upper arm becomes no more than a centimetre \
     wider or narrower for them; what that costs is worked out by fitting the cap both ways.",
    "common practice, no source",
    "Nothing; or write repeat = { multiple = 1 } under [sleeve]: the pattern then breaks at the underarm."
);
finding!(
    WAY_UP,
    "stitch-way-up",
    Warning,
    "a motif that will not look as before",
    "The old sleeve was worked from the cuff up, the new one goes down from the shoulder, so the rows are \
     worked in the other order. Knit, purl, twisted stitches and crossings look the same from both ends, half a \
     stitch aside. Yarn overs and decreases do not: the lines lean as before, but columns that ran together now \
     part.",
    "common practice, no source",
    "Knit a swatch of the turned chart and look at it upside down; if it does not please, choose a pattern without a way up."
);
finding!(
    TURNED,
    "stitch-turned",
    Note,
    "a motif that is worked upside down",
    "The old sleeve was worked from the cuff up, the new one goes down from the shoulder. The chart is turned \
     round with it (last row first, each row from its other end), so that it hangs as before; stitches of both \
     ways lie half a stitch aside of each other.",
    "common practice, no source",
    "Nothing; work from the turned chart, not from the old one."
);
finding!(
    OFF_CENTRE,
    "stitch-off-centre",
    Note,
    "a pattern half a stitch off the middle",
    "A pattern with a stitch in its middle lies exactly on a crown of an odd number of stitches, one with its \
     middle between two stitches on an even one.",
    "counting",
    "Nothing: half a stitch is not seen; or widen the panel by a stitch."
);

finding!(
    STRIPES,
    "stripes",
    Error,
    "stripes that cannot be knitted",
    "A stripe is a colour with a name and a whole number of rows.",
    "the case format",
    "Write each as [\"navy\", 4], from the hem up."
);

/// This room's part of the table of findings.
pub static CODES: &[&Code] = &[
    &CHART,
    &WRONG_SIDE,
    &PANEL,
    &REPEAT_OPEN,
    &WHOLE_REPEATS,
    &WAY_UP,
    &TURNED,
    &OFF_CENTRE,
    &STRIPES,
];
