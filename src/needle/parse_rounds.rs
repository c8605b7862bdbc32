//! Sentences of the join and the tube.

use super::cursor::Cursor;
use super::parse::times;
use super::parse_rows::decrease;
use super::said::{RoundOp, Said};

/// `Work the next RS row to the wrapped base st, work it and 3 more, to the middle of the base;
/// pm: rounds begin here`.
pub(crate) fn join(c: &mut Cursor<'_, '_>) -> Option<Said> {
    if c.phrase("Work the next RS row to the underarm marker: rounds begin here") {
        return Some(Said::JoinAtMarker);
    }
    c.expect("Work the next RS row to the")?;
    let double = c.any(&["wrapped base st,", "ds on the base,"])? == 1;
    c.expect("work it")?;
    let more = c.attempt(|c| {
        c.expect("and")?;
        let n = c.number()?;
        c.expect("more")?;
        Some(n)
    });
    c.expect(", to the middle of the base; pm: rounds begin here")?;
    Some(Said::Join {
        double,
        more: more.unwrap_or(0),
    })
}

/// `In the first round work the other wrapped base st as you come to it`.
pub(crate) fn other_base_stitch(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("In the first round work the other")?;
    let double = c.any(&["wrapped base st", "ds"])? == 1;
    c.expect("as you come to it")?;
    Some(Said::OtherBaseStitch { double })
}

/// `Dec round: k1, k2tog, k to the last 3 sts, ssk, k1`, or an increase round.
pub(crate) fn shape_round(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.any(&["Dec round:", "Inc round:"])?;
    let mut ops = vec![round_op(c)?];
    while c.phrase(",") {
        ops.push(round_op(c)?);
    }
    Some(Said::ShapeRound(ops))
}

fn round_op(c: &mut Cursor<'_, '_>) -> Option<RoundOp> {
    if let Some(decrease) = c.attempt(decrease) {
        return Some(RoundOp::Decrease(decrease));
    }
    if c.phrase("inc") {
        return Some(RoundOp::Increase(c.number()?));
    }
    c.expect("k")?;
    if !c.phrase("to the last") {
        return Some(RoundOp::Knit(c.number()?));
    }
    if c.phrase("st") {
        return Some(RoundOp::KnitToLast(1));
    }
    let n = c.number()?;
    c.expect("sts")?;
    Some(RoundOp::KnitToLast(n))
}

/// `Work the dec round on every 8th round, 2 times`.
pub(crate) fn shape(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.any(&["Work the dec round on every", "Work the inc round on every"])?;
    let every = if c.phrase("round") {
        1
    } else {
        let n = c.number()?;
        c.any(&["st round", "nd round", "rd round", "th round", "rounds"])?;
        n
    };
    c.expect(",")?;
    Some(Said::Shape {
        every,
        times: times(c)?,
    })
}

/// `Work 16 rounds even`.
pub(crate) fn even(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Work")?;
    let rounds = c.number()?;
    c.any(&["rounds", "round"])?;
    c.any(&["even", "straight"])?;
    Some(Said::Even { rounds })
}
