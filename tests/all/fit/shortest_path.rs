//! The exact fit against a shortest path: every state of every flank is a node of one graph, and
//! petgraph's Dijkstra finds the cheapest way through it for every number of runs at once.
//!
//! Outside source: the petgraph crate. The costs are those of `fit_oracle`, written again there.

use std::collections::BTreeMap;

use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::{
    Frame, LONE_MOVE, Sizes, UNLIKE, ZONE, Zones, frames, move_cost, pickups, turn_pairs,
    wanted_cm, width_cost,
};
use capwright::fit::{MOST_RUNS, Problem, fit};
use petgraph::algo::dijkstra;
use petgraph::graph::{DiGraph, NodeIndex};

/// Where a flank stands: widened by, taken in, last move, changes of move, all net stitches of all
/// pairs so far added up, for both flanks, and whether the last move is the first of its run.
type State = (u32, u32, usize, usize, u32, bool);

/// One flank with one pick-up plan.
struct Flank<'a> {
    sizes: &'a Sizes,
    frame: &'a Frame,
    /// One list, or those of a front and a back that are worked alike.
    wanted_cm: Vec<Vec<f64>>,
    zones: f64,
    upper: Zones,
    net: u32,
    taken: u32,
    /// How much of the objective's mean it is: a half, or all of it where it stands for both.
    share: f64,
}

impl Flank<'_> {
    fn width_cost(&self, pair: usize, net: u32) -> f64 {
        self.share * width_cost(self.sizes, self.frame, pair, net)
    }

    fn move_cost(&self, m: usize, pair: usize, taken: u32) -> f64 {
        let m = self.sizes.moves[m];
        let pairs = (self.frame.pairs, pair);
        let costs = self.wanted_cm.iter();
        let costs = costs.map(|wanted| move_cost(self.sizes, pairs, wanted, taken, m));
        self.share * costs.sum::<f64>() / self.wanted_cm.len() as f64
    }
}

#[derive(Default)]
struct Graph {
    graph: DiGraph<(), f64>,
}

impl Graph {
    fn too_large(&self) -> bool {
        self.graph.node_count() > MOST_NODES
    }

    /// Adds the layers of one flank from `from`; returns its ends by (changes, sum).
    fn layers(
        &mut self,
        flank: &Flank<'_>,
        from: &BTreeMap<(usize, u32), NodeIndex>,
        most_changes: usize,
    ) -> BTreeMap<(usize, u32), NodeIndex> {
        let mut ends = BTreeMap::new();
        for (&(others, sum), &start) in from {
            if self.too_large() {
                break;
            }
            let first = self.graph.add_node(());
            let zones = flank.share * ZONE * (flank.zones - 1.0);
            self.graph
                .add_edge(start, first, flank.width_cost(0, 0) + zones);
            let mut layer = BTreeMap::from([((0, 0, usize::MAX, 0, sum, false), first)]);
            for pair in 1..flank.frame.pairs {
                layer = self.next_layer(flank, pair, &layer, most_changes);
            }
            for ((net, taken, _, changes, sum, alone), node) in layer {
                if net == flank.net && taken == flank.taken {
                    let end = *ends
                        .entry((changes.max(others), sum))
                        .or_insert_with(|| self.graph.add_node(()));
                    let lone = if alone { flank.share * LONE_MOVE } else { 0.0 };
                    self.graph.add_edge(node, end, lone);
                }
            }
        }
        ends
    }

    fn next_layer(
        &mut self,
        flank: &Flank<'_>,
        pair: usize,
        layer: &BTreeMap<State, NodeIndex>,
        most_changes: usize,
    ) -> BTreeMap<State, NodeIndex> {
        let mut next = BTreeMap::new();
        for (&(net, taken, last, changes, sum, alone), &node) in layer {
            for (m, mv) in flank.sizes.moves.iter().enumerate() {
                let lone = alone && last != m;
                let changes = changes + usize::from(last != usize::MAX && last != m);
                let (net, after) = (net + mv.take - mv.drop, taken + mv.take);
                if changes > most_changes || net > flank.net || after > flank.taken {
                    continue;
                }
                let lone = if lone { flank.share * LONE_MOVE } else { 0.0 };
                let cost = flank.width_cost(pair, net) + flank.move_cost(m, pair, taken) + lone;
                let there = *next
                    .entry((net, after, m, changes, sum + net, last != m))
                    .or_insert_with(|| self.graph.add_node(()));
                self.graph.add_edge(node, there, cost);
            }
        }
        next
    }
}

/// Every way to pick up one flank of a frame.
fn ways<'a>(
    problem: &Problem<'_>,
    sizes: &'a Sizes,
    frame: &'a Frame,
    side: usize,
    share: f64,
) -> Vec<Flank<'a>> {
    let armhole = [problem.front, problem.back][side];
    let sites = armhole.sites().count().saturating_sub(frame.crown_sites);
    let mut out = Vec::new();
    // Every move but the first pair's may decrease once.
    for taken in (frame.net[side]..=sites).take(frame.pairs) {
        for zones in pickups(sites, taken, problem.wishes.gap_limit) {
            out.push(Flank {
                sizes,
                frame,
                wanted_cm: vec![wanted_cm(
                    problem,
                    sizes,
                    armhole,
                    frame.crown_sites,
                    &zones,
                )],
                zones: zones.len() as f64,
                upper: zones[..zones.len() - 1].to_vec(),
                net: frame.net[side],
                taken,
                share,
            });
        }
    }
    out
}

/// Front and back of as many stitches and the same upper zone, worked alike.
fn paired<'a>(fronts: &[Flank<'a>], backs: &[Flank<'a>]) -> Vec<Flank<'a>> {
    let mut out = Vec::new();
    for front in fronts {
        for back in backs {
            if front.taken == back.taken && front.upper == back.upper {
                out.push(Flank {
                    wanted_cm: [&front.wanted_cm[..], &back.wanted_cm[..]].concat(),
                    zones: f64::midpoint(front.zones, back.zones),
                    upper: front.upper.clone(),
                    share: 1.0,
                    ..*front
                });
            }
        }
    }
    out
}

/// Larger graphs are left out: they take minutes.
const MOST_NODES: usize = 80_000;

/// Least objective with at most 1, 2, ... runs; `None` for a graph that grows too large.
fn shortest(problem: &Problem<'_>) -> Option<[f64; MOST_RUNS]> {
    for counts in turn_pairs(problem) {
        let mut graph = Graph::default();
        let source = graph.graph.add_node(());
        let sinks: Vec<NodeIndex> = (0..MOST_RUNS).map(|_| graph.graph.add_node(())).collect();
        for pairs in counts {
            let sizes = Sizes::of(problem, pairs);
            for frame in frames(problem, pairs) {
                add_frame(&mut graph, problem, &sizes, &frame, (source, &sinks));
                if graph.too_large() {
                    return None;
                }
            }
        }
        let far = dijkstra(&graph.graph, source, None, |edge| *edge.weight());
        if sinks.iter().any(|sink| far.contains_key(sink)) {
            let by_runs: Vec<Option<f64>> = sinks.iter().map(|s| far.get(s).copied()).collect();
            return Some(least(&by_runs));
        }
    }
    Some([f64::INFINITY; MOST_RUNS])
}

/// With more runs allowed the answer is never worse.
fn least(by_runs: &[Option<f64>]) -> [f64; MOST_RUNS] {
    let mut so_far = f64::INFINITY;
    std::array::from_fn(|r| {
        so_far = by_runs[r].unwrap_or(f64::INFINITY).min(so_far);
        so_far
    })
}

fn add_frame(
    graph: &mut Graph,
    problem: &Problem<'_>,
    sizes: &Sizes,
    frame: &Frame,
    ends: (NodeIndex, &[NodeIndex]),
) {
    let (source, sinks) = ends;
    let alike = problem.front == problem.back && frame.net[0] == frame.net[1];
    let begin = BTreeMap::from([((0, 0), source)]);
    let fronts = ways(problem, sizes, frame, 0, if alike { 1.0 } else { 0.5 });
    for front in &fronts {
        let half = graph.layers(front, &begin, MOST_RUNS - 1);
        if alike {
            close(graph, sizes, frame, (&half, 2, 0.0), sinks);
            continue;
        }
        for back in &ways(problem, sizes, frame, 1, 0.5) {
            let whole = graph.layers(back, &half, MOST_RUNS - 1);
            close(graph, sizes, frame, (&whole, 1, UNLIKE), sinks);
        }
    }
    if !alike {
        for both in &paired(&fronts, &ways(problem, sizes, frame, 1, 0.5)) {
            let half = graph.layers(both, &begin, MOST_RUNS - 1);
            close(graph, sizes, frame, (&half, 2, 0.0), sinks);
        }
    }
}

/// The last steps: the area term, which only the sum of the widths decides.
fn close(
    graph: &mut Graph,
    sizes: &Sizes,
    frame: &Frame,
    ends: (&BTreeMap<(usize, u32), NodeIndex>, u32, f64),
    sinks: &[NodeIndex],
) {
    let (ends, times, surcharge) = ends;
    for (&(changes, sum), &node) in ends {
        let crowns = frame.crown as usize * frame.pairs;
        let widths_cm = sizes.stitch_cm * (crowns as f64 + f64::from(times * sum));
        graph
            .graph
            .add_edge(node, sinks[changes], sizes.area_term(widths_cm) + surcharge);
    }
}

fn all_agree(kind: Kind, cases: u64) {
    let (mut compared, mut feasible) = (0, 0);
    for n in 0..cases {
        let case = case(kind, n);
        let problem = case.problem();
        let Some(least) = shortest(&problem) else {
            continue;
        };
        compared += 1;
        let Ok(found) = fit(&problem) else {
            let no_path = least.iter().all(|objective| objective.is_infinite());
            assert!(no_path, "case {n}: the graph has a path");
            continue;
        };
        feasible += 1;
        for (point, least) in found.trade.iter().zip(least) {
            let objective = point
                .cap
                .as_ref()
                .map_or(f64::INFINITY, |cap| cap.1.objective);
            let agree =
                (objective - least).abs() <= 1e-9 || objective.is_infinite() && least.is_infinite();
            assert!(
                agree,
                "case {n}, {} runs: {objective} for {least}",
                point.runs
            );
        }
    }
    assert!(
        2 * compared > cases && 6 * feasible > cases,
        "{feasible} of {compared} have a cap"
    );
}

#[test]
fn flanks_alike() {
    let kind = Kind {
        pairs: (4, 8),
        moves: (3, 5),
        alike: true,
        fixed_crown: false,
        gap: 1.8,
    };
    all_agree(kind, 200);
}

#[test]
fn longer_caps_with_a_fixed_crown() {
    let kind = Kind {
        pairs: (8, 10),
        moves: (3, 3),
        alike: true,
        fixed_crown: true,
        gap: 1.5,
    };
    all_agree(kind, 48);
}

#[test]
fn flanks_that_differ() {
    let kind = Kind {
        pairs: (4, 6),
        moves: (3, 4),
        alike: false,
        fixed_crown: true,
        gap: 1.6,
    };
    all_agree(kind, 120);
}
