//! How the pattern is worded: `[wording]` of a case.

use crate::measure::Stitches;
use crate::plan::Hand;

/// Whose words are used.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Terms {
    /// Bind off, stockinette, gauge.
    #[default]
    Us,
    /// Cast off, stocking stitch, tension.
    Uk,
}

/// How a short row is turned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turn {
    /// Wrap and turn: the next stitch is wrapped and stays unworked.
    #[default]
    Wrap,
    /// German short row: the next stitch is worked, then turned into a double stitch.
    German,
}

/// How two stitches are decreased where a row turns.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TurnDecrease {
    /// The two are turned on together and worked as one later.
    #[default]
    Together,
    /// One is turned on; the next row of that side works it together with the stitch after it.
    Next,
}

/// What waits at the underarm of the body.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Underarm {
    /// Bound-off stitches.
    #[default]
    BoundOff,
    /// Live stitches on a holder.
    Live,
    /// Stitches cast on there, in a body worked from the top.
    CastOn,
}

/// How the body was made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BodyMade {
    /// In pieces, sewn together at the sides.
    #[default]
    Pieces,
    /// In the round up to the underarm: no side seam.
    Round,
    /// In the round to the shoulder; the armholes are cut along a steek.
    Steeked,
}

impl BodyMade {
    /// True where no stitch is lost in a side seam.
    pub const fn is_seamless(self) -> bool {
        matches!(self, Self::Round | Self::Steeked)
    }
}

/// `[wording]` of a case.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Style {
    /// US or UK terms.
    pub terms: Terms,
    /// Wrap and turn, or German short rows.
    pub turn: Turn,
    /// Right- or left-handed.
    pub hand: Hand,
    /// Decreases at a turn.
    pub decrease: TurnDecrease,
    /// What the base is picked up from.
    pub underarm: Underarm,
    /// How the body was made.
    pub body: BodyMade,
    /// Stitches of the underarm that lie in the seam, front and back together, where they were counted;
    /// of one size.
    pub in_seam: Stitches,
    /// Stitches bound off in steps above the underarm, front and back together; of one size.
    pub stepped: Stitches,
    /// True where every row is told in pattern as well.
    pub in_pattern: bool,
}
