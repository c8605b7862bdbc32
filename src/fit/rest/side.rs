//! A flank of which the pick-up is known: what every move costs in strain.

use super::super::objective::WEIGHTS;
use super::super::pickup::FlankEdge;
use super::super::problem::Problem;
use super::state::Begun;
use crate::plan::FlankPlan;

/// One flank's armhole, read off at its stitches.
#[derive(Clone, Debug)]
pub(super) struct RestFlank {
    /// Length from the top down to where so many stitches end, and the cap edge wanted above it.
    at_cm: Vec<(f64, f64)>,
    /// Both flanks' lengths, which strain is a mean over.
    all_cm: f64,
}

impl RestFlank {
    pub(super) fn strain(&self, before: usize, take: usize, edge_cm: f64) -> f64 {
        let at = |i: usize| self.at_cm.get(i).copied().unwrap_or_default();
        let (from, to) = (at(before), at(before + take));
        let off_cm = edge_cm - (to.1 - from.1);
        let armhole_cm = (to.0 - from.0).max(f64::MIN_POSITIVE);
        WEIGHTS.strain * off_cm * off_cm / armhole_cm / self.all_cm
    }
}

/// Both flanks read off at their stitches.
pub(super) fn sides(problem: &Problem<'_>, begun: &Begun) -> [RestFlank; 2] {
    let edge = |armhole| FlankEdge::new(problem, armhole, begun.crown);
    let edges = [edge(problem.front), edge(problem.back)];
    let all_cm = edges.iter().map(FlankEdge::length_cm).sum();
    let side = |edge: &FlankEdge<'_>, flank: &FlankPlan| {
        let (mut place, whole_cm) = (0.0, edge.length_cm());
        let mut at_cm = vec![(0.0, 0.0)];
        for zone in &flank.zones {
            let gap = zone.rows.as_f64() / zone.stitches.as_f64().max(1.0);
            for i in 1..=zone.stitches.count() {
                let length_cm = edge.length_to_cm(place + gap * f64::from(i));
                at_cm.push((length_cm, edge.wanted_to_cm(length_cm, whole_cm)));
            }
            place += zone.rows.as_f64();
        }
        RestFlank { at_cm, all_cm }
    };
    [side(&edges[0], &begun.front), side(&edges[1], &begun.back)]
}
