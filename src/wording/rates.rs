//! A number of stitches over a number of rows, said as at most two simple rates.

/// `stitches` in every `rows` rows, `times` times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rate {
    /// Stitches picked up in one repeat.
    pub stitches: u32,
    /// Rows of one repeat.
    pub rows: u32,
    /// Repeats.
    pub times: u32,
}

impl Rate {
    /// What a knitter has to keep in mind: a long repeat and many repeats both weigh. A rate of
    /// every row is counted off in one go.
    pub(super) fn cost(self) -> u32 {
        let repeats = if self.rows == 1 {
            self.times.min(3)
        } else {
            self.times
        };
        repeats + 2 * self.rows
    }
}

/// The longest repeat that is offered, in rows.
pub(super) const LONGEST: u32 = 10;

/// Rates that multiply out to exactly `stitches` over `rows`, the one with more rows first.
///
/// Any fraction n/m lies between two neighbours p1/q1 <= n/m <= p2/q2 of the Farey sequence of
/// each order, and p2 q1 - p1 q2 = 1 makes a = p2 m - q2 n, b = q1 n - p1 m whole numbers, not
/// negative, with n = a p1 + b p2 and m = a q1 + b q2 (Hardy and Wright, An Introduction to the
/// Theory of Numbers, chapter 3; from memory). Of the orders up to ten the pair that is easiest
/// to knit is taken; the weights are ours.
///
/// Empty when there is nothing to pick up, or more than one stitch a row throughout.
pub fn rates(stitches: u32, rows: u32) -> Vec<Rate> {
    if stitches == 0 || stitches > rows {
        return Vec::new();
    }
    let longest = LONGEST.max(rows.div_ceil(stitches));
    let pairs = (1..=longest).map(|order| split(stitches, rows, order));
    let pairs = pairs.filter(|pair| pair.iter().all(|rate| rate.stitches > 0));
    let best = pairs.min_by_key(|pair| {
        let repeats: u32 = pair.iter().map(|r| r.cost()).sum();
        let second = 4 * u32::from(pair.len() > 1);
        let repeats = repeats + 20 * u32::from(says_nothing(pair));
        (
            repeats + second + unevenness(stitches, rows, pair),
            pair.len(),
        )
    });
    best.unwrap_or_default()
}

/// A single repeat that leaves out several rows does not say which.
fn says_nothing(pair: &[Rate]) -> bool {
    matches!(pair, [only] if only.times == 1 && only.rows > only.stitches + 1)
}

/// Twenty for every stitch by which the pick-up runs ahead of or behind an even one where the
/// rates change.
pub(super) fn unevenness(stitches: u32, rows: u32, pair: &[Rate]) -> u32 {
    let Some(first) = pair.first() else { return 0 };
    let done = u64::from(first.stitches * first.times) * u64::from(rows);
    let even = u64::from(first.rows * first.times) * u64::from(stitches);
    u32::try_from(20 * done.abs_diff(even) / u64::from(rows)).unwrap_or(u32::MAX)
}

/// The split of this order. Walks the Stern-Brocot tree from 0/1 and 1/1.
fn split(n: u32, m: u32, order: u32) -> Vec<Rate> {
    let (mut low, mut high) = ((0, 1), (1, 1));
    loop {
        let between = (low.0 + high.0, low.1 + high.1);
        if between.1 > order {
            break;
        }
        if u64::from(between.0) * u64::from(m) <= u64::from(n) * u64::from(between.1) {
            low = between;
        } else {
            high = between;
        }
    }
    let a = high.0 * m - high.1 * n;
    let b = low.1 * n - low.0 * m;
    let rate = |(stitches, rows): (u32, u32), times| Rate {
        stitches,
        rows,
        times,
    };
    let mut both = vec![rate(low, a), rate(high, b)];
    both.retain(|rate| rate.times > 0);
    both.sort_by_key(|rate| std::cmp::Reverse(rate.rows * rate.times));
    both
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arithmetic: every zone multiplies out, and no rate is closer than a row.
    #[test]
    fn every_zone_multiplies_out() {
        for rows in 1..=120 {
            for stitches in 1..=rows {
                let found = rates(stitches, rows);
                assert!(!found.is_empty() && found.len() <= 2);
                let sum = |f: fn(&Rate) -> u32| found.iter().map(f).sum::<u32>();
                assert_eq!(sum(|r| r.stitches * r.times), stitches);
                assert_eq!(sum(|r| r.rows * r.times), rows);
                let longest = LONGEST.max(rows.div_ceil(stitches));
                assert!(
                    found
                        .iter()
                        .all(|r| r.stitches <= r.rows && r.rows <= longest)
                );
            }
        }
    }

    /// A rate of every row first and every second row later would gather the sleeve on one side.
    /// An armhole edge rarely has more than sixty rows.
    #[test]
    fn a_zone_is_never_two_stitches_from_even() {
        for rows in 1..=60u32 {
            for stitches in rows.div_ceil(3)..=rows {
                let off = unevenness(stitches, rows, &rates(stitches, rows));
                assert!(off < 40, "{stitches} over {rows}: {off}");
            }
        }
    }

    #[test]
    fn nothing_closer_than_a_row_is_offered() {
        assert_eq!(rates(5, 4), []);
        assert_eq!(rates(0, 4), []);
    }
}
