//! The command line: the only place that prints.

use std::io::{ErrorKind, Write as _};
use std::process::ExitCode;

use capwright::cli::{Cli, run};
use capwright::diagnostic::visible_lines;
use clap::Parser as _;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(answer) => return help(&answer),
    };
    #[cfg(feature = "workbench")]
    if let capwright::cli::Command::Workbench(args) = &cli.command {
        return workbench(args.port);
    }
    let outcome = run(&cli);
    // Who does not hear what is said can still see the exit code.
    let _ = anstream::stderr().write_all(outcome.err.as_bytes());
    printed(&outcome.out, outcome.code)
}

/// Help, the version, or what is wrong with the arguments.
fn help(answer: &clap::Error) -> ExitCode {
    let code = u8::try_from(answer.exit_code()).unwrap_or(2);
    let text = answer.render().ansi().to_string();
    if answer.use_stderr() {
        // Arguments are foreign text, too; the colours are ours.
        let parts: Vec<_> = text.split('\u{1b}').map(visible_lines).collect();
        let _ = anstream::stderr().write_all(parts.join("\u{1b}").as_bytes());
        return ExitCode::from(code);
    }
    printed(&text, code)
}

/// Prints a result. A reader that went away (a closed pipe) is no fault of the result; a disk that
/// is full is.
fn printed(text: &str, code: u8) -> ExitCode {
    let mut out = anstream::stdout();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    match written {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let said = format!("error: The result cannot be written: {error}.\n");
            let _ = anstream::stderr().write_all(said.as_bytes());
            ExitCode::from(2)
        }
        _ => ExitCode::from(code),
    }
}

/// Serves the workbench until Ctrl-C.
#[cfg(feature = "workbench")]
fn workbench(port: Option<u16>) -> ExitCode {
    let served = capwright::workbench::Workbench::open(port).and_then(|workbench| {
        workbench.run(|address| {
            let mut out = anstream::stdout();
            // Whoever started it may have closed the pipe; the page works all the same.
            let _ = writeln!(
                out,
                "The workbench is at http://{address}/ - open it in a browser on this machine; Ctrl-C ends it."
            );
            let _ = out.flush();
        })
    });
    match served {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let port = port.map_or("any port".to_owned(), |port| format!("port {port}"));
            let _ = writeln!(
                anstream::stderr(),
                "error: The workbench cannot listen on {port} of 127.0.0.1: {error}."
            );
            ExitCode::from(2)
        }
    }
}
