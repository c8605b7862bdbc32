//! The folder of the results: worksheets, and a manifest of what is done, so that a later run goes
//! on where an earlier one was stopped.
//!
//! The manifest is a line of JSON a case. A line is added when the case's worksheet is complete, so
//! that at any moment the lines that can be read are true; a torn last line is passed over.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

use super::super::files::{plain, write_through};
use crate::report::CaseSummary;

const MANIFEST: &str = "manifest.jsonl";
const LOCK: &str = ".capwright-lock";
/// Files that are being written; they are moved out of it when they are whole.
const PARTIAL: &str = ".capwright-partial";
/// The folder of the worksheets.
const WORKSHEETS: &str = "worksheets";

/// One case that is done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Entry {
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
    root: PathBuf,
    /// Hash of the program and the options: a part of every key.
    made_by: String,
    known: BTreeMap<String, Entry>,
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
    pub(super) fn record(&mut self, entry: &Entry) -> Result<(), String> {
        let written = self.file.write_all(line(entry).as_bytes());
        written.map_err(|error| cannot(&self.path, &error))
    }
}

impl Store {
    /// Opens the folder, makes it when there is none, and reads what is done already.
    ///
    /// # Errors
    /// A sentence: the folder cannot be written to, or another run holds it.
    pub(super) fn open(root: &Path, options: &str) -> Result<(Self, Journal), String> {
        let cannot = |error: io::Error| {
            format!(
                "Results cannot be written to {}: {}.",
                root.display(),
                plain(&error)
            )
        };
        fs::create_dir_all(root).map_err(cannot)?;
        let lock = File::create(root.join(LOCK)).map_err(cannot)?;
        // Where a disk knows no locks there is none; two runs at once are rare.
        if matches!(lock.try_lock(), Err(TryLockError::WouldBlock)) {
            return Err(format!(
                "Another run is writing to {}: wait for it to end, or name another folder.",
                root.display()
            ));
        }
        let partial = root.join(PARTIAL);
        if partial.exists() {
            fs::remove_dir_all(&partial).map_err(cannot)?;
        }
        fs::create_dir(&partial).map_err(cannot)?;
        let manifest = fs::read(root.join(MANIFEST)).unwrap_or_default();
        let path = root.join(MANIFEST);
        let mut file = OpenOptions::new()
            .create(true)
            .append(true)
            .open(&path)
            .map_err(cannot)?;
        if !manifest.is_empty() && !manifest.ends_with(b"\n") {
            file.write_all(b"\n").map_err(cannot)?;
        }
        let store = Self {
            root: root.to_owned(),
            made_by: hash(&[program().as_bytes(), options.as_bytes()]),
            known: read_manifest(&manifest),
            _lock: lock,
        };
        Ok((store, Journal { path, file }))
    }

    /// What a case's result depends on, as one hash.
    pub(super) fn key(&self, text: &str) -> String {
        hash(&[self.made_by.as_bytes(), text.as_bytes()])
    }

    /// What an earlier run made of this case, when neither it nor its worksheet has changed.
    pub(super) fn unchanged(&self, name: &str, key: &str) -> Option<Entry> {
        let entry = self.known.get(name).filter(|entry| entry.key == key)?;
        if let Some(path) = &entry.summary.worksheet {
            let worksheet = fs::read(self.root.join(path)).ok()?;
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
    ) -> Result<Entry, Trouble> {
        if let Some(bytes) = worksheet {
            let path = format!("{WORKSHEETS}/{}.{ending}", summary.case);
            self.write(&path, bytes)?;
            summary.worksheet = Some(path);
        }
        Ok(Entry {
            key,
            worksheet: worksheet.map(|bytes| hash(&[bytes])),
            summary,
        })
    }

    /// Writes a file of the folder, whole or not at all.
    ///
    /// # Errors
    /// Why it could not be written.
    pub(super) fn write(&self, path: &str, bytes: &[u8]) -> Result<(), Trouble> {
        let to = self.root.join(path);
        let folder = to.parent().unwrap_or(&self.root);
        let written = fs::create_dir_all(folder)
            .and_then(|()| write_through(&self.root.join(PARTIAL), &to, bytes));
        written.map_err(|error| {
            use io::ErrorKind::{PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull};
            let sentence = cannot(&to, &error);
            match error.kind() {
                StorageFull | QuotaExceeded | ReadOnlyFilesystem | PermissionDenied => {
                    Trouble::Folder(sentence)
                }
                _ => Trouble::File(sentence),
            }
        })
    }

    /// The end of a run: the manifest in the order of the cases, each once. Returns the folder.
    ///
    /// # Errors
    /// Why it could not be written.
    pub(super) fn close(self, entries: &[Entry]) -> Result<PathBuf, Trouble> {
        let lines: String = entries.iter().map(line).collect();
        self.write(MANIFEST, lines.as_bytes())?;
        // An empty folder left behind does no harm.
        let _ = fs::remove_dir_all(self.root.join(PARTIAL));
        Ok(self.root)
    }
}

fn cannot(path: &Path, error: &io::Error) -> String {
    format!("{} cannot be written: {}.", path.display(), plain(error))
}

fn line(entry: &Entry) -> String {
    let json = serde_json::to_string(entry).unwrap_or_default();
    format!("{json}\n")
}

/// Entries by the names of their cases; of several the last one. Lines that cannot be read are
/// passed over: their cases are done again.
fn read_manifest(bytes: &[u8]) -> BTreeMap<String, Entry> {
    let lines = bytes.split(|byte| *byte == b'\n');
    let entries = lines.filter_map(|line| serde_json::from_slice::<Entry>(line).ok());
    entries
        .map(|entry| (entry.summary.case.clone(), entry))
        .collect()
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

    fn entry(name: &str) -> Entry {
        Entry {
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
        let known = read_manifest(text.as_bytes());
        assert_eq!(known.len(), 2);
        assert_eq!(known["a"].key, "newer");
    }

    #[test]
    fn a_run_goes_on_after_a_torn_line_and_holds_its_folder_alone() {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join(MANIFEST), b"{\"key\":\"to").unwrap();
        let (store, mut journal) = Store::open(root.path(), "").unwrap();
        assert!(
            Store::open(root.path(), "")
                .unwrap_err()
                .contains("Another run")
        );
        journal.record(&entry("a")).unwrap();
        drop(store);
        let (store, _) = Store::open(root.path(), "").unwrap();
        assert_eq!(store.unchanged("a", "A"), Some(entry("a")));
        assert_eq!(store.unchanged("a", "B"), None);
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
