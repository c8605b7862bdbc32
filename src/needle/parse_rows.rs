//! Sentences of the cap: the first two rows and the steps.

use super::cursor::Cursor;
use super::said::{Decrease, RowTake, Said, SideAction, TurnHow};
use crate::measure::Side;

/// `Row 1 (RS): k17 to the marker, w&t`.
pub(crate) fn first_row(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Row")?;
    let number = c.number()?;
    let side = match c.any(&["(RS):", "(WS):"])? {
        0 => Side::Rs,
        _ => Side::Ws,
    };
    let plain = ["k", "p", "work"];
    let knit = Some(c.any(&plain)?).filter(|i| *i < 2).map(|i| i == 0);
    let stitches = c.number()?;
    if knit.is_none() {
        c.expect("in pattern")?;
    }
    c.expect("to the marker,")?;
    Some(Said::FirstRow {
        number,
        side,
        knit,
        stitches,
        turn: turn(c)?.on(side),
    })
}

/// `Worked so far: 16 rows; go on from here`.
pub(crate) fn so_far(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Worked so far:")?;
    let rows = c.number()?;
    c.expect("rows; go on from here")?;
    Some(Said::SoFar { rows })
}

/// `A. 3 pairs: work the wrapped st and 1 more, w&t`, for both sides or each on its own.
pub(crate) fn step(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let label = c.bump()?.text.to_owned();
    c.expect(".")?;
    let times = c.number()?;
    c.any(&["pairs", "pair"])?;
    c.expect(":")?;
    let (mut rs, mut ws) = c.attempt(each_side).or_else(|| c.attempt(both_sides))?;
    let mut to_base = false;
    while c.phrase(";") {
        if c.attempt(reaches_base).is_some() {
            to_base = true;
        } else {
            last_turn(c, &mut rs, &mut ws)?;
        }
    }
    Some(Said::Step {
        label,
        times,
        rs,
        ws,
        to_base,
    })
}

fn reaches_base(c: &mut Cursor<'_, '_>) -> Option<()> {
    c.expect("the last pair")?;
    c.any(&[
        "turns on the first base st at each end",
        "ends at the underarm marker, where the flanks meet",
    ])?;
    Some(())
}

fn both_sides(c: &mut Cursor<'_, '_>) -> Option<(SideAction, SideAction)> {
    let action = action(c)?;
    Some((action.on(Side::Rs), action.on(Side::Ws)))
}

fn each_side(c: &mut Cursor<'_, '_>) -> Option<(SideAction, SideAction)> {
    c.expect("RS:")?;
    let rs = action(c)?.on(Side::Rs);
    c.expect("; WS:")?;
    Some((rs, action(c)?.on(Side::Ws)))
}

/// `at both turns of the last pair ...`, or at one of them.
fn last_turn(c: &mut Cursor<'_, '_>, rs: &mut SideAction, ws: &mut SideAction) -> Option<()> {
    let which = c.any(&["at both turns", "at the RS turn", "at the WS turn"])?;
    c.expect("of the last pair")?;
    let turn = turn(c)?;
    if which != 2 {
        rs.last_turn = Some(turn.on(Side::Rs));
    }
    if which != 1 {
        ws.last_turn = Some(turn.on(Side::Ws));
    }
    Some(())
}

/// A decrease as it is named for both sides at once, or for one.
#[derive(Clone, Copy, Debug)]
struct NamedDecrease {
    rs: Decrease,
    ws: Decrease,
}

impl NamedDecrease {
    fn on(self, side: Side) -> Decrease {
        match side {
            Side::Rs => self.rs,
            Side::Ws => self.ws,
        }
    }
}

#[derive(Clone, Copy, Debug)]
enum TakeWords {
    Turned {
        double: bool,
        more: u32,
    },
    Together {
        count: u32,
        named: NamedDecrease,
        more: u32,
    },
    WithNext {
        double: bool,
        named: NamedDecrease,
        more: u32,
    },
    Neighbour {
        double: bool,
        before: u32,
        named: NamedDecrease,
        count: u32,
    },
}

#[derive(Clone, Copy, Debug)]
enum TurnWords {
    Wrap(u32),
    Double(u32),
    Plain,
    DoubleTogether(NamedDecrease),
}

impl TurnWords {
    fn on(self, side: Side) -> TurnHow {
        match self {
            Self::Wrap(n) => TurnHow::Wrap(n),
            Self::Double(n) => TurnHow::Double(n),
            Self::Plain => TurnHow::Plain,
            Self::DoubleTogether(named) => TurnHow::DoubleTogether(named.on(side)),
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct ActionWords {
    take: TakeWords,
    turn: TurnWords,
}

impl ActionWords {
    fn on(self, side: Side) -> SideAction {
        let take = match self.take {
            TakeWords::Turned { double, more } => RowTake::Turned { double, more },
            TakeWords::Together { count, named, more } => RowTake::Together {
                count,
                decrease: named.on(side),
                more,
            },
            TakeWords::WithNext {
                double,
                named,
                more,
            } => RowTake::WithNext {
                double,
                decrease: named.on(side),
                more,
            },
            TakeWords::Neighbour {
                double,
                before,
                named,
                count,
            } => RowTake::Neighbour {
                double,
                before,
                decrease: named.on(side),
                count,
            },
        };
        SideAction {
            take,
            turn: self.turn.on(side),
            last_turn: None,
        }
    }
}

fn action(c: &mut Cursor<'_, '_>) -> Option<ActionWords> {
    let take = c
        .attempt(neighbour)
        .or_else(|| c.attempt(turned))
        .or_else(|| c.attempt(with_next))
        .or_else(|| c.attempt(together))?;
    c.expect(",")?;
    Some(ActionWords {
        take,
        turn: turn(c)?,
    })
}

/// `work the wrapped st and 1 more`, `work the ds`.
fn turned(c: &mut Cursor<'_, '_>) -> Option<TakeWords> {
    let double = c.any(&["work the wrapped st", "work the ds"])? == 1;
    Some(TakeWords::Turned {
        double,
        more: more(c),
    })
}

fn more(c: &mut Cursor<'_, '_>) -> u32 {
    let more = c.attempt(|c| {
        c.expect("and")?;
        let n = c.number()?;
        c.expect("more")?;
        Some(n)
    });
    more.unwrap_or(0)
}

/// `ssk (WS: p2tog) the wrapped st and the next st and work 1 more`.
fn with_next(c: &mut Cursor<'_, '_>) -> Option<TakeWords> {
    let named = decrease_words(c)?;
    let double = c.any(&["the wrapped st", "the ds"])? == 1;
    c.expect("and the next st")?;
    Some(TakeWords::WithNext {
        double,
        named,
        more: work_more(c),
    })
}

fn work_more(c: &mut Cursor<'_, '_>) -> u32 {
    let more = c.attempt(|c| {
        c.expect("and work")?;
        let n = c.number()?;
        c.expect("more")?;
        Some(n)
    });
    more.unwrap_or(0)
}

/// `ssk (WS: p2tog) the 2 wrapped sts`.
fn together(c: &mut Cursor<'_, '_>) -> Option<TakeWords> {
    let named = decrease_words(c)?;
    c.expect("the")?;
    let count = c.number()?;
    c.expect("wrapped sts")?;
    Some(TakeWords::Together {
        count,
        named,
        more: work_more(c),
    })
}

/// `work to 1 st before the wrapped st, ssk (WS: p2tog) these 2 sts`.
fn neighbour(c: &mut Cursor<'_, '_>) -> Option<TakeWords> {
    c.expect("work to")?;
    let before = c.number()?;
    c.any(&["sts before the", "st before the"])?;
    let double = c.any(&["wrapped st,", "ds,"])? == 1;
    let named = decrease_words(c)?;
    c.expect("these")?;
    let count = c.number()?;
    c.expect("sts")?;
    Some(TakeWords::Neighbour {
        double,
        before,
        named,
        count,
    })
}

/// `w&t`, `just turn`, `wrap the next 2 sts together and turn`, `work 1, turn, ds`, `ssk, turn, ds`.
fn turn(c: &mut Cursor<'_, '_>) -> Option<TurnWords> {
    if c.phrase("w&t") {
        return Some(TurnWords::Wrap(1));
    }
    if c.phrase("just turn") {
        return Some(TurnWords::Plain);
    }
    let wrap = |c: &mut Cursor<'_, '_>| {
        c.expect("wrap the next")?;
        let n = c.number()?;
        c.expect("sts together and turn")?;
        Some(TurnWords::Wrap(n))
    };
    let double = |c: &mut Cursor<'_, '_>| {
        c.expect("work")?;
        let n = c.number()?;
        c.expect(", turn, ds")?;
        Some(TurnWords::Double(n))
    };
    let pulled = |c: &mut Cursor<'_, '_>| {
        let named = decrease_words(c)?;
        c.expect(", turn, ds")?;
        Some(TurnWords::DoubleTogether(named))
    };
    c.attempt(wrap)
        .or_else(|| c.attempt(double))
        .or_else(|| c.attempt(pulled))
}

fn decrease_words(c: &mut Cursor<'_, '_>) -> Option<NamedDecrease> {
    let rs = decrease(c)?;
    let ws = c.attempt(|c| {
        c.expect("(WS:")?;
        let ws = decrease(c)?;
        c.expect(")")?;
        Some(ws)
    });
    Some(NamedDecrease {
        rs,
        ws: ws.unwrap_or(rs),
    })
}

/// One of the decreases of two stitches into one.
pub(crate) fn decrease(c: &mut Cursor<'_, '_>) -> Option<Decrease> {
    Some(
        match c.any(&["ssk", "ssp", "k2tog tbl", "k2tog", "p2tog"])? {
            0 => Decrease::Ssk,
            1 => Decrease::Ssp,
            2 => Decrease::K2togTbl,
            3 => Decrease::K2tog,
            _ => Decrease::P2tog,
        },
    )
}
