//! Printed lengths of a sleeve: the one it is worked to, and the one among the measurements.

use std::sync::LazyLock;

use regex::Regex;

use crate::measure::CM_PER_INCH;

use super::lists::{
    TWO_READINGS, UNIT, fall, fits, in_trade_notation, lengths as read_lengths, list,
    list_of_inches, regex, unit_word,
};
use super::section::sentence_end;
use super::{Fact, Flow};

/// A list of lengths with its place.
#[derive(Debug)]
pub(super) struct PrintedList {
    pub(super) values: Vec<f64>,
    pub(super) unit: &'static str,
    /// It is worked from where the piece is, not from its beginning.
    pub(super) more: bool,
    /// Its commas or fractions have two readings.
    two_readings: bool,
    pub(super) from: usize,
    pub(super) to: usize,
}

impl PrintedList {
    /// A fact of it, unsure where its numbers are.
    pub(super) fn fact(&self, key: &str, flow: &Flow) -> Fact {
        let evidence = vec![flow.evidence(self.from, self.to)];
        let mut fact = Fact::new(key, in_trade_notation(&self.values), evidence);
        if self.two_readings {
            fact.doubt(TWO_READINGS);
        }
        if fall(&self.values) {
            fact.doubt("It is shorter for a larger size.");
        }
        fact
    }
}

/// Lists of lengths in this stretch.
pub(super) fn lengths(flow: &Flow, from: usize, to: usize, sizes: usize) -> Vec<PrintedList> {
    static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)({})|({})\s*({UNIT})",
            list_of_inches(),
            list()
        ))
    });
    let found = LENGTH
        .captures_iter(flow.get(from, to))
        .filter_map(|found| {
            let list = found.get(1).or_else(|| found.get(2))?;
            let (values, two_readings) = read_lengths(list.as_str(), sizes);
            let unit = found.get(3).map_or("in", |unit| unit_word(unit.as_str()));
            let (start, end) = (from + list.start(), from + found.get(0)?.end());
            Some(PrintedList {
                values,
                unit,
                more: false,
                two_readings,
                from: start,
                to: end,
            })
        });
    found.collect()
}

/// The length that the sleeve is worked to before the cap.
pub(super) fn length(flow: &Flow, from: usize, to: usize, sizes: usize) -> Option<PrintedList> {
    let long = length_of(flow, from, to, sizes, 10.0);
    // A short sleeve: what is measured and not worked, or its cuff would be one.
    long.or_else(|| {
        let short = length_of(flow, from, to, sizes, 2.5)?;
        let sentence = flow.get(from, short.from);
        let sentence = sentence.rsplit(['.', '\n']).next().unwrap_or(sentence);
        let whole = ["measures", "total", "from cast", "from beg"];
        let whole = whole
            .iter()
            .any(|word| sentence.to_lowercase().contains(word));
        whole.then_some(short)
    })
}

static MORE: LazyLock<Regex> = LazyLock::new(|| {
    regex(r"(?i)\b(?:another|further|extra|additional|for)\s+(?:a\s+|about\s+)?$")
});
static LATER: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)^\W*(?:more|further|longer)\b"));

/// The last length of at least so many centimetres that is worked to.
fn length_of(flow: &Flow, from: usize, to: usize, sizes: usize, least: f64) -> Option<PrintedList> {
    static WORDS: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)measures?|until|\btill|\bafter\b|length|\bheight\b|\bto\b|\bat\b|\bis\b|\bfor\b",
        )
    });
    let all = lengths(flow, from, to, sizes);
    let mut last: Option<PrintedList> = None;
    for length in all {
        let start = flow
            .text
            .floor_char_boundary(length.from.saturating_sub(60))
            .max(from);
        let before = flow.get(start, length.from);
        let before = before.rsplit(['.', '\n']).next().unwrap_or(before);
        let before_line = flow.get(start, length.from);
        // The same length in the other unit, in brackets behind the first, is no length of its own.
        let restated = last.as_ref().is_some_and(|last| {
            length.from.saturating_sub(last.to) <= 3 && last.unit != length.unit
        });
        let least = if length.unit == "in" {
            least * 0.4
        } else {
            least
        };
        if !restated
            && (WORDS.is_match(before) || WORDS.is_match(before_line))
            && length.values.first().is_some_and(|n| *n >= least)
            && !before.to_lowercase().contains("every")
        {
            let better = fits(&length.values, sizes) || last.is_none();
            if better {
                let after = flow.get(length.to, flow.text.floor_char_boundary(length.to + 12));
                let near = flow
                    .text
                    .floor_char_boundary(length.from.saturating_sub(16));
                let before = flow.get(near.max(from), length.from);
                last = Some(PrintedList {
                    more: MORE.is_match(before) || LATER.is_match(after),
                    ..length
                });
            }
        }
    }
    last
}

/// The sleeve's length among the measurements: `SleeveText seam 43 cm`.
pub(super) fn seam(flow: &Flow, unit: &str, sizes: usize) -> Option<(Vec<f64>, usize, usize)> {
    static SEAM: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)(?:sleeve (?:seam|length)|length of sleeve(?: seam)?|underarm sleeve)[^\d\n]{{0,30}}(?:(cm|in)\s*)?({})\s*({UNIT})?",
            list()
        ))
    });
    SEAM.captures_iter(&flow.text).find_map(|found| {
        let printed = found.get(1).or_else(|| found.get(3))?;
        let (values, _) = read_lengths(found.get(2)?.as_str(), sizes);
        let all = found.get(0)?;
        let sentence = all.as_str().get(..found.get(2)?.start() - all.start())?;
        (unit_word(printed.as_str()) == unit && fits(&values, sizes) && !sentence.contains(". "))
            .then(|| (values, all.start(), all.end()))
    })
}

/// What stands beside the length and speaks against its being the whole one.
pub(super) fn length_doubts(
    flow: &Flow,
    from: usize,
    length: &PrintedList,
    cap: usize,
) -> Vec<&'static str> {
    static OR: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\bor\b[^.;]{0,30}\d|[\[(] ?for (?:the )?(?:short|long|three|elbow)|\d\s*(?:cm|in\w*)\.? more\b",
        )
    });
    static SECTION: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:section|part|portion|st\.? ?st|stock\w*) (?:section )?(?:measures?|is)\b[^.;]*$",
        )
    });
    static ROWS: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)\b(?:{}|a|one|another)\s+(?:more |further |plain )?rows?\b",
            list()
        ))
    });
    static FOLDED: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\b(?:fold(?:ed|s)?|turn(?:ed|s)?|turn-?)[ -]?(?:back|up|over)\b|\bcuffs? (?:folded|doubled|turned)|\b(?:doubled|folded|turned) cuffs?|\bhem ?-?line|\b(?:fold(?:ing)?|turning) (?:line|row|ridge)",
        )
    });
    static OF_STITCH: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)^\W{0,3}(?:in|of) (?:st\.? ?st|stock\w*|pattern|patt)\b"));
    static LESS: LazyLock<Regex> =
        LazyLock::new(|| regex(r"(?i)\b(?:less|shorter) than\b|\bshort of\b|\bdesired\b"));
    let begin = sentence_begin(flow, from, length.from);
    let end = sentence_end(flow, length.to, cap);
    let sentence = flow.get(begin, end);
    let mut out = Vec::new();
    if OR.is_match(sentence) {
        out.push("Another length is printed beside it.");
    }
    if LESS.is_match(sentence) {
        out.push("It stands beside a length that the knitter chooses.");
    }
    if SECTION.is_match(flow.get(begin, length.from))
        || OF_STITCH.is_match(flow.get(length.to, end))
    {
        out.push("It is the length of a part of the sleeve.");
    }
    if ROWS.is_match(flow.get(end, cap)) {
        out.push("Rows are worked after it and before the cap.");
    }
    if FOLDED.is_match(flow.get(from, cap)) {
        out.push("Something is folded: the sleeve is worn shorter than it is worked.");
    }
    let other = lengths(
        flow,
        length.to,
        flow.text.floor_char_boundary(length.to + 24).min(end),
        1,
    );
    let other = other.into_iter().find(|other| other.unit != length.unit);
    if let (Some(other), Some(&first)) = (other, length.values.first()) {
        let cm = |n: f64, unit: &str| if unit == "in" { n * CM_PER_INCH } else { n };
        let (one, two) = (
            cm(first, length.unit),
            cm(*other.values.first().unwrap_or(&first), other.unit),
        );
        // Half a centimetre is rounding: `3 in (8 cm)`.
        if (one - two).abs() > 0.5 + 0.04 * one {
            out.push("The same length in the other unit is another one.");
        }
    }
    out
}

/// Where the sentence of this place begins.
fn sentence_begin(flow: &Flow, from: usize, at: usize) -> usize {
    let before = flow.get(from, at);
    let stop = [". ", ".\n", "; ", "\n\n"]
        .iter()
        .filter_map(|mark| before.rfind(mark));
    from + stop.max().map_or(0, |stop| stop + 1)
}
