//! Rates that all sizes of a set have in common, so that only how often each is worked differs.
//!
//! Two kinds are looked at. Every size's pick-up lies between the same two neighbours of a Farey sequence: then
//! both rates are the same in all sizes (see `rates.rs`). Or one rate is worked as often as it goes, and what is left
//! follows: a few stitches over a few rows.

use super::rates::{LONGEST, Rate, unevenness};

/// Rates of one size; every size has as many, in the same order.
pub(crate) type Rates = Vec<Rate>;

/// How far a pick-up may run ahead of an even one, in twentieths of a stitch.
const UNEVEN: u32 = 30;
/// A list that differs from size to size weighs as much as so many repeats a size.
const LIST: u32 = 6;
/// Stitches that may follow a rate as they come.
pub(super) const MOST_LEFT: u32 = 3;

/// Rates for these stitches over these rows, size by size; nothing where there are none in common.
pub(crate) fn common(sizes: &[(u32, u32)]) -> Option<Vec<Rates>> {
    let usable = |&(stitches, rows): &(u32, u32)| stitches > 0 && stitches <= rows;
    if !sizes.iter().all(usable) {
        return None;
    }
    let pairs = neighbours(sizes).into_iter().map(|pair| two(sizes, pair));
    let least = |rows: u32| rows.div_ceil(3);
    let lowest_terms = |&(stitches, rows): &Fraction| {
        (2..=stitches).all(|n| !(stitches.is_multiple_of(n) && rows.is_multiple_of(n)))
    };
    let mains =
        (1..=LONGEST).flat_map(|rows| (least(rows)..=rows).map(move |stitches| (stitches, rows)));
    let mains = mains
        .filter(lowest_terms)
        .filter_map(|main| one_and_rest(sizes, main));
    let found = pairs.chain(mains).map(without_empty);
    let found = found.filter_map(|rates| Some((cost(sizes, &rates)?, rates)));
    found.min_by_key(|(cost, _)| *cost).map(|(_, rates)| rates)
}

type Fraction = (u32, u32);

/// The neighbours of each order between which all sizes lie, down the Stern-Brocot tree.
fn neighbours(sizes: &[(u32, u32)]) -> Vec<(Fraction, Fraction)> {
    let (mut low, mut high): (Fraction, Fraction) = ((0, 1), (1, 1));
    let mut all = Vec::new();
    loop {
        // Two rates that are too unlike are no even pick-up: at the most a third of a stitch a row apart.
        let apart = high.0 * low.1 - low.0 * high.1;
        if low.0 > 0 && 3 * apart <= low.1 * high.1 {
            all.push((low, high));
        }
        let between = (low.0 + high.0, low.1 + high.1);
        if between.1 > LONGEST {
            return all;
        }
        let above = |&(n, m): &(u32, u32)| between.0 * m <= n * between.1;
        let below = |&(n, m): &(u32, u32)| between.0 * m >= n * between.1;
        if sizes.iter().all(above) {
            low = between;
        } else if sizes.iter().all(below) {
            high = between;
        } else {
            return all;
        }
    }
}

/// Both rates as often as they multiply out to the size's stitches and rows; the rate that has more rows in all
/// sizes together comes first.
fn two(sizes: &[(u32, u32)], (low, high): (Fraction, Fraction)) -> Vec<Rates> {
    let rate = |(stitches, rows): Fraction, times: u32| Rate {
        stitches,
        rows,
        times,
    };
    let of = |&(n, m): &(u32, u32)| {
        let a = (high.0 * m).saturating_sub(high.1 * n);
        let b = (low.1 * n).saturating_sub(low.0 * m);
        [rate(low, a), rate(high, b)]
    };
    let all: Vec<[Rate; 2]> = sizes.iter().map(of).collect();
    let rows = |place: usize| -> u32 {
        let rates = all.iter().filter_map(|size| size.get(place));
        rates.map(|rate| rate.rows * rate.times).sum()
    };
    let turned = rows(0) < rows(1);
    let ordered = all.into_iter().map(|[first, second]| {
        if turned {
            vec![second, first]
        } else {
            vec![first, second]
        }
    });
    ordered.collect()
}

/// One rate as often as it goes, and the rest.
fn one_and_rest(sizes: &[(u32, u32)], main: Fraction) -> Option<Vec<Rates>> {
    let of = |&(n, m): &(u32, u32)| {
        let most = (n / main.0).min(m / main.1);
        (most.saturating_sub(2)..=most).rev().find_map(|times| {
            let (stitches, rows) = (n - times * main.0, m - times * main.1);
            let fits = stitches <= MOST_LEFT
                && rows >= stitches
                && rows <= 2 * stitches + u32::from(stitches > 0);
            fits.then(|| {
                vec![
                    Rate {
                        stitches: main.0,
                        rows: main.1,
                        times,
                    },
                    Rate {
                        stitches,
                        rows,
                        times: 1,
                    },
                ]
            })
        })
    };
    sizes.iter().map(of).collect()
}

/// A rate that no size works is left out.
fn without_empty(mut sizes: Vec<Rates>) -> Vec<Rates> {
    let longest = sizes.iter().map(Vec::len).max().unwrap_or(0);
    for place in (0..longest).rev() {
        let works = |size: &Rates| {
            let rate = size.get(place);
            rate.is_some_and(|rate| rate.stitches * rate.times > 0)
        };
        if !sizes.iter().any(works) {
            for size in &mut sizes {
                size.remove(place);
            }
        }
    }
    sizes
}

/// What a set of rates asks of whoever reads it; nothing where a size would be picked up too unevenly.
fn cost(sizes: &[(u32, u32)], rates: &[Rates]) -> Option<u32> {
    let mut all = 0;
    for (&(stitches, rows), size) in sizes.iter().zip(rates) {
        let uneven = unevenness(stitches, rows, size);
        if uneven > UNEVEN {
            return None;
        }
        let each: u32 = size.iter().map(|rate| rate.cost()).sum();
        all += uneven + each;
    }
    let count = u32::try_from(sizes.len()).ok()?;
    Some(all + LIST * count * lists(rates))
}

/// How many numbers differ from size to size.
fn lists(sizes: &[Rates]) -> u32 {
    let Some((first, others)) = sizes.split_first() else {
        return 0;
    };
    let differ = |place: usize, number: fn(&Rate) -> u32| {
        let own = first.get(place).map(number);
        u32::from(others.iter().any(|o| o.get(place).map(number) != own))
    };
    let places = 0..first.len();
    places
        .map(|place| {
            differ(place, |rate| rate.stitches)
                + differ(place, |rate| rate.rows)
                + differ(place, |rate| rate.times)
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(sizes: &[(u32, u32)]) -> Vec<String> {
        let found = common(sizes).unwrap();
        let rate = |r: &Rate| format!("{}/{} x{}", r.stitches, r.rows, r.times);
        found
            .iter()
            .map(|size| size.iter().map(rate).collect::<Vec<_>>().join(" "))
            .collect()
    }

    /// Arithmetic, for all sizes of some sets: the rates multiply out, and are the same in all sizes or a rest.
    #[test]
    fn every_size_multiplies_out() {
        let mut found_some = 0;
        for seed in 0..400_u32 {
            let size = |i: u32| {
                let rows = 4 + (seed * 7 + i * 5) % 40;
                let stitches = (rows * (50 + (seed * 3 + i) % 40) / 100).max(1);
                (stitches, rows)
            };
            let sizes: Vec<(u32, u32)> = (0..4).map(size).collect();
            let Some(found) = common(&sizes) else {
                continue;
            };
            found_some += 1;
            for (&(stitches, rows), rates) in sizes.iter().zip(&found) {
                let sum = |f: fn(&Rate) -> u32| rates.iter().map(f).sum::<u32>();
                assert_eq!(sum(|r| r.stitches * r.times), stitches);
                assert_eq!(sum(|r| r.rows * r.times), rows);
            }
        }
        assert!(found_some > 200, "{found_some}");
    }

    /// By hand: 11/25, 13/29 and 12/26 lie between 3/7 and 1/2, and 3 x 7 + 2 x 2 = 25.
    #[test]
    fn the_rates_are_those_of_all_sizes() {
        assert_eq!(
            shown(&[(11, 25), (13, 29), (12, 26)]),
            ["3/7 x3 1/2 x2", "3/7 x3 1/2 x4", "3/7 x2 1/2 x6"]
        );
        assert_eq!(
            shown(&[(6, 10), (6, 10), (8, 13)]),
            ["3/5 x2 2/3 x0", "3/5 x2 2/3 x0", "3/5 x2 2/3 x1"]
        );
    }

    /// A crown a row longer than two in three is that rate and the rest.
    #[test]
    fn a_rest_follows_where_no_two_rates_fit() {
        let sizes = [(16, 24), (18, 28), (19, 28)];
        for rates in common(&sizes).unwrap() {
            assert!(rates.len() <= 2);
            assert_eq!((rates[0].stitches, rates[0].rows), (2, 3));
        }
    }
}
