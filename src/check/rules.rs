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
