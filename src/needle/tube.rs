//! Knitting the join and the rounds of the tube.

use super::codes;
use super::knitter::Knitter;
use super::machine::{NeedleStitch, Slip, State};
use super::said::{Decrease, RoundOp};
use crate::measure::{Rows, Side, Stitches};
use crate::plan::{Section, worked_shaping};

/// More rounds than any sleeve has; a text that asks for more is misread.
const MOST_ROUNDS: u32 = 2000;

impl Knitter<'_> {
    pub(crate) fn join(&mut self, double: bool, more: u32) -> Result<(), Slip> {
        self.check_cap_done(double)?;
        self.begin_last_row();
        self.needle.work_to_turned(0)?;
        self.needle.work()?;
        self.needle.work_plain(more)?;
        self.finish_join();
        Ok(())
    }

    fn begin_last_row(&mut self) {
        self.out.turn_pairs = self.needle.turns / 2;
        self.out.cap_decreases = self.needle.decreases;
        self.needle.start_row();
        self.needle.base_open = true;
        self.step = None;
    }

    fn finish_join(&mut self) {
        self.joined = true;
        self.join_row = self.needle.row;
        self.out.cap_loops = self.needle.loops;
        self.note_row(Side::Rs);
        self.note_columns();
        self.check_middle();
        self.out.cap_end = Stitches(self.needle.len());
        self.out.upper_arm = self.out.cap_end;
    }

    /// Without a base the round begins where the flanks meet, after a whole round.
    pub(crate) fn join_at_marker(&mut self) -> Result<(), Slip> {
        self.check_cap_done(false)?;
        if self
            .needle
            .picked
            .iter()
            .any(|p| p.section == Section::Base)
        {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "rounds begin in the middle of the base, and there is one",
            ));
        }
        self.begin_last_row();
        for _ in 0..self.needle.len() {
            self.needle.work()?;
        }
        self.finish_join();
        Ok(())
    }

    fn check_cap_done(&self, double: bool) -> Result<(), Slip> {
        let needle = &self.needle;
        if self.joined || needle.side != Side::Rs || needle.row < 2 {
            let message = format!("the next row is row {} ({})", needle.row + 1, needle.side);
            return Err(Slip::new(&codes::ORDER, message));
        }
        let waiting = needle.waiting(Section::First) + needle.waiting(Section::Second);
        if waiting > 0 {
            return Err(Slip::new(
                &codes::NEVER_WORKED,
                format!("{waiting} flank sts were never worked"),
            ));
        }
        if needle
            .turned()
            .any(|s| (s.state == State::Double) != double)
        {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "the base sts were turned on in the other way",
            ));
        }
        Ok(())
    }

    fn check_middle(&mut self) {
        let needle = &self.needle;
        let of_base = |s: &&NeedleStitch| needle.section(s) == Section::Base;
        let base = needle.stitches.iter().filter(of_base);
        let (before, after): (Vec<_>, Vec<_>) = base.partition(|s| needle.is_worked(s));
        let count =
            |list: Vec<&NeedleStitch>| Stitches(u32::try_from(list.len()).unwrap_or(u32::MAX));
        let (before, after) = (count(before), count(after));
        self.out.base_before = before;
        self.out.base_after = after;
        if before.count().abs_diff(after.count()) > 1 {
            let message =
                format!("{before} of the base lie before the marker and {after} after it");
            self.say(&codes::UNEVEN_JOIN, &message);
        }
    }

    pub(crate) fn shape_round(&mut self, ops: &[RoundOp]) -> Result<(), Slip> {
        let edge = |op: Option<&RoundOp>| match op {
            Some(RoundOp::Knit(n)) => *n,
            _ => 0,
        };
        if edge(ops.first()) != edge(ops.last()) {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "the two ends of the round are not mirror images",
            ));
        }
        let increases = ops.iter().map(|op| match op {
            RoundOp::Increase(n) => u64::from(*n),
            _ => 0,
        });
        if increases.sum::<u64>() > u64::from(self.needle.len()) {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "the round would more than double its sts",
            ));
        }
        let decreases: Vec<Decrease> = ops
            .iter()
            .filter_map(|op| match op {
                RoundOp::Decrease(d) => Some(*d),
                _ => None,
            })
            .collect();
        if let [first, second] = decreases.as_slice()
            && (first.leans_left() || !second.leans_left())
        {
            self.say(
                &codes::LEAN,
                "the decreases of the round do not mirror one another",
            );
        }
        self.shape = Some(ops.to_vec());
        Ok(())
    }

    /// Stitches the shaping round takes away, or adds.
    pub(crate) fn shaped(&self, fewer: bool) -> u32 {
        let ops = self.shape.iter().flatten();
        let change = ops.map(|op| match op {
            RoundOp::Decrease(_) => -1,
            RoundOp::Increase(n) => i64::from(*n),
            RoundOp::Knit(_) | RoundOp::KnitToLast(_) => 0,
        });
        let change: i64 = change.sum();
        u32::try_from(if fewer { -change } else { change }).unwrap_or(0)
    }

    pub(crate) fn shape_every(&mut self, every: u32, times: u32) -> Result<(), Slip> {
        let Some(ops) = self.shape.clone() else {
            return Err(Slip::new(
                &codes::ORDER,
                "the shaping round is not described yet",
            ));
        };
        if every == 0 || times == 0 {
            return Err(Slip::new(
                &codes::IMPOSSIBLE,
                "a round is worked at least once",
            ));
        }
        for _ in 0..times {
            for _ in 1..every {
                self.round(&[RoundOp::KnitToLast(0)])?;
            }
            self.shaping_round(&ops)?;
        }
        Ok(())
    }

    fn shaping_round(&mut self, ops: &[RoundOp]) -> Result<(), Slip> {
        self.round(ops)?;
        let number = self.out.rounds.count();
        if self.shaped(true) > 0 {
            self.out.decrease_rounds.push(number);
        } else {
            self.out.increase_rounds.push(number);
        }
        Ok(())
    }

    /// Rounds that were knitted before this text was written, from the one after the join's on.
    pub(crate) fn worked_so_far(
        &mut self,
        rounds: u32,
        shaped: u32,
        beside: i32,
    ) -> Result<(), Slip> {
        if self.out.rounds != Rows(1) || rounds == 0 {
            return Err(Slip::new(
                &codes::ORDER,
                "what is worked so far comes right after the round that closes the join",
            ));
        }
        if shaped > rounds.saturating_sub(1) || rounds > MOST_ROUNDS {
            let message = format!("{shaped} of {rounds} rounds cannot have been shaped");
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        let ops = match (&self.shape, shaped) {
            (_, 0) => Vec::new(),
            (Some(ops), _) => ops.clone(),
            (None, _) => {
                return Err(Slip::new(
                    &codes::ORDER,
                    "the shaping round is not described yet",
                ));
            }
        };
        let shaping = worked_shaping(rounds, shaped);
        for round in 2..=rounds {
            if shaping.contains(&round) {
                self.shaping_round(&ops)?;
            } else {
                self.round(&[RoundOp::KnitToLast(0)])?;
            }
        }
        self.out.worked_rounds = Rows(rounds);
        self.out.beside = beside;
        // Where they were made or lost nobody has noted: at the end of a round it makes no difference.
        for _ in 0..beside.unsigned_abs() {
            if beside > 0 {
                self.needle.increase()?;
            } else {
                self.needle.lose_last()?;
            }
        }
        if let Some(last) = self.out.of_rounds.last_mut() {
            *last = Stitches(self.needle.len());
        }
        Ok(())
    }

    pub(crate) fn even(&mut self, rounds: u32) -> Result<(), Slip> {
        for _ in 0..rounds {
            self.round(&[RoundOp::KnitToLast(0)])?;
        }
        Ok(())
    }

    /// Rounds that change the count evenly: as many decreases (or stitches made) in each.
    pub(crate) fn adjust(&mut self, rounds: u32, stitches: u32, fewer: bool) -> Result<(), Slip> {
        let room = self.needle.len() / if fewer { 2 } else { 1 };
        if rounds != 1 || stitches == 0 || stitches > room {
            let message = format!("{stitches} sts cannot be changed evenly in {rounds} rounds");
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        self.in_cuff = true;
        let mut ops = Vec::new();
        for _ in 0..stitches {
            ops.push(if fewer {
                RoundOp::Decrease(Decrease::K2tog)
            } else {
                RoundOp::Increase(1)
            });
        }
        ops.push(RoundOp::KnitToLast(0));
        self.round(&ops)
    }

    /// Rounds of a stitch pattern that must come out even.
    pub(crate) fn cuff(&mut self, rounds: u32, multiple: u32) -> Result<(), Slip> {
        let stitches = self.needle.len();
        if !stitches.is_multiple_of(multiple) {
            let message = format!("{stitches} sts are no multiple of {multiple}");
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        self.in_cuff = true;
        self.even(rounds)
    }

    fn round(&mut self, ops: &[RoundOp]) -> Result<(), Slip> {
        if !self.joined {
            return Err(Slip::new(&codes::ORDER, "rounds have not begun yet"));
        }
        if self.out.rounds >= Rows(MOST_ROUNDS) {
            let message = format!("more than {MOST_ROUNDS} rounds are too many for a sleeve");
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        if self.out.rounds == Rows::ZERO {
            return Err(Slip::new(
                &codes::LEFT_TURNED,
                "the round that closes the join is missing",
            ));
        }
        self.needle.start_row();
        for op in ops {
            self.round_op(*op)?;
        }
        if self.left_in_round() > 0 {
            let message = format!("{} sts of the round are left over", self.left_in_round());
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        self.out.rounds += Rows(1);
        if !self.in_cuff {
            self.out.of_rounds.push(Stitches(self.needle.len()));
        }
        Ok(())
    }

    pub(super) fn left_in_round(&self) -> u32 {
        let row = self.needle.row;
        let left = self.needle.stitches.iter().filter(|s| s.last_row < row);
        u32::try_from(left.count()).unwrap_or(u32::MAX)
    }

    fn round_op(&mut self, op: RoundOp) -> Result<(), Slip> {
        match op {
            RoundOp::Knit(n) => self.work_round(n),
            RoundOp::KnitToLast(n) => {
                let left = self.left_in_round().checked_sub(n);
                let left = left.ok_or_else(|| {
                    Slip::new(&codes::IMPOSSIBLE, format!("fewer than {n} sts are left"))
                })?;
                self.work_round(left)
            }
            RoundOp::Decrease(_) => self.needle.together(),
            RoundOp::Increase(n) => {
                for _ in 0..n {
                    self.needle.increase()?;
                }
                Ok(())
            }
        }
    }

    pub(super) fn work_round(&mut self, n: u32) -> Result<(), Slip> {
        for _ in 0..n {
            self.needle.work()?;
        }
        Ok(())
    }
}
