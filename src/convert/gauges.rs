//! Which gauge is used for what: the cap flat, the tube round, each with its stand-in.

use crate::case::{Armhole, CapGauge, Case};
use crate::check::{body_gauge_finding, gauge_findings};
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::{Gauge, GaugeChange};
use crate::swatch::{self, Drift, Measured};

/// Where a gauge comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeSource {
    /// Printed in the old pattern.
    Pattern,
    /// The swatch knitted back and forth.
    Flat,
    /// The swatch knitted in the round.
    Round,
}

impl GaugeSource {
    /// The word of the case file: `pattern`, `flat` or `round`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pattern => "pattern",
            Self::Flat => "flat",
            Self::Round => "round",
        }
    }
}

/// The swatches with what is known of their error.
#[derive(Clone, Copy, Debug)]
pub struct Swatches {
    /// As the old pattern prints it.
    pub pattern: Measured,
    /// Back and forth.
    pub flat: Option<Measured>,
    /// In the round.
    pub round: Option<Measured>,
}

impl Swatches {
    /// The swatch of this source, when there is one.
    pub fn of(&self, source: GaugeSource) -> Option<Measured> {
        match source {
            GaugeSource::Pattern => Some(self.pattern),
            GaugeSource::Flat => self.flat,
            GaugeSource::Round => self.round,
        }
    }
}

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
    /// Where the cap's gauge comes from.
    pub cap_source: GaugeSource,
    /// True when the case says which swatch the cap is worked at.
    pub cap_chosen: bool,
    /// Where the tube's gauge comes from.
    pub tube_source: GaugeSource,
    /// The swatches these are from.
    pub swatches: Swatches,
}

impl GaugesUsed {
    /// The tube's as its swatch has it, whatever the work shows.
    pub(super) fn tube_swatch(&self) -> Gauge {
        let swatch = self.swatches.of(self.tube_source);
        swatch.as_ref().and_then(gauge_of).unwrap_or(self.tube)
    }

    /// Tube against cap.
    pub fn change(&self) -> GaugeChange {
        let pct = |tube: f64, cap: f64| 100.0 * (tube / cap - 1.0);
        GaugeChange {
            stitches_pct: pct(self.tube.stitches_per_10cm(), self.cap.stitches_per_10cm()),
            rows_pct: pct(self.tube.rows_per_10cm(), self.cap.rows_per_10cm()),
        }
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
    let Some(pattern) = pattern else {
        return Err(findings);
    };
    if worst(&findings) == Some(Level::Error) {
        return Err(findings);
    }
    let swatches = Swatches {
        pattern,
        flat,
        round,
    };
    let Some(used) = used(&swatches, body.as_ref(), case.gauge.cap) else {
        return Err(findings);
    };
    if let (Some(flat), Some(round), Some(drift)) = (&swatches.flat, &swatches.round, &used.drift) {
        findings.extend(swatch::large_drifts(flat, round, drift, units));
    }
    findings.extend(body_assumed(case, &used));
    let apart = swatch::gauges_apart(used.cap, used.tube, units);
    findings.extend(apart);
    match worst(&findings) {
        Some(Level::Error) => Err(findings),
        _ => Ok((used, findings)),
    }
}

/// The body's rows where they are taken from the pattern and the knitter's own are others.
fn body_assumed(case: &Case, used: &GaugesUsed) -> Option<Diagnostic> {
    let by_rows = |armhole: &Armhole| !matches!(armhole, Armhole::Measures { .. });
    let told = case.gauge.body.is_none() && (by_rows(&case.front) || by_rows(&case.back));
    let own = used.cap_source != GaugeSource::Pattern;
    (told && own)
        .then(|| body_gauge_finding(case.units, used.pattern, used.cap))
        .flatten()
}

/// The gauge of each part; none when a mean is out of bounds, which `swatch::measure` refuses.
fn used(swatches: &Swatches, body: Option<&Measured>, cap: Option<CapGauge>) -> Option<GaugesUsed> {
    let gauge = |source| swatches.of(source).as_ref().and_then(gauge_of);
    let cap_source = cap_source(swatches, cap);
    let tube_source = match swatches.round {
        Some(_) => GaugeSource::Round,
        None => GaugeSource::Pattern,
    };
    let pattern = gauge(GaugeSource::Pattern)?;
    let pair = swatches.flat.as_ref().zip(swatches.round.as_ref());
    Some(GaugesUsed {
        pattern,
        body: body.and_then(gauge_of).unwrap_or(pattern),
        cap: gauge(cap_source)?,
        tube: gauge(tube_source)?,
        drift: pair.map(|(flat, round)| swatch::drift(flat, round)),
        tube_assumed: swatches.round.is_none(),
        cap_source,
        cap_chosen: cap.is_some(),
        tube_source,
        swatches: *swatches,
    })
}

/// The case's choice, or else the flat swatch, the round one, the pattern.
fn cap_source(swatches: &Swatches, chosen: Option<CapGauge>) -> GaugeSource {
    match chosen {
        Some(CapGauge::Flat) => GaugeSource::Flat,
        Some(CapGauge::Round) => GaugeSource::Round,
        None if swatches.flat.is_some() => GaugeSource::Flat,
        None if swatches.round.is_some() => GaugeSource::Round,
        None => GaugeSource::Pattern,
    }
}

fn gauge_of(measured: &Measured) -> Option<Gauge> {
    measured.gauge().ok()
}
