//! The sizes one after the other: what falls from one to the next, and what leaps.

use crate::leaflet::What;
use crate::pattern::Ledger;

use super::numbers::PrintNumbers;
use super::sums::said;

/// A number of every size.
struct Series {
    /// What it is, in a sentence.
    what: &'static str,
    /// The facts it is of.
    facts: fn(&PrintNumbers<'_>) -> Vec<&'static str>,
    of: fn(&PrintNumbers<'_>, usize) -> Option<f64>,
    /// By how much a larger size may have less.
    spare: f64,
    /// Steps of more than this share of it are leaps, where they are also more than any other step by far.
    leap: f64,
}

/// A larger step than this times the next largest one is a leap; busts of published charts double their steps at the most.
const BY_FAR: f64 = 2.2;

const SERIES: &[Series] = &[
    Series {
        what: "the number that names it",
        facts: |_| vec!["sizes"],
        of: |numbers, size| numbers.numeral(size),
        spare: 0.0,
        leap: 0.5,
    },
    Series {
        what: "the bust or chest",
        facts: |_| vec!["body.bust"],
        of: |numbers, size| numbers.number("body.bust", size),
        spare: 0.0,
        leap: 0.06,
    },
    Series {
        what: "the stitches of the cuff",
        facts: |_| vec!["sleeve.cuff_stitches"],
        of: |numbers, size| numbers.number("sleeve.cuff_stitches", size),
        spare: 0.0,
        // A repeat of eight stitches.
        leap: 0.18,
    },
    Series {
        what: "the stitches of the upper arm",
        facts: |_| vec!["sleeve.stitches"],
        of: |numbers, size| numbers.number("sleeve.stitches", size),
        spare: 0.0,
        leap: 0.12,
    },
    Series {
        what: "the sleeve's length",
        facts: |_| vec!["sleeve.length"],
        of: |numbers, size| numbers.number("sleeve.length", size),
        spare: 0.0,
        leap: 0.12,
    },
    Series {
        what: "the cuff's length",
        facts: |_| vec!["sleeve.cuff_length"],
        of: |numbers, size| numbers.number("sleeve.cuff_length", size),
        spare: 0.0,
        leap: 0.5,
    },
    Series {
        what: "the stitches at the armhole",
        facts: |numbers| vec![numbers.back_stitches()],
        of: |numbers, size| numbers.number(numbers.back_stitches(), size),
        spare: 0.0,
        leap: 0.12,
    },
    Series {
        what: "the front's stitches at the armhole",
        facts: |_| vec!["armhole.front.stitches"],
        of: |numbers, size| numbers.number("armhole.front.stitches", size),
        spare: 0.0,
        leap: 0.12,
    },
    Series {
        what: "the armhole's first bind-off",
        facts: |numbers| vec![numbers.back_lines()],
        of: |numbers, size| underarm(numbers.back(size)?),
        spare: 0.0,
        leap: 1.0,
    },
    Series {
        what: "what is left above the armhole",
        facts: |numbers| vec![numbers.back_lines()],
        of: |numbers, size| Some(numbers.back(size)?.final_stitches().as_f64()),
        spare: 0.0,
        leap: 0.12,
    },
    Series {
        what: "the rows of the armhole",
        facts: |numbers| vec![numbers.back_lines()],
        of: |numbers, size| Some(numbers.back(size)?.row_count().as_f64()),
        spare: 2.0,
        leap: 0.12,
    },
    Series {
        what: "the rows of the front's armhole",
        facts: |_| vec!["armhole.front.lines"],
        of: |numbers, size| Some(numbers.front(size)?.row_count().as_f64()),
        spare: 2.0,
        leap: 0.2,
    },
    Series {
        what: "what the shoulders leave for the neck",
        facts: |numbers| vec![numbers.back_lines()],
        of: |numbers, size| {
            let left = numbers.back(size)?.final_stitches().as_f64();
            Some(left - numbers.told_of(What::Shoulders, size)?)
        },
        spare: 4.0,
        leap: 0.3,
    },
    Series {
        what: "the saddle's stitches",
        facts: |_| vec!["shoulder.live_stitches"],
        of: |numbers, size| numbers.number("shoulder.live_stitches", size),
        spare: 0.0,
        leap: 0.35,
    },
    Series {
        what: "the cap's first bind-off",
        facts: |_| vec!["sleeve.cap"],
        of: |numbers, size| underarm(numbers.cap(size)?),
        spare: 0.0,
        leap: 1.0,
    },
    Series {
        what: "what is bound off last",
        facts: |_| vec!["sleeve.cap"],
        of: |numbers, size| Some(numbers.cap(size)?.final_stitches().as_f64()),
        spare: NARROWER,
        leap: 0.35,
    },
    Series {
        what: "the rows of the cap",
        facts: |_| vec!["sleeve.cap"],
        of: |numbers, size| Some(numbers.cap(size)?.row_count().as_f64()),
        spare: FEWER_ROWS,
        leap: 0.3,
    },
];

/// Stitches by which the top of a cap may be narrower in a larger size.
const NARROWER: f64 = 4.0;

/// Rows by which the cap of a larger size may be shallower.
const FEWER_ROWS: f64 = 6.0;

fn underarm(ledger: &Ledger) -> Option<f64> {
    ledger.rows.first().map(|row| row.bind_off.as_f64())
}

/// Every fact whose sizes do not follow one another.
pub(super) fn contradictions(numbers: &PrintNumbers<'_>) -> Vec<(String, String)> {
    let lists: Vec<(&Series, Vec<f64>)> = SERIES
        .iter()
        .filter_map(|series| {
            let all = (0..numbers.sizes()).map(|size| (series.of)(numbers, size));
            Some((series, all.collect::<Option<Vec<f64>>>()?))
        })
        .collect();
    let leaps: Vec<Option<usize>> = lists
        .iter()
        .map(|(series, list)| leap(list, series.leap))
        .collect();
    let mut out = Vec::new();
    let piece = |series: &Series| {
        (series.facts)(numbers)
            .first()
            .and_then(|key| key.split('.').next())
    };
    for ((series, list), leap) in lists.iter().zip(&leaps) {
        // A step that another piece makes as well is one of the sizes, not of a misprint.
        let shared = |at: usize| {
            let mut others = lists.iter().zip(&leaps);
            others.any(|((other, _), leap)| *leap == Some(at) && piece(other) != piece(series))
        };
        let leap = leap.filter(|at| !shared(*at));
        let fallen = list
            .windows(2)
            .position(|pair| matches!(pair, [a, b] if *a > b + series.spare));
        let fact = |at: usize, tail: &str| {
            let number = |at: usize| list.get(at).map_or(String::new(), |n| said(*n));
            format!(
                "From size {} to {} {} goes from {} to {}: {tail}",
                numbers.label(at),
                numbers.label(at + 1),
                series.what,
                number(at),
                number(at + 1)
            )
        };
        let fallen = fallen.map(|at| fact(at, "it is less for a larger size."));
        let leap = leap.map(|at| fact(at, "by more than sizes do."));
        for why in fallen.into_iter().chain(leap) {
            let facts = (series.facts)(numbers).into_iter();
            out.extend(facts.map(|key| (key.to_owned(), why.clone())));
        }
    }
    out
}

/// Where a list goes up by far more than anywhere else, and by more than this share.
fn leap(list: &[f64], share: f64) -> Option<usize> {
    let steps: Vec<f64> = list
        .windows(2)
        .filter_map(|pair| Some(pair.get(1)? - pair.first()?))
        .collect();
    let (at, largest) = steps
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(b.1))
        .map(|(at, step)| (at, *step))?;
    let others = steps.iter().enumerate().filter(|(other, _)| *other != at);
    let next = others.map(|(_, step)| step.abs()).reduce(f64::max);
    let from = list.get(at)?;
    let by_far = next.map_or(largest > 0.3 * from, |next| largest > BY_FAR * next);
    (by_far && largest > share * from).then_some(at)
}
