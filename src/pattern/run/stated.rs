//! What the lines state, held against the rows: counts, changes, sides, the end.

use super::super::finding::{FindingKind, RowFinding};
use super::super::ledger::LedgerRow;
use super::super::program::Num;
use super::{Halt, OrHalt, RowEnds, SizeRun};
use crate::diagnostic::Span;
use crate::measure::Side;

impl SizeRun<'_> {
    pub(super) fn close(&mut self, stated: Option<Num>, span: Span) -> OrHalt {
        if let Some(stated) = stated {
            self.check_count(stated, span);
        }
        if self.closed || self.count == 0 {
            self.find(FindingKind::AfterTheEnd, span);
            return Err(Halt);
        }
        self.beside.clear();
        let all = RowEnds {
            bind_off: self.count,
            ..RowEnds::default()
        };
        self.work(all, span)?;
        self.closed = true;
        Ok(())
    }

    pub(super) fn check_count(&mut self, stated: Num, span: Span) {
        let Some(stated) = self.number(stated, span) else {
            return;
        };
        let have = if self.closed {
            self.before_close()
        } else {
            self.count
        };
        if stated != have {
            self.find(FindingKind::Count { stated, have }, span);
        }
    }

    /// `ending with row 2`, `ending with a dec row`: the last pass of a repeat stops there.
    pub(super) fn ended_row(&mut self, number: Option<u32>, span: Span) -> OrHalt {
        if self.closed {
            return Ok(());
        }
        let ends_here = match (number, self.pass) {
            (Some(number), None) => return self.row_reached(number, span),
            (Some(number), Some((rows, first))) => {
                let place = number
                    .checked_sub(first)
                    .and_then(|n| usize::try_from(n).ok());
                place.is_some_and(|place| place < rows && self.stops_after(rows - 1 - place))
            }
            (None, pass) => {
                let plain = self.rows.iter().rev().take_while(|r| r.is_even()).count();
                pass.map_or(plain == 0, |(rows, _)| {
                    plain < rows && self.stops_after(plain)
                })
            }
        };
        if !ends_here {
            self.find(FindingKind::EndRow, span);
        }
        Ok(())
    }

    /// Takes the last rows off again, where they are plain.
    fn stops_after(&mut self, rows: usize) -> bool {
        let kept = self.rows.len().saturating_sub(rows);
        let plain = |row: &LedgerRow| row.is_even();
        if !self.rows.iter().skip(kept).all(plain) {
            return false;
        }
        self.rows.truncate(kept);
        self.done.truncate(kept);
        self.spaced = false;
        true
    }

    /// With no repeat before it a row's number is its label, or counts from the first row.
    fn row_reached(&mut self, number: u32, span: Span) -> OrHalt {
        let have = self.label.or_else(|| u32::try_from(self.rows.len()).ok());
        if have == Some(number) {
            return Ok(());
        }
        if self.spaced && have.and_then(|have| have.checked_add(1)) == Some(number) {
            let side = self.side();
            self.find(FindingKind::PlainRow { side }, span);
            return self.plain(1, span);
        }
        self.find(FindingKind::EndRow, span);
        Ok(())
    }

    fn before_close(&self) -> u32 {
        self.rows
            .last()
            .map_or(self.count, |row| row.bind_off.count())
    }

    pub(super) fn check_change(&mut self, stated: Num, span: Span) {
        let Some(stated) = self.number(stated, span) else {
            return;
        };
        let row = self
            .last
            .map_or(0, |l| l.done.removed().max(l.done.added()));
        // `(16 sts dec'd)` may count the last row, all of the instruction, or all since the last count.
        let all = self.told.count.abs_diff(self.count);
        let since = self.checked.count.abs_diff(self.count);
        if ![row, all, since].contains(&stated) {
            self.find(FindingKind::Change { stated, row, all }, span);
        }
    }

    /// `(WS)` beside a row.
    pub(super) fn check_side(&mut self, stated: Side, next: bool, span: Span) {
        let (side, worked) = (self.side(), !self.rows.is_empty());
        let have = if next { side } else { side.turned() };
        if !self.closed && have != stated && (next || worked) {
            self.find(FindingKind::RowSide { stated, next }, span);
        }
    }

    /// `(12 rows)`: of the instruction before it, or of all since the last count; the plain row after spaced
    /// shaping is worked when it is counted.
    pub(super) fn check_rows(&mut self, stated: Num, span: Span) -> OrHalt {
        let Some(stated) = self.number(stated, span) else {
            return Ok(());
        };
        let since = |from: usize| u32::try_from(self.rows.len() - from.min(self.rows.len()));
        let all = since(self.told.rows).unwrap_or(u32::MAX);
        let counted = [all, since(self.checked.rows).unwrap_or(u32::MAX)];
        if counted.contains(&stated) {
            return Ok(());
        }
        if self.spaced && !self.closed && all.saturating_add(1) == stated {
            let side = self.side();
            self.find(FindingKind::PlainRow { side }, span);
            return self.plain(1, span);
        }
        self.find(
            FindingKind::Rows {
                stated,
                worked: all,
            },
            span,
        );
        Ok(())
    }

    /// `Rows 3-6: rep rows 1 and 2 twice`: four rows have these names, four are worked.
    pub(super) fn check_rows_named(&mut self, stated: u32, span: Span) {
        let worked = self.rows.len().saturating_sub(self.told.rows);
        let worked = u32::try_from(worked).unwrap_or(u32::MAX);
        if worked != stated && !self.closed {
            self.find(FindingKind::Rows { stated, worked }, span);
        }
    }

    /// `ending with a WS row`: the plain rows after spaced shaping are the knitter's; anywhere
    /// else the row reached must be of that side.
    pub(super) fn ended(&mut self, side: Side, span: Span) -> OrHalt {
        // Where a length could not be worked, its error stands; the sides after it are not known.
        let unknown = |f: &RowFinding| matches!(f.kind, FindingKind::NeedsRowGauge { .. });
        if self.closed || self.side() != side || self.findings.iter().any(unknown) {
            return Ok(());
        }
        if self.spaced {
            self.find(FindingKind::PlainRow { side }, span);
            return self.plain(1, span);
        }
        let have = side.turned();
        self.find(FindingKind::Side { stated: side, have }, span);
        Ok(())
    }
}
