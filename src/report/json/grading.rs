//! All sizes side by side.

use serde_json::{Value, json};

use super::round;
use crate::case::Case;
use crate::convert::{Conversion, MeasureKind, grading};
use crate::measure::nearest_whole;
use crate::plan::Move;
use crate::report::document::labels;

/// All sizes as one JSON object. Lengths are centimetres.
pub fn grading_json(case: &Case, conversion: &Conversion) -> Value {
    let grading = grading(case, conversion);
    let measures = grading.measures.iter().map(|measure| {
        let number = |value: &Option<f64>| value.map(|value| number(measure.kind, value));
        json!({
            "name": measure.name,
            "unit": unit(measure.kind),
            "values": measure.values.iter().map(number).collect::<Vec<_>>(),
            "steps": measure.steps().iter().map(number).collect::<Vec<_>>(),
        })
    });
    let out_of_step = grading.out_of_step.iter().map(|found| {
        json!({
            "measure": grading.measures.get(found.measure).map(|m| m.name),
            "size": grading.sizes.get(found.size),
            "step": round(found.step, 3),
            "usual": round(found.usual, 3),
        })
    });
    let structures = grading.structures.iter().map(|structure| {
        json!({
            "sizes": labels(&grading, structure),
            "front": runs_json(&structure.front),
            "back": runs_json(&structure.back),
        })
    });
    json!({
        "case": case.title,
        "units": case.units.word(),
        "sizes": grading.sizes,
        "measures": measures.collect::<Vec<_>>(),
        "out_of_step": out_of_step.collect::<Vec<_>>(),
        "structures": structures.collect::<Vec<_>>(),
        "to_paste": grading.sentences(conversion, case.style.terms),
    })
}

fn runs_json(runs: &[(Move, Vec<u32>)]) -> Vec<Value> {
    let runs = runs.iter();
    runs.map(|(m, times)| json!({ "move": m, "times": times }))
        .collect()
}

/// Counts are whole numbers, the others have three decimals.
pub(crate) fn number(kind: MeasureKind, value: f64) -> Value {
    match kind {
        MeasureKind::Count if value < 0.0 => json!(-i64::from(nearest_whole(-value))),
        MeasureKind::Count => json!(nearest_whole(value)),
        MeasureKind::Length | MeasureKind::Percent => round(value, 3),
    }
}

pub(crate) const fn unit(kind: MeasureKind) -> &'static str {
    match kind {
        MeasureKind::Count => "count",
        MeasureKind::Length => "cm",
        MeasureKind::Percent => "percent",
    }
}
