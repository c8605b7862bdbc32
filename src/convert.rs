//! The job, readable top to bottom: case -> conversion.

mod adapt;
mod cure;
pub mod drift;
mod gauges;
mod grading;
mod loops;
mod old;
mod person;
mod same_runs;
mod size;
mod threads;
mod written;

pub use adapt::{Adaptation, RuleDepth};
pub use gauges::{GaugeSource, GaugesUsed, Swatches};
pub use grading::{Grading, Kind, Measure, OutOfStep, Structure, grading};
pub use loops::{CapLoops, flat_loops};
pub use old::{Old, armhole_context, cap_context};
pub use size::{Alone, SizeConversion};
pub use threads::cores;
pub use written::Written;

use std::num::NonZeroUsize;

use gauges::gauges;
use old::{old_widths, read_garment, unless_stopped};
use same_runs::same_runs;
use size::convert_size;

use crate::case::Case;
use crate::check::{SizeWidths, size_set_findings};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::Stop;

/// A converted case: every size that was asked for.
#[derive(Clone, Debug)]
pub struct Conversion {
    /// The sizes, in the case's order.
    pub sizes: Vec<SizeConversion>,
    /// What concerns the lines and the case as a whole.
    pub findings: Vec<Diagnostic>,
}

impl Conversion {
    /// The highest level of all findings.
    pub fn worst(&self) -> Option<Level> {
        let sizes = self.sizes.iter().filter_map(|size| worst(&size.findings));
        sizes.chain(worst(&self.findings)).max()
    }
}

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
    let old = read_garment(case, asked(case, only), stop)?;
    if let Some(failed) = old.failure() {
        return Err(failed);
    }
    let mut findings = old.findings;
    let (gauge, said) = gauges(case)?;
    findings.extend(said);
    let mut sizes = Vec::new();
    let mut failed = Vec::new();
    for (index, result) in side_by_side(case, old.sizes, (&gauge, stop), cores()) {
        match result {
            Ok(size) => sizes.push((index, size)),
            Err(found) => failed.extend(found),
        }
    }
    unless_stopped(stop)?;
    if !failed.is_empty() {
        failed.splice(0..0, findings);
        return Err(failed);
    }
    let sizes = built_alike(case, sizes, only)?;
    unless_stopped(stop)?;
    findings.extend(compared(case, &sizes));
    Ok(Conversion { sizes, findings })
}

/// A case converted size by size: what could be done, and the sizes that could not.
#[derive(Clone, Debug)]
pub struct SizeBySize {
    /// The sizes that were converted and all that was found on the whole.
    pub conversion: Conversion,
    /// The sizes that could not be converted, in the case's order, each with its findings.
    pub failed: Vec<(String, Vec<Diagnostic>)>,
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
    let old = read_garment(case, asked(case, only), stop)?;
    let (gauge, said) = gauges(case)?;
    let (good, bad): (Vec<_>, Vec<_>) = old
        .sizes
        .into_iter()
        .partition(|(_, old)| worst(&old.findings) != Some(Level::Error));
    let mut failed: Vec<(usize, Vec<Diagnostic>)> = bad
        .into_iter()
        .map(|(index, old)| (index, old.findings))
        .collect();
    let mut sizes = Vec::new();
    for (index, result) in side_by_side(case, good, (&gauge, stop), threads) {
        match result {
            Ok(size) => sizes.push((index, size)),
            Err(found) => failed.push((index, found)),
        }
    }
    let sizes = built_alike(case, sizes, only)?;
    // Sizes without an outline: what is wrong with them stands among the findings of the lines.
    let (unread, mut findings): (Vec<_>, Vec<_>) = old.findings.into_iter().partition(|said| {
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
    findings.extend(said);
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

/// The sizes that have to be looked at: all of them where they are to be built alike.
fn asked(case: &Case, only: Option<usize>) -> Option<usize> {
    only.filter(|_| !case.fit.same_runs)
}

/// The sizes asked for, with the same runs in all of the case's sizes where it wants that.
fn built_alike(
    case: &Case,
    mut sizes: Vec<(usize, SizeConversion)>,
    only: Option<usize>,
) -> Result<Vec<SizeConversion>, Vec<Diagnostic>> {
    if case.fit.same_runs && sizes.len() > 1 {
        sizes = same_runs(case, sizes)?;
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

/// A size's place in the case, and what became of it.
type Converted = (usize, Result<SizeConversion, Vec<Diagnostic>>);

/// Every size, on so many threads, the results in the order of the sizes.
fn side_by_side(
    case: &Case,
    sizes: Vec<(usize, Old)>,
    (gauge, stop): (&GaugesUsed, &Stop),
    threads: NonZeroUsize,
) -> Vec<Converted> {
    threads::in_order(sizes, threads, |(index, old)| {
        let done = unless_stopped(stop).and_then(|()| convert_size(case, index, old, gauge, stop));
        (index, done)
    })
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
    findings.extend(gauges(case)?.1);
    let mut sizes: Vec<Old> = garments.sizes.into_iter().map(|(_, old)| old).collect();
    for old in &mut sizes {
        old.judge_arm(case);
    }
    let widths: Vec<SizeWidths> = sizes.iter().map(old_widths).collect();
    findings.extend(size_set_findings(case.units, &widths));
    Ok((sizes, findings))
}
