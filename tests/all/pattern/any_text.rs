//! Any text at all: an answer for every size, spans that lie in the text, ledgers that add up.
//!
//! The oracle is the contract of the room: `read` never fails, never panics, and its ledgers obey
//! the arithmetic of stitches row by row.

use capwright::case::Terms;
use capwright::measure::{Length, Side, Stitches};
use capwright::pattern::{
    Context, Ledger, Piece, limits, parse_size_set, read, with_repair, write_lines,
};
use proptest::prelude::*;

fn context(sizes: usize, start: u32) -> Context {
    let labels = (1..=sizes).map(|n| n.to_string()).collect();
    let mut context = Context::new(labels, vec![Stitches(start)]);
    context.row_heights = Some(vec![Length::cm(0.35)]);
    context
}

fn adds_up(ledger: &Ledger, first: Side) -> Result<(), TestCaseError> {
    // What lies before the first bind-off is left out, so that another side may come first.
    let first = ledger.rows.first().map_or(first, |row| row.side);
    let (mut count, mut side) = (ledger.start, first);
    for (n, row) in ledger.rows.iter().enumerate() {
        prop_assert_eq!(row.row as usize, n + 1);
        prop_assert_eq!(row.side, side);
        prop_assert_eq!(count + row.added(), row.stitches + row.removed());
        (count, side) = (row.stitches, side.turned());
    }
    prop_assert!(ledger.rows.len() <= limits::MAX_ROWS);
    Ok(())
}

/// The contract, for one text.
fn holds(text: &str, context: &Context) -> Result<(), TestCaseError> {
    let (reading, diagnostics) = read(text, context);
    prop_assert_eq!(reading.sizes.len(), context.sizes.len());
    for size in &reading.sizes {
        adds_up(&size.ledger, context.first_row)?;
    }
    for diagnostic in &diagnostics {
        prop_assert!(!diagnostic.message.is_empty());
        prop_assert!(!diagnostic.advice().is_empty());
        for span in diagnostic
            .span
            .into_iter()
            .chain(diagnostic.repairs.iter().map(|r| r.span))
        {
            prop_assert!(
                text.get(span.from..span.to).is_some(),
                "{:?} in {:?}",
                span,
                text
            );
        }
        for repair in &diagnostic.repairs {
            prop_assert_ne!(with_repair(text, repair), text);
        }
    }
    // The same input gives the same output.
    prop_assert_eq!(read(text, context), (reading, diagnostics));
    Ok(())
}

/// Words of the trade in any order.
fn salad() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "bind off",
        "cast off",
        "dec",
        "inc",
        "1 st",
        "5 (6, 7) sts",
        "3 [4:5]",
        "each end",
        "at beg of",
        "next",
        "foll",
        "every",
        "alt",
        "4th",
        "row",
        "rows",
        "2 rows",
        "RS",
        "WS",
        "until",
        "to",
        "rem",
        "20 sts",
        "times",
        "3 times",
        "more",
        "twice",
        "and",
        "then",
        ",",
        ".",
        ";",
        ":",
        "(",
        ")",
        "[",
        "]",
        "rep",
        "last 2 rows",
        "from *",
        "*",
        "**",
        "work",
        "even",
        "straight",
        "armhole",
        "neck edge",
        "measures",
        "8 in",
        "12 cm",
        "ending with a",
        "facing",
        "at the same time",
        "when",
        "size",
        "sizes 1 and 2 only",
        "k2tog",
        "ssk",
        "k to last 3 sts",
        "k to end",
        "purl",
        "Row 1",
        "Rows 3-4",
        "dec row",
        "2 x 1 st",
        "l0",
        "(51 sts)",
        "- 30 sts",
        "none",
        "0",
        "99999999999999999999",
        "1/2",
        "½",
        "as for back",
        "w&t",
        "\n",
        "\n\n",
    ]);
    prop::collection::vec(words, 0..40).prop_map(|list| list.join(" "))
}

const REAL: &[&str] = &[
    "Cast off 5 (7:9) sts at beg of next 2 rows. 91 (93:95) sts. Dec 1 st at each end of next 9 rows, then on \
     every foll alt row until 51 sts rem, then on foll 7 rows, ending after a WS row. 37 sts. Cast off 4 sts at \
     beg of next 4 rows. Cast off rem 21 sts.",
    "Row 1 (RS): BO 3 sts, k to end. Row 2: BO 3 sts, p to end. Rep rows 1 and 2 0 (1, 2) more times. Dec row \
     (RS): K2, ssk, k to last 4 sts, k2tog, k2 – 2 sts dec’d. Rep dec row every RS row 3 (4, 4) more times.",
    "At each end of every 2nd row, bind off 2 x 1 st, 1 x 2 sts; every 4th row 1 x 2 sts. [Dec row, work 3 rows \
     even] twice. Work even until armhole measures 7½”, ending with a WS row. Bind off.",
];

/// A real text with some characters dropped, doubled or replaced.
fn mutated() -> impl Strategy<Value = String> {
    let edits = prop::collection::vec(
        (any::<prop::sample::Index>(), 0..4_u8, any::<char>()),
        1..12,
    );
    (0..REAL.len(), edits).prop_map(|(which, edits)| {
        let mut chars: Vec<char> = REAL[which].chars().collect();
        for (at, kind, new) in edits {
            let at = at.index(chars.len());
            match kind {
                0 => drop(chars.remove(at)),
                1 => chars.insert(at, chars[at]),
                2 => chars[at] = new,
                _ => chars.swap(at, 0),
            }
        }
        chars.into_iter().collect()
    })
}

proptest! {
    #[test]
    fn any_characters(text in "\\PC{0,80}|[\\x00-\u{ffff}]{0,40}", sizes in 1..5_usize) {
        holds(&text, &context(sizes, 90))?;
    }

    #[test]
    fn any_words_of_the_trade(text in salad(), sizes in 1..4_usize, start in 0..150_u32) {
        holds(&text, &context(sizes, start))?;
    }

    #[test]
    fn any_damage_to_real_lines(text in mutated()) {
        let mut context = context(3, 101);
        context.piece = Piece::Body;
        holds(&text, &context)?;
    }

    #[test]
    fn what_is_written_of_any_words_reads_back(text in salad()) {
        let (reading, _) = read(&text, &context(2, 120));
        let lines = write_lines(&reading.sizes, Terms::Uk);
        let (again, said) = read(&lines, &context(2, 120));
        // Written row by row an increase may stand before the first bind-off: no part of a cap, and the reader says so.
        if said.iter().any(|d| d.code.id == "left-out") {
            return Ok(());
        }
        for (a, b) in again.sizes.iter().zip(&reading.sizes) {
            prop_assert_eq!(a.ledger.rows.len(), b.ledger.rows.len(), "{}", lines);
            prop_assert_eq!(a.ledger.final_stitches(), b.ledger.final_stitches());
        }
    }

    #[test]
    fn any_size_set(text in "\\PC{0,40}|[0-9 ()\\[\\],:;/–-]{0,40}") {
        let (numbers, diagnostics) = parse_size_set(&text);
        prop_assert!(!numbers.is_empty() || !diagnostics.is_empty());
        prop_assert!(numbers.len() <= limits::MAX_SIZES);
    }
}

#[test]
fn the_notations_of_size_sets() {
    let cases: &[(&str, &[u32])] = &[
        ("20 (22, 24)", &[20, 22, 24]),
        ("67 [71:77]", &[67, 71, 77]),
        ("102 (114-122-134)", &[102, 114, 122, 134]),
        (
            "41 (46, 46, 50, 50) (54, 56)",
            &[41, 46, 46, 50, 50, 54, 56],
        ),
        ("0 (0-2-0-0-0)", &[0, 0, 2, 0, 0, 0]),
        ("-(-:5:-:6)", &[0, 0, 5, 0, 6]),
        ("— (— - — - 2-3)", &[0, 0, 0, 2, 3]),
        ("36-38 (40-42) 44-46 (48) 50-52", &[36, 40, 44, 48, 50]),
        ("5 (6) 7 (8) 9", &[5, 6, 7, 8, 9]),
        ("18", &[18]),
        ("none (2, 4)", &[0, 2, 4]),
        ("sixty (sixty-four, 68)", &[60, 64, 68]),
    ];
    for &(text, wanted) in cases {
        let (numbers, _) = parse_size_set(text);
        let numbers: Vec<u32> = numbers.into_iter().map(Stitches::count).collect();
        assert_eq!(numbers, wanted, "{text}");
    }
    let (_, diagnostics) = parse_size_set("36-38 (40-42)");
    assert_eq!(diagnostics[0].code.id, "reading-hyphen");
    assert_eq!(
        diagnostics[0].message,
        "'36-38' is read as a range for one size; its first number is used"
    );
    for bad in ["", "()", "many", "20 (2.5)"] {
        assert!(!parse_size_set(bad).1.is_empty(), "{bad}");
    }
}

/// The same notations inside lines, with sizes that skip a step.
#[test]
fn lists_inside_lines() {
    let five = [
        "4 (5, 6, 7, 8)",
        "4 [5:6:7:8]",
        "4 (5-6-7-8)",
        "4 (5, 6) (7, 8)",
        "4 (5) 6 (7) 8",
        "4/5/6/7/8",
    ];
    for list in five {
        let text = format!("Bind off {list} sts at beg of next 2 rows.");
        let (reading, diagnostics) = read(&text, &context(5, 60));
        let counts: Vec<u32> = reading
            .sizes
            .iter()
            .map(|s| s.ledger.final_stitches().count())
            .collect();
        assert_eq!(counts, [52, 50, 48, 46, 44], "{list}: {diagnostics:#?}");
    }
    for list in [
        "0 (0, 2, 0, 3)",
        "-(-:2:-:3)",
        "— (— - 2 - — - 3)",
        "none (none, 2, none, 3)",
    ] {
        let text = format!("Bind off {list} sts at beg of next 2 rows. Work 1 row.");
        let (reading, _) = read(&text, &context(5, 60));
        let counts: Vec<u32> = reading
            .sizes
            .iter()
            .map(|s| s.ledger.final_stitches().count())
            .collect();
        assert_eq!(counts, [60, 60, 56, 60, 54], "{list}");
        let rows: Vec<u32> = reading
            .sizes
            .iter()
            .map(|s| s.ledger.row_count().count())
            .collect();
        assert_eq!(
            rows,
            [1, 1, 3, 1, 3],
            "no rows are worked where 0 appears: Simply Knitting, 27 Jan 2021"
        );
    }
}

/// Steps for some sizes only.
#[test]
fn steps_for_some_sizes() {
    let cases = [
        (
            "Sizes 2 and 3 only: Bind off 2 sts at beg of next 2 rows.",
            [60, 56, 56],
        ),
        (
            "Bind off 2 sts at beg of next 2 rows for size 3 only. Work 1 row.",
            [60, 60, 56],
        ),
        (
            "1st size: bind off 1 st at beg of next 2 rows; 2nd size: bind off 2 sts at beg of next 2 rows; 3rd size: \
          bind off 3 sts at beg of next 2 rows. All sizes: work 1 row.",
            [58, 56, 54],
        ),
        (
            "For 2nd size only, bind off 2 sts at beg of next 2 rows. Work 2 rows.",
            [60, 56, 60],
        ),
    ];
    for (text, wanted) in cases {
        let (reading, diagnostics) = read(text, &context(3, 60));
        let counts: Vec<u32> = reading
            .sizes
            .iter()
            .map(|s| s.ledger.final_stitches().count())
            .collect();
        assert_eq!(counts, wanted, "{text}: {diagnostics:#?}");
    }
}

/// One megabyte of anything is answered; more is cut, and that is said.
#[test]
fn a_megabyte_is_answered() {
    for part in ["(", "rep last 2 rows 99999 times. "] {
        let text = part.repeat(limits::MAX_BYTES / part.len() + 10);
        let (reading, diagnostics) = read(&text, &context(1, 90));
        assert_eq!(reading.sizes.len(), 1);
        assert!(
            diagnostics.iter().any(|d| d.code.id == "too-long"),
            "{part}"
        );
    }
}

#[test]
fn ten_thousand_rows_are_the_limit() {
    let (reading, diagnostics) = read("Work 99999 rows even. Bind off.", &context(1, 90));
    assert_eq!(reading.sizes[0].ledger.rows.len(), limits::MAX_ROWS);
    let said = diagnostics
        .iter()
        .find(|d| d.code.id == "too-long")
        .unwrap();
    assert_eq!(said.message, "the lines ask for more than 10000 rows");
}
