//! What holds of pattern lines, whatever they are: for the fuzzer, and for its seeds in every run of the tests.

use capwright::case::Terms;
use capwright::diagnostic::{Diagnostic, Level, Span};
use capwright::measure::{Length, Side, Stitches};
use capwright::pattern::{
    Context, LedgerRow, Piece, Reading, SizeReading, read, with_repair, write_lines,
};

/// The first bytes choose how the rest is read.
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

/// Reads these bytes and holds everything of them.
///
/// # Panics
/// Where something does not hold.
pub(crate) fn all_holds(bytes: &[u8]) {
    let (head, text) = bytes.split_at(bytes.len().min(3));
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let context = context(head);
    let (reading, said) = read(text, &context);
    holds(text, &reading, &said);
    let (again, said_again) = read(text, &context);
    assert!(again == reading && said_again == said, "not the same twice");
    // A repair that is offered makes its finding go away, in the size it is of.
    let offered = said.iter().find(|found| !found.repairs.is_empty());
    if let Some((found, repair)) = offered.and_then(|found| Some((found, found.repairs.first()?))) {
        let repaired = with_repair(text, repair);
        let (_, after) = read(&repaired, &context);
        let same = |d: &&Diagnostic| d.code.id == found.code.id && d.size == found.size;
        let [before, after] = [&said, &after].map(|all| all.iter().filter(same).count());
        assert!(after < before, "{found:?} stays in {repaired:?}");
    }
    // What is read without an error can be written and read again: the same rows, wherever they were asked for.
    if said.iter().all(|found| found.level != Level::Error) {
        for terms in [Terms::Us, Terms::Uk] {
            let lines = write_lines(&reading.sizes, terms);
            let again = read(&lines, &as_written(&reading.sizes)).0;
            assert_eq!(
                rows(&again.sizes),
                rows(&reading.sizes),
                "{text:?} is written {lines:?}"
            );
        }
    }
}

/// How lines are read that were written for these sizes.
fn as_written(sizes: &[SizeReading]) -> Context {
    let labels = sizes.iter().map(|size| size.size.clone()).collect();
    let stitches = sizes.iter().map(|size| size.ledger.start).collect();
    let first = sizes.iter().find_map(|size| size.ledger.rows.first());
    let mut context = Context::new(labels, stitches);
    context.first_row = first.map_or(Side::Rs, |row| row.side);
    context
}

/// The rows of all sizes without the words that asked for them.
fn rows(sizes: &[SizeReading]) -> Vec<Vec<LedgerRow>> {
    let of = |size: &SizeReading| {
        let rows = size.ledger.rows.iter();
        let plain = rows.map(|row| LedgerRow {
            span: Span::new(0, 0),
            ..*row
        });
        plain.collect()
    };
    sizes.iter().map(of).collect()
}
