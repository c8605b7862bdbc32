//! The circular needle: stitches with their columns, markers, wraps and double stitches.
//!
//! Stitches lie in the order they were picked up. An RS row and a round move forward along that
//! order, a WS row moves back. The place between two stitches where the needle tips meet is `at`.
//!
//! A double stitch (German short rows) is the stitch of the turn pulled up until the row below
//! shows: it counts as not worked in the row of its turn (common practice, no source), so that
//! both methods give every column the same number of rows.

use super::codes;
use crate::diagnostic::Code;
use crate::measure::{STITCH_COUNT, Side};
use crate::plan::Section;

/// What the last turn left on a stitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    Plain,
    /// Wrapped, together with so many in all.
    Wrapped(u32),
    /// A double stitch.
    Double,
}

/// One stitch on the needle: the picked-up stitches it stands on, and a marker after it.
#[derive(Clone, Debug)]
pub(crate) struct NeedleStitch {
    pub(crate) columns: Vec<usize>,
    pub(crate) state: State,
    pub(crate) marker: bool,
    /// Row in which it was last worked; 0 for never.
    pub(crate) last_row: u32,
    /// True when that was a decrease.
    pub(crate) decreased: bool,
}

/// A picked-up stitch on its way.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Picked {
    pub(crate) section: Section,
    pub(crate) live: bool,
    pub(crate) rows: u32,
    pub(crate) first_row: Option<u32>,
    pub(crate) decreased_row: Option<u32>,
}

/// Why something cannot be knitted, in a knitter's words.
#[derive(Clone, Debug)]
pub(crate) struct Slip {
    pub(crate) code: &'static Code,
    pub(crate) message: String,
}

impl Slip {
    pub(crate) fn new(code: &'static Code, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
        }
    }

    pub(super) fn impossible(message: impl Into<String>) -> Self {
        Self::new(&codes::IMPOSSIBLE, message)
    }
}

/// The needle.
#[derive(Clone, Debug)]
pub(crate) struct Needle {
    pub(crate) stitches: Vec<NeedleStitch>,
    pub(crate) picked: Vec<Picked>,
    /// The tips meet before this stitch.
    pub(crate) at: usize,
    /// The side of the row on the needle or, between rows, of the next one.
    pub(crate) side: Side,
    pub(crate) row: u32,
    pub(crate) turns: u32,
    pub(crate) decreases: u32,
    /// Stitches worked so far, one for each stitch of each row or round.
    pub(crate) loops: u32,
    /// The picked-up stitches the last turn was made on.
    pub(crate) turned_on: Vec<usize>,
    /// From the join on the base may be worked.
    pub(crate) base_open: bool,
}

impl Needle {
    pub(crate) fn empty() -> Self {
        Self {
            stitches: Vec::new(),
            picked: Vec::new(),
            at: 0,
            side: Side::Rs,
            row: 0,
            turns: 0,
            decreases: 0,
            loops: 0,
            turned_on: Vec::new(),
            base_open: false,
        }
    }

    pub(crate) fn pick_up(&mut self, section: Section, live: bool) {
        self.stitches.push(NeedleStitch {
            columns: vec![self.picked.len()],
            state: State::Plain,
            marker: false,
            last_row: 0,
            decreased: false,
        });
        self.picked.push(Picked {
            section,
            live,
            rows: 0,
            first_row: None,
            decreased_row: None,
        });
    }

    /// A marker after the last picked-up stitch.
    pub(crate) fn place_marker(&mut self) {
        if let Some(last) = self.stitches.last_mut() {
            last.marker = true;
        }
    }

    pub(crate) fn section(&self, stitch: &NeedleStitch) -> Section {
        let column = stitch.columns.first().and_then(|c| self.picked.get(*c));
        column.map_or(Section::Crown, |picked| picked.section)
    }

    pub(crate) fn is_worked(&self, stitch: &NeedleStitch) -> bool {
        let rows = |c: &usize| self.picked.get(*c).map_or(0, |picked| picked.rows);
        stitch.state == State::Plain && stitch.columns.iter().any(|c| rows(c) > 0)
    }

    pub(crate) fn start_row(&mut self) {
        self.row += 1;
        self.turned_on.clear();
    }

    /// The index of the stitch `steps` ahead: 0 is the next one.
    pub(super) fn ahead(&self, steps: usize) -> Option<usize> {
        let n = self.stitches.len();
        if n == 0 || steps >= n {
            return None;
        }
        Some(match self.side {
            Side::Rs => (self.at + steps) % n,
            Side::Ws => (self.at + 2 * n - 1 - steps) % n,
        })
    }

    pub(crate) fn look(&self, steps: usize) -> Option<&NeedleStitch> {
        self.stitches.get(self.ahead(steps)?)
    }

    /// True when a marker lies right before the next stitch.
    pub(crate) fn at_marker(&self) -> bool {
        let n = self.stitches.len();
        let behind = (self.at + n).checked_sub(1).and_then(|i| i.checked_rem(n));
        behind
            .and_then(|i| self.stitches.get(i))
            .is_some_and(|s| s.marker)
    }

    pub(super) fn move_past(&mut self, index: usize) {
        self.at = match self.side {
            Side::Rs => index + 1,
            Side::Ws => index,
        };
    }

    /// The next stitch may be worked: it exists, was not worked in this row, is not out of bounds.
    fn workable(&self, steps: usize) -> Result<usize, Slip> {
        let index = self
            .ahead(steps)
            .ok_or_else(|| Slip::impossible("there are too few stitches on the needle"))?;
        let stitch = self.stitches.get(index);
        let stitch = stitch.ok_or_else(|| Slip::impossible("there is no stitch left"))?;
        if stitch.last_row == self.row {
            return Err(Slip::impossible("the row runs into its own beginning"));
        }
        if !self.base_open && self.is_out_of_bounds(stitch) {
            return Err(Slip::new(
                &codes::PAST_MARKER,
                "it works past the base marker",
            ));
        }
        Ok(index)
    }

    /// Short rows never reach the base or, where there is none, the other flank's waiting stitches.
    fn is_out_of_bounds(&self, stitch: &NeedleStitch) -> bool {
        let beyond = match self.side {
            Side::Rs => Section::Second,
            Side::Ws => Section::First,
        };
        let section = self.section(stitch);
        section == Section::Base || (section == beyond && !self.is_worked(stitch))
    }

    fn mark_worked(&mut self, index: usize, decreased: bool) {
        let row = self.row;
        let Some(stitch) = self.stitches.get_mut(index) else {
            return;
        };
        stitch.state = State::Plain;
        stitch.last_row = row;
        stitch.decreased = decreased;
        self.loops += 1;
        for &column in &stitch.columns {
            if let Some(picked) = self.picked.get_mut(column) {
                picked.rows += 1;
                picked.first_row.get_or_insert(row);
            }
        }
    }

    /// Works the next stitch, whatever it is.
    pub(crate) fn work(&mut self) -> Result<(), Slip> {
        let index = self.workable(0)?;
        self.mark_worked(index, false);
        self.move_past(index);
        Ok(())
    }

    /// Works `n` stitches none of which is wrapped or double.
    pub(crate) fn work_plain(&mut self, n: u32) -> Result<(), Slip> {
        for _ in 0..n {
            let index = self.workable(0)?;
            if self
                .stitches
                .get(index)
                .is_some_and(|s| s.state != State::Plain)
            {
                return Err(Slip::impossible("a turned stitch comes too early"));
            }
            self.work()?;
        }
        Ok(())
    }

    /// Works the next two stitches together.
    pub(crate) fn together(&mut self) -> Result<(), Slip> {
        let first = self.workable(0)?;
        let second = self.workable(1)?;
        self.merge(first, second);
        Ok(())
    }

    fn merge(&mut self, first: usize, second: usize) {
        let removed = self.stitches.remove(second);
        for column in &removed.columns {
            if let Some(picked) = self.picked.get_mut(*column) {
                picked.decreased_row.get_or_insert(self.row);
            }
        }
        let kept = if second < first { first - 1 } else { first };
        let forward = self.side == Side::Rs;
        if let Some(stitch) = self.stitches.get_mut(kept) {
            stitch.columns.extend(removed.columns);
            stitch.columns.sort_unstable();
            // A marker between the two comes off; going back the first one's lies outside.
            if forward {
                stitch.marker = removed.marker;
            }
        }
        self.mark_worked(kept, true);
        self.move_past(kept);
        self.decreases += 1;
    }

    /// Room for so many stitches more.
    pub(super) fn has_room(&self, more: usize) -> Result<(), Slip> {
        let all = f64::from(self.len()) + more as f64;
        if all <= STITCH_COUNT.max {
            return Ok(());
        }
        Err(Slip::impossible(format!(
            "{all} sts are more than a needle has: {} at the most",
            STITCH_COUNT.max
        )))
    }

    /// Makes one new stitch between the needle tips.
    pub(crate) fn increase(&mut self) -> Result<(), Slip> {
        self.has_room(1)?;
        let stitch = NeedleStitch {
            columns: Vec::new(),
            state: State::Plain,
            marker: false,
            last_row: self.row,
            decreased: false,
        };
        let at = self.at.min(self.stitches.len());
        self.stitches.insert(at, stitch);
        self.at = at + 1;
        self.loops += 1;
        Ok(())
    }

    /// The stitch before the needle tip is gone: counted, and not there.
    pub(crate) fn lose_last(&mut self) -> Result<(), Slip> {
        let n = self.stitches.len();
        let last = (self.at + n).checked_sub(1).and_then(|i| i.checked_rem(n));
        let Some(last) = last.filter(|_| n > 1) else {
            return Err(Slip::impossible("no st is left that could be missing"));
        };
        self.stitches.remove(last);
        self.at = last;
        Ok(())
    }

    /// Stitches worked so far, those turned on left out.
    pub(crate) fn worked(&self) -> u32 {
        count(self.stitches.iter().filter(|s| self.is_worked(s)))
    }

    /// Stitches of a section that are not worked yet.
    pub(crate) fn waiting(&self, section: Section) -> u32 {
        let of_it = self.stitches.iter().filter(|s| self.section(s) == section);
        count(of_it.filter(|s| !self.is_worked(s)))
    }

    /// Stitches a turn left and no row has worked since.
    pub(crate) fn turned(&self) -> impl Iterator<Item = &NeedleStitch> {
        self.stitches.iter().filter(|s| s.state != State::Plain)
    }

    pub(crate) fn len(&self) -> u32 {
        count(self.stitches.iter())
    }
}

fn count<T>(items: impl Iterator<Item = T>) -> u32 {
    u32::try_from(items.count()).unwrap_or(u32::MAX)
}
