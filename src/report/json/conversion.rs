//! A conversion.

use serde::Serialize;
use serde_json::{Value, json};

use super::adapt::AdaptJson;
use super::all;
use super::cap::{CapJson, FitJson};
use super::finding::FindingJson;
use super::flat::{ArmholeJson, FlatCapJson, StripJson};
use super::gauge::GaugesJson;
use super::rounded::Cm;
use super::written::{StripesJson, TubeInPatternJson, WrittenJson};
use crate::case::Case;
use crate::convert::{Conversion, HalfWay, Landmark, Landmarks, Sensitivity, SizeConversion};
use crate::measure::{Rows, Stitches};

/// A conversion as one JSON object, ready to be printed.
pub fn conversion_json(case: &Case, conversion: &Conversion) -> Value {
    json!(ConversionJson {
        case: &case.title,
        units: case.units.word(),
        sizes: all(&conversion.sizes),
        findings: all(&conversion.findings),
    })
}

/// A converted case. Lengths are centimetres; within a version no key goes or changes its meaning, new ones
/// may come.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct ConversionJson<'a> {
    /// The case's title.
    case: &'a str,
    /// The units of its texts.
    #[cfg_attr(test, schemars(extend("enum" = ["cm", "in"])))]
    units: &'static str,
    /// Its sizes, in the case's order.
    sizes: Vec<SizeJson<'a>>,
    /// What concerns the lines and the case as a whole.
    findings: Vec<FindingJson<'a>>,
}

/// One size.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SizeJson<'a> {
    /// Its label.
    size: &'a str,
    /// The flat cap that the new one keeps: the old one, or what `[adapt]` put in its place.
    old_cap: FlatCapJson,
    /// The same once more where `[adapt]` was asked; null without.
    adapted_cap: Option<FlatCapJson>,
    /// The cap as its lines have it, where another outline took its place.
    printed_cap: Option<FlatCapJson>,
    /// What `[adapt]` did; null without that table.
    adapt: Option<AdaptJson<'a>>,
    /// The armhole.
    armhole: ArmholeJson,
    /// The gauges used.
    gauge: GaugesJson,
    /// What was found for this size.
    findings: Vec<FindingJson<'a>>,
    /// The new cap.
    fit: FitJson<'a>,
    /// The cap of the common-practice recipe.
    baseline: CapJson<'a>,
    /// Where cap and armhole differ in length.
    ease_strip: StripsJson,
    /// The sleeve below the cap.
    sleeve: TubeJson<'a>,
    /// The upper arm if the drift were something else, where no round swatch is given.
    sensitivity: Vec<SensitivityJson>,
    /// What the cap measures on the way.
    landmarks: LandmarksJson<'a>,
    /// The pattern's sentences: of the one text, or of the left sleeve's first.
    instructions: Vec<String>,
    /// The pattern, for each sleeve that needs its own.
    sleeves: Vec<WrittenJson<'a>>,
    /// Stitches that are knitted.
    knitted_stitches: KnittedJson,
    /// What the needle said of the pattern.
    knits_back: bool,
    /// Stripes of the sleeve and where they meet the body's; only where the case has `[stripes]`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "StripesJson<'a>"))]
    stripes: Option<StripesJson<'a>>,
}

impl<'a> From<&'a SizeConversion> for SizeJson<'a> {
    fn from(size: &'a SizeConversion) -> Self {
        let old = &size.old;
        let first = size.written.first();
        Self {
            size: &old.size,
            old_cap: FlatCapJson::old(old),
            adapted_cap: FlatCapJson::adapted(old),
            printed_cap: FlatCapJson::printed(old),
            adapt: AdaptJson::of(old),
            armhole: ArmholeJson::of(&old.front, &old.back),
            gauge: GaugesJson::from(&size.gauge),
            findings: all(&size.findings),
            fit: FitJson::from(size),
            baseline: CapJson::recipe(size),
            ease_strip: StripsJson {
                old: StripJson::of(&old.front_ease, &old.back_ease),
                new: StripJson::of(&size.front_ease, &size.back_ease),
            },
            sleeve: TubeJson::from(size),
            sensitivity: all(&size.sensitivity),
            landmarks: LandmarksJson::from(&size.landmarks),
            instructions: first.map_or_else(Vec::new, |written| written.instructions.sentences()),
            sleeves: all(&size.written),
            knitted_stitches: KnittedJson {
                old: size.flat_loops,
                new: size.loops.all(),
                picked_up: size.loops.picked_up,
            },
            knits_back: size.written.iter().all(|written| written.knits_back),
            stripes: size.stripes.as_ref().map(StripesJson::from),
        }
    }
}

/// Ease along the edges of both caps.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StripsJson {
    /// The flat cap.
    old: StripJson,
    /// The new cap.
    new: StripJson,
}

/// The sleeve below the cap; nothing but nulls where the case does not give its cuff and length.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TubeJson<'a> {
    /// Rounds on which two stitches are decreased (increased where it widens).
    decrease_rounds: &'a [u32],
    /// True for a bell sleeve.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "bool"))]
    widens: Option<bool>,
    /// Stitches at the cuff.
    cuff_stitches: Option<Stitches>,
    /// Rounds from the join to the cuff.
    rounds: Option<Rows>,
    /// Its rounds in pattern, for each sleeve that needs its own; only where the case has `[stitch]`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    in_pattern: Vec<TubeInPatternJson>,
}

impl<'a> From<&'a SizeConversion> for TubeJson<'a> {
    fn from(size: &'a SizeConversion) -> Self {
        let tube = size.tube.as_ref();
        let in_pattern = size
            .written
            .iter()
            .filter_map(|written| TubeInPatternJson::of(written, tube?));
        Self {
            in_pattern: in_pattern.collect(),
            decrease_rounds: tube.map_or(&[], |tube| &tube.decrease_rounds),
            widens: tube.map(crate::plan::TubePlan::widens),
            cuff_stitches: size.cuff_stitches(),
            rounds: tube.map(|tube| tube.rounds),
        }
    }
}

/// The upper arm at another drift.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SensitivityJson {
    /// The drift in per cent.
    drift_pct: i32,
    /// The finished upper arm.
    upper_arm_cm: Cm,
}

impl From<&Sensitivity> for SensitivityJson {
    fn from(one: &Sensitivity) -> Self {
        Self {
            drift_pct: one.drift_pct,
            upper_arm_cm: Cm(one.upper_arm),
        }
    }
}

/// What the cap measures on the way.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LandmarksJson<'a> {
    /// After every step.
    steps: Vec<LandmarkJson<'a>>,
    /// Half way down; null for a cap of one pair.
    half_way: Option<HalfWayJson<'a>>,
}

impl<'a> From<&'a Landmarks> for LandmarksJson<'a> {
    fn from(of: &'a Landmarks) -> Self {
        Self {
            steps: all(&of.steps),
            half_way: of.half_way.as_ref().map(HalfWayJson::from),
        }
    }
}

/// The cap half way down, and what it says of the end.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct HalfWayJson<'a> {
    /// Where that is.
    at: LandmarkJson<'a>,
    /// Depth of the whole cap.
    end_cm: Cm,
    /// What the same error comes to there.
    end_off_cm: Cm,
    /// Depth of one turn pair.
    pair_cm: Cm,
}

impl<'a> From<&'a HalfWay> for HalfWayJson<'a> {
    fn from(half: &'a HalfWay) -> Self {
        Self {
            at: LandmarkJson::from(&half.at),
            end_cm: Cm(half.end.length),
            end_off_cm: Cm(half.end.off),
            pair_cm: Cm(half.pair),
        }
    }
}

/// The cap after a step; up to `off` more or less is within the error of gauge and tape.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LandmarkJson<'a> {
    /// Letters of the step; null for the pair that spans the crown.
    step: Option<&'a str>,
    /// Turn pairs worked.
    turn_pairs: u32,
    /// Rows worked.
    rows: u32,
    /// From the picked-up edge in the middle of the crown down to the needle.
    depth_cm: Cm,
    /// More or less of it.
    depth_off_cm: Cm,
    /// From turn to turn.
    width_cm: Cm,
    /// More or less of it.
    width_off_cm: Cm,
}

impl<'a> From<&'a Landmark> for LandmarkJson<'a> {
    fn from(of: &'a Landmark) -> Self {
        Self {
            step: of.step.as_deref(),
            turn_pairs: of.turn_pairs,
            rows: 2 * of.turn_pairs,
            depth_cm: Cm(of.depth.length),
            depth_off_cm: Cm(of.depth.off),
            width_cm: Cm(of.width.length),
            width_off_cm: Cm(of.width.off),
        }
    }
}

/// Stitches that are knitted.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct KnittedJson {
    /// In the flat cap.
    old: Stitches,
    /// In the new cap, the picked-up ones included.
    new: Stitches,
    /// Picked up.
    picked_up: Stitches,
}
