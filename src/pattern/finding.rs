//! What the run of one size found, and the sentence a knitter reads.

use crate::diagnostic::{Diagnostic, Level, Span};
use crate::measure::{Length, Side, Units};

use super::codes;

/// One thing found while the rows were worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Finding {
    pub(super) kind: Kind,
    pub(super) span: Span,
    /// Rows worked before it.
    pub(super) row: u32,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    Count {
        stated: u32,
        have: u32,
    },
    Change {
        stated: u32,
        have: u32,
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
    },
    LengthAsRows {
        length: Length,
        rows: u32,
        more: bool,
    },
    NothingToRepeat,
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
    TooWide,
}

impl Kind {
    /// True for a finding after which the stitches or rows cannot be right.
    pub(super) fn spoils_count(self) -> bool {
        matches!(
            self,
            Self::Count { .. }
                | Self::Change { .. }
                | Self::TooManyRemoved { .. }
                | Self::Odd { .. }
                | Self::OutOfReach { .. }
                | Self::NothingToRepeat
                | Self::NotWhole { .. }
                | Self::AfterTheEnd
                | Self::TooLong
                | Self::TooWide
        )
    }
}

impl Kind {
    /// True when the side stated is not the side of the row.
    pub(super) fn is_side(self) -> bool {
        matches!(self, Self::Side { .. })
    }
}

impl Finding {
    /// The finding as a diagnostic, without its size.
    pub(super) fn diagnostic(self, units: Units) -> Diagnostic {
        let (code, message) = self.told(units);
        let found = Diagnostic::new(code, message).at(self.span);
        match self.kind {
            Kind::FirstSide { .. } => {
                found.next("Say which side the first row of the lines is on.")
            }
            Kind::Change { .. } => found.level(Level::Warning),
            _ => found,
        }
    }

    #[expect(clippy::too_many_lines, reason = "a table: one sentence a finding")]
    fn told(self, units: Units) -> (&'static crate::diagnostic::Code, String) {
        let row = self.row;
        match self.kind {
            Kind::Count { stated, have } => (
                &codes::STATED_COUNT,
                format!("the text says {}, the rows give {have}", stitches(stated)),
            ),
            Kind::Change { stated, have } => (
                &codes::STATED_COUNT,
                format!(
                    "the text says that the row changes {}, it changes {have}",
                    stitches(stated)
                ),
            ),
            Kind::Side { stated, have } => (
                &codes::STATED_SIDE,
                format!(
                    "the text ends on {}, but by its counts row {row} is {}",
                    side_row(stated),
                    side_row(have)
                ),
            ),
            Kind::FirstSide { stated } => (
                &codes::STATED_SIDE,
                format!(
                    "the first row is called {}, but the lines were said to start on the other side",
                    side_row(stated)
                ),
            ),
            Kind::TooManyRemoved { take, have } => (
                &codes::TOO_MANY_REMOVED,
                format!(
                    "row {} takes away {}, but only {have} are left",
                    row + 1,
                    stitches(take)
                ),
            ),
            Kind::Odd { target, have, step } => (
                &codes::ODD_REMAINDER,
                format!(
                    "from {have} to {} is {}, which is not a multiple of the {step} taken each time",
                    stitches(target),
                    have.abs_diff(target)
                ),
            ),
            Kind::OutOfReach {
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
            Kind::NeedsRowGauge { length } => (
                &codes::NEEDS_ROW_GAUGE,
                format!(
                    "{} cannot be turned into rows without a row gauge",
                    units.show(length)
                ),
            ),
            Kind::MeasurePassed { wanted } => (
                &codes::MEASURE_PASSED,
                format!(
                    "the {row} rows worked are longer than {} already",
                    units.show(wanted)
                ),
            ),
            Kind::FromBelow { length } => (
                &codes::MEASURED_FROM_BELOW,
                format!(
                    "{} is measured from below these lines; it is taken as reached here",
                    units.show(length)
                ),
            ),
            Kind::LengthAsRows { length, rows, more } => (
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
            Kind::NothingToRepeat => (
                &codes::NOTHING_TO_REPEAT,
                "the rows to repeat do not come before it".to_owned(),
            ),
            Kind::NotWhole { value } => (
                &codes::NOT_WHOLE,
                format!("{value} is not a whole number up to 100000"),
            ),
            Kind::PlainRow { side } => (
                &codes::PLAIN_ROW_ADDED,
                format!(
                    "a plain {side} row is worked as row {} to end on the side named",
                    row + 1
                ),
            ),
            Kind::DecRow => (
                &codes::DEC_ROW,
                "the lines do not tell the decrease row; one stitch at each end is taken"
                    .to_owned(),
            ),
            Kind::AfterTheEnd => (
                &codes::AFTER_THE_END,
                "this comes after the last stitch is bound off".to_owned(),
            ),
            Kind::NotClosed { have } => (
                &codes::NOT_CLOSED,
                format!("{} are left on the needle at the end", stitches(have)),
            ),
            Kind::TooWide => (
                &codes::TOO_LONG,
                format!(
                    "the lines increase to more than {} stitches",
                    super::limits::MAX_STITCHES
                ),
            ),
            Kind::TooLong => (
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
