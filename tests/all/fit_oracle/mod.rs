//! The model of the fit written a second time, from its description alone: turn pairs, crowns, bases, the change
//! at the join, pick-ups and the objective. Nothing of `src/fit` is used but its plain data types.
//!
//! Sources of what is written again: the documents' formulas for width, depth, area, edge, strain and target;
//! the weights as the documents state them; what is looked at as the docs of `capwright::fit::fit` state it.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests; each test uses some of them"
)]

pub mod cases;
pub mod random;

use capwright::fit::{Ease, Problem};
use capwright::measure::Length;
use capwright::outline::ArmholeEdge;
use capwright::plan::{CapPlan, Move};

// The weights, copied by hand from the table.
pub const STRAIN: f64 = 4.5;
pub const AREA: f64 = 250.0;
pub const DEPTH: f64 = 1.5;
pub const HOLES: f64 = 0.1;
pub const DECREASE: f64 = 0.022;
pub const HIGH_DECREASE: f64 = 0.01;
pub const SECTION: f64 = 0.002;
pub const LONE_MOVE: f64 = 0.001;
pub const JOIN: f64 = 0.002;
pub const JOIN_OFF: f64 = 0.006;
pub const EASE: f64 = 0.2;

/// Everything both flanks share.
#[derive(Clone, Debug)]
pub struct Frame {
    pub pairs: usize,
    pub crown: u32,
    pub live: u32,
    /// Places the crown takes on each side of the shoulder.
    pub crown_sites: u32,
    pub base: [u32; 2],
    /// What each flank may add, with the change at the join.
    pub ends: Vec<(u32, i64)>,
}

/// Sections of one flank as (stitches, rows), from the crown down.
pub type Zones = Vec<(u32, u32)>;

pub fn hypotenuse(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// Half of a stitch or a row is half whatever the last bits say.
fn without_noise(x: f64) -> f64 {
    (x * 1e8).round() / 1e8
}

pub fn stitch_cm(problem: &Problem<'_>) -> f64 {
    10.0 / problem.cap_gauge.stitches_per_10cm()
}

pub fn row_cm(problem: &Problem<'_>) -> f64 {
    10.0 / problem.cap_gauge.rows_per_10cm()
}

/// Stitch and row of a pair, counted from 0: those that were worked before the needles changed have their own.
pub fn at_pair_cm(problem: &Problem<'_>, pair: usize) -> (f64, f64) {
    match problem.worked {
        Some(worked) if pair < worked.turn_pairs as usize => of_top_cm(problem),
        _ => (stitch_cm(problem), row_cm(problem)),
    }
}

/// Stitch and row of the crown and the picked-up row.
pub fn of_top_cm(problem: &Problem<'_>) -> (f64, f64) {
    let gauge = problem.worked.map_or(problem.cap_gauge, |w| w.gauge);
    (
        10.0 / gauge.stitches_per_10cm(),
        10.0 / gauge.rows_per_10cm(),
    )
}

/// Depth below the top after so many pairs.
pub fn depth_cm(problem: &Problem<'_>, pairs: usize) -> f64 {
    let rows = (0..pairs).map(|pair| 2.0 * at_pair_cm(problem, pair).1);
    rows.sum::<f64>() + kappa(problem) * of_top_cm(problem).1
}

/// Rows of the picked-up row.
pub fn kappa(problem: &Problem<'_>) -> f64 {
    f64::from(problem.wishes.picked_up_row.count())
}

/// The number nearest to the old depth, the smaller of two, and one either way.
pub fn turn_pairs(problem: &Problem<'_>) -> Vec<usize> {
    // Where what is worked is deeper than the old cap, pairs to come count as if they were taken away from it.
    let worked = problem
        .worked
        .map_or(0, |worked| worked.turn_pairs as usize);
    let left = problem.cap.depth().to_cm() - depth_cm(problem, worked);
    let wanted = worked as f64 + left / (2.0 * row_cm(problem));
    let off = |t: &usize| without_noise((*t as f64 - wanted).abs());
    let nearest = (2..400)
        .min_by(|a, b| off(a).total_cmp(&off(b)).then(a.cmp(b)))
        .unwrap();
    (nearest - 1..=nearest + 1).filter(|t| *t >= 2).collect()
}

/// Old area of the same share of the depth, what a pair covers beside its rows still in it.
pub fn targets_cm(problem: &Problem<'_>, pairs: usize) -> Vec<f64> {
    let f = problem.cap.depth().to_cm() / depth_cm(problem, pairs);
    let area_to = |depth_cm: f64| problem.cap.area_to_cm2(Length::cm(depth_cm));
    let at = |t: usize| area_to(f * depth_cm(problem, t));
    (0..pairs)
        .map(|t| (at(t + 1) - at(t)) / (4.0 * at_pair_cm(problem, t).1))
        .collect()
}

/// Crowns as (stitches, places on each side): near the top width at any of the four rates that do not pull
/// it, or those the live stitches fix.
fn crowns(problem: &Problem<'_>, pairs: usize) -> Vec<(u32, u32)> {
    if let Some(live) = problem.live {
        let extra = live.extra_each_side.count();
        return vec![(live.stitches.count() + 2 * extra, extra)];
    }
    let wanted = 2.0 * targets_cm(problem, pairs)[0] / stitch_cm(problem);
    let wanted = (without_noise(wanted).round() as i64).max(4);
    let mut all = Vec::new();
    for c in (wanted - 4).max(4)..=wanted + 4 {
        let edge_cm = c as f64 / 2.0 * stitch_cm(problem) + 2.0 * row_cm(problem);
        let places =
            |rate: f64| ((c as f64 * rate / 2.0).round()).max((c as f64 / 2.0).ceil()) as u32;
        let pulled = |places: u32| {
            let sides = [problem.front, problem.back];
            sides
                .iter()
                .any(|s| s.length_to(f64::from(places)).to_cm() > edge_cm)
        };
        all.push((c as u32, places(10.0 / 9.0)));
        for rate in [1.25, 4.0 / 3.0, 1.5] {
            let other = (c as u32, places(rate));
            if !pulled(other.1) && !all.contains(&other) {
                all.push(other);
            }
        }
    }
    all
}

pub fn upper_arm(problem: &Problem<'_>) -> u32 {
    let wanted = problem.upper_arm.to_cm() * problem.tube_gauge.stitches_per_10cm() / 10.0;
    let allowed = (1..2000).filter(|n| {
        let n = f64::from(*n) - f64::from(problem.repeat.plus);
        n > 0.0 && n % f64::from(problem.repeat.multiple) == 0.0
    });
    // Crown and base of a saddle are given: what is left for two flanks alike is even.
    let given = problem.live.map(|live| {
        live.stitches.count() + problem.front.underarm().count() + problem.back.underarm().count()
    });
    let fixed = problem.wishes.plain_join && problem.wishes.base_tolerance.count() == 0;
    let even = |n: &u32| !fixed || given.is_none_or(|given| (n + given).is_multiple_of(2));
    let off = |n: &u32| without_noise((f64::from(*n) - wanted).abs());
    let nearest = |a: &u32, b: &u32| off(a).total_cmp(&off(b)).then(b.cmp(a));
    let best = allowed.clone().filter(even).min_by(nearest);
    best.or_else(|| allowed.min_by(nearest)).unwrap()
}

/// Stitches made at the join so that the tube is as wide as the cap.
pub fn join(problem: &Problem<'_>) -> i64 {
    let widths = problem.cap_gauge.stitches_per_10cm() / problem.tube_gauge.stitches_per_10cm();
    (f64::from(upper_arm(problem)) * (1.0 - widths)).round() as i64
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
    let mut all = Vec::new();
    for base in bases(problem) {
        for (crown, crown_sites) in crowns(problem, pairs) {
            let near = join(problem);
            let joins = if problem.wishes.plain_join {
                0..=0
            } else {
                near - 4..=near + 4
            };
            let ends = joins.filter_map(|join| {
                let rest = i64::from(upper_arm(problem)) - join;
                let left = rest - i64::from(crown + base[0] + base[1]);
                (left >= 0 && left % 2 == 0).then_some(((left / 2) as u32, join))
            });
            all.push(Frame {
                pairs,
                crown,
                live: problem.live.map_or(0, |live| live.stitches.count()),
                crown_sites,
                base,
                ends: ends.collect(),
            });
        }
    }
    all
}

/// The frame of a plan, with its own change at the join alone.
pub fn frame_of(plan: &CapPlan) -> Frame {
    Frame {
        pairs: plan.turn_pairs() as usize,
        crown: plan.crown.stitches.count(),
        live: plan.crown.live.count(),
        crown_sites: plan.crown.rows.count() / 2,
        base: [plan.base_front.count(), plan.base_back.count()],
        ends: vec![(
            taken_and_net(&plan.front.moves).1,
            i64::from(plan.join_change),
        )],
    }
}

/// Length of the flank from its top to a place, and its places.
pub struct Edge<'a> {
    armhole: &'a ArmholeEdge,
    crown: f64,
    pub sites: u32,
}

impl<'a> Edge<'a> {
    pub fn of(armhole: &'a ArmholeEdge, frame: &Frame) -> Self {
        Self {
            armhole,
            crown: f64::from(frame.crown_sites),
            sites: armhole.sites().count().saturating_sub(frame.crown_sites),
        }
    }

    pub fn to_cm(&self, place: f64) -> f64 {
        (self.armhole.length_to(self.crown + place) - self.armhole.length_to(self.crown)).to_cm()
    }

    pub fn whole_cm(&self) -> f64 {
        self.to_cm(f64::from(self.sites))
    }

    /// How many places from the top are as long as the first.
    fn straight(&self) -> u32 {
        let length = |i: u32| self.to_cm(f64::from(i) + 1.0) - self.to_cm(f64::from(i));
        let alike = |i: &u32| (length(*i) - length(0)).abs() <= 1e-9;
        (0..self.sites).take_while(alike).count() as u32
    }
}

/// The moves at which a section may begin: where a run begins, or the first stitch beyond the straight part
/// when all are spread evenly.
pub fn beginnings(edge: &Edge<'_>, moves: &[Move]) -> Vec<usize> {
    let mut begins: Vec<usize> = (1..moves.len())
        .filter(|i| moves[*i] != moves[i - 1])
        .collect();
    let before = |i: usize| moves[..i].iter().map(|m| m.take).sum::<u32>();
    if edge.straight() < edge.sites {
        let all = before(moves.len());
        let at = edge.straight() * all / edge.sites;
        let bends = (0..moves.len()).find(|i| before(*i) >= at);
        begins.extend(bends.filter(|i| *i > 0));
    }
    begins.sort_unstable();
    begins.dedup();
    begins
}

/// Every pick-up of these moves: at most three sections, of three stitches or more where there are several.
pub fn pickups(edge: &Edge<'_>, moves: &[Move], gap_limit: f64) -> Vec<Zones> {
    let begins = beginnings(edge, moves);
    let mut cuts: Vec<Vec<usize>> = vec![vec![]];
    for (i, a) in begins.iter().enumerate() {
        cuts.push(vec![*a]);
        cuts.extend(begins[i + 1..].iter().map(|b| vec![*a, *b]));
    }
    let mut all = Vec::new();
    for cut in cuts {
        let ends = cut.iter().copied().chain([moves.len()]);
        let mut from = 0;
        let stitches: Vec<u32> = ends
            .map(|to| {
                let taken = moves[from..to].iter().map(|m| m.take).sum();
                from = to;
                taken
            })
            .collect();
        if stitches.len() == 1 || stitches.iter().all(|s| *s >= 3) {
            spread(&stitches, edge.sites, gap_limit, &mut Vec::new(), &mut all);
        }
    }
    all
}

/// Every way to share out the rows.
fn spread(stitches: &[u32], rows: u32, gap_limit: f64, so_far: &mut Zones, all: &mut Vec<Zones>) {
    let Some((first, rest)) = stitches.split_first() else {
        if rows == 0 {
            all.push(so_far.clone());
        }
        return;
    };
    for here in *first..=rows {
        if f64::from(here) <= gap_limit * f64::from(*first) + 1e-9 {
            so_far.push((*first, here));
            spread(rest, rows - here, gap_limit, so_far, all);
            so_far.pop();
        }
    }
}

/// Where so many stitches of a flank end.
fn place(zones: &Zones, stitches: u32) -> f64 {
    let (mut left, mut place) = (stitches, 0.0);
    for (u, v) in zones {
        let here = left.min(*u);
        place += f64::from(here) * f64::from(*v) / f64::from(*u);
        left -= here;
    }
    place
}

/// Edge of the cap at each move.
pub fn edges_cm(problem: &Problem<'_>, moves: &[Move]) -> Vec<f64> {
    let edge = |(t, m): (usize, &Move)| {
        let (stitch, row) = at_pair_cm(problem, t + 1);
        hypotenuse(f64::from(m.take - m.drop) * stitch, 2.0 * row)
    };
    moves.iter().enumerate().map(edge).collect()
}

/// Local strain of a flank: squares over the armhole of each move.
pub fn strain(problem: &Problem<'_>, edge: &Edge<'_>, zones: &Zones, moves: &[Move]) -> f64 {
    let whole = edge.whole_cm();
    let wanted = |length: f64| match problem.wishes.ease {
        Ease::Even => 1.02 * length,
        Ease::Shoulder => length + 0.06 * length.min(whole / 3.0),
    };
    let mut taken = 0;
    let mut sum = 0.0;
    for (m, cap) in moves.iter().zip(edges_cm(problem, moves)) {
        let from = edge.to_cm(place(zones, taken));
        taken += m.take;
        let to = edge.to_cm(place(zones, taken));
        let off = cap - (wanted(to) - wanted(from));
        sum += off * off / (to - from);
    }
    sum
}

/// What holes and sections of one flank cost.
pub fn words(sites: u32, zones: &Zones) -> f64 {
    let beyond: f64 = zones
        .iter()
        .map(|(u, v)| (f64::from(*v) - 2.0 * f64::from(*u)).max(0.0))
        .sum();
    HOLES * beyond / f64::from(sites) + SECTION * (zones.len() as f64 - 1.0)
}

/// All of a cap's cost but strain, holes and sections.
pub fn moves_cost(problem: &Problem<'_>, frame: &Frame, join: i64, moves: &[Move]) -> f64 {
    let (s, r, k) = (stitch_cm(problem), row_cm(problem), kappa(problem));
    let pairs = frame.pairs as f64;
    let targets = targets_cm(problem, frame.pairs);
    let edges = edges_cm(problem, moves);
    let mut half = f64::from(frame.crown) / 2.0 * s;
    let off = half + k * 2.0 * r / 2.0 - targets[0];
    let mut width = off * off;
    let mut area = k * r * f64::from(frame.crown) * s + 2.0 * (half * 2.0 * r + k * r * 2.0 * r);
    let (mut drops, mut high) = (0.0, 0.0);
    for (i, (m, edge)) in moves.iter().zip(&edges).enumerate() {
        half += f64::from(m.take - m.drop) * s;
        let off = half + k * edge / 2.0 - targets[i + 1];
        width += off * off;
        area += 2.0 * (half * 2.0 * r + k * r * edge);
        drops += f64::from(m.drop);
        high += f64::from(m.drop) * (pairs - (i as f64 + 2.0));
    }
    let error = area / problem.cap.area_cm2() - 1.0;
    let depth = (2.0 * pairs + k) * r - problem.cap.depth().to_cm();
    let side = f64::from(frame.crown) / 2.0 * s + k * r + 2.0 * r + edges.iter().sum::<f64>();
    let armhole = (problem.front.edge() + problem.back.edge()).to_cm() + f64::from(frame.live) * s;
    let ease = 2.0 * side - armhole;
    // The old cap's own ease costs nothing.
    let old = 2.0 * problem.cap.edge_above_underarm().to_cm() - armhole;
    let outside = (old.min(0.0) - ease).max(ease - old.max(2.54)).max(0.0);
    width / pairs
        + AREA * error * error
        + DEPTH * depth * depth
        + DECREASE * drops / pairs
        + HIGH_DECREASE * high / (pairs * pairs)
        + LONE_MOVE * lone_moves(moves) as f64
        + JOIN * join.abs() as f64
        + JOIN_OFF * (join - self::join(problem)).abs() as f64
        + EASE * outside * outside
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

/// The least cost of these moves in a frame over all pick-ups; none when they do not fit.
pub fn least(problem: &Problem<'_>, frame: &Frame, moves: &[Move]) -> Option<f64> {
    let net = taken_and_net(moves).1;
    let join = frame.ends.iter().find(|end| end.0 == net)?.1;
    let edges = [problem.front, problem.back].map(|armhole| Edge::of(armhole, frame));
    let all_cm: f64 = edges.iter().map(Edge::whole_cm).sum();
    let mut sum = moves_cost(problem, frame, join, moves);
    for edge in &edges {
        let costs = pickups(edge, moves, problem.wishes.gap_limit);
        let costs = costs.iter().map(|zones| {
            STRAIN * strain(problem, edge, zones, moves) / all_cm + words(edge.sites, zones) / 2.0
        });
        sum += costs.min_by(f64::total_cmp)?;
    }
    Some(sum)
}

/// Every sequence of so many moves.
pub fn every_sequence(moves: &[Move], length: usize) -> Vec<Vec<Move>> {
    let mut all = vec![Vec::new()];
    for _ in 0..length {
        let longer = all.iter().flat_map(|begun: &Vec<Move>| {
            moves
                .iter()
                .map(move |m| [begun.as_slice(), &[*m]].concat())
        });
        all = longer.collect();
    }
    all
}
