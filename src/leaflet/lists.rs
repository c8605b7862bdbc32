//! Numbers in print, one a size: `56 (60, 64)`, `67 [71:77]`, `80-86-92`, `17½ (18, 18½)`.

use std::sync::LazyLock;

use regex::Regex;

use crate::measure::told_twice;

/// A fraction as it is printed: halves, thirds, quarters, eighths and sixteenths that are less than one. `34/36` is
/// none: it is two sizes.
const FRACTION: &str = r"(?:(?:1[/⁄]2|[12][/⁄]3|[13][/⁄]4|[1357][/⁄]8|(?:[13579]|1[135])[/⁄]16)\b)";

/// What stands between a whole number and its fraction: `17 1/2`, `17-1/2`, also where a line ends.
const AND: &str = r"(?:\s{1,2}|[-‐‑–])";

/// Fractions of one letter.
const LETTERS: [(char, f64); 9] = [
    ('¼', 0.25),
    ('½', 0.5),
    ('¾', 0.75),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
];

/// The small numbers in words.
const SMALL: [&str; 19] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] = [
    "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];

/// A number in words: `ninety-six`, `one hundred and two`, `six and three-quarter`. `One` alone is none: it is too often
/// no number.
static WORDS: LazyLock<String> = LazyLock::new(|| {
    let longest_first = |words: &[&str]| {
        let mut words = words.to_vec();
        words.sort_by_key(|word| std::cmp::Reverse(word.len()));
        words.join("|")
    };
    let (tens, small) = (longest_first(&TENS), longest_first(&SMALL));
    let units = SMALL.get(..9).map(longest_first).unwrap_or_default();
    let more = SMALL.get(1..).map(longest_first).unwrap_or_default();
    let two_digits = format!(r"(?:(?:{tens})(?:[- ](?:{units}))?|{small})");
    let parts = r"(?: and (?:a |one[- ]|an? )?(?:half|quarter|three[- ]quarters?))";
    format!(
        r"(?i:\b(?:(?:(?:{units}) |a )?hundred(?: (?:and )?{two_digits})?|(?:{tens})(?:[- ](?:{units}))?|{more}|one{parts}){parts}?\b)"
    )
});

/// The number that these words are.
fn in_words(words: &str) -> f64 {
    let words = words.to_lowercase().replace('-', " ");
    let (mut sum, mut at_parts) = (0.0, 0.0);
    let mut all = words.split_whitespace().peekable();
    while let Some(word) = all.next() {
        let place = |list: &[&str]| list.iter().position(|known| *known == word);
        if word == "three" && all.peek().is_some_and(|next| next.starts_with("quarter")) {
            at_parts = 0.75;
            break;
        }
        match word {
            "half" => at_parts = 0.5,
            "quarter" => at_parts = 0.25,
            // `one half`, `one quarter`.
            "one"
                if all
                    .peek()
                    .is_some_and(|next| matches!(*next, "half" | "quarter")) => {}
            "hundred" => sum = 100.0 * f64::max(sum, 1.0),
            _ => {
                sum += place(&SMALL).map_or(0.0, |at| at as f64 + 1.0);
                sum += place(&TENS).map_or(0.0, |at| at as f64 * 10.0 + 20.0);
            }
        }
    }
    sum + at_parts
}

/// A number, whole, decimal or with a fraction. Whether a comma within it divides it or two numbers is told by
/// [`lengths`].
pub(super) static NUMBER: LazyLock<String> = LazyLock::new(|| {
    let words = &*WORDS;
    format!(
        r"(?:\d+{AND}{FRACTION}|{FRACTION}|\d+\s?[¼½¾⅓⅔⅛⅜⅝⅞]|[¼½¾⅓⅔⅛⅜⅝⅞]|\d+[.,]\d+|\d+|{words})"
    )
});

/// A list of numbers.
pub(super) fn list() -> String {
    let number = &*NUMBER;
    format!(r"{number}(?:[\s,:;/()\[\]{{}}–-]+{number})*(?:\s?[)\]}}])?")
}

/// A list of inches in which every number has its mark: `7½" (7¾", 8")`.
pub(super) fn list_of_inches() -> String {
    let number = &*NUMBER;
    format!(r#"{number}"(?:[\s,:;/()\[\]–-]+{number}")+(?:\s?[)\]])?"#)
}

/// A unit of length.
pub(super) const UNIT: &str = "(?:cms?\\b|centimetres?|inch(?:es)?\\b|ins?\\b|\")";

/// A pattern of this room, in which a space is any white space: a phrase may be divided between
/// lines. They are constants, so that one that does not compile never leaves here.
#[expect(
    clippy::expect_used,
    reason = "the patterns are constants, compiled in the tests"
)]
pub(super) fn regex(pattern: &str) -> Regex {
    Regex::new(&pattern.replace(' ', r"\s")).expect("a pattern of this room compiles")
}

/// One number of a list, with its place in it.
#[derive(Clone, Copy, Debug)]
pub(super) struct FoundNumber {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) value: f64,
    /// Digits alone: with a comma behind it or before it part of a decimal, perhaps.
    digits: bool,
}

/// How commas without a space and fractions alone are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CommaReading {
    /// A comma and a slash always stand between two numbers: counts of stitches, rows and times are whole.
    Divided,
    /// `43,5` is a decimal, `3/4` a fraction, `56,60` are two numbers.
    Usual,
    /// As above, and `12,75` is a decimal.
    Fine,
}

/// The numbers of a list of counts, which are whole: any comma or slash divides two of them.
pub(super) fn counts(text: &str) -> Vec<f64> {
    values(&read(text, CommaReading::Divided))
}

/// The numbers of a list in their usual reading.
pub(super) fn numbers(text: &str) -> Vec<f64> {
    values(&read(text, CommaReading::Usual))
}

/// The numbers of a list in their usual reading, with their places.
pub(super) fn places(text: &str) -> Vec<FoundNumber> {
    read(text, CommaReading::Usual)
}

/// Said of numbers that have two readings.
pub(super) const TWO_READINGS: &str =
    "A comma or a slash in it may divide two sizes or be part of one number.";

/// Lengths for so many sizes, and true where their commas and fractions have two readings that go with the sizes, or
/// only one that is unusual.
pub(super) fn lengths(text: &str, sizes: usize) -> (Vec<f64>, bool) {
    let all = [
        CommaReading::Usual,
        CommaReading::Divided,
        CommaReading::Fine,
    ];
    let all = all.map(|reading| (reading, values(&read(text, reading))));
    let mut fitting: Vec<&(CommaReading, Vec<f64>)> = Vec::new();
    for one in &all {
        if fits(&one.1, sizes) && fitting.iter().all(|known| known.1 != one.1) {
            fitting.push(one);
        }
    }
    match fitting.as_slice() {
        [] => (numbers(text), false),
        [(reading, values)] => (values.clone(), *reading == CommaReading::Fine),
        [(_, values), ..] => (values.clone(), true),
    }
}

/// True for lengths that grow less from one size to the next.
pub(super) fn fall(list: &[f64]) -> bool {
    list.windows(2).any(|pair| matches!(pair, [a, b] if a > b))
}

fn values(found: &[FoundNumber]) -> Vec<f64> {
    found.iter().map(|one| one.value).collect()
}

fn read(text: &str, reading: CommaReading) -> Vec<FoundNumber> {
    let mut all = tiles(text, reading);
    if reading == CommaReading::Divided {
        return all;
    }
    let tight = |a: &FoundNumber, b: &FoundNumber| text.get(a.to..b.from) == Some(",");
    let mut out: Vec<FoundNumber> = Vec::with_capacity(all.len());
    let mut rest = all.as_mut_slice();
    while !rest.is_empty() {
        let end = 1 + rest
            .windows(2)
            .take_while(|pair| matches!(pair, [a, b] if tight(a, b)))
            .count();
        let (chain, later) = rest.split_at_mut(end);
        out.extend(decimals(text, chain, reading));
        rest = later;
    }
    out
}

/// Numbers with nothing but commas between them: which pairs of them are one decimal.
fn decimals(text: &str, chain: &[FoundNumber], reading: CommaReading) -> Vec<FoundNumber> {
    let most = if reading == CommaReading::Fine { 2 } else { 1 };
    let width = |one: &FoundNumber| one.to - one.from;
    // `2,3,3`: nobody prints a list of such decimals.
    let small = chain.len() > 2 && chain.iter().all(|one| width(one) == 1);
    let mut out: Vec<FoundNumber> = Vec::new();
    let mut chain = chain.iter().peekable();
    while let Some(one) = chain.next() {
        let tail = chain.next_if(|tail| {
            let whole = width(one) > 1 || chain_of_two(text, one, tail);
            one.digits && tail.digits && width(tail) <= most && whole && !small
        });
        let decimal = tail.and_then(|tail| {
            let words = text.get(one.from..tail.to)?.replace(',', ".");
            Some((tail.to, words.parse().ok()?))
        });
        out.push(match decimal {
            Some((to, value)) => FoundNumber { to, value, ..*one },
            None => *one,
        });
    }
    out
}

/// `4,5` alone, nothing but the two.
fn chain_of_two(text: &str, one: &FoundNumber, tail: &FoundNumber) -> bool {
    let comma = |at: Option<char>| at == Some(',');
    let before = text
        .get(..one.from)
        .and_then(|text| text.chars().next_back());
    let after = text.get(tail.to..).and_then(|text| text.chars().next());
    !comma(before) && !comma(after)
}

/// The numbers between all marks.
fn tiles(text: &str, reading: CommaReading) -> Vec<FoundNumber> {
    static TILE: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?:(\d+){AND})?({FRACTION})|(\d+)\s?([¼½¾⅓⅔⅛⅜⅝⅞])|([¼½¾⅓⅔⅛⅜⅝⅞])|(\d+\.\d+|\d+)|({})",
            &*WORDS
        ))
    });
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(found) = TILE.captures_at(text, at) {
        let Some(all) = found.get(0) else { break };
        let (mut from, mut to) = (all.start(), all.end());
        let group = |n: usize| found.get(n).map(|part| part.as_str());
        let whole = group(1).or(group(3)).or(group(6)).unwrap_or("0");
        let whole: f64 = whole.parse().unwrap_or(0.0);
        let letter = group(4).or(group(5)).and_then(|one| one.chars().next());
        let of_letter = letter.and_then(|one| LETTERS.iter().find(|known| known.0 == one));
        let slashed = found.get(2).filter(|part| {
            // `2-3/4-5` and `1/2/3` go on: these are ages or sizes.
            let next = text.get(part.end()..).unwrap_or_default();
            let goes_on = next.starts_with(['/', '-'])
                && next.chars().nth(1).is_some_and(|c| c.is_ascii_digit());
            let went_on = text.get(..from).is_some_and(|text| text.ends_with('/'));
            let alone = group(1).is_none();
            !(goes_on || went_on || alone && reading == CommaReading::Divided)
        });
        let value = match (slashed, found.get(2), of_letter) {
            (Some(part), ..) => whole + fraction(part.as_str()),
            (None, Some(part), _) => {
                // Only the number before the first mark; the rest is looked at again.
                let first = found.get(1).unwrap_or(part);
                let digits = first.as_str().split(['/', '⁄']).next().unwrap_or_default();
                from = first.start();
                to = from + digits.len();
                digits.parse().unwrap_or(0.0)
            }
            (None, None, Some((_, part))) => whole + part,
            (None, None, None) => group(7).map_or(whole, in_words),
        };
        let words = text.get(from..to).unwrap_or_default();
        let one = FoundNumber {
            from,
            to,
            value,
            digits: words.bytes().all(|byte| byte.is_ascii_digit()),
        };
        match out.last_mut() {
            Some(last) if again(text, last, &one) => last.to = to,
            _ => out.push(one),
        }
        at = to;
    }
    out
}

/// The second number stands in brackets behind the first and is the same, told again.
fn again(text: &str, one: &FoundNumber, next: &FoundNumber) -> bool {
    let between = text.get(one.to..next.from).unwrap_or_default().trim();
    let words = |found: &FoundNumber| text.get(found.from..found.to).unwrap_or_default();
    let close = text.get(next.to..).unwrap_or_default().trim_start();
    matches!(between, "(" | "[")
        && close.starts_with([')', ']'])
        && told_twice(words(one), words(next))
        && (one.value - next.value).abs() < 1e-9
}

fn fraction(text: &str) -> f64 {
    let (a, b) = text.split_once(['/', '⁄']).unwrap_or(("0", "1"));
    let number = |text: &str| text.parse().unwrap_or(1.0);
    number(a) / number(b)
}

/// The ranges of a list: `81-86 (91-97)`.
pub(super) fn ranges(list: &str) -> Vec<&str> {
    static RANGE: LazyLock<Regex> = LazyLock::new(|| regex(r"\d+(?:\s?[–-]\s?|/)\d+"));
    RANGE.find_iter(list).map(|range| range.as_str()).collect()
}

/// The ranges of a list that has one for each size, and no other numbers.
pub(super) fn one_range_a_size(list: &str, sizes: usize) -> Option<Vec<&str>> {
    let ranges = ranges(list);
    let all = sizes > 1 && ranges.len() == sizes && numbers(list).len() == 2 * sizes;
    all.then_some(ranges)
}

/// As a case takes it: `60 (64, 68)`.
pub fn in_trade_notation(list: &[f64]) -> String {
    match list {
        [] => String::new(),
        [one] => one.to_string(),
        [first, rest @ ..] => {
            let rest: Vec<String> = rest.iter().map(f64::to_string).collect();
            format!("{first} ({})", rest.join(", "))
        }
    }
}

/// True for as many numbers as sizes, or one for all.
pub(super) fn fits(list: &[f64], sizes: usize) -> bool {
    list.len() == 1 || list.len() == sizes
}

/// `cm` or `in` for a unit as printed.
pub(super) fn unit_word(unit: &str) -> &'static str {
    if unit.to_lowercase().starts_with('c') {
        "cm"
    } else {
        "in"
    }
}
