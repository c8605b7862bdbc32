//! The probe: nothing is read wrong in silence.
//!
//! A word that could be another one without changing anything has not been read, and a text that reads otherwise in other
//! words that mean the same is misread in one of them. Both are tried on every text of the tables; the oracle is that
//! the rows of the tables were worked out by hand (`templates.rs` holds the texts against them).

use std::fmt::Write as _;

use super::account::all_texts;
use super::probe_wordings::{in_three_sizes, orders, wordings};
use super::probe_words::{changes, rows_read, unheard};
use capwright::pattern::Context;

/// Marks that change what is meant.
const OTHERWISE: &[&str] = &[
    // The repeat is of its sentence.
    "Work 3 rows. dec 1 st each end of next row, rep twice.",
    // Size words that stand alone are for what follows.
    "Dec 1 st each end of next row. L only. Work 2 rows.",
    // `sts.` with its point ends nothing: what the second edge belongs to is lost with the comma.
    "cast off 3 sts. at beg of foll 2 rows cast off 2 sts.",
];

#[test]
fn no_word_could_be_another_without_a_difference() {
    let (mut silent, mut tried) = (String::new(), 0);
    for (context, text) in all_texts() {
        tried += changes(text, &context.sizes).len();
        for change in unheard(text, &context) {
            let _ = writeln!(silent, "{}: {text}", change.told(text));
        }
    }
    assert!(silent.is_empty(), "of {tried}:\n{silent}");
    assert!(tried > 15_000, "{tried}");
}

/// The wordings whose rows are others than those of the text, without an error.
fn misread(
    context: &Context,
    before: &[String],
    others: Vec<(String, String)>,
    out: &mut String,
) -> usize {
    let tried = others.len();
    for (kind, other) in others {
        let known = OTHERWISE.iter().any(|words| other.contains(words));
        let Some(after) = rows_read(&other, context).filter(|_| !known) else {
            continue;
        };
        // One size against each of three.
        let same = after.iter().enumerate();
        let mut same = same.map(|(n, rows)| rows == &before[n.min(before.len() - 1)]);
        if !same.all(|same| same) {
            let _ = writeln!(out, "{kind}: {other}");
        }
    }
    tried
}

#[test]
fn the_same_in_other_words_reads_the_same_or_is_refused() {
    let (mut wrong, mut tried) = (String::new(), 0);
    for (context, text) in all_texts() {
        let before = rows_read(text, &context).unwrap();
        let others = wordings(text).into_iter().chain(orders(text)).collect();
        tried += misread(&context, &before, others, &mut wrong);
    }
    assert!(wrong.is_empty(), "of {tried}:\n{wrong}");
    assert!(tried > 60_000, "{tried}");
}

#[test]
fn a_list_of_equal_numbers_reads_as_the_number_or_is_refused() {
    let (mut wrong, mut tried) = (String::new(), 0);
    for (context, text) in all_texts() {
        if context.sizes.len() > 1 {
            continue;
        }
        let before = rows_read(text, &context).unwrap();
        let mut three = context.clone();
        three.sizes = ["A", "B", "C"].map(str::to_owned).to_vec();
        tried += misread(&three, &before, in_three_sizes(text), &mut wrong);
    }
    assert!(wrong.is_empty(), "of {tried}:\n{wrong}");
    assert!(tried > 20_000, "{tried}");
}
