//! Widths: stitches by the gauge against the finished measures and the body.

use crate::leaflet::What;

use super::numbers::PrintNumbers;
use super::sums::{Compared, said};

/// How far a printed width may be from that of the stitches.
const SPARE: f64 = 0.1;

const FRONT: &str = "armhole.front.stitches";

/// Stitches round the body below the armholes, with their keys.
fn round(numbers: &PrintNumbers<'_>, size: usize) -> Option<(f64, Vec<&'static str>)> {
    let key = numbers.back_stitches();
    let back = numbers.number(key, size)?;
    if let Some(front) = numbers.number(FRONT, size) {
        let fronts = if is_half(front, back) {
            2.0 * front
        } else {
            front
        };
        return Some((back + fronts, vec![key, FRONT]));
    }
    (key == "armhole.stitches" && numbers.front_is_as_back()).then(|| (2.0 * back, vec![key]))
}

fn is_half(front: f64, back: f64) -> bool {
    front < 0.75 * back
}

/// These stitches at this gauge and the printed width.
fn width(
    numbers: &PrintNumbers<'_>,
    (stitches, mut facts): (f64, Vec<&'static str>),
    body: bool,
    (what, printed): (&str, f64),
) -> Option<Compared> {
    let (per_cm, gauge) = numbers.stitches_per_cm(body)?;
    let knitted = stitches / per_cm;
    facts.push(gauge);
    let sentence = format!(
        "{} stitches at {} to 10 cm are {}, and {what} is printed as {}",
        said(stitches),
        said(per_cm * 10.0),
        numbers.length(knitted),
        numbers.length(printed)
    );
    // A garment may be measured as it lies, half of its round.
    let near = |printed: f64| (knitted - printed).abs() <= SPARE * printed;
    let agree = near(printed) || near(2.0 * printed);
    Some(Compared::new(&facts, sentence, agree))
}

/// Round the finished body.
pub(super) fn bust(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let printed = numbers.told_of(What::Bust, size)?;
    width(
        numbers,
        round(numbers, size)?,
        true,
        ("the finished bust or chest", printed),
    )
}

/// Across the back below the armholes.
pub(super) fn back(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let printed = numbers.told_of(What::Width, size)?;
    let key = numbers.back_stitches();
    let stitches = (numbers.number(key, size)?, vec![key]);
    width(
        numbers,
        stitches,
        true,
        ("the width at the underarm", printed),
    )
}

/// Across the back above the armholes.
pub(super) fn cross_back(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let printed = numbers.told_of(What::CrossBack, size)?;
    let stitches = numbers.back(size)?.final_stitches().as_f64();
    let stitches = (stitches, vec![numbers.back_lines()]);
    width(numbers, stitches, true, ("the cross back", printed))
}

/// Round the sleeve at its widest.
pub(super) fn upper_arm(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let printed = numbers.told_of(What::UpperArm, size)?;
    let stitches = (
        numbers.number("sleeve.stitches", size)?,
        vec!["sleeve.stitches"],
    );
    width(numbers, stitches, false, ("the upper arm", printed))
}

/// Ease of a garment as a share of the bust.
const EASE: std::ops::RangeInclusive<f64> = 0.85..=1.5;

/// The stitches round the body and the bust they are to fit.
pub(super) fn ease(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let bust = numbers.cm("body.bust", size)?;
    let (stitches, mut facts) = round(numbers, size)?;
    let (per_cm, gauge) = numbers.stitches_per_cm(true)?;
    let knitted = stitches / per_cm;
    facts.extend([gauge, "body.bust"]);
    let sentence = format!(
        "{} stitches at {} to 10 cm are {} round the body, to fit {}",
        said(stitches),
        said(per_cm * 10.0),
        numbers.length(knitted),
        numbers.length(bust)
    );
    Some(Compared::new(
        &facts,
        sentence,
        EASE.contains(&(knitted / bust)),
    ))
}

/// Stitches of the front, or of both halves, and of the back.
pub(super) fn front_and_back(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let key = numbers.back_stitches();
    let back = numbers.number(key, size)?;
    let front = numbers.number(FRONT, size)?;
    let fronts = if is_half(front, back) {
        2.0 * front
    } else {
        front
    };
    let sentence = format!(
        "The front has {} stitches in all and the back {}",
        said(fronts),
        said(back)
    );
    let agree = (0.8..=1.25).contains(&(fronts / back));
    Some(Compared::new(&[key, FRONT], sentence, agree))
}
