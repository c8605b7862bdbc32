//! The oblique cut: a tube cut slantwise falls into a cap and the armhole it leaves, whose edges are the same curve.
//! Picked up each from where it lies, nothing pulls and nothing puckers, at any gauge.
//!
//! A fit cannot follow it: it has eight runs and three sections a flank. So the plan is made by hand here, and what is held
//! against geometry is how cap, armhole and strain are measured, on which every fit rests.
//!
//! The closed form is the plane section of a cylinder (any textbook of descriptive geometry; from memory): unrolled it is
//! a cosine, as long as the ellipse that the plane cuts.

use std::f64::consts::PI;

use crate::common::{RowSpec, gauge, ledger};
use capwright::fit::{MoveMeasures, Problem, Wishes, measure};
use capwright::measure::{Gauge, Length, Rows, Stitches, nearest_whole};
use capwright::outline::{ArmholeEdge, Cap, Seam, armhole_from_ledger};
use capwright::plan::{CapPlan, Crown, FlankPlan, Move, Repeat, Zone};

/// The tube, and how far the cut climbs along it.
const AROUND_CM: f64 = 32.0;
const DEPTH_CM: f64 = 12.0;

/// Half the cap's width so far below its top.
fn half_width_cm(below_cm: f64) -> f64 {
    let height = (1.0 - 2.0 * below_cm / DEPTH_CM).clamp(-1.0, 1.0);
    AROUND_CM / (2.0 * PI) * libm::acos(height)
}

/// Half the girth of the ellipse, by the midpoint rule: for a periodic function it converges faster than any power.
fn edge_cm() -> f64 {
    let (a, n) = (AROUND_CM / (2.0 * PI), 4096);
    let climb = DEPTH_CM / 2.0;
    let steps = (0..n).map(|i| {
        let turn = PI * (f64::from(i) + 0.5) / f64::from(n);
        libm::hypot(a, climb * libm::sin(turn))
    });
    steps.sum::<f64>() * PI / f64::from(n)
}

/// Cap and armhole of one cut, knitted at one gauge, row pair by row pair.
struct Cut {
    gauge: Gauge,
    /// Half the cap's stitches in each pair, from the top down.
    half: Vec<u32>,
    /// Half the stitches of the tube.
    whole: u32,
}

impl Cut {
    fn at(gauge: Gauge) -> Self {
        let (stitch, row) = (gauge.stitch_width().to_cm(), gauge.row_height().to_cm());
        let pairs = nearest_whole(DEPTH_CM / row / 2.0);
        let half = (0..pairs).map(|pair| {
            let middle = (2.0 * f64::from(pair) + 1.0) * row;
            nearest_whole(half_width_cm(middle) / stitch)
        });
        Self {
            gauge,
            half: half.collect(),
            whole: nearest_whole(AROUND_CM / 2.0 / stitch),
        }
    }

    /// Stitches that each pair takes in beside the one above it, from the second pair down.
    fn takes(&self) -> Vec<u32> {
        self.half.windows(2).map(|pair| pair[1] - pair[0]).collect()
    }

    /// The rows that are shaped, from the underarm up: the same for cap and armhole.
    fn rows(&self) -> Vec<RowSpec> {
        let base = self.whole - self.half[self.half.len() - 1];
        let mut rows = vec![(base, 0, 0); 2];
        for take in self.takes().into_iter().rev() {
            // Decreased, however many: a stitch bound off would be a place of its own.
            rows.extend([(0, take, take), (0, 0, 0)]);
        }
        rows
    }

    fn cap(&self) -> Cap {
        Cap::from_ledger(&ledger(2 * self.whole, &self.rows()), self.gauge, NO_SEAM).unwrap()
    }

    /// Rows of an armhole's edge as long as half the cap's top is wide: the top lies level over the shoulder.
    fn level(&self) -> u32 {
        let top = self.gauge.width(Stitches(self.half[0]));
        nearest_whole(top / self.gauge.row_height())
    }

    fn armhole(&self) -> ArmholeEdge {
        let mut rows = self.rows();
        rows.extend((0..self.level()).map(|_| (0, 0, 0)));
        // A body's half is wider than the sleeve's; how much wider says nothing of its edge.
        armhole_from_ledger(&ledger(4 * self.whole, &rows), self.gauge, NO_SEAM).unwrap()
    }

    /// Every stitch picked up from the places that it was cut from.
    fn plan(&self) -> CapPlan {
        let takes = self.takes();
        let last = takes.len() - 1;
        let zone = |(i, take): (usize, &u32)| Zone {
            stitches: Stitches(*take),
            rows: Rows(2 + u32::from(i == last)),
        };
        let flank = FlankPlan {
            moves: takes
                .iter()
                .map(|take| Move {
                    take: *take,
                    drop: 0,
                })
                .collect(),
            zones: takes.iter().enumerate().map(zone).collect(),
        };
        let base = Stitches(self.whole - self.half[self.half.len() - 1]);
        CapPlan {
            crown: Crown {
                stitches: Stitches(2 * self.half[0]),
                live: Stitches(0),
                rows: Rows(2 * (self.level() + 1)),
            },
            base_front: base,
            base_back: base,
            front: flank.clone(),
            back: flank,
            join_change: 0,
        }
    }
}

const NO_SEAM: Seam = Seam {
    stitches: Stitches(0),
    rows: Rows(0),
};

/// From a child's mittens to silk.
fn ladder() -> impl Iterator<Item = Cut> {
    let gauges = [15.0, 22.0, 30.0, 40.0, 60.0, 80.0].into_iter();
    gauges.map(|stitches| Cut::at(gauge(stitches, 1.4 * stitches)))
}

fn with_problem<T>(cut: &Cut, then: impl Fn(&Problem<'_>) -> T) -> T {
    let (cap, armhole) = (cut.cap(), cut.armhole());
    then(&Problem {
        cap: &cap,
        front: &armhole,
        back: &armhole,
        cap_gauge: cut.gauge,
        worked: None,
        tube_gauge: cut.gauge,
        upper_arm: Length::cm(AROUND_CM),
        repeat: Repeat::ANY,
        live: None,
        wishes: Wishes {
            picked_up_row: Rows(0),
            ..Wishes::default()
        },
    })
}

/// The worst strain of all stretches of a flank that are at least so long, in per cent.
fn worst_pct(moves: &[MoveMeasures], least_cm: f64) -> f64 {
    let mut worst = 0.0_f64;
    for first in 0..moves.len() {
        let (mut cap, mut armhole) = (0.0, 0.0);
        for m in &moves[first..] {
            cap += m.cap.to_cm();
            armhole += m.armhole.to_cm();
            if armhole >= least_cm {
                worst = worst.max(100.0 * (cap / armhole - 1.0).abs());
            }
        }
    }
    worst
}

/// The two row ends of a pair share what the pair's edge is long, so that a stretch can be out by half the difference of
/// two neighbouring pairs at each end, a stitch's width each at the most. It goes to nothing as stitches get finer.
#[test]
fn nothing_pulls_and_nothing_puckers() {
    for cut in ladder() {
        let found = with_problem(&cut, |problem| measure(problem, &cut.plan()));
        let stitch_cm = cut.gauge.stitch_width().to_cm();
        // Below the middle of the last pair a row is left that no turn lies beside.
        let beside = found.front.moves.split_last().map_or(&[][..], |all| all.1);
        for least_cm in [4.0, 6.0, 9.0] {
            let (worst, most) = (
                worst_pct(beside, least_cm),
                100.0 * 2.0 * stitch_cm / least_cm,
            );
            assert!(worst < most, "{stitch_cm}: {worst} % over {least_cm} cm");
        }
        let half_base = cut
            .gauge
            .width(Stitches(cut.whole - cut.half[cut.half.len() - 1]));
        let edge = (found.front.edge + half_base).to_cm();
        assert!(
            found.ease_pct().abs() < 100.0 * stitch_cm / edge,
            "{stitch_cm}: {} %",
            found.ease_pct()
        );
        // Whole stitches make a zigzag of the curve: pairs that take one and two in turn are a twentieth longer.
        let round = edge_cm() - stitch_cm..edge_cm() * 1.06;
        assert!(round.contains(&edge), "{stitch_cm}: {edge} cm");
    }
}
