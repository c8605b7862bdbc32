//! The cap goes on with needles of another size: what is worked keeps its gauge, what is to come has that of their swatch.

use crate::case::SoFar;
use crate::check::{CapState, needles_finding, needles_too_far, needles_too_late};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::Gauge;
use crate::swatch;

/// The needles of the rows to come.
#[derive(Clone, Debug)]
pub(super) struct OtherNeedles {
    /// Their gauge.
    pub(super) gauge: Gauge,
    /// What their swatch says of itself.
    notes: Vec<Diagnostic>,
}

/// The needles that the case says the cap goes on with, if any, and the gauge of what is worked.
///
/// # Errors
/// A swatch that cannot be, or that no row is left for.
pub(super) fn other_needles(
    so_far: &SoFar,
    state: &CapState<'_>,
    worked: Gauge,
) -> Result<Option<OtherNeedles>, Vec<Diagnostic>> {
    let Some(counts) = &so_far.gauge else {
        return Ok(None);
    };
    let (measured, said) = swatch::measure(counts, state.units);
    let notes: Vec<Diagnostic> = said
        .into_iter()
        .map(|d| Diagnostic {
            message: format!("[so_far.gauge] {}", d.message),
            ..d
        })
        .collect();
    let gauge = measured.and_then(|measured| measured.gauge().ok());
    let Some(gauge) = gauge.filter(|_| worst(&notes) != Some(Level::Error)) else {
        return Err(notes);
    };
    let wrong = needles_too_late(state).or_else(|| needles_too_far(state, worked, gauge));
    match wrong {
        Some(wrong) => Err(vec![wrong]),
        None => Ok(Some(OtherNeedles { gauge, notes })),
    }
}

impl OtherNeedles {
    /// What is said of them, with the gauge that the tube is planned at.
    pub(super) fn said(&self, state: &CapState<'_>, tube: Gauge) -> Vec<Diagnostic> {
        let own = needles_finding(state, self.gauge, tube);
        self.notes.iter().cloned().chain([own]).collect()
    }
}
