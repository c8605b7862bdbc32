//! The spread of arms against what the surveys counted and what is published.

use std::collections::BTreeMap;

use approx::assert_abs_diff_eq;
use capwright::body::{Arm, ArmSpread, Curve, Key, Regression, find, look_up, share_in_words};
use capwright::measure::Length;
use statrs::distribution::{Binomial, DiscreteCDF};

type Record<'a> = BTreeMap<&'a str, &'a str>;

fn records(text: &str) -> Vec<Record<'_>> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let head: Vec<&str> = lines.next().expect("a head").split(';').collect();
    lines
        .map(|line| head.iter().copied().zip(line.split(';')).collect())
        .collect()
}

fn number(record: &Record<'_>, key: &str) -> f64 {
    record[key].parse().expect("a number")
}

fn curve(sex: &str) -> &'static Curve {
    let id = if sex == "F" {
        "ansur2-women"
    } else {
        "ansur2-men"
    };
    find(id).unwrap().curve.as_ref().unwrap()
}

fn relaxed() -> Regression {
    find("usaf1967-men").unwrap().relaxed.unwrap()
}

pub(super) fn mm(length: Length) -> f64 {
    length.to_cm() * 10.0
}

pub(super) fn size(table: &str, size: &str) -> Arm {
    look_up(table, &Key::Size(size.to_owned()))
        .0
        .expect("a size")
}

/// The share predicted for a band: the mean over its chests, 1 mm apart.
fn predicted(curve: &Curve, band: &Record<'_>, arm_mm: f64) -> f64 {
    let from = number(band, "chest_lo_mm");
    let steps = 40;
    let shares = (0..steps).map(|i| {
        let chest = Length::cm((from + f64::from(i) + 0.5) / 10.0);
        curve.at(chest).share_below(Length::cm(arm_mm / 10.0))
    });
    shares.sum::<f64>() / f64::from(steps)
}

const PERCENTILES: [(&str, f64); 5] = [
    ("p5", 0.05),
    ("p25", 0.25),
    ("p50", 0.5),
    ("p75", 0.75),
    ("p95", 0.95),
];

/// Share predicted and share counted at one girth, and the people counted.
struct Comparison {
    predicted: f64,
    counted: f64,
    people: f64,
}

impl Comparison {
    /// Two points apart at most, or no farther than a count of so few people strays by chance in
    /// 99 cases of 100 (exact binomial). A count of 40 people strays by 20 points at its median,
    /// one of 700 by 5: no smooth curve can stay within two points of every count.
    fn agrees(&self) -> bool {
        self.away().abs() <= 0.02 || self.is_chance()
    }

    fn is_chance(&self) -> bool {
        let people = self.people as u64;
        let binomial = Binomial::new(self.predicted, people).expect("a share");
        let counted = self.counted * self.people;
        let fewer = binomial.cdf(counted.ceil() as u64);
        let more = 1.0 - binomial.cdf((counted.floor() as u64).saturating_sub(1));
        fewer > 0.005 && more > 0.005
    }

    fn away(&self) -> f64 {
        self.predicted - self.counted
    }

    /// Standard error of a share counted on so many people, if the prediction holds.
    fn chance(&self) -> f64 {
        (self.predicted * (1.0 - self.predicted) / self.people).sqrt()
    }
}

/// Every percentile counted in a chest band of at least 30 people, against a prediction.
fn comparisons(
    sex: &str,
    column: &str,
    predict: impl Fn(&Record<'_>, f64) -> f64,
) -> Vec<Comparison> {
    let text = include_str!("../../data/body/ansur2_biceps_by_chest_band.csv");
    records(text)
        .iter()
        .filter(|band| band["sex"] == sex && number(band, "n") >= 30.0)
        .flat_map(|band| PERCENTILES.map(|percentile| (band.clone(), percentile)))
        .filter(|(_, (name, _))| column.is_empty() || *name == column)
        .map(|(band, (name, counted))| Comparison {
            predicted: predict(&band, number(&band, name)),
            counted,
            people: number(&band, "n"),
        })
        .collect()
}

/// Every comparison agrees, and taken together the differences are no larger than chance makes
/// them: their mean square in units of chance is 1 on average.
fn agree(all: &[Comparison]) -> Result<(), String> {
    let apart = |c: &&Comparison| !c.agrees();
    if let Some(c) = all.iter().find(apart) {
        return Err(format!(
            "{:.3} {:.3} of {}",
            c.predicted, c.counted, c.people
        ));
    }
    let squares = all.iter().map(|c| (c.away() / c.chance()).powi(2));
    let average = squares.sum::<f64>() / all.len() as f64;
    if average < 1.5 {
        Ok(())
    } else {
        Err(format!("{average:.2} times chance"))
    }
}

/// Bands counted with numpy from the public rows (NATICK/TR-15/007).
#[test]
fn the_share_predicted_is_the_share_counted_in_every_chest_band() {
    for (sex, bands) in [("F", 10), ("M", 11)] {
        let all = comparisons(sex, "", |band, arm| predicted(curve(sex), band, arm));
        assert_eq!(all.len(), bands * PERCENTILES.len());
        assert_eq!(agree(&all), Ok(()), "{sex}");
    }
}

/// Where many were counted the count is sharp, and the prediction is within two points of it:
/// over all bands at every percentile, and at both ends in each band of 500 people or more.
#[test]
fn where_the_count_is_sharp_the_share_predicted_is_within_two_points() {
    for sex in ["F", "M"] {
        for (percentile, share) in PERCENTILES {
            let bands = comparisons(sex, percentile, |band, arm| {
                predicted(curve(sex), band, arm)
            });
            let people: f64 = bands.iter().map(|c| c.people).sum();
            let mean = bands.iter().map(|c| c.people * c.predicted).sum::<f64>() / people;
            assert_abs_diff_eq!(mean, share, epsilon = 0.02);
            let ends = percentile == "p5" || percentile == "p95";
            for c in bands.iter().filter(|c| ends && c.people >= 500.0) {
                assert!(c.away().abs() <= 0.02, "{sex} {percentile} {}", c.away());
            }
        }
    }
}

/// The check can fail: a straight line with one deviation (scipy, the survey's own regression)
/// does not pass it.
#[test]
fn a_straight_line_would_not_have_agreed() {
    for line in records(include_str!("../../data/body/ansur2_regression.csv")) {
        let straight = |band: &Record<'_>, arm: f64| {
            let chest = number(band, "chest_lo_mm") + 20.0;
            let mean = number(&line, "intercept_mm") + number(&line, "slope") * chest;
            normal((arm - mean) / number(&line, "residual_sd_mm"))
        };
        let all = comparisons(line["sex"], "", straight);
        let found = agree(&all);
        assert!(found.is_err(), "{}", line["sex"]);
    }
}

fn normal(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Averaged over the chests of the survey, the curve's arms are the survey's arms: mean,
/// deviation and correlation with the chest (law of total variance), against the summary.
#[test]
fn over_the_whole_survey_the_curve_gives_back_mean_deviation_and_correlation() {
    let bands = records(include_str!(
        "../../data/body/ansur2_biceps_by_chest_band.csv"
    ));
    for line in records(include_str!("../../data/body/ansur2_regression.csv")) {
        let sex = line["sex"];
        let summary = records(include_str!("../../data/body/ansur2_summary.csv"));
        let of = |measure: &str, column: &str| {
            let is = |r: &&Record<'_>| r["sex"] == sex && r["measure"] == measure;
            number(summary.iter().find(is).unwrap(), column)
        };
        let arm_mean = of("bicepscircumferenceflexed", "mean");
        let mut people = 0.0;
        let (mut sum, mut squares, mut with_chest, mut chests) = (0.0, 0.0, 0.0, 0.0);
        for band in bands.iter().filter(|band| band["sex"] == sex) {
            let n = number(band, "n");
            for step in 0..40 {
                let chest = number(band, "chest_lo_mm") + f64::from(step) + 0.5;
                let spread = curve(sex).at(Length::cm(chest / 10.0));
                let (mean, sd) = (mm(spread.mean()), mm(spread.sd()));
                let weight = n / 40.0;
                people += weight;
                sum += weight * mean;
                squares += weight * (sd * sd + (mean - arm_mean).powi(2));
                let away = chest - of("chestcircumference", "mean");
                with_chest += weight * (mean - arm_mean) * away;
                chests += weight * away * away;
            }
        }
        assert_abs_diff_eq!(sum / people, arm_mean, epsilon = 0.3);
        let sd = (squares / people).sqrt();
        assert_abs_diff_eq!(sd, of("bicepscircumferenceflexed", "sd"), epsilon = 0.5);
        let correlation = with_chest / people / (sd * (chests / people).sqrt());
        assert_abs_diff_eq!(correlation, number(&line, "r2").sqrt(), epsilon = 0.01);
    }
}

/// The deviation round the curve is the one counted at that chest. In a band of 4 cm the arms also differ
/// by the chest, evenly over the band: that part is taken off the counted deviation. Two standard errors of
/// a deviation (sd / sqrt(2 n), normal) and what a straight line between the corners leaves.
#[test]
fn the_spread_is_the_one_counted_there() {
    for band in records(include_str!(
        "../../data/body/ansur2_biceps_by_chest_band.csv"
    )) {
        let n = number(&band, "n");
        let middle = number(&band, "chest_lo_mm") + 20.0;
        if n < 60.0 {
            continue;
        }
        let curve = curve(band["sex"]);
        let centre = |mm: f64| libm::log(curve.at(Length::cm(mm / 10.0)).quantile(0.5).to_cm());
        let rise = centre(middle + 20.0) - centre(middle - 20.0);
        let counted = number(&band, "sd") / number(&band, "mean");
        let round = (counted * counted - rise * rise / 12.0).sqrt();
        let found = curve.sd_at(Length::cm(middle / 10.0));
        let allowed = 2.0 * round / (2.0 * n).sqrt() + 0.002;
        assert!(
            (found - round).abs() < allowed,
            "{} {middle}: {found} {round}",
            band["sex"]
        );
    }
    // The women of the widest band, 1040 to 1080 mm: 26.9 of 336.1 mm, 0.0794 without the chest's part.
    for bust in [104.0, 107.0, 110.0] {
        assert_abs_diff_eq!(curve("F").sd_at(Length::cm(bust)), 0.079, epsilon = 0.001);
    }
}

/// The arm at the armpit is turned out of the flexed biceps rank by rank; the percentiles printed for both
/// girths (NATICK/TR-89/044) pair off to a millimetre.
#[test]
fn the_arm_at_the_armpit_is_the_published_one() {
    let published = records(include_str!("../../data/body/ansur1988.csv"));
    let of = |sex: &str, measure: &str, column: &str| {
        let is = |r: &&Record<'_>| r["sex"] == sex && r["measure"].trim_matches('"') == measure;
        number(published.iter().find(is).unwrap(), column)
    };
    let (biceps, armpit) = ("biceps circumference, flexed", "axillary arm circumference");
    for (sex, table) in [("F", "ansur2-women"), ("M", "ansur2-men")] {
        let arm = look_up(table, &Key::Bust(Length::cm(96.0))).0.unwrap();
        let (flexed, found) = (arm.spread.unwrap(), arm.armpit.unwrap());
        let slope = of(sex, armpit, "sd_mm") / of(sex, biceps, "sd_mm");
        let at =
            |girth: f64| of(sex, armpit, "mean_mm") + slope * (girth - of(sex, biceps, "mean_mm"));
        for share in [0.05, 0.5, 0.95] {
            let expected = at(mm(flexed.quantile(share)));
            // The shifted log-normal is matched by mean, deviation and skewness.
            assert_abs_diff_eq!(mm(found.quantile(share)), expected, epsilon = 0.5);
        }
        if sex == "F" {
            for column in ["p5_mm", "p50_mm", "p95_mm"] {
                let pairs = at(of(sex, biceps, column));
                assert_abs_diff_eq!(pairs, of(sex, armpit, column), epsilon = 1.0);
            }
        }
    }
    // A chart's sizes have it as well, and it is more than the hanging biceps.
    let m = size("woman", "M");
    assert!(m.armpit.unwrap().mean() > m.spread.unwrap().mean());
}

/// A share is never said more finely than a survey knows it: of 130 people (a band of 4 cm of chest, the
/// one of 104 to 108 cm) drawn again and again, the words are the true ones or their neighbours 95 times in
/// 100.
#[test]
fn a_share_is_no_finer_than_its_interval() {
    let mut words: Vec<&str> = Vec::new();
    for percent in 0..=100 {
        let word = share_in_words(f64::from(percent) / 100.0);
        if words.last() != Some(&word) {
            words.push(word);
        }
    }
    assert_eq!(words.len(), 9);
    let place = |share: f64| {
        words
            .iter()
            .position(|w| *w == share_in_words(share))
            .unwrap()
    };
    let mut seed = 1_u64;
    let mut uniform = || {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1_u64 << 53) as f64
    };
    for percent in (1..100).step_by(3) {
        let share = f64::from(percent) / 100.0;
        let near = (0..2000).filter(|_| {
            let counted = (0..130).filter(|_| uniform() < share).count() as f64 / 130.0;
            place(counted).abs_diff(place(share)) <= 1
        });
        let near = near.count() as f64 / 2000.0;
        assert!(near >= 0.94, "{percent}: {near}");
    }
}

/// The interval of a straight line by the textbook: s sqrt(1 + 1/n + (x - mean)^2 / Sxx), with
/// Sxx = (s / standard error of the slope)^2 of the survey's own regression by scipy.
#[test]
fn the_interval_is_that_of_the_textbook() {
    let chests = [760.0, 900.0, 1000.0, 1160.0];
    for line in records(include_str!("../../data/body/ansur2_regression.csv")) {
        let [n, s, mean] = ["n", "residual_sd_mm", "x_mean_mm"].map(|c| number(&line, c));
        let sxx = (s / number(&line, "slope_se")).powi(2);
        let straight = Curve {
            coefficients: vec![number(&line, "intercept_mm"), number(&line, "slope")],
            centre_mm: 0.0,
            scale_mm: 1.0,
            residual_sd: s,
            local_sd: vec![(0.0, s)],
            inverse: vec![
                vec![1.0 / n + mean * mean / sxx, -mean / sxx],
                vec![-mean / sxx, 1.0 / sxx],
            ],
            ..curve(line["sex"]).clone()
        };
        for chest in chests {
            let ArmSpread::Log { scale, freedom, .. } = straight.at(Length::cm(chest / 10.0))
            else {
                panic!("a curve gives a Student t");
            };
            let textbook = s * (1.0 + 1.0 / n + (chest - mean).powi(2) / sxx).sqrt();
            assert_abs_diff_eq!(scale, textbook, epsilon = 1e-9 * s);
            assert_abs_diff_eq!(freedom, n - 2.0);
        }
    }
}

/// Critical values of Student's t: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2
/// (from memory).
#[test]
fn quantiles_are_students() {
    for (freedom, share, t) in [
        (1.0, 0.95, 6.314),
        (5.0, 0.95, 2.015),
        (10.0, 0.95, 1.812),
        (10.0, 0.975, 2.228),
        (30.0, 0.95, 1.697),
        (100.0, 0.95, 1.660),
    ] {
        let spread = ArmSpread::Log {
            shift_cm: 0.0,
            centre: 3.0,
            scale: 0.1,
            freedom,
        };
        let found = (libm::log(spread.quantile(share).to_cm()) - 3.0) / 0.1;
        assert_abs_diff_eq!(found, t, epsilon = 5e-4);
        assert_abs_diff_eq!(
            spread.share_below(spread.quantile(share)),
            share,
            epsilon = 1e-9
        );
    }
}

/// The men of 1967 themselves: from the spread of their flexed arms to that of their relaxed
/// ones, against the survey's summary (mean and deviation by closed form, the rest within 2 mm).
#[test]
fn flexed_men_of_1967_turn_into_relaxed_ones() {
    let facts = records(include_str!("../../data/body/usaf1967.csv"));
    let of = |measure: &str| facts.iter().find(|f| f["measure"] == measure).unwrap();
    let (flexed, hanging) = (of("biceps_flexed_right"), of("biceps_relaxed_right"));
    let variance = (number(flexed, "sd") / number(flexed, "mean"))
        .powi(2)
        .ln_1p();
    let spread = ArmSpread::Log {
        shift_cm: 0.0,
        centre: libm::log(number(flexed, "mean") / 10.0) - variance / 2.0,
        scale: variance.sqrt(),
        freedom: 2418.0,
    };
    let found = relaxed().of(&spread);
    assert_abs_diff_eq!(mm(found.mean()), number(hanging, "mean"), epsilon = 0.05);
    assert_abs_diff_eq!(mm(found.sd()), number(hanging, "sd"), epsilon = 0.05);
    for (column, share) in PERCENTILES {
        assert_abs_diff_eq!(
            mm(found.quantile(share)),
            number(hanging, column),
            epsilon = 2.0
        );
    }
}

/// Brute force: the flexed arms one by one, each with its own normal error round the line.
#[test]
fn the_relaxed_spread_is_the_convolution() {
    let line = relaxed();
    for (sex, chest) in [
        ("F", 80.0),
        ("F", 94.0),
        ("F", 114.0),
        ("M", 90.0),
        ("M", 125.0),
    ] {
        let flexed = curve(sex).at(Length::cm(chest));
        let found = line.of(&flexed);
        for (_, share) in PERCENTILES {
            let girth = mm(found.quantile(share));
            let parts = 2000;
            let below: f64 = (0..parts)
                .map(|i| {
                    let arm = mm(flexed.quantile((f64::from(i) + 0.5) / f64::from(parts)));
                    normal((girth - line.slope * arm - line.intercept_mm) / line.residual_sd_mm)
                })
                .sum();
            assert_abs_diff_eq!(below / f64::from(parts), share, epsilon = 0.003);
        }
    }
}

/// Sizes beside the survey, relaxed by the men's equation from a straight line of the chest: the
/// comparison computed with pandas from the public rows, in cm. Some 8 cm outside the
/// survey the chart itself is the centre.
#[test]
fn sizes_lie_where_the_comparison_with_the_survey_puts_them() {
    for (chart, name, expected, outside) in [
        ("woman", "XS", 23.0, true),
        ("woman", "S", 25.8, false),
        ("woman", "M", 28.5, false),
        ("woman", "L", 31.2, false),
        ("woman", "XL", 33.9, false),
        ("woman", "2X", 39.4, true),
        ("woman", "3X", 43.2, true),
        ("woman", "4X", 47.0, true),
        ("woman", "5X", 49.5, true),
        ("man", "S", 28.6, false),
        ("man", "M", 31.7, false),
        ("man", "L", 34.8, false),
        ("man", "XL", 37.8, false),
        ("man", "2X", 40.9, false),
        ("man", "3X", 44.5, true),
        ("man", "4X", 47.0, true),
        ("man", "5X", 50.8, true),
    ] {
        let arm = size(chart, name);
        assert_abs_diff_eq!(arm.mean.to_cm(), expected, epsilon = 0.75);
        assert_eq!(arm.extrapolated, outside, "{chart} {name}");
        assert!(arm.low < arm.mean && arm.mean < arm.high);
    }
    // The chart for women is within 0.7 cm of the relaxed estimate from S to XL.
    for name in ["S", "M", "L", "XL"] {
        let arm = size("woman", name);
        assert_abs_diff_eq!(arm.chart.unwrap().to_cm(), arm.mean.to_cm(), epsilon = 0.75);
    }
}

/// NHANES 2015-2018: the published percentiles are met, and a child's size is half girls, half
/// boys of its age.
#[test]
fn children_are_spread_as_counted() {
    for fact in records(include_str!("../../data/body/nhanes.csv")) {
        if fact["measure"] != "mid_upper_arm_circumference_cm" {
            continue;
        }
        let table = if fact["sex"] == "F" {
            "nhanes-female"
        } else {
            "nhanes-male"
        };
        let arm = size(table, fact["age"]);
        assert_abs_diff_eq!(arm.mean.to_cm(), number(&fact, "mean"), epsilon = 1e-9);
        assert_abs_diff_eq!(arm.low.to_cm(), number(&fact, "p05"), epsilon = 1e-3);
        assert_abs_diff_eq!(arm.high.to_cm(), number(&fact, "p95"), epsilon = 1e-3);
        for percent in [
            "p05", "p10", "p15", "p25", "p50", "p75", "p85", "p90", "p95",
        ] {
            let share = percent.trim_start_matches('p').parse::<f64>().unwrap() / 100.0;
            let found = arm
                .share_fitting(Length::cm(number(&fact, percent)), Length::ZERO)
                .unwrap();
            assert_abs_diff_eq!(found, share, epsilon = 1e-9);
        }
    }
    let child = size("child", "8");
    assert_abs_diff_eq!(
        child.mean.to_cm(),
        f64::midpoint(21.01, 21.28),
        epsilon = 1e-9
    );
    let girls = size("nhanes-female", "8")
        .share_fitting(Length::cm(22.0), Length::ZERO)
        .unwrap();
    let boys = size("nhanes-male", "8")
        .share_fitting(Length::cm(22.0), Length::ZERO)
        .unwrap();
    let both = child.share_fitting(Length::cm(22.0), Length::ZERO).unwrap();
    assert_abs_diff_eq!(both, f64::midpoint(girls, boys), epsilon = 1e-12);
}
