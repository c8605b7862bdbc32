//! Which cases were meant: files as named, folders walked in sorted order.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::cli::files::plain;
use crate::cli::form::EVERY_FORM;
use crate::diagnostic::visible;
use crate::measure::limits::MAX_FOLDERS;

/// A case that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct CaseFile {
    /// Where it is.
    pub(super) path: PathBuf,
    /// What it is called in the results: the path below the named folder, without the ending. No
    /// two cases have the same one, not even on disks that do not tell capitals apart.
    pub(super) name: String,
}

/// What was found under all the paths that were named.
#[derive(Debug, Default)]
pub(super) struct PathsFound {
    /// The cases, in the order of the paths, sorted within each.
    pub(super) cases: Vec<CaseFile>,
    /// Places that could not be looked into, each with the reason.
    pub(super) problems: Vec<(String, String)>,
    names: BTreeSet<String>,
    folders: BTreeSet<PathBuf>,
}

/// Looks for cases: a file counts as named, in folders every visible file ending in `.toml`.
///
/// A folder is looked into once, so that links in a circle come to an end.
pub(super) fn find(paths: &[&Path]) -> PathsFound {
    let mut search = PathsFound::default();
    let several = paths.len() > 1;
    for path in paths {
        if path.is_dir() {
            let name = path.file_name().filter(|_| several);
            let below = name.map(|name| folder_name(&name.to_string_lossy()));
            search.folder(path, &below.into_iter().collect::<Vec<_>>());
        } else {
            search.case(path, &[]);
        }
    }
    search
}

impl PathsFound {
    fn folder(&mut self, path: &Path, below: &[String]) {
        let mut problem = |why: String| {
            self.problems.push((path.display().to_string(), why));
        };
        if below.len() > MAX_FOLDERS {
            return problem(format!(
                "the folder lies more than {MAX_FOLDERS} folders deep and was not looked into"
            ));
        }
        let real = match fs::canonicalize(path) {
            Ok(real) => real,
            Err(error) => return problem(plain(&error)),
        };
        let entries = fs::read_dir(path).and_then(Iterator::collect::<Result<Vec<_>, _>>);
        let mut entries: Vec<PathBuf> = match entries {
            Ok(entries) => entries.into_iter().map(|entry| entry.path()).collect(),
            Err(error) => return problem(plain(&error)),
        };
        if !self.folders.insert(real) {
            return;
        }
        entries.sort();
        for entry in entries {
            let name = entry.file_name().unwrap_or_default().to_string_lossy();
            if name.starts_with('.') {
                continue;
            }
            // A link that leads nowhere is neither.
            if entry.is_dir() {
                let mut inner = below.to_vec();
                inner.push(folder_name(&name));
                self.folder(&entry, &inner);
            } else if is_case(&entry) && !leads_to_a_stream(&entry) {
                self.case(&entry, below);
            }
        }
    }

    fn case(&mut self, path: &Path, below: &[String]) {
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        let mut parts = below.to_vec();
        parts.push(plain_name(&stem));
        let wanted = parts.join("/");
        let others = (2_u32..).map(|n| format!("{wanted}-{n}"));
        let name = std::iter::once(wanted.clone())
            .chain(others)
            .find(|name| self.names.insert(name.to_lowercase()));
        self.cases.push(CaseFile {
            path: path.to_owned(),
            name: name.unwrap_or(wanted),
        });
    }
}

/// A pipe, a device and the like, by itself or through a link: nobody may be at its other end. A
/// link that leads nowhere is a case that cannot be read.
fn leads_to_a_stream(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|about| !about.is_file())
}

fn is_case(path: &Path) -> bool {
    path.extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
}

/// A folder's name among the results. One that looks like a worksheet's would stand in the way of
/// the worksheet of a case of the same name.
fn folder_name(name: &str) -> String {
    let mut name = plain_name(name);
    let lower = name.to_lowercase();
    let mut forms = EVERY_FORM.iter().map(|form| form.ending());
    if forms.any(|ending| lower.ends_with(&format!(".{ending}"))) {
        name.push('_');
    }
    name
}

/// A name that cannot break a line of a table, act on a terminal, nor climb out of a folder.
fn plain_name(name: &str) -> String {
    let mut bytes = [0; 4];
    let name: String = name
        .chars()
        .map(|c| {
            let hidden = matches!(visible(c.encode_utf8(&mut bytes)), Cow::Owned(_));
            if hidden || "/\\".contains(c) { '_' } else { c }
        })
        .collect();
    match name.as_str() {
        "" | "." | ".." => "case".to_owned(),
        _ => name,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(search: &PathsFound) -> Vec<&str> {
        search.cases.iter().map(|case| case.name.as_str()).collect()
    }

    #[test]
    fn folders_are_walked_in_order_and_names_differ() {
        let root = tempfile::tempdir().unwrap();
        let at = |path: &str| root.path().join(path);
        for folder in ["shelf/b/deep", "shelf/a", "other/a"] {
            fs::create_dir_all(at(folder)).unwrap();
        }
        for file in [
            "shelf/b/deep/one.toml",
            "shelf/a/one.toml",
            "shelf/a/One.TOML",
            "shelf/two.toml",
            "shelf/notes.txt",
            "shelf/.hidden.toml",
            "other/a/one.toml",
        ] {
            fs::write(at(file), "").unwrap();
        }
        let shelf = at("shelf");
        let found = find(&[shelf.as_path()]);
        assert_eq!(names(&found), ["a/One", "a/one-2", "b/deep/one", "two"]);
        let (other, two) = (at("other"), at("shelf/two.toml"));
        let several = [shelf.as_path(), &other, &two, &two];
        assert_eq!(
            names(&find(&several)),
            [
                "shelf/a/One",
                "shelf/a/one-2",
                "shelf/b/deep/one",
                "shelf/two",
                "other/a/one",
                "two",
                "two-2"
            ]
        );
    }

    #[test]
    fn names_are_plain_and_no_folder_stands_in_the_way_of_a_worksheet() {
        assert_eq!(plain_name("a\u{202e}b\u{1b}[2J"), "a_b_[2J");
        assert_eq!(plain_name(".."), "case");
        let root = tempfile::tempdir().unwrap();
        fs::create_dir(root.path().join("one.TXT")).unwrap();
        for file in ["one.toml", "one.TXT/two.toml"] {
            fs::write(root.path().join(file), "").unwrap();
        }
        assert_eq!(names(&find(&[root.path()])), ["one.TXT_/two", "one"]);
    }

    #[cfg(unix)]
    #[test]
    fn links_in_a_circle_come_to_an_end() {
        use std::os::unix::fs::symlink;
        let root = tempfile::tempdir().unwrap();
        let inner = root.path().join("inner");
        fs::create_dir(&inner).unwrap();
        fs::write(inner.join("one.toml"), "").unwrap();
        symlink(root.path(), inner.join("up")).unwrap();
        symlink(&inner, inner.join("self")).unwrap();
        symlink("nowhere", inner.join("gone.toml")).unwrap();
        symlink("/dev/zero", inner.join("endless.toml")).unwrap();
        let found = find(&[root.path()]);
        assert_eq!(names(&found), ["inner/gone", "inner/one"]);
        assert!(found.problems.is_empty());
    }
}
