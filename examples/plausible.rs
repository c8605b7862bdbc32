//! Random plausible cases through the line protocol, to hunt for faults of the program:
//!
//! `cargo run --release --example plausible -- 10000 > cases.jsonl` writes a line of JSON each (a second number
//! is where to begin), and
//! `capwright convert --lines=summary cases.jsonl | grep -c -E 'fault of|needle-|not-certified'` counts what blames the program.
#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a program for the developers' eyes"
)]

#[path = "../tests/all/common/plausible.rs"]
mod plausible;

fn main() {
    let numbers = std::env::args()
        .skip(1)
        .map(|n| n.parse().expect("a number"));
    let numbers: Vec<u64> = numbers.collect();
    let (cases, from) = match numbers.as_slice() {
        [cases, from, ..] => (*cases, *from),
        [cases] => (*cases, 0),
        [] => (100, 0),
    };
    for number in from..from + cases {
        let line = serde_json::json!({ "id": number, "toml": plausible::case_text(number) });
        println!("{line}");
    }
}
