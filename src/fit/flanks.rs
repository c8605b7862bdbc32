//! The flanks of a frame, and every way to pick each of them up.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use super::frames::Choice;
use super::objective::WEIGHTS;
use super::pickup::{FlankEdge, Pickup, Wanted, candidates, stitch_range};
use super::plan::{CapPlan, FlankPlan, Move, same_kind};
use super::problem::Problem;
use super::table::{EdgeCosts, EdgesBefore, Frame, certain_cost};
use crate::measure::Stitches;
use crate::outline::ArmholeEdge;

/// Flanks that are searched together, and what the objective adds for searching them apart.
pub(crate) struct FlankSet<'a> {
    pub(crate) flanks: Vec<Flank<'a>>,
    pub(crate) surcharge: f64,
}

/// One flank of a frame, or both where they are worked alike: the ways to pick it up, those with the
/// fewest decreases first.
pub(crate) struct Flank<'a> {
    /// 1 where one stands for both, a half for one of two.
    pub(crate) share: f64,
    pub(crate) groups: Vec<Group<'a>>,
}

impl Flank<'_> {
    /// What decreases and zones cost at the least.
    pub(crate) fn certain(&self) -> f64 {
        self.groups
            .first()
            .map_or(f64::INFINITY, |group| group.certain)
    }
}

/// The pick-up plans of as many stitches, and a bound for all of them.
pub(crate) struct Group<'a> {
    pub(crate) drops: usize,
    /// Decreases and zones alone: every plan costs at least this.
    pub(crate) certain: f64,
    pub(crate) plans: Vec<Plan<'a>>,
    bound: OnceCell<Costs>,
}

impl Group<'_> {
    /// Costs below those of every plan.
    pub(crate) fn bound(&self, frame: &Frame) -> &Costs {
        self.bound.get_or_init(|| {
            let share = self.plans.first().map_or(1.0, |plan| plan.share);
            let plans = self.plans.iter().map(|plan| &plan.costs(frame).edges);
            let plans: Vec<&EdgeCosts> = plans.collect();
            Costs::of(EdgeCosts::lowest(frame, share, &plans))
        })
    }
}

/// What moves cost along an edge, and what they cost down to every pair.
pub(crate) struct Costs {
    pub(crate) edges: EdgeCosts,
    before: OnceCell<EdgesBefore>,
}

impl Costs {
    fn of(edges: EdgeCosts) -> Self {
        Self {
            before: OnceCell::new(),
            edges,
        }
    }

    /// Least costs down to every pair; worked out when first asked for.
    pub(crate) fn before(&self) -> &EdgesBefore {
        self.before.get_or_init(|| self.edges.before())
    }
}

/// A pick-up plan; what its moves cost along the edge is worked out when it is first asked for.
pub(crate) struct Plan<'a> {
    /// Of the flanks that the moves are worked on: one, or front and back worked alike.
    pickups: Vec<Pickup<'a>>,
    share: f64,
    pub(crate) drops: usize,
    costs: OnceCell<Costs>,
}

impl Plan<'_> {
    pub(crate) fn costs(&self, frame: &Frame) -> &Costs {
        let new = || Costs::of(EdgeCosts::new(frame, &self.pickups, self.share, self.drops));
        self.costs.get_or_init(new)
    }

    /// The flank, or front and back, with these moves.
    fn worked(&self, moves: &[Move]) -> impl Iterator<Item = FlankPlan> {
        self.pickups.iter().map(|pickup| FlankPlan {
            moves: moves.to_vec(),
            zones: pickup.zones.clone(),
        })
    }
}

/// The cap whose flanks are picked up and worked in these ways; a single flank stands for both.
pub(crate) fn cap_plan(choice: &Choice, worked: &[(&Plan<'_>, &[Move])]) -> CapPlan {
    let mut flanks = worked.iter().flat_map(|(plan, moves)| plan.worked(moves));
    let front = flanks.next().unwrap_or(FlankPlan {
        moves: Vec::new(),
        zones: Vec::new(),
    });
    let back = flanks.next().unwrap_or_else(|| front.clone());
    CapPlan {
        join_change: 0,
        crown: choice.crown,
        base_front: choice.base_front,
        base_back: choice.base_back,
        front,
        back,
    }
}

/// Both flanks worked alike; then, where the armholes differ, each on its own.
pub(crate) fn flank_sets<'a>(problem: &Problem<'a>, choice: &Choice) -> Vec<FlankSet<'a>> {
    let fronts = pickups(problem, choice, problem.front);
    if problem.alike() {
        return vec![FlankSet {
            flanks: vec![flank(choice, 1.0, alone(fronts))],
            surcharge: 0.0,
        }];
    }
    let backs = pickups(problem, choice, problem.back);
    vec![
        FlankSet {
            flanks: vec![flank(choice, 1.0, paired(&fronts, &backs))],
            surcharge: 0.0,
        },
        FlankSet {
            flanks: vec![
                flank(choice, 0.5, alone(fronts)),
                flank(choice, 0.5, alone(backs)),
            ],
            surcharge: WEIGHTS.unlike,
        },
    ]
}

fn alone(pickups: Vec<Pickup<'_>>) -> Vec<Vec<Pickup<'_>>> {
    pickups.into_iter().map(|pickup| vec![pickup]).collect()
}

/// Front and back plans of as many stitches and of the same kind.
fn paired<'a>(fronts: &[Pickup<'a>], backs: &[Pickup<'a>]) -> Vec<Vec<Pickup<'a>>> {
    let alike =
        |a: &Pickup<'_>, b: &Pickup<'_>| a.stitches == b.stitches && same_kind(&a.zones, &b.zones);
    let pairs = fronts.iter().flat_map(|front| {
        let backs = backs.iter().filter(move |back| alike(front, back));
        backs.map(move |back| vec![front.clone(), back.clone()])
    });
    pairs.collect()
}

fn flank<'a>(choice: &Choice, share: f64, plans: Vec<Vec<Pickup<'a>>>) -> Flank<'a> {
    let drops = |pickups: &[Pickup<'_>]| {
        let taken = pickups.first().map_or(0, |pickup| pickup.stitches.count());
        (taken as usize).saturating_sub(choice.net)
    };
    let mut groups: BTreeMap<usize, Group<'a>> = BTreeMap::new();
    for pickups in plans {
        let drops = drops(&pickups);
        let certain = certain_cost(&choice.frame, &pickups, share, drops);
        let group = groups.entry(drops).or_insert_with(|| Group {
            drops,
            certain,
            plans: Vec::new(),
            bound: OnceCell::new(),
        });
        group.certain = group.certain.min(certain);
        group.plans.push(Plan {
            pickups,
            share,
            drops,
            costs: OnceCell::new(),
        });
    }
    Flank {
        share,
        groups: groups.into_values().collect(),
    }
}

/// Every way to pick up one flank.
fn pickups<'a>(
    problem: &Problem<'a>,
    choice: &Choice,
    armhole: &'a ArmholeEdge,
) -> Vec<Pickup<'a>> {
    let edge = FlankEdge {
        armhole,
        crown_sites: choice.crown_sites(),
    };
    let wanted = Wanted {
        ratio: target_edge_cm(&choice.frame) / edge.length_cm(),
        ease: problem.wishes.ease,
    };
    let (least, most) = stitch_range(edge.sites(), problem.wishes.gap_limit);
    let net_stitches = Stitches(u32::try_from(choice.net).unwrap_or(u32::MAX));
    let droppable = choice.frame.turn_pairs() - 1;
    let low = least.max(net_stitches).count();
    let high = most
        .count()
        .min(net_stitches.count() + u32::try_from(droppable).unwrap_or(0));
    (low..=high)
        .flat_map(|n| candidates(edge, Stitches(n), problem.wishes.gap_limit, wanted))
        .collect()
}

/// Edge of the target outline between the middles of the first and the last pair: what the moves
/// together have to supply.
fn target_edge_cm(frame: &Frame) -> f64 {
    let y = 2.0 * frame.row_cm;
    frame
        .targets_cm
        .windows(2)
        .map(|pair| match pair {
            [a, b] => ((b - a) * (b - a) + y * y).sqrt(),
            _ => 0.0,
        })
        .sum()
}
