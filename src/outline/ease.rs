//! Where along the edge a cap is longer or shorter than its armhole.

use nalgebra::Point2;

use super::armhole::ArmholeEdge;
use super::cap::Cap;
use super::polyline::Climb;
use crate::measure::Length;

/// The most ease of a whole armhole, front and back together, that can be eased in: "about an inch", and
/// a cap edge is never shorter than its armhole.
///
/// Source: Tasha, By Gum By Golly, 18 Mar 2011 (knitted sleeve of a vintage pullover). J. Wolcott
/// ("sleeve cap adjustments") asks for no ease at all in knitwear unless it is designed in.
pub const MOST_EASE_IN_ALL: Length = Length::inches(1.0);

/// Nor more than this share of either side's armhole (common practice, no source; what a stretch of an edge takes unseen):
/// an inch is a twentieth of an adult's armhole and a fifth of a doll's, and ease at the back is not used up by what is
/// short at the front.
pub const MOST_EASE_OF_A_SIDE: f64 = 0.15;

/// One band of a strip of ease, between two heights above the underarm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EaseBand {
    /// Where it begins, above the underarm line.
    pub from: Length,
    /// Where it ends on the cap. On the armhole the uppermost ends at the shoulder.
    pub to: Length,
    /// Edge of the cap in it; half of the top bind-off belongs to the uppermost.
    pub cap: Length,
    /// Edge of the armhole in it; what waits at the shoulder belongs to the uppermost.
    pub armhole: Length,
}

impl EaseBand {
    /// Cap less armhole: what has to be eased in, negative where the cap drags.
    pub fn ease(&self) -> Length {
        self.cap - self.armhole
    }

    /// The ease in per cent of the armhole's edge.
    pub fn pct(&self) -> f64 {
        100.0 * (self.cap / self.armhole - 1.0)
    }
}

/// The ease along one side's edge in so many bands, from the underarm up.
///
/// The cap's depth is cut into equal bands, and each is compared with the armhole's edge between
/// the same heights above the underarm, where a sleeve is pinned to the body: a cap that repeats
/// the armhole's own shaping has no ease there. The uppermost band holds the rest, the top of the
/// cap against the armhole up to the shoulder. All bands add up to the ease of the whole edge.
/// `at_shoulder` is what one side of the cap's top meets besides the armhole's edge: half the
/// width of stitches waiting at a saddle shoulder.
pub fn ease_strip(
    edge: &CapEdge,
    armhole: &ArmholeEdge,
    at_shoulder: Length,
    bands: u32,
) -> Vec<EaseBand> {
    let upward = edge.points_cm.iter().rev().map(|p| Point2::new(p.x, -p.y));
    let climb = Climb::along(&upward.collect::<Vec<_>>());
    let height = |band: u32| edge.depth * (f64::from(band) / f64::from(bands));
    (0..bands)
        .map(|band| {
            let (from, to) = (height(band), height(band + 1));
            let cap_edge = climb.length_up_to(to) - climb.length_up_to(from);
            let below = armhole.length_up_to(from);
            let (more_cap, armhole_to) = if band + 1 == bands {
                (edge.top / 2.0, armhole.edge() + at_shoulder)
            } else {
                (Length::ZERO, armhole.length_up_to(to))
            };
            EaseBand {
                from,
                to,
                cap: cap_edge + more_cap,
                armhole: armhole_to - below,
            }
        })
        .collect()
}

/// One side's edge of a cap, old or new.
#[derive(Clone, Debug, PartialEq)]
pub struct CapEdge {
    /// The curve from the top corner down to the underarm corner, in centimetres.
    pub points_cm: Vec<Point2<f64>>,
    /// Depth of the cap.
    pub depth: Length,
    /// Width of the top (of the crown, in a new cap).
    pub top: Length,
}

impl From<&Cap> for CapEdge {
    fn from(cap: &Cap) -> Self {
        Self {
            points_cm: cap.edge_points_cm(),
            depth: cap.depth(),
            top: cap.top(),
        }
    }
}
