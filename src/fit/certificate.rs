//! The certificate: a fit is believed only after its plan was measured again from the moves.

use super::codes::NOT_CERTIFIED;
use super::frames::upper_arm_stitches;
use super::measures::{Measures, measure};
use super::plan::{CapPlan, FlankPlan};
use super::problem::Problem;
use crate::diagnostic::Diagnostic;
use crate::measure::{Rows, Stitches};

/// Everything a claimed answer gets wrong: an empty list certifies it.
///
/// Checks the counts, that every move is allowed, that the pick-up zones fill the armhole within
/// the gap limit, and that depth, area, width, edges and objective are what the moves give.
pub fn certify(problem: &Problem<'_>, plan: &CapPlan, claimed: &Measures) -> Vec<Diagnostic> {
    let mut wrong = Vec::new();
    let mut say = |message: String| wrong.push(Diagnostic::new(&NOT_CERTIFIED, message));
    let wanted = upper_arm_stitches(problem);
    if plan.upper_arm() != wanted {
        say(format!(
            "The upper arm has {}, not {wanted}.",
            plan.upper_arm()
        ));
    }
    if plan.front.moves.len() != plan.back.moves.len() {
        say("The flanks have different numbers of moves.".to_owned());
    }
    let targets_cm = problem.targets_cm(plan.turn_pairs());
    let allowed = problem.allowed_moves(&targets_cm);
    for (name, flank, armhole) in [
        ("front", &plan.front, problem.front),
        ("back", &plan.back, problem.back),
    ] {
        if let Some(m) = flank.moves.iter().find(|m| !allowed.contains(m)) {
            say(format!(
                "The {name} flank uses the move {m}, which is not allowed."
            ));
        }
        let sites = armhole
            .sites()
            .saturating_sub(Rows(plan.crown.rows.count() / 2));
        for fault in zone_faults(flank, sites, problem.wishes.gap_limit) {
            say(format!("The {name} flank's pick-up {fault}."));
        }
    }
    for (name, said, found) in differences(claimed, &measure(problem, plan)) {
        say(format!(
            "The {name} is claimed to be {said}, its moves give {found}."
        ));
    }
    wrong
}

fn zone_faults(flank: &FlankPlan, sites: Rows, gap_limit: f64) -> Vec<String> {
    let mut faults = Vec::new();
    let stitches: Stitches = flank.zones.iter().map(|zone| zone.stitches).sum();
    let rows: Rows = flank.zones.iter().map(|zone| zone.rows).sum();
    if stitches != flank.picked_up() {
        faults.push(format!(
            "has {stitches}, the moves take {}",
            flank.picked_up()
        ));
    }
    if rows != sites {
        faults.push(format!("covers {rows}, the armhole has {sites}"));
    }
    for zone in &flank.zones {
        let gap = zone.rows.as_f64() / zone.stitches.as_f64();
        if !(1.0..=gap_limit + 1e-9).contains(&gap) {
            faults.push(format!("is {gap:.2} rows apart, outside 1 to {gap_limit}"));
        }
    }
    faults
}

fn differences(claimed: &Measures, found: &Measures) -> Vec<(&'static str, f64, f64)> {
    let pairs = [
        ("depth", claimed.depth.to_cm(), found.depth.to_cm()),
        ("area", claimed.area_cm2, found.area_cm2),
        (
            "upper arm",
            claimed.upper_arm.to_cm(),
            found.upper_arm.to_cm(),
        ),
        (
            "width rms",
            claimed.width_rms.to_cm(),
            found.width_rms.to_cm(),
        ),
        (
            "front edge",
            claimed.front.edge.to_cm(),
            found.front.edge.to_cm(),
        ),
        (
            "back edge",
            claimed.back.edge.to_cm(),
            found.back.edge.to_cm(),
        ),
        ("objective", claimed.objective, found.objective),
    ];
    pairs
        .into_iter()
        .filter(|(_, said, found)| (said - found).abs() > 1e-9 * found.abs().max(1.0))
        .collect()
}
