//! What the measured cap says of the tube: its gauge changes from flat to round as the swatches do.

use super::gauges::{GaugeSource, GaugesUsed};
use super::landmarks::{MOST_PCT, error_pct};
use crate::case::TubeSoFar;
use crate::check::{CapWork, Carried, WorkGauge, carried_finding};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Units};
use crate::swatch::{Estimate, Measured};

/// The gauges with the cap's as the work shows it, and the tube's changed by as much; none where no yarn is knitted
/// like that.
pub(super) fn carried(gauge: &GaugesUsed, shown: Gauge) -> Option<GaugesUsed> {
    let stitches = shown.stitches_per_10cm() / gauge.cap.stitches_per_10cm();
    let rows = shown.rows_per_10cm() / gauge.cap.rows_per_10cm();
    let tube = Gauge::per_10cm(
        gauge.tube.stitches_per_10cm() * stitches,
        gauge.tube.rows_per_10cm() * rows,
    );
    Some(GaugesUsed {
        cap: shown,
        tube: tube.ok()?,
        ..*gauge
    })
}

/// What is said of the tube then: only of what the tube's own measures do not say.
pub(super) fn carried_said(
    units: Units,
    (swatches, shown): (&GaugesUsed, &GaugesUsed),
    work: &CapWork,
    tube: Option<&TubeSoFar>,
) -> Option<Diagnostic> {
    let off = |work: &Option<WorkGauge>, of: fn(&Measured) -> &Estimate| {
        let work = work.as_ref().filter(|work| !work.is_as_swatch())?;
        let tape = work.off_by_pct();
        let squares = [tape * tape, swatches_off(swatches, of)]
            .iter()
            .sum::<f64>();
        Some(squares.sqrt())
    };
    let stitches = off(&work.stitches, |swatch| &swatch.stitches);
    let rows = off(&work.rows, |swatch| &swatch.rows);
    let of = Carried {
        units,
        tube: shown.tube,
        change: swatches.change(),
        stitches_off_pct: stitches.filter(|_| tube.is_none_or(|tube| tube.upper_arm.is_none())),
        rows_off_pct: rows.filter(|_| tube.is_none_or(|tube| tube.length.is_none())),
    };
    let some = of.stitches_off_pct.is_some() || of.rows_off_pct.is_some();
    some.then(|| carried_finding(&of))
}

/// How far off the change from swatch to swatch may be: the squares of both errors; none where it is one swatch.
fn swatches_off(gauge: &GaugesUsed, of: fn(&Measured) -> &Estimate) -> f64 {
    if gauge.cap_source == gauge.tube_source {
        return 0.0;
    }
    let each = [gauge.cap_source, gauge.tube_source].map(|source| {
        let own = gauge.swatches.of(source);
        let own = own.filter(|_| source != GaugeSource::Pattern);
        let pct = own.map_or(MOST_PCT, |swatch| error_pct(of(&swatch)));
        pct * pct
    });
    each.iter().sum()
}
