//! What `[adapt]` did.

use serde::Serialize;

use super::rounded::{Cm, Rounded};
use crate::convert::Old;

/// What `[adapt]` did.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct AdaptJson<'a> {
    /// What was done.
    #[cfg_attr(test, schemars(extend("enum" = ["adapted", "drafted", "unchanged"])))]
    status: &'a str,
    /// What of the old cap was kept; null where there was none.
    #[cfg_attr(test, schemars(extend("enum" = ["shape", "depth", "area", null])))]
    keep: Option<&'a str>,
    /// The finished upper arm that was wished.
    wished_upper_arm_cm: Cm,
    /// The edge of one side that was wished.
    wished_edge_cm: Cm,
    /// Edge left over at the front.
    front_left_cm: Cm,
    /// Edge left over at the back.
    back_left_cm: Cm,
    /// The same in rows of the armhole, at the front.
    front_rows: i32,
    /// The same at the back.
    back_rows: i32,
    /// Rows of the armhole that would have met the old cap.
    armhole_rows_instead: Option<i32>,
    /// Rounds the sleeve below gains or loses.
    rounds_below: Option<i32>,
    /// How far the outline was bent.
    bend_cm: Cm,
    /// What published rules say of the depth.
    depth_rules: Vec<DepthRuleJson<'a>>,
    /// The adapted cap as a pattern's lines.
    lines: &'a str,
}

/// A rule.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct DepthRuleJson<'a> {
    /// Its name.
    rule: &'a str,
    /// Its depth.
    depth_cm: Cm,
    /// How far the cap is off it, in per cent.
    off_pct: Rounded<1>,
    /// What it says.
    says: &'a str,
    /// Where it is published.
    source: &'a str,
}

impl<'a> AdaptJson<'a> {
    /// None without the table in the case.
    pub(super) fn of(old: &'a Old) -> Option<Self> {
        let adapted = old.adapted.as_ref()?;
        let outline = &adapted.outline;
        let rules = adapted.rules.iter().map(|rule| DepthRuleJson {
            rule: rule.rule.word(),
            depth_cm: Cm(rule.depth),
            off_pct: Rounded(100.0 * (old.cap.depth() / rule.depth - 1.0)),
            says: rule.says,
            source: rule.source,
        });
        Some(Self {
            status: outline.status.word(),
            keep: adapted.printed.as_ref().map(|_| adapted.keep.word()),
            wished_upper_arm_cm: Cm(outline.upper_arm),
            wished_edge_cm: Cm(outline.edge),
            front_left_cm: Cm(outline.front_left),
            back_left_cm: Cm(outline.back_left),
            front_rows: adapted.front_rows,
            back_rows: adapted.back_rows,
            armhole_rows_instead: adapted.instead_rows,
            rounds_below: adapted.rounds,
            bend_cm: Cm(outline.bend),
            depth_rules: rules.collect(),
            lines: &adapted.lines,
        })
    }
}
