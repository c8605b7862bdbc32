//! A plan in stitches and rows, and what it measures when it is knitted at given gauges.

use crate::fit::{Problem, measure};
use crate::measure::{Gauge, Length};
use crate::plan::{CapPlan, TubePlan};

/// What the pattern tells the needles: counts alone, whatever gauge they were worked out for.
#[derive(Clone, Debug)]
pub struct SleevePlan {
    /// The cap.
    pub cap: CapPlan,
    /// The sleeve below it, when the case gives its length.
    pub tube: Option<TubePlan>,
}

/// The gauges a sleeve is really knitted at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truth {
    /// The cap's, back and forth.
    pub cap: Gauge,
    /// The tube's, in rounds.
    pub tube: Gauge,
}

/// What comes off the needles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnittedSleeve {
    /// Upper arm in rounds: the tube's side of the join.
    pub upper_arm: Length,
    /// The cap's stitches back and forth, before any is made at the join: the cap's side of it.
    pub join_cap_side: Length,
    /// Height of the picked-up row.
    pub picked_up: Length,
    /// The cap's depth.
    pub depth: Length,
    /// The cap's area in square centimetres.
    pub area_cm2: f64,
    /// The cap's edge in per cent of the armhole's: 100 is edge for edge, above it is ease.
    pub armhole_share_pct: f64,
    /// Width at the cuff.
    pub cuff: Option<Length>,
    /// Length from underarm to cuff.
    pub tube_length: Option<Length>,
}

impl KnittedSleeve {
    /// The tube's side of the join minus the cap's.
    pub fn jump(&self) -> Length {
        self.upper_arm - self.join_cap_side
    }
}

/// Knits a plan for this armhole at these gauges.
///
/// Every measure is that of the fit ([`measure`]) at the true gauges. The armhole keeps the edge
/// the case gives it: it is knitted already.
pub(super) fn knit(problem: &Problem<'_>, plan: &SleevePlan, truth: Truth) -> KnittedSleeve {
    let at_truth = Problem {
        cap_gauge: truth.cap,
        tube_gauge: truth.tube,
        ..problem.clone()
    };
    let measures = measure(&at_truth, &plan.cap);
    let tube = plan.tube.as_ref();
    KnittedSleeve {
        upper_arm: measures.upper_arm,
        join_cap_side: truth.cap.width(plan.cap.cap_end()),
        picked_up: measures.picked_up,
        depth: measures.depth,
        area_cm2: measures.area_cm2,
        armhole_share_pct: 100.0 + measures.ease_pct(),
        cuff: tube.map(|tube| truth.tube.width(tube.cuff)),
        tube_length: tube.map(|tube| truth.tube.height(tube.rows_below_underarm())),
    }
}

/// What is followed from the counts to the sleeve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Upper arm in rounds.
    UpperArm,
    /// Depth of the cap.
    CapDepth,
    /// Area of the cap.
    CapArea,
    /// Edge of the cap in per cent of the armhole's.
    ArmholeShare,
    /// Width at the cuff.
    Cuff,
    /// Length from underarm to cuff.
    TubeLength,
}

/// How a quantity is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum QuantityKind {
    /// Centimetres.
    Length,
    /// Square centimetres.
    Area,
    /// Per cent.
    Share,
}

impl Quantity {
    /// All of them, in the order they are shown.
    pub const ALL: [Self; 6] = [
        Self::UpperArm,
        Self::CapDepth,
        Self::CapArea,
        Self::ArmholeShare,
        Self::Cuff,
        Self::TubeLength,
    ];

    /// Its place in [`Quantity::ALL`].
    pub const fn place(self) -> usize {
        self as usize
    }

    /// The name shown.
    pub const fn name(self) -> &'static str {
        match self {
            Self::UpperArm => "upper arm",
            Self::CapDepth => "cap depth",
            Self::CapArea => "cap area",
            Self::ArmholeShare => "armhole share",
            Self::Cuff => "cuff",
            Self::TubeLength => "underarm to cuff",
        }
    }

    /// How it is written.
    pub const fn kind(self) -> QuantityKind {
        match self {
            Self::UpperArm | Self::CapDepth | Self::Cuff | Self::TubeLength => QuantityKind::Length,
            Self::CapArea => QuantityKind::Area,
            Self::ArmholeShare => QuantityKind::Share,
        }
    }

    /// Its value in centimetres, square centimetres or per cent; none without a planned tube.
    pub fn of(self, knitted: &KnittedSleeve) -> Option<f64> {
        match self {
            Self::UpperArm => Some(knitted.upper_arm.to_cm()),
            Self::CapDepth => Some(knitted.depth.to_cm()),
            Self::CapArea => Some(knitted.area_cm2),
            Self::ArmholeShare => Some(knitted.armhole_share_pct),
            Self::Cuff => knitted.cuff.map(Length::to_cm),
            Self::TubeLength => knitted.tube_length.map(Length::to_cm),
        }
    }
}
