//! Repeats of rows already worked, and bracketed groups.

use crate::diagnostic::Span;

use super::super::finding::FindingKind;
use super::super::ledger::LedgerRow;
use super::super::program::{ChoiceId, Extent, Instruction, Num, Repeated};
use super::{OrHalt, RowEnds, SizeRun};

impl SizeRun<'_> {
    /// Works the named rows again: n times more, or n in all.
    pub(super) fn repeat(
        &mut self,
        what: Repeated,
        extent: Extent,
        told: (bool, bool, ChoiceId),
        span: Span,
    ) -> OrHalt {
        self.last_of(what, span)?;
        if what == Repeated::TheseRows && !self.two_rows_told() {
            self.find(FindingKind::WhichRows, span);
        }
        let rows = self.rows_named(what, span);
        if rows.is_empty() {
            self.find(FindingKind::NothingToRepeat, span);
            return Ok(());
        }
        if rows.iter().any(|d| d.spread > 0 || d.parts) {
            self.find(FindingKind::NotAgain, span);
            return Ok(());
        }
        let plain = |from: usize| {
            let rows = self.done.get(from..);
            rows.is_some_and(|rows| rows.iter().all(|d| !d.shapes()))
        };
        let part = self.rows.len() > rows.len() + self.told.rows && plain(self.told.rows);
        if part && matches!(what, Repeated::LastRows(_) | Repeated::TheseRows) {
            let (of, rows) = (self.rows.len() - self.told.rows, rows.len());
            self.find(FindingKind::PartOfRows { rows, of }, span);
        }
        self.spaced = rows.len() > 1 && !rows.last().is_some_and(|d| d.shapes());
        let from = self.done.len();
        let worked = self.repeat_rows_to(&rows, extent, told, span);
        self.told_from = self.rows.len();
        self.anew = false;
        let first = match what {
            Repeated::Labels(first, _) => first,
            _ => 1,
        };
        self.pass = Some((rows.len(), first));
        if let Some(named) = self.named.take() {
            let again = self.done.get(from..).unwrap_or_default().to_vec();
            self.name_rows(named, &again);
        }
        worked
    }

    /// Two rows were told since the last repeat: alone, after bind-offs at both edges, or as rows 1 and 2.
    fn two_rows_told(&self) -> bool {
        let end = self.rows.len();
        let told = |from: usize| end.checked_sub(from) == Some(2);
        if let Some(label) = self.label.filter(|_| self.label_at == end) {
            return label == 2 && !self.anew;
        }
        let pair = |rows: &[LedgerRow]| rows.iter().all(LedgerRow::binds_off);
        let bound = self.rows.windows(2).rposition(pair).map_or(0, |at| at + 2);
        told(self.told_from) || told(bound.max(self.told_from))
    }

    /// `Row 2 and all WS rows: purl` told the last of the rows to repeat, too: it is worked first.
    fn last_of(&mut self, what: Repeated, span: Span) -> OrHalt {
        let Repeated::Labels(_, last) = what else {
            return Ok(());
        };
        let next = self.label.map(|label| label.saturating_add(1));
        if self.others_told && next == Some(last) && self.label_at == self.rows.len() {
            self.work(RowEnds::default(), span)?;
            self.labels.insert(last, RowEnds::default());
            self.label = Some(last);
            self.label_at = self.rows.len();
        }
        Ok(())
    }

    /// `Rows 3 and 4: as rows 1 and 2` are rows 3 and 4 from here on.
    fn name_rows(&mut self, first: u32, rows: &[RowEnds]) {
        for (label, done) in (first..).zip(rows) {
            self.labels.insert(label, *done);
            self.label = Some(label);
        }
        self.label_at = self.rows.len();
    }

    fn repeat_rows_to(
        &mut self,
        rows: &[RowEnds],
        extent: Extent,
        (more, in_all, choice): (bool, bool, ChoiceId),
        span: Span,
    ) -> OrHalt {
        match extent {
            Extent::Times(times) => {
                let Some(times) = self.number(times, span) else {
                    return Ok(());
                };
                let open = !more && !in_all && times > 0;
                if open {
                    self.met.insert(choice);
                }
                let less = in_all || open && self.program.second(choice);
                for _ in 0..times.saturating_sub(u32::from(less)) {
                    self.pass_over(rows, span)?;
                }
                Ok(())
            }
            Extent::Until(target) => {
                let Some(target) = self.number(target, span) else {
                    return Ok(());
                };
                self.repeat_until(rows, target, span)
            }
            Extent::Rows(number) => {
                let Some(number) = self.number(number, span) else {
                    return Ok(());
                };
                self.repeat_rows(rows, number, span)
            }
            Extent::Measure(number, unit) => {
                let Some(number) = self.rows_until(number, unit, span) else {
                    return Ok(());
                };
                self.repeat_rows(rows, number, span)
            }
            Extent::Rest => Ok(()),
        }
    }

    fn pass_over(&mut self, rows: &[RowEnds], span: Span) -> OrHalt {
        self.spend(1, span)?;
        rows.iter().try_for_each(|&done| self.work(done, span))
    }

    fn repeat_rows(&mut self, rows: &[RowEnds], number: u32, span: Span) -> OrHalt {
        let number = usize::try_from(number).unwrap_or(usize::MAX);
        rows.iter()
            .cycle()
            .take(number)
            .try_for_each(|&done| self.work(done, span))
    }

    fn repeat_until(&mut self, rows: &[RowEnds], target: u32, span: Span) -> OrHalt {
        let removed: u32 = rows
            .iter()
            .map(|d| d.removed())
            .fold(0, u32::saturating_add);
        let added: u32 = rows.iter().map(|d| d.added()).fold(0, u32::saturating_add);
        let Some(passes) = self.passes(removed, added, target, span) else {
            return Ok(());
        };
        for _ in 0..passes {
            self.pass_over(rows, span)?;
        }
        Ok(())
    }

    /// How many times a change must be made to come to `target`; says so when it does not come
    /// out or leads the other way.
    pub(super) fn passes(
        &mut self,
        removed: u32,
        added: u32,
        target: u32,
        span: Span,
    ) -> Option<u32> {
        let (step, way, growing) = if removed > added {
            (removed - added, self.count.checked_sub(target), false)
        } else {
            (added - removed, target.checked_sub(self.count), true)
        };
        let Some(way) = way.filter(|_| step > 0) else {
            self.find(
                FindingKind::OutOfReach {
                    target,
                    have: self.count,
                    growing,
                },
                span,
            );
            return None;
        };
        if way % step != 0 {
            self.find(
                FindingKind::Odd {
                    target,
                    have: self.count,
                    step,
                },
                span,
            );
        }
        Some(way / step)
    }

    fn rows_named(&mut self, what: Repeated, span: Span) -> Vec<RowEnds> {
        match what {
            Repeated::TheseRows => self.rows_named(Repeated::LastRows(Num::Fixed(2)), span),
            Repeated::LastRows(number) => {
                let number = self.number(number, span).unwrap_or(0);
                let number = usize::try_from(number).unwrap_or(usize::MAX);
                let from = self.done.len().checked_sub(number);
                from.and_then(|f| self.done.get(f..))
                    .unwrap_or_default()
                    .to_vec()
            }
            Repeated::Labels(first, last) if last.saturating_sub(first) < 200 => {
                // A row that nobody told is none to repeat.
                let known = |label: u32| self.labels.get(&label).copied();
                let all: Option<Vec<RowEnds>> = (first..=last).map(known).collect();
                all.unwrap_or_default()
            }
            Repeated::Labels(..) => Vec::new(),
            Repeated::Marked => match self.marks.as_slice() {
                [.., from, to] => self.done.get(*from..*to).unwrap_or_default().to_vec(),
                _ => Vec::new(),
            },
            Repeated::FromStar | Repeated::Sentence => {
                let since = self.star.and_then(|star| self.done.get(star..));
                since.unwrap_or_default().to_vec()
            }
        }
    }

    /// Works the instructions in brackets so many times in all.
    pub(super) fn group(&mut self, steps: &[Instruction], extent: Extent, span: Span) -> OrHalt {
        let worked = self.group_to(steps, extent, span);
        self.told_from = self.rows.len();
        worked
    }

    fn group_to(&mut self, steps: &[Instruction], extent: Extent, span: Span) -> OrHalt {
        match extent {
            Extent::Times(times) => {
                let times = self.number(times, span).unwrap_or(0);
                for _ in 0..times {
                    self.once(steps)?;
                }
                Ok(())
            }
            Extent::Until(target) => {
                let Some(target) = self.number(target, span) else {
                    return Ok(());
                };
                self.group_until(steps, target, span)
            }
            Extent::Rows(number) => {
                let number = self.number(number, span).unwrap_or(0);
                self.group_rows(steps, number)
            }
            Extent::Measure(number, unit) => match self.rows_until(number, unit, span) {
                Some(number) => self.group_rows(steps, number),
                None => Ok(()),
            },
            Extent::Rest => Ok(()),
        }
    }

    fn once(&mut self, steps: &[Instruction]) -> OrHalt {
        let span = steps.first().map_or(Span::new(0, 0), |s| s.span);
        self.spend(1, span)?;
        self.steps(steps)
    }

    fn group_rows(&mut self, steps: &[Instruction], number: u32) -> OrHalt {
        let end = self
            .rows
            .len()
            .saturating_add(usize::try_from(number).unwrap_or(usize::MAX));
        while self.rows.len() < end {
            let before = self.rows.len();
            self.once(steps)?;
            if self.rows.len() == before {
                break;
            }
        }
        Ok(())
    }

    fn group_until(&mut self, steps: &[Instruction], target: u32, span: Span) -> OrHalt {
        let falling = self.count > target;
        while self.count != target && (self.count > target) == falling {
            let before = self.count;
            self.once(steps)?;
            if self.count == before || (self.count > before) == falling {
                self.find(
                    FindingKind::OutOfReach {
                        target,
                        have: self.count,
                        growing: !falling,
                    },
                    span,
                );
                return Ok(());
            }
        }
        if self.count != target {
            let step = self.last.map_or(1, |l| l.done.removed().max(1));
            self.find(
                FindingKind::Odd {
                    target,
                    have: self.count,
                    step,
                },
                span,
            );
        }
        Ok(())
    }
}
