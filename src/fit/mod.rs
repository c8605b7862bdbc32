//! The new cap: moves, pick-up plan, objective, exact solver, certificate, common-practice recipe.

mod best;
mod certificate;
mod codes;
mod few_runs;
mod flanks;
mod frames;
mod groups;
mod infeasible;
mod joint;
mod measures;
mod near;
mod objective;
mod pickup;
mod problem;
mod recipe;
mod region;
mod relax;
mod run_widths;
mod search;
mod solve;
mod sparse;
mod table;
mod together;
mod trade;
mod tube;
mod tube_rest;
mod tune;
mod widths;

use crate::plan;
pub use best::MOST_RUNS;
pub use certificate::certify;
pub use codes::CODES;
pub(crate) use frames::upper_arm_stitches;
pub use measures::{Measures, SideMeasures, edge_points_cm, measure};
pub(crate) use near::no_such_choice;
pub use near::{NEAR_TIE, NearTie, Simpler, near_ties};
pub use objective::{WEIGHTS, Weights};
pub use problem::{DEFAULT_GAP_LIMIT, Ease, LARGEST_GAP_LIMIT, Live, Problem, Wishes};
pub use recipe::recipe;

pub(crate) use together::no_same_runs;
pub use together::{Together, together};
pub use trade::{Fit, Status, TradePoint, fit, fit_within};
pub use tube::{Tube, cuff, tube};
pub use tube_rest::{Underway, tube_rest};
