//! What the run of one size found, and the sentence a knitter reads.

use crate::diagnostic::{Diagnostic, Level, Span};
use crate::measure::{Length, Side, Units};

use super::codes;

/// One thing found while the rows were worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct RowFinding {
    pub(super) kind: FindingKind,
    pub(super) span: Span,
    /// Rows worked before it.
    pub(super) row: u32,
}

/// Rows that do not belong to the outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LeftOut {
    Before,
    Saddle,
    /// Rows above the last shaping row of a sleeve.
    Straight {
        rows: u32,
    },
    OtherHalf,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum FindingKind {
    LeftOut {
        what: LeftOut,
    },
    /// The count given for the first row is not that of the lines.
    Start {
        given: u32,
        have: u32,
    },
    NoStart,
    /// Shaping told within so many rows takes more of them.
    Within {
        told: u32,
        worked: u32,
    },
    /// Two streams at once, each until a count that the other one changes.
    BothUntil,
    /// A row names more or fewer stitches than there are.
    RowStitches {
        told: u32,
        have: u32,
    },
    /// A bracket along the row does not come out.
    RowUneven {
        each: u32,
        have: u32,
    },
    NotCentre {
        centre: u32,
        before: u32,
        have: u32,
    },
    Spread {
        fewer: u32,
    },
    /// Rows that part or spread over the work cannot be worked again as they are.
    NotAgain,
    Divided {
        half: u32,
        body: bool,
    },
    Halves {
        first: u32,
        second: u32,
    },
    NotSaidToWait,
    NothingHeld,
    /// A neck edge of a piece that is whole.
    NoNeck,
    Count {
        stated: u32,
        have: u32,
    },
    /// Stitches that come or go: on the last row, and in all of the instruction.
    Change {
        stated: u32,
        row: u32,
        all: u32,
    },
    /// `(12 rows)` beside an instruction that takes more or fewer.
    Rows {
        stated: u32,
        worked: u32,
    },
    /// The side named beside a row is not the row's.
    RowSide {
        stated: Side,
        /// The row that follows is named, not the one before.
        next: bool,
    },
    Side {
        stated: Side,
        have: Side,
    },
    FirstSide {
        stated: Side,
    },
    TooManyRemoved {
        take: u32,
        have: u32,
    },
    Odd {
        target: u32,
        have: u32,
        step: u32,
    },
    OutOfReach {
        target: u32,
        have: u32,
        growing: bool,
    },
    NeedsRowGauge {
        length: Length,
    },
    MeasurePassed {
        wanted: Length,
    },
    FromBelow {
        length: Length,
        /// After a row that takes stitches away: the rows up to it are not known.
        late: bool,
    },
    LengthAsRows {
        length: Length,
        rows: u32,
        more: bool,
    },
    NothingToRepeat,
    /// A repeat of some of the plain rows before it and of nothing else.
    PartOfRows {
        rows: usize,
        of: usize,
    },
    /// Rows between two that are told by their numbers.
    RowsNotTold {
        first: u32,
        last: u32,
    },
    /// The first row of the lines has another number than 1.
    FirstNumber {
        number: u32,
    },
    /// A list of rows by their numbers that does not rise.
    RowsFall {
        before: u32,
        after: u32,
    },
    /// Bind-offs at both edges on one row and the next.
    BindsTooNear {
        row: u32,
        next: u32,
    },
    /// Rows without a number between two whose numbers follow one another.
    RowsBetween {
        before: u32,
        after: u32,
    },
    /// `These rows` without a number, after more than two.
    WhichRows,
    /// Worked every 0 rows, but more than no times.
    NoPace,
    /// The row named as the last is not where the rows end.
    EndRow,
    /// One armhole edge of a piece that has two.
    WhichEdge,
    NotWhole {
        value: f64,
    },
    PlainRow {
        side: Side,
    },
    AfterTheEnd,
    DecRow,
    NotClosed {
        have: u32,
    },
    TooLong,
    /// More steps than are carried out for one size.
    TooMuch,
    TooWide,
}

impl FindingKind {
    /// True for a finding after which the stitches or rows cannot be right.
    pub(super) fn spoils_count(self) -> bool {
        matches!(
            self,
            Self::Count { .. }
                | Self::Start { .. }
                | Self::NoStart
                | Self::Within { .. }
                | Self::Rows { .. }
                | Self::BothUntil
                | Self::RowStitches { .. }
                | Self::RowUneven { .. }
                | Self::NotCentre { .. }
                | Self::NotAgain
                | Self::Halves { .. }
                | Self::Change { .. }
                | Self::TooManyRemoved { .. }
                | Self::Odd { .. }
                | Self::OutOfReach { .. }
                | Self::NothingToRepeat
                | Self::PartOfRows { .. }
                | Self::RowsNotTold { .. }
                | Self::RowsFall { .. }
                | Self::BindsTooNear { .. }
                | Self::RowsBetween { .. }
                | Self::NoPace
                | Self::WhichRows
                | Self::EndRow
                | Self::NotWhole { .. }
                | Self::AfterTheEnd
                | Self::TooLong
                | Self::TooMuch
                | Self::TooWide
        )
    }
}

impl FindingKind {
    /// True when the side stated is not the side of the row.
    pub(super) fn is_side(self) -> bool {
        matches!(self, Self::Side { .. })
    }
}

impl RowFinding {
    /// The finding as a diagnostic, without its size.
    pub(super) fn diagnostic(self, units: Units) -> Diagnostic {
        let (code, message) = self.told(units);
        let found = Diagnostic::new(code, message).at(self.span);
        match self.kind {
            FindingKind::FirstSide { .. } => {
                found.next("Say which side the first row of the lines is on.")
            }
            FindingKind::RowSide { .. } | FindingKind::Side { .. } => {
                found.next("Look for a row too few or too many before it.")
            }
            FindingKind::Divided { body: false, .. }
            | FindingKind::FromBelow { late: true, .. } => found.level(Level::Error),
            _ => found,
        }
    }

    #[expect(clippy::too_many_lines, reason = "a table: one sentence a finding")]
    fn told(self, units: Units) -> (&'static crate::diagnostic::Code, String) {
        let row = self.row;
        match self.kind {
            FindingKind::LeftOut { what } => (
                &codes::LEFT_OUT,
                match what {
                    LeftOut::Before => "this lies before the first bind-off and is left out".to_owned(),
                    LeftOut::Saddle => "this comes after the cap and is taken for the saddle; it is left out".to_owned(),
                    LeftOut::Straight { rows } => format!(
                        "{rows} straight rows above the last shaping row are taken for the saddle and left out"
                    ),
                    LeftOut::OtherHalf => "this is the other half of the work; only one half is followed".to_owned(),
                },
            ),
            FindingKind::Start { given, have } => (
                &codes::STATED_COUNT,
                format!(
                    "{} are given for the first row, the lines themselves come to {have} before the first bind-off",
                    stitches(given)
                ),
            ),
            FindingKind::NoStart => (
                &codes::STARTING_COUNT,
                "no count is given for the first row, and the lines do not cast on".to_owned(),
            ),
            FindingKind::Within { told, worked } => (
                &codes::STATED_COUNT,
                format!("the text says {told} rows in all, their shaping takes {worked}"),
            ),
            FindingKind::BothUntil => (
                &codes::NOT_UNDERSTOOD,
                "two shapings at the same time, each until a count that the other changes, cannot be told apart"
                    .to_owned(),
            ),
            FindingKind::RowStitches { told, have } => (
                &codes::ROW_STITCHES,
                format!("the row tells {}, {have} are on the needle", stitches(told)),
            ),
            FindingKind::RowUneven { each, have } => (
                &codes::ROW_STITCHES,
                format!("{} are not a multiple of the {each} that each repeat along the row takes", stitches(have)),
            ),
            FindingKind::NotCentre { centre, before, have } => (
                &codes::ROW_STITCHES,
                format!(
                    "{centre} in the middle of {} do not leave as many on either side{}",
                    stitches(have),
                    if before > 0 { format!(": {before} come before them") } else { String::new() }
                ),
            ),
            FindingKind::Spread { fewer } => (
                &codes::SPREAD,
                format!("{} are decreased over the row; half of them are counted at each edge", stitches(fewer)),
            ),
            FindingKind::NotAgain => (
                &codes::ROW_STITCHES,
                "a row whose stitches depend on the count, or that parts the work, cannot be repeated as it is".to_owned(),
            ),
            FindingKind::Divided { half, body: true } => (
                &codes::DIVIDED,
                format!("the work is divided here; one half of {} is followed", stitches(half)),
            ),
            FindingKind::Divided { half, body: false } => (
                &codes::DIVIDED,
                format!("a sleeve is not divided, but this leaves {} to be worked", stitches(half)),
            ),
            FindingKind::Halves { first, second } => (
                &codes::STATED_COUNT,
                format!("one half has {}, the other {second}", stitches(first)),
            ),
            FindingKind::NotSaidToWait => (
                &codes::NOT_DIVIDED,
                "the work is turned before the end of the row, and it is not said what becomes of the rest".to_owned(),
            ),
            FindingKind::NothingHeld => (
                &codes::NOT_DIVIDED,
                "the other side is named, but nothing was divided off before".to_owned(),
            ),
            FindingKind::NoNeck => (
                &codes::NOT_DIVIDED,
                "a neck edge is named, but the piece is whole".to_owned(),
            ),
            FindingKind::Count { stated, have } => (
                &codes::STATED_COUNT,
                format!("the text says {}, the rows give {have}", stitches(stated)),
            ),
            FindingKind::Change { stated, row, all } => (
                &codes::STATED_COUNT,
                if row == all {
                    format!("the text says that the row changes {}, it changes {row}", stitches(stated))
                } else {
                    format!(
                        "the text says that {} come or go, the rows change {all}, the last of them {row}",
                        stitches(stated)
                    )
                },
            ),
            FindingKind::Rows { stated, worked } => (
                &codes::STATED_COUNT,
                format!("the text says {stated} {}, {worked} are worked", plural(stated)),
            ),
            FindingKind::RowSide { stated, next } => (
                &codes::STATED_SIDE,
                format!(
                    "this row is called {}, but by the rows before it row {} is not",
                    side_row(stated),
                    if next { row + 1 } else { row }
                ),
            ),
            FindingKind::Side { stated, have } => (
                &codes::STATED_SIDE,
                format!(
                    "the text ends on {}, but by its counts row {row} is {}",
                    side_row(stated),
                    side_row(have)
                ),
            ),
            FindingKind::FirstSide { stated } => (
                &codes::STATED_SIDE,
                format!(
                    "the first row is called {}, but the lines were said to start on the other side",
                    side_row(stated)
                ),
            ),
            FindingKind::TooManyRemoved { take, have } => (
                &codes::TOO_MANY_REMOVED,
                format!(
                    "row {} takes away {}, but only {have} are left",
                    row + 1,
                    stitches(take)
                ),
            ),
            FindingKind::Odd { target, have, step } => (
                &codes::ODD_REMAINDER,
                format!(
                    "from {have} to {} is {}, which is not a multiple of the {step} taken each time",
                    stitches(target),
                    have.abs_diff(target)
                ),
            ),
            FindingKind::OutOfReach {
                target,
                have,
                growing,
            } => (
                &codes::OUT_OF_REACH,
                format!(
                    "{} cannot be reached by {} from {have}",
                    stitches(target),
                    if growing { "increasing" } else { "decreasing" }
                ),
            ),
            FindingKind::NeedsRowGauge { length } => (
                &codes::NEEDS_ROW_GAUGE,
                format!(
                    "{} cannot be turned into rows without a row gauge",
                    units.show(length)
                ),
            ),
            FindingKind::MeasurePassed { wanted } => (
                &codes::MEASURE_PASSED,
                format!(
                    "the {row} rows worked are longer than {} already",
                    units.show(wanted)
                ),
            ),
            FindingKind::FromBelow { length, late } => (
                &codes::MEASURED_FROM_BELOW,
                if late {
                    format!(
                        "{} is measured from below these lines, so how many rows are worked up to it is not known",
                        units.show(length)
                    )
                } else {
                    format!(
                        "{} is measured from below these lines; it is taken as reached here",
                        units.show(length)
                    )
                },
            ),
            FindingKind::LengthAsRows { length, rows, more } => (
                &codes::LENGTH_AS_ROWS,
                format!(
                    "{} {} is worked as {rows} {}",
                    units.show(length),
                    if more {
                        "by the row gauge"
                    } else {
                        "from the first row"
                    },
                    if more { plural(rows) } else { "more rows" }
                ),
            ),
            FindingKind::NothingToRepeat => (
                &codes::NOTHING_TO_REPEAT,
                "the rows to repeat do not come before it".to_owned(),
            ),
            FindingKind::PartOfRows { rows, of } => (
                &codes::NOT_UNDERSTOOD,
                format!("the {rows} rows to repeat are some of the {of} plain rows before it, without any shaping"),
            ),
            FindingKind::FirstNumber { number } => (
                &codes::FIRST_NUMBER,
                format!("the lines begin with row {number}; it is taken as their first row"),
            ),
            FindingKind::RowsNotTold { first, last } => (
                &codes::NOT_UNDERSTOOD,
                if first == last {
                    format!("row {first} is not told; it is taken as a plain row")
                } else {
                    format!("rows {first} to {last} are not told; they are taken as plain rows")
                },
            ),
            FindingKind::BindsTooNear { row, next } => (
                &codes::NOT_UNDERSTOOD,
                format!("stitches are bound off where a row begins: at both edges that takes row {row} and the next, so row {next} is too near"),
            ),
            FindingKind::RowsBetween { before, after } => (
                &codes::NOT_UNDERSTOOD,
                format!("row {after} follows row {before}, but rows without a number are told between them"),
            ),
            FindingKind::WhichRows => (
                &codes::NOT_UNDERSTOOD,
                "it is not said how many rows are repeated, and not just two were told; they are taken as two".to_owned(),
            ),
            FindingKind::NoPace => (
                &codes::NOT_UNDERSTOOD,
                "every 0 rows, and yet so many times: one of the two numbers is wrong".to_owned(),
            ),
            FindingKind::RowsFall { before, after } => (
                &codes::NOT_UNDERSTOOD,
                if before == after {
                    format!("row {after} is named twice")
                } else {
                    format!("row {after} is named after row {before}; rows are worked in the order of their numbers")
                },
            ),
            FindingKind::EndRow => (
                &codes::NOT_UNDERSTOOD,
                "by their counts the rows before this do not end with the row that is named".to_owned(),
            ),
            FindingKind::WhichEdge => (
                &codes::NOT_DIVIDED,
                "one armhole edge is named, but stitches were bound off at both: it is not said which edge, or each"
                    .to_owned(),
            ),
            FindingKind::NotWhole { value } => (
                &codes::NOT_WHOLE,
                format!("{value} is not a whole number up to 100000"),
            ),
            FindingKind::PlainRow { side } => (
                &codes::PLAIN_ROW_ADDED,
                format!(
                    "a plain {side} row is worked as row {} to end on the side named",
                    row + 1
                ),
            ),
            FindingKind::DecRow => (
                &codes::DEC_ROW,
                "the lines do not tell the decrease row; one stitch at each end is taken"
                    .to_owned(),
            ),
            FindingKind::AfterTheEnd => (
                &codes::AFTER_THE_END,
                "this comes after the last stitch is bound off".to_owned(),
            ),
            FindingKind::NotClosed { have } => (
                &codes::NOT_CLOSED,
                format!("{} are left on the needle at the end", stitches(have)),
            ),
            FindingKind::TooWide => (
                &codes::TOO_LONG,
                format!(
                    "the lines increase to more than {} stitches",
                    super::limits::MAX_STITCHES
                ),
            ),
            FindingKind::TooMuch => (
                &codes::TOO_LONG,
                "the lines ask for more steps than are carried out; the rest of them is left out".to_owned(),
            ),
            FindingKind::TooLong => (
                &codes::TOO_LONG,
                format!(
                    "the lines ask for more than {} rows",
                    super::limits::MAX_ROWS
                ),
            ),
        }
    }
}

fn stitches(count: u32) -> String {
    format!("{count} {}", if count == 1 { "stitch" } else { "stitches" })
}

fn plural(rows: u32) -> &'static str {
    if rows == 1 { "row" } else { "rows" }
}

/// `an RS row`, `a WS row`.
fn side_row(side: Side) -> String {
    match side {
        Side::Rs => "an RS row".to_owned(),
        Side::Ws => "a WS row".to_owned(),
    }
}
