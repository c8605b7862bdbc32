//! The sleeve below its cap: cuff, increases and length.

use crate::leaflet::Increases;

use super::numbers::PrintNumbers;
use super::sums::{Compared, said};

const CUFF: &str = "sleeve.cuff_stitches";
const ARM: &str = "sleeve.stitches";

/// Stitches before the increases, and twice the increases, are those of the upper arm.
pub(super) fn increases_reach(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let increases = numbers.increases()?;
    let from = numbers.of_list(&increases.from, size)?;
    let arm = numbers.number(ARM, size)?;
    let Some(times) = times(increases, numbers, size) else {
        // Until a count is reached: any even number of stitches more.
        let agree = arm >= from && (arm - from) % 2.0 == 0.0;
        let sentence = format!(
            "From {} stitches no increases at both ends lead to {}",
            said(from),
            said(arm)
        );
        return Some(Compared::new(&[CUFF, ARM], sentence, agree));
    };
    let reached = |first: &u32| from + 2.0 * (times + f64::from(*first));
    let agree = increases
        .first
        .iter()
        .any(|first| (reached(first) - arm).abs() < 0.5);
    let first = increases.first.first()?;
    let sentence = format!(
        "{} stitches and {} increases at both ends make {}, and {} are printed",
        said(from),
        said(times + f64::from(*first)),
        said(reached(first)),
        said(arm)
    );
    Some(Compared::new(&[CUFF, ARM], sentence, agree))
}

/// How often is increased by the paces; nothing where one goes on until a count.
fn times(increases: &Increases, numbers: &PrintNumbers<'_>, size: usize) -> Option<f64> {
    let each = increases.paces.iter();
    each.map(|pace| numbers.of_list(&pace.times, size)).sum()
}

/// The rows of the increases are rows of the sleeve's length: in the size that they fit best, since one pace is often
/// printed for all sizes and the largest are left to the knitter.
pub(super) fn increases_fit(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let share = |size: usize| rows_of(numbers, size).map(|(needed, there)| needed / there);
    let shares: Vec<f64> = (0..numbers.sizes()).map(share).collect::<Option<_>>()?;
    let agree =
        shares.iter().any(|share| *share <= MOST) && shares.iter().any(|share| *share >= LEAST);
    let (needed, there) = rows_of(numbers, size)?;
    let (rows_per_cm, gauge) = numbers.rows_per_cm(false)?;
    let sentence = format!(
        "The increases take {} rows, and from cuff to cap there are {} ({} at {} rows to 10 cm)",
        said(needed.round()),
        said(there.round()),
        numbers.length(there / rows_per_cm),
        said(rows_per_cm * 10.0)
    );
    Some(Compared::new(
        &["sleeve.length", "sleeve.cuff_length", gauge, ARM, CUFF],
        sentence,
        agree,
    ))
}

/// Rows up to the last increase as a share of those from cuff to cap.
const MOST: f64 = 1.2;
const LEAST: f64 = 0.25;

/// Rows up to the last increase, and rows from cuff to cap.
fn rows_of(numbers: &PrintNumbers<'_>, size: usize) -> Option<(f64, f64)> {
    let increases = numbers.increases()?;
    let (rows_per_cm, _) = numbers.rows_per_cm(false)?;
    // A length that may be another sleeve's says nothing.
    if !numbers.is_sure("sleeve.length") {
        return None;
    }
    let length = numbers.cm("sleeve.length", size)?;
    let cuff = numbers.cm("sleeve.cuff_length", size).unwrap_or(0.0);
    let (from, arm) = (
        numbers.of_list(&increases.from, size)?,
        numbers.number(ARM, size)?,
    );
    let needed = rows(increases, numbers, size, (arm - from) / 2.0)?;
    Some((needed, (length - cuff) * rows_per_cm))
}

/// Rows up to the last increase: those of each pace, the last of which takes what is left.
fn rows(increases: &Increases, numbers: &PrintNumbers<'_>, size: usize, all: f64) -> Option<f64> {
    let mut left = all - f64::from(*increases.first.first()?);
    let mut sum = 0.0;
    for pace in &increases.paces {
        let every = numbers.of_list(&pace.every, size)?;
        let times = numbers.of_list(&pace.times, size).unwrap_or(left);
        sum += every * times;
        left -= times;
    }
    (sum > 0.0).then_some(sum)
}
