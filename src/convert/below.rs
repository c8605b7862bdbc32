//! The sleeve below the join: from there on, or from the round one is on at the gauge that the work shows.

use super::garment::Old;
use super::gauges::GaugesUsed;
use super::landmarks::MEASURED_TO;
use crate::case::{Case, TubeSoFar};
use crate::check::{
    TubeLength, WorkGauge, arm_findings, beside_finding, cuff_passed, impossible_measure,
    too_long_finding, work_gauge_finding,
};
use crate::diagnostic::{Diagnostic, Level};
use crate::fit::{self, Tube, Underway, tube_rest};
use crate::measure::{Gauge, Length, Rows, Stitches};
use crate::plan::{CuffPlan, TubePlan};

/// The tube from the join on.
pub(super) fn tube(
    case: &Case,
    index: usize,
    gauge: &GaugesUsed,
    upper_arm: Stitches,
) -> Option<TubePlan> {
    let length = wanted_length(case, index)?;
    let straight = || gauge.tube.width(upper_arm);
    let cuff = wanted_cuff(case, index, gauge).map(|cuff| for_its_stitch(case, cuff, gauge));
    let cuff = cuff.unwrap_or_else(straight);
    fit::tube(
        upper_arm,
        Tube { cuff, length },
        gauge.tube,
        case.sleeve.repeat(index),
    )
}

/// The cuff below the tube, where the case says how it is worked and how long it is.
pub(super) fn cuff(
    case: &Case,
    index: usize,
    gauge: &GaugesUsed,
    tube: &TubePlan,
) -> Option<CuffPlan> {
    let cuff = case.sleeve.cuff?;
    let length = *case.sleeve.cuff_length.as_ref()?.get(index)?;
    Some(fit::cuff(
        tube,
        length,
        gauge.tube,
        cuff.stitch,
        cuff.multiple,
    ))
}

/// The length from underarm to cuff that the case gives.
pub(super) fn wanted_length(case: &Case, index: usize) -> Option<Length> {
    let length = *case.sleeve.length.as_ref()?.get(index)?;
    let cuff = case
        .sleeve
        .cuff_length
        .as_ref()
        .and_then(|list| list.get(index));
    Some(length - cuff.copied().unwrap_or(Length::ZERO))
}

/// The old sleeve's width at the cuff, net of seams, when the case gives its stitches.
pub(super) fn wanted_cuff(case: &Case, index: usize, gauge: &GaugesUsed) -> Option<Length> {
    let cuff = *case.sleeve.cuff_stitches.as_ref()?.get(index)?;
    let seams = case.sleeve.seam_stitches + case.sleeve.seam_stitches;
    Some(gauge.pattern.width(cuff.saturating_sub(seams)))
}

/// The width of the count nearest to it that the cuff's stitch allows, more where two are as near (the seam took some of
/// what was asked for): the tube is shaped to where the cuff begins, not past it and back.
fn for_its_stitch(case: &Case, width: Length, gauge: &GaugesUsed) -> Length {
    let Some(cuff) = case.sleeve.cuff.filter(|cuff| cuff.multiple > 1) else {
        return width;
    };
    let multiple = f64::from(cuff.multiple);
    let exact = width / gauge.tube.stitch_width() / multiple;
    let times = (exact + 0.5).floor().max(1.0);
    gauge.tube.stitch_width() * (times * multiple)
}

/// The sleeve below the join.
pub(super) struct Below {
    pub(super) tube: Option<TubePlan>,
    /// The gauges, that of the tube as the work shows it where it was measured.
    pub(super) gauge: GaugesUsed,
    pub(super) said: Vec<Diagnostic>,
}

/// The tube from the join on, or from the round one is on.
pub(super) fn underway(
    case: &Case,
    index: usize,
    gauge: &GaugesUsed,
    upper_arm: Stitches,
) -> Result<Below, Vec<Diagnostic>> {
    let so_far = case.so_far.as_ref().filter(|so_far| so_far.size == index);
    let wanted = so_far.and_then(|so_far| so_far.tube.zip(wanted_length(case, index)));
    let Some((so_far, length)) = wanted else {
        return Ok(Below {
            tube: tube(case, index, gauge, upper_arm),
            gauge: *gauge,
            said: Vec::new(),
        });
    };
    let (gauge, mut said) = as_worked(case, gauge, &so_far, upper_arm)?;
    let straight = || gauge.tube.width(upper_arm);
    let cuff = wanted_cuff(case, index, &gauge).unwrap_or_else(straight);
    let underway = Underway {
        rounds: so_far.rounds,
        stitches: so_far.stitches.unwrap_or(upper_arm),
        length: so_far.length,
    };
    let wanted = Tube {
        cuff: for_its_stitch(case, cuff, &gauge),
        length,
    };
    let plan = tube_rest(
        upper_arm,
        underway,
        wanted,
        gauge.tube,
        case.sleeve.repeat(index),
    );
    let tube = plan.map_err(|fault| vec![fault])?;
    let passed = tube
        .as_ref()
        .and_then(|tube| cuff_passed(case.units, tube.cuff, cuff, gauge.tube.stitch_width()));
    said.extend(passed);
    said.extend(tube.as_ref().and_then(beside_finding));
    said.extend(too_long(case, &gauge, &so_far, length));
    Ok(Below { tube, gauge, said })
}

/// Said where nothing is left to be knitted, and more.
fn too_long(
    case: &Case,
    gauge: &GaugesUsed,
    so_far: &TubeSoFar,
    wanted: Length,
) -> Option<Diagnostic> {
    let row = gauge.tube.row_height();
    let (length, off) = match so_far.length {
        Some(measured) => (measured, MEASURED_TO),
        None => (row * (so_far.rounds + Rows(1)).as_f64(), row),
    };
    too_long_finding(&TubeLength {
        units: case.units,
        rounds: so_far.rounds,
        length,
        wanted,
        off,
    })
}

/// The tube's gauge as the work shows it.
fn as_worked(
    case: &Case,
    gauge: &GaugesUsed,
    so_far: &TubeSoFar,
    upper_arm: Stitches,
) -> Result<(GaugesUsed, Vec<Diagnostic>), Vec<Diagnostic>> {
    let rows = so_far.rounds + Rows(1);
    let work = |key, what, count: f64, measured, of_swatch_per_10cm| WorkGauge {
        units: case.units,
        key,
        what,
        count,
        measured,
        read_to: MEASURED_TO,
        of_swatch_per_10cm,
        // The tube goes by its work, however near its swatch it is: nothing is unmade by that.
        swatch_off_pct: 0.0,
    };
    let width = so_far.upper_arm.map(|width| {
        let of_swatch = gauge.tube_swatch().stitches_per_10cm();
        work(
            "so_far.upper_arm",
            "sts",
            upper_arm.as_f64(),
            width,
            of_swatch,
        )
    });
    let height = so_far.length.map(|length| {
        let of_swatch = gauge.tube_swatch().rows_per_10cm();
        work("so_far.length", "rounds", rows.as_f64(), length, of_swatch)
    });
    let impossible = [&width, &height].into_iter().flatten();
    let impossible: Vec<Diagnostic> = impossible.filter_map(impossible_measure).collect();
    if !impossible.is_empty() {
        return Err(impossible);
    }
    let said = [&width, &height].into_iter().flatten();
    let said: Vec<Diagnostic> = said.map(work_gauge_finding).collect();
    let per_10cm =
        |work: &Option<WorkGauge>, swatch: f64| work.as_ref().map_or(swatch, WorkGauge::per_10cm);
    let tube = Gauge::per_10cm(
        per_10cm(&width, gauge.tube.stitches_per_10cm()),
        per_10cm(&height, gauge.tube.rows_per_10cm()),
    );
    match tube {
        Ok(tube) => Ok((GaugesUsed { tube, ..*gauge }, said)),
        // No yarn is knitted at such a gauge.
        Err(_) => Err(said.into_iter().map(|d| d.level(Level::Error)).collect()),
    }
}

/// The upper arm of the work against the arm.
pub(super) fn arm_of_the_work(case: &Case, index: usize, old: &Old) -> Vec<Diagnostic> {
    let Some(so_far) = case.so_far.as_ref().filter(|so_far| so_far.size == index) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    if let Some(width) = so_far.tube.and_then(|tube| tube.upper_arm) {
        let name = "upper arm of the work";
        let against = arm_findings(case.units, name, width, old.arm.as_ref(), &|_| false);
        said.extend(against);
    }
    said
}
