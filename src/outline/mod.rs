//! Ledger + gauge -> outline: widths, exact area, edges and depth of a cap, and the edge of an
//! armhole.
//!
//! Coordinates (net of seams): `x` from the centre line of the sleeve, `y` downward from the top
//! bind-off; `y = 0` at the top, `y = depth` at the underarm line.

mod armhole;
mod armhole_counts;
mod armhole_lines;
mod cap;
mod cap_curve;
mod codes;
mod ease;
mod monotone;
mod polyline;

pub use armhole::{ArmholeEdge, armhole_from_measures};
pub use armhole_counts::{ArmholeCounts, armhole_from_counts, armhole_from_counts_and_tape};
pub use armhole_lines::{armhole_from_ledger, armhole_from_ledger_as_counted};
pub(crate) use cap::worked_from_the_top;
pub use cap::{Cap, Seam};
pub use cap_curve::{CapCurve, Jump, RowDeviation};
pub use codes::CODES;
pub use ease::{CapEdge, EaseBand, MOST_EASE_IN_ALL, MOST_EASE_OF_A_SIDE, ease_strip};
pub use monotone::Monotone;
pub use polyline::polyline_length;
