//! The pick-up of a fitted flank against a shortest path (Dijkstra's, by petgraph): for its moves no sections are
//! better. Places are (beginning of a section, rows so far, sections so far); a step is a section.

use std::collections::BTreeMap;

use petgraph::algo::dijkstra;
use petgraph::graph::{DiGraph, NodeIndex};

use crate::fit_oracle::cases::{Kind, case};
use crate::fit_oracle::{Edge, STRAIN, Zones, beginnings, edges_cm, frame_of, strain, words};
use capwright::fit::{Ease, Problem, Work, fit_within};
use capwright::plan::{FlankPlan, Move};

/// At most so many sections.
const MOST: usize = 3;

/// Local strain of the moves of one section from this row down.
fn section_strain(
    problem: &Problem<'_>,
    edge: &Edge<'_>,
    moves: &[Move],
    (top, rows): (u32, u32),
) -> f64 {
    let all: u32 = moves.iter().map(|m| m.take).sum();
    let at = |taken: u32| {
        edge.to_cm(f64::from(top) + f64::from(taken) * f64::from(rows) / f64::from(all))
    };
    let mut taken = 0;
    let mut sum = 0.0;
    for (m, cap_cm) in moves.iter().zip(edges_cm(problem, moves)) {
        let from = at(taken);
        taken += m.take;
        let armhole_cm = at(taken) - from;
        let off = cap_cm - 1.02 * armhole_cm;
        sum += off * off / armhole_cm;
    }
    sum
}

/// What the best sections of a flank cost.
fn best(problem: &Problem<'_>, edge: &Edge<'_>, moves: &[Move], all_cm: f64) -> f64 {
    let mut begins = beginnings(edge, moves);
    begins.insert(0, 0);
    begins.push(moves.len());
    let mut graph: DiGraph<(), f64> = DiGraph::new();
    let mut places: BTreeMap<(usize, u32, usize), NodeIndex> = BTreeMap::new();
    let start = graph.add_node(());
    places.insert((0, 0, 0), start);
    // Every place is reached before it is left: beginnings go up with every section.
    for from in 0..begins.len() - 1 {
        let known = places.clone();
        let here = known.iter().filter(|(at, _)| at.0 == from && at.2 < MOST);
        for ((_, top, sections), node) in here {
            for to in from + 1..begins.len() {
                let own = &moves[begins[from]..begins[to]];
                let stitches: u32 = own.iter().map(|m| m.take).sum();
                let whole = from == 0 && to + 1 == begins.len();
                let limit = problem.wishes.gap_limit * f64::from(stitches) + 1e-9;
                for rows in stitches..=edge.sites - *top {
                    if (stitches < 3 && !whole) || f64::from(rows) > limit {
                        continue;
                    }
                    let zones: Zones = vec![(stitches, rows)];
                    let more = if from > 0 {
                        words(edge.sites, &vec![(9, 9), (9, 9)])
                    } else {
                        0.0
                    };
                    let cost = STRAIN * section_strain(problem, edge, own, (*top, rows)) / all_cm
                        + f64::midpoint(words(edge.sites, &zones), more);
                    let place = (to, top + rows, *sections + 1);
                    let next = *places.entry(place).or_insert_with(|| graph.add_node(()));
                    graph.add_edge(*node, next, cost);
                }
            }
        }
    }
    let costs = dijkstra(&graph, start, None, |edge| *edge.weight());
    let ends = (1..=MOST).filter_map(|n| places.get(&(begins.len() - 1, edge.sites, n)));
    let ends = ends.filter_map(|node| costs.get(node).copied());
    ends.fold(f64::INFINITY, f64::min)
}

/// What the plan's own sections cost.
fn own(problem: &Problem<'_>, edge: &Edge<'_>, flank: &FlankPlan, all_cm: f64) -> f64 {
    let zones = flank.zones.iter();
    let zones: Zones = zones
        .map(|z| (z.stitches.count(), z.rows.count()))
        .collect();
    STRAIN * strain(problem, edge, &zones, &flank.moves) / all_cm + words(edge.sites, &zones) / 2.0
}

#[test]
fn no_sections_are_better_for_the_moves() {
    let mut several = 0;
    for n in 0..24 {
        let kind = Kind {
            pairs: (9, 14),
            moves: (3, 5),
            alike: n % 2 == 0,
            fixed_crown: false,
            gap: 2.4,
        };
        let mut case = case(kind, n);
        case.wishes.ease = Ease::Even;
        let problem = case.problem();
        let Ok(found) = fit_within(&problem, Work::unproven(3_000)) else {
            continue;
        };
        let frame = frame_of(&found.plan);
        let edges = [problem.front, problem.back].map(|armhole| Edge::of(armhole, &frame));
        let all_cm: f64 = edges.iter().map(Edge::whole_cm).sum();
        for (edge, flank) in edges.iter().zip([&found.plan.front, &found.plan.back]) {
            let least = best(&problem, edge, &flank.moves, all_cm);
            let own = own(&problem, edge, flank, all_cm);
            assert!((own - least).abs() < 1e-9, "case {n}: {own} for {least}");
            several += usize::from(flank.zones.len() > 1);
        }
    }
    assert!(several > 12, "{several} flanks of several sections");
}
