//! The job, readable top to bottom: case -> conversion.

mod adapt;
mod as_counted;
mod below;
mod carried;
mod conversion;
mod cure;
pub mod drift;
mod garment;
mod gauges;
mod grading;
mod landmarks;
mod loops;
mod old;
mod on_needles;
mod on_needles_words;
mod other_needles;
mod person;
mod repeats;
mod same_runs;
mod size;
mod stripes;
mod ways;
mod written;

pub use adapt::{Adaptation, RuleDepth};
pub use conversion::{Alone, Conversion, Sensitivity, SizeBySize, SizeConversion};
pub use garment::Old;
pub use gauges::{GaugeSource, GaugesUsed, Swatches};
pub use grading::{Grading, Measure, MeasureKind, OutOfStep, Structure, Turned, grading};
pub use landmarks::{GaugeError, GiveOrTake, HalfWay, Landmark, Landmarks, MEASURED_TO};
pub use loops::{CapLoops, flat_loops};
pub use old::{armhole_context, cap_context};
pub use stripes::{Band, Meeting, StripedSleeve};
pub use written::{Patterned, Written};

use std::num::NonZeroUsize;

use garment::{old_widths, read_garment, unless_stopped};
use same_runs::same_runs;
use size::convert_size;

use crate::case::{Case, SameRuns};
use crate::check::{SizeWidths, size_set_findings};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::Stop;
use crate::parallel::{self, cores};

/// Converts a case, or one of its sizes.
///
/// # Errors
/// All findings when the case cannot be converted: lines that cannot be read, an outline that is no
/// cap, no feasible fit, a certificate or a proof that fails. Nothing is returned then.
pub fn convert(case: &Case, only: Option<usize>) -> Result<Conversion, Vec<Diagnostic>> {
    convert_until(case, only, &Stop::never())
}

/// The same; once `stop` is set it ends with a finding that says so.
///
/// # Errors
/// As [`convert`].
pub fn convert_until(
    case: &Case,
    only: Option<usize>,
    stop: &Stop,
) -> Result<Conversion, Vec<Diagnostic>> {
    let garments = read_garment(case, asked(case, only), stop)?;
    if let Some(failed) = garments.failure() {
        return Err(failed);
    }
    let mut findings = garments.findings;
    findings.extend(garments.of_gauges);
    let (done, failed) = each(case, garments.sizes, (&garments.gauge, stop), cores());
    unless_stopped(stop)?;
    if !failed.is_empty() {
        findings.extend(failed.into_iter().flat_map(|(_, found)| found));
        return Err(findings);
    }
    let sizes = built_alike(case, done, only, stop)?;
    unless_stopped(stop)?;
    findings.extend(compared(case, &sizes));
    Ok(Conversion { sizes, findings })
}

/// Converts what can be converted of a case, or of one of its sizes, on so many threads.
///
/// The result is the same on any number of threads.
///
/// # Errors
/// All findings when no size can be converted.
pub fn convert_each(
    case: &Case,
    only: Option<usize>,
    threads: NonZeroUsize,
) -> Result<SizeBySize, Vec<Diagnostic>> {
    let stop = &Stop::never();
    let garments = read_garment(case, asked(case, only), stop)?;
    let (good, bad): (Vec<_>, Vec<_>) = garments
        .sizes
        .into_iter()
        .partition(|(_, old)| worst(&old.findings) != Some(Level::Error));
    let mut failed: Vec<Failed> = bad
        .into_iter()
        .map(|(index, old)| (index, old.findings))
        .collect();
    let (done, not_done) = each(case, good, (&garments.gauge, stop), threads);
    failed.extend(not_done);
    let sizes = built_alike(case, done, only, stop)?;
    // Sizes without an outline: what is wrong with them stands among the findings of the lines.
    let (unread, mut findings): (Vec<_>, Vec<_>) =
        garments.findings.into_iter().partition(|said| {
            let named = |size: &&SizeConversion| Some(&size.old.size) == said.size.as_ref();
            said.size.is_some() && !sizes.iter().any(|size| named(&size))
        });
    for (index, label) in case.sizes.iter().enumerate() {
        let of_size = unread
            .iter()
            .filter(|said| said.size.as_ref() == Some(label));
        let of_size: Vec<Diagnostic> = of_size.cloned().collect();
        match failed.iter_mut().find(|(at, _)| *at == index) {
            Some((_, found)) => {
                found.splice(0..0, of_size);
            }
            None if of_size.is_empty() => {}
            None => failed.push((index, of_size)),
        }
    }
    failed.sort_by_key(|(index, _)| *index);
    findings.extend(garments.of_gauges);
    if sizes.is_empty() {
        findings.extend(failed.into_iter().flat_map(|(_, found)| found));
        return Err(findings);
    }
    findings.extend(compared(case, &sizes));
    let named = failed.into_iter().filter_map(|(index, found)| {
        let size = case.sizes.get(index)?;
        Some((size.clone(), found))
    });
    Ok(SizeBySize {
        failed: named.collect(),
        conversion: Conversion { sizes, findings },
    })
}

/// True where sizes are to work the same runs.
fn alike(case: &Case) -> bool {
    matches!(case.fit.same_runs, SameRuns::Yes | SameRuns::WherePossible)
}

/// The sizes that have to be looked at: all of them where they are to be built alike.
fn asked(case: &Case, only: Option<usize>) -> Option<usize> {
    only.filter(|_| !alike(case))
}

/// The sizes asked for, with the same runs in all of the case's sizes where it wants that.
fn built_alike(
    case: &Case,
    mut sizes: Vec<(usize, SizeConversion)>,
    only: Option<usize>,
    stop: &Stop,
) -> Result<Vec<SizeConversion>, Vec<Diagnostic>> {
    if alike(case) && sizes.len() > 1 {
        match same_runs(case, &sizes, stop) {
            Ok(same) => sizes = same,
            // One text of all sizes has sentences for some of them then.
            Err(_) if case.fit.same_runs == SameRuns::WherePossible => unless_stopped(stop)?,
            Err(found) => return Err(found),
        }
    }
    let wanted = sizes
        .into_iter()
        .filter(|(index, _)| only.is_none_or(|only| only == *index));
    Ok(wanted.map(|(_, size)| size).collect())
}

/// What stands out from size to size.
fn compared(case: &Case, sizes: &[SizeConversion]) -> Vec<Diagnostic> {
    let widths: Vec<SizeWidths> = sizes.iter().map(|size| old_widths(&size.old)).collect();
    size_set_findings(case.units, &widths)
}

/// A size that was converted, with its place in the case.
type SizeDone = (usize, SizeConversion);

/// A size that could not be, and why.
type Failed = (usize, Vec<Diagnostic>);

/// Every size, on so many threads, in the order of the sizes.
fn each(
    case: &Case,
    sizes: Vec<(usize, Old)>,
    (gauge, stop): (&GaugesUsed, &Stop),
    threads: NonZeroUsize,
) -> (Vec<SizeDone>, Vec<Failed>) {
    let results = parallel::all(sizes, threads, |(index, old)| {
        let done = unless_stopped(stop).and_then(|()| convert_size(case, index, &old, gauge, stop));
        (index, done)
    });
    let (mut done, mut failed) = (Vec::new(), Vec::new());
    for (index, result) in results {
        match result {
            Ok(size) => done.push((index, size)),
            Err(found) => failed.push((index, found)),
        }
    }
    (done, failed)
}

/// Reads and checks the old garment, without fitting anything: what `check` prints.
///
/// A size with an error in its lines is missing from the sizes; its findings are among those of
/// the whole.
///
/// # Errors
/// All findings when no size can be looked at because the gauge cannot be used.
pub fn check(
    case: &Case,
    only: Option<usize>,
) -> Result<(Vec<Old>, Vec<Diagnostic>), Vec<Diagnostic>> {
    check_until(case, only, &Stop::never())
}

/// The same; once `stop` is set it ends with a finding that says so.
///
/// # Errors
/// As [`check`].
pub fn check_until(
    case: &Case,
    only: Option<usize>,
    stop: &Stop,
) -> Result<(Vec<Old>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let garments = read_garment(case, only, stop)?;
    let mut findings = garments.findings;
    findings.extend(garments.of_gauges);
    let mut sizes: Vec<Old> = garments.sizes.into_iter().map(|(_, old)| old).collect();
    for old in &mut sizes {
        old.judge_arm(case);
    }
    let widths: Vec<SizeWidths> = sizes.iter().map(old_widths).collect();
    findings.extend(size_set_findings(case.units, &widths));
    Ok((sizes, findings))
}
