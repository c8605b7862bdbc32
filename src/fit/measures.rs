//! What a cap measures, recomputed from its moves alone.
//!
//! Nothing here is shared with the solver: a plan from anywhere (the fit, the recipe, a hand-made
//! one) is measured in the same way, and the certificate compares the two.

use nalgebra::Point2;

use super::objective::WEIGHTS;
use super::pickup::{FlankEdge, Wanted};
use super::plan::{CapPlan, FlankPlan};
use super::problem::Problem;
use crate::measure::{Length, Rows};
use crate::outline::{ArmholeEdge, polyline_length};

/// Measures of one flank's side of the cap.
#[derive(Clone, Debug, PartialEq)]
pub struct SideMeasures {
    /// Half widths of the turn pairs.
    pub half_widths_cm: Vec<f64>,
    /// Half the crown + the curve, as sewn to the armhole above its underarm.
    pub edge: Length,
    /// The armhole's edge it meets, with half of the live stitches at the shoulder.
    pub armhole: Length,
    /// Cap edge of each move minus the edge its pick-ups should carry.
    pub strain_cm: Vec<f64>,
}

impl SideMeasures {
    /// Cap edge longer than the armhole, in per cent.
    pub fn ease_pct(&self) -> f64 {
        100.0 * (self.edge / self.armhole - 1.0)
    }
}

/// Measures of a whole cap.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    /// Depth: two rows for each turn pair.
    pub depth: Length,
    /// New minus old depth.
    pub depth_error: Length,
    /// Fabric area in square centimetres.
    pub area_cm2: f64,
    /// Relative area error in per cent.
    pub area_error_pct: f64,
    /// Finished upper arm, in rounds.
    pub upper_arm: Length,
    /// Root mean square of half width minus target, over all pairs and both sides.
    pub width_rms: Length,
    /// The front side.
    pub front: SideMeasures,
    /// The back side.
    pub back: SideMeasures,
    /// The objective of this plan.
    pub objective: f64,
    /// Its terms by name.
    pub terms: Vec<(&'static str, f64)>,
}

impl Measures {
    /// Seam edge of one side as for a flat cap (half the crown, curve, half the base), mean of
    /// both sides.
    pub fn edge(&self, plan: &CapPlan, problem: &Problem<'_>) -> Length {
        let base = problem.cap_gauge.width(plan.base()) / 2.0;
        (self.front.edge + self.back.edge) / 2.0 + base
    }

    /// Cap edge longer than the armhole, in per cent, mean of both sides.
    pub fn ease_pct(&self) -> f64 {
        f64::midpoint(self.front.ease_pct(), self.back.ease_pct())
    }
}

/// Measures a plan against the problem it answers.
pub fn measure(problem: &Problem<'_>, plan: &CapPlan) -> Measures {
    let pairs = plan.turn_pairs();
    let targets_cm = problem.targets_cm(pairs);
    let front = side(problem, plan, &plan.front, problem.front, &targets_cm);
    let back = side(problem, plan, &plan.back, problem.back, &targets_cm);
    let pair_height = problem.cap_gauge.row_height() * 2.0;
    let depth = pair_height * f64::from(pairs);
    let widths_cm: f64 = [&front, &back]
        .into_iter()
        .flat_map(|side| &side.half_widths_cm)
        .sum();
    let area_cm2 = widths_cm * pair_height.to_cm();
    let area_error = area_cm2 / problem.cap.area_cm2() - 1.0;
    let width_square = mean_square(&front, &back, |side| offsets(side, &targets_cm));
    let strain_square = mean_square(&front, &back, |side| side.strain_cm.clone());
    let drops = (plan.front.decreases() + plan.back.decreases()).as_f64() / 2.0;
    let zones = (plan.front.zones.len() + plan.back.zones.len()).saturating_sub(2) as f64 / 2.0;
    let terms = vec![
        ("width", width_square),
        ("edge", WEIGHTS.edge * strain_square),
        ("area", WEIGHTS.area * area_error * area_error),
        ("decreases", WEIGHTS.decrease * drops / f64::from(pairs)),
        (
            "decreases high",
            WEIGHTS.high_decrease * high_decreases(plan),
        ),
        ("zones", WEIGHTS.zone * zones),
        ("lone moves", WEIGHTS.lone_move * lone_moves(plan)),
        (
            "unlike",
            if plan.flanks_alike() {
                0.0
            } else {
                WEIGHTS.unlike
            },
        ),
    ];
    Measures {
        depth,
        depth_error: depth - problem.cap.depth(),
        area_cm2,
        area_error_pct: 100.0 * area_error,
        upper_arm: problem.tube_gauge.width(plan.upper_arm()),
        width_rms: Length::cm(width_square.sqrt()),
        front,
        back,
        objective: terms.iter().map(|term| term.1).sum(),
        terms,
    }
}

/// How far above the base the decreases are, a flank: `sum (T - t) / T^2`.
fn high_decreases(plan: &CapPlan) -> f64 {
    let pairs = f64::from(plan.turn_pairs());
    let above = |flank: &FlankPlan| -> f64 {
        let moves = flank.moves.iter().enumerate();
        // The first move is worked at the second pair.
        moves
            .map(|(i, m)| f64::from(m.drop) * (pairs - (i as f64 + 2.0)))
            .sum()
    };
    f64::midpoint(above(&plan.front), above(&plan.back)) / (pairs * pairs)
}

/// Runs of one move, a flank.
fn lone_moves(plan: &CapPlan) -> f64 {
    let lone = |flank: &FlankPlan| {
        let runs = flank.runs();
        runs.iter().filter(|(_, times)| *times == 1).count() as f64
    };
    f64::midpoint(lone(&plan.front), lone(&plan.back))
}

fn offsets(side: &SideMeasures, targets_cm: &[f64]) -> Vec<f64> {
    let widths = side.half_widths_cm.iter();
    widths
        .zip(targets_cm)
        .map(|(w, target)| w - target)
        .collect()
}

fn mean_square(
    front: &SideMeasures,
    back: &SideMeasures,
    of: impl Fn(&SideMeasures) -> Vec<f64>,
) -> f64 {
    let all: Vec<f64> = of(front).into_iter().chain(of(back)).collect();
    let squares: f64 = all.iter().map(|x| x * x).sum();
    squares / all.len().max(1) as f64
}

fn side(
    problem: &Problem<'_>,
    plan: &CapPlan,
    flank: &FlankPlan,
    armhole: &ArmholeEdge,
    targets_cm: &[f64],
) -> SideMeasures {
    let s = problem.cap_gauge.stitch_width().to_cm();
    let halves = flank.half_stitches(plan.crown).into_iter();
    let half_widths_cm: Vec<f64> = halves.map(|half| half * s).collect();
    let r = problem.cap_gauge.row_height().to_cm();
    SideMeasures {
        edge: problem.cap_gauge.width(plan.crown.stitches) / 2.0
            + polyline_length(&edge_points_cm(&half_widths_cm, r)),
        // Half of the stitches that wait at the shoulder meets this side of the crown.
        armhole: armhole.edge() + problem.cap_gauge.width(plan.crown.live) / 2.0,
        strain_cm: strain(problem, plan, flank, armhole, targets_cm),
        half_widths_cm,
    }
}

/// The curve by the same rule as an old cap's: top corner, middles of the pairs, underarm corner.
pub fn edge_points_cm(half_widths_cm: &[f64], row_height_cm: f64) -> Vec<Point2<f64>> {
    let mut points = Vec::with_capacity(half_widths_cm.len() + 2);
    points.extend(half_widths_cm.first().map(|w| Point2::new(*w, 0.0)));
    for (i, w) in half_widths_cm.iter().enumerate() {
        points.push(Point2::new(*w, (2.0 * i as f64 + 1.0) * row_height_cm));
    }
    let depth_cm = 2.0 * half_widths_cm.len() as f64 * row_height_cm;
    points.extend(half_widths_cm.last().map(|w| Point2::new(*w, depth_cm)));
    points
}

/// Cap edge of each move minus the edge its pick-ups should carry.
fn strain(
    problem: &Problem<'_>,
    plan: &CapPlan,
    flank: &FlankPlan,
    armhole: &ArmholeEdge,
    targets_cm: &[f64],
) -> Vec<f64> {
    let s = problem.cap_gauge.stitch_width().to_cm();
    let y = 2.0 * problem.cap_gauge.row_height().to_cm();
    let edge = FlankEdge {
        armhole,
        crown_sites: Rows(plan.crown.rows.count() / 2),
    };
    let target_edge_cm: f64 = targets_cm
        .windows(2)
        .map(|pair| ((pair[1] - pair[0]) * (pair[1] - pair[0]) + y * y).sqrt())
        .sum();
    let wanted = Wanted {
        ratio: target_edge_cm / edge.length_cm(),
        ease: problem.wishes.ease,
    };
    let wanted_cm = wanted.by_stitch_cm(edge, &flank.zones);
    let mut taken = 0;
    flank
        .moves
        .iter()
        .map(|m| {
            let x = s * m.widens().as_f64();
            let before = taken;
            taken += m.take as usize;
            let at = |p: usize| {
                wanted_cm
                    .get(p)
                    .or(wanted_cm.last())
                    .copied()
                    .unwrap_or(0.0)
            };
            (x * x + y * y).sqrt() - (at(taken) - at(before))
        })
        .collect()
}
