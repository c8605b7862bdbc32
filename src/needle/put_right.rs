//! A cap under way: where it goes on, and stitches put right on the needle among those that wait.

use super::codes;
use super::knitter::Knitter;
use super::machine::{Needle, NeedleStitch, Picked, Slip, State};
use crate::measure::Stitches;
use crate::plan::Section;

impl Knitter<'_> {
    /// As many rows as are said to be worked, the last of them a WS row.
    pub(crate) fn cap_so_far(&mut self, rows: u32) -> Result<(), Slip> {
        if rows == self.needle.row && rows > 0 && rows.is_multiple_of(2) {
            return Ok(());
        }
        let message = format!(
            "{rows} rows are said to be worked, but this is row {}",
            self.needle.row
        );
        Err(Slip::new(&codes::ORDER, message))
    }

    /// Stitches passed over their neighbours, or strands lifted between two: so many are skipped before each.
    pub(crate) fn put_right(
        &mut self,
        section: Section,
        made: bool,
        (skips, left): (&[u32], u32),
    ) -> Result<(), Slip> {
        if self.joined || section == Section::Base {
            return Err(Slip::impossible("nothing waits there any more"));
        }
        let waiting = self.needle.waiting_places(section);
        // Stitches counted off so far.
        let mut off = 0_usize;
        let mut at = Vec::new();
        for &skip in skips {
            off += skip as usize;
            let place = |n: usize| waiting.get(n).copied();
            let first = if made {
                off.checked_sub(1).and_then(place)
            } else {
                place(off)
            };
            let next = place(if made { off } else { off + 1 });
            let (Some(first), Some(_)) = (first, next) else {
                return Err(Slip::impossible(format!(
                    "after {off} of the {} sts that wait no two lie beside one another",
                    waiting.len()
                )));
            };
            off += if made { 0 } else { 2 };
            at.push(first);
        }
        if off + left as usize != waiting.len() {
            return Err(Slip::impossible(format!(
                "{off} sts are counted off and {left} are said to be left, but {} wait",
                waiting.len()
            )));
        }
        if made {
            self.needle.has_room(at.len())?;
        }
        // From the end, so that the places before stay what they are.
        for place in at.into_iter().rev() {
            let of = if made {
                self.needle.lift_after(place, section)
            } else {
                self.needle.pass_over(place)?
            };
            self.restretch(section, of, made);
        }
        Ok(())
    }

    /// A stretch of the pick-up has a stitch more or fewer: the one that holds this stitch of its section.
    fn restretch(&mut self, section: Section, of_section: u32, made: bool) {
        let mut before = 0;
        let stretches = self.out.stretches.iter_mut();
        for stretch in stretches.filter(|stretch| stretch.section == section) {
            let here = stretch.stitches.count();
            if of_section < before + here {
                stretch.stitches = Stitches(if made { here + 1 } else { here - 1 });
                return;
            }
            before += here;
        }
    }
}

impl Needle {
    /// Where the stitches of a section lie that wait.
    fn waiting_places(&self, section: Section) -> Vec<usize> {
        let stitches = self.stitches.iter().enumerate();
        let waiting = stitches.filter(|(_, s)| self.section(s) == section && !self.is_worked(s));
        waiting.map(|(i, _)| i).collect()
    }

    /// The stitch is gone. Returns its place in its section.
    fn pass_over(&mut self, place: usize) -> Result<u32, Slip> {
        let stitch = self.stitches.get(place);
        let free = stitch.filter(|s| s.state == State::Plain && !s.marker);
        let Some(&[column]) = free.map(|s| s.columns.as_slice()) else {
            return Err(Slip::impossible("a turned st cannot be passed over"));
        };
        let of = self.of_section(column);
        self.stitches.remove(place);
        self.picked.remove(column);
        self.renumber(|c| if c > column { c - 1 } else { c });
        if place < self.at {
            self.at -= 1;
        }
        Ok(of)
    }

    /// A strand becomes a stitch after this one. Returns the place of this one in its section.
    fn lift_after(&mut self, place: usize, section: Section) -> u32 {
        let before = self.stitches.get(place).and_then(|s| s.columns.last());
        let column = before.map_or(self.picked.len(), |c| c + 1);
        let of = self.of_section(column.saturating_sub(1));
        self.renumber(|c| if c >= column { c + 1 } else { c });
        let picked = Picked {
            section,
            live: false,
            rows: 0,
            first_row: None,
            decreased_row: None,
        };
        self.picked.insert(column, picked);
        let stitch = NeedleStitch {
            columns: vec![column],
            state: State::Plain,
            marker: false,
            last_row: 0,
            decreased: false,
        };
        self.stitches.insert(place + 1, stitch);
        if place < self.at {
            self.at += 1;
        }
        of
    }

    fn of_section(&self, column: usize) -> u32 {
        let section = self.picked.get(column).map(|picked| picked.section);
        let before = self.picked.iter().take(column);
        let of = before
            .filter(|picked| Some(picked.section) == section)
            .count();
        u32::try_from(of).unwrap_or(u32::MAX)
    }

    fn renumber(&mut self, to: impl Fn(usize) -> usize) {
        let columns = self.stitches.iter_mut().flat_map(|s| s.columns.iter_mut());
        for column in columns.chain(self.turned_on.iter_mut()) {
            *column = to(*column);
        }
    }
}
