//! The command line: the only place that prints.

use std::io::Write as _;
use std::process::ExitCode;

use capwright::cli::{Cli, run};
use clap::Parser as _;

fn main() -> ExitCode {
    let outcome = run(&Cli::parse());
    // A reader that went away (a closed pipe) is no fault of the result.
    let _ = anstream::stderr().write_all(outcome.err.as_bytes());
    let _ = anstream::stdout().write_all(outcome.out.as_bytes());
    let _ = anstream::stdout().flush();
    ExitCode::from(outcome.code)
}
