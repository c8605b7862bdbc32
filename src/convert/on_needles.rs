//! The cap on the needles: what is worked stays, the rest is planned from there at the gauge the work shows.

use super::as_counted::really;
use super::carried::{carried, carried_said};
use super::garment::unless_stopped;
use super::gauges::GaugesUsed;
use super::landmarks::{MEASURED_TO, swatch_off_pct};
use super::on_needles_words::{Ripped, ripped_keys};
use super::other_needles::other_needles;
use super::ways::{Way, WayKind, Ways};
use crate::case::{CapSoFar, Case, Mend, PickedUp, SoFar, TubeSoFar, TurnDecrease};
use crate::check::{
    CapState, CapWork, Outcome, cap_state_findings, joined_finding, mend_finding, pick_up_finding,
    rest_finding, state_finding, total_finding,
};
use crate::diagnostic::{Diagnostic, Level};
use crate::fit::{Begun, Fit, Problem, TOO_FEW_RUNS, Worked, fit_rest, waiting_by_zone};
use crate::measure::{Gauge, Rows, Stitches, Stop};
use crate::plan::{CapPlan, Fix, Flank, FlankPlan, Going, Move, Progress, Section, Sleeve};

/// A cap that is under way.
pub(super) struct OnNeedles<'a> {
    /// The gauges, that of the cap as the work shows it.
    pub(super) gauge: GaugesUsed,
    /// The question, at that gauge.
    pub(super) problem: Problem<'a>,
    /// What is done; none where all is as planned and nothing was replanned.
    pub(super) begun: Option<Begun>,
    pub(super) fit: Fit,
    pub(super) progress: Progress,
    /// What was measured of it.
    pub(super) work: CapWork,
    /// The sleeve it is, where its flanks are not alike.
    pub(super) sleeve: Option<Sleeve>,
    pub(super) said: Vec<Diagnostic>,
}

/// The cap of this size from where it stands; none where nothing of it is on the needles.
///
/// # Errors
/// What no plan leads to, with what was expected; or that no rest leads to the upper arm, with what was tried.
pub(super) fn on_needles<'a>(
    case: &Case,
    index: usize,
    gauge: &GaugesUsed,
    (problem, fit): (&Problem<'a>, &Fit),
    stop: &Stop,
) -> Result<Option<OnNeedles<'a>>, Vec<Diagnostic>> {
    let so_far = case.so_far.as_ref().filter(|so_far| so_far.size == index);
    let Some((so_far, cap)) = so_far.and_then(|so_far| Some((so_far, so_far.cap.as_ref()?))) else {
        return Ok(None);
    };
    let sleeve = so_far.sleeve.unwrap_or(Sleeve::Left);
    let going = Going::round(&fit.plan, sleeve, case.style.hand);
    let state = CapState {
        units: case.units,
        plan: &fit.plan,
        depth: fit.measures.depth,
        gauge: gauge.cap,
        read_to: MEASURED_TO,
        swatch_off_pct: swatch_off_pct(gauge),
        so_far: cap,
        first_is: going.first_is,
    };
    let mut said = cap_state_findings(&state);
    if said.iter().any(|d| d.level == Level::Error) {
        return Err(said);
    }
    let planned = planned(case, &fit.plan, cap.rows);
    let begun = really(&planned, cap, going.first_is).map_err(|why| vec![state_finding(why)])?;
    said.extend(total_said(cap, &begun, &fit.plan, going.first_is));
    let then = when_measured(case, (&fit.plan, cap), &begun, going.first_is)?;
    let work = CapWork::of(&state, between_turns(&then));
    let impossible = work.impossible();
    if !impossible.is_empty() {
        return Err(impossible);
    }
    said.extend(work.findings(&state));
    let tube = so_far.tube.as_ref();
    let ShownGauges {
        worked,
        to_come: shown,
        other_needles,
    } = shown(so_far, &state, (gauge, &work, tube), &mut said)?;
    let mut on = OnNeedles {
        gauge: shown,
        problem: Problem {
            cap_gauge: shown.cap,
            tube_gauge: shown.tube,
            worked: other_needles.then_some(Worked {
                turn_pairs: begun.turn_pairs,
                gauge: worked,
            }),
            ..problem.clone()
        },
        progress: Progress {
            other_needles,
            ..progress(&begun, cap.rows)
        },
        begun: None,
        work,
        fit: fit.clone(),
        sleeve: so_far.sleeve,
        said,
    };
    let same = begun == planned && worked == gauge.cap && !other_needles;
    if let Some(said) = joined_finding((so_far, cap), &fit.plan, same) {
        if same {
            return Err(vec![said]);
        }
        on.said.push(said);
    }
    if same {
        return Ok(Some(on));
    }
    let told = RestTold {
        case,
        cap,
        planned: (&fit.plan, fit),
        then: &then,
        first_is: going.first_is,
    };
    planned_anew(on, &told, (&planned, &begun), &going, stop).map(Some)
}

/// The gauges of a cap under way.
struct ShownGauges {
    /// Of what is worked, as far as it shows.
    worked: Gauge,
    /// Of what is to come.
    to_come: GaugesUsed,
    /// What is to come has needles of another gauge.
    other_needles: bool,
}

/// The gauge that the work shows and that of the rows to come, with what is said of both.
fn shown(
    so_far: &SoFar,
    state: &CapState<'_>,
    (gauge, work, tube): (&GaugesUsed, &CapWork, Option<&TubeSoFar>),
    said: &mut Vec<Diagnostic>,
) -> Result<ShownGauges, Vec<Diagnostic>> {
    let as_errors = |said: &[Diagnostic]| -> Vec<Diagnostic> {
        let all = said.iter().cloned();
        all.map(|d| d.level(Level::Error)).collect()
    };
    let worked = work.gauge(gauge.cap).ok_or_else(|| as_errors(said))?;
    let other = other_needles(so_far, state, worked)?;
    let next = other.as_ref().map_or(worked, |other| other.gauge);
    let to_come = carried(gauge, next).ok_or_else(|| as_errors(said))?;
    if let Some(other) = &other {
        said.extend(other.said(state, to_come.tube));
    } else {
        said.extend(carried_said(state.units, (gauge, &to_come), work, tube));
    }
    Ok(ShownGauges {
        worked,
        to_come,
        other_needles: next != worked,
    })
}

/// The same with the rest planned from where it stands.
fn planned_anew<'a>(
    mut on: OnNeedles<'a>,
    told: &RestTold<'_>,
    (planned, begun): (&Begun, &Begun),
    going: &Going<'_>,
    stop: &Stop,
) -> Result<OnNeedles<'a>, Vec<Diagnostic>> {
    let units = told.case.units;
    let ways = Ways::tried((&on.problem, told.planned.1), planned, begun, stop);
    unless_stopped(stop)?;
    let Some((way, rest)) = ways.taken(told.mend()) else {
        let none = fit_rest(&on.problem, begun).err();
        let keys = |way: &Way| told.keys(way);
        let tried = ways.words(units, going.first_is, None, &keys);
        let next = match (on.work.far_key(), tried.is_empty()) {
            (Some(key), _) => format!(
                "{key} makes it another fabric than its swatch: measure again, or leave {key} out."
            ),
            (None, true) => {
                "Nothing that was tried from here leads to one: count again, or begin again."
                    .to_owned()
            }
            (None, false) => format!("Tried: {}.", crate::check::tried_words(&tried)),
        };
        on.said.extend(none.map(|d| d.next(next)));
        return Err(on.said);
    };
    if let Some(upper_arm) = way.upper_arm {
        on.problem.upper_arm = upper_arm;
    }
    on.problem = on.problem.after(way.begun.turn_pairs);
    on.said.extend(told.findings(&on.problem, &ways, way, rest));
    on.progress.fixes = fixes(begun, way, going);
    on.fit = rest.clone();
    let picked_alike = Sleeve::needed(&on.progress.picked).contains(&Sleeve::Both);
    let alike = Sleeve::needed(&rest.plan).contains(&Sleeve::Both) && picked_alike;
    if !alike {
        on.sleeve = Some(on.sleeve.unwrap_or(Sleeve::Left));
    }
    on.begun = Some(way.begun.clone());
    Ok(on)
}

/// The plan with so many rows worked as it says; an RS row counts for its pair.
fn planned(case: &Case, plan: &CapPlan, rows: Option<Rows>) -> Begun {
    let pairs = rows.map_or(0, |rows| rows.count().div_ceil(2));
    let begun = Begun::of(plan, pairs);
    let turned = begun
        .turned
        .filter(|_| case.style.decrease == TurnDecrease::Together);
    Begun { turned, ..begun }
}

/// The state when depth and width were measured: rows that were ripped back since lay as the plan has them.
fn when_measured(
    case: &Case,
    (plan, cap): (&CapPlan, &CapSoFar),
    begun: &Begun,
    first_is: Flank,
) -> Result<Begun, Vec<Diagnostic>> {
    let Some(at) = cap.measured_at.filter(|at| Some(*at) != cap.rows) else {
        return Ok(begun.clone());
    };
    let counts = CapSoFar {
        turned_at: None,
        ..*cap
    };
    let then = planned(case, plan, Some(at));
    really(&then, &counts, first_is).map_err(|why| vec![state_finding(why)])
}

/// A total is no more than a guess of where the stitches lie: said, with the four counts it is taken to be.
fn total_said(
    cap: &CapSoFar,
    begun: &Begun,
    plan: &CapPlan,
    first_is: Flank,
) -> Option<Diagnostic> {
    let Some(PickedUp::Total(_)) = cap.picked_up else {
        return None;
    };
    let picked = |flank: &FlankPlan| -> Stitches { flank.zones.iter().map(|z| z.stitches).sum() };
    let (front, back) = (picked(&begun.front), picked(&begun.back));
    let (first, second) = match first_is {
        Flank::Front => (front, back),
        Flank::Back => (back, front),
    };
    total_finding(
        PickedUp::Sections {
            crown: begun.crown.stitches,
            first,
            base: begun.base_front + begun.base_back,
            second,
        },
        plan.picked_up(),
    )
}

/// Stitches between the two turns.
fn between_turns(begun: &Begun) -> Stitches {
    let widened = |flank: &FlankPlan| -> Stitches { flank.moves.iter().map(|m| m.widens()).sum() };
    begun.crown.stitches + widened(&begun.front) + widened(&begun.back)
}

/// What is done, for the words.
fn progress(begun: &Begun, rows: Option<Rows>) -> Progress {
    let flank = |flank: &FlankPlan| FlankPlan {
        moves: vec![Move::new(
            flank.zones.iter().map(|z| z.stitches.count()).sum(),
            0,
        )],
        zones: flank.zones.clone(),
    };
    Progress {
        turn_pairs: begun.turn_pairs,
        ends_on_rs: rows.is_some_and(|rows| !rows.is_even()),
        picked: CapPlan {
            crown: begun.crown,
            base_front: begun.base_front,
            base_back: begun.base_back,
            front: flank(&begun.front),
            back: flank(&begun.back),
            join_change: 0,
        },
        fixes: Vec::new(),
        other_needles: false,
    }
}

/// Where stitches are put right: in every zone its share, spread evenly over what waits there.
fn fixes(begun: &Begun, way: &Way, going: &Going<'_>) -> Vec<Fix> {
    let WayKind::Correct(by) = way.kind else {
        return Vec::new();
    };
    let crown = Fix {
        section: Section::Crown,
        made: by.crown > 0,
        at: Fix::places(0, begun.crown.stitches.count(), by.crown.unsigned_abs()),
    };
    let flank = |section: Section, which: Flank| {
        let (before, after, by) = match which {
            Flank::Front => (&begun.front, &way.begun.front, by.front),
            Flank::Back => (&begun.back, &way.begun.back, by.back),
        };
        let zones = before
            .zones
            .iter()
            .zip(&after.zones)
            .zip(waiting_by_zone(before));
        let mut zones: Vec<(u32, u32)> = zones
            .map(|((before, after), waiting)| {
                (
                    waiting,
                    before.stitches.count().abs_diff(after.stitches.count()),
                )
            })
            .collect();
        if section == Section::Second {
            zones.reverse();
        }
        let (mut passed, mut at) = (0, Vec::new());
        for (waiting, count) in zones {
            at.extend(Fix::places(passed, waiting, count));
            passed += waiting;
        }
        Fix {
            section,
            made: by > 0,
            at,
        }
    };
    let second_is = match going.first_is {
        Flank::Front => Flank::Back,
        Flank::Back => Flank::Front,
    };
    vec![
        crown,
        flank(Section::First, going.first_is),
        flank(Section::Second, second_is),
    ]
}

/// What is told of the rest.
struct RestTold<'a> {
    case: &'a Case,
    cap: &'a CapSoFar,
    planned: (&'a CapPlan, &'a Fit),
    /// The state when depth and width were measured.
    then: &'a Begun,
    first_is: Flank,
}

impl RestTold<'_> {
    fn findings(
        &self,
        problem: &Problem<'_>,
        ways: &Ways,
        way: &Way,
        rest: &Fit,
    ) -> Vec<Diagnostic> {
        let units = self.case.units;
        let outcome = |fit| outcome(units, fit);
        let planned = outcome(self.planned.1);
        let rows = 2 * way.begun.turn_pairs;
        let arm = way.upper_arm.map_or_else(String::new, |_| {
            format!(
                " The upper arm wanted cannot be had any more: it comes to {} sts, {}.",
                rest.plan.upper_arm().count(),
                units.show(rest.measures.upper_arm)
            )
        });
        let besides = format!(
            "{arm}{}{}",
            self.interval(problem, way, rest),
            self.side(rest)
        );
        let mut said = vec![rest_finding(
            rows + 1,
            self.planned.0.turn_pairs(),
            &outcome(rest),
            &besides,
        )];
        said.extend(more_runs(problem, rest));
        if rows == 0 {
            let tried = ways.both(units, self.first_is);
            let (taken, other) = match way.kind {
                WayKind::Keep => (
                    "the pick-up as it is",
                    ways.has_correction().then_some("correct"),
                ),
                _ => ("the counts put right", ways.has_kept().then_some("keep")),
            };
            said.push(pick_up_finding(&tried, taken, other));
        } else if !ways.is_close(way, rest) {
            let keys = |way: &Way| self.keys(way);
            let tried = ways.words(units, self.first_is, Some(way), &keys);
            said.push(mend_finding(&outcome(rest), &planned, &tried));
        }
        said
    }

    /// What the case says of counts that are off.
    fn mend(&self) -> Option<Mend> {
        self.case.so_far.as_ref()?.mend
    }

    /// What the case says then, so that this way is taken.
    fn keys(&self, way: &Way) -> Vec<String> {
        let mend = self.mend();
        match way.kind {
            WayKind::Keep => Vec::new(),
            WayKind::Correct(_) => vec!["so_far.mend = \"correct\"".to_owned()],
            WayKind::RipBack(_) => ripped_keys(&Ripped {
                units: self.case.units,
                cap: self.cap,
                mend,
                to: &way.begun,
                planned: &planned(
                    self.case,
                    self.planned.0,
                    Some(Rows(2 * way.begun.turn_pairs)),
                ),
                measured: between_turns(self.then),
                planned_then: self.planned_then(),
                first_is: self.first_is,
            }),
        }
    }

    /// Stitches between the turns that the plan has where it was measured.
    fn planned_then(&self) -> Stitches {
        let counts = CapSoFar {
            turned_at: None,
            ..*self.cap
        };
        let then = planned(self.case, self.planned.0, self.cap.measured_rows());
        let then = really(&then, &counts, self.first_is);
        then.map_or(between_turns(self.then), |then| between_turns(&then))
    }

    /// What the tape leaves open of the number of pairs.
    fn interval(&self, problem: &Problem<'_>, way: &Way, rest: &Fit) -> String {
        let Some((rows, depth)) = self.cap.measured_rows().zip(self.cap.depth) else {
            return String::new();
        };
        let of_work = problem.top_gauge();
        let per = of_work.rows_per_10cm();
        let pairs = |off: f64| {
            let read = depth.to_cm() + off * MEASURED_TO.to_cm();
            let rows = per * depth.to_cm() / read;
            let gauge = Gauge::per_10cm(of_work.stitches_per_10cm(), rows).ok()?;
            let other = match problem.worked {
                Some(worked) => Problem {
                    worked: Some(Worked { gauge, ..worked }),
                    ..problem.clone()
                },
                None => Problem {
                    cap_gauge: gauge,
                    ..problem.clone()
                },
            };
            Some(fit_rest(&other, &way.begun).ok()?.plan.turn_pairs())
        };
        let here = rest.plan.turn_pairs();
        let ends = [pairs(-1.0), pairs(1.0)]
            .into_iter()
            .flatten()
            .chain([here]);
        let (least, most) = ends.fold((here, here), |(a, b), n| (a.min(n), b.max(n)));
        if least == most {
            return format!(
                " What the tape leaves open of {} rows changes no pair of it.",
                rows.count()
            );
        }
        format!(
            " {} rows measured with a tape say no more than that {least} to {most} pairs are right: measure again on the way.",
            rows.count()
        )
    }

    /// Which sleeve the text is for, where nobody said it.
    fn side(&self, rest: &Fit) -> String {
        let said = self.case.so_far.as_ref().and_then(|so_far| so_far.sleeve);
        if said.is_some() || Sleeve::needed(&rest.plan).contains(&Sleeve::Both) {
            return String::new();
        }
        " Its flanks are not alike: the pattern is for the left sleeve; for the right one give so_far.sleeve = \"right\".".to_owned()
    }
}

/// Said where what is worked leaves no rest with as few runs as were asked for.
fn more_runs(problem: &Problem<'_>, rest: &Fit) -> Option<Diagnostic> {
    let asked = problem.wishes.runs?;
    let fewest = rest.plan.runs();
    (fewest > asked).then(|| {
        let message = format!(
            "No cap goes on from what is worked with {asked} runs or fewer; {fewest} are the fewest, and the pattern takes them."
        );
        Diagnostic::new(&TOO_FEW_RUNS, message)
            .level(Level::Warning)
            .next(format!("Go by it, or ask for {fewest} runs or more (fit.runs)."))
    })
}

/// A fit, to be told.
pub(super) fn outcome(units: crate::measure::Units, fit: &Fit) -> Outcome<'_> {
    Outcome {
        units,
        plan: &fit.plan,
        measures: &fit.measures,
    }
}
