//! Rows told one by one.

use crate::diagnostic::Span;
use crate::measure::Side;

use super::super::finding::FindingKind;
use super::super::program::{Label, RowBody};
use super::along::RowSum;
use super::{OrHalt, RowEnds, SizeRun};

impl SizeRun<'_> {
    pub(super) fn told_row(
        &mut self,
        label: Label,
        side: Option<Side>,
        body: &RowBody,
        span: Span,
    ) -> OrHalt {
        let spaced = std::mem::replace(&mut self.spaced, false);
        let times = match label {
            Label::Numbered(first, last) => {
                self.up_to(first, span)?;
                last.saturating_add(1).saturating_sub(first)
            }
            Label::AndEvery(first) => {
                self.up_to(first, span)?;
                (self.others_told, self.every_second) = (true, Some(first));
                1
            }
            Label::Listed(number) => {
                self.up_to(number, span)?;
                1
            }
            Label::Next(number) => self.number(number, span).unwrap_or(0),
        };
        // The repeat after it works the rows of this name.
        self.named = match label {
            Label::Numbered(first, _) if times == 0 => Some(first),
            _ => None,
        };
        if times > 0 {
            self.reach_side(side, spaced, span)?;
        }
        for n in 0..times {
            self.spend(1, span)?;
            if body.close {
                return self.close(None, span);
            }
            let told = self.row_done(body, span);
            let done = told.done;
            match told.parts {
                Some(parts) => self.divide(parts, &told, span)?,
                None => self.work(done, span)?,
            }
            if let Label::Numbered(first, _) | Label::AndEvery(first) | Label::Listed(first) = label
            {
                self.labels.insert(first.saturating_add(n), done);
                self.label = Some(first.saturating_add(n));
                self.label_at = self.rows.len();
                self.unnumbered = false;
            }
        }
        Ok(())
    }

    /// Rows between two numbers are plain; a number not above the last one starts anew. Rows that were worked
    /// since without a number, as by a repeat, are counted on, or the next number leaves them out.
    fn up_to(&mut self, number: u32, span: Span) -> OrHalt {
        let told = self.label.unwrap_or(0);
        let skipped = self.skipped.take();
        if skipped.is_some_and(|last| told < last && last < number) {
            // `Row 1 (S and L only): dec. Row 2: purl.`
            let (first, last) = (told + 1, number - 1);
            self.find(FindingKind::RowsNotTold { first, last }, span);
            for row in first..=last {
                self.work(RowEnds::default(), span)?;
                self.labels.insert(row, RowEnds::default());
            }
            self.label = Some(last);
            self.label_at = self.rows.len();
        }
        let since = self.rows.len().saturating_sub(self.label_at);
        let since = u32::try_from(since).unwrap_or(u32::MAX);
        let missing = match self.label {
            Some(before) if number == before.saturating_add(1) => {
                if std::mem::take(&mut self.unnumbered) && since > 0 {
                    let after = number;
                    self.find(FindingKind::RowsBetween { before, after }, span);
                }
                0
            }
            Some(before) if number > before.saturating_add(since) => number - before - since - 1,
            Some(before) if number > before => {
                // Neither numbering leads here.
                self.find(
                    FindingKind::RowsNotTold {
                        first: before + 1,
                        last: number - 1,
                    },
                    span,
                );
                0
            }
            Some(before) => {
                // A new list begins with row 1, and not at once.
                let at_once = before == number && self.label_at == self.rows.len();
                if number > 1 || at_once || !self.labels.contains_key(&1) {
                    self.find(
                        FindingKind::RowsFall {
                            before,
                            after: number,
                        },
                        span,
                    );
                }
                self.labels.clear();
                (self.others_told, self.every_second) = (false, None);
                self.anew = true;
                0
            }
            None => {
                self.first_number(number, span);
                0
            }
        };
        // `Row 2 and every WS row`: every second one from there.
        let told = |first: u32| missing == 1 && (number - 1).abs_diff(first).is_multiple_of(2);
        let others = self.others_told && self.every_second.is_none_or(told);
        if missing > 0 && !others {
            let first = number - missing;
            self.find(
                FindingKind::RowsNotTold {
                    first,
                    last: number - 1,
                },
                span,
            );
        }
        let mut label = number.saturating_sub(missing).saturating_sub(1);
        for _ in 0..missing {
            self.work(RowEnds::default(), span)?;
            label = label.saturating_add(1);
            self.labels.insert(label, RowEnds::default());
        }
        Ok(())
    }

    /// After rows without a number the first one is row 1, or goes on from them.
    fn first_number(&mut self, number: u32, span: Span) {
        let told = u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        let next = told.saturating_add(1);
        if told == 0 && number > 1 {
            self.find(FindingKind::FirstNumber { number }, span);
        }
        if told == 0 || number == 1 || number == next {
            return;
        }
        let kind = if number > next {
            FindingKind::RowsNotTold {
                first: next,
                last: number - 1,
            }
        } else {
            FindingKind::RowsFall {
                before: told,
                after: number,
            }
        };
        self.find(kind, span);
    }

    /// A row of a named side: one plain row comes before it when the next row is of the other.
    ///
    /// After rows that were told one by one there is none: their numbers and sides do not agree.
    pub(super) fn reach_side(&mut self, side: Option<Side>, spaced: bool, span: Span) -> OrHalt {
        let Some(side) = side.filter(|&s| s != self.side()) else {
            return Ok(());
        };
        if self.rows.is_empty() {
            self.find(FindingKind::FirstSide { stated: side }, span);
            return Ok(());
        }
        if !spaced {
            self.find(
                FindingKind::RowSide {
                    stated: side,
                    next: true,
                },
                span,
            );
            return Ok(());
        }
        self.find(
            FindingKind::PlainRow {
                side: side.turned(),
            },
            span,
        );
        self.plain(1, span)
    }

    fn row_done(&mut self, body: &RowBody, span: Span) -> RowSum {
        if body.again {
            return RowSum {
                done: self.again(span),
                ..RowSum::default()
            };
        }
        if body.along.is_empty() {
            return RowSum::default();
        }
        self.along(body, span).unwrap_or_default()
    }
}
