//! Armhole and cap: what is left above, how deep they are, and what each binds off.

use crate::leaflet::What;
use crate::pattern::Ledger;

use super::numbers::PrintNumbers;
use super::sums::{Compared, said};

/// Shoulders and neck are all that is left above the armhole.
pub(super) fn shoulders_and_neck(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let shoulders = numbers.told_of(What::Shoulders, size)?;
    let neck = numbers.told_of(What::Neck, size)?;
    let left = numbers.back(size)?.final_stitches().as_f64();
    let sentence = format!(
        "{} stitches are left above the armhole, and shoulders ({}) and neck ({}) take {}",
        said(left),
        said(shoulders),
        said(neck),
        said(shoulders + neck)
    );
    let facts = [numbers.back_lines(), numbers.back_stitches()];
    Some(Compared::new(
        &facts,
        sentence,
        (left - shoulders - neck).abs() < 0.5,
    ))
}

/// The neck as a share of what is left above the armhole.
const NECK: std::ops::RangeInclusive<f64> = 0.2..=0.75;

/// What the shoulders leave for the neck.
pub(super) fn shoulders(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let shoulders = numbers.told_of(What::Shoulders, size)?;
    let left = numbers.back(size)?.final_stitches().as_f64();
    let sentence = format!(
        "{} stitches are left above the armhole, and the shoulders take {} of them",
        said(left),
        said(shoulders)
    );
    let facts = [numbers.back_lines(), numbers.back_stitches()];
    Some(Compared::new(
        &facts,
        sentence,
        NECK.contains(&((left - shoulders) / left)),
    ))
}

/// The front is divided on a count that it has in some row.
pub(super) fn divided(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let divided = numbers.told_of(What::Divided, size)?;
    let of_front = numbers.front(size);
    let ledger = of_front.or_else(|| numbers.back(size))?;
    let has = |row: f64| (row - divided).abs() < 0.5;
    let agree =
        has(ledger.start.as_f64()) || ledger.rows.iter().any(|row| has(row.stitches.as_f64()));
    let sentence = format!(
        "The front is divided on {} stitches, and above the armhole {} are left",
        said(divided),
        said(ledger.final_stitches().as_f64())
    );
    let front = ["armhole.front.lines", "armhole.front.stitches"];
    let back = [numbers.back_lines(), numbers.back_stitches()];
    let facts = if of_front.is_some() { front } else { back };
    Some(Compared::new(&facts, sentence, agree))
}

/// The depth of the back's armhole, where its lines tell it.
pub(super) fn depth(numbers: &PrintNumbers<'_>, size: usize) -> Option<f64> {
    let ledger = numbers.back(size)?;
    let (rows_per_cm, _) = numbers.rows_per_cm(true)?;
    let straight = ledger
        .fabric()
        .iter()
        .rev()
        .take_while(|row| row.is_even())
        .count();
    // Lines that end with their shaping do not say how deep it is.
    (straight > 2).then(|| ledger.row_count().as_f64() / rows_per_cm)
}

/// The depth among the measurements.
pub(super) fn printed_depth(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let printed = numbers.told_of(What::ArmholeDepth, size)?;
    let worked = depth(numbers, size)?;
    let sentence = format!(
        "The armhole is worked to {}, and its depth is printed as {}",
        numbers.length(worked),
        numbers.length(printed)
    );
    // A row or two, and a quarter of an inch of rounding.
    Some(Compared::new(
        &[numbers.back_lines()],
        sentence,
        (worked - printed).abs() < 1.2,
    ))
}

/// Side and armhole are the length.
pub(super) fn whole_length(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let length = numbers.told_of(What::Length, size)?;
    let side = numbers.told_of(What::Side, size)?;
    let depth = depth(numbers, size)?;
    let sentence = format!(
        "{} to the armhole and {} above it make {}, and the length is printed as {}",
        numbers.length(side),
        numbers.length(depth),
        numbers.length(side + depth),
        numbers.length(length)
    );
    let agree = (-2.0..=5.0).contains(&(length - side - depth));
    Some(Compared::new(&[numbers.back_lines()], sentence, agree))
}

/// What the first row that binds off takes.
fn first_bind_off(ledger: &Ledger) -> Option<f64> {
    let mut rows = ledger.rows.iter().map(|row| row.bind_off.as_f64());
    rows.find(|stitches| *stitches > 0.0)
}

/// The underarm of the sleeve and of the body.
pub(super) fn underarm(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let both = |size: usize| {
        let cap = first_bind_off(numbers.cap(size)?)?;
        Some((cap, first_bind_off(numbers.back(size)?)?))
    };
    let (cap, body) = both(size)?;
    let unequal = |size: &usize| both(*size).is_none_or(|(cap, body)| (cap - body).abs() > 0.5);
    let unequal = (0..numbers.sizes()).filter(unequal).count();
    // The only size in which they are not the same.
    let alone = numbers.sizes() > 2 && unequal == 1;
    // A cap may go on with bind-offs where the armhole took all at once: 2 each row beside 8.
    let usual = (-4.0..=6.0).contains(&(body - cap));
    let agree = usual && (!alone || (cap - body).abs() < 0.5);
    let sentence = format!(
        "The cap binds off {} stitches first and the armhole {}",
        said(cap),
        said(body)
    );
    Some(Compared::new(
        &["sleeve.cap", numbers.back_lines()],
        sentence,
        agree,
    ))
}

/// Cap depth over armhole depth.
const CAP: std::ops::RangeInclusive<f64> = 0.35..=1.0;

/// The rows of the cap and those of the armhole.
pub(super) fn cap_depth(numbers: &PrintNumbers<'_>, size: usize) -> Option<Compared> {
    let cap = numbers.cap(size)?.row_count().as_f64() / numbers.rows_per_cm(false)?.0;
    let armhole = depth(numbers, size)?;
    let sentence = format!(
        "The cap is {} deep and the armhole {}",
        numbers.length(cap),
        numbers.length(armhole)
    );
    let agree = CAP.contains(&(cap / armhole));
    Some(Compared::new(
        &["sleeve.cap", numbers.back_lines()],
        sentence,
        agree,
    ))
}
