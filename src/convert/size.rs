//! One size: fit -> certificate -> written pattern -> knitted back.

use std::cell::Cell;

use super::below::{Below, arm_of_the_work, cuff, underway};
use super::conversion::{Alone, Sensitivity, SizeConversion};
use super::cure::{
    NOTHING_HELPS, Without, adapts, or_adapted, tried, tried_adapted, tried_without_repeats,
};
use super::garment::{EASE_BANDS, Old, unless_stopped};
use super::gauges::GaugesUsed;
use super::landmarks::landmarks;
use super::loops::{CapLoops, flat_loops};
use super::on_needles::{OnNeedles, on_needles};
use super::repeats::{in_whole_repeats, price_of_repeats};
use super::stripes::stripes;
use super::written::{Written, written};
use crate::case::Case;
use crate::check::{SleeveFacts, is_cured, is_of_the_fit, sleeve_findings, tube_too_short};
use crate::diagnostic::Diagnostic;
use crate::fit::{
    self, DEFAULT_GAP_LIMIT, Ease, Fit, Live, Measures, NearTie, Problem, SideMeasures, Wishes,
    Work, near_ties,
};
use crate::measure::{Length, Rows, Stitches, Stop};
use crate::outline::{ArmholeEdge, CapEdge, EaseBand, ease_strip};
use crate::plan::{CapPlan, Sleeve, TubePlan};

/// Fit -> certificate -> written pattern -> knitted back, for one size.
pub(super) fn convert_size(
    case: &Case,
    index: usize,
    old: &Old,
    gauge: &GaugesUsed,
    stop: &Stop,
) -> Result<SizeConversion, Vec<Diagnostic>> {
    let problem = problem(case, index, old, gauge);
    let named = |found: Diagnostic| vec![found.for_size(&old.size)];
    let found = fit::fit_until(&problem, Work::USUAL, stop);
    unless_stopped(stop)?;
    let fit = found.map_err(|said| named(or_adapted(case, old, (&problem, stop), said)))?;
    let near_ties = near_ties(&problem, &fit, stop);
    unless_stopped(stop)?;
    let fit = chosen(fit, &near_ties, case.fit.choice).map_err(named)?;
    let on = on_needles(case, index, gauge, (&problem, &fit), stop);
    let on = on.map_err(|found| -> Vec<Diagnostic> {
        found.into_iter().map(|d| d.for_size(&old.size)).collect()
    })?;
    unless_stopped(stop)?;
    let Some(on) = on else {
        return finish(
            case,
            index,
            old,
            (&problem, gauge, stop),
            (fit, near_ties, None),
            None,
        );
    };
    let near_ties = if on.begun.is_some() {
        Vec::new()
    } else {
        near_ties
    };
    let fit = (on.fit.clone(), near_ties, None);
    let asked = (&on.problem, &on.gauge, stop);
    finish(case, index, old, asked, fit, Some(&on))
}

/// The same for a size whose cap is given, with what its own best cap measures.
pub(super) fn convert_with(
    case: &Case,
    index: usize,
    size: &SizeConversion,
    (problem, stop): (&Problem<'_>, &Stop),
    fit: Fit,
) -> Result<SizeConversion, Vec<Diagnostic>> {
    let alone = Alone {
        runs: size.fit.plan.runs(),
        measures: size.fit.measures.clone(),
    };
    let (old, gauge) = (&size.old, &size.gauge);
    let fit = (fit, Vec::new(), Some(alone));
    finish(case, index, old, (problem, gauge, stop), fit, None)
}

fn finish(
    case: &Case,
    index: usize,
    old: &Old,
    (problem, gauge, stop): (&Problem<'_>, &GaugesUsed, &Stop),
    (fit, near_ties, alone): (Fit, Vec<NearTie>, Option<Alone>),
    on: Option<&OnNeedles<'_>>,
) -> Result<SizeConversion, Vec<Diagnostic>> {
    let named = |found: Vec<Diagnostic>| -> Vec<Diagnostic> {
        found.into_iter().map(|d| d.for_size(&old.size)).collect()
    };
    let begun = on.and_then(|on| on.begun.as_ref());
    let faults = match begun {
        Some(begun) => fit::certify_rest(problem, begun, &fit.plan, &fit.measures),
        None => fit::certify(problem, &fit.plan, &fit.measures),
    };
    if !faults.is_empty() {
        return Err(named(faults));
    }
    let below = underway(case, index, gauge, fit.plan.upper_arm()).map_err(named)?;
    let Below { tube, gauge, said } = below;
    let gauge = &gauge;
    let cuff = tube
        .as_ref()
        .and_then(|tube| cuff(case, index, gauge, tube));
    let below = (tube.as_ref(), cuff.as_ref());
    let so_far = on.map(|on| (&on.progress, on.sleeve));
    let written = written(case, (index, old), &fit.plan, below, gauge, so_far).map_err(named)?;
    let mut findings = old.findings.clone();
    let way = (begun.is_some(), &Without::of(case), stop);
    findings.extend(named(judged(case, old, problem, &fit, way)));
    findings.extend(named(said));
    findings.extend(named(of_pattern(&written, tube.as_ref())));
    if on.is_none() {
        findings.extend(named(price_of_repeats(case, index, (problem, stop), &fit)));
    }
    findings.extend(named(arm_of_the_work(case, index, old)));
    findings.extend(named(on.map_or_else(Vec::new, |on| on.said.clone())));
    if tube.is_none() && case.sleeve.length.is_some() {
        findings.extend(named(vec![tube_too_short()]));
    }
    // What was tried after the wish to end may be wrong.
    unless_stopped(stop)?;
    let edge = fit.measures.edge(&fit.plan, problem);
    Ok(SizeConversion {
        loops: CapLoops::of(&fit.plan, first_sleeve(&fit.plan), case.style.hand),
        flat_loops: flat_loops(&old.ledger),
        front_ease: ease(problem, &fit, &fit.measures.front, &old.front),
        back_ease: ease(problem, &fit, &fit.measures.back, &old.back),
        targets_cm: problem.targets_cm(fit.plan.turn_pairs()),
        sensitivity: sensitivity(gauge, fit.plan.upper_arm()),
        gauge: *gauge,
        edge,
        landmarks: landmarks(
            (&fit.plan, tube.as_ref()),
            &fit.measures,
            gauge,
            (
                pairs_worked(case, index, on, &fit.plan),
                on.map(|on| &on.work),
            ),
            problem.worked.is_some(),
        ),
        under_way: on.is_some(),
        recipe: recipe_beside(problem),
        stripes: case
            .stripes
            .as_ref()
            .zip(written.first())
            .map(|(striped, written)| {
                stripes(
                    striped,
                    old,
                    &fit.plan,
                    tube.as_ref(),
                    &written.checklist,
                    gauge,
                )
            }),
        tube,
        cuff,
        written,
        findings,
        fit,
        near_ties,
        alone,
        old: old.clone(),
    })
}

/// Turn pairs that are worked: all of them where the tube has begun.
fn pairs_worked(case: &Case, index: usize, on: Option<&OnNeedles<'_>>, plan: &CapPlan) -> u32 {
    let so_far = case.so_far.as_ref().filter(|so_far| so_far.size == index);
    if so_far.is_some_and(|so_far| so_far.tube.is_some()) {
        return plan.turn_pairs();
    }
    on.map_or(0, |on| on.progress.turn_pairs)
}

/// The common-practice recipe with its measures and its edge; it knows nothing of rows that are worked.
fn recipe_beside(problem: &Problem<'_>) -> (CapPlan, Measures, Length) {
    let anew = Problem {
        worked: None,
        ..problem.clone()
    };
    let recipe = fit::recipe(&anew);
    let measures = fit::measure(&anew, &recipe);
    let edge = measures.edge(&recipe, &anew);
    (recipe, measures, edge)
}

/// What is found of a stitch pattern on cap and tube; both sleeves of a pair have the same to say.
fn of_pattern(written: &[Written], tube: Option<&TubePlan>) -> Vec<Diagnostic> {
    let Some(pattern) = written.first().and_then(|written| written.pattern.as_ref()) else {
        return Vec::new();
    };
    let reached = tube.and_then(|tube| pattern.panel_in_tube(tube));
    pattern.said.iter().cloned().chain(reached).collect()
}

/// The cap that the case picks: 1 is the best, then those nearly as good.
fn chosen(fit: Fit, ties: &[NearTie], choice: usize) -> Result<Fit, Diagnostic> {
    let Some(place) = choice.checked_sub(2) else {
        return Ok(fit);
    };
    match ties.get(place) {
        Some(tie) => Ok(fit.with(tie.plan.clone(), tie.measures.clone())),
        None => Err(fit::no_such_choice(choice, ties.len() + 1)),
    }
}

/// The next step where the cap is under way.
const WORKED: &str =
    "What is worked stays as it is; what helps from here was tried and stands beside it.";

/// What is found on the new sleeve; where another limit of `[fit]` cures it, that is said, once tried.
fn judged(
    case: &Case,
    old: &Old,
    problem: &Problem<'_>,
    fit: &Fit,
    (under_way, without, stop): (bool, &Without, &Stop),
) -> Vec<Diagnostic> {
    let with_facts = |problem: &Problem<'_>, fit: &Fit, then: &dyn Fn(&SleeveFacts<'_>)| {
        let targets = problem.targets_cm(fit.plan.turn_pairs());
        then(&SleeveFacts {
            units: case.units,
            fit,
            row_height: problem.cap_gauge.row_height(),
            stitch_width: problem.cap_gauge.stitch_width(),
            gap_limit: problem.wishes.gap_limit,
            wanted: problem.upper_arm,
            old_ease: old.ease().0 + old.ease().1,
            targets_cm: [&targets, &targets],
            arm: old.arm.as_ref(),
            adapts_to: &|upper_arm| adapts(case, old, (problem, stop), Some(upper_arm)),
        });
    };
    let found = Cell::default();
    with_facts(problem, fit, &|facts| found.set(sleeve_findings(facts)));
    let cured = |said: Diagnostic| {
        let id = said.code.id;
        if !is_of_the_fit(id) {
            return said;
        }
        // Limits of the fit are no cure for what is worked; what is one was tried (`so-far-mend`).
        if under_way {
            return said.next(WORKED);
        }
        let good = |problem: &Problem<'_>, fit: &Fit| {
            let good = Cell::new(false);
            with_facts(problem, fit, &|facts| good.set(is_cured(facts, id)));
            good.get()
        };
        let cure = tried_without_repeats((problem, stop), &good)
            .or_else(|| tried((problem, stop), fit, without, &good))
            .or_else(|| tried_adapted(case, old, (problem, stop), &good));
        said.next(cure.unwrap_or_else(|| NOTHING_HELPS.to_owned()))
    };
    found.take().into_iter().map(cured).collect()
}

/// The sleeve that is written first.
fn first_sleeve(plan: &CapPlan) -> Sleeve {
    Sleeve::needed(plan).first().copied().unwrap_or_default()
}

/// Ease along one edge of the new cap.
fn ease(
    problem: &Problem<'_>,
    fit: &Fit,
    side: &SideMeasures,
    armhole: &ArmholeEdge,
) -> Vec<EaseBand> {
    let edge = CapEdge {
        points_cm: side.edge_points_cm(problem.picked_up_height()),
        depth: fit.measures.depth,
        top: problem.top_gauge().width(fit.plan.crown.stitches),
    };
    let at_shoulder = problem.top_gauge().width(fit.plan.crown.live) / 2.0;
    ease_strip(&edge, armhole, at_shoulder, EASE_BANDS)
}

pub(super) fn problem<'a>(
    case: &Case,
    index: usize,
    old: &'a Old,
    gauge: &GaugesUsed,
) -> Problem<'a> {
    let shoulder = case.shoulder.as_ref().and_then(|list| list.get(index));
    let wishes = &case.fit;
    let asked = Problem {
        cap: &old.cap,
        front: &old.front,
        back: &old.back,
        cap_gauge: gauge.cap,
        worked: None,
        tube_gauge: gauge.tube,
        upper_arm: old.wanted_upper_arm(),
        repeat: case.sleeve.repeat(index),
        live: shoulder.map(|shoulder| Live {
            stitches: shoulder.live,
            extra_each_side: shoulder.extra_each_side,
        }),
        wishes: Wishes {
            moves: wishes.moves.clone(),
            runs: wishes.runs,
            gap_limit: wishes.gap_limit.unwrap_or(DEFAULT_GAP_LIMIT),
            ease: if wishes.ease_at_shoulder {
                Ease::Shoulder
            } else {
                Ease::Even
            },
            base_tolerance: wishes.base_tolerance,
            picked_up_row: wishes.picked_up_row.unwrap_or(Rows(1)),
            plain_join: wishes.plain_join,
        },
    };
    in_whole_repeats(case, index, asked)
}

/// Drifts shown when the tube's gauge is assumed, in per cent.
const DRIFTS_PCT: [i32; 7] = [-6, -4, -2, 0, 2, 4, 6];

fn sensitivity(gauge: &GaugesUsed, upper_arm: Stitches) -> Vec<Sensitivity> {
    let width = gauge.tube.width(upper_arm);
    let drifts = DRIFTS_PCT.into_iter().filter(|_| gauge.tube_assumed);
    drifts
        .map(|drift_pct| Sensitivity {
            drift_pct,
            upper_arm: width / (1.0 + f64::from(drift_pct) / 100.0),
        })
        .collect()
}
