//! Files in and out: read with a limit, written whole or not at all.

use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::Path;

use super::Outcome;
use super::args::OutputArgs;
use crate::measure::limits::MAX_FILE_BYTES;

/// The text of a file, or of standard input for `-`.
///
/// # Errors
/// A sentence for the person who named the file.
pub(crate) fn text(path: &Path) -> Result<String, String> {
    let bytes = bytes(path)?;
    String::from_utf8(bytes).map_err(|error| {
        format!(
            "{} is not text in UTF-8: byte {} cannot be read; save it as UTF-8.",
            path.display(),
            error.utf8_error().valid_up_to()
        )
    })
}

fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    let too_large = || {
        format!(
            "{} is larger than {} MB; a case or a pattern is a few kilobytes.",
            path.display(),
            MAX_FILE_BYTES >> 20
        )
    };
    // A large file is refused before it is read; a pipe shows its size only while it is read.
    if fs::metadata(path).is_ok_and(|about| about.is_file() && about.len() > MAX_FILE_BYTES) {
        return Err(too_large());
    }
    let mut bytes = Vec::new();
    let cannot =
        |error: io::Error| format!("{} cannot be read: {}.", path.display(), plain(&error));
    let read = if path.as_os_str() == "-" {
        io::stdin().take(MAX_FILE_BYTES + 1).read_to_end(&mut bytes)
    } else {
        fs::File::open(path).and_then(|file| file.take(MAX_FILE_BYTES + 1).read_to_end(&mut bytes))
    };
    read.map_err(cannot)?;
    if bytes.len() as u64 > MAX_FILE_BYTES {
        return Err(too_large());
    }
    Ok(bytes)
}

pub(crate) fn plain(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "permission is denied".to_owned(),
        _ => error.to_string(),
    }
}

/// Prints to standard output, or writes the file that was asked for.
pub(crate) fn deliver(mut outcome: Outcome, output: &OutputArgs) -> Outcome {
    let Some(path) = &output.output else {
        return outcome;
    };
    match write_whole(path, outcome.out.as_bytes()) {
        Ok(()) => {
            outcome.out = String::new();
            outcome
        }
        Err(error) => Outcome::unusable(&format!(
            "{} cannot be written: {}.",
            path.display(),
            plain(&error)
        )),
    }
}

/// Writes beside the file and renames, so that a reader sees the old file or the new one.
fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    write_through(folder_of(path), path, bytes)
}

/// The same, by way of a folder on the same disk.
pub(crate) fn write_through(folder: &Path, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = new_file_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}

/// A file that takes this place when it is persisted, and is gone when it is not.
pub(crate) fn new_file(path: &Path) -> io::Result<tempfile::NamedTempFile> {
    new_file_in(folder_of(path))
}

fn new_file_in(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let file = tempfile::Builder::new()
        .prefix(".capwright-")
        .tempfile_in(folder)?;
    ordinary_permissions(file.as_file())?;
    Ok(file)
}

fn folder_of(path: &Path) -> &Path {
    let folder = path.parent();
    folder
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// Temporary files are made for their owner alone; a result is an ordinary file.
#[cfg(unix)]
fn ordinary_permissions(file: &fs::File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn ordinary_permissions(_: &fs::File) -> io::Result<()> {
    Ok(())
}
