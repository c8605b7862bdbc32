//! What `[adapt]` did.

use serde_json::{Value, json};

use super::conversion::cap_json;
use super::{cm, round};
use crate::convert::Old;

/// `adapt` of one size; null without the table in the case.
pub(super) fn adapt_json(old: &Old) -> Value {
    let Some(adapted) = &old.adapted else {
        return Value::Null;
    };
    let outline = &adapted.outline;
    json!({
        "status": outline.status.word(),
        "keep": adapted.printed.as_ref().map(|_| adapted.keep.word()),
        "wished_upper_arm_cm": cm(outline.upper_arm),
        "wished_edge_cm": cm(outline.edge),
        "front_left_cm": cm(outline.front_left),
        "back_left_cm": cm(outline.back_left),
        "front_rows": adapted.front_rows,
        "back_rows": adapted.back_rows,
        "armhole_rows_instead": adapted.instead_rows,
        "rounds_below": adapted.rounds,
        "bend_cm": cm(outline.bend),
        "depth_rules": adapted.rules.iter().map(|rule| json!({
            "rule": rule.rule.word(),
            "depth_cm": cm(rule.depth),
            "off_pct": round(100.0 * (old.cap.depth() / rule.depth - 1.0), 1),
            "says": rule.says,
            "source": rule.source,
        })).collect::<Vec<_>>(),
        "lines": adapted.lines,
    })
}

/// The cap as its lines have it, where another outline took its place; null without an old cap.
pub(super) fn printed_json(old: &Old) -> Value {
    let printed = old.adapted.as_ref().and_then(|a| a.printed.as_ref());
    printed.map_or(Value::Null, |(ledger, cap)| cap_json(cap, ledger))
}
