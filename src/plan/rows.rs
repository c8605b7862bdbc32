//! The rows of the cap as they are worked: where they turn, what waits, what each step is called.

use super::cap::CapPlan;
use crate::measure::Stitches;

/// Where a stitch was picked up, in the order the needle goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Across the shoulder.
    Crown,
    /// The flank picked up right after the crown.
    First,
    /// Along the underarm.
    Base,
    /// The flank picked up last.
    Second,
}

/// The picked-up stitches a row turns on, counted from the crown on a flank and from the flank on
/// the base, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnedOn {
    /// Where they lie.
    pub section: Section,
    /// The one nearer the crown.
    pub from: u32,
    /// The other one; the same when only one is turned on.
    pub to: u32,
}

/// The needle after one row of the cap, for teaching and for the checklist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NeedleRow {
    /// Its number; the row that runs on to the middle of the base is the last.
    pub row: u32,
    /// The letters of its step; none for the first two rows and the last.
    pub step: Option<String>,
    /// What it turns on; nothing for the last row.
    pub turned_on: Option<TurnedOn>,
    /// True for an RS row.
    pub right_side: bool,
    /// Sentence that asked for it, counted from 0.
    pub sentence: usize,
    /// Stitches worked so far, those turned on left out.
    pub worked: Stitches,
    /// Stitches of the first flank that wait before the base marker.
    pub waiting_first: Stitches,
    /// Stitches of the second flank that wait before the base marker.
    pub waiting_second: Stitches,
    /// Decreases so far.
    pub decreases: u32,
    /// Stitches on the needle.
    pub stitches: Stitches,
    /// The needle from the middle of the base round to it, one sign a stitch: `-` worked in this
    /// row, `=` worked earlier, `/` two together in this row, `.` waiting, `w` wrapped, `d`
    /// double, `|` a marker. The first flank is on the right.
    pub picture: String,
}

/// The steps of a cap, each with the turn pairs that are worked after it: first the pair that spans
/// the crown, which has no letters, then a step wherever either flank's move changes, and where the
/// work goes on after so many pairs.
pub fn step_ends(plan: &CapPlan, worked: u32) -> Vec<(Option<String>, u32)> {
    let moves: Vec<_> = plan.front.moves.iter().zip(&plan.back.moves).collect();
    let mut ends = vec![(None, 1)];
    let mut pairs = 1;
    let at = (worked.saturating_sub(1) as usize).min(moves.len());
    let (done, left) = moves.split_at(at);
    let runs = done
        .chunk_by(|a, b| a == b)
        .chain(left.chunk_by(|a, b| a == b));
    for (letters, run) in (0..).zip(runs) {
        pairs += u32::try_from(run.len()).unwrap_or(u32::MAX);
        ends.push((Some(step_label(letters)), pairs));
    }
    ends
}

/// The letters of the n-th step, counted from 0.
pub fn step_label(n: u32) -> String {
    let letter = |i: u32| char::from_u32(u32::from(b'A') + i % 26).unwrap_or('A');
    match (n / 26).checked_sub(1) {
        None => letter(n).to_string(),
        Some(before) => format!("{}{}", letter(before), letter(n)),
    }
}
