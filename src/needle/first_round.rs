//! Knitting the round that closes the join: the corners of the base.

use super::codes;
use super::knitter::Knitter;
use super::machine::{Needle, NeedleStitch, Slip, State};
use super::said::{CornerOp, JoinOp};
use crate::measure::{Rows, Stitches};
use crate::plan::{Corner, Section};

impl Knitter<'_> {
    pub(crate) fn first_round(
        &mut self,
        number: u32,
        ops: &[JoinOp],
        turned: Option<bool>,
    ) -> Result<(), Slip> {
        if !self.joined || self.out.rounds > Rows::ZERO || number != 1 {
            return Err(Slip::new(
                &codes::ORDER,
                "round 1 follows the row that joins, once",
            ));
        }
        self.check_turned(turned)?;
        self.needle.start_row();
        let mut corners: Vec<Corner> = Vec::new();
        for op in ops {
            self.join_op(*op, &mut corners)?;
        }
        if self.left_in_round() > 0 {
            let message = format!("{} sts of the round are left over", self.left_in_round());
            return Err(Slip::new(&codes::IMPOSSIBLE, message));
        }
        match corners.as_slice() {
            [leaving, coming] => self.out.corners = [*leaving, *coming],
            // Where there is no base, one gap is closed once.
            [only] if !self.has_base() => self.out.corners = [*only, Corner::default()],
            _ => {
                return Err(Slip::new(
                    &codes::IMPOSSIBLE,
                    "the round does not close every corner",
                ));
            }
        }
        self.out.rounds += Rows(1);
        self.out.upper_arm = Stitches(self.needle.len());
        self.out.of_rounds.push(self.out.upper_arm);
        Ok(())
    }

    /// The base stitch that no row has met since its turn is spoken of, and no other is.
    fn check_turned(&self, said: Option<bool>) -> Result<(), Slip> {
        let left: Vec<bool> = self
            .needle
            .turned()
            .map(|s| s.state == State::Double)
            .collect();
        let said: Vec<bool> = said.into_iter().collect();
        if left == said {
            return Ok(());
        }
        let message = format!(
            "{} base sts turned on are left, and the round speaks of {} such sts",
            left.len(),
            said.len()
        );
        Err(Slip::new(&codes::LEFT_TURNED, message))
    }

    fn has_base(&self) -> bool {
        let of_base = |s: &NeedleStitch| self.needle.section(s) == Section::Base;
        self.needle.stitches.iter().any(of_base)
    }

    fn join_op(&mut self, op: JoinOp, corners: &mut Vec<Corner>) -> Result<(), Slip> {
        match op {
            JoinOp::Begin => self.begins_at_corner(corners),
            JoinOp::ToCorner { before, other } => {
                if other == corners.is_empty() {
                    return Err(Slip::impossible("the corners come in another order"));
                }
                let steps = self.to_corner(corners.len())?.checked_sub(before);
                let steps = steps.ok_or_else(|| Slip::impossible("the corner is nearer"))?;
                self.work_round(steps)
            }
            JoinOp::ToLast(n) => {
                let left = self.left_in_round().checked_sub(n);
                let left =
                    left.ok_or_else(|| Slip::impossible(format!("fewer than {n} sts are left")))?;
                self.work_round(left)
            }
            JoinOp::ToEnd => self.work_round(self.left_in_round()),
            JoinOp::Corner(op) => self.corner(op, corners),
            JoinOp::Each(op) => {
                for _ in 0..2 {
                    let steps = self.to_corner(corners.len())?;
                    self.work_round(steps)?;
                    self.corner(op, corners)?;
                }
                self.work_round(self.left_in_round())
            }
        }
    }

    fn begins_at_corner(&self, corners: &[Corner]) -> Result<(), Slip> {
        let there = !self.has_base() || self.to_corner(0)? == 0;
        if there && corners.is_empty() && self.left_in_round() == self.needle.len() {
            return Ok(());
        }
        Err(Slip::impossible("the round does not begin at the marker"))
    }

    /// Stitches up to the end of the base or, past it, to its beginning.
    fn to_corner(&self, done: usize) -> Result<u32, Slip> {
        let found = corner_ahead(&self.needle, done > 0);
        found.ok_or_else(|| Slip::impossible("there is no base marker ahead"))
    }

    fn corner(&mut self, op: CornerOp, corners: &mut Vec<Corner>) -> Result<(), Slip> {
        let place = match op {
            CornerOp::Make(_) | CornerOp::Close => 0,
            CornerOp::Decrease(_, n) => self.stitches_before(n, corners.len()),
        };
        if self.distance(corners.len())? != place {
            return Err(Slip::impossible("this does not lie on the corner"));
        }
        let change = match op {
            CornerOp::Make(n) => self.make(n)?,
            CornerOp::Close => {
                let next = u32::from(self.left_in_round() > 0);
                self.work_round(next)?;
                0
            }
            CornerOp::Decrease(decrease, n) => {
                if decrease.leans_left() != (corners.len() == 1) {
                    self.say(
                        &codes::LEAN,
                        "the decreases of the corners do not mirror one another",
                    );
                }
                for _ in 0..n {
                    self.needle.together()?;
                }
                -i64::from(n)
            }
        };
        corners.push(Corner {
            change: i32::try_from(change).unwrap_or(i32::MIN),
        });
        Ok(())
    }

    /// Where decreases begin so that they lie on the corner, as far as the base reaches: half of
    /// their stitches are of the base.
    fn stitches_before(&self, n: u32, done: usize) -> u32 {
        let base = |side: Stitches| side.count().min(n);
        match done {
            0 => base(self.out.base_after),
            _ => n.saturating_mul(2) - base(self.out.base_before),
        }
    }

    /// Stitches from here to the corner; without a base it is where rounds begin and end.
    fn distance(&self, done: usize) -> Result<u32, Slip> {
        if self.has_base() {
            return self.to_corner(done);
        }
        let left = self.left_in_round();
        Ok(match done {
            0 if left == self.needle.len() => 0,
            0 => u32::MAX,
            _ => left,
        })
    }

    fn make(&mut self, n: u32) -> Result<i64, Slip> {
        if n == 0 || n > self.needle.len() {
            return Err(Slip::impossible(format!(
                "{n} sts cannot be made at a corner"
            )));
        }
        for _ in 0..n {
            self.needle.increase()?;
        }
        Ok(i64::from(n))
    }
}

/// Stitches before the marker where the base ends or, coming back, where it begins.
fn corner_ahead(needle: &Needle, coming: bool) -> Option<u32> {
    let n = needle.stitches.len();
    let base = |i: usize| {
        let stitch = needle.stitches.get(i % n);
        stitch.is_some_and(|s| needle.section(s) == Section::Base)
    };
    let at_corner = |i: &usize| {
        let (before, next) = (needle.at + i + n - 1, needle.at + i);
        let marker = needle.stitches.get(before % n).is_some_and(|s| s.marker);
        marker && base(before) != coming && base(next) == coming
    };
    let found = (0..n).find(at_corner)?;
    u32::try_from(found).ok()
}
