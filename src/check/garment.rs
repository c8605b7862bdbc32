//! The old pattern: cap against armhole, underarm against underarm, armhole against size.

use super::codes::{
    ARMHOLE_DEPTH_ODD, ARMHOLE_ROWS_ABOVE, ARMHOLE_SHARE, ARMHOLE_UNFINISHED, CAP_EDGE_LONG,
    CAP_EDGE_SHORT, CAP_TOO_DEEP, CAP_TOO_SHALLOW, FRONT_LONGER, TOP_ODD, UNDERARM_TOO_WIDE,
    UNDERARM_UNEQUAL, finding,
};
use super::cure::{depth_cure, edge_cure, underarm_cure};
use super::facts::{Garment, armhole_depth_of};
use crate::adapt::{cap_depth_by_cylinder, cap_depths};
use crate::body::{Counterpart, share_in_words};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Rows};
use crate::outline::{ArmholeEdge, MOST_EASE_IN_ALL, MOST_EASE_OF_A_SIDE};

/// A cap edge may be shorter by a rounding of rows and stitches, no more. This and the limits below are
/// those that `explain` states with their sources (`codes.rs`).
const SHORT_SHARE: f64 = 0.02;
const SHORT_LEAST: Length = Length::cm(0.3);

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
    found.extend(unfinished(garment));
    found.extend(rows_above(garment));
    found.extend(armhole_share(garment));
    found
}

fn edges(garment: &Garment<'_>) -> Vec<Diagnostic> {
    let now = garment.cap.edge_above_underarm();
    let faults = |cap: Length, longer: Length| {
        let mut found = short_edges(garment, cap, longer);
        found.extend(long_edge(garment, cap, longer));
        found
    };
    let found = faults(now, Length::ZERO);
    if found.is_empty() {
        return found;
    }
    let cure = edge_cure(garment, &|cap, longer| faults(cap, longer).is_empty());
    found
        .into_iter()
        .map(|found| found.next(cure.clone()))
        .collect()
}

/// Each side by itself: what is too short at the front is not helped by ease at the back. The armhole is
/// taken to be so much longer on each side.
fn short_edges(garment: &Garment<'_>, cap: Length, longer: Length) -> Vec<Diagnostic> {
    let sides = [("front ", garment.front), ("back ", garment.back)];
    let alike = garment.front == garment.back;
    sides
        .iter()
        .take(if alike { 1 } else { 2 })
        .filter_map(|(name, armhole)| {
            let armhole = armhole.edge() + garment.saddle / 2.0 + longer;
            let allowed = (armhole * SHORT_SHARE).to_cm().max(SHORT_LEAST.to_cm());
            let short = armhole - cap;
            (short.to_cm() > allowed).then(|| {
                let message = format!(
                    "The old cap's edge of {} a side is {} ({:.0} %) shorter than the {}armhole's {}.",
                    garment.units.show(cap),
                    garment.units.show(short),
                    100.0 * (short / armhole),
                    if alike { "" } else { name },
                    garment.units.show(armhole),
                );
                finding(&CAP_EDGE_SHORT, message)
            })
        })
        .collect()
}

/// The whole armhole: about an inch in all is eased in; and each side by itself, which matters where an armhole is small or
/// one side is short.
fn long_edge(garment: &Garment<'_>, cap: Length, longer: Length) -> Option<Diagnostic> {
    let side = |edge: &ArmholeEdge| edge.edge() + garment.saddle / 2.0 + longer;
    let (front, back) = (side(garment.front), side(garment.back));
    let whole = front + back;
    let units = garment.units;
    let most = units.show(MOST_EASE_IN_ALL);
    let off = cap * 2.0 - whole;
    if off > MOST_EASE_IN_ALL {
        let message = format!(
            "The old cap's edges, front and back together {}, are {} ({:.0} %) longer than the armhole's {}; up to {most} altogether is usual.",
            units.show(cap * 2.0),
            units.show(off),
            100.0 * (off / whole),
            units.show(whole),
        );
        return Some(finding(&CAP_EDGE_LONG, message));
    }
    let (name, armhole) = if back < front {
        ("back ", back)
    } else {
        ("front ", front)
    };
    let off = cap - armhole;
    let much = off > MOST_EASE_IN_ALL || off > armhole * MOST_EASE_OF_A_SIDE;
    much.then(|| {
        let message = format!(
            "The old cap's edge of {} a side is {} ({:.0} %) longer than the {}armhole's {}; up to {most} altogether is usual, and no more than {:.0} % of a side.",
            units.show(cap),
            units.show(off),
            100.0 * (off / armhole),
            if garment.front == garment.back { "" } else { name },
            units.show(armhole),
            100.0 * MOST_EASE_OF_A_SIDE,
        );
        finding(&CAP_EDGE_LONG, message)
    })
}

fn depth(garment: &Garment<'_>) -> Option<Diagnostic> {
    let cap = garment.cap.depth();
    let armhole = armhole_depth_of(garment);
    let share = cap / armhole;
    let code = if share < *DEPTH_SHARE.start() {
        &CAP_TOO_SHALLOW
    } else if share > *DEPTH_SHARE.end() {
        &CAP_TOO_DEEP
    } else {
        return None;
    };
    let (low, high) = cap_depths(armhole, garment.cap.top(), garment.bust);
    let units = garment.units;
    let range = if units.show(low) == units.show(high) {
        units.show(low)
    } else {
        format!("{} to {}", units.show(low), units.show(high))
    };
    let cut = cap_depth_by_cylinder(garment.cap.upper_arm(), girth_of(garment));
    // Just beyond what is usual is not told as what is.
    let pct = 100.0 * share;
    let digits = usize::from([50.0, 80.0].contains(&pct.round()));
    let message = format!(
        "The cap is {} deep, {pct:.digits$} % of the armhole's {}; 50 to 80 % is usual, and published rules give {range} for this armhole{}.",
        units.show(cap),
        units.show(armhole),
        cut.map_or_else(String::new, |cut| format!(
            " (a tube of this upper arm cut slantwise to the armhole's girth: {})",
            units.show(cut)
        )),
    );
    let found = finding(code, message);
    Some(match depth_cure(garment, &DEPTH_SHARE) {
        Some(cure) => found.next(cure),
        None => found,
    })
}

/// The armhole all the way round.
fn girth_of(garment: &Garment<'_>) -> Length {
    let (front, back) = (garment.front, garment.back);
    let edges = front.edge() + back.edge() + garment.saddle;
    edges + front.underarm_width() + back.underarm_width()
}

fn underarm(garment: &Garment<'_>) -> Option<Diagnostic> {
    let sleeve = garment.cap.underarm();
    let body = (garment.front.underarm_width() + garment.back.underarm_width()) / 2.0;
    let half_arm = garment.cap.upper_arm() / 2.0;
    if body > half_arm / 2.0 {
        let message = format!(
            "The body is bound off over {} on each side of the seam; half of the sleeve's upper arm is {}.",
            garment.units.show(body),
            garment.units.show(half_arm),
        );
        return Some(finding(&UNDERARM_TOO_WIDE, message));
    }
    ((sleeve - body).abs() > UNDERARM_GAP).then(|| {
        let message = format!(
            "At the underarm the sleeve is bound off over {} a side, the body over {}.",
            garment.units.show(sleeve),
            garment.units.show(body),
        );
        finding(&UNDERARM_UNEQUAL, message).next(underarm_cure(garment, body))
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
    let depth = armhole_depth_of(garment);
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

fn unfinished(garment: &Garment<'_>) -> Vec<Diagnostic> {
    let alike = garment.front == garment.back;
    let sides = [("front ", garment.front), ("back ", garment.back)];
    sides
        .iter()
        .take(if alike { 1 } else { 2 })
        .filter(|(_, armhole)| !armhole.is_finished())
        .map(|(name, armhole)| {
            let message = format!(
                "The {}armhole's lines stop {} above the underarm, while it is still being shaped.",
                if alike { "" } else { name },
                garment.units.show(armhole.depth()),
            );
            finding(&ARMHOLE_UNFINISHED, message)
        })
        .collect()
}

/// What lies above a shoulder that may be none.
fn rows_above(garment: &Garment<'_>) -> Vec<Diagnostic> {
    let alike = garment.front == garment.back;
    let sides = [("front ", garment.front), ("back ", garment.back)];
    sides
        .iter()
        .take(if alike { 1 } else { 2 })
        .filter(|(_, armhole)| armhole.rows_above_shoulder() > Rows::ZERO)
        .map(|(name, armhole)| {
            let message = format!(
                "The {}armhole is taken to end {} above the underarm, where its lines bind off; {} even rows above that are left out.",
                if alike { "" } else { name },
                garment.units.show(armhole.depth()),
                armhole.rows_above_shoulder().count(),
            );
            finding(&ARMHOLE_ROWS_ABOVE, message)
        })
        .collect()
}

fn armhole_share(garment: &Garment<'_>) -> Option<Diagnostic> {
    let depth = armhole_depth_of(garment);
    let girth = girth_of(garment);
    // A share of everybody in a survey says nothing of this size.
    let of_this_bust: Vec<&Counterpart> = garment
        .counterparts
        .iter()
        .filter(|counterpart| counterpart.of_this_bust)
        .collect();
    let shares = of_this_bust.iter().map(|counterpart| {
        let mine = if counterpart.of_girth {
            girth / 2.0
        } else {
            depth
        };
        let share = share_in_words(counterpart.share_fitting(mine, Length::ZERO));
        let what = counterpart.what;
        let article = if what.starts_with("half") { "" } else { "the " };
        format!(
            "{article}{what} of {share} of {} with this chest",
            counterpart.people
        )
    });
    let shares: Vec<String> = shares.collect();
    let mut sources: Vec<&str> = of_this_bust
        .iter()
        .map(|counterpart| counterpart.source.as_str())
        .collect();
    sources.dedup();
    (!shares.is_empty()).then(|| {
        let message = format!(
            "The armhole, {} deep and {} round, clears {} ({}).",
            garment.units.show(depth),
            garment.units.show(girth),
            shares.join(", "),
            sources.join("; "),
        );
        finding(&ARMHOLE_SHARE, message)
    })
}
