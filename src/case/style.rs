//! How the pattern is worded: `[wording]` of a case.

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

/// Which way the knitter goes round.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// Stitches move from the left needle to the right one.
    #[default]
    Right,
    /// The mirror image.
    Left,
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
}

/// The stitch of a cuff.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CuffStitch {
    /// Knit 1, purl 1.
    #[default]
    Rib1,
    /// Knit 2, purl 2.
    Rib2,
    /// Garter stitch.
    Garter,
    /// Plain knitting, which rolls.
    Plain,
}

impl CuffStitch {
    /// Stitches of its repeat.
    pub const fn multiple(self) -> u32 {
        match self {
            Self::Rib1 => 2,
            Self::Rib2 => 4,
            Self::Garter | Self::Plain => 1,
        }
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
}
