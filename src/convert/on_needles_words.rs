//! Ways on from the needles, in words.

use crate::case::{CapSoFar, Mend};
use crate::fit::{Begun, Correction};
use crate::measure::{Stitches, Units};
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

/// A cap that is ripped back, for what the case says then.
pub(super) struct Ripped<'a> {
    pub(super) units: Units,
    pub(super) cap: &'a CapSoFar,
    pub(super) mend: Option<Mend>,
    /// The state that is left.
    pub(super) to: &'a Begun,
    /// What the plan has there.
    pub(super) planned: &'a Begun,
    /// Stitches of the row that was measured.
    pub(super) measured: Stitches,
    /// What the plan has in that row.
    pub(super) planned_then: Stitches,
    pub(super) first_is: Flank,
}

/// `so_far.rows = 2`, `so_far.measured_at = 16`: the rows that are left, and the measures of those that were there.
pub(super) fn ripped_keys(of: &Ripped<'_>) -> Vec<String> {
    let rows = 2 * of.to.turn_pairs;
    let mut keys = vec![match rows {
        0 => "no so_far.rows".to_owned(),
        _ => format!("so_far.rows = {rows}"),
    }];
    let measured = of.cap.depth.is_some() || of.cap.width.is_some();
    if let Some(at) = of.cap.measured_rows().filter(|_| measured) {
        keys.push(format!("so_far.measured_at = {}", at.count()));
    }
    // The row that was measured is gone, and the plan has others there: as wide as so many would be.
    if let Some(width) = of.cap.width.filter(|_| of.measured != of.planned_then) {
        let width = width * (of.planned_then.as_f64() / of.measured.as_f64());
        keys.push(format!("so_far.width = {:.2}", of.units.number(width)));
    }
    if of.cap.turned_at.is_some() {
        keys.push(turned_key(of));
    }
    if of.mend == Some(Mend::Correct) || rows == 0 {
        keys.push("so_far.mend = \"keep\"".to_owned());
    }
    keys
}

/// How many wait then.
fn turned_key(of: &Ripped<'_>) -> String {
    let [front, back] = of.to.waiting();
    let as_planned =
        of.to.front.moves == of.planned.front.moves && of.to.back.moves == of.planned.back.moves;
    let (first, second) = match of.first_is {
        Flank::Front => (front, back),
        Flank::Back => (back, front),
    };
    if as_planned || of.to.turn_pairs == 0 {
        "no so_far.turned_at".to_owned()
    } else if first == second {
        format!("so_far.turned_at = {first}")
    } else {
        format!("so_far.turned_at = [{first}, {second}]")
    }
}
