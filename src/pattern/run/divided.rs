//! What lies before the lines that count, divided work, and what comes after the cap.

use super::super::finding::{FindingKind, LeftOut};
use super::super::ledger::{Divided, LedgerRow};
use super::super::program::{Action, Along, Extent, Instruction, Num, RowBody, ShapedPart, Verb};
use super::along::RowSum;
use super::{OrHalt, RowEnds, SizeRun};
use crate::diagnostic::Span;
use crate::measure::Stitches;

/// Straight rows at the top of a sleeve from which on they are a saddle's: a cap ends with its
/// shaping (common practice, no source).
const SADDLE_ROWS: usize = 8;

impl SizeRun<'_> {
    /// The steps before the first bind-off when all of them lie below: cast-on, plain rows, increases.
    /// They are left out, with the count carried to the first bind-off.
    pub(super) fn lead(&mut self) -> usize {
        let steps = &self.program.steps;
        let mine = |step: &&Instruction| self.is_for(step);
        let Some(end) = steps.iter().position(|s| mine(&s) && binds_off(s)) else {
            let begins = steps.iter().any(|s| matches!(s.action, Action::Begin(_)));
            if begins || self.setting.start.is_none() {
                self.start_from(None, Span::new(0, 0));
            }
            return 0;
        };
        let before: Vec<&Instruction> = steps.iter().take(end).filter(mine).collect();
        let below = before.iter().all(|s| lies_below(s));
        let marked = before
            .iter()
            .any(|s| matches!(s.action, Action::Begin(_)) || widens(s));
        if !below || !marked {
            if self.setting.start.is_none() {
                self.start_from(None, Span::new(0, 0));
            }
            return 0;
        }
        let first = before
            .iter()
            .find(|s| works(s) || matches!(s.action, Action::Begin(_)));
        let spans = before
            .iter()
            .filter(|s| works(s) || matches!(s.action, Action::Begin(_)));
        let span = spans
            .map(|s| s.span)
            .reduce(Span::join)
            .unwrap_or(Span::new(0, 0));
        let begun = first.and_then(|s| match s.action {
            Action::Begin(count) => self.number(count, s.span),
            _ => None,
        });
        let own = if let Some(begun) = begun {
            Some(self.worked_below(begun, &before))
        } else {
            self.below = self.reached_below(&before);
            before.iter().rev().find_map(|s| self.count_named(s))
        };
        self.start_from(own, span);
        self.find(
            FindingKind::LeftOut {
                what: LeftOut::Before,
            },
            span,
        );
        end
    }

    /// The count that these steps come to from so many stitches cast on.
    fn worked_below(&mut self, begun: u32, before: &[&Instruction]) -> u32 {
        let mut below = self.aside();
        below.count = begun;
        for step in before {
            if below.step(step, &[]).is_err() {
                break;
            }
        }
        let (count, reached) = (below.count, below.below);
        let found = std::mem::take(&mut below.findings);
        self.below = reached.map(|(_, length)| (0, length));
        self.findings
            .extend(found.into_iter().filter(|f| f.kind.spoils_count()));
        count
    }

    /// The last length of the whole work that the rows below came to.
    fn reached_below(
        &mut self,
        before: &[&Instruction],
    ) -> Option<(usize, crate::measure::Length)> {
        before.iter().rev().find_map(|step| match step.action {
            Action::EvenLength {
                number,
                unit,
                whole_work: true,
                ..
            } => {
                let value = self.program.number(number, self.setting.size)?;
                Some((0, unit * value))
            }
            _ => None,
        })
    }

    /// The count that a step below names.
    fn count_named(&mut self, step: &Instruction) -> Option<u32> {
        match step.action {
            Action::Count(count) => self.number(count, step.span),
            Action::Shape(ShapedPart {
                extent: Extent::Until(count),
                ..
            }) => self.number(count, step.span),
            _ => None,
        }
    }

    /// The count at the first row: that of the lines, which must agree with the one given.
    fn start_from(&mut self, own: Option<u32>, span: Span) {
        match (own, self.setting.start) {
            (Some(own), Some(given)) if own != given.count() => {
                self.find(
                    FindingKind::Start {
                        given: given.count(),
                        have: own,
                    },
                    span,
                );
            }
            (Some(own), None) => (self.count, self.start) = (own, own),
            (None, None) => self.find(FindingKind::NoStart, span),
            _ => {}
        }
    }

    /// True for a step that is left out, because what belongs to the outline has ended.
    pub(super) fn is_over(&mut self, step: &Instruction) -> bool {
        let other_half =
            self.closed && self.divided.is_some() && self.over.is_none() && works(step);
        if other_half {
            self.over = Some(LeftOut::OtherHalf);
        }
        let held = self.held && self.over.is_none() && !self.setting.half_piece && works(step);
        if held {
            self.over = Some(LeftOut::Saddle);
        }
        let Some(what) = self.over else {
            return false;
        };
        if what == LeftOut::Saddle
            && !self.closed
            && matches!(step.action, Action::Close(_) | Action::Hold(_))
        {
            return false;
        }
        if what == LeftOut::OtherHalf {
            self.check_other_half(step);
        }
        if !self.over_told && works(step) {
            self.over_told = true;
            self.find(FindingKind::LeftOut { what }, step.span);
        }
        true
    }

    /// The middle may be bound off with the second half: what waits must then be as many.
    fn check_other_half(&mut self, step: &Instruction) {
        let Some(divided) = self.divided.filter(|d| d.centre == Stitches::ZERO) else {
            return;
        };
        let Action::Row { body, .. } = &step.action else {
            return;
        };
        let Some(Along::Centre(n) | Along::BindOff(n)) = body.along.first() else {
            return;
        };
        let Some(centre) = self.number(*n, step.span) else {
            return;
        };
        let have = divided.held.count().saturating_sub(centre);
        if have != divided.half.count() {
            self.find(
                FindingKind::Halves {
                    first: divided.half.count(),
                    second: have,
                },
                step.span,
            );
        }
        if let Some(divided) = &mut self.divided {
            divided.centre = Stitches(centre);
            divided.held = Stitches(have);
        }
    }

    pub(super) fn announce(&mut self, both_at_once: bool) {
        self.dividing = true;
        self.both_at_once |= both_at_once;
        self.waiting = None;
    }

    /// The row parts the work: its first stitches go on.
    pub(super) fn divide(
        &mut self,
        (first, centre, held): (u32, u32, u32),
        told: &RowSum,
        span: Span,
    ) -> OrHalt {
        let done = told.done;
        let leaves = centre.saturating_add(held);
        let row = RowEnds {
            dec_start: done
                .dec_start
                .saturating_add(done.dec_end)
                .saturating_add(done.spread),
            dec_end: leaves,
            spread: 0,
            parts: true,
            ..done
        };
        let side = self.side();
        self.work(row, span)?;
        if self.divided.is_none() {
            self.edge = Some(side);
            self.divided = Some(Divided {
                row: u32::try_from(self.rows.len()).unwrap_or(u32::MAX),
                edge: side,
                centre: Stitches(centre),
                half: Stitches(first),
                held: Stitches(held),
            });
            let body = self.setting.half_piece;
            self.find(FindingKind::Divided { half: first, body }, span);
        }
        if told.turned && !self.dividing {
            self.waiting = Some(span);
        }
        Ok(())
    }

    /// A turn before the end of a row, and nothing said of the stitches left.
    pub(super) fn not_said_to_wait(&mut self) {
        if let Some(span) = self.waiting.take() {
            self.find(FindingKind::NotSaidToWait, span);
        }
    }

    pub(super) fn hold(&mut self, stated: Option<Num>, span: Span) -> OrHalt {
        let just_divided = self
            .divided
            .is_some_and(|d| usize::try_from(d.row) == Ok(self.rows.len()));
        if self.waiting.take().is_some() || just_divided {
            let held = self.divided.map_or(0, |d| d.held.count());
            if let Some(stated) = stated.and_then(|n| self.number(n, span))
                && stated != held
            {
                self.find(FindingKind::Count { stated, have: held }, span);
            }
            return Ok(());
        }
        self.close(stated, span)?;
        self.held = true;
        Ok(())
    }

    pub(super) fn other_side(&mut self, rejoined: bool, span: Span) {
        // A whole sleeve has no other side that could be worked to match.
        let sleeve = !self.setting.half_piece && !self.closed && !self.rows.is_empty();
        if (rejoined || sleeve) && self.divided.is_none() {
            self.find(FindingKind::NothingHeld, span);
        }
        self.over = Some(LeftOut::OtherHalf);
    }

    /// Plain rows before the first bind-off lie below it.
    pub(super) fn cut_lead(&mut self) {
        let fabric = self.rows.len() - usize::from(self.closed).min(self.rows.len());
        let first = self.rows.iter().take(fabric).position(|r| !r.is_even());
        let Some(first) = first.filter(|&first| first > 0) else {
            return;
        };
        let binds = self.rows.get(first).is_some_and(LedgerRow::binds_off);
        if !binds {
            return;
        }
        let spans = self.rows.iter().take(first).map(|r| r.span);
        let span = spans.reduce(Span::join).unwrap_or(Span::new(0, 0));
        self.rows.drain(..first);
        self.done.drain(..first);
        for (row, number) in self.rows.iter_mut().zip(1_u32..) {
            row.row = number;
        }
        let cut = u32::try_from(first).unwrap_or(u32::MAX);
        if let Some(divided) = &mut self.divided {
            divided.row = divided.row.saturating_sub(cut);
        }
        self.find(
            FindingKind::LeftOut {
                what: LeftOut::Before,
            },
            span,
        );
    }

    /// The straight rows above a sleeve's last shaping row are a saddle's.
    pub(super) fn cut_saddle(&mut self) {
        if self.setting.half_piece {
            return;
        }
        let closing = usize::from(self.closed);
        let fabric = self.rows.len() - closing.min(self.rows.len());
        let straight = self
            .done
            .iter()
            .take(fabric)
            .rev()
            .take_while(|d| !d.shapes())
            .count();
        let shaped = fabric - straight;
        let binds = self.done.iter().take(shaped).any(|d| d.bind_off > 0);
        let top = self
            .rows
            .get(fabric.wrapping_sub(1))
            .map_or(0, |r| r.stitches.count());
        if straight < SADDLE_ROWS || !binds || top.saturating_mul(2) > self.start {
            return;
        }
        let spans = self
            .rows
            .get(shaped..fabric)
            .unwrap_or_default()
            .iter()
            .map(|r| r.span);
        let span = spans.reduce(Span::join).unwrap_or(Span::new(0, 0));
        self.rows.drain(shaped..fabric);
        self.done.drain(shaped..fabric);
        if let Some(last) = self.rows.get_mut(shaped) {
            last.row = u32::try_from(shaped + 1).unwrap_or(u32::MAX);
            if !straight.is_multiple_of(2) {
                last.side = last.side.turned();
            }
        }
        let rows = u32::try_from(straight).unwrap_or(u32::MAX);
        self.find(
            FindingKind::LeftOut {
                what: LeftOut::Straight { rows },
            },
            span,
        );
    }
}

/// True for a step that binds stitches off, the last bind-off of all left aside.
fn binds_off(step: &Instruction) -> bool {
    match &step.action {
        Action::Shape(part) => part.verb == Verb::BindOff,
        Action::Row { body, .. } => body
            .along
            .iter()
            .any(|a| matches!(a, Along::BindOff(_) | Along::Centre(_))),
        Action::Group { steps, .. } | Action::Together { steps, .. } => steps.iter().any(binds_off),
        _ => false,
    }
}

/// True for a step that works rows.
fn works(step: &Instruction) -> bool {
    !matches!(
        step.action,
        Action::Count(_)
            | Action::Change(_)
            | Action::Ended(_)
            | Action::EndedRow(_)
            | Action::RowsNamed(_)
            | Action::Star
            | Action::Mark
            | Action::Divide { .. }
            | Action::Saddle
            | Action::OtherSide { .. }
            | Action::Begin(_)
    )
}

/// True for what may lie below a cap or an armhole: plain rows and increases.
fn lies_below(step: &Instruction) -> bool {
    match &step.action {
        Action::Shape(part) => matches!(part.verb, Verb::Inc),
        Action::Row { body, .. } => is_plain(body),
        Action::Group { steps, .. } => steps.iter().all(lies_below),
        Action::Close(_) | Action::Hold(_) | Action::Together { .. } => false,
        _ => true,
    }
}

/// True for a step that adds stitches.
fn widens(step: &Instruction) -> bool {
    match &step.action {
        Action::Shape(part) => matches!(part.verb, Verb::Inc),
        Action::Row { body, .. } => body.along.iter().any(|a| match a {
            Along::Op { gain, .. } => *gain > 0,
            Along::Edge { dec, .. } => !dec,
            _ => false,
        }),
        Action::Group { steps, .. } => steps.iter().any(widens),
        _ => false,
    }
}

fn is_plain(body: &RowBody) -> bool {
    let plain = |a: &Along| match a {
        Along::Op { lose, .. } => *lose == 0,
        Along::Edge { dec, .. } => !dec,
        Along::BindOff(_) | Along::Centre(_) | Along::Turn | Along::Group { .. } => false,
        _ => true,
    };
    !body.again && !body.close && body.along.iter().all(plain)
}
