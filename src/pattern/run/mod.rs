//! Carries the instructions out for one size, row by row, into the ledger.

mod along;
mod beside;
mod divided;
mod edge;
mod even;
mod length;
mod repeat;
mod row;
mod shape;
mod stated;

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::diagnostic::Span;
use crate::measure::{Length, Rows, Side, Stitches};

use super::finding::LeftOut;
use super::finding::{FindingKind, RowFinding};
use super::ledger::{Divided, Ledger, LedgerRow};
use super::limits::{MAX_ROWS, MAX_STEPS, MAX_STITCHES};
use super::program::{Action, ChoiceId, Instruction, Label, Num, Program, RowPlace, ShapedPart};
use super::term::whole;

/// What one size is worked with.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    pub(super) size: usize,
    /// `None` where only the lines themselves say it.
    pub(super) start: Option<Stitches>,
    pub(super) first: Side,
    pub(super) row_height: Option<Length>,
    /// Half a body piece: a decrease without an edge belongs to one edge.
    pub(super) half_piece: bool,
}

/// What came of one size.
#[derive(Clone, Debug)]
pub(super) struct SizeOutcome {
    pub(super) ledger: Ledger,
    pub(super) findings: Vec<RowFinding>,
    /// Wordings with two readings that were met, and would have made a difference.
    pub(super) met: BTreeSet<ChoiceId>,
    /// What it took, in rows.
    pub(super) work: usize,
}

/// The size cannot be worked any further.
#[derive(Clone, Copy, Debug)]
struct Halt;

type OrHalt = Result<(), Halt>;

/// What one row does at its two ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct RowEnds {
    bind_off: u32,
    dec_start: u32,
    dec_end: u32,
    inc_start: u32,
    inc_end: u32,
    /// Decreased over the row, at no edge.
    spread: u32,
    /// The row parts the work, so that it cannot be worked again.
    parts: bool,
}

impl RowEnds {
    fn removed(self) -> u32 {
        self.bind_off
            .saturating_add(self.dec_start)
            .saturating_add(self.dec_end)
            .saturating_add(self.spread)
    }

    fn added(self) -> u32 {
        self.inc_start.saturating_add(self.inc_end)
    }

    fn shapes(self) -> bool {
        self.removed() > 0 || self.added() > 0
    }

    fn and(self, other: Self) -> Self {
        Self {
            bind_off: self.bind_off.saturating_add(other.bind_off),
            dec_start: self.dec_start.saturating_add(other.dec_start),
            dec_end: self.dec_end.saturating_add(other.dec_end),
            inc_start: self.inc_start.saturating_add(other.inc_start),
            inc_end: self.inc_end.saturating_add(other.inc_end),
            spread: self.spread.saturating_add(other.spread),
            parts: self.parts || other.parts,
        }
    }
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, Default)]
struct Reached {
    count: u32,
    rows: usize,
}

/// The last shaping row.
#[derive(Clone, Copy, Debug)]
struct Last {
    /// Its place in the ledger, from 0.
    row: usize,
    done: RowEnds,
    side: Side,
}

impl Last {
    fn is_bind_off(self) -> bool {
        self.done.bind_off > 0
    }
}

#[expect(
    clippy::struct_excessive_bools,
    reason = "what has been said, each by itself"
)]
struct SizeRun<'a> {
    program: &'a Program,
    setting: Setting,
    count: u32,
    /// Stitches before the first row of the ledger.
    start: u32,
    rows: Vec<LedgerRow>,
    /// What the main stream of instructions did on each row.
    done: Vec<RowEnds>,
    findings: Vec<RowFinding>,
    met: BTreeSet<ChoiceId>,
    last: Option<Last>,
    /// The side of the rows that start at the armhole edge of a half piece.
    edge: Option<Side>,
    /// What goes on at the same time, row by row from here.
    beside: VecDeque<RowEnds>,
    labels: BTreeMap<u32, RowEnds>,
    label: Option<u32>,
    /// How many rows there were when it was worked.
    label_at: usize,
    /// A step without a number was worked since then.
    unnumbered: bool,
    /// Rows there were after the last repeat.
    told_from: usize,
    /// The numbers began anew since then.
    anew: bool,
    /// The row with this number was told for other sizes alone.
    skipped: Option<u32>,
    /// The number of the first row that the next repeat works.
    named: Option<u32>,
    /// `Row 2 and all WS rows` told the rows between those with numbers.
    others_told: bool,
    /// The first of them, where they are every second one.
    every_second: Option<u32>,
    /// Rows of the repeat just worked, and the number of its first.
    pass: Option<(usize, u32)>,
    star: Option<usize>,
    /// Rows worked at each mark `**`.
    marks: Vec<usize>,
    /// The shaping just worked leaves plain rows after its last row to the knitter.
    spaced: bool,
    closed: bool,
    /// Rows worked when the first length measured from below was reached, and that length.
    below: Option<(usize, Length)>,
    steps_left: usize,
    /// The neck was parted off.
    divided: Option<Divided>,
    /// Stitches left by a turn, of which it was not said yet that they wait.
    waiting: Option<Span>,
    /// Both halves are worked row by row, each with its own yarn.
    both_at_once: bool,
    /// Rows up to which shaping told within them goes.
    within: Option<usize>,
    /// Division was announced.
    dividing: bool,
    /// Closed on a holder.
    held: bool,
    /// Nothing that follows belongs to this outline: rows left out, and why.
    over: Option<LeftOut>,
    /// The word was said already.
    over_told: bool,
    /// Before the last instruction that is no check.
    told: Reached,
    /// At the last count that was stated.
    checked: Reached,
}

/// Works one size from the first instruction to the last.
pub(super) fn run(program: &Program, setting: Setting) -> SizeOutcome {
    let mut run = SizeRun {
        program,
        setting,
        count: setting.start.map_or(0, Stitches::count),
        start: setting.start.map_or(0, Stitches::count),
        rows: Vec::new(),
        done: Vec::new(),
        findings: Vec::new(),
        met: BTreeSet::new(),
        last: None,
        edge: None,
        beside: VecDeque::new(),
        labels: BTreeMap::new(),
        label: None,
        label_at: 0,
        unnumbered: false,
        told_from: 0,
        anew: false,
        skipped: None,
        named: None,
        others_told: false,
        every_second: None,
        pass: None,
        star: None,
        marks: Vec::new(),
        spaced: false,
        closed: false,
        below: None,
        steps_left: MAX_STEPS,
        divided: None,
        waiting: None,
        both_at_once: false,
        dividing: false,
        within: None,
        held: false,
        over: None,
        over_told: false,
        told: Reached::default(),
        checked: Reached::default(),
    };
    (run.told, run.checked) = (run.here(), run.here());
    let lead = run.lead();
    let steps = program.steps.get(lead..).unwrap_or_default();
    let worked = run.steps(steps).and_then(|()| run.rest_beside());
    run.not_said_to_wait();
    run.cut_saddle();
    run.cut_lead();
    if worked.is_ok() && !run.closed && !run.rows.is_empty() {
        let span = run.rows.last().map_or(Span::new(0, 0), |r| r.span);
        run.find(FindingKind::NotClosed { have: run.count }, span);
    }
    let work = run.rows.len() + (MAX_STEPS - run.steps_left.min(MAX_STEPS));
    SizeOutcome {
        work,
        ledger: Ledger {
            start: Stitches(run.start),
            rows: run.rows,
            divided: run.divided,
        },
        findings: run.findings,
        met: run.met,
    }
}

impl SizeRun<'_> {
    fn steps(&mut self, steps: &[Instruction]) -> OrHalt {
        for (at, step) in steps.iter().enumerate() {
            let rest = steps.get(at + 1..).unwrap_or_default();
            if let Some(beside) = rest.first()
                && let Action::Together { steps, when } = &beside.action
                && self.is_for(beside)
            {
                let first = match &step.action {
                    Action::Group { steps, .. } => steps.first(),
                    _ => Some(step),
                };
                if let Some(Action::Shape(ShapedPart {
                    place: place @ (RowPlace::Armhole | RowPlace::Neck),
                    ..
                })) = first.map(|step| &step.action)
                {
                    // The first of the two streams says which edge is which.
                    self.edge_now(*place == RowPlace::Armhole);
                }
                let wait = when.map_or(0, |when| self.rows_before(step, when));
                self.start_beside(step, steps, wait)?;
            }
            if self.is_for(step) {
                let from = self.here();
                self.step(step, rest)?;
                match &step.action {
                    Action::Count(_) => self.checked = self.here(),
                    Action::Change(_) | Action::Ended(_) | Action::EndedRow(_) => {}
                    Action::OfSide { .. } | Action::Rows(_) | Action::RowsNamed(_) => {}
                    _ => self.told = from,
                }
            } else if let Action::Row {
                label: Label::Numbered(_, last),
                ..
            } = step.action
            {
                self.skipped = Some(last);
            }
        }
        Ok(())
    }

    fn here(&self) -> Reached {
        Reached {
            count: self.count,
            rows: self.rows.len(),
        }
    }

    fn is_for(&self, step: &Instruction) -> bool {
        step.sizes
            .checked_shr(u32::try_from(self.setting.size).unwrap_or(63))
            .unwrap_or(0)
            & 1
            == 1
    }

    fn step(&mut self, step: &Instruction, rest: &[Instruction]) -> OrHalt {
        let span = step.span;
        self.spend(1, span)?;
        if self.is_over(step) {
            return Ok(());
        }
        self.unnumbered |= matches!(
            step.action,
            Action::Shape(_)
                | Action::Even(_)
                | Action::EvenLength { .. }
                | Action::Row {
                    label: Label::Next(_),
                    ..
                }
        );
        match &step.action {
            Action::Shape(part) => return self.shape(part),
            Action::Even(number) => return self.even(*number, span),
            Action::EvenLength {
                number,
                unit,
                more,
                whole_work,
            } => {
                return self.even_length((*number, *unit), *more, *whole_work, rest, span);
            }
            Action::Row { label, side, body } => return self.told_row(*label, *side, body, span),
            Action::Repeat {
                what,
                extent,
                more,
                in_all,
                choice,
            } => {
                let told = (*more, *in_all, *choice);
                return self.repeat(*what, *extent, told, span);
            }
            Action::Group { steps, extent } => return self.group(steps, *extent, span),
            Action::Close(stated) => return self.close(*stated, span),
            Action::Hold(stated) => return self.hold(*stated, span),
            Action::Within { rows, steps } => return self.within(*rows, steps, span),
            Action::Divide { both_at_once } => self.announce(*both_at_once),
            Action::Begin(_) => {}
            Action::Saddle => self.over = Some(LeftOut::Saddle),
            Action::OtherSide { rejoined } => self.other_side(*rejoined, span),
            Action::Count(stated) => self.check_count(*stated, span),
            Action::Change(stated) => self.check_change(*stated, span),
            Action::Ended(side) => return self.ended(*side, span),
            Action::OfSide { side, next } => self.check_side(*side, *next, span),
            Action::Reach(side) => return self.reach_side(Some(*side), true, span),
            Action::Rows(rows) => return self.check_rows(*rows, span),
            Action::RowsNamed(rows) => self.check_rows_named(*rows, span),
            Action::EndedRow(number) => return self.ended_row(*number, span),
            Action::Star => self.star = Some(self.rows.len()),
            Action::Mark => self.marks.push(self.rows.len()),
            Action::Together { .. } => {}
        }
        Ok(())
    }

    /// Takes so much work; says so when none is left.
    fn spend(&mut self, work: usize, span: Span) -> OrHalt {
        if let Some(left) = self.steps_left.checked_sub(work) {
            self.steps_left = left;
            return Ok(());
        }
        self.steps_left = 0;
        if !self.findings.iter().any(|f| f.kind == FindingKind::TooMuch) {
            self.find(FindingKind::TooMuch, span);
        }
        Err(Halt)
    }

    /// The side of the next row.
    fn side(&self) -> Side {
        if self.rows.len().is_multiple_of(2) {
            self.setting.first
        } else {
            self.setting.first.turned()
        }
    }

    fn find(&mut self, kind: FindingKind, span: Span) {
        let row = u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        self.findings.push(RowFinding { kind, span, row });
    }

    /// The number for this size; `None` where the size skips the step or it is no whole number.
    fn number(&mut self, num: Num, span: Span) -> Option<u32> {
        let value = self.program.number(num, self.setting.size)?;
        let count = whole(value);
        if count.is_none() {
            let place = self.program.span(num).unwrap_or(span);
            self.find(FindingKind::NotWhole { value }, place);
        }
        count
    }

    /// Works one row, with what goes on beside it.
    fn work(&mut self, main: RowEnds, span: Span) -> OrHalt {
        if self.closed {
            self.find(FindingKind::AfterTheEnd, span);
            return Err(Halt);
        }
        if self.rows.len() >= MAX_ROWS {
            self.find(FindingKind::TooLong, span);
            return Err(Halt);
        }
        self.pass = None;
        let done = main.and(self.beside.pop_front().unwrap_or_default());
        let side = self.side();
        let Some(left) = self.count.checked_sub(done.removed()) else {
            self.find(
                FindingKind::TooManyRemoved {
                    take: done.removed(),
                    have: self.count,
                },
                span,
            );
            return Err(Halt);
        };
        self.count = left.saturating_add(done.added());
        if done.added() > MAX_STITCHES || self.count > MAX_STITCHES && done.added() > 0 {
            self.find(FindingKind::TooWide, span);
            return Err(Halt);
        }
        if main.shapes() {
            self.last = Some(Last {
                row: self.rows.len(),
                done: main,
                side,
            });
        }
        self.rows.push(self.ledger_row(done, side, span));
        self.done.push(main);
        // Whatever took the last stitch closed the piece.
        self.closed |= self.count == 0;
        Ok(())
    }

    fn ledger_row(&self, done: RowEnds, side: Side, span: Span) -> LedgerRow {
        LedgerRow {
            row: u32::try_from(self.rows.len() + 1).unwrap_or(u32::MAX),
            side,
            bind_off: Stitches(done.bind_off),
            decrease_start: Stitches(done.dec_start.saturating_add(done.spread.div_ceil(2))),
            decrease_end: Stitches(done.dec_end.saturating_add(done.spread / 2)),
            increase_start: Stitches(done.inc_start),
            increase_end: Stitches(done.inc_end),
            stitches: Stitches(self.count),
            span,
        }
    }

    fn plain(&mut self, rows: u32, span: Span) -> OrHalt {
        for _ in 0..rows {
            self.work(RowEnds::default(), span)?;
        }
        Ok(())
    }

    /// The decrease row once more; one stitch at each end where the lines have not told it.
    fn again(&mut self, span: Span) -> RowEnds {
        if let Some(last) = self.last.filter(|l| !l.is_bind_off()) {
            return last.done;
        }
        self.find(FindingKind::DecRow, span);
        RowEnds {
            dec_start: 1,
            dec_end: 1,
            ..RowEnds::default()
        }
    }

    /// Rows of fabric so far, from the first bind-off on where there is one.
    fn height(&self) -> Rows {
        let first = self.rows.iter().position(LedgerRow::binds_off);
        let since = self.rows.len() - first.unwrap_or(0);
        Rows(u32::try_from(since).unwrap_or(u32::MAX))
    }

    /// So many rows in all, with the shaping of these steps on some of them.
    fn within(&mut self, rows: Num, steps: &[Instruction], span: Span) -> OrHalt {
        let Some(number) = self.number(rows, span) else {
            return Ok(());
        };
        let number = usize::try_from(number).unwrap_or(usize::MAX);
        let end = self.rows.len().saturating_add(number);
        let outer = self.within.replace(end);
        let worked = self.steps(steps);
        self.within = outer;
        worked?;
        let Some(left) = end.checked_sub(self.rows.len()) else {
            let worked = u32::try_from(self.rows.len() + number - end).unwrap_or(u32::MAX);
            let told = u32::try_from(number).unwrap_or(u32::MAX);
            self.find(FindingKind::Within { told, worked }, span);
            return Ok(());
        };
        self.spaced = false;
        self.plain(u32::try_from(left).unwrap_or(u32::MAX), span)
    }
}
