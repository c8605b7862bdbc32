//! The stitches of one row, counted along it from the stitches there are.

use super::super::finding::FindingKind;
use super::super::program::{Along, Reach, RowBody};
use super::{RowEnds, SizeRun};
use crate::diagnostic::Span;

/// A decrease so near an edge belongs to it; farther in, several of them are spread over the row
/// (common practice, no source).
const NEAR_EDGE: u32 = 14;

/// What a row comes to.
#[derive(Clone, Debug, Default)]
pub(super) struct RowSum {
    pub(super) done: RowEnds,
    /// Where the row is divided: stitches before, in the middle, after.
    pub(super) parts: Option<(u32, u32, u32)>,
    /// The row was turned with stitches left.
    pub(super) turned: bool,
}

#[derive(Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "what was met on the way, each by itself"
)]
struct RowWalk {
    total: u32,
    /// Stitches of the row before that are passed.
    at: u32,
    /// Stitches on the right-hand needle.
    made: u32,
    /// From, to, fewer, more.
    changes: Vec<(u32, u32, u32, u32)>,
    edges: RowEnds,
    centre: Option<(u32, u32)>,
    turned: bool,
    /// Stitches were named one by one, so that the row must be told to its end.
    told: bool,
    whole: bool,
    grouped: bool,
    steps: usize,
}

impl SizeRun<'_> {
    /// Goes along the row; `None` when it does not come out, which is said.
    pub(super) fn along(&mut self, body: &RowBody, span: Span) -> Option<RowSum> {
        let mut walk = RowWalk {
            total: self.count,
            ..RowWalk::default()
        };
        let walked = self.walk(&body.along, &mut walk, span);
        self.steps_left = self.steps_left.saturating_sub(walk.steps);
        let told = walked.and_then(|()| walk.finished());
        match told {
            Ok(told) => {
                if told.done.spread > 0 {
                    self.find(
                        FindingKind::Spread {
                            fewer: told.done.spread,
                        },
                        span,
                    );
                }
                Some(told)
            }
            Err(kind) => {
                self.find(kind, span);
                None
            }
        }
    }

    fn walk(&mut self, along: &[Along], walk: &mut RowWalk, span: Span) -> Result<(), FindingKind> {
        for step in along {
            walk.steps += 1;
            if walk.steps > self.steps_left {
                return Err(FindingKind::TooMuch);
            }
            match step {
                Along::Work(n) => {
                    let n = self.number(*n, span).unwrap_or(0);
                    walk.told = true;
                    walk.pass(n, n)?;
                }
                Along::ToLast(n) => {
                    let n = self.number(*n, span).unwrap_or(0);
                    walk.up_to_last(n)?;
                    walk.told = true;
                }
                Along::ToEnd => {
                    walk.up_to_last(0)?;
                    walk.whole = true;
                }
                Along::UntilOn(n) => {
                    let wanted = self.number(*n, span).unwrap_or(0);
                    let more = wanted
                        .checked_sub(walk.made)
                        .ok_or_else(|| walk.long(wanted))?;
                    walk.told = true;
                    walk.pass(more, more)?;
                }
                Along::Op { takes, lose, gain } => {
                    let from = walk.at;
                    walk.told = true;
                    walk.pass(*takes, takes.saturating_sub(*lose) + gain)?;
                    if *takes == 0 {
                        walk.made = walk.made.saturating_sub(*lose);
                    }
                    walk.changes.push((from, walk.at, *lose, *gain));
                }
                Along::BindOff(n) => {
                    let n = self.number(*n, span).unwrap_or(0);
                    walk.bind_off(n)?;
                }
                Along::Centre(n) => {
                    let n = self.number(*n, span).unwrap_or(0);
                    walk.centre(n)?;
                }
                Along::Edge { dec, start, end } => {
                    if *dec {
                        walk.edges.dec_start = walk.edges.dec_start.saturating_add(*start);
                        walk.edges.dec_end = walk.edges.dec_end.saturating_add(*end);
                    } else {
                        walk.edges.inc_start = walk.edges.inc_start.saturating_add(*start);
                        walk.edges.inc_end = walk.edges.inc_end.saturating_add(*end);
                    }
                }
                Along::Group { along, extent } => self.grouped(along, *extent, walk, span)?,
                Along::Turn => walk.turned = true,
            }
        }
        Ok(())
    }

    fn grouped(
        &mut self,
        along: &[Along],
        extent: Reach,
        walk: &mut RowWalk,
        span: Span,
    ) -> Result<(), FindingKind> {
        walk.grouped |= !matches!(extent, Reach::Times(_));
        let last = match extent {
            Reach::Times(times) => {
                let times = self.number(times, span).unwrap_or(0);
                for _ in 0..times {
                    self.walk(along, walk, span)?;
                }
                return Ok(());
            }
            Reach::ToEnd => 0,
            Reach::ToLast(n) => self.number(n, span).unwrap_or(0),
        };
        let from = walk.at;
        let have = walk
            .total
            .checked_sub(last)
            .and_then(|end| end.checked_sub(from));
        let have = have.ok_or_else(|| walk.long(last))?;
        let mut each = None;
        while walk.at - from < have {
            let before = walk.at;
            let uneven = |each: Option<u32>| FindingKind::RowUneven {
                each: each.unwrap_or(0),
                have,
            };
            if each.is_some_and(|each| have - (before - from) < each) {
                return Err(uneven(each));
            }
            self.walk(along, walk, span)?;
            each = Some(walk.at - before);
            if walk.at == before || walk.at - from > have {
                return Err(uneven(each));
            }
        }
        Ok(())
    }
}

impl RowWalk {
    fn long(&self, more: u32) -> FindingKind {
        FindingKind::RowStitches {
            told: self.at.saturating_add(more),
            have: self.total,
        }
    }

    fn pass(&mut self, takes: u32, makes: u32) -> Result<(), FindingKind> {
        let to = self.at.checked_add(takes).filter(|&to| to <= self.total);
        self.at = to.ok_or_else(|| self.long(takes))?;
        self.made = self.made.saturating_add(makes);
        Ok(())
    }

    fn up_to_last(&mut self, last: u32) -> Result<(), FindingKind> {
        let to = self.total.checked_sub(last).filter(|&to| to >= self.at);
        let to = to.ok_or_else(|| self.long(last))?;
        self.pass(to - self.at, to - self.at)
    }

    fn bind_off(&mut self, n: u32) -> Result<(), FindingKind> {
        let from = self.at;
        self.pass(n, 0)?;
        if from == 0 {
            self.edges.bind_off = self.edges.bind_off.saturating_add(n);
        } else if self.at == self.total {
            self.edges.dec_end = self.edges.dec_end.saturating_add(n);
        } else {
            self.centre = Some((from, n));
        }
        Ok(())
    }

    fn centre(&mut self, n: u32) -> Result<(), FindingKind> {
        let sides = self.total.checked_sub(n).ok_or_else(|| self.long(n))?;
        if self.at == 0 && n == self.total {
            self.edges.bind_off = n;
            return self.pass(n, 0);
        }
        if !sides.is_multiple_of(2) || self.at > 0 && self.at != sides / 2 {
            return Err(FindingKind::NotCentre {
                centre: n,
                before: self.at,
                have: self.total,
            });
        }
        if self.at == 0 {
            self.pass(sides / 2, sides / 2)?;
        }
        self.centre = Some((self.at, n));
        self.pass(n, 0)
    }

    fn finished(mut self) -> Result<RowSum, FindingKind> {
        let left = self.total - self.at;
        if left > 0 && self.told && !self.turned && self.centre.is_none() && !self.whole {
            return Err(FindingKind::RowStitches {
                told: self.at,
                have: self.total,
            });
        }
        let mut done = self.edges;
        let far = |&(from, to, lose, _): &(u32, u32, u32, u32)| {
            lose > 0 && from.min(self.total.saturating_sub(to)) > NEAR_EDGE
        };
        let spread = self.grouped || self.changes.iter().any(far);
        for &(from, to, lose, gain) in &self.changes {
            // By the middle of the stitches it takes.
            let first = from.saturating_add(to) < self.total;
            if spread {
                done.spread = done.spread.saturating_add(lose);
            } else if first {
                done.dec_start = done.dec_start.saturating_add(lose);
            } else {
                done.dec_end = done.dec_end.saturating_add(lose);
            }
            let increased = if first {
                &mut done.inc_start
            } else {
                &mut done.inc_end
            };
            *increased = increased.saturating_add(gain);
        }
        let mut parts = None;
        if let Some((before, middle)) = self.centre {
            parts = Some((before, middle, self.total - before - middle));
        } else if self.turned && left > 0 {
            parts = Some((self.at, 0, left));
        } else {
            self.turned = false;
        }
        Ok(RowSum {
            done,
            parts,
            turned: self.turned,
        })
    }
}
