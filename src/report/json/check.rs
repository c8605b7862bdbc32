//! The old garment and what was found.

use serde::Serialize;
use serde_json::{Value, json};

use super::adapt::AdaptJson;
use super::all;
use super::finding::FindingJson;
use super::flat::{ArmholeJson, FlatCapJson, StripJson};
use super::rounded::{Cm, Rounded};
use super::tables::ArmView;
use crate::case::Case;
use crate::check::ArmShare;
use crate::convert::Old;
use crate::diagnostic::{Diagnostic, Group, Level};
use crate::outline::{CapCurve, RowDeviation};
use crate::report::document::all_groups;

/// The old garment and its findings as one JSON object.
pub fn check_json(case: &Case, sizes: &[Old], findings: &[Diagnostic]) -> Value {
    json!(CheckJson {
        case: &case.title,
        units: case.units.word(),
        sizes: all(sizes),
        findings: all(findings),
        groups: all(&all_groups(sizes, findings)),
    })
}

#[derive(Serialize)]
struct CheckJson<'a> {
    /// The case's title.
    case: &'a str,
    /// The units of its texts: `cm` or `in`.
    units: &'static str,
    sizes: Vec<CheckedJson<'a>>,
    /// What concerns the lines and the case as a whole.
    findings: Vec<FindingJson<'a>>,
    /// All findings, those alike but for their figures together.
    groups: Vec<GroupJson<'a>>,
}

/// One size of the old garment.
#[derive(Serialize)]
struct CheckedJson<'a> {
    /// Its label.
    size: &'a str,
    /// The flat cap: the old one, or what `[adapt]` put in its place.
    old_cap: FlatCapJson,
    /// The same once more where `[adapt]` was asked.
    adapted_cap: Option<FlatCapJson>,
    /// The cap as its lines have it, where another outline took its place.
    printed_cap: Option<FlatCapJson>,
    adapt: Option<AdaptJson<'a>>,
    curve: CurveJson,
    armhole: ArmholeJson,
    /// Depth of the cap over that of the armhole.
    depth_share: Rounded<4>,
    ease: EaseJson,
    ease_strip: StripJson,
    /// The arms of the people it is for.
    arm: Option<ArmView>,
    /// The share of them whom the upper arm fits.
    arm_share: Option<ArmShareJson<'a>>,
    findings: Vec<FindingJson<'a>>,
}

impl<'a> From<&'a Old> for CheckedJson<'a> {
    fn from(old: &'a Old) -> Self {
        let (front, back) = old.ease();
        Self {
            size: &old.size,
            old_cap: FlatCapJson::old(old),
            adapted_cap: FlatCapJson::adapted(old),
            printed_cap: FlatCapJson::printed(old),
            adapt: AdaptJson::of(old),
            curve: CurveJson::from(old),
            armhole: ArmholeJson::of(&old.front, &old.back),
            depth_share: Rounded(old.depth_share()),
            ease: EaseJson {
                front_cm: Cm(front),
                back_cm: Cm(back),
            },
            ease_strip: StripJson::of(&old.front_ease, &old.back_ease),
            arm: old.arm.as_ref().map(ArmView::from),
            arm_share: old.share.map(|share| ArmShareJson::of(old, share)),
            findings: all(&old.findings),
        }
    }
}

/// Cap edge less armhole edge.
#[derive(Serialize)]
struct EaseJson {
    front_cm: Cm,
    back_cm: Cm,
}

/// How the cap's edge bends.
#[derive(Serialize)]
struct CurveJson {
    /// Height above the underarm where it turns from hollow to round.
    inflection_cm: Option<Cm>,
    /// Rows off a smooth curve.
    deviations: Vec<DeviationJson>,
}

impl From<&Old> for CurveJson {
    fn from(old: &Old) -> Self {
        Self {
            inflection_cm: CapCurve::of(&old.cap).map(|curve| Cm(curve.inflection())),
            deviations: all(&old.cap.row_deviations()),
        }
    }
}

#[derive(Serialize)]
struct DeviationJson {
    row: u32,
    /// Stitches by which the edge is off there.
    stitches: Rounded<2>,
}

impl From<&RowDeviation> for DeviationJson {
    fn from(deviation: &RowDeviation) -> Self {
        Self {
            row: deviation.row,
            stitches: Rounded(deviation.stitches),
        }
    }
}

/// Shares of people.
#[derive(Serialize)]
struct ArmShareJson<'a> {
    /// Who they are.
    people: Option<&'a str>,
    /// The arm is no thicker than the sleeve.
    as_it_is: Share,
    /// The same by the arm at the armpit, where a survey has it.
    at_armpit: Option<Share>,
    /// Stretched by up to a tenth.
    stretched: Share,
    /// With the ease that was chosen, where one was.
    at_chosen_ease: Option<Share>,
}

impl<'a> ArmShareJson<'a> {
    fn of(old: &'a Old, share: ArmShare) -> Self {
        Self {
            people: old.arm.as_ref().map(|arm| arm.people.as_str()),
            as_it_is: coarse(share.as_it_is),
            at_armpit: share.at_armpit.map(coarse),
            stretched: coarse(share.stretched),
            at_chosen_ease: share.at_ease.map(coarse),
        }
    }
}

/// A share from 0 to 1.
type Share = Rounded<2>;

/// To the nearest twentieth: a survey's few hundred people of one size know it no finer.
fn coarse(share: f64) -> Share {
    Rounded((share * 20.0).round() / 20.0)
}

/// A finding and the sizes that have it.
#[derive(Serialize)]
struct GroupJson<'a> {
    code: &'static str,
    level: Level,
    /// None for a finding on the whole.
    sizes: &'a [&'a str],
    /// In the first of them.
    message: &'a str,
    next: &'a str,
}

impl<'a> From<&'a Group<'a>> for GroupJson<'a> {
    fn from(group: &'a Group<'a>) -> Self {
        Self {
            code: group.first.code.id,
            level: group.first.level,
            sizes: &group.sizes,
            message: &group.first.message,
            next: group.first.advice(),
        }
    }
}
