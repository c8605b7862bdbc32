//! Writes an invented shelf of patterns, to measure batches with:
//!
//! `cargo run --release --example shelf -- 1000 12 FOLDER` writes a case file each, and
//! `cargo run --release --example shelf -- 10000 1 -` prints a line of JSON each.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a program for the developers' eyes"
)]

#[path = "../tests/all/common/shelf.rs"]
mod shelf;

use std::path::Path;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [cases, sizes, to] = args.as_slice() else {
        println!("shelf CASES SIZES FOLDER|-");
        return;
    };
    let cases: u32 = cases.parse().expect("a number of cases");
    let sizes: u32 = sizes.parse().expect("a number of sizes");
    for number in 0..cases {
        let text = shelf::case_text(number, sizes);
        if to == "-" {
            println!("{}", serde_json::json!({ "id": number, "toml": text }));
            continue;
        }
        // A hundred cases a folder, as on a real shelf.
        let folder = Path::new(to).join(format!("{:02}", number / 100));
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(format!("{number:04}.toml")), text).unwrap();
    }
}
