//! Drift of flat against round, against published pairs, SciPy and hand arithmetic.

use approx::assert_relative_eq;
use capwright::case::{Swatch, SwatchCount};
use capwright::diagnostic::Diagnostic;
use capwright::measure::{Length, Units};
use capwright::swatch::{
    self, Counted, Drift, Estimate, Measured, MoreCounts, Verdict, drift, drift_findings,
    drift_sentence, estimate, large_drifts, measure, pair_findings,
};
use proptest::prelude::*;

fn counts(list: &[f64], over: Length) -> Vec<SwatchCount> {
    list.iter()
        .map(|counted| SwatchCount {
            counted: *counted,
            over,
        })
        .collect()
}

fn swatch(stitches: &[f64], rows: &[f64], over: Length) -> Swatch {
    Swatch {
        stitches: counts(stitches, over),
        rows: counts(rows, over),
        ..Swatch::default()
    }
}

fn cm(stitches: &[f64], rows: &[f64]) -> Swatch {
    swatch(stitches, rows, Length::cm(10.0))
}

fn measured(swatch: &Swatch, units: Units) -> Measured {
    let (measured, found) = measure(swatch, units);
    measured.unwrap_or_else(|| panic!("{found:?}"))
}

fn ids(found: &[Diagnostic]) -> Vec<&str> {
    found.iter().map(|d| d.code.id).collect()
}

fn message<'a>(found: &'a [Diagnostic], id: &str) -> &'a str {
    let all = found.iter().find(|d| d.code.id == id);
    &all.unwrap_or_else(|| panic!("no {id} in {found:?}"))
        .message
}

/// Flat against round, stitches only, over a length.
fn pair(flat: f64, round: f64, over: Length, units: Units) -> Drift {
    let of = |stitches: f64| measured(&swatch(&[stitches], &[stitches / 0.75], over), units);
    drift(&of(flat), &of(round))
}

/// Published pairs of one knitter on two needle sizes: 22 and 23, 21 and 22 stitches in 10 cm
/// (thisisknit.ie, measuring in the round, 2011; ratios computed).
#[test]
fn published_pairs_of_flat_and_round() {
    let ten = Length::cm(10.0);
    let first = pair(22.0, 23.0, ten, Units::Cm).stitches;
    let second = pair(21.0, 22.0, ten, Units::Cm).stitches;
    assert_relative_eq!(first.ratio, 1.0455, epsilon = 0.0001);
    assert_relative_eq!(second.ratio, 1.0476, epsilon = 0.0001);
    assert_relative_eq!(first.pct, 4.55, epsilon = 0.01);
    // A sleeve of 13 in at the first ratio is 12.435 in.
    assert_relative_eq!(13.0 / first.ratio, 12.435, epsilon = 0.001);
}

/// 6.5 stitches to the inch on the label, 6.75 in the round: 34 in of 6.5 are 221 stitches, which
/// come to 1.26 in less (classiceliteyarns.blogspot.com, December 2010: "about an inch and a half").
#[test]
fn a_published_sweater_that_came_out_smaller() {
    let drift = pair(26.0, 27.0, Length::inches(4.0), Units::In).stitches;
    assert_relative_eq!(drift.ratio, 1.0385, epsilon = 0.0001);
    let flat = measured(&swatch(&[26.0], &[34.0], Length::inches(4.0)), Units::In);
    let per_inch = flat.gauge().unwrap().stitches_per_10cm() * 0.254;
    assert_relative_eq!(34.0 * per_inch, 221.0, epsilon = 1e-9);
    assert_relative_eq!(34.0 - 34.0 / drift.ratio, 1.26, epsilon = 0.005);
}

#[test]
fn a_washed_and_an_unwashed_swatch_are_not_compared_in_silence() {
    let mut flat = cm(&[22.0], &[30.0]);
    let mut round = cm(&[23.0], &[31.0]);
    flat.washed = Some(true);
    round.washed = Some(false);
    let found = pair_findings(&flat, &round, Units::Cm);
    assert_eq!(
        message(&found, "swatch-washed-mixed"),
        "The flat swatch was washed, the round one was not washed; what washing does cannot be \
         told from what knitting in the round does."
    );
    round.washed = Some(true);
    assert_eq!(pair_findings(&flat, &round, Units::Cm), []);
    flat.floats = true;
    assert_eq!(
        ids(&pair_findings(&flat, &round, Units::Cm)),
        ["swatch-floats-flat"]
    );
}

#[test]
fn washing_is_a_change_of_its_own() {
    let mut after = cm(&[21.0, 21.5, 21.0, 21.5], &[30.0, 30.5, 30.0, 30.5]);
    after.washed = Some(true);
    let mut before = cm(&[22.5, 23.0, 22.5, 23.0], &[30.0, 30.5, 30.5, 30.0]);
    before.washed = Some(false);
    after.before_washing = Some(Box::new(before));
    let (change, found) = swatch::washing(&after, &measured(&after, Units::Cm), Units::Cm);
    assert_relative_eq!(
        change.unwrap().stitches.ratio,
        21.25 / 22.75,
        max_relative = 1e-12
    );
    assert_eq!(
        found[0].message,
        "Washing changed the stitches per 10 cm: 22.8 before, 21.3 after, \u{2212}6.6 % (95 %: \u{2212}8.7 % to \u{2212}4.5 %)."
    );
    assert!(
        found[1]
            .message
            .starts_with("Washing left the rows per 10 cm as they were: 30.3 before, 30.3 after"),
        "{found:?}"
    );
}

fn six() -> (Measured, Measured) {
    let flat = cm(&[22.0, 22.5, 22.0], &[30.0, 30.5, 31.0]);
    let round = cm(&[23.5, 23.0, 23.5], &[30.5, 30.0, 31.5]);
    (measured(&flat, Units::Cm), measured(&round, Units::Cm))
}

/// By hand for the stitches: both deviations are 0.2887, both standard errors 0.1667; that of the
/// ratio 1.0526 is 0.1667 * sqrt(1 + 1.0526^2) / 22.17 = 0.01092; t of 3.98 degrees of freedom is
/// 2.78, so 5.3 % +- 3.0 %. The rows: sqrt(0.4410^2 + (1.0055 * 0.2887)^2) / 30.5 = 0.01733, and t of
/// 3.46 degrees of freedom is 2.95: 0.5 % +- 5.1 %.
#[test]
fn drift_in_plain_words() {
    let (flat, round) = six();
    let drift = drift(&flat, &round);
    assert_eq!(drift.stitches.verdict, Verdict::Differ);
    assert_eq!(drift.rows.verdict, Verdict::Open);
    let found = drift_findings(&flat, &round, &drift, Units::Cm);
    assert_eq!(ids(&found), ["drift-found", "drift-open"]);
    assert_eq!(
        drift_sentence(Counted::Stitches, &flat, &round, &drift, Units::Cm),
        "22.2 stitches per 10 cm flat, 23.3 in the round: +5.3 % (95 %: +2.2 % to +8.3 %). Your \
         stitches are narrower in the round: the tube comes out narrower than the flat swatch says."
    );
    assert_eq!(
        message(&found, "drift-open"),
        "30.5 rows per 10 cm flat, 30.7 in the round: +0.5 % (95 %: \u{2212}4.6 % to +5.7 %). The rows \
         of these two swatches do not differ by more than your error of counting; count again over \
         15 cm, or treat them as one."
    );
    assert!(
        found[1]
            .advice()
            .starts_with("It would take about 15 more counts"),
        "{}",
        found[1].advice()
    );
}

#[test]
fn single_counts_settle_nothing() {
    let of = |s, r| measured(&swatch(&[s], &[r], Length::inches(4.0)), Units::In);
    let (flat, round) = (of(22.0, 30.0), of(22.25, 33.5));
    let drift = drift(&flat, &round);
    assert_eq!(drift.stitches.more_counts, MoreCounts::SpreadUnknown);
    let found = drift_findings(&flat, &round, &drift, Units::In);
    assert_eq!(ids(&found), ["drift-open", "drift-open"]);
    // Single counts of the same yarn on the same needles are no tenth apart.
    let large = large_drifts(&flat, &round, &drift, Units::In);
    assert_eq!(ids(&large), ["drift-large"]);
    assert_eq!(drift.stitches.interval(), None);
    assert_eq!(
        found[0].message,
        "22.0 stitches per 4 in flat, 22.3 in the round: +1.1 %. Whether that is a drift nobody can \
         say: both swatches were counted only once. The reading error alone is 0.25 stitches per 4 in \
         either way, and two swatches that one knitter makes alike usually differ by about 2 % \
         (common practice, no source)."
    );
    assert_eq!(
        found[0].advice(),
        "Count stitches in two more places on each swatch, over 6 in if you can."
    );
    assert!(found[1].message.contains("counted only once"));
    assert_eq!(
        large[0].message,
        "The counts of rows are 11.7 % apart between flat and round; published pairs are 4 to 5 % \
         apart."
    );
}

#[test]
fn counts_too_far_apart_put_no_limit_to_the_drift() {
    let (flat, found) = measure(&cm(&[20.0, 29.0], &[30.0, 30.5, 31.0]), Units::Cm);
    assert!(ids(&found).contains(&"swatch-counts-disagree"));
    let (flat, (_, round)) = (flat.unwrap(), six());
    let drift = drift(&flat, &round);
    let found = drift_findings(&flat, &round, &drift, Units::Cm);
    assert!(ids(&found).contains(&"drift-unbounded"), "{found:?}");
}

#[test]
fn the_number_of_further_counts_is_scipys() {
    let oracle: serde_json::Value =
        serde_json::from_str(include_str!("../../data/swatch/oracle.json")).unwrap();
    let rows = oracle["more_counts"].as_array().unwrap();
    assert_eq!(rows.len(), 7);
    for row in rows {
        let of = |key: &str| -> Estimate {
            let list = row[key].as_array().unwrap();
            let list: Vec<f64> = list.iter().map(|x| x.as_f64().unwrap()).collect();
            estimate(&counts(&list, Length::cm(10.0)), 0.5).unwrap()
        };
        let measured = |key: &str| Measured {
            stitches: of(key),
            rows: of(key),
        };
        let ratio = drift(&measured("first"), &measured("second")).stitches;
        let expected = match row["more"].as_u64() {
            Some(more) => MoreCounts::Each(usize::try_from(more).unwrap()),
            None => MoreCounts::TooMany,
        };
        assert_eq!(ratio.more_counts, expected, "{row}");
    }
}

proptest! {
    /// The drift back is the drift turned round.
    #[test]
    fn drift_back_is_one_over_drift(a in prop::collection::vec(20.0..25.0, 1..5), b in prop::collection::vec(20.0..25.0, 1..5)) {
        let of = |list: &[f64]| measured(&cm(list, &[30.0]), Units::Cm);
        let (a, b) = (of(&a), of(&b));
        let (there, back) = (drift(&a, &b).stitches, drift(&b, &a).stitches);
        prop_assert!((there.ratio * back.ratio - 1.0).abs() < 1e-12);
        prop_assert!((there.welch.p - back.welch.p).abs() < 1e-12);
    }
}
