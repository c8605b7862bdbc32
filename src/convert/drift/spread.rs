//! From the error of the counts to the error of the sleeve: intervals, and what matters most.

use super::follow::{Follow, Input, QuantityValues};
use super::knitted::{Quantity, SleevePlan};
use super::simulate::simulate;
use super::sizing::{Sizing, SleevePart};
use crate::measure::{Interval, Length, Units};
use crate::swatch::statistics::{Uncertain, satterthwaite};
use crate::swatch::{Counted, Method};

/// The effect of one input on one measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// The measure when the true count is at the low end of the input's range.
    pub at_low: f64,
    /// The measure when it is at the high end.
    pub at_high: f64,
    /// The input's share of the variance; none for an assumption and for a single count.
    pub variance_share: Option<f64>,
}

impl Effect {
    /// From one end to the other, without a sign.
    pub fn swing(&self) -> f64 {
        (self.at_high - self.at_low).abs()
    }

    /// Half of it: how far the measure moves either way.
    pub fn either_way(&self) -> f64 {
        self.swing() / 2.0
    }
}

/// One measure of the sleeve with its 95 % interval, in the unit of [`Quantity::of`].
#[derive(Clone, Debug)]
pub struct QuantitySpread {
    /// The measure.
    pub quantity: Quantity,
    /// As planned.
    pub value: f64,
    /// Lower end by the delta method.
    pub low: f64,
    /// Upper end by the delta method.
    pub high: f64,
    /// The same interval from the simulation.
    pub simulated: Interval,
    /// One effect for each input, in the inputs' order; none for an input it does not depend on.
    pub effects: Vec<Option<Effect>>,
}

impl QuantitySpread {
    /// True when it has an interval: the error of every gauge it hangs on is known.
    pub fn is_counted(&self) -> bool {
        let mut effects = self.effects.iter().flatten().peekable();
        effects.peek().is_some() && effects.all(|effect| effect.variance_share.is_some())
    }

    /// True when it hangs on a gauge that was assumed or counted once.
    pub fn is_assumed(&self) -> bool {
        let mut effects = self.effects.iter().flatten();
        effects.any(|effect| effect.variance_share.is_none())
    }
}

/// The chance that the upper arm ends tighter than wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tighter {
    /// By anything at all: the rounding to whole stitches is part of it.
    pub at_all: f64,
    /// By more than [`Tighter::margin`].
    pub by_margin: f64,
    /// What a sleeve may be tighter without anyone minding: 1 cm, or half an inch.
    pub margin: Length,
}

/// One measure by the delta method.
#[derive(Clone, Debug)]
pub(super) struct Followed {
    pub(super) quantity: Quantity,
    pub(super) value: f64,
    pub(super) low: f64,
    pub(super) high: f64,
    /// Each input's part of the variance.
    variances: Vec<f64>,
}

/// Every measure with its 95 % interval by the delta method.
///
/// The variance of a measure is the sum of `(slope * standard error)^2` over the inputs, which are
/// independent; degrees of freedom by Welch and Satterthwaite. Good to first order, while the
/// errors are small against the gauge. Where every input has a reading error alone, an interval is
/// never wider than with every reading at its limit. A gauge that was assumed or counted once has no
/// error that could be followed, and what hangs on it has no interval.
pub(super) fn delta(follow: &Follow<'_>) -> Vec<Followed> {
    let inputs = follow.inputs;
    let Some(values) = follow.measures(&follow.means()) else {
        return Vec::new();
    };
    let slopes: Vec<QuantityValues> = (0..inputs.len())
        .map(|place| follow.slopes(place).unwrap_or_default())
        .collect();
    let followed = Quantity::ALL.into_iter().enumerate();
    let followed = followed.filter_map(|(at, quantity)| {
        let value = at_place(&values, at)?;
        let slopes: Vec<f64> = slopes
            .iter()
            .map(|slopes| at_place(slopes, at).unwrap_or(0.0))
            .collect();
        let parts = variances(inputs, &slopes);
        let (low, high) = interval(value, inputs, &slopes, &parts);
        Some(Followed {
            quantity,
            value,
            low,
            high,
            variances: parts.iter().map(|part| part.0).collect(),
        })
    });
    followed.collect()
}

fn at_place(measures: &QuantityValues, at: usize) -> Option<f64> {
    measures.get(at).copied().flatten()
}

/// Follows the error of the counts to every measure of a sleeve: by the delta method, by
/// simulation, and input by input over its range.
pub(super) fn spreads(
    sizing: &Sizing<'_>,
    plan: &SleevePlan,
    inputs: &[Input],
) -> Vec<QuantitySpread> {
    let follow = Follow::new(sizing, plan, inputs);
    let simulated = simulate(&follow);
    let ends: Vec<[QuantityValues; 2]> = inputs
        .iter()
        .enumerate()
        .map(|(place, input)| {
            let Interval { low, high } = input.range();
            [low, high].map(|gauge| follow.with(place, gauge).unwrap_or_default())
        })
        .collect();
    delta(&follow)
        .into_iter()
        .map(|followed| {
            let at = followed.quantity.place();
            let value = followed.value;
            let simulated = simulated.get(at).copied().flatten();
            QuantitySpread {
                effects: effects(&followed, inputs, &ends),
                quantity: followed.quantity,
                value,
                low: followed.low,
                high: followed.high,
                simulated: simulated.unwrap_or(Interval {
                    low: value,
                    high: value,
                }),
            }
        })
        .collect()
}

/// The effect of each input over its range on one measure.
fn effects(
    followed: &Followed,
    inputs: &[Input],
    ends: &[[QuantityValues; 2]],
) -> Vec<Option<Effect>> {
    let at = followed.quantity.place();
    let total: f64 = followed.variances.iter().sum();
    let parts = inputs.iter().zip(ends).zip(&followed.variances);
    let effects = parts.map(|((input, [low, high]), variance)| {
        let effect = Effect {
            at_low: at_place(low, at)?,
            at_high: at_place(high, at)?,
            variance_share: (input.is_known() && total > 0.0).then(|| variance / total),
        };
        (effect.swing() > followed.value.abs() * 1e-9).then_some(effect)
    });
    effects.collect()
}

/// Each input's part of a variance with its degrees of freedom; where no error is known there is none.
fn variances(inputs: &[Input], slopes: &[f64]) -> Vec<(f64, Option<f64>)> {
    let parts = inputs.iter().zip(slopes).map(|(input, slope)| {
        let error = if input.is_known() {
            slope * input.estimate.standard_error
        } else {
            0.0
        };
        (error * error, input.estimate.degrees_of_freedom)
    });
    parts.collect()
}

fn interval(
    value: f64,
    inputs: &[Input],
    slopes: &[f64],
    parts: &[(f64, Option<f64>)],
) -> (f64, f64) {
    let followed = Uncertain {
        value,
        standard_error: parts.iter().map(|part| part.0).sum::<f64>().sqrt(),
        degrees_of_freedom: satterthwaite(parts),
    };
    let Interval { low, high } = followed.interval();
    match all_at_their_limits(inputs, slopes) {
        Some(limit) => (low.max(value - limit), high.min(value + limit)),
        None => (low, high),
    }
}

/// How far a measure can be off when every count is misread as far as it can be; none where counts
/// scatter more than that, so that their error has no limit.
fn all_at_their_limits(inputs: &[Input], slopes: &[f64]) -> Option<f64> {
    let mut limit = 0.0;
    for (input, slope) in inputs.iter().zip(slopes) {
        let matters = input.is_known() && *slope != 0.0;
        if matters && input.estimate.method != Method::ReadingError {
            return None;
        }
        if matters {
            limit += slope.abs() * input.estimate.reading_error;
        }
    }
    Some(limit)
}

/// The chance that the upper arm ends tighter than wanted; none when the tube's gauge is assumed or was
/// counted once.
///
/// The width is stitches over gauge, so it is below a width exactly when the true gauge is above
/// stitches over that width: no linear step is needed.
pub(super) fn tighter(sizing: &Sizing<'_>, plan: &SleevePlan, inputs: &[Input]) -> Option<Tighter> {
    let input = inputs.iter().find(|input| {
        input.drives.includes(SleevePart::Tube) && input.counted == Counted::Stitches
    })?;
    if input.assumed {
        return None;
    }
    let wanted = sizing.wanted().upper_arm;
    let margin = match sizing.case.units {
        Units::Cm => Length::cm(1.0),
        Units::In => Length::inches(0.5),
    };
    let stitches = plan.cap.upper_arm().as_f64();
    let chance = |width: Length| input.estimate.chance_above(10.0 * stitches / width.to_cm());
    Some(Tighter {
        at_all: chance(wanted)?,
        by_margin: chance(wanted - margin)?,
        margin,
    })
}
