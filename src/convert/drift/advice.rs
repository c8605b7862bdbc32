//! What was assumed, and which swatch to knit or count next.

use super::follow::Input;
use super::sizing::SleevePart;
use super::spread::QuantitySpread;
use crate::convert::{GaugeSource, GaugesUsed};
use crate::measure::{Gauge, Length, Rows, Stitches, Units, whole};

/// A gauge that stands in for a swatch the case does not give.
#[derive(Clone, Copy, Debug)]
pub struct Assumption {
    /// The part it was assumed for.
    pub part: SleevePart,
    /// Whose gauge was taken.
    pub taken: GaugeSource,
    /// The gauge taken.
    pub gauge: Gauge,
}

/// Why a swatch comes next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// There is none of its kind.
    Missing,
    /// Its counts leave the sleeve the least sure.
    LeastSure,
}

/// The one swatch to knit, or to count again.
#[derive(Clone, Copy, Debug)]
pub struct NextSwatch {
    /// Flat or round.
    pub swatch: GaugeSource,
    /// Why this one.
    pub why: Why,
    /// Stitches to cast on, with a stitch of selvedge at each edge.
    pub cast_on: Stitches,
    /// About how wide that comes out.
    pub width: Length,
    /// Rows (rounds) to knit before the middle can be counted.
    pub rows: Rows,
    /// Length of each count.
    pub count_over: Length,
    /// How many places to count in.
    pub places: usize,
}

/// A swatch is half as wide again as the length counted, so that the edges stay out of the count.
///
/// Published advice: 4 in and a quarter more, or 6 to 8 in square, counted over 4 in in the middle.
const WIDTH_OVER_COUNT: f64 = 1.5;

/// Places to count in: the third one brings Student's t from 12.7 standard errors down to 4.3.
const PLACES: usize = 3;

pub(super) fn assumptions(gauge: &GaugesUsed) -> Vec<Assumption> {
    let parts = [
        (SleevePart::Tube, gauge.tube_source, gauge.tube),
        (SleevePart::Cap, gauge.cap_source, gauge.cap),
    ];
    let assumed = parts.into_iter().filter(|(part, ..)| gauge.assumed(*part));
    assumed
        .map(|(part, taken, gauge)| Assumption { part, taken, gauge })
        .collect()
}

/// The missing swatch, the round one first because the upper arm hangs on it; or else the one
/// whose counts move a measure most, in per cent of the measure.
pub(super) fn next_swatch(
    gauge: &GaugesUsed,
    inputs: &[Input],
    spreads: &[QuantitySpread],
    units: Units,
) -> NextSwatch {
    let (swatch, why) = if gauge.assumed(SleevePart::Tube) {
        (GaugeSource::Round, Why::Missing)
    } else if gauge.assumed(SleevePart::Cap) {
        (GaugeSource::Flat, Why::Missing)
    } else {
        (least_sure(inputs, spreads), Why::LeastSure)
    };
    let known = match swatch {
        GaugeSource::Flat => gauge.cap,
        GaugeSource::Round | GaugeSource::Pattern => gauge.tube,
    };
    let count_over = units.swatch_length();
    let width = count_over * WIDTH_OVER_COUNT;
    let stitches = whole((width / known.stitch_width()).ceil());
    let rows = whole((width / known.row_height()).ceil());
    NextSwatch {
        swatch,
        why,
        cast_on: Stitches(stitches + stitches % 2 + 2),
        width,
        rows: Rows(rows + rows % 2),
        count_over,
        places: PLACES,
    }
}

fn least_sure(inputs: &[Input], spreads: &[QuantitySpread]) -> GaugeSource {
    let order = by_effect(inputs, spreads);
    let first = order.first().and_then(|place| inputs.get(*place));
    first.map_or(GaugeSource::Round, |input| input.source)
}

/// The inputs' places, the one that moves any measure most, in per cent, first.
pub(super) fn by_effect(inputs: &[Input], spreads: &[QuantitySpread]) -> Vec<usize> {
    let largest = |place: &usize| {
        let effects = spreads.iter().filter_map(|spread| {
            let effect = spread.effects.get(*place).copied().flatten()?;
            Some(effect.swing() / spread.value.abs())
        });
        effects.fold(0.0, f64::max)
    };
    let mut order: Vec<usize> = (0..inputs.len()).collect();
    // A stable sort: inputs of equal effect stay in their own order.
    order.sort_by(|a, b| largest(b).total_cmp(&largest(a)));
    order
}
