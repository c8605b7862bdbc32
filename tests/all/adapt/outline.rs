//! Outlines in whole stitches: the slanting cut, published rules, wishes that hold, random wishes.

use crate::common::{SEAM, example_rows, gauge, ledger};
use capwright::adapt::{
    Adapted, EdgeEase, Ends, Keep, OldCap, Opening, OutlineProblem, OutlineStatus, OutlineWishes,
    adapt, cap_depth_by_cylinder, cap_depth_by_top_and_chest, cut_depth, usual_top,
};
use capwright::case::Terms;
use capwright::diagnostic::Diagnostic;
use capwright::measure::{Gauge, Length, Rows, Side, Stitches, Units};
use capwright::outline::{Cap, Seam};
use capwright::pattern::{Context, Ledger, SizeReading, read, write_lines};

const CM: fn(f64) -> Length = Length::cm;

/// An old cap with its rows.
struct Old(Ledger, Cap);

impl Old {
    fn example() -> Self {
        let ledger = ledger(70, &example_rows());
        let cap = Cap::from_ledger(&ledger, gauge(22.0, 30.0), SEAM).unwrap();
        Self(ledger, cap)
    }

    /// An armhole on which this cap has no ease.
    fn own_opening(&self) -> Opening {
        opening(self.1.edge_above_underarm().to_cm(), 17.5)
    }

    fn wishing(&self, opening: Opening, wishes: OutlineWishes) -> OutlineProblem<'_> {
        OutlineProblem {
            old: Some(OldCap {
                cap: &self.1,
                ledger: &self.0,
            }),
            ..drafting(opening, wishes)
        }
    }
}

fn opening(edge_cm: f64, depth_cm: f64) -> Opening {
    Opening {
        front: CM(edge_cm),
        back: CM(edge_cm),
        depth: CM(depth_cm),
        underarm: CM(2.2),
        row: CM(1.0 / 3.0),
    }
}

fn drafting(opening: Opening, wishes: OutlineWishes) -> OutlineProblem<'static> {
    OutlineProblem {
        units: Units::Cm,
        old: None,
        opening,
        gauge: gauge(22.0, 30.0),
        seam: SEAM,
        first_row: Side::Rs,
        wishes,
        rows: None,
    }
}

fn no_ease() -> OutlineWishes {
    OutlineWishes {
        ease: Some(EdgeEase::Percent(0.0)),
        ..OutlineWishes::default()
    }
}

/// Figures C1 to C4: biceps and armhole girth in inches, height of the cap. The method is S. Partlan's
/// (stylemadebyhand.com, 18 Feb 2013), the heights follow from the ellipse a plane cuts out of a
/// cylinder. Here they come from the length of the unrolled curve by Simpson's rule, there by the girth
/// of the ellipse.
const CUTS: [(f64, f64, f64); 4] = [
    (13.0, 17.0, 5.075),
    (13.0, 16.0, 4.296),
    (14.0, 18.0, 5.233),
    (12.0, 16.0, 4.912),
];

#[test]
fn a_slanting_cut_without_rules_has_the_depth_of_the_closed_form() {
    for (biceps, girth, height) in CUTS {
        let (arm, girth) = (Length::inches(biceps), Length::inches(girth));
        let ends = Ends {
            top: Length::ZERO,
            below: arm / 2.0,
            row: CM(0.3),
        };
        let unrolled = cut_depth(arm, ends, girth / 2.0).unwrap();
        let ellipse = cap_depth_by_cylinder(arm, girth).unwrap();
        for depth in [unrolled, ellipse] {
            let off = depth.to_inches() / height - 1.0;
            assert!(off.abs() < 0.001, "{biceps}, {}: {off}", depth.to_inches());
        }
    }
}

/// The same caps in whole stitches and rows, at the finest gauge a case may have: within a row pair.
#[test]
fn a_drafted_cap_without_rules_is_the_slanting_cut() {
    for (biceps, girth, height) in CUTS {
        let fine = gauge(80.0, 120.0);
        let half = Length::inches(girth / 2.0);
        let problem = OutlineProblem {
            gauge: fine,
            seam: Seam {
                stitches: Stitches::ZERO,
                rows: Rows::ZERO,
            },
            opening: Opening {
                front: half,
                back: half,
                depth: Length::inches(8.0),
                underarm: Length::ZERO,
                row: fine.row_height(),
            },
            ..drafting(
                opening(20.0, 20.0),
                OutlineWishes {
                    upper_arm: Some(Length::inches(biceps)),
                    top: Some(fine.stitch_width()),
                    ..no_ease()
                },
            )
        };
        let drafted = adapt(&problem).unwrap();
        assert_eq!(drafted.status, OutlineStatus::Drafted);
        let off = drafted.cap.depth() - Length::inches(height);
        let pair = fine.row_height() * 2.0;
        assert!(off.abs() <= pair, "{biceps}: {} cm", off.to_cm());
        assert!((drafted.cap.edge_above_underarm() - half).abs() < CM(0.15));
    }
}

/// Worked example E1 (Slipped Stitches, Mar 2014): armhole 8.5 in, top 3 in, chest 31 to 48 in: 5.5 in
/// deep, 35.75 rows at 6.5 to the inch, taken as 36.
#[test]
fn a_depth_by_rule_has_the_rows_of_the_published_example() {
    let depth = cap_depth_by_top_and_chest(
        Length::inches(8.5),
        Length::inches(3.0),
        Length::inches(38.0),
    );
    assert!((depth.to_inches() - 5.5).abs() < 1e-9);
    let gauge = Gauge::per_10cm(5.25 * 10.0 / 2.54, 6.5 * 10.0 / 2.54).unwrap();
    let edge = Length::inches(8.75);
    let problem = OutlineProblem {
        gauge,
        opening: Opening {
            front: edge,
            back: edge,
            depth: Length::inches(8.5),
            underarm: gauge.width(Stitches(5)),
            row: gauge.row_height(),
        },
        ..drafting(
            opening(20.0, 20.0),
            OutlineWishes {
                upper_arm: Some(gauge.width(Stitches(66))),
                top: Some(gauge.width(Stitches(16))),
                depth: Some(depth),
                ..no_ease()
            },
        )
    };
    let drafted = adapt(&problem).unwrap();
    assert_eq!(drafted.cap.rows(), Rows(36));
    assert_eq!(drafted.cap.upper_arm_stitches(), Stitches(66));
    assert_eq!(drafted.cap.final_stitches(), Stitches(16 + 2));
}

/// 2 to 3 in for an adult (30-day sweater course, day 24).
#[test]
fn the_usual_top_of_an_adult() {
    for arm in [25.0, 30.0, 36.0, 50.0] {
        let top = usual_top(CM(arm)).to_inches();
        assert!((2.0 - 1e-9..=3.0 + 1e-9).contains(&top), "{arm}: {top}");
    }
    assert!(usual_top(CM(15.0)) < Length::inches(2.0));
}

/// Wishes that already hold change nothing, to the stitch, however they are put.
#[test]
fn wishes_that_hold_change_nothing() {
    let old = Old::example();
    let cap = &old.1;
    let own = old.own_opening();
    let wishes = [
        OutlineWishes::default(),
        no_ease(),
        OutlineWishes {
            upper_arm: Some(cap.upper_arm()),
            ..no_ease()
        },
        OutlineWishes {
            top: Some(cap.top()),
            depth: Some(cap.depth()),
            ..no_ease()
        },
        OutlineWishes {
            keep: Keep::Depth,
            ..no_ease()
        },
        OutlineWishes {
            keep: Keep::Area,
            ..no_ease()
        },
    ];
    for wish in wishes {
        let adapted = adapt(&old.wishing(own, wish)).unwrap();
        assert_eq!(adapted.status, OutlineStatus::Unchanged, "{wish:?}");
        assert_eq!(adapted.ledger, old.0);
        assert_eq!(adapted.cap, *cap);
    }
    // No ease is wished: the old cap's own stays as long as it is usual: 0 to 1 in over the whole
    // armhole, so half of that on each side (By Gum By Golly, 2011).
    for more in [0.0, 0.6, 1.25] {
        let edge = cap.edge_above_underarm().to_cm() - more;
        let adapted = adapt(&old.wishing(opening(edge, 17.0), OutlineWishes::default())).unwrap();
        assert_eq!(
            adapted.status,
            OutlineStatus::Unchanged,
            "{more} cm of ease"
        );
    }
    let long = cap.edge_above_underarm().to_cm() - 2.5;
    let adapted = adapt(&old.wishing(opening(long, 15.0), OutlineWishes::default())).unwrap();
    assert_eq!(adapted.status, OutlineStatus::Adapted);
}

/// The same garment in another unit of length, stitches and rows as many: the same rows.
#[test]
fn a_garment_twice_as_large_at_half_the_gauge_has_the_same_rows() {
    let old = Old::example();
    let wishes = OutlineWishes {
        upper_arm: Some(CM(34.0)),
        ..no_ease()
    };
    let small = adapt(&old.wishing(opening(18.5, 17.5), wishes)).unwrap();
    let half = gauge(11.0, 15.0);
    let large_cap = Cap::from_ledger(&old.0, half, SEAM).unwrap();
    let double = Opening {
        front: CM(37.0),
        back: CM(37.0),
        depth: CM(35.0),
        underarm: CM(4.4),
        row: half.row_height(),
    };
    let wishes = OutlineWishes {
        upper_arm: Some(CM(68.0)),
        ..no_ease()
    };
    let problem = OutlineProblem {
        gauge: half,
        old: Some(OldCap {
            cap: &large_cap,
            ledger: &old.0,
        }),
        ..drafting(double, wishes)
    };
    // Weights of width and slope are in centimetres, so a few rows may differ; counts do not.
    let large = adapt(&problem).unwrap();
    assert_eq!(large.cap.rows(), small.cap.rows());
    assert_eq!(large.ledger.start, small.ledger.start);
    assert_eq!(large.cap.final_stitches(), small.cap.final_stitches());
}

/// A fixed generator (`SplitMix64`), so that every run tries the same wishes.
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    fn maybe(&mut self, low: f64, high: f64) -> Option<Length> {
        let value = self.between(low, high);
        (self.next() < 0.6).then(|| CM(value))
    }
}

fn random_problem<'a>(random: &mut Random, old: &'a Old) -> OutlineProblem<'a> {
    let edge = random.between(14.0, 26.0);
    let depth = edge * random.between(0.8, 0.97);
    let keep = match random.next() {
        share if share < 0.25 => Keep::Depth,
        share if share < 0.5 => Keep::Area,
        _ => Keep::Shape,
    };
    let mut wishes = OutlineWishes {
        upper_arm: random.maybe(22.0, 48.0),
        ease: Some(EdgeEase::Percent(random.between(-2.0, 8.0))),
        top: random.maybe(1.0, 12.0),
        depth: None,
        keep,
    };
    if random.next() < 0.2 && keep != Keep::Depth {
        wishes.depth = Some(CM(random.between(6.0, 18.0)));
    }
    let mut opening = opening(edge, depth);
    opening.back = opening.back + CM(random.between(-0.8, 0.8));
    if random.next() < 0.4 {
        wishes.upper_arm = wishes.upper_arm.or(Some(CM(33.0)));
        wishes.keep = Keep::Shape;
        let mut problem = drafting(opening, wishes);
        if random.next() < 0.5 {
            problem.first_row = Side::Ws;
        }
        return problem;
    }
    old.wishing(opening, wishes)
}

/// What every outline must be: the counts wished, an edge within a stitch and half a row of the one
/// wished, rows that add up and only ever narrow, and lines that read back as the same rows.
fn assert_sound(problem: &OutlineProblem<'_>, adapted: &Adapted) {
    let (s, r) = (problem.gauge.stitch_width(), problem.gauge.row_height());
    let half = s.to_cm() / 2.0 + 1e-9;
    let cap = &adapted.cap;
    assert!((cap.upper_arm() - problem.upper_arm()).abs().to_cm() <= half);
    let top = (cap.top() - problem.top()).abs().to_cm();
    assert!(top <= s.to_cm() + 1e-9, "top off by {top}");
    let off = (cap.edge_above_underarm() - problem.edge()).abs();
    assert!(off <= s + r / 2.0, "edge off by {} cm", off.to_cm());
    if let Some(depth) = problem.depth() {
        assert!((cap.depth() - depth).abs() <= r * 1.001);
    }
    let mut last = adapted.ledger.start;
    for row in &adapted.ledger.rows {
        assert_eq!(last - row.removed(), row.stitches, "row {}", row.row);
        last = row.stitches;
    }
    assert_eq!(last, Stitches::ZERO);
    let sides = cap.edge_points_cm();
    assert!(sides.windows(2).all(|pair| pair[0].x <= pair[1].x + 1e-9));
    if adapted.status != OutlineStatus::Unchanged {
        assert_reads_back(&adapted.ledger, problem.first_row);
    }
}

fn assert_reads_back(ledger: &Ledger, first_row: Side) {
    for terms in [Terms::Us, Terms::Uk] {
        let size = SizeReading {
            size: "one".to_owned(),
            ledger: ledger.clone(),
        };
        let text = write_lines(&[size], terms);
        let mut context = Context::new(vec!["one".to_owned()], vec![ledger.start]);
        context.first_row = first_row;
        let (reading, said) = read(&text, &context);
        let rows = |ledger: &Ledger| -> Vec<_> {
            let rows = ledger.rows.iter();
            rows.map(|row| {
                (
                    row.side,
                    row.bind_off,
                    row.decrease_start,
                    row.decrease_end,
                    row.stitches,
                )
            })
            .collect()
        };
        assert_eq!(
            rows(&reading.sizes[0].ledger),
            rows(ledger),
            "{text}{said:?}"
        );
    }
}

/// A refusal is true: it says what to change, and with the rows it names there is an outline, with
/// fewer there is none.
fn assert_true_reason(problem: &OutlineProblem<'_>, found: &[Diagnostic]) {
    assert_eq!(found.len(), 1, "{found:?}");
    let found = &found[0];
    assert!(found.code.id.starts_with("adapt-"));
    let advice = found.advice();
    let rows = |words: &str| -> Option<f64> {
        let rest = advice.to_lowercase();
        let at = rest.find(words)? + words.len();
        rest.get(at..)?.split_whitespace().next()?.parse().ok()
    };
    let deeper = |rows: f64| OutlineProblem {
        opening: problem.opening.deeper(rows),
        ..problem.clone()
    };
    let (rows, sign) = match found.code.id {
        "adapt-armhole-short" => (rows("deepen the armhole by "), 1.0),
        "adapt-armhole-long" => (rows("take "), -1.0),
        _ => return,
    };
    let Some(rows) = rows else { return };
    if problem.half_area_cm2().is_none() {
        assert!(adapt(&deeper(sign * rows)).is_ok(), "{advice} did not help");
    }
    let fewer = adapt(&deeper(sign * (rows - 1.0)));
    assert!(fewer.is_err(), "{advice}: one row fewer does as well");
}

#[test]
fn random_wishes_are_met_or_refused_for_a_true_reason() {
    let old = Old::example();
    let mut random = Random(20);
    let (mut met, mut refused, mut unchanged) = (0, 0, 0);
    for _ in 0..600 {
        let problem = random_problem(&mut random, &old);
        match adapt(&problem) {
            Ok(adapted) => {
                assert_sound(&problem, &adapted);
                met += 1;
                unchanged += u32::from(adapted.status == OutlineStatus::Unchanged);
            }
            Err(found) => {
                assert_true_reason(&problem, &found);
                refused += 1;
            }
        }
    }
    assert!(
        met > 200 && refused > 100,
        "{met} met, {refused} refused, {unchanged} unchanged"
    );
}

#[test]
fn contradictions_are_named() {
    let old = Old::example();
    let said = |problem: &OutlineProblem<'_>| {
        let found = adapt(problem).unwrap_err();
        (
            found[0].code.id,
            found[0].message.clone(),
            found[0].advice().to_owned(),
        )
    };
    let narrow = OutlineWishes {
        upper_arm: Some(CM(12.0)),
        top: Some(CM(11.0)),
        ..no_ease()
    };
    let (code, message, advice) = said(&old.wishing(opening(18.0, 17.0), narrow));
    assert_eq!(code, "adapt-arm-narrow");
    assert!(message.contains("no more than the top of"), "{message}");
    assert!(advice.contains("et adapt.upper_arm to"), "{advice}");
    let mut wide = opening(18.0, 17.0);
    wide.underarm = CM(18.0);
    let (code, ..) = said(&drafting(
        wide,
        OutlineWishes {
            upper_arm: Some(CM(30.0)),
            ..no_ease()
        },
    ));
    assert_eq!(code, "adapt-underarm-wide");
    let wider = OutlineWishes {
        upper_arm: Some(CM(40.0)),
        ..no_ease()
    };
    let (code, message, advice) = said(&old.wishing(opening(15.0, 14.0), wider));
    assert_eq!(code, "adapt-armhole-short");
    assert!(
        message.contains("too short for this arm at any depth"),
        "{message}"
    );
    assert!(
        advice.contains("eepen the armhole by") && advice.contains("narrow the arm to"),
        "{advice}"
    );
    let kept = OutlineWishes {
        keep: Keep::Depth,
        ..no_ease()
    };
    let (code, message, advice) = said(&old.wishing(opening(24.0, 20.0), kept));
    assert_eq!(code, "adapt-armhole-long");
    assert!(message.contains("at a depth of 11.3 cm"), "{message}");
    assert!(advice.starts_with("Make the cap "), "{advice}");
    let area = OutlineWishes {
        keep: Keep::Area,
        ..no_ease()
    };
    let (code, ..) = said(&old.wishing(opening(16.0, 15.0), area));
    assert_eq!(code, "adapt-area-not-kept");
}

/// The area kept is kept to the rounding of the stitches.
#[test]
fn a_kept_area_is_kept() {
    let old = Old::example();
    let mut kept = 0;
    for edge in [18.3, 18.9, 19.2, 19.5] {
        let area = OutlineWishes {
            keep: Keep::Area,
            ..no_ease()
        };
        if let Ok(adapted) = adapt(&old.wishing(opening(edge, 17.5), area)) {
            let off = adapted.cap.area_cm2() / old.1.area_cm2() - 1.0;
            assert!(off.abs() < 0.02, "{edge}: {off}");
            kept += u32::from(adapted.status == OutlineStatus::Adapted);
        }
    }
    assert!(kept >= 2, "{kept}");
}
