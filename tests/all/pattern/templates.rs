//! Every way of saying it: one row a template, with the rows it stands for worked out by hand.
//!
//! The numbers are those of the trade notes' list of 82 templates (bind-offs 1-17, decreases 18-42,
//! repeats 43-51, "until" 52-61, plain rows 62-65, simultaneous 66-70, how it is worked 71-77,
//! short rows 78-82). The wordings are ours. What the rows must be follows from the template's
//! meaning; where that was proven by a published count, `pattern_published.rs` has the count.

use std::fmt::Write as _;

use crate::pattern_texts::{
    ATTACKS, ATTACKS_BODY, ATTACKS_MANNERS, ATTACKS_MANNERS_BODY, ATTACKS_REFUSED,
    ATTACKS_STRUCTURE, ATTACKS_UNCLEAR, DIVIDED, PRINTED, PRINTED_BODY, PRINTED_DIVIDED,
    PRINTED_MORE, PRINTED_SETS, PROBED, PROBED_BODY, PROBED_REFUSED, READ, REFUSED, REFUSED_MORE,
    SIDES, SIDES_REFUSED, SIZED, TRANSLATED, TRANSLATED_REFUSED, TYPED, TYPED_OR_ERROR,
    TYPED_REFUSED, WHOLE,
};
use capwright::diagnostic::Level;
use capwright::measure::{Length, Side, Stitches};
use capwright::pattern::{Context, Ledger, LedgerRow, Piece, read};

/// Templates that are passed over knowingly, with the code of the finding that says so.
#[rustfmt::skip]
const PASSED: &[(u32, &str, &str)] = &[
    (51, "Work as for back to **.", "told-elsewhere"),
    (61, "Work even until armhole equals back's.", "told-elsewhere"),
    (68, "Work second side to match, reversing shapings.", "mirrored-piece"),
    (78, "Work 10 sts, w&t.", "short-row-words"),
    (79, "Work to wrapped st, pick up wrap, wrap next st and turn.", "short-row-words"),
    (80, "Turn, slip 1.", "short-row-words"),
    (81, "Wrap and turn 3 sts past marker.", "short-row-words"),
    (82, "Work to last 4 sts, w&t; work to 3 sts before previously wrapped st, w&t.", "short-row-words"),
];

/// A row of 0.254 cm: ten rows in one inch.
fn context(stitches: u32) -> Context {
    let mut context = Context::new(vec!["one".to_owned()], vec![Stitches(stitches)]);
    context.row_heights = Some(vec![Length::cm(0.254)]);
    context.piece = Piece::Body;
    context
}

fn shown(ledger: &Ledger) -> String {
    let mut out = String::new();
    let mut rows = ledger.rows.iter().map(row_shown).peekable();
    while let Some(row) = rows.next() {
        let mut count = 1;
        while rows.next_if_eq(&row).is_some() {
            count += 1;
        }
        let times = if count > 1 {
            format!("x{count}")
        } else {
            String::new()
        };
        let _ = write!(out, "{}{row}{times}", if out.is_empty() { "" } else { " " });
    }
    out
}

fn row_shown(row: &LedgerRow) -> String {
    let both = row.decrease_start.count().min(row.decrease_end.count());
    let both_up = row.increase_start.count().min(row.increase_end.count());
    let times = |mark: &str, count: u32| match count {
        // What waits for the other half.
        20.. if mark == ">" => format!("{mark}{count}"),
        count => mark.repeat(usize::try_from(count).unwrap()),
    };
    let mut out = String::new();
    if row.bind_off > Stitches(0) {
        let _ = write!(
            out,
            "b{}{}",
            row.bind_off.count(),
            if row.closes() { "|" } else { "" }
        );
    }
    out += &times("d", both);
    out += &times("<", row.decrease_start.count() - both);
    out += &times(">", row.decrease_end.count() - both);
    out += &times("i", both_up);
    out += &times("+", row.added().count() - 2 * both_up);
    if out.is_empty() { ".".to_owned() } else { out }
}

/// `(d .)*3` written out.
fn unbracketed(rows: &str) -> String {
    let Some(open) = rows.rfind('(') else {
        return rows.to_owned();
    };
    let (inner, rest) = rows[open + 1..].split_once(")*").unwrap();
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let times = rest[..digits].parse().unwrap();
    let inner = vec![inner; times].join(" ");
    unbracketed(&format!("{}{inner}{}", &rows[..open], &rest[digits..]))
}

/// `d .x3` and `d . . .` are the same rows: both are folded alike.
fn folded(rows: &str) -> String {
    let rows = unbracketed(rows);
    let mut all = Vec::new();
    for word in rows.split(' ') {
        let (row, times) = word.split_once('x').unwrap_or((word, "1"));
        all.extend(std::iter::repeat_n(row.to_owned(), times.parse().unwrap()));
    }
    let mut out: Vec<(String, u32)> = Vec::new();
    for row in all {
        match out.last_mut() {
            Some((last, times)) if *last == row => *times += 1,
            _ => out.push((row, 1)),
        }
    }
    let words = out.iter().map(|(r, n)| {
        if *n > 1 {
            format!("{r}x{n}")
        } else {
            r.clone()
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

#[test]
fn every_template_is_read() {
    let mut wrong = String::new();
    for &(number, stitches, text, rows) in READ {
        let (reading, diagnostics) = read(text, &context(stitches));
        let got = shown(&reading.sizes.first().unwrap().ledger);
        let bad: Vec<&str> = diagnostics
            .iter()
            .filter(|d| d.level > Level::Note)
            .map(|d| d.message.as_str())
            .collect();
        if got != folded(rows) || !bad.is_empty() {
            let _ = writeln!(
                wrong,
                "{number}: {text}\n   want {rows}\n   got  {got}\n   {bad:?}"
            );
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// Size words in every order, decreases over a row, what lies before and after a cap.
#[test]
fn size_words_and_whole_sleeves_are_read() {
    let texts = SIZED.iter().chain(PRINTED).chain(PRINTED_SETS);
    let attacks = ATTACKS
        .iter()
        .chain(ATTACKS_MANNERS)
        .chain(ATTACKS_STRUCTURE)
        .chain(TYPED)
        .chain(SIDES)
        .chain(PROBED);
    for &(labels, stitches, text, rows) in
        texts.chain(PRINTED_MORE).chain(TRANSLATED).chain(attacks)
    {
        let labels = labels.iter().map(|&l| l.to_owned()).collect();
        let mut context = Context::new(labels, stitches.iter().map(|&n| Stitches(n)).collect());
        context.row_heights = Some(vec![Length::cm(0.254)]);
        let (reading, diagnostics) = read(text, &context);
        let bad: Vec<_> = diagnostics
            .iter()
            // A block of sizes that ends with its paragraph is said, and a first row that is not row 1.
            .filter(|d| d.level > Level::Note)
            .filter(|d| !["sizes-not-closed", "first-row-number"].contains(&d.code.id))
            .collect();
        assert!(bad.is_empty(), "{text}: {bad:#?}");
        let got: Vec<String> = reading.sizes.iter().map(|s| shown(&s.ledger)).collect();
        let want: Vec<String> = rows.iter().map(|r| folded(r)).collect();
        assert_eq!(got, want, "{text}");
    }
}

/// There is no third outcome: a text is read as it is meant, or an error says that it is not.
#[test]
fn what_a_person_reads_is_read_so_or_refused() {
    for &(labels, stitches, text, rows) in TYPED_OR_ERROR {
        let labels = labels.iter().map(|&l| l.to_owned()).collect();
        let mut context = Context::new(labels, stitches.iter().map(|&n| Stitches(n)).collect());
        context.row_heights = Some(vec![Length::cm(0.254)]);
        let (reading, diagnostics) = read(text, &context);
        let refused = diagnostics.iter().any(|d| d.level == Level::Error);
        let got: Vec<String> = reading.sizes.iter().map(|s| shown(&s.ledger)).collect();
        let want: Vec<String> = rows.iter().map(|r| folded(r)).collect();
        assert!(refused || got == want, "{text}: {got:?}");
    }
}

/// Divided work: the armhole's edge goes on, the neck's is a list of its own beside it.
#[test]
fn divided_work_is_followed_on_one_half() {
    for &(stitches, text, rows) in DIVIDED.iter().chain(PRINTED_DIVIDED) {
        let (reading, diagnostics) = read(text, &context(stitches));
        let bad: Vec<_> = diagnostics
            .iter()
            .filter(|d| d.level > Level::Note)
            .collect();
        assert!(bad.is_empty(), "{text}: {bad:#?}");
        let ledger = &reading.sizes.first().unwrap().ledger;
        assert_eq!(shown(ledger), folded(rows), "{text}");
        let divided = ledger.divided.unwrap();
        let half = ledger.rows.get(usize::try_from(divided.row - 1).unwrap());
        assert!(half.unwrap().stitches <= divided.half, "{text}");
        assert!(!ledger.neck().is_empty(), "{text}");
    }
}

#[test]
fn what_is_passed_over_is_said() {
    for &(number, text, code) in PASSED {
        let (_, diagnostics) = read(text, &context(46));
        let codes: Vec<&str> = diagnostics.iter().map(|d| d.code.id).collect();
        assert!(codes.contains(&code), "{number}: {text}: {diagnostics:#?}");
        let passed = ["no-lines", "not-closed", code];
        assert!(
            codes.iter().all(|c| passed.contains(c)),
            "{number}: {text}: {diagnostics:#?}"
        );
    }
}

#[test]
fn no_template_is_missing() {
    let read = READ.iter().map(|r| r.0);
    let mut seen: Vec<u32> = read.chain(PASSED.iter().map(|p| p.0)).collect();
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen, (1..=82).collect::<Vec<_>>());
}

/// Lines that leave something out are not guessed: each brings an error at these words.
#[rustfmt::skip]
const UNFINISHED: &[(&str, &str)] = &[
    ("Bind off 5 sts at beg of next 2 rows. Keep dec at same edge.", "dec at same edge"),
    ("Dec 1 st at the beg of RS rows.", "Dec 1 st at the beg of RS rows"),
    ("Do not dec on next row.", "Do not"),
    ("Dec 1 st each end of every RS row 5 times except the first.", "except the first"),
    ("Bind off 3 sts at beg of next 2 rows, skip one row, work 3 rows.", "skip one row"),
    ("Dec 1 st at the left edge on next row.", "left edge on next row"),
    ("Diminish 1 st each end of next row.", "Diminish 1 st each end of next row"),
    ("Size XL only: work 2 rows.", "Size XL"),
    ("(K2, k2tog) to last 3 sts, k3.", "(K2, k2tog) to last 3 sts, k3"),
    ("Next row: k2, ssk, k to last 5 sts, k2tog, k2.", "Next row: k2, ssk, k to last 5 sts, k2tog, k2"),
    ("Next row: k20, turn. Work 3 rows.", "Next row: k20, turn"),
    ("Shape raglan: dec 1 st each end of next row.", "Shape raglan"),
    ("Work to last 4 sts, w&t.", "Work to last 4 sts, w&t"),
    ("Dec 1 st each end of next row and work as for back.", "work as for back"),
    ("Bind off centre 13 sts.", "Bind off centre 13 sts"),
    ("Work 4 rows, decreasing 1 st each end of the next and every alt row 5 times.", "Work 4 rows, decreasing 1 st each end of the next and every alt row 5 times"),
    ("Work even. Bind off 5 sts at beg of next 2 rows.", "Work even"),
    ("Work straight, ending with a WS row.", "Work straight"),
    ("Dec 1 st each end of every alt row. Bind off.", "Dec 1 st each end of every alt row"),
    ("Bind off -5 sts at beg of next 2 rows.", "Bind off -5 sts at beg of next 2 rows"),
    ("Decraese 1 st each end of next row.", "Decraese 1 st each end of next row"),
    ("Repeat last 4 rows twice.", "Repeat last 4 rows twice"),
    ("Bind off 2.5 sts at beg of next 2 rows.", "2.5"),
];

#[test]
fn nothing_is_guessed() {
    for &(text, words) in UNFINISHED {
        let (_, diagnostics) = read(text, &context(60));
        let errors = diagnostics.iter().filter(|d| d.level == Level::Error);
        let places: Vec<&str> = errors
            .filter_map(|d| d.span)
            .filter_map(|s| text.get(s.from..s.to))
            .collect();
        assert!(places.contains(&words), "{text}: {places:?}");
    }
    let (_, diagnostics) = read("Decraese 1 st each end of next row.", &context(60));
    assert!(
        diagnostics
            .iter()
            .any(|d| d.message.ends_with("'decrease' may be meant"))
    );
}

/// What could be read in two ways, or is told by halves, is refused at its words.
#[test]
fn what_is_not_clear_is_refused() {
    let mut wrong = String::new();
    let attacks = ATTACKS_REFUSED.iter().chain(ATTACKS_UNCLEAR);
    let attacks = attacks
        .chain(TYPED_REFUSED)
        .chain(SIDES_REFUSED)
        .chain(PROBED_REFUSED);
    let all = REFUSED
        .iter()
        .chain(REFUSED_MORE)
        .chain(TRANSLATED_REFUSED)
        .chain(attacks);
    for &(labels, stitches, text, words) in all {
        let labels = labels.iter().map(|&l| l.to_owned()).collect();
        let mut context = Context::new(labels, stitches.iter().map(|&n| Stitches(n)).collect());
        context.row_heights = Some(vec![Length::cm(0.254)]);
        let (_, diagnostics) = read(text, &context);
        let errors = diagnostics.iter().filter(|d| d.level == Level::Error);
        let places: Vec<&str> = errors
            .filter_map(|d| d.span)
            .filter_map(|s| text.get(s.from..s.to))
            .collect();
        if !places.contains(&words) {
            let _ = writeln!(wrong, "{text}: {places:?}");
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// Template 68: the mirrored piece starts its bind-offs on the other side, one row later.
#[test]
fn the_first_row_may_be_a_wrong_side_row() {
    let mut context = context(46);
    context.first_row = Side::Ws;
    let text = "Cast off 4 sts at armhole edge. Dec 1 st at armhole edge of next 2 rows.";
    let (reading, _) = read(text, &context);
    let ledger = &reading.sizes.first().unwrap().ledger;
    assert_eq!(shown(ledger), "b4 > <");
    assert_eq!(ledger.rows.first().unwrap().side, Side::Ws);
}

#[test]
fn whole_caps_are_read() {
    let texts = WHOLE.iter().chain(PRINTED_BODY).chain(ATTACKS_BODY);
    for &(stitches, text, rows) in texts.chain(ATTACKS_MANNERS_BODY).chain(PROBED_BODY) {
        let (reading, diagnostics) = read(text, &context(stitches));
        let bad: Vec<_> = diagnostics
            .iter()
            .filter(|d| d.level > Level::Note)
            .collect();
        assert!(bad.is_empty(), "{text}: {bad:#?}");
        assert_eq!(
            shown(&reading.sizes.first().unwrap().ledger),
            folded(rows),
            "{text}"
        );
    }
}
