//! The repairs beside the findings they cure, in words.

use crate::diagnostic::{Diagnostic, Repair};

use super::codes;
use super::context::Context;
use super::repair::{Repairs, ordinal_suffix};

/// Gives a finding about counts, lists or sides the repairs that cure it.
pub(super) fn attach(diagnostic: &mut Diagnostic, found: &Repairs, context: &Context, text: &str) {
    let cured = [
        &codes::STATED_COUNT,
        &codes::STATED_SIDE,
        &codes::ODD_REMAINDER,
        &codes::OUT_OF_REACH,
        &codes::TOO_MANY_REMOVED,
        &codes::AFTER_THE_END,
        &codes::LIST_LENGTH,
    ];
    if !cured.iter().any(|c| c.id == diagnostic.code.id) {
        return;
    }
    let label = diagnostic.size.as_ref();
    let size = label.and_then(|l| context.sizes.iter().position(|s| s == l));
    let own = size.and_then(|s| found.sizes.get(s));
    let (repairs, scope) = match own {
        Some(own) if found.whole.is_empty() => (own, "of this size"),
        _ => (&found.whole, "in every size"),
    };
    if let Some(best) = repairs.first() {
        diagnostic.next = advice(best, repairs.len(), scope, text);
    }
    if let Some(start) = other_start(found, size) {
        let before = match diagnostic.next.as_str() {
            "" => String::new(),
            next => format!("{next} "),
        };
        diagnostic.next = format!(
            "{before}With {start} stitches before the lines every stated count agrees too."
        );
    }
    diagnostic.repairs.clone_from(repairs);
}

/// The other count before the lines: of this size, or one for each faulty size.
fn other_start(found: &Repairs, size: Option<usize>) -> Option<String> {
    let of = |size: usize| found.starts.get(size).copied().flatten();
    if let Some(size) = size {
        return of(size).map(|start| start.to_string());
    }
    let all = found.starts.iter().map(|s| s.map(|s| s.to_string()));
    let all: Vec<String> = all.collect::<Option<_>>()?;
    (!all.is_empty()).then(|| all.join(", "))
}

/// `'5'`, or `the second '5'` where the text has several.
fn named(best: &Repair, text: &str) -> String {
    let old = text.get(best.span.from..best.span.to).unwrap_or_default();
    let alone = |at: usize| {
        let before = text.get(..at).and_then(|t| t.chars().next_back());
        let after = text.get(at + old.len()..).and_then(|t| t.chars().next());
        let joined = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        !joined(before) && !joined(after)
    };
    let places: Vec<usize> = text
        .match_indices(old)
        .map(|(at, _)| at)
        .filter(|&at| alone(at))
        .collect();
    let place = places.iter().position(|&at| at == best.span.from);
    match place.filter(|_| places.len() > 1) {
        Some(place) => format!("the {} '{old}'", ordinal(place + 1)),
        None => format!("'{old}'"),
    }
}

fn ordinal(place: usize) -> String {
    let words = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth",
    ];
    if let Some(word) = place.checked_sub(1).and_then(|at| words.get(at)) {
        return (*word).to_owned();
    }
    let place = u32::try_from(place).unwrap_or(u32::MAX);
    format!("{place}{}", ordinal_suffix(place))
}

fn advice(best: &Repair, count: usize, scope: &str, text: &str) -> String {
    let old = text.get(best.span.from..best.span.to).unwrap_or_default();
    let change = match (old.is_empty(), best.text.is_empty()) {
        (true, _) => format!("'{}' added", best.text.trim()),
        (_, true) => format!("'{}' left out", old.trim()),
        _ => format!("'{}' in place of {}", best.text, named(best, text)),
    };
    match count {
        1 => format!(
            "With {change} every stated count {scope} agrees; compare with the printed page."
        ),
        n => format!(
            "{n} changes of one number make every stated count {scope} agree; the likeliest is {change}. Compare with the printed page."
        ),
    }
}
