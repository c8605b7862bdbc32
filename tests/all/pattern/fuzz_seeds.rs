//! What the fuzzer holds of pattern lines holds of its seeds.

use std::fs;
use std::path::Path;

#[path = "../../../fuzz/targets/lines_hold.rs"]
mod lines_hold;

#[test]
fn every_seed_holds() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/seeds/lines");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    assert!(files.len() > 40, "{}", files.len());
    for file in files {
        lines_hold::all_holds(&fs::read(file).unwrap());
    }
}
