//! Every word is accounted for: a word that is not understood changes nothing that is read, and is an
//! error, at any place of any text.
//!
//! The oracle is the contract of the reader; the texts are those of the other tests (`pattern_texts`).

use std::fmt::Write as _;

use crate::pattern_texts::{
    ATTACKS, ATTACKS_BODY, ATTACKS_MANNERS, ATTACKS_STRUCTURE, DIVIDED, PRINTED, PRINTED_BODY,
    PRINTED_DIVIDED, PRINTED_MORE, PRINTED_SETS, PROBED, PROBED_BODY, READ, SIDES, SIZED,
    TRANSLATED, TYPED, WHOLE,
};
use capwright::diagnostic::{Diagnostic, Level};
use capwright::measure::{Length, Stitches};
use capwright::pattern::{Context, Ledger, Piece, Reading, read};

/// Words that stand in no table: an invented one, and such as a leaflet might really have.
const FOREIGN: &[&str] = &[
    "wozzle", "flimping", "beneath", "gusset", "Zigzag", "thrum's",
];

fn context(stitches: u32) -> Context {
    let mut context = Context::new(vec!["one".to_owned()], vec![Stitches(stitches)]);
    context.row_heights = Some(vec![Length::cm(0.254)]);
    context.piece = Piece::Body;
    context
}

fn sized(labels: &[&str], stitches: &[u32]) -> Context {
    let labels = labels.iter().map(|&l| l.to_owned()).collect();
    let mut context = Context::new(labels, stitches.iter().map(|&n| Stitches(n)).collect());
    context.row_heights = Some(vec![Length::cm(0.254)]);
    context
}

/// All texts with what they are read with.
pub(super) fn all_texts() -> Vec<(Context, &'static str)> {
    let mut out: Vec<_> = READ.iter().map(|r| (context(r.1), r.2)).collect();
    let whole = WHOLE
        .iter()
        .chain(PRINTED_BODY)
        .chain(ATTACKS_BODY)
        .chain(PROBED_BODY);
    out.extend(whole.map(|w| (context(w.0), w.1)));
    let divided = DIVIDED.iter().chain(PRINTED_DIVIDED);
    out.extend(divided.map(|d| (context(d.0), d.1)));
    let sized_texts = SIZED.iter().chain(PRINTED).chain(PRINTED_SETS);
    let attacks = ATTACKS
        .iter()
        .chain(ATTACKS_MANNERS)
        .chain(ATTACKS_STRUCTURE)
        .chain(TYPED)
        .chain(SIDES)
        .chain(PROBED);
    let sized_texts = sized_texts
        .chain(PRINTED_MORE)
        .chain(TRANSLATED)
        .chain(attacks);
    out.extend(sized_texts.map(|s| (sized(s.0, s.1), s.2)));
    out
}

/// Rows and counts, without the places of their words.
fn rows(reading: &Reading) -> Vec<Vec<[u32; 6]>> {
    let of = |ledger: &Ledger| {
        let rows = ledger.rows.iter().map(|r| {
            [
                r.bind_off.count(),
                r.decrease_start.count(),
                r.decrease_end.count(),
                r.increase_start.count(),
                r.increase_end.count(),
                r.stitches.count(),
            ]
        });
        rows.collect()
    };
    reading.sizes.iter().map(|size| of(&size.ledger)).collect()
}

fn errors(diagnostics: &[Diagnostic]) -> usize {
    diagnostics
        .iter()
        .filter(|d| d.level == Level::Error)
        .count()
}

/// The places between words, where another word can stand.
fn places(text: &str) -> Vec<usize> {
    let mut out: Vec<usize> = text.match_indices(' ').map(|(at, _)| at).collect();
    out.push(0);
    out.push(text.len());
    out
}

#[test]
fn a_foreign_word_changes_nothing_and_is_an_error() {
    let mut wrong = String::new();
    let mut tried = 0;
    for (n, (context, text)) in all_texts().into_iter().enumerate() {
        let (whole, _) = read(text, &context);
        for (m, at) in places(text).into_iter().enumerate() {
            let word = FOREIGN[(n + m) % FOREIGN.len()];
            let (head, tail) = text.split_at(at);
            let spoiled = format!("{head} {word} {tail}");
            let (reading, diagnostics) = read(&spoiled, &context);
            tried += 1;
            let told = diagnostics.iter().any(|d| {
                let place = d.span.and_then(|s| spoiled.get(s.from..s.to));
                d.level == Level::Error && place.is_some_and(|p| p.contains(word))
            });
            // `in trellis st` names a stitch pattern.
            let named = ["st ", "patt", "rib"]
                .iter()
                .any(|n| tail.trim_start().starts_with(n));
            if rows(&reading) != rows(&whole) || !told && !named {
                let _ = writeln!(wrong, "{spoiled}");
            }
        }
    }
    assert!(wrong.is_empty(), "of {tried}:\n{wrong}");
    assert!(tried > 9000, "{tried}");
}

/// The texts themselves are read without an error, so that the test above says something.
#[test]
fn the_texts_are_read() {
    for (context, text) in all_texts() {
        let (_, diagnostics) = read(text, &context);
        assert_eq!(errors(&diagnostics), 0, "{text}: {diagnostics:#?}");
    }
}
