//! The order of work: what is closed before the sleeves, and what is no longer sewn at all.

use std::ops::Range;

use super::change::Change;
use super::place::with_blanks;
use crate::leaflet::{Clause, Joins, Place, Print, Seam};

const NOT_SET_IN: &str = "The sleeves are knitted onto the armholes: nothing is set in.";
const NO_SEAM: &str = "The sleeves are worked in rounds: they have no seam.";
const EARLIER: &str =
    "Shoulders and sides are closed before the sleeves are picked up: moved to their beginning.";

/// The changes of the making up, and the sentences that move to the beginning of the sleeves.
pub(super) fn seams(print: &Print) -> (Vec<Change>, Vec<String>) {
    let changes = print.seams.iter().filter_map(|seam| change(print, seam));
    let changes = changes.collect();
    let clauses = print.seams.iter().flat_map(|seam| &seam.clauses);
    let settled: Vec<(&Clause, Joins)> = clauses
        .filter(|clause| clause.is_settled())
        .filter_map(|clause| Some((clause, clause.joins?)))
        .collect();
    let mut closed: Vec<String> = settled
        .iter()
        .filter_map(|(clause, joins)| moved(&clause.words, *joins))
        .collect();
    let any = |says: fn(Joins) -> bool| settled.iter().any(|(_, joins)| joins.all || says(*joins));
    let open = print
        .seams
        .iter()
        .flat_map(|seam| &seam.clauses)
        .any(|clause| {
            clause
                .joins
                .is_some_and(|joins| joins.other && joins.shoulders)
        });
    if open {
        closed.push("Join both shoulders before the sleeves are begun.".to_owned());
    } else if !any(|joins| joins.shoulders) {
        closed.push("Join shoulder seams.".to_owned());
    }
    if !any(|joins| joins.sides) {
        closed.push("Join side seams.".to_owned());
    }
    (changes, closed)
}

/// The words that close shoulders and sides, without the sleeve's own seam.
fn moved(words: &str, joins: Joins) -> Option<String> {
    if joins.set_in || !(joins.shoulders || joins.sides || joins.all) {
        return None;
    }
    if !joins.sleeves && !joins.all {
        return Some(sentence(words));
    }
    // Places in it are places in the words: no letter gets longer.
    let lower = words.to_ascii_lowercase();
    let verbs = ["sew", "join", "close", "stitch", "graft", "seam", "work"];
    let verb = verbs
        .iter()
        .filter_map(|verb| Some((lower.find(verb)?, verb)));
    let (at, verb) = verb.min()?;
    let lead = words.get(..at + verb.len())?;
    let tail = lower
        .rfind("seams")
        .and_then(|at| words.get(at + "seams".len()..));
    let parts = match (joins.shoulders || joins.all, joins.sides || joins.all) {
        (true, true) => "shoulder and side seams",
        (true, false) => "shoulder seams",
        _ => "side seams",
    };
    Some(sentence(&format!(
        "{lead} {parts}{}",
        tail.unwrap_or_default()
    )))
}

fn sentence(words: &str) -> String {
    let mut letters = words.trim().chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).chain(['.']).collect()
}

/// What goes of one sentence, and why.
fn change(print: &Print, seam: &Seam) -> Option<Change> {
    let goes: Vec<bool> = seam.clauses.iter().map(Clause::is_settled).collect();
    if !goes.contains(&true) {
        return None;
    }
    let mut change = Change {
        reason: reasons(seam),
        ..Change::default()
    };
    if !goes.contains(&false) {
        change.removed = whole(print, &seam.place);
        return Some(change);
    }
    let mut from = 0;
    for run in goes.chunk_by(|a, b| a == b) {
        let to = from + run.len();
        if run.contains(&true) {
            cut(print, seam, from..to, &mut change);
        }
        from = to;
    }
    Some(change)
}

/// Why clauses go, each reason once.
fn reasons(seam: &Seam) -> String {
    let settled = seam.clauses.iter().filter(|clause| clause.is_settled());
    let mut reasons: Vec<&str> = Vec::new();
    for joins in settled.filter_map(|clause| clause.joins) {
        if joins.set_in {
            reasons.push(NOT_SET_IN);
        }
        if joins.shoulders || joins.sides || joins.all {
            reasons.push(EARLIER);
        }
        if joins.sleeves || joins.all {
            reasons.push(NO_SEAM);
        }
    }
    reasons.sort_unstable();
    reasons.dedup();
    reasons.join(" ")
}

/// Takes clauses that follow one another out of their sentence; where they began it, what is left does.
fn cut(print: &Print, seam: &Seam, clauses: Range<usize>, change: &mut Change) {
    let place = |at: usize| seam.clauses.get(at).map(|clause| &clause.place);
    let before = clauses.start.checked_sub(1).and_then(place);
    let start = before.map_or(seam.place.start(), Place::end);
    let Some(last) = clauses.end.checked_sub(1).and_then(place) else {
        return;
    };
    let first_left = place(clauses.end).filter(|_| before.is_none());
    let Some(first_left) = first_left else {
        change
            .removed
            .extend(within(&seam.place, start..last.end()));
        return;
    };
    let letter = print.text.get(first_left.start()..);
    let letter = letter.and_then(|text| text.chars().next());
    let letter = letter.filter(|letter| letter.is_lowercase());
    let end = first_left.start() + letter.map_or(0, char::len_utf8);
    change.removed.extend(within(&seam.place, start..end));
    change
        .added
        .extend(letter.map(|letter| (end, letter.to_uppercase().collect())));
}

/// A sentence with the blanks that would be left over.
fn whole(print: &Print, place: &Place) -> Vec<Range<usize>> {
    let ranges = place.ranges.iter();
    ranges
        .map(|range| with_blanks(&print.text, range))
        .collect()
}

/// The part of a place that lies in these bytes.
fn within(place: &Place, bytes: Range<usize>) -> Vec<Range<usize>> {
    let cut = place
        .ranges
        .iter()
        .map(|range| range.start.max(bytes.start)..range.end.min(bytes.end));
    cut.filter(|range| range.start < range.end).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_closed_keeps_its_own_words() {
        let joins = |shoulders, sides, sleeves, all| Joins {
            shoulders,
            sides,
            sleeves,
            all,
            ..Joins::default()
        };
        for (words, joins, wanted) in [
            (
                "Sew shoulder seams",
                joins(true, false, false, false),
                "Sew shoulder seams.",
            ),
            (
                "join side and sleeve seams",
                joins(false, true, true, false),
                "Join side seams.",
            ),
            (
                "Sew shoulder, side and sleeve seams with back stitch",
                joins(true, true, true, false),
                "Sew shoulder and side seams with back stitch.",
            ),
            (
                "Sew up",
                joins(false, false, false, true),
                "Sew shoulder and side seams.",
            ),
            (
                "Join seams",
                joins(false, false, false, true),
                "Join shoulder and side seams.",
            ),
        ] {
            assert_eq!(moved(words, joins).as_deref(), Some(wanted));
        }
        assert_eq!(
            moved("Sew sleeve seams", joins(false, false, true, false)),
            None
        );
    }

    /// Words before the verb whose small letters are longer: places are those of the words as they stand.
    #[test]
    fn letters_that_get_longer_move_no_words() {
        let joins = Joins {
            shoulders: true,
            sides: true,
            sleeves: true,
            ..Joins::default()
        };
        let words = format!(
            "{} sew shoulder, side and sleeve seams flat",
            "İ".repeat(16)
        );
        let said = moved(&words, joins).unwrap_or_default();
        assert!(
            said.ends_with("İ sew shoulder and side seams flat."),
            "{said}"
        );
    }
}
