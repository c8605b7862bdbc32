//! The lesson on drift as one JSON object.

use serde_json::{Value, json};

use super::conversion::{finding_json, gauge_json, gauges};
use super::{cm, round};
use crate::case::Case;
use crate::convert::GaugeSource;
use crate::convert::drift::{
    ASSUMED_PCT, Assumption, DriftLesson, NextSwatch, PlannedSleeve, QuantityKind, QuantitySpread,
    SizeDrift, SleevePart, Sweep, SweepRow, Taken, Why,
};
use crate::measure::Length;
use crate::swatch::statistics::Fieller;
use crate::swatch::{Drift, Estimate, Measured, Method, Ratio, Verdict};

/// A lesson as one JSON object. Gauge is per 10 cm.
pub fn drift_json(case: &Case, lesson: &DriftLesson) -> Value {
    let swatches = &lesson.gauge.swatches;
    json!({
        "case": case.title,
        "units": case.units.word(),
        "gauge": gauges(&lesson.gauge),
        "swatches": {
            "pattern": measured(&swatches.pattern),
            "flat": swatches.flat.as_ref().map(measured),
            "round": swatches.round.as_ref().map(measured),
        },
        "drift": lesson.gauge.drift.as_ref().map(drift),
        "verdicts": lesson.verdicts.iter().map(finding_json).collect::<Vec<_>>(),
        "assumptions": lesson.assumptions.iter().map(assumption).collect::<Vec<_>>(),
        "next_swatch": next_swatch(&lesson.next),
        "sizes": lesson.sizes.iter().map(|one| size(lesson, one)).collect::<Vec<_>>(),
        "findings": lesson.findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

fn measured(swatch: &Measured) -> Value {
    json!({
        "stitches": estimate(&swatch.stitches),
        "rows": estimate(&swatch.rows),
        "stitch_row_ratio": round(swatch.stitch_row_ratio(), 4),
    })
}

fn estimate(estimate: &Estimate) -> Value {
    json!({
        "mean": round(estimate.mean, 4),
        "counts": estimate.counts,
        "sd": estimate.sd.map(|sd| round(sd, 4)),
        "low": estimate.interval().map(|of| round(of.low, 4)),
        "high": estimate.interval().map(|of| round(of.high, 4)),
        "reading_error": round(estimate.reading_error, 4),
        "standard_error": round(estimate.standard_error, 5),
        "degrees_of_freedom": estimate.degrees_of_freedom,
        "method": match estimate.method {
            Method::ReadingError if !estimate.is_repeated() => "one count",
            Method::ReadingError => "reading error",
            Method::StudentT => "Student t",
        },
    })
}

fn drift(drift: &Drift) -> Value {
    json!({ "stitches": ratio(&drift.stitches), "rows": ratio(&drift.rows) })
}

fn ratio(ratio: &Ratio) -> Value {
    json!({
        "ratio": round(ratio.ratio, 5),
        "pct": round(ratio.pct, 3),
        "low": ratio.interval().map(|of| round(of.low, 5)),
        "high": ratio.interval().map(|of| round(of.high, 5)),
        "fieller": match ratio.fieller {
            Fieller::Between { low, high } if ratio.repeated => json!([round(low, 5), round(high, 5)]),
            _ => Value::Null,
        },
        "p": ratio.repeated.then(|| round(ratio.welch.p, 5)),
        "verdict": match ratio.verdict {
            Verdict::Differ => "differ",
            Verdict::Alike => "alike",
            Verdict::Open => "open",
        },
    })
}

fn assumption(assumption: &Assumption) -> Value {
    json!({
        "part": part(assumption.part),
        "taken": assumption.taken.word(),
        "gauge": gauge_json(assumption.gauge),
        "range_pct": [-ASSUMED_PCT, ASSUMED_PCT],
    })
}

const fn part(part: SleevePart) -> &'static str {
    match part {
        SleevePart::Cap => "cap",
        SleevePart::Tube => "tube",
    }
}

fn next_swatch(next: &NextSwatch) -> Value {
    json!({
        "swatch": next.swatch.word(),
        "why": match next.why {
            Why::Missing => "missing",
            Why::LeastSure => "least sure",
        },
        "cast_on": next.cast_on.count(),
        "width_cm": cm(next.width),
        "rows": next.rows.count(),
        "count_over_cm": cm(next.count_over),
        "places": next.places,
    })
}

/// A measure with its interval; `by` lists what moves it, the largest effect first.
fn spread(lesson: &DriftLesson, order: &[usize], spread: &QuantitySpread) -> Value {
    let effects = order.iter().filter_map(|&place| {
        let effect = spread.effects.get(place).copied().flatten()?;
        let input = lesson.inputs.get(place)?;
        Some(json!({
            "input": input.name(),
            "assumed": input.assumed,
            "at_low": round(effect.at_low, 3),
            "at_high": round(effect.at_high, 3),
            "either_way": round(effect.either_way(), 4),
            "variance_share": effect.variance_share.map(|share| round(share, 4)),
        }))
    });
    let counted = spread.is_counted();
    let interval = |low: f64, high: f64| counted.then(|| json!([round(low, 3), round(high, 3)]));
    json!({
        "measure": spread.quantity.name(),
        "unit": match spread.quantity.kind() {
            QuantityKind::Length => "cm",
            QuantityKind::Area => "cm2",
            QuantityKind::Share => "%",
        },
        "value": round(spread.value, 3),
        "interval": interval(spread.low, spread.high),
        "simulated": interval(spread.simulated.low, spread.simulated.high),
        "assumed": spread.is_assumed(),
        "by": effects.collect::<Vec<_>>(),
    })
}

fn size(lesson: &DriftLesson, size: &SizeDrift) -> Value {
    let wanted = &size.wanted;
    json!({
        "size": size.size,
        "wanted": {
            "upper_arm_cm": cm(wanted.upper_arm),
            "depth_cm": cm(wanted.depth),
            "area_cm2": round(wanted.area_cm2, 2),
            "cuff_cm": wanted.cuff.map(cm),
            "underarm_to_cuff_cm": wanted.tube_length.map(cm),
        },
        "sleeves": size.sleeves.iter().map(sleeve).collect::<Vec<_>>(),
        "spreads": size.spreads.iter().map(|one| spread(lesson, &size.by_effect, one)).collect::<Vec<_>>(),
        "tighter_than_wanted": size.tighter.map(|tighter| json!({
            "chance": round(tighter.at_all, 4),
            "chance_by_margin": round(tighter.by_margin, 4),
            "margin_cm": cm(tighter.margin),
        })),
        "sweeps": size.sweeps.iter().map(sweep).collect::<Vec<_>>(),
        "findings": size.findings.iter().map(finding_json).collect::<Vec<_>>(),
    })
}

fn optional_cm(length: Option<Length>) -> Value {
    length.map_or(Value::Null, cm)
}

fn sleeve(sleeve: &PlannedSleeve) -> Value {
    let (plan, knitted, off) = (&sleeve.plan, &sleeve.knitted, &sleeve.off);
    json!({
        "planned_with": match sleeve.taken {
            Taken::EachItsOwn => "each its own",
            Taken::PlainJoin => "each its own, joined plainly",
            Taken::OneForAll(GaugeSource::Pattern) => "pattern",
            Taken::OneForAll(GaugeSource::Flat) => "flat",
            Taken::OneForAll(GaugeSource::Round) => "round",
        },
        "upper_arm_stitches": plan.cap.upper_arm().count(),
        "cap_rows": 2 * plan.cap.turn_pairs(),
        "cuff_stitches": plan.tube.as_ref().map(|tube| tube.cuff.count()),
        "rounds": plan.tube.as_ref().map(|tube| tube.rounds.count()),
        "upper_arm_cm": cm(knitted.upper_arm),
        "join_cap_side_cm": cm(knitted.join_cap_side),
        "jump_cm": cm(knitted.jump()),
        "depth_cm": cm(knitted.depth),
        "area_cm2": round(knitted.area_cm2, 2),
        "armhole_share_pct": round(knitted.armhole_share_pct, 2),
        "cuff_cm": optional_cm(knitted.cuff),
        "underarm_to_cuff_cm": optional_cm(knitted.tube_length),
        "off": {
            "upper_arm_cm": cm(off.upper_arm),
            "depth_cm": cm(off.depth),
            "area_pct": round(off.area_pct, 2),
            "cuff_cm": optional_cm(off.cuff),
            "underarm_to_cuff_cm": optional_cm(off.tube_length),
            "stitches": off.stitches,
            "cap_rows": off.cap_rows,
            "rounds": off.rounds,
        },
    })
}

fn sweep(sweep: &Sweep) -> Value {
    json!({
        "part": part(sweep.part),
        "planned_at": gauge_json(sweep.planned_at),
        "assumed": sweep.assumed,
        "upper_arm_stitches": sweep.stitches.count(),
        "rounds": sweep.rounds.map(crate::measure::Rows::count),
        "rows": sweep.rows.iter().map(sweep_row).collect::<Vec<_>>(),
    })
}

fn sweep_row(row: &SweepRow) -> Value {
    let knitted = &row.knitted;
    json!({
        "drift_pct": row.drift_pct,
        "upper_arm_cm": cm(knitted.upper_arm),
        "upper_arm_off_cm": cm(row.upper_arm_off),
        "jump_cm": cm(knitted.jump()),
        "depth_cm": cm(knitted.depth),
        "depth_off_cm": cm(row.depth_off),
        "area_cm2": round(knitted.area_cm2, 2),
        "area_pct": round(row.area_pct, 2),
        "armhole_share_pct": round(knitted.armhole_share_pct, 2),
        "cuff_cm": optional_cm(knitted.cuff),
        "underarm_to_cuff_cm": optional_cm(knitted.tube_length),
        "underarm_to_cuff_off_cm": optional_cm(row.tube_off),
        "right_stitches": row.right_stitches.count(),
        "right_rounds": row.right_rounds.map(crate::measure::Rows::count),
    })
}
