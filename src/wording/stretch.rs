//! Stitches picked up over some rows of an edge, and the rates in words.

use std::fmt;

use super::amounts::{rows, sts, times};
use super::rates::{Rate, rates};

/// On which half of the armhole a stretch lies: the two are mirror images, so the rates of the second come in the
/// opposite order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Half {
    /// Down from the shoulder, or before the live stitches.
    First,
    /// Up to the shoulder, or after the live stitches.
    Mirrored,
}

/// Which row of a stretch is left out where every other one has a stitch, in the order of the work. Stitches sit tight
/// against the crown, those of the crown against the seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LeftOut {
    First,
    Last,
}

/// `12 sts over 16 rows: 3 sts for every 4 rows, 4 times`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RateStretch {
    pub(crate) stitches: u32,
    pub(crate) rows: u32,
    /// In the order of the work; none where stitches and rows have no rate.
    pub(crate) rates: Vec<Rate>,
    pub(crate) half: Half,
    pub(crate) left_out: LeftOut,
    pub(crate) form: RateForm,
}

/// How the rates are told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum RateForm {
    /// As one size alone tells them.
    Alone,
    /// As `n sts for every m rows, k times`, each of them, so that sizes differ in numbers alone.
    EachRate,
    /// The rates are those of all sizes; at these places they are worked once.
    InCommon(Vec<usize>),
}

impl RateStretch {
    pub(crate) fn new(stitches: u32, rows: u32, half: Half) -> Self {
        let mut rates = rates(stitches, rows);
        if half == Half::Mirrored {
            rates.reverse();
        }
        Self {
            stitches,
            rows,
            rates,
            half,
            left_out: match half {
                Half::First => LeftOut::Last,
                Half::Mirrored => LeftOut::First,
            },
            form: RateForm::Alone,
        }
    }

    /// After the live stitches rows are counted from these, in the order of the work.
    pub(crate) fn after_live(stitches: u32, rows: u32) -> Self {
        Self {
            left_out: LeftOut::Last,
            ..Self::new(stitches, rows, Half::Mirrored)
        }
    }

    /// Half of a crown without live stitches, from its end up to the shoulder seam; the other half mirrors it, and an odd
    /// stitch lies in the seam between them. None where the rows have no halves, or one stitch is all.
    pub(crate) fn half_crown(stitches: u32, rows: u32) -> Option<Self> {
        let halves = rows.is_multiple_of(2) && (2..=rows).contains(&stitches);
        halves.then(|| Self::half_of(stitches, rows / 2))
    }

    /// Half of so many stitches of a crown over so many rows.
    pub(crate) fn half_of(crown: u32, rows: u32) -> Self {
        let left_out = if crown.is_multiple_of(2) {
            LeftOut::First
        } else {
            LeftOut::Last
        };
        Self {
            left_out,
            ..Self::new(crown / 2, rows, Half::First)
        }
    }

    /// True where its words name the row that is left out.
    pub(crate) fn leaves_one_out(&self) -> bool {
        self.form == RateForm::Alone && is_all_but_one(&self.rates)
    }

    fn rates_in_words(&self) -> String {
        match &self.form {
            RateForm::Alone => words(&self.rates, self.left_out),
            RateForm::EachRate => joined(self.rates.iter().map(|rate| for_every(*rate))),
            RateForm::InCommon(once) => {
                let rates = self.rates.iter().enumerate();
                joined(rates.map(|(i, rate)| match rate {
                    _ if once.contains(&i) => {
                        format!("{} sts over the next {} rows", rate.stitches, rate.rows)
                    }
                    Rate {
                        stitches: 1,
                        rows: 1,
                        times,
                    } => format!("1 sts in each of the next {times} rows"),
                    rate => for_every(*rate),
                }))
            }
        }
    }
}

fn for_every(rate: Rate) -> String {
    format!(
        "{} sts for every {} rows, {} times",
        rate.stitches, rate.rows, rate.times
    )
}

fn joined(rates: impl Iterator<Item = String>) -> String {
    rates.collect::<Vec<_>>().join(", then ")
}

impl fmt::Display for RateStretch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&sts(self.stitches))?;
        if self.rates.is_empty() {
            return Ok(());
        }
        write!(f, " over {}: {}", rows(self.rows), self.rates_in_words())
    }
}

/// A stitch in every row but one.
fn is_all_but_one(rates: &[Rate]) -> bool {
    matches!(rates, [only] if only.times == 1 && only.rows == only.stitches + 1)
}

/// The rates in words.
fn words(rates: &[Rate], left_out: LeftOut) -> String {
    if is_all_but_one(rates) {
        let row = match left_out {
            LeftOut::First => "first",
            LeftOut::Last => "last",
        };
        return format!("skip the {row} row");
    }
    joined(
        rates
            .iter()
            .map(|rate| match (rate.stitches, rate.rows, rate.times) {
                (1, 1, 1) => "1 st in the next row".to_owned(),
                (1, 1, n) => format!("1 st in each of the next {n} rows"),
                (p, q, 1) => format!("{} over the next {}", sts(p), rows(q)),
                (p, q, n) => format!("{} for every {}, {}", sts(p), rows(q), times(n)),
            }),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(stitches: u32, rows: u32) -> String {
        words(&rates(stitches, rows), LeftOut::Last)
    }

    /// Published pick-up rates: 3 in 4 rows at 21 x 28 (bromiskelly, 2021), 5 in 8 at 5 and 8 per
    /// inch (stitchesofviolet, 2009), 2 in 3 at 16 x 24 and 102 rows for 68 stitches
    /// (menwhoknit, 5359).
    #[test]
    fn published_rates_are_said_as_published() {
        assert_eq!(shown(21, 28), "3 sts for every 4 rows, 7 times");
        assert_eq!(shown(50, 80), "5 sts for every 8 rows, 10 times");
        assert_eq!(shown(16, 24), "2 sts for every 3 rows, 8 times");
        assert_eq!(shown(68, 102), "2 sts for every 3 rows, 34 times");
    }

    #[test]
    fn rates_in_words() {
        assert_eq!(
            shown(25, 44),
            "4 sts for every 7 rows, 6 times, then 1 st over the next 2 rows"
        );
        assert_eq!(
            shown(17, 18),
            "1 st in each of the next 16 rows, then 1 st over the next 2 rows"
        );
        assert_eq!(shown(3, 4), "skip the last row");
        assert_eq!(shown(9, 9), "1 st in each of the next 9 rows");
    }

    /// Both sides of an armhole are mirror images.
    #[test]
    fn the_other_side_has_the_rates_in_the_opposite_order() {
        let [mut first, mirrored] =
            [Half::First, Half::Mirrored].map(|half| RateStretch::new(25, 44, half).rates);
        first.reverse();
        assert_eq!(first, mirrored);
    }
}
