//! What a text consists of: sections, steps, and the counts beside them.

use std::fmt;

use super::amounts::{rounds, sts};
use super::told::{Pairs, PickUp, Shaping, StepTold, Whom};
use crate::plan::{remarks, step_label};

/// The instructions for one sleeve.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Instructions {
    /// In the order of the work.
    pub sections: Vec<Section>,
}

impl Instructions {
    /// The sentences, counted from 0 as in [`Self::sentences`], that explain and are nothing to do.
    pub fn explanations(&self) -> Vec<usize> {
        let of_section = |section: &Section| {
            let steps = section.steps.iter().map(Step::explains);
            std::iter::once(false).chain(steps).collect::<Vec<bool>>()
        };
        let all = self.sections.iter().flat_map(of_section);
        let explains = all.enumerate().filter(|(_, explains)| *explains);
        explains.map(|(place, _)| place).collect()
    }

    /// How many sentences are for some sizes only, and how many there are.
    pub fn for_some_sizes(&self) -> (usize, usize) {
        let steps = || self.sections.iter().flat_map(|section| &section.steps);
        let some = steps().filter(|step| step.told == StepTold::OfSet(Whom::Some));
        (some.count(), steps().count())
    }
}

/// A heading and what is done under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// In capitals, such as `SHORT ROWS`.
    pub heading: String,
    /// One sentence each.
    pub steps: Vec<Step>,
}

/// A sentence and the counts after it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// With its full stop, without the counts.
    pub sentence: String,
    /// What the knitter should have after it.
    pub counts: Option<Counts>,
    /// What the sentence says, for whoever goes on with its numbers.
    pub(crate) told: StepTold,
}

impl Step {
    pub(crate) fn plain(sentence: impl Into<String>) -> Self {
        Self {
            sentence: sentence.into(),
            counts: None,
            told: StepTold::Words,
        }
    }

    pub(crate) fn counted(sentence: impl Into<String>, counts: Counts) -> Self {
        Self {
            counts: Some(counts),
            ..Self::plain(sentence)
        }
    }

    pub(crate) fn pick_up(told: PickUp, counts: Counts) -> Self {
        let sentence = told.sentence();
        Self {
            told: StepTold::PickUp(told),
            ..Self::counted(sentence, counts)
        }
    }

    pub(crate) fn pairs(told: Pairs, counts: Counts) -> Self {
        let sentence = told.sentence();
        Self {
            told: StepTold::Pairs(told),
            ..Self::counted(sentence, counts)
        }
    }

    pub(crate) fn shaping(told: Shaping, counts: Counts) -> Self {
        Self {
            told: StepTold::Shaping(told),
            ..Self::counted(told.sentence(), counts)
        }
    }

    /// True for a sentence that explains what others ask for: how a round is worked that they name is one.
    fn explains(&self) -> bool {
        let named = matches!(self.counts, Some(Counts::Shaping { .. }));
        named || remarks::explains(&self.sentence)
    }

    /// The letters of a step of the short rows.
    pub fn letters(&self) -> Option<String> {
        match &self.told {
            StepTold::Pairs(pairs) => Some(step_label(pairs.index)),
            _ => None,
        }
    }

    /// The sentence with its counts in square brackets.
    pub fn full(&self) -> String {
        match &self.counts {
            Some(counts) => format!("{} [{counts}]", self.sentence),
            None => self.sentence.clone(),
        }
    }
}

/// The counts after a step: the right-hand columns of a printed text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// After a section of the pick-up.
    PickUp {
        /// Stitches of the section.
        stitches: u32,
        /// Stitches on the needle so far.
        on_needle: u32,
    },
    /// After a step of the short rows.
    ShortRows {
        /// Rows of this step.
        rows: u32,
        /// Stitches worked so far, between the two turns.
        worked: u32,
        /// Stitches waiting before the base marker.
        waiting: Waiting,
    },
    /// After stitches of a section were put right.
    PutRight {
        /// Stitches of the section that wait then.
        waiting: u32,
        /// Stitches on the needle.
        on_needle: u32,
    },
    /// Where a cap that is under way goes on.
    SoFar {
        /// Stitches worked so far, between the two turns.
        worked: u32,
        /// Stitches waiting before the base marker.
        waiting: Waiting,
    },
    /// At the join.
    Join {
        /// Turn pairs of the whole cap.
        turn_pairs: u32,
        /// Stitches on the needle.
        stitches: u32,
        /// Base stitches before and after the start of the round, where there is a base.
        base: Option<(u32, u32)>,
    },
    /// What a shaping round does to the count.
    Shaping {
        /// Stitches fewer; more when negative.
        fewer: i32,
    },
    /// After some rounds.
    Rounds {
        /// Rounds since the join.
        rounds: u32,
        /// Stitches on the needle.
        stitches: u32,
    },
}

/// Stitches that wait on the flanks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Waiting {
    /// As many on each side.
    EachSide(u32),
    /// Back and front counted apart.
    BackAndFront {
        /// At the back.
        back: u32,
        /// At the front.
        front: u32,
    },
}

impl Waiting {
    /// So many more on each side.
    pub(crate) const fn and_each_side(self, more: u32) -> Self {
        match self {
            Self::EachSide(n) => Self::EachSide(n + more),
            Self::BackAndFront { back, front } => Self::BackAndFront {
                back: back + more,
                front: front + more,
            },
        }
    }
}

impl fmt::Display for Waiting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::EachSide(n) => write!(f, "{n} waiting each side"),
            Self::BackAndFront { back, front } => {
                write!(f, "{back} waiting at the back, {front} at the front")
            }
        }
    }
}

impl fmt::Display for Counts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::PickUp {
                stitches,
                on_needle,
            } => write!(f, "{}, {on_needle} on the needle", sts(*stitches)),
            Self::ShortRows {
                rows,
                worked,
                waiting,
            } => write!(f, "{rows} rows, {worked} worked, {waiting}"),
            Self::PutRight { waiting, on_needle } => {
                write!(f, "{}, {on_needle} on the needle", sts(*waiting))
            }
            Self::SoFar { worked, waiting } => write!(f, "{worked} worked, {waiting}"),
            Self::Join {
                turn_pairs,
                stitches,
                base,
            } => {
                let pairs = if *turn_pairs == 1 {
                    "turn pair"
                } else {
                    "turn pairs"
                };
                write!(f, "{turn_pairs} {pairs}, {stitches} sts")?;
                let Some((before, after)) = base else {
                    return Ok(());
                };
                let word = if *before == 1 { "base st" } else { "base sts" };
                write!(f, ", {before} {word} before the marker, {after} after it")
            }
            Self::Shaping { fewer } if *fewer < 0 => write!(f, "{} sts more", -fewer),
            Self::Shaping { fewer } => write!(f, "{fewer} sts fewer"),
            Self::Rounds {
                rounds: all,
                stitches,
            } => write!(f, "{}, {stitches} sts", rounds(*all)),
        }
    }
}

impl Instructions {
    /// The list JSON holds: headings as sentences of their own, counts in square brackets.
    pub fn sentences(&self) -> Vec<String> {
        let mut sentences = Vec::new();
        for section in &self.sections {
            sentences.push(section.heading.clone());
            sentences.extend(section.steps.iter().map(Step::full));
        }
        sentences
    }
}
