//! The folder of the results: worksheets, and a manifest of what is done, so that a later run goes
//! on where an earlier one was stopped.
//!
//! The manifest is a line of JSON a case. A line is added when the case's worksheet is complete, so
//! that at any moment the lines that can be read are true; a torn last line is passed over. What an
//! earlier manifest says is believed of the summary alone: which file is a case's worksheet follows
//! from its name.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, BufRead, BufReader, Write as _};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use serde_json::Value;
use sha2::{Digest as _, Sha256};

use super::folder::Folder;
use crate::cli::bounded::next_line;
use crate::cli::files::{cannot_write, plain};
use crate::diagnostic::visible;
use crate::measure::limits::{MAX_ENTRIES, MAX_ENTRY_BYTES, MAX_WORKSHEET_BYTES};
use crate::report::CaseSummary;

const MANIFEST: &str = "manifest.jsonl";
const LOCK: &str = ".capwright-lock";
/// The folder of the worksheets.
const WORKSHEETS: &str = "worksheets";

/// One case that is done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct StoredCase {
    /// Hash of the case, the options and the program.
    pub(super) key: String,
    /// Hash of the worksheet, when there is one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub(super) worksheet: Option<String>,
    /// What the summary says of it.
    pub(super) summary: CaseSummary,
}

/// Why something could not be written.
#[derive(Debug)]
pub(super) enum Trouble {
    /// This file alone cannot be written.
    File(String),
    /// Nothing can be written any more.
    Folder(String),
}

/// The folder of the results, held by this run alone.
#[derive(Debug)]
pub(super) struct Store {
    folder: Folder,
    /// Hash of the program and the options: a part of every key.
    made_by: String,
    known: BTreeMap<String, StoredCase>,
    /// Held until the run is over.
    _lock: File,
}

/// The manifest while a run adds to it.
#[derive(Debug)]
pub(super) struct Journal {
    path: PathBuf,
    file: File,
}

impl Journal {
    /// Adds a finished case.
    ///
    /// # Errors
    /// A sentence why it could not be added.
    pub(super) fn record(&mut self, entry: &StoredCase) -> Result<(), String> {
        let written = self.file.write_all(line(entry).as_bytes());
        written.map_err(|error| cannot_write(&self.path, &error))
    }
}

impl Store {
    /// Opens the folder, makes it when there is none, and reads what is done already. No result
    /// takes the place of one of the cases that are read.
    ///
    /// # Errors
    /// A sentence: the folder cannot be written to, or another run holds it.
    pub(super) fn open(
        root: &Path,
        options: &str,
        inputs: &[&Path],
    ) -> Result<(Self, Journal), String> {
        let cannot = |name: &str, error: io::Error| {
            let place = root.join(name);
            format!(
                "Results cannot be written to {}: {}.",
                place.display(),
                plain(&error)
            )
        };
        let folder = Folder::new(root, inputs).map_err(|error| cannot("", error))?;
        let mut how = OpenOptions::new();
        let how = how.create(true).write(true).truncate(false);
        let lock = folder
            .open(LOCK, how)
            .map_err(|error| cannot(LOCK, error))?;
        // Where a disk knows no locks there is none; two runs at once are rare.
        if matches!(lock.try_lock(), Err(TryLockError::WouldBlock)) {
            return Err(format!(
                "Another run is writing to {}: wait for it to end, or name another folder.",
                root.display()
            ));
        }
        folder.clear().map_err(|error| cannot("", error))?;
        let mut how = OpenOptions::new();
        let mut file = folder
            .open(MANIFEST, how.create(true).append(true).read(true))
            .map_err(|error| cannot(MANIFEST, error))?;
        let (known, torn) =
            read_manifest(BufReader::new(&file)).map_err(|error| cannot(MANIFEST, error))?;
        if torn {
            file.write_all(b"\n")
                .map_err(|error| cannot(MANIFEST, error))?;
        }
        let path = folder.path(MANIFEST);
        let store = Self {
            folder,
            made_by: hash(&[program().as_bytes(), options.as_bytes()]),
            known,
            _lock: lock,
        };
        Ok((store, Journal { path, file }))
    }

    /// What a case's result depends on, as one hash.
    pub(super) fn key(&self, text: &str) -> String {
        hash(&[self.made_by.as_bytes(), text.as_bytes()])
    }

    /// What an earlier run made of this case, when neither it nor its worksheet, which ends so, has
    /// changed.
    pub(super) fn unchanged(&self, name: &str, key: &str, ending: &str) -> Option<StoredCase> {
        let entry = self.known.get(name).filter(|entry| entry.key == key)?;
        if let Some(path) = &entry.summary.worksheet {
            // A manifest may name what it likes; only this is looked at.
            if *path != worksheet_name(name, ending) {
                return None;
            }
            let worksheet = self.folder.read(path, MAX_WORKSHEET_BYTES)?;
            if entry.worksheet.as_ref() != Some(&hash(&[&worksheet])) {
                return None;
            }
        }
        Some(entry.clone())
    }

    /// Writes a case's worksheet, whole or not at all.
    ///
    /// # Errors
    /// Why it could not be written.
    pub(super) fn save(
        &self,
        key: String,
        mut summary: CaseSummary,
        worksheet: Option<&[u8]>,
        ending: &str,
    ) -> Result<StoredCase, Trouble> {
        if let Some(bytes) = worksheet {
            let path = worksheet_name(&summary.case, ending);
            self.write(&path, bytes)?;
            summary.worksheet = Some(path);
        }
        Ok(StoredCase {
            key,
            worksheet: worksheet.map(|bytes| hash(&[bytes])),
            summary,
        })
    }

    /// Writes a file of the folder, whole or not at all.
    ///
    /// # Errors
    /// Why it could not be written.
    pub(super) fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Trouble> {
        self.folder.write(name, bytes).map_err(|error| {
            use io::ErrorKind::{PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull};
            let sentence = cannot_write(&self.folder.path(name), &error);
            match error.kind() {
                StorageFull | QuotaExceeded | ReadOnlyFilesystem | PermissionDenied => {
                    Trouble::Folder(sentence)
                }
                _ => Trouble::File(sentence),
            }
        })
    }

    /// The end of a run: the manifest in the order of the cases, each once. Returns the folder and
    /// the files among the worksheets that belong to none of these cases.
    ///
    /// # Errors
    /// Why it could not be written.
    pub(super) fn close(self, entries: &[StoredCase]) -> Result<(PathBuf, Vec<String>), Trouble> {
        let lines: String = entries.iter().map(line).collect();
        self.write(MANIFEST, lines.as_bytes())?;
        self.folder.tidy();
        let worksheets = entries.iter().filter_map(|e| e.summary.worksheet.as_ref());
        let ours: BTreeSet<&String> = worksheets.collect();
        let mut left = self.folder.files(WORKSHEETS);
        left.retain(|name| !ours.contains(name));
        Ok((self.folder.root().to_owned(), left))
    }
}

fn worksheet_name(case: &str, ending: &str) -> String {
    format!("{WORKSHEETS}/{case}.{ending}")
}

fn line(entry: &StoredCase) -> String {
    let json = serde_json::to_string(entry).unwrap_or_default();
    format!("{json}\n")
}

/// Entries by the names of their cases, of several the last one; and whether the last line is torn.
/// Lines that cannot be read are passed over: their cases are done again.
fn read_manifest(mut file: impl BufRead) -> io::Result<(BTreeMap<String, StoredCase>, bool)> {
    let mut known = BTreeMap::new();
    let mut torn = false;
    while let Some(line) = next_line(&mut file, MAX_ENTRY_BYTES)? {
        let line = line.unwrap_or_default();
        torn = !line.ends_with(b"\n");
        if let Some(entry) = entry(&line).filter(|_| known.len() < MAX_ENTRIES) {
            known.insert(entry.summary.case.clone(), entry);
        }
    }
    Ok((known, torn))
}

/// An entry as this program writes them: nothing in it acts on a terminal or a page.
fn entry(line: &[u8]) -> Option<StoredCase> {
    let json: Value = serde_json::from_slice(line).ok()?;
    is_plain(&json)
        .then(|| serde_json::from_value(json).ok())
        .flatten()
}

fn is_plain(json: &Value) -> bool {
    match json {
        Value::String(text) => matches!(visible(text), Cow::Borrowed(_)),
        Value::Array(list) => list.iter().all(is_plain),
        Value::Object(object) => object.values().all(is_plain),
        Value::Null | Value::Bool(_) | Value::Number(_) => true,
    }
}

/// Version and hash of the program: a rebuilt program does its cases again.
fn program() -> String {
    let bytes = std::env::current_exe()
        .and_then(fs::read)
        .unwrap_or_default();
    format!("{} {}", env!("CARGO_PKG_VERSION"), hash(&[&bytes]))
}

/// SHA-256 over the parts, each with its length in front, as hexadecimal digits.
fn hash(parts: &[&[u8]]) -> String {
    let mut hasher = Sha256::new();
    for part in parts {
        hasher.update(part.len().to_le_bytes());
        hasher.update(part);
    }
    let digits = hasher.finalize();
    digits.iter().fold(String::new(), |mut out, byte| {
        let _ = write!(out, "{byte:02x}");
        out
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(name: &str) -> StoredCase {
        StoredCase {
            key: name.to_uppercase(),
            worksheet: None,
            summary: CaseSummary::failed(name, None, Vec::new()),
        }
    }

    #[test]
    fn a_torn_line_is_passed_over_and_the_last_word_counts() {
        let mut newer = entry("a");
        newer.key = "newer".to_owned();
        let mut text = line(&entry("a")) + &line(&entry("b")) + &line(&newer);
        let half = line(&entry("c"));
        text.push_str(half.get(..half.len() / 2).unwrap());
        let (known, torn) = read_manifest(text.as_bytes()).unwrap();
        assert!(torn);
        assert_eq!(known.len(), 2);
        assert_eq!(known["a"].key, "newer");
    }

    #[test]
    fn a_run_goes_on_after_a_torn_line_and_holds_its_folder_alone() {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join(MANIFEST), b"{\"key\":\"to").unwrap();
        let (store, mut journal) = Store::open(root.path(), "", &[]).unwrap();
        assert!(
            Store::open(root.path(), "", &[])
                .unwrap_err()
                .contains("Another run")
        );
        journal.record(&entry("a")).unwrap();
        drop(store);
        let (store, _) = Store::open(root.path(), "", &[]).unwrap();
        assert_eq!(store.unchanged("a", "A", "txt"), Some(entry("a")));
        assert_eq!(store.unchanged("a", "B", "txt"), None);
    }

    #[test]
    fn a_manifest_is_not_trusted() {
        let root = tempfile::tempdir().unwrap();
        let secret = root.path().join("secret");
        fs::write(&secret, "secret").unwrap();
        let mut bad = entry("a");
        bad.summary.worksheet = Some("../../../../../../etc/hostname".to_owned());
        let mut inside = entry("b");
        inside.summary.worksheet = Some("secret".to_owned());
        inside.worksheet = Some(hash(&[b"secret"]));
        let mut acts = entry("c");
        acts.summary.title = "\u{1b}[2J".to_owned();
        let lines: String = [&bad, &inside, &acts].into_iter().map(line).collect();
        fs::write(root.path().join(MANIFEST), lines).unwrap();
        let (store, _) = Store::open(root.path(), "", &[]).unwrap();
        for (name, key) in [("a", "A"), ("b", "B"), ("c", "C")] {
            assert_eq!(store.unchanged(name, key, "txt"), None, "{name}");
        }
    }

    /// The parts cannot run into one another; with one empty part the digest is that of eight
    /// zero bytes (`head -c 8 /dev/zero | sha256sum`, coreutils).
    #[test]
    fn the_hash_tells_parts_apart() {
        assert_ne!(hash(&[b"ab", b"c"]), hash(&[b"a", b"bc"]));
        assert_eq!(
            hash(&[b""]),
            "af5570f5a1810b7af78caf4bc70a660f0df51e42baf91d4de5b2328de0e83dfc"
        );
    }
}
