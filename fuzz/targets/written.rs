//! A written pattern: any text is knitted or refused, and never ends the program.
#![no_main]

use capwright::needle::{draw_columns, knit_file, show_row};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let (pieces, said) = knit_file(text);
    for found in &said {
        if let Some(span) = found.span {
            assert!(text.get(span.from..span.to).is_some(), "{found:?}");
        }
    }
    for piece in &pieces {
        let _ = draw_columns(&piece.knitted);
        for row in [0, 1, 2, 1000] {
            let _ = show_row(&piece.knitted, row);
        }
    }
});
