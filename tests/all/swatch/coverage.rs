//! How often the 95 % intervals hold the truth, by simulation with a fixed generator.
//!
//! The truth is known here, so this needs no reference values. 20 000 swatches each: the standard
//! error of a share of 0.95 is then 0.0015.

use capwright::case::SwatchCount;
use capwright::measure::{Interval, Length};
use capwright::swatch::statistics::{Fieller, Uncertain, WelchTest, delta_ratio, fieller};
use capwright::swatch::{Estimate, Measured, USUALLY_APART_PCT, Verdict, drift, estimate};

const SWATCHES: u32 = 20_000;
/// Counts read exactly, so that nothing but the spread is simulated.
const EXACT: f64 = 1e-9;
const HALVES: f64 = 0.5;

/// The `SplitMix64` generator (Steele, Lea and Flood, OOPSLA 2014), normal by Box and Muller.
struct Generator(u64);

impl Generator {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.uniform())).sqrt();
        radius * libm::cos(std::f64::consts::TAU * self.uniform())
    }

    /// Counts of a fabric of this gauge and deviation per 10 cm, each over its length and read to
    /// the division; the variance falls with the length.
    fn counts(&mut self, gauge: f64, sd: f64, lengths_cm: &[f64], division: f64) -> Estimate {
        let counts: Vec<SwatchCount> = lengths_cm
            .iter()
            .map(|cm| {
                let per_10cm = gauge + sd * self.normal() * (10.0 / cm).sqrt();
                SwatchCount {
                    counted: (per_10cm * cm / 10.0 / division).round() * division,
                    over: Length::cm(*cm),
                }
            })
            .collect();
        estimate(&counts, division).unwrap()
    }
}

/// The share of trials in which something is true.
fn share(seed: u64, mut trial: impl FnMut(&mut Generator) -> bool) -> f64 {
    let mut generator = Generator(seed);
    let hits = (0..SWATCHES).filter(|_| trial(&mut generator)).count();
    hits as f64 / f64::from(SWATCHES)
}

fn holds(estimate: &Estimate, gauge: f64) -> bool {
    estimate.low <= gauge && gauge <= estimate.high
}

#[test]
fn the_generator_is_normal() {
    let inside = |limit: f64| share(7, move |g| g.normal().abs() < limit);
    assert!((inside(1.0) - 0.6827).abs() < 0.01);
    assert!((inside(1.959964) - 0.95).abs() < 0.005);
}

#[test]
fn student_intervals_hold_the_gauge_95_times_in_100() {
    for (seed, n) in [(1, 2), (2, 3), (3, 5), (4, 10)] {
        let lengths = vec![10.0; n];
        let covered = share(seed, |g| holds(&g.counts(22.0, 0.6, &lengths, EXACT), 22.0));
        assert!((0.94..=0.96).contains(&covered), "{n} counts: {covered}");
    }
}

#[test]
fn so_do_those_of_counts_over_several_lengths() {
    let lengths = [5.0, 10.0, 10.16, 20.0];
    let covered = share(5, |g| holds(&g.counts(30.0, 0.8, &lengths, EXACT), 30.0));
    assert!((0.94..=0.96).contains(&covered), "{covered}");
}

/// Counts read to halves: the intervals are never too narrow, however evenly the swatch is knit.
#[test]
fn counts_read_to_halves_hold_the_gauge_at_least_as_often() {
    for n in [2, 3, 4, 8] {
        let lengths = vec![10.0; n];
        for sd in [0.05, 0.2, 0.3, 0.35, 0.4, 0.5] {
            let covered = share(6, |g| {
                let gauge = 22.0 + g.uniform();
                holds(&g.counts(gauge, sd, &lengths, HALVES), gauge)
            });
            assert!(covered >= 0.945, "{n} counts of deviation {sd}: {covered}");
        }
    }
}

/// What a single count's reading error holds: all of it where a swatch is perfectly even, about half of
/// it as people knit. So it is no interval, and none is given.
#[test]
fn one_count_is_no_interval() {
    let covered = |sd: f64| {
        share(8, |g| {
            let gauge = 22.0 + g.uniform();
            let one = g.counts(gauge, sd, &[10.0], HALVES);
            assert_eq!(one.interval(), None);
            assert_eq!(one.chance_above(gauge), None);
            holds(&one, gauge)
        })
    };
    assert!((covered(0.0) - 1.0).abs() < 1e-12);
    for sd in [0.3, 0.35, 0.4] {
        assert!((0.4..0.6).contains(&covered(sd)), "{sd}: {}", covered(sd));
    }
}

/// Two swatches of one knitter, knitted alike and counted once: nothing is ever said to be settled, and
/// they are apart by about the 2 % that the sentences name.
#[test]
fn two_single_counts_settle_nothing() {
    let mut apart = Vec::new();
    let settled = share(12, |g| {
        let gauge = 22.0 + g.uniform();
        let sd = 0.3 + 0.1 * g.uniform();
        let mut of = || {
            let stitches = g.counts(gauge, sd, &[10.0], HALVES);
            Measured {
                stitches,
                rows: stitches,
            }
        };
        let (flat, round) = (of(), of());
        let ratio = drift(&flat, &round).stitches;
        apart.push(ratio.pct.abs());
        ratio.verdict != Verdict::Open || ratio.interval().is_some()
    });
    assert!(settled == 0.0, "{settled}");
    let mean = apart.iter().sum::<f64>() / apart.len() as f64;
    assert!((mean - USUALLY_APART_PCT).abs() < 0.5, "{mean}");
}

/// The same two swatches counted more often: they are called different no more than 5 times in 100
/// (two halves of a standard error more), however few the counts.
#[test]
fn swatches_knitted_alike_are_seldom_called_different() {
    for (seed, first, second) in [(13, 2, 2), (14, 2, 3), (15, 3, 3), (16, 4, 4), (17, 6, 3)] {
        for sd in [0.3, 0.35, 0.4] {
            let called = share(seed, |g| {
                let gauge = 22.0 + g.uniform();
                let mut of = |n: usize| {
                    let stitches = g.counts(gauge, sd, &vec![10.0; n], HALVES);
                    Measured {
                        stitches,
                        rows: stitches,
                    }
                };
                let (flat, round) = (of(first), of(second));
                drift(&flat, &round).stitches.verdict == Verdict::Differ
            });
            assert!(
                called <= 0.055,
                "{first} and {second} counts, {sd}: {called}"
            );
        }
    }
}

/// Two swatches of unequal spread and number: gauge, deviation and counts of each.
type Knit = (f64, f64, usize);

fn two(g: &mut Generator, flat: Knit, round: Knit) -> (Uncertain, Uncertain) {
    let mut of = |(gauge, sd, n): Knit| g.counts(gauge, sd, &vec![10.0; n], EXACT).uncertain();
    (of(flat), of(round))
}

/// How often the delta method's and Fieller's intervals hold the true drift.
fn ratio_coverage(seed: u64, flat: Knit, round: Knit) -> (f64, f64) {
    let truth = round.0 / flat.0;
    let delta = share(seed, |g| {
        let (x, y) = two(g, flat, round);
        let Interval { low, high } = delta_ratio(x, y).interval();
        low <= truth && truth <= high
    });
    let fieller = share(seed, |g| {
        let (x, y) = two(g, flat, round);
        match fieller(x, y) {
            Fieller::Between { low, high } => low <= truth && truth <= high,
            Fieller::Outside { at_most, at_least } => truth <= at_most || truth >= at_least,
            Fieller::Anything => true,
        }
    });
    (delta, fieller)
}

#[test]
fn welch_calls_equal_swatches_different_5_times_in_100() {
    let (flat, round) = ((22.0, 0.4, 6), (22.0, 0.8, 4));
    let called = share(9, |g| {
        let (x, y) = two(g, flat, round);
        WelchTest::of(x, y).p < 0.05
    });
    assert!((0.04..=0.06).contains(&called), "{called}");
}

#[test]
fn the_drifts_intervals_hold_the_drift_95_times_in_100() {
    let (delta, fieller) = ratio_coverage(10, (22.0, 0.5, 5), (23.0, 0.9, 6));
    assert!((0.94..=0.96).contains(&delta), "delta method: {delta}");
    assert!((0.94..=0.96).contains(&fieller), "Fieller: {fieller}");
}

/// Three counts of deviation 30 per cent are far beyond any swatch: the sets are often unbounded,
/// and still hold the truth as often as they say.
#[test]
fn fieller_is_right_when_the_first_gauge_is_very_uncertain() {
    let (flat, round) = ((22.0, 6.6, 3), (23.0, 0.3, 8));
    let (_, covered) = ratio_coverage(11, flat, round);
    assert!((0.94..=0.96).contains(&covered), "{covered}");
    let unbounded = share(11, |g| {
        let (x, y) = two(g, flat, round);
        !matches!(fieller(x, y), Fieller::Between { .. })
    });
    assert!(unbounded > 0.1, "{unbounded}");
}
