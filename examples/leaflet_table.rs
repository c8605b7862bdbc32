//! How much of whole printed patterns is found: `cargo run --example leaflet_table`.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::indexing_slicing,
    reason = "a table for people"
)]

use std::collections::BTreeMap;
use std::time::Instant;

#[path = "../tests/all/common/leaflets.rs"]
mod leaflets;

use leaflets::{Result, found, judge, patterns};

fn main() {
    let mut table: BTreeMap<String, [usize; 5]> = BTreeMap::new();
    let (mut asked, mut count) = (0, 0);
    let began = Instant::now();
    for pattern in patterns() {
        let leaflet = found(&pattern.text);
        if pattern.construction != leaflet.construction {
            println!(
                "{}: {} is read as {}",
                pattern.name, pattern.construction, leaflet.construction
            );
        }
        if pattern.truth.is_empty() {
            continue;
        }
        count += 1;
        asked += leaflet.open().count();
        for (key, result) in judge(&pattern, &leaflet) {
            table.entry(key.clone()).or_default()[result as usize] += 1;
            if result != Result::Right {
                let fact = leaflet.fact(&key);
                println!(
                    "{}: {key}: {result:?} {}",
                    pattern.name,
                    fact.map_or(String::new(), |fact| format!(
                        "{:?} ({})",
                        fact.value, fact.why
                    ))
                );
            }
        }
        for fact in leaflet.open() {
            println!(
                "   {} open {}: {} [{}]",
                pattern.name,
                fact.key,
                fact.why,
                fact.value.replace('\n', " / ")
            );
        }
    }
    let seconds = began.elapsed().as_secs_f64();
    println!(
        "\n{:28} right  unsure, right  missing  wrong, flagged  wrong in silence",
        "fact"
    );
    let mut sum = [0; 5];
    for (key, row) in &table {
        for (total, n) in sum.iter_mut().zip(row) {
            *total += n;
        }
        println!(
            "{key:28} {:5}  {:13}  {:7}  {:14}  {:16}",
            row[0], row[1], row[2], row[3], row[4]
        );
    }
    println!(
        "{:28} {:5}  {:13}  {:7}  {:14}  {:16}",
        "all", sum[0], sum[1], sum[2], sum[3], sum[4]
    );
    println!(
        "{count} patterns, {asked} facts open, {:.1} a pattern; {:.0} ms a pattern",
        asked as f64 / f64::from(count),
        seconds * 1000.0 / f64::from(count)
    );
}
