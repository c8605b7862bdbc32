//! Ledgers written as lines and read again: the same rows, in both dialects, for one size and many.
//!
//! The oracle is the identity: the rows are made up here, row by row, without the reader.

use capwright::case::Terms;
use capwright::diagnostic::{Level, Span};
use capwright::measure::{Side, Stitches};
use capwright::pattern::{Context, Ledger, LedgerRow, SizeReading, read, write_lines};
use proptest::prelude::*;

/// What a row takes and adds: bind-off, decreases at start and end, increases at start and end.
type Row = [u32; 5];

const PLAIN: Row = [0; 5];

/// A ledger with these rows, ended by a bind-off of all that is left where `close` is set.
/// From the first bind-off on, where only plain rows and increases come before it: they lie below.
fn from_the_first(rows: &[Row]) -> &[Row] {
    let takes = |row: &Row| row[0] + row[1] + row[2] > 0;
    let first = rows.iter().position(takes).unwrap_or(0);
    let binds = rows.get(first).is_some_and(|r| r[0] > 0);
    if binds { &rows[first..] } else { rows }
}

/// Without the many plain rows after the last shaping row that would be a saddle's.
fn without_saddle(rows: &[Row]) -> &[Row] {
    let last = rows.iter().rposition(|row| *row != PLAIN);
    &rows[..last.map_or(rows.len(), |at| at + 8).min(rows.len())]
}

/// The same rows; those that would leave too little are made plain.
fn possible(mut count: u32, rows: &[Row]) -> Vec<Row> {
    let possible = rows.iter().map(|&row| {
        let takes = row[0] + row[1] + row[2];
        let row = if takes + 2 > count { PLAIN } else { row };
        count = count + row[3] + row[4] - row[0] - row[1] - row[2];
        row
    });
    possible.collect()
}

fn ledger(start: u32, first: Side, rows: &[Row], close: bool) -> Ledger {
    let mut count = start;
    let mut side = first;
    let mut out = Vec::new();
    let mut push = |row: Row, count: &mut u32| {
        *count = *count + row[3] + row[4] - row[0] - row[1] - row[2];
        out.push(LedgerRow {
            row: u32::try_from(out.len() + 1).unwrap(),
            side,
            bind_off: Stitches(row[0]),
            decrease_start: Stitches(row[1]),
            decrease_end: Stitches(row[2]),
            increase_start: Stitches(row[3]),
            increase_end: Stitches(row[4]),
            stitches: Stitches(*count),
            span: Span::new(0, 0),
        });
        side = side.turned();
    };
    let rows = possible(start, from_the_first(rows));
    for &row in without_saddle(&rows) {
        push(row, &mut count);
    }
    if close {
        push([count, 0, 0, 0, 0], &mut count);
    }
    Ledger {
        start: Stitches(start),
        rows: out,
        divided: None,
    }
}

fn without_spans(sizes: &[SizeReading]) -> Vec<SizeReading> {
    let mut sizes = sizes.to_vec();
    for row in sizes.iter_mut().flat_map(|s| &mut s.ledger.rows) {
        row.span = Span::new(0, 0);
    }
    sizes
}

/// Writes, reads back, and compares every row; the lines must be read without a complaint.
fn round_trip(sizes: &[SizeReading], terms: Terms) -> Result<(), String> {
    let text = write_lines(sizes, terms);
    let labels = sizes.iter().map(|s| s.size.clone()).collect();
    let mut context = Context::new(labels, sizes.iter().map(|s| s.ledger.start).collect());
    context.first_row = sizes[0].ledger.rows.first().map_or(Side::Rs, |r| r.side);
    let (reading, diagnostics) = read(&text, &context);
    let bad: Vec<_> = diagnostics
        .iter()
        .filter(|d| d.level > Level::Note)
        .collect();
    if without_spans(&reading.sizes) != sizes {
        return Err(format!(
            "other rows from\n{text}{:#?}\nwanted {sizes:#?}",
            reading.sizes
        ));
    }
    if !bad.is_empty() {
        return Err(format!("complaints about\n{text}{bad:#?}"));
    }
    Ok(())
}

/// Any row: mostly plain or symmetrical, sometimes odd.
fn row() -> impl Strategy<Value = Row> {
    prop_oneof![
        4 => Just(PLAIN),
        4 => (1..3_u32).prop_map(|n| [0, n, n, 0, 0]),
        2 => (1..6_u32).prop_map(|n| [n, 0, 0, 0, 0]),
        1 => (1..3_u32).prop_map(|n| [0, n, 0, 0, 0]),
        1 => (1..3_u32).prop_map(|n| [0, 0, n, 0, 0]),
        1 => (1..3_u32).prop_map(|n| [0, 0, 0, n, n]),
        1 => (0..3_u32, 0..3_u32, 0..3_u32, 0..2_u32, 0..2_u32).prop_map(|(a, b, c, d, e)| [a, b, c, d, e]),
    ]
}

fn side() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Rs), Just(Side::Ws)]
}

fn terms() -> impl Strategy<Value = Terms> {
    prop_oneof![Just(Terms::Us), Just(Terms::Uk)]
}

/// A cap as caps are: bind-offs, decreases at one to four paces, perhaps plain rows, bind-offs.
fn cap() -> impl Strategy<Value = Vec<Row>> {
    let paces = prop::collection::vec((1..5_usize, 1..8_usize), 1..4);
    (1..9_u32, paces, 0..8_usize, 0..3_usize, 2..5_u32).prop_map(
        |(bind, paces, plain, pairs, top)| {
            let mut rows = vec![[bind, 0, 0, 0, 0]; 2];
            for (every, times) in paces {
                for _ in 0..times {
                    rows.push([0, 1, 1, 0, 0]);
                    rows.extend(vec![PLAIN; every - 1]);
                }
            }
            rows.extend(vec![PLAIN; plain]);
            rows.extend(vec![[top, 0, 0, 0, 0]; 2 * pairs]);
            rows
        },
    )
}

fn named(ledgers: Vec<Ledger>) -> Vec<SizeReading> {
    let label = |n: usize| format!("size {n}");
    ledgers
        .into_iter()
        .enumerate()
        .map(|(n, ledger)| SizeReading {
            size: label(n),
            ledger,
        })
        .collect()
}

proptest! {
    #[test]
    fn any_rows_come_back(
        rows in prop::collection::vec(row(), 1..40),
        start in 40..200_u32,
        close in any::<bool>(),
        first in side(),
        terms in terms(),
    ) {
        let sizes = named(vec![ledger(start, first, &rows, close)]);
        prop_assert_eq!(round_trip(&sizes, terms), Ok(()));
    }

    #[test]
    fn caps_of_many_sizes_come_back(
        caps in prop::collection::vec((cap(), 100..160_u32), 1..11),
        first in side(),
        terms in terms(),
    ) {
        let ledgers = caps.iter().map(|(rows, start)| ledger(*start, first, rows, true)).collect();
        prop_assert_eq!(round_trip(&named(ledgers), terms), Ok(()));
    }
}

/// A small generator with a fixed seed (Numerical Recipes' 32-bit linear congruence), so that ten
/// thousand caps cost little and are the same every time.
struct Dice(u32);

impl Dice {
    fn roll(&mut self, sides: u32) -> u32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 16) % sides
    }
}

/// Caps written in one dialect and read back: with those of the other dialect ten thousand in an
/// optimised build, two thousand in a build for debugging, which is twenty times slower.
fn thousands_of_caps(terms: Terms, seed: u32) {
    let mut dice = Dice(seed);
    let caps = if cfg!(debug_assertions) { 1_000 } else { 5_000 };
    for n in 0..caps {
        let mut rows: Vec<Row> = vec![[1 + dice.roll(9), 0, 0, 0, 0]; 2];
        for _ in 0..=dice.roll(4) {
            let every = 1 + dice.roll(6);
            for _ in 0..=dice.roll(9) {
                rows.push([0, 1, 1, 0, 0]);
                rows.extend((1..every).map(|_| PLAIN));
            }
        }
        for _ in 0..dice.roll(3) {
            rows.extend([[1 + dice.roll(4), 0, 0, 0, 0]; 2]);
        }
        let first = if n % 5 == 0 { Side::Ws } else { Side::Rs };
        let sizes = named(vec![ledger(90 + dice.roll(60), first, &rows, n % 7 != 0)]);
        if let Err(wrong) = round_trip(&sizes, terms) {
            assert!(wrong.is_empty(), "cap {n}: {wrong}");
        }
    }
}

#[test]
fn thousands_of_caps_in_us_terms_come_back() {
    thousands_of_caps(Terms::Us, 2026);
}

#[test]
fn thousands_of_caps_in_uk_terms_come_back() {
    thousands_of_caps(Terms::Uk, 1125);
}

/// Sizes that share nothing have sentences of their own.
#[test]
fn sizes_without_a_common_shape_come_back() {
    let odd = |n: u32| -> Vec<Row> {
        (0..30)
            .map(|k| {
                if (k + n).is_multiple_of(3) {
                    [0, 0, 1 + n % 2, 0, 0]
                } else {
                    [n % 3, 0, 0, 0, 1]
                }
            })
            .collect()
    };
    let ledgers = (0..6)
        .map(|n| ledger(90, Side::Rs, &odd(n), n % 2 == 0))
        .collect();
    assert_eq!(round_trip(&named(ledgers), Terms::Uk), Ok(()));
}

/// What the lines look like, once, so that a change is seen.
#[test]
fn the_lines_of_three_sizes() {
    let rows = |bind: u32, alternate: usize| {
        let mut rows = vec![[bind, 0, 0, 0, 0]; 2];
        rows.extend(vec![[0, 1, 1, 0, 0]; 3]);
        rows.extend((0..alternate).flat_map(|_| [PLAIN, [0, 1, 1, 0, 0]]));
        rows.extend(vec![[3, 0, 0, 0, 0]; 4]);
        rows
    };
    let ledgers = vec![
        ledger(60, Side::Rs, &rows(4, 8), true),
        ledger(64, Side::Rs, &rows(5, 9), true),
        ledger(68, Side::Rs, &rows(6, 9), true),
    ];
    let sizes = named(ledgers);
    assert_eq!(
        write_lines(&sizes, Terms::Us),
        "Bind off 4 (5, 6) sts at beginning of next 2 rows: 52 (54, 56) sts.\n\
         Decrease 1 st at each end of next 3 rows, then every other row 8 (9, 9) times: 30 (30, 32) sts.\n\
         Bind off 3 sts at beginning of next 4 rows: 18 (18, 20) sts.\n\
         Bind off remaining 18 (18, 20) sts.\n"
    );
    assert_eq!(
        write_lines(&sizes, Terms::Uk),
        "Cast off 4 [5:6] sts at beginning of next 2 rows: 52 [54:56] sts.\n\
         Decrease 1 st at each end of next 3 rows, then every following alternate row 8 [9:9] times: \
         30 [30:32] sts.\n\
         Cast off 3 sts at beginning of next 4 rows: 18 [18:20] sts.\n\
         Cast off remaining 18 [18:20] sts.\n"
    );
}
