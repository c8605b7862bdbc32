//! What a move's stretch of armhole costs at every class of rate.

use super::super::super::objective::WEIGHTS;
use super::super::super::pickup::MOST_SECTIONS;
use super::super::super::problem::FREE_GAP;
use super::super::frame::{CostedMove, Frame};
use super::super::sections::PickedFlank;

/// Classes of rate, in equal steps from one row a stitch to the gap limit. Measured: with sixteen the roots are better
/// and the proofs no shorter, since beginnings close the gap.
const CLASSES: usize = 6;

/// Parts of the armhole: straight, and the slopes below.
pub(super) const PARTS: usize = 2;
pub(super) const STRAIGHT: usize = 0;
pub(super) const SLOPES: usize = 1;

/// One flank in shares of its own length.
#[derive(Clone, Copy, Debug)]
struct Shares {
    /// What the squares of its edges weigh.
    weight: f64,
    /// Rows of the straight part that would make the whole.
    rows: f64,
    /// Lengths of the shortest and the longest place of the slopes, in rows of the straight part.
    slopes: Option<(f64, f64)>,
    /// What a row beyond the free gap costs, weighed.
    hole: f64,
    /// What one more section costs, weighed.
    section: f64,
}

/// The costs of one frame by kind of move, part of the armhole and class of rate.
#[derive(Clone, Debug)]
pub(super) struct RateTable {
    shares: Vec<Shares>,
    /// Share of the flank that a stitch takes, at the least and at the most.
    classes: Vec<(f64, f64)>,
    /// What a part of the flank costs, by its share: the multiplier of the sum. That of a cap that is stretched alike
    /// everywhere; better ones were sought and did not pay.
    multiplier: f64,
    /// By kind: on the straight part, over its end, on the slopes; then by class.
    steps: Vec<[Vec<f64>; 3]>,
    /// What one more section costs at the least.
    pub(super) section: f64,
    /// What every cap of the frame costs for the length of its armhole.
    pub(super) always: f64,
    /// Stitches taken in before the move at which the straight part may end: from so many to so many.
    end_of_straight: (u32, u32),
    most_take: u32,
}

impl RateTable {
    /// The rates of a frame; none when a flank has no places.
    pub(super) fn of(
        frame: &Frame<'_>,
        flanks: &[PickedFlank<'_>],
        runs: Option<usize>,
    ) -> Option<Self> {
        let shares: Option<Vec<Shares>> = flanks.iter().map(|flank| Shares::of(flank)).collect();
        let shares = shares?;
        let least =
            |of: &dyn Fn(&Shares) -> f64| shares.iter().map(of).fold(f64::INFINITY, f64::min);
        let lowest = least(&|s| 1.0 / s.rows);
        let highest = -least(&|s| -frame.gap_limit / s.rows);
        let count = classes(frame, runs);
        let at = |i: usize| lowest + (highest - lowest) * i as f64 / count as f64;
        let classes = (0..count).map(|i| (at(i), at(i + 1))).collect();
        let section = weight(&shares) * least(&|s| s.section);
        let ends = flanks.iter().map(|flank| flank.straight_ends(frame));
        let end_of_straight = ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
        let takes = frame.kinds.iter().map(|kind| kind.moved.take);
        let rates = Self {
            shares,
            classes,
            multiplier: frame.wanted_edge_cm() * frame.wanted_edge_cm(),
            steps: Vec::new(),
            section,
            always: 0.0,
            end_of_straight,
            most_take: takes.max().unwrap_or(1),
        };
        Some(rates.priced(frame))
    }

    pub(super) const fn classes(&self) -> usize {
        self.classes.len()
    }

    /// True when a flank may end in this part.
    pub(super) fn may_end(&self, part: usize) -> bool {
        part == SLOPES || self.shares.iter().any(|s| s.slopes.is_none())
    }

    /// True when a section may begin at this move because the straight part ends there.
    pub(super) fn may_end_straight(&self, net: usize, drops: usize) -> bool {
        let net = u32::try_from(net).unwrap_or(u32::MAX);
        let drops = u32::try_from(drops).unwrap_or(u32::MAX);
        net.saturating_add(drops) >= self.end_of_straight.0
            && net < self.end_of_straight.1.saturating_add(self.most_take)
    }

    /// The costs of a kind of move on the straight part, over its end and on the slopes, by class.
    pub(super) fn steps(&self, kind: usize) -> &[Vec<f64>; 3] {
        &self.steps[kind]
    }

    /// Works the costs out.
    fn priced(mut self, frame: &Frame<'_>) -> Self {
        let weight = weight(&self.shares);
        self.always = frame.wanted_always() - weight * self.multiplier;
        let steps = |kind: &CostedMove| {
            let take = f64::from(kind.moved.take);
            let edge = frame.wanted_each(kind.edge_cm);
            ArmholePart::ALL.map(|step| {
                let classes = self.classes.iter();
                let cost = |class: &(f64, f64)| self.cost(step, *class, take, kind.edge_cm);
                classes.map(|class| weight * cost(class) - edge).collect()
            })
        };
        self.steps = frame.kinds.iter().map(steps).collect();
        self
    }

    /// The least of `e^2 / x + m x` and of what holes cost, over the rates of a class; infinite on slopes where no flank
    /// has any.
    fn cost(&self, step: ArmholePart, (low, high): (f64, f64), take: f64, edge_cm: f64) -> f64 {
        let m = self.multiplier;
        let range = match step {
            ArmholePart::Straight => Some((1.0, 1.0)),
            ArmholePart::Slopes => self.slopes(),
            ArmholePart::Across => self.slopes().map(|(a, b)| (a.min(1.0), b.max(1.0))),
        };
        let Some((shortest, longest)) = range else {
            return f64::INFINITY;
        };
        let best = edge_cm / m.sqrt();
        let at = |x: f64| edge_cm * edge_cm / x + m * x;
        if step == ArmholePart::Straight {
            // Convex: at an end, at its own best, or where a hole begins or is worth its price.
            let free = self.free();
            let priced = edge_cm / (m + self.slope_of_holes()).sqrt();
            let tries = [low, high, best / take, free, priced / take];
            let cost = |rate: f64| {
                let rate = rate.clamp(low, high);
                at(take * rate) + take * self.holes(rate)
            };
            return tries.into_iter().map(cost).fold(f64::INFINITY, f64::min);
        }
        let x = best.clamp(take * low * shortest, take * high * longest);
        at(x) + take * self.holes(low)
    }

    /// The slopes' places in rows of the straight part; none where no flank has slopes.
    fn slopes(&self) -> Option<(f64, f64)> {
        let each = self.shares.iter().filter_map(|s| s.slopes);
        each.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The highest rate that no flank has to pay for.
    fn free(&self) -> f64 {
        let rates = self.shares.iter().map(|s| FREE_GAP / s.rows);
        rates.fold(0.0, f64::max)
    }

    /// What holes at this rate cost a stitch at the least.
    fn holes(&self, rate: f64) -> f64 {
        let of = |s: &Shares| s.hole * (rate * s.rows - FREE_GAP).max(0.0);
        self.shares.iter().map(of).fold(f64::INFINITY, f64::min)
    }

    fn slope_of_holes(&self) -> f64 {
        let of = |s: &Shares| s.hole * s.rows;
        self.shares.iter().map(of).fold(f64::INFINITY, f64::min)
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum ArmholePart {
    Straight,
    Across,
    Slopes,
}

impl ArmholePart {
    const ALL: [Self; 3] = [Self::Straight, Self::Across, Self::Slopes];
}

impl Shares {
    fn of(flank: &PickedFlank<'_>) -> Option<Self> {
        let lengths = flank.lengths();
        let weight = WEIGHTS.strain / lengths.all_cm / lengths.whole_cm;
        let rows = lengths.whole_cm / lengths.straight_cm;
        let usable = rows.is_finite() && rows > 0.0 && weight.is_finite();
        let in_rows = |(a, b): (f64, f64)| (a / lengths.straight_cm, b / lengths.straight_cm);
        usable.then(|| Self {
            weight,
            rows,
            slopes: lengths.slopes_cm.map(in_rows),
            hole: WEIGHTS.holes / lengths.sites * lengths.share / weight,
            section: WEIGHTS.section * lengths.share / weight,
        })
    }
}

/// What the squares of both flanks' edges weigh.
fn weight(shares: &[Shares]) -> f64 {
    shares.iter().map(|s| s.weight).sum()
}

/// Classes that keep a table within its size.
fn classes(frame: &Frame<'_>, runs: Option<usize>) -> usize {
    let states = frame.pairs * (frame.most_net() + 1) * frame.drop_states();
    let each =
        states * (frame.kinds.len() + 1) * runs.map_or(1, |runs| runs + 1) * MOST_SECTIONS * PARTS;
    (MOST_ENTRIES / each.max(1)).clamp(2, CLASSES)
}

/// Entries of a table, before what is too narrow or too wide is left out: 8 bytes each.
const MOST_ENTRIES: usize = 6_000_000;
