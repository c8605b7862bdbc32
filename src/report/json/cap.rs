//! A short-row cap: what is knitted, what it measures, what else there was.

use std::collections::BTreeMap;

use serde::Serialize;

use super::all;
use super::rounded::{Cm, Rounded};
use crate::convert::SizeConversion;
use crate::fit::{Measures, NearTie, SideMeasures, Stretch, TradePoint};
use crate::measure::{Length, Rows, Stitches};
use crate::plan::{CapPlan, FlankPlan, Move, Zone};

/// A short-row cap.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct CapJson<'a> {
    /// Stitches of the first short row.
    crown: Stitches,
    /// Those of them that wait on a holder.
    live: Stitches,
    /// Rows of the armhole that the crown is picked up over.
    crown_rows: Rows,
    /// Stitches picked up along the underarm.
    base: Stitches,
    /// Turn pairs; the first spans the crown alone.
    turn_pairs: u32,
    /// Stitches of the tube.
    upper_arm_stitches: Stitches,
    /// Stitches made in the first round at the underarm; below zero, decreased.
    join_change: i32,
    /// Rows that the pick-up counts as fabric: a row or none, as the case says.
    picked_up_row: u8,
    /// Finished upper arm.
    upper_arm_cm: Cm,
    /// Depth of the cap.
    depth_cm: Cm,
    /// Area of the cap.
    area_cm2: Rounded<2>,
    /// Off the flat cap's area, in per cent.
    area_error_pct: Rounded<3>,
    /// Off its depth.
    depth_error_cm: Cm,
    /// Half widths off the wanted ones, root of the mean square.
    width_rms_cm: Cm,
    /// Seam edge of one side.
    edge_cm: Cm,
    /// How much longer than the armhole, in per cent.
    ease_pct: Rounded<2>,
    /// Local strain along the flanks, root of the mean square, ease left in.
    local_strain_rms_pct: Rounded<2>,
    /// Runs to remember on a flank.
    runs: usize,
    /// What the fit minimises.
    objective: Rounded<6>,
    /// Its terms.
    #[cfg_attr(test, schemars(schema_with = "schema::terms"))]
    objective_terms: BTreeMap<&'static str, Rounded<6>>,
    /// How sure the fit is that no cap is better.
    #[cfg_attr(test, schemars(extend("enum" = ["optimal", "feasible", "not fitted"])))]
    status: &'static str,
    /// The front flank.
    front: FlankJson<'a>,
    /// The back flank.
    back: FlankJson<'a>,
}

impl<'a> CapJson<'a> {
    fn of(plan: &'a CapPlan, measures: &'a Measures, edge: Length, status: &'static str) -> Self {
        let terms = measures.terms.iter();
        Self {
            crown: plan.crown.stitches,
            live: plan.crown.live,
            crown_rows: plan.crown.rows,
            base: plan.base(),
            turn_pairs: plan.turn_pairs(),
            upper_arm_stitches: plan.upper_arm(),
            join_change: plan.join_change,
            picked_up_row: u8::from(measures.picked_up.is_positive()),
            upper_arm_cm: Cm(measures.upper_arm),
            depth_cm: Cm(measures.depth),
            area_cm2: Rounded(measures.area_cm2),
            area_error_pct: Rounded(measures.area_error_pct),
            depth_error_cm: Cm(measures.depth_error),
            width_rms_cm: Cm(measures.width_rms),
            edge_cm: Cm(edge),
            ease_pct: Rounded(measures.ease_pct()),
            local_strain_rms_pct: Rounded(measures.strain_rms_pct),
            runs: plan.runs(),
            objective: Rounded(measures.objective),
            objective_terms: terms
                .map(|(name, value)| (*name, Rounded(*value)))
                .collect(),
            status,
            front: FlankJson::of(&plan.front, &measures.front),
            back: FlankJson::of(&plan.back, &measures.back),
        }
    }

    /// The cap of the common-practice recipe.
    pub(super) fn recipe(size: &'a SizeConversion) -> Self {
        let (plan, measures, edge) = &size.recipe;
        Self::of(plan, measures, *edge, "not fitted")
    }
}

/// One flank of a short-row cap.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct FlankJson<'a> {
    /// Stitches picked up along it.
    picked_up: Stitches,
    /// Stitches decreased along it.
    decreases: Stitches,
    /// What it does at each turn pair from the second on.
    moves: &'a [Move],
    /// How it is picked up, from the crown down.
    zones: &'a [Zone],
    /// Runs from the crown down, each against the armhole its stitches are picked up from.
    strain: Vec<StretchJson>,
    /// Edge of the cap along it.
    edge_cm: Cm,
    /// How much longer than the armhole, in per cent.
    ease_pct: Rounded<2>,
}

impl<'a> FlankJson<'a> {
    fn of(flank: &'a FlankPlan, side: &SideMeasures) -> Self {
        Self {
            picked_up: flank.picked_up(),
            decreases: flank.decreases(),
            moves: &flank.moves,
            zones: &flank.zones,
            strain: all(&side.runs()),
            edge_cm: Cm(side.edge),
            ease_pct: Rounded(side.ease_pct()),
        }
    }
}

/// A run against the armhole its stitches are picked up from.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StretchJson {
    /// Turn pairs of the run.
    moves: u32,
    /// Stitches picked up for it.
    stitches: Stitches,
    /// Edge of the cap.
    cap_cm: Cm,
    /// Edge of the armhole.
    armhole_cm: Cm,
    /// The one longer than the other, in per cent: above it puckers, below it pulls.
    strain_pct: Rounded<2>,
}

impl From<&Stretch> for StretchJson {
    fn from(stretch: &Stretch) -> Self {
        Self {
            moves: stretch.moves,
            stitches: stretch.stitches,
            cap_cm: Cm(stretch.cap),
            armhole_cm: Cm(stretch.armhole),
            strain_pct: Rounded(stretch.strain_pct()),
        }
    }
}

/// The new cap, and what else there was to choose.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct FitJson<'a> {
    #[serde(flatten)]
    cap: CapJson<'a>,
    /// How much better a cap could be at the most, in per cent.
    gap_pct: Rounded<3>,
    /// Caps nearly as good as the best and simpler to knit.
    near_ties: Vec<NearTieJson<'a>>,
    /// The best cap for each number of runs.
    trade: Vec<TradeJson>,
}

impl<'a> From<&'a SizeConversion> for FitJson<'a> {
    fn from(size: &'a SizeConversion) -> Self {
        let fit = &size.fit;
        let ties = (2..).zip(&size.near_ties);
        Self {
            cap: CapJson::of(&fit.plan, &fit.measures, size.edge, fit.status.word()),
            gap_pct: Rounded(fit.gap_pct()),
            near_ties: ties
                .map(|(choice, tie)| NearTieJson::of(choice, tie))
                .collect(),
            trade: all(&fit.trade),
        }
    }
}

/// A cap nearly as good as the best.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NearTieJson<'a> {
    /// Its number for `fit.choice`.
    choice: u32,
    /// What is simpler.
    simpler: Vec<&'static str>,
    /// Its runs.
    runs: usize,
    /// What the fit minimises.
    objective: Rounded<6>,
    /// Off the area, in per cent.
    area_error_pct: Rounded<3>,
    /// The front flank.
    front: FlankJson<'a>,
    /// The back flank.
    back: FlankJson<'a>,
}

impl<'a> NearTieJson<'a> {
    fn of(choice: u32, tie: &'a NearTie) -> Self {
        Self {
            choice,
            simpler: tie.simpler.iter().map(|simpler| simpler.words()).collect(),
            runs: tie.plan.runs(),
            objective: Rounded(tie.measures.objective),
            area_error_pct: Rounded(tie.measures.area_error_pct),
            front: FlankJson::of(&tie.plan.front, &tie.measures.front),
            back: FlankJson::of(&tie.plan.back, &tie.measures.back),
        }
    }
}

/// The best cap with so many runs.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TradeJson {
    /// Runs.
    runs: usize,
    /// What the fit minimises; null, and nothing after it, where there is no such cap.
    objective: Option<Rounded<6>>,
    #[serde(flatten)]
    cap: Option<TradeCapJson>,
}

/// What such a cap measures.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TradeCapJson {
    /// Off the area, in per cent.
    area_error_pct: Rounded<3>,
    /// Off the depth.
    depth_error_cm: Cm,
    /// Half widths off.
    width_rms_cm: Cm,
    /// Ease in per cent.
    ease_pct: Rounded<2>,
    /// Local strain, root of the mean square.
    local_strain_rms_pct: Rounded<2>,
    /// Decreases on both flanks.
    decreases: Stitches,
}

impl From<&TradePoint> for TradeJson {
    fn from(point: &TradePoint) -> Self {
        let cap = point.cap.as_ref();
        Self {
            runs: point.runs,
            objective: cap.map(|(_, measures)| Rounded(measures.objective)),
            cap: cap.map(|(plan, measures)| TradeCapJson {
                area_error_pct: Rounded(measures.area_error_pct),
                depth_error_cm: Cm(measures.depth_error),
                width_rms_cm: Cm(measures.width_rms),
                ease_pct: Rounded(measures.ease_pct()),
                local_strain_rms_pct: Rounded(measures.strain_rms_pct),
                decreases: plan.front.decreases() + plan.back.decreases(),
            }),
        }
    }
}

/// What the schema says of what no struct tells.
#[cfg(test)]
mod schema {
    use schemars::{Schema, SchemaGenerator, json_schema};
    use serde_json::{Map, Value, json};

    /// The terms of the objective, which the fit gives by name.
    const TERMS: [(&str, &str); 12] = [
        ("width", "Widths off."),
        ("strain", "Local strain."),
        ("area", "Area off."),
        ("depth", "Depth off."),
        ("holes", "Pick-ups more than two rows apart."),
        ("decreases", "Decreases."),
        ("decreases high", "Decreases near the crown."),
        ("sections", "Sections of the pick-up."),
        ("lone moves", "Runs of a single move."),
        ("join", "Stitches made or decreased at the join."),
        ("unlike", "Flanks that differ."),
        ("ease", "Ease beyond what is usual."),
    ];

    pub(super) fn terms(_: &mut SchemaGenerator) -> Schema {
        let property = |(name, says): (&str, &str)| {
            (
                name.to_owned(),
                json!({ "type": "number", "description": says }),
            )
        };
        let properties: Map<String, Value> = TERMS.map(property).into_iter().collect();
        json_schema!({
            "type": "object",
            "properties": properties,
            "required": TERMS.map(|(name, _)| name),
        })
    }
}
