//! A conversion from another program: a case in, the pattern's sentences and the result's figures out.
//!
//! `cargo run --example embed_conversion [CASE]`

#![allow(clippy::print_stdout, reason = "an example prints")]

use std::error::Error;

use capwright::diagnostic::Level;
use capwright::{Diagnostic, convert, read_case};

const CASE: &str = include_str!("../cases/tern-harbour.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let text = match std::env::args().nth(1) {
        Some(path) => std::fs::read_to_string(path)?,
        None => CASE.to_owned(),
    };
    let (case, findings) = read_case(&text);
    let case = case.ok_or_else(|| said(&findings))?;
    let conversion = convert(&case, None).map_err(|findings| said(&findings))?;
    for size in &conversion.sizes {
        let measures = &size.fit.measures;
        println!(
            "{}: {} turn pairs, {:.1} cm deep, {:.1} cm2, upper arm {}",
            size.old.size,
            size.fit.plan.turn_pairs(),
            measures.depth.to_cm(),
            measures.area_cm2,
            size.fit.plan.upper_arm()
        );
        for written in &size.written {
            for sentence in written.instructions.sentences() {
                println!("  {sentence}");
            }
        }
        for finding in size.findings.iter().filter(|f| f.level > Level::Note) {
            println!("  {}: {}", finding.code.id, finding.message);
        }
    }
    Ok(())
}

/// All findings as one error: their codes are stable, their words may change.
fn said(findings: &[Diagnostic]) -> String {
    let lines = findings.iter().map(|finding| {
        let code = finding.code.id;
        format!("{code}: {} {}", finding.message, finding.advice())
    });
    lines.collect::<Vec<_>>().join("\n")
}
