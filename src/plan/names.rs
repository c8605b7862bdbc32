//! What the sections of the pick-up are called, in the sentences that are written and read.

use super::order::Flank;

/// The name of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SectionName {
    /// Across the shoulder.
    Crown,
    /// Along the underarm.
    Base,
    /// The flank picked up right after the crown, where one text serves both sleeves.
    FirstFlank,
    /// The flank picked up last, where one text serves both sleeves.
    SecondFlank,
    /// The wearer's back.
    BackFlank,
    /// The wearer's front.
    FrontFlank,
}

impl SectionName {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Crown,
        Self::Base,
        Self::FirstFlank,
        Self::SecondFlank,
        Self::BackFlank,
        Self::FrontFlank,
    ];

    /// As it begins a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Crown => "Crown",
            Self::Base => "Base",
            Self::FirstFlank => "First flank",
            Self::SecondFlank => "Second flank",
            Self::BackFlank => "Back flank",
            Self::FrontFlank => "Front flank",
        }
    }

    /// Of a flank of one sleeve.
    pub const fn of(flank: Flank) -> Self {
        match flank {
            Flank::Back => Self::BackFlank,
            Flank::Front => Self::FrontFlank,
        }
    }
}
