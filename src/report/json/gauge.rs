//! Gauges, per 10 cm.

use serde::Serialize;

use super::rounded::Rounded;
use crate::convert::GaugesUsed;
use crate::measure::Gauge;

/// A gauge.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct GaugeJson {
    /// Stitches per 10 cm.
    stitches: Rounded<4>,
    /// Rows per 10 cm.
    rows: Rounded<4>,
}

impl From<Gauge> for GaugeJson {
    fn from(gauge: Gauge) -> Self {
        Self {
            stitches: Rounded(gauge.stitches_per_10cm()),
            rows: Rounded(gauge.rows_per_10cm()),
        }
    }
}

/// The gauges used.
#[derive(Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct GaugesJson {
    /// The old sleeve's.
    pattern: GaugeJson,
    /// The armhole's.
    body: GaugeJson,
    /// The new cap's.
    cap: GaugeJson,
    /// The tube's.
    tube: GaugeJson,
    /// Stitches in rounds against flat, in per cent.
    drift_stitches_pct: Rounded<2>,
    /// Rows in rounds against flat, in per cent.
    drift_rows_pct: Rounded<2>,
    /// True when no swatch in the round was given.
    tube_assumed: bool,
}

impl From<&GaugesUsed> for GaugesJson {
    fn from(gauge: &GaugesUsed) -> Self {
        let change = gauge.change();
        Self {
            pattern: gauge.pattern.into(),
            body: gauge.body.into(),
            cap: gauge.cap.into(),
            tube: gauge.tube.into(),
            drift_stitches_pct: Rounded(change.stitches_pct),
            drift_rows_pct: Rounded(change.rows_pct),
            tube_assumed: gauge.tube_assumed,
        }
    }
}
