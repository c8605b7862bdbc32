//! Walking a TOML table: every key is asked for by name, every slip is reported with its place.

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::codes::{
    CLASH, LIST_LENGTH, MISSING_KEY, OUT_OF_RANGE, UNKNOWN_KEY, UNKNOWN_WORD, WRONG_TYPE,
};
use crate::diagnostic::{Code, Diagnostic, Span, nearest};
use crate::measure::limits::{MAX_DIAGNOSTICS, MAX_LIST};
use crate::measure::{Bound, Length, Side, Stitches, Units, nearest_whole, parse_size_list};

/// The words for a row's side.
pub(super) const SIDES: &[(&str, Side)] = &[("RS", Side::Rs), ("WS", Side::Ws)];

/// What all tables of one case share.
pub(crate) struct CaseReading {
    pub(crate) problems: RefCell<Vec<Diagnostic>>,
    /// Problems beyond those that are kept.
    pub(crate) more: Cell<usize>,
    pub(crate) units: Units,
    pub(crate) sizes: usize,
}

/// One table of the file.
pub(crate) struct CaseTable<'a> {
    reading: &'a CaseReading,
    path: String,
    keys: &'a DeTable<'a>,
    span: Span,
    asked: RefCell<BTreeSet<String>>,
}

/// A value as it was found, with its place.
pub(crate) type FoundValue<'a> = &'a Spanned<DeValue<'a>>;

pub(crate) fn place<T>(value: &Spanned<T>) -> Span {
    Span::new(value.span().start, value.span().end)
}

impl<'a> CaseTable<'a> {
    pub(crate) fn root(reading: &'a CaseReading, table: &'a DeTable<'a>) -> Self {
        Self {
            reading,
            path: String::new(),
            keys: table,
            span: Span::new(0, 0),
            asked: RefCell::default(),
        }
    }

    pub(crate) fn reading(&self) -> &'a CaseReading {
        self.reading
    }

    fn name(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    pub(crate) fn say(&self, code: &'static Code, span: Span, message: String) {
        self.say_with(Diagnostic::new(code, message), span);
    }

    /// Keys that do not go together, where there is no choice between them: said with what to do.
    pub(crate) fn clash(&self, key: &str, message: String, next: &str) {
        let said = Diagnostic::new(&CLASH, message).next(next);
        self.say_with(said, self.place_of(key));
    }

    pub(crate) fn say_with(&self, diagnostic: Diagnostic, span: Span) {
        let mut problems = self.reading.problems.borrow_mut();
        if problems.len() >= MAX_DIAGNOSTICS {
            self.reading.more.set(self.reading.more.get() + 1);
            return;
        }
        // A table written nowhere has no place of its own.
        let diagnostic = if span.to > span.from {
            diagnostic.at(span)
        } else {
            diagnostic
        };
        problems.push(diagnostic);
    }

    /// The value of a key, if it is there; the key counts as known from now on.
    pub(crate) fn get(&self, key: &str) -> Option<FoundValue<'a>> {
        self.asked.borrow_mut().insert(key.to_owned());
        self.keys
            .iter()
            .find(|(name, _)| name.get_ref().as_ref() == key)
            .map(|(_, value)| value)
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// Where a key stands, or else this table.
    pub(crate) fn place_of(&self, key: &str) -> Span {
        self.get(key).map_or(self.span, place)
    }

    pub(crate) fn missing(&self, key: &str, example: &str) {
        let name = self.name(key);
        let diagnostic = Diagnostic::new(&MISSING_KEY, format!("The case lacks {name}."))
            .next(format!("Add it, e.g. `{example}`."))
            .about(name);
        self.say_with(diagnostic, self.span);
    }

    fn wrong_type(&self, key: &str, value: FoundValue<'a>, wanted: &str) {
        let word = match value.get_ref().type_str() {
            "array" => "list",
            other => other,
        };
        let message = format!(
            "{} is {} {word}; it must be {wanted}.",
            self.name(key),
            article(word),
        );
        self.say(&WRONG_TYPE, place(value), message);
    }

    /// A table inside this one.
    pub(crate) fn table(&self, key: &str) -> Option<CaseTable<'a>> {
        let value = self.get(key)?;
        let Some(table) = value.get_ref().as_table() else {
            self.wrong_type(key, value, "a table");
            return None;
        };
        Some(CaseTable {
            reading: self.reading,
            path: self.name(key),
            keys: table,
            span: place(value),
            asked: RefCell::default(),
        })
    }

    /// The tables in a table, each with its name, in the order of their names.
    pub(crate) fn tables(&self, key: &str) -> Vec<(String, CaseTable<'a>)> {
        let Some(table) = self.table(key) else {
            return Vec::new();
        };
        let names = table.keys.iter().map(|(name, _)| name.get_ref().as_ref());
        let tables = names.filter_map(|name| Some((name.to_owned(), table.table(name)?)));
        let mut inner: Vec<(String, CaseTable<'a>)> = tables.collect();
        inner.sort_by(|a, b| a.0.cmp(&b.0));
        inner
    }

    /// A list of lists of a word and a number each, with their places.
    pub(crate) fn pairs(&self, key: &str) -> Option<Vec<(&'a str, f64, Span)>> {
        let value = self.get(key)?;
        if self.too_long(key, value) {
            return None;
        }
        let pair = |value: FoundValue<'a>| {
            let [word, number] = value.get_ref().as_array()?.iter().collect::<Vec<_>>()[..] else {
                return None;
            };
            Some((
                word.get_ref().as_str()?,
                as_number(number.get_ref())?,
                place(value),
            ))
        };
        let pairs = value
            .get_ref()
            .as_array()
            .and_then(|array| array.iter().map(pair).collect());
        if pairs.is_none() {
            let wanted = "a list such as [[\"navy\", 4], [\"cream\", 2]]";
            if value.get_ref().as_array().is_some() {
                let message = format!(
                    "{} is a list of something else than pairs of text and number; it must be {wanted}.",
                    self.name(key)
                );
                self.say(&WRONG_TYPE, place(value), message);
            } else {
                self.wrong_type(key, value, wanted);
            }
        }
        pairs
    }

    /// The texts in a table whose keys are the case's own, each with its key and its place, in the order of
    /// the keys.
    pub(crate) fn entries(&self, key: &str) -> Vec<(String, &'a str, Span)> {
        let Some(table) = self.table(key) else {
            return Vec::new();
        };
        let texts = table.keys.iter().filter_map(|(name, value)| {
            let name = name.get_ref().as_ref().to_owned();
            let text = table.text(&name)?;
            Some((name, text, place(value)))
        });
        let mut texts: Vec<(String, &'a str, Span)> = texts.collect();
        texts.sort_by(|a, b| a.0.cmp(&b.0));
        texts
    }

    /// Text.
    pub(crate) fn text(&self, key: &str) -> Option<&'a str> {
        let value = self.get(key)?;
        let text = value.get_ref().as_str();
        if text.is_none() {
            self.wrong_type(key, value, "text in quotes");
        }
        text
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy>(&self, key: &str, choices: &[(&str, T)]) -> Option<T> {
        let word = self.text(key)?;
        let found = choices.iter().find(|(name, _)| *name == word).map(|c| c.1);
        if found.is_none() {
            let words: Vec<String> = choices.iter().map(|c| format!("\"{}\"", c.0)).collect();
            let message = format!(
                "{} is \"{word}\"; it must be one of {}.",
                self.name(key),
                words.join(", ")
            );
            self.say(&UNKNOWN_WORD, self.place_of(key), message);
        }
        found
    }

    /// True for a key whose value is a table.
    pub(crate) fn is_table(&self, key: &str) -> bool {
        self.get(key)
            .is_some_and(|value| value.get_ref().as_table().is_some())
    }

    /// One number, whatever it is.
    pub(crate) fn any_number(&self, key: &str) -> Option<f64> {
        let value = self.get(key)?;
        let number = as_number(value.get_ref());
        if number.is_none() {
            self.wrong_type(key, value, "a number");
        }
        number
    }

    /// One number within its limits.
    pub(crate) fn number(&self, key: &str, bound: &'static Bound) -> Option<f64> {
        let value = self.get(key)?;
        let Some(number) = as_number(value.get_ref()) else {
            self.wrong_type(key, value, "a number");
            return None;
        };
        self.within(key, number, bound, place(value))
    }

    /// One whole number within its limits.
    pub(crate) fn count(&self, key: &str, bound: &'static Bound) -> Option<u32> {
        let number = self.number(key, bound)?;
        self.whole(key, number, self.place_of(key))
    }

    /// True or false.
    pub(crate) fn flag(&self, key: &str) -> Option<bool> {
        let value = self.get(key)?;
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong_type(key, value, "true or false");
        }
        flag
    }

    /// Numbers: one, or a list of them.
    pub(crate) fn numbers(&self, key: &str) -> Option<Vec<f64>> {
        let value = self.get(key)?;
        if let Some(number) = as_number(value.get_ref()) {
            return Some(vec![number]);
        }
        if self.too_long(key, value) {
            return None;
        }
        if let Some(array) = value.get_ref().as_array() {
            let numbers: Option<Vec<f64>> = array.iter().map(|v| as_number(v.get_ref())).collect();
            if let Some(numbers) = numbers.filter(|list| !list.is_empty()) {
                return Some(numbers);
            }
        } else if let Some(text) = value.get_ref().as_str() {
            match parse_size_list(text) {
                Ok(numbers) if numbers.len() > MAX_LIST => {
                    self.say_too_long(key, numbers.len(), place(value));
                    return None;
                }
                Ok(numbers) => return Some(numbers),
                Err(error) => {
                    let message = format!("{} is \"{text}\": {error}.", self.name(key));
                    self.say(&WRONG_TYPE, place(value), message);
                    return None;
                }
            }
        }
        self.wrong_type(
            key,
            value,
            "a number, a list of numbers, or text such as \"60 (64, 68)\"",
        );
        None
    }

    /// Says so when a list is longer than any garment has sizes or any swatch counts.
    fn too_long(&self, key: &str, value: FoundValue<'a>) -> bool {
        let length = value.get_ref().as_array().map_or(0, |array| array.len());
        let too_long = length > MAX_LIST;
        if too_long {
            self.say_too_long(key, length, place(value));
        }
        too_long
    }

    fn say_too_long(&self, key: &str, length: usize, span: Span) {
        let message = format!(
            "{} is a list of {length}; {MAX_LIST} is the limit.",
            self.name(key)
        );
        self.say(&LIST_LENGTH, span, message);
    }

    /// One number for each size; a single number stands for all.
    pub(crate) fn sized(&self, key: &str) -> Option<Vec<f64>> {
        let numbers = self.numbers(key)?;
        let sizes = self.reading.sizes;
        if let [one] = numbers.as_slice() {
            return Some(vec![*one; sizes]);
        }
        if numbers.len() != sizes {
            let message = format!(
                "{} has {} numbers, but the case has {}.",
                self.name(key),
                numbers.len(),
                if sizes == 1 {
                    "one size".to_owned()
                } else {
                    format!("{sizes} sizes")
                }
            );
            self.say(&LIST_LENGTH, self.place_of(key), message);
            return None;
        }
        Some(numbers)
    }

    /// A length for each size, within limits stated in centimetres.
    pub(crate) fn lengths(&self, key: &str, bound_cm: &'static Bound) -> Option<Vec<Length>> {
        let numbers = self.sized(key)?;
        let units = self.reading.units;
        let span = self.place_of(key);
        // A number that stands for several sizes is told once.
        let mut told: Vec<f64> = Vec::new();
        let checked: Vec<Option<Length>> = numbers
            .into_iter()
            .map(|number| {
                let length = units.length(number);
                let inside = bound_cm.check(length.to_cm()).is_ok();
                if !inside && !told.contains(&number) {
                    told.push(number);
                    let message = format!(
                        "{} is {number} {units}; {} {} lies between {} and {}.",
                        self.name(key),
                        article(bound_cm.name),
                        bound_cm.name,
                        units.show_least(Length::cm(bound_cm.min)),
                        units.show_most(Length::cm(bound_cm.max)),
                    );
                    self.say(&OUT_OF_RANGE, span, message);
                }
                inside.then_some(length)
            })
            .collect();
        checked.into_iter().collect()
    }

    /// A count of stitches for each size.
    pub(crate) fn stitches(&self, key: &str, bound: &'static Bound) -> Option<Vec<Stitches>> {
        let counts = self.sized_counts(key, bound)?;
        Some(counts.into_iter().map(Stitches).collect())
    }

    /// A count for each size.
    pub(crate) fn sized_counts(&self, key: &str, bound: &'static Bound) -> Option<Vec<u32>> {
        let numbers = self.sized(key)?;
        let span = self.place_of(key);
        // A number that stands for several sizes is told once.
        let mut told: Vec<f64> = Vec::new();
        let counts: Vec<Option<u32>> = numbers
            .into_iter()
            .map(|number| {
                if told.contains(&number) {
                    return None;
                }
                let inside = self.within(key, number, bound, span);
                let count = inside.and_then(|number| self.whole(key, number, span));
                if count.is_none() {
                    told.push(number);
                }
                count
            })
            .collect();
        counts.into_iter().collect()
    }

    /// Texts: one, or a list of them.
    pub(crate) fn texts(&self, key: &str) -> Option<Vec<&'a str>> {
        let value = self.get(key)?;
        if let Some(text) = value.get_ref().as_str() {
            return Some(vec![text]);
        }
        if self.too_long(key, value) {
            return None;
        }
        let texts = value
            .get_ref()
            .as_array()
            .and_then(|array| array.iter().map(|v| v.get_ref().as_str()).collect());
        if texts.is_none() {
            self.wrong_type(key, value, "text or a list of texts");
        }
        texts
    }

    pub(crate) fn within(
        &self,
        key: &str,
        number: f64,
        bound: &'static Bound,
        span: Span,
    ) -> Option<f64> {
        if bound.check(number).is_err() {
            let message = format!(
                "{} is {number}; {} {} lies within {}.",
                self.name(key),
                article(bound.name),
                bound.name,
                bound.allowed()
            );
            self.say(&OUT_OF_RANGE, span, message);
            return None;
        }
        Some(number)
    }

    pub(crate) fn whole(&self, key: &str, number: f64, span: Span) -> Option<u32> {
        if number.fract() != 0.0 {
            let message = format!("{} is {number}; it must be a whole number.", self.name(key));
            self.say(&WRONG_TYPE, span, message);
            return None;
        }
        Some(nearest_whole(number))
    }

    /// Reports every key that nobody asked for.
    pub(crate) fn finish(&self) {
        let asked = self.asked.borrow();
        for (key, _) in self.keys {
            let word = key.get_ref().as_ref();
            if asked.contains(word) {
                continue;
            }
            let message = format!("{} is not a key of a case.", self.name(word));
            let mut diagnostic = Diagnostic::new(&UNKNOWN_KEY, message);
            if let Some(near) = nearest(word, asked.iter().map(String::as_str)) {
                diagnostic = diagnostic.next(format!("Did you mean `{near}`?"));
            }
            self.say_with(diagnostic, place(key));
        }
    }
}

pub(super) fn article(word: &str) -> &'static str {
    if word.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    }
}

fn as_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(integer) => i64::from_str_radix(integer.as_str(), integer.radix())
            .ok()
            .map(|n| n as f64),
        DeValue::Float(float) => float.as_str().parse().ok(),
        _ => None,
    }
}
