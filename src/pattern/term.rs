//! The terms of the trade that the parser works with, and the lexeme that carries one.

use crate::diagnostic::Span;

/// What a word, a phrase or a mark means to the parser.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Term {
    // Marks.
    Open,
    Close,
    Comma,
    Colon,
    Semicolon,
    Stop,
    Dash,
    Slash,
    Star,
    Equals,
    // Numbers; their value stands beside the term.
    Number,
    Ordinal,
    Often,
    NoneOf,
    Cross,
    // What is done.
    BindOff,
    CastOn,
    Dec,
    Inc,
    Knit,
    Purl,
    Work,
    Rep,
    Slip,
    Hold,
    /// `double dec row`: the name of a row.
    Double,
    DecOp,
    IncOp,
    Together,
    // Where.
    Beginning,
    End,
    Side,
    Edge,
    Armhole,
    Neck,
    Stitch,
    Row,
    Ridge,
    // When.
    Next,
    Following,
    Every,
    Alternate,
    Alternately,
    All,
    Rs,
    Ws,
    Last,
    These,
    From,
    For,
    // How often and how far.
    Times,
    More,
    InAll,
    Until,
    Remaining,
    There,
    Measures,
    Inch,
    Cm,
    Mm,
    Even,
    /// The cap, measured from its first row.
    Piece,
    /// The whole work, measured from where it was begun.
    Garment,
    // Joints.
    And,
    Or,
    Then,
    With,
    Ending,
    Facing,
    SameTime,
    When,
    Size,
    Only,
    Reversing,
    As,
    Elsewhere,
    Done,
    /// A word of a size's label, or a size in general: `larger`, `medium`.
    Label,
    Larger,
    Smaller,
    Up,
    Except,
    /// Spread over the row: `across`, `evenly`, `all along`.
    Spread,
    Back,
    Turn,
    Centre,
    /// Each of two parts of the work by itself: `each side separately`.
    Apart,
    Divide,
    Rejoin,
    Saddle,
    Raglan,
    /// Headings: what is shaped from here on.
    ForNeck,
    ForShoulder,
    ForArmhole,
    // Carries no stitches, rows, sizes, sides or edges.
    Filler,
    Plain,
    /// How plain rows are worked: `in pattern`, `as set`. It changes no count, but rows of which nothing else is said are plain.
    InPattern,
    /// `in the same way`: changes nothing beside shaping, but rows of which nothing else is said are not plain.
    Likewise,
    /// `inside` a number of edge stitches.
    Inside,
    /// `before` the end of a row.
    Before,
    /// `in from edge`: where on the row a decrease lies; no matter of the count.
    Inset,
    ShortRow,
    /// Turns what is said into something else: `not`, `instead`, `without`.
    Not,
    // Not in the table.
    Unknown,
}

/// One word, phrase, number or mark of the text.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "how it stands in print, each by itself"
)]
pub(super) struct Lexeme {
    pub(super) term: Term,
    /// The number it carries, or 0.
    pub(super) value: f64,
    pub(super) span: Span,
    /// First word of a printed line that starts with a capital: a new instruction may start here.
    pub(super) starts_line: bool,
    /// Written with a capital.
    pub(super) capital: bool,
    /// No space before it.
    pub(super) joined: bool,
    /// `in pattern` or the like stands after it.
    pub(super) in_pattern: bool,
    /// `in the same way` stands after it.
    pub(super) likewise: bool,
}

impl Lexeme {
    /// The number as a whole count, when it is one.
    pub(super) fn count(self) -> Option<u32> {
        whole(self.value)
    }
}

/// A number of stitches, rows or times: whole, and no larger than the reader takes.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked to be whole and within limits"
)]
pub(super) fn whole(value: f64) -> Option<u32> {
    let fits = value.fract() == 0.0 && (0.0..=super::limits::MAX_NUMBER).contains(&value);
    fits.then_some(value as u32)
}
