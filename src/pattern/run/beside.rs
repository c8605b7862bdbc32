//! Shaping that goes on at the same time as other shaping.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::super::finding::FindingKind;
use super::super::program::{Action, Extent, Instruction, Label, When};
use super::{OrHalt, RowEnds, SizeRun};
use crate::diagnostic::Span;

/// True for shaping that goes on until so many stitches are left.
fn has_until(step: &Instruction) -> bool {
    match &step.action {
        Action::Shape(part) => matches!(part.extent, Extent::Until(_)),
        Action::Repeat { extent, .. } => matches!(extent, Extent::Until(_)),
        Action::Group { steps, extent } => {
            matches!(extent, Extent::Until(_)) || steps.iter().any(has_until)
        }
        _ => false,
    }
}

fn since(before: usize, now: usize) -> u32 {
    u32::try_from(now.saturating_sub(before)).unwrap_or(u32::MAX)
}

impl SizeRun<'_> {
    /// This run as it stands, to work something on the side.
    pub(super) fn aside(&mut self) -> Self {
        // Its rows are copied: that counts as work too.
        self.steps_left = self.steps_left.saturating_sub(self.rows.len());
        Self {
            start: self.start,
            divided: self.divided,
            waiting: None,
            both_at_once: self.both_at_once,
            dividing: self.dividing,
            within: self.within,
            held: self.held,
            over: self.over,
            over_told: true,
            told: self.told,
            checked: self.checked,
            program: self.program,
            setting: self.setting,
            count: self.count,
            rows: self.rows.clone(),
            done: self.done.clone(),
            findings: Vec::new(),
            met: BTreeSet::new(),
            last: self.last,
            edge: self.edge,
            beside: VecDeque::new(),
            labels: BTreeMap::new(),
            label: None,
            label_at: 0,
            unnumbered: false,
            told_from: 0,
            anew: false,
            skipped: None,
            named: None,
            others_told: self.others_told,
            every_second: self.every_second,
            pass: None,
            star: self.star,
            marks: self.marks.clone(),
            spaced: false,
            closed: self.closed,
            below: self.below,
            steps_left: self.steps_left,
        }
    }

    /// Rows of this step before a condition holds; all of them when it never does.
    pub(super) fn rows_before(&mut self, step: &Instruction, when: When) -> u32 {
        let mut other = self.aside();
        let _ = other.step(step, &[]);
        self.steps_left = other.steps_left;
        let wanted = match when {
            When::Count(number) => self.number(number, step.span).map(|n| (Some(n), 0)),
            When::Measures(number, unit) => {
                self.rows_until(number, unit, step.span).map(|r| (None, r))
            }
        };
        let new = other.rows.get(self.rows.len()..).unwrap_or_default();
        let held = match wanted {
            Some((Some(count), _)) if self.count <= count => Some(0),
            Some((Some(count), _)) => new
                .iter()
                .position(|r| r.stitches.count() <= count)
                .map(|at| at + 1),
            Some((None, rows)) => usize::try_from(rows).ok(),
            None => None,
        };
        u32::try_from(held.unwrap_or(new.len())).unwrap_or(u32::MAX)
    }

    /// Works instructions on the side, so that their rows go with those of the next one.
    pub(super) fn start_beside(
        &mut self,
        main: &Instruction,
        steps: &[Instruction],
        wait: u32,
    ) -> OrHalt {
        let mut other = self.aside();
        if steps.iter().any(has_until) {
            // The count falls with both.
            if has_until(main) {
                self.find(FindingKind::BothUntil, main.span);
            }
            let mut first = self.aside();
            let _ = first.step(main, &[]);
            self.steps_left = first.steps_left;
            other.beside.extend(first.done.iter().skip(self.rows.len()));
        }
        // `on the 3rd row` is counted from the first row of both.
        other.label_at = self.rows.len();
        (other.others_told, other.every_second) = (true, None);
        other.label = Some(match (&main.action, self.label) {
            (
                Action::Row {
                    label: Label::Numbered(first, _),
                    ..
                },
                _,
            ) => first.saturating_sub(1),
            (_, Some(label)) => label.saturating_add(since(self.label_at, self.rows.len())),
            _ => 0,
        });
        let span = steps.first().map_or(Span::new(0, 0), |s| s.span);
        let worked = other.plain(wait, span).and_then(|()| other.steps(steps));
        self.findings.append(&mut other.findings);
        self.met.append(&mut other.met);
        self.edge = other.edge;
        self.steps_left = other.steps_left;
        self.beside.extend(other.done.iter().skip(self.rows.len()));
        worked
    }

    /// Rows of the second stream that go on after the first has ended.
    pub(super) fn rest_beside(&mut self) -> OrHalt {
        let span = self.rows.last().map_or(Span::new(0, 0), |r| r.span);
        while !self.closed && !self.beside.is_empty() {
            self.work(RowEnds::default(), span)?;
        }
        Ok(())
    }
}
