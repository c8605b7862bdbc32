//! The findings of this room.

use crate::diagnostic::{Code, Level};

pub(crate) static CAP_EMPTY: Code = Code {
    id: "cap-empty",
    level: Level::Error,
    title: "the lines give no rows of fabric",
    why: "A cap needs at least four rows between the underarm and the final bind-off; without \
          them there is no depth and no area to keep.",
    source: "geometry",
    next: "Give all lines from the first underarm bind-off to the final bind-off.",
};

pub(crate) static CAP_WIDENS: Code = Code {
    id: "cap-widens",
    level: Level::Error,
    title: "the cap grows wider on the way up",
    why: "A set-in cap knitted from the cuff up only ever gets narrower from the underarm to the \
          top. A row that adds stitches is a misreading or belongs to another part.",
    source: "common practice, no source",
    next: "Leave out the sleeve's own increases: the lines start at the underarm bind-off.",
};

pub(crate) static FROM_THE_TOP: Code = Code {
    id: "worked-from-the-top",
    level: Level::Note,
    title: "the old cap is worked from the top",
    why: "Lines that only add stitches are a cap worked from the shoulder down. Its rows are counted from \
          the other end, so that the last row that casts on at the underarm is row 1; the outline is the \
          same.",
    source: "common practice, no source",
    next: "Nothing, if sleeve.stitches are the stitches at the top of the cap.",
};

pub(crate) static SEAM_EATS_CAP: Code = Code {
    id: "seam-eats-cap",
    level: Level::Error,
    title: "the seam takes more stitches than the row has",
    why: "The stitches lost to the seams are taken off each edge of every row; at least one \
          stitch must be left.",
    source: "geometry",
    next: "Lower seam_stitches in the case; one stitch an edge is usual.",
};

pub(crate) static ARMHOLE_RAGLAN: Code = Code {
    id: "armhole-of-a-raglan",
    level: Level::Error,
    title: "the armhole's decreases run to the neck",
    why: "A raglan or a yoke has no shoulder: its armhole is shaped to the end and takes nearly half of the \
          stitches or more. A cap that is picked up round a set-in armhole does not fit it.",
    source: "common practice, no source",
    next: "Convert set-in sleeves only; if this is one, copy the armhole's lines up to the shoulder.",
};

pub(crate) static ARMHOLE_EMPTY: Code = Code {
    id: "armhole-empty",
    level: Level::Error,
    title: "the armhole lines give no edge",
    why: "The armhole's edge is measured from its lines; they must hold the rows from the \
          underarm bind-off to the shoulder.",
    source: "geometry",
    next: "Add the rows up to the shoulder, e.g. `work even until armhole measures 20 cm`.",
};

pub(crate) static ARMHOLE_COUNT: Code = Code {
    id: "armhole-count",
    level: Level::Error,
    title: "the rows counted are too few for the armhole's lines",
    why: "Where the body has fewer rows than its lines, they are taken off the straight part below the \
          shoulder. Fewer rows than the shaped part has are another armhole than that of the lines.",
    source: "geometry",
    next: "Count again, each stepped bound-off stitch as a row; or leave the lines out and give rows, bound_off, steps and decreases.",
};

/// This room's part of the table of findings.
pub static CODES: &[&Code] = &[
    &CAP_EMPTY,
    &CAP_WIDENS,
    &FROM_THE_TOP,
    &SEAM_EATS_CAP,
    &ARMHOLE_COUNT,
    &ARMHOLE_EMPTY,
    &ARMHOLE_RAGLAN,
];
