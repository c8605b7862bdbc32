//! What of the tests' texts could be another word without changing anything: `cargo run --example probe`.
#![allow(dead_code, clippy::print_stdout, clippy::unwrap_used, clippy::indexing_slicing, clippy::string_slice, clippy::panic, reason = "a tool of the tests")]

#[path = "../tests/all/pattern_texts/mod.rs"]
mod pattern_texts;
#[path = "../tests/all/pattern/probe_words.rs"]
mod probe_words;
#[path = "../tests/all/pattern/probe_wordings.rs"]
mod probe_wordings;

use capwright::measure::{Length, Stitches};
use capwright::pattern::{Context, Piece};
use pattern_texts::*;

fn context(labels: &[&str], stitches: &[u32], piece: Piece) -> Context {
    let labels = labels.iter().map(|&l| l.to_owned()).collect();
    let mut context = Context::new(labels, stitches.iter().map(|&n| Stitches(n)).collect());
    context.row_heights = Some(vec![Length::cm(0.254)]);
    context.piece = piece;
    context
}

fn all_texts() -> Vec<(Context, &'static str)> {
    let body = |n: u32| context(&["one"], &[n], Piece::Body);
    let mut out: Vec<_> = READ.iter().map(|r| (body(r.1), r.2)).collect();
    let whole = WHOLE.iter().chain(PRINTED_BODY).chain(ATTACKS_BODY).chain(ATTACKS_MANNERS_BODY);
    out.extend(whole.map(|w| (body(w.0), w.1)));
    let divided = DIVIDED.iter().chain(PRINTED_DIVIDED);
    out.extend(divided.map(|d| (body(d.0), d.1)));
    let sized = SIZED.iter().chain(PRINTED).chain(PRINTED_SETS).chain(ATTACKS).chain(ATTACKS_MANNERS).chain(ATTACKS_STRUCTURE)
        .chain(TYPED).chain(SIDES).chain(PRINTED_MORE).chain(TRANSLATED);
    out.extend(sized.map(|s| (context(s.0, s.1, Piece::Sleeve), s.2)));
    out
}

fn main() {
    let (mut tried, mut silent) = (0, 0);
    for (context, text) in all_texts() {
        if !probe_words::is_read(text, &context) {
            println!("NOT READ\t{text}");
            continue;
        }
        if std::env::args().any(|a| a == "-o") {
            let before = probe_words::rows_read(text, &context).unwrap();
            for (kind, other) in probe_wordings::orders(text) {
                tried += 1;
                let after = probe_words::rows_read(&other, &context);
                if after.is_some_and(|after| after != before) {
                    silent += 1;
                    println!("{kind}\t{}\t{}", other.replace('\n', " / "), text.replace('\n', " / "));
                }
            }
            if context.sizes.len() == 1 {
                let mut three = context.clone();
                three.sizes = vec!["A".into(), "B".into(), "C".into()];
                for (kind, other) in probe_wordings::in_three_sizes(text) {
                    tried += 1;
                    let after = probe_words::rows_read(&other, &three);
                    if after.is_some_and(|after| after.iter().any(|one| *one != before[0])) {
                        silent += 1;
                        println!("{kind}\t{}\t{}", other.replace('\n', " / "), text.replace('\n', " / "));
                    }
                }
            }
            for &(more, rows) in probe_wordings::AFTER {
                tried += 1;
                let other = format!("{text}{more}");
                let Some(after) = probe_words::rows_read(&other, &context) else { continue };
                let count = |rows: &str| rows.split("; ").filter(|r| r.contains(' ')).count();
                let wrong = before.iter().zip(&after).any(|(b, a)| !a.starts_with(b.as_str()) || count(a) != count(b) + rows);
                if wrong {
                    silent += 1;
                    println!("after\t{}\t{before:?}\t{after:?}", other.replace('\n', " / "));
                }
            }
            continue;
        }
        if std::env::args().any(|a| a == "-w") {
            let before = probe_words::rows_read(text, &context);
            for (kind, other) in probe_wordings::wordings(text) {
                tried += 1;
                let after = probe_words::rows_read(&other, &context);
                if after.is_some() && after != before {
                    silent += 1;
                    println!("{kind}\t{}\t{}", other.replace('\n', " / "), text.replace('\n', " / "));
                }
            }
            continue;
        }
        if std::env::args().any(|a| a == "-p") {
            for line in capwright::pattern::report(text, &context.sizes) { println!("{}", line.replace('\n', " / ")); }
            continue;
        }
        tried += probe_words::changes(text, &context.sizes).len();
        for change in probe_words::unheard(text, &context) {
            silent += 1;
            println!("{}\t{}\t{}", change.kind, change.told(text), text.replace('\n', " / "));
        }
    }
    println!("{silent} of {tried}");
}
