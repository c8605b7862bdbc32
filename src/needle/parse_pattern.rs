//! Sentences of the rows in pattern: charts, their rows, and the rows of the cap stitch by stitch.

use super::cursor::Cursor;
use super::parse_stretch::times;
use super::said::{BaseSaid, ChartSaid, PatternSaid, RowSaid, Said};
use crate::measure::Side;
use crate::stitch::{Crossing, MOST_CROSSED, Stitch};

/// Stitches of a row at the most: more than any needle holds.
const MOST: usize = 2000;

pub(crate) fn pattern(c: &mut Cursor<'_, '_>) -> Option<Said> {
    let said = c
        .attempt(chart)
        .or_else(|| {
            c.attempt(chart_row)
                .map(|(panel, row, stitches)| PatternSaid::ChartRow {
                    panel,
                    row,
                    stitches,
                })
        })
        .or_else(|| c.attempt(panel_lies))
        .or_else(|| c.attempt(row).map(PatternSaid::Row))?;
    Some(Said::Pattern(said))
}

/// `The repeat has 4 sts and 2 rows; the first crown st is its st 3, row 1 of the cap its row 2`.
fn chart(c: &mut Cursor<'_, '_>) -> Option<PatternSaid> {
    let panel = if c.phrase("The repeat") {
        None
    } else {
        Some(panel_number(c)?)
    };
    c.expect("has")?;
    let width = c.number()?;
    c.any(&["sts and", "st and"])?;
    let height = c.number()?;
    c.any(&["rows;", "row;"])?;
    c.any(&[if panel.is_none() {
        "the first crown st is its st"
    } else {
        "its first st is crown st"
    }])?;
    let first_stitch = c.number()?;
    c.expect(", row 1 of the cap its row")?;
    Some(PatternSaid::Chart(ChartSaid {
        panel,
        width,
        height,
        first_stitch,
        first_row: c.number()?,
    }))
}

fn panel_number(c: &mut Cursor<'_, '_>) -> Option<u32> {
    c.expect("Panel")?;
    c.number()
}

/// `Panel 1 lies on crown sts 4 to 9`.
fn panel_lies(c: &mut Cursor<'_, '_>) -> Option<PatternSaid> {
    let panel = panel_number(c)?;
    c.expect("lies on crown sts")?;
    let first = c.number()?;
    c.expect("to")?;
    let last = c.number()?;
    Some(PatternSaid::PanelLies { panel, first, last })
}

/// `Repeat, row 1: k2, p2`.
fn chart_row(c: &mut Cursor<'_, '_>) -> Option<(Option<u32>, u32, Vec<Stitch>)> {
    let panel = if c.phrase("Repeat") {
        None
    } else {
        Some(panel_number(c)?)
    };
    c.expect(", row")?;
    let row = c.number()?;
    c.expect(":")?;
    let (stitches, edges) = stitches(c, Side::Rs)?;
    edges.is_empty().then_some((panel, row, stitches))
}

/// `Row 7 (WS): row 3 of the repeat, panel row 5, from st 2 to st 5: p1, sm, (k2, p2) 6 times; the last 2 sts are new`,
/// or `Row 7 (WS): row 3 of the repeat, panel row 5, from st 2 to st 5, 27 sts`.
fn row(c: &mut Cursor<'_, '_>) -> Option<RowSaid> {
    let (number, side) = if c.phrase("Round 1:") {
        (None, Side::Rs)
    } else {
        c.expect("Row")?;
        let number = c.number()?;
        let side = if c.any(&["(RS):", "(WS):"])? == 0 {
            Side::Rs
        } else {
            Side::Ws
        };
        (Some(number), side)
    };
    let mut said = RowSaid {
        number,
        side,
        of_ground: None,
        of_panels: Vec::new(),
        ends: None,
        by_chart: None,
        stitches: Vec::new(),
        edges: Vec::new(),
        new: 0,
    };
    let mut placed = false;
    loop {
        if said.of_ground.is_none() && c.phrase("row") {
            said.of_ground = Some(c.number()?);
            c.expect("of the repeat")?;
        } else if said.of_panels.is_empty() && c.any(&["panel rows", "panel row"]).is_some() {
            said.of_panels.push(c.number()?);
            while c.phrase("/") {
                said.of_panels.push(c.number()?);
            }
        } else if said.ends.is_none() && c.phrase("from st") {
            said.ends = Some(to_st(c)?);
        } else if let Some(count) = c.attempt(counted_sts) {
            let base = if c.phrase(", then on the base") {
                Some(on_base(c)?)
            } else {
                None
            };
            said.by_chart = Some((count, base));
            return Some(said);
        } else {
            break;
        }
        placed = true;
        if !c.phrase(",") {
            break;
        }
    }
    if placed {
        c.expect(":")?;
    }
    (said.stitches, said.edges) = stitches(c, side)?;
    if c.phrase("; the last st is new") {
        said.new = 1;
    } else if c.phrase("; the last") {
        said.new = c.number()?;
        c.expect("sts are new")?;
    }
    Some(said)
}

/// `2 to st 5`.
fn to_st(c: &mut Cursor<'_, '_>) -> Option<(u32, u32)> {
    let first = c.number()?;
    c.expect("to st")?;
    Some((first, c.number()?))
}

/// `from st 2 to st 5, 4 sts`.
fn on_base(c: &mut Cursor<'_, '_>) -> Option<BaseSaid> {
    let ends = if c.phrase("from st") {
        let ends = to_st(c)?;
        c.expect(",")?;
        Some(ends)
    } else {
        None
    };
    Some(BaseSaid {
        ends,
        stitches: counted_sts(c)?,
    })
}

/// `27 sts`.
fn counted_sts(c: &mut Cursor<'_, '_>) -> Option<u32> {
    let n = c.number().filter(|n| *n as usize <= MOST)?;
    c.any(&["sts", "st"])?;
    Some(n)
}

/// Stitches in the order of the work, and the markers among them by the number of stitches before each.
fn stitches(c: &mut Cursor<'_, '_>, side: Side) -> Option<(Vec<Stitch>, Vec<u32>)> {
    let (mut all, mut edges) = (Vec::new(), Vec::new());
    loop {
        if c.phrase("sm") {
            let before: usize = all.iter().map(|stitch: &Stitch| stitch.width()).sum();
            edges.push(u32::try_from(before).ok()?);
        } else if c.phrase("(") {
            let mut group = item(c, side)?;
            while c.phrase(",") {
                group.extend(item(c, side)?);
            }
            c.expect(")")?;
            let n = times(c)? as usize;
            if n.checked_mul(group.len())? > MOST {
                return None;
            }
            all.extend(std::iter::repeat_n(group, n).flatten());
        } else {
            all.extend(item(c, side)?);
        }
        if all.len() > MOST {
            return None;
        }
        if !c.phrase(",") {
            return Some((all, edges));
        }
    }
}

/// `k3`, `k3 tbl`, `yo`, `k2tog twice`, `2/2 LC`.
fn item(c: &mut Cursor<'_, '_>, side: Side) -> Option<Vec<Stitch>> {
    let one = c.attempt(|c| counted(c, side));
    if let Some((stitch, n)) = one {
        return (n as usize <= MOST && n > 0).then(|| vec![stitch; n as usize]);
    }
    let stitch = c
        .attempt(crossing)
        .or_else(|| c.attempt(|c| word(c, side)))?;
    let n = c.attempt(times).unwrap_or(1);
    (n as usize <= MOST && n > 0).then(|| vec![stitch; n as usize])
}

/// A stitch of the table whose short word on this side has a number in it: `k3 tbl`.
fn counted(c: &mut Cursor<'_, '_>, side: Side) -> Option<(Stitch, u32)> {
    let word = ["k", "p", "sl"].into_iter().find(|word| c.phrase(word))?;
    let n = c.number()?;
    if c.phrase("tog") {
        return None;
    }
    let how = ["tbl", "wyib", "wyif"]
        .into_iter()
        .find(|how| c.phrase(how));
    let short = how.map_or(word.to_owned(), |how| format!("{word} {how}"));
    let known = on(side).find(|(_, known)| *known == short);
    known.map(|(stitch, _)| (stitch, n))
}

fn word(c: &mut Cursor<'_, '_>, side: Side) -> Option<Stitch> {
    let counts = |short: &str| matches!(short.split(' ').next(), Some("k" | "p" | "sl"));
    let mut words: Vec<_> = on(side).filter(|(_, short)| !counts(short)).collect();
    // `k2tog tbl` begins like `k2tog`.
    words.sort_by_key(|(_, short)| std::cmp::Reverse(short.len()));
    let mut words = words.into_iter();
    words
        .find(|(_, short)| c.phrase(short))
        .map(|(stitch, _)| stitch)
}

/// The stitches of the table with their short words on this side.
fn on(side: Side) -> impl Iterator<Item = (Stitch, &'static str)> {
    Stitch::all().filter_map(move |(stitch, entry)| {
        let short = if side == Side::Rs {
            Some(entry.rs)
        } else {
            entry.ws
        };
        Some((stitch, short?))
    })
}

/// `2/2 LC`, `2/1 RPC`.
fn crossing(c: &mut Cursor<'_, '_>) -> Option<Stitch> {
    let part = |n: u32| {
        u8::try_from(n)
            .ok()
            .filter(|n| (1..=MOST_CROSSED).contains(n))
    };
    let front = part(c.number()?)?;
    c.expect("/")?;
    let behind = part(c.number()?)?;
    let way = c.any(&["LC", "RC", "LPC", "RPC"])?;
    Some(Stitch::Cross(Crossing {
        front,
        behind,
        left: way % 2 == 0,
        purl: way > 1,
    }))
}
