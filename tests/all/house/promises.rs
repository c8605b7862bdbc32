//! What DEVELOPERS.md says is held by a test is held by a test that exists and runs; every file and item of a file that
//! it names is there.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// What stands in backticks in the right column of the tables of promises, row by row.
fn promised(developers: &str) -> Vec<(String, Vec<String>)> {
    let (_, rest) = developers.split_once("### What is promised").unwrap();
    let (section, _) = rest.split_once("\n### ").unwrap();
    let rows = section.lines().filter(|line| line.starts_with("| "));
    rows.filter_map(|row| {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").collect();
        let [promise, held] = cells.as_slice() else {
            panic!("a row with other than two cells: {row}");
        };
        let names = held.split('`').skip(1).step_by(2);
        let names: Vec<String> = names.map(str::to_owned).collect();
        let head = ["held by", "---"].contains(&held.trim());
        (!head).then(|| (promise.trim().to_owned(), names))
    })
    .collect()
}

/// True when an attribute says that the test is not run.
fn is_passed_over(attributes: &str) -> bool {
    let mut lines = attributes.lines().map(str::trim);
    lines.any(|line| line.starts_with("#[") && line.contains("ignore"))
}

/// True when the file has a test, or the test of this name; one that is not run holds nothing.
fn has_test(text: &str, name: Option<&str>) -> bool {
    let Some(name) = name else {
        return text.contains("#[test]") || text.contains("proptest!");
    };
    let Some((before, _)) = text.split_once(&format!("fn {name}(")) else {
        return false;
    };
    let attributes = before.rsplit("\n\n").next().unwrap_or_default();
    let mut lines = attributes.lines().map(str::trim);
    lines.any(|line| line == "#[test]") && !is_passed_over(attributes)
}

/// The file of a path such as `room::file` or `room::file::test`, and the test.
fn resolve(path: &str) -> Option<(PathBuf, Option<String>)> {
    let tests = root().join("tests/all");
    let file = |path: &str| {
        let at = tests.join(path.replace("::", "/"));
        [at.with_extension("rs"), at.join("mod.rs")]
            .into_iter()
            .find(|file| file.is_file())
    };
    if let Some(whole) = file(path) {
        return Some((whole, None));
    }
    let (module, test) = path.rsplit_once("::")?;
    Some((file(module)?, Some(test.to_owned())))
}

/// Whether `mod a { mod b; }` of the one binary names the file.
fn is_in_the_binary(path: &str) -> bool {
    let main = read(&root().join("tests/all/main.rs"));
    let mut parts = path.split("::");
    let room = parts.next().unwrap_or_default();
    if main.contains(&format!("\nmod {room};")) {
        return true;
    }
    let Some((_, inside)) = main.split_once(&format!("\nmod {room} {{")) else {
        return false;
    };
    let (inside, _) = inside.split_once("\n}").unwrap();
    parts
        .next()
        .is_some_and(|file| inside.contains(&format!("    mod {file};")))
}

/// Why a name holds nothing.
fn fault(name: &str) -> Option<String> {
    let plain = root().join(name);
    if name.contains('/') {
        let by_hand = name.starts_with("examples/") || name.starts_with("tests/browser/");
        return match fs::read_to_string(&plain) {
            Ok(text) if by_hand || has_test(&text, None) => None,
            Ok(_) => Some("holds no test".to_owned()),
            Err(error) => Some(error.to_string()),
        };
    }
    let Some((file, test)) = resolve(name) else {
        return Some("is no file of tests".to_owned());
    };
    if !is_in_the_binary(name) {
        return Some("is not in tests/all/main.rs".to_owned());
    }
    let text = read(&file);
    (!has_test(&text, test.as_deref())).then(|| format!("is not in {}", file.display()))
}

#[test]
fn each_promise_names_a_test_that_is_there() {
    let mut faults = Vec::new();
    let mut named = 0;
    let rows = promised(&read(&root().join("DEVELOPERS.md")));
    for (promise, names) in &rows {
        if names.is_empty() {
            faults.push(format!("{promise}: no test is named"));
        }
        let mut before = String::new();
        // What is no path, such as `[fit]`, is prose.
        for name in names.iter().filter(|name| is_path(name)) {
            let full = match name.strip_prefix("::") {
                Some(rest) => format!("{before}::{rest}"),
                None => name.clone(),
            };
            named += 1;
            faults.extend(fault(&full).map(|why| format!("{promise}: `{full}` {why}")));
            let of_test = resolve(&full).and_then(|(_, test)| test);
            before = match of_test {
                Some(test) => full.trim_end_matches(&format!("::{test}")).to_owned(),
                None => full,
            };
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(rows.len() >= 20 && named >= 40, "{} {named}", rows.len());
}

fn is_path(name: &str) -> bool {
    let letter = |c: char| c.is_ascii_alphanumeric() || "_:/.".contains(c);
    name.chars().all(letter) && (name.contains("::") || name.contains('/') || !name.contains('.'))
}

/// Every file of Rust in the checkout, as a path from its root.
fn sources() -> Vec<String> {
    let mut folders = [
        "src",
        "tests",
        "examples",
        "benches",
        "fuzz/targets",
        "web/src",
    ]
    .map(|name| root().join(name))
    .to_vec();
    let mut out = Vec::new();
    while let Some(folder) = folders.pop() {
        let Ok(entries) = fs::read_dir(&folder) else {
            continue;
        };
        for path in entries.map(|entry| entry.unwrap().path()) {
            if path.is_dir() && !path.ends_with("node_modules") {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let short = path.strip_prefix(root()).unwrap();
                out.push(short.to_str().unwrap().replace('\\', "/"));
            }
        }
    }
    out
}

fn is_rust(path: &str) -> bool {
    Path::new(path).extension().is_some_and(|end| end == "rs")
}

/// What in backticks names a file of Rust (`a/b.rs`) or an item of one (`a/b.rs::name`).
fn files_named(text: &str) -> Vec<(&str, Option<&str>)> {
    let letter = |c: char| c.is_ascii_alphanumeric() || "_/.:".contains(c);
    let quoted = text.split('`').skip(1).step_by(2);
    let plain = quoted.filter(|name| name.chars().all(letter));
    plain
        .filter_map(|name| match name.split_once("::") {
            Some((file, item)) if is_rust(file) => Some((file, Some(item))),
            None if is_rust(name) => Some((name, None)),
            _ => None,
        })
        .collect()
}

/// Why a file or an item that is named is not there.
fn not_there(sources: &[String], file: &str, item: Option<&str>) -> Option<String> {
    let is = |path: &&String| *path == file || path.ends_with(&format!("/{file}"));
    let found: Vec<&String> = sources.iter().filter(is).collect();
    if found.is_empty() {
        return Some(format!("`{file}` is no file"));
    }
    let item = item?;
    let kinds = [
        "fn", "struct", "enum", "trait", "const", "static", "type", "mod",
    ];
    let begins = |line: &str| {
        let words: Vec<&str> = line
            .split(|c: char| !(c.is_ascii_alphanumeric() || c == '_'))
            .collect();
        words
            .windows(2)
            .any(|pair| kinds.contains(&pair[0]) && pair[1] == item)
    };
    let has = |path: &&String| read(&root().join(path)).lines().any(begins);
    (!found.iter().any(has)).then(|| format!("`{file}::{item}` is not in it"))
}

#[test]
fn each_file_that_is_named_is_there() {
    let sources = sources();
    let developers = read(&root().join("DEVELOPERS.md"));
    let named = files_named(&developers);
    let faults: Vec<String> = named
        .iter()
        .filter_map(|(file, item)| not_there(&sources, file, *item))
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    let items = named.iter().filter(|(_, item)| item.is_some()).count();
    assert!(named.len() > 150 && items > 5, "{} {items}", named.len());
    // The check itself.
    assert!(not_there(&sources, "house/promises.rs", Some("not_there")).is_none());
    assert!(not_there(&sources, "house/promises.rs", Some("no_such_item")).is_some());
    assert!(not_there(&sources, "house/no_such_file.rs", None).is_some());
    assert!(not_there(&sources, "romises.rs", None).is_some());
    assert_eq!(
        files_named("`a/b.rs` and `b.rs::c`, not `// b.rs: x` or `d::e`"),
        [("a/b.rs", None), ("b.rs", Some("c"))]
    );
}

/// The check itself: a name that is not there is found.
#[test]
fn a_promise_without_a_test_is_found() {
    assert!(fault("trouble::attacks::no_such_test").is_some());
    assert!(fault("trouble::no_such_file").is_some());
    assert!(
        fault("house::promises::resolve").is_some(),
        "no test, but a function"
    );
    assert!(fault("house::promises::a_promise_without_a_test_is_found").is_none());
    let table =
        "### What is promised\n| figure | held by |\n| --- | --- |\n| x | nothing |\n\n### Next";
    assert_eq!(promised(table), [("x".to_owned(), Vec::new())]);
}
