//! The findings of this room.

use crate::diagnostic::{Code, Level};

macro_rules! adapt_code {
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

adapt_code!(
    ARMHOLE_SHORT,
    "adapt-armhole-short",
    Error,
    "the armhole is too short for this arm",
    "Half the top and the curve of the cap meet one side of the armhole. No curve is shorter than \
     the straight line from the top to the underarm, and a cap shallower than a fifth of its \
     armhole's depth is no set-in cap. A wider arm or top makes that line longer.",
    "geometry; Interweave, 2013 (which lengths must match); the limit of one fifth: common practice, \
     no source",
    "Deepen the armhole, narrow the arm, or let the depth be free."
);
adapt_code!(
    ARMHOLE_LONG,
    "adapt-armhole-long",
    Error,
    "the armhole is too long for this arm",
    "At a given depth an outline can be bent to a longer edge only so far before it breaks into \
     steps, and a cap deeper than its armhole is no set-in cap.",
    "geometry; the limits: common practice, no source",
    "Take rows out of the armhole, widen the arm, or let the depth be free."
);
adapt_code!(
    ARM_NARROW,
    "adapt-arm-narrow",
    Error,
    "the arm is no wider than the top of the cap",
    "Between the top and the underarm a cap has to grow by at least one stitch at each edge.",
    "geometry",
    "Narrow adapt.top or widen adapt.upper_arm."
);
adapt_code!(
    UNDERARM_WIDE,
    "adapt-underarm-wide",
    Error,
    "the underarm is wider than the arm",
    "The bind-offs at both edges of the sleeve meet those of the body; together they must be narrower \
     than the upper arm.",
    "geometry",
    "Check armhole.underarm (it is the width bound off at one edge), or widen adapt.upper_arm."
);
adapt_code!(
    AREA_NOT_KEPT,
    "adapt-area-not-kept",
    Error,
    "the old area cannot be kept with this edge",
    "With arm, top and edge given, the area that a bent cap can have lies between limits.",
    "geometry",
    "Use adapt.keep = \"shape\"."
);
adapt_code!(
    NOT_FOUND,
    "adapt-not-found",
    Error,
    "no outline in whole stitches and rows was found",
    "Between the straight edge and the longest bent one there is room, but with very few rows or stitches \
     no sequence of bind-offs and decreases comes near.",
    "the search of this program",
    "Take another arm, depth or ease; those that help are named."
);
adapt_code!(
    BODY_UNKNOWN,
    "adapt-body-unknown",
    Error,
    "the ease is given, but not the arm it is added to",
    "adapt.upper_arm with `ease` alone takes the arm from [body]; there is none, or its table does \
     not know this size.",
    "the case format",
    "Write adapt.upper_arm = { body = 30, ease = 2 }, or give [body]."
);
adapt_code!(
    ARM_STRETCHED,
    "adapt-arm-stretched",
    Error,
    "the arm wished is far tighter than the arm it is for",
    "A sleeve more than a fifth smaller than the arm is refused: it binds whatever the yarn. From a \
     tenth on there is a warning. A tight sleeve hinders the flow of blood and lymph; after surgery, \
     with swelling or lymphoedema that is a matter for the clinician.",
    "common practice, no source (both limits); defer to the clinician's advice",
    "Choose an ease of -10 % or more; for an arm that swells follow the clinician's advice on sleeves."
);
adapt_code!(
    FRONT_BACK,
    "adapt-front-back",
    Note,
    "one symmetric cap cannot meet two different edges",
    "Front and back of the armhole differ. The cap is symmetric and takes the mean, so the one edge is \
     eased in and the other stretched by half the difference. Reported from one row on.",
    "Interweave, How To Design Set-in Sleeves (hand-knit caps are usually symmetric); geometry",
    "Nothing, or work the rows named into the shorter side or out of the longer."
);
adapt_code!(
    ROUNDED,
    "adapt-edge-rounded",
    Note,
    "whole stitches and rows miss the edge by a little",
    "The outline is in whole stitches and rows; reported when its edge is off by more than half a row \
     and half a stitch.",
    "arithmetic",
    "Nothing; the difference is eased in."
);
adapt_code!(
    BENT_FAR,
    "adapt-bent-far",
    Warning,
    "the outline had to be bent a long way",
    "At a depth other than the one its edge asks for, a cap must be bent: to a shelf above the underarm \
     and a flat top where it is too shallow, to straight sides where it is too deep, or where the area is \
     kept. Reported from 1 cm (root mean square of one side) on.",
    "J. Wilson, Knitty winter 2004 (shallow at the underarm, steep in the middle, shallow at the top); the \
     limit: common practice, no source",
    "Let the depth be free: leave adapt.depth out and use adapt.keep = \"shape\"."
);
adapt_code!(
    SIZES_EVENED,
    "adapt-sizes-evened",
    Note,
    "the depth was evened out with the other sizes",
    "A larger size never gets a shallower cap than a smaller one where the wishes keep the order of \
     the arms; neighbours that would break it share their mean depth, and are bent to their edges.",
    "common practice, no source (order and steps of a size set)",
    "Nothing, or give adapt.depth for every size."
);
adapt_code!(
    DEPTH_RULE,
    "adapt-depth-rule",
    Error,
    "the rule asked for gives no depth",
    "Published rules know only the armhole's depth, the chest, the top or the armhole's girth, and \
     disagree by more than an inch; without what it is made from a rule says nothing. A drafted cap \
     shows all of them side by side.",
    "R. Hunter, 21 Nov 2011; 30-day sweater course, day 24; Slipped Stitches, Mar 2014; S. Partlan, 2013",
    "Give the bust or chest in [body], or choose another depth."
);

/// This room's part of the table of findings.
pub static CODES: &[&Code] = &[
    &ARMHOLE_SHORT,
    &ARMHOLE_LONG,
    &ARM_NARROW,
    &UNDERARM_WIDE,
    &AREA_NOT_KEPT,
    &NOT_FOUND,
    &BODY_UNKNOWN,
    &ARM_STRETCHED,
    &FRONT_BACK,
    &ROUNDED,
    &BENT_FAR,
    &SIZES_EVENED,
    &DEPTH_RULE,
];
