//! The same sleeve planned in several ways and knitted by the same hands.

use super::knitted::{KnittedSleeve, SleevePlan, Truth, knit};
use super::sizing::Sizing;
use crate::convert::GaugeSource;
use crate::diagnostic::Diagnostic;
use crate::fit::{Problem, Work, fit_until};
use crate::measure::{Gauge, Length, Stitches};
use crate::plan::Repeat;

/// Which gauge a plan was worked out with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Each part at its own: the right way.
    EachItsOwn,
    /// Each part at its own, but as many stitches below the join as above it.
    PlainJoin,
    /// One gauge for everything: a wrong way, unless it is the right one by chance.
    OneForAll(GaugeSource),
}

/// A plan, and what these hands make of it.
#[derive(Clone, Debug)]
pub struct PlannedSleeve {
    /// The gauge it was planned with.
    pub taken: Taken,
    /// Its counts.
    pub plan: SleevePlan,
    /// What comes off the needles.
    pub knitted: KnittedSleeve,
    /// How far that is off.
    pub off: OffTrue,
}

/// How far a sleeve is off what was wanted (lengths, area) and off the right plan (counts).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffTrue {
    /// Upper arm minus the width wanted.
    pub upper_arm: Length,
    /// Cap depth minus the old cap's.
    pub depth: Length,
    /// Cap area against the old cap's, in per cent.
    pub area_pct: f64,
    /// Cuff minus the old sleeve's.
    pub cuff: Option<Length>,
    /// Underarm to cuff minus the length wanted.
    pub tube_length: Option<Length>,
    /// Stitches too many (or too few) at the upper arm.
    pub stitches: i64,
    /// Rows too many (or too few) in the cap.
    pub cap_rows: i64,
    /// Rounds too many (or too few) in the tube.
    pub rounds: Option<i64>,
}

/// The right sleeve first, then the same without a stitch made or decreased at the join, then one for each gauge the case
/// knows, all knitted at the right gauges.
///
/// A gauge that is right for both parts is not a second plan. One that leaves no cap is said; the right sleeve itself must be there.
///
/// # Errors
/// The finding that explains why there is no right sleeve.
pub(super) fn planned(
    sizing: &Sizing<'_>,
    found: &mut Vec<Diagnostic>,
) -> Result<Vec<PlannedSleeve>, Diagnostic> {
    let truth = sizing.truth();
    let right = plan(sizing, truth)?;
    let mut sleeves = vec![sleeve(sizing, Taken::EachItsOwn, right.clone(), &right)];
    // Without a drift in stitches, or where the right sleeve joins plainly, there is nothing to show; where no cap does,
    // nothing to knit.
    let drifts = truth.cap.stitch_width() != truth.tube.stitch_width();
    if drifts
        && right.cap.join_change != 0
        && let Ok(plain) = plainly_joined(sizing, truth, right.cap.upper_arm())
    {
        sleeves.push(sleeve(sizing, Taken::PlainJoin, plain, &right));
    }
    for source in [GaugeSource::Pattern, GaugeSource::Flat, GaugeSource::Round] {
        let is_right = sizing.gauge.cap_source == source && sizing.gauge.tube_source == source;
        let Some(gauge) = sizing.gauge_of(source).filter(|_| !is_right) else {
            continue;
        };
        match plan(sizing, one_for_all(gauge)) {
            Ok(plan) => sleeves.push(sleeve(sizing, Taken::OneForAll(source), plan, &right)),
            Err(reason) => found.push(without(source, &reason)),
        }
    }
    Ok(sleeves)
}

const fn one_for_all(gauge: Gauge) -> Truth {
    Truth {
        cap: gauge,
        tube: gauge,
    }
}

fn without(source: GaugeSource, reason: &Diagnostic) -> Diagnostic {
    let message = format!(
        "With the {} gauge for everything there is no cap at all: {}",
        source.word(),
        reason.message
    );
    Diagnostic {
        message,
        ..reason.clone()
    }
    .level(crate::diagnostic::Level::Note)
}

/// The counts of a sleeve planned at these gauges.
pub(super) fn plan(sizing: &Sizing<'_>, planned_at: Truth) -> Result<SleevePlan, Diagnostic> {
    of_problem(sizing, &sizing.problem(planned_at), planned_at)
}

/// The same with no stitch made or decreased at the join.
///
/// Crown and base may leave an odd number for two flanks that are alike; the upper arm then has a stitch more or fewer.
fn plainly_joined(
    sizing: &Sizing<'_>,
    planned_at: Truth,
    upper_arm: Stitches,
) -> Result<SleevePlan, Diagnostic> {
    let mut problem = sizing.problem(planned_at);
    problem.wishes.plain_join = true;
    let planned = of_problem(sizing, &problem, planned_at);
    if planned.is_ok() || problem.repeat != Repeat::ANY {
        return planned;
    }
    problem.repeat = Repeat {
        multiple: 2,
        plus: (upper_arm.count() + 1) % 2,
    };
    of_problem(sizing, &problem, planned_at)
}

fn of_problem(
    sizing: &Sizing<'_>,
    problem: &Problem<'_>,
    planned_at: Truth,
) -> Result<SleevePlan, Diagnostic> {
    let cap = fit_until(problem, Work::USUAL, sizing.stop)?.plan;
    Ok(SleevePlan {
        tube: sizing.tube(planned_at, cap.upper_arm()),
        cap,
    })
}

fn sleeve(
    sizing: &Sizing<'_>,
    taken: Taken,
    plan: SleevePlan,
    right: &SleevePlan,
) -> PlannedSleeve {
    let knitted = knit(&sizing.problem(sizing.truth()), &plan, sizing.truth());
    PlannedSleeve {
        taken,
        off: off(sizing, &plan, &knitted, right),
        plan,
        knitted,
    }
}

fn off(
    sizing: &Sizing<'_>,
    plan: &SleevePlan,
    knitted: &KnittedSleeve,
    right: &SleevePlan,
) -> OffTrue {
    let wanted = sizing.wanted();
    let counts = |plan: &SleevePlan| {
        let rounds = plan
            .tube
            .as_ref()
            .map(|tube| i64::from(tube.rounds.count()));
        (
            i64::from(plan.cap.upper_arm().count()),
            2 * i64::from(plan.cap.turn_pairs()),
            rounds,
        )
    };
    let (here, there) = (counts(plan), counts(right));
    OffTrue {
        upper_arm: knitted.upper_arm - wanted.upper_arm,
        depth: knitted.depth - wanted.depth,
        area_pct: 100.0 * (knitted.area_cm2 / wanted.area_cm2 - 1.0),
        cuff: both(knitted.cuff, wanted.cuff),
        tube_length: both(knitted.tube_length, wanted.tube_length),
        stitches: here.0 - there.0,
        cap_rows: here.1 - there.1,
        rounds: here.2.zip(there.2).map(|(here, there)| here - there),
    }
}

fn both(knitted: Option<Length>, wanted: Option<Length>) -> Option<Length> {
    knitted
        .zip(wanted)
        .map(|(knitted, wanted)| knitted - wanted)
}
