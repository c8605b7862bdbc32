//! Where stitches are picked up along a flank: the candidate plans, and what each asks of the cap.

use super::plan::Zone;
use super::problem::Ease;
use crate::measure::{Rows, Stitches, nearest_whole, whole};
use crate::outline::ArmholeEdge;

/// At the shoulder nearly every row is picked up: nine stitches in ten rows
/// (common practice, no source).
const CROWN_ROWS_PER_STITCH: f64 = 10.0 / 9.0;

/// Rows of the armhole the crown's picked-up stitches are spread over, front and back together:
/// an even number, so that each side of the shoulder gets half, and never fewer rows than
/// stitches.
pub(crate) fn crown_rows(picked_up: Stitches) -> Rows {
    let wanted = picked_up.as_f64() * CROWN_ROWS_PER_STITCH;
    let even = 2 * nearest_whole(wanted / 2.0);
    let least = picked_up.count() + picked_up.count() % 2;
    Rows(even.max(least))
}

/// The armhole below the crown on one side.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlankEdge<'a> {
    pub(crate) armhole: &'a ArmholeEdge,
    /// Places the crown takes on this side of the shoulder.
    pub(crate) crown_sites: Rows,
}

impl FlankEdge<'_> {
    /// Places left for the flank.
    pub(crate) fn sites(&self) -> Rows {
        self.armhole.sites().saturating_sub(self.crown_sites)
    }

    /// Length of the flank from its top down to so many places, in centimetres.
    pub(crate) fn length_to_cm(&self, sites: f64) -> f64 {
        let crown = self.crown_sites.as_f64();
        let top = self.armhole.length_to(crown);
        (self.armhole.length_to(crown + sites) - top).to_cm()
    }

    /// Length of the whole flank, in centimetres.
    pub(crate) fn length_cm(&self) -> f64 {
        self.length_to_cm(self.sites().as_f64())
    }
}

/// One way to pick up a flank.
#[derive(Clone, Debug)]
pub(crate) struct Pickup<'a> {
    pub(crate) zones: Vec<Zone>,
    pub(crate) stitches: Stitches,
    edge: FlankEdge<'a>,
    wanted: Wanted,
}

impl Pickup<'_> {
    /// At `p`: length of cap edge that the first `p` stitches should carry.
    pub(crate) fn wanted_by_stitch_cm(&self) -> Vec<f64> {
        self.wanted.by_stitch_cm(self.edge, &self.zones)
    }
}

/// Rates of a denser upper zone, as (stitches, rows): every row, 3 in 4, 2 in 3.
const UPPER_RATES: [(u32, u32); 3] = [(1, 1), (3, 4), (2, 3)];

/// Shares of the flank's stitches an upper zone may hold.
const UPPER_SHARES: [f64; 3] = [0.25, 1.0 / 3.0, 0.5];

/// Every candidate plan for so many stitches: one even zone, or a denser upper zone at a simple
/// rate above an even one. No pick-up is closer than a row or farther apart than the gap limit.
pub(crate) fn candidates(
    edge: FlankEdge<'_>,
    stitches: Stitches,
    gap_limit: f64,
    wanted: Wanted,
) -> Vec<Pickup<'_>> {
    let all = edge.sites();
    let mut plans: Vec<Vec<Zone>> = vec![vec![Zone {
        stitches,
        rows: all,
    }]];
    for (per, rows) in UPPER_RATES {
        for share in UPPER_SHARES {
            let times = nearest_whole(stitches.as_f64() * share / f64::from(per)).max(1);
            let upper = Zone {
                stitches: Stitches(times * per),
                rows: Rows(times * rows),
            };
            let lower = stitches
                .checked_sub(upper.stitches)
                .zip(all.checked_sub(upper.rows));
            let Some((stitches, rows)) = lower else {
                continue;
            };
            plans.push(vec![upper, Zone { stitches, rows }]);
        }
    }
    plans.retain(|zones| zones.iter().all(|zone| knittable(*zone, gap_limit)));
    plans.retain(|zones| denser_above(zones));
    plans.dedup();
    plans
        .into_iter()
        .map(|zones| Pickup {
            zones,
            stitches,
            edge,
            wanted,
        })
        .collect()
}

fn knittable(zone: Zone, gap_limit: f64) -> bool {
    let gap = zone.rows.as_f64() / zone.stitches.as_f64();
    zone.stitches > Stitches::ZERO && gap >= 1.0 && gap <= gap_limit + 1e-9
}

fn denser_above(zones: &[Zone]) -> bool {
    let gap = |zone: &Zone| zone.rows.as_f64() / zone.stitches.as_f64();
    zones.windows(2).all(|pair| match pair {
        [upper, lower] => gap(upper) < gap(lower),
        _ => true,
    })
}

/// The fewest and the most stitches that can be picked up along so many places.
pub(crate) fn stitch_range(sites: Rows, gap_limit: f64) -> (Stitches, Stitches) {
    let least = whole((sites.as_f64() / gap_limit - 1e-9).ceil());
    (Stitches(least), Stitches(sites.count()))
}

/// How much cap edge each centimetre of armhole should carry.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted {
    /// Cap edge over armhole for the whole flank.
    pub(crate) ratio: f64,
    pub(crate) ease: Ease,
}

impl Wanted {
    /// Cap edge that should lie above this point of the flank.
    fn above_cm(self, length_cm: f64, whole_cm: f64) -> f64 {
        match self.ease {
            Ease::Even => self.ratio * length_cm,
            Ease::Shoulder => {
                let third_cm = whole_cm / 3.0;
                let extra_cm = (self.ratio - 1.0) * whole_cm;
                length_cm + extra_cm * (length_cm / third_cm).min(1.0)
            }
        }
    }

    pub(crate) fn by_stitch_cm(self, edge: FlankEdge<'_>, zones: &[Zone]) -> Vec<f64> {
        let whole_cm = edge.length_cm();
        let mut wanted = vec![0.0];
        let mut above = 0.0;
        for zone in zones {
            let gap = zone.rows.as_f64() / zone.stitches.as_f64();
            for i in 1..=zone.stitches.count() {
                let length_cm = edge.length_to_cm(above + gap * f64::from(i));
                wanted.push(self.above_cm(length_cm, whole_cm));
            }
            above += zone.rows.as_f64();
        }
        wanted
    }
}
