//! Ways on from the needles, in words.

use crate::fit::Correction;
use crate::plan::Flank;

/// `2 sts made on the first flank, 1 st taken away on the second`.
pub(super) fn correction_words(by: Correction, first_is: Flank) -> String {
    let (first, second) = match first_is {
        Flank::Front => (by.front, by.back),
        Flank::Back => (by.back, by.front),
    };
    let sections = [
        ("in the crown", by.crown),
        ("on the first flank", first),
        ("on the second flank", second),
    ];
    let said = sections.iter().filter(|(_, n)| *n != 0).map(|(place, n)| {
        let what = if *n > 0 { "made" } else { "taken away" };
        format!("{} {what} {place}", sts(n.unsigned_abs()))
    });
    let said: Vec<String> = said.collect();
    format!("Put right, {}", said.join(", "))
}

/// `Ripped back by 2 pairs, to row 12`.
pub(super) fn ripped_words(pairs: u32, left: u32) -> String {
    let word = if pairs == 1 { "pair" } else { "pairs" };
    if left == 0 {
        return format!("Ripped back by {pairs} {word}, to the pick-up");
    }
    format!("Ripped back by {pairs} {word}, to row {}", 2 * left)
}

fn sts(n: u32) -> String {
    if n == 1 {
        "1 st".to_owned()
    } else {
        format!("{n} sts")
    }
}
