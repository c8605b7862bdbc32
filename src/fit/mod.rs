//! The new cap: moves, pick-up plan, objective, exact solver, certificate, common-practice recipe.

mod plan;
mod tube;

pub use plan::{CapPlan, Crown, FlankPlan, Move, Zone};
pub use tube::{TubePlan, even_intervals};
