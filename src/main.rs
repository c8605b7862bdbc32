//! The command line: the only place that prints.

use std::io::Write as _;
use std::process::ExitCode;

use capwright::cli::{Cli, run};
use clap::Parser as _;

fn main() -> ExitCode {
    let cli = Cli::parse();
    #[cfg(feature = "workbench")]
    if let capwright::cli::Command::Workbench(args) = &cli.command {
        return workbench(args.port);
    }
    let outcome = run(&cli);
    // A reader that went away (a closed pipe) is no fault of the result.
    let _ = anstream::stderr().write_all(outcome.err.as_bytes());
    let _ = anstream::stdout().write_all(outcome.out.as_bytes());
    let _ = anstream::stdout().flush();
    ExitCode::from(outcome.code)
}

/// Serves the workbench until Ctrl-C.
#[cfg(feature = "workbench")]
fn workbench(port: Option<u16>) -> ExitCode {
    let served = capwright::workbench::Workbench::open(port).and_then(|workbench| {
        let mut out = anstream::stdout();
        // Whoever started it may have closed the pipe; the page works all the same.
        let _ = writeln!(
            out,
            "The workbench is at http://{}/ - open it in a browser on this machine; Ctrl-C ends it.",
            workbench.address()
        );
        let _ = out.flush();
        workbench.run()
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
