//! A size set: from size to size everything grows or stays the same.

use super::codes::{SIZE_ORDER, finding};
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

/// A difference below this is rounding.
const ROUNDING_CM: f64 = 0.05;

/// Sizes that break the order, each with the neighbour it is compared to.
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
    found
}
