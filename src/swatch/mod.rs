//! From counts to a gauge with its interval, and from two gauges to the drift of flat against round.
//!
//! [`measure`] turns the counts of one swatch into an [`Estimate`] of stitches and one of rows;
//! [`drift()`] compares two swatches; [`pair_findings`] and [`drift_findings`] say what is to be said.
//! Gauges are per 10 cm inside and are shown per 10 cm or per 4 in, as the case is written.

mod codes;
mod counts;
mod drift;
mod estimate;
mod measured;
mod pair;
pub mod statistics;
mod words;

pub use codes::CODES;
pub use drift::{Drift, LEAST_DRIFT_PCT, MoreCounts, Ratio, Verdict, drift};
pub(crate) use estimate::per_10cm;
pub use estimate::{DEFAULT_DIVISION, Estimate, Method, USUALLY_APART_PCT, estimate};
pub use measured::{Measured, PLAIN_RATIO, measure, measure_printed};
pub use pair::{
    drift_findings, drift_sentence, gauges_apart, large_drifts, pair_findings, washing,
};
pub use words::{Counted, show_gauge};
