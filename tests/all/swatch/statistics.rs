//! The statistics of swatches against NIST certified values, SciPy and published examples.
//!
//! `data/swatch/oracle.json` is made by `data/swatch/make.py` with SciPy; it is not our output.

use approx::assert_relative_eq;
use capwright::measure::Interval;
use capwright::swatch::statistics::{
    Fieller, Summary, Uncertain, WelchTest, delta_ratio, fieller, modified_z_scores, t_critical,
    two_sided_p,
};
use serde_json::Value;

fn oracle() -> Value {
    serde_json::from_str(include_str!("../../data/swatch/oracle.json")).unwrap()
}

fn rows(oracle: &Value, name: &str) -> Vec<Value> {
    let rows = oracle[name].as_array().unwrap().clone();
    assert!(!rows.is_empty(), "{name}");
    rows
}

fn number(row: &Value, key: &str) -> f64 {
    row[key].as_f64().unwrap()
}

fn numbers(row: &Value, key: &str) -> Vec<f64> {
    let list = row[key].as_array().unwrap();
    list.iter().map(|x| x.as_f64().unwrap()).collect()
}

fn uncertain(values: &[f64]) -> Uncertain {
    Summary::plain(values).unwrap().uncertain().unwrap()
}

/// NIST reference data sets, univariate: certified mean and standard deviation, 15 digits. Fourteen are asked for
/// the mean and eleven for the deviation of Mavro and Michelso, whose common part is 5000 times it.
#[test]
fn mean_and_deviation_are_nist_certified_ones() {
    let sets = [
        ("lottery", include_str!("../../data/swatch/lottery.txt")),
        ("lew", include_str!("../../data/swatch/lew.txt")),
        ("mavro", include_str!("../../data/swatch/mavro.txt")),
        ("michelso", include_str!("../../data/swatch/michelso.txt")),
    ];
    let oracle = oracle();
    for (name, text) in sets {
        let values: Vec<f64> = text
            .split_whitespace()
            .map(|w| w.parse().unwrap())
            .collect();
        let certified = &oracle["nist"][name];
        let summary = Summary::plain(&values).unwrap();
        assert_eq!(summary.count as u64, certified["count"].as_u64().unwrap());
        assert_relative_eq!(
            summary.mean,
            number(certified, "mean"),
            max_relative = 1e-14
        );
        assert_relative_eq!(
            summary.sd.unwrap(),
            number(certified, "sd"),
            max_relative = 1e-11
        );
    }
}

/// NIST reference data `NumAcc1` (10000001, 10000003, 10000002; certified mean 10000002, deviation 1) and
/// `NumAcc4` (10000000.2, then .1 and .3 five hundred times; certified 10000000.2 and 0.1).
#[test]
fn a_large_common_part_does_not_eat_the_deviation() {
    let summary = Summary::plain(&[10_000_001.0, 10_000_003.0, 10_000_002.0]).unwrap();
    assert_eq!((summary.mean, summary.sd), (10_000_002.0, Some(1.0)));

    let mut values = vec![10_000_000.2];
    for _ in 0..500 {
        values.extend([10_000_000.1, 10_000_000.3]);
    }
    let summary = Summary::plain(&values).unwrap();
    assert_relative_eq!(summary.mean, 10_000_000.2, max_relative = 1e-14);
    // The data themselves are rounded to 2e-9 in binary, a part in 5e7 of the deviation.
    assert_relative_eq!(summary.sd.unwrap(), 0.1, max_relative = 1e-7);
}

#[test]
fn student_t_is_scipys() {
    let oracle = oracle();
    for row in rows(&oracle, "t_critical") {
        let t = t_critical(Some(number(&row, "df")));
        assert_relative_eq!(t, number(&row, "t"), max_relative = 1e-9);
    }
    for row in rows(&oracle, "two_sided_p") {
        let p = two_sided_p(number(&row, "t"), Some(number(&row, "df")));
        assert_relative_eq!(p, number(&row, "p"), max_relative = 1e-9, epsilon = 1e-13);
    }
}

/// Two-sided 95 % points as every printed table of Student's t has them.
#[test]
fn student_t_is_the_printed_tables() {
    let table = [
        (1.0, 12.706),
        (2.0, 4.303),
        (3.0, 3.182),
        (4.0, 2.776),
        (9.0, 2.262),
        (30.0, 2.042),
        (120.0, 1.980),
    ];
    for (df, t) in table {
        assert_relative_eq!(t_critical(Some(df)), t, epsilon = 0.0005);
    }
    assert_relative_eq!(t_critical(None), 1.95996, epsilon = 0.000005);
    assert_relative_eq!(two_sided_p(1.95996, None), 0.05, epsilon = 1e-6);
}

#[test]
fn the_interval_of_a_mean_is_scipys() {
    let oracle = oracle();
    for row in rows(&oracle, "student") {
        let mean = uncertain(&numbers(&row, "counts"));
        let Interval { low, high } = mean.interval();
        assert_relative_eq!(mean.value, number(&row, "mean"), max_relative = 1e-12);
        assert_relative_eq!(
            mean.standard_error,
            number(&row, "se"),
            max_relative = 1e-12
        );
        assert_relative_eq!(low, number(&row, "low"), max_relative = 1e-9);
        assert_relative_eq!(high, number(&row, "high"), max_relative = 1e-9);
    }
}

#[test]
fn counts_over_several_lengths_are_a_weighted_fit() {
    let oracle = oracle();
    for row in rows(&oracle, "weighted") {
        let lengths = numbers(&row, "lengths");
        let counts = numbers(&row, "counts");
        let values: Vec<(f64, f64)> = counts
            .iter()
            .zip(&lengths)
            .map(|(c, l)| (10.0 * c / l, *l))
            .collect();
        let summary = Summary::weighted(&values).unwrap();
        let Interval { low, high } = summary.uncertain().unwrap().interval();
        assert_relative_eq!(summary.mean, number(&row, "mean"), max_relative = 1e-12);
        assert_relative_eq!(summary.sd.unwrap(), number(&row, "sd"), max_relative = 1e-9);
        assert_relative_eq!(low, number(&row, "low"), max_relative = 1e-9);
        assert_relative_eq!(high, number(&row, "high"), max_relative = 1e-9);
    }
}

#[test]
fn welch_is_scipys() {
    let oracle = oracle();
    for row in rows(&oracle, "welch") {
        let (first, second) = (numbers(&row, "first"), numbers(&row, "second"));
        let test = WelchTest::of(uncertain(&first), uncertain(&second));
        assert_relative_eq!(
            test.t,
            number(&row, "t"),
            max_relative = 1e-12,
            epsilon = 1e-14
        );
        let df = test.degrees_of_freedom.unwrap();
        assert_relative_eq!(df, number(&row, "df"), max_relative = 1e-12);
        assert_relative_eq!(test.p, number(&row, "p"), max_relative = 1e-9);
    }
}

/// Student's sleep data (Biometrika 6, 1908, 1-25), the worked example of the manual page of
/// `t.test` in R: t = -1.8608, df = 17.776, p-value = 0.07939, 95 % interval -3.3654832 0.2054832.
/// Data and results from memory; SciPy gives the same.
#[test]
fn welch_on_students_sleep_data() {
    let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    let test = WelchTest::of(uncertain(&second), uncertain(&first));
    assert_relative_eq!(test.t, -1.8608, epsilon = 0.00005);
    assert_relative_eq!(test.degrees_of_freedom.unwrap(), 17.776, epsilon = 0.0005);
    assert_relative_eq!(test.p, 0.07939, epsilon = 0.000005);
    let half = t_critical(test.degrees_of_freedom) * test.standard_error;
    assert_relative_eq!(test.difference - half, -3.3654832, epsilon = 5e-8);
    assert_relative_eq!(test.difference + half, 0.2054832, epsilon = 5e-8);
}

/// NIST/SEMATECH e-Handbook 1.3.5.2 (`ZARR13.DAT`): n 195, mean 9.261460, deviation 0.022789, 95 %
/// limits 9.258242 and 9.264679; and 1.3.5.3 (`AUTO83B.DAT`): 249 and 79 cars, means 20.14458 and
/// 30.48101, deviations 6.41470 and 6.10771, Welch t -12.94627, 136.8750 degrees of freedom.
/// Figures from memory.
#[test]
fn two_examples_of_the_engineering_statistics_handbook() {
    let summary = |count, mean, sd| {
        let sd = Some(sd);
        Summary { count, mean, sd }.uncertain().unwrap()
    };
    let Interval { low, high } = summary(195, 9.261460, 0.022789).interval();
    assert_relative_eq!(low, 9.258242, epsilon = 1e-6);
    assert_relative_eq!(high, 9.264679, epsilon = 1e-6);

    let home = summary(249, 20.14458, 6.41470);
    let abroad = summary(79, 30.48101, 6.10771);
    let test = WelchTest::of(abroad, home);
    assert_relative_eq!(test.t, -12.94627, epsilon = 1e-4);
    assert_relative_eq!(test.degrees_of_freedom.unwrap(), 136.8750, epsilon = 1e-3);
}

#[test]
fn the_ratio_and_fiellers_set_are_found_by_root_finding_too() {
    let oracle = oracle();
    let mut kinds = std::collections::BTreeSet::new();
    for row in rows(&oracle, "ratio") {
        let x = uncertain(&numbers(&row, "first"));
        let y = uncertain(&numbers(&row, "second"));
        let delta = delta_ratio(x, y);
        assert_relative_eq!(delta.value, number(&row, "ratio"), max_relative = 1e-12);
        assert_relative_eq!(
            delta.standard_error,
            number(&row, "se"),
            max_relative = 1e-8
        );
        let df = delta.degrees_of_freedom.unwrap();
        assert_relative_eq!(df, number(&row, "df"), max_relative = 1e-8);
        let (kind, ends) = match fieller(x, y) {
            Fieller::Between { low, high } => ("between", vec![low, high]),
            Fieller::Outside { at_most, at_least } => ("outside", vec![at_most, at_least]),
            Fieller::Anything => ("anything", vec![]),
        };
        assert_eq!(row["fieller"], kind);
        kinds.insert(kind);
        let roots = numbers(&row, "roots");
        assert_eq!(ends.len(), roots.len());
        for (end, root) in ends.iter().zip(roots) {
            assert_relative_eq!(*end, root, max_relative = 1e-8, epsilon = 1e-10);
        }
    }
    assert_eq!(kinds.len(), 3, "every kind of set is met: {kinds:?}");
}

/// With one standard error the value at which Fieller's ends meet 1 is Welch's test: the set holds 1
/// exactly when the difference is not significant at the same degrees of freedom.
#[test]
fn fiellers_set_holds_one_when_welch_finds_nothing() {
    for step in 0..200 {
        let known = |value, standard_error| Uncertain {
            value,
            standard_error,
            degrees_of_freedom: None,
        };
        let (x, y) = (known(22.0, 0.3), known(21.0 + 0.01 * f64::from(step), 0.2));
        let Fieller::Between { low, high } = fieller(x, y) else {
            panic!("a denominator far from zero has an interval");
        };
        let open = WelchTest::of(x, y).p > 0.05;
        assert_eq!(low < 1.0 && 1.0 < high, open, "{y:?}");
    }
}

/// The scores of SciPy's median absolute deviation. The third sample is the example of Grubbs' test
/// in the NIST/SEMATECH e-Handbook (1.3.5.17.1), whose one outlier is 245.57.
#[test]
fn modified_z_scores_are_scipys() {
    let oracle = oracle();
    let mut outliers = Vec::new();
    for row in rows(&oracle, "modified_z") {
        let values = numbers(&row, "values");
        let scores = modified_z_scores(&values, 0.0);
        for ((value, score), expected) in values.iter().zip(scores).zip(numbers(&row, "scores")) {
            assert_relative_eq!(score, expected, max_relative = 1e-9, epsilon = 1e-12);
            outliers.extend((score.abs() > 3.5).then_some(*value));
        }
    }
    assert_eq!(outliers, [26.0, 40.0, 245.57]);
    assert_eq!(modified_z_scores(&[22.0, 30.0], 0.0), [0.0, 0.0]);
    // Equal values leave only the least MAD: 0.6745 / 0.25 is below 3.5, twice that is above.
    let scores = modified_z_scores(&[22.0, 22.0, 22.0, 23.0, 24.0], 0.25);
    assert_relative_eq!(scores[3], 2.698, epsilon = 1e-9);
    assert_relative_eq!(scores[4], 5.396, epsilon = 1e-9);
}

#[test]
fn what_is_not_a_number_stays_so_without_a_panic() {
    assert!(two_sided_p(f64::NAN, Some(3.0)).is_nan());
    assert_eq!(two_sided_p(f64::INFINITY, Some(3.0)), 0.0);
    assert_relative_eq!(t_critical(Some(f64::NAN)), 1.95996, epsilon = 0.00001);
    let sure = |value| Uncertain {
        value,
        standard_error: 0.0,
        degrees_of_freedom: None,
    };
    assert_eq!(WelchTest::of(sure(22.0), sure(22.0)).p, 1.0);
    assert_eq!(WelchTest::of(sure(22.0), sure(23.0)).p, 0.0);
    assert_eq!(fieller(sure(0.0), sure(22.0)), Fieller::Anything);
}

#[test]
fn nothing_comes_of_nothing() {
    assert_eq!(Summary::plain(&[]), None);
    assert_eq!(Summary::weighted(&[(1.0, 0.0)]), None);
    let one = Summary::plain(&[22.0]).unwrap();
    assert_eq!((one.sd, one.uncertain()), (None, None));
}
