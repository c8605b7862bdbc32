//! Every finding of the swatch room, raised by an example and read as a knitter would.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use capwright::case::{Swatch, SwatchCount};
use capwright::diagnostic::Diagnostic;
use capwright::measure::Units;
use capwright::swatch::{
    self, drift, drift_findings, gauges_apart, large_drifts, measure, pair_findings,
};

fn swatch(units: Units, stitches: &[(f64, f64)], rows: &[(f64, f64)]) -> Swatch {
    let counts = |list: &[(f64, f64)]| -> Vec<SwatchCount> {
        list.iter()
            .map(|(counted, over)| SwatchCount {
                counted: *counted,
                over: units.length(*over),
            })
            .collect()
    };
    Swatch {
        stitches: counts(stitches),
        rows: counts(rows),
        ..Swatch::default()
    }
}

/// Stitches and rows over 10 cm.
fn cm(stitches: &[f64], rows: &[f64]) -> Swatch {
    let over_ten = |list: &[f64]| -> Vec<(f64, f64)> { list.iter().map(|c| (*c, 10.0)).collect() };
    swatch(Units::Cm, &over_ten(stitches), &over_ten(rows))
}

/// One swatch, and another when there is something to compare.
struct Example {
    title: &'static str,
    units: Units,
    first: Swatch,
    second: Option<Swatch>,
}

fn one(title: &'static str, units: Units, first: Swatch) -> Example {
    Example {
        title,
        units,
        first,
        second: None,
    }
}

fn two(title: &'static str, units: Units, first: Swatch, second: Swatch) -> Example {
    Example {
        second: Some(second),
        ..one(title, units, first)
    }
}

fn singles() -> Vec<Example> {
    use Units::{Cm, In};
    let rows = &[30.0, 30.5, 30.0, 30.5];
    let strip = Swatch {
        edge_stitches: 2,
        floats: true,
        washed: Some(false),
        ..cm(&[24.0, 24.5, 24.0, 24.5], &[32.0, 32.5, 32.0, 32.5])
    };
    let washed = Swatch {
        washed: Some(true),
        before_washing: Some(Box::new(cm(&[22.5, 23.0, 22.5, 23.0], rows))),
        ..cm(&[21.0, 21.5, 21.0, 21.5], rows)
    };
    let bad = Swatch {
        division: Some(-1.0),
        ..cm(&[0.0, 22.0], &[])
    };
    vec![
        one("nothing usable", Cm, bad),
        one(
            "no swatch that long",
            In,
            swatch(In, &[(22.0, 0.2)], &[(30.0, 90.0)]),
        ),
        one(
            "too fine to knit",
            In,
            swatch(In, &[(90.0, 4.0)], &[(120.0, 4.0)]),
        ),
        one(
            "one count over a short length",
            In,
            swatch(In, &[(5.0, 0.9)], &[(7.0, 0.9)]),
        ),
        one("two counts", Cm, cm(&[22.0, 23.0], rows)),
        one(
            "two equal counts",
            In,
            swatch(In, &[(22.0, 4.0); 2], &[(30.0, 4.0); 2]),
        ),
        one("one count far off", Cm, cm(&[22.0, 22.5, 23.0, 26.0], rows)),
        one(
            "a unit is wrong",
            Cm,
            swatch(Cm, &[(22.0, 10.0), (22.0, 4.0)], &[(30.0, 10.0)]),
        ),
        one(
            "every unit is wrong",
            Cm,
            swatch(Cm, &[(22.0, 4.0)], &[(30.0, 4.0)]),
        ),
        one(
            "every unit is wrong",
            In,
            swatch(In, &[(22.0, 10.0)], &[(30.0, 10.0)]),
        ),
        one("exchanged", Cm, cm(rows, &[22.0, 22.5, 22.0])),
        one(
            "garter stitch",
            Cm,
            cm(&[18.0, 18.5, 18.0, 18.5], &[36.0, 36.0, 36.5, 36.0]),
        ),
        one("a strip with floats", Cm, strip),
        one("washed", Cm, washed),
        one(
            "10 cm and 4 in",
            In,
            swatch(In, &[(22.0, 4.0)], &[(30.0, 4.0), (29.5, 3.937)]),
        ),
    ]
}

fn pairs() -> Vec<Example> {
    use Units::{Cm, In};
    let flat = || cm(&[22.0, 22.5, 22.0], &[30.0, 30.5, 31.0]);
    let washed = |swatch: Swatch, washed| Swatch {
        washed: Some(washed),
        ..swatch
    };
    let steady = || cm(&[22.0; 5], &[30.0, 30.5, 30.0, 30.5]);
    let strip = Swatch {
        floats: true,
        ..flat()
    };
    vec![
        two(
            "a usual drift",
            Cm,
            flat(),
            cm(&[23.5, 23.0, 23.5], &[30.5, 30.0, 31.5]),
        ),
        two(
            "looser in the round",
            Cm,
            flat(),
            cm(&[20.5, 21.0, 20.5], &[28.0, 27.5, 28.0]),
        ),
        two("no drift", Cm, steady(), steady()),
        two(
            "one count each",
            Cm,
            cm(&[22.0], &[30.0]),
            cm(&[23.0], &[30.0]),
        ),
        two(
            "one count each, in inches",
            In,
            swatch(In, &[(22.0, 4.0)], &[(30.0, 4.0)]),
            swatch(In, &[(22.25, 4.0)], &[(33.5, 4.0)]),
        ),
        two(
            "one of them counted over half the length",
            Cm,
            cm(&[22.0], &[30.0]),
            cm(&[11.0], &[15.0]),
        ),
        two(
            "washed and not",
            Cm,
            washed(flat(), true),
            washed(flat(), false),
        ),
        two("round twice", Cm, strip, flat()),
        two("far apart", Cm, cm(&[20.0, 29.0], &[30.0, 30.5]), flat()),
    ]
}

fn say(text: &mut String, found: &[Diagnostic]) {
    for d in found {
        let (level, id) = (d.level.word(), d.code.id);
        writeln!(
            text,
            "  {level} [{id}] {}\n    -> {}",
            d.message,
            d.advice()
        )
        .unwrap();
    }
}

fn findings(example: &Example) -> Vec<Diagnostic> {
    let units = example.units;
    let (first, mut found) = measure(&example.first, units);
    if let Some(first) = &first {
        found.extend(swatch::washing(&example.first, first, units).1);
    }
    let Some(second) = &example.second else {
        return found;
    };
    // The findings of each swatch alone are in the other examples.
    found = pair_findings(&example.first, second, units);
    let (second, _) = measure(second, units);
    let (first, second) = first.zip(second).unwrap();
    let between = drift(&first, &second);
    found.extend(drift_findings(&first, &second, &between, units));
    found.extend(large_drifts(&first, &second, &between, units));
    let (cap, tube) = (first.gauge().unwrap(), second.gauge().unwrap());
    found.extend(gauges_apart(cap, tube, units));
    found
}

#[test]
fn every_finding_reads_well() {
    let mut text = String::new();
    let mut raised = BTreeSet::new();
    for example in singles().iter().chain(&pairs()) {
        let found = findings(example);
        raised.extend(found.iter().map(|d| d.code.id));
        writeln!(text, "{} ({})", example.title, example.units).unwrap();
        say(&mut text, &found);
    }
    let codes: BTreeSet<&str> = swatch::CODES.iter().map(|c| c.id).collect();
    assert_eq!(raised, codes, "every code is raised by an example");
    insta::assert_snapshot!(text);
}
