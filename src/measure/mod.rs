//! Lengths, counts and gauges: the types every other room speaks.
//!
//! Lengths are centimetres inside; inches exist only where text comes in or goes out
//! ([`Units`]). Stitches and rows are whole numbers of types of their own, so that they cannot be
//! mixed up with one another or with a length.

mod bounds;
mod count;
mod gauge;
mod length;
pub mod limits;
mod signed;
mod sizes;
mod stop;
mod typed;

pub use bounds::{ALL_BOUNDS, Bound, OutOfBounds};
pub use bounds::{
    ARM_EASE, ARM_EASE_PCT, ARMHOLE_DEPTH, ARMHOLE_EDGE, ARMHOLE_ROWS, BASE_TOLERANCE, BUST,
    CAP_DEPTH, CHOICE, CUFF_LENGTH, CUFF_STITCHES, DIVISION, EDGE_EASE, EDGE_EASE_PCT,
    EDGE_STITCHES, GAP_LIMIT, LIVE_STITCHES, PICKED_UP_ROW, REPEAT, RUNS, SEAM_ROWS, SEAM_STITCHES,
    SHOULDER_STITCHES, SLEEVE_LENGTH, TOP_WIDTH, UNDERARM, UNDERARM_STITCHES,
};
pub use bounds::{CAP_ROWS, DEPTH_SO_FAR, PICKED_UP, TUBE_ROUNDS, WAITING};
pub use bounds::{CHART_PLACE, FROM_CENTRE, MATCH_AT, STRIPE_ROW, STRIPE_ROWS};
pub use bounds::{
    COUNT_SPAN, ROWS_PER_10CM, STITCH_COUNT, STITCHES_PER_10CM, SWATCH_OVER, UPPER_ARM_WIDTH,
};
pub use count::{Rows, Side, Stitches, nearest_whole, whole};
pub use gauge::{Gauge, GaugeChange, Interval};
pub use length::{CM_PER_INCH, Length, Units};
pub(crate) use signed::{signed, signed_count, signed_pct, signed_to};
pub(crate) use sizes::told_twice;
pub use sizes::{SizeListError, parse_size_list};
pub use stop::Stop;
pub use typed::typed_length;
