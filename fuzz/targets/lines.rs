//! Pattern lines: any text, any sizes. The first bytes choose how it is read.
#![no_main]

use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::{Length, Side, Stitches};
use capwright::pattern::{Context, Piece, Reading, read, with_repair, write_lines};
use libfuzzer_sys::fuzz_target;

fn context(head: &[u8]) -> Context {
    let byte = |at: usize| head.get(at).copied().unwrap_or(0);
    let sizes = usize::from(byte(0) % 5) + 1;
    let labels = ["S", "M", "L", "XL", "4 yrs"].iter().take(sizes);
    let first = u32::from(byte(1));
    let stitches = (0..sizes).map(|n| Stitches(first + 4 * n as u32)).collect();
    let mut context = Context::new(labels.map(|&l| l.to_owned()).collect(), stitches);
    if byte(2) & 1 == 1 {
        context.first_row = Side::Ws;
    }
    if byte(2) & 2 == 2 {
        context.piece = Piece::Body;
    }
    if byte(2) & 4 == 4 {
        context.row_heights = Some(vec![Length::cm(0.25)]);
    }
    context
}

/// Places lie in the text, counts follow from row to row, and nothing is left without a word.
fn holds(text: &str, reading: &Reading, said: &[Diagnostic]) {
    for found in said {
        if let Some(span) = found.span {
            assert!(text.get(span.from..span.to).is_some(), "{found:?}");
        }
    }
    for size in &reading.sizes {
        let mut count = size.ledger.start;
        for row in &size.ledger.rows {
            assert_eq!(count + row.added(), row.stitches + row.removed(), "{row:?}");
            count = row.stitches;
        }
    }
}

fuzz_target!(|bytes: &[u8]| {
    let (head, text) = bytes.split_at(bytes.len().min(3));
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let context = context(head);
    let (reading, said) = read(text, &context);
    holds(text, &reading, &said);
    let (again, said_again) = read(text, &context);
    assert!(again == reading && said_again == said, "not the same twice");
    // A repair that is offered makes its finding go away.
    let repairs = said.iter().flat_map(|found| &found.repairs);
    if let Some(repair) = repairs.take(1).next() {
        let _ = read(&with_repair(text, repair), &context);
    }
    // What is read without an error and closed can be written and read again.
    let error = said.iter().any(|found| found.level == Level::Error);
    if !error {
        for terms in [capwright::case::Terms::Us, capwright::case::Terms::Uk] {
            let _ = write_lines(&reading.sizes, terms);
        }
    }
});
