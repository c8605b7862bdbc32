//! Printed caps and armholes against the counts published for them.
//!
//! The lines are our own wording; stitches, rows and steps are those of the source named at each
//! check. "published" counts stand in the source, "derived" ones follow from its numbers by hand.

use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::{Length, Side, Stitches};
use capwright::pattern::{Context, Ledger, Piece, parse_size_set, read};

/// The ledgers of all sizes and what was said.
fn read_sizes(stitches: &str, text: &str) -> (Vec<Ledger>, Vec<Diagnostic>) {
    let context = context(stitches);
    let (reading, diagnostics) = read(text, &context);
    (
        reading.sizes.into_iter().map(|s| s.ledger).collect(),
        diagnostics,
    )
}

fn context(stitches: &str) -> Context {
    let (stitches, diagnostics) = parse_size_set(stitches);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let labels = (1..=stitches.len()).map(|n| n.to_string()).collect();
    Context::new(labels, stitches)
}

/// The same for lines that must be read without a complaint.
fn clean(stitches: &str, text: &str) -> Vec<Ledger> {
    let (ledgers, diagnostics) = read_sizes(stitches, text);
    let bad: Vec<_> = diagnostics
        .iter()
        .filter(|d| d.level > Level::Note)
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
    ledgers
}

fn finals(ledgers: &[Ledger]) -> Vec<u32> {
    ledgers.iter().map(|l| l.final_stitches().count()).collect()
}

fn row_counts(ledgers: &[Ledger]) -> Vec<u32> {
    ledgers.iter().map(|l| l.row_count().count()).collect()
}

fn after_row(ledger: &Ledger, row: usize) -> u32 {
    ledger.rows[row - 1].stitches.count()
}

fn decrease_rows(ledger: &Ledger) -> Vec<u32> {
    let decreases =
        |r: &&capwright::pattern::LedgerRow| r.decrease_start + r.decrease_end > Stitches(0);
    ledger
        .rows
        .iter()
        .filter(decreases)
        .map(|r| r.row)
        .collect()
}

fn codes(diagnostics: &[Diagnostic], least: Level) -> Vec<&'static str> {
    diagnostics
        .iter()
        .filter(|d| d.level >= least)
        .map(|d| d.code.id)
        .collect()
}

/// E3, V3-1 to V3-5: The Knitter, 17 Sep 2020, pressreader.com/australia/the-knitter/20200917/
/// 282170768546918. Counts published; rows and areas derived.
#[test]
fn e3_five_sizes_close_with_their_areas() {
    let text = "Cast off 5 (7:9:11:13) sts at beg of next 2 rows – 91 (93:95:97:99) sts. \
        Dec 1 st at each end of next 9 rows, then on every foll alt row until 51 sts rem, then on \
        foll 7 rows, ending after a WS row. 37 sts. Cast off 4 sts at beg of next 4 rows. \
        Cast off rem 21 sts.";
    let ledgers = clean("101 (107:113:119:125)", text);
    assert_eq!(finals(&ledgers), [21; 5]);
    assert_eq!(row_counts(&ledgers), [44, 46, 48, 50, 52]);
    let areas = [2689, 2861, 3037, 3217, 3401];
    for (n, (ledger, area)) in ledgers.iter().zip(areas).enumerate() {
        assert_eq!(after_row(ledger, 2), 91 + 2 * u32::try_from(n).unwrap());
        assert_eq!(after_row(ledger, 40 + 2 * n), 37);
        assert_eq!(ledger.rows[39 + 2 * n].side, Side::Ws);
        let sum: u32 = ledger.fabric().iter().map(|r| r.stitches.count()).sum();
        assert_eq!(sum, area);
        let spaced = decrease_rows(ledger)
            .windows(2)
            .filter(|w| w[1] - w[0] == 2)
            .count();
        assert_eq!(
            spaced,
            11 + n,
            "11 (12:13:14:15) alternate-row decreases, notes E3"
        );
    }
}

/// E4, V4-1 to V4-3: knitting handbook, DK sweater, knittingmagic.biz/guide-8/sleeves.html. Counts
/// published; the clash of the side derived, so that the text is refused and its ledger stands: the text ends on a purl row, the counts on row
/// 37 [41:45], a knit row.
#[test]
fn e4_closes_but_its_side_clashes() {
    let text = "Bind off 5 [6:7] sts at beg of next 2 rows. Dec 1 st each end of next 3 rows, the \
        foll 3 alt rows, then every foll 4th row to 41 [41:45] sts, then every foll alt row to 25 \
        sts, then foll 2 rows, ending with a p row. Bind off 4 sts at beg of next 2 rows. Bind off \
        rem 13 sts.";
    let (ledgers, diagnostics) = read_sizes("67 [71:77]", text);
    assert_eq!(finals(&ledgers), [13; 3]);
    assert_eq!(row_counts(&ledgers), [39, 43, 47]);
    for (ledger, row) in ledgers.iter().zip([37, 41, 45]) {
        assert_eq!(after_row(ledger, row), 21);
        assert_eq!(ledger.rows[row - 1].side, Side::Rs);
    }
    assert_eq!(codes(&diagnostics, Level::Error), ["stated-side"; 3]);
    let messages: Vec<&str> = diagnostics.iter().map(|d| d.message.as_str()).collect();
    for (message, row) in messages.iter().zip([37, 41, 45]) {
        let said = format!("the text ends on a WS row, but by its counts row {row} is an RS row");
        assert_eq!(*message, said);
    }
}

/// E6, V6: Australian magazine sleeve, issuhub.com/view/index/9142?pageIndex=49: a list of seven
/// numbers for six sizes. With one 5 struck out all sizes end at 10 (derived).
#[test]
fn e6_counts_seven_numbers_for_six_sizes() {
    let rest = "sts at beg of next 2 rows. Dec 1 st at each end of next 8 (8,8,9,10,10) rows, then \
        on RS rows 10 (10,12,12,12,12) times, then on next 6 rows. Cast off 4 sts at beg of next 2 \
        rows. Cast off rem 10 sts.";
    let printed = format!("Cast off 4(5,5,5,6,6,7) {rest}");
    let (ledgers, diagnostics) = read_sizes("74 (76,80,84,86,88)", &printed);
    assert_eq!(
        finals(&ledgers),
        [10, 10, 10, 12, 10, 12],
        "as printed, sizes 4 and 6 miss"
    );
    let list = diagnostics
        .iter()
        .find(|d| d.code.id == "size-list-length")
        .unwrap();
    assert_eq!(list.message, "'4(5,5,5,6,6,7)' has 7 numbers for 6 sizes");
    let span = list.span.unwrap();
    assert_eq!(printed.get(span.from..span.to), Some("4(5,5,5,6,6,7)"));
    let repaired = format!("Cast off 4(5,5,6,6,7) {rest}");
    assert_eq!(finals(&clean("74 (76,80,84,86,88)", &repaired)), [10; 6]);
}

/// E7, V7: Effervescence errata, O. Buraya-Kefelian, Quince & Co,
/// `cdn.shopify.com/s/files/1/0559/2913/files/Effervescence_errata.pdf`. All 21 counts published.
#[test]
fn e7_seven_sizes_with_repeats_that_say_more() {
    let text = "Row 1 (RS): BO 3 sts, k to end. Row 2: BO 3 sts, p to end. \
        Row 3: BO 2 sts, k to end. Row 4: BO 2 sts, p to end. 48 (58, 62, 66, 70, 76, 78) sts. \
        Rep rows 3 and 4 0 (1, 2, 2, 3, 4, 4) more times. 48 (54, 54, 58, 58, 60, 62) sts rem. \
        Dec row (RS): K2, ssk, k to last 4 sts, k2tog, k2 – 2 sts dec'd. \
        Rep dec row every RS row 3 (4, 4, 4, 3, 2, 3) more times. 40 (44, 44, 48, 50, 54, 54) sts. \
        Work 15 (19, 21, 21, 21, 21, 21) rows even. Work dec row on next row, then every RS row \
        3 (3, 3, 3, 4, 6, 10) more times. 32 (36, 36, 40, 40, 40, 32) sts. Bind off.";
    let ledgers = clean("58 (68, 72, 76, 80, 86, 88)", text);
    assert_eq!(finals(&ledgers), [32, 36, 36, 40, 40, 40, 32]);
}

/// E8, V8: Charme, knitchnotes.tripod.com/kkpages/boardman/charmepattern.html. Counts published.
#[test]
fn e8_every_knit_row() {
    let armhole =
        "Cast off 2 sts at beg of next 2 rows. Dec 1 st at both ends of every knit row 4 times.";
    assert_eq!(finals(&clean("50 (60)", armhole)), [38, 48]);
    let sleeve = "Cast off 2 sts at beg of next 2 rows. Dec 1 st at both ends of every knit row 8 \
        times. Cast off rem 12 (18) sts.";
    let ledgers = clean("32 (38)", sleeve);
    assert_eq!(finals(&ledgers), [12, 18]);
    assert_eq!(
        decrease_rows(&ledgers[0]),
        [3, 5, 7, 9, 11, 13, 15, 17],
        "right-side rows only"
    );
}

/// E11, V11: forum.knittinghelp.com/t/binding-off-for-sleeve-cap/3939. Start and rows derived.
#[test]
fn e11_per_side_lists_of_stitches_by_times() {
    let text = "Bind off at each end every 2nd row 2x1, 1x2; every 4th row 1x2; every 2nd row 1x5, 2x2. \
        15 sts left. Bind off.";
    let ledgers = clean("45", text);
    assert_eq!(finals(&ledgers), [15]);
    assert_eq!(row_counts(&ledgers), [28]);
}

/// V12: forum.knittinghelp.com/t/dec-on-foll-1-alt-rows-then-on-1-foll-4th-row/78090. Published.
#[test]
fn v12_following_alternate_and_fourth_rows() {
    let text = "Cast off 3 sts at beg of next 2 rows. 49 sts. Dec 1 st each end of next 3 rows, then \
        on foll 1 alt row, then on 1 foll 4th row. 39 sts.";
    let ledgers = clean("55", text);
    let rows: Vec<u32> = decrease_rows(&ledgers[0]).iter().map(|r| r - 2).collect();
    assert_eq!(rows, [1, 2, 3, 5, 9]);
}

/// V13: Beehive for Bairns vol. 2, bitlit.ru page 134: 76 stitches to 62. Published.
#[test]
fn v13_next_and_every_counts_the_next() {
    let text = "Cast off 3 sts at beg of next 2 rows. Dec 1 st at both ends of next and every \
        alternate row 4 times.";
    assert_eq!(finals(&clean("76", text)), [62]);
}

/// V15: Botany College Hand Knits II no. 122, 1958, scribd.com/document/472440543/cardi-1.
/// Published counts after the first row and its repeats.
#[test]
fn v15_repeat_last_two_rows_is_so_many_more() {
    let text = "Dec 1 st each end of next row. Work 1 row. Repeat last 2 rows 10 (11: 12: 13: 14) \
        times. 72 (74: 78: 80: 84) sts.";
    assert_eq!(
        finals(&clean("94 (98: 104: 108: 114)", text)),
        [72, 74, 78, 80, 84]
    );
}

/// V16: Sandy errata, `cdn.shopify.com/s/files/1/0559/2913/files/Sandy_errata.pdf`: 29 to 20, one
/// stitch a row, and the mirrored side prints "more" for the same counts. Published.
#[test]
fn v16_repeat_of_a_decrease_row_is_additional() {
    for more in ["", "more "] {
        let text = format!(
            "Dec row (RS): K to last 3 sts, k2tog, k1. 29 sts. Rep dec row every 4th row 9 {more}times. 20 sts."
        );
        assert_eq!(finals(&clean("30", &text)), [20]);
    }
}

/// V17: Coats & Clark cardigan S-731, freevintageknitting.com/womens-sweater-patterns/coats313/
/// cardigan-pattern: whole numbers of two-ended decreases in eight sizes. Derived.
#[test]
fn v17_eight_sizes_decrease_to_their_counts() {
    let text = "BO 3 (3, 4, 5, 5, 5, 6, 6) sts at beg of next 2 rows, then BO 0 (0, 0, 0, 2, 3, 3, 4) \
        sts at beg of next 2 rows. Dec 1 st each end of next and every other row until 56 (58, 59, \
        62, 64, 66, 69, 70) sts rem.";
    let ledgers = clean("68 (72, 77, 82, 86, 90, 95, 100)", text);
    let decreases: Vec<usize> = ledgers.iter().map(|l| decrease_rows(l).len()).collect();
    assert_eq!(decreases, [3, 4, 5, 5, 4, 4, 4, 5]);
}

/// V18: Spool Cotton 94, freevintageknitting.com/print/1798: one stitch a row, 152 to 136. Derived.
#[test]
fn v18_one_decrease_at_the_end_of_each_row() {
    let text =
        "Bind off 10 sts at beg of next 2 rows. Dec 1 st at end of each row until 136 sts remain.";
    let ledgers = clean("172", text);
    assert_eq!(row_counts(&ledgers), [18]);
    assert!(
        ledgers[0].rows[2..]
            .iter()
            .all(|r| r.decrease_end == Stitches(1) && r.decrease_start == Stitches(0))
    );
}

/// V19: The Knitter 2019, pressreader.com/australia/the-knitter/20190627/282565904662110. Published.
#[test]
fn v19_another_three_times() {
    let text =
        "Dec 1 st each end of next row. Work 1 row. Rep last 2 rows another 3 times. 75 sts.";
    assert_eq!(finals(&clean("83", text)), [75]);
}

/// V21: Pisces Knits 2012, piscesknits.blogspot.com/2012/11: a decrease row and nine plain rows,
/// every tenth row, two more: three decreases in 30 rows. Published.
#[test]
fn v21_sets_of_rows() {
    let text = "[Dec 1 st each end of next row, work 9 rows even] 3 times.";
    let ledgers = clean("60", text);
    assert_eq!(row_counts(&ledgers), [30]);
    assert_eq!(decrease_rows(&ledgers[0]), [1, 11, 21]);
    let spaced = clean(
        "60",
        "Dec 1 st each end of next row, then every 10th row 2 more times.",
    );
    assert_eq!(decrease_rows(&spaced[0]), [1, 11, 21]);
}

/// A7: Tess Knits, tessknits.com/3880: first increase on row 9, then every 4th row ten times:
/// 13, 17, ..., 49. Published.
#[test]
fn a7_increases_every_fourth_row() {
    let text = "Work 8 rows even. Inc 1 st each end of next row, then every 4th row 10 times.";
    let ledgers = clean("40", text);
    let rows: Vec<u32> = ledgers[0]
        .rows
        .iter()
        .filter(|r| r.added() > Stitches(0))
        .map(|r| r.row)
        .collect();
    assert_eq!(rows, [9, 13, 17, 21, 25, 29, 33, 37, 41, 45, 49]);
}

/// A1: Ann Budd's even spacing, 124 over 14: every 8th twice, every 9th 12 times. Here as rows:
/// 2 x 8 + 12 x 9 = 124. Published.
#[test]
fn a1_two_paces_cover_their_rows() {
    let text =
        "Inc 1 st each end of next row, then every 8th row twice, then every 9th row 12 times.";
    let ledgers = clean("40", text);
    assert_eq!(row_counts(&ledgers), [125]);
}

#[test]
fn every_problem_is_reported_with_its_place() {
    let text = "Cast off 5 sts at beg of next 2 rows. Flimp the wozzle 3 times. Dec 1 st each end of \
        every alt row until 20 sts rem. Cast off 40 sts at beg of next 2 rows.";
    let (_, diagnostics) = read_sizes("63", text);
    assert_eq!(
        codes(&diagnostics, Level::Error),
        ["not-understood", "odd-remainder", "too-many-removed"]
    );
    let first = diagnostics[0].span.unwrap();
    assert_eq!(
        text.get(first.from..first.to),
        Some("Flimp the wozzle 3 times")
    );
    // Sixteen decreases on rows 3, 5, ..., 33 leave 21.
    let taken = diagnostics
        .iter()
        .find(|d| d.code.id == "too-many-removed")
        .unwrap();
    assert_eq!(
        taken.message,
        "row 34 takes away 40 stitches, but only 21 are left"
    );
    let span = taken.span.unwrap();
    assert_eq!(
        text.get(span.from..span.to),
        Some("Cast off 40 sts at beg of next 2 rows")
    );
}

#[test]
fn lengths_become_rows_by_the_row_gauge() {
    let mut context = context("60");
    context.piece = Piece::Body;
    let text = "BO 5 sts at beg of next 2 rows. Dec 1 st each end of every alt row 4 times. Work even \
        until armhole measures 8 in, ending with a WS row. 42 sts. Bind off.";
    let (_, diagnostics) = read(text, &context);
    assert_eq!(codes(&diagnostics, Level::Error), ["needs-row-gauge"]);
    // 8 in is 20.32 cm; at 28 rows in 10 cm that is 56.9 rows, and 56 is the nearest that ends on WS
    // (58 is farther off).
    context.row_heights = Some(vec![Length::cm(10.0 / 28.0)]);
    let (reading, diagnostics) = read(text, &context);
    assert_eq!(codes(&diagnostics, Level::Warning), Vec::<&str>::new());
    assert_eq!(reading.sizes[0].ledger.row_count().count(), 56);
    assert_eq!(
        reading.sizes[0].ledger.fabric().last().unwrap().side,
        Side::Ws
    );
}
