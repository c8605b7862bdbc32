//! The names of the sizes: how many numbers a list has.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::{
    UNIT, counts, in_trade_notation, list, numbers, one_range_a_size, regex, unit_word,
};
use super::{Evidence, Fact, Flow};

/// The sizes of a pattern.
#[derive(Debug, Default)]
pub(super) struct TextSizes {
    /// One label a size; at least one.
    pub(super) labels: Vec<String>,
    evidence: Vec<Evidence>,
    doubt: String,
}

impl TextSizes {
    /// The fact; none for a pattern of one size.
    pub(super) fn fact(&self, _flow: &Flow) -> Option<Fact> {
        if self.labels.len() < 2 && self.doubt.is_empty() {
            return None;
        }
        let mut fact = Fact::new("sizes", self.labels.join(", "), self.evidence.clone());
        if !self.doubt.is_empty() {
            fact.doubt(&self.doubt);
        }
        Some(fact)
    }
}

impl TextSizes {
    /// As many are named as the lists do not have.
    pub(super) fn is_open(&self) -> bool {
        !self.doubt.is_empty() && !self.evidence.is_empty()
    }
}

/// The sizes as somebody tells them who has the print.
pub(super) fn given(labels: &[String]) -> TextSizes {
    TextSizes {
        labels: labels.to_vec(),
        ..TextSizes::default()
    }
}

/// Names the sizes by the first line that does, and holds the lists of stitches against it.
pub(super) fn sizes(flow: &Flow) -> TextSizes {
    let mut sizes = [told, named, to_fit, letters, finished]
        .iter()
        .find_map(|way| way(flow))
        .unwrap_or_default();
    let usual = usual_length(flow);
    if sizes.labels.is_empty() {
        sizes.labels = (1..=usual).map(|n| n.to_string()).collect();
        if usual > 1 {
            sizes.doubt = format!("No line names the sizes; most lists have {usual} numbers.");
        }
    } else if usual > 1 && usual != sizes.labels.len() {
        sizes.doubt = format!(
            "{} sizes are named, but most lists of stitches have {usual} numbers.",
            sizes.labels.len()
        );
    }
    sizes
}

/// How many numbers most lists of stitches have, lone numbers aside; 1 when there are no lists.
fn usual_length(flow: &Flow) -> usize {
    static COUNT: LazyLock<Regex> =
        LazyLock::new(|| regex(&format!(r"(?i)({})\s*st(?:s|itche?s?)?\b", list())));
    let mut tally = [0_usize; 41];
    for found in COUNT.captures_iter(&flow.text) {
        let length = counts(found.get(1).map_or("", |list| list.as_str())).len();
        if let Some(n) = tally.get_mut(length).filter(|_| length > 1) {
            *n += 1;
        }
    }
    let most = tally
        .iter()
        .copied()
        .enumerate()
        .max_by_key(|&(length, n)| (n, length));
    most.filter(|&(_, n)| n > 1).map_or(1, |(length, _)| length)
}

const LABEL: &str = r"(?:SM\b|ML\b|(?:extra[ -]|x-?)?(?:small|large)\b|medium\b|petite\b|[2-6]?X{0,4}[SL]\b|[1-6]X\b|M\b|\d+(?:½|\.\d)?(?:[-/]\d+)?)";
const AFTER: &str = r"(?:\s*(?:cm|ins?|inch(?:es)?|years?|yrs?|months?|mths?))?";

/// `TextSizes: S (M, L)`.
fn named(flow: &Flow) -> Option<TextSizes> {
    listed(flow, false)
}

/// `S, M, L, XL`, a line by themselves.
fn letters(flow: &Flow) -> Option<TextSizes> {
    static LINE: LazyLock<Regex> = LazyLock::new(|| {
        let letter = r"(?:X{0,4}[SL]|M|[2-6]XL?|small|medium|large|x-large)";
        regex(&format!(
            r"(?im)^\s*({letter}(?:[\s,;:/|()\[\]–-]+{letter})+)[)\]]?\s*$"
        ))
    });
    let found = LINE.captures(&flow.text)?.get(1)?;
    let labels: Vec<String> = one_a_size(found.as_str()).map(str::to_owned).collect();
    (labels.len() > 1 && labels.len() == usual_length(flow)).then(|| TextSizes {
        labels,
        evidence: vec![flow.evidence(found.start(), found.end())],
        doubt: String::new(),
    })
}

/// `Actual size 88 (93, 98) cm`: the finished sizes name them where nothing else does.
fn finished(flow: &Flow) -> Option<TextSizes> {
    listed(flow, true)
}

static ONE_LABEL: LazyLock<Regex> = LazyLock::new(|| regex(&format!(r"(?i)\b{LABEL}")));

/// The labels of a list.
fn one_a_size(text: &str) -> impl Iterator<Item = &str> {
    let labels = ONE_LABEL.find_iter(text).map(|label| label.as_str());
    labels.filter(|label| !is_unit(label))
}

/// A list of sizes with its place.
struct SizeList<'t> {
    text: &'t str,
    start: usize,
}

/// The first line of sizes; of finished ones, or of any others.
fn listed(flow: &Flow, finished: bool) -> Option<TextSizes> {
    static LINE: LazyLock<Regex> = LazyLock::new(|| {
        let label = format!("{LABEL}{AFTER}");
        regex(&format!(
            r"(?i)\b(?:sizes?|ages?)\b\s*(?:\([a-z ]{{3,20}}\)\s*)?[:.–—-]*\s*({label}(?:[\s,;:()\[\]{{}}/–-]+(?:and )?{label})+)(?:[)\]}}]|\b)"
        ))
    });
    static SLASHED: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)[^\s,;:()\[\]{}/–-]+"));
    static PARTED: LazyLock<Regex> = LazyLock::new(|| regex(r"[^,;:()\[\]{}]+"));
    for line in LINE.captures_iter(&flow.text) {
        let Some(all) = line.get(1) else { continue };
        // A table's next line is another list: the same sizes in inches.
        let first = all.as_str().lines().next().unwrap_or_default();
        let within = all.as_str().trim_end() != first.trim_end() && usual_length(flow) > 1;
        let cut = within && one_a_size(first).count() == usual_length(flow);
        let found = SizeList {
            text: if cut { first } else { all.as_str() },
            start: all.start(),
        };
        let before = flow.get(
            flow.text
                .get(..found.start)?
                .rfind('\n')
                .map_or(0, |at| at + 1),
            found.start,
        );
        let before = before.to_lowercase();
        let start = line.get(0)?.start().saturating_sub(24);
        let word = flow.get(flow.text.floor_char_boundary(start), found.start);
        let actual = ["actual", "finished", "knitted", "garment", "completed"];
        let of_garment = actual.iter().any(|one| word.to_lowercase().contains(one));
        if before.contains("needle") || before.contains("larger") || of_garment != finished {
            continue;
        }
        // A list with brackets keeps `36/38` whole; one without is divided by its slashes or dashes.
        let bracketed = found.text.contains(['(', '[']);
        let one: &Regex = if bracketed || found.text.contains(' ') {
            &ONE_LABEL
        } else {
            &SLASHED
        };
        let labels: Vec<String> = one
            .find_iter(found.text)
            .map(|label| label.as_str().to_owned())
            .collect();
        let labels: Vec<String> = labels.into_iter().filter(|label| !is_unit(label)).collect();
        // `80-84-88 (92-96-100)`: two sizes, each with several chests; `S (S/M, M)`: three. What the brackets and commas
        // part are the sizes where the lists of stitches have as many numbers.
        let whole: Vec<String> = PARTED
            .find_iter(found.text)
            .map(|label| label.as_str().trim().to_owned())
            .filter(|label| !label.is_empty() && !is_unit(label))
            .collect();
        let usual = usual_length(flow);
        let parted = bracketed && labels.len() != usual && whole.len() == usual;
        let labels = if parted { whole } else { labels };
        if labels.len() > 1 {
            return Some(TextSizes {
                labels,
                evidence: vec![flow.evidence(line.get(0)?.start(), found.start + found.text.len())],
                doubt: String::new(),
            });
        }
    }
    None
}

fn is_unit(label: &str) -> bool {
    ["cm", "in", "ins", "years", "months", "and"].contains(&label)
}

/// `Directions are for size Small. Changes for Medium and Large are in parentheses.`
fn told(flow: &Flow) -> Option<TextSizes> {
    // `Size 10; sizes 12 and 14 in brackets.`
    static BESIDE: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?i)\bsize ([\w/-]{1,12})[;,.]? (?:with |and )?(?:the )?(?:larger )?sizes? ([\w/-]{1,12}(?:(?:,| and|, and) [\w/-]{1,12}){0,12}) (?:(?:are|is) )?(?:given |shown |set )?in (?:round |square )?(?:paren|brack)",
        )
    });
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?is)\bfor (?:the )?(?:size )?([\w -]{1,20}?)(?: size)?(?:[.;,]\s*(?:and |with )?(?:the )?changes for|,? with(?: (?:the )?changes for)?|[.;,]? and for) (?:the )?(?:larger )?(?:sizes? )?(.{1,80}?)\s+(?:sizes? )?(?:(?:are|is) )?(?:given |shown |set )?in (?:round |square )?(?:paren|brack|\()",
        )
    });
    let told = TOLD
        .captures(&flow.text)
        .or_else(|| BESIDE.captures(&flow.text))?;
    let mut labels = vec![told.get(1)?.as_str().trim().to_owned()];
    let rest = told
        .get(2)?
        .as_str()
        .replace(" and ", ",")
        .replace("sizes ", "");
    let more = rest
        .split([',', '(', ')', '[', ']', ':', '-'])
        .map(str::trim);
    labels.extend(more.filter(|label| !label.is_empty()).map(str::to_owned));
    // `Given for the first size, with larger sizes in brackets` names none.
    let names = |label: &String| {
        let words = [
            "first", "larger", "smallest", "sizes", "size", "other", "others", "the", "each",
        ];
        !label
            .split_whitespace()
            .any(|word| words.contains(&word.to_lowercase().as_str()))
    };
    if !labels.iter().all(names) {
        return None;
    }
    let all = told.get(0)?;
    Some(TextSizes {
        labels,
        evidence: vec![flow.evidence(all.start(), all.end())],
        doubt: String::new(),
    })
}

/// `To fit bust 81 [86:91] cm`: the busts name the sizes.
fn to_fit(flow: &Flow) -> Option<TextSizes> {
    static FIT: LazyLock<Regex> = LazyLock::new(|| {
        regex(&format!(
            r"(?i)to fit[^\d]{{0,40}}?(?:({UNIT})\s*)?({})\s*({UNIT})?",
            list()
        ))
    });
    let fit = FIT.captures(&flow.text)?;
    let unit = fit
        .get(1)
        .or_else(|| fit.get(3))
        .map_or("", |unit| unit_word(unit.as_str()));
    let list = fit.get(2)?.as_str();
    // `81-86 (91-97, 102-107)`: a range a size.
    let ranges = one_range_a_size(list, usual_length(flow));
    let named = |label: String| format!("{label} {unit}").trim().to_owned();
    let labels: Vec<String> = if let Some(ranges) = ranges {
        let each = ranges.into_iter().map(str::to_owned);
        each.map(named).collect()
    } else {
        let values = numbers(list);
        let each = values.iter().map(|n| in_trade_notation(&[*n]));
        each.map(named).collect()
    };
    let all = fit.get(0)?;
    (labels.len() > 1).then(|| TextSizes {
        labels,
        evidence: vec![flow.evidence(all.start(), all.end())],
        doubt: String::new(),
    })
}
