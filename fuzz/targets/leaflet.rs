//! The text of a whole printed pattern: facts are found or not, and the case written from them can be read.
#![no_main]

use capwright::leaflet::read_leaflet;
use capwright::read_case;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let leaflet = read_leaflet(text);
    let _ = read_case(&leaflet.case);
});
