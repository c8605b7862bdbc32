//! A sentence as words between numbers, so that those of several sizes can stand as one.

use super::instructions::Step;
use super::notation::Notation;

/// True when these sentences can stand as one with numbers in brackets.
pub(crate) fn differ_in_numbers(sentences: &[String]) -> bool {
    let mut keys = sentences.iter().map(|s| SizeSentence::new(s.clone()).key);
    let first = keys.next();
    keys.all(|key| Some(&key) == first.as_ref())
}

/// One sentence for all sizes, where these differ in numbers alone.
pub fn one_sentence(sentences: &[String], notation: &Notation) -> Option<String> {
    let read: Vec<SizeSentence> = sentences.iter().cloned().map(SizeSentence::new).collect();
    differ_in_numbers(sentences).then(|| merged(&read.iter().collect::<Vec<_>>(), notation))
}

/// A sentence as words between numbers, all plural, `once` and `twice` as numbers.
pub(crate) struct SizeSentence {
    pub(crate) original: String,
    pub(crate) key: String,
    words: Vec<String>,
    numbers: Vec<u32>,
    /// So many of the numbers say what is worked: none of it is nothing to do, and no count.
    pub(crate) worked: usize,
}

/// Number words and the like, as they are written when sizes differ.
const AS_NUMBERS: &[(&str, &str)] = &[
    (", once", ", 1 times"),
    (", twice", ", 2 times"),
    ("round on every ", "round every "),
    ("round every round,", "round every 1 rounds,"),
    ("round in the next round.", "round every 1 rounds, 1 times."),
    ("1 st in the next row", "1 sts in each of the next 1 rows"),
    ("1 st from the strand ", "1 sts from the strands "),
    (
        "work the wrapped st, w&t",
        "work the wrapped st and 0 more, w&t",
    ),
    (
        "work the ds, work 1, turn",
        "work the ds and 0 more, work 1, turn",
    ),
];

/// What may follow a number, for one and for several.
const PLURALS: &[(&str, &str)] = &[
    (" st", " sts"),
    (" row", " rows"),
    (" round", " rounds"),
    (" turn pair", " turn pairs"),
    (" pair", " pairs"),
    (" base st", " base sts"),
    (" live st", " live sts"),
    ("st round", " rounds"),
    ("nd round", " rounds"),
    ("rd round", " rounds"),
    ("th round", " rounds"),
];

impl SizeSentence {
    pub(crate) fn of(step: &Step) -> Self {
        Self {
            worked: Self::new(step.sentence.clone()).numbers.len(),
            ..Self::new(step.full())
        }
    }

    fn new(original: String) -> Self {
        let mut text = original.clone();
        for (word, number) in AS_NUMBERS {
            text = text.replace(word, number);
        }
        let mut words = vec![String::new()];
        let mut numbers: Vec<u32> = Vec::new();
        let mut pieces = text.chars().peekable();
        while let Some(c) = pieces.next() {
            let Some(mut n) = c.to_digit(10) else {
                if let Some(last) = words.last_mut() {
                    last.push(c);
                }
                continue;
            };
            while let Some(digit) = pieces.peek().and_then(|c| c.to_digit(10)) {
                n = n.saturating_mul(10).saturating_add(digit);
                pieces.next();
            }
            numbers.push(n);
            words.push(String::new());
        }
        for word in words.iter_mut().skip(1) {
            *word = plural(word);
        }
        Self {
            original,
            key: words.join("#"),
            words,
            numbers,
            worked: 0,
        }
    }
}

/// The words after a number, in the plural.
fn plural(words: &str) -> String {
    for (one, many) in PLURALS {
        if let Some(rest) = words.strip_prefix(one)
            && !rest.starts_with(|c: char| c.is_alphanumeric())
        {
            return format!("{many}{rest}");
        }
    }
    words.to_owned()
}

/// The words after the number one.
fn singular(words: &str) -> String {
    for (one, many) in PLURALS.iter().take(7) {
        if let Some(rest) = words.strip_prefix(many)
            && !rest.starts_with(|c: char| c.is_alphanumeric())
        {
            return format!("{one}{rest}");
        }
    }
    words.to_owned()
}

/// One sentence for all of a group; the keys are equal.
pub(crate) fn merged(group: &[&SizeSentence], notation: &Notation) -> String {
    let Some(first) = group.first() else {
        return String::new();
    };
    if group.iter().all(|s| s.original == first.original) {
        return first.original.clone();
    }
    let mut out = first.words.first().cloned().unwrap_or_default();
    for (i, after) in first.words.iter().skip(1).enumerate() {
        let values: Vec<u32> = group
            .iter()
            .filter_map(|s| s.numbers.get(i))
            .copied()
            .collect();
        let first_value = values.first().copied();
        let number = first_value.filter(|n| values.iter().all(|other| other == n));
        match (number, after.strip_prefix(" times")) {
            (Some(n @ 1..=2), Some(rest)) => {
                out.push_str(number_word(n, &out));
                out.push_str(rest);
            }
            (Some(1), _) => out.extend(["1", singular(after).as_str()]),
            (Some(n), _) => out.extend([n.to_string().as_str(), after]),
            (None, _) => {
                let shown = values.iter().map(|n| match n {
                    0 if i < first.worked => notation.nothing().to_owned(),
                    n => n.to_string(),
                });
                let shown: Vec<String> = shown.collect();
                out.extend([notation.list(&shown).as_str(), after]);
            }
        }
    }
    out.replace(" and 0 more", "")
        .replace("1 st from the strands ", "1 st from the strand ")
        .replace("1 st in each of the next 1 row,", "1 st in the next row,")
        .replace("1 st in each of the next 1 row;", "1 st in the next row;")
        .replace("round every 1 round, once.", "round in the next round.")
}

/// `once` or `twice`, as the first word of a sentence with a capital.
fn number_word(n: u32, before: &str) -> &'static str {
    match (n, before.ends_with(". ")) {
        (1, true) => "Once",
        (1, false) => "once",
        (_, true) => "Twice",
        (_, false) => "twice",
    }
}
