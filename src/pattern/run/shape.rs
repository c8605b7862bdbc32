//! Bind-offs, decreases and increases at their pace.

use crate::diagnostic::Span;
use crate::measure::Side;

use super::super::finding::FindingKind;
use super::super::ledger::LedgerRow;
use super::super::program::{Doubt, Extent, Joined, Num, Pace, RowPlace, ShapedPart, Verb};
use super::{OrHalt, RowEnds, SizeRun};

/// One stretch of shaping, settled for one size.
#[derive(Clone, Copy)]
struct Plan {
    verb: Verb,
    place: RowPlace,
    by: u32,
    /// Rows of one occurrence: two where stitches are bound off at each of two edges.
    rows: u32,
    /// From the first row of one occurrence to that of the next.
    every: u32,
    /// The same for every second distance.
    other: u32,
    /// Plain rows before the first.
    wait: u32,
    span: Span,
}

impl Plan {
    /// Plain rows before occurrence `n`, counted from 0.
    fn gap(self, n: u32) -> u32 {
        match n {
            0 => self.wait,
            n if n.is_multiple_of(2) => self.every.saturating_sub(self.rows),
            _ => self.other.saturating_sub(self.rows),
        }
    }

    /// The same distance everywhere.
    fn evenly(self) -> Self {
        Self {
            other: self.every,
            ..self
        }
    }

    /// Stitches one occurrence takes away and adds.
    fn change(self, again: RowEnds) -> (u32, u32) {
        let both = if self.place == RowPlace::EachEnd {
            2
        } else {
            1
        };
        let stitches = self.by.saturating_mul(both);
        match self.verb {
            Verb::BindOff | Verb::Dec => (stitches, 0),
            Verb::CastOn | Verb::Inc => (0, stitches),
            Verb::Again => (again.removed(), again.added()),
        }
    }
}

impl SizeRun<'_> {
    pub(super) fn shape(&mut self, part: &ShapedPart) -> OrHalt {
        let crossed = self.cross_meant(part);
        let part = crossed.as_ref().unwrap_or(part);
        let Some(by) = self.number(part.by, part.span).filter(|&by| by > 0) else {
            return Ok(());
        };
        if part.verb == Verb::BindOff && part.pace == Pace::EveryRow {
            self.trailing_row(part)?;
        }
        self.spaced = false;
        self.not_said_to_wait();
        let (place, by) = self.edge_meant(part, by);
        // A piece with an underarm at each edge is whole; half of one has its neck at the other edge.
        let shapes = matches!(part.verb, Verb::Dec | Verb::Inc);
        if place == RowPlace::Neck && shapes && self.divided.is_none() && self.edge.is_none() {
            // Which rows begin there is not known where nothing was told of the armhole before.
            self.find(FindingKind::NoNeck, part.span);
        }
        let mut bound = self.rows.iter().map(LedgerRow::binds_off);
        let whole = bound.any(|binds| binds) && bound.next() == Some(true);
        if self.divided.is_none() && whole {
            // Both edges are armhole.
            if place == RowPlace::Neck {
                self.find(FindingKind::NoNeck, part.span);
            }
            if part.place == RowPlace::Armhole {
                self.find(FindingKind::WhichEdge, part.span);
            }
        }
        if let Pace::At(list) = part.pace {
            return self.at_rows(part, list, place, by);
        }
        let rows =
            if matches!(part.verb, Verb::BindOff | Verb::CastOn) && place == RowPlace::EachEnd {
                2
            } else {
                1
            };
        let plan = Plan {
            verb: part.verb,
            place,
            by,
            rows,
            every: 1,
            other: 1,
            wait: 0,
            span: part.span,
        };
        let Some(plan) = self.paced(part, plan) else {
            return Ok(());
        };
        self.spaced = plan.every > plan.rows;
        if let (Pace::OfSide(side, _), Joined::Open(_) | Joined::Yes) = (part.pace, part.joined) {
            self.counts_row_of(side, part.span);
        }
        self.carry_out(part, plan)
    }

    /// `next row and every RS row 3 times`: the next row is one of them.
    fn counts_row_of(&mut self, stated: Side, span: Span) {
        let just = |last: &super::Last| last.row + 1 == self.rows.len();
        if self
            .last
            .filter(just)
            .is_some_and(|last| last.side != stated)
        {
            let next = false;
            self.find(FindingKind::RowSide { stated, next }, span);
        }
    }

    /// After spaced decreases a bind-off starts at once, or on the side where the first one was.
    fn trailing_row(&mut self, part: &ShapedPart) -> OrHalt {
        if !self.spaced || self.side() == self.setting.first {
            return Ok(());
        }
        self.met.insert(part.first);
        let rows = u32::from(self.program.second(part.first));
        self.plain(rows, part.span)
    }

    /// `2 x 1` the other way round, where that reading is taken.
    fn cross_meant(&mut self, part: &ShapedPart) -> Option<ShapedPart> {
        let open = self
            .program
            .choices
            .get(part.other)
            .filter(|c| c.doubt == Doubt::Cross)?;
        let Extent::Times(times) = part.extent else {
            return None;
        };
        if self.program.number(times, self.setting.size)
            != self.program.number(part.by, self.setting.size)
        {
            self.met.insert(part.other);
        }
        open.second.then_some(ShapedPart {
            by: times,
            extent: Extent::Times(part.by),
            ..*part
        })
    }

    /// The plan with its pace; `None` for a size that skips the stretch.
    fn paced(&mut self, part: &ShapedPart, plan: Plan) -> Option<Plan> {
        match part.pace {
            Pace::EveryRow | Pace::At(_) => Some(plan),
            Pace::Rows(number) => {
                let every = self.number(number, part.span);
                // `every 0 rows 0 times` is how print leaves a step out.
                let left_out = match part.extent {
                    Extent::Times(times) => self.number(times, part.span).unwrap_or(0) == 0,
                    _ => false,
                };
                if every == Some(0) && !left_out {
                    self.find(FindingKind::NoPace, part.span);
                }
                let every = every.filter(|&k| k > 0)?;
                Some(self.every_rows(part, plan, every).evenly())
            }
            Pace::Turns(first, second) => {
                let every = self.number(first, part.span).filter(|&k| k > 0)?;
                let other = self.number(second, part.span).filter(|&k| k > 0)?;
                Some(Plan {
                    other,
                    ..self.every_rows(part, plan, every)
                })
            }
            Pace::Ridges(number) => {
                let ridges = self.number(number, part.span).filter(|&k| k > 0)?;
                Some(
                    self.every_rows(part, plan, ridges.saturating_mul(2))
                        .evenly(),
                )
            }
            Pace::OfSide(side, number) => {
                let nth = self.number(number, part.span).filter(|&k| k > 0)?;
                Some(self.of_side(plan, side, nth.saturating_mul(2)).evenly())
            }
            Pace::Length(number, unit) => {
                let value = self.program.number(number, self.setting.size)?;
                let rows = self.rows_in(unit * value, part.span)?.round().max(1.0);
                let every = super::whole(rows)?;
                self.find(
                    FindingKind::LengthAsRows {
                        length: unit * value,
                        rows: every,
                        more: true,
                    },
                    part.span,
                );
                let wait = every.saturating_sub(1);
                let every = every.max(plan.rows);
                Some(
                    Plan {
                        every,
                        wait,
                        ..plan
                    }
                    .evenly(),
                )
            }
        }
    }

    /// `every 4th row`: from the last decrease; after a bind-off the first row is open.
    fn every_rows(&mut self, part: &ShapedPart, plan: Plan, every: u32) -> Plan {
        if every == 1 {
            return plan;
        }
        let here = self.rows.len();
        let since = |row: usize| u32::try_from(here.saturating_sub(row)).unwrap_or(u32::MAX);
        if plan.rows == 2 {
            let bound = self
                .last
                .is_some_and(|l| l.is_bind_off() && since(l.row) == 1);
            let wait = if bound { every.saturating_sub(2) } else { 0 };
            return Plan {
                every: every.max(2),
                wait,
                ..plan
            };
        }
        let binds = matches!(plan.verb, Verb::BindOff);
        let counted = self.last.filter(|l| {
            l.is_bind_off() == binds
                || plan.place == RowPlace::Armhole && l.side == self.edge.unwrap_or(l.side)
        });
        if let Some(wait) = counted.and_then(|l| every.checked_sub(since(l.row))) {
            return Plan {
                every,
                wait,
                ..plan
            };
        }
        if here == 0 && every > 2 {
            // With no row before it, the 8th row is the 8th of the lines.
            return Plan {
                every,
                wait: every - 1,
                ..plan
            };
        }
        let first = u32::from(every.is_multiple_of(2) && self.side() == Side::Ws && !binds);
        let after = self
            .last
            .and_then(|l| every.checked_sub(since(l.row)))
            .unwrap_or(every - 1);
        if first != after && (every > 2 || first == 1) {
            self.met.insert(part.first);
        }
        let wait = if self.program.second(part.first) {
            after
        } else {
            first
        };
        Plan {
            every,
            wait,
            ..plan
        }
    }

    /// `every RS row`: the next one; `every other RS row`: four rows after the last.
    fn of_side(&self, plan: Plan, side: Side, every: u32) -> Plan {
        let here = self.rows.len();
        let next = u32::from(self.side() != side);
        let last = self.last.filter(|l| !l.is_bind_off() && l.side == side);
        let since = last.map(|l| u32::try_from(here - l.row).unwrap_or(u32::MAX));
        let wait = since.and_then(|s| every.checked_sub(s)).unwrap_or(next);
        Plan {
            every,
            wait: wait.max(next),
            ..plan
        }
    }

    fn carry_out(&mut self, part: &ShapedPart, plan: Plan) -> OrHalt {
        match part.extent {
            Extent::Times(times) => {
                let Some(times) = self.number(times, part.span) else {
                    return Ok(());
                };
                let Some(repeats) = self.number(part.repeats, part.span) else {
                    return Ok(());
                };
                // `next 2 rows 2 more times` are six rows.
                let further = part.more && part.repeats != Num::Fixed(1);
                let repeats = repeats.saturating_add(u32::from(further));
                let times = self.times(part, plan, times, repeats);
                self.occur_times(plan, times)
            }
            Extent::Until(target) => {
                let Some(target) = self.number(target, part.span) else {
                    return Ok(());
                };
                self.occur_until(plan, target)
            }
            Extent::Rows(number) => {
                let Some(number) = self.number(number, part.span) else {
                    return Ok(());
                };
                self.occur_within(plan, number)
            }
            Extent::Measure(number, unit) => match self.rows_until(number, unit, part.span) {
                Some(number) => self.occur_within(plan, number),
                None => Ok(()),
            },
            Extent::Rest => {
                let end = self.within.unwrap_or(self.rows.len());
                let left = end.saturating_sub(self.rows.len());
                self.occur_within(plan, u32::try_from(left).unwrap_or(u32::MAX))
            }
        }
    }

    /// The number of occurrences that a number of times stands for.
    fn times(&mut self, part: &ShapedPart, plan: Plan, times: u32, repeats: u32) -> u32 {
        let counts_next = match part.joined {
            Joined::No => false,
            Joined::Yes => true,
            Joined::Open(choice) => {
                self.met.insert(choice);
                !self.program.second(choice)
            }
        };
        let once = match (part.pace, plan.rows) {
            // `each end of next 2 rows` is one pair of rows.
            (Pace::EveryRow, 2) if times.is_multiple_of(2) => times / 2,
            _ => times.saturating_sub(u32::from(counts_next)),
        };
        if repeats == 1 {
            return once;
        }
        let two_edges = plan.place == RowPlace::Beginning && times == 2 && !part.more;
        if two_edges {
            self.met.insert(part.other);
        }
        if two_edges && self.program.second(part.other) {
            return once;
        }
        once.saturating_mul(repeats)
    }

    fn occur_times(&mut self, plan: Plan, times: u32) -> OrHalt {
        for n in 0..times {
            self.plain(plan.gap(n), plan.span)?;
            self.occur(plan)?;
        }
        Ok(())
    }

    fn occur_until(&mut self, plan: Plan, target: u32) -> OrHalt {
        let again = self.again_now();
        let (removed, added) = plan.change(again);
        if self.beside.iter().all(|d| !d.shapes()) {
            let passes = self.passes(removed, added, target, plan.span).unwrap_or(0);
            return self.occur_times(plan, passes);
        }
        // With shaping beside it the count falls faster: look at it row by row.
        let mut n = 0;
        while self.count > target && self.count - target >= removed && removed > 0 {
            self.plain(plan.gap(n), plan.span)?;
            self.occur(plan)?;
            n += 1;
        }
        Ok(())
    }

    /// What `again` would do, without saying anything.
    fn again_now(&self) -> RowEnds {
        let told = self.last.filter(|l| !l.is_bind_off()).map(|l| l.done);
        told.unwrap_or(RowEnds {
            dec_start: 1,
            dec_end: 1,
            ..RowEnds::default()
        })
    }

    /// As often as it fits into so many rows; the rest of them are plain.
    fn occur_within(&mut self, plan: Plan, number: u32) -> OrHalt {
        let mut left = number;
        let mut n = 0;
        while let Some(rest) = left.checked_sub(plan.gap(n).saturating_add(plan.rows)) {
            self.plain(plan.gap(n), plan.span)?;
            self.occur(plan)?;
            left = rest;
            n += 1;
        }
        self.plain(left, plan.span)
    }

    /// `rows 3, 5 and 9`.
    fn at_rows(&mut self, part: &ShapedPart, list: usize, place: RowPlace, by: u32) -> OrHalt {
        let Some(list) = self.program.lists.get(list) else {
            return Ok(());
        };
        let here = self.rows.len();
        let numbers = list.rows.iter();
        let rows: Vec<u32> = numbers.filter_map(|&n| self.number(n, part.span)).collect();
        let mut pairs = rows.iter().zip(rows.iter().skip(1));
        if let Some((&before, &after)) = pairs.find(|(one, next)| one >= next) {
            self.find(FindingKind::RowsFall { before, after }, part.span);
        }
        // Stitches are bound off where a row begins: at each end, on this row and the next.
        let binds = matches!(part.verb, Verb::BindOff | Verb::CastOn);
        let each = if binds && place == RowPlace::EachEnd {
            2
        } else {
            1
        };
        let mut pairs = rows.iter().zip(rows.iter().skip(1));
        let near = |one: u32, next: u32| one < next && one.saturating_add(each) > next;
        if let Some((&row, &next)) = pairs.find(|&(&one, &next)| near(one, next)) {
            self.find(FindingKind::BindsTooNear { row, next }, part.span);
        }
        let first = rows
            .first()
            .and_then(|&n| usize::try_from(n).ok())
            .unwrap_or(0);
        let mut absolute = list.absolute;
        if here > 0 && first > here {
            if absolute {
                self.met.insert(part.other);
            }
            absolute ^= self.program.second(part.other);
        } else {
            absolute = false;
        }
        let base = if absolute { 0 } else { here };
        let plan = Plan {
            verb: part.verb,
            place,
            by,
            rows: each,
            every: 1,
            other: 1,
            wait: 0,
            span: part.span,
        };
        for number in rows {
            let number = usize::try_from(number).unwrap_or(usize::MAX);
            let goal = base.saturating_add(number.saturating_sub(1));
            while self.rows.len() < goal {
                self.plain(1, part.span)?;
            }
            self.occur(plan)?;
        }
        Ok(())
    }

    /// One occurrence.
    fn occur(&mut self, plan: Plan) -> OrHalt {
        if plan.verb == Verb::Again {
            let done = self.again(plan.span);
            return self.work(done, plan.span);
        }
        if plan.rows == 2 {
            let place = RowPlace::Beginning;
            self.occur(Plan {
                rows: 1,
                place,
                ..plan
            })?;
            return self.occur(Plan {
                rows: 1,
                place,
                ..plan
            });
        }
        let moves_edge = matches!(plan.verb, Verb::BindOff | Verb::CastOn);
        let elsewhere =
            self.both_at_once && self.divided.is_some() && self.edge != Some(self.side());
        if moves_edge && plan.place == RowPlace::Beginning && elsewhere {
            // This row begins with the other half, which may end after this one.
            return self.plain(u32::from(!self.closed), plan.span);
        }
        let place = match plan.place {
            RowPlace::Armhole => self.edge_now(true),
            RowPlace::Neck => self.edge_now(false),
            place => place,
        };
        if moves_edge && place == RowPlace::End && plan.place != RowPlace::End {
            // Stitches are bound off at the beginning of a row: the next row starts at that edge.
            self.plain(1, plan.span)?;
            return self.work(done(plan.verb, RowPlace::Beginning, plan.by), plan.span);
        }
        self.work(done(plan.verb, place, plan.by), plan.span)
    }

    /// Where on the next row the armhole (or the other) edge lies. The first shaping at one edge
    /// says which edge that is.
    pub(super) fn edge_now(&mut self, armhole: bool) -> RowPlace {
        let next = self.side();
        let bound = self.last.filter(|l| l.is_bind_off()).map(|l| l.side);
        let here = bound.unwrap_or(if armhole { next } else { next.turned() });
        let edge = *self.edge.get_or_insert(here);
        if (edge == next) == armhole {
            RowPlace::Beginning
        } else {
            RowPlace::End
        }
    }
}

fn done(verb: Verb, place: RowPlace, by: u32) -> RowEnds {
    if place == RowPlace::Spread {
        let (spread, inc_start) = match verb {
            Verb::Inc | Verb::CastOn => (0, by),
            _ => (by, 0),
        };
        return RowEnds {
            inc_start,
            spread,
            ..RowEnds::default()
        };
    }
    let (start, end) = match place {
        RowPlace::End => (0, by),
        RowPlace::EachEnd => (by, by),
        _ => (by, 0),
    };
    match verb {
        Verb::BindOff => RowEnds {
            bind_off: start,
            dec_end: end,
            ..RowEnds::default()
        },
        Verb::Dec | Verb::Again => RowEnds {
            dec_start: start,
            dec_end: end,
            ..RowEnds::default()
        },
        Verb::Inc | Verb::CastOn => RowEnds {
            inc_start: start,
            inc_end: end,
            ..RowEnds::default()
        },
    }
}
