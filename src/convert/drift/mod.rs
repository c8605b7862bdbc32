//! Flat against round: what the change of gauge does to this sleeve, and how sure that is.
//!
//! The cap is knitted back and forth, the tube below it in rounds, and stitches made or decreased in
//! the first round take the change of gauge up. [`drift`] plans the sleeve in several ways and knits each at the
//! swatches' gauges, lets the drift run from -6 to +6 %, and follows the error of counting from the
//! swatches to every measure of the sleeve.

mod advice;
#[cfg(test)]
mod coverage;
mod exercise;
mod follow;
mod knitted;
mod simulate;
mod sizing;
mod sleeves;
mod spread;
mod sweep;

pub use advice::{Assumption, NextSwatch, Why};
pub use exercise::{ArmExercise, Exercise, LengthExercise, SUPPOSED_PCT};
pub use follow::{ASSUMED_PCT, Drives, Input};
pub use knitted::{KnittedSleeve, Quantity, QuantityKind, SleevePlan, Truth};
pub use simulate::{SLEEVES, SplitMix64};
pub use sizing::{OldMeasures, SleevePart};
pub use sleeves::{OffTrue, PlannedSleeve, Taken};
pub use spread::{Effect, QuantitySpread, Tighter};
pub use sweep::{DRIFTS_PCT, Sweep, SweepRow};

use super::garment::{read_garment, unless_stopped};
use super::gauges::GaugesUsed;
use crate::case::Case;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::Stop;
use crate::swatch;
use sizing::Sizing;

/// A case's lesson on drift.
#[derive(Clone, Debug)]
pub struct DriftLesson {
    /// The gauges used and the swatches they are from.
    pub gauge: GaugesUsed,
    /// What the swatches say of flat against round, in stitches and in rows; none without both.
    pub verdicts: Vec<Diagnostic>,
    /// The uncertain numbers the sleeve depends on.
    pub inputs: Vec<Input>,
    /// What was assumed for want of a swatch.
    pub assumptions: Vec<Assumption>,
    /// The one swatch to knit, or to count again.
    pub next: NextSwatch,
    /// One for each size asked for.
    pub sizes: Vec<SizeDrift>,
    /// What concerns the swatches and the case as a whole.
    pub findings: Vec<Diagnostic>,
}

/// What flat against round does to one size.
#[derive(Clone, Debug)]
pub struct SizeDrift {
    /// The size's label.
    pub size: String,
    /// What was wanted: the old sleeve's measures.
    pub wanted: OldMeasures,
    /// The right sleeve first, then the one joined plainly, then the sleeves planned with one gauge for everything.
    pub sleeves: Vec<PlannedSleeve>,
    /// Sleeves planned without the drift, knitted with every drift.
    pub sweeps: Vec<Sweep>,
    /// Every measure of the right sleeve with its interval, and what it depends on.
    pub spreads: Vec<QuantitySpread>,
    /// The places of the lesson's inputs, the one that moves any measure most first.
    pub by_effect: Vec<usize>,
    /// The numbers of the exercise sheet.
    pub exercise: Option<Exercise>,
    /// The chance that the upper arm ends tighter than wanted; none without a round swatch that was
    /// counted more than once.
    pub tighter: Option<Tighter>,
    /// What was found for this size.
    pub findings: Vec<Diagnostic>,
}

/// The lesson on drift for a case, or for one of its sizes.
///
/// # Errors
/// All findings when the old garment or the swatches cannot be used, or no size has a cap.
pub fn drift(case: &Case, only: Option<usize>) -> Result<DriftLesson, Vec<Diagnostic>> {
    drift_until(case, only, &Stop::never())
}

/// The same; once `stop` is set it ends with a finding that says so.
///
/// # Errors
/// As [`drift`].
pub fn drift_until(
    case: &Case,
    only: Option<usize>,
    stop: &Stop,
) -> Result<DriftLesson, Vec<Diagnostic>> {
    let garments = read_garment(case, only, stop)?;
    if let Some(failed) = garments.failure() {
        return Err(failed);
    }
    // Remarks on the lines are for `check`; what may spoil the sleeve is said here too.
    let mut findings = garments.findings;
    findings.retain(|said| said.level > Level::Note);
    let gauge = garments.gauge;
    findings.extend(garments.of_gauges);
    findings.extend(washing(case, &gauge));
    let inputs = follow::inputs(&gauge);
    let mut sizes = Vec::new();
    let mut failed = Vec::new();
    for (index, old) in &garments.sizes {
        let sizing = Sizing {
            case,
            index: *index,
            old,
            gauge: &gauge,
            stop,
        };
        unless_stopped(stop)?;
        match sizing.lesson(&inputs) {
            Ok(size) => sizes.push(size),
            Err(reason) => failed.push(reason.for_size(&old.size)),
        }
    }
    unless_stopped(stop)?;
    if !failed.is_empty() {
        failed.splice(0..0, findings);
        return Err(failed);
    }
    let spreads = sizes
        .first()
        .map_or(&[][..], |size| size.spreads.as_slice());
    Ok(DriftLesson {
        verdicts: verdicts(case, &gauge),
        assumptions: advice::assumptions(&gauge),
        next: advice::next_swatch(&gauge, &inputs, spreads, case.units),
        gauge,
        inputs,
        sizes,
        findings,
    })
}

impl DriftLesson {
    /// The highest level of all findings.
    pub fn worst(&self) -> Option<Level> {
        let sizes = self.sizes.iter().filter_map(|size| worst(&size.findings));
        let all = sizes.chain(worst(&self.verdicts));
        all.chain(worst(&self.findings)).max()
    }
}

/// What washing did to each swatch that was counted before and after.
fn washing(case: &Case, gauge: &GaugesUsed) -> Vec<Diagnostic> {
    let swatches = &gauge.swatches;
    let pairs = [
        (case.gauge.flat.as_ref(), swatches.flat),
        (case.gauge.round.as_ref(), swatches.round),
    ];
    pairs
        .into_iter()
        .filter_map(|(counts, measured)| counts.zip(measured))
        .flat_map(|(counts, measured)| swatch::washing(counts, &measured, case.units).1)
        .collect()
}

/// What the pair of swatches says, in plain words.
fn verdicts(case: &Case, gauge: &GaugesUsed) -> Vec<Diagnostic> {
    let swatches = &gauge.swatches;
    match (&swatches.flat, &swatches.round, &gauge.drift) {
        (Some(flat), Some(round), Some(drift)) => {
            swatch::drift_findings(flat, round, drift, case.units)
        }
        _ => Vec::new(),
    }
}

impl Sizing<'_> {
    fn lesson(&self, inputs: &[Input]) -> Result<SizeDrift, Diagnostic> {
        let mut findings = Vec::new();
        let sleeves = sleeves::planned(self, &mut findings)?;
        let size = &self.old.size;
        let right = sleeves.first().map(|sleeve| &sleeve.plan);
        let spreads = right
            .map(|plan| spread::spreads(self, plan, inputs))
            .unwrap_or_default();
        Ok(SizeDrift {
            exercise: exercise::exercise(self),
            by_effect: advice::by_effect(inputs, &spreads),
            spreads,
            tighter: right.and_then(|plan| spread::tighter(self, plan, inputs)),
            sweeps: self.sweeps(&sleeves),
            sleeves,
            wanted: self.wanted(),
            findings: findings.into_iter().map(|d| d.for_size(size)).collect(),
            size: size.clone(),
        })
    }

    /// The converted sleeve for each part whose gauge was assumed; where nothing was, the sleeve
    /// planned with the other part's swatch alone, for each part.
    fn sweeps(&self, sleeves: &[PlannedSleeve]) -> Vec<Sweep> {
        let gauge = self.gauge;
        let guessed = [SleevePart::Tube, SleevePart::Cap].map(|part| gauge.assumed(part));
        let parts = [
            (SleevePart::Tube, gauge.tube_source, gauge.cap_source),
            (SleevePart::Cap, gauge.cap_source, gauge.tube_source),
        ];
        let wanted = parts.into_iter().zip(guessed);
        let wanted = wanted.filter(|(_, assumed)| *assumed || guessed == [false, false]);
        let sweeps = wanted.filter_map(|((part, own, other), assumed)| {
            let (taken, source) = if assumed || own == other {
                (Taken::EachItsOwn, own)
            } else {
                (Taken::OneForAll(other), other)
            };
            let sleeve = sleeves.iter().find(|sleeve| sleeve.taken == taken)?;
            let planned_at = self.gauge_of(source)?;
            Some(sweep::sweep(self, &sleeve.plan, part, planned_at, assumed))
        });
        sweeps.collect()
    }
}
