//! Pattern lines: any text, any sizes. The first bytes choose how it is read.
#![no_main]

mod lines_hold;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| lines_hold::all_holds(bytes));
