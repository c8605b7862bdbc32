//! What this room may say.

use crate::diagnostic::{Code, Level};

/// No table of this name.
pub(super) static TABLE_UNKNOWN: Code = Code {
    id: "body-table-unknown",
    level: Level::Error,
    title: "there is no body table of this name",
    why: "Without a table nothing is known about the arm that the sleeve has to fit.",
    source: "the names of the tables in this program",
    next: "List the tables with `capwright tables`, or give the upper arm as measured.",
};

/// A size or a bust, but no table to look it up in.
pub(super) static TABLE_MISSING: Code = Code {
    id: "body-table-missing",
    level: Level::Warning,
    title: "a size, a bust or a chest is given without a table",
    why: "Tables differ by the people they were measured on, so none is taken by default; without \
          one nothing is said about the arm.",
    source: "the tables in this program",
    next: "Name a table in [body], for example table = \"woman\".",
};

/// No size of this name.
pub(super) static SIZE_UNKNOWN: Code = Code {
    id: "body-size-unknown",
    level: Level::Error,
    title: "the table has no such size",
    why: "Sizes are looked up by the names that the table prints. Common ways of writing them \
          (XXL for 2X, small for S, months) are understood.",
    source: "the sizes as published in each table",
    next: "Use one of the table's sizes, or a bust or chest measure.",
};

/// This table cannot be asked this.
pub(super) static NOT_ASKED_THAT: Code = Code {
    id: "body-table-not-asked-that",
    level: Level::Error,
    title: "this table cannot be asked for that",
    why: "A chart answers a size, a bust or a chest, a survey of chest and arm answers a bust or chest, a table by \
          age answers an age. The others are for reading.",
    source: "what the published tables hold",
    next: "Ask a table that holds it: `capwright tables` says what each can be asked.",
};

/// Too far outside to answer.
pub(super) static BUST_OUT_OF_RANGE: Code = Code {
    id: "body-bust-out-of-range",
    level: Level::Error,
    title: "the bust or chest is too far outside the table",
    why: "Past about one size beyond the published ones nothing supports a figure, so none is \
          given.",
    source: "common practice, no source",
    next: "Give the upper arm as measured, or choose a table for this body.",
};

/// A number that makes sense in the other unit only.
pub(super) static UNITS_MIXED: Code = Code {
    id: "body-units-mixed",
    level: Level::Error,
    title: "the number looks like the other unit",
    why: "A chest of 38 is 38 in, hardly 38 cm. Nothing is converted in silence.",
    source: "1 in = 2.54 cm exactly (international yard and pound agreement, 1959)",
    next: "Write the unit beside the number, for example 38 in or 96.5 cm.",
};

/// Outside the survey.
pub(super) static EXTRAPOLATED: Code = Code {
    id: "body-extrapolated",
    level: Level::Warning,
    title: "the spread is extrapolated past the survey",
    why: "The survey holds fewer than 20 people in a 4 cm band of this bust or chest. The spread goes on \
          along the curve's tangent, and above the survey its centre passes to the chart's own \
          figure over 8 cm of bust.",
    source: "ANSUR II (NATICK/TR-15/007): women 76 to 116 cm, men 84 to 132 cm of chest",
    next: "Measure the upper arm of the person who will wear it; a measured arm beats any table.",
};

/// The men's equation stands in for one of women.
pub(super) static MENS_EQUATION: Code = Code {
    id: "body-relaxed-by-mens-equation",
    level: Level::Note,
    title: "women's flexed arms are turned into relaxed ones by an equation found on men",
    why: "The survey of chest and arm measured flexed arms; a sleeve chart means a hanging arm. \
          The only published pair of both is of 2420 men (relaxed = 0.9646 flexed - 8.0 mm, \
          8.4 mm from man to man). Against the chart for women it is within 0.7 cm for S to XL.",
    source: "US Air Force 1967 flying personnel survey; ANSUR II (NATICK/TR-15/007)",
    next: "Nothing, or measure the arm.",
};

/// Chart and survey disagree.
pub(super) static CHART_AND_SURVEY: Code = Code {
    id: "body-chart-and-survey-differ",
    level: Level::Note,
    title: "the size chart and the survey disagree about this arm",
    why: "The chart's figure lies more than a tenth from the mean of the people surveyed. The \
          chart for children exceeds the survey at 24 months (19 against 16 cm) and falls short \
          of it from about size 10 (youth 16: 24 against 29 to 30 cm).",
    source: "Craft Yarn Council charts; ANSUR II (NATICK/TR-15/007); NHANES 2015-2018",
    next: "Measure the arm, or choose the ease with the wider of the two in mind.",
};

/// Arm against bust.
pub(super) static ARM_WIDER_THAN_BUST: Code = Code {
    id: "body-arm-wider-than-bust",
    level: Level::Error,
    title: "the upper arm is wider than the bust or chest",
    why: "In 6068 people surveyed the flexed arm was 26 to 42 % of the chest. An arm \
          wider than the bust or chest is a slip of the pen or of the unit.",
    source: "ANSUR II (NATICK/TR-15/007)",
    next: "Measure again, and check that both are in the same unit.",
};

/// Arm odd for the bust.
pub(super) static ARM_ODD_FOR_BUST: Code = Code {
    id: "body-arm-odd-for-bust",
    level: Level::Warning,
    title: "the upper arm is unusual for the bust or chest",
    why: "The arm is expected between 20 and 50 % of the bust or chest: in 6068 people surveyed the flexed \
          arm was 26 to 42 % of the chest.",
    source: "ANSUR II (NATICK/TR-15/007), widened",
    next: "Measure both again, in the same unit. If they are right, the measured arm counts.",
};

/// An arm that no arm has.
pub(super) static ARM_OUT_OF_RANGE: Code = Code {
    id: "body-arm-out-of-range",
    level: Level::Error,
    title: "the upper arm cannot be an arm's",
    why: "The measured upper arm is outside anything from a doll's to well above the largest \
          published size.",
    source: "the table of bounds; largest published arm 20 in (50.8 cm), man 5X",
    next: "Measure again and write the unit beside the number.",
};

/// Everything this room may say.
pub static CODES: &[&Code] = &[
    &TABLE_UNKNOWN,
    &TABLE_MISSING,
    &SIZE_UNKNOWN,
    &NOT_ASKED_THAT,
    &BUST_OUT_OF_RANGE,
    &UNITS_MIXED,
    &EXTRAPOLATED,
    &MENS_EQUATION,
    &CHART_AND_SURVEY,
    &ARM_WIDER_THAN_BUST,
    &ARM_ODD_FOR_BUST,
    &ARM_OUT_OF_RANGE,
];
