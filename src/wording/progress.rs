//! Where a cap that is under way goes on, and what is put right before it does.

use super::amounts::sts;
use super::instructions::{Counts, Step};
use super::text::Writer;
use crate::measure::Side;
use crate::plan::{Fix, Progress, Section, SectionName, remarks};

impl Writer<'_> {
    /// `Worked so far: 16 rows; go on from here.`, with what lies on the needle.
    pub(crate) fn worked_so_far(&self, turn_pairs: u32) -> Step {
        let sentence = format!("Worked so far: {} rows; go on from here.", 2 * turn_pairs);
        let (worked, waiting) = self.on_needle(turn_pairs.saturating_sub(1) as usize);
        Step::counted(sentence, Counts::SoFar { worked, waiting })
    }

    /// What is put right, a sentence for each section, with how many wait there then.
    pub(crate) fn fixes(&self, progress: &Progress) -> Vec<Step> {
        let fixes = progress.fixes.iter().filter(|fix| !fix.at.is_empty());
        let mut steps: Vec<Step> = Vec::new();
        let picked = progress.picked.picked_up().count();
        let drops = |moves: &[crate::plan::Move]| -> u32 {
            let done = moves
                .iter()
                .take(progress.turn_pairs.saturating_sub(1) as usize);
            done.map(|m| m.drop).sum()
        };
        let dropped = drops(&self.going.first.moves) + drops(&self.going.second.moves);
        let mut on_needle = picked - dropped;
        for fix in fixes {
            if steps.is_empty() {
                steps.push(Step::plain(remarks::PUT_RIGHT));
            }
            let count = u32::try_from(fix.at.len()).unwrap_or(u32::MAX);
            on_needle = if fix.made {
                on_needle + count
            } else {
                on_needle - count
            };
            let done = progress.turn_pairs.saturating_sub(1) as usize;
            let waiting = match fix.section {
                Section::First => self.waiting_at(Side::Rs, done),
                Section::Second => self.waiting_at(Side::Ws, done),
                Section::Crown | Section::Base => self.plan.crown.stitches.count(),
            };
            let counts = Counts::PutRight { waiting, on_needle };
            let before = if fix.made {
                waiting.saturating_sub(count)
            } else {
                waiting + count
            };
            steps.push(Step::counted(self.fix(fix, before), counts));
        }
        steps
    }

    /// What the hand does along the stitches that wait, so many of them: counted off from one end, each once.
    fn fix(&self, fix: &Fix, waiting: u32) -> String {
        let (name, along) = match fix.section {
            Section::First => (self.first_name(), "the sts that wait, from the crown down"),
            Section::Second => (self.second_name(), "the sts that wait, from the base up"),
            Section::Crown | Section::Base => {
                (SectionName::Crown.words(), "in the order of the pick-up")
            }
        };
        let (how, takes) = if fix.made {
            ("lift the strand", 0)
        } else {
            ("pass the next over the one after it", 2)
        };
        let mut off = 0;
        let mut places = Vec::new();
        for at in &fix.at {
            let before = at.saturating_sub(u32::from(!fix.made));
            places.push(match before.saturating_sub(off) {
                0 => how.to_owned(),
                n => format!("skip {}, {how}", sts(n)),
            });
            off = before + takes;
        }
        let left = sts(waiting.saturating_sub(off));
        format!("{name}, {along}: {}; then {left}.", places.join("; "))
    }
}
