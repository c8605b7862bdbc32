//! What `[adapt]` would make of a finding, with the numbers filled in.

use super::facts::{Garment, armhole_depth_of};
use crate::adapt::{self, Adapted, EdgeEase, Keep, OldCap, Opening, OutlineProblem, OutlineWishes};
use crate::body::Arm;
use crate::measure::{Gauge, Length, Rows, Side, Stitches, Units, nearest_whole};
use crate::outline::{ArmholeEdge, Seam};

/// The next step for a cap edge that does not fit: another cap by `[adapt]`, or another armhole. Both are
/// tried before they are advised: `fits` says whether an edge so long meets an armhole so much longer on each side.
pub(super) fn edge_cure(garment: &Garment<'_>, fits: &dyn Fn(Length, Length) -> bool) -> String {
    let first = "First make sure that both are of the same size";
    // Each in a sentence of its own: a reader on paper has no keys, but rows.
    let cures: Vec<String> = [other_armhole(garment, fits), other_cap(garment, fits)]
        .into_iter()
        .flatten()
        .collect();
    if cures.is_empty() {
        return format!("{first}, and measure the armhole again.");
    }
    format!("{first}. Then {}.", cures.join(". Or "))
}

fn other_cap(garment: &Garment<'_>, fits: &dyn Fn(Length, Length) -> bool) -> Option<String> {
    let problem = problem(garment, EdgeEase::Length(Length::ZERO))?;
    let cap = adapt::adapt(&problem).ok()?.cap;
    let units = garment.units;
    let how = if garment.adapts {
        "change adapt.ease to 0"
    } else {
        "add `[adapt]` with `ease = 0` to the case"
    };
    let near = near_in_depth(cap.depth(), garment.cap.depth());
    (near && fits(cap.edge_above_underarm(), Length::ZERO)).then(|| {
        format!(
            "{how}: a cap of {}, {} deep (now {}, {}), meets this armhole",
            cap.rows(),
            units.show(cap.depth()),
            garment.cap.rows(),
            units.show(garment.cap.depth()),
        )
    })
}

fn other_armhole(garment: &Garment<'_>, fits: &dyn Fn(Length, Length) -> bool) -> Option<String> {
    let opening = problem(garment, EdgeEase::Length(Length::ZERO))?.opening;
    let edge = garment.cap.edge_above_underarm();
    let off = edge - opening.edge();
    let change = Rows(nearest_whole((off / opening.row).abs()));
    let longer = opening.row * change.as_f64();
    let (longer, text) = if off.to_cm() < 0.0 {
        (
            longer * -1.0,
            format!("take {change} out of each side of the armhole"),
        )
    } else {
        (
            longer,
            format!("work {change} more on each side of the armhole"),
        )
    };
    let near = near_in_depth(opening.depth + longer, opening.depth);
    (near && fits(edge, longer)).then_some(text)
}

/// A cap or an armhole may be changed by this share of its depth and be the same garment's: beyond it one of the
/// measures is wrong or another size's (common practice, no source).
const MOST_CHANGED: f64 = 1.0 / 3.0;

/// True where a depth is changed by so little that it can be advised.
pub fn near_in_depth(depth: Length, old: Length) -> bool {
    (depth / old - 1.0).abs() <= MOST_CHANGED
}

/// The next step for a cap too deep or too shallow for its armhole, where the armhole's own edge asks
/// for a usual depth. The cap is made before it is advised.
pub(super) fn depth_cure(
    garment: &Garment<'_>,
    usual: &std::ops::RangeInclusive<f64>,
) -> Option<String> {
    let problem = problem(garment, EdgeEase::Length(Length::ZERO))?;
    let adapted = adapt::adapt(&problem).ok()?;
    let depth = adapted.cap.depth();
    let how = if garment.adapts {
        "With adapt.ease at 0, adapt.depth left out and adapt.keep = \"shape\" there is"
    } else {
        "Then add `[adapt]` with `ease = 0` to the case:"
    };
    usual.contains(&(depth / problem.opening.depth)).then(|| {
        format!(
            "Check the size, the row gauge and that no lines are missing. {how} a cap of {}, {} deep, with the edge that this armhole asks for.",
            adapted.cap.rows(),
            garment.units.show(depth),
        )
    })
}

/// The next step for an underarm that differs from the body's.
pub(super) fn underarm_cure(garment: &Garment<'_>, body: Length) -> String {
    if garment.adapts {
        return "Nothing, if the pattern means it; else check both numbers.".to_owned();
    }
    format!(
        "Nothing, if the pattern means it; else check both numbers, or add `[adapt]` to the case: its cap takes the body's {} a side.",
        garment.units.show(body),
    )
}

/// The next step for an upper arm that does not fit its arm; another cap only where one can be made.
pub(super) fn arm_cure(units: Units, arm: &Arm, adapts_to: &dyn Fn(Length) -> bool) -> String {
    let number = |length: Length| format!("{:.1}", units.number(length));
    let ease = arm.ease.unwrap_or(Length::ZERO);
    let (ease_text, hint) = match arm.ease {
        Some(ease) => (number(ease), ""),
        None => ("0".to_owned(), " and the ease you want"),
    };
    if !adapts_to(arm.typical() + ease) {
        return format!(
            "Choose another size: no cap for an upper arm of {} meets this armhole. Measure the arm first; that beats any table.",
            units.show(arm.typical() + ease),
        );
    }
    format!(
        "Choose another size, or set adapt.upper_arm = {{ body = {}, ease = {ease_text} }} in the case{hint}: the cap is adapted to that arm before it is converted. Measure the arm first; that beats any table.",
        number(arm.typical()),
    )
}

/// The cap that `[adapt]` makes in this armhole, for this upper arm or the one there is.
pub fn adapted_to(garment: &Garment<'_>, upper_arm: Option<Length>) -> Option<Adapted> {
    let problem = problem(garment, EdgeEase::Length(Length::ZERO))?;
    let wishes = OutlineWishes {
        upper_arm,
        ..problem.wishes
    };
    adapt::adapt(&OutlineProblem { wishes, ..problem }).ok()
}

fn problem<'a>(garment: &Garment<'a>, ease: EdgeEase) -> Option<OutlineProblem<'a>> {
    let cap = garment.cap;
    let per_10cm = |length: Length| 10.0 / length.to_cm();
    let gauge = Gauge::per_10cm(per_10cm(cap.stitch_width()), per_10cm(cap.row_height())).ok()?;
    let (front, back) = (garment.front, garment.back);
    Some(OutlineProblem {
        units: garment.units,
        old: Some(OldCap {
            cap,
            ledger: garment.ledger,
        }),
        opening: Opening {
            front: front.edge() + garment.saddle / 2.0,
            back: back.edge() + garment.saddle / 2.0,
            depth: armhole_depth_of(garment),
            underarm: (front.underarm_width() + back.underarm_width()) / 2.0,
            row: row(front)?,
        },
        gauge,
        // Only the number of rows is asked for, and seams do not change it.
        seam: Seam {
            stitches: Stitches::ZERO,
            rows: Rows::ZERO,
        },
        first_row: Side::Rs,
        wishes: OutlineWishes {
            ease: Some(ease),
            keep: Keep::Shape,
            ..OutlineWishes::default()
        },
        rows: None,
    })
}

/// Height of a row of the armhole.
fn row(armhole: &ArmholeEdge) -> Option<Length> {
    let stepped = armhole.stepped_stitches().count();
    let rows = armhole.sites().count().checked_sub(stepped)?;
    (rows > 0).then(|| armhole.depth() / f64::from(rows))
}
