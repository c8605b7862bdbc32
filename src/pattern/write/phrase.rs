//! A ledger as phrases: stretches of equal rows and of rows at an equal distance.

use crate::measure::Stitches;

use super::super::ledger::{Ledger, LedgerRow};

/// Where on the row a shaping lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Edge {
    Both,
    Start,
    End,
}

/// What is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Verb {
    BindOff,
    Dec,
    Inc,
}

/// One kind of phrase: what must agree for sizes to share it. A bind-off may differ in its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Key {
    /// Rows one after the other.
    Rows {
        verb: Verb,
        edge: Edge,
        by: u32,
    },
    /// Rows so many apart, counted from the last one.
    Every {
        verb: Verb,
        edge: Edge,
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
pub(super) struct Phrase {
    pub(super) key: Key,
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
fn one_thing(row: Mixed) -> Option<(Verb, Edge, u32)> {
    let Mixed {
        bind_off,
        dec_start,
        dec_end,
        inc_start,
        inc_end,
    } = row;
    match (bind_off, dec_start, dec_end, inc_start, inc_end) {
        (n, 0, 0, 0, 0) if n > 0 => Some((Verb::BindOff, Edge::Start, n)),
        (0, a, b, 0, 0) => edge(a, b).map(|(edge, by)| (Verb::Dec, edge, by)),
        (0, 0, 0, a, b) => edge(a, b).map(|(edge, by)| (Verb::Inc, edge, by)),
        _ => None,
    }
}

fn edge(start: u32, end: u32) -> Option<(Edge, u32)> {
    match (start, end) {
        (0, 0) => None,
        (a, b) if a == b => Some((Edge::Both, a)),
        (a, 0) => Some((Edge::Start, a)),
        (0, b) => Some((Edge::End, b)),
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
pub(super) fn phrases(ledger: &Ledger) -> Vec<Phrase> {
    let fabric = ledger.fabric();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(row) = fabric.get(at) {
        at = match (row.is_even(), one_thing(mixed(row))) {
            (true, _) => stretch(fabric, at, Key::Even, 1, &mut out),
            (_, Some((verb, edge, by))) => {
                let at = stretch(fabric, at, rows_key(verb, edge, by), by, &mut out);
                spaced(fabric, at, (verb, edge, by), &mut out)
            }
            (_, None) => stretch(fabric, at, Key::Told(mixed(row)), 1, &mut out),
        };
    }
    if let Some(last) = ledger.rows.get(fabric.len()) {
        let by = last.bind_off.count();
        out.push(Phrase {
            key: Key::Close,
            by,
            count: 1,
            after: 0,
        });
    }
    out
}

fn rows_key(verb: Verb, edge: Edge, by: u32) -> Key {
    let by = if verb == Verb::BindOff { 0 } else { by };
    Key::Rows { verb, edge, by }
}

/// All rows from `at` that do the same; the place after them.
fn stretch(rows: &[LedgerRow], at: usize, key: Key, by: u32, out: &mut Vec<Phrase>) -> usize {
    let same = rows.get(at).map(mixed);
    let tail = rows.get(at..).unwrap_or_default();
    let count = tail.iter().take_while(|r| Some(mixed(r)) == same).count();
    push(rows, at + count, (key, by, count), out);
    at + count
}

fn push(
    rows: &[LedgerRow],
    end: usize,
    (key, by, count): (Key, u32, usize),
    out: &mut Vec<Phrase>,
) {
    let after = end
        .checked_sub(1)
        .and_then(|last| rows.get(last))
        .map_or(Stitches::ZERO, |r| r.stitches);
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    out.push(Phrase {
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
    what: (Verb, Edge, u32),
    out: &mut Vec<Phrase>,
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
        let key_by = if verb == Verb::BindOff { 0 } else { by };
        at += times * (gap + 1);
        push(
            rows,
            at,
            (
                Key::Every {
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
