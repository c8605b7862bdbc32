//! Where along the edge a cap is longer or shorter than its armhole.

use super::armhole::ArmholeEdge;
use super::cap::Cap;
use super::polyline::Climb;
use crate::measure::Length;
use nalgebra::Point2;

/// One band of a strip of ease: equal shares of the cap's and of the armhole's height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EaseBand {
    /// Where it begins, as a share of the height from the underarm line (0) to the top (1).
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Edge of the cap in it; the half of the top bind-off belongs to the uppermost.
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
/// Cap and armhole are cut at equal shares of their own heights, which is how a sleeve is pinned:
/// underarm to underarm, top to shoulder, half way to half way. The bands add up to the ease of
/// the whole edge. `at_shoulder` is what one side of the cap's top meets besides the armhole's
/// edge: half the width of stitches waiting at a saddle shoulder.
pub fn ease_strip(
    cap: &Cap,
    armhole: &ArmholeEdge,
    at_shoulder: Length,
    bands: u32,
) -> Vec<EaseBand> {
    let points: Vec<Point2<f64>> = cap
        .edge_points_cm()
        .iter()
        .rev()
        .map(|point| Point2::new(point.x, -point.y))
        .collect();
    let climb = Climb::along(&points);
    let piece = |length: &dyn Fn(f64) -> Length, band: u32| {
        let share = |n: u32| f64::from(n) / f64::from(bands);
        length(share(band + 1)) - length(share(band))
    };
    (0..bands)
        .map(|band| {
            let top = band + 1 == bands;
            let extra = |length: Length| if top { length } else { Length::ZERO };
            EaseBand {
                from: f64::from(band) / f64::from(bands),
                to: f64::from(band + 1) / f64::from(bands),
                cap: piece(&|share| climb.length_up_to(cap.depth() * share), band)
                    + extra(cap.top() / 2.0),
                armhole: piece(&|share| armhole.length_up_to(armhole.depth() * share), band)
                    + extra(at_shoulder),
            }
        })
        .collect()
}
