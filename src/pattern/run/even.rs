//! Plain rows, by number and by length.

use crate::diagnostic::Span;
use crate::measure::{Length, Side};

use super::super::finding::FindingKind;
use super::super::program::{Action, Instruction, Num};
use super::{OrHalt, SizeRun};

impl SizeRun<'_> {
    pub(super) fn even(&mut self, number: Num, span: Span) -> OrHalt {
        self.spaced = false;
        match self.number(number, span) {
            Some(rows) => self.plain(rows, span),
            None => Ok(()),
        }
    }

    /// Plain rows over a length: so much further, or until the piece measures so much.
    pub(super) fn even_length(
        &mut self,
        (number, unit): (Num, Length),
        more: bool,
        whole_work: bool,
        rest: &[Instruction],
        span: Span,
    ) -> OrHalt {
        self.spaced = false;
        let Some(value) = self.program.number(number, self.setting.size) else {
            return Ok(());
        };
        let length = unit * value;
        let wanted = if whole_work && !more {
            self.reached_from_below(length, span)
        } else {
            Some(length)
        };
        let Some(wanted) = wanted else { return Ok(()) };
        let done = if more || whole_work {
            Length::ZERO
        } else {
            self.measured()
        };
        let Some(exact) = self.rows_in(wanted - done, span) else {
            return Ok(());
        };
        if exact < -0.5 {
            self.find(FindingKind::MeasurePassed { wanted: length }, span);
            return Ok(());
        }
        let rows = self.to_parity(exact, self.last_side(rest));
        self.find(FindingKind::LengthAsRows { length, rows, more }, span);
        self.plain(rows, span)
    }

    /// The height of the rows worked so far.
    fn measured(&self) -> Length {
        self.setting
            .row_height
            .map_or(Length::ZERO, |h| h * self.height().as_f64())
    }

    /// A length measured from below the first row: the first one is the place reached, a later
    /// one is so much further.
    fn reached_from_below(&mut self, length: Length, span: Span) -> Option<Length> {
        match self.below {
            None => {
                self.below = Some((self.rows.len(), length));
                let late = self.rows.iter().any(|row| {
                    let less = row.bind_off + row.decrease_start + row.decrease_end;
                    less.count() > 0
                });
                self.find(FindingKind::FromBelow { length, late }, span);
                None
            }
            Some((row, reached)) => {
                let since = u32::try_from(self.rows.len() - row).unwrap_or(u32::MAX);
                let height = self.setting.row_height.unwrap_or(Length::ZERO);
                Some(length - reached - height * f64::from(since))
            }
        }
    }

    /// The side the last plain row must have: the one stated next, else the one before the side
    /// the next shaping starts on.
    fn last_side(&self, rest: &[Instruction]) -> Option<Side> {
        let next = rest
            .iter()
            .find(|s| self.is_for(s) && !matches!(s.action, Action::Count(_) | Action::Star))?;
        match next.action {
            Action::Ended(side) => Some(side),
            Action::Shape(_) => Some(self.setting.first.turned()),
            Action::Row { side, .. } => {
                side.map(Side::turned).or(Some(self.setting.first.turned()))
            }
            _ => None,
        }
    }

    /// The whole number of rows nearest to `exact` whose last row is of this side.
    fn to_parity(&self, exact: f64, side: Option<Side>) -> u32 {
        let near = exact.max(0.0).round();
        let rows = super::whole(near).unwrap_or(0);
        let Some(side) = side else { return rows };
        let last = if rows.is_multiple_of(2) {
            self.side().turned()
        } else {
            self.side()
        };
        if last == side {
            rows
        } else if exact < near && rows > 0 {
            rows - 1
        } else {
            rows + 1
        }
    }
}
