//! Every bounded quantity in one table: its name in messages, its limits, and where they are from.

use std::fmt;

/// A quantity with limits. Values outside are refused with a sentence that names them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// The name used in messages, e.g. `stitch gauge`.
    pub name: &'static str,
    /// The smallest value allowed.
    pub min: f64,
    /// The largest value allowed.
    pub max: f64,
    /// The unit after the numbers in a message.
    pub unit: &'static str,
    /// Where the limits come from.
    pub source: &'static str,
}

impl Bound {
    /// The value itself when it lies within the limits.
    ///
    /// # Errors
    /// [`OutOfBounds`] for a value that is outside, infinite or not a number.
    pub fn check(&'static self, value: f64) -> Result<f64, OutOfBounds> {
        if value.is_finite() && value >= self.min && value <= self.max {
            Ok(value)
        } else {
            Err(OutOfBounds { bound: self, value })
        }
    }

    /// The limits for a message, e.g. `4 to 80 stitches per 10 cm`.
    pub fn allowed(&self) -> String {
        format!("{} to {} {}", self.min, self.max, self.unit)
    }
}

/// A value outside its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfBounds {
    /// The limits it missed.
    pub bound: &'static Bound,
    /// The value that was given.
    pub value: f64,
}

impl fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "the {} of {} is outside {}",
            self.bound.name,
            self.value,
            self.bound.allowed()
        )
    }
}

impl std::error::Error for OutOfBounds {}

/// Stitches counted over 10 cm. Jumbo yarn goes down to about 4, lace up to about 40 over 4 in
/// (Craft Yarn Council, Standard Yarn Weight System); twice that is left for machine-fine work.
pub static STITCHES_PER_10CM: Bound = Bound {
    name: "stitch gauge",
    min: 4.0,
    max: 80.0,
    unit: "stitches per 10 cm",
    source: "Craft Yarn Council, Standard Yarn Weight System, widened",
};

/// Rows counted over 10 cm.
pub static ROWS_PER_10CM: Bound = Bound {
    name: "row gauge",
    min: 4.0,
    max: 120.0,
    unit: "rows per 10 cm",
    source: "stitch gauge limits times the usual stitch to row ratio of 0.67 to 0.79",
};

/// The length a swatch count is taken over, in centimetres.
pub static SWATCH_OVER: Bound = Bound {
    name: "measured length of a swatch",
    min: 1.0,
    max: 100.0,
    unit: "cm",
    source: "common practice, no source",
};

/// Stitches on a needle.
pub static STITCH_COUNT: Bound = Bound {
    name: "stitch count",
    min: 4.0,
    max: 1000.0,
    unit: "stitches",
    source: "common practice, no source",
};

/// A raw count over a swatch: stitches or rows.
pub static COUNT_SPAN: Bound = Bound {
    name: "swatch count",
    min: 2.0,
    max: 400.0,
    unit: "stitches or rows",
    source: "common practice, no source",
};

/// Width of a sleeve round the upper arm, in centimetres.
pub static UPPER_ARM_WIDTH: Bound = Bound {
    name: "upper arm width",
    min: 5.0,
    max: 120.0,
    unit: "cm",
    source: "from a doll's to well above the largest published size (man 5X, 50.8 cm arm)",
};

macro_rules! bound {
    ($doc:literal, $name:ident, $called:literal, $min:literal, $max:literal, $unit:literal) => {
        #[doc = $doc]
        pub static $name: Bound = Bound {
            name: $called,
            min: $min,
            max: $max,
            unit: $unit,
            source: "common practice, no source",
        };
    };
}

bound!(
    "Stitches a seam takes at each edge.",
    SEAM_STITCHES,
    "seam allowance",
    0.0,
    10.0,
    "stitches"
);
bound!(
    "Rows a seam takes at the top.",
    SEAM_ROWS,
    "seam allowance at the top",
    0.0,
    10.0,
    "rows"
);
bound!(
    "Stitches of a pattern repeat, and those beside it.",
    REPEAT,
    "stitch repeat",
    0.0,
    200.0,
    "stitches"
);
bound!(
    "A row or a stitch of a chart.",
    CHART_PLACE,
    "place in a chart",
    1.0,
    200.0,
    "from its first row or stitch"
);
bound!(
    "A row of a sequence of stripes.",
    STRIPE_ROW,
    "row of the stripes",
    1.0,
    200_000.0,
    "from their first row"
);
bound!(
    "Rows of one stripe.",
    STRIPE_ROWS,
    "number of rows of a stripe",
    1.0,
    500.0,
    "rows"
);
bound!(
    "Where stripes should match.",
    MATCH_AT,
    "place on the armhole",
    0.0,
    1.0,
    "of its height above the underarm"
);
bound!(
    "From the middle of the crown to a panel.",
    FROM_CENTRE,
    "distance of a panel from the middle",
    0.0,
    200.0,
    "stitches"
);
bound!(
    "Edge of an armhole on one side, in centimetres.",
    ARMHOLE_EDGE,
    "armhole edge",
    3.0,
    100.0,
    "cm"
);
bound!(
    "Underarm bind-off at one edge, in centimetres.",
    UNDERARM,
    "underarm width",
    0.0,
    40.0,
    "cm"
);
bound!(
    "Depth of an armhole, in centimetres.",
    ARMHOLE_DEPTH,
    "armhole depth",
    3.0,
    80.0,
    "cm"
);
bound!(
    "Rows counted along one edge of an armhole.",
    ARMHOLE_ROWS,
    "number of rows along an armhole",
    6.0,
    400.0,
    "rows"
);
bound!(
    "Stitches counted at one edge of an armhole: at the underarm, in steps, decreased.",
    UNDERARM_STITCHES,
    "number of stitches at an armhole",
    0.0,
    200.0,
    "stitches"
);
bound!(
    "Rows of the cap that are worked.",
    CAP_ROWS,
    "number of rows of a cap",
    1.0,
    2000.0,
    "rows"
);
bound!(
    "Depth of the part of a cap that is worked, in centimetres.",
    DEPTH_SO_FAR,
    "depth so far",
    0.3,
    80.0,
    "cm"
);
bound!(
    "Stitches picked up along one section.",
    PICKED_UP,
    "number of stitches picked up",
    0.0,
    1000.0,
    "stitches"
);
bound!(
    "Stitches that wait on one side.",
    WAITING,
    "number of waiting stitches",
    0.0,
    1000.0,
    "stitches"
);
bound!(
    "Rounds worked since the join.",
    TUBE_ROUNDS,
    "number of rounds worked",
    1.0,
    2000.0,
    "rounds"
);
bound!(
    "Length of a sleeve below the underarm, in centimetres.",
    SLEEVE_LENGTH,
    "sleeve length",
    0.5,
    120.0,
    "cm"
);
bound!(
    "Ease at the upper arm, finished less body, in centimetres.",
    ARM_EASE,
    "ease at the upper arm",
    -15.0,
    60.0,
    "cm"
);
bound!(
    "Ease at the upper arm as a share of the arm, in per cent.",
    ARM_EASE_PCT,
    "ease at the upper arm",
    -50.0,
    150.0,
    "%"
);
bound!(
    "Ease along one side of the armhole: cap edge less armhole edge, in centimetres.",
    EDGE_EASE,
    "ease along the armhole",
    -1.0,
    8.0,
    "cm"
);
bound!(
    "The same as a share of the armhole's edge, in per cent.",
    EDGE_EASE_PCT,
    "ease along the armhole",
    -5.0,
    40.0,
    "%"
);
bound!(
    "Width of the top of a cap, in centimetres.",
    TOP_WIDTH,
    "top of a cap",
    0.5,
    60.0,
    "cm"
);
bound!(
    "Depth of a cap, in centimetres.",
    CAP_DEPTH,
    "cap depth",
    2.0,
    80.0,
    "cm"
);
bound!(
    "Length of a cuff, in centimetres.",
    CUFF_LENGTH,
    "cuff length",
    0.0,
    60.0,
    "cm"
);
bound!(
    "Bust or chest, in centimetres.",
    BUST,
    "bust or chest",
    20.0,
    250.0,
    "cm"
);
bound!(
    "Place in the list of caps offered.",
    CHOICE,
    "choice",
    1.0,
    9.0,
    "of the caps offered"
);
bound!("Runs of a flank.", RUNS, "number of runs", 1.0, 8.0, "runs");
bound!(
    "Rows between two picked-up stitches.",
    GAP_LIMIT,
    "gap limit",
    1.0,
    2.4,
    "rows"
);
bound!(
    "Rows that the pick-up counts as fabric.",
    PICKED_UP_ROW,
    "picked-up row",
    0.0,
    1.0,
    "rows"
);
bound!(
    "Stitches by which the base may change.",
    BASE_TOLERANCE,
    "base tolerance",
    0.0,
    20.0,
    "stitches"
);
bound!(
    "Stitches waiting at the shoulder: a saddle has some.",
    LIVE_STITCHES,
    "number of stitches on the holder",
    1.0,
    200.0,
    "stitches"
);
bound!(
    "Stitches picked up beside those that wait at the shoulder.",
    SHOULDER_STITCHES,
    "shoulder stitch count",
    0.0,
    200.0,
    "stitches"
);
bound!(
    "Stitches at the cuff: the last decrease round needs two, an edge stitch at either end, and one between.",
    CUFF_STITCHES,
    "number of stitches at the cuff",
    6.0,
    1000.0,
    "stitches"
);
bound!(
    "Edge stitches counted with a swatch.",
    EDGE_STITCHES,
    "number of edge stitches",
    0.0,
    20.0,
    "stitches"
);
bound!(
    "The smallest part of a stitch or row that was counted.",
    DIVISION,
    "counting division",
    0.05,
    1.0,
    "of a stitch or row"
);

/// The whole table, for `explain` and for the tests.
pub static ALL_BOUNDS: &[&Bound] = &[
    &STITCHES_PER_10CM,
    &ROWS_PER_10CM,
    &SWATCH_OVER,
    &STITCH_COUNT,
    &COUNT_SPAN,
    &UPPER_ARM_WIDTH,
    &SEAM_STITCHES,
    &SEAM_ROWS,
    &REPEAT,
    &CHART_PLACE,
    &FROM_CENTRE,
    &STRIPE_ROW,
    &STRIPE_ROWS,
    &MATCH_AT,
    &ARMHOLE_EDGE,
    &UNDERARM,
    &ARMHOLE_DEPTH,
    &ARMHOLE_ROWS,
    &UNDERARM_STITCHES,
    &CAP_ROWS,
    &DEPTH_SO_FAR,
    &PICKED_UP,
    &WAITING,
    &TUBE_ROUNDS,
    &SLEEVE_LENGTH,
    &ARM_EASE,
    &ARM_EASE_PCT,
    &EDGE_EASE,
    &EDGE_EASE_PCT,
    &TOP_WIDTH,
    &CAP_DEPTH,
    &CUFF_LENGTH,
    &BUST,
    &CHOICE,
    &RUNS,
    &GAP_LIMIT,
    &PICKED_UP_ROW,
    &BASE_TOLERANCE,
    &LIVE_STITCHES,
    &SHOULDER_STITCHES,
    &CUFF_STITCHES,
    &EDGE_STITCHES,
    &DIVISION,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_a_number_is_outside() {
        for value in [f64::NAN, f64::INFINITY, -1.0, 0.0, 81.0] {
            assert!(STITCHES_PER_10CM.check(value).is_err(), "{value}");
        }
        assert_eq!(STITCHES_PER_10CM.check(22.0), Ok(22.0));
    }

    #[test]
    fn a_message_names_the_value_and_the_range() {
        let error = STITCHES_PER_10CM.check(900.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the stitch gauge of 900 is outside 4 to 80 stitches per 10 cm"
        );
    }
}
