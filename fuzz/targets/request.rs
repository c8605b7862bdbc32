//! A request of the page: the first byte says what is asked, the rest is its body.
#![no_main]

use capwright::measure::Stop;
use capwright::workbench::answer_until;
use libfuzzer_sys::fuzz_target;

const ASKED: &[&str] = &[
    "open", "read", "check", "figures", "drift", "convert", "file",
];

fuzz_target!(|bytes: &[u8]| {
    let Some((first, body)) = bytes.split_first() else {
        return;
    };
    let what = ASKED[usize::from(*first) % ASKED.len()];
    // The fit has a target of its own: here its work is stopped as if the client had gone.
    let stop = Stop::flag();
    if matches!(what, "convert" | "drift" | "figures" | "file") {
        stop.set();
    }
    let answer = answer_until(what, body, &stop);
    assert!(answer.is_some(), "no answer to {what}");
});
