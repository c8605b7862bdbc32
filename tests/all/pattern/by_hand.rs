//! Lines carried out by hand, where a mutation of the reader went unnoticed.

use capwright::diagnostic::Level;
use capwright::measure::{Length, Stitches};
use capwright::pattern::{Context, Ledger, Piece, read};

/// The ledger of lines without an error, at three rows to the centimetre.
fn ledger(stitches: u32, piece: Piece, text: &str) -> Ledger {
    let mut context = Context::new(vec!["M".to_owned()], vec![Stitches(stitches)]);
    context.piece = piece;
    context.row_heights = Some(vec![Length::cm(1.0 / 3.0)]);
    let (reading, said) = read(text, &context);
    assert!(
        said.iter().all(|found| found.level != Level::Error),
        "{text}: {said:?}"
    );
    reading.sizes[0].ledger.clone()
}

/// Rows on which stitches are decreased.
fn decreases(ledger: &Ledger) -> Vec<u32> {
    let shaped = |row: &&capwright::pattern::LedgerRow| row.decrease_start > Stitches::ZERO;
    ledger
        .rows
        .iter()
        .filter(shaped)
        .map(|row| row.row)
        .collect()
}

/// Every other RS row is every fourth row, counted from the last decrease: after row 3 come 7, 11 and 15.
#[test]
fn every_other_row_of_a_side_goes_on_from_the_last() {
    let text = "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end of next row. Work 1 row. \
                Dec 1 st each end of every other RS row 3 times. Bind off rem sts.";
    let found = decreases(&ledger(70, Piece::Sleeve, text));
    assert_eq!(found, [3, 7, 11, 15]);
}

/// From 58 to 20 two at a time: nineteen times, and nothing is left over.
#[test]
fn a_group_until_a_count_comes_out_exactly() {
    let text = "Bind off 5 sts at beg of next 2 rows. *Dec 1 st each end of next row. Work 1 row.* \
                Rep from * to * until 20 sts rem. Bind off rem sts.";
    let ledger = ledger(70, Piece::Sleeve, text);
    let wanted: Vec<u32> = (0..20).map(|n| 3 + 2 * n).collect();
    assert_eq!(decreases(&ledger), wanted);
}

/// The armhole is measured from its bind-off, whatever was worked before: 30 rows are 10 cm, and they end
/// four plain rows and thirty more from the beginning.
#[test]
fn an_armhole_is_measured_from_its_bind_off() {
    let text = "Work 4 rows even. Bind off 5 sts at the beginning of the next 2 rows. \
                Work even until armhole measures 10 cm. Bind off rem sts.";
    let plain = "Bind off 5 sts at the beginning of the next 2 rows. \
                 Work even until armhole measures 10 cm. Bind off rem sts.";
    let rows = |text| {
        let rows = ledger(80, Piece::Body, text).rows;
        let first = rows.iter().position(|row| row.bind_off > Stitches::ZERO);
        rows.len() - first.unwrap()
    };
    assert_eq!(rows(text), rows(plain));
}
