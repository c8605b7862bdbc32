//! The command line: arguments in, text or JSON out. The other door to the same rooms.
//!
//! Exit code 0: fine; 1: findings at error level; 2: input that cannot be used.

mod amend;
mod args;
mod batch;
mod bounded;
mod check;
mod convert;
mod drift;
mod explain;
mod figure;
mod files;
mod follow;
mod form;
mod from;
mod job;
mod knit;
mod lines;
mod manual;
mod new;
#[cfg(test)]
mod new_walk;
mod open;
mod outcome;
mod output;
mod print;
mod read;
mod render;
mod repair;
mod show;
mod tables;

pub use args::{Cli, Command};
pub use outcome::Outcome;

/// Runs one command.
pub fn run(cli: &Cli) -> Outcome {
    match &cli.command {
        Command::Convert(args) => convert::convert(args),
        Command::Check(args) => check::check(args),
        Command::Drift(args) => drift::drift(args),
        Command::Read(args) => read::read(args),
        Command::Explain(args) => explain::explain(args),
        Command::Knit(args) if args.follow => {
            follow::follow(args, &mut std::io::stdin().lock(), &mut anstream::stdout())
        }
        Command::Knit(args) => knit::knit(args),
        Command::Tables(args) => tables::tables(args),
        Command::Completions(args) => manual::completions(args),
        Command::Man(args) => manual::man(args),
        Command::Amend(args) => amend::amend(args),
        Command::New(args) if args.from.is_some() => from::from(args),
        Command::New(args) => new::new(args, &mut std::io::stdin().lock(), &mut anstream::stderr()),
        #[cfg(feature = "workbench")]
        Command::Workbench(_) => {
            Outcome::unusable("The workbench is a door of its own; the program opens it.")
        }
    }
}
