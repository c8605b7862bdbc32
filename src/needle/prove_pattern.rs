//! The proof of a stitch pattern: what was knitted in pattern is what was laid out.

use super::codes;
use super::knitted::Knitted;
use crate::diagnostic::Diagnostic;
use crate::stitch::{Chart, Layout};

/// Compares the charts and the rows in pattern with the layout, stitch by stitch; empty when they agree.
pub fn prove_pattern(layout: &Layout, knitted: &Knitted) -> Vec<Diagnostic> {
    let mut faults = Vec::new();
    let mut differ = |message: String| faults.push(Diagnostic::new(&codes::NOT_THE_PLAN, message));
    let ground = layout.ground();
    let told = |chart: &Chart, first_stitch: u32, first_row: usize| {
        let rows: Vec<_> = chart.rows().to_vec();
        (
            first_stitch,
            u32::try_from(first_row + 1).unwrap_or(u32::MAX),
            rows,
        )
    };
    let mut planned = vec![told(&ground.chart, layout.number(0), ground.first_row)];
    for panel in &layout.panels {
        let first = u32::try_from(panel.from + 1).unwrap_or(u32::MAX);
        planned.push(told(&panel.drawn.chart, first, panel.drawn.first_row));
    }
    let knitted_charts = knitted.charts.iter();
    let found: Vec<_> = knitted_charts
        .map(|c| (c.first_stitch, c.first_row, c.rows.clone()))
        .collect();
    if planned != found {
        differ(format!(
            "the charts of the pattern: {planned:?} planned, {found:?} knitted"
        ));
    }
    let rows = layout.rows();
    if rows.len() != knitted.pattern.len() {
        differ(format!(
            "rows in pattern: {} planned, {} knitted",
            rows.len(),
            knitted.pattern.len()
        ));
    }
    for (planned, knitted) in rows.iter().zip(&knitted.pattern).filter(|(a, b)| a != b) {
        differ(format!(
            "row {} in pattern: {planned:?} planned, {knitted:?} knitted",
            planned.row
        ));
    }
    faults
}
