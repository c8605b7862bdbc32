//! Swatches: counts to gauges and drift, against published pairs and hand arithmetic.

use approx::assert_relative_eq;
use capwright::case::{Swatch, SwatchCount};
use capwright::diagnostic::{Diagnostic, Level, worst};
use capwright::measure::{Length, Units};
use capwright::swatch::{
    self, Measured, Method, drift, drift_findings, estimate, measure, pair_findings,
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

/// Fully relaxed plain knitting has Kc = 5.5 courses and Kw = 4.2 wales times the loop length: with
/// loops of 0.5 cm 92.4 loops per square centimetre, answer 92 (GATE 2015, textile paper, question
/// 54); loop shape factor 1.3095, stitches to rows 0.764.
#[test]
fn the_relaxed_plain_loop() {
    let five = Length::cm(5.0);
    let of = |count: f64| estimate(&counts(&[count], five), 0.5).unwrap();
    let (wales, courses) = (of(4.2 / 0.5 * 5.0), of(5.5 / 0.5 * 5.0));
    let density = wales.mean * courses.mean / 100.0;
    assert_relative_eq!(density, 92.4, epsilon = 1e-9);
    assert!((density - 92.0).abs() <= 0.5);
    assert_relative_eq!(courses.mean / wales.mean, 1.3095, epsilon = 0.0001);

    let (plain, found) = measure(&cm(&[4.2 / 2.0 * 10.0], &[5.5 / 2.0 * 10.0]), Units::Cm);
    assert_relative_eq!(plain.unwrap().stitch_row_ratio(), 0.764, epsilon = 0.0005);
    assert_eq!(ids(&found), ["swatch-one-count"]);
}

/// Ten gauges of published patterns, ratios 0.67 to 0.79: none of them is pointed out. 21 stitches
/// to 28 rows is 0.75 (bromiskelly.typepad.com, 14 December 2021).
#[test]
fn published_gauges_have_no_odd_ratio() {
    let published = [
        (22.0, 30.0),
        (21.0, 28.0),
        (20.0, 26.0),
        (18.0, 24.0),
        (17.0, 24.0),
        (15.0, 20.0),
        (21.0, 29.0),
        (25.0, 36.0),
        (16.0, 22.0),
        (16.0, 24.0),
    ];
    for (stitches, rows) in published {
        let (plain, found) = measure(&cm(&[stitches], &[rows]), Units::Cm);
        assert_eq!(ids(&found), ["swatch-one-count"]);
        let ratio = plain.unwrap().stitch_row_ratio();
        assert!(
            (0.66..0.80).contains(&ratio),
            "{stitches} x {rows}: {ratio}"
        );
    }
    let dk = measured(&cm(&[21.0], &[28.0]), Units::Cm);
    assert_relative_eq!(dk.stitch_row_ratio(), 0.75, epsilon = 1e-12);
}

/// By hand: half of half a stitch over 20 cm is 0.125 per 10 cm; its deviation is that over root 3
/// (a uniform distribution: GUM 4.3.7).
#[test]
fn one_count_has_its_reading_error() {
    let one = estimate(&counts(&[45.0], Length::cm(20.0)), 0.5).unwrap();
    assert_eq!((one.mean, one.low, one.high), (22.5, 22.375, 22.625));
    assert_relative_eq!(one.standard_error, 0.0721687836487, max_relative = 1e-10);
    assert_eq!(
        (one.counts, one.sd, one.degrees_of_freedom),
        (1, None, None)
    );
    assert_eq!(one.method, Method::ReadingError);
}

/// By hand: 22 and 23 are 22.5 +- 12.7062 * 0.5; 12.7062 is the printed point of Student's t.
#[test]
fn two_counts_have_an_honest_wide_interval() {
    let two = estimate(&counts(&[22.0, 23.0], Length::cm(10.0)), 0.5).unwrap();
    assert_eq!(two.method, Method::StudentT);
    assert_relative_eq!(two.low, 22.5 - 6.3531, epsilon = 1e-4);
    assert_relative_eq!(two.high, 22.5 + 6.3531, epsilon = 1e-4);
    let (_, found) = measure(&cm(&[22.0, 23.0], &[30.0, 30.0, 30.5]), Units::Cm);
    assert_eq!(ids(&found), ["swatch-interval-wide"]);
    assert_eq!(
        message(&found, "swatch-interval-wide"),
        "From 2 counts the gauge is 22.5 stitches per 10 cm, but with 95 % confidence only \
         somewhere from 16.1 to 28.9, 28 % either way."
    );
    // n = 4: 3.182 * 0.7071 / 2 = 1.125 = 5.0003 %; n = 5: 2.776 * 0.7071 / 2.236 = 0.878 = 3.9 %.
    assert_eq!(
        found[0].advice(),
        "Count in 3 more places, over 15 cm if the swatch allows it."
    );
}

/// Equal counts are not exact: never narrower than one count can be read.
#[test]
fn equal_counts_keep_the_reading_error() {
    let half = |n: usize| {
        let e = estimate(&counts(&vec![22.0; n], Length::cm(10.0)), 0.5).unwrap();
        assert_eq!((e.mean, e.sd), (22.0, (n > 1).then_some(0.0)));
        (e.high - e.low) / 2.0
    };
    let reading = 0.25 / 3_f64.sqrt();
    assert_relative_eq!(half(2), 12.7062 * reading / 2_f64.sqrt(), epsilon = 1e-4);
    assert_relative_eq!(half(3), 4.3027 * reading / 3_f64.sqrt(), epsilon = 1e-4);
    assert_eq!((half(4), half(9)), (0.25, 0.25));
}

/// 22 over 10 cm and 44 over 20 cm are 66 over 30 cm.
#[test]
fn counts_over_several_lengths_are_pooled() {
    let mut list = counts(&[22.0], Length::cm(10.0));
    list.extend(counts(&[45.5], Length::cm(20.0)));
    let pooled = estimate(&list, 0.5).unwrap();
    assert_relative_eq!(pooled.mean, 10.0 * 67.5 / 30.0, max_relative = 1e-12);
}

#[test]
fn four_inches_are_not_ten_centimetres() {
    let inches = measured(&swatch(&[22.0], &[30.0], Length::inches(4.0)), Units::In);
    assert_relative_eq!(inches.stitches.mean, 22.0 / 1.016, max_relative = 1e-12);
    let (cm_swatch, in_swatch) = (
        cm(&[22.0], &[30.0]),
        swatch(&[22.0], &[30.0], Length::inches(4.0)),
    );
    let found = pair_findings(&cm_swatch, &in_swatch, Units::Cm);
    assert_eq!(
        message(&found, "swatch-lengths-mixed"),
        "One count is over 10 cm and another over 10.16 cm: the one is to the other as 10 cm to \
         4 in (10.16 cm). Each was converted by its own length."
    );
}

#[test]
fn a_length_in_the_other_unit_is_asked_about() {
    let (value, found) = measure(&swatch(&[22.0], &[30.0], Length::cm(4.0)), Units::Cm);
    // Nothing is converted in silence: until the question is answered there is no gauge.
    assert!(value.is_none());
    assert_eq!(
        message(&found, "swatch-units"),
        "22 stitches over 4 cm are 55.0 per 10 cm, which is unusual; over 4 in they would be \
         21.7. Was the length in inches?"
    );
    let units = found.iter().find(|d| d.code.id == "swatch-units").unwrap();
    assert_eq!(
        units.advice(),
        "If it was, write over = 10.16; if not, count again over another length. Nothing was changed."
    );

    let (_, found) = measure(&swatch(&[22.0], &[30.0], Length::inches(10.0)), Units::In);
    assert_eq!(
        message(&found, "swatch-units"),
        "22 stitches over 10 in are 8.8 per 4 in, which is unusual; over 10 cm they would be \
         22.4. Was the length in centimetres?"
    );
    // 9 stitches in 4 cm are a usual gauge, and so are 50 in 10 in.
    let (_, found) = measure(&swatch(&[9.0], &[12.0], Length::cm(4.0)), Units::Cm);
    assert!(!ids(&found).contains(&"swatch-units"), "{found:?}");
    let (_, found) = measure(&swatch(&[50.0], &[70.0], Length::inches(10.0)), Units::In);
    assert!(!ids(&found).contains(&"swatch-units"), "{found:?}");
}

#[test]
fn stitches_and_rows_exchanged_are_asked_about_and_not_changed() {
    let (value, found) = measure(&cm(&[30.0], &[22.0]), Units::Cm);
    assert_eq!(value.unwrap().stitches.mean, 30.0);
    assert_eq!(
        message(&found, "swatch-exchanged"),
        "There are more stitches than rows in the same length (1.36 stitches for one row; plain \
         knitting has 0.67 to 0.79). Exchanged, it would be 0.73. Were stitches and rows \
         exchanged, or ridges counted as rows (a ridge is two rows, and with twice the rows it \
         would be 0.68)?"
    );
    // Garter stitch is square in ridges and about 1:2 in rows.
    let (_, found) = measure(&cm(&[18.0], &[36.0]), Units::Cm);
    assert_eq!(
        message(&found, "swatch-ratio"),
        "There are 0.50 stitches for one row, outside 0.60 to 0.90; plain knitting has 0.67 to \
         0.79, garter stitch about 0.5."
    );
}

#[test]
fn unusable_counts_are_all_reported() {
    let bad = Swatch {
        stitches: counts(&[0.0, 22.0, f64::NAN, -3.0], Length::cm(10.0)),
        rows: counts(&[30.0], Length::cm(0.5)),
        division: Some(0.0),
        ..Swatch::default()
    };
    let (value, found) = measure(&bad, Units::Cm);
    assert_eq!(value, None);
    assert_eq!(
        ids(&found),
        [
            "swatch-division",
            "swatch-count",
            "swatch-count",
            "swatch-count",
            "swatch-length"
        ]
    );
    assert_eq!(
        message(&found, "swatch-count"),
        "A count of 0 stitches is no count; 2 to 400 stitches are allowed."
    );
    assert_eq!(
        message(&found, "swatch-length"),
        "30 rows are said to be counted over 0.5 cm; lengths of 1 cm to 100 cm are allowed."
    );
    let (value, found) = measure(&Swatch::default(), Units::In);
    assert_eq!(value, None);
    assert_eq!(ids(&found), ["swatch-empty", "swatch-empty"]);
    let (value, found) = measure(&cm(&[90.0], &[120.0]), Units::Cm);
    assert_eq!((value, worst(&found)), (None, Some(Level::Error)));
    assert_eq!(
        message(&found, "swatch-gauge"),
        "The stitch gauge comes to 90.0 per 10 cm; 4.0 to 80.0 are allowed."
    );
}

#[test]
fn a_count_over_less_than_an_inch_is_too_short() {
    let (value, found) = measure(&swatch(&[5.0], &[7.0], Length::cm(2.2)), Units::Cm);
    assert!(value.is_some());
    assert_eq!(
        message(&found, "swatch-too-short"),
        "5 stitches were counted over 2.2 cm only: half a stitch more or less changes the gauge by \
         10 %."
    );
    assert_eq!(
        found[0].advice(),
        "Count again over 10 cm, in the middle of the swatch."
    );
    let (_, found) = measure(&swatch(&[3.0], &[4.0], Length::inches(0.5)), Units::In);
    assert!(message(&found, "swatch-too-short").contains("over 0.5 in only"));
}

#[test]
fn an_outlier_is_pointed_out_and_kept() {
    let (value, found) = measure(&cm(&[22.0, 22.5, 23.0, 26.0], &[30.0; 4]), Units::Cm);
    assert_relative_eq!(value.unwrap().stitches.mean, 23.375, epsilon = 1e-12);
    assert_eq!(ids(&found), ["swatch-outlier", "swatch-interval-wide"]);
    assert_eq!(
        message(&found, "swatch-outlier"),
        "26 stitches over 10 cm is far from the other counts. It is kept: the gauge is 23.4 \
         stitches per 10 cm; without it, 22.5."
    );
    // Three equal counts do not make the fourth an outlier when it is one stitch off.
    let (_, found) = measure(&cm(&[22.0, 22.0, 22.0, 23.0], &[30.0; 4]), Units::Cm);
    assert_eq!(ids(&found), Vec::<&str>::new());
}

#[test]
fn counts_that_contradict_each_other_are_refused() {
    let mut bad = cm(&[22.0], &[30.0, 31.0]);
    bad.stitches.extend(counts(&[22.0], Length::cm(4.0)));
    bad.rows.extend(counts(&[15.0], Length::cm(10.0)));
    let (value, found) = measure(&bad, Units::Cm);
    assert_eq!(value, None);
    let disagree: Vec<_> = found
        .iter()
        .filter(|d| d.code.id == "swatch-counts-disagree")
        .collect();
    assert_eq!(
        disagree[0].message,
        "22 stitches over 4 cm and 22 stitches over 10 cm cannot both be right for one swatch: \
         the one gauge is 2.50 times the other. That is about 2.54: one of the lengths may be in \
         the other unit."
    );
    assert_eq!(
        disagree[1].message,
        "31 rows over 10 cm and 15 rows over 10 cm cannot both be right for one swatch: the one \
         gauge is 2.07 times the other. That is about twice: ridges may have been counted as rows \
         (a ridge is two rows), or one length may be half of what it says."
    );
    assert!(disagree.iter().all(|d| d.level == Level::Error));
    // A quarter more is doubted, not refused.
    let (value, found) = measure(&cm(&[20.0, 25.0], &[30.0]), Units::Cm);
    assert!(value.is_some());
    assert!(ids(&found).contains(&"swatch-counts-disagree"));
}

#[test]
fn edge_stitches_floats_and_washing_are_said() {
    let mut strip = cm(&[24.0], &[32.0]);
    strip.edge_stitches = 2;
    strip.floats = true;
    strip.washed = Some(false);
    let (value, found) = measure(&strip, Units::Cm);
    assert_eq!(value.unwrap().stitches.mean, 24.0, "nothing is corrected");
    assert_eq!(
        message(&found, "swatch-edge-stitches"),
        "Every count of stitches includes 2 edge stitches. If they show half of their width, the \
         gauge is 23.0 per 10 cm and not 24.0."
    );
    assert!(ids(&found).ends_with(&["swatch-edge-stitches", "swatch-floats", "swatch-unwashed"]));
}

#[test]
fn every_code_is_explained_and_unique() {
    let mut seen = std::collections::BTreeSet::new();
    for code in swatch::CODES {
        assert!(seen.insert(code.id), "{} twice", code.id);
        for text in [code.title, code.why, code.source, code.next] {
            assert!(!text.is_empty(), "{}", code.id);
        }
    }
}

#[test]
fn a_printed_gauge_is_not_asked_to_be_counted_again() {
    let (value, found) = swatch::measure_printed(&cm(&[22.0], &[30.0]), Units::Cm);
    assert_eq!((value.is_some(), found), (true, Vec::new()));
}

fn any_count() -> impl Strategy<Value = SwatchCount> {
    let number = prop_oneof![any::<f64>(), 0.0..60.0, Just(22.0)];
    let over = prop_oneof![any::<f64>(), 0.0..120.0, Just(10.0), Just(10.16)];
    (number, over).prop_map(|(counted, over)| SwatchCount {
        counted,
        over: Length::cm(over),
    })
}

fn any_swatch() -> impl Strategy<Value = Swatch> {
    let list = || prop::collection::vec(any_count(), 0..5);
    let state = prop::option::of(any::<bool>());
    let division = prop::option::of(prop_oneof![any::<f64>(), 0.01..2.0]);
    (list(), list(), state, any::<bool>(), any::<u32>(), division).prop_map(
        |(stitches, rows, washed, floats, edge_stitches, division)| Swatch {
            stitches,
            rows,
            washed,
            floats,
            edge_stitches,
            division,
            before_washing: None,
        },
    )
}

proptest! {
    /// Whatever is written: no panic, a value exactly when there is no error, and a finite one.
    #[test]
    fn nothing_written_breaks_it(flat in any_swatch(), round in any_swatch()) {
        let (first, found) = measure(&flat, Units::In);
        prop_assert_eq!(first.is_none(), worst(&found) == Some(Level::Error));
        let (second, _) = measure(&round, Units::Cm);
        pair_findings(&flat, &round, Units::Cm);
        if let (Some(first), Some(second)) = (first, second) {
            prop_assert!(first.gauge().is_ok());
            let drift = drift(&first, &second);
            prop_assert!(drift.stitches.low.is_finite() && drift.rows.high.is_finite());
            prop_assert!(drift_findings(&first, &second, &drift, Units::In).len() >= 2);
        }
    }
}

/// Fine yarn has more rows than most; over the units' own length that is no slip of units.
#[test]
fn a_fine_gauge_over_the_usual_length_is_believed() {
    let fine = cm(&[30.0], &[44.0]);
    let (value, found) = measure(&fine, Units::Cm);
    assert!(value.is_some(), "{found:?}");
    assert!(!ids(&found).contains(&"swatch-units"), "{found:?}");
}
