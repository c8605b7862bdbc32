//! All sizes side by side.

use serde::Serialize;
use serde_json::{Value, json};

use super::all;
use super::rounded::Rounded;
use crate::case::Case;
use crate::convert::{
    Conversion, Grading, Measure, MeasureKind, OutOfStep, Structure, Turned, grading,
};
use crate::measure::nearest_whole;
use crate::plan::Move;
use crate::report::document::labels;

/// All sizes as one JSON object.
pub fn grading_json(case: &Case, conversion: &Conversion) -> Value {
    let grading = grading(case, conversion);
    let out_of_step = grading.out_of_step.iter();
    let turned = grading.turned.iter();
    let structures = grading.structures.iter();
    json!(GradingJson {
        case: &case.title,
        units: case.units.word(),
        sizes: &grading.sizes,
        measures: all(&grading.measures),
        out_of_step: out_of_step
            .map(|found| OutOfStepJson::of(found, &grading))
            .collect(),
        turned: turned.map(|one| TurnedJson::of(one, &grading)).collect(),
        structures: structures
            .map(|one| StructureJson::of(one, &grading))
            .collect(),
        to_paste: grading.sentences(conversion, case.style.terms),
    })
}

#[derive(Serialize)]
struct GradingJson<'a> {
    /// The case's title.
    case: &'a str,
    /// The units of its texts: `cm` or `in`.
    units: &'static str,
    sizes: &'a [String],
    measures: Vec<MeasureJson>,
    /// Steps that are out of proportion, measure by measure.
    out_of_step: Vec<OutOfStepJson<'a>>,
    /// Steps against the order of the sizes.
    turned: Vec<TurnedJson<'a>>,
    /// Sizes that are built alike.
    structures: Vec<StructureJson<'a>>,
    /// Sentences for the pattern, with lists of the sizes' numbers.
    to_paste: Vec<String>,
}

/// One measure of every size.
#[derive(Serialize)]
struct MeasureJson {
    name: &'static str,
    /// `count`, `cm` or `percent`.
    unit: &'static str,
    /// One a size; null where a size has none.
    values: Vec<Option<MeasureNumber>>,
    /// From each size to the next.
    steps: Vec<Option<MeasureNumber>>,
}

impl From<&Measure> for MeasureJson {
    fn from(measure: &Measure) -> Self {
        let numbers = |list: &[Option<f64>]| {
            let number = |value: &Option<f64>| value.map(|value| number(measure.kind, value));
            list.iter().map(number).collect()
        };
        Self {
            name: measure.name,
            unit: unit(measure.kind),
            values: numbers(&measure.values),
            steps: numbers(&measure.steps()),
        }
    }
}

/// Counts are whole numbers, the others have three decimals.
#[derive(Serialize)]
#[serde(untagged)]
pub(crate) enum MeasureNumber {
    Whole(i64),
    Part(Rounded<3>),
}

pub(crate) fn number(kind: MeasureKind, value: f64) -> MeasureNumber {
    match kind {
        MeasureKind::Count if value < 0.0 => {
            MeasureNumber::Whole(-i64::from(nearest_whole(-value)))
        }
        MeasureKind::Count => MeasureNumber::Whole(nearest_whole(value).into()),
        MeasureKind::Length | MeasureKind::Percent => MeasureNumber::Part(Rounded(value)),
    }
}

pub(crate) const fn unit(kind: MeasureKind) -> &'static str {
    match kind {
        MeasureKind::Count => "count",
        MeasureKind::Length => "cm",
        MeasureKind::Percent => "percent",
    }
}

#[derive(Serialize)]
struct OutOfStepJson<'a> {
    measure: Option<&'static str>,
    /// The larger size.
    size: Option<&'a str>,
    step: Rounded<3>,
    /// The median of the set's steps.
    usual: Rounded<3>,
}

impl<'a> OutOfStepJson<'a> {
    fn of(found: &OutOfStep, grading: &'a Grading) -> Self {
        Self {
            measure: grading
                .measures
                .get(found.measure)
                .map(|measure| measure.name),
            size: grading.sizes.get(found.size).map(String::as_str),
            step: Rounded(found.step),
            usual: Rounded(found.usual),
        }
    }
}

#[derive(Serialize)]
struct TurnedJson<'a> {
    measure: Option<&'static str>,
    /// The second of the two sizes.
    size: Option<&'a str>,
    step: Rounded<3>,
}

impl<'a> TurnedJson<'a> {
    fn of(one: &Turned, grading: &'a Grading) -> Self {
        let measure = grading.measures.get(one.measure);
        Self {
            measure: measure.map(|measure| measure.name),
            size: grading.sizes.get(one.size).map(String::as_str),
            step: Rounded(one.step),
        }
    }
}

#[derive(Serialize)]
struct StructureJson<'a> {
    sizes: Vec<&'a str>,
    front: Vec<RunJson<'a>>,
    back: Vec<RunJson<'a>>,
}

impl<'a> StructureJson<'a> {
    fn of(structure: &'a Structure, grading: &'a Grading) -> Self {
        Self {
            sizes: labels(grading, structure),
            front: all(&structure.front),
            back: all(&structure.back),
        }
    }
}

#[derive(Serialize)]
struct RunJson<'a> {
    r#move: Move,
    /// How often in each of the sizes.
    times: &'a [u32],
}

impl<'a> From<&'a (Move, Vec<u32>)> for RunJson<'a> {
    fn from((r#move, times): &'a (Move, Vec<u32>)) -> Self {
        Self {
            r#move: *r#move,
            times,
        }
    }
}
