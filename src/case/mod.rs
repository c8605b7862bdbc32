//! The case file: TOML -> a valid case. Units turn to centimetres here and nowhere else.
//!
//! Reading never fails: [`read_case`] returns a case when everything needed is there, and all
//! that is wrong in any event.

mod adapt;
mod armhole;
mod codes;
mod edit;
mod keys;
mod read;
mod readings;
mod sleeve;
mod so_far;
mod stitch;
mod stripes;
mod style;
mod swatch;
mod table;
mod words;
mod write;

pub use adapt::{Adapt, Amount, ArmWish, DepthRule, DepthWish, KeepWish, SetWish, TopWish};
pub use armhole::{Armhole, Counted, Shoulder, Taped};
pub use codes::CODES;
pub(crate) use codes::UNUSABLE_CASE;
pub use edit::{EditError, case_text, set_key};
pub use keys::{Key, Kind, SECTIONS, Section, find_key, section};
pub use read::read_case;
pub use readings::{Readings, Take};
pub use so_far::{CapSoFar, Mend, PickedUp, SoFar, TubeSoFar};
pub use style::{BodyMade, Style, Terms, Turn, TurnDecrease, Underarm};
pub use swatch::{Swatch, SwatchCount};
pub use write::{form_of, key_at, split_labels, write_case};

use crate::measure::{Length, Rows, Side, Stitches, Units};
use crate::plan::{CuffStitch, Move, Repeat};
use crate::stitch::{Pattern, Striped};

/// What a case of one size calls it.
pub const ONE_SIZE: &str = "one size";

/// A valid case: every list has one entry a size, every length is in centimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Title.
    pub title: String,
    /// Units it is written in and its results are shown in.
    pub units: Units,
    /// Labels of the sizes; at least one.
    pub sizes: Vec<String>,
    /// The swatches.
    pub gauge: Gauges,
    /// The sleeve.
    pub sleeve: Sleeve,
    /// The front armhole.
    pub front: Armhole,
    /// The back armhole; the same where one table stands for both.
    pub back: Armhole,
    /// Stitches waiting at the shoulder, one entry a size.
    pub shoulder: Option<Vec<Shoulder>>,
    /// Whom it is for.
    pub body: Option<Body>,
    /// Wishes for another outline.
    pub adapt: Option<Adapt>,
    /// The stitch pattern, where the case tells it.
    pub stitch: Option<Pattern>,
    /// Stripes of body and sleeve.
    pub stripes: Option<Striped>,
    /// What is on the needles already.
    pub so_far: Option<SoFar>,
    /// Wishes for the fit.
    pub fit: FitWishes,
    /// How the pattern is worded.
    pub style: Style,
    /// Which reading to take of wordings that have two.
    pub readings: Readings,
}

impl Case {
    /// The case for one text of all sizes: with the same runs where a list serves all, unless it says otherwise.
    #[must_use]
    pub fn for_one_text(mut self) -> Self {
        if self.fit.same_runs == SameRuns::Unsaid {
            self.fit.same_runs = SameRuns::WherePossible;
        }
        self
    }

    /// How the pattern of one size is worded: with its stitches that lie in the seam.
    pub fn style_of(&self, index: usize) -> Style {
        let in_seam = |armhole: &Armhole| match armhole {
            Armhole::Counts { counted, .. }
            | Armhole::Lines {
                counted: Some(counted),
                ..
            } => {
                let counted = counted.get(index).filter(|one| one.bound_off.is_some());
                counted.map_or(Stitches::ZERO, |counted| counted.seam_stitches)
            }
            Armhole::Lines { .. } | Armhole::Measures { .. } => Stitches::ZERO,
        };
        Style {
            in_seam: in_seam(&self.front) + in_seam(&self.back),
            in_pattern: self.stitch.is_some(),
            ..self.style
        }
    }

    /// The pattern's own lines of this name, e.g. `sleeve.cap`, `armhole.back.lines`.
    pub fn lines(&self, name: &str) -> Option<&str> {
        let armhole = match name {
            "sleeve.cap" => return Some(&self.sleeve.cap),
            "armhole.back.lines" => &self.back,
            _ => &self.front,
        };
        match armhole {
            Armhole::Lines { lines, .. } => Some(lines),
            Armhole::Measures { .. } | Armhole::Counts { .. } => None,
        }
    }
}

/// `[gauge]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauges {
    /// The old pattern's gauge.
    pub pattern: Swatch,
    /// The knitter's own swatch, back and forth.
    pub flat: Option<Swatch>,
    /// The knitter's own swatch, in the round.
    pub round: Option<Swatch>,
    /// The body's gauge where its stitch differs.
    pub body: Option<Swatch>,
    /// Which swatch the cap is worked at, when said.
    pub cap: Option<CapGauge>,
}

/// `gauge.cap`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CapGauge {
    /// The flat swatch.
    Flat,
    /// The swatch in the round.
    Round,
}

/// `[sleeve]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Sleeve {
    /// Stitches before the cap; empty in a case without an old cap.
    pub stitches: Vec<Stitches>,
    /// The pattern's own lines; empty in a case without an old cap.
    pub cap: String,
    /// The side of the first row of the lines.
    pub first_row: Side,
    /// Stitches lost to the seam at each edge.
    pub seam_stitches: Stitches,
    /// Rows lost to the seam at the top.
    pub seam_rows: Rows,
    /// The stitch pattern's repeat of each size, where the case names one.
    pub repeat: Option<Vec<Repeat>>,
    /// Stitches at the cuff.
    pub cuff_stitches: Option<Vec<Stitches>>,
    /// Length from underarm to cuff, or to the end of the cuff where its length is given.
    pub length: Option<Vec<Length>>,
    /// Length of a cuff that `length` includes and that is worked otherwise.
    pub cuff_length: Option<Vec<Length>>,
    /// How the cuff is worked; left out, the pattern ends where it begins.
    pub cuff: Option<Cuff>,
}

/// `cuff` of `[sleeve]`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cuff {
    /// Its stitch.
    pub stitch: CuffStitch,
    /// Its stitches are a multiple of so many.
    pub multiple: u32,
}

impl Sleeve {
    /// True when the case has the lines of an old cap; without them `[adapt]` says what to draft.
    pub fn has_old_cap(&self) -> bool {
        !self.stitches.is_empty()
    }

    /// The repeat asked for in this size; every count where the case names none.
    pub fn repeat(&self, index: usize) -> Repeat {
        self.asked_repeat(index).unwrap_or(Repeat::ANY)
    }

    /// The same, where the case names one.
    pub fn asked_repeat(&self, index: usize) -> Option<Repeat> {
        self.repeat.as_ref()?.get(index).copied()
    }
}

/// `[body]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Table of body measurements.
    pub table: Option<String>,
    /// What the person is known by, one entry a size.
    pub keys: Vec<BodyKey>,
    /// Bust or chest beside a measured arm, one entry a size.
    pub busts: Option<Vec<Length>>,
    /// Ease chosen at the upper arm, finished less body, one entry a size.
    pub ease: Option<Vec<Length>>,
}

/// What a person is known by.
#[derive(Clone, Debug, PartialEq)]
pub enum BodyKey {
    /// The size label of the table.
    Size(String),
    /// Bust or chest.
    Bust(Length),
    /// The arm itself, measured.
    UpperArm(Length),
}

/// Whether all sizes work one list of runs, each with its own numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SameRuns {
    /// The case does not say: each size has a cap of its own, but for one text of all sizes.
    #[default]
    Unsaid,
    /// Each size has a cap of its own.
    No,
    /// Where a list serves all sizes.
    WherePossible,
    /// All of them, or none is converted.
    Yes,
}

/// `[fit]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FitWishes {
    /// Moves allowed, as (take, drop).
    pub moves: Option<Vec<Move>>,
    /// Number of runs.
    pub runs: Option<usize>,
    /// Which of the caps offered: 1 is the best.
    pub choice: usize,
    /// The same runs in all sizes.
    pub same_runs: SameRuns,
    /// Rows between two pick-ups at the most.
    pub gap_limit: Option<f64>,
    /// All ease near the shoulder.
    pub ease_at_shoulder: bool,
    /// Stitches by which the base may differ from the underarm bind-off.
    pub base_tolerance: Stitches,
    /// Rows that the pick-up counts as fabric.
    pub picked_up_row: Option<Rows>,
    /// No stitch is made or decreased at the join.
    pub plain_join: bool,
}
