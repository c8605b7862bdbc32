//! The command line: arguments in, text or JSON out. The other door to the same rooms.
//!
//! Exit code 0: fine; 1: findings at error level; 2: input that cannot be used.

mod args;
mod batch;
mod convert;
mod drift;
mod explain;
mod files;
mod job;
mod knit;
mod lines;
mod manual;
mod queue;
mod read;
mod repair;
mod show;
mod tables;

pub use args::{Cli, Command};

/// What a command leaves behind for `main` to print.
#[derive(Debug, Default)]
pub struct Outcome {
    /// Text for standard output.
    pub out: String,
    /// Text for standard error, with colour codes that a non-terminal strips.
    pub err: String,
    /// Exit code.
    pub code: u8,
}

/// Exit code for findings at error level.
pub(crate) const FINDINGS: u8 = 1;

/// Exit code for input that cannot be used.
pub(crate) const UNUSABLE: u8 = 2;

impl Outcome {
    /// Fine, with this to print.
    pub(crate) fn fine(out: String) -> Self {
        Self {
            out,
            ..Self::default()
        }
    }

    /// One sentence on why nothing could be done.
    pub(crate) fn unusable(sentence: &str) -> Self {
        Self {
            err: format!("error: {sentence}\n"),
            code: UNUSABLE,
            ..Self::default()
        }
    }
}

/// Runs one command.
pub fn run(cli: &Cli) -> Outcome {
    match &cli.command {
        Command::Convert(args) => convert::convert(args),
        Command::Check(args) => convert::check(args),
        Command::Drift(args) => drift::drift(args),
        Command::Read(args) => read::read(args),
        Command::Explain(args) => explain::explain(args),
        Command::Knit(args) => knit::knit(args),
        Command::Tables(args) => tables::tables(args),
        Command::Completions(args) => manual::completions(args),
        Command::Man(args) => manual::man(args),
    }
}
