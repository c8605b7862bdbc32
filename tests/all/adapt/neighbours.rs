//! `[adapt]` over runs of neighbouring stitch counts: no holes, and what a refusal advises works.

use crate::common::{SEAM, example_rows, gauge, ledger};
use capwright::adapt::{EdgeEase, Keep, OldCap, Opening, OutlineProblem, OutlineWishes, adapt};
use capwright::measure::{Length, Side, Units};
use capwright::outline::Cap;
use capwright::pattern::Ledger;

struct Old(Ledger, Cap);

impl Old {
    fn example() -> Self {
        let ledger = ledger(70, &example_rows());
        let cap = Cap::from_ledger(&ledger, gauge(22.0, 30.0), SEAM).unwrap();
        Self(ledger, cap)
    }
}

/// One size with an arm of so many stitches at 22 to 10 cm.
fn problem(
    old: Option<&Old>,
    edge_cm: f64,
    depth_cm: f64,
    stitches: u32,
    keep: Keep,
) -> OutlineProblem<'_> {
    OutlineProblem {
        units: Units::Cm,
        old: old.map(|old| OldCap {
            cap: &old.1,
            ledger: &old.0,
        }),
        opening: Opening {
            front: Length::cm(edge_cm),
            back: Length::cm(edge_cm),
            depth: Length::cm(depth_cm),
            underarm: Length::cm(2.2),
            row: Length::cm(1.0 / 3.0),
        },
        gauge: gauge(22.0, 30.0),
        seam: SEAM,
        first_row: Side::Rs,
        wishes: OutlineWishes {
            upper_arm: Some(Length::cm(f64::from(stitches) * 10.0 / 22.0)),
            ease: Some(EdgeEase::Percent(0.0)),
            keep,
            ..OutlineWishes::default()
        },
        rows: None,
    }
}

/// A cap that can be made with one arm and with another can be made with every arm between them: edge,
/// depth and width change by a stitch at a time, and so do the limits of what can be bent.
#[test]
fn a_run_of_stitch_counts_has_no_holes() {
    let old = Old::example();
    let mut made = 0;
    for keep in [Keep::Shape, Keep::Depth, Keep::Area] {
        for old in [Some(&old), None] {
            for (edge_cm, depth_cm) in [(18.5, 17.5), (21.0, 20.0)] {
                let run: Vec<(u32, Option<String>)> = (52..=88)
                    .map(|stitches| {
                        let found = adapt(&problem(old, edge_cm, depth_cm, stitches, keep));
                        (stitches, found.err().map(|said| said[0].code.id.to_owned()))
                    })
                    .collect();
                let good = |(_, error): &&(u32, Option<String>)| error.is_none();
                made += run.iter().filter(good).count();
                let first = run.iter().position(|one| one.1.is_none());
                let last = run.iter().rposition(|one| one.1.is_none());
                let (Some(first), Some(last)) = (first, last) else {
                    continue;
                };
                let holes: Vec<_> = run[first..=last]
                    .iter()
                    .filter(|one| one.1.is_some())
                    .collect();
                assert!(
                    holes.is_empty(),
                    "{keep:?}, old {}, {edge_cm} by {depth_cm} cm: {holes:?}",
                    old.is_some()
                );
            }
        }
    }
    assert!(made > 200, "{made}");
}

/// Every arm, depth and armhole that a refusal names gives a cap.
#[test]
fn what_a_refusal_advises_works() {
    let old = Old::example();
    let mut tried = 0;
    for (edge_cm, depth_cm) in [
        (12.0, 11.0),
        (14.0, 13.0),
        (18.5, 17.5),
        (26.0, 24.0),
        (32.0, 30.0),
    ] {
        for stitches in (44..=120).step_by(19) {
            for depth in [None, Some(6.0), Some(20.0)] {
                let mut asked = problem(Some(&old), edge_cm, depth_cm, stitches, Keep::Shape);
                asked.wishes.depth = depth.map(Length::cm);
                let Err(said) = adapt(&asked) else { continue };
                for finding in said {
                    let advice = finding.advice();
                    if depth.is_none() {
                        let free = advice.contains("let the depth be free");
                        assert!(!free, "it is free already: {advice}");
                    }
                    let number = |words: &str| -> Option<f64> {
                        let rest = advice.to_lowercase().split(words).nth(1)?.to_owned();
                        rest.split_whitespace().next()?.parse().ok()
                    };
                    for (words, arm) in [("arm to ", true), ("make the cap ", false)] {
                        let Some(value) = number(words) else { continue };
                        let mut other = asked.clone();
                        if arm {
                            other.wishes.upper_arm = Some(Length::cm(value));
                        } else {
                            other.wishes.depth = Some(Length::cm(value));
                        }
                        assert!(adapt(&other).is_ok(), "{advice}");
                        tried += 1;
                    }
                    for (words, sign) in [("deepen the armhole by ", 1.0), ("take ", -1.0)] {
                        let Some(rows) = number(words) else { continue };
                        let other = OutlineProblem {
                            opening: asked.opening.deeper(sign * rows),
                            ..asked.clone()
                        };
                        assert!(adapt(&other).is_ok(), "{advice}");
                        tried += 1;
                    }
                }
            }
        }
    }
    assert!(tried > 15, "{tried}");
}
