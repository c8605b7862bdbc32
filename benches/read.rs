//! How long the lines of a cap in ten sizes take to read: `cargo bench --bench read`.

#![allow(clippy::print_stdout, reason = "a bench tells its times")]

use std::hint::black_box;
use std::time::Instant;

use capwright::case::Terms;
use capwright::measure::Stitches;
use capwright::pattern::{Context, parse_size_set, read, write_lines};

const STITCHES: &str = "66 (70, 74, 78, 82, 86, 90, 94, 98, 102)";

/// A cap in ten sizes with three paces, counts after every step and a side stated; invented.
const LINES: &str = "Bind off 4 (4, 5, 5, 6, 6, 7, 7, 8, 8) sts at beg of next 2 rows. \
    58 (62, 64, 68, 70, 74, 76, 80, 82, 86) sts. Dec 1 st each end of next 3 rows, then every foll \
    4th row 2 (2, 2, 2, 3, 3, 3, 3, 4, 4) times, then every RS row 10 (12, 13, 15, 15, 17, 18, 20, \
    20, 22) times. 28 sts. Work 1 row, ending with a WS row. Bind off 3 sts at beg of next 4 rows. \
    Bind off rem 16 sts.";

/// The same with one count misprinted, so that a repair is looked for.
fn misprinted() -> String {
    LINES.replace("58 (62, 64, 68,", "58 (62, 64, 86,")
}

/// The median of several runs, in milliseconds.
fn median_ms(mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..51)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

fn main() {
    let (stitches, _): (Vec<Stitches>, _) = parse_size_set(STITCHES);
    let context = Context::new(
        (1..=stitches.len()).map(|n| n.to_string()).collect(),
        stitches,
    );
    let (reading, diagnostics) = read(LINES, &context);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let spoiled = misprinted();
    let clean = median_ms(|| drop(black_box(read(black_box(LINES), &context))));
    let repaired = median_ms(|| drop(black_box(read(black_box(&spoiled), &context))));
    let written = median_ms(|| drop(black_box(write_lines(&reading.sizes, Terms::Uk))));
    println!("ten sizes read            {clean:8.3} ms");
    println!("ten sizes read, repaired  {repaired:8.3} ms");
    println!("ten sizes written         {written:8.3} ms");
}
