//! The exact search: the best cap for every number of runs.
//!
//! # Notation
//!
//! A *frame* fixes turn pairs `T`, crown and base. Both flanks make the same moves `m_2 .. m_T`; each is picked up
//! along its own armhole. `w_t` is the half width after pair `t`, `e_t` the cap's edge of a move, `a_t` the
//! armhole between its first and its last stitch, `L` the whole flank, `c` the cap edge wanted for a
//! centimetre of it.
//!
//! # The ladder of bounds
//!
//! 1. **Pick-ups let go.** `sum (e_t - c a_t)^2 / a_t = sum e_t^2 / a_t - 2 c sum e_t + c^2 L`. If every move may
//!    have any `a_t` between its closest and its widest pick-up, with the sum `L` enforced by a multiplier
//!    `p >= 0` only, then each kind of move costs at least `min_a (e^2 / a + p a) - 2 c e`: a constant. Best is
//!    `a = e / sqrt(p)`, a stretch in proportion to the edge; so `p = (sum e / L)^2` of the old outline is nearly
//!    the best multiplier (weak duality holds for any).
//! 2. **Area and ease by tangents.** `x^2 >= 2 z x - z^2` for the relative area error `x` and any `z`; the right
//!    side adds up over the pairs. `z` is the error of the answer itself where the bound is best. The same for the
//!    ease of the whole armhole.
//! 3. **A table** (`table.rs`) then holds the exact cost to go of what is left, by pair, stitches added, decreases
//!    still needed, kind of the last move and runs that may still begin.
//! 4. **Best first** (`search.rs`): beginnings are taken up in the order of cost so far + cost to go (P. Hart,
//!    N. Nilsson, B. Raphael, 1968); a whole sequence gets its best pick-up (`sections.rs`: only those sections are
//!    shared out whose cost with parts of rows is low enough) and its true cost. When
//!    the least bound is no better than the best cap known, that cap is proven; when the work is spent before, the
//!    least bound left is what a better cap would cost at the least. Alone it proves little: what it lets go is a
//!    tenth to a third of what a cap costs. Its use is to find first caps and to leave most frames out.
//! 5. **Sections as stages** (`staged/`): a second table in which a move has the rate of its section, for each number
//!    of runs from three up, and for the number that is chosen until it is proven. Moves through which no cap below the
//!    limit leads by the table of 3 have no entry in it: nine in ten of all.
//!
//! # By hand
//!
//! Five pairs, crown 4, one stitch 0.5 cm, a pair 0.8 cm high, flanks of 6 stitches on 9 rows of 0.4 cm. The moves
//! 1/0 and 2/0 have the edges 0.94 and 1.28 cm. For 2/0, 2/0, 1/0, 1/0 the edges are 4.44 cm for 3.6 cm of armhole, so
//! `p = 1.52` and the best stretches are 1.04 and 0.76 cm: 2.6 and 1.9 rows, 5.2 + 3.8 = 9 in all. The pick-up 4 sts
//! over 5 rows, 2 over 4, has stretches of 1.0 and 0.8: the relaxation is right to a row.
//!
//! # What is not looked at
//!
//! Flanks with different moves. Two lists cost [`super::WEIGHTS`]`.unlike`, as much as a strain of 5 % everywhere;
//! edges of front and back would have to differ by about a tenth before that pays.

mod best;
mod frame;
mod search;
mod sections;
mod staged;
mod table;

pub(super) use best::FoundCap;
pub(super) use best::{Aim, Best, GIVE_UP};
pub use table::MOST_RUNS;

use super::frames::{choices, turn_pair_counts};
use super::problem::Problem;
use crate::plan::{CapPlan, FlankPlan, Move};
use frame::{Frame, Tangents};
use search::{FrameSearch, few_runs};
use sections::PickedFlank;
use table::{CostTable, ENTRIES_A_NODE, Through};

/// The share of the work for each number of runs that caps seldom have. Measured on 60 random caps: an equal share takes
/// half as long again and their means are the same to a fiftieth.
const SELDOM: u64 = 6;

/// How often a better tangent is looked for.
const TANGENTS: usize = 4;

/// The frames of a problem, the most promising first.
#[derive(Debug)]
pub(super) struct Frames<'a> {
    frames: Vec<ReadyFrame<'a>>,
}

#[derive(Debug)]
struct ReadyFrame<'a> {
    frame: Frame<'a>,
    flanks: Vec<PickedFlank<'a>>,
    /// What any of its caps costs at the least.
    least: f64,
    rungs: Option<Rungs>,
    /// Where the tangents were last right.
    touches: Tangents,
}

/// What a frame's caps cost at the least by the cheaper tables.
#[derive(Debug)]
struct Rungs {
    /// By the most runs.
    roots: Vec<f64>,
    /// With sections as stages, whatever the runs.
    any: f64,
    /// Caps that cost more than this were left out.
    limit: f64,
    /// The cheaper table.
    through: Through,
}

impl Rungs {
    fn least(&self, runs: usize) -> f64 {
        let root = self.roots.get(runs).copied().unwrap_or(f64::NEG_INFINITY);
        root.max(self.any).min(self.limit)
    }
}

/// The moves of a search.
#[derive(Clone, Copy, Debug)]
pub(super) enum Moves<'m> {
    /// Those the problem allows, in any order.
    Allowed,
    /// These runs, one after the other, each of one move at the least.
    Chain(&'m [Move]),
}

impl<'a> Frames<'a> {
    pub(super) fn of(problem: &Problem<'a>, moves: Moves<'_>) -> Self {
        let counts = turn_pair_counts(problem).into_iter();
        let choices = counts.flat_map(|pairs| choices(problem, pairs));
        let frames = choices.filter_map(|choice| {
            let (list, chain) = match moves {
                Moves::Allowed => {
                    let targets = problem.targets_cm(choice.turn_pairs);
                    (problem.allowed_moves(&targets), false)
                }
                Moves::Chain(list) if list.len() < choice.turn_pairs as usize => {
                    (list.to_vec(), true)
                }
                Moves::Chain(_) => return None,
            };
            let frame = Frame::new(problem, choice, &list, chain)?;
            let least = frame.least();
            least.is_finite().then(|| ReadyFrame {
                flanks: PickedFlank::all(&frame),
                touches: Tangents {
                    range: frame.range,
                    ..Tangents::default()
                },
                frame,
                least,
                rungs: None,
            })
        });
        let mut frames: Vec<ReadyFrame<'a>> = frames.collect();
        frames.sort_by(|a, b| a.least.total_cmp(&b.least));
        Self { frames }
    }

    /// Looks once more for every cap of three runs, of four, and so on: by now good ones of fewer are known. What
    /// caps seldom have gets a share of the work.
    pub(super) fn improve(&mut self, most_work: u64, best: &mut Best) {
        for runs in best::FEW + 1..=MOST_RUNS {
            let usual = runs <= best::FIRST_RUNS;
            let most_work = if usual { most_work } else { most_work / SELDOM };
            self.prove(runs, most_work, best);
        }
    }

    /// Looks with the dearest bound for every cap with at most so many runs that is better than the best known: when the
    /// work suffices there is none left.
    pub(super) fn prove(&mut self, runs: usize, most_work: u64, best: &mut Best) {
        if best.unproven(runs) + best::ROUNDING >= best.limit(runs) {
            return;
        }
        best.begin_proof(most_work);
        let mut left = f64::INFINITY;
        for ready in &mut self.frames {
            left = left.min(ready.prove(runs, best));
        }
        best.left_by_proof(runs, left);
    }

    /// Looks through all frames for what is wanted.
    pub(super) fn search(&mut self, best: &mut Best) {
        if best.wants_few_runs() {
            for ready in &self.frames {
                few_runs(&ready.frame, &ready.flanks, ready.least, best);
            }
        }
        while let Some(runs) = best.next_runs() {
            for ready in &mut self.frames {
                ready.search(runs, best);
            }
        }
    }
}

impl ReadyFrame<'_> {
    fn search(&mut self, runs: usize, best: &mut Best) {
        let limit = best.limit(runs);
        if self.least >= limit {
            return;
        }
        if best.is_spent(runs) {
            best.left_unproven(runs, self.least);
            return;
        }
        let table = self.tuned(runs, limit, best);
        let bound = table.root(&self.frame, runs);
        if bound >= limit {
            return;
        }
        let search = FrameSearch {
            frame: &self.frame,
            flanks: &self.flanks,
            table: &table,
        };
        search.run(runs, best);
    }

    /// What the frame's caps with so many runs that were not looked at cost at the least; infinite when all were.
    fn prove(&mut self, runs: usize, best: &mut Best) -> f64 {
        let limit = best.limit(runs);
        let known = self
            .rungs
            .as_ref()
            .map_or(self.least, |rungs| rungs.least(runs));
        if known >= limit {
            return f64::INFINITY;
        }
        if best.is_out_of_proof() {
            return known;
        }
        let rungs = self.rungs.take().filter(|rungs| limit <= rungs.limit);
        let rungs = rungs.unwrap_or_else(|| self.rungs(runs, best));
        let known = rungs.least(runs);
        let left = if known >= limit {
            f64::INFINITY
        } else {
            let through = &rungs.through;
            staged::prove(&self.frame, &self.flanks, (runs, through), best).max(known)
        };
        self.rungs = Some(rungs);
        left
    }

    /// The bounds of the cheaper tables, made once.
    fn rungs(&mut self, runs: usize, best: &mut Best) -> Rungs {
        // The fewer runs, the higher the limit: what holds for the fewest asked for holds for all.
        let limit = best.limit(runs.min(best::FEW + 1));
        let table = self.tuned(MOST_RUNS, limit, best);
        let roots = (0..=MOST_RUNS).map(|runs| table.root(&self.frame, runs));
        let roots = roots.collect();
        let through = Through::new(&self.frame, table);
        let any = staged::least(&self.frame, &self.flanks, &through, limit, best);
        Rungs {
            roots,
            any,
            limit,
            through,
        }
    }

    /// The table whose tangents touch at the area and the ease of its own best moves, as nearly as pays.
    fn tuned(&mut self, runs: usize, limit: f64, best: &mut Best) -> CostTable {
        let new = |touches: Tangents, best: &mut Best| {
            let table = CostTable::new(&self.frame, touches, limit);
            best.works(table.entries() / ENTRIES_A_NODE);
            table
        };
        let mut table = new(self.touches, best);
        let mut step = 1.0;
        for _ in 0..TANGENTS {
            let root = table.root(&self.frame, runs);
            let measured = table.measured(&self.frame, runs).filter(|_| root < limit);
            let Some(measured) = measured else {
                break;
            };
            let touches = table.touches.towards(measured, step);
            if touches.is_near(table.touches) {
                break;
            }
            let other = new(touches, best);
            if other.root(&self.frame, runs) > root {
                table = other;
            } else {
                step *= 0.4;
            }
        }
        self.touches = table.touches;
        table
    }
}

impl FoundCap {
    /// The cap as a plan: both flanks make the same moves.
    pub(super) fn plan(&self) -> CapPlan {
        let flank = |i: usize| FlankPlan {
            moves: self.moves.clone(),
            zones: self
                .picked
                .get(i)
                .or(self.picked.first())
                .map_or_else(Vec::new, |picked| picked.zones.clone()),
        };
        CapPlan {
            crown: self.crown,
            base_front: self.base.0,
            base_back: self.base.1,
            front: flank(0),
            back: flank(1),
            join_change: self.join_change,
        }
    }
}
