//! Sentences that guide the hands and move no stitch, and the headings.
//!
//! They live here so that the needle knows every word that may stand in a pattern; `wording` uses
//! them. They hold no numbers: a number that nothing checks has no place in the instructions.

/// Headings, in the order of the work.
pub const HEADINGS: &[&str] = &[
    PICK_UP,
    SHORT_ROWS,
    JOIN,
    TUBE,
    ROWS_PICKED_UP,
    ROWS_IN_PATTERN,
];
/// Heading of the pick-up; a new piece begins here.
pub const PICK_UP: &str = "PICK UP";
/// Heading of the cap.
pub const SHORT_ROWS: &str = "SHORT ROWS";
/// Heading of the join.
pub const JOIN: &str = "JOIN";
/// Heading of the sleeve below the cap.
pub const TUBE: &str = "TUBE";
/// Heading of the pick-up row by row.
pub const ROWS_PICKED_UP: &str = "ROWS PICKED UP";

/// Heading of the rows in pattern.
pub const ROWS_IN_PATTERN: &str = "ROWS IN PATTERN";

/// How every row of the cap begins, wrap and turn.
pub const ROWS_WRAP: &str = "Each row goes to the wrapped st of the last turn on its side, then does what the step says; leave the wraps where they are.";
/// How every row of the cap begins, German short rows.
pub const ROWS_GERMAN: &str = "Each row goes to the ds of the last turn on its side, then does what the step says; work a ds as one st, through both its legs.";
/// What working a stitch means.
pub const WORK: &str = "To work a st is to k it on RS rows and to p it on WS rows, or to follow the stitch pattern of the sleeve.";
/// What working a stitch means where every row is told in pattern.
pub const WORK_IN_PATTERN: &str = "To work a st is to work it in pattern; every row stands under Rows in pattern, stitch by stitch.";
/// The same in a text for several sizes.
pub const WORK_BY_CHART: &str = "To work a st is to work it in pattern; under Rows in pattern every row has its row of the repeat and the sts it begins and ends with.";
/// How the charts are told.
pub const CHART_ROWS: &str =
    "The rows of the charts are told as they look from the RS, in the order of an RS row.";
/// How a row in pattern is told.
pub const PATTERN_ROWS: &str = "The rows of the cap are told as they are worked: a WS row from its own beginning, k where the right side shows a purl st.";
/// How a row in pattern is told by the charts.
pub const PATTERN_BY_CHART: &str = "A row of the cap goes along the row of the repeat that is named, from the st named first to the st named last, over and over; a WS row goes along it backwards, k where the right side shows a purl st; a panel has its own row.";
/// What the steps do to a pattern.
pub const PATTERN_STEPS: &str = "The steps say where a row turns and what it decreases; a decrease takes the place of the sts that are named there.";
/// A double yarn over on the row above it (common practice, no source).
pub const PATTERN_DOUBLE_YO: &str = "Where two yos lie side by side, k one of them and p the other on the row that follows, whatever that row says: worked alike they would be one loop.";
/// What is cut by a turn (common practice, no source).
pub const PATTERN_PLAIN: &str = "A crossing that is not whole at a turn is worked plain until it is, and so is an increase without its decrease.";
/// The row that joins, where stitches are made after it.
pub const PATTERN_JOIN: &str = "In the row that joins the pattern leaps at the base marker, so that like sts may lie side by side: the sts that close the gap there are made or decreased in the first round.";
/// Markers of panels.
pub const PATTERN_MARKERS: &str = "A marker at the edge of a panel is placed when you first come there; take another colour or form than at crown and base.";

/// The counts of the cap, German short rows.
pub const COUNT_GERMAN: &str = "In the counts a ds is a waiting st.";
/// Markers.
pub const MARKERS: &str = "Count after every step; slip the markers as you come to them, and take off the two at the crown when they are in the way.";
/// What a pair is.
pub const PAIR: &str = "A pair is an RS row and the WS row after it, each ended by a turn; count the pairs off as you go.";
/// A section of a text for several sizes that is worked as in the sleeve before.
pub const AS_LEFT: &str = "As for the left sleeve.";
/// The sections of the pick-up.
pub const SECTIONS: &str = "The crown is picked up over the shoulder, a flank on each side of it from there down to the underarm, the base along the underarm.";
/// Leans in the cap.
pub const LEANS_US: &str =
    "The decreases, ssk on RS rows and p2tog on WS rows, lean outwards, along the armhole edge.";
/// Leans in the cap, UK terms.
pub const LEANS_UK: &str = "The decreases, k2tog tbl on RS rows and p2tog on WS rows, lean outwards, along the armhole edge.";
/// Two stitches wrapped together.
pub const TWO_WRAP: &str = "To wrap sts together, slip them purlwise, bring the yarn between the needles to the other side, slip them back and turn; the next row of that side works them as one.";
/// One stitch wrapped, decreased with the next one.
pub const NEXT_WRAP: &str = "Where a wrapped st is decreased, work it together with the st after it; the wrap stays where it is.";
/// Two stitches made one before a German turn.
pub const TWO_GERMAN: &str =
    "Where a decrease comes right before the turn, the st it makes becomes the ds.";
/// A double stitch decreased with the next one.
pub const NEXT_GERMAN: &str =
    "Where a ds is decreased, work both its legs together with the st after it.";
/// A cuff that the old pattern describes.
pub const OLD_CUFF_US: &str =
    "Then work the cuff in rounds, in the stitch of the old one and as long; bind off loosely.";
/// The same in UK terms.
pub const OLD_CUFF_UK: &str =
    "Then work the cuff in rounds, in the stitch of the old one and as long; cast off loosely.";
/// Needles of a cuff whose rounds are told (common practice, no source).
pub const CUFF_NEEDLES: &str =
    "A cuff on smaller needles holds its shape: change to them here if the old cuff was worked so.";
/// The end.
pub const FINISH_US: &str = "Bind off loosely in pattern.";
/// The end, UK terms.
pub const FINISH_UK: &str = "Cast off loosely in pattern.";
/// The last gap, wrap and turn.
pub const CLOSE_WRAP: &str = "A wrap made on an RS row: lift it from the front, onto the left needle, and k it together with its st; a wrap made on a WS row: slip its st knitwise, lift the wrap onto the right needle behind it, and k the two together through the back loops, so that the wrap lies behind.";
/// The last gap, German short rows.
pub const CLOSE_GERMAN: &str =
    "Work each ds on the base through both its legs, pulled tight: that closes the gap.";
/// The corners of the base.
pub const CORNERS: &str = "The strand at the marker, then those beside it along the flank, are lifted onto the left needle and k through the back loop, which twists them: that closes the corner; then take off the base markers.";
/// The last gap, where there is no base.
pub const CLOSE_MARKER: &str = "The strand where the flanks meet is lifted onto the left needle and k through the back loop, which twists it: no hole is left.";
/// The same where more stitches are made there than that one strand gives.
pub const CLOSE_MARKER_BESIDE: &str = "The strand where the flanks meet comes first; for each further st made, the strand beside it along the same flank: each is lifted onto the left needle and k through the back loop, which twists it, so that no hole is left.";
/// Which sleeve is which, when the two are alike.
pub const ALIKE: &str = "Front and back are alike: work both sleeves the same way.";
/// Counts that are put right.
pub const PUT_RIGHT: &str = "Put the counts right on the needle, without the yarn: a st passed over its neighbour is gone; a strand lifted onto the needle is a st, worked through the back loop when its turn comes, so that no hole is left; count along the sts once, that of the last turn with them, and leave out what is made or is left of two.";
/// A pair that is half done.
pub const HALF_PAIR: &str =
    "The WS row that ends this pair is still to be worked: work it first, as its step says.";
/// Needles that are changed on the way.
pub const OTHER_NEEDLES: &str = "From here on work with the other needles: take them up for the next row, as the sts come off the old ones; the rows to come are planned at their gauge.";
/// A pick-up that is done.
pub const PICKED_UP: &str = "It is picked up already: this is how it is taken to lie, so that it can be checked; nothing is picked up again.";
/// A saddle.
pub const SADDLE: &str = "The live sts of the saddle lie in the middle of the crown; take them straight from the holder.";

/// The sizes of a text for several, listed: `The sizes are S (M, L).`
pub fn sizes_are(listed: &str) -> String {
    format!("The sizes are {listed}.")
}

/// Dashes in the lists of a text for several sizes.
pub const DASHES: &str = "A dash in a list is nothing to work.";

/// A sentence and the next ones, up to the next heading, are for all sizes.
pub const ALL_SIZES: &str = "All sizes.";

/// A sentence and the next ones, up to the next heading or the next such words, are for these sizes, listed.
pub fn only(count: usize, listed: &str) -> String {
    let sizes = if count == 1 { "Size" } else { "Sizes" };
    format!("{sizes} {listed} only.")
}

/// True for a remark that tells how something is done, false for one that is something to do.
pub fn explains(sentence: &str) -> bool {
    let to_do = [
        AS_LEFT,
        CUFF_NEEDLES,
        OLD_CUFF_US,
        OLD_CUFF_UK,
        FINISH_US,
        FINISH_UK,
    ];
    REMARKS.contains(&sentence) && !to_do.contains(&sentence)
}

/// Remarks as patterns had them that were written before: the needle still reads them.
pub(crate) const WRITTEN_BEFORE: &[&str] = &[
    "Then work the cuff in rounds, as the old pattern has it or as you like; bind off loosely.",
    "Then work the cuff in rounds, as the old pattern has it or as you like; cast off loosely.",
];

/// Every remark.
pub(crate) const REMARKS: &[&str] = &[
    ROWS_WRAP,
    ROWS_GERMAN,
    COUNT_GERMAN,
    WORK,
    WORK_IN_PATTERN,
    WORK_BY_CHART,
    CHART_ROWS,
    PATTERN_ROWS,
    PATTERN_BY_CHART,
    PATTERN_STEPS,
    PATTERN_PLAIN,
    PATTERN_DOUBLE_YO,
    PATTERN_JOIN,
    PATTERN_MARKERS,
    MARKERS,
    PAIR,
    SECTIONS,
    DASHES,
    LEANS_US,
    LEANS_UK,
    TWO_WRAP,
    NEXT_WRAP,
    TWO_GERMAN,
    NEXT_GERMAN,
    CUFF_NEEDLES,
    OLD_CUFF_US,
    OLD_CUFF_UK,
    FINISH_US,
    FINISH_UK,
    CLOSE_WRAP,
    CLOSE_GERMAN,
    CORNERS,
    CLOSE_MARKER,
    CLOSE_MARKER_BESIDE,
    ALIKE,
    PUT_RIGHT,
    HALF_PAIR,
    OTHER_NEEDLES,
    PICKED_UP,
    SADDLE,
];
