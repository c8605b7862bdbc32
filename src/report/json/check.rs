//! The old garment and what was found.

use serde_json::{Value, json};

use super::adapt::{adapt_json, printed_json};
use super::conversion::{adapted_cap, armhole, finding_json, old_cap};
use super::{cm, round};
use crate::case::Case;
use crate::convert::Old;
use crate::diagnostic::Diagnostic;
use crate::outline::{CapCurve, EaseBand};
use crate::report::document::{Group, all_groups};

/// The old garment and its findings as one JSON object.
pub fn check_json(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Value {
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": sizes.iter().map(size_json).collect::<Vec<_>>(),
        "findings": findings.iter().map(finding_json).collect::<Vec<_>>(),
        "groups": all_groups(sizes, findings).iter().map(group_json).collect::<Vec<_>>(),
    })
}

fn size_json(old: &Old) -> Value {
    let (front, back) = old.ease();
    json!({
        "size": old.size,
        "old_cap": old_cap(old),
        "adapted_cap": adapted_cap(old),
        "printed_cap": printed_json(old),
        "adapt": adapt_json(old),
        "curve": curve_json(old),
        "armhole": armhole(&old.front, &old.back),
        "depth_share": round(old.depth_share(), 4),
        "ease": { "front_cm": cm(front), "back_cm": cm(back) },
        "ease_strip": strip_json(&old.front_ease, &old.back_ease),
        "arm": old.arm.as_ref().map(|arm| json!(arm.view())),
        "arm_share": old.share.map(|share| json!({
            "people": old.arm.as_ref().map(|arm| arm.people.as_str()),
            "as_it_is": coarse(share.as_it_is),
            "at_armpit": share.at_armpit.map(coarse),
            "stretched": coarse(share.stretched),
            "at_chosen_ease": share.at_ease.map(coarse),
        })),
        "findings": old.findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

/// A share to the nearest twentieth: a survey's few hundred people of one size know it no finer.
fn coarse(share: f64) -> Value {
    round((share * 20.0).round() / 20.0, 2)
}

/// Ease along both edges, from the underarm up.
pub(crate) fn strip_json(front: &[EaseBand], back: &[EaseBand]) -> Value {
    json!({
        "front": front.iter().map(band_json).collect::<Vec<_>>(),
        "back": back.iter().map(band_json).collect::<Vec<_>>(),
    })
}

fn curve_json(old: &Old) -> Value {
    let deviations =
        old.cap.row_deviations().into_iter().map(
            |deviation| json!({ "row": deviation.row, "stitches": round(deviation.stitches, 2) }),
        );
    json!({
        "inflection_cm": CapCurve::of(&old.cap).map(|curve| cm(curve.inflection())),
        "deviations": deviations.collect::<Vec<_>>(),
    })
}

fn band_json(band: &EaseBand) -> Value {
    json!({
        "from_cm": cm(band.from),
        "to_cm": cm(band.to),
        "cap_cm": cm(band.cap),
        "armhole_cm": cm(band.armhole),
        "ease_cm": cm(band.ease()),
        "ease_pct": round(band.pct(), 1),
    })
}

fn group_json(group: &Group<'_>) -> Value {
    json!({
        "code": group.first.code.id,
        "level": group.first.level.word(),
        "sizes": group.sizes,
        "message": group.first.message,
        "next": group.first.advice(),
    })
}
