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

/// `[wording]` of a case.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Style {
    /// US or UK terms.
    pub terms: Terms,
    /// Wrap and turn, or German short rows.
    pub turn: Turn,
    /// Right- or left-handed.
    pub hand: Hand,
}
