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
#[derive(Clone, Copy, Debug, Default, PartialEq)]
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

    /// Both together.
    #[must_use]
    pub fn beside(self, next: Self) -> Self {
        Self {
            moves: self.moves + next.moves,
            stitches: self.stitches + next.stitches,
            cap: self.cap + next.cap,
            armhole: self.armhole + next.armhole,
        }
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
    /// Heights of the turn pairs: two rows each.
    pub pair_heights_cm: Vec<f64>,
    /// The half widths with the picked-up row: what the fabric covers, and the targets are held against.
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

    /// The side of the first pair, and the edge of every move.
    fn edges_cm(&self) -> impl Iterator<Item = f64> {
        let first = self.pair_heights_cm.first().copied();
        first
            .into_iter()
            .chain(self.moves.iter().map(|m| m.cap.to_cm()))
    }

    /// The curve of this side, below a picked-up row of such a height.
    pub fn edge_points_cm(&self, picked_up: Length) -> Vec<Point2<f64>> {
        edge_points_cm(&self.half_widths_cm, &self.pair_heights_cm, picked_up)
    }

    /// What no move meets: half of the crown and the first pair's side below it, against the armhole there; without stitches,
    /// since the crown's are those of both sides.
    pub fn crown(&self) -> Stretch {
        let flank = Stretch::of(&self.moves);
        Stretch {
            cap: self.edge - flank.cap,
            armhole: self.armhole - flank.armhole,
            ..Stretch::default()
        }
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
    let picked_up_cm = problem.picked_up_height().to_cm();
    let of = |side: &SideMeasures| {
        let pairs = side.half_widths_cm.iter().zip(&side.pair_heights_cm);
        let pairs: f64 = pairs.map(|(half_cm, pair_cm)| half_cm * pair_cm).sum();
        pairs + picked_up_cm * side.edges_cm().sum::<f64>()
    };
    let crown_cm = problem.top_gauge().width(plan.crown.stitches).to_cm();
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
    let pairs = 1..=plan.turn_pairs();
    let halves = pairs.clone().zip(flank.half_stitches(plan.crown));
    let mut side = SideMeasures {
        half_widths_cm: halves
            .map(|(pair, half)| half * problem.gauge_of(pair).stitch_width().to_cm())
            .collect(),
        pair_heights_cm: pairs
            .map(|pair| problem.pair_height(pair).to_cm())
            .collect(),
        fabric_cm: Vec::new(),
        edge: Length::ZERO,
        // Half of the stitches that wait at the shoulder meets this side of the crown.
        armhole: armhole.edge() + problem.top_gauge().width(plan.crown.live) / 2.0,
        moves: moves(problem, plan, flank, armhole),
    };
    let fabric = (1..).zip(&side.half_widths_cm).zip(side.edges_cm());
    side.fabric_cm = fabric
        .map(|((pair, half), edge)| half + problem.covered_cm(pair, edge))
        .collect();
    let curve = if problem.worked.is_some() {
        // Where the gauge changes the rows are wider at once on paper alone: the edge is that of its pairs.
        problem.picked_up_height() + Length::cm(side.edges_cm().sum())
    } else {
        polyline_length(&side.edge_points_cm(problem.picked_up_height()))
    };
    side.edge = problem.top_gauge().width(plan.crown.stitches) / 2.0 + curve;
    side
}

/// The curve by the same rule as an old cap's: top corner, middles of the pairs below the picked-up row,
/// underarm corner.
pub fn edge_points_cm(
    half_widths_cm: &[f64],
    pair_heights_cm: &[f64],
    picked_up: Length,
) -> Vec<Point2<f64>> {
    let mut points = Vec::with_capacity(half_widths_cm.len() + 2);
    points.extend(half_widths_cm.first().map(|w| Point2::new(*w, 0.0)));
    let mut depth_cm = picked_up.to_cm();
    for (w, height_cm) in half_widths_cm.iter().zip(pair_heights_cm) {
        points.push(Point2::new(*w, depth_cm + height_cm / 2.0));
        depth_cm += height_cm;
    }
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
    let mut taken = 0;
    let measured = (2..).zip(&flank.moves).map(|(pair, m)| {
        let across_cm = problem.gauge_of(pair).width(m.widens()).to_cm();
        let pair_cm = problem.pair_height(pair).to_cm();
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
