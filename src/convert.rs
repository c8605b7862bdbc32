//! The job, readable top to bottom: case -> conversion.

mod adapt;
pub mod drift;
mod gauges;
mod old;
mod person;
mod size;
mod written;

pub use adapt::{Adaptation, RuleDepth};
pub use gauges::{GaugeSource, GaugesUsed, Swatches};
pub use old::{Old, cap_context};
pub use size::SizeConversion;
pub use written::Written;

use gauges::gauges;
use old::{old_widths, read_garment};
use size::convert_size;

use crate::case::Case;
use crate::check::{SizeWidths, size_set_findings};
use crate::diagnostic::{Diagnostic, Level, worst};

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
    let old = read_garment(case, only)?;
    if let Some(failed) = old.failure() {
        return Err(failed);
    }
    let mut findings = old.findings;
    let (gauge, said) = gauges(case)?;
    findings.extend(said);
    let mut sizes = Vec::new();
    let mut failed = Vec::new();
    for result in side_by_side(case, old.sizes, &gauge) {
        match result {
            Ok(size) => sizes.push(size),
            Err(found) => failed.extend(found),
        }
    }
    if !failed.is_empty() {
        failed.splice(0..0, findings);
        return Err(failed);
    }
    let widths: Vec<SizeWidths> = sizes.iter().map(|size| old_widths(&size.old)).collect();
    findings.extend(size_set_findings(case.units, &widths));
    Ok(Conversion { sizes, findings })
}

/// Every size on a thread of its own, the results in the order of the sizes.
fn side_by_side(
    case: &Case,
    sizes: Vec<(usize, Old)>,
    gauge: &GaugesUsed,
) -> Vec<Result<SizeConversion, Vec<Diagnostic>>> {
    std::thread::scope(|scope| {
        // All are started before the first is waited for.
        let mut workers = Vec::with_capacity(sizes.len());
        for (index, old) in sizes {
            workers.push(scope.spawn(move || convert_size(case, index, old, gauge)));
        }
        let results = workers.into_iter().map(|worker| {
            worker
                .join()
                .unwrap_or_else(|fault| std::panic::resume_unwind(fault))
        });
        results.collect()
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
    let garments = read_garment(case, only)?;
    let mut findings = garments.findings;
    findings.extend(gauges(case)?.1);
    let mut sizes: Vec<Old> = garments.sizes.into_iter().map(|(_, old)| old).collect();
    for old in &mut sizes {
        old.judge_arm(case.units);
    }
    let widths: Vec<SizeWidths> = sizes.iter().map(old_widths).collect();
    findings.extend(size_set_findings(case.units, &widths));
    Ok((sizes, findings))
}
