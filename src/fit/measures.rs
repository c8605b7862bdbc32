//! What a cap measures, recomputed from its moves and its pick-ups alone.
//!
//! Nothing here is shared with the solver but data types and the lengths of the armhole: a plan from
//! anywhere (the fit, the recipe, a hand-made one) is measured in the same way, and the certificate
//! compares the two.

use nalgebra::Point2;

use super::frames::join_near;
use super::objective::WEIGHTS;
use super::pickup::FlankEdge;
use super::plan::{CapPlan, FlankPlan, Move};
use super::problem::{FREE_GAP, Problem};
use crate::measure::{Length, Stitches};
use crate::outline::{ArmholeEdge, polyline_length};

/// One move against the armhole its stitches are picked up from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoveMeasures {
    /// The move.
    pub moved: Move,
    /// Edge of the cap.
    pub cap: Length,
    /// Edge of the armhole between its first and its last stitch.
    pub armhole: Length,
    /// The cap edge wanted there: the armhole's and the ease.
    pub wanted: Length,
}

/// A stretch of a flank: the moves of one run, or of one pick-up section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// How many moves.
    pub moves: u32,
    /// Stitches picked up for them.
    pub stitches: Stitches,
    /// Edge of the cap.
    pub cap: Length,
    /// Edge of the armhole.
    pub armhole: Length,
}

impl Stretch {
    /// Cap edge longer than the armhole it meets, in per cent: above it puckers, below it pulls.
    pub fn strain_pct(&self) -> f64 {
        100.0 * (self.cap / self.armhole - 1.0)
    }

    fn of(moves: &[MoveMeasures]) -> Self {
        Self {
            moves: u32::try_from(moves.len()).unwrap_or(u32::MAX),
            stitches: moves.iter().map(|m| Stitches(m.moved.take)).sum(),
            cap: moves.iter().map(|m| m.cap).sum(),
            armhole: moves.iter().map(|m| m.armhole).sum(),
        }
    }
}

/// Measures of one flank's side of the cap.
#[derive(Clone, Debug, PartialEq)]
pub struct SideMeasures {
    /// Half widths of the turn pairs, as knitted: without the picked-up row beside them.
    pub half_widths_cm: Vec<f64>,
    /// The same with the picked-up row: what the fabric covers, and the targets are held against.
    pub fabric_cm: Vec<f64>,
    /// Half the crown + the curve, as sewn to the armhole above its underarm.
    pub edge: Length,
    /// The armhole's edge it meets, with half of the live stitches at the shoulder.
    pub armhole: Length,
    /// The moves from the crown down, each against its own piece of the armhole.
    pub moves: Vec<MoveMeasures>,
}

impl SideMeasures {
    /// Cap edge longer than the armhole, in per cent.
    pub fn ease_pct(&self) -> f64 {
        100.0 * (self.edge / self.armhole - 1.0)
    }

    /// The flank by runs: where along it the cap pulls or puckers.
    pub fn runs(&self) -> Vec<Stretch> {
        let runs = self.moves.chunk_by(|a, b| a.moved == b.moved);
        runs.map(Stretch::of).collect()
    }

    /// Sum of the squares of the local strain, each over its piece of the armhole, and that armhole.
    fn strain_square(&self, of: impl Fn(&MoveMeasures) -> f64) -> (f64, f64) {
        let mut sums = (0.0, 0.0);
        for m in &self.moves {
            let (off_cm, armhole_cm) = (of(m), m.armhole.to_cm());
            sums.0 += off_cm * off_cm / armhole_cm.max(f64::MIN_POSITIVE);
            sums.1 += armhole_cm;
        }
        sums
    }
}

/// Measures of a whole cap.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    /// Height of the picked-up row.
    pub picked_up: Length,
    /// Depth: two rows for each turn pair, and the picked-up row.
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
    /// Root mean square of the local strain, over the flanks' lengths, the ease left in; in per cent.
    pub strain_rms_pct: f64,
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

    /// Cap edge longer than the armhole, both sides together.
    pub fn ease(&self) -> Length {
        self.front.edge + self.back.edge - self.front.armhole - self.back.armhole
    }
}

/// Measures a plan against the problem it answers.
pub fn measure(problem: &Problem<'_>, plan: &CapPlan) -> Measures {
    let pairs = plan.turn_pairs();
    let front = side(problem, plan, &plan.front, problem.front);
    let back = side(problem, plan, &plan.back, problem.back);
    let depth = problem.depth_of(pairs);
    let area_cm2 = area_cm2(problem, plan, [&front, &back]);
    let square = width_square(problem, plan, [&front, &back]);
    let strained = |of: fn(&MoveMeasures) -> f64| {
        let (a, b) = (front.strain_square(of), back.strain_square(of));
        (a.0 + b.0) / (a.1 + b.1).max(f64::MIN_POSITIVE)
    };
    let strain_rms = strained(|m| (m.cap - m.armhole).to_cm()).sqrt();
    let strain = strained(|m| (m.cap - m.wanted).to_cm());
    let mut measures = Measures {
        picked_up: problem.picked_up_height(),
        depth,
        depth_error: depth - problem.cap.depth(),
        area_cm2,
        area_error_pct: 100.0 * (area_cm2 / problem.cap.area_cm2() - 1.0),
        upper_arm: problem.tube_gauge.width(plan.upper_arm()),
        width_rms: Length::cm(square.sqrt()),
        strain_rms_pct: 100.0 * strain_rms,
        objective: 0.0,
        terms: Vec::new(),
        front,
        back,
    };
    measures.terms = terms(problem, plan, &measures, square, strain);
    measures.objective = measures.terms.iter().map(|term| term.1).sum();
    measures
}

fn terms(
    problem: &Problem<'_>,
    plan: &CapPlan,
    measures: &Measures,
    width_square: f64,
    strain_square: f64,
) -> Vec<(&'static str, f64)> {
    let pairs = f64::from(plan.turn_pairs());
    let area = measures.area_error_pct / 100.0;
    let depth_cm = measures.depth_error.to_cm();
    let ease_cm = measures.ease().to_cm();
    let (least_cm, most_cm) = problem.ease_range_cm();
    let outside_cm = ease_cm - ease_cm.clamp(least_cm, most_cm);
    let unlike = f64::from(u8::from(plan.front.moves != plan.back.moves));
    let mean = |of: fn(&FlankPlan) -> f64| f64::midpoint(of(&plan.front), of(&plan.back));
    vec![
        ("width", width_square),
        ("strain", WEIGHTS.strain * strain_square),
        ("area", WEIGHTS.area * area * area),
        ("depth", WEIGHTS.depth * depth_cm * depth_cm),
        ("holes", WEIGHTS.holes * mean(wide_gaps)),
        (
            "decreases",
            WEIGHTS.decrease * mean(|flank| flank.decreases().as_f64()) / pairs,
        ),
        (
            "decreases high",
            WEIGHTS.high_decrease * mean(high_decreases),
        ),
        (
            "sections",
            WEIGHTS.section * mean(|flank| flank.zones.len().saturating_sub(1) as f64),
        ),
        ("lone moves", WEIGHTS.lone_move * mean(lone_moves)),
        ("join", join_cost(problem, plan.join_change)),
        ("unlike", WEIGHTS.unlike * unlike),
        ("ease", WEIGHTS.ease * outside_cm * outside_cm),
    ]
}

/// What so many stitches made at the join cost.
fn join_cost(problem: &Problem<'_>, change: i32) -> f64 {
    let off = (change - join_near(problem)).abs();
    WEIGHTS.join * f64::from(change.abs()) + WEIGHTS.join_off * f64::from(off)
}

/// Rows beyond [`FREE_GAP`] between picked-up stitches, as a share of the flank's rows.
fn wide_gaps(flank: &FlankPlan) -> f64 {
    let rows: f64 = flank.zones.iter().map(|zone| zone.rows.as_f64()).sum();
    let beyond = flank.zones.iter().map(|zone| {
        let free = FREE_GAP * zone.stitches.as_f64();
        (zone.rows.as_f64() - free).max(0.0)
    });
    beyond.sum::<f64>() / rows.max(1.0)
}

/// How far above the base the decreases are: `sum (T - t) / T^2`.
fn high_decreases(flank: &FlankPlan) -> f64 {
    let pairs = flank.moves.len() as f64 + 1.0;
    let moves = flank.moves.iter().enumerate();
    // The first move is worked at the second pair.
    let above: f64 = moves
        .map(|(i, m)| f64::from(m.drop) * (pairs - (i as f64 + 2.0)))
        .sum();
    above / (pairs * pairs)
}

/// Runs of one move.
fn lone_moves(flank: &FlankPlan) -> f64 {
    let runs = flank.runs();
    runs.iter().filter(|(_, times)| *times == 1).count() as f64
}

/// Every pair is a rectangle of two rows; the picked-up row covers the crown and every move's edge.
fn area_cm2(problem: &Problem<'_>, plan: &CapPlan, sides: [&SideMeasures; 2]) -> f64 {
    let pair_cm = 2.0 * problem.cap_gauge.row_height().to_cm();
    let picked_up_cm = problem.picked_up_height().to_cm();
    let of = |side: &SideMeasures| {
        let widths: f64 = side.half_widths_cm.iter().sum();
        let edges: f64 = side.moves.iter().map(|m| m.cap.to_cm()).sum();
        pair_cm * widths + picked_up_cm * (pair_cm + edges)
    };
    let crown_cm = problem.cap_gauge.width(plan.crown.stitches).to_cm();
    picked_up_cm * crown_cm + of(sides[0]) + of(sides[1])
}

/// Mean square of half width minus target, over all pairs and both sides.
fn width_square(problem: &Problem<'_>, plan: &CapPlan, sides: [&SideMeasures; 2]) -> f64 {
    let targets_cm = problem.targets_cm(plan.turn_pairs());
    let (mut sum, mut count) = (0.0, 0.0);
    for side in sides {
        for (width, target) in side.fabric_cm.iter().zip(&targets_cm) {
            sum += (width - target) * (width - target);
            count += 1.0;
        }
    }
    sum / f64::max(count, 1.0)
}

fn side(
    problem: &Problem<'_>,
    plan: &CapPlan,
    flank: &FlankPlan,
    armhole: &ArmholeEdge,
) -> SideMeasures {
    let s = problem.cap_gauge.stitch_width().to_cm();
    let halves = flank.half_stitches(plan.crown).into_iter();
    let half_widths_cm: Vec<f64> = halves.map(|half| half * s).collect();
    let moves = moves(problem, plan, flank, armhole);
    let pair_cm = 2.0 * problem.cap_gauge.row_height().to_cm();
    let edges = std::iter::once(pair_cm).chain(moves.iter().map(|m| m.cap.to_cm()));
    let fabric = half_widths_cm.iter().zip(edges);
    SideMeasures {
        fabric_cm: fabric
            .map(|(half, edge)| half + problem.covered_cm(edge))
            .collect(),
        edge: problem.cap_gauge.width(plan.crown.stitches) / 2.0
            + polyline_length(&edge_points_cm(
                &half_widths_cm,
                problem.cap_gauge.row_height(),
                problem.picked_up_height(),
            )),
        // Half of the stitches that wait at the shoulder meets this side of the crown.
        armhole: armhole.edge() + problem.cap_gauge.width(plan.crown.live) / 2.0,
        moves,
        half_widths_cm,
    }
}

/// The curve by the same rule as an old cap's: top corner, middles of the pairs below the picked-up row,
/// underarm corner.
pub fn edge_points_cm(half_widths_cm: &[f64], row: Length, picked_up: Length) -> Vec<Point2<f64>> {
    let (row_cm, picked_up_cm) = (row.to_cm(), picked_up.to_cm());
    let mut points = Vec::with_capacity(half_widths_cm.len() + 2);
    points.extend(half_widths_cm.first().map(|w| Point2::new(*w, 0.0)));
    for (i, w) in half_widths_cm.iter().enumerate() {
        let middle_cm = picked_up_cm + (2.0 * i as f64 + 1.0) * row_cm;
        points.push(Point2::new(*w, middle_cm));
    }
    let depth_cm = picked_up_cm + 2.0 * half_widths_cm.len() as f64 * row_cm;
    points.extend(half_widths_cm.last().map(|w| Point2::new(*w, depth_cm)));
    points
}

/// Every move's edge, and the armhole between its first and its last stitch: stitches of a section are
/// spread evenly over its rows.
fn moves(
    problem: &Problem<'_>,
    plan: &CapPlan,
    flank: &FlankPlan,
    armhole: &ArmholeEdge,
) -> Vec<MoveMeasures> {
    let edge = FlankEdge::new(problem, armhole, plan.crown);
    let whole_cm = edge.length_cm();
    let at = |p: u32| edge.length_to_cm(place_of(flank, p));
    let pair_cm = 2.0 * problem.cap_gauge.row_height().to_cm();
    let mut taken = 0;
    let measured = flank.moves.iter().map(|m| {
        let across_cm = problem.cap_gauge.width(m.widens()).to_cm();
        let (from, to) = (at(taken), at(taken + m.take));
        taken += m.take;
        let wanted_cm = edge.wanted_to_cm(to, whole_cm) - edge.wanted_to_cm(from, whole_cm);
        MoveMeasures {
            moved: *m,
            cap: Length::cm((across_cm * across_cm + pair_cm * pair_cm).sqrt()),
            armhole: Length::cm(to - from),
            wanted: Length::cm(wanted_cm),
        }
    });
    measured.collect()
}

/// The place of the flank where so many of its stitches end.
fn place_of(flank: &FlankPlan, stitches: u32) -> f64 {
    let (mut left, mut place) = (stitches, 0.0);
    for zone in &flank.zones {
        let here = left.min(zone.stitches.count());
        let gap = zone.rows.as_f64() / zone.stitches.as_f64().max(1.0);
        place += gap * f64::from(here);
        left -= here;
    }
    place
}
