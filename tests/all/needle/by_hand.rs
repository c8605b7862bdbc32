//! A cap small enough to be worked out on paper, and written patterns that cannot be right.

use capwright::diagnostic::{Diagnostic, Level};
use capwright::needle::{draw_columns, knit, knit_file, show_row};
use capwright::plan::Section;

/// Crown 3, four stitches a flank, base 2. The moves are 1/0, 1/1 and 2/0 on both sides: 4 turn
/// pairs, 3 + 2 (4 - 1) + 2 = 11 stitches.
const TINY: &str = "PICK UP
With RS facing, begin 2 rows below the shoulder seam (left sleeve: on the front; right sleeve: on the back), and go over the shoulder and once round the armhole; the needle goes in one whole st inside the edge.
Crown: pick up and k 3 sts over 4 rows: skip 1 row; pm. [3 sts, 3 on the needle]
First flank, from the crown down: pick up and k 4 sts over 8 rows: 1 st for every 2 rows, 4 times; the first st sits tight against the crown; pm. [4 sts, 7 on the needle]
Base: pick up and k 2 sts, one in each bound-off st beside the seam; pm. [2 sts, 9 on the needle]
Second flank, from the base up: pick up and k 4 sts over 8 rows: 1 st for every 2 rows, 4 times; the last st sits tight against the crown; pm. [4 sts, 13 on the needle]
SHORT ROWS
Row 1 (RS): k3 to the marker, w&t.
Row 2 (WS): p3 to the marker, w&t. [2 rows, 3 worked, 4 waiting each side]
A. 1 pair: work the wrapped st, w&t. [2 rows, 5 worked, 3 waiting each side]
B. 1 pair: work to 1 st before the wrapped st, ssk (WS: p2tog) these 2 sts, w&t. [2 rows, 5 worked, 2 waiting each side]
C. 1 pair: work the wrapped st and 1 more, w&t; the last pair turns on the first base st at each end. [2 rows, 9 worked, 0 waiting each side]
JOIN
Work the next RS row to the wrapped base st, work it together with its wrap, to the middle of the base; pm: rounds begin here. [4 turn pairs, 11 sts, 1 base st before the marker, 1 after it]
Round 1: k to the base marker, make 1 st from the strand there, k to 1 st before the other base marker, ssk; work the other wrapped base st together with its wrap. [1 round, 11 sts]
";

/// The same in a rib of one and one, worked out on squared paper: the crown's stitches are knit, purl, knit,
/// and every second column from there is a knit one. The base stitch of row 9 lies on the column of the
/// flank's last stitch, which is decreased with it in round 1.
const IN_RIB: &str = "ROWS IN PATTERN
The repeat has 2 sts and 1 row; the first crown st is its st 1, row 1 of the cap its row 1.
Repeat, row 1: k1, p1.
Row 1 (RS): from st 1 to st 1: k1, p1, k1.
Row 2 (WS): from st 1 to st 1: p1, k1, p1.
Row 3 (RS): from st 1 to st 2: (k1, p1) twice; the last st is new.
Row 4 (WS): from st 2 to st 2: (k1, p1) twice, k1; the last st is new.
Row 5 (RS): from st 2 to st 2: (p1, k1) twice, p1.
Row 6 (WS): from st 2 to st 2: (k1, p1) twice, k1.
Row 7 (RS): from st 2 to st 2: (p1, k1) 3 times, p1; the last 2 sts are new.
Row 8 (WS): from st 2 to st 2: (k1, p1) 4 times, k1; the last 2 sts are new.
Row 9 (RS): from st 2 to st 2: (p1, k1) 4 times, p2; the last st is new.
Round 1: from st 2 to st 2: (p1, k1) 5 times, p1.
";

#[test]
fn a_rib_worked_out_on_squared_paper() {
    let (knitted, diagnostics) = knit(&format!("{TINY}{IN_RIB}"));
    assert_eq!(diagnostics, []);
    assert_eq!(knitted.pattern.len(), 10);
    for (from, to) in [
        ("p1, k1, p1.", "p1, k1, k1."),
        ("Row 6 (WS): from st 2", "Row 6 (WS): from st 1"),
        (
            "4 times, p2; the last st is",
            "4 times, p2; the last 2 sts are",
        ),
        ("Repeat, row 1: k1, p1", "Repeat, row 1: p1, k1"),
        ("Round 1: from st 2 to st 2: (p1, k1) 5 times, p1.\n", ""),
    ] {
        assert!(IN_RIB.contains(from), "{from}");
        let (_, said) = knit(&format!("{TINY}{}", IN_RIB.replacen(from, to, 1)));
        assert!(
            said.iter().any(|d| d.level == Level::Error),
            "{from} -> {to}"
        );
    }
}

/// "No row for every stitch" is true of as many stitches as rows when a row is taken away, and of nothing else: of the
/// first flank's 4 in 8 rows it is not, nor is it ever with a row more.
#[test]
fn no_row_for_every_stitch_only_where_there_is_none() {
    let none = "there is no row for every st; pick up 1 st fewer and lift the strand beside the marker for the missing one.";
    let list = "First flank, rows counted from the crown down: pick up in rows 1, 3, 5, 7 (of 8).";
    let sentences = |text: &str, after: &str| {
        let (_, said) = knit(&format!("{text}ROWS PICKED UP\n{after}\n"));
        let rates = said.iter().filter(|d| d.level == Level::Error);
        rates.map(|d| d.code.id).collect::<Vec<_>>()
    };
    let good = "One row fewer (7): 4 sts over 7 rows: 1 st for every 2 rows, 3 times, then 1 st in the next row.";
    assert_eq!(sentences(TINY, &format!("{list}\n{good}")), [""; 0]);
    for wrong in ["One row fewer (7): ", "One row more (9): "] {
        let found = sentences(TINY, &format!("{list}\n{wrong}{none}"));
        assert!(found.contains(&"needle-rate"), "{wrong}{found:?}");
    }
    // The same flank in four rows: with one fewer a stitch is left over.
    let tight = TINY.replace(
        "First flank, from the crown down: pick up and k 4 sts over 8 rows: 1 st for every 2 rows, 4 times",
        "First flank, from the crown down: pick up and k 4 sts over 4 rows: 1 st in each of the next 4 rows",
    );
    assert_ne!(tight, TINY);
    let list = "First flank, rows counted from the crown down: pick up in rows 1, 2, 3, 4 (of 4).";
    let fewer = sentences(&tight, &format!("{list}\nOne row fewer (3): {none}"));
    assert_eq!(fewer, [""; 0]);
    let more = sentences(&tight, &format!("{list}\nOne row more (5): {none}"));
    assert!(more.contains(&"needle-rate"), "{more:?}");
}

/// The crown of three told as two halves with a stitch in the seam between them is the same cap; by hand, the one stitch of
/// each half lies in its outer row, the second from the seam.
#[test]
fn a_crown_in_two_halves() {
    let old = "Crown: pick up and k 3 sts over 4 rows: skip 1 row; pm.";
    let halves = "Crown, up to the shoulder seam: pick up and k 1 st over 2 rows: skip 1 row; 1 st in the shoulder seam itself; from the seam down the same in the opposite order; pm.";
    let list = "ROWS PICKED UP\nCrown, rows counted from the shoulder seam down on both sides: pick up in rows 2 (of 2).\n";
    assert!(TINY.contains(old));
    let text = TINY.replace(old, halves) + list;
    let (knitted, said) = knit(&text);
    assert_eq!(said, []);
    assert_eq!(knitted, knit(TINY).0);
    for (from, to) in [
        ("; 1 st in the shoulder seam itself", ""),
        ("1 st in the shoulder seam", "2 sts in the shoulder seam"),
        ("; from the seam down the same in the opposite order", ""),
        ("begin 2 rows below", "begin 1 row below"),
        ("k 1 st over 2 rows", "k 1 st over 3 rows"),
        ("pick up in rows 2 (of 2)", "pick up in rows 1 (of 2)"),
        ("pick up in rows 2 (of 2)", "pick up in rows 2 (of 4)"),
        (
            "from the shoulder seam down on both sides: pick",
            "from the start: pick",
        ),
        (
            "Base: pick up and k 2 sts, one",
            "Base: from the seam down the same in the opposite order; pick up and k 2 sts, one",
        ),
    ] {
        assert!(text.contains(from), "{from}");
        let (_, said) = knit(&text.replacen(from, to, 1));
        let wrong = said.iter().any(|d| d.level == Level::Error);
        assert!(wrong, "{from} -> {to}");
    }
    // Which row is left out may be said: with a stitch in the seam the one beside it.
    for (row, wrong) in [("last", false), ("first", true)] {
        let said = knit(&text.replacen("skip 1 row", &format!("skip the {row} row"), 1)).1;
        assert_eq!(
            said.iter().any(|d| d.code.id == "needle-rate"),
            wrong,
            "{row}"
        );
    }
    // Four, two a half and none in the seam: one beside it on each side, one in the outer row but one.
    let even = text
        .replace(
            "k 1 st over 2 rows: skip 1 row; 1 st in the shoulder seam itself",
            "k 2 sts over 4 rows: 1 st for every 2 rows, twice",
        )
        .replace("rows 2 (of 2)", "rows 1, 3 (of 4)");
    let (_, said) = knit(&even);
    let of_list = said.iter().filter(|d| d.message.contains("the list says"));
    assert_eq!(of_list.count(), 0, "{said:?}");
}

/// Ticked off on paper: row by row, which picked-up stitches (or the stitch they went into) are
/// worked. Rows 1 and 2 the crown; row 3 the crown and flank stitch 1 on the left, row 4 these and
/// stitch 1 on the right; row 5 works left stitches 1 and 2 together, row 6 the right ones; rows
/// 7 and 8 take in stitches 3 and 4; row 9 works everything and one base stitch.
#[test]
fn every_column_as_ticked_off_on_paper() {
    let (knitted, diagnostics) = knit(TINY);
    assert_eq!(diagnostics, []);
    let rows: Vec<u32> = knitted.columns.iter().map(|c| c.rows.count()).collect();
    let crown = [9, 9, 9];
    let first = [7, 5, 3, 3];
    let base = [1, 0];
    let second = [2, 2, 4, 6];
    let all: Vec<u32> = [&crown[..], &first, &base, &second].concat();
    assert_eq!(rows, all);
    let stitch = |i: usize| knitted.columns[i].stitch;
    assert_eq!(stitch(3), stitch(4), "left 1 and 2 are one stitch");
    assert_eq!(stitch(11), stitch(12), "right 1 and 2 are one stitch");
    assert_eq!(knitted.columns[3].section, Section::First);
    assert_eq!((knitted.turn_pairs, knitted.cap_decreases), (4, 2));
    assert_eq!(knitted.upper_arm.count(), 11);
    // Loops ticked off row by row: 3, 3, 4, 5, 5, 5, 7, 9, 9 and the base stitch.
    assert_eq!(knitted.cap_loops, 51);
}

#[test]
fn the_needle_after_a_row_and_the_columns_are_shown() {
    let (knitted, _) = knit(TINY);
    insta::assert_snapshot!("tiny_row_5", show_row(&knitted, 5).unwrap());
    insta::assert_snapshot!("tiny_columns", draw_columns(&knitted));
    assert_eq!(show_row(&knitted, 10), None);
}

fn messages(diagnostics: &[Diagnostic]) -> String {
    let line = |d: &Diagnostic| format!("{} {}: {}", d.level.word(), d.code.id, d.message);
    diagnostics.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// What is said about TINY when `from` is replaced by `to`; always at error level.
fn said(from: &str, to: &str) -> String {
    assert!(TINY.contains(from), "{from}");
    let (_, diagnostics) = knit(&TINY.replacen(from, to, 1));
    assert!(
        diagnostics.iter().any(|d| d.level == Level::Error),
        "{from} -> {to}"
    );
    messages(&diagnostics)
}

#[test]
fn a_changed_number_is_named_with_its_row() {
    insta::assert_snapshot!(
        "changed_number",
        [
            said("and 1 more", "and 2 more"),
            said("5 worked, 3 waiting", "6 worked, 3 waiting"),
            said("k3 to", "k4 to"),
            said(
                "1 pair: work the wrapped st, w&t",
                "2 pairs: work the wrapped st, w&t"
            ),
            said("4 sts over 8 rows: 1 st", "4 sts over 9 rows: 1 st"),
            said("2 rows below the shoulder", "3 rows below the shoulder"),
        ]
        .join("\n\n")
    );
}

/// `each side` is wrong when one side alone differs.
#[test]
fn both_sides_are_counted() {
    let step_a = "A. 1 pair: work the wrapped st, w&t. [2 rows, 5 worked, 3";
    let ws_more = "A. 1 pair: RS: work the wrapped st, w&t; WS: work the wrapped st and 1 more, w&t. [2 rows, 6 worked, 3";
    assert!(said(step_a, ws_more).contains("waiting before the base is 2, not 3"));
    let rs_more = ws_more.replace("st and 1 more", "st").replace(
        "RS: work the wrapped st",
        "RS: work the wrapped st and 1 more",
    );
    assert!(said(step_a, &rs_more).contains("waiting before the base is 2, not 3"));
}

#[test]
fn a_missing_row_or_step_is_named() {
    let row_2 = "Row 2 (WS): p3 to the marker, w&t. [2 rows, 3 worked, 4 waiting each side]\n";
    let step_b = TINY.lines().find(|line| line.starts_with("B.")).unwrap();
    insta::assert_snapshot!(
        "missing_row",
        [
            said(row_2, ""),
            said(step_b, ""),
            said("Round 1:", "TUBE\nWork 2 rounds even.\nRound 1:"),
            said("JOIN\nWork the next RS row", "JOIN\nWork the next row"),
        ]
        .join("\n\n")
    );
}

#[test]
fn a_turn_past_the_marker_and_other_impossible_things_are_named() {
    insta::assert_snapshot!(
        "impossible",
        [
            said("st and 1 more", "st and 3 more"),
            said("ssk (WS: p2tog) these 2", "ssk (WS: p2tog) the 2 wrapped"),
            said(
                "p3 to the marker, w&t",
                "p3 to the marker, wrap the next 2 sts together and turn"
            ),
            said(
                "k3 to the marker, w&t",
                "k3 to the marker, work 1, turn, ds"
            ),
        ]
        .join("\n\n")
    );
    let wrong_lean = TINY.replacen("ssk (WS: p2tog)", "k2tog (WS: p2tog)", 1);
    insta::assert_snapshot!("wrong_lean", messages(&knit(&wrong_lean).1));
}

#[test]
fn a_decrease_without_stitches_left_is_named_with_its_round() {
    let tube = "TUBE
Dec round: k1, k2tog, k to the last 3 sts, ssk, k1. [2 sts fewer]
Work the dec round on every 2nd round, 4 times. [9 rounds, 3 sts]
";
    let (_, diagnostics) = knit(&format!("{TINY}{tube}"));
    insta::assert_snapshot!("no_stitches_left", messages(&diagnostics));
}

#[test]
fn a_file_without_instructions_says_so() {
    let (pieces, diagnostics) = knit_file("A letter to a friend.\n");
    assert_eq!(pieces, []);
    assert_eq!(
        messages(&diagnostics),
        "error needle-unreadable: there is no heading PICK UP where instructions would begin"
    );
}

#[test]
fn two_sleeves_in_one_file_are_two_pieces() {
    let page = format!(
        "A PATTERN\n\nLEFT SLEEVE\n{TINY}\nRIGHT SLEEVE (a mirror image)\n{TINY}\nNOTES\nnone.\n"
    );
    let (pieces, diagnostics) = knit_file(&page);
    assert_eq!(diagnostics, []);
    let titles: Vec<&str> = pieces.iter().map(|p| p.title.as_str()).collect();
    assert_eq!(titles, ["LEFT SLEEVE", "RIGHT SLEEVE"]);
    assert_eq!(pieces[0].knitted, pieces[1].knitted);
}

/// Undo a change and everything agrees: that edit must be among those offered.
#[test]
fn the_edit_that_cures_a_changed_number_is_offered() {
    for (from, to, right) in [
        ("and 1 more", "and 3 more", "1"),
        ("5 worked, 3 waiting", "6 worked, 3 waiting", "5"),
        ("A. 1 pair:", "A. 2 pair:", "1"),
        ("over 8 rows", "over 9 rows", "8"),
        ("11 sts", "12 sts", "11"),
    ] {
        let text = format!("A PATTERN\n\n{}", TINY.replacen(from, to, 1));
        let (_, diagnostics) = knit_file(&text);
        let offered = diagnostics.iter().flat_map(|d| &d.repairs);
        let cured = |r: &capwright::diagnostic::Repair| {
            let edited = format!("{}{}{}", &text[..r.span.from], r.text, &text[r.span.to..]);
            r.text == right && knit_file(&edited).1.is_empty()
        };
        assert!(offered.clone().any(cured), "{from} -> {to}: {offered:?}");
    }
}

/// Every finding of the needle is raised by some text; the one against the plan by `prove`.
#[test]
fn every_code_is_raised() {
    let edits = [
        ("Row 1 (RS)", "Row one (RS)", "needle-unreadable"),
        ("[4 sts, 7 on", "[4 sts, 8 on", "needle-count"),
        ("2 rows, 4 times", "2 rows, 3 times", "needle-rate"),
        ("k3 to", "k2 to", "needle-impossible"),
        ("st and 1 more", "st and 2 more", "needle-past-marker"),
        ("Row 2 (WS)", "Row 3 (WS)", "needle-order"),
        (
            "C. 1 pair: work the wrapped st and 1 more",
            "C. 1 pair: work the wrapped st",
            "needle-never-worked",
        ),
        (
            "; work the other wrapped base st together with its wrap",
            "",
            "needle-left-turned",
        ),
        (
            "k 2 sts, one in each",
            "k 6 sts, one in each",
            "needle-uneven-join",
        ),
        ("ssk (WS: p2tog)", "k2tog (WS: p2tog)", "needle-lean"),
        (
            "4 sts over 8 rows: 1 st for every 2 rows",
            "4 sts over 16 rows: 1 st for every 4 rows",
            "needle-hole",
        ),
        (
            "PICK UP\n",
            "PICK UP\nThe sizes are S / L.\nSize M only.\n",
            "needle-sizes",
        ),
        (
            "Row 3 (RS): from st 1 to st 2: (k1, p1) twice",
            "Row 3 (RS): from st 1 to st 2: k2, k1, p1",
            "needle-not-the-chart",
        ),
    ];
    let text = format!("{TINY}{IN_RIB}");
    for (from, to, code) in edits {
        assert!(text.contains(from), "{from}");
        let (_, diagnostics) = knit_file(&text.replacen(from, to, 1));
        let raised: Vec<&str> = diagnostics.iter().map(|d| d.code.id).collect();
        assert!(raised.contains(&code), "{from} -> {to}: {raised:?}");
    }
    let tested = edits.map(|(_, _, code)| code);
    for code in capwright::needle::CODES {
        assert!(
            tested.contains(&code.id) || code.id == "needle-not-the-plan",
            "{}",
            code.id
        );
    }
}

/// A needle has a thousand stitches at the most (`STITCH_COUNT`), also where they are made; sizes are forty at the most
/// (`MAX_SIZES`). Beyond it a text is answered at once, and says why.
#[test]
fn beyond_the_limits_it_is_said_at_once() {
    let begun = std::time::Instant::now();
    let wide = TINY
        .replace("pick up and k 2 sts", "pick up and k 700 sts")
        .replace(
            "Round 1: k to the base marker, make 1 st from the strand there, k to 1 st before the other base marker, ssk;",
            "Round 1: k round, making 400 sts from the strands at each base marker;",
        );
    let (knitted, said) = knit(&wide);
    let messages: Vec<&str> = said.iter().map(|d| d.message.as_str()).collect();
    assert!(
        messages.iter().any(|m| m.contains("1000 at the most")),
        "{messages:?}"
    );
    assert!(knitted.upper_arm.count() <= 1000);
    for sizes in [40, 41, 3000] {
        let names: Vec<String> = (1..=sizes).map(|n| format!("S{n}")).collect();
        let text = TINY.replacen(
            "PICK UP\n",
            &format!("PICK UP\nThe sizes are {}.\n", names.join(" / ")),
            1,
        );
        let (pieces, said) = knit_file(&text);
        assert_eq!(pieces.len(), if sizes > 40 { 0 } else { sizes });
        let named =
            |d: &Diagnostic| d.code.id == "needle-sizes" && d.message.contains("40 at the most");
        assert_eq!(said.iter().any(named), sizes > 40, "{said:?}");
        assert_eq!(said.len(), usize::from(sizes > 40), "{said:?}");
    }
    assert!(begun.elapsed().as_secs() < 20, "{:?}", begun.elapsed());
}
