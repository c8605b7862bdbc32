//! The folder of the results, which others may have had in hand: no link inside it is followed, no
//! pipe or device is opened, nothing is read beyond its limit, and no case is overwritten.

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _, Write as _};
use std::path::{Component, Path, PathBuf};

use crate::cli::files::{Growing, Identity, identity, open_plain};
use crate::measure::limits::MAX_FOLDERS;

/// Files that are being written; they are moved out of it when they are whole.
const PARTIAL: &str = ".capwright-partial";

/// A folder of results.
#[derive(Debug)]
pub(super) struct Folder {
    root: PathBuf,
    /// The cases that are read: none of them is a place for a result.
    inputs: BTreeSet<Identity>,
}

impl Folder {
    /// The folder, made when there is none.
    ///
    /// # Errors
    /// It cannot be made or looked into.
    pub(super) fn new(root: &Path, inputs: &[&Path]) -> io::Result<Self> {
        fs::create_dir_all(root)?;
        Ok(Self {
            root: root.to_owned(),
            inputs: inputs.iter().filter_map(|path| identity(path)).collect(),
        })
    }

    pub(super) fn root(&self) -> &Path {
        &self.root
    }

    /// Where a file of the folder lies.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.root.join(name)
    }

    /// Makes the place where files are written before they are whole, free of what a run that was
    /// stopped left there.
    ///
    /// # Errors
    /// It cannot be made.
    pub(super) fn clear(&self) -> io::Result<()> {
        let partial = self.path(PARTIAL);
        match fs::symlink_metadata(&partial) {
            Ok(about) if about.is_dir() => fs::remove_dir_all(&partial)?,
            Ok(_) => fs::remove_file(&partial)?,
            Err(_) => {}
        }
        fs::create_dir(&partial)
    }

    /// Takes the place for unfinished files away; one left behind does no harm.
    pub(super) fn tidy(&self) {
        let _ = fs::remove_dir_all(self.path(PARTIAL));
    }

    /// Opens a file right inside the folder.
    ///
    /// # Errors
    /// It cannot be opened, is no file, or is one of the cases.
    pub(super) fn open(&self, name: &str, how: &mut OpenOptions) -> io::Result<File> {
        self.no_input(&self.path(name))?;
        open_plain(&self.path(name), how)
    }

    /// The bytes of a file, if it is one and not larger than this.
    pub(super) fn read(&self, name: &str, most: u64) -> Option<Vec<u8>> {
        let path = self.inside(name, false).ok()?;
        let file = open_plain(&path, OpenOptions::new().read(true)).ok()?;
        if file.metadata().ok()?.len() > most {
            return None;
        }
        let mut bytes = Vec::new();
        let read = file.take(most + 1).read_to_end(&mut bytes).ok()?;
        (read as u64 <= most).then_some(bytes)
    }

    /// Writes a file, whole or not at all.
    ///
    /// # Errors
    /// It cannot be written, or something stands in its place that is not ours to replace.
    pub(super) fn write(&self, name: &str, bytes: &[u8]) -> io::Result<()> {
        let path = self.inside(name, true)?;
        self.no_input(&path)?;
        let mut file = Growing::begin_file(&self.path(PARTIAL), &path)?;
        file.write_all(bytes)?;
        file.finish()
    }

    fn no_input(&self, path: &Path) -> io::Result<()> {
        if identity(path).is_some_and(|id| self.inputs.contains(&id)) {
            return Err(io::Error::other(
                "it is one of the cases, and a case is never overwritten",
            ));
        }
        Ok(())
    }

    /// A place below the folder, every folder on the way to it being a real one. They are made where
    /// this is wished.
    fn inside(&self, name: &str, make: bool) -> io::Result<PathBuf> {
        let mut at = self.root.clone();
        let steps = Path::new(name).parent().unwrap_or(Path::new(""));
        for step in steps.components() {
            let Component::Normal(step) = step else {
                return Err(io::Error::other("it leads out of the folder"));
            };
            at.push(step);
            match fs::symlink_metadata(&at) {
                Ok(about) if about.is_dir() => {}
                Ok(_) => return Err(io::Error::other("a folder of it is a link or a file")),
                Err(_) if make => fs::create_dir(&at).or_else(|error| {
                    // Another case may have made it at the same moment.
                    if at.is_dir() { Ok(()) } else { Err(error) }
                })?,
                Err(error) => return Err(error),
            }
        }
        let last = Path::new(name).file_name();
        Ok(at.join(last.ok_or(io::ErrorKind::InvalidInput)?))
    }

    /// The names of all files below a folder of this one, in order.
    pub(super) fn files(&self, below: &str) -> Vec<String> {
        let mut found = Vec::new();
        self.walk(below, MAX_FOLDERS + 1, &mut found);
        found.sort();
        found
    }

    fn walk(&self, below: &str, deep: usize, found: &mut Vec<String>) {
        let Ok(entries) = fs::read_dir(self.path(below)) else {
            return;
        };
        for entry in entries.flatten() {
            let name = format!("{below}/{}", entry.file_name().to_string_lossy());
            match entry.file_type() {
                Ok(kind) if kind.is_dir() && deep > 0 => self.walk(&name, deep - 1, found),
                _ => found.push(name),
            }
        }
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::symlink;

    #[test]
    fn no_link_is_followed_and_nothing_lies_outside() {
        let outside = tempfile::tempdir().unwrap();
        let root = tempfile::tempdir().unwrap();
        let secret = outside.path().join("secret.txt");
        fs::write(&secret, "secret").unwrap();
        let folder = Folder::new(root.path(), &[]).unwrap();
        folder.clear().unwrap();
        symlink(outside.path(), root.path().join("worksheets")).unwrap();
        symlink(&secret, root.path().join("summary.txt")).unwrap();
        for name in ["worksheets/secret.txt", "summary.txt", "../secret.txt"] {
            assert!(folder.read(name, 100).is_none(), "{name}");
            assert!(folder.write(name, b"mine").is_err(), "{name}");
        }
        assert!(
            folder
                .open("summary.txt", OpenOptions::new().append(true))
                .is_err()
        );
        assert_eq!(fs::read(&secret).unwrap(), b"secret");
        assert!(folder.write("real/one.txt", b"mine").is_ok());
        assert_eq!(folder.read("real/one.txt", 4).unwrap(), b"mine");
        assert!(folder.read("real/one.txt", 3).is_none(), "too large");
    }

    #[test]
    fn a_case_is_no_place_for_a_result() {
        let root = tempfile::tempdir().unwrap();
        let case = root.path().join("one.txt");
        fs::write(&case, "case").unwrap();
        let folder = Folder::new(root.path(), &[case.as_path()]).unwrap();
        folder.clear().unwrap();
        assert!(folder.write("one.txt", b"mine").is_err());
        fs::hard_link(&case, root.path().join("two.txt")).unwrap();
        assert!(folder.write("two.txt", b"mine").is_err());
        assert_eq!(fs::read(case).unwrap(), b"case");
    }
}
