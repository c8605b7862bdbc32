//! How often the 95 % intervals of a sleeve's measures hold the truth, by simulation.
//!
//! The truth is known here, so this needs no reference values: swatches are knitted at a known
//! gauge, counted, and followed to the sleeve; the sleeve at the known gauge must lie in the interval
//! 94 to 96 times in 100. 6000 trials: the standard error of a share of 0.95 is then 0.0028.

use super::follow::{Drives, Follow, Input};
use super::sizing::Sizing;
use super::spread::delta;
use super::{Quantity, SplitMix64, read_garment, sleeves};
use crate::case::{Case, SwatchCount, read_case};
use crate::convert::GaugeSource;
use crate::measure::{Length, Stop};
use crate::swatch::{Counted, Estimate, estimate};

const TRIALS: u32 = 6000;
/// Counts read exactly, so that nothing but the spread is simulated.
const EXACT: f64 = 1e-9;

const CASE: &str = r#"
units = "cm"
[gauge.pattern]
stitches = 22
rows = 30
[gauge.flat]
stitches = 22.5
rows = 30.5
[gauge.round]
stitches = 23.5
rows = 32
[sleeve]
stitches = 70
cap = """
Bind off 5 sts at the beginning of the next 2 rows.
Decrease 1 st each end of the next 3 rows, then every other row 11 times, then the next 3 rows.
Bind off 3 sts at the beginning of the next 4 rows.
Bind off 14 sts.
"""
cuff_stitches = 44
length = 44
[armhole]
edge = 18.2
underarm = 2
depth = 17
"#;

fn case() -> Case {
    read_case(CASE).0.unwrap()
}

/// Normal by Box and Muller (Annals of Mathematical Statistics 29, 1958, 610-611).
fn normal(generator: &mut SplitMix64) -> f64 {
    let mut uniform = || (generator.next_bits() >> 11) as f64 / (1_u64 << 53) as f64;
    let radius = (-2.0 * libm::log(1.0 - uniform())).sqrt();
    radius * libm::cos(std::f64::consts::TAU * uniform())
}

/// What `count` counts say of a fabric of this gauge and deviation per 10 cm.
fn counted(generator: &mut SplitMix64, gauge: f64, sd: f64, count: usize) -> Estimate {
    let counts = (0..count).map(|_| SwatchCount {
        counted: gauge + sd * normal(generator),
        over: Length::cm(10.0),
    });
    estimate(&counts.collect::<Vec<_>>(), EXACT).unwrap()
}

/// The share of trials in which each measure's interval holds the truth.
fn coverage(counts: [usize; 4], sds: [f64; 4]) -> Vec<(Quantity, f64)> {
    let case = case();
    let garments = read_garment(&case, None, &Stop::never()).unwrap();
    let sizing = Sizing {
        case: &case,
        index: 0,
        old: &garments.sizes[0].1,
        gauge: &garments.gauge,
        stop: &Stop::never(),
    };
    let plan = sleeves::plan(&sizing, sizing.truth()).unwrap();
    let kinds = [
        (Drives::Tube, GaugeSource::Round, Counted::Stitches),
        (Drives::Tube, GaugeSource::Round, Counted::Rows),
        (Drives::Cap, GaugeSource::Flat, Counted::Stitches),
        (Drives::Cap, GaugeSource::Flat, Counted::Rows),
    ];
    let truth = [23.5, 32.0, 22.5, 30.5];
    let mut generator = SplitMix64::new(20_261_125);
    let mut draw = || -> Vec<Input> {
        kinds
            .iter()
            .enumerate()
            .map(|(i, (drives, source, kind))| Input {
                drives: *drives,
                source: *source,
                counted: *kind,
                estimate: counted(&mut generator, truth[i], sds[i], counts[i]),
                assumed: false,
            })
            .collect()
    };
    let first = draw();
    let right = Follow::new(&sizing, &plan, &first)
        .measures(&truth)
        .unwrap();
    let mut held = vec![0_u32; Quantity::ALL.len()];
    for _ in 0..TRIALS {
        let inputs = draw();
        for measure in delta(&Follow::new(&sizing, &plan, &inputs)) {
            let at = measure.quantity.place();
            let truth = right[at].unwrap();
            held[at] += u32::from(measure.low <= truth && truth <= measure.high);
        }
    }
    let shares = held.iter().map(|n| f64::from(*n) / f64::from(TRIALS));
    Quantity::ALL.into_iter().zip(shares).collect()
}

/// The measures that hang on a single count are exact but for the step to first order; area and
/// armhole share add two variances, and their degrees of freedom by Welch and Satterthwaite err on
/// the safe side when there are few counts.
#[test]
fn intervals_of_every_measure_hold_the_truth_95_times_in_100() {
    for (counts, sds, most) in [
        ([4, 4, 4, 4], [0.4, 0.6, 0.4, 0.6], 0.97),
        ([6, 5, 8, 10], [0.3, 0.5, 0.2, 0.9], 0.96),
    ] {
        for (quantity, share) in coverage(counts, sds) {
            let adds = matches!(quantity, Quantity::CapArea | Quantity::ArmholeShare);
            let most = if adds { most } else { 0.96 };
            assert!(
                (0.94..=most).contains(&share),
                "{}: {share} with {counts:?} counts",
                quantity.name()
            );
        }
    }
}
