//! A ledger as phrases: stretches of equal rows and of rows at an equal distance.

use crate::measure::Stitches;

use super::super::ledger::{Ledger, LedgerRow};

/// Where on the row a shaping lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum ShapedEdge {
    Both,
    Start,
    End,
}

/// What is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum ShapedBy {
    BindOff,
    Dec,
    Inc,
}

/// One kind of phrase: what must agree for sizes to share it. A bind-off may differ in its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum PhraseKey {
    /// Rows one after the other.
    Rows {
        verb: ShapedBy,
        edge: ShapedEdge,
        by: u32,
    },
    /// Rows so many apart, counted from the last one.
    Every {
        verb: ShapedBy,
        edge: ShapedEdge,
        by: u32,
        every: u32,
    },
    Even,
    /// Rows that shape in several ways at once.
    Told(Mixed),
    Close,
}

/// All that one row does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Mixed {
    pub(super) bind_off: u32,
    pub(super) dec_start: u32,
    pub(super) dec_end: u32,
    pub(super) inc_start: u32,
    pub(super) inc_end: u32,
}

/// A phrase of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct SizePhrase {
    pub(super) key: PhraseKey,
    /// Stitches, at each edge it names.
    pub(super) by: u32,
    /// Rows, or times.
    pub(super) count: u32,
    /// Stitches after it.
    pub(super) after: u32,
}

/// Plain rows after which a single shaping row is told on its own: nobody keeps such a count in the head
/// as a pace.
const FAR: usize = 12;

/// What a row does, when it is one thing.
fn one_thing(row: Mixed) -> Option<(ShapedBy, ShapedEdge, u32)> {
    let Mixed {
        bind_off,
        dec_start,
        dec_end,
        inc_start,
        inc_end,
    } = row;
    match (bind_off, dec_start, dec_end, inc_start, inc_end) {
        (n, 0, 0, 0, 0) if n > 0 => Some((ShapedBy::BindOff, ShapedEdge::Start, n)),
        (0, a, b, 0, 0) => edge(a, b).map(|(edge, by)| (ShapedBy::Dec, edge, by)),
        (0, 0, 0, a, b) => edge(a, b).map(|(edge, by)| (ShapedBy::Inc, edge, by)),
        _ => None,
    }
}

fn edge(start: u32, end: u32) -> Option<(ShapedEdge, u32)> {
    match (start, end) {
        (0, 0) => None,
        (a, b) if a == b => Some((ShapedEdge::Both, a)),
        (a, 0) => Some((ShapedEdge::Start, a)),
        (0, b) => Some((ShapedEdge::End, b)),
        _ => None,
    }
}

fn mixed(row: &LedgerRow) -> Mixed {
    Mixed {
        bind_off: row.bind_off.count(),
        dec_start: row.decrease_start.count(),
        dec_end: row.decrease_end.count(),
        inc_start: row.increase_start.count(),
        inc_end: row.increase_end.count(),
    }
}

/// The phrases of one ledger, in order.
pub(super) fn phrases(ledger: &Ledger) -> Vec<SizePhrase> {
    let fabric = ledger.fabric();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(row) = fabric.get(at) {
        at = match (row.is_even(), one_thing(mixed(row))) {
            (true, _) => stretch(fabric, at, PhraseKey::Even, 1, &mut out),
            (_, Some((verb, edge, by))) => {
                let at = stretch(fabric, at, rows_key(verb, edge, by), by, &mut out);
                spaced(fabric, at, (verb, edge, by), &mut out)
            }
            (_, None) => stretch(fabric, at, PhraseKey::Told(mixed(row)), 1, &mut out),
        };
    }
    if let Some(last) = ledger.rows.get(fabric.len()) {
        let by = last.bind_off.count();
        out.push(SizePhrase {
            key: PhraseKey::Close,
            by,
            count: 1,
            after: 0,
        });
    }
    out
}

fn rows_key(verb: ShapedBy, edge: ShapedEdge, by: u32) -> PhraseKey {
    let by = if verb == ShapedBy::BindOff { 0 } else { by };
    PhraseKey::Rows { verb, edge, by }
}

/// All rows from `at` that do the same; the place after them.
fn stretch(
    rows: &[LedgerRow],
    at: usize,
    key: PhraseKey,
    by: u32,
    out: &mut Vec<SizePhrase>,
) -> usize {
    let same = rows.get(at).map(mixed);
    let tail = rows.get(at..).unwrap_or_default();
    let count = tail.iter().take_while(|r| Some(mixed(r)) == same).count();
    push(rows, at + count, (key, by, count), out);
    at + count
}

fn push(
    rows: &[LedgerRow],
    end: usize,
    (key, by, count): (PhraseKey, u32, usize),
    out: &mut Vec<SizePhrase>,
) {
    let after = end
        .checked_sub(1)
        .and_then(|last| rows.get(last))
        .map_or(Stitches::ZERO, |r| r.stitches);
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    out.push(SizePhrase {
        key,
        by,
        count,
        after: after.count(),
    });
}

/// The same shaping again after an equal number of plain rows, as often as it goes on.
fn spaced(
    rows: &[LedgerRow],
    mut at: usize,
    what: (ShapedBy, ShapedEdge, u32),
    out: &mut Vec<SizePhrase>,
) -> usize {
    let (verb, edge, by) = what;
    loop {
        let tail = rows.get(at..).unwrap_or_default();
        let gap = tail.iter().take_while(|r| r.is_even()).count();
        let again = |place: usize| {
            let plain = rows
                .get(place..place + gap)
                .is_some_and(|r| r.iter().all(LedgerRow::is_even));
            let shaped = rows.get(place + gap).and_then(|r| one_thing(mixed(r)));
            plain && shaped == Some(what)
        };
        let mut times = 0;
        while gap > 0 && again(at + times * (gap + 1)) {
            times += 1;
        }
        if times == 0 || times == 1 && gap >= FAR {
            return at;
        }
        let every = u32::try_from(gap + 1).unwrap_or(u32::MAX);
        let key_by = if verb == ShapedBy::BindOff { 0 } else { by };
        at += times * (gap + 1);
        push(
            rows,
            at,
            (
                PhraseKey::Every {
                    verb,
                    edge,
                    by: key_by,
                    every,
                },
                by,
                times,
            ),
            out,
        );
    }
}
