//! The new cap: moves, pick-up plan, objective, exact solver, certificate, common-practice recipe.

mod certificate;
mod codes;
mod exact;
mod frames;
mod frontier;
mod infeasible;
mod measures;
mod near;
mod objective;
mod pickup;
mod problem;
mod recipe;
mod relax;
mod rest;
mod same_runs;
mod trade;
mod tube;
mod tube_rest;

use crate::plan;
pub use certificate::{certify, certify_rest};
pub use codes::CODES;
pub(crate) use codes::TOO_FEW_RUNS;
pub use exact::MOST_RUNS;
pub(crate) use frames::upper_arm_stitches;
pub(crate) use infeasible::is_no_cap;
pub use measures::{Measures, MoveMeasures, SideMeasures, Stretch, edge_points_cm, measure};
pub(crate) use near::no_such_choice;
pub use near::{NEAR_TIE, NearTie, Simpler, near_ties};
pub use objective::{MOST_EASE_CM, OPEN_REPEAT, WEIGHTS, Weights};
pub use pickup::{LEAST_OF_SECTION, MOST_SECTIONS};
pub use problem::{DEFAULT_GAP_LIMIT, Ease, FREE_GAP, Live, Problem, WANTED_EASE, Wishes, Worked};
pub use recipe::recipe;
pub(crate) use relax::has_cap;
pub(crate) use rest::waiting_by_zone;
pub use rest::{Begun, Correction, Turned, fit_rest, fit_rest_below};
pub(crate) use trade::looks_like;

pub(crate) use same_runs::no_same_runs;
pub use same_runs::{SameRunsFit, same_runs, same_runs_until};
pub use trade::{Fit, Status, TradePoint, Work, fit, fit_until, fit_within};
pub use tube::{Tube, cuff, tube};
pub use tube_rest::{Underway, tube_rest};
