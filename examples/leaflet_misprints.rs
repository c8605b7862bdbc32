//! How many misprints of one number in whole printed patterns are noticed, fact by fact:
//! `cargo run --example leaflet_misprints [STEP [WORDS]]`; of STEP misprints one is tried, and with any
//! WORDS those that are sure in silence are listed.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::indexing_slicing,
    clippy::string_slice,
    reason = "a table for people"
)]

use std::collections::BTreeMap;
use std::env::args;

use capwright::leaflet::{Leaflet, Status};

#[path = "../tests/all/common/leaflets.rs"]
#[expect(dead_code, reason = "the tests use the rest of it")]
mod leaflets;
#[path = "../tests/all/common/misprints.rs"]
#[expect(dead_code, reason = "the tests use the rest of it")]
mod misprints;

use leaflets::{found, patterns};
use misprints::misprints;

/// Misprints that a fact took over: of all, those after which it is open, and those after which anything is.
#[derive(Default)]
struct Row {
    all: usize,
    itself: usize,
    any: usize,
    /// Of those that change the number by a tenth at the least.
    large: usize,
    large_any: usize,
}

fn main() {
    let step: usize = args().nth(1).map_or(1, |step| step.parse().unwrap());
    let listed = args().nth(2).is_some();
    let mut table: BTreeMap<String, Row> = BTreeMap::new();
    let (mut tried, mut count) = (0, 0);
    for pattern in patterns().iter().filter(|one| !one.truth.is_empty()) {
        let before = found(&pattern.text);
        for misprint in misprints(&pattern.text) {
            count += 1;
            if count % step != 0 {
                continue;
            }
            tried += 1;
            let after = found(&misprint.text);
            let open = has_opened(&before, &after);
            for key in taken_over(&before, &after) {
                let row = table.entry(key.clone()).or_default();
                let itself = after
                    .fact(&key)
                    .is_none_or(|fact| fact.status != Status::Sure);
                row.all += 1;
                row.itself += usize::from(itself);
                row.any += usize::from(open);
                row.large += usize::from(misprint.is_large());
                row.large_any += usize::from(misprint.is_large() && open);
                if listed && !open {
                    let words = misprint.text[..misprint.at].char_indices().rev().nth(50);
                    let from = words.map_or(0, |at| at.0);
                    let end = misprint.text[misprint.at..].char_indices().nth(40);
                    let to = end.map_or(misprint.text.len(), |at| misprint.at + at.0);
                    println!("{}: {key}: {:?}", pattern.name, &misprint.text[from..to]);
                }
            }
        }
    }
    println!(
        "{tried} misprints\n{:28}   taken over  itself open  anything open   by a tenth  anything open",
        "fact"
    );
    for (key, row) in &table {
        let share = |part: usize, all: usize| 100.0 * part as f64 / all as f64;
        println!(
            "{key:28} {:12} {:10.0} % {:12.0} % {:12} {:13.0} %",
            row.all,
            share(row.itself, row.all),
            share(row.any, row.all),
            row.large,
            share(row.large_any, row.large)
        );
    }
}

/// Facts that were sure and have another value now.
fn taken_over(before: &Leaflet, after: &Leaflet) -> Vec<String> {
    let sure = before
        .facts
        .iter()
        .filter(|fact| fact.status == Status::Sure);
    let other = sure.filter(|fact| {
        let now = after.fact(&fact.key);
        now.is_none_or(|now| now.value != fact.value) && fact.key != "title"
    });
    other.map(|fact| fact.key.clone()).collect()
}

/// True where something is said that was not said before, or all is refused.
fn has_opened(before: &Leaflet, after: &Leaflet) -> bool {
    !after.refused.is_empty()
        || after.open().any(|fact| {
            before
                .fact(&fact.key)
                .is_none_or(|old| old.status == Status::Sure || old.why != fact.why)
        })
}
