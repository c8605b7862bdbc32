//! What is asked of one size: an armhole, wishes, and an old cap where there is one.

use super::least::Reference;
use super::shape::{Ends, Shape};
use crate::measure::{Gauge, Length, Rows, Side, Stitches, Units, nearest_whole};
use crate::outline::{Cap, MOST_EASE_IN_ALL, Seam};
use crate::pattern::Ledger;

/// What may not change when a wish moves the outline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Keep {
    /// The slopes and where they turn: the old outline is stretched.
    #[default]
    Shape,
    /// The depth: the outline is bent.
    Depth,
    /// The area: stretched and bent.
    Area,
}

impl Keep {
    /// The word of the case.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shape => "shape",
            Self::Depth => "depth",
            Self::Area => "area",
        }
    }
}

/// Ease along the armhole: the cap's edge less the armhole's, on each side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeEase {
    /// A length on each side.
    Length(Length),
    /// A share of the armhole's edge, in per cent.
    Percent(f64),
}

impl EdgeEase {
    /// The cap's edge for an armhole's.
    pub fn on(self, armhole: Length) -> Length {
        match self {
            Self::Length(length) => armhole + length,
            Self::Percent(pct) => armhole * (1.0 + pct / 100.0),
        }
    }
}

/// The wishes of one size; what is not wished stays as it is, or follows the usual rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OutlineWishes {
    /// Finished upper arm.
    pub upper_arm: Option<Length>,
    /// Ease along the armhole.
    pub ease: Option<EdgeEase>,
    /// Width of the top.
    pub top: Option<Length>,
    /// Depth of the cap; free when not given.
    pub depth: Option<Length>,
    /// What may not change.
    pub keep: Keep,
}

/// The armhole and its two sides, net of seams.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Front edge above the underarm, half of what waits at the shoulder included.
    pub front: Length,
    /// Back edge, the same.
    pub back: Length,
    /// Height, the mean of both sides, half the width of what waits at the shoulder included.
    pub depth: Length,
    /// Width bound off at one side's underarm, the mean of both.
    pub underarm: Length,
    /// Height of a row of the body.
    pub row: Length,
}

impl Opening {
    /// The mean of both edges, which one symmetric outline comes closest to.
    pub fn edge(&self) -> Length {
        (self.front + self.back) / 2.0
    }

    /// The same armhole so many rows deeper (or shallower).
    #[must_use]
    pub fn deeper(&self, rows: f64) -> Self {
        let more = self.row * rows;
        Self {
            front: self.front + more,
            back: self.back + more,
            depth: self.depth + more,
            ..*self
        }
    }
}

/// An old cap.
#[derive(Clone, Copy, Debug)]
pub struct OldCap<'a> {
    /// Its outline.
    pub cap: &'a Cap,
    /// Its rows.
    pub ledger: &'a Ledger,
}

/// Everything the outline depends on.
#[derive(Clone, Debug)]
pub struct OutlineProblem<'a> {
    /// Units for the messages.
    pub units: Units,
    /// The old cap, when there is one.
    pub old: Option<OldCap<'a>>,
    /// The armhole.
    pub opening: Opening,
    /// Gauge of the flat cap: the pattern's.
    pub gauge: Gauge,
    /// What the seams take.
    pub seam: Seam,
    /// The side of the first row.
    pub first_row: Side,
    /// The wishes.
    pub wishes: OutlineWishes,
    /// Rows of the cap, when the size set decides.
    pub rows: Option<Rows>,
}

/// A cap edge no shorter than this share, or this length, is left as it is when no ease is wished
/// (the limits of `cap-edge-short`).
const SHORT_SHARE: f64 = 0.02;
const SHORT_LEAST: Length = Length::cm(0.3);

/// Underarm bind-offs of sleeve and body that differ by less stay as they are.
const UNDERARM_GAP: Length = Length::cm(1.5);

/// The top of an adult's cap (30-day sweater course, day 24), and the share of the upper arm it
/// takes between these (common practice, no source).
const TOP: (Length, Length) = (Length::inches(2.0), Length::inches(3.0));
const TOP_SHARE: f64 = 0.2;

/// Arms wider than this are taken for an adult's.
const ADULT_ARM: Length = Length::cm(24.0);

/// A cap lies between these shares of its armhole's depth, or it is no set-in cap (common practice,
/// no source; a check already warns outside 0.5 to 0.8).
pub const DEPTH_SHARE: (f64, f64) = (0.2, 1.0);

/// The fewest row pairs of a cap.
const LEAST_PAIRS: u32 = 3;

/// Whole stitches of an outline, net of seams.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CapCounts {
    /// Upper arm.
    pub upper_arm: Stitches,
    /// Underarm bind-off at each edge.
    pub underarm: Stitches,
    /// The final bind-off.
    pub top: Stitches,
}

impl CapCounts {
    /// Stitches above the underarm bind-offs.
    pub fn below(self) -> Stitches {
        self.upper_arm.saturating_sub(self.underarm + self.underarm)
    }
}

impl OutlineProblem<'_> {
    /// The upper arm wanted; none without a wish and without an old cap.
    pub fn upper_arm(&self) -> Length {
        let old = self.old.map_or(Length::ZERO, |old| old.cap.upper_arm());
        self.wishes.upper_arm.unwrap_or(old)
    }

    /// The width of the top wanted.
    pub fn top(&self) -> Length {
        self.wishes.top.unwrap_or_else(|| match self.old {
            Some(old) => old.cap.top(),
            None => usual_top(self.upper_arm()),
        })
    }

    /// The cap's edge wanted on each side: the mean of both armhole edges with the ease. Without a
    /// wish the old cap's own ease, as far as it is usual.
    pub fn edge(&self) -> Length {
        let armhole = self.opening.edge();
        if let Some(ease) = self.wishes.ease {
            return ease.on(armhole);
        }
        let Some(old) = self.old else { return armhole };
        let edge = old.cap.edge_above_underarm();
        // One side's share of what the whole armhole takes.
        let most = MOST_EASE_IN_ALL / 2.0;
        let short = (armhole * SHORT_SHARE).to_cm().max(SHORT_LEAST.to_cm());
        if edge.to_cm() < armhole.to_cm() - short {
            armhole
        } else if edge > armhole + most {
            armhole + most
        } else {
            edge
        }
    }

    /// The ease that comes to on one side's edge.
    pub fn edge_on(&self, armhole: Length) -> Length {
        match self.wishes.ease {
            Some(ease) => ease.on(armhole),
            None => armhole + (self.edge() - self.opening.edge()),
        }
    }

    /// Whole stitches: the upper arm to the nearest, the top to the nearest that can be reached by
    /// taking one at each edge.
    pub fn counts(&self) -> CapCounts {
        self.counts_for(self.upper_arm())
    }

    /// The same for another upper arm.
    pub fn counts_for(&self, upper_arm: Length) -> CapCounts {
        let s = self.gauge.stitch_width();
        let nearest = |length: Length| Stitches(nearest_whole(length / s));
        let upper_arm = nearest(upper_arm);
        let underarm = match self.old {
            Some(old) if (old.cap.underarm() - self.opening.underarm).abs() <= UNDERARM_GAP => {
                nearest(old.cap.underarm())
            }
            _ => nearest(self.opening.underarm),
        };
        let wanted = self.top() / s;
        let mut top = nearest_whole(wanted).max(1);
        let below = upper_arm.count() + 2 * underarm.count();
        if (below + top) % 2 == 1 {
            top = if f64::from(top) > wanted && top > 1 {
                top - 1
            } else {
                top + 1
            };
        }
        CapCounts {
            upper_arm,
            underarm,
            top: Stitches(top),
        }
    }

    /// The ends of the outline in centimetres.
    pub fn ends(&self, counts: CapCounts) -> Ends {
        Ends {
            top: self.gauge.width(counts.top) / 2.0,
            below: self.gauge.width(counts.below()) / 2.0,
            row: self.gauge.row_height(),
        }
    }

    /// The shape it starts from.
    pub fn shape(&self) -> Shape {
        match self.old {
            Some(old) => Shape::of(old.cap),
            None => Shape::Cut {
                upper_arm: self.upper_arm(),
            },
        }
    }

    /// The old area on one side, when it is to be kept.
    pub fn half_area_cm2(&self) -> Option<f64> {
        let old = self.old.filter(|_| self.wishes.keep == Keep::Area)?;
        Some(old.cap.area_cm2() / 2.0)
    }

    /// Numbers of row pairs to choose from.
    pub fn pairs(&self) -> std::ops::RangeInclusive<u32> {
        let pair = self.gauge.row_height() * 2.0;
        if let Some(depth) = self.depth() {
            let pairs = nearest_whole(depth / pair).max(LEAST_PAIRS);
            return pairs..=pairs;
        }
        let of = |share: f64| nearest_whole(self.opening.depth * share / pair).max(LEAST_PAIRS);
        of(DEPTH_SHARE.0)..=of(DEPTH_SHARE.1)
    }

    /// The depth, when it is given or kept.
    pub fn depth(&self) -> Option<Length> {
        if let Some(rows) = self.rows {
            return Some(self.gauge.height(rows));
        }
        let kept = self.old.filter(|_| self.wishes.keep == Keep::Depth);
        let kept = kept.map(|old| old.cap.depth());
        self.wishes.depth.or(kept)
    }

    /// What the outline starts from at so many row pairs.
    pub fn reference(&self, counts: CapCounts, pairs: u32) -> Reference {
        self.shape().between(self.ends(counts), pairs)
    }
}

/// The usual top of a new cap.
pub fn usual_top(upper_arm: Length) -> Length {
    let share = upper_arm * TOP_SHARE;
    if upper_arm <= ADULT_ARM {
        share
    } else {
        Length::cm(share.to_cm().clamp(TOP.0.to_cm(), TOP.1.to_cm()))
    }
}
