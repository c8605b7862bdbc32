//! What was found, as the reader at hand can use it.

use super::groups::{Group, groups};
use super::{Finding, Reader};
use crate::diagnostic::Diagnostic;

/// One finding, its size not named: it stands under the size's own heading.
pub(super) fn of_size(finding: &Diagnostic, reader: Reader) -> Finding {
    Finding {
        about: String::new(),
        ..told(finding, reader)
    }
}

/// One finding with the size it concerns.
pub(super) fn told(finding: &Diagnostic, reader: Reader) -> Finding {
    Finding {
        level: finding.level,
        code: finding.code.id,
        about: finding
            .size
            .as_ref()
            .map(|size| format!("size {size}"))
            .unwrap_or_default(),
        message: finding.message.clone(),
        next: next(finding.advice(), reader),
        source: reader.is_sheet().then_some(finding.code.source),
    }
}

/// Every finding of a list once: those alike but for their figures are told of the first, with the
/// sizes that have them.
pub(super) fn once(findings: &[&Diagnostic], of: usize, reader: Reader) -> Vec<Finding> {
    groups(findings.iter().copied())
        .iter()
        .map(|group| of_group(group, of, reader))
        .collect()
}

/// A group of findings as one; `of` is how many sizes there are.
pub(super) fn of_group(group: &Group<'_>, of: usize, reader: Reader) -> Finding {
    let about = match group.sizes.as_slice() {
        [] => String::new(),
        [_] if of <= 1 => String::new(),
        all if all.len() == of => format!("all {of} sizes"),
        [one] => format!("size {one}"),
        some => format!("sizes {}", some.join(", ")),
    };
    let figures = match group.sizes.as_slice() {
        [first, _, ..] if group.differs => format!(" (figures of size {first})"),
        _ => String::new(),
    };
    let told = told(group.first, reader);
    Finding {
        about,
        message: told.message + &figures,
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
