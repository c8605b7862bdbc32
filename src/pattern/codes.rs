//! The findings of this room: what each means, why it matters, what to do.

use crate::diagnostic::{Code, Level};

macro_rules! codes {
    ($($name:ident = $id:literal, $level:ident, $title:literal, $why:literal, $source:literal, $next:literal;)*) => {
        $(
            #[doc = $title]
            pub(super) static $name: Code = Code {
                id: $id, level: Level::$level, title: $title, why: $why, source: $source, next: $next,
            };
        )*
        /// Every finding of the reader of pattern lines.
        pub static CODES: &[&Code] = &[$(&$name),*];
    };
}

codes! {
    NO_LINES = "no-lines", Error, "There is no instruction in the lines.",
        "Without a single bind-off, decrease or row there is no cap to rebuild.",
        "common practice, no source",
        "Copy the lines of the cap from the pattern, from the first bind-off to the last.";
    NOT_UNDERSTOOD = "not-understood", Error, "Words that hold a number or an instruction were not understood.",
        "A step that is left out changes every count after it, so nothing with a number in it is passed over in silence.",
        "common practice, no source",
        "Write the step in plainer words, for example 'decrease 1 st each end of every alternate row 5 times'.";
    NO_SUCH_SIZE = "no-such-size", Error, "A size is named that the case does not have.",
        "Steps for single sizes are told by their labels, or by their places in the list of sizes.",
        "common practice, no source",
        "Use the labels of the case, or places: 'sizes 2 and 3 only:'.";
    SIZES_OPEN = "sizes-not-closed", Warning, "Words for single sizes are not closed.",
        "Size words hold until the next ones or 'all sizes', over the ends of sentences, up to the end of their paragraph.",
        "common practice, no source",
        "Write 'All sizes:' where the other sizes go on.";
    SHORT_ROW_WORDS = "short-row-words", Error, "Short-row wording is not read.",
        "A flat cap or armhole has no short rows before its shoulder; what they shape would be missing in the outline.",
        "common practice, no source",
        "Leave the short rows out where they lie above the shoulder; write a sloped shoulder as bind-offs.";
    FIRST_NUMBER = "first-row-number", Warning, "The first row of the lines has another number than 1.",
        "Its number may count from below the lines; or the rows before it are missing.",
        "common practice, no source",
        "Look whether the rows before it belong to the lines.";
    RAGLAN = "raglan-words", Error, "The lines are of a raglan or a yoke.",
        "A raglan's decreases run to the neck: it has no cap and no armhole to pick up round.",
        "common practice, no source",
        "Convert set-in sleeves only.";
    LEFT_OUT = "left-out", Note, "Rows that are no part of the cap or armhole were left out.",
        "What lies before the first bind-off, the saddle's straight rows and the other half of divided work have no place in this outline.",
        "common practice, no source",
        "Nothing, if these rows are what they are taken for.";
    ROW_STITCHES = "row-stitches", Error, "A row told stitch by stitch does not come out.",
        "The stitches that a row names must be as many as are on the needle.",
        "common practice, no source",
        "Compare the row with the count before it.";
    SPREAD = "spread-decreases", Note, "Decreases are spread over a row.",
        "They narrow the piece without belonging to an edge; half of them are counted at each.",
        "common practice, no source",
        "Nothing, unless they belong to one edge.";
    DIVIDED = "divided-work", Note, "The work is divided; one half is followed.",
        "After the neck is divided off, counts are those of one half; its armhole edge goes on, its other edge is the neck.",
        "common practice, no source",
        "Nothing.";
    NOT_DIVIDED = "not-divided", Error, "The work is turned before the end of a row, and it is not said what waits.",
        "Stitches left on the needle wait for the other side of a neck, or for the next short row; these are different pieces.",
        "common practice, no source",
        "Say 'leave the remaining stitches on a holder', or leave the short rows out.";
    ELSEWHERE = "told-elsewhere", Error, "The lines refer to another part of the pattern.",
        "What is worked 'as for the back' stands elsewhere, so its rows are not counted here.",
        "common practice, no source",
        "Copy the lines it refers to in its place.";
    MIRRORED = "mirrored-piece", Note, "The mirrored piece is worked from the same lines.",
        "Reversing shapings mirrors the edges and moves each bind-off by one row; its rows are not listed twice.",
        "common practice, no source",
        "To read the mirrored piece, read the same lines starting on the other side.";
    SLOPED = "sloped-bind-off", Note, "Sloped bind-offs change no count.",
        "Slipping the first stitch of a bind-off, or decreasing at the end of the row before, smooths the stair and takes the same stitches.",
        "Julia Trice, sloped bind-offs",
        "Nothing.";
    DEC_ROW = "decrease-row-not-told", Note, "The decrease row is not described.",
        "A 'dec row' that the lines do not tell is taken as one stitch at each end.",
        "common practice, no source",
        "Copy the description of the row too, if it takes more or fewer stitches.";
    SCAN_SLIP = "scan-slip", Error, "A letter stands where print has a digit.",
        "Scanned print often has l or I for 1 and O for 0. The likely digits are used so that the rest can be checked.",
        "common practice, no source",
        "Compare with the printed page and correct the number.";
    LIST_LENGTH = "size-list-length", Error, "A list has not as many numbers as there are sizes.",
        "Every list gives one number for each size, or one for all; with one too many or too few the later sizes take a neighbour's number.",
        "Australian magazine sleeve, issuhub.com/view/index/9142?pageIndex=49: seven numbers for six sizes",
        "Compare with the printed page; strike the number too many, or add the missing one.";
    TOO_MANY_SIZES = "too-many-sizes", Error, "There are more sizes than are read.",
        "At most 40 sizes are read at once.",
        "common practice, no source",
        "Leave out the sizes you do not need.";
    STARTING_COUNT = "starting-counts", Error, "The stitches before the lines are not given for every size.",
        "Every count is made from the stitches on the needle before the first row.",
        "common practice, no source",
        "Give one number for each size, or one for all.";
    STATED_COUNT = "stated-count", Error, "A stated count does not agree with the rows.",
        "A count in the text is a check point: the stitches worked from the start must agree with it, in every size.",
        "common practice, no source",
        "See whether one of the proposed changes is what the designer meant, or look for errata.";
    STATED_SIDE = "stated-side", Error, "The side named in the text is not the side of the row reached.",
        "Bind-offs fall at the beginning of rows, so a cap that is one row off has its last steps on the wrong edge.",
        "knitting handbook, DK sweater, knittingmagic.biz/guide-8/sleeves.html: ends on a purl row by its words, on a knit row by its counts",
        "Work one row more or less where it does the least harm, usually one plain row.";
    TOO_MANY_REMOVED = "too-many-removed", Error, "A row takes away more stitches than there are.",
        "No row can leave fewer than no stitches.",
        "common practice, no source",
        "Check the number of stitches before the lines and the numbers of this step.";
    ODD_REMAINDER = "odd-remainder", Error, "Steps of this size do not come out at the count named.",
        "A decrease at each end takes two stitches a row, so an odd number of stitches cannot be taken away.",
        "Coats & Clark cardigan S-731: whole in every one of eight sizes",
        "Check the count named and the count before it; one of them is probably off by one.";
    OUT_OF_REACH = "out-of-reach", Error, "The count to stop at has been passed already.",
        "Decreasing stops at a smaller count than there is now, increasing at a larger one.",
        "common practice, no source",
        "Check the count named and the steps before it.";
    NEEDS_ROW_GAUGE = "needs-row-gauge", Error, "A length stands where rows are needed, and there is no row gauge.",
        "A length becomes rows by the row gauge of the pattern.",
        "common practice, no source",
        "Give the row gauge of the pattern.";
    MEASURE_PASSED = "measure-passed", Warning, "The piece measures more than that already.",
        "The rows before it are as long as the length named, so no row is worked.",
        "common practice, no source",
        "Check the row gauge, and where the pattern measures from.";
    MEASURED_FROM_BELOW = "measured-from-below", Note, "A length is measured from further down than these lines go.",
        "The rows below the first row of the lines are not known here; the first such length is taken as reached, and later ones count from it.",
        "forum.knittinghelp.com, thread 152671",
        "Give the length from the first bind-off instead, if it is known.";
    LENGTH_AS_ROWS = "length-as-rows", Note, "A length was turned into rows.",
        "A length becomes rows by the row gauge of the pattern, then the nearest count that ends on the side the next step needs.",
        "common practice, no source",
        "Nothing, if the rows seem right.";
    NOTHING_TO_REPEAT = "nothing-to-repeat", Error, "There is nothing before it to repeat.",
        "A repeat names rows that come before it.",
        "common practice, no source",
        "Copy the rows it repeats too.";
    NOT_WHOLE = "not-whole", Error, "A count of stitches, rows or times is not a whole number.",
        "Stitches, rows and times are whole.",
        "common practice, no source",
        "Correct the number.";
    PLAIN_ROW_ADDED = "plain-row-added", Note, "A plain row was worked to reach the side named.",
        "Shaping on every right-side row leaves the wrong-side row after the last one to the knitter.",
        "common practice, no source",
        "Nothing, if the rows seem right.";
    AFTER_THE_END = "after-the-end", Error, "There are instructions after the last stitch is bound off.",
        "Nothing is on the needle any more.",
        "common practice, no source",
        "Check the number of the last bind-off.";
    NOT_CLOSED = "not-closed", Note, "The lines end with stitches on the needle.",
        "The stitches left are taken as the flat top of the cap.",
        "common practice, no source",
        "Nothing, if they are bound off or put on a holder in the end.";
    TOO_LONG = "too-long", Error, "The text or the piece is longer than is read.",
        "At most 1 MB of text and 10,000 rows are read, so that an answer always comes.",
        "common practice, no source",
        "Give the lines of the cap only, and check the number of rows.";
    NOT_ALL_TRIED = "not-all-tried", Note, "Some other readings or repairs were not tried.",
        "Each of them is worked out row by row in every size; only so many rows are worked for it, so that an answer always comes soon.",
        "common practice, no source",
        "Read fewer sizes at once, or fewer lines.";
    READING_NEXT_AND_EVERY = "reading-next-and-every", Note, "'Next and every ... n times' can be read in two ways.",
        "Either n counts the next row too, or n rows follow it.",
        "Beehive for Bairns vol. 2: 76 stitches, cast off 3 twice, 'next and every alternate row 4 times' leaves 62, so n counts the next row",
        "If a count in the pattern says otherwise, write next_and_every = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_REPEAT = "reading-repeat", Note, "'Repeat n times' can be read in two ways.",
        "Either the rows are worked n times more, or n times in all.",
        "Botany College Hand Knits II no. 122: 92 stitches after the first row, 72 after 10 repeats, so n times more",
        "If a count in the pattern says otherwise, write repeat = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_FIRST_DECREASE = "reading-first-decrease", Note, "The row of the first decrease after a bind-off is open.",
        "'Every 4th row' after a decrease counts from that decrease. After a bind-off it starts with the next row, or four rows on.",
        "common practice, no source",
        "If a row count or a length in the pattern says otherwise, write first_decrease = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_TRAILING_ROW = "reading-trailing-row", Note, "A plain row before a bind-off is left to the knitter.",
        "After decreases on every right-side row the next bind-off may start at once, on a wrong-side row, or after one more plain row, on the side where the first bind-off was.",
        "The Knitter, 17 Sep 2020, cap in five sizes: no plain row is worked unless it is asked for",
        "If a row count or a length in the pattern says otherwise, write trailing_row = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_ROWS_TWICE = "reading-rows-twice", Note, "'Next 2 rows twice' can be read in two ways.",
        "Either the two rows are worked twice, or the stitches go once at each of two edges.",
        "common practice, no source",
        "If a count in the pattern says otherwise, write rows_twice = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_CROSS = "reading-cross", Note, "'2 x 1' can be read in two ways.",
        "Either two stitches once, or one stitch twice: the same stitches, but not the same rows.",
        "forum.knittinghelp.com, threads 3939 and 77742",
        "Add 'st' to the number of stitches: '2 x 1 st'.";
    READING_ROW_LIST = "reading-row-list", Note, "A list of rows can be counted from two places.",
        "Either the rows are counted from here, or from the first row of the lines.",
        "common practice, no source",
        "If a count of rows in the pattern says otherwise, write row_list = \"second\" under [readings] in the case (or \"first\", where the second was taken).";
    READING_EDGE = "reading-edge", Note, "No edge is named.",
        "A decrease without an edge is taken at each end of a symmetrical piece, at the armhole edge of a half one.",
        "common practice, no source",
        "Name the edge: 'each end', 'at armhole edge'.";
    READING_HYPHEN = "reading-hyphen", Note, "A hyphen between two numbers can be a range or a separator.",
        "'36-38 (40-42)' gives a range for each of two sizes, '102 (114-122)' gives three sizes.",
        "Simply Knitting, 27 January 2021; Yarnspirations notation",
        "Separate sizes with commas.";
}
