//! A size set: from size to size everything grows or stays the same, in steps of a kind.

use super::codes::{GRADING_JUMP, SIZE_ORDER, finding};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

/// What is compared from one size to the next.
#[derive(Clone, Debug)]
pub struct SizeWidths {
    /// The size's label.
    pub size: String,
    /// (what it is, how long it is), the same list in every size.
    pub lengths: Vec<(&'static str, Length)>,
}

/// A difference below this is rounding: charts print tenths of a centimetre.
const ROUNDING_CM: f64 = 0.05;

/// A step is a jump when it is more than so many times the usual step of the set (common practice, no
/// source: sizes that grow by 4 and by 8 cm stand in one set) ...
const JUMP_TIMES: f64 = 2.5;

/// ... and by more than this longer: in a set with steps of a few millimetres nothing is a misprint yet.
const JUMP_MORE: Length = Length::cm(1.5);

/// With fewer steps nobody can say which one is out of step.
const LEAST_STEPS: usize = 3;

/// Sizes that break the order, each with the neighbour it is compared to, and steps that are out
/// of proportion.
pub fn size_set_findings(units: Units, sizes: &[SizeWidths]) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for pair in sizes.windows(2) {
        let [smaller, larger] = pair else { continue };
        for ((name, small), (_, large)) in smaller.lengths.iter().zip(&larger.lengths) {
            if large.to_cm() < small.to_cm() - ROUNDING_CM {
                let message = format!(
                    "The {name} of size {} is {}, less than {} in size {}.",
                    larger.size,
                    units.show(*large),
                    units.show(*small),
                    smaller.size,
                );
                found.push(finding(&SIZE_ORDER, message).for_size(&larger.size));
            }
        }
    }
    let measures = sizes.first().map_or(0, |size| size.lengths.len());
    found.extend((0..measures).flat_map(|measure| jumps(units, sizes, measure)));
    found
}

/// Steps of one measure that are far longer than the median of all other steps.
fn jumps(units: Units, sizes: &[SizeWidths], measure: usize) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let steps: Vec<(&SizeWidths, &SizeWidths, &str, Length)> = sizes
        .windows(2)
        .filter_map(|pair| {
            let [smaller, larger] = pair else { return None };
            let (name, from) = smaller.lengths.get(measure)?;
            let (_, to) = larger.lengths.get(measure)?;
            Some((smaller, larger, *name, *to - *from))
        })
        .collect();
    if steps.len() < LEAST_STEPS {
        return found;
    }
    for (at, (smaller, larger, name, step)) in steps.iter().enumerate() {
        let others = steps.iter().enumerate().filter(|(other, _)| *other != at);
        let usual = median(others.map(|(_, step)| step.3.to_cm()).collect());
        if *step > usual * JUMP_TIMES && *step - usual > JUMP_MORE {
            let message = format!(
                "The {name} grows by {} from size {} to size {}; the usual step of this set is {}.",
                units.show(*step),
                smaller.size,
                larger.size,
                units.show(usual),
            );
            found.push(finding(&GRADING_JUMP, message).for_size(&larger.size));
        }
    }
    found
}

/// The median; no length for an empty list.
fn median(mut numbers_cm: Vec<f64>) -> Length {
    numbers_cm.sort_by(f64::total_cmp);
    let half = numbers_cm.len() / 2;
    let upper = numbers_cm.get(half).copied().unwrap_or(0.0);
    let lower = numbers_cm
        .get(half.saturating_sub(1))
        .copied()
        .unwrap_or(upper);
    Length::cm(if numbers_cm.len().is_multiple_of(2) {
        f64::midpoint(lower, upper)
    } else {
        upper
    })
}
