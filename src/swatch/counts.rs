//! What can be wrong with the counts of one kind: bounds, lengths, units, outliers, few counts.

use crate::case::SwatchCount;
use crate::diagnostic::{Diagnostic, Level, worst};
use crate::measure::{CM_PER_INCH, COUNT_SPAN, Length, SWATCH_OVER, Units};

use super::codes;
use super::estimate::{Estimate, Method, per_10cm};
use super::statistics::{modified_z_scores, t_critical};
use super::words::{self, Counted, exact_length, gauge_length, plain, show_gauge};

/// A count over less than this is mostly reading error: an inch.
const SHORT: Length = Length::inches(1.0);
/// The modified z-score above which a count is pointed out (Iglewicz and Hoaglin 1993).
const MODIFIED_Z: f64 = 3.5;
/// The largest gauge over the smallest above which the counts are doubted, and refused (a choice of this
/// project): one knitter's swatches lie within a few per cent, so that a fifth is seldom knitting, and half
/// as much again is another length or another unit.
const DISAGREE: f64 = 1.2;
const REFUSE: f64 = 1.5;
/// Half an interval wider than this, in per cent, is pointed out: as much as flat and round usually differ,
/// so that the drift would drown in it.
const WIDE_PCT: f64 = 5.0;

/// The counts of one kind on one swatch, and how they are shown.
#[derive(Clone, Copy)]
pub(crate) struct SwatchCounts<'a> {
    pub(crate) counted: Counted,
    pub(crate) list: &'a [SwatchCount],
    pub(crate) division: f64,
    pub(crate) units: Units,
}

impl SwatchCounts<'_> {
    /// Why there is no estimate: every count or length that cannot be used.
    pub(crate) fn unusable(&self) -> Vec<Diagnostic> {
        if self.list.is_empty() {
            let word = self.counted.word();
            return vec![Diagnostic::new(
                &codes::EMPTY,
                format!("The swatch has no count of {word}."),
            )];
        }
        let counts = self.list.iter().filter_map(|c| self.count_outside(c));
        let lengths = self.list.iter().filter_map(|c| self.length_outside(c));
        counts.chain(lengths).collect()
    }

    /// What is doubtful about counts that can be used.
    pub(crate) fn doubts(&self, estimate: &Estimate) -> Vec<Diagnostic> {
        let mut found = Vec::new();
        found.extend(self.too_short());
        found.extend(self.units_mixed());
        found.extend(self.lengths_mixed());
        let outliers = self.outliers(estimate);
        let disagreement = self.disagreement(outliers.is_empty());
        let refused = worst(disagreement.as_slice()) == Some(Level::Error);
        found.extend(disagreement);
        found.extend(outliers);
        // An interval of counts that cannot all be right would mean nothing.
        found.extend(self.few(estimate).filter(|_| !refused));
        found
    }

    fn count_outside(&self, count: &SwatchCount) -> Option<Diagnostic> {
        COUNT_SPAN.check(count.counted).err()?;
        let (word, number) = (self.counted.word(), plain(count.counted));
        Some(Diagnostic::new(
            &codes::COUNT_BOUNDS,
            format!(
                "A count of {number} {word} is no count; {} to {} {word} are allowed.",
                COUNT_SPAN.min, COUNT_SPAN.max
            ),
        ))
    }

    fn length_outside(&self, count: &SwatchCount) -> Option<Diagnostic> {
        SWATCH_OVER.check(count.over.to_cm()).err()?;
        let show = |cm: f64| exact_length(Length::cm(cm), self.units);
        Some(Diagnostic::new(
            &codes::LENGTH_BOUNDS,
            format!(
                "{} {} are said to be counted over {}; lengths of {} to {} are allowed.",
                plain(count.counted),
                self.counted.word(),
                exact_length(count.over, self.units),
                show(SWATCH_OVER.min),
                show(SWATCH_OVER.max),
            ),
        ))
    }

    fn too_short(&self) -> Option<Diagnostic> {
        let short = self.list.iter().filter(|c| c.over < SHORT);
        let shortest = short.min_by(|a, b| a.over.to_cm().total_cmp(&b.over.to_cm()))?;
        let part = self.division / shortest.counted * 100.0;
        Some(Diagnostic::new(
            &codes::TOO_SHORT,
            format!(
                "{} {} were counted over {} only: {} more or less changes the gauge by {part:.0} %.",
                plain(shortest.counted),
                self.counted.word(),
                exact_length(shortest.over, self.units),
                words::part(self.division, self.counted),
            ),
        )
        .next(format!(
            "Count again over {}, in the middle of the swatch.",
            gauge_length(self.units)
        )))
    }

    /// Counts that make sense only when their length was meant in the other unit.
    fn units_mixed(&self) -> Option<Diagnostic> {
        let mut mixed = self.list.iter().filter(|c| self.unit_slip(c));
        let first = mixed.next()?;
        let (number, unit) = (plain(self.units.number(first.over)), self.units.word());
        let other = other_unit(self.units);
        let gauge = |per_10cm: f64| show_gauge(per_10cm, self.units);
        let meant = gauge(as_other_unit(first, self.units));
        let message = format!(
            "{} {} over {number} {unit} are {} per {}, which is unusual; over {number} {} they would be {meant}. Was the length in {}?",
            plain(first.counted),
            self.counted.word(),
            gauge(per_10cm(first)),
            gauge_length(self.units),
            other.word(),
            match other {
                Units::Cm => "centimetres",
                Units::In => "inches",
            },
        );
        // The other unit's usual length (4 in a case of centimetres, 10 in one of inches) is a slip
        // beyond doubt; another length may be right.
        let usual_there = other.number(other.swatch_length());
        let slip = (self.units.number(first.over) - usual_there).abs() < 0.01;
        let level = if slip { Level::Error } else { Level::Warning };
        Some(Diagnostic::new(&codes::UNITS, message).level(level).next(format!(
            "If it was, write over = {}; if not, count again over another length. Nothing was changed.",
            plain(self.units.number(other.length(self.units.number(first.over))))
        )))
    }

    /// A swatch counted over these units' own usual length (10 cm, 4 in) says what it means, however
    /// fine or coarse the knitting; over any other it is asked about.
    fn unit_slip(&self, count: &SwatchCount) -> bool {
        let usual = usual_gauge(self.counted);
        let own = (count.over - self.units.swatch_length()).abs() < Length::cm(0.01);
        !own && !usual.contains(&per_10cm(count))
            && usual.contains(&as_other_unit(count, self.units))
    }

    /// 10 cm and 4 in among the lengths of one swatch.
    fn lengths_mixed(&self) -> Option<Diagnostic> {
        let lengths: Vec<Length> = self.list.iter().map(|c| c.over).collect();
        mixed_lengths(&lengths, self.units)
    }

    /// Counts with a modified z-score above 3.5.
    fn outliers(&self, estimate: &Estimate) -> Vec<Diagnostic> {
        let gauges: Vec<f64> = self.list.iter().map(per_10cm).collect();
        let scores = modified_z_scores(&gauges, estimate.reading_error);
        let far = self.list.iter().zip(scores).enumerate();
        far.filter(|(_, (_, score))| score.abs() > MODIFIED_Z)
            .map(|(place, (count, _))| self.outlier(place, count, estimate))
            .collect()
    }

    fn outlier(&self, place: usize, count: &SwatchCount, all: &Estimate) -> Diagnostic {
        let kept = self.list.iter().enumerate().filter(|(i, _)| *i != place);
        let others: Vec<SwatchCount> = kept.map(|(_, c)| *c).collect();
        let without = super::estimate(&others, self.division).map_or(all.mean, |e| e.mean);
        Diagnostic::new(
            &codes::OUTLIER,
            format!(
                "{} {} over {} is far from the other counts. It is kept: the gauge is {} {} per {}; without it, {}.",
                plain(count.counted),
                self.counted.word(),
                exact_length(count.over, self.units),
                show_gauge(all.mean, self.units),
                self.counted.word(),
                gauge_length(self.units),
                show_gauge(without, self.units),
            ),
        )
    }

    /// Counts so far apart that a length, a unit or a count must be wrong.
    fn disagreement(&self, without_outliers: bool) -> Option<Diagnostic> {
        let by_gauge = |a: &&SwatchCount, b: &&SwatchCount| per_10cm(a).total_cmp(&per_10cm(b));
        let smallest = self.list.iter().min_by(by_gauge)?;
        let largest = self.list.iter().max_by(by_gauge)?;
        let factor = per_10cm(largest) / per_10cm(smallest);
        let refused = factor > REFUSE;
        if factor <= DISAGREE || (!refused && !without_outliers) {
            return None;
        }
        let show = |c: &SwatchCount| {
            let over = exact_length(c.over, self.units);
            format!("{} {} over {over}", plain(c.counted), self.counted.word())
        };
        let message = format!(
            "{} and {} cannot both be right for one swatch: the one gauge is {factor:.2} times the other.{}",
            show(largest),
            show(smallest),
            reason(factor, self.counted),
        );
        let level = if refused {
            Level::Error
        } else {
            Level::Warning
        };
        Some(Diagnostic::new(&codes::DISAGREE, message).level(level))
    }

    /// An interval too wide to plan with.
    fn few(&self, estimate: &Estimate) -> Option<Diagnostic> {
        if estimate.counts == 1
            || estimate.half_width_pct() <= WIDE_PCT
            || estimate.method == Method::ReadingError
        {
            return None;
        }
        Some(self.wide(estimate))
    }

    fn wide(&self, estimate: &Estimate) -> Diagnostic {
        let show = |gauge: f64| show_gauge(gauge, self.units);
        let message = format!(
            "From {} counts the gauge is {} {} per {}, but with 95 % confidence only somewhere from {} to {}, {:.0} % either way.",
            estimate.counts,
            show(estimate.mean),
            self.counted.word(),
            gauge_length(self.units),
            show(estimate.low.max(0.0)),
            show(estimate.high),
            estimate.half_width_pct(),
        );
        let longer = words::longer_length(self.units);
        let advice = match further(estimate) {
            Some(more) => format!(
                "Count in {}, over {longer} if the swatch allows it.",
                words::places(more)
            ),
            None => format!(
                "Look for a slip in the counts, then count every place again, over {longer} if the swatch allows it."
            ),
        };
        Diagnostic::new(&codes::WIDE, message).next(advice)
    }
}

/// How many further counts of this deviation bring the half-width below the limit; none when it
/// would take more than six.
fn further(estimate: &Estimate) -> Option<usize> {
    let limit = WIDE_PCT / 100.0 * estimate.mean;
    let sd = estimate.spread()?;
    let half = |n: f64| t_critical(Some(n - 1.0)) * sd / n.sqrt();
    (1..=6).find(|more| half((estimate.counts + more) as f64) <= limit)
}

/// A likely reason for two counts that differ by this factor.
fn reason(factor: f64, counted: Counted) -> &'static str {
    let near = |wanted: f64| (factor / wanted - 1.0).abs() < 0.08;
    if near(CM_PER_INCH) {
        " That is about 2.54: one of the lengths may be in the other unit."
    } else if near(2.0) && counted == Counted::Rows {
        " That is about twice: ridges may have been counted as rows (a ridge is two rows), or one length may be half of what it says."
    } else if near(2.0) {
        " That is about twice: one of the lengths may be half of what it says."
    } else {
        ""
    }
}

/// A note when one length is 10 cm and another 4 in (or the like): 1.6 % apart.
pub(crate) fn mixed_lengths(lengths: &[Length], units: Units) -> Option<Diagnostic> {
    let pairs = lengths.iter().enumerate();
    let (a, b) = pairs
        .flat_map(|(i, a)| lengths.iter().skip(i + 1).map(move |b| (*a, *b)))
        .find(|(a, b)| {
            let factor = (*a / *b).max(*b / *a);
            (1.012..1.020).contains(&factor)
        })?;
    Some(Diagnostic::new(
        &codes::LENGTHS_MIXED,
        format!(
            "One count is over {} and another over {}: the one is to the other as 10 cm to 4 in (10.16 cm). Each was converted by its own length.",
            exact_length(a, units),
            exact_length(b, units)
        ),
    ))
}

/// Usual gauges per 10 cm: bulky to fingering yarn for stitches; for rows, these over 0.75.
fn usual_gauge(counted: Counted) -> std::ops::RangeInclusive<f64> {
    match counted {
        Counted::Stitches => 12.0..=32.0,
        Counted::Rows => 16.0..=43.0,
    }
}

const fn other_unit(units: Units) -> Units {
    match units {
        Units::Cm => Units::In,
        Units::In => Units::Cm,
    }
}

/// The gauge per 10 cm if the number of the length were in the other unit.
fn as_other_unit(count: &SwatchCount, units: Units) -> f64 {
    let over = other_unit(units).length(units.number(count.over));
    10.0 * count.counted / over.to_cm()
}

/// A reading error with two decimals, in the case's units.
pub(crate) fn show_error(per_10cm: f64, units: Units) -> String {
    plain(per_10cm * (units.swatch_length().to_cm() / 10.0))
}
