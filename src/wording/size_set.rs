//! One text for several sizes: numbers in brackets where the sizes are built alike.
//!
//! Sentences of several sizes are merged when they differ in numbers alone: `3 (4, 5) times`.
//! Where the sizes are built differently, scope sentences (`Sizes S / M only.`) say whose turn it
//! is. `needle` reads the same notation back, size by size.

use super::instructions::{Instructions, Section, Step};
use super::notation::Notation;
use super::size_align::aligned;
use crate::plan::remarks;

/// Merges the instructions of several sizes, each with its name, in the order given.
///
/// All must be for the same sleeve and in the same style. Nothing is lost: read back for one size,
/// the text says what that size's own instructions say. With one size these come back unchanged.
pub fn write_set(sizes: &[(String, Instructions)]) -> Instructions {
    write_set_in(sizes, &Notation::usual(sizes.len()))
}

/// The same with the numbers of the sizes as a pattern lists them. `needle` reads the usual notation only.
pub fn write_set_in(sizes: &[(String, Instructions)], notation: &Notation) -> Instructions {
    if let [(_, only)] = sizes {
        return only.clone();
    }
    let mut texts: Vec<Instructions> = sizes.iter().map(|(_, text)| text.clone()).collect();
    aligned(&mut texts);
    let names = sizes.iter().map(|(name, _)| name.clone());
    let sizes: Vec<(String, Instructions)> = names.zip(texts).collect();
    let sections = remarks::HEADINGS
        .iter()
        .filter_map(|heading| section(heading, &sizes, notation));
    Instructions {
        sections: sections.collect(),
    }
}

/// The second sleeve's text where the first one's stands above it: sections that are the same are not told again.
/// `needle` reads them there.
pub fn as_left(text: &Instructions, left: &Instructions) -> Instructions {
    let sections = text.sections.iter().map(|section| {
        if !left.sections.contains(section) {
            return section.clone();
        }
        Section {
            heading: section.heading.clone(),
            steps: vec![Step::plain(remarks::AS_LEFT)],
        }
    });
    Instructions {
        sections: sections.collect(),
    }
}

fn section(
    heading: &str,
    sizes: &[(String, Instructions)],
    notation: &Notation,
) -> Option<Section> {
    let names: Vec<&str> = sizes.iter().map(|(name, _)| name.as_str()).collect();
    let of_size = |(_, text): &(String, Instructions)| -> Vec<Sentence> {
        let found = text.sections.iter().filter(|s| s.heading == heading);
        found
            .flat_map(|s| &s.steps)
            .map(|step| Sentence::new(step.full()))
            .collect()
    };
    let lists: Vec<Vec<Sentence>> = sizes.iter().map(of_size).collect();
    if lists.iter().all(Vec::is_empty) {
        return None;
    }
    let mut writer = SetWriter {
        names: &names,
        notation,
        scope: (0..names.len()).collect(),
        sentences: Vec::new(),
    };
    if heading == remarks::PICK_UP {
        writer.sentences.push(remarks::sizes_are(&names));
    }
    writer.section(&lists, heading != remarks::SHORT_ROWS);
    Some(Section {
        heading: heading.to_owned(),
        steps: writer.sentences.into_iter().map(Step::plain).collect(),
    })
}

struct SetWriter<'a> {
    names: &'a [&'a str],
    notation: &'a Notation,
    /// The sizes the last scope sentence names.
    scope: Vec<usize>,
    sentences: Vec<String>,
}

impl SetWriter<'_> {
    /// What begins alike is written once; the rest sentence by sentence where each size has as
    /// many and `apart` allows it, else size group by size group.
    fn section(&mut self, lists: &[Vec<Sentence>], apart: bool) {
        let all: Vec<usize> = (0..lists.len()).collect();
        let shortest = lists.iter().map(Vec::len).min().unwrap_or(0);
        let alike = |i: &usize| keys(lists, *i).windows(2).all(|pair| pair[0] == pair[1]);
        let common = (0..shortest).take_while(alike).count();
        for i in 0..common {
            self.write(&all, lists, i);
        }
        let same_length = lists.iter().all(|list| list.len() == shortest);
        if apart && same_length {
            for i in common..shortest {
                let groups = groups(&all, |size| keys(lists, i).get(size).cloned());
                for group in groups {
                    self.write(&group, lists, i);
                }
            }
            return;
        }
        let rest = |size: usize| {
            let list = lists.get(size)?.iter().skip(common);
            Some(list.map(|s| s.key.clone()).collect::<Vec<_>>())
        };
        for group in groups(&all, rest) {
            let length = group
                .first()
                .and_then(|s| lists.get(*s))
                .map_or(0, Vec::len);
            for i in common..length {
                self.write(&group, lists, i);
            }
        }
    }

    fn write(&mut self, group: &[usize], lists: &[Vec<Sentence>], i: usize) {
        if self.scope != group {
            let names: Vec<&str> = group
                .iter()
                .filter_map(|s| self.names.get(*s))
                .copied()
                .collect();
            let everyone = names.len() == self.names.len();
            self.sentences
                .push(remarks::scope(if everyone { &[] } else { &names }));
            self.scope = group.to_vec();
        }
        let of_group = group.iter().filter_map(|s| lists.get(*s)?.get(i));
        let of_group: Vec<&Sentence> = of_group.collect();
        self.sentences.push(merged(&of_group, self.notation));
    }
}

fn keys(lists: &[Vec<Sentence>], i: usize) -> Vec<String> {
    let key = |list: &Vec<Sentence>| list.get(i).map(|s| s.key.clone());
    lists.iter().filter_map(key).collect()
}

/// The sizes whose keys are equal, in the order of their first size.
fn groups<K: PartialEq>(sizes: &[usize], key: impl Fn(usize) -> K) -> Vec<Vec<usize>> {
    let mut groups: Vec<(K, Vec<usize>)> = Vec::new();
    for &size in sizes {
        let key = key(size);
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.push(size),
            None => groups.push((key, vec![size])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// True when these sentences can stand as one with numbers in brackets.
pub(crate) fn differ_in_numbers(sentences: &[String]) -> bool {
    let mut keys = sentences.iter().map(|s| Sentence::new(s.clone()).key);
    let first = keys.next();
    keys.all(|key| Some(&key) == first.as_ref())
}

/// One sentence for all sizes, where these differ in numbers alone.
pub fn one_sentence(sentences: &[String], notation: &Notation) -> Option<String> {
    let read: Vec<Sentence> = sentences.iter().cloned().map(Sentence::new).collect();
    differ_in_numbers(sentences).then(|| merged(&read.iter().collect::<Vec<_>>(), notation))
}

/// A sentence as words between numbers, all plural, `once` and `twice` as numbers.
struct Sentence {
    original: String,
    key: String,
    words: Vec<String>,
    numbers: Vec<u32>,
}

/// Number words and the like, as they are written when sizes differ.
const AS_NUMBERS: &[(&str, &str)] = &[
    (", once", ", 1 times"),
    (", twice", ", 2 times"),
    ("round on every ", "round every "),
    ("round every round,", "round every 1 rounds,"),
    ("1 st in the next row", "1 sts in each of the next 1 rows"),
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

impl Sentence {
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
fn merged(group: &[&Sentence], notation: &Notation) -> String {
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
        let same = values.iter().all(|n| Some(n) == values.first());
        let number = if same { values.first().copied() } else { None };
        match (number, after.strip_prefix(" times")) {
            (Some(n @ 1..=2), Some(rest)) => {
                out.push_str(number_word(n, out.ends_with(". ")));
                out.push_str(rest);
            }
            (Some(1), _) => out.extend(["1", singular(after).as_str()]),
            (Some(n), _) => out.extend([n.to_string().as_str(), after]),
            (None, _) => out.extend([notation.list(&values).as_str(), after]),
        }
    }
    out.replace(" and 0 more", "")
        .replace("1 st in each of the next 1 row,", "1 st in the next row,")
        .replace("1 st in each of the next 1 row;", "1 st in the next row;")
}

fn number_word(n: u32, first_word: bool) -> &'static str {
    match (n, first_word) {
        (1, true) => "Once",
        (1, false) => "once",
        (_, true) => "Twice",
        (_, false) => "twice",
    }
}
