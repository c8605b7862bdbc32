//! Lengths to rows by the row gauge.

use crate::diagnostic::Span;
use crate::measure::Length;

use super::super::finding::FindingKind;
use super::super::program::Num;
use super::SizeRun;

impl SizeRun<'_> {
    /// The rows in a length, not rounded; says so when there is no row gauge.
    pub(super) fn rows_in(&mut self, length: Length, span: Span) -> Option<f64> {
        let Some(height) = self.setting.row_height.filter(|h| h.is_positive()) else {
            self.find(FindingKind::NeedsRowGauge { length }, span);
            return None;
        };
        Some(length / height)
    }

    /// Rows still to work until the piece measures so much.
    pub(super) fn rows_until(&mut self, number: Num, unit: Length, span: Span) -> Option<u32> {
        let value = self.program.number(number, self.setting.size)?;
        let rows = self.rows_in(unit * value, span)?.round();
        let total = super::whole(rows.max(0.0))?;
        let length = unit * value;
        let Some(rows) = total.checked_sub(self.height().count()) else {
            self.find(FindingKind::MeasurePassed { wanted: length }, span);
            return Some(0);
        };
        self.find(
            FindingKind::LengthAsRows {
                length,
                rows,
                more: false,
            },
            span,
        );
        Some(rows)
    }
}
