//! What is on the needles of the tube: its counts, its length, its gauge where only the cap was measured.

use super::codes::{TUBE_PAST_CUFF, finding};
use super::codes_so_far::{SO_FAR_COUNTS, SO_FAR_GAUGE, TUBE_PAST_LENGTH};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, GaugeChange, Length, Rows, Stitches, Units, signed_pct};
use crate::plan::TubePlan;

/// Said when what is decreased already cannot be had back.
pub fn cuff_passed(
    units: Units,
    cuff: Stitches,
    wanted: Length,
    stitch: Length,
) -> Option<Diagnostic> {
    let (width, off) = (stitch * cuff.as_f64(), stitch * 2.0);
    let away = (width.to_cm() - wanted.to_cm()).abs();
    (away > off.to_cm()).then(|| {
        let message = format!(
            "The cuff comes to {} sts, {}; {} was wanted, and what is shaped already cannot be had back.",
            cuff.count(),
            units.show(width),
            units.show(wanted)
        );
        finding(&TUBE_PAST_CUFF, message)
    })
}

/// Stitches put right at one place in one round at the most: more would pucker (common practice, no source).
const MOST_AT_ONCE: u32 = 2;

/// Said of a count that shaping towards the cuff does not lead to: how it can be put right, and that the pattern goes
/// on from it.
pub fn beside_finding(tube: &TubePlan) -> Option<Diagnostic> {
    let beside = tube.beside;
    (beside != 0).then(|| {
        let (worked, planned) = (tube.worked.count(), tube.upper_arm.count());
        let now = tube.stitches_after(worked).count();
        let rounds = if worked == 1 { "round" } else { "rounds" };
        let how = if beside > 0 { "decrease" } else { "make" };
        let each = beside.unsigned_abs() / 2;
        let message = format!(
            "After {worked} {rounds} {now} sts are on the needle; the join has {planned}, and shaping towards the cuff does not lead from there to {now}. The pattern goes on from {now}."
        );
        let (times, took) = match each {
            1 => ("one st at each end of the base, where its markers were, in the next round".to_owned(), 1),
            n if n <= MOST_AT_ONCE => (format!("{n} sts at each end of the base, where its markers were, in the next round"), 1),
            n => (format!("one st at each end of the base, where its markers were, in each of the next {n} rounds"), n),
        };
        let back = format!(
            "; or to have the {planned} back, {how} {times} and give so_far.rounds = {}, so_far.stitches = {planned}",
            worked + took
        );
        let has_room = worked + took < tube.rounds.count();
        let back = if has_room { back.as_str() } else { "" };
        let next = format!("Count again. If it is so, go by the pattern{back}.");
        finding(&SO_FAR_COUNTS, message).next(next)
    })
}

/// How long a sleeve is that is under way, and how long it was to be.
#[derive(Clone, Copy, Debug)]
pub struct TubeLength {
    /// Units for the message.
    pub units: Units,
    /// Rounds that are worked.
    pub rounds: Rows,
    /// Their length, measured or by their gauge.
    pub length: Length,
    /// As it was wanted.
    pub wanted: Length,
    /// More than this is too long: what the tape is read to, or half a round where rounds were counted.
    pub off: Length,
}

/// Said of a sleeve that is longer already than it was to be.
pub fn too_long_finding(of: &TubeLength) -> Option<Diagnostic> {
    let more = of.length - of.wanted;
    (more > of.off).then(|| {
        let units = of.units;
        let message = format!(
            "{} rounds are worked, {} from the underarm; {} was wanted above the cuff: the sleeve is {} too long already.",
            of.rounds.count(),
            units.show(of.length),
            units.show(of.wanted),
            units.show(more)
        );
        finding(&TUBE_PAST_LENGTH, message)
    })
}

/// The gauge of a tube that is not measured, after the cap that is.
#[derive(Clone, Copy, Debug)]
pub struct Carried {
    /// Units for the message.
    pub units: Units,
    /// What the tube is reckoned with.
    pub tube: Gauge,
    /// How the swatches change from the cap's to the tube's.
    pub change: GaugeChange,
    /// How far off stitches may be, in per cent; none where they were not measured.
    pub stitches_off_pct: Option<f64>,
    /// The same of rows.
    pub rows_off_pct: Option<f64>,
}

/// What the cap's measures mean for the tube.
pub fn carried_finding(of: &Carried) -> Diagnostic {
    let over = of.units.swatch_length();
    let per = |per_10cm: f64| per_10cm * over.to_cm() / 10.0;
    let one = |off: Option<f64>, what: &str, gauge: f64, change: f64| {
        let off = off? / 100.0;
        Some(format!(
            "{:.1} {what} ({:.1} to {:.1}; the swatches change by {} from cap to tube)",
            per(gauge),
            per(gauge * (1.0 - off)),
            per(gauge * (1.0 + off)),
            signed_pct(change)
        ))
    };
    let (tube, change) = (of.tube, of.change);
    let stitches = one(
        of.stitches_off_pct,
        "sts",
        tube.stitches_per_10cm(),
        change.stitches_pct,
    );
    let rows = one(
        of.rows_off_pct,
        "rounds",
        tube.rows_per_10cm(),
        change.rows_pct,
    );
    let both: Vec<String> = stitches.into_iter().chain(rows).collect();
    let message = format!(
        "The tube goes by the cap's measures as well, over {}: {}.",
        of.units.show(over),
        both.join(", ")
    );
    let next = "Measure the upper arm after the join (so_far.upper_arm) and the length on the way (so_far.rounds, so_far.stitches, so_far.length): that beats what is carried over.";
    finding(&SO_FAR_GAUGE, message).next(next)
}
