//! What a sentence says, once it is understood.

use crate::diagnostic::Span;
use crate::measure::Side;
use crate::plan::{Flank, Section};
use crate::stitch::Stitch;

/// A decrease of two stitches into one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decrease {
    Ssk,
    /// Two together through the back loops.
    K2togTbl,
    K2tog,
    Ssp,
    P2tog,
}

impl Decrease {
    /// True when the upper stitch leans to the left, seen from the RS (for a right-handed
    /// knitter; a left-handed knitter's mirror it, as everything else).
    /// Source: Craft Yarn Council, knitting abbreviations.
    pub(crate) fn leans_left(self) -> bool {
        matches!(self, Self::Ssk | Self::K2togTbl | Self::Ssp)
    }

    /// The side it is worked on.
    pub(crate) fn side(self) -> Side {
        match self {
            Self::Ssk | Self::K2togTbl | Self::K2tog => Side::Rs,
            Self::Ssp | Self::P2tog => Side::Ws,
        }
    }
}

/// How the row gets from its turned stitch to the place of the next turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RowTake {
    /// The wrapped (or double) stitch, then so many more.
    Turned { double: bool, more: u32 },
    /// The stitches wrapped together, as one, then so many more.
    Together {
        count: u32,
        decrease: Decrease,
        more: u32,
    },
    /// The turned stitch together with the one after it, then so many more.
    WithNext {
        double: bool,
        decrease: Decrease,
        more: u32,
    },
    /// The turned stitch together with the one before it.
    Neighbour {
        double: bool,
        before: u32,
        decrease: Decrease,
        count: u32,
    },
}

/// What is done at a turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum TurnHow {
    /// So many stitches are wrapped together.
    Wrap(u32),
    /// So many are worked, the last one becomes double.
    Double(u32),
    /// Nothing is wrapped: the row has reached the other flank at an underarm without a base.
    Plain,
    /// Two are worked together and become double.
    DoubleTogether(Decrease),
}

/// One side's rows of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct SideAction {
    pub(crate) take: RowTake,
    pub(crate) turn: TurnHow,
    /// The turn of the last pair, where it differs.
    pub(crate) last_turn: Option<TurnHow>,
}

/// Part of a pick-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum PickUpPart {
    /// Stitches over rows at rates `(stitches, rows, times)`.
    Along {
        stitches: u32,
        rows: u32,
        rates: Vec<(u32, u32, u32)>,
        /// The row that is left out, where it is said which.
        left_out: Option<RowLeftOut>,
    },
    /// Stitches one for one, or where no rows are given.
    Plain(u32),
    /// Stitches one for one where some lie in the seam: `8 of the 10, 2 lie in the seam`.
    Shown {
        stitches: u32,
        shown: u32,
        of: u32,
        lost: u32,
    },
    /// Stitches from a holder.
    Live(u32),
    /// Stitches in the shoulder seam, between the halves of the crown.
    Seam(u32),
    /// The half of the crown before the seam once more, its mirror image.
    Mirror,
    /// Place a marker.
    Marker,
    /// Words that move no stitch.
    Words,
}

/// From where the rows of a list are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CountedFrom {
    /// From where the pick-up starts.
    Start,
    /// From the live stitches.
    Live,
    /// From the crown down.
    Crown,
    /// From the shoulder seam down, on both sides.
    Seam,
}

/// A row of a stretch, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RowLeftOut {
    First,
    Last,
}

/// Something done in a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RoundOp {
    Knit(u32),
    KnitToLast(u32),
    Decrease(Decrease),
    Increase(u32),
}

/// What the first round does at a corner of the base.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CornerOp {
    /// So many stitches are made from the strands there.
    Make(u32),
    /// The strand is worked together with the next stitch, so that no hole is left.
    Close,
    /// So many times two stitches are worked together.
    Decrease(Decrease, u32),
}

/// A piece of the first round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum JoinOp {
    /// The round begins at the corner.
    Begin,
    /// To the next corner, or to so many stitches before it.
    ToCorner {
        before: u32,
        other: bool,
    },
    /// To the last stitches of the round, where there is no base.
    ToLast(u32),
    ToEnd,
    Corner(CornerOp),
    /// The same at both corners, all other stitches knitted.
    Each(CornerOp),
}

/// A chart's size and place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct ChartSaid {
    /// Its number; the ground's repeat has none.
    pub(crate) panel: Option<u32>,
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) first_stitch: u32,
    pub(crate) first_row: u32,
}

/// A row in pattern, in the order of the work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RowSaid {
    /// Nothing for the first round.
    pub(crate) number: Option<u32>,
    pub(crate) side: Side,
    pub(crate) of_ground: Option<u32>,
    pub(crate) of_panels: Vec<u32>,
    pub(crate) ends: Option<(u32, u32)>,
    /// How many stitches, where they are told by the charts alone: before the base, and on it.
    pub(crate) by_chart: Option<(u32, Option<BaseSaid>)>,
    pub(crate) stitches: Vec<Stitch>,
    /// Markers to slip, by the number of stitches before each.
    pub(crate) edges: Vec<u32>,
    pub(crate) new: u32,
}

/// The base stitches of a row that is told by the charts: the stitches of the repeat it begins and ends with there,
/// and how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct BaseSaid {
    pub(crate) ends: Option<(u32, u32)>,
    pub(crate) stitches: u32,
}

/// A sentence of the rows in pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum PatternSaid {
    Chart(ChartSaid),
    ChartRow {
        panel: Option<u32>,
        row: u32,
        stitches: Vec<Stitch>,
    },
    /// The crown stitches of a panel, first and last.
    PanelLies {
        panel: u32,
        first: u32,
        last: u32,
    },
    Row(RowSaid),
}

/// A sentence, understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    /// A heading or a remark.
    Words,
    /// Where the pick-up starts: rows before the shoulder seam or the live stitches.
    Start {
        rows: Option<u32>,
        on: Option<Flank>,
    },
    PickUp {
        section: Section,
        flank: Option<Flank>,
        parts: Vec<PickUpPart>,
    },
    FirstRow {
        number: u32,
        side: Side,
        /// Nothing for a row in pattern.
        knit: Option<bool>,
        stitches: u32,
        turn: TurnHow,
    },
    Step {
        label: String,
        times: u32,
        rs: SideAction,
        ws: SideAction,
        to_base: bool,
    },
    /// Where there is no base.
    JoinAtMarker,
    Join {
        double: bool,
        more: u32,
    },
    /// The round that closes the join; `turned` is the kind of the base stitch that is left.
    FirstRound {
        number: u32,
        ops: Vec<JoinOp>,
        turned: Option<bool>,
    },
    /// The rows a section is picked up in, one by one.
    RowList {
        section: Section,
        flank: Option<Flank>,
        counted: CountedFrom,
        rows: Vec<u32>,
        of: u32,
    },
    /// The rates when the armhole has a row more or fewer; none when there is no row for each.
    OneRowOff {
        more: bool,
        of: u32,
        parts: Vec<PickUpPart>,
    },
    /// Charts and rows in pattern.
    Pattern(PatternSaid),
    ShapeRound(Vec<RoundOp>),
    /// Rows of the cap that are worked already.
    SoFar {
        rows: u32,
    },
    /// Stitches put right among those that wait: how many are skipped before each place, and how many lie behind the last.
    PutRight {
        section: Section,
        flank: Option<Flank>,
        made: bool,
        skips: Vec<u32>,
        left: u32,
    },
    /// Rounds that are knitted already, so many of them shaped.
    Worked {
        rounds: u32,
        shaped: u32,
        /// Stitches more than that makes, or fewer.
        beside: i32,
    },
    Shape {
        every: u32,
        times: u32,
    },
    Even {
        rounds: u32,
    },
    /// A round that changes the count evenly.
    Adjust {
        rounds: u32,
        stitches: u32,
        fewer: bool,
    },
    /// Rounds in a stitch pattern of so many stitches.
    Cuff {
        rounds: u32,
        multiple: u32,
    },
}

/// A count stated in square brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Claim {
    Rows,
    Worked,
    WaitingEach,
    WaitingAt(Flank),
    Stitches,
    OnNeedle,
    TurnPairs,
    BaseBefore,
    BaseAfter,
    Rounds,
    Fewer,
    More,
}

/// A sentence with its counts and its place.
#[derive(Clone, Debug)]
pub(crate) struct Sentence {
    /// Nothing when it cannot be read.
    pub(crate) said: Option<Said>,
    /// Each count with its number and place; nothing when the brackets cannot be read.
    pub(crate) claims: Option<Vec<(Claim, u32, Span)>>,
    pub(crate) span: Span,
}
