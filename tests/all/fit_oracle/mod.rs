//! The model of the fit written a second time, from its description alone: turn pairs, crowns,
//! bases, pick-up plans and the objective. Nothing of `src/fit` is used but its plain data types.
//!
//! Sources of what is written again: the documents' formulas for width, depth, area, edge and
//! target; the weights as the documents state them; the candidate plans as the docs of
//! `capwright::fit::fit` state them.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests; each test binary uses some of them"
)]

pub mod cases;
pub mod program;
pub mod random;

use capwright::fit::{Ease, Problem};
use capwright::measure::Length;
use capwright::outline::ArmholeEdge;
use capwright::plan::Move;

/// Weights of the terms edge, area, decreases and zones, copied by hand from the table.
pub const EDGE: f64 = 0.1;
pub const AREA: f64 = 300.0;
pub const DECREASE: f64 = 0.1;
pub const ZONE: f64 = 0.002;
pub const HIGH_DECREASE: f64 = 0.02;
pub const LONE_MOVE: f64 = 0.001;
pub const UNLIKE: f64 = 0.01;

/// Everything both flanks share, and what each flank must add.
#[derive(Clone, Debug)]
pub struct Frame {
    pub pairs: usize,
    pub crown: u32,
    /// Places the crown takes on each side of the shoulder.
    pub crown_sites: u32,
    pub base: [u32; 2],
    pub net: [u32; 2],
}

/// Zones of one flank as (stitches, rows), from the crown down.
pub type Zones = Vec<(u32, u32)>;

/// One flank's own share of the objective, and its half widths added up.
#[derive(Clone, Copy, Debug)]
pub struct FlankCost {
    pub own: f64,
    pub widths_cm: f64,
}

/// The sizes of a problem that the formulas need.
#[derive(Clone, Debug)]
pub struct Sizes {
    pub stitch_cm: f64,
    pub row_cm: f64,
    pub old_area_cm2: f64,
    pub targets_cm: Vec<f64>,
    pub moves: Vec<Move>,
}

impl Sizes {
    pub fn of(problem: &Problem<'_>, pairs: usize) -> Self {
        let row_cm = 10.0 / problem.cap_gauge.rows_per_10cm();
        let depth_cm = problem.cap.depth().to_cm();
        let area_to = |share: f64| problem.cap.area_to_cm2(Length::cm(depth_cm * share));
        let targets_cm = (0..pairs)
            .map(|t| {
                let (above, below) = (t as f64 / pairs as f64, (t + 1) as f64 / pairs as f64);
                (area_to(below) - area_to(above)) / (4.0 * row_cm)
            })
            .collect();
        Self {
            stitch_cm: 10.0 / problem.cap_gauge.stitches_per_10cm(),
            row_cm,
            old_area_cm2: problem.cap.area_cm2(),
            targets_cm,
            moves: problem.wishes.moves.clone().unwrap(),
        }
    }

    /// The area term of both flanks together.
    pub fn area_term(&self, widths_cm: f64) -> f64 {
        let off = widths_cm * 2.0 * self.row_cm / self.old_area_cm2 - 1.0;
        AREA * off * off
    }

    fn target_edge_cm(&self) -> f64 {
        let steps = self.targets_cm.windows(2);
        steps
            .map(|p| hypotenuse(p[1] - p[0], 2.0 * self.row_cm))
            .sum()
    }
}

pub fn hypotenuse(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// Half of a stitch or a row is half whatever the last bits say.
fn without_noise(x: f64) -> f64 {
    (x * 1e8).round() / 1e8
}

/// Turn pairs within a row of the old depth, and those within three rows but not within one.
pub fn turn_pairs(problem: &Problem<'_>) -> [Vec<usize>; 2] {
    let depth_rows = problem.cap.depth().to_cm() * problem.cap_gauge.rows_per_10cm() / 10.0;
    let depth_rows = without_noise(depth_rows);
    let off = |t: &usize| (2.0 * *t as f64 - depth_rows).abs();
    let near = (2..200).filter(|t| off(t) <= 1.0).collect();
    let far = (2..200).filter(|t| off(t) > 1.0 && off(t) < 3.0);
    [near, far.collect()]
}

/// Crowns as (stitches, places on each side): near the top width, or those the live stitches fix.
fn crowns(problem: &Problem<'_>, sizes: &Sizes) -> Vec<(u32, u32)> {
    if let Some(live) = problem.live {
        let extra = live.extra_each_side.count();
        return vec![(live.stitches.count() + 2 * extra, extra)];
    }
    let wanted = without_noise(2.0 * sizes.targets_cm[0] / sizes.stitch_cm).round() as i64;
    let wanted = wanted.max(4);
    let counts = (wanted - 4).max(4)..=wanted + 4;
    counts.map(|c| (c as u32, crown_sites(c as f64))).collect()
}

/// Nine stitches in ten rows, half on each side, never fewer rows than stitches.
fn crown_sites(stitches: f64) -> u32 {
    ((stitches / 0.9 / 2.0).round()).max((stitches / 2.0).ceil()) as u32
}

pub fn upper_arm(problem: &Problem<'_>) -> u32 {
    let wanted = problem.upper_arm.to_cm() * problem.tube_gauge.stitches_per_10cm() / 10.0;
    let allowed = (1..2000).filter(|n| {
        let n = f64::from(*n) - f64::from(problem.repeat.plus);
        n > 0.0 && n % f64::from(problem.repeat.multiple) == 0.0
    });
    let off = |n: &u32| without_noise((f64::from(*n) - wanted).abs());
    let nearest = |counts: Vec<u32>| {
        let counts = counts.into_iter();
        counts.min_by(|a, b| off(a).total_cmp(&off(b)).then(b.cmp(a)))
    };
    let allowed: Vec<u32> = allowed.collect();
    let even = allowed.iter().copied().filter(|n| leaves_even(problem, *n));
    nearest(even.collect()).or(nearest(allowed)).unwrap()
}

/// Live stitches fix the crown; without a tolerance of the base the flanks need an even rest.
fn leaves_even(problem: &Problem<'_>, upper_arm: u32) -> bool {
    let Some(live) = problem.live else {
        return true;
    };
    let base = problem.front.underarm().count() + problem.back.underarm().count();
    let fixed = live.stitches.count() + 2 * live.extra_each_side.count() + base;
    problem.wishes.base_tolerance.count() > 0 || (upper_arm + fixed).is_multiple_of(2)
}

/// The underarm as bound off, one more and one less for each stitch of the tolerance, shared.
fn bases(problem: &Problem<'_>) -> Vec<[u32; 2]> {
    let front = problem.front.underarm().count();
    let back = problem.back.underarm().count();
    let mut out = vec![[front, back]];
    for change in 1..=problem.wishes.base_tolerance.count() {
        let (more, less) = (change - change / 2, change / 2);
        out.push([front + more, back + less]);
        if front >= more && back >= less {
            out.push([front - more, back - less]);
        }
    }
    out
}

/// All frames with so many pairs; both flanks add the same number of stitches.
pub fn frames(problem: &Problem<'_>, pairs: usize) -> Vec<Frame> {
    let sizes = Sizes::of(problem, pairs);
    let mut all = Vec::new();
    for base in bases(problem) {
        for (crown, crown_sites) in crowns(problem, &sizes) {
            let taken = crown + base[0] + base[1];
            let Some(left) = upper_arm(problem).checked_sub(taken) else {
                continue;
            };
            if left % 2 == 0 {
                let net = [left / 2, left / 2];
                all.push(Frame {
                    pairs,
                    crown,
                    crown_sites,
                    base,
                    net,
                });
            }
        }
    }
    all
}

/// Pick-up plans of a flank: one even zone, or a denser upper zone over a quarter, a third or
/// half of the stitches at every row, 3 in 4 or 2 in 3.
pub fn pickups(sites: u32, stitches: u32, gap_limit: f64) -> Vec<Zones> {
    let gap = |zone: &(u32, u32)| f64::from(zone.1) / f64::from(zone.0);
    let mut plans: Vec<Zones> = vec![vec![(stitches, sites)]];
    for (per, rows) in [(1, 1), (3, 4), (2, 3)] {
        for share in [4.0, 3.0, 2.0] {
            let times = (f64::from(stitches) / share / f64::from(per))
                .round()
                .max(1.0) as u32;
            let upper = (times * per, times * rows);
            if upper.0 < stitches && upper.1 < sites {
                let lower = (stitches - upper.0, sites - upper.1);
                if gap(&upper) < gap(&lower) - 1e-12 {
                    plans.push(vec![upper, lower]);
                }
            }
        }
    }
    plans.retain(|zones| {
        zones
            .iter()
            .all(|zone| zone.0 > 0 && gap(zone) >= 1.0 && gap(zone) <= gap_limit + 1e-9)
    });
    plans.sort();
    plans.dedup();
    plans
}

/// Cap edge that should lie above each picked-up stitch, from 0 stitches to all of them.
pub fn wanted_cm(
    problem: &Problem<'_>,
    sizes: &Sizes,
    armhole: &ArmholeEdge,
    crown_sites: u32,
    zones: &Zones,
) -> Vec<f64> {
    let crown = f64::from(crown_sites);
    let top_cm = armhole.length_to(crown).to_cm();
    let to_cm = |rows: f64| armhole.length_to(crown + rows).to_cm() - top_cm;
    let rows: u32 = zones.iter().map(|zone| zone.1).sum();
    let whole_cm = to_cm(f64::from(rows));
    let ease_cm = sizes.target_edge_cm() - whole_cm;
    let mut wanted = vec![0.0];
    let mut above = 0.0;
    for (stitches, rows) in zones {
        for i in 1..=*stitches {
            let length_cm = to_cm(above + f64::from(*rows) * f64::from(i) / f64::from(*stitches));
            let share = match problem.wishes.ease {
                Ease::Even => length_cm / whole_cm,
                Ease::Shoulder => (3.0 * length_cm / whole_cm).min(1.0),
            };
            wanted.push(length_cm + ease_cm * share);
        }
        above += f64::from(*rows);
    }
    wanted
}

/// The terms of one flank that do not depend on the other one.
pub fn flank_cost(
    sizes: &Sizes,
    crown: u32,
    zones: &Zones,
    wanted: &[f64],
    moves: &[Move],
) -> FlankCost {
    let pairs = moves.len() + 1;
    let mut half = f64::from(crown) / 2.0;
    let mut widths = vec![half * sizes.stitch_cm];
    let (mut edge, mut drops, mut high, mut taken) = (0.0, 0, 0.0, 0);
    for (i, m) in moves.iter().enumerate() {
        let widens = f64::from(m.take) - f64::from(m.drop);
        half += widens;
        widths.push(half * sizes.stitch_cm);
        let carried = wanted[taken + m.take as usize] - wanted[taken];
        let off = hypotenuse(widens * sizes.stitch_cm, 2.0 * sizes.row_cm) - carried;
        edge += off * off;
        drops += m.drop;
        // Move 0 is worked at the second pair.
        high += f64::from(m.drop) * (pairs as f64 - (i + 2) as f64);
        taken += m.take as usize;
    }
    let width: f64 = widths
        .iter()
        .zip(&sizes.targets_cm)
        .map(|(w, t)| (w - t) * (w - t))
        .sum();
    let own = width / pairs as f64
        + EDGE * edge / moves.len() as f64
        + DECREASE * f64::from(drops) / pairs as f64
        + HIGH_DECREASE * high / (pairs * pairs) as f64
        + LONE_MOVE * lone_moves(moves) as f64
        + ZONE * (zones.len() as f64 - 1.0);
    FlankCost {
        // Means over both flanks: each has half a share.
        own: own / 2.0,
        widths_cm: widths.iter().sum(),
    }
}

/// What the width of a pair costs both flanks when the flank has widened by so many stitches.
pub fn width_cost(sizes: &Sizes, frame: &Frame, pair: usize, net: u32) -> f64 {
    let half_cm = sizes.stitch_cm * (f64::from(frame.crown) / 2.0 + f64::from(net));
    let off = half_cm - sizes.targets_cm[pair];
    off * off / frame.pairs as f64
}

/// What edge and decreases of a move cost when so many stitches are taken in before it; it is worked
/// at this pair, counted from 0.
pub fn move_cost(
    sizes: &Sizes,
    (pairs, pair): (usize, usize),
    wanted: &[f64],
    taken: u32,
    m: Move,
) -> f64 {
    let x = f64::from(m.take - m.drop) * sizes.stitch_cm;
    let carried = wanted[(taken + m.take) as usize] - wanted[taken as usize];
    let off = hypotenuse(x, 2.0 * sizes.row_cm) - carried;
    let high = HIGH_DECREASE * (pairs - 1 - pair) as f64 / (pairs * pairs) as f64;
    EDGE * off * off / (pairs as f64 - 1.0) + (DECREASE / pairs as f64 + high) * f64::from(m.drop)
}

/// Runs of a single move.
pub fn lone_moves(moves: &[Move]) -> usize {
    let differs = |i: usize, j: usize| moves.get(i) != moves.get(j);
    (0..moves.len())
        .filter(|i| differs(i.wrapping_sub(1), *i) && differs(*i, i + 1))
        .count()
}

/// Runs of equal moves.
pub fn runs(moves: &[Move]) -> usize {
    1 + moves.windows(2).filter(|pair| pair[0] != pair[1]).count()
}

/// Stitches taken in by a sequence, and stitches it adds.
pub fn taken_and_net(moves: &[Move]) -> (u32, u32) {
    let taken = moves.iter().map(|m| m.take).sum();
    (taken, taken - moves.iter().map(|m| m.drop).sum::<u32>())
}
