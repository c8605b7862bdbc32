//! Which gauge is used for what: the cap flat, the tube round, each with its stand-in.

use crate::case::{CapGauge, Case};
use crate::check::gauge_findings;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::Gauge;
use crate::swatch::{self, Drift, Measured};

/// The gauges a conversion uses.
#[derive(Clone, Copy, Debug)]
pub struct GaugesUsed {
    /// The old cap's.
    pub pattern: Gauge,
    /// The armhole's.
    pub body: Gauge,
    /// The new cap's.
    pub cap: Gauge,
    /// The tube's.
    pub tube: Gauge,
    /// Round against flat, when both were swatched.
    pub drift: Option<Drift>,
    /// True when the tube's gauge was not measured.
    pub tube_assumed: bool,
}

impl GaugesUsed {
    /// Tube against cap in per cent: stitches, rows.
    pub fn drift_pct(&self) -> (f64, f64) {
        let pct = |tube: f64, cap: f64| 100.0 * (tube / cap - 1.0);
        (
            pct(self.tube.stitches_per_10cm(), self.cap.stitches_per_10cm()),
            pct(self.tube.rows_per_10cm(), self.cap.rows_per_10cm()),
        )
    }
}

/// Gauges from the swatches: the cap flat, the tube round, each with its stand-in.
pub(super) fn gauges(case: &Case) -> Result<(GaugesUsed, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut findings = Vec::new();
    let mut take = |(measured, said): (Option<Measured>, Vec<Diagnostic>), name: &str| {
        let named = said.into_iter().map(|d| Diagnostic {
            message: format!("[gauge.{name}] {}", d.message),
            ..d
        });
        findings.extend(named);
        measured
    };
    let units = case.units;
    let pattern = take(
        swatch::measure_printed(&case.gauge.pattern, units),
        "pattern",
    );
    let body = case.gauge.body.as_ref();
    let body = body.and_then(|s| take(swatch::measure_printed(s, units), "body"));
    let flat = case.gauge.flat.as_ref();
    let flat = flat.and_then(|s| take(swatch::measure(s, units), "flat"));
    let round = case.gauge.round.as_ref();
    let round = round.and_then(|s| take(swatch::measure(s, units), "round"));
    if let (Some(flat), Some(round)) = (&case.gauge.flat, &case.gauge.round) {
        findings.extend(swatch::pair_findings(flat, round, case.units));
    }
    findings.extend(gauge_findings(
        case.gauge.flat.is_some(),
        case.gauge.round.is_some(),
    ));
    let Some(pattern) = pattern.as_ref().and_then(gauge_of) else {
        return Err(findings);
    };
    if worst(&findings) == Some(Level::Error) {
        return Err(findings);
    }
    let drift = flat
        .as_ref()
        .zip(round.as_ref())
        .map(|(f, r)| swatch::drift(f, r));
    let (flat, round) = (
        flat.as_ref().and_then(gauge_of),
        round.as_ref().and_then(gauge_of),
    );
    let cap = match case.gauge.cap {
        Some(CapGauge::Flat) => flat,
        Some(CapGauge::Round) => round,
        None => flat.or(round),
    };
    let used = GaugesUsed {
        pattern,
        body: body.as_ref().and_then(gauge_of).unwrap_or(pattern),
        cap: cap.unwrap_or(pattern),
        tube: round.unwrap_or(pattern),
        drift,
        tube_assumed: round.is_none(),
    };
    Ok((used, findings))
}

fn gauge_of(measured: &Measured) -> Option<Gauge> {
    measured.gauge().ok()
}
