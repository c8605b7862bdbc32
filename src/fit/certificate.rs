//! The certificate: a fit is believed only after its plan was measured again from the moves.

use super::codes::NOT_CERTIFIED;
use super::frames::{CROWN_WINDOW, LEAST_CROWN, crown_near, join_near, joins, upper_arm_stitches};
use super::measures::{Measures, measure};
use super::pickup::{FlankEdge, LEAST_OF_SECTION, MOST_SECTIONS, crown_rows};
use super::plan::{CapPlan, FlankPlan};
use super::problem::Problem;
use super::rest::Begun;
use crate::diagnostic::Diagnostic;
use crate::measure::{Rows, Stitches};

/// Everything a claimed answer gets wrong: an empty list certifies it.
///
/// Checks the counts, that crown and base are what the shoulder and the underarm allow, that every
/// move is allowed, that the pick-up zones fill the armhole within the gap limit, and that every
/// measure claimed is what the moves give.
pub fn certify(problem: &Problem<'_>, plan: &CapPlan, claimed: &Measures) -> Vec<Diagnostic> {
    let mut faults = count_faults(problem, plan);
    faults.extend(crown_faults(problem, plan));
    faults.extend(base_faults(problem, plan));
    let allowed = problem.allowed_moves(&problem.targets_cm(plan.turn_pairs()));
    for (name, flank, armhole) in [
        ("front", &plan.front, problem.front),
        ("back", &plan.back, problem.back),
    ] {
        if let Some(m) = flank.moves.iter().find(|m| !allowed.contains(m)) {
            faults.push(format!(
                "The {name} flank uses the move {m}, which is not allowed."
            ));
        }
        let sites = FlankEdge::new(problem, armhole, plan.crown).sites();
        let zones = zone_faults(flank, sites, problem.wishes.gap_limit);
        faults.extend(
            zones
                .into_iter()
                .map(|fault| format!("The {name} flank's pick-up {fault}.")),
        );
    }
    faults.extend(differences(claimed, &measure(problem, plan)));
    faults
        .into_iter()
        .map(|fault| Diagnostic::new(&NOT_CERTIFIED, fault))
        .collect()
}

/// Everything a claimed rest of a cap gets wrong: what is worked must be in it as it is, and the moves to come must
/// be allowed, the first of them after the last turn.
pub fn certify_rest(
    problem: &Problem<'_>,
    begun: &Begun,
    plan: &CapPlan,
    claimed: &Measures,
) -> Vec<Diagnostic> {
    let mut faults = join_faults(problem, plan);
    let base = (plan.base_front, plan.base_back);
    if plan.crown != begun.crown || base != (begun.base_front, begun.base_back) {
        faults.push("Crown or base are not those on the needle.".to_owned());
    }
    let allowed = problem.allowed_moves(&problem.targets_cm(plan.turn_pairs()));
    for (name, flank, worked) in [
        ("front", &plan.front, &begun.front),
        ("back", &plan.back, &begun.back),
    ] {
        let stitches: Stitches = flank.zones.iter().map(|zone| zone.stitches).sum();
        if flank.zones != worked.zones || stitches != flank.picked_up() {
            faults.push(format!(
                "The {name} flank takes in {} of the {stitches} on the needle.",
                flank.picked_up()
            ));
        }
        let (before, to_come) = flank
            .moves
            .split_at(worked.moves.len().min(flank.moves.len()));
        if before != worked.moves.as_slice() {
            faults.push(format!("The {name} flank's worked moves are changed."));
        }
        if let Some(m) = to_come.iter().find(|m| !allowed.contains(m)) {
            faults.push(format!(
                "The {name} flank uses the move {m}, which is not allowed."
            ));
        }
        if let Some(m) = to_come.first().filter(|m| !begun.may_begin(**m)) {
            faults.push(format!(
                "The {name} flank's move {m} cannot follow the last turn."
            ));
        }
    }
    faults.extend(differences(claimed, &measure(problem, plan)));
    faults
        .into_iter()
        .map(|fault| Diagnostic::new(&NOT_CERTIFIED, fault))
        .collect()
}

fn join_faults(problem: &Problem<'_>, plan: &CapPlan) -> Vec<String> {
    let mut faults = Vec::new();
    let wanted = upper_arm_stitches(problem);
    if plan.upper_arm() != wanted {
        faults.push(format!(
            "The upper arm has {}, not {wanted}.",
            plan.upper_arm()
        ));
    }
    if plan.front.moves.len() != plan.back.moves.len() {
        faults.push("The flanks have different numbers of moves.".to_owned());
    }
    if !joins(problem).contains(&plan.join_change) {
        faults.push(format!(
            "The first round changes the stitches by {}, {} are near.",
            plan.join_change,
            join_near(problem)
        ));
    }
    faults
}

fn count_faults(problem: &Problem<'_>, plan: &CapPlan) -> Vec<String> {
    let mut faults = join_faults(problem, plan);
    let off_rows = (measure(problem, plan).depth_error / problem.cap_gauge.row_height()).abs();
    let is_near = off_rows <= 3.0 + 1e-9;
    if !is_near {
        faults.push(format!("The depth is {off_rows:.1} rows off."));
    }
    faults
}

fn crown_faults(problem: &Problem<'_>, plan: &CapPlan) -> Vec<String> {
    let crown = plan.crown;
    let expected = if let Some(live) = problem.live {
        let extra = live.extra_each_side + live.extra_each_side;
        (live.stitches + extra, live.stitches, Rows(extra.count()))
    } else {
        let near = crown_near(problem, plan.turn_pairs());
        let few = near.saturating_sub(CROWN_WINDOW).max(LEAST_CROWN);
        if !(few..=near + CROWN_WINDOW).contains(&crown.stitches.count()) {
            return vec![format!(
                "The crown has {}; the cap's top has {near}, and {CROWN_WINDOW} more or fewer are allowed.",
                crown.stitches
            )];
        }
        let rows = crown_rows(problem, crown.stitches);
        let rows = rows
            .iter()
            .find(|rows| **rows == crown.rows)
            .or(rows.first());
        let rows = rows.copied().unwrap_or(Rows(0));
        (crown.stitches, Stitches::ZERO, rows)
    };
    if (crown.stitches, crown.live, crown.rows) == expected {
        return Vec::new();
    }
    vec![format!(
        "The crown has {} ({} live) over {}, not {} ({} live) over {}.",
        crown.stitches, crown.live, crown.rows, expected.0, expected.1, expected.2
    )]
}

/// The change from the underarm must lie within the tolerance, all of it the same way and shared
/// by front and back as evenly as a whole number can be.
fn base_faults(problem: &Problem<'_>, plan: &CapPlan) -> Vec<String> {
    let change =
        |base: Stitches, underarm: Stitches| i64::from(base.count()) - i64::from(underarm.count());
    let front = change(plan.base_front, problem.front.underarm());
    let back = change(plan.base_back, problem.back.underarm());
    let tolerance = problem.wishes.base_tolerance;
    let shared =
        front.signum() * back.signum() >= 0 && (0..=1).contains(&(front.abs() - back.abs()));
    if shared && (front + back).unsigned_abs() <= u64::from(tolerance.count()) {
        return Vec::new();
    }
    vec![format!(
        "The base differs from the underarm by {front} at the front and {back} at the back; {tolerance} in all are allowed, shared evenly."
    )]
}

fn zone_faults(flank: &FlankPlan, sites: Rows, gap_limit: f64) -> Vec<String> {
    let mut faults = Vec::new();
    let stitches: Stitches = flank.zones.iter().map(|zone| zone.stitches).sum();
    let rows: Rows = flank.zones.iter().map(|zone| zone.rows).sum();
    if !(1..=MOST_SECTIONS).contains(&flank.zones.len()) {
        faults.push(format!(
            "has {} sections, not one to {MOST_SECTIONS}",
            flank.zones.len()
        ));
    }
    if stitches != flank.picked_up() {
        faults.push(format!(
            "has {stitches}, the moves take {}",
            flank.picked_up()
        ));
    }
    if rows != sites {
        faults.push(format!("covers {rows}, the armhole has {sites}"));
    }
    let least = Stitches(LEAST_OF_SECTION);
    let short = flank.zones.iter().find(|zone| zone.stitches < least);
    if let Some(zone) = short.filter(|_| flank.zones.len() > 1) {
        faults.push(format!(
            "has a section of {}, fewer than {LEAST_OF_SECTION}",
            zone.stitches
        ));
    }
    for zone in &flank.zones {
        let gap = zone.rows.as_f64() / zone.stitches.as_f64();
        if !(1.0..=gap_limit + 1e-9).contains(&gap) {
            faults.push(format!("is {gap:.2} rows apart, outside 1 to {gap_limit}"));
        }
    }
    faults
}

/// Every number claimed that the moves do not give.
fn differences(claimed: &Measures, found: &Measures) -> Vec<String> {
    let mut faults = Vec::new();
    let (said, right) = (numbers(claimed), numbers(found));
    if said.len() != right.len() {
        faults.push("The measures claimed are not as many as the moves give.".to_owned());
    }
    for ((name, said), (_, found)) in said.into_iter().zip(right) {
        // What is no number is near to none.
        let is_near = (said - found).abs() <= 1e-9 * found.abs().max(1.0);
        if !is_near {
            faults.push(format!(
                "The {name} is claimed to be {said}, its moves give {found}."
            ));
        }
    }
    faults
}

/// All numbers of a measure, with their names.
fn numbers(measures: &Measures) -> Vec<(String, f64)> {
    let named = [
        ("depth", measures.depth.to_cm()),
        ("depth error", measures.depth_error.to_cm()),
        ("area", measures.area_cm2),
        ("area error", measures.area_error_pct),
        ("upper arm", measures.upper_arm.to_cm()),
        ("width rms", measures.width_rms.to_cm()),
        ("strain rms", measures.strain_rms_pct),
        ("objective", measures.objective),
    ];
    let mut all: Vec<(String, f64)> = named.map(|(name, n)| (name.to_owned(), n)).into();
    let terms = measures.terms.iter();
    all.extend(terms.map(|(name, cost)| (format!("{name} term"), *cost)));
    for (name, side) in [("front", &measures.front), ("back", &measures.back)] {
        all.push((format!("{name} edge"), side.edge.to_cm()));
        all.push((format!("{name} armhole"), side.armhole.to_cm()));
        let widths = side.half_widths_cm.iter();
        all.extend(widths.map(|w| (format!("{name} width"), *w)));
        for moved in &side.moves {
            all.push((format!("{name} cap edge"), moved.cap.to_cm()));
            all.push((format!("{name} armhole of a move"), moved.armhole.to_cm()));
            all.push((format!("{name} wanted edge"), moved.wanted.to_cm()));
        }
    }
    all
}
