//! Other needles from a row of the cap on: what is said of them, and what cannot be.

use super::codes::finding;
use super::codes_so_far::{SO_FAR_MEASURE, SO_FAR_NEEDLES, SO_FAR_STATE};
use super::so_far::{CapState, MOST_TIMES};
use crate::diagnostic::Diagnostic;
use crate::measure::{Gauge, Rows};

/// `20.5 sts and 28.0 rows over 10 cm`.
fn shown(state: &CapState<'_>, gauge: Gauge, rows: &str) -> String {
    let over = state.units.swatch_length();
    let per = |per_10cm: f64| per_10cm * over.to_cm() / 10.0;
    format!(
        "{:.1} sts and {:.1} {rows} over {}",
        per(gauge.stitches_per_10cm()),
        per(gauge.rows_per_10cm()),
        state.units.show(over)
    )
}

/// From which row on the needles count, and what the tube is planned at.
pub fn needles_finding(state: &CapState<'_>, gauge: Gauge, tube: Gauge) -> Diagnostic {
    let rows = state.so_far.rows.unwrap_or(Rows::ZERO).count();
    let message = format!(
        "From row {} on the cap is planned at the other needles' {}; its first {rows} rows keep theirs. The tube is planned at {}: it differs from the cap as the swatches do.",
        rows + 1,
        shown(state, gauge, "rows"),
        shown(state, tube, "rounds")
    );
    finding(&SO_FAR_NEEDLES, message)
}

/// No row is left for them.
pub fn needles_too_late(state: &CapState<'_>) -> Option<Diagnostic> {
    let (rows, all) = (state.so_far.rows?, 2 * state.plan.turn_pairs());
    (rows >= Rows(all)).then(|| {
        let message = format!(
            "All {all} rows of the cap are worked: no row is left for the gauge of [so_far.gauge]."
        );
        finding(&SO_FAR_STATE, message)
            .about("so_far.gauge")
            .next("Leave it out; where the tube is worked with other needles, give so_far.upper_arm and so_far.length as measured on it.")
    })
}

/// No yarn is knitted so much looser or tighter by other needles.
pub fn needles_too_far(state: &CapState<'_>, worked: Gauge, gauge: Gauge) -> Option<Diagnostic> {
    let counts = [
        ("sts", gauge.stitches_per_10cm(), worked.stitches_per_10cm()),
        ("rows", gauge.rows_per_10cm(), worked.rows_per_10cm()),
    ];
    let over = state.units.swatch_length();
    let per = |per_10cm: f64| per_10cm * over.to_cm() / 10.0;
    counts.iter().find_map(|(what, found, before)| {
        let can_be = before / MOST_TIMES..=before * MOST_TIMES;
        (!can_be.contains(found)).then(|| {
            let message = format!(
                "[so_far.gauge] has {:.1} {what} over {}, the rows worked have {:.1}; {:.1} to {:.1} can be.",
                per(*found),
                state.units.show(over),
                per(*before),
                per(*can_be.start()),
                per(*can_be.end())
            );
            finding(&SO_FAR_MEASURE, message).about("so_far.gauge")
        })
    })
}
