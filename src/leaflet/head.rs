//! What stands before the pieces: name, gauge, wearer, terms.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::{
    NUMBER, TWO_READINGS, UNIT, fits, in_trade_notation, lengths, list, list_of_inches, numbers,
    regex, unit_word,
};
use super::section::sentence_end;
use super::sleeve::Sleeve;
use super::{Fact, Flow};

/// The first line with letters.
pub(super) fn title(flow: &Flow) -> Fact {
    let mut at = 0;
    for line in flow.text.split_inclusive('\n') {
        if line.chars().filter(|letter| letter.is_alphabetic()).count() > 2 {
            let first = line.trim().split(". ").next().unwrap_or_default();
            let name: String = first
                .trim_matches(['.', '*', '#', ' '])
                .chars()
                .take(60)
                .collect();
            return Fact::new("title", name, vec![flow.evidence(at, at + line.len())]);
        }
        at += line.len();
    }
    Fact::new("title", "Sleeve", Vec::new())
}

/// The units of the lengths that the rows are worked to.
pub(super) fn units_fact(flow: &Flow, sleeve: &Sleeve<'_>, units: &str) -> Fact {
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

/// One gauge as printed.
struct Printed {
    stitches: f64,
    rows: Option<f64>,
    over: f64,
    unit: &'static str,
    /// The same length in the other unit, where it is printed too.
    other: Option<f64>,
    rib: bool,
    plain: bool,
    /// A comma in its numbers, with two digits behind it, may be none of a decimal.
    two_readings: bool,
    from: usize,
    to: usize,
}

fn printed(flow: &Flow) -> Vec<Printed> {
    static FORM: LazyLock<Regex> = LazyLock::new(|| {
        let (unit, number) = (UNIT, &*NUMBER);
        let eq =
            r"(?:=|equals?|to|(?:should )?(?:measures?|makes?|gives?|equal|cover)|per|over|is|:)";
        regex(&format!(
            r"(?i)({number})\s*(?:sts?\b|stitches)\.?(?:\s*(?:and|x|×|,|by|;|&|\+|/)?\s*({number})\s*(?:rows?|rnds?|r\b)\.?)?(?:\s+(?:in|over|of)\s+[a-z ]{{3,30}}?)?\s*{eq}?\s*(?:(?:an?\s+|the\s+)?(?:one|({number}))|an?\b|the\b)\s*(?:{unit}?\s*[x×]\s*{number}\s*)?(?:sq(?:uare|\.)\s*)?({unit})?(?:\s?square)?\s*(?:[(\[/]\s*({number})\s*({unit})?)?"
        ))
    });
    let text = &flow.text;
    let mut out = Vec::new();
    let unit_of = |text: Option<regex::Match<'_>>, all: &str| {
        let word = text.map_or("", |unit| unit.as_str());
        let inch = all.to_lowercase().contains("inch") || all.contains('"');
        match word {
            "" if all.to_lowercase().contains("cm") => Some("cm"),
            "" if inch => Some("in"),
            "" => None,
            word => Some(unit_word(word)),
        }
    };
    for found in FORM.captures_iter(text) {
        let Some(all) = found.get(0) else { continue };
        let one = |at: usize| first_number(&found, at);
        let (Some(stitches), Some(unit)) = (one(1), unit_of(found.get(4), all.as_str())) else {
            continue;
        };
        let (rib, plain) = fabric(text, all.start(), all.end());
        let over = one(3).unwrap_or(1.0);
        let two_readings = has_two_readings(&found, [1, 2]);
        out.push(Printed {
            stitches,
            rows: one(2),
            over,
            unit,
            other: one(5),
            rib,
            plain,
            two_readings,
            from: all.start(),
            to: all.end(),
        });
    }
    out.extend(inverse(flow));
    out.retain(|gauge| {
        let per_cm = gauge.stitches / gauge.over / if gauge.unit == "in" { 2.54 } else { 1.0 };
        (0.5..=6.0).contains(&per_cm)
    });
    out.sort_by_key(|gauge| gauge.from);
    out
}

fn first_number(found: &regex::Captures<'_>, at: usize) -> Option<f64> {
    numbers(found.get(at)?.as_str()).first().copied()
}

fn has_two_readings(found: &regex::Captures<'_>, counts: [usize; 2]) -> bool {
    let mut counts = counts.into_iter().filter_map(|at| found.get(at));
    counts.any(|count| lengths(count.as_str(), 1).1)
}

/// `10 cm = 22 sts`.
fn inverse(flow: &Flow) -> Vec<Printed> {
    static INVERSE: LazyLock<Regex> = LazyLock::new(|| {
        let number = &*NUMBER;
        regex(&format!(
            r"(?i)({number})\s*({UNIT})\s*(?:square)?\s*(?:=|equals?|:)\s*({number})\s*(?:sts?\b|stitches)\.?(?:\s*(?:and|x|×|,|by|;|&)?\s*({number})\s*(?:rows?|rnds?)\b)?"
        ))
    });
    let text = &flow.text;
    let mut out = Vec::new();
    for found in INVERSE.captures_iter(text) {
        let Some(all) = found.get(0) else { continue };
        let one = |at: usize| first_number(&found, at);
        let (Some(over), Some(stitches)) = (one(1), one(3)) else {
            continue;
        };
        let (rib, plain) = fabric(text, all.start(), all.end());
        let unit = found.get(2).map_or("cm", |unit| unit_word(unit.as_str()));
        let (rows, other) = (one(4), None);
        let two_readings = has_two_readings(&found, [3, 4]);
        out.push(Printed {
            stitches,
            rows,
            over,
            unit,
            other,
            rib,
            plain,
            two_readings,
            from: all.start(),
            to: all.end(),
        });
    }
    out
}

/// Whether the words round a gauge speak of rib, and of plain knitting.
fn fabric(text: &str, from: usize, to: usize) -> (bool, bool) {
    static STOP: LazyLock<Regex> = LazyLock::new(|| regex(r"[;\n]|\. (?:[A-Z][a-z]|[A-Z]{3})"));
    let before = text.get(..from).unwrap_or_default();
    let line = before.rfind(['\n', ';']).map_or(0, |at| at + 1);
    let clause = before.get(line..).unwrap_or_default();
    let clause = STOP.find_iter(clause).last().map_or(clause, |stop| {
        clause.get(stop.start()..).unwrap_or_default()
    });
    let after = text.get(to..).unwrap_or_default();
    let after = after.get(..STOP.find(after).map_or(after.len(), |stop| stop.start()));
    let words = format!("{clause} {}", after.unwrap_or_default()).to_lowercase();
    let plain = ["st st", "stock", "smooth", "st.st", "plain"];
    (
        words.contains("rib"),
        plain.iter().any(|word| words.contains(word)),
    )
}

/// The gauge of plain knitting where it is said, else the first.
fn chosen<'a>(main: &[&'a Printed]) -> Option<&'a Printed> {
    let plain = main.iter().find(|gauge| gauge.plain);
    plain.or_else(|| main.first()).copied()
}

/// The gauges of the main stitch: those over rib are none, unless there is no other.
fn of_main(all: &[Printed]) -> Vec<&Printed> {
    let main: Vec<&Printed> = all.iter().filter(|gauge| !gauge.rib).collect();
    if main.is_empty() {
        return all.iter().collect();
    }
    main
}

/// Where the gauge of the main stitch ends.
pub(super) fn gauge_place(flow: &Flow) -> Option<usize> {
    let all = printed(flow);
    chosen(&of_main(&all)).map(|gauge| gauge.to)
}

/// What the words beside a gauge say against it.
fn doubt_gauge(flow: &Flow, gauge: &Printed, stitches: &mut Fact) {
    static PLAIN: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\bst\.? ?st\b|stock|smooth|garter|\bplain"));
    if gauge.two_readings {
        stitches.doubt(TWO_READINGS);
    }
    let before = flow.text.get(..gauge.from).unwrap_or_default();
    if RANGE_BEFORE.is_match(before) {
        stitches.doubt("A range is printed; this is its upper end.");
    }
    let sentence = flow.get(gauge.from, sentence_end(flow, gauge.from, flow.text.len()));
    if UNWASHED.is_match(sentence) {
        stitches.doubt("It is told before washing and after; look which one the measures are for.");
    }
    if gauge.rib && PLAIN.is_match(&flow.text) {
        stitches.doubt("It is the gauge of a rib, and no other is printed.");
    }
}

static RANGE_BEFORE: LazyLock<Regex> = LazyLock::new(|| regex(r"\d\s?(?:[–-]|to|or)\s?$"));
static UNWASHED: LazyLock<Regex> =
    LazyLock::new(|| regex(r"(?i)\bbefore (?:wash|block)|\bunwashed|\bunblocked"));

/// The gauge of the main stitch, with the length it is over.
pub(super) fn gauge(flow: &Flow, units: &str) -> Vec<Fact> {
    static ROWS: LazyLock<Regex> = LazyLock::new(|| {
        let number = &*NUMBER;
        regex(&format!(
            r"(?i)({number})\s*rows?\.?\s*(?:=|equals?|to|measures?|per|over|make)\s*(?:an?\b|the|one|({number}))\s*{UNIT}"
        ))
    });
    let all = printed(flow);
    let main = of_main(&all);
    let Some(gauge) = chosen(&main) else {
        let why = "No gauge (tension) was found: so many stitches to 10 cm or 4 in.";
        return vec![
            Fact::missing("gauge.pattern.stitches", why),
            Fact::missing("gauge.pattern.rows", why),
        ];
    };
    let evidence = vec![flow.evidence(gauge.from, gauge.to)];
    let mut stitches = Fact::new(
        "gauge.pattern.stitches",
        gauge.stitches.to_string(),
        evidence.clone(),
    );
    doubt_gauge(flow, gauge, &mut stitches);
    let other = main.iter().any(|other| {
        (other.stitches / other.over - gauge.stitches / gauge.over).abs() > 0.01
            && other.unit == gauge.unit
    });
    if other {
        stitches
            .doubt("More than one gauge is printed; look which is that of the sleeve's stitch.");
    }
    let mut facts = vec![stitches];
    let apart = ROWS.captures(&flow.text).and_then(|found| {
        let rows = *numbers(found.get(1)?.as_str()).first()?;
        let over = found
            .get(2)
            .and_then(|n| numbers(n.as_str()).first().copied())
            .unwrap_or(1.0);
        let all = found.get(0)?;
        Some((
            rows / over * gauge.over,
            flow.evidence(all.start(), all.end()),
        ))
    });
    let rows = gauge
        .rows
        .map(|rows| (rows, evidence.clone()))
        .or_else(|| apart.map(|(rows, at)| (rows, vec![at])));
    facts.push(if let Some((rows, evidence)) = rows {
        let mut fact = rows_fact(rows, gauge.stitches, evidence);
        if other {
            fact.doubt("More than one gauge is printed.");
        }
        if gauge.two_readings {
            fact.doubt(TWO_READINGS);
        }
        fact
    } else {
        let guess = (gauge.stitches / 0.73 * 2.0).round() / 2.0;
        let why = format!("The row gauge is not printed. From a usual ratio it would be about {guess}; count your own swatch.");
        Fact::missing("gauge.pattern.rows", &why)
    });
    let over = match (gauge.unit == units, gauge.other, gauge.unit) {
        (true, _, _) => gauge.over,
        (false, Some(other), _) => other,
        (false, None, "in") => gauge.over * 2.54,
        (false, None, _) => (gauge.over / 2.54 * 1000.0).round() / 1000.0,
    };
    let usual = if units == "in" { 4.0 } else { 10.0 };
    if (over - usual).abs() > 1e-9 {
        facts.push(Fact::new("gauge.pattern.over", over.to_string(), evidence));
    }
    facts
}

/// Rows, doubted where no knitting has such a ratio.
fn rows_fact(rows: f64, stitches: f64, evidence: Vec<super::Evidence>) -> Fact {
    let mut fact = Fact::new("gauge.pattern.rows", rows.to_string(), evidence);
    let ratio = stitches / rows;
    // Published gauges lie between 0.67 and 0.79 in plain knitting.
    if !(0.62..=0.85).contains(&ratio) {
        fact.doubt(&format!(
            "{stitches} stitches to {rows} rows is no usual ratio for plain knitting."
        ));
    }
    fact
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
    facts.extend(bust(flow, sizes, units));
    facts
}

fn bust(flow: &Flow, sizes: usize, units: &str) -> Option<Fact> {
    static FIT: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(?:to fit|\bfits\b|(?:bust|chest)(?: circumference)? of (?:the )?wearer|(?:bust|chest) sizes?|(?:^|[.\n])\s*(?:bust|chest)\b:?|body (?:bust|chest)|actual (?:bust|chest))([^\d.]{{0,40}}?)(?:({UNIT})\s*)?({}|{})[ -]*({UNIT})?(?:\s*[\[(/,;]?\s*({UNIT})?\s*({})\s*({UNIT})?)?",
            list_of_inches(),
            list(),
            list()
        ))
    });
    static RANGE: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)^\s*(?:to|or|[–—-])\s*\d"));
    let all = FIT.captures_iter(&flow.text).filter_map(|found| {
        let first = (found.get(2).or_else(|| found.get(4)), found.get(3)?);
        let second = found
            .get(6)
            .map(|list| (found.get(5).or_else(|| found.get(7)), list));
        let chosen = std::iter::once(first).chain(second).find(|(unit, list)| {
            fits(&lengths(list.as_str(), sizes).0, sizes)
                && unit.is_some_and(|unit| unit_word(unit.as_str()) == units)
        });
        let (unit, list) = chosen.unwrap_or(first);
        Some((
            found.get(0)?.start(),
            list,
            unit.map(|unit| unit_word(unit.as_str())),
        ))
    });
    let fitting: Vec<_> = all
        .filter(|(from, list, _)| {
            let large = numbers(list.as_str()).first().is_some_and(|n| *n >= 14.0);
            large && !is_finished(flow, *from, list.start())
        })
        .collect();
    // `To fit` says whose chest it is; `actual bust` may be either's, `Chest 90` too.
    let told = |from: usize, to: usize| !EITHER.is_match(flow.get(from, to));
    let first = fitting
        .iter()
        .find(|(from, list, _)| told(*from, list.start()));
    let (from, list, unit) = *first.or_else(|| fitting.first())?;
    let either = first.is_none();
    let (mut values, two_readings) = lengths(list.as_str(), sizes);
    let pairs = lower_ends(list.as_str(), &values, sizes);
    let of_range = pairs.is_some();
    values = pairs.unwrap_or(values);
    let evidence = vec![flow.evidence(from, list.end())];
    let unit = unit.unwrap_or(units);
    if unit != units {
        let factor = if units == "in" { 1.0 / 2.54 } else { 2.54 };
        for value in &mut values {
            *value = (*value * factor * 10.0).round() / 10.0;
        }
    }
    let mut fact = Fact::new("body.bust", in_trade_notation(&values), evidence);
    if unit != units {
        fact.say(&format!("Printed in {unit}; written here in {units}."));
    }
    if two_readings {
        fact.doubt(TWO_READINGS);
    }
    if either {
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
    let rising = values
        .windows(2)
        .all(|pair| matches!(pair, [a, b] if a < b));
    if !fits(&values, sizes) {
        fact.doubt(&format!(
            "It has {} numbers for {sizes} sizes.",
            values.len()
        ));
    } else if !rising {
        fact.doubt("The sizes do not rise one after the other.");
    }
    Some(fact)
}

static EITHER: LazyLock<Regex> =
    LazyLock::new(|| regex(r"(?i)^\W*(?:bust|chest)\W*(?:cm|ins?|inch(?:es)?)?\W*$|\bactual\b"));

/// True where the words before say that the garment was measured: `Finished measurements: Bust 90`.
fn is_finished(flow: &Flow, from: usize, list: usize) -> bool {
    static FINISHED: LazyLock<Regex> = LazyLock::new(|| {
        regex(r"(?i)\b(?:finished|knitted|garment|completed|circumference at)\b[^.]*$")
    });
    let start = flow.text.floor_char_boundary(from.saturating_sub(60));
    FINISHED.is_match(flow.get(start, list)) && !flow.get(from, list).to_lowercase().contains("fit")
}

/// The lower ends of ranges, one a size: `81-86 (91-97, 102-107)`.
fn lower_ends(list: &str, values: &[f64], sizes: usize) -> Option<Vec<f64>> {
    static PAIR: LazyLock<Regex> = LazyLock::new(|| regex(r"\d\s?[–-]\s?\d"));
    let ranges = PAIR.find_iter(list).count();
    let all = values.len() == 2 * ranges && ranges == sizes && sizes > 1;
    all.then(|| values.iter().step_by(2).copied().collect())
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
