#![allow(warnings)]
mod common;
use capwright::adapt::*;
use capwright::case::Terms;
use capwright::measure::*;
use capwright::pattern::{SizeReading, write_lines};
use common::*;

#[test]
fn explore() {
    let led = ledger(70, &example_rows());
    let cap = example_cap();
    let g = gauge(22.0, 30.0);
    println!(
        "old edge {:.2} depth {:.2} rows {} area {:.1} arm {:.2} top {:.2}",
        cap.edge_above_underarm().to_cm(),
        cap.depth().to_cm(),
        cap.rows(),
        cap.area_cm2(),
        cap.upper_arm().to_cm(),
        cap.top().to_cm()
    );
    for (arm, edge, keep, drafted, top) in [
        (None, 18.0, Keep::Shape, false, None),
        (None, 20.0, Keep::Shape, false, None),
        (Some(34.0), 18.0, Keep::Shape, false, None),
        (Some(34.0), 18.0, Keep::Depth, false, None),
        (Some(34.0), 18.0, Keep::Area, false, None),
        (None, 19.0, Keep::Depth, false, None),
        (None, 18.0, Keep::Area, false, None),
        (Some(33.0), 20.0, Keep::Shape, true, None),
        (Some(33.0), 20.0, Keep::Shape, true, Some(12.0)),
        (Some(33.0), 8.0, Keep::Shape, true, None),
        (Some(33.0), 40.0, Keep::Shape, true, None),
        (None, 25.0, Keep::Depth, false, None),
    ] {
        let p = Problem {
            units: Units::Cm,
            old: (!drafted).then_some(OldCap {
                cap: &cap,
                ledger: &led,
            }),
            opening: Opening {
                front: Length::cm(edge),
                back: Length::cm(edge),
                depth: Length::cm(edge - 1.0),
                underarm: Length::cm(2.3),
                row: g.row_height(),
            },
            gauge: g,
            seam: SEAM,
            first_row: Side::Rs,
            wishes: Wishes {
                upper_arm: arm.map(Length::cm),
                ease: Some(EdgeEase::Percent(0.0)),
                top: top.map(Length::cm),
                depth: None,
                keep,
            },
            rows: None,
        };
        let t = std::time::Instant::now();
        println!("--- {arm:?} {edge} {keep:?} {drafted} {top:?}");
        match adapt(&p) {
            Ok(a) => {
                println!(
                    "{:?} edge {:.2} depth {:.2} rows {} area {:.1} arm {:.2} top {:.2} bend {:.2} in {:?}",
                    a.status,
                    a.cap.edge_above_underarm().to_cm(),
                    a.cap.depth().to_cm(),
                    a.cap.rows(),
                    a.cap.area_cm2(),
                    a.cap.upper_arm().to_cm(),
                    a.cap.top().to_cm(),
                    a.bend.to_cm(),
                    t.elapsed()
                );
                println!(
                    "{}",
                    write_lines(
                        &[SizeReading {
                            size: "x".into(),
                            ledger: a.ledger.clone()
                        }],
                        Terms::Us
                    )
                );
            }
            Err(e) => {
                for d in e {
                    println!(
                        "ERR {} {} -> {} in {:?}",
                        d.code.id,
                        d.message,
                        d.advice(),
                        t.elapsed()
                    );
                }
            }
        }
    }
}
#[test]
fn draft() {
    let ends = Ends {
        top: Length::cm(3.2),
        below: Length::cm(14.2),
        row: Length::cm(1.0 / 3.0),
    };
    let s = Shape::Cut {
        upper_arm: Length::cm(33.0),
    };
    for n in [10, 15, 20, 25] {
        let r = s.between(ends, n);
        println!(
            "{n} {:?} E {:.2} straight {:.2} longest {:?}",
            r.half_widths_cm
                .iter()
                .map(|w| (w * 100.0).round() / 100.0)
                .collect::<Vec<_>>(),
            r.curve_cm(&r.half_widths_cm),
            r.shortest_cm(),
            r.longest_cm(None)
        );
        for k in [1.0, 1.5, 2.0, 3.0, 5.0] {
            let e = r.enlarged(k);
            println!(
                "   {k} {:.2} {:?}",
                e.curve_cm(&e.half_widths_cm),
                e.longest_cm(None)
            );
        }
        println!(
            "   near {:?}",
            r.nearest(r.curve_cm(&r.half_widths_cm) - 0.1, None)
                .map(|n| n.price)
        );
        println!(
            "   near {:?}",
            r.nearest(r.curve_cm(&r.half_widths_cm) + 0.1, None)
                .map(|n| n.price)
        );
    }
    let cap = example_cap();
    let r = Shape::of(&cap).between(
        Ends {
            top: cap.top() / 2.0,
            below: Length::cm(29.0 / 2.2),
            row: Length::cm(1.0 / 3.0),
        },
        17,
    );
    for k in [1.0, 1.5, 2.0, 3.0, 5.0] {
        let e = r.enlarged(k);
        println!(
            "   old {k} {:.2} {:?}",
            e.curve_cm(&e.half_widths_cm),
            e.longest_cm(None)
        );
    }
}
