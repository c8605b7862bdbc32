//! What stands before the pieces: name, units, wearer, terms.

use std::sync::LazyLock;

use regex::Regex;

use crate::measure::CM_PER_INCH;

use super::lists::{
    TWO_READINGS, UNIT, fits, in_trade_notation, lengths, list, list_of_inches, numbers,
    one_range_a_size, regex, unit_word,
};
use super::sleeve::SleeveLines;
use super::{Fact, Flow};

/// The first line with letters.
pub(super) fn title(flow: &Flow) -> Fact {
    let mut at = 0;
    for line in flow.text.split_inclusive('\n') {
        if line.chars().filter(|letter| letter.is_alphabetic()).count() > 2 {
            let first = line.trim().split(". ").next().unwrap_or_default();
            return named(
                first.trim_matches(['.', '*', '#', ' ']),
                flow.evidence(at, at + line.len()),
            );
        }
        at += line.len();
    }
    Fact::new("title", "Sleeve", Vec::new())
}

/// A title of these words; of a whole paragraph its first words, and that is said.
fn named(words: &str, evidence: super::Evidence) -> Fact {
    const MOST: usize = 120;
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if words.chars().count() <= MOST {
        return Fact::new("title", words, vec![evidence]);
    }
    let cut: String = words.chars().take(MOST).collect();
    let whole = cut
        .rsplit_once(' ')
        .map_or(cut.as_str(), |(whole, _)| whole);
    let mut fact = Fact::new("title", format!("{whole} ..."), vec![evidence]);
    fact.say("The line goes on; these are its first words.");
    fact
}

/// The units of the lengths that the rows are worked to.
pub(super) fn units_fact(flow: &Flow, sleeve: &SleeveLines<'_>, units: &str) -> Fact {
    let evidence = sleeve.length_evidence(flow);
    let mut fact = Fact::new("units", units, evidence);
    if fact.evidence.is_empty() {
        if self::units(flow).is_some() {
            fact.say("From the first lengths of the pattern.");
        } else {
            fact.doubt("No length with its unit was found; centimetres are a guess.");
        }
    }
    fact
}

/// The unit of the first length that the work is measured to.
pub(super) fn units(flow: &Flow) -> Option<&'static str> {
    static MEASURES: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(?:measures?|until|after)[^.\d]{{0,50}}{}\s*({UNIT})",
            list()
        ))
    });
    static ANY: LazyLock<Regex> = LazyLock::new(|| regex(&format!(r"(?i)\d\s*({UNIT})")));
    let found = MEASURES
        .captures(&flow.text)
        .or_else(|| ANY.captures(&flow.text))?;
    Some(unit_word(found.get(1)?.as_str()))
}

/// Bust or chest to fit, and which table of bodies.
pub(super) fn wearer(flow: &Flow, sizes: usize, units: &str) -> Vec<Fact> {
    let mut facts = Vec::new();
    // Places in these words are places in the text: no letter gets longer.
    let words = flow.text.to_ascii_lowercase();
    let says = |list: &[&str]| {
        list.iter().find_map(|word| {
            words
                .match_indices(word)
                .map(|(at, _)| at)
                .find(|&at| {
                    let alone = |letter: Option<char>| !letter.is_some_and(char::is_alphabetic);
                    alone(
                        words
                            .get(..at)
                            .and_then(|before| before.chars().next_back()),
                    ) && alone(
                        words
                            .get(at + word.len()..)
                            .and_then(|rest| rest.chars().next()),
                    )
                })
                .map(|at| (at, at + word.len()))
        })
    };
    let tables: [(&str, &[&str]); 4] = [
        ("baby", &["baby", "babies", "infant", "months"]),
        (
            "child",
            &[
                "boy",
                "boys",
                "boy's",
                "girl",
                "girls",
                "girl's",
                "child",
                "child's",
                "children",
                "children's",
                "years",
            ],
        ),
        (
            "woman",
            &[
                "woman", "women", "woman's", "women's", "lady", "lady's", "ladies", "ladies'",
                "bust",
            ],
        ),
        ("man", &["man", "men", "man's", "men's", "gentleman's"]),
    ];
    if let Some((table, (from, to))) = tables
        .iter()
        .find_map(|(table, list)| Some((*table, says(list)?)))
    {
        facts.push(Fact::new(
            "body.table",
            table,
            vec![flow.evidence(from, to)],
        ));
    }
    let bust = to_fit(flow, sizes, units).or_else(|| of_the_body(flow, sizes, units));
    if bust.is_none() && !facts.is_empty() {
        let why = "No bust or chest of the wearer was found. Without it (or a size of the table) no arm is known: fill it in, or take [body] out and the arm is not looked at.";
        facts.push(Fact::missing("body.bust", why));
    }
    facts.extend(bust);
    facts
}

/// `Bust measurement: 86 [92, 100] cm`: the body's where the finished one is printed as well.
fn of_the_body(flow: &Flow, sizes: usize, units: &str) -> Option<Fact> {
    static BUST: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?im)^[ \t]*(?:bust|chest)(?: (?:measurements?|circumference|size|girth))?([\s:.=(–—-]{{0,6}})(?:({UNIT})\)?[\s:]*)?({})[ -]*({UNIT})?(?:\s*[\[(/,;]?\s*({UNIT})?\s*({})\s*({UNIT})?)?",
            list(),
            list()
        ))
    });
    static FINISHED: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\b(?:finished|actual|garment|knitted) (?:bust|chest)\b[^\d\n]{0,30}\d")
    });
    let mut fact = bust(flow, &BUST, sizes, units)?;
    if !FINISHED.is_match(&flow.text) {
        fact.doubt("Whether it is the wearer's or the finished garment's is not said.");
    }
    Some(fact)
}

fn to_fit(flow: &Flow, sizes: usize, units: &str) -> Option<Fact> {
    static FIT: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(?:to fit|\bfits\b|(?:bust|chest)(?: circumference)? of (?:the )?wearer|(?:bust|chest) sizes?|body (?:bust|chest)|actual (?:bust|chest))([^\d.]{{0,40}}?)(?:({UNIT})\)?[\s:]*)?({}|{})[ -]*({UNIT})?(?:\s*[\[(/,;]?\s*({UNIT})?\s*({})\s*({UNIT})?)?",
            list_of_inches(),
            list(),
            list()
        ))
    });
    bust(flow, &FIT, sizes, units)
}

/// A list of busts in the text.
struct ToldBusts<'t> {
    from: usize,
    list: regex::Match<'t>,
    unit: Option<&'static str>,
    /// A second list beside it, in the other unit, says something else.
    told_otherwise: bool,
}

/// The lists in this form of words: its groups are two lists with their units before or behind them.
fn told_busts<'t>(flow: &'t Flow, form: &Regex, sizes: usize, units: &str) -> Vec<ToldBusts<'t>> {
    let all = form.captures_iter(&flow.text).filter_map(|found| {
        let first = (found.get(2).or_else(|| found.get(4)), found.get(3)?);
        let second = found
            .get(6)
            .map(|list| (found.get(5).or_else(|| found.get(7)), list));
        let chosen = std::iter::once(first).chain(second).find(|(unit, list)| {
            fits(&lengths(list.as_str(), sizes).0, sizes)
                && unit.is_some_and(|unit| unit_word(unit.as_str()) == units)
        });
        let (unit, list) = chosen.unwrap_or(first);
        Some(ToldBusts {
            from: found.get(0)?.start(),
            list,
            unit: unit.map(|unit| unit_word(unit.as_str())),
            told_otherwise: second.is_some_and(|second| disagree(first, second, sizes)),
        })
    });
    all.filter(|told| {
        let large = numbers(told.list.as_str())
            .first()
            .is_some_and(|n| *n >= 14.0);
        large
            && !OTHER_GIRTH.is_match(flow.get(told.from, told.list.start()))
            && !is_finished(flow, told.from, told.list.start())
    })
    .collect()
}

/// A bust in this form of words.
fn bust(flow: &Flow, form: &Regex, sizes: usize, units: &str) -> Option<Fact> {
    static RANGE: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)^\s*(?:to|or|[–—-])\s*\d"));
    let all = told_busts(flow, form, sizes, units);
    // `To fit` says whose chest it is; `actual bust` may be either's.
    let told = |told: &&ToldBusts<'_>| !EITHER.is_match(flow.get(told.from, told.list.start()));
    let first = all.iter().find(told);
    let told = first.or_else(|| all.first())?;
    let list = told.list;
    let (mut values, two_readings) = lengths(list.as_str(), sizes);
    let pairs = lower_ends(list.as_str(), sizes);
    let of_range = pairs.is_some();
    values = pairs.unwrap_or(values);
    let mut evidence = vec![flow.evidence(told.from, list.end())];
    if let Some((more, at)) = in_brackets(flow).filter(|_| values.len() == 1 && sizes > 1) {
        evidence.push(at);
        if more.len() + 1 == sizes {
            values.extend(more);
        }
    }
    let lone = values.len() == 1 && sizes > 1;
    let unit = told.unit.unwrap_or(units);
    if unit != units {
        to_units(&mut values, units);
    }
    let mut fact = Fact::new("body.bust", in_trade_notation(&values), evidence);
    if unit != units {
        fact.say(&format!("Printed in {unit}; written here in {units}."));
    }
    if two_readings {
        fact.doubt(TWO_READINGS);
    }
    doubt_measures(&mut fact, told.told_otherwise, &values);
    if lone {
        fact.doubt(&format!(
            "One number stands here for {sizes} sizes, and each has a bust of its own."
        ));
    }
    if first.is_none() {
        fact.doubt("It is not said whether it is the body's or the finished garment's.");
    }
    let rest = flow.get(
        list.end(),
        flow.text
            .floor_char_boundary((list.end() + 6).min(flow.text.len())),
    );
    if of_range || values.len() == 1 && RANGE.is_match(rest) {
        fact.doubt("A range is printed; this is its lower end.");
    }
    doubt_sizes(&mut fact, &values, sizes);
    Some(fact)
}

/// Written to a tenth of the other unit.
fn to_units(values: &mut [f64], units: &str) {
    let factor = if units == "in" {
        1.0 / CM_PER_INCH
    } else {
        CM_PER_INCH
    };
    for value in values {
        *value = (*value * factor * 10.0).round() / 10.0;
    }
}

/// One bust a size, each larger than the one before.
fn doubt_sizes(fact: &mut Fact, values: &[f64], sizes: usize) {
    let rising = values
        .windows(2)
        .all(|pair| matches!(pair, [a, b] if a < b));
    if !fits(values, sizes) {
        fact.doubt(&format!(
            "It has {} numbers for {sizes} sizes.",
            values.len()
        ));
    } else if !rising {
        fact.doubt("The sizes do not rise one after the other.");
    }
}

/// The busts that stand apart: `figures in brackets refer to the 36- and 38-inch sizes`, `instructions for 36-inch and
/// 38-inch busts are in brackets`. Without a unit or the word they may be the names of sizes.
fn in_brackets(flow: &Flow) -> Option<(Vec<f64>, super::Evidence)> {
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        let unit = r"(?:inch(?:es)?|ins?|cms?)\b";
        let one = format!(r"\d+(?:½|\.5)?(?:[- ]?{unit}\.?|-)?");
        let all =
            format!(r"{one}(?:(?:,? and |,? & |, ){one})*(?:[- ](?:{unit}|busts?\b|chests?\b))?");
        let brackets = r"(?:brackets?|parenthes[ei]s)";
        regex(&format!(
            r"(?i)\b{brackets} (?:refer|apply|are|is|relate|give)\b[^.;\d]{{0,24}}({all})|\b(?:instructions|directions|figures|numbers|changes) for (?:the )?(?:larger )?({all})[^.;\d]{{0,40}}\bin (?:round |square )?{brackets}"
        ))
    });
    static OF_BUST: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:inch|ins?\b|cms?\b|busts?\b|chests?\b)"));
    let found = TOLD.captures(&flow.text)?;
    let (all, list) = (found.get(0)?, found.get(1).or_else(|| found.get(2))?);
    OF_BUST.is_match(list.as_str()).then(|| {
        let values = numbers(&list.as_str().replace('-', " "));
        (values, flow.evidence(all.start(), all.end()))
    })
}

fn doubt_measures(fact: &mut Fact, told_otherwise: bool, values: &[f64]) {
    if told_otherwise {
        fact.doubt("The same in the other unit is another measure.");
    }
    let leaps = |pair: &[f64]| matches!(pair, [a, b] if *b > a * 1.4);
    if values.windows(2).any(leaps) {
        fact.doubt("From one size to the next it grows by more than sizes do.");
    }
}

/// A list with its unit.
type UnitAndList<'t> = (Option<regex::Match<'t>>, regex::Match<'t>);

/// Two lists, one in inches and one in centimetres, that are not the same lengths.
fn disagree(one: UnitAndList<'_>, other: UnitAndList<'_>, sizes: usize) -> bool {
    let cm = |(unit, list): UnitAndList<'_>| {
        let unit = unit_word(unit?.as_str());
        let factor = if unit == "in" { CM_PER_INCH } else { 1.0 };
        let values = lengths(list.as_str(), sizes).0;
        let values: Vec<f64> = values.iter().map(|n| n * factor).collect();
        Some((unit, values))
    };
    let (Some((a, one)), Some((b, other))) = (cm(one), cm(other)) else {
        return false;
    };
    let apart = |(one, other): (&f64, &f64)| (one - other).abs() > 0.04 * one;
    a != b && one.len() == other.len() && one.iter().zip(&other).any(apart)
}

/// `To fit hips`, `to fit height`: not the bust.
static OTHER_GIRTH: LazyLock<Regex> =
    LazyLock::new(|| regex(r"(?i)\b(?:hips?|heights?|waists?|ages?|years?)\b"));

static EITHER: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)\bactual\b"));

/// True where the words before say that the garment was measured: `Finished measurements: Bust 90`.
fn is_finished(flow: &Flow, from: usize, list: usize) -> bool {
    static FINISHED: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\b(?:finished|knitted|garment|completed|circumference at)\b[^.]*$")
    });
    let start = flow.text.floor_char_boundary(from.saturating_sub(60));
    FINISHED.is_match(flow.get(start, list)) && !flow.get(from, list).to_lowercase().contains("fit")
}

/// The lower ends of ranges, one a size: `81-86 (91-97, 102-107)`.
fn lower_ends(list: &str, sizes: usize) -> Option<Vec<f64>> {
    let ranges = one_range_a_size(list, sizes)?;
    let lower = ranges.iter().map(|range| numbers(range).first().copied());
    lower.collect()
}

/// US or UK, by its words.
pub(super) fn terms(flow: &Flow) -> Fact {
    let words = flow.text.to_ascii_lowercase();
    let first = |all: &[&str]| {
        let found = all
            .iter()
            .filter_map(|word| Some((words.find(word)?, word.len())));
        found.min().map(|(at, len)| flow.evidence(at, at + len))
    };
    let uk = first(&["cast off", "casting off"]);
    let us = first(&["bind off", "bound off"]);
    match (us, uk) {
        (Some(_), Some(at)) => {
            let mut fact = Fact::new("wording.terms", "us", vec![at]);
            fact.doubt("Both \"bind off\" and \"cast off\" are used.");
            fact
        }
        (_, Some(at)) => Fact::new("wording.terms", "uk", vec![at]),
        (at, None) => Fact::new("wording.terms", "us", at.into_iter().collect()),
    }
}
