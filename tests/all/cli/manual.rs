//! Completions and manual pages: a shell takes them, and no command is missing.

use std::process::Command;

const COMMANDS: [&str; 9] = [
    "convert",
    "check",
    "drift",
    "read",
    "explain",
    "knit",
    "tables",
    "completions",
    "man",
];

fn run(args: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(args)
        .output()
        .expect("capwright runs");
    assert_eq!(output.status.code(), Some(0));
    String::from_utf8(output.stdout).unwrap()
}

/// The oracle is the shell's own parser, where there is a bash.
#[test]
fn completions_are_scripts_that_know_every_command() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = run(&["completions", shell]);
        for command in COMMANDS {
            assert!(script.contains(command), "{shell}: {command}");
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("completions");
    std::fs::write(&path, run(&["completions", "bash"])).unwrap();
    if let Ok(parsed) = Command::new("bash").arg("-n").arg(&path).output() {
        assert!(parsed.status.success() && parsed.stderr.is_empty());
    }
}

#[test]
fn every_command_has_a_page() {
    let whole = run(&["man"]);
    assert!(whole.contains(".TH capwright 1"), "{whole}");
    for command in COMMANDS {
        assert!(whole.contains(command), "{command}");
        let page = run(&["man", command]);
        assert!(
            page.contains(".SH SYNOPSIS") && page.contains(".SH OPTIONS"),
            "{page}"
        );
    }
    let unknown = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["man", "convrt"])
        .output()
        .unwrap();
    assert_eq!(unknown.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&unknown.stderr).contains("Did you mean convert?"));
}
