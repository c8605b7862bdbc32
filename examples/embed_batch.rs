//! Many cases from another program: what can be converted of each, a line of JSON a case.
//!
//! A bad case, or a bad size of a case, stops no other: [`convert_each`] does what can be done and says
//! why the rest could not.
//!
//! `cargo run --release --example embed_batch CASE...`

#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "an example prints"
)]

use std::path::Path;

use capwright::convert::convert_each;
use capwright::parallel::cores;
use capwright::read_case;
use capwright::report::conversion_json;

fn main() {
    let mut paths: Vec<String> = std::env::args().skip(1).collect();
    if paths.is_empty() {
        paths.push("cases/quillam-cardigan.toml".to_owned());
    }
    for path in &paths {
        match one(Path::new(path)) {
            Ok(line) => println!("{line}"),
            Err(why) => eprintln!("{path}: {why}"),
        }
    }
}

fn one(path: &Path) -> Result<String, String> {
    let text = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
    let (case, findings) = read_case(&text);
    let why = |findings: &[capwright::Diagnostic]| {
        let first = findings.first().map(|finding| finding.message.clone());
        first.unwrap_or_default()
    };
    let case = case.ok_or_else(|| why(&findings))?;
    let done = convert_each(&case, None, cores()).map_err(|findings| why(&findings))?;
    for (size, findings) in &done.failed {
        eprintln!("{}, size {size}: {}", path.display(), why(findings));
    }
    Ok(conversion_json(&case, &done.conversion).to_string())
}
