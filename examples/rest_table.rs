//! How long the rest of a cap takes, from every pair of our own cap, with counts that are off by a stitch or two.
//!
//! `cargo run --profile fast --example rest_table`
#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "an example prints, and its inputs are known"
)]

use std::time::Instant;

use capwright::case::read_case;
use capwright::convert::convert;
use capwright::fit::{Begun, Problem, Status, Wishes, fit_rest};
use capwright::measure::Stitches;

fn main() {
    let (case, _) = read_case(include_str!("../cases/tern-harbour.toml"));
    let size = convert(&case.unwrap(), None).unwrap().sizes.remove(0);
    let problem = Problem {
        cap: &size.old.cap,
        front: &size.old.front,
        back: &size.old.back,
        cap_gauge: size.gauge.cap,
        worked: None,
        tube_gauge: size.gauge.tube,
        upper_arm: size.old.wanted_upper_arm(),
        repeat: capwright::plan::Repeat::ANY,
        live: None,
        wishes: Wishes::default(),
    };
    let plan = &size.fit.plan;
    println!("front and back off by   rests   proven   mean ms   most ms");
    for (front, back) in [(0, 0), (1, 1), (1, 0), (2, 1), (2, 0)] {
        let (mut times, mut proven) = (Vec::new(), 0);
        for pairs in 0..plan.turn_pairs() {
            let more = |n: Stitches, off: u32| n + Stitches(off);
            let begun = Begun::of(plan, pairs).counted(
                plan.crown.stitches,
                plan.base(),
                more(plan.front.picked_up(), front),
                more(plan.back.picked_up(), back),
            );
            let start = Instant::now();
            let found = fit_rest(&problem, &begun);
            times.push(start.elapsed().as_secs_f64() * 1000.0);
            proven += usize::from(found.is_ok_and(|fit| fit.status == Status::Optimal));
        }
        let most = times.iter().copied().fold(0.0, f64::max);
        let mean = times.iter().sum::<f64>() / times.len() as f64;
        println!(
            "+{front} and +{back} {:>18} {proven:>8} {mean:>9.1} {most:>9.1}",
            times.len()
        );
    }
}
