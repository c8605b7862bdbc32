//! Published rules for the depth of a cap: what they would give for an armhole, to compare with.

use crate::measure::Length;

/// What a cap is shallower than its armhole by chest or bust: 2 in up to 30 in, 3 in up to 48 in,
/// 4 in above.
///
/// Source: R. Hunter, 21 Nov 2011; the same table in Slipped Stitches, Mar 2014.
pub fn chest_allowance(chest: Length) -> Length {
    if chest <= Length::inches(30.0) {
        Length::inches(2.0)
    } else if chest <= Length::inches(48.0) {
        Length::inches(3.0)
    } else {
        Length::inches(4.0)
    }
}

/// Armhole depth less the chest's allowance (R. Hunter, 2011). A starting point.
pub fn cap_depth_by_chest(armhole_depth: Length, chest: Length) -> Length {
    armhole_depth - chest_allowance(chest)
}

/// Armhole depth less 1.5 in and half the width of the top (30-day sweater course, day 24).
pub fn cap_depth_by_top(armhole_depth: Length, top: Length) -> Length {
    armhole_depth - Length::inches(1.5) - top / 2.0
}

/// Armhole depth less half the top and half the chest's allowance (Slipped Stitches, Mar 2014).
pub fn cap_depth_by_top_and_chest(armhole_depth: Length, top: Length, chest: Length) -> Length {
    armhole_depth - top / 2.0 - chest_allowance(chest) / 2.0
}

/// From the smallest to the largest depth that the rules give; those by chest only where the
/// chest is known.
pub fn cap_depths(armhole_depth: Length, top: Length, chest: Option<Length>) -> (Length, Length) {
    let by_top = cap_depth_by_top(armhole_depth, top);
    let mut range = (by_top, by_top);
    let by_chest = chest.into_iter().flat_map(|chest| {
        [
            cap_depth_by_chest(armhole_depth, chest),
            cap_depth_by_top_and_chest(armhole_depth, top, chest),
        ]
    });
    for depth in by_chest {
        range.0 = if depth < range.0 { depth } else { range.0 };
        range.1 = if depth > range.1 { depth } else { range.1 };
    }
    range
}

/// The depth of a tube of this girth cut slantwise so that the cut is as long as the armhole is
/// round; `None` when the armhole is no longer round than the tube, which is then cut straight.
///
/// Method: S. Partlan, 2013. A plane cuts a cylinder of radius r in an ellipse with semi-axes r and
/// r / cos a, and the cut is 2 r tan a deep. The girth of the ellipse rises with a, so halving an
/// interval finds it, to a thousandth of a millimetre.
pub fn cap_depth_by_cylinder(upper_arm: Length, armhole_girth: Length) -> Option<Length> {
    let (r, girth) = (
        upper_arm.to_cm() / std::f64::consts::TAU,
        armhole_girth.to_cm(),
    );
    let possible = upper_arm.is_positive() && armhole_girth.is_positive();
    if !possible || armhole_girth <= upper_arm {
        return None;
    }
    // An ellipse is longer round than twice its long axis.
    let (mut low, mut high) = (r, girth / 4.0 + r);
    while high - low > HALVED_TO_CM {
        let middle = f64::midpoint(low, high);
        if ellipse_girth(middle, r) < girth {
            low = middle;
        } else {
            high = middle;
        }
    }
    let long = f64::midpoint(low, high);
    Some(Length::cm(2.0 * (long * long - r * r).max(0.0).sqrt()))
}

/// Halving ends here: a hundredth of what is shown.
const HALVED_TO_CM: f64 = 1e-4;

/// Girth of an ellipse with semi-axes `a >= b > 0` by the arithmetic-geometric mean (Abramowitz and
/// Stegun, 17.6): the digits double with every step.
fn ellipse_girth(a: f64, b: f64) -> f64 {
    let (mut mean, mut other) = (a, b);
    let mut sum = f64::midpoint(a * a, b * b);
    let mut weight = 0.5;
    for _ in 0..AGM_STEPS {
        let half = (mean - other) / 2.0;
        weight *= 2.0;
        sum -= weight * half * half;
        (mean, other) = (f64::midpoint(mean, other), (mean * other).sqrt());
    }
    std::f64::consts::TAU * sum / mean
}

/// More steps change nothing in 53 bits for axes up to a million to one.
const AGM_STEPS: u32 = 8;

#[cfg(test)]
mod tests {
    use super::*;

    /// A circle; and the girth of the ellipse with semi-axes 2 and 1, 9.688448220547675, which is
    /// 8 E(3/4) by SciPy 1.17.1 (`scipy.special.ellipe`).
    #[test]
    fn girths_of_ellipses() {
        approx::assert_abs_diff_eq!(
            ellipse_girth(1.0, 1.0),
            std::f64::consts::TAU,
            epsilon = 1e-14
        );
        approx::assert_abs_diff_eq!(ellipse_girth(2.0, 1.0), 9.688448220547675, epsilon = 1e-13);
        approx::assert_abs_diff_eq!(ellipse_girth(1e3, 1e-3), 4000.0, epsilon = 1e-3);
    }
}
