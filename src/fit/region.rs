//! What is in question in one frame: its flanks, their plans, and the tables that are held for them.

use std::cell::Cell;

use super::flanks::{Costs, Group, Plan};
use super::frames::Choice;
use super::joint::{Joint, Layers, Steps};
use super::plan::Move;
use super::search::{Finish, ROUNDING};
use super::widths::Widths;

/// A frame, what its widths cost, and the least of them with at most 1, 2, ... runs.
pub(super) struct Region<'a> {
    pub(super) choice: &'a Choice,
    pub(super) widths: &'a Widths,
    pub(super) roots: Vec<f64>,
    /// Table entries made so far, in this frame and those before it.
    pub(super) work: Cell<u64>,
}

/// A table at the multiplier last asked for, and the budget it was made for.
#[derive(Default)]
pub(super) struct Held {
    pub(super) table: Option<(Joint, f64)>,
}

impl Held {
    /// The table for these steps, runs and budget, made anew when the one held does not serve.
    pub(super) fn table(
        &mut self,
        steps: &Steps<'_>,
        costs: &Costs,
        budget: f64,
        work: &Cell<u64>,
    ) -> &Joint {
        let budget = budget + ROUNDING;
        let serves = |held: &(Joint, f64)| held.0.serves(steps.multiplier) && budget <= held.1;
        let kept = self.table.take().filter(serves);
        let new = || {
            let layers = Layers::new(steps, Some(costs.through()), budget);
            let table = Joint::new(steps, layers);
            work.set(work.get() + table.entries());
            (table, budget)
        };
        &self.table.insert(kept.unwrap_or_else(new)).0
    }
}

/// Plans of as many stitches that may be part of a better cap.
pub(super) struct Alive<'p, 'a> {
    pub(super) group: &'p Group<'a>,
    /// No sequence of these plans costs less, whatever its runs and its area.
    pub(super) least: f64,
    /// The least priced cost at the multiplier and the runs last asked for, and that multiplier.
    pub(super) priced: f64,
    pub(super) priced_at: f64,
    /// One for each plan.
    pub(super) tables: Vec<Held>,
}

/// A flank with the groups of plans that are still in question, the most promising first.
pub(super) struct Side<'p, 'a> {
    pub(super) share: f64,
    /// What the other flank and the surcharge cost at the least.
    pub(super) others: f64,
    pub(super) groups: Vec<Alive<'p, 'a>>,
}

/// A flank's chosen sequence and how it is picked up.
pub(super) struct Worked<'p, 'a> {
    pub(super) plan: &'p Plan<'a>,
    pub(super) moves: Vec<Move>,
    pub(super) sum: usize,
    pub(super) own: f64,
}

impl Region<'_> {
    pub(super) fn steps<'s>(
        &'s self,
        costs: &'s Costs,
        share: f64,
        multiplier: f64,
        drops: usize,
    ) -> Steps<'s> {
        Steps {
            widths: self.widths,
            edges: &costs.edges,
            share,
            multiplier,
            drops,
        }
    }

    /// True when so many tables were made that what is left is given up without proof.
    pub(super) fn spent(&self) -> bool {
        self.work.get() > MOST_WORK
    }
}

/// Table entries of one fit, all frames together: a few seconds. Caps of hand knitting stay far below;
/// beyond, the fit says how much better a cap could be.
const MOST_WORK: u64 = 1_000_000_000;

impl Side<'_, '_> {
    /// No sequence of this flank with so many runs costs less.
    pub(super) fn least(&self, region: &Region<'_>, runs: usize) -> f64 {
        let groups = self.groups.iter();
        let floors = groups.map(|alive| alive.floor(region, self.share, runs));
        floors.fold(f64::INFINITY, f64::min)
    }
}

impl Alive<'_, '_> {
    /// The least priced cost of these plans with so many runs; the table is not kept.
    pub(super) fn price(
        &mut self,
        region: &Region<'_>,
        share: f64,
        (runs, multiplier): (usize, f64),
        budget: f64,
    ) -> f64 {
        if (self.priced_at - multiplier).abs() < ROUNDING {
            return self.priced;
        }
        let costs = self.group.bound(&region.choice.frame);
        let steps = region.steps(costs, share, multiplier, self.group.drops);
        let mut held = Held::default();
        self.priced = held.table(&steps, costs, budget, &region.work).root(runs);
        self.priced_at = multiplier;
        self.priced
    }

    pub(super) fn floor(&self, region: &Region<'_>, share: f64, runs: usize) -> f64 {
        let edges = self.group.bound(&region.choice.frame).through().least;
        self.least.max(share * region.roots[runs - 1] + edges)
    }
}

pub(super) fn finished<'p, 'a>(plan: &'p Plan<'a>, finish: Finish) -> Worked<'p, 'a> {
    Worked {
        plan,
        moves: finish.moves,
        sum: finish.sum,
        own: finish.own,
    }
}

pub(super) fn runs(moves: &[Move]) -> usize {
    1 + moves
        .windows(2)
        .filter(|pair| pair.first() != pair.last())
        .count()
}

pub(super) fn lone_moves(moves: &[Move]) -> usize {
    moves
        .chunk_by(|a, b| a == b)
        .filter(|run| run.len() == 1)
        .count()
}

pub(super) fn one_for_each_sum<'w, 'p, 'a>(
    worked: &'w [Worked<'p, 'a>],
) -> Vec<&'w Worked<'p, 'a>> {
    let mut list: Vec<&Worked<'_, '_>> = worked.iter().collect();
    list.sort_by(|a, b| a.sum.cmp(&b.sum).then(a.own.total_cmp(&b.own)));
    list.dedup_by_key(|w| w.sum);
    list
}
