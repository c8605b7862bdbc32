//! Findings: does the old cap fit its armhole, does the sleeve fit a body, is the result sound.
//!
//! Every rule says what it measures, its limits and their source in [`codes`]; [`all_codes`] is
//! the one table of all rooms that `explain` prints.

mod arm;
mod codes;
mod codes_so_far;
mod counted;
mod cure;
mod curve;
mod facts;
mod garment;
mod leaflet;
mod needles;
mod print;
mod rest;
mod size_set;
mod sleeve;
mod so_far;
mod so_far_tube;

pub use arm::{ArmShare, STRETCH, arm_findings, arm_share};
pub(crate) use codes::stopped;
pub use codes::{CODES, UnknownCode, all_codes, find_code, same_runs_jump};
pub use counted::{CountedArmhole, counted_findings, lines_as_counted};
pub use cure::{adapted_to, near_in_depth};
pub use curve::curve_findings;
pub use facts::{Garment, body_gauge_finding, gauge_findings};
pub use garment::garment_findings;
pub use leaflet::{draft, draft_of, draft_sized, prove_leaflet, refused_keys};
pub use needles::{needles_finding, needles_too_far, needles_too_late};
pub use rest::{
    Outcome, Tried, joined_finding, mend_finding, pick_up_finding, rest_finding, state_finding,
    tried_words,
};
pub use size_set::{SizeWidths, size_set_findings};
pub use sleeve::{SleeveFacts, is_cured, is_of_the_fit, sleeve_findings, tube_too_short};
pub use so_far::{
    CapState, CapWork, WorkGauge, cap_state_findings, impossible_measure, total_finding,
    work_gauge_finding,
};
pub use so_far_tube::{
    Carried, TubeLength, beside_finding, carried_finding, cuff_passed, too_long_finding,
};
