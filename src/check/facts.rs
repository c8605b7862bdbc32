//! What is judged: the old garment in one size.

use crate::body::{Arm, Counterpart};
use crate::measure::{Length, Units};
use crate::outline::{ArmholeEdge, Cap};
use crate::pattern::Ledger;

/// What is known of the old garment in one size.
#[derive(Clone, Copy, Debug)]
pub struct Garment<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The old cap.
    pub cap: &'a Cap,
    /// Its rows.
    pub ledger: &'a Ledger,
    /// The front armhole.
    pub front: &'a ArmholeEdge,
    /// The back armhole.
    pub back: &'a ArmholeEdge,
    /// Width of the stitches that wait at the shoulder (a saddle's), which the cap's top meets.
    pub saddle: Length,
    /// Bust or chest of the people it is for.
    pub bust: Option<Length>,
    /// The arms of the people it is for.
    pub arm: Option<&'a Arm>,
    /// True when the case adapts its cap already: it is then not told to.
    pub adapts: bool,
    /// What the surveys hold that comes near an armhole.
    pub counterparts: &'a [Counterpart],
}

/// The mean of front and back, up to the middle of the shoulder: half of a saddle lies on each side of
/// it, above the armhole's own rows.
pub(super) fn armhole_depth_of(garment: &Garment<'_>) -> Length {
    (garment.front.depth() + garment.back.depth() + garment.saddle) / 2.0
}
