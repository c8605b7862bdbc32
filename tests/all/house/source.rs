//! The source as modules and the paths that each of them takes from others.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// A file of `src`, by the names from the crate's root down to it: `fit::pickup`.
pub(crate) type Place = Vec<String>;

/// One file: its code without comments and tests, and the paths of its `use` lines.
pub(crate) struct Module {
    pub(crate) file: PathBuf,
    pub(crate) text: String,
    pub(crate) code: String,
    pub(crate) uses: Vec<Use>,
}

/// One name that a `use` line brings in.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Use {
    pub(crate) path: Vec<String>,
    /// What it is called here.
    pub(crate) name: String,
    pub(crate) handed_on: bool,
}

/// All modules of the library and the program.
pub(crate) fn modules() -> BTreeMap<Place, Module> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let module = |file: PathBuf| (place(file.strip_prefix(&src).unwrap()), read(file));
    files.into_iter().map(module).collect()
}

fn sources(folder: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|end| end == "rs") {
            out.push(path);
        }
    }
}

fn place(file: &Path) -> Place {
    let whole = file.with_extension("");
    let names = whole.iter().map(|name| name.to_str().unwrap().to_owned());
    names.filter(|name| name != "mod").collect()
}

fn read(file: PathBuf) -> Module {
    let text = fs::read_to_string(&file).unwrap();
    let code = code(&text);
    let uses = uses(&code);
    Module {
        file,
        text,
        code,
        uses,
    }
}

/// The text without comment lines and without the tests at its end.
pub(crate) fn code(text: &str) -> String {
    let inside = |(at, _): &(usize, &str)| {
        let module = text[*at + 1..].lines().nth(1).unwrap_or_default();
        module.starts_with("mod ") && module.ends_with('{')
    };
    let attributes = text.match_indices("\n#[cfg(");
    let mut tests = attributes.filter(|(at, _)| {
        text[at + 1..]
            .lines()
            .next()
            .unwrap_or_default()
            .contains("test")
    });
    let end = tests.find(inside).map_or(text.len(), |(at, _)| at);
    let text = &text[..end];
    let kept = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    kept.collect::<Vec<_>>().join("\n")
}

/// The names of all `use` lines.
pub(crate) fn uses(code: &str) -> Vec<Use> {
    let mut found = Vec::new();
    let mut rest = code;
    while let Some(at) = rest.find("use ") {
        let line = rest[..at].rfind('\n').map_or(0, |n| n + 1);
        let before = rest[line..at].trim();
        let statement = &rest[at + "use ".len()..];
        let end = statement.find(';').unwrap_or(statement.len());
        // `pub struct Clause {` is none.
        let hands_on = before == "pub" || before.starts_with("pub(") && before.ends_with(')');
        if before.is_empty() || hands_on {
            tree(&statement[..end], &[], !before.is_empty(), &mut found);
        }
        rest = &statement[end..];
    }
    found
}

/// `a::{b, c::d as e}`, from the path that leads to it.
fn tree(text: &str, before: &[String], handed_on: bool, found: &mut Vec<Use>) {
    let text = text.trim();
    let mut path = before.to_vec();
    let Some(group) = text.find('{') else {
        let (whole, other) = text.split_once(" as ").unwrap_or((text, ""));
        path.extend(whole.split("::").map(|name| name.trim().to_owned()));
        path.retain(|name| !name.is_empty());
        if path.len() > 1 && path.last().is_some_and(|name| name == "self") {
            path.pop();
        }
        let name = if other.is_empty() {
            path.last().cloned().unwrap_or_default()
        } else {
            other.trim().to_owned()
        };
        found.push(Use {
            path,
            name,
            handed_on,
        });
        return;
    };
    let lead = text[..group].split("::").map(|name| name.trim().to_owned());
    path.extend(lead.filter(|name| !name.is_empty()));
    let mut depth = 0;
    let mut item = String::new();
    let inside = &text[group + 1..text.rfind('}').unwrap_or(text.len())];
    for letter in inside.chars().chain([',']) {
        match letter {
            ',' if depth == 0 => {
                if !item.trim().is_empty() {
                    tree(&item, &path, handed_on, found);
                }
                item.clear();
                continue;
            }
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        item.push(letter);
    }
}

/// Paths within the code that begin at the crate, above or with one of these names.
pub(crate) fn paths(code: &str, beginnings: &[&str]) -> Vec<Vec<String>> {
    let letter = |c: char| c.is_alphanumeric() || c == '_';
    let mut found = Vec::new();
    for beginning in ["crate", "super", "self"].iter().chain(beginnings) {
        for (at, _) in code.match_indices(&format!("{beginning}::")) {
            let whole = !code[..at].ends_with(|c| letter(c) || c == ':');
            if !whole {
                continue;
            }
            let end = code[at..].find(|c| !letter(c) && c != ':');
            let path = code[at..at + end.unwrap_or(code.len() - at)].split("::");
            let path: Vec<String> = path.map(str::to_owned).filter(|n| !n.is_empty()).collect();
            found.push(path);
        }
    }
    found
}

#[test]
fn use_lines_are_read_whole() {
    let code = "use a::{self, b, c::{d, e as f}};\npub(crate) use g::H;\nlet used = 1;";
    let names: Vec<(String, String)> = uses(code)
        .iter()
        .map(|u| (u.path.join("::"), u.name.clone()))
        .collect();
    let wanted = [
        ("a", "a"),
        ("a::b", "b"),
        ("a::c::d", "d"),
        ("a::c::e", "f"),
        ("g::H", "H"),
    ];
    let wanted = wanted.map(|(path, name)| (path.to_owned(), name.to_owned()));
    assert_eq!(names, wanted);
    assert_eq!(
        paths("crate::a::b(x, my_self::y, self::z)", &[]),
        [vec!["crate", "a", "b"], vec!["self", "z"]]
    );
}
