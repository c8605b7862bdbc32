//! How good and how fast the fit is, on random caps from a generator with a fixed start.
//!
//! `cargo run --release --example fit_table` prints the tables of DEVELOPERS.md.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a program for the developers' eyes"
)]

#[path = "../tests/all/common/caps.rs"]
mod common;
#[path = "../tests/all/fit_oracle/random.rs"]
mod random;

use std::time::Instant;

use capwright::fit::{Measures, Problem, Status, Wishes, certify, fit, measure, recipe};
use capwright::measure::Gauge;
use capwright::outline::{ArmholeEdge, Cap};
use capwright::plan::Repeat;
use common::{RowSpec, SEAM, armhole, gauge, ledger};
use random::Random;

/// A printed cap as patterns have them, its armhole and the knitter's gauges.
struct Bell {
    cap: Cap,
    front: ArmholeEdge,
    back: ArmholeEdge,
    cap_gauge: Gauge,
    tube_gauge: Gauge,
}

impl Bell {
    fn problem(&self) -> Problem<'_> {
        Problem {
            cap: &self.cap,
            front: &self.front,
            back: &self.back,
            cap_gauge: self.cap_gauge,
            worked: None,
            tube_gauge: self.tube_gauge,
            upper_arm: self.cap.upper_arm(),
            repeat: Repeat::ANY,
            live: None,
            wishes: Wishes::default(),
        }
    }
}

/// Rows of a bell of so many row pairs that takes away so many stitches a side: underarm, fast,
/// slow, fast, steps at the top (the outline that hand-knit caps have).
fn bell_rows(random: &mut Random, pairs: u32, side: u32) -> Vec<RowSpec> {
    let underarm = (side / 6).max(2);
    let mut rows = vec![(underarm, 0, 0); 2];
    let steps = (pairs / 12).min(3);
    let step = (side / 10).clamp(1, 4);
    let middle = pairs - 1 - steps;
    let mut left = side.saturating_sub(underarm + steps * step);
    // Decreases on both rows of the first and last pairs, as many as the middle cannot take.
    let every_row = left.saturating_sub(middle);
    let below = every_row.min(random.from(0, every_row.max(1)));
    for pair in 0..middle {
        let twice = pair < below || pair >= middle - (every_row - below).min(middle);
        let remaining = middle - pair;
        let here = if twice {
            2.min(left)
        } else {
            u32::from(
                left >= remaining
                    || random.one_in(remaining.div_ceil(left.max(1)).max(1)) && left > 0,
            )
        };
        left -= here;
        rows.extend([(0, 0, 0), (0, here, here)]);
    }
    rows.extend(vec![(step, 0, 0); 2 * steps as usize]);
    rows
}

/// The `n`-th random cap with this gauge and depth; alike or with a longer back edge.
fn bell(random: &mut Random, stitches: f64, depth_cm: f64, alike: bool) -> Bell {
    let pattern = gauge(stitches, stitches / random.between(0.68, 0.78));
    let arm_cm = (depth_cm * random.between(2.0, 2.9)).clamp(18.0, 50.0);
    let top_cm = (arm_cm * random.between(0.16, 0.24)).max(3.0);
    let s = pattern.stitch_width().to_cm();
    let top = (top_cm / s).round() as u32;
    let side = ((arm_cm - top_cm) / 2.0 / s).round() as u32;
    let pairs = (depth_cm / pattern.row_height().to_cm() / 2.0)
        .round()
        .max(5.0) as u32;
    let rows = bell_rows(random, pairs, side);
    let lost: u32 = rows.iter().map(|r| r.0 + r.1 + r.2).sum();
    let cap = Cap::from_ledger(&ledger(lost + top + 2, &rows), pattern, SEAM).unwrap();
    let cap_gauge = drifted(random, pattern);
    let tube_gauge = drifted(random, cap_gauge);
    let edge_cm = cap.edge_above_underarm().to_cm() * random.between(0.95, 1.02);
    let underarm_cm = cap.underarm().to_cm();
    let edge = |edge_cm: f64| armhole(edge_cm, underarm_cm, edge_cm * 0.94, pattern);
    let front = edge(edge_cm);
    let back = if alike {
        front.clone()
    } else {
        edge(edge_cm * random.between(1.01, 1.06))
    };
    Bell {
        cap,
        front,
        back,
        cap_gauge,
        tube_gauge,
    }
}

fn drifted(random: &mut Random, from: Gauge) -> Gauge {
    gauge(
        from.stitches_per_10cm() * random.between(0.96, 1.04),
        from.rows_per_10cm() * random.between(0.96, 1.04),
    )
}

/// Median and worst of some numbers.
fn middle_and_worst(numbers: &mut [f64]) -> (f64, f64) {
    numbers.sort_by(f64::total_cmp);
    (numbers[numbers.len() / 2], numbers[numbers.len() - 1])
}

fn line(name: &str, of: impl Fn(&Measures) -> f64, all: &[&Row]) {
    let mut fits: Vec<f64> = all.iter().map(|row| of(&row.fit)).collect();
    let mut recipes: Vec<f64> = all.iter().map(|row| of(&row.recipe)).collect();
    let (a, b) = middle_and_worst(&mut fits);
    let (c, d) = middle_and_worst(&mut recipes);
    println!("{name:<28} {a:>9.3} {b:>9.3}   {c:>9.3} {d:>9.3}");
}

/// A random cap as the fit and as the recipe make it.
struct Row {
    pairs: u32,
    runs: f64,
    gap: f64,
    fit: Measures,
    recipe: Measures,
}

/// Random caps of these yarns (stitches in 10 cm) and depths.
fn accuracy(caps: usize, yarns: (f64, f64), depths_cm: (f64, f64)) {
    let mut random = Random(2026);
    let (mut all, mut none) = (Vec::new(), 0);
    let mut proven = 0;
    let begun = Instant::now();
    while all.len() < caps {
        let stitches = random.between(yarns.0, yarns.1);
        let depth_cm = random.between(depths_cm.0, depths_cm.1);
        let alike = random.one_in(2);
        let bell = bell(&mut random, stitches, depth_cm, alike);
        let problem = bell.problem();
        match fit(&problem) {
            Ok(found) => {
                assert!(certify(&problem, &found.plan, &found.measures).is_empty());
                proven += usize::from(found.status == Status::Optimal);
                all.push(Row {
                    pairs: found.plan.turn_pairs(),
                    runs: found.plan.runs() as f64,
                    gap: found.gap_pct(),
                    fit: found.measures,
                    recipe: measure(&problem, &recipe(&problem)),
                });
            }
            Err(_) => none += 1,
        }
    }
    let ms = begun.elapsed().as_secs_f64() * 1e3 / all.len() as f64;
    println!(
        "\n{caps} random caps of {} to {} stitches in 10 cm and {} to {} cm depth; {none} more had no cap; {proven} proven; {ms:.1} ms each",
        yarns.0, yarns.1, depths_cm.0, depths_cm.1
    );
    table("all", &all.iter().collect::<Vec<_>>());
    let long: Vec<&Row> = all.iter().filter(|row| row.pairs >= 10).collect();
    table("ten turn pairs or more", &long);
}

fn table(title: &str, all: &[&Row]) {
    println!("\n{title}: {} caps", all.len());
    println!(
        "{:<28} {:>9} {:>9}   {:>9} {:>9}",
        "", "fit", "worst", "recipe", "worst"
    );
    line("area error %", |m| m.area_error_pct.abs(), all);
    line("depth error cm", |m| m.depth_error.abs().to_cm(), all);
    line("half width rms cm", |m| m.width_rms.to_cm(), all);
    line("local strain rms %", |m| m.strain_rms_pct, all);
    line("ease %", |m| m.ease_pct().abs(), all);
    let mut runs: Vec<f64> = all.iter().map(|row| row.runs).collect();
    let (median, worst) = middle_and_worst(&mut runs);
    println!("{:<28} {median:>9} {worst:>9}", "runs");
    let mean =
        |of: &dyn Fn(&Row) -> f64| all.iter().map(|row| of(row)).sum::<f64>() / all.len() as f64;
    println!(
        "means: runs {:.2}, strain {:.2} %, width {:.3} cm, area {:.2} %, ease {:.2} %, gap {:.1} %",
        mean(&|row| row.runs),
        mean(&|row| row.fit.strain_rms_pct),
        mean(&|row| row.fit.width_rms.to_cm()),
        mean(&|row| row.fit.area_error_pct.abs()),
        mean(&|row| row.fit.ease_pct().abs()),
        mean(&|row| row.gap)
    );
}

fn millis(problem: &Problem<'_>) -> f64 {
    let start = Instant::now();
    let found = fit(problem);
    let taken = start.elapsed().as_secs_f64() * 1e3;
    drop(found);
    taken
}

fn times(title: &str, stitches: f64, depth_cm: f64, cases: usize) {
    for alike in [true, false] {
        let mut random = Random(7);
        let mut pairs = 0;
        let mut all: Vec<f64> = (0..cases)
            .map(|_| {
                let bell = bell(&mut random, stitches, depth_cm, alike);
                pairs = bell.cap.rows().count() / 2;
                millis(&bell.problem())
            })
            .collect();
        let (median, worst) = middle_and_worst(&mut all);
        let flanks = if alike { "alike" } else { "different" };
        println!(
            "{title:<22} about {pairs:>3} turn pairs, flanks {flanks:<9} {median:>9.2} ms, worst {worst:>9.2} ms"
        );
    }
}

/// Time against turn pairs: the same sleeve in ever finer yarn, one fit each.
fn growth() {
    println!("\nturn pairs, upper arm stitches, ms (one fit, flanks different)");
    let sizes = [8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0, 76.0].map(|stitches| (stitches, 18.0));
    // Beyond what hands knit: the same yarn, ever deeper.
    for (stitches, depth_cm) in sizes.into_iter().chain([(76.0, 36.0), (76.0, 76.0)]) {
        let mut random = Random(11);
        let bell = bell(&mut random, stitches, depth_cm, false);
        let problem = bell.problem();
        let ms = millis(&problem);
        let status = fit(&problem).map_or_else(
            |_| "none".to_owned(),
            |fit| format!("{} {:.1} %", fit.status.word(), fit.gap_pct()),
        );
        let pairs = bell.cap.rows().count() / 2;
        let arm = bell.cap.upper_arm_stitches();
        println!("{pairs:>5} {arm:>12} {ms:>10.1}  {status}");
    }
}

fn main() {
    let what: Vec<String> = std::env::args().skip(1).collect();
    let all = what.is_empty();
    let caps = what.iter().find_map(|w| w.parse().ok()).unwrap_or(200);
    if all || what.iter().any(|w| w == "time") {
        println!("time of one fit, R = 1 to 8");
        times("12 sts, 8 cm", 12.0, 8.0, 20);
        times("22 sts, 13 cm", 22.0, 13.0, 20);
        times("28 sts, 18 cm", 28.0, 18.0, 20);
        times("32 sts, 20 cm", 32.0, 20.0, 20);
    }
    if all || what.iter().any(|w| w == "accuracy") {
        // Sleeves as most are, then all that hands knit.
        accuracy(caps, (16.0, 28.0), (9.0, 20.0));
        accuracy(caps, (12.0, 32.0), (6.0, 25.0));
    }
    if all || what.iter().any(|w| w == "growth") {
        growth();
    }
}
