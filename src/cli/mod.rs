//! The command line: arguments in, text or JSON out. The other door to the same rooms.
//!
//! Exit code 0: fine; 1: findings at error level; 2: input that cannot be used.

mod args;
mod batch;
mod bounded;
mod convert;
mod drift;
mod explain;
mod figure;
mod files;
mod from;
mod job;
mod knit;
mod lines;
mod manual;
mod new;
#[cfg(test)]
mod new_walk;
mod output;
mod pdf;
mod queue;
mod read;
mod repair;
mod show;
mod tables;

pub use args::{Cli, Command};

use crate::diagnostic::visible_lines;

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

/// Named on every page, so that it can be made again.
pub(crate) const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Exit code for findings at error level.
pub(crate) const FINDINGS: u8 = 1;

/// Exit code for input that cannot be used.
pub(crate) const UNUSABLE: u8 = 2;

impl Outcome {
    /// One sentence on why nothing could be done.
    pub(crate) fn unusable(sentence: &str) -> Self {
        Self::unusable_for(&[sentence.to_owned()])
    }

    /// All the reasons why nothing could be done.
    pub(crate) fn unusable_for(sentences: &[String]) -> Self {
        let lines = sentences
            .iter()
            .map(|sentence| format!("error: {}\n", visible_lines(sentence)));
        Self {
            err: lines.collect(),
            code: UNUSABLE,
            ..Self::default()
        }
    }

    /// The same, said after this.
    #[must_use]
    pub(crate) fn after(mut self, before: &str) -> Self {
        self.err.insert_str(0, before);
        self
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
        Command::New(args) if args.from.is_some() => from::from(args),
        Command::New(args) => new::new(args, &mut std::io::stdin().lock(), &mut anstream::stderr()),
        #[cfg(feature = "workbench")]
        Command::Workbench(_) => {
            Outcome::unusable("The workbench is a door of its own; the program opens it.")
        }
    }
}
