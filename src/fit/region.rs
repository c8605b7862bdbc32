//! What is in question in one frame: its flanks, their plans, and what bounds them.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use super::best::{Best, MOST_RUNS};
use super::flanks::{Costs, Flank, FlankSet, Group, Plan};
use super::frames::Choice;
use super::joint::{Joint, Limits, Steps};
use super::objective::WEIGHTS;
use super::plan::Move;
use super::run_widths::{ByChanges, RunWidths};
use super::search::{Finish, ROUNDING};
use super::widths::Widths;

/// A frame, what its widths cost, and the least of them with at most 1, 2, ... runs.
pub(super) struct Region<'a> {
    pub(super) choice: &'a Choice,
    pub(super) widths: &'a Widths,
    pub(super) roots: ByChanges,
    /// Table entries and labels made so far, in this frame and those before it.
    pub(super) work: Cell<u64>,
    /// The pass made last: the next plans mostly need the same.
    last: RefCell<Option<Rc<Pass>>>,
}

/// One number of runs at one multiplier.
pub(super) struct Pass {
    flanks: usize,
    pub(super) runs: usize,
    pub(super) multiplier: f64,
    /// What a cap costs at the most that is looked for.
    pub(super) limit: f64,
    pub(super) widths: RunWidths,
}

/// Plans of as many stitches that may be part of a better cap.
pub(super) struct Standing<'p, 'a> {
    pub(super) group: &'p Group<'a>,
    /// None of them costs less.
    pub(super) bound: f64,
}

/// A flank with the groups of plans that are still in question, the most promising first.
pub(super) struct Side<'p, 'a> {
    pub(super) share: f64,
    pub(super) standing: Vec<Standing<'p, 'a>>,
}

/// A flank's chosen sequence and how it is picked up.
pub(super) struct Worked<'p, 'a> {
    pub(super) plan: &'p Plan<'a>,
    pub(super) moves: Vec<Move>,
    pub(super) sum: usize,
    pub(super) own: f64,
}

impl<'a> Region<'a> {
    /// `most` is what a cap costs at the most that is looked for.
    pub(super) fn new(choice: &'a Choice, widths: &'a Widths, most: f64, work: u64) -> Self {
        let by_runs = |limit| RunWidths::new(&choice.frame, widths, (MOST_RUNS, 0.0), limit).roots;
        // A narrow band first: few widths are near the target. What it does not reach costs more.
        let limit = (2.0 * widths.root + 0.02).min(most);
        let mut roots = by_runs(limit).map(|root| root.min(limit));
        if roots.last().is_none_or(|root| *root >= limit) {
            roots = by_runs(most).map(|root| root.min(most));
        }
        Self {
            choice,
            widths,
            roots,
            work: Cell::new(work),
            last: RefCell::new(None),
        }
    }

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

    /// What bounds caps of at most `runs` runs that cost no more than a limit.
    pub(super) fn pass(
        &self,
        set: &FlankSet<'_>,
        (runs, multiplier): (usize, f64),
        limit: f64,
    ) -> Rc<Pass> {
        let flanks = set.flanks.len();
        let serves = |pass: &Rc<Pass>| pass.serves((flanks, runs), multiplier, limit);
        if let Some(last) = self.last.borrow().as_ref().filter(|pass| serves(pass)) {
            return Rc::clone(last);
        }
        let certain: f64 = set.flanks.iter().map(Flank::certain).sum();
        let share = 1.0 / flanks as f64;
        let others = set.surcharge + certain + (1.0 - share) * self.widths.root;
        let most = (limit + ROUNDING - others) / share;
        let pass = Rc::new(Pass {
            flanks,
            runs,
            multiplier,
            limit,
            widths: RunWidths::new(&self.choice.frame, self.widths, (runs, multiplier), most),
        });
        *self.last.borrow_mut() = Some(Rc::clone(&pass));
        pass
    }

    /// The table of a flank whose priced cost is within a limit.
    pub(super) fn table(&self, steps: &Steps<'_>, costs: &Costs, pass: &Pass, limit: f64) -> Joint {
        let limits = Limits {
            widths: &pass.widths,
            edges: costs.before(),
            runs: pass.runs,
            limit,
        };
        let table = Joint::new(steps, &limits);
        self.add_work(table.entries());
        table
    }

    pub(super) fn add_work(&self, entries: u64) {
        self.work.set(self.work.get() + entries);
    }

    /// True when so much was looked at that what is left is given up without proof; never before a cap is
    /// known.
    pub(super) fn spent(&self, runs: usize, best: &Best) -> bool {
        self.work.get() > best.most_work && best.limit(runs).is_finite()
    }
}

impl Pass {
    /// True where it bounds caps below a limit well.
    fn serves(&self, (flanks, runs): (usize, usize), multiplier: f64, limit: f64) -> bool {
        let same = (self.flanks, self.runs) == (flanks, runs);
        let priced_so = (self.multiplier - multiplier).abs() < 1e-12;
        same && priced_so && limit <= self.limit && self.limit <= MUCH_WIDER * limit
    }

    /// What is to be added to priced costs.
    pub(super) fn constant(&self, set: &FlankSet<'_>) -> f64 {
        set.surcharge - self.multiplier * self.multiplier / (4.0 * WEIGHTS.area)
    }

    /// No flank of these plans costs less: its widths with the runs, its edges with any.
    pub(super) fn floor(&self, costs: &Costs, share: f64) -> f64 {
        share * self.widths.roots[self.runs - 1] + costs.before().least
    }
}

/// A band made for a limit that was so much higher is made anew.
const MUCH_WIDER: f64 = 1.2;

impl<'p, 'a> Side<'p, 'a> {
    pub(super) fn new(share: f64, mut standing: Vec<Standing<'p, 'a>>) -> Self {
        standing.sort_by(|a, b| a.bound.total_cmp(&b.bound));
        Self { share, standing }
    }

    /// No plan of this flank costs less.
    pub(super) fn least(&self) -> f64 {
        self.standing.first().map_or(f64::INFINITY, |one| one.bound)
    }

    /// Bounds all groups anew.
    pub(super) fn reset(&mut self, bound: impl Fn(&Group<'a>) -> f64) {
        let standing = self.standing.iter_mut();
        standing.for_each(|one| one.bound = bound(one.group));
        self.standing.sort_by(|a, b| a.bound.total_cmp(&b.bound));
    }

    /// Leaves out what costs more.
    pub(super) fn keep_below(&mut self, most: f64) {
        self.standing.retain(|one| one.bound <= most);
        self.standing.sort_by(|a, b| a.bound.total_cmp(&b.bound));
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

pub(super) fn lone_moves(moves: &[usize]) -> usize {
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
