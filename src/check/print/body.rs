//! Against the body that it is to fit: what the charts have for a bust or chest.

use crate::body::{TableRow, find};

use super::armhole::depth;
use super::numbers::PrintNumbers;
use super::sums::Compared;

/// Charts of sizes, whoever wears them: a chest alone does not tell a boy's from a woman's.
const CHARTS: [&str; 5] = ["baby", "child", "youth", "woman", "man"];

/// Rows of a chart within this of the bust are of such people.
const NEAR: f64 = 6.0;

/// The least and the most of a column for people of this bust.
fn charted(column: &str, bust: f64) -> Option<(f64, f64)> {
    let mut range: Option<(f64, f64)> = None;
    for chart in CHARTS.iter().filter_map(|id| find(id).ok()) {
        let edges = |row: &TableRow, column: &str| {
            let (low, high) = chart.edges(row, column)?;
            Some((low.to_cm(), high.to_cm()))
        };
        let near = |row: &&TableRow| {
            edges(row, "chest").is_some_and(|(low, high)| low - NEAR <= bust && bust <= high + NEAR)
        };
        for (low, high) in chart
            .rows
            .iter()
            .filter(near)
            .filter_map(|row| edges(row, column))
        {
            let (least, most) = range.unwrap_or((low, high));
            range = Some((least.min(low), most.max(high)));
        }
    }
    range
}

/// A length against a chart's column, with what it may be less and more.
fn held(
    numbers: &PrintNumbers<'_>,
    size: usize,
    (what, worked, column): (&str, f64, &str),
    limits: impl Fn(f64, f64) -> (f64, f64),
    facts: &[&str],
) -> Option<Compared> {
    let bust = numbers.girth(size)?;
    let (low, high) = charted(column, bust)?;
    let (least, most) = limits(low, high);
    let sentence = format!(
        "{what} is {}, and people of a bust or chest of {} have {} to {}",
        numbers.length(worked),
        numbers.length(bust),
        numbers.length(low),
        numbers.length(high)
    );
    Some(Compared::new(
        facts,
        sentence,
        (least..=most).contains(&worked),
    ))
}

/// The depth of the armhole.
pub(super) fn armhole_depth(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let worked = depth(numbers, size)?;
    let facts = [numbers.back_lines(), "body.bust"];
    let what = ("The armhole's depth", worked, "armhole_depth");
    held(
        numbers,
        size,
        what,
        |low, high| (low - 2.5, high + 5.0),
        &facts,
    )
}

/// The sleeve up to the underarm; a short one has no least length.
pub(super) fn sleeve_length(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let worked = numbers.cm("sleeve.length", size)?;
    let what = ("The sleeve's length", worked, "arm_length_to_underarm");
    held(
        numbers,
        size,
        what,
        |_, high| (0.0, high + 8.0),
        &["sleeve.length", "body.bust"],
    )
}

/// The width of the sleeve at its widest.
pub(super) fn upper_arm(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let (per_cm, gauge) = numbers.stitches_per_cm(false)?;
    let worked = numbers.number("sleeve.stitches", size)? / per_cm;
    let what = ("The upper arm", worked, "upper_arm");
    let facts = ["sleeve.stitches", gauge, "body.bust"];
    held(
        numbers,
        size,
        what,
        |low, high| (low * 0.9, high * 1.67),
        &facts,
    )
}

/// Sizes that are named by their bust.
pub(super) fn label(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let bust = |size: usize| numbers.number("body.bust", size);
    let named = |size: usize| numbers.numeral(size);
    let same = |size: &usize| {
        let both = named(*size).zip(bust(*size));
        both.is_some_and(|(label, bust)| (label - bust).abs() < 0.5)
    };
    let agreeing = (0..numbers.sizes()).filter(same).count();
    let (label, own) = (named(size)?, bust(size)?);
    let most = 2 * agreeing > numbers.sizes();
    let sentence = format!("The size is named {label} and its bust or chest is {own}");
    Some(Compared::new(
        &["sizes", "body.bust"],
        sentence,
        !most || same(&size),
    ))
}
