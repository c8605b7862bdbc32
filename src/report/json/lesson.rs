//! The lesson on drift: the swatches, how sure they are, what they do to each size.

use serde::Serialize;
use serde_json::{Value, json};

use super::all;
use super::finding::FindingJson;
use super::gauge::{GaugeJson, GaugesJson};
use super::rounded::{Cm, Rounded};
use super::sleeves::{PlannedJson, SweepJson, WantedJson, part};
use crate::case::Case;
use crate::convert::drift::{
    ASSUMED_PCT, Assumption, DriftLesson, NextSwatch, QuantityKind, QuantitySpread, SizeDrift,
    Tighter, Why,
};
use crate::measure::{Rows, Stitches};
use crate::swatch::statistics::Fieller;
use crate::swatch::{Drift, Estimate, Measured, Method, Ratio, Verdict};

/// A lesson as one JSON object. Gauge is per 10 cm.
pub fn drift_json(case: &Case, lesson: &DriftLesson) -> Value {
    let swatches = &lesson.gauge.swatches;
    let sizes = lesson.sizes.iter();
    json!(LessonJson {
        case: &case.title,
        units: case.units.word(),
        gauge: GaugesJson::from(&lesson.gauge),
        swatches: SwatchesJson {
            pattern: MeasuredJson::from(&swatches.pattern),
            flat: swatches.flat.as_ref().map(MeasuredJson::from),
            round: swatches.round.as_ref().map(MeasuredJson::from),
        },
        drift: lesson.gauge.drift.as_ref().map(DriftJson::from),
        verdicts: all(&lesson.verdicts),
        assumptions: all(&lesson.assumptions),
        next_swatch: NextSwatchJson::from(&lesson.next),
        sizes: sizes.map(|size| SizeDriftJson::of(lesson, size)).collect(),
        findings: all(&lesson.findings),
    })
}

#[derive(Serialize)]
struct LessonJson<'a> {
    /// The case's title.
    case: &'a str,
    /// The units of its texts: `cm` or `in`.
    units: &'static str,
    gauge: GaugesJson,
    swatches: SwatchesJson,
    /// Round against flat, where both were swatched.
    drift: Option<DriftJson>,
    /// What the swatches say of flat against round.
    verdicts: Vec<FindingJson<'a>>,
    /// What was assumed for want of a swatch.
    assumptions: Vec<AssumptionJson>,
    next_swatch: NextSwatchJson,
    sizes: Vec<SizeDriftJson<'a>>,
    /// What concerns the swatches and the case as a whole.
    findings: Vec<FindingJson<'a>>,
}

#[derive(Serialize)]
struct SwatchesJson {
    pattern: MeasuredJson,
    flat: Option<MeasuredJson>,
    round: Option<MeasuredJson>,
}

/// One swatch.
#[derive(Serialize)]
struct MeasuredJson {
    stitches: EstimateJson,
    rows: EstimateJson,
    stitch_row_ratio: Rounded<4>,
}

impl From<&Measured> for MeasuredJson {
    fn from(swatch: &Measured) -> Self {
        Self {
            stitches: EstimateJson::from(&swatch.stitches),
            rows: EstimateJson::from(&swatch.rows),
            stitch_row_ratio: Rounded(swatch.stitch_row_ratio()),
        }
    }
}

/// Stitches or rows per 10 cm, with what is known about the error.
#[derive(Serialize)]
struct EstimateJson {
    mean: Rounded<4>,
    counts: usize,
    /// The deviation of one count; null for a single one.
    sd: Option<Rounded<4>>,
    /// Ends of the 95 % interval; null for a single count.
    low: Option<Rounded<4>>,
    high: Option<Rounded<4>>,
    /// Of one count, either way.
    reading_error: Rounded<4>,
    /// Of the mean.
    standard_error: Rounded<5>,
    /// Null when the standard error is the reading error's.
    degrees_of_freedom: Option<f64>,
    /// `one count`, `reading error` or `Student t`.
    method: &'static str,
}

impl From<&Estimate> for EstimateJson {
    fn from(estimate: &Estimate) -> Self {
        let interval = estimate.interval();
        Self {
            mean: Rounded(estimate.mean),
            counts: estimate.counts,
            sd: estimate.sd.map(Rounded),
            low: interval.map(|of| Rounded(of.low)),
            high: interval.map(|of| Rounded(of.high)),
            reading_error: Rounded(estimate.reading_error),
            standard_error: Rounded(estimate.standard_error),
            degrees_of_freedom: estimate.degrees_of_freedom,
            method: match estimate.method {
                Method::ReadingError if !estimate.is_repeated() => "one count",
                Method::ReadingError => "reading error",
                Method::StudentT => "Student t",
            },
        }
    }
}

#[derive(Serialize)]
struct DriftJson {
    stitches: RatioJson,
    rows: RatioJson,
}

impl From<&Drift> for DriftJson {
    fn from(drift: &Drift) -> Self {
        Self {
            stitches: RatioJson::from(&drift.stitches),
            rows: RatioJson::from(&drift.rows),
        }
    }
}

/// Round over flat; above 1 is tighter. What needs both to be counted twice is null without.
#[derive(Serialize)]
struct RatioJson {
    ratio: Rounded<5>,
    /// The same as a change.
    pct: Rounded<3>,
    /// Ends of the ratio's 95 % interval by the delta method.
    low: Option<Rounded<5>>,
    high: Option<Rounded<5>>,
    /// The same by Fieller's theorem; null also where that is no interval.
    fieller: Option<[Rounded<5>; 2]>,
    /// Of Welch's test.
    p: Option<Rounded<5>>,
    /// `differ`, `alike` or `open`.
    verdict: &'static str,
}

impl From<&Ratio> for RatioJson {
    fn from(ratio: &Ratio) -> Self {
        let interval = ratio.interval();
        Self {
            ratio: Rounded(ratio.ratio),
            pct: Rounded(ratio.pct),
            low: interval.map(|of| Rounded(of.low)),
            high: interval.map(|of| Rounded(of.high)),
            fieller: match ratio.fieller {
                Fieller::Between { low, high } if ratio.repeated => {
                    Some([Rounded(low), Rounded(high)])
                }
                _ => None,
            },
            p: ratio.repeated.then_some(Rounded(ratio.welch.p)),
            verdict: match ratio.verdict {
                Verdict::Differ => "differ",
                Verdict::Alike => "alike",
                Verdict::Open => "open",
            },
        }
    }
}

/// A gauge taken for want of a swatch.
#[derive(Serialize)]
struct AssumptionJson {
    /// `cap` or `tube`.
    part: &'static str,
    /// Whose gauge was taken.
    taken: &'static str,
    gauge: GaugeJson,
    /// How far it may be off.
    range_pct: [f64; 2],
}

impl From<&Assumption> for AssumptionJson {
    fn from(assumption: &Assumption) -> Self {
        Self {
            part: part(assumption.part),
            taken: assumption.taken.word(),
            gauge: assumption.gauge.into(),
            range_pct: [-ASSUMED_PCT, ASSUMED_PCT],
        }
    }
}

/// The one swatch to knit, or to count again.
#[derive(Serialize)]
struct NextSwatchJson {
    /// `flat` or `round`.
    swatch: &'static str,
    /// `missing` or `least sure`.
    why: &'static str,
    /// Stitches to cast on, a selvedge at each edge among them.
    cast_on: Stitches,
    /// About how wide that comes out.
    width_cm: Cm,
    /// To knit before the middle can be counted.
    rows: Rows,
    /// Length of each count.
    count_over_cm: Cm,
    /// How many places to count in.
    places: usize,
}

impl From<&NextSwatch> for NextSwatchJson {
    fn from(next: &NextSwatch) -> Self {
        Self {
            swatch: next.swatch.word(),
            why: match next.why {
                Why::Missing => "missing",
                Why::LeastSure => "least sure",
            },
            cast_on: next.cast_on,
            width_cm: Cm(next.width),
            rows: next.rows,
            count_over_cm: Cm(next.count_over),
            places: next.places,
        }
    }
}

/// What flat against round does to one size.
#[derive(Serialize)]
struct SizeDriftJson<'a> {
    /// Its label.
    size: &'a str,
    wanted: WantedJson,
    /// The sleeve as each plan gives it.
    sleeves: Vec<PlannedJson>,
    /// How sure each measure is.
    spreads: Vec<SpreadJson>,
    tighter_than_wanted: Option<TighterJson>,
    /// Other drifts.
    sweeps: Vec<SweepJson>,
    findings: Vec<FindingJson<'a>>,
}

impl<'a> SizeDriftJson<'a> {
    fn of(lesson: &'a DriftLesson, size: &'a SizeDrift) -> Self {
        let spreads = size.spreads.iter();
        Self {
            size: &size.size,
            wanted: WantedJson::from(&size.wanted),
            sleeves: all(&size.sleeves),
            spreads: spreads
                .map(|one| SpreadJson::of(lesson, &size.by_effect, one))
                .collect(),
            tighter_than_wanted: size.tighter.as_ref().map(TighterJson::from),
            sweeps: all(&size.sweeps),
            findings: all(&size.findings),
        }
    }
}

/// The chance that the upper arm comes out tighter than wanted, from 0 to 1.
#[derive(Serialize)]
struct TighterJson {
    /// By anything at all.
    chance: Rounded<4>,
    /// By more than the margin.
    chance_by_margin: Rounded<4>,
    /// What nobody minds.
    margin_cm: Cm,
}

impl From<&Tighter> for TighterJson {
    fn from(tighter: &Tighter) -> Self {
        Self {
            chance: Rounded(tighter.at_all),
            chance_by_margin: Rounded(tighter.by_margin),
            margin_cm: Cm(tighter.margin),
        }
    }
}

/// A measure with its interval.
#[derive(Serialize)]
struct SpreadJson {
    measure: &'static str,
    /// Of the numbers below: `cm`, `cm2` or `%`.
    unit: &'static str,
    /// As planned.
    value: Rounded<3>,
    /// 95 % by the delta method; null where nothing was counted twice.
    interval: Option<[Rounded<3>; 2]>,
    /// The same from the simulation.
    simulated: Option<[Rounded<3>; 2]>,
    /// True where a gauge behind it was assumed.
    assumed: bool,
    /// What moves it, the largest effect first.
    by: Vec<EffectJson>,
}

/// What one uncertain number does to a measure.
#[derive(Serialize)]
struct EffectJson {
    input: String,
    assumed: bool,
    /// The measure when the true count is at the low end.
    at_low: Rounded<3>,
    at_high: Rounded<3>,
    either_way: Rounded<4>,
    /// Its share of the variance; null for an assumption and a single count.
    variance_share: Option<Rounded<4>>,
}

impl SpreadJson {
    fn of(lesson: &DriftLesson, order: &[usize], spread: &QuantitySpread) -> Self {
        let effects = order.iter().filter_map(|&place| {
            let effect = spread.effects.get(place).copied().flatten()?;
            let input = lesson.inputs.get(place)?;
            Some(EffectJson {
                input: input.name(),
                assumed: input.assumed,
                at_low: Rounded(effect.at_low),
                at_high: Rounded(effect.at_high),
                either_way: Rounded(effect.either_way()),
                variance_share: effect.variance_share.map(Rounded),
            })
        });
        let counted = spread.is_counted();
        let interval = |low, high| counted.then_some([Rounded(low), Rounded(high)]);
        Self {
            measure: spread.quantity.name(),
            unit: match spread.quantity.kind() {
                QuantityKind::Length => "cm",
                QuantityKind::Area => "cm2",
                QuantityKind::Share => "%",
            },
            value: Rounded(spread.value),
            interval: interval(spread.low, spread.high),
            simulated: interval(spread.simulated.low, spread.simulated.high),
            assumed: spread.is_assumed(),
            by: effects.collect(),
        }
    }
}
