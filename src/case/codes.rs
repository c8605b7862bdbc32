//! The findings of this room.

use crate::diagnostic::{Code, Level};

macro_rules! case_code {
    ($name:ident, $id:literal, $title:literal, $why:literal, $next:literal) => {
        pub(crate) static $name: Code = Code {
            id: $id,
            level: Level::Error,
            title: $title,
            why: $why,
            source: "the case format",
            next: $next,
        };
    };
}

case_code!(
    SYNTAX,
    "case-syntax",
    "the case file is not TOML",
    "A case is a TOML file. The place shown is where reading stopped making sense; the slip is there \
     or just before it.",
    "Look for a missing quote, bracket or equals sign."
);
case_code!(
    UNKNOWN_KEY,
    "unknown-key",
    "a key that is not part of a case",
    "A key that is not known would be left out in silence, and a misspelt one would do nothing. So \
     every key must be known.",
    "Correct the spelling or remove the line; the README lists all keys."
);
case_code!(
    MISSING_KEY,
    "missing-key",
    "a key that the job cannot do without",
    "Nothing is assumed for the stitches, the lines, the gauge and the armhole of a pattern.",
    "Add the key."
);
case_code!(
    WRONG_TYPE,
    "wrong-type",
    "a value of the wrong kind",
    "A number, a list with one number a size, text, or a table is expected here.",
    "Write the value as the sentence asks for it; of a length or a count the number alone, 10 and not \"10 cm\"."
);
case_code!(
    OUT_OF_RANGE,
    "out-of-range",
    "a value that cannot be right",
    "Every quantity has limits that no garment passes; beyond them it is a slip of the pen or a \
     mix-up of units.",
    "Check the number and the units of the case."
);
case_code!(
    LIST_LENGTH,
    "list-length",
    "a list with the wrong number of sizes",
    "A value that differs by size has one entry for each size, in the order of `sizes`.",
    "Give one number for each size, or a single one for all."
);
case_code!(
    UNKNOWN_WORD,
    "unknown-word",
    "a word that is not one of the choices",
    "This key takes one of a few words.",
    "Use one of the words shown."
);
case_code!(
    CLASH,
    "keys-clash",
    "keys that exclude one another",
    "The same thing is said in two ways, or half of a pair is missing.",
    "Keep one of them."
);
case_code!(
    UNUSABLE_CASE,
    "case-unusable",
    "a case that could not be read at all",
    "The file cannot be opened, is too large, is not text in UTF-8, or the line is not JSON; or the result \
     cannot be written under its name.",
    "Look at the file or the line that is named; the other cases are not touched by it."
);
case_code!(
    WORDS,
    "unusable-words",
    "a title or a label that cannot be used",
    "The title and the labels of the sizes stand in headings, tables and names. So they are short, have \
     one line, and no label is empty or stands for two sizes.",
    "Write it shorter, on one line, and every label once."
);
case_code!(
    TOO_MANY,
    "too-many-problems",
    "more problems than are shown",
    "Only the first few hundred problems of a case are shown; so many mostly have one cause.",
    "Correct the first ones and look again: this is hardly a case file."
);

pub(crate) static HIDDEN: Code = Code {
    id: "hidden-characters",
    level: Level::Warning,
    title: "characters that cannot be seen",
    why: "Control characters can act on a terminal, and marks that turn the direction of reading can make \
          a line say something else than it does. They are written out as a code such as \\u202e.",
    source: "Unicode Standard Annex 9 (directional formatting characters); Unicode Technical Report 36",
    next: "Remove the characters, or ask whoever wrote the case why they are there.",
};

/// This room's part of the table of findings.
pub static CODES: &[&Code] = &[
    &SYNTAX,
    &UNKNOWN_KEY,
    &MISSING_KEY,
    &WRONG_TYPE,
    &OUT_OF_RANGE,
    &LIST_LENGTH,
    &UNKNOWN_WORD,
    &CLASH,
    &UNUSABLE_CASE,
    &WORDS,
    &HIDDEN,
    &TOO_MANY,
];
