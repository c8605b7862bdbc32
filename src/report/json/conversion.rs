//! A conversion: one object, names as in the contract.

use serde_json::{Map, Value, json};

use super::adapt::{adapt_json, printed_json};
use super::check::strip_json;
use super::{cm, round};
use crate::case::Case;
use crate::convert::{
    Conversion, GaugesUsed, Landmark, Landmarks, Old, Patterned, SizeConversion, StripedSleeve,
    Written,
};
use crate::diagnostic::Diagnostic;
use crate::fit::{Measures, NearTie, SideMeasures, Stretch, TradePoint};
use crate::measure::{Gauge, Length};
use crate::outline::{ArmholeEdge, Cap};
use crate::pattern::{Ledger, LedgerRow};
use crate::plan::{CapPlan, Flank, FlankPlan};
use crate::stitch::PatternRow;
use crate::wording::Step;

/// A conversion as one JSON object, ready to be printed.
pub fn conversion_json(case: &Case, conversion: &Conversion) -> Value {
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": conversion.sizes.iter().map(size).collect::<Vec<_>>(),
        "findings": conversion.findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

/// A finding or diagnostic.
pub fn finding_json(finding: &Diagnostic) -> Value {
    json!({
        "code": finding.code.id,
        "level": finding.level.word(),
        "message": finding.message,
        "source": finding.code.source,
        "next": finding.advice(),
        "size": finding.size,
        "span": finding.span,
        "lines": finding.lines,
        "key": finding.key,
        "repairs": finding.repairs,
    })
}

fn size(size: &SizeConversion) -> Value {
    let mut all = plain_size(size);
    if let (Some(stripes), Some(all)) = (&size.stripes, all.as_object_mut()) {
        all.insert("stripes".to_owned(), striped(stripes));
    }
    all
}

/// Bands, where they meet the body's, and the stitches of each colour.
fn striped(sleeve: &StripedSleeve) -> Value {
    json!({
        "first_row": sleeve.first_row + 1,
        "bands": sleeve.bands.iter().map(|band| json!({
            "colour": band.colour, "from": band.from, "to": band.to, "stitches": band.stitches,
        })).collect::<Vec<_>>(),
        "meetings": sleeve.meetings.iter().map(|m| json!({
            "side": if m.flank == Flank::Front { "front" } else { "back" },
            "turn_pair": m.pair,
            "height_cm": cm(m.height),
            "body_row": m.body_row,
            "body_rows": m.body_rows,
            "rows_too_high": m.off,
            "same_colour": m.alike,
        })).collect::<Vec<_>>(),
        "yarn": sleeve.yarn.iter().map(|(colour, stitches)| json!({
            "colour": colour, "stitches": stitches,
        })).collect::<Vec<_>>(),
    })
}

fn plain_size(size: &SizeConversion) -> Value {
    let mut fit = fit(size);
    let (plan, measures, edge) = &size.recipe;
    if let Some(fit) = fit.as_object_mut() {
        fit.insert("gap_pct".to_owned(), round(size.fit.gap_pct(), 3));
        let ties = size.near_ties.iter().enumerate();
        fit.insert("near_ties".to_owned(), ties.map(near_tie).collect());
        fit.insert(
            "trade".to_owned(),
            size.fit.trade.iter().map(trade).collect(),
        );
    }
    json!({
        "size": size.old.size,
        "old_cap": old_cap(&size.old),
        "adapted_cap": adapted_cap(&size.old),
        "printed_cap": printed_json(&size.old),
        "adapt": adapt_json(&size.old),
        "armhole": armhole(&size.old.front, &size.old.back),
        "gauge": gauges(&size.gauge),
        "findings": size.findings.iter().map(finding_json).collect::<Vec<_>>(),
        "fit": fit,
        "baseline": cap(plan, measures, *edge, "not fitted"),
        "ease_strip": {
            "old": strip_json(&size.old.front_ease, &size.old.back_ease),
            "new": strip_json(&size.front_ease, &size.back_ease),
        },
        "sleeve": sleeve(size),
        "sensitivity": size.sensitivity.iter().map(|one| json!({
            "drift_pct": one.drift_pct, "upper_arm_cm": cm(one.upper_arm),
        })).collect::<Vec<_>>(),
        "landmarks": landmarks(&size.landmarks),
        "instructions": size
            .written
            .first()
            .map(|written| written.instructions.sentences())
            .unwrap_or_default(),
        "sleeves": size.written.iter().map(sleeve_json).collect::<Vec<_>>(),
        "knitted_stitches": {
            "old": size.flat_loops.count(),
            "new": size.loops.all().count(),
            "picked_up": size.loops.picked_up.count(),
        },
        "knits_back": size.written.iter().all(|written| written.knits_back),
    })
}

/// What the cap measures on the way.
fn landmarks(of: &Landmarks) -> Value {
    json!({
        "steps": of.steps.iter().map(landmark).collect::<Vec<_>>(),
        "half_way": of.half_way.as_ref().map(|half| json!({
            "at": landmark(&half.at),
            "end_cm": cm(half.end.length),
            "end_off_cm": cm(half.end.off),
            "pair_cm": cm(half.pair),
        })),
    })
}

fn landmark(of: &Landmark) -> Value {
    json!({
        "step": of.step,
        "turn_pairs": of.turn_pairs,
        "rows": 2 * of.turn_pairs,
        "depth_cm": cm(of.depth.length),
        "depth_off_cm": cm(of.depth.off),
        "width_cm": cm(of.width.length),
        "width_off_cm": cm(of.width.off),
    })
}

/// The text for one sleeve and what goes with it; its stitch pattern where the case tells one.
fn sleeve_json(written: &Written) -> Value {
    let mut sleeve = plain_sleeve(written);
    if let (Some(pattern), Some(sleeve)) = (&written.pattern, sleeve.as_object_mut()) {
        sleeve.insert("pattern".to_owned(), patterned(pattern));
    }
    sleeve
}

fn plain_sleeve(written: &Written) -> Value {
    json!({
        "sleeve": written.sleeve.word(),
        "instructions": written.instructions.sentences(),
        "before": written.before,
        "needles": written.needles,
        "stitch_pattern": written.stitch_pattern,
        "abbreviations": written.abbreviations.iter().map(|a| json!({
            "short": a.short, "meaning": a.meaning,
        })).collect::<Vec<_>>(),
        "pick_up_rows": written.lists.iter().map(|list| json!({
            "section": list.section, "counted_from": list.counted_from,
            "rows": list.rows, "of": list.of,
        })).collect::<Vec<_>>(),
    })
}

/// What of a stitch pattern lies on every stitch of the cap and of the first round.
fn patterned(pattern: &Patterned) -> Value {
    let layout = &pattern.layout;
    let ground = layout.ground();
    let rows = layout.rows();
    let panels = layout.panels.iter().map(|panel| {
        json!({
            "name": panel.name,
            "first_crown_stitch": panel.from + 1,
            "stitches": panel.drawn.chart.width(),
            "rows": panel.drawn.chart.height(),
            "first_row": panel.drawn.first_row + 1,
        })
    });
    json!({
        "repeat_stitches": ground.chart.width(),
        "repeat_rows": ground.chart.height(),
        "first_crown_stitch": layout.number(0),
        "first_row": ground.first_row + 1,
        "panels": panels.collect::<Vec<_>>(),
        "rows": rows.iter().map(pattern_row).collect::<Vec<_>>(),
        "sentences": pattern.words.section.steps.iter().map(Step::full).collect::<Vec<_>>(),
    })
}

/// A row seen from the right side, from right to left; the squares of a crossing name it each.
fn pattern_row(row: &PatternRow) -> Value {
    let stitches = row.cells.iter().map(|cell| cell.stitch.to_string());
    json!({
        "row": row.row,
        "side": if row.right_side { "RS" } else { "WS" },
        "repeat_row": row.of_ground,
        "panel_rows": row.of_panels,
        "first": row.first,
        "last": row.last,
        "new": row.new,
        "stitches": stitches.collect::<Vec<_>>(),
    })
}

/// The flat cap that a new one keeps: the old one, or what `[adapt]` put in its place.
pub(crate) fn old_cap(old: &Old) -> Value {
    cap_json(&old.cap, &old.ledger)
}

/// The same once more where `[adapt]` was asked; null without.
pub(crate) fn adapted_cap(old: &Old) -> Value {
    old.adapted.as_ref().map_or(Value::Null, |_| old_cap(old))
}

/// What is known of a flat cap.
pub(crate) fn cap_json(cap: &Cap, ledger: &Ledger) -> Value {
    json!({
        "rows": cap.rows().count(),
        "depth_cm": cm(cap.depth()),
        "area_cm2": round(cap.area_cm2(), 2),
        "edge_cm": cm(cap.edge()),
        "edge_above_underarm_cm": cm(cap.edge_above_underarm()),
        "stepped_edge_cm": cm(cap.stepped_edge()),
        "upper_arm_cm": cm(cap.upper_arm()),
        "top_cm": cm(cap.top()),
        "final_stitches": cap.final_stitches().count(),
        "ledger": ledger.rows.iter().map(ledger_row).collect::<Vec<_>>(),
    })
}

/// One row of a ledger.
pub(crate) fn ledger_row(row: &LedgerRow) -> Value {
    json!({
        "row": row.row,
        "side": row.side.word(),
        "bind_off": row.bind_off.count(),
        "decrease_start": row.decrease_start.count(),
        "decrease_end": row.decrease_end.count(),
        "stitches": row.stitches.count(),
    })
}

/// Both armholes.
pub(crate) fn armhole(front: &ArmholeEdge, back: &ArmholeEdge) -> Value {
    json!({
        "front_cm": cm(front.edge()),
        "back_cm": cm(back.edge()),
        "underarm_cm": cm(front.underarm_width() + back.underarm_width()),
        "depth_cm": cm((front.depth() + back.depth()) / 2.0),
        "rows_front": front.sites().count(),
        "rows_back": back.sites().count(),
    })
}

/// A gauge per 10 cm.
pub(crate) fn gauge_json(gauge: Gauge) -> Value {
    json!({
        "stitches": round(gauge.stitches_per_10cm(), 4),
        "rows": round(gauge.rows_per_10cm(), 4),
    })
}

/// The gauges used.
pub(crate) fn gauges(gauge: &GaugesUsed) -> Value {
    let change = gauge.change();
    json!({
        "pattern": gauge_json(gauge.pattern),
        "body": gauge_json(gauge.body),
        "cap": gauge_json(gauge.cap),
        "tube": gauge_json(gauge.tube),
        "drift_stitches_pct": round(change.stitches_pct, 2),
        "drift_rows_pct": round(change.rows_pct, 2),
        "tube_assumed": gauge.tube_assumed,
    })
}

fn fit(size: &SizeConversion) -> Value {
    let fit = &size.fit;
    cap(&fit.plan, &fit.measures, size.edge, fit.status.word())
}

fn cap(plan: &CapPlan, measures: &Measures, edge: Length, status: &str) -> Value {
    // A row high or nothing: the case says which.
    let picked_up_row = u8::from(measures.picked_up.is_positive());
    let terms: Map<String, Value> = measures
        .terms
        .iter()
        .map(|(name, value)| ((*name).to_owned(), round(*value, 6)))
        .collect();
    json!({
        "crown": plan.crown.stitches.count(),
        "live": plan.crown.live.count(),
        "crown_rows": plan.crown.rows.count(),
        "base": plan.base().count(),
        "turn_pairs": plan.turn_pairs(),
        "upper_arm_stitches": plan.upper_arm().count(),
        "join_change": plan.join_change,
        "picked_up_row": picked_up_row,
        "upper_arm_cm": cm(measures.upper_arm),
        "depth_cm": cm(measures.depth),
        "area_cm2": round(measures.area_cm2, 2),
        "area_error_pct": round(measures.area_error_pct, 3),
        "depth_error_cm": cm(measures.depth_error),
        "width_rms_cm": cm(measures.width_rms),
        "edge_cm": cm(edge),
        "ease_pct": round(measures.ease_pct(), 2),
        "local_strain_rms_pct": round(measures.strain_rms_pct, 2),
        "runs": plan.runs(),
        "objective": round(measures.objective, 6),
        "objective_terms": terms,
        "status": status,
        "front": flank(&plan.front, &measures.front),
        "back": flank(&plan.back, &measures.back),
    })
}

fn flank(flank: &FlankPlan, side: &SideMeasures) -> Value {
    json!({
        "picked_up": flank.picked_up().count(),
        "decreases": flank.decreases().count(),
        "moves": flank.moves,
        "zones": flank.zones,
        "strain": side.runs().iter().map(stretch).collect::<Vec<_>>(),
        "edge_cm": cm(side.edge),
        "ease_pct": round(side.ease_pct(), 2),
    })
}

/// A run against the armhole its stitches are picked up from.
fn stretch(stretch: &Stretch) -> Value {
    json!({
        "moves": stretch.moves,
        "stitches": stretch.stitches.count(),
        "cap_cm": cm(stretch.cap),
        "armhole_cm": cm(stretch.armhole),
        "strain_pct": round(stretch.strain_pct(), 2),
    })
}

fn trade(point: &TradePoint) -> Value {
    let Some((plan, measures)) = &point.cap else {
        return json!({ "runs": point.runs, "objective": null });
    };
    json!({
        "runs": point.runs,
        "objective": round(measures.objective, 6),
        "area_error_pct": round(measures.area_error_pct, 3),
        "depth_error_cm": cm(measures.depth_error),
        "width_rms_cm": cm(measures.width_rms),
        "ease_pct": round(measures.ease_pct(), 2),
        "local_strain_rms_pct": round(measures.strain_rms_pct, 2),
        "decreases": plan.front.decreases().count() + plan.back.decreases().count(),
    })
}

fn near_tie((i, tie): (usize, &NearTie)) -> Value {
    json!({
        "choice": i + 2,
        "simpler": tie.simpler.iter().map(|simpler| simpler.words()).collect::<Vec<_>>(),
        "runs": tie.plan.runs(),
        "objective": round(tie.measures.objective, 6),
        "area_error_pct": round(tie.measures.area_error_pct, 3),
        "front": flank(&tie.plan.front, &tie.measures.front),
        "back": flank(&tie.plan.back, &tie.measures.back),
    })
}

fn sleeve(size: &SizeConversion) -> Value {
    match &size.tube {
        Some(tube) => json!({
            "decrease_rounds": tube.decrease_rounds,
            "widens": tube.cuff > tube.upper_arm,
            "cuff_stitches": tube.cuff.count(),
            "rounds": tube.rounds.count(),
        }),
        None => json!({ "decrease_rounds": [], "cuff_stitches": null, "rounds": null }),
    }
}
