//! What was found, as the reader at hand can use it.

use super::{FindingBlock, Reader};
use crate::case::ONE_SIZE;
use crate::diagnostic::{Diagnostic, Group, groups};

/// One finding, its size not named: it stands under the size's own heading.
pub(super) fn of_size(finding: &Diagnostic, reader: Reader) -> FindingBlock {
    FindingBlock {
        about: String::new(),
        ..told(finding, reader)
    }
}

/// One finding with the size it concerns.
pub(super) fn told(finding: &Diagnostic, reader: Reader) -> FindingBlock {
    FindingBlock {
        level: finding.level,
        code: finding.code.id,
        about: finding
            .size
            .as_ref()
            .filter(|size| *size != ONE_SIZE)
            .map(|size| format!("size {size}"))
            .unwrap_or_default(),
        message: message(&finding.message, reader),
        next: next(finding.advice(), reader),
        source: reader.is_sheet().then_some(finding.code.source),
    }
}

/// Every finding of a list once: those alike but for their figures are told of the first, with the
/// sizes that have them.
pub(super) fn once(findings: &[&Diagnostic], of: usize, reader: Reader) -> Vec<FindingBlock> {
    let groups = groups(findings.iter().copied());
    let told = groups.iter().map(|group| of_group(group, of, reader));
    if reader == Reader::Terminal {
        return told.collect();
    }
    let mut all: Vec<FindingBlock> = Vec::new();
    for finding in told {
        match all
            .iter_mut()
            .find(|known| of_another_swatch(known, &finding))
        {
            Some(known) => {
                if let Some((name, rest)) = swatch_of(&known.message) {
                    known.message = format!("{name}, {}: {rest}", other_swatch(&finding.message));
                }
            }
            None => all.push(finding),
        }
    }
    all
}

/// True where the same is said of two swatches.
fn of_another_swatch(one: &FindingBlock, other: &FindingBlock) -> bool {
    let rest =
        |finding: &FindingBlock| swatch_of(&finding.message).map(|(_, rest)| rest.to_owned());
    one.code == other.code
        && one.about == other.about
        && rest(one).is_some_and(|r| rest(other) == Some(r))
}

/// `Flat swatch` and what is said of it.
fn swatch_of(message: &str) -> Option<(&str, &str)> {
    let (name, rest) = message.split_once(": ")?;
    let last = name.rsplit(", ").next().unwrap_or(name);
    let known = SWATCHES
        .iter()
        .any(|(_, words)| words.eq_ignore_ascii_case(last));
    known.then_some((name, rest))
}

fn other_swatch(message: &str) -> String {
    swatch_of(message).map_or_else(String::new, |(name, _)| name.to_lowercase())
}

/// The tables of gauge, and what they are called where nobody sees a case file.
const SWATCHES: [(&str, &str); 5] = [
    ("[gauge.flat] ", "Flat swatch"),
    ("[gauge.round] ", "Swatch in the round"),
    ("[gauge.pattern] ", "The pattern's gauge"),
    ("[gauge.body] ", "The body's gauge"),
    ("[so_far.gauge] ", "The other needles' swatch"),
];

/// A message without the name of a table where its reader knows none.
fn message(of: &str, reader: Reader) -> String {
    let named = SWATCHES.iter().find_map(|(table, words)| {
        let rest = of.strip_prefix(table)?;
        Some(format!("{words}: {rest}"))
    });
    named
        .filter(|_| reader != Reader::Terminal)
        .unwrap_or_else(|| of.to_owned())
}

/// A group of findings as one; `of` is how many sizes there are.
pub(super) fn of_group(group: &Group<'_>, of: usize, reader: Reader) -> FindingBlock {
    let about = match group.sizes.as_slice() {
        [] => String::new(),
        [_] if of <= 1 => String::new(),
        all if all.len() == of => format!("all {of} sizes"),
        [one] => format!("size {one}"),
        some => format!("sizes {}", some.join(", ")),
    };
    let told = told(group.first, reader);
    FindingBlock {
        about,
        message: told.message + &group.figures(),
        ..told
    }
}

/// What this reader can do about it: only a terminal knows keys and options.
fn next(advice: &str, reader: Reader) -> Option<String> {
    if reader == Reader::Terminal {
        return Some(advice.to_owned());
    }
    let said: Vec<&str> = advice
        .split_inclusive(". ")
        .filter(|sentence| !names_a_key(sentence))
        .collect();
    let said = said.concat().trim().to_owned();
    (!said.is_empty()).then_some(said)
}

/// True where a sentence names an option, a command, or a key of the case: `--runs`, `` `check` ``,
/// `sleeve.length`, `[body]`, `keep = ...`, `live_stitches`.
fn names_a_key(sentence: &str) -> bool {
    let key = |word: &str| {
        let word = word.trim_matches(|c: char| !c.is_ascii_alphanumeric());
        word.contains('_')
            || word
                .split_once('.')
                .is_some_and(|(table, key)| starts_small(table) && starts_small(key))
    };
    sentence.contains(['`', '[', '='])
        || sentence.contains("--")
        || sentence.split_whitespace().any(key)
}

fn starts_small(word: &str) -> bool {
    word.len() > 1 && word.starts_with(|c: char| c.is_ascii_lowercase())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_terminal_is_told_of_keys_and_options() {
        let advice = "Ease the rest in. Or give sleeve.length in the case.";
        assert_eq!(next(advice, Reader::Terminal).as_deref(), Some(advice));
        assert_eq!(
            next(advice, Reader::Paper).as_deref(),
            Some("Ease the rest in.")
        );
        for key in [
            "Set fit.runs.",
            "Take --runs 3.",
            "See `check`.",
            "Fill in [body].",
        ] {
            assert_eq!(next(key, Reader::Paper), None, "{key}");
        }
        let plain = "Count in two more places, e.g. over 4.5 in.";
        assert_eq!(next(plain, Reader::Page).as_deref(), Some(plain));
    }
}
