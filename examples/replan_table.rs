//! How long an answer from the needles takes: `cargo run --release --example replan_table`.
//!
//! Each story of `docs/needles`, and states of our own case with something wrong in them: the whole conversion of the
//! size against that of the same case before its first stitch. What is left is the replanning, every way that is tried in it.

#![allow(clippy::print_stdout, reason = "an example tells its times")]

use std::time::Instant;

use capwright::case::{Case, read_case};
use capwright::convert::convert;

const STORIES: [(&str, &str); 4] = [
    (
        "three too many",
        include_str!("../docs/needles/too-many.toml"),
    ),
    (
        "short after eight pairs",
        include_str!("../docs/needles/short.toml"),
    ),
    (
        "other needles from the middle",
        include_str!("../docs/needles/middle.toml"),
    ),
    ("unlike sides", include_str!("../docs/needles/uneven.toml")),
];

/// What is on the needles of our own case.
const STATES: [(&str, &str); 8] = [
    ("one flank two too many", "picked_up = [17, 26, 8, 24]"),
    ("both flanks three too many", "picked_up = [17, 27, 8, 27]"),
    ("crown two too few", "picked_up = [15, 24, 8, 24]"),
    ("deeper after six pairs", "rows = 12\ndepth = 2.0"),
    ("narrower after six pairs", "rows = 12\nwidth = 5.0"),
    ("turned elsewhere", "rows = 20\nturned_at = 13"),
    (
        "one side turned elsewhere",
        "rows = 20\nturned_at = [10, 12]",
    ),
    ("short near the end", "rows = 30\ndepth = 3.6"),
];

fn read(text: &str) -> Option<Case> {
    read_case(text).0
}

/// The median of several conversions, in milliseconds; none where the case is refused.
fn median_ms(text: &str) -> Option<f64> {
    let case = read(text)?;
    let mut times = Vec::new();
    for _ in 0..9 {
        let start = Instant::now();
        convert(&case, None).ok()?;
        times.push(start.elapsed().as_secs_f64() * 1000.0);
    }
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied()
}

fn row(name: &str, text: &str) {
    let before = text.split("[so_far]").next().unwrap_or(text);
    match (median_ms(text), median_ms(before)) {
        (Some(all), Some(plan)) => println!("{name:32} {plan:8.1} {:8.1}", (all - plan).max(0.0)),
        _ => println!("{name:32} refused"),
    }
}

fn main() {
    println!(
        "{:32} {:>8} {:>8}",
        "milliseconds, median of nine", "the plan", "replan"
    );
    for (name, text) in STORIES {
        row(name, text);
    }
    let own = include_str!("../cases/tern-harbour.toml");
    for (name, state) in STATES {
        row(name, &format!("{own}\n[so_far]\n{state}\n"));
    }
}
