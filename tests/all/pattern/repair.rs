//! Misprints: those that were printed, and planted ones that must be found again.

use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::Length;
use capwright::pattern::{Context, Readings, Take, parse_size_set, read, with_repair};

fn context(stitches: &str) -> Context {
    let (stitches, _) = parse_size_set(stitches);
    let labels = (1..=stitches.len()).map(|n| n.to_string()).collect();
    Context::new(labels, stitches)
}

fn said(stitches: &str, text: &str) -> Vec<Diagnostic> {
    read(text, &context(stitches)).1
}

fn is_clean(stitches: &str, text: &str) -> bool {
    said(stitches, text).iter().all(|d| d.level == Level::Note)
}

/// All texts the proposed repairs lead to.
fn repaired(stitches: &str, text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for repair in said(stitches, text).iter().flat_map(|d| &d.repairs) {
        let text = with_repair(text, repair);
        if !out.contains(&text) {
            out.push(text);
        }
    }
    out
}

const E6: &str = "Cast off 4(5,5,5,6,6,7) sts at beg of next 2 rows. Dec 1 st at each end of next 8 \
    (8,8,9,10,10) rows, then on RS rows 10 (10,12,12,12,12) times, then on next 6 rows. Cast off 4 \
    sts at beg of next 2 rows. Cast off rem 10 sts.";

/// E6: Australian magazine sleeve, issuhub.com/view/index/9142?pageIndex=49. Striking one 5 makes
/// all six sizes end at the published 10.
#[test]
fn e6_is_repaired_by_striking_one_number() {
    let stitches = "74 (76,80,84,86,88)";
    let diagnostics = said(stitches, E6);
    let faults: Vec<_> = diagnostics
        .iter()
        .filter(|d| d.level == Level::Error)
        .collect();
    let codes: Vec<&str> = faults.iter().map(|d| d.code.id).collect();
    assert_eq!(codes, ["size-list-length", "stated-count", "stated-count"]);
    for fault in faults {
        assert_eq!(fault.repairs.len(), 1, "the repair is unique");
        assert_eq!(fault.repairs[0].text, "4(5,5,6,6,7)");
        assert!(
            fault
                .next
                .contains("'4(5,5,6,6,7)' in place of '4(5,5,5,6,6,7)'"),
            "{}",
            fault.next
        );
    }
    let text = repaired(stitches, E6);
    assert_eq!(text.len(), 1);
    assert!(is_clean(stitches, &text[0]));
}

/// The same lines with a number missing from a list.
#[test]
fn a_missing_number_is_put_back() {
    let short = E6.replace("4(5,5,5,6,6,7)", "4(5,5,6,7)");
    let texts = repaired("74 (76,80,84,86,88)", &short);
    let whole = E6.replace("4(5,5,5,6,6,7)", "4(5,5,6,6,7)");
    assert!(texts.contains(&whole), "{texts:#?}");
}

/// E7: Effervescence errata (Quince & Co): with `3 (4, 4, 4, 3, 2, 3) more times` all counts agree.
/// The errata corrected printed counts: here each of them is wrong in turn.
const E7: &str = "Bind off 3 sts at beg of next 2 rows, then 2 sts at beg of next 2 rows. 48 (58, 62, 66, \
    70, 76, 78) sts. Rep last 2 rows 0 (1, 2, 2, 3, 4, 4) more times. 48 (54, 54, 58, 58, 60, 62) sts rem. \
    Dec row (RS): K2, ssk, k to last 4 sts, k2tog, k2. Rep dec row every RS row 3 (4, 4, 4, 3, 2, 3) more \
    times. 40 (44, 44, 48, 50, 54, 54) sts. Work 15 (19, 21, 21, 21, 21, 21) rows even. Work dec row on \
    next row, then every RS row 3 (3, 3, 3, 4, 6, 10) more times. 32 (36, 36, 40, 40, 40, 32) sts.";
const E7_SIZES: &str = "58 (68, 72, 76, 80, 86, 88)";

/// E3: The Knitter, 17 Sep 2020.
const E3: &str = "Cast off 5 (7:9:11:13) sts at beg of next 2 rows. 91 (93:95:97:99) sts. Dec 1 st at \
    each end of next 9 rows, then on every foll alt row until 51 sts rem, then on foll 7 rows. 37 sts. \
    Cast off 4 sts at beg of next 4 rows. Cast off rem 21 sts.";
const E3_SIZES: &str = "101 (107:113:119:125)";

/// Every number of the text changed by one misprint at a time: one more, two fewer, digits swapped,
/// a digit lost. Each change that spoils a count must bring the number as printed among the repairs.
fn planted(stitches: &str, text: &str) -> (u32, u32, u32) {
    assert!(is_clean(stitches, text), "{:#?}", said(stitches, text));
    let (mut spoiled, mut found, mut first) = (0, 0, 0);
    // Every fifth number in a build for debugging, so that the test stays short.
    let every = if cfg!(debug_assertions) { 5 } else { 1 };
    for (from, to, value) in numbers(text).into_iter().step_by(every) {
        for wrong in misprints(value) {
            let (head, tail) = (text.get(..from).unwrap(), text.get(to..).unwrap());
            let misprinted = format!("{head}{wrong}{tail}");
            let diagnostics = said(stitches, &misprinted);
            if diagnostics.iter().all(|d| d.level == Level::Note) {
                continue;
            }
            spoiled += 1;
            let texts = repaired(stitches, &misprinted);
            found += u32::from(texts.iter().any(|t| t == text));
            first += u32::from(texts.first().is_some_and(|t| t == text));
            assert!(
                texts.iter().all(|t| is_clean(stitches, t)),
                "a repair does not repair: {misprinted}"
            );
        }
    }
    (spoiled, found, first)
}

fn numbers(text: &str) -> Vec<(usize, usize, u32)> {
    let mut out = Vec::new();
    let mut from = None;
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        let alone = from.is_some() || !text.get(..at).unwrap().ends_with(char::is_alphanumeric);
        match (c.is_ascii_digit() && alone, from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                out.push((start, at, text.get(start..at).unwrap().parse().unwrap()));
                from = None;
            }
            _ => {}
        }
    }
    out
}

fn misprints(value: u32) -> Vec<u32> {
    let mut out = vec![value + 1, value.saturating_sub(2)];
    if value > 9 {
        out.push(value / 10 + 10 * (value % 10));
        out.push(value % 10);
    }
    out.retain(|&v| v != value);
    out
}

fn all_found(stitches: &str, text: &str) {
    let (spoiled, found, first) = planted(stitches, text);
    assert!(spoiled > 9, "{spoiled}");
    assert_eq!(
        found, spoiled,
        "{found} of {spoiled} found, {first} of them first"
    );
}

#[test]
fn planted_misprints_in_e3_are_found_again() {
    all_found(E3_SIZES, E3);
}

#[test]
fn planted_misprints_in_e7_are_found_again() {
    all_found(E7_SIZES, E7);
}

/// Two sizes misprinted each in its own way: no single change cures both, so each gets its own.
#[test]
fn two_misprints_in_two_sizes_get_one_repair_each() {
    let text = E7.replace("40 (44, 44, 48, 50, 54, 54)", "40 (45, 44, 48, 50, 54, 56)");
    let diagnostics = said(E7_SIZES, &text);
    let faults: Vec<_> = diagnostics
        .iter()
        .filter(|d| d.level == Level::Error)
        .collect();
    assert_eq!(faults.len(), 2);
    assert_eq!(faults[0].size.as_deref(), Some("2"));
    assert_eq!(faults[0].repairs[0].text, "44");
    assert_eq!(faults[1].size.as_deref(), Some("7"));
    assert_eq!(faults[1].repairs[0].text, "54");
}

/// Nothing is proposed where a sentence was not understood: that may explain the count.
#[test]
fn no_repair_is_guessed_beside_an_unknown_sentence() {
    let text = "Cast off 5 sts at beg of next 2 rows. Flimp 3 wozzles. 40 sts.";
    assert!(said("60", text).iter().all(|d| d.repairs.is_empty()));
}

/// A stated count decides between two readings, and the reading can be fixed from outside.
#[test]
fn a_stated_count_proves_a_reading() {
    let text = "Dec 1 st each end of next and every alternate row 4 times. 50 sts.";
    let diagnostics = said("60", text);
    let note = diagnostics
        .iter()
        .find(|d| d.code.id == "reading-next-and-every")
        .unwrap();
    assert_eq!(
        note.message,
        "read as 'the times come after the next row' (what the text states proves it); the other \
         reading, 'the times count the next row too', would give 2 rows fewer, 2 stitches more"
    );
    let mut fixed = context("60");
    fixed.readings = Readings {
        next_and_every: Take::First,
        ..Readings::default()
    };
    let (_, diagnostics) = read(text, &fixed);
    assert!(diagnostics.iter().any(|d| d.code.id == "stated-count"));
}

/// Every wording with two readings is told, with what the other one would change, and can be fixed.
#[test]
fn both_readings_are_told() {
    type Pick = fn(&mut Readings, Take);
    let cases: &[(&str, &str, &str, Pick)] = &[
        (
            "reading-next-and-every",
            "Dec 1 st each end of next and every alt row 4 times.",
            "2 rows more, 2 stitches fewer, 0.7 cm more depth",
            |r, t| r.next_and_every = t,
        ),
        (
            "reading-repeat",
            "Dec 1 st each end of next row. Work 1 row. Rep last 2 rows 5 times.",
            "2 rows fewer, 2 stitches more, 0.7 cm less depth",
            |r, t| r.repeat = t,
        ),
        (
            "reading-first-decrease",
            "Bind off 5 sts at beg of next 2 rows. Dec 1 st each end of every 4th row 3 times.",
            "3 rows more, the same stitches, 1.0 cm more depth",
            |r, t| r.first_decrease = t,
        ),
        (
            "reading-trailing-row",
            "Dec 1 st each end of every RS row 3 times. Bind off 4 sts at beg of next 2 rows.",
            "1 row more, the same stitches, 0.4 cm more depth",
            |r, t| r.trailing_row = t,
        ),
        (
            "reading-rows-twice",
            "Bind off 3 sts at beg of next 2 rows twice.",
            "2 rows fewer, 6 stitches more, 0.7 cm less depth",
            |r, t| r.rows_twice = t,
        ),
        (
            "reading-cross",
            "Bind off at each end of every 2nd row 3 x 1.",
            "4 rows more, the same stitches, 1.4 cm more depth",
            |r, t| r.cross = t,
        ),
        (
            "reading-row-list",
            "Work 2 rows. Dec 1 st each end of rows 3, 5 and 9.",
            "2 rows more, the same stitches, 0.7 cm more depth",
            |r, t| r.row_list = t,
        ),
        (
            "reading-edge",
            "Dec 1 st every row 4 times.",
            "the same rows, 4 stitches more",
            |r, t| r.edge = t,
        ),
    ];
    for &(code, text, change, pick) in cases {
        let mut context = context("60");
        context.row_heights = Some(vec![Length::cm(0.35)]);
        let (usual, diagnostics) = read(text, &context);
        let note = diagnostics
            .iter()
            .find(|d| d.code.id == code)
            .unwrap_or_else(|| panic!("{text}"));
        assert!(
            note.message.ends_with(&format!("would give {change}")),
            "{}",
            note.message
        );
        assert_eq!(note.level, Level::Note);
        pick(&mut context.readings, Take::Second);
        let (other, diagnostics) = read(text, &context);
        assert_ne!(usual, other, "{text}");
        assert!(diagnostics.iter().any(|d| d.code.id == code), "{text}");
    }
}

/// Letters for digits, as a scan has them: flagged, proposed, never silent.
#[test]
fn slips_of_the_scan_are_flagged() {
    let text = "Cast off l0 sts at beg of next 2 rows. Dec 1 st each end of next 1O rows. 2O sts.";
    let diagnostics = said("60", text);
    let slips: Vec<_> = diagnostics
        .iter()
        .filter(|d| d.code.id == "scan-slip")
        .collect();
    assert_eq!(slips.len(), 3);
    assert!(slips.iter().all(|d| d.level == Level::Error));
    let texts: Vec<&str> = slips.iter().map(|d| d.repairs[0].text.as_str()).collect();
    assert_eq!(texts, ["10", "10", "20"]);
    assert!(
        diagnostics.iter().all(|d| d.code.id != "stated-count"),
        "read as 10, 10 and 20 the count agrees"
    );
}
