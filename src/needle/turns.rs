//! Turns on the needle: wraps, double stitches, and the rows that meet them again.

use super::codes;
use super::machine::{Needle, Slip, State};
use crate::plan::Section;

impl Needle {
    /// Works up to the stitch the last turn on this side left, or to `before` stitches before it.
    pub(crate) fn work_to_turned(&mut self, before: u32) -> Result<(), Slip> {
        let n = self.stitches.len();
        let distance = (0..n).find(|i| self.look(*i).is_some_and(|s| s.state != State::Plain));
        let distance = distance
            .ok_or_else(|| Slip::impossible("no stitch was turned on at this side of the row"))?;
        let steps = distance
            .checked_sub(before as usize)
            .ok_or_else(|| Slip::impossible("there is no stitch before the turned one"))?;
        let unworked = (0..distance).any(|i| self.look(i).is_some_and(|s| !self.is_worked(s)));
        if unworked && !self.base_open {
            return Err(Slip::impossible(
                "stitches never worked lie before the turned one",
            ));
        }
        for _ in 0..steps {
            self.work()?;
        }
        Ok(())
    }

    /// Works the turned stitch that comes next: wrapped alone, or double.
    pub(crate) fn work_turned(&mut self, wanted: State) -> Result<(), Slip> {
        let found = self.look(0).map(|s| s.state);
        match (wanted, found) {
            (State::Wrapped(_), Some(State::Wrapped(1))) | (State::Double, Some(State::Double)) => {
                self.work()
            }
            (State::Wrapped(_), Some(State::Wrapped(n))) => Err(Slip::impossible(format!(
                "{n} sts were wrapped together at the last turn, and only one is worked"
            ))),
            (State::Double, _) => Err(Slip::impossible("the next st is not a double st")),
            _ => Err(Slip::impossible("the next st is not a wrapped st")),
        }
    }

    /// Works the stitches wrapped together as one: `n` of them, and `n` is two.
    pub(crate) fn work_wrapped_together(&mut self, n: u32) -> Result<(), Slip> {
        let wrapped = (0..n as usize)
            .take_while(|i| self.look(*i).is_some_and(|s| s.state == State::Wrapped(n)))
            .count();
        if n != 2 || wrapped != n as usize {
            return Err(Slip::impossible(format!(
                "no {n} sts were wrapped together at the last turn on this side"
            )));
        }
        self.together()
    }

    /// Works the turned stitch that comes next together with the one after it, never worked before.
    pub(crate) fn work_with_next(&mut self, double: bool) -> Result<(), Slip> {
        let turned = match self.look(0).map(|s| s.state) {
            Some(State::Wrapped(1)) => !double,
            Some(State::Double) => double,
            _ => false,
        };
        let waits =
            |s: &super::machine::NeedleStitch| s.state == State::Plain && !self.is_worked(s);
        if !turned || !self.look(1).is_some_and(waits) {
            return Err(Slip::impossible(
                "these two are not the turned st and a waiting one after it",
            ));
        }
        self.together()
    }

    /// Works the next stitch together with the turned one after it.
    pub(crate) fn work_with_neighbour(&mut self) -> Result<(), Slip> {
        let state = |i| self.look(i).map(|s| s.state);
        let turned = matches!(state(1), Some(State::Wrapped(1) | State::Double));
        if state(0) != Some(State::Plain) || !turned {
            return Err(Slip::impossible(
                "these two are not the turned st and the one before it",
            ));
        }
        self.together()
    }

    /// Wraps the next `n` stitches together.
    pub(crate) fn wrap(&mut self, n: u32) -> Result<(), Slip> {
        for i in 0..n as usize {
            let index = self
                .ahead(i)
                .ok_or_else(|| Slip::impossible("there is no stitch left to wrap"))?;
            let Some(stitch) = self.stitches.get(index) else {
                return Err(Slip::impossible("there is no stitch left to wrap"));
            };
            if self.is_worked(stitch) || stitch.last_row == self.row {
                return Err(Slip::impossible("the st to wrap was worked before"));
            }
            if n > 1 && self.section(stitch) == Section::Base {
                return Err(Slip::new(
                    &codes::PAST_MARKER,
                    "it wraps sts past the base marker together",
                ));
            }
            if let Some(stitch) = self.stitches.get_mut(index) {
                stitch.state = State::Wrapped(n);
                self.turned_on.extend(&stitch.columns);
            }
        }
        Ok(())
    }

    /// The decrease of a German turn: the next two, never worked before, together.
    pub(crate) fn together_for_double(&mut self) -> Result<(), Slip> {
        let worked = |i| self.look(i).is_none_or(|s| self.is_worked(s));
        if worked(0) || worked(1) {
            return Err(Slip::impossible("the sts to turn on were worked before"));
        }
        self.together()
    }

    /// Works the stitches of a German turn: the last of them becomes double. The turn may lie on
    /// the first base stitch.
    pub(crate) fn work_for_double(&mut self, n: u32) -> Result<(), Slip> {
        for _ in 0..n {
            let next = self.look(0).is_some_and(|s| self.is_worked(s));
            if next {
                return Err(Slip::impossible("the st to turn on was worked before"));
            }
            let open = std::mem::replace(&mut self.base_open, true);
            let done = self.work();
            self.base_open = open;
            done?;
        }
        Ok(())
    }

    pub(crate) fn turn(&mut self) {
        self.side = self.side.turned();
        self.turns += 1;
    }

    /// After a German turn: the stitch just worked is pulled up and slipped.
    pub(crate) fn pull_double(&mut self) -> Result<(), Slip> {
        let index = self
            .ahead(0)
            .ok_or_else(|| Slip::impossible("there is no st to make double"))?;
        let Some(stitch) = self.stitches.get_mut(index) else {
            return Err(Slip::impossible("there is no st to make double"));
        };
        stitch.state = State::Double;
        self.turned_on.clone_from(&stitch.columns);
        self.loops = self.loops.saturating_sub(1);
        for column in &stitch.columns {
            if let Some(picked) = self.picked.get_mut(*column) {
                picked.rows = picked.rows.saturating_sub(1);
                if picked.rows == 0 {
                    picked.first_row = None;
                }
            }
        }
        self.move_past(index);
        Ok(())
    }
}
