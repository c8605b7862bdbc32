//! Knitting the pick-up and the short rows.

use super::codes;
use super::knitter::Knitter;
use super::machine::{Slip, State};
use super::said::{Decrease, PickUpPart, RowLeftOut, RowTake, SideAction, TurnHow};
use crate::measure::{STITCH_COUNT, Side};
use crate::plan::{Flank, Section, step_label};

/// Rows from one picked-up stitch to the next beyond which a hole shows (common practice, no
/// source).
const MOST_ROWS_APART: u64 = 3;

impl Knitter<'_> {
    /// Picks up one section. The flank named first is the first one.
    pub(crate) fn pick_up(
        &mut self,
        section: Section,
        flank: Option<Flank>,
        parts: &[PickUpPart],
    ) -> Result<(), Slip> {
        let last = self.needle.picked.last().map(|picked| picked.section);
        let section = match flank {
            Some(flank) if self.out.first_flank.is_none() => {
                self.out.first_flank = Some(flank);
                if self.begins_on.is_none_or(|on| on == flank) {
                    self.say(
                        &codes::ORDER,
                        "the pick-up begins on one side of the shoulder and goes over it to the other",
                    );
                }
                Section::First
            }
            Some(_) => Section::Second,
            None => section,
        };
        self.check_section(section, last, flank)?;
        for part in parts {
            self.part(section, part)?;
        }
        if section == Section::Crown {
            self.check_start(parts);
        }
        self.check_left_out(section, parts);
        Ok(())
    }

    /// Stitches sit tight against the crown, those of the crown against the seam or the one in it: the row that is left out is
    /// the other end's.
    fn check_left_out(&mut self, section: Section, parts: &[PickUpPart]) {
        let halves = parts.contains(&PickUpPart::Mirror);
        let in_seam = parts
            .iter()
            .any(|p| matches!(p, PickUpPart::Seam(n) if *n > 0));
        let expected = match section {
            Section::Second => RowLeftOut::First,
            Section::Crown if halves && !in_seam => RowLeftOut::First,
            _ => RowLeftOut::Last,
        };
        let other = |part: &PickUpPart| matches!(part, PickUpPart::Along { left_out: Some(row), .. } if *row != expected);
        if parts.iter().any(other) {
            let message = match expected {
                RowLeftOut::First => "the row that is left out here is the first one",
                RowLeftOut::Last => "the row that is left out here is the last one",
            };
            self.say(&codes::RATE, message);
        }
    }

    fn check_section(
        &mut self,
        section: Section,
        last: Option<Section>,
        flank: Option<Flank>,
    ) -> Result<(), Slip> {
        let twice = section == Section::Second && flank.is_some() && flank == self.out.first_flank;
        if self.needle.row > 0 || last >= Some(section) || twice {
            return Err(Slip::new(
                &codes::ORDER,
                "the sections are picked up in the order crown, flank, base, other flank",
            ));
        }
        if section != Section::Crown && last.is_none() {
            return Err(Slip::new(
                &codes::ORDER,
                "the pick-up begins with the crown",
            ));
        }
        Ok(())
    }

    fn part(&mut self, section: Section, part: &PickUpPart) -> Result<(), Slip> {
        match part {
            PickUpPart::Along {
                stitches,
                rows,
                rates,
                ..
            } => {
                self.check_rates(*stitches, *rows, rates);
                self.pick(section, *stitches, false)?;
                self.note_stretch(section, *stitches, *rows, false);
                self.note_rates(section, *stitches, rates);
            }
            PickUpPart::Plain(stitches) => {
                self.pick(section, *stitches, false)?;
                self.note_stretch(section, *stitches, 0, false);
            }
            PickUpPart::Shown {
                stitches,
                shown,
                of,
                lost,
            } => {
                if shown != stitches || shown.checked_add(*lost) != Some(*of) {
                    let message = format!(
                        "{stitches} sts are picked up, but {shown} of {of} show and {lost} lie in the seam"
                    );
                    self.say(&codes::COUNT, &message);
                }
                self.pick(section, *stitches, false)?;
                self.note_stretch(section, *stitches, 0, false);
            }
            PickUpPart::Live(stitches) => {
                // The crown's are a saddle's; those of an underarm are a base like any other.
                let saddle = section == Section::Crown;
                self.pick(section, *stitches, saddle)?;
                self.note_stretch(section, *stitches, 0, saddle);
            }
            PickUpPart::Seam(stitches) => self.in_seam(section, *stitches)?,
            PickUpPart::Mirror => self.mirror(section)?,
            PickUpPart::Marker => self.needle.place_marker(),
            PickUpPart::Words => {}
        }
        Ok(())
    }

    pub(super) fn pick(&mut self, section: Section, stitches: u32, live: bool) -> Result<(), Slip> {
        let all = f64::from(self.needle.len()) + f64::from(stitches);
        if stitches == 0 || all > STITCH_COUNT.max {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                format!(
                    "{stitches} sts cannot be picked up (1 to {} on a needle)",
                    STITCH_COUNT.max
                ),
            ));
        }
        for _ in 0..stitches {
            self.needle.pick_up(section, live);
        }
        Ok(())
    }

    fn check_rates(&mut self, stitches: u32, rows: u32, rates: &[(u32, u32, u32)]) {
        self.check_sums(stitches, rows, rates);
        let apart = |r: &&(u32, u32, u32)| u64::from(r.1) > MOST_ROWS_APART * u64::from(r.0);
        if let Some((per, over, _)) = rates.iter().find(apart) {
            let message = format!(
                "a rate of {per} in {over} rows leaves sts more than {MOST_ROWS_APART} rows apart"
            );
            self.say(&codes::HOLE, &message);
        }
    }

    /// The rates give exactly these stitches and rows.
    pub(super) fn check_sums(&mut self, stitches: u32, rows: u32, rates: &[(u32, u32, u32)]) {
        let sum = |per: fn(&(u32, u32, u32)) -> u32| -> u128 {
            let each = rates.iter().map(|r| u128::from(per(r)) * u128::from(r.2));
            each.sum()
        };
        let (give, over) = (sum(|r| r.0), sum(|r| r.1));
        if give != u128::from(stitches) || over != u128::from(rows) {
            let message = format!(
                "the rates give {give} sts over {over} rows, not {stitches} sts over {rows} rows"
            );
            self.say(&codes::RATE, &message);
        }
    }

    /// The pick-up starts half of the crown's rows before the shoulder seam (the larger half of
    /// an odd number), or the first stretch's rows before the live stitches or the seam.
    fn check_start(&mut self, parts: &[PickUpPart]) {
        let middle = parts
            .iter()
            .any(|p| matches!(p, PickUpPart::Live(_) | PickUpPart::Mirror));
        let first = parts.iter().find_map(|p| match p {
            PickUpPart::Along { rows, .. } => Some(*rows),
            _ => None,
        });
        let expected = if middle {
            first
        } else {
            first.map(|rows| rows.div_ceil(2))
        };
        if expected != self.start_rows {
            let shown = |n: Option<u32>| n.map_or("nothing".to_owned(), |n| n.to_string());
            let message = format!(
                "the crown starts {} rows before the middle of the shoulder, but the pick-up says {}",
                shown(expected),
                shown(self.start_rows)
            );
            self.say(&codes::COUNT, &message);
        }
    }

    pub(crate) fn row_is(
        &mut self,
        number: u32,
        side: Side,
        knit: Option<bool>,
    ) -> Result<(), Slip> {
        let next = self.needle.row + 1;
        if number != next || side != self.needle.side {
            return Err(Slip::new(
                &codes::ORDER,
                format!(
                    "the next row is row {next} ({}), not row {number} ({side})",
                    self.needle.side
                ),
            ));
        }
        if knit.is_some_and(|knit| knit != (side == Side::Rs)) {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "RS rows of the crown are knitted, WS rows purled",
            ));
        }
        Ok(())
    }

    pub(crate) fn first_row(&mut self, stitches: u32, turn: TurnHow) -> Result<(), Slip> {
        let side = self.needle.side;
        self.needle.start_row();
        self.needle.work_plain(stitches)?;
        if !self.needle.at_marker() {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                format!("the marker does not lie after {stitches} sts"),
            ));
        }
        self.turn(turn, side)?;
        self.note_row(side);
        Ok(())
    }

    /// Steps are lettered A, B, ..., Z, AA, AB, ... without a gap.
    pub(crate) fn label_is(&mut self, label: &str) -> Result<(), Slip> {
        let expected = step_label(self.steps);
        self.steps += 1;
        if label == expected {
            return Ok(());
        }
        Err(Slip::new(
            &codes::ORDER,
            format!("step {expected} should come here, not step {label}"),
        ))
    }

    pub(crate) fn step(
        &mut self,
        times: u32,
        rs: &SideAction,
        ws: &SideAction,
    ) -> Result<(), Slip> {
        if times == 0 {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "a step is worked at least once",
            ));
        }
        for time in 1..=times {
            for (side, action) in [(Side::Rs, rs), (Side::Ws, ws)] {
                self.side_row(side, action, time == times)?;
            }
        }
        Ok(())
    }

    fn side_row(&mut self, side: Side, action: &SideAction, last: bool) -> Result<(), Slip> {
        if self.needle.row < 2 || self.needle.side != side {
            return Err(Slip::new(
                &codes::ORDER,
                format!(
                    "row {} is missing: it is a {} row",
                    self.needle.row + 1,
                    self.needle.side
                ),
            ));
        }
        self.needle.start_row();
        self.take(action.take, side)?;
        let turn = action.last_turn.filter(|_| last).unwrap_or(action.turn);
        self.turn(turn, side)?;
        self.note_row(side);
        Ok(())
    }

    fn take(&mut self, take: RowTake, side: Side) -> Result<(), Slip> {
        let needle = &mut self.needle;
        match take {
            RowTake::Turned { double, more } => {
                needle.work_to_turned(0)?;
                needle.work_turned(if double {
                    State::Double
                } else {
                    State::Wrapped(1)
                })?;
                needle.work_plain(more)
            }
            RowTake::Together {
                count,
                decrease,
                more,
            } => {
                needle.work_to_turned(0)?;
                needle.work_wrapped_together(count)?;
                needle.work_plain(more)?;
                self.check_lean(decrease, side);
                Ok(())
            }
            RowTake::WithNext {
                double,
                decrease,
                more,
            } => {
                needle.work_to_turned(0)?;
                needle.work_with_next(double)?;
                needle.work_plain(more)?;
                self.check_lean(decrease, side);
                Ok(())
            }
            RowTake::Neighbour {
                double,
                before,
                decrease,
                count,
            } => {
                needle.work_to_turned(before)?;
                let turned = needle.look(1).map(|s| s.state == State::Double);
                if count != 2 || turned != Some(double) {
                    return Err(Slip::new(
                        &codes::IMPOSSIBLE,
                        "these are not the turned st and the one before it",
                    ));
                }
                needle.work_with_neighbour()?;
                self.check_lean(decrease, side);
                Ok(())
            }
        }
    }

    fn turn(&mut self, turn: TurnHow, side: Side) -> Result<(), Slip> {
        match turn {
            TurnHow::Wrap(n) => {
                if n == 0 || n > 2 {
                    let message = format!("{n} sts cannot be wrapped together (1 or 2)");
                    return Err(Slip::new(&codes::IMPOSSIBLE, message));
                }
                self.needle.wrap(n)?;
                self.needle.turn();
                Ok(())
            }
            TurnHow::Plain => self.plain_turn(side),
            TurnHow::Double(n) => {
                self.needle.work_for_double(n)?;
                self.needle.turn();
                self.needle.pull_double()
            }
            TurnHow::DoubleTogether(decrease) => {
                self.needle.together_for_double()?;
                self.needle.turn();
                self.needle.pull_double()?;
                self.check_lean(decrease, side);
                Ok(())
            }
        }
    }

    /// Without a base there is nothing to wrap at the underarm.
    fn plain_turn(&mut self, side: Side) -> Result<(), Slip> {
        let flank = match side {
            Side::Rs => Section::First,
            Side::Ws => Section::Second,
        };
        let base = self
            .needle
            .picked
            .iter()
            .any(|p| p.section == Section::Base);
        if base || self.needle.waiting(flank) > 0 {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "a row turns without wrapping only where both flanks meet",
            ));
        }
        self.needle.turn();
        Ok(())
    }

    /// A cap decrease leans outwards: left where an RS row ends, right where a WS row ends.
    fn check_lean(&mut self, decrease: Decrease, side: Side) {
        let outwards = decrease.leans_left() == (side == Side::Rs);
        if outwards && decrease.side() == side {
            return;
        }
        let row = self.needle.row;
        let message = format!("the decrease of row {row} ({side}) leans away from the edge");
        self.say(&codes::LEAN, &message);
    }

    pub(crate) fn ends_at_base(&mut self, stated: bool) -> Result<(), Slip> {
        let waiting = self.needle.waiting(Section::First) + self.needle.waiting(Section::Second);
        if stated && waiting > 0 {
            return Err(Slip::new(
                &codes::NEVER_WORKED,
                format!("{waiting} sts still wait before the base markers"),
            ));
        }
        Ok(())
    }
}
