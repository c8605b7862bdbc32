//! Sentences that guide the hands and move no stitch, and the headings.
//!
//! They live here so that the needle knows every word that may stand in a pattern; `wording` uses
//! them. They hold no numbers: a number that nothing checks has no place in the instructions.

/// Headings, in the order of the work.
pub const HEADINGS: &[&str] = &[PICK_UP, SHORT_ROWS, JOIN, TUBE, ROWS_PICKED_UP];
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

/// How every row of the cap begins, wrap and turn.
pub const ROWS_WRAP: &str = "Begin every row by working to the wrapped st of the last turn on that side, then do what the step says; leave the wraps where they are.";
/// How every row of the cap begins, German short rows.
pub const ROWS_GERMAN: &str = "Begin every row by working to the ds of the last turn on that side, then do what the step says; work a ds as one st, through both its legs.";
/// What working a stitch means.
pub const WORK: &str = "To work a st is to k it on RS rows and to p it on WS rows, or to follow the stitch pattern of the sleeve.";
/// The counts of the cap, German short rows.
pub const COUNT_GERMAN: &str = "In the counts a ds is a waiting st.";
/// Markers.
pub const MARKERS: &str = "Count after every step; slip the markers as you come to them, and take off the two at the crown when they are in the way.";
/// Leans in the cap.
pub const LEANS: &str =
    "The decreases, ssk on RS rows and p2tog on WS rows, lean outwards, along the armhole edge.";
/// The last gap, wrap and turn.
pub const CLOSE_WRAP: &str = "A wrap made on an RS row: lift it from the front, onto the left needle, and k it together with its st. A wrap made on a WS row: slip its st knitwise, lift the wrap onto the right needle behind it, and k the two together through the back loops, so that the wrap lies behind.";
/// The last gap, German short rows.
pub const CLOSE_GERMAN: &str =
    "Work each ds on the base through both its legs, pulled tight: that closes the gap.";
/// The corners of the base.
pub const CORNERS: &str = "A strand is lifted onto the left needle and k through the back loop, which twists it: it closes the corner between base and flank. Then take off the base markers.";
/// The last gap, where there is no base.
pub const CLOSE_MARKER: &str = "The strand where the flanks meet is lifted onto the left needle and k through the back loop, which twists it: no hole is left.";
/// Which sleeve is which, when the two are alike.
pub const ALIKE: &str = "Front and back are alike: work both sleeves the same way.";
/// A saddle.
pub const SADDLE: &str = "The live sts of the shoulder lie in the middle of the crown; take them straight from the holder.";

/// The sizes of a text for several: `The sizes are S / M / L.`
pub fn sizes_are(names: &[&str]) -> String {
    format!("The sizes are {}.", names.join(" / "))
}

/// Whom the next sentences are for, up to the next heading: these sizes, or all when none is
/// named.
pub fn scope(names: &[&str]) -> String {
    match names {
        [] => "All sizes.".to_owned(),
        [one] => format!("Size {one} only."),
        several => format!("Sizes {} only.", several.join(" / ")),
    }
}

/// Every remark.
pub(crate) const REMARKS: &[&str] = &[
    ROWS_WRAP,
    ROWS_GERMAN,
    COUNT_GERMAN,
    WORK,
    MARKERS,
    LEANS,
    CLOSE_WRAP,
    CLOSE_GERMAN,
    CORNERS,
    CLOSE_MARKER,
    ALIKE,
    SADDLE,
];
