//! The README's worked example is the real case and the real output.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests")]

use std::fs;
use std::path::Path;
use std::process::Command;

fn file(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

#[test]
fn the_worked_example_is_real() {
    let readme = file("README.md");
    assert!(
        readme.contains(file("cases/tern-harbour.toml").trim()),
        "the README shows another case file"
    );
    let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(["convert", "cases/tern-harbour.toml"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("capwright runs");
    let printed = String::from_utf8(output.stdout).unwrap();
    assert!(
        readme.contains(printed.trim()),
        "the README shows another output; the real one is\n{printed}"
    );
}

/// Every command of the README's table exists, and every key of a case is in its table.
#[test]
fn commands_and_keys_are_listed() {
    let readme = file("README.md");
    let help = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .arg("--help")
        .output()
        .expect("capwright runs");
    let help = String::from_utf8(help.stdout).unwrap();
    let commands = help
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"))
        .skip(1);
    let names = commands
        .take_while(|line| !line.trim().is_empty())
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next());
    let mut listed = 0;
    for name in names.filter(|name| *name != "help") {
        assert!(
            readme.contains(&format!("`capwright {name}")),
            "README lacks {name}"
        );
        listed += 1;
    }
    assert!(listed >= 6, "{help}");
}
