//! Many sleeves with gauges drawn from what the counts allow, the same ones on every run.

use super::follow::Follow;
use super::knitted::Quantity;
use crate::measure::Interval;

/// How many sleeves are drawn: the ends of a 95 % interval then move by about a fiftieth of its width from
/// one start to another, less than is shown.
pub const SLEEVES: usize = 2000;

/// Where the fixed generator starts: any number would do.
const START: u64 = 0x5EED_0F5E_A5E5;

/// The `SplitMix64` generator: Steele, Lea and Flood, Fast splittable pseudorandom number
/// generators, OOPSLA 2014. Fixed, so that the same case prints the same numbers.
#[derive(Clone, Copy, Debug)]
pub struct SplitMix64(u64);

impl SplitMix64 {
    /// A generator that starts here.
    pub const fn new(start: u64) -> Self {
        Self(start)
    }

    /// The next 64 bits.
    pub const fn next_bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A place below `count`, each as likely as the others but for a part in 2^50.
    fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next_bits() % (count.max(1) as u64)).unwrap_or(0)
    }
}

/// The 95 % interval of every measure over [`SLEEVES`] simulated sleeves.
///
/// Latin hypercube sampling (`McKay`, Beckman and Conover, Technometrics 21, 1979, 239-245): each
/// input's distribution is cut into as many slices of equal chance as there are sleeves, the middle
/// of every slice is used once, and the slices of the inputs are combined at random. The true gauge
/// is taken to be Student's t around the mean of repeated counts, and anywhere in the reading error
/// where they agree more closely than they can be read, as JCGM 101:2008 (supplement 1 to the GUM) 6.4 does. Where a measure adds two
/// errors from few counts, this interval is wider than Welch and Satterthwaite's (Behrens and
/// Fisher's problem). A gauge that was assumed or counted once stays where it is.
pub(super) fn simulate(follow: &Follow<'_>) -> Vec<Option<Interval>> {
    let mut generator = SplitMix64::new(START);
    let draws: Vec<Vec<f64>> = follow
        .inputs
        .iter()
        .map(|input| {
            let draw = |slice: usize| {
                let p = (slice as f64 + 0.5) / SLEEVES as f64;
                let gauge = input.estimate.quantile(p);
                if input.is_known() {
                    input.bounded(gauge)
                } else {
                    input.estimate.mean
                }
            };
            let mut slices: Vec<f64> = (0..SLEEVES).map(draw).collect();
            shuffle(&mut slices, &mut generator);
            slices
        })
        .collect();
    let mut columns: Vec<Vec<f64>> = vec![Vec::new(); Quantity::ALL.len()];
    for sleeve in 0..SLEEVES {
        if follow.stop.is_set() {
            break;
        }
        let gauges: Vec<f64> = draws
            .iter()
            .filter_map(|slices| slices.get(sleeve).copied())
            .collect();
        let Some(measures) = follow.measures(&gauges) else {
            continue;
        };
        for (column, value) in columns.iter_mut().zip(measures) {
            column.extend(value);
        }
    }
    columns.into_iter().map(middle_95).collect()
}

/// Fisher and Yates, in the form of Durstenfeld (Communications of the ACM 7, 1964, 420).
fn shuffle(list: &mut [f64], generator: &mut SplitMix64) {
    for last in (1..list.len()).rev() {
        list.swap(last, generator.below(last + 1));
    }
}

/// The values that leave a fortieth on each side.
fn middle_95(mut values: Vec<f64>) -> Option<Interval> {
    values.sort_by(f64::total_cmp);
    let outside = values.len() / 40;
    let between = |first: usize| {
        let (a, b) = (values.get(first)?, values.get(first + 1)?);
        Some(f64::midpoint(*a, *b))
    };
    Some(Interval {
        low: between(outside.checked_sub(1)?)?,
        high: between(values.len() - outside - 1)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers after 1234567 as commonly published for this generator (from memory).
    #[test]
    fn the_generator_is_the_published_one() {
        let mut generator = SplitMix64::new(1_234_567);
        assert_eq!(generator.next_bits(), 6_457_827_717_110_365_317);
        assert_eq!(generator.next_bits(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn a_shuffle_keeps_every_value() {
        let mut list: Vec<f64> = (0..50).map(f64::from).collect();
        shuffle(&mut list, &mut SplitMix64::new(1));
        assert_ne!(list[..5], [0.0, 1.0, 2.0, 3.0, 4.0]);
        list.sort_by(f64::total_cmp);
        assert_eq!(list, (0..50).map(f64::from).collect::<Vec<_>>());
    }

    #[test]
    fn the_middle_leaves_a_fortieth_on_each_side() {
        let list: Vec<f64> = (0..1000).map(f64::from).collect();
        assert_eq!(
            middle_95(list),
            Some(Interval {
                low: 24.5,
                high: 974.5
            })
        );
        assert_eq!(middle_95(Vec::new()), None);
    }
}
