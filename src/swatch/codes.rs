//! The findings of this room: what can be wrong with a swatch, and what two swatches say.

use crate::diagnostic::{Code, Level};

const COMMON: &str = "common practice, no source";
const OWN: &str = "a limit chosen by this project";

macro_rules! codes {
    ($($name:ident: $id:literal, $level:ident, $title:literal, $why:literal, $source:expr, $next:literal;)*) => {
        $(pub(crate) static $name: Code = Code {
            id: $id,
            level: Level::$level,
            title: $title,
            why: $why,
            source: $source,
            next: $next,
        };)*

        /// The codes of this room, for the table of all findings.
        pub static CODES: &[&Code] = &[$(&$name),*];
    };
}

codes! {
    EMPTY: "swatch-empty", Error,
        "a swatch without a count of stitches or of rows",
        "A gauge needs stitches for every width and rows for every height; neither can be guessed from the other closely enough.",
        "the arithmetic of gauge",
        "Count both in the middle of the swatch and give both.";
    COUNT_BOUNDS: "swatch-count", Error,
        "a count that is no count",
        "A count must be a number of stitches or rows that fits on a swatch: 2 to 400. Zero, a minus sign or a word is a slip.",
        COMMON,
        "Look the count up in your notes, or count again.";
    LENGTH_BOUNDS: "swatch-length", Error,
        "a measured length that cannot be",
        "Counts are taken over 1 to 100 cm. Below 1 cm the reading error is larger than any gauge difference; above 1 m it is not a swatch.",
        COMMON,
        "Give the length the stitches were counted over, in the units of the case.";
    DIVISION_BOUNDS: "swatch-division", Error,
        "a smallest division that cannot be",
        "The smallest part of a stitch or row that was counted is a half as a rule, a quarter at best, a whole one or two (a ridge) at worst.",
        COMMON,
        "Leave it out for half stitches and half rows.";
    GAUGE_BOUNDS: "swatch-gauge", Error,
        "a gauge that cannot be knitted",
        "The counts give a gauge outside the table of bounds.",
        "the table of bounds",
        "Compare the counts with the length they were taken over.";
    TOO_SHORT: "swatch-too-short", Warning,
        "a count over less than an inch",
        "Over a short length half a stitch more or less at the end of the ruler is a large part of the count, so the gauge is mostly reading error.",
        COMMON,
        "Count over 10 cm or 4 in, in the middle of the swatch; over less only where the swatch is smaller.";
    ONE_COUNT: "swatch-one-count", Note,
        "one count only",
        "One count has a reading error but says nothing of how evenly the swatch is knit, which is the larger part: counts of one swatch scatter by 0.3 to 0.4 in 10 cm, and two swatches that one knitter makes alike usually differ by about 2 %, now and then by twice that. So no interval is given, and no difference of two swatches is called real, until there are two counts of each.",
        "GUM (JCGM 100:2008) 4.3.7 for the reading error; how evenly one knits: common practice, no source",
        "Count in two more places.";
    WIDE: "swatch-interval-wide", Warning,
        "a gauge that is not known well enough",
        "The 95 % interval is wider than 5 % either way, which is about one stitch in 22 and as much as flat and round commonly differ. With two counts Student's t allows 12.7 standard errors either way, because two counts hardly show a spread.",
        "Student's t; the limit of 5 % is chosen by this project",
        "Count in more places.";
    OUTLIER: "swatch-outlier", Warning,
        "a count far from the others",
        "Its modified z-score 0.6745 |count - median| / MAD is above 3.5. The MAD (the median distance from the median) is taken as half the smallest division counted when it is smaller, so that equal whole counts do not make every other count an outlier. It stays in the mean: only the knitter can say whether it was a slip.",
        "Iglewicz and Hoaglin, How to Detect and Handle Outliers (ASQC, 1993); the lower limit of the MAD is chosen by this project",
        "Count there again. If it was a slip, take it out of the case yourself.";
    DISAGREE: "swatch-counts-disagree", Warning,
        "counts that cannot be of one swatch",
        "Counts on one swatch usually agree to about one stitch in 22. Here the largest gauge is more than 1.2 times the smallest (a warning) or more than 1.5 times (an error): a length, a unit or a count is wrong. Twice as many is the mark of ridges counted as rows, 2.54 times that of inches and centimetres mixed.",
        OWN,
        "Check the length of each count.";
    UNITS: "swatch-units", Error,
        "inches and centimetres may be mixed up",
        "As written the gauge is outside what hand knitting usually has, and with the other unit it is inside. 4 in taken for 4 cm is seen in this way, and 10 cm taken for 10 in. A count over 4 in written as one over 10 cm cannot be seen: it is only 1.6 % off.",
        "1 in = 2.54 cm; usual gauges: yarn weight system, bulky to fingering (from memory)",
        "Write the length in the units of the case.";
    EXCHANGED: "swatch-exchanged", Warning,
        "stitches and rows may be exchanged",
        "Plain knitting has more rows than stitches in the same length: stitches divided by rows is 0.67 to 0.79 in published patterns. Here it is the other way about. Nothing was changed.",
        "ten published patterns, 0.67 to 0.79; the relaxed plain loop, 0.76",
        "If they were exchanged, exchange them in the case; if ridges were counted, give twice the number.";
    STITCH_ROW: "swatch-ratio", Warning,
        "an unusual ratio of stitches to rows",
        "Stitches divided by rows is 0.67 to 0.79 in published patterns for plain knitting, and 0.76 in the theory of the relaxed loop. Outside 0.60 to 0.90 a count is often wrong; but garter stitch (about 0.5), ribs, cables and slipped stitches are really different.",
        "ten published patterns, 0.67 to 0.79; the limits of 0.60 and 0.90 are common practice",
        "Count the rows again, in the sleeve's stitch. If the stitch is not plain, this is no mistake.";
    EDGE: "swatch-edge-stitches", Warning,
        "edge stitches were counted",
        "Edge stitches curl or pull in, so they show only a part of their width and the gauge comes out too tight.",
        COMMON,
        "Count in the middle, some stitches away from both edges.";
    FLOATS: "swatch-floats", Note,
        "a round swatch worked as a flat strip",
        "A strip worked on the right side only, with the yarn carried loosely behind, has the tension of knitting in the round in its middle, but loose edge stitches.",
        "published advice for swatching in the round",
        "Count in the middle, and cut or loosen the floats before measuring.";
    UNWASHED: "swatch-unwashed", Note,
        "counted before washing",
        "Many fabrics change when they are washed first, stitches and rows differently. The sleeve will be washed too.",
        "published advice: block the swatch before measuring",
        "Wash and dry the swatch as the sleeve will be, and count again.";
    WASHED_MIXED: "swatch-washed-mixed", Warning,
        "one swatch was washed and the other was not",
        "What washing does is mixed up with what knitting in the round does, and the two can be of the same size.",
        COMMON,
        "Wash both in the same way, or count both unwashed.";
    LENGTHS_MIXED: "swatch-lengths-mixed", Note,
        "10 cm and 4 in side by side",
        "4 in are 10.16 cm. Each count was converted by its own length; if one of them was really taken over the other length, the drift is wrong by 1.6 %, a third of what is usual.",
        "1 in = 2.54 cm",
        "Make sure that each length is what the ruler said.";
    FLOATS_FLAT: "swatch-floats-flat", Warning,
        "the flat swatch is marked as a strip with floats",
        "A strip worked on the right side only stands for knitting in the round. The drift is then that of round against round.",
        "published advice for swatching in the round",
        "Use it as the round swatch, and count a swatch knitted back and forth as the flat one.";
    DRIFT_FOUND: "drift-found", Note,
        "flat and round differ",
        "The difference is larger than the error of counting allows (Welch's test, 95 %). Widths follow the stitches, lengths follow the rows.",
        "Welch, Biometrika 34 (1947) 28-35",
        "Use both gauges: the cap is worked flat, the tube in the round.";
    DRIFT_NONE: "drift-none", Note,
        "flat and round are alike",
        "With 95 % confidence the two differ by less than 2 %, which is half a stitch in 22.",
        "delta method; the limit of 2 % is chosen by this project",
        "Treat the two swatches as one.";
    DRIFT_OPEN: "drift-open", Note,
        "the counts do not tell flat from round",
        "The difference is within the error of counting (Welch's test, 95 %), but a drift that matters is not ruled out either. With a single count of either swatch nothing is tested: it says nothing of how evenly the swatch is knit.",
        "Welch, Biometrika 34 (1947) 28-35",
        "Count again over a longer length and in more places, or treat the two swatches as one.";
    DRIFT_LARGE: "drift-large", Warning,
        "a larger drift than is usual",
        "Published pairs of swatches differ by 4 to 5 %. Beyond 10 % the needles, the yarn or a count are usually not the same in both.",
        "published pairs 22/23, 21/22 and 6.5/6.75; the limit of 10 % is chosen by this project",
        "Check that both swatches were made with the same yarn and the same needles, and count again.";
    GAUGES_APART: "gauges-apart", Error,
        "cap and tube cannot be joined at these gauges",
        "What the two gauges call for is made or decreased in one round, at the corners of the underarm: a few stitches. At more than a quarter of all stitches the corners are gathers or holes, and a count is likely wrong.",
        "common practice, no source (the limit); published pairs are 4 to 5 % apart",
        "Look whether both counts are over the same length, flat and in the round, and count again.";
    RATIO_UNBOUNDED: "drift-unbounded", Warning,
        "the counts put no limit to the drift",
        "The first gauge is so uncertain that Fieller's set for the ratio has no end.",
        "Fieller, Journal of the Royal Statistical Society B 16 (1954) 175-185",
        "Count the swatches in more places.";
    WASHING: "swatch-washing", Note,
        "what washing does",
        "The gauge before washing is what the work on the needles shows; the gauge after is what is worn. Plan with the second, check on the needles with the first.",
        COMMON,
        "Measure work in progress by counting rows, not with a ruler.";
}
