//! A swatch, measured: the gauge of its counts, and what is to be said of them.

use super::codes;
use super::counts::{SwatchCounts, show_error};
use super::estimate::{DEFAULT_DIVISION, Estimate, USUALLY_APART_PCT, estimate};
use super::words::{Counted, gauge_length, plain, show_gauge};
use crate::case::Swatch;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::{Gauge, OutOfBounds, Units};

/// Stitches divided by rows in plain knitting: outside this a count is often wrong.
///
/// Ten published patterns have 0.67 to 0.79; the limits are common practice.
pub const PLAIN_RATIO: std::ops::RangeInclusive<f64> = 0.60..=0.90;

/// A swatch, measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Stitches per 10 cm.
    pub stitches: Estimate,
    /// Rows per 10 cm.
    pub rows: Estimate,
}

impl Measured {
    /// The gauge of the two means.
    ///
    /// # Errors
    /// [`OutOfBounds`] when a mean cannot be a knitted gauge; [`measure`] returns none of these.
    pub fn gauge(&self) -> Result<Gauge, OutOfBounds> {
        Gauge::per_10cm(self.stitches.mean, self.rows.mean)
    }

    /// Stitches divided by rows: 0.67 to 0.79 in published patterns.
    pub fn stitch_row_ratio(&self) -> f64 {
        self.stitches.mean / self.rows.mean
    }
}

/// Measures a swatch; `units` are those the knitter is shown.
///
/// There is a value exactly when no diagnostic is an error. Nothing is dropped or repaired: an
/// outlier stays in the mean, and stitches and rows that look exchanged stay where they are.
pub fn measure(swatch: &Swatch, units: Units) -> (Option<Measured>, Vec<Diagnostic>) {
    let (division, mut found) = division(swatch);
    let of = |counted, list| SwatchCounts {
        counted,
        list,
        division,
        units,
    };
    let stitches = estimated(of(Counted::Stitches, &swatch.stitches), &mut found);
    let rows = estimated(of(Counted::Rows, &swatch.rows), &mut found);
    let measured = stitches
        .zip(rows)
        .map(|(stitches, rows)| Measured { stitches, rows });
    found.extend(one_count(stitches.as_ref(), rows.as_ref(), units));
    if let Some(measured) = &measured {
        found.extend(bounds(measured, units));
        found.extend(ratio(measured));
    }
    found.extend(handling(swatch, measured.as_ref(), units));
    let usable = worst(&found) != Some(Level::Error);
    (measured.filter(|_| usable), found)
}

/// Measures a gauge as a pattern prints it: the same, without the advice to count again.
pub fn measure_printed(swatch: &Swatch, units: Units) -> (Option<Measured>, Vec<Diagnostic>) {
    let (measured, mut found) = measure(swatch, units);
    found.retain(|d| *d.code != codes::ONE_COUNT);
    (measured, found)
}

/// The smallest division counted, and what is wrong with it.
fn division(swatch: &Swatch) -> (f64, Vec<Diagnostic>) {
    match swatch.division {
        None => (DEFAULT_DIVISION, Vec::new()),
        Some(division) if division > 0.0 && division <= 2.0 => (division, Vec::new()),
        Some(division) => {
            let message = format!(
                "A smallest division of {} is not one; more than 0 and at most 2 stitches or rows are allowed.",
                plain(division)
            );
            let found = vec![Diagnostic::new(&codes::DIVISION_BOUNDS, message)];
            (DEFAULT_DIVISION, found)
        }
    }
}

/// The estimate from counts that can all be used and do not contradict each other.
fn estimated(counts: SwatchCounts<'_>, found: &mut Vec<Diagnostic>) -> Option<Estimate> {
    let unusable = counts.unusable();
    if !unusable.is_empty() {
        found.extend(unusable);
        return None;
    }
    let estimate = estimate(counts.list, counts.division)?;
    let doubts = counts.doubts(&estimate);
    let refused = worst(&doubts) == Some(Level::Error);
    found.extend(doubts);
    (!refused).then_some(estimate)
}

/// Stitches or rows that were counted once only: one finding for the swatch.
fn one_count(
    stitches: Option<&Estimate>,
    rows: Option<&Estimate>,
    units: Units,
) -> Option<Diagnostic> {
    let once = [(Counted::Stitches, stitches), (Counted::Rows, rows)]
        .into_iter()
        .filter_map(|(counted, estimate)| Some((counted.word(), estimate?)))
        .filter(|(_, estimate)| estimate.counts == 1);
    let once: Vec<(&str, String)> = once
        .map(|(word, estimate)| (word, show_error(estimate.reading_error, units)))
        .collect();
    let per = gauge_length(units);
    let (said, error) = match once.as_slice() {
        [] => return None,
        [(word, error)] => (
            format!("There is one count of {word} only. Its"),
            format!("{error} {word}"),
        ),
        [(a, error), (b, same)] if error == same => (
            format!("There is only one count of {a} and one of {b}. Their"),
            format!("{error} {a} or {b}"),
        ),
        [(a, first), (b, second), ..] => (
            format!("There is only one count of {a} and one of {b}. Their"),
            format!("{first} {a} and {second} {b}"),
        ),
    };
    let it = if once.len() == 1 {
        "it says"
    } else {
        "they say"
    };
    let message = format!(
        "{said} reading error is {error} per {per} either way, but {it} nothing of how evenly the swatch is knit: two swatches that one knitter makes alike usually differ by about {USUALLY_APART_PCT} % (common practice, no source)."
    );
    Some(Diagnostic::new(&codes::ONE_COUNT, message))
}

/// Means that cannot be knitted.
fn bounds(measured: &Measured, units: Units) -> Option<Diagnostic> {
    let outside = measured.gauge().err()?;
    let show = |gauge: f64| show_gauge(gauge, units);
    let per = gauge_length(units);
    Some(Diagnostic::new(
        &codes::GAUGE_BOUNDS,
        format!(
            "The {} comes to {} per {per}; {} to {} are allowed.",
            outside.bound.name,
            show(outside.value),
            show(outside.bound.min),
            show(outside.bound.max),
        ),
    ))
}

/// A ratio of stitches to rows outside what plain knitting has.
fn ratio(measured: &Measured) -> Option<Diagnostic> {
    let ratio = measured.stitch_row_ratio();
    if PLAIN_RATIO.contains(&ratio) {
        return None;
    }
    if PLAIN_RATIO.contains(&(1.0 / ratio)) {
        let message = format!(
            "There are more stitches than rows in the same length ({ratio:.2} stitches for one row; plain knitting has 0.67 to 0.79). Exchanged, it would be {:.2}. Were stitches and rows exchanged, or ridges counted as rows (a ridge is two rows, and with twice the rows it would be {:.2})?",
            1.0 / ratio,
            ratio / 2.0
        );
        return Some(Diagnostic::new(&codes::EXCHANGED, message));
    }
    let message = format!(
        "There are {ratio:.2} stitches for one row, outside 0.60 to 0.90; plain knitting has 0.67 to 0.79, garter stitch about 0.5."
    );
    Some(Diagnostic::new(&codes::STITCH_ROW, message))
}

/// How the swatch was made and treated.
fn handling(swatch: &Swatch, measured: Option<&Measured>, units: Units) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    found.extend(edge_stitches(swatch, measured, units));
    if swatch.floats {
        let message = "The swatch was worked as a flat strip with floats, which stands for knitting in the round in its middle only.";
        found.push(Diagnostic::new(&codes::FLOATS, message));
    }
    found.extend(unwashed(swatch));
    found
}

/// A swatch that is not washed, or is said to be both.
fn unwashed(swatch: &Swatch) -> Option<Diagnostic> {
    let both = swatch.before_washing.is_some();
    if swatch.washed != Some(false) {
        return None;
    }
    Some(if both {
        let message = "The swatch is said to be unwashed and has counts from before washing as well: one of the two is wrong.";
        Diagnostic::new(&codes::UNWASHED, message).level(Level::Warning)
    } else {
        Diagnostic::new(&codes::UNWASHED, "The swatch was counted before washing.")
    })
}

/// Edge stitches in the counts, and what they would do at half their width.
fn edge_stitches(swatch: &Swatch, measured: Option<&Measured>, units: Units) -> Option<Diagnostic> {
    if swatch.edge_stitches == 0 {
        return None;
    }
    let edge = f64::from(swatch.edge_stitches);
    let effect = measured.map_or_else(String::new, |m| {
        let counted: f64 = swatch.stitches.iter().map(|c| c.counted).sum();
        let inner = counted - edge / 2.0 * m.stitches.counts as f64;
        format!(
            " If they show half of their width, the gauge is {} per {} and not {}.",
            show_gauge(m.stitches.mean * inner.max(0.0) / counted, units),
            gauge_length(units),
            show_gauge(m.stitches.mean, units),
        )
    });
    let count = swatch.edge_stitches;
    let word = if count == 1 {
        "edge stitch"
    } else {
        "edge stitches"
    };
    let message = format!("Every count of stitches includes {count} {word}.{effect}");
    Some(Diagnostic::new(&codes::EDGE, message))
}
