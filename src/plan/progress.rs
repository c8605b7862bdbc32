//! What of a cap is done already: the words say where they go on from, and what is put right before.

use super::cap::CapPlan;
use super::rows::Section;

/// Stitches that are put right on the needle, without the yarn, before the work goes on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// The section they wait in.
    pub section: Section,
    /// True where strands are lifted, false where stitches are passed over their neighbours.
    pub made: bool,
    /// The stitches after which a strand is lifted, or that are passed over the next one: counted from 1 in the
    /// order of the needle, among those that wait.
    pub at: Vec<u32>,
}

impl Fix {
    /// So many places spread evenly over `waiting` stitches that begin after `before`.
    pub fn places(before: u32, waiting: u32, count: u32) -> Vec<u32> {
        (1..=count)
            .map(|i| before + i * waiting / (count + 1))
            .collect()
    }

    /// True when so many places among so many stitches touch neither each other nor the turn.
    pub fn has_room(waiting: u32, count: u32) -> bool {
        count == 0 || waiting >= 2 * (count + 1)
    }
}

/// How far a cap is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Turn pairs worked, that of the crown included.
    pub turn_pairs: u32,
    /// The WS row of the last pair is still to be worked.
    pub ends_on_rs: bool,
    /// Crown, base and sections as they were picked up. Its moves are none of the knitter's: one on each flank
    /// that takes in all.
    pub picked: CapPlan,
    /// What is put right then.
    pub fixes: Vec<Fix>,
    /// The rows to come are worked with other needles.
    pub other_needles: bool,
}

impl Progress {
    /// Stitches on the first and on the second flank beside those of the plan, until they are put right.
    pub fn beside(&self) -> [i32; 2] {
        [Section::First, Section::Second].map(|section| {
            let fixes = self.fixes.iter().filter(|fix| fix.section == section);
            let all = fixes.map(|fix| {
                let count = i32::try_from(fix.at.len()).unwrap_or(0);
                if fix.made { -count } else { count }
            });
            all.sum()
        })
    }
}
