//! Helpers shared by the tests: ledgers and armholes made without the reader.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "helpers of tests; each test binary uses some of them"
)]

use capwright::diagnostic::Span;
use capwright::fit::{Problem, Wishes};
use capwright::measure::{Gauge, Length, Rows, Side, Stitches};
use capwright::outline::{ArmholeEdge, Cap, Seam, armhole_from_measures};
use capwright::pattern::{Ledger, LedgerRow};
use capwright::plan::Repeat;

/// What happens on one row: stitches bound off at its start, decreased at its start and its end.
pub type RowSpec = (u32, u32, u32);

/// A ledger of these rows from row 1 (RS), closed by binding off what is left.
pub fn ledger(start: u32, rows: &[RowSpec]) -> Ledger {
    let mut side = Side::Rs;
    let mut count = start;
    let mut out = Vec::new();
    for (i, &(bind_off, at_start, at_end)) in rows.iter().enumerate() {
        count -= bind_off + at_start + at_end;
        out.push(row(i as u32 + 1, side, (bind_off, at_start, at_end), count));
        side = side.turned();
    }
    out.push(row(rows.len() as u32 + 1, side, (count, 0, 0), 0));
    Ledger {
        start: Stitches(start),
        rows: out,
        divided: None,
    }
}

fn row(row: u32, side: Side, spec: RowSpec, left: u32) -> LedgerRow {
    LedgerRow {
        row,
        side,
        bind_off: Stitches(spec.0),
        decrease_start: Stitches(spec.1),
        decrease_end: Stitches(spec.2),
        increase_start: Stitches(0),
        increase_end: Stitches(0),
        stitches: Stitches(left),
        span: Span::new(0, 0),
    }
}

/// The small cap of the project's example: 70 sts; bind off 5 twice; decrease each end of the
/// next 3 rows, every other row 11 times, the next 3 rows; bind off 3 four times; bind off 14.
pub fn example_rows() -> Vec<RowSpec> {
    let mut rows = vec![(5, 0, 0); 2];
    rows.extend([(0, 1, 1); 3]);
    for _ in 0..11 {
        rows.extend([(0, 0, 0), (0, 1, 1)]);
    }
    rows.extend([(0, 1, 1); 3]);
    rows.extend([(3, 0, 0); 4]);
    rows
}

/// A gauge per 10 cm.
pub fn gauge(stitches: f64, rows: f64) -> Gauge {
    Gauge::per_10cm(stitches, rows).unwrap()
}

/// One seam stitch an edge.
pub const SEAM: Seam = Seam {
    stitches: Stitches(1),
    rows: Rows(0),
};

/// The example cap at 22 x 30.
pub fn example_cap() -> Cap {
    Cap::from_ledger(&ledger(70, &example_rows()), gauge(22.0, 30.0), SEAM).unwrap()
}

/// The example's sleeve with this armhole at the front and at the back: 22 stitches and 30 rows for the cap, 23 and 32 below.
pub fn example_problem<'a>(cap: &'a Cap, edge: &'a ArmholeEdge) -> Problem<'a> {
    Problem {
        cap,
        front: edge,
        back: edge,
        cap_gauge: gauge(22.0, 30.0),
        worked: None,
        tube_gauge: gauge(23.0, 32.0),
        upper_arm: cap.upper_arm(),
        repeat: Repeat::ANY,
        live: None,
        wishes: Wishes::default(),
    }
}

/// An armhole edge from measures in centimetres.
pub fn armhole(edge_cm: f64, underarm_cm: f64, depth_cm: f64, gauge: Gauge) -> ArmholeEdge {
    armhole_from_measures(
        Length::cm(edge_cm),
        Length::cm(underarm_cm),
        Length::cm(depth_cm),
        gauge,
    )
    .unwrap()
}
