//! The README's worked example is the real case and the real output.

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

/// Every picture that the README shows is there, and every picture it names can be drawn.
#[test]
fn pictures_are_there() {
    let readme = file("README.md");
    let shown: Vec<&str> = readme
        .split("](docs/")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .collect();
    assert!(shown.len() >= 2);
    for name in shown {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("docs")
            .join(name);
        let size = fs::metadata(&path).expect(name).len();
        assert!(size < 200_000, "{name} is {size} bytes");
    }
    let row = readme.lines().find(|line| line.starts_with("| `.svg` |"));
    let (of_cap, of_drift) = row.unwrap().split_once("of a drift").unwrap();
    let folder = tempfile::tempdir().unwrap();
    let svg = folder.path().join("picture.svg");
    for (command, names) in [("convert", of_cap), ("drift", of_drift)] {
        let names = names.split('`').skip(1).step_by(2);
        for name in names.filter(|name| !name.contains(['.', ' ']) && *name != "size-set") {
            let status = Command::new(env!("CARGO_BIN_EXE_capwright"))
                .args([command, "cases/tern-harbour.toml", "--figure", name, "-o"])
                .arg(&svg)
                .current_dir(env!("CARGO_MANIFEST_DIR"))
                .status()
                .expect("capwright runs");
            assert!(status.success(), "{command} --figure {name}");
        }
    }
}
