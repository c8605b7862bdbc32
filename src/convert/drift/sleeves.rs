//! The same sleeve planned four ways and knitted by the same hands.

use super::knitted::{KnittedSleeve, SleevePlan, Truth, knit};
use super::sizing::Sizing;
use crate::convert::GaugeSource;
use crate::diagnostic::Diagnostic;
use crate::fit::{Work, fit_until};
use crate::measure::{Gauge, Length};

/// Which gauge a plan was worked out with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Each part at its own: the right way.
    EachItsOwn,
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

/// The right sleeve first, then one for each gauge the case knows, all knitted at the right gauges.
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
    let problem = sizing.problem(planned_at);
    let cap = fit_until(&problem, Work::USUAL, sizing.stop)?.plan;
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
