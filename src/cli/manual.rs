//! Completions for shells and manual pages, made from the arguments themselves.

use clap::CommandFactory as _;

use super::args::{Cli, CompletionsArgs, ManArgs};
use super::outcome::Outcome;
use crate::diagnostic::nearest;

pub(crate) fn completions(args: &CompletionsArgs) -> Outcome {
    let mut out = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "capwright", &mut out);
    printed(&out)
}

pub(crate) fn man(args: &ManArgs) -> Outcome {
    let mut program = Cli::command();
    program.build();
    let page = match &args.command {
        None => program,
        Some(name) => match program.find_subcommand(name) {
            Some(command) => command.clone(),
            None => return Outcome::unusable(&unknown(&program, name)),
        },
    };
    let mut out = Vec::new();
    match clap_mangen::Man::new(page).render(&mut out) {
        Ok(()) => printed(&out),
        Err(error) => Outcome::unusable(&format!("The page cannot be made: {error}.")),
    }
}

fn unknown(program: &clap::Command, name: &str) -> String {
    let names = program.get_subcommands().map(clap::Command::get_name);
    let hint = nearest(name, names).map(|near| format!(" Did you mean {near}?"));
    format!("There is no command '{name}'.{}", hint.unwrap_or_default())
}

/// Both are printed: a shell or a folder of pages takes them from there.
fn printed(bytes: &[u8]) -> Outcome {
    Outcome {
        out: String::from_utf8_lossy(bytes).into_owned(),
        ..Outcome::default()
    }
}
