//! What two swatches say together: were they treated alike, and is there a drift?

use crate::case::{Swatch, SwatchCount};
use crate::diagnostic::{Diagnostic, Level};
use crate::measure::{Gauge, Interval, Length, Units, signed_pct};

use super::codes;
use super::counts::{mixed_lengths, show_error};
use super::drift::{Drift, LEAST_DRIFT_PCT, MoreCounts, Ratio, Verdict, drift};
use super::estimate::USUALLY_APART_PCT;
use super::statistics::Fieller;
use super::words::{self, Counted, gauge_length, show_gauge};
use super::{Estimate, Measured, measure};

/// A drift beyond this, in per cent, is doubted: published pairs lie at 4 to 5, so that twice that is more
/// likely a slip of the needle size or of a count.
const LARGE_PCT: f64 = 10.0;

/// More further counts than this are too many to ask for: another swatch is knitted sooner.
const MANY: usize = 8;

/// What keeps two swatches from being compared: washing, floats, lengths.
pub fn pair_findings(flat: &Swatch, round: &Swatch, units: Units) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    found.extend(washed(flat, round));
    if flat.floats {
        let message = "The flat swatch is marked as a strip with floats, which stands for knitting in the round.";
        found.push(Diagnostic::new(&codes::FLOATS_FLAT, message));
    }
    let between = |a: &[SwatchCount], b: &[SwatchCount]| {
        // Within one swatch the same is found by `measure`.
        let first = |list: &[SwatchCount]| list.first().map(|c| c.over);
        let lengths: Vec<Length> = first(a).into_iter().chain(first(b)).collect();
        mixed_lengths(&lengths, units)
    };
    found.extend(
        between(&flat.stitches, &round.stitches).or_else(|| between(&flat.rows, &round.rows)),
    );
    found
}

fn washed(flat: &Swatch, round: &Swatch) -> Option<Diagnostic> {
    let state = |washed: Option<bool>| match washed {
        Some(true) => "was washed",
        Some(false) => "was not washed",
        None => "does not say whether it was washed",
    };
    let message = format!(
        "The flat swatch {}, the round one {}; what washing does cannot be told from what knitting in the round does.",
        state(flat.washed),
        state(round.washed)
    );
    // When one of them does not say, it may well have been treated alike.
    let said = flat.washed.is_some() && round.washed.is_some();
    let level = if said { Level::Warning } else { Level::Note };
    (flat.washed != round.washed)
        .then(|| Diagnostic::new(&codes::WASHED_MIXED, message).level(level))
}

/// One direction of a comparison.
#[derive(Clone, Copy)]
struct PairSide<'a> {
    counted: Counted,
    first: &'a Estimate,
    second: &'a Estimate,
    ratio: &'a Ratio,
    units: Units,
}

fn sides<'a>(
    first: &'a Measured,
    second: &'a Measured,
    drift: &'a Drift,
    units: Units,
) -> [PairSide<'a>; 2] {
    [
        PairSide {
            counted: Counted::Stitches,
            first: &first.stitches,
            second: &second.stitches,
            ratio: &drift.stitches,
            units,
        },
        PairSide {
            counted: Counted::Rows,
            first: &first.rows,
            second: &second.rows,
            ratio: &drift.rows,
            units,
        },
    ]
}

/// A drift so large that the two swatches are hardly of the same yarn and needles; also of single counts, whose error is
/// a fifth of that.
pub fn large_drifts(
    flat: &Measured,
    round: &Measured,
    drift: &Drift,
    units: Units,
) -> Vec<Diagnostic> {
    let sides = sides(flat, round, drift, units);
    sides.iter().filter_map(PairSide::large).collect()
}

/// Stitches of a cap and of the tube below it may differ by this share of the cap's, else no join holds them.
const MOST_APART: f64 = 0.25;

/// A cap and a tube that no join holds together: stitches over the same length.
pub fn gauges_apart(cap: Gauge, tube: Gauge, units: Units) -> Option<Diagnostic> {
    let ratio = cap.stitch_width() / tube.stitch_width();
    let per = |gauge: Gauge| show_gauge(Length::cm(10.0) / gauge.stitch_width(), units);
    ((ratio - 1.0).abs() > MOST_APART).then(|| {
        let message = format!(
            "The cap is knitted at {} sts per {} and the tube at {}: {:.0} % apart. At the join {:.0} % at the most can be made or decreased.",
            per(cap),
            gauge_length(units),
            per(tube),
            100.0 * (ratio - 1.0).abs(),
            100.0 * MOST_APART,
        );
        Diagnostic::new(&codes::GAUGES_APART, message)
    })
}

/// The drift in sentences, one finding for stitches and one for rows, and what is odd about it.
pub fn drift_findings(
    flat: &Measured,
    round: &Measured,
    drift: &Drift,
    units: Units,
) -> Vec<Diagnostic> {
    sides(flat, round, drift, units)
        .iter()
        .flat_map(|side| {
            let found = [Some(side.verdict()), side.unbounded()];
            found.into_iter().flatten()
        })
        .collect()
}

/// What the counts say about flat and round in this direction, in plain words.
pub fn drift_sentence(
    counted: Counted,
    flat: &Measured,
    round: &Measured,
    drift: &Drift,
    units: Units,
) -> String {
    let [stitches, rows] = sides(flat, round, drift, units);
    match counted {
        Counted::Stitches => stitches.sentence(),
        Counted::Rows => rows.sentence(),
    }
}

/// What washing did to a swatch that was counted before and after, with sentences.
///
/// There is a value when the counts before washing can be used; what is wrong with them is said.
pub fn washing(
    swatch: &Swatch,
    after: &Measured,
    units: Units,
) -> (Option<Drift>, Vec<Diagnostic>) {
    let Some(before) = &swatch.before_washing else {
        return (None, Vec::new());
    };
    let (before, mut found) = measure(before, units);
    // That they are from before washing is what they are for.
    found.retain(|d| *d.code != codes::UNWASHED);
    let Some(before) = before else {
        return (None, found);
    };
    let change = drift(&before, after);
    let sides = sides(&before, after, &change, units);
    found.extend(sides.iter().map(PairSide::washed));
    (Some(change), found)
}

impl PairSide<'_> {
    fn verdict(&self) -> Diagnostic {
        let code = match self.ratio.verdict {
            Verdict::Differ => &codes::DRIFT_FOUND,
            Verdict::Alike => &codes::DRIFT_NONE,
            Verdict::Open => &codes::DRIFT_OPEN,
        };
        let finding = Diagnostic::new(code, self.sentence());
        if self.ratio.verdict == Verdict::Open {
            finding.next(self.what_settles_it())
        } else {
            finding
        }
    }

    fn sentence(&self) -> String {
        let numbers = format!(
            "{} {} per {} flat, {} in the round: {}{}",
            show_gauge(self.first.mean, self.units),
            self.counted.word(),
            gauge_length(self.units),
            show_gauge(self.second.mean, self.units),
            signed_pct(self.ratio.pct),
            self.interval(),
        );
        let meaning = match self.ratio.verdict {
            Verdict::Differ => self.differ(),
            Verdict::Alike => self.alike(),
            Verdict::Open => self.open(),
        };
        format!("{numbers}. {meaning}")
    }

    /// The effect of a drift.
    fn differ(&self) -> String {
        let narrower = self.ratio.pct > 0.0;
        match (self.counted, narrower) {
            (Counted::Stitches, true) => {
                "Your stitches are narrower in the round: the tube comes out narrower than the flat swatch says."
            }
            (Counted::Stitches, false) => {
                "Your stitches are wider in the round: the tube comes out wider than the flat swatch says."
            }
            (Counted::Rows, true) => {
                "Your rounds are lower than your rows: the tube comes out shorter than the flat swatch says."
            }
            (Counted::Rows, false) => {
                "Your rounds are higher than your rows: the tube comes out longer than the flat swatch says."
            }
        }
        .to_owned()
    }

    fn alike(&self) -> String {
        format!(
            "With 95 % confidence the {} of the two swatches differ by less than {LEAST_DRIFT_PCT} %: treat them as one.",
            self.counted.word()
        )
    }

    fn open(&self) -> String {
        if self.ratio.repeated {
            return format!(
                "The {} of these two swatches do not differ by more than your error of counting; count again over {}, or treat them as one.",
                self.counted.word(),
                words::longer_length(self.units)
            );
        }
        format!(
            "Whether that is a drift nobody can say: {} only once. The reading error alone is {}, and two swatches that one knitter makes alike usually differ by about {USUALLY_APART_PCT} % (common practice, no source).",
            self.counted_once(),
            self.reading_errors(),
        )
    }

    fn washed(&self) -> Diagnostic {
        let (word, per) = (self.counted.word(), gauge_length(self.units));
        let show = |e: &Estimate| show_gauge(e.mean, self.units);
        let change = format!(
            "{} before, {} after, {}{}",
            show(self.first),
            show(self.second),
            signed_pct(self.ratio.pct),
            self.interval()
        );
        let message = match self.ratio.verdict {
            Verdict::Differ => format!("Washing changed the {word} per {per}: {change}."),
            Verdict::Alike => format!("Washing left the {word} per {per} as they were: {change}."),
            Verdict::Open if self.ratio.repeated => format!(
                "Washing changed the {word} per {per} by no more than the error of counting: {change}."
            ),
            Verdict::Open => format!(
                "Before and after washing the {word} per {per} were counted once each or once in one of the two, which cannot tell what washing does from how evenly the swatch is knit: {change}."
            ),
        };
        Diagnostic::new(&codes::WASHING, message)
    }

    /// Which of the two swatches has a single count.
    fn counted_once(&self) -> &'static str {
        match (self.first.is_repeated(), self.second.is_repeated()) {
            (false, false) => "both swatches were counted",
            (false, true) => "the first swatch was counted",
            (true, _) => "the second swatch was counted",
        }
    }

    /// What reading a single count to its smallest division can be off.
    fn reading_errors(&self) -> String {
        let once = [self.first, self.second]
            .into_iter()
            .filter(|estimate| !estimate.is_repeated());
        let largest = once
            .map(|estimate| estimate.reading_error)
            .fold(0.0, f64::max);
        format!(
            "{} {} per {} either way",
            show_error(largest, self.units),
            self.counted.word(),
            gauge_length(self.units)
        )
    }

    /// The 95 % interval in brackets; nothing while either swatch was counted once.
    fn interval(&self) -> String {
        let pct = |ratio: f64| signed_pct((ratio - 1.0) * 100.0);
        match self.ratio.interval() {
            None => String::new(),
            Some(Interval { low, high }) if self.bounded() => {
                format!(" (95 %: {} to {})", pct(low.max(0.0)), pct(high))
            }
            Some(_) => " (95 %: no limit can be given)".to_owned(),
        }
    }

    fn two_more(&self) -> String {
        format!(
            "Count {} in two more places on each swatch, over {} if you can.",
            self.counted.word(),
            words::longer_length(self.units)
        )
    }

    fn what_settles_it(&self) -> String {
        let longer = words::longer_length(self.units);
        match self.ratio.more_counts {
            MoreCounts::Each(_) if !self.ratio.repeated => self.two_more(),
            MoreCounts::Each(more) if more <= MANY => format!(
                "Count {} in {} on each swatch, over {longer} if you can; if they look like these, that will settle it as likely as not.",
                self.counted.word(),
                words::places(more)
            ),
            MoreCounts::Each(more) => format!(
                "It would take about {more} more counts like these on each swatch. Knit larger swatches and count over {longer}, or treat the two as one."
            ),
            MoreCounts::SpreadUnknown => self.two_more(),
            MoreCounts::TooMany | MoreCounts::Settled => format!(
                "More counts like these will hardly settle it. Knit larger swatches and count over {longer}, or treat the two as one."
            ),
        }
    }

    fn bounded(&self) -> bool {
        matches!(self.ratio.fieller, Fieller::Between { .. })
    }

    fn large(&self) -> Option<Diagnostic> {
        (self.ratio.pct.abs() > LARGE_PCT).then(|| {
            let message = format!(
                "The counts of {} are {:.1} % apart between flat and round; published pairs are 4 to 5 % apart.",
                self.counted.word(),
                self.ratio.pct.abs()
            );
            Diagnostic::new(&codes::DRIFT_LARGE, message)
        })
    }

    fn unbounded(&self) -> Option<Diagnostic> {
        (self.ratio.repeated && !self.bounded()).then(|| {
            let message = format!(
                "The counts of {} in the flat swatch are so far apart that they put no limit to the drift.",
                self.counted.word()
            );
            Diagnostic::new(&codes::RATIO_UNBOUNDED, message)
        })
    }
}
