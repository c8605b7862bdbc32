//! What a step says, as data beside its words: sizes of a set are held against one another by it.

use super::amounts::{ordinal_round, pairs, sts, times};
use super::stretch::RateStretch;
use crate::plan::{Move, step_label};

/// What a step says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum StepTold {
    /// Words that no size says otherwise but in their numbers.
    #[default]
    Words,
    /// A section of the pick-up.
    PickUp(PickUp),
    /// A lettered step of the short rows.
    Pairs(Pairs),
    /// Shaping rounds of the tube.
    Shaping(Shaping),
    /// A sentence of a text for several sizes.
    OfSet(Whom),
    /// A first round that is told for both corners at once; this is the same told corner by corner.
    EachCorner {
        /// With its full stop.
        corner_by_corner: String,
    },
}

/// The sizes that a sentence is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Whom {
    All,
    Some,
}

/// A sentence of the pick-up: words and stretches by turns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct PickUp {
    pub(crate) pieces: Vec<ToldPiece>,
}

/// Words, or stitches over rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum ToldPiece {
    /// As they stand.
    Words(String),
    /// Stitches picked up at rates.
    Along(RateStretch),
    /// Stitches picked up in the shoulder seam itself.
    Seam(SeamStitch),
}

/// The odd stitch of a crown; no words where there is none, unless another size has one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct SeamStitch {
    pub(crate) stitches: u32,
    pub(crate) some_size_has: bool,
}

impl SeamStitch {
    fn words(self) -> String {
        if self.stitches == 0 && !self.some_size_has {
            return String::new();
        }
        format!("; {} in the shoulder seam itself", sts(self.stitches))
    }
}

impl PickUp {
    pub(crate) fn words(mut self, words: impl Into<String>) -> Self {
        self.pieces.push(ToldPiece::Words(words.into()));
        self
    }

    pub(crate) fn along(mut self, stretch: RateStretch) -> Self {
        self.pieces.push(ToldPiece::Along(stretch));
        self
    }

    pub(crate) fn seam(mut self, stitches: u32) -> Self {
        self.pieces.push(ToldPiece::Seam(SeamStitch {
            stitches,
            some_size_has: false,
        }));
        self
    }

    pub(crate) fn sentence(&self) -> String {
        let said = self.pieces.iter().map(|piece| match piece {
            ToldPiece::Words(words) => words.clone(),
            ToldPiece::Along(stretch) => stretch.to_string(),
            ToldPiece::Seam(seam) => seam.words(),
        });
        said.collect()
    }
}

/// `C. 5 pairs: work the wrapped st and 1 more, w&t.`
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pairs {
    /// Which step it is, counted from 0.
    pub(crate) index: u32,
    /// How many pairs.
    pub(crate) times: u32,
    /// What is done at each pair.
    pub(crate) action: String,
    /// The move of both flanks, where all pairs do it and turn alike.
    pub(crate) each: Option<Move>,
    /// What is said of the last pair.
    pub(crate) ending: &'static str,
}

impl Pairs {
    pub(crate) fn sentence(&self) -> String {
        let (label, ending) = (step_label(self.index), self.ending);
        format!("{label}. {}: {}{ending}.", pairs(self.times), self.action)
    }

    /// All but the last pair, and the last one.
    pub(crate) fn last_apart(&self) -> Option<[Self; 2]> {
        self.each?;
        let before = Self {
            times: self.times.checked_sub(1).filter(|n| *n > 0)?,
            ending: "",
            ..self.clone()
        };
        let last = Self {
            times: 1,
            ..self.clone()
        };
        Some([before, last])
    }
}

/// Whether a shaping round takes stitches away or makes them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RoundShape {
    Narrower,
    Wider,
}

impl RoundShape {
    /// The short name of its round.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Narrower => "dec",
            Self::Wider => "inc",
        }
    }

    /// So many stitches after so many shaping rounds.
    pub(crate) const fn after(self, stitches: u32, rounds: u32) -> u32 {
        match self {
            Self::Narrower => stitches.saturating_sub(2 * rounds),
            Self::Wider => stitches + 2 * rounds,
        }
    }

    /// So many stitches before so many shaping rounds.
    pub(crate) const fn before(self, stitches: u32, rounds: u32) -> u32 {
        match self {
            Self::Narrower => Self::Wider.after(stitches, rounds),
            Self::Wider => Self::Narrower.after(stitches, rounds),
        }
    }
}

/// `Work the dec round on every 9th round, 12 times.`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shaping {
    pub(crate) shape: RoundShape,
    /// Rounds from one to the next.
    pub(crate) every: u32,
    pub(crate) times: u32,
}

impl Shaping {
    pub(crate) fn sentence(self) -> String {
        if (self.every, self.times) == (1, 1) {
            return format!("Work the {} round in the next round.", self.shape.name());
        }
        format!(
            "Work the {} round on every {}, {}.",
            self.shape.name(),
            ordinal_round(self.every),
            times(self.times)
        )
    }

    /// All but the last time, and the last time.
    pub(crate) fn last_apart(self) -> Option<[Self; 2]> {
        let times = self.times.checked_sub(1).filter(|n| *n > 0)?;
        Some([Self { times, ..self }, Self { times: 1, ..self }])
    }
}
