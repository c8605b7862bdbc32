//! The repairs beside the findings they cure, in words.

use crate::diagnostic::{Diagnostic, Repair};

use super::codes;
use super::context::Context;
use super::repair::Found;

/// Gives a finding about counts, lists or sides the repairs that cure it.
pub(super) fn attach(diagnostic: &mut Diagnostic, found: &Found, context: &Context, text: &str) {
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
    diagnostic.repairs.clone_from(repairs);
}

fn advice(best: &Repair, count: usize, scope: &str, text: &str) -> String {
    let old = text.get(best.span.from..best.span.to).unwrap_or_default();
    let change = match (old.is_empty(), best.text.is_empty()) {
        (true, _) => format!("'{}' added", best.text.trim()),
        (_, true) => format!("'{}' left out", old.trim()),
        _ => format!("'{}' in place of '{old}'", best.text),
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
