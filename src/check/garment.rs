//! The old pattern: cap against armhole, underarm against underarm, armhole against size.

use super::codes::{
    ARMHOLE_DEPTH_ODD, CAP_DEPTH_ODD, CAP_EDGE_LONG, CAP_EDGE_SHORT, FRONT_LONGER, TOP_ODD,
    UNDERARM_UNEQUAL, finding,
};
use crate::body::Arm;
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};
use crate::outline::{ArmholeEdge, Cap};

/// What is known of the old garment in one size.
#[derive(Clone, Copy, Debug)]
pub struct Garment<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The old cap.
    pub cap: &'a Cap,
    /// The front armhole.
    pub front: &'a ArmholeEdge,
    /// The back armhole.
    pub back: &'a ArmholeEdge,
    /// The arms of the people it is for.
    pub arm: Option<&'a Arm>,
}

/// A cap edge may be shorter by a rounding of rows and stitches, no more.
const SHORT_SHARE: f64 = 0.02;
const SHORT_LEAST: Length = Length::cm(0.3);

/// About an inch may be eased in.
const LONG: Length = Length::inches(1.0);

/// Cap depth over armhole depth.
const DEPTH_SHARE: std::ops::RangeInclusive<f64> = 0.5..=0.8;

/// Difference of the underarm bind-offs that is worth a word.
const UNDERARM_GAP: Length = Length::cm(1.5);

/// Front edge over back edge that is worth a word.
const FRONT_GAP: Length = Length::cm(1.0);

/// Width of the top of an adult's cap.
const TOP: (Length, Length) = (Length::inches(2.0), Length::inches(5.0));

/// Arms thicker than this are taken for an adult's.
const ADULT_ARM: Length = Length::cm(24.0);

/// More than this over the chart's armhole depth is unusual.
const DEPTH_EASE: Length = Length::cm(5.0);

/// All findings on the old garment.
pub fn garment_findings(garment: &Garment<'_>) -> Vec<Diagnostic> {
    let mut found = edges(garment);
    found.extend(depth(garment));
    found.extend(underarm(garment));
    found.extend(front_and_back(garment));
    found.extend(top(garment));
    found.extend(armhole_depth(garment));
    found
}

fn edges(garment: &Garment<'_>) -> Vec<Diagnostic> {
    let cap = garment.cap.edge_above_underarm();
    let sides = [("front", garment.front), ("back", garment.back)];
    let alike = garment.front == garment.back;
    let sides = sides.iter().take(if alike { 1 } else { 2 });
    sides
        .filter_map(|(name, armhole)| {
            let name = if alike { "" } else { name };
            edge(garment.units, cap, armhole.edge(), name)
        })
        .collect()
}

fn edge(units: Units, cap: Length, armhole: Length, side: &str) -> Option<Diagnostic> {
    let (off, pct) = (cap - armhole, 100.0 * (cap / armhole - 1.0));
    let space = if side.is_empty() { "" } else { " " };
    let short = (armhole * SHORT_SHARE).to_cm().max(SHORT_LEAST.to_cm());
    let (code, word) = if off.to_cm() < -short {
        (&CAP_EDGE_SHORT, "shorter")
    } else if off.to_cm() > LONG.to_cm() {
        (&CAP_EDGE_LONG, "longer")
    } else {
        return None;
    };
    Some(finding(
        code,
        format!(
            "The old cap's edge of {} a side is {} ({:.0} %) {word} than the {side}{space}armhole's {}.",
            units.show(cap),
            units.show(off.abs()),
            pct.abs(),
            units.show(armhole),
        ),
    ))
}

fn depth(garment: &Garment<'_>) -> Option<Diagnostic> {
    let cap = garment.cap.depth();
    let armhole = (garment.front.depth() + garment.back.depth()) / 2.0;
    let share = cap / armhole;
    (!DEPTH_SHARE.contains(&share)).then(|| {
        let message = format!(
            "The cap is {} deep, {:.0} % of the armhole's {}; 50 to 80 % is usual.",
            garment.units.show(cap),
            100.0 * share,
            garment.units.show(armhole),
        );
        finding(&CAP_DEPTH_ODD, message)
    })
}

fn underarm(garment: &Garment<'_>) -> Option<Diagnostic> {
    let sleeve = garment.cap.underarm();
    let body = (garment.front.underarm_width() + garment.back.underarm_width()) / 2.0;
    ((sleeve - body).abs() > UNDERARM_GAP).then(|| {
        let message = format!(
            "At the underarm the sleeve is bound off over {} a side, the body over {}.",
            garment.units.show(sleeve),
            garment.units.show(body),
        );
        finding(&UNDERARM_UNEQUAL, message)
    })
}

fn front_and_back(garment: &Garment<'_>) -> Option<Diagnostic> {
    let off = garment.front.edge() - garment.back.edge();
    (off > FRONT_GAP).then(|| {
        let message = format!(
            "The front armhole's edge is {} longer than the back's.",
            garment.units.show(off)
        );
        finding(&FRONT_LONGER, message)
    })
}

fn top(garment: &Garment<'_>) -> Option<Diagnostic> {
    let top = garment.cap.top();
    let adult = garment.cap.upper_arm() > ADULT_ARM;
    (adult && (top < TOP.0 || top > TOP.1)).then(|| {
        let message = format!(
            "The top of the cap is {} wide; {} to {} is usual for an adult.",
            garment.units.show(top),
            garment.units.show(TOP.0),
            garment.units.show(TOP.1),
        );
        finding(&TOP_ODD, message)
    })
}

fn armhole_depth(garment: &Garment<'_>) -> Option<Diagnostic> {
    let (low, high) = garment.arm?.armhole_depth?;
    let depth = (garment.front.depth() + garment.back.depth()) / 2.0;
    (depth < low || depth > high + DEPTH_EASE).then(|| {
        let message = format!(
            "The armhole is {} deep; the chart has {} to {} for this size, before ease.",
            garment.units.show(depth),
            garment.units.show(low),
            garment.units.show(high),
        );
        finding(&ARMHOLE_DEPTH_ODD, message)
    })
}
