//! What two swatches say together: were they treated alike, and is there a drift?

use crate::case::{Swatch, SwatchCount};
use crate::diagnostic::Diagnostic;
use crate::measure::{Length, Units};

use super::codes;
use super::counts::mixed_lengths;
use super::drift::{Drift, LEAST_DRIFT_PCT, MoreCounts, Ratio, Verdict, drift};
use super::statistics::Fieller;
use super::words::{self, Counted, gauge_length, show_gauge, signed_pct};
use super::{Estimate, Measured, measure};

/// A drift beyond this, in per cent, is doubted.
const LARGE_PCT: f64 = 10.0;

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
    (flat.washed != round.washed).then(|| Diagnostic::new(&codes::WASHED_MIXED, message))
}

/// One direction of a comparison.
#[derive(Clone, Copy)]
struct Side<'a> {
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
) -> [Side<'a>; 2] {
    [
        Side {
            counted: Counted::Stitches,
            first: &first.stitches,
            second: &second.stitches,
            ratio: &drift.stitches,
            units,
        },
        Side {
            counted: Counted::Rows,
            first: &first.rows,
            second: &second.rows,
            ratio: &drift.rows,
            units,
        },
    ]
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
            let found = [Some(side.verdict()), side.large(), side.unbounded()];
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
    found.extend(sides.iter().map(Side::washed));
    (Some(change), found)
}

impl Side<'_> {
    fn verdict(&self) -> Diagnostic {
        match self.ratio.verdict {
            Verdict::Differ => Diagnostic::new(&codes::DRIFT_FOUND, self.sentence()),
            Verdict::Alike => Diagnostic::new(&codes::DRIFT_NONE, self.sentence()),
            Verdict::Open => {
                Diagnostic::new(&codes::DRIFT_OPEN, self.sentence()).next(self.what_settles_it())
            }
        }
    }

    fn sentence(&self) -> String {
        let word = self.counted.word();
        let numbers = format!(
            "{} {word} per {} flat, {} in the round: {} ({})",
            show_gauge(self.first.mean, self.units),
            gauge_length(self.units),
            show_gauge(self.second.mean, self.units),
            signed_pct(self.ratio.pct),
            self.interval(),
        );
        match self.ratio.verdict {
            Verdict::Differ => format!("{numbers}. {}{}", self.direction(), self.one_count()),
            Verdict::Alike => format!(
                "{numbers}. With 95 % confidence the two swatches differ by less than {LEAST_DRIFT_PCT} %; treat them as one.{}",
                self.one_count()
            ),
            Verdict::Open => format!(
                "{numbers}. The {word} of these two swatches do not differ by more than your {} error; count again over {}, or treat them as one.",
                if self.repeated() {
                    "counting"
                } else {
                    "reading"
                },
                words::longer_length(self.units)
            ),
        }
    }

    fn washed(&self) -> Diagnostic {
        let message = format!(
            "Washing changed the {} from {} to {} per {}: {} ({}).{}",
            self.counted.word(),
            show_gauge(self.first.mean, self.units),
            show_gauge(self.second.mean, self.units),
            gauge_length(self.units),
            signed_pct(self.ratio.pct),
            self.interval(),
            match self.ratio.verdict {
                Verdict::Differ => "",
                Verdict::Alike => " For practical purposes it changed nothing.",
                Verdict::Open => " That is within the error of counting.",
            }
        );
        Diagnostic::new(&codes::WASHING, message)
    }

    fn direction(&self) -> String {
        let (tighter, effect) = match (self.counted, self.ratio.pct > 0.0) {
            (Counted::Stitches, true) => ("tighter", "the tube comes out narrower"),
            (Counted::Stitches, false) => ("looser", "the tube comes out wider"),
            (Counted::Rows, true) => ("tighter", "the same rounds come out shorter"),
            (Counted::Rows, false) => ("looser", "the same rounds come out longer"),
        };
        let knit = if self.repeated() {
            "knit"
        } else {
            "seem to knit"
        };
        format!(
            "You {knit} {tighter} in the round in {}: {effect}.",
            self.counted.word()
        )
    }

    fn repeated(&self) -> bool {
        self.first.counts > 1 && self.second.counts > 1
    }

    /// What a verdict from single counts leaves out.
    fn one_count(&self) -> &'static str {
        if self.repeated() {
            ""
        } else {
            " A single count shows its reading error only, not how evenly you knit: count in two more places to be sure."
        }
    }

    fn interval(&self) -> String {
        let pct = |ratio: f64| signed_pct((ratio - 1.0) * 100.0);
        format!(
            "95 %: {} to {}",
            pct(self.ratio.low.max(0.0)),
            pct(self.ratio.high)
        )
    }

    fn what_settles_it(&self) -> String {
        let longer = words::longer_length(self.units);
        match self.ratio.more_counts {
            MoreCounts::Each(more) => format!(
                "Count {} in {} on each swatch, over {longer} if you can; if they look like these, that will settle it as likely as not.",
                self.counted.word(),
                words::places(more)
            ),
            MoreCounts::SpreadUnknown => format!(
                "Count {} in two more places on each swatch, over {longer} if you can.",
                self.counted.word()
            ),
            MoreCounts::TooMany | MoreCounts::Settled => format!(
                "More counts like these will hardly settle it: knit larger swatches and count over {longer}, or treat the two as one."
            ),
        }
    }

    fn large(&self) -> Option<Diagnostic> {
        (self.ratio.pct.abs() > LARGE_PCT).then(|| {
            let message = format!(
                "The {} differ by {} between flat and round; published pairs differ by 4 to 5 %.",
                self.counted.word(),
                signed_pct(self.ratio.pct)
            );
            Diagnostic::new(&codes::DRIFT_LARGE, message)
        })
    }

    fn unbounded(&self) -> Option<Diagnostic> {
        (!matches!(self.ratio.fieller, Fieller::Between { .. })).then(|| {
            let message = format!(
                "The counts of {} in the flat swatch are so far apart that they put no limit to the drift.",
                self.counted.word()
            );
            Diagnostic::new(&codes::RATIO_UNBOUNDED, message)
        })
    }
}
