//! The names of the sizes: how many numbers a list has.

use std::sync::LazyLock;

use regex::Regex;

use super::lists::{UNIT, counts, in_trade_notation, list, numbers, regex, unit_word};
use super::{Evidence, Fact, Flow};

/// The sizes of a pattern.
#[derive(Debug, Default)]
pub(super) struct Sizes {
    /// One label a size; at least one.
    pub(super) labels: Vec<String>,
    evidence: Vec<Evidence>,
    doubt: String,
}

impl Sizes {
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

/// The sizes as somebody tells them who has the print.
pub(super) fn given(labels: &[String]) -> Sizes {
    Sizes {
        labels: labels.to_vec(),
        ..Sizes::default()
    }
}

/// Names the sizes by the first line that does, and holds the lists of stitches against it.
pub(super) fn sizes(flow: &Flow) -> Sizes {
    let mut sizes = [told, named, to_fit]
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

/// `Sizes: S (M, L)`.
fn named(flow: &Flow) -> Option<Sizes> {
    static LINE: LazyLock<Regex> = LazyLock::new(|| {
        let label = format!("{LABEL}{AFTER}");
        regex(&format!(
            r"(?i)\b(?:sizes?|ages?)\b\s*[:.–—-]*\s*({label}(?:[\s,;:()\[\]{{}}/–-]+(?:and )?{label})+)(?:[)\]}}]|\b)"
        ))
    });
    static ONE: LazyLock<Regex> = LazyLock::new(|| regex(&format!("(?i){LABEL}")));
    static SLASHED: LazyLock<Regex> = LazyLock::new(|| regex(r"(?i)[^\s,;:()\[\]{}/–-]+"));
    static PARTED: LazyLock<Regex> = LazyLock::new(|| regex(r"[^,;:()\[\]{}]+"));
    for line in LINE.captures_iter(&flow.text) {
        let Some(found) = line.get(1) else { continue };
        let before = flow.get(
            flow.text
                .get(..found.start())?
                .rfind('\n')
                .map_or(0, |at| at + 1),
            found.start(),
        );
        if before.to_lowercase().contains("needle") || before.to_lowercase().contains("larger") {
            continue;
        }
        // A list with brackets keeps `36/38` whole; one without is divided by its slashes or dashes.
        let bracketed = found.as_str().contains(['(', '[']);
        let one: &Regex = if bracketed || found.as_str().contains(' ') {
            &ONE
        } else {
            &SLASHED
        };
        let labels: Vec<String> = one
            .find_iter(found.as_str())
            .map(|label| label.as_str().to_owned())
            .collect();
        let labels: Vec<String> = labels.into_iter().filter(|label| !is_unit(label)).collect();
        // `80-84-88 (92-96-100)`: two sizes, each with several chests; `S (S/M, M)`: three. What the brackets and commas
        // part are the sizes where the lists of stitches have as many numbers.
        let whole: Vec<String> = PARTED
            .find_iter(found.as_str())
            .map(|label| label.as_str().trim().to_owned())
            .filter(|label| !label.is_empty() && !is_unit(label))
            .collect();
        let usual = usual_length(flow);
        let parted = bracketed && labels.len() != usual && whole.len() == usual;
        let labels = if parted { whole } else { labels };
        if labels.len() > 1 {
            return Some(Sizes {
                labels,
                evidence: vec![flow.evidence(line.get(0)?.start(), found.end())],
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
fn told(flow: &Flow) -> Option<Sizes> {
    static TOLD: LazyLock<Regex> = LazyLock::new(|| {
        regex(
            r"(?is)\bfor (?:the )?(?:size )?([\w -]{1,20}?)(?: size)?[.;,]\s*changes for (?:the )?(?:sizes? )?(.{1,80}?)\s+(?:sizes? )?(?:are|is) (?:given )?in (?:paren|brack|\()",
        )
    });
    let told = TOLD.captures(&flow.text)?;
    let mut labels = vec![told.get(1)?.as_str().trim().to_owned()];
    let rest = told.get(2)?.as_str().replace(" and ", ",");
    let more = rest
        .split([',', '(', ')', '[', ']', ':', '-'])
        .map(str::trim);
    labels.extend(more.filter(|label| !label.is_empty()).map(str::to_owned));
    let all = told.get(0)?;
    Some(Sizes {
        labels,
        evidence: vec![flow.evidence(all.start(), all.end())],
        doubt: String::new(),
    })
}

/// `To fit bust 81 [86:91] cm`: the busts name the sizes.
fn to_fit(flow: &Flow) -> Option<Sizes> {
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
    let labels: Vec<String> = numbers(fit.get(2)?.as_str())
        .iter()
        .map(|n| {
            format!("{} {unit}", in_trade_notation(&[*n]))
                .trim()
                .to_owned()
        })
        .collect();
    let all = fit.get(0)?;
    (labels.len() > 1).then(|| Sizes {
        labels,
        evidence: vec![flow.evidence(all.start(), all.end())],
        doubt: String::new(),
    })
}
