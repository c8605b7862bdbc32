//! Symbols of stitches, drawn by us: plain lines that say what the fabric looks like from the right side.

use crate::stitch::{Crossing, Stitch};

/// A straight line from one point to another, in shares of a square: right and up.
pub(super) type Stroke = [(f64, f64); 2];

/// How a stitch is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Symbol {
    /// Lines.
    pub(super) lines: Vec<Stroke>,
    /// Thick lines: strands that lie in front.
    pub(super) thick: Vec<Stroke>,
    /// True for a ring in the middle.
    pub(super) ring: bool,
    /// Squares it is wide.
    pub(super) wide: usize,
}

const BAR: Stroke = [(0.25, 0.5), (0.75, 0.5)];
const FOOT: Stroke = [(0.25, 0.14), (0.75, 0.14)];
const RISING: Stroke = [(0.2, 0.15), (0.8, 0.85)];
const FALLING: Stroke = [(0.2, 0.85), (0.8, 0.15)];

/// Through the back loops: a short line across the one that leans.
const TWIST: Stroke = [(0.35, 0.35), (0.65, 0.65)];
/// A stitch that is passed over.
const OVER: Stroke = [(0.2, 0.85), (0.5, 0.85)];
const THIRD_RIGHT: Stroke = [(0.5, 0.15), (0.8, 0.45)];
const THIRD_LEFT: Stroke = [(0.5, 0.15), (0.2, 0.45)];

impl Symbol {
    fn of(lines: &[Stroke]) -> Self {
        Self {
            lines: lines.to_vec(),
            wide: 1,
            ..Self::default()
        }
    }

    /// The symbol of a stitch.
    pub(super) fn new(stitch: Stitch) -> Self {
        match stitch {
            Stitch::Knit => Self::of(&[]),
            Stitch::Purl => Self::of(&[BAR]),
            Stitch::KnitTbl => Self::of(&[RISING, FALLING]),
            Stitch::PurlTbl => Self::of(&[RISING, FALLING, FOOT]),
            Stitch::Slip => Self::of(&[[(0.2, 0.85), (0.5, 0.15)], [(0.8, 0.85), (0.5, 0.15)]]),
            Stitch::SlipFront => {
                Self::of(&[[(0.2, 0.85), (0.5, 0.15)], [(0.8, 0.85), (0.5, 0.15)], BAR])
            }
            Stitch::YarnOver => Self {
                ring: true,
                ..Self::of(&[])
            },
            Stitch::MakeLeft => Self::of(&[[(0.5, 0.15), (0.5, 0.85)], [(0.5, 0.5), (0.2, 0.85)]]),
            Stitch::MakeRight => Self::of(&[[(0.5, 0.15), (0.5, 0.85)], [(0.5, 0.5), (0.8, 0.85)]]),
            Stitch::K2tog => Self::of(&[RISING]),
            Stitch::Ssk => Self::of(&[FALLING]),
            Stitch::P2tog => Self::of(&[RISING, FOOT]),
            Stitch::Ssp => Self::of(&[FALLING, FOOT]),
            Stitch::Skp => Self::of(&[FALLING, OVER]),
            Stitch::K2togTbl => Self::of(&[FALLING, TWIST]),
            Stitch::P2togTbl => Self::of(&[FALLING, TWIST, FOOT]),
            Stitch::K3tog => Self::of(&[RISING, THIRD_RIGHT]),
            Stitch::Sssk => Self::of(&[FALLING, THIRD_LEFT]),
            Stitch::Sk2p => Self::of(&[FALLING, THIRD_LEFT, OVER]),
            Stitch::P3tog => Self::of(&[RISING, THIRD_RIGHT, FOOT]),
            Stitch::P3togTbl => Self::of(&[FALLING, THIRD_LEFT, FOOT]),
            Stitch::S2kp2 => Self::of(&[
                [(0.2, 0.15), (0.5, 0.85)],
                [(0.8, 0.15), (0.5, 0.85)],
                [(0.5, 0.15), (0.5, 0.85)],
            ]),
            Stitch::Cross(crossing) => crossed(crossing),
        }
    }

    /// Its mirror image.
    pub(super) fn mirrored(mut self) -> Self {
        let wide = self.wide as f64;
        for stroke in self.lines.iter_mut().chain(&mut self.thick) {
            for point in stroke {
                point.0 = wide - point.0;
            }
        }
        self
    }
}

/// Strands as they cross: those in front are thick and whole, those behind thin and broken in the middle;
/// one that is purled ends in a bar.
fn crossed(crossing: Crossing) -> Symbol {
    let (front, behind) = (f64::from(crossing.front), f64::from(crossing.behind));
    let mut symbol = Symbol {
        wide: crossing.width(),
        ..Symbol::default()
    };
    // From the left: a left crossing takes the front strands from the right end to the left end.
    let (front_from, front_to, behind_from, behind_to) = if crossing.left {
        (behind, 0.0, 0.0, front)
    } else {
        (0.0, behind, front, 0.0)
    };
    for i in 0..crossing.front {
        let at = f64::from(i) + 0.5;
        symbol
            .thick
            .push([(front_from + at, 0.08), (front_to + at, 0.92)]);
    }
    for i in 0..crossing.behind {
        let at = f64::from(i) + 0.5;
        let (from, to) = (behind_from + at, behind_to + at);
        let along = |share: f64| (from + (to - from) * share, 0.08 + 0.84 * share);
        symbol.lines.push([along(0.0), along(0.28)]);
        symbol.lines.push([along(0.72), along(1.0)]);
        if crossing.purl {
            symbol.lines.push([(to - 0.3, 0.92), (to + 0.3, 0.92)]);
        }
    }
    symbol
}

#[cfg(test)]
mod tests {
    use super::*;

    /// No two stitches of the table look alike, and a symbol's mirror image is that of the mirrored stitch.
    #[test]
    fn symbols_are_told_apart_and_mirror_with_their_stitch() {
        let all: Vec<(Stitch, Symbol)> = Stitch::all()
            .map(|(stitch, _)| (stitch, Symbol::new(stitch)))
            .collect();
        let sorted = |symbol: &Symbol| {
            let mut lines: Vec<[String; 2]> = symbol
                .lines
                .iter()
                .map(|stroke| {
                    let mut ends = stroke.map(|(x, y)| format!("{x:.3} {y:.3}"));
                    ends.sort_unstable();
                    ends
                })
                .collect();
            lines.sort_unstable();
            (lines, symbol.ring)
        };
        for (i, (a, drawn)) in all.iter().enumerate() {
            for (b, other) in all.iter().skip(i + 1) {
                assert_ne!(sorted(drawn), sorted(other), "{a} and {b}");
            }
            // Of several that lean one way the mirror image has one partner only.
            if a.mirrored().mirrored() == *a {
                let mirrored = Symbol::new(a.mirrored());
                assert_eq!(sorted(&drawn.clone().mirrored()), sorted(&mirrored), "{a}");
            }
        }
    }
}
