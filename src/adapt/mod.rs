//! Another arm, another armhole, or no old cap at all: the outline that meets the wishes.
//!
//! [`adapt`] stretches the old cap's outline (or that of a tube cut slantwise) between the new ends,
//! takes the depth at which its edge meets the armhole, bends it as little as can be
//! ([`Reference::nearest`]) and writes it in whole stitches and rows. The result is a ledger and a
//! [`crate::outline::Cap`] like any other.

mod codes;
mod infeasible;
mod lattice;
mod least;
mod problem;
mod rules;
mod set;
mod shape;
mod solve;

pub use codes::CODES;
pub(crate) use codes::{ARM_STRETCHED, BODY_UNKNOWN, DEPTH_RULE, SIZES_EVENED};
pub use least::{MOST_ENLARGED, Nearest, Reference, SLOPE};
pub use problem::{
    CapCounts, DEPTH_SHARE, EdgeEase, Keep, OldCap, Opening, OutlineProblem, OutlineWishes,
    usual_top,
};
pub use rules::{
    cap_depth_by_chest, cap_depth_by_cylinder, cap_depth_by_top, cap_depth_by_top_and_chest,
    cap_depths, chest_allowance,
};
pub use set::{alike, in_order};
pub use shape::{Ends, Shape, cut_depth, cut_edge};
pub use solve::{Adapted, OutlineStatus, adapt, proposed_rows};
