//! The rows of the pick-up one by one: what the rates say, held against what the list says.

use super::codes;
use super::knitter::{Knitter, Listed, RatedStretch};
use super::machine::Slip;
use super::said::{CountedFrom, PickUpPart};
use crate::plan::{Flank, Section};

impl Knitter<'_> {
    pub(crate) fn note_rates(
        &mut self,
        section: Section,
        stitches: u32,
        rates: &[(u32, u32, u32)],
    ) {
        let after_live = self.needle.picked.iter().any(|p| p.live);
        self.stretches.push(RatedStretch {
            section,
            after_live: after_live && section == Section::Crown,
            stitches,
            rates: rates.to_vec(),
            mirrored: false,
            seam: false,
        });
    }

    /// Stitches of the seam, after the half of the crown before it. The knitter sees one stretch over both sides.
    pub(crate) fn in_seam(&mut self, section: Section, stitches: u32) -> Result<(), Slip> {
        let half = self.half_crown(section)?;
        if stitches > 1 || half.seam {
            return Err(Slip::impossible("a seam has room for one st"));
        }
        half.seam = stitches > 0;
        if stitches > 0 {
            self.pick(section, stitches, false)?;
            self.stretch_goes_on(stitches, 0);
        }
        Ok(())
    }

    /// The half of the crown before the seam once more.
    pub(crate) fn mirror(&mut self, section: Section) -> Result<(), Slip> {
        let half = self.half_crown(section)?;
        half.mirrored = true;
        let stitches = half.stitches;
        let rows = self
            .out
            .stretches
            .last()
            .map_or(0, |half| half.rows.count());
        self.pick(section, stitches, false)?;
        self.stretch_goes_on(stitches, rows);
        Ok(())
    }

    fn half_crown(&mut self, section: Section) -> Result<&mut RatedStretch, Slip> {
        let half = self.stretches.last_mut();
        half.filter(|half| section == Section::Crown && !half.after_live && !half.mirrored)
            .ok_or_else(|| {
                Slip::new(
                    &codes::ORDER,
                    "no half of the crown was picked up before the seam",
                )
            })
    }

    /// Every row of the list is the row the rates give.
    pub(crate) fn row_list(
        &mut self,
        section: Section,
        flank: Option<Flank>,
        counted: CountedFrom,
        listed: &[u32],
        of: u32,
    ) -> Result<(), Slip> {
        let section = match flank {
            Some(flank) if self.out.first_flank != Some(flank) => Section::Second,
            _ => section,
        };
        let after_live = counted == CountedFrom::Live;
        let of_it = |s: &&RatedStretch| s.section == section && s.after_live == after_live;
        let stretches: Vec<&RatedStretch> = self.stretches.iter().filter(of_it).collect();
        let halves = stretches.iter().any(|s| s.mirrored);
        if halves != (counted == CountedFrom::Seam) {
            return Err(Slip::new(
                &codes::ORDER,
                "rows are counted from the seam where the crown has two halves, and only there",
            ));
        }
        let (rows, all) = match stretches.as_slice() {
            [half] if half.seam => from_the_end(half),
            [half] if half.mirrored => {
                let (rows, all) = rows_of(&stretches, true);
                (rows.into_iter().rev().collect(), all)
            }
            _ => rows_of(&stretches, section == Section::Second),
        };
        let stitches = stretches.iter().map(|s| s.stitches).sum();
        if stretches.is_empty() {
            return Err(Slip::new(
                &codes::ORDER,
                "the list is for a section that was not picked up at rates",
            ));
        }
        if all != of {
            let message = format!("the rates go over {all} rows, not {of}");
            self.say(&codes::COUNT, &message);
        }
        let different = rows.iter().zip(listed).find(|(a, b)| a != b);
        if let Some((row, other)) = different {
            let message = format!("the rates pick up in row {row}, the list says row {other}");
            self.say(&codes::RATE, &message);
        } else if rows.len() != listed.len() {
            let message = format!(
                "the rates give {} sts, the list {}",
                rows.len(),
                listed.len()
            );
            self.say(&codes::RATE, &message);
        }
        self.listed = Some(Listed {
            stitches,
            rows: all,
        });
        Ok(())
    }

    /// As many stitches over one row more or fewer.
    pub(crate) fn one_row_off(
        &mut self,
        more: bool,
        of: u32,
        parts: &[PickUpPart],
    ) -> Result<(), Slip> {
        let Some(listed) = self.listed else {
            return Err(Slip::new(
                &codes::ORDER,
                "no rows are listed before this sentence",
            ));
        };
        let wanted = if more {
            listed.rows.saturating_add(1)
        } else {
            listed.rows.saturating_sub(1)
        };
        let (mut stitches, mut rows) = (0u32, 0u32);
        for part in parts {
            if let PickUpPart::Along {
                stitches: some,
                rows: over,
                rates,
                ..
            } = part
            {
                self.check_sums(*some, *over, rates);
                stitches = stitches.saturating_add(*some);
                rows = rows.saturating_add(*over);
            }
        }
        // A stitch is left without a row only where there are fewer rows than stitches.
        if parts.is_empty() && listed.stitches <= wanted {
            let message = format!("{wanted} rows have one for each of {} sts", listed.stitches);
            self.say(&codes::RATE, &message);
        }
        if of != wanted || (!parts.is_empty() && (stitches, rows) != (listed.stitches, wanted)) {
            let message = format!(
                "it should be {} sts over {wanted} rows, not {stitches} over {rows} (of {of})",
                listed.stitches
            );
            self.say(&codes::COUNT, &message);
        }
        Ok(())
    }
}

/// The rows of a half crown beside a stitch in the seam, counted from the seam: as even as from the end up.
fn from_the_end(half: &RatedStretch) -> (Vec<u32>, u32) {
    let (rows, all) = rows_of(&[half], false);
    let from_seam = |row: u32| all.saturating_add(1).saturating_sub(row);
    (rows.into_iter().rev().map(from_seam).collect(), all)
}

/// The rows of these stretches, in the order of the pick-up, and how many rows they cover. A flank
/// that is picked up from the base up is the mirror image of one from the crown down, and its rows
/// are counted from the crown as well.
fn rows_of(stretches: &[&RatedStretch], upwards: bool) -> (Vec<u32>, u32) {
    let mut rates: Vec<(u32, u32, u32)> = stretches.iter().flat_map(|s| s.rates.clone()).collect();
    if upwards {
        rates.reverse();
    }
    let mut rows = Vec::new();
    let mut before = 0u32;
    let most = stretches.iter().map(|s| u64::from(s.stitches)).sum::<u64>();
    for (per, over, times) in rates {
        for _ in 0..times {
            // Rates that do not add up were reported; the list need not run on for ever.
            if rows.len() as u64 > most {
                return (rows, before);
            }
            rows.extend((0..per.min(over)).map(|i| before.saturating_add(row_in(i, per, over))));
            before = before.saturating_add(over);
        }
    }
    if upwards {
        rows.reverse();
    }
    (rows, before)
}

/// The row of the i-th of `per` stitches in `over` rows: as even as whole rows allow, the first in
/// the first row.
fn row_in(i: u32, per: u32, over: u32) -> u32 {
    let row = u64::from(i) * u64::from(over) / u64::from(per.max(1));
    u32::try_from(row).unwrap_or(u32::MAX).saturating_add(1)
}
