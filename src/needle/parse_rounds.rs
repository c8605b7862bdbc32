//! Sentences of the join and the tube.

use super::cursor::Cursor;
use super::parse_rows::decrease;
use super::parse_stretch::times;
use super::said::{CornerOp, JoinOp, RoundOp, Said};

/// `Work the next RS row to the wrapped base st, work it, then 3 more, to the middle of the base;
/// pm: rounds begin here`.
pub(crate) fn join(c: &mut Cursor<'_, '_>) -> Option<Said> {
    if c.phrase("Work the next RS row to the underarm marker: rounds begin here") {
        return Some(Said::JoinAtMarker);
    }
    c.expect("Work the next RS row to the")?;
    let double = c.any(&["wrapped base st,", "ds on the base,"])? == 1;
    c.any(&["work it together with its wrap", "work it as one st"])?;
    let more = c.attempt(|c| {
        c.expect(", then")?;
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

/// `Round 1: k to the base marker, make 1 st from the strand there, ..., k to the end of the round`.
pub(crate) fn first_round(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Round")?;
    let number = c.number()?;
    c.expect(":")?;
    let mut ops = Vec::new();
    if c.any(&["k round, making", "work round, making"]).is_some() {
        let made = made(c)?;
        c.expect("at each base marker")?;
        ops.push(JoinOp::Each(made));
    } else if c.any(&["k round,", "work round,"]).is_some() {
        c.expect(
            "at each base marker lifting the strand and working it together with the next st",
        )?;
        ops.push(JoinOp::Each(CornerOp::Close));
    } else {
        ops.push(join_op(c)?);
        while c.phrase(",") {
            ops.push(join_op(c)?);
        }
    }
    let turned = c.attempt(left_turned);
    Some(Said::FirstRound {
        number,
        ops,
        turned,
    })
}

/// The base stitch turned on that no row has met yet: true for a double one.
fn left_turned(c: &mut Cursor<'_, '_>) -> Option<bool> {
    c.expect(";")?;
    let kinds = [
        "work the other wrapped base st together with its wrap",
        "work the other ds on the base as one st",
    ];
    Some(c.any(&kinds)? == 1)
}

/// `1 st from the strand`, `2 sts from the strands`.
fn made(c: &mut Cursor<'_, '_>) -> Option<CornerOp> {
    let n = c.number()?;
    c.any(&["sts from the strands", "st from the strand"])?;
    Some(CornerOp::Make(n))
}

fn join_op(c: &mut Cursor<'_, '_>) -> Option<JoinOp> {
    if c.any(&["begin at the base marker", "begin at the underarm marker"])
        .is_some()
    {
        return Some(JoinOp::Begin);
    }
    if c.phrase("lift the strand there and k it together with the next st") {
        return Some(JoinOp::Corner(CornerOp::Close));
    }
    if c.phrase("make") {
        let made = made(c)?;
        c.expect("there")?;
        return Some(JoinOp::Corner(made));
    }
    if c.any(&["k to", "work to"]).is_some() {
        return to_corner(c);
    }
    let decrease = decrease(c)?;
    let times = c.attempt(times).unwrap_or(1);
    Some(JoinOp::Corner(CornerOp::Decrease(decrease, times)))
}

fn to_corner(c: &mut Cursor<'_, '_>) -> Option<JoinOp> {
    if c.phrase("the end of the round") {
        return Some(JoinOp::ToEnd);
    }
    if c.phrase("the last") {
        let n = c.number()?;
        c.any(&["sts", "st"])?;
        return Some(JoinOp::ToLast(n));
    }
    let before = c.attempt(|c| {
        let n = c.number()?;
        c.any(&["sts before", "st before"])?;
        Some(n)
    });
    let other = c.any(&["the base marker", "the other base marker"])? == 1;
    Some(JoinOp::ToCorner {
        before: before.unwrap_or(0),
        other,
    })
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
    if c.any(&["k to the last", "work to the last"]).is_none() {
        c.expect("k")?;
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
    c.any(&["Work the dec round", "Work the inc round"])?;
    if c.phrase("in the next round") {
        return Some(Said::Shape { every: 1, times: 1 });
    }
    // Of several sizes it is every 8 (7, 7) rounds.
    c.any(&["on every", "every"])?;
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

/// `Worked so far: 30 rounds, the dec round in 4 of them`, `Worked so far: 20 rounds, 2 sts more than planned`.
pub(crate) fn worked(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Worked so far:")?;
    let rounds = c.number()?;
    c.any(&["rounds", "round"])?;
    let shaped = c.attempt(|c| {
        c.any(&[", the dec round in", ", the inc round in"])?;
        let shaped = c.number()?;
        c.expect("of them")?;
        Some(shaped)
    });
    let beside = c.attempt(|c| {
        c.expect(",")?;
        let stitches = i32::try_from(c.number()?).ok()?;
        c.any(&["sts", "st"])?;
        let fewer = c.any(&["more", "fewer"])? == 1;
        c.expect("than planned")?;
        Some(if fewer { -stitches } else { stitches })
    });
    Some(Said::Worked {
        rounds,
        shaped: shaped.unwrap_or(0),
        beside: beside.unwrap_or(0),
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

/// `K 1 round, decreasing 1 st evenly: the cuff needs another count`.
pub(crate) fn adjust(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("K")?;
    let rounds = c.number()?;
    c.any(&["rounds,", "round,"])?;
    let fewer = c.any(&["decreasing", "increasing"])? == 0;
    let stitches = c.number()?;
    c.any(&["sts", "st"])?;
    c.expect("evenly: the cuff needs another count")?;
    Some(Said::Adjust {
        rounds,
        stitches,
        fewer,
    })
}

/// `Cuff: work 18 rounds of k1, p1 rib`.
pub(crate) fn cuff(c: &mut Cursor<'_, '_>) -> Option<Said> {
    c.expect("Cuff: work")?;
    let rounds = c.number()?;
    c.any(&["rounds of", "round of"])?;
    let patterns = [
        "k1, p1 rib",
        "k2, p2 rib",
        "garter st",
        "stockinette st",
        "stocking st",
    ];
    let multiple = match c.any(&patterns)? {
        0 => 2,
        1 => 4,
        _ => 1,
    };
    Some(Said::Cuff { rounds, multiple })
}
