//! What the lines say, as instructions: numbers kept apart, so that one can be changed and the
//! whole carried out again.

use crate::diagnostic::Span;
use crate::measure::{Length, Side};

/// One entry of a list of sizes: its number, or nothing for a size that skips the step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SizeEntry {
    pub(super) value: Option<f64>,
    pub(super) span: Span,
    /// Written as a word: `twice`, `four`.
    pub(super) often: bool,
}

/// A number of the text: one for all sizes, or one per size.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Amount {
    pub(super) entries: Vec<SizeEntry>,
    pub(super) span: Span,
}

impl Amount {
    /// The number for the size at this place; `None` where the size skips the step.
    pub(super) fn of(&self, size: usize) -> Option<f64> {
        match self.entries.as_slice() {
            [one] => one.value,
            list => list.get(size).or(list.last()).and_then(|entry| entry.value),
        }
    }
}

/// A number of the text by its place in [`Program::amounts`], or one that goes without saying.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Num {
    Given(usize),
    Fixed(u32),
}

/// A word that two knitters may read in two ways, by its place in [`Program::choices`].
pub(super) type ChoiceId = usize;

/// A wording with two readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Doubt {
    /// `next and every alternate row n times`: n in all, or n after the next.
    NextAndEvery,
    /// `repeat the last 2 rows n times`: n further, or n in all.
    Repeat,
    /// `every 4th row` after a bind-off: from the next row, or 4 rows after it.
    FirstDecrease,
    /// A bind-off after spaced decreases: at once, or after one more plain row.
    TrailingRow,
    /// `at the beginning of the next 2 rows twice`: four rows, or two.
    RowsTwice,
    /// `2 x 1` without a word: stitches x times, or times x stitches.
    Cross,
    /// `rows 3, 5, 9`: counted from here, or from the first row of the lines.
    RowList,
    /// `dec 1 st every row` without an edge: at each end, or at one.
    Edge,
}

/// A place in the text where a [`Doubt`] arises, and whether the second reading is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct DoubtTaken {
    pub(super) doubt: Doubt,
    pub(super) span: Span,
    pub(super) second: bool,
}

/// Where on the row stitches go or come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowPlace {
    Beginning,
    End,
    EachEnd,
    /// The edge where the first one-edge shaping of the lines lies.
    Armhole,
    /// The other edge.
    Neck,
    /// No edge is named.
    Unnamed,
    /// Over the whole row.
    Spread,
}

/// What is done to the stitches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verb {
    BindOff,
    CastOn,
    Dec,
    Inc,
    /// The last shaping row once more.
    Again,
}

/// How far apart the shaping rows are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Pace {
    /// Every row, starting with the next.
    EveryRow,
    /// Every so many rows.
    Rows(Num),
    /// Two distances by turns: `every 2nd and 4th row alternately`.
    Turns(Num, Num),
    /// Every so-many-th row of this side.
    OfSide(Side, Num),
    /// Every so many garter ridges of two rows.
    Ridges(Num),
    /// Every so many centimetres or inches; the factor turns the number into a length.
    Length(Num, Length),
    /// The rows of a list.
    At(usize),
}

/// How far it goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Extent {
    /// So many times.
    Times(Num),
    /// Until so many stitches are left (or reached).
    Until(Num),
    /// Over so many rows.
    Rows(Num),
    /// Until the piece measures so much.
    Measure(Num, Length),
    /// To the end of the rows it is told within: `work 12 rows, decreasing ...`.
    Rest,
}

/// Whether a number of times counts the `next row` named before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joined {
    No,
    Yes,
    Open(ChoiceId),
}

/// One stretch of shaping with one pace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ShapedPart {
    pub(super) verb: Verb,
    pub(super) by: Num,
    pub(super) place: RowPlace,
    pub(super) pace: Pace,
    pub(super) extent: Extent,
    /// `more` stands beside the number of times.
    pub(super) more: bool,
    /// The whole stretch so many times over: `next 2 rows twice`.
    pub(super) repeats: Num,
    /// Whether the number of times counts the `next row` before it.
    pub(super) joined: Joined,
    /// Where the first row lies, where that is open.
    pub(super) first: ChoiceId,
    /// How often to read `2 rows twice`, or which edge where none is named.
    pub(super) other: ChoiceId,
    pub(super) span: Span,
}

/// What is repeated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Repeated {
    LastRows(Num),
    /// `these rows`, without a number: two of them, where no more were told.
    TheseRows,
    /// Rows by the numbers they were given.
    Labels(u32, u32),
    /// From the mark `*` before.
    FromStar,
    /// Between the last two marks `**`.
    Marked,
    /// Nothing is named: everything since the sentence began.
    Sentence,
}

/// One step along a row that is told stitch by stitch.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Along {
    /// So many stitches worked as they come.
    Work(Num),
    /// All but so many.
    ToLast(Num),
    ToEnd,
    /// Until so many are on the right-hand needle.
    UntilOn(Num),
    /// Works so many stitches as fewer (or more).
    Op {
        takes: u32,
        lose: u32,
        gain: u32,
    },
    BindOff(Num),
    /// The stitches in the middle leave the work, bound off or on a holder.
    Centre(Num),
    /// Shaping named by its edge: `dec 1 st at the end`.
    Edge {
        dec: bool,
        start: u32,
        end: u32,
    },
    Group {
        along: Vec<Along>,
        extent: Reach,
    },
    /// The work is turned; what is left of the row waits.
    Turn,
}

/// How far a bracket along the row goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reach {
    Times(Num),
    ToLast(Num),
    ToEnd,
}

/// A row told stitch by stitch.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct RowBody {
    pub(super) along: Vec<Along>,
    /// The last shaping row once more.
    pub(super) again: bool,
    /// Binds off all that is left.
    pub(super) close: bool,
}

/// The name of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Label {
    /// `Row 3`, `Rows 3 to 6`.
    Numbered(u32, u32),
    /// `Next row`, `Next 4 rows`.
    Next(Num),
    /// `Row 2 and every alternate row`.
    AndEvery(u32),
    /// One of `Rows 1 and 3`, until all rows are put in the order of their numbers.
    Listed(u32),
}

/// From when on a second stream of shaping goes beside the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum When {
    /// So many stitches are left.
    Count(Num),
    /// The piece measures so much.
    Measures(Num, Length),
}

/// One instruction.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Action {
    Shape(ShapedPart),
    /// Plain rows.
    Even(Num),
    /// Plain rows over a length, further on or until the whole measures it.
    EvenLength {
        number: Num,
        unit: Length,
        more: bool,
        whole_work: bool,
    },
    Row {
        label: Label,
        side: Option<Side>,
        body: RowBody,
    },
    Repeat {
        what: Repeated,
        extent: Extent,
        more: bool,
        in_all: bool,
        choice: ChoiceId,
    },
    /// Instructions in brackets, so many times in all.
    Group {
        steps: Vec<Instruction>,
        extent: Extent,
    },
    /// Binds off all that is left; says how many when a number stands there.
    Close(Option<Num>),
    /// The same on a holder: the end of the piece, or what waits after a turn.
    Hold(Option<Num>),
    /// The work is divided in two: `work each side separately`.
    Divide {
        both_at_once: bool,
    },
    /// So many rows in all, with shaping on some of them.
    Within {
        rows: Num,
        steps: Vec<Instruction>,
    },
    /// `cast on 90 sts`: the work begins.
    Begin(Num),
    /// What follows is a saddle.
    Saddle,
    /// `complete other side to match`: nothing new.
    OtherSide {
        rejoined: bool,
    },
    /// `(51 sts)`: a check point.
    Count(Num),
    /// `(2 sts decreased)`.
    Change(Num),
    /// The last row worked was of this side.
    Ended(Side),
    /// `(WS)` beside a row: no row is worked to come there.
    OfSide {
        side: Side,
        /// The row that follows is meant.
        next: bool,
    },
    /// `next RS row`: on the side named, after a plain row where the next one is of the other.
    Reach(Side),
    /// `(12 rows)`: so many are worked.
    Rows(Num),
    /// `Rows 3-6:` before a repeat: it works so many.
    RowsNamed(u32),
    /// The last row worked was row `n`, or one that shapes: `ending with row 2`, `ending with a dec row`.
    EndedRow(Option<u32>),
    Star,
    /// `**`, which opens or closes a run of rows that has a name.
    Mark,
    /// `at the same time`: goes with the instruction before it, from where it starts or from where
    /// a condition first holds.
    Together {
        steps: Vec<Instruction>,
        when: Option<When>,
    },
}

/// An instruction, its words and the sizes it is for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Instruction {
    pub(super) action: Action,
    pub(super) span: Span,
    /// One bit per size.
    pub(super) sizes: u64,
}

/// Rows by their numbers.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RowList {
    pub(super) rows: Vec<Num>,
    /// Counted from the first row of the lines, not from here.
    pub(super) absolute: bool,
}

/// All the lines say.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Program {
    pub(super) steps: Vec<Instruction>,
    pub(super) amounts: Vec<Amount>,
    pub(super) choices: Vec<DoubtTaken>,
    /// Lists of row numbers, for [`Pace::At`].
    pub(super) lists: Vec<RowList>,
}

impl Program {
    /// The number for one size.
    pub(super) fn number(&self, num: Num, size: usize) -> Option<f64> {
        match num {
            Num::Fixed(n) => Some(f64::from(n)),
            Num::Given(id) => self.amounts.get(id).and_then(|amount| amount.of(size)),
        }
    }

    /// The place of a number in the text.
    pub(super) fn span(&self, num: Num) -> Option<Span> {
        match num {
            Num::Fixed(_) => None,
            Num::Given(id) => self.amounts.get(id).map(|amount| amount.span),
        }
    }

    /// True when the second reading is taken.
    pub(super) fn second(&self, choice: ChoiceId) -> bool {
        self.choices.get(choice).is_some_and(|c| c.second)
    }
}

impl RowBody {
    /// True for a row on which nothing is shaped.
    pub(super) fn is_plain(&self) -> bool {
        !self.again && !self.close && !shapes(&self.along)
    }
}

/// True when some step of the row takes or adds stitches.
pub(super) fn shapes(along: &[Along]) -> bool {
    along.iter().any(|a| match a {
        Along::Op { .. } | Along::Edge { .. } | Along::BindOff(_) | Along::Centre(_) => true,
        Along::Group { along, .. } => shapes(along),
        _ => false,
    })
}
