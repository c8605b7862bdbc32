//! Files in and out: read with a limit, written whole or not at all.

use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

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

/// Whether two paths lead to the same file, through links or by another spelling.
pub(crate) fn same(one: &Path, other: &Path) -> bool {
    one == other || same_file(one, other) || place(one).is_some_and(|at| place(other) == Some(at))
}

/// Two names of one file, hard links too.
#[cfg(unix)]
fn same_file(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let id = |path| fs::metadata(path).map(|data: fs::Metadata| (data.dev(), data.ino()));
    matches!((id(one), id(other)), (Ok(one), Ok(other)) if one == other)
}

#[cfg(not(unix))]
fn same_file(one: &Path, other: &Path) -> bool {
    matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other)
}

/// The real folder and the name in it, also of a file that does not exist yet.
fn place(path: &Path) -> Option<PathBuf> {
    Some(folder(path).canonicalize().ok()?.join(path.file_name()?))
}

fn folder(path: &Path) -> &Path {
    let folder = path.parent().unwrap_or(Path::new("."));
    if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    }
}

/// Whether a result may go there.
///
/// # Errors
/// A sentence: it is a file that is read, a folder, or in a folder that is not there.
pub(crate) fn writable(path: &Path, inputs: &[&Path]) -> Result<(), String> {
    let name = path.display();
    if inputs.iter().any(|input| same(input, path)) {
        return Err(format!(
            "{name} is the file that is read; it is never overwritten. Give the result another name."
        ));
    }
    if path.is_dir() {
        return Err(format!(
            "{name} is a folder; name a file in it, such as {}.",
            path.join("sleeve.txt").display()
        ));
    }
    let folder = folder(path);
    if !folder.is_dir() {
        return Err(format!(
            "{name} cannot be written: there is no folder {}.",
            folder.display()
        ));
    }
    Ok(())
}

/// A file written beside its place, to be moved there.
struct Ready<'a> {
    file: tempfile::NamedTempFile,
    place: PathBuf,
    path: &'a Path,
}

/// Writes all files, or none of them when one cannot be written.
///
/// Each is written beside its place and then moved there, so that a reader sees the old file or
/// the new one. Devices and pipes are written to as they are.
///
/// # Errors
/// A sentence that names the file.
pub(crate) fn write_all(contents: &[(&Path, &[u8])]) -> Result<(), String> {
    let mut ready = Vec::new();
    let mut straight = Vec::new();
    for &(path, bytes) in contents {
        if is_device(path) {
            straight.push((path, bytes));
        } else {
            ready.push(prepare(path, bytes).map_err(|error| cannot_write(path, &error))?);
        }
    }
    for Ready { file, place, path } in ready {
        file.persist(place)
            .map_err(|error| cannot_write(path, &error.error))?;
    }
    for (path, bytes) in straight {
        fs::OpenOptions::new()
            .write(true)
            .open(path)
            .and_then(|mut device| device.write_all(bytes))
            .map_err(|error| cannot_write(path, &error))?;
    }
    Ok(())
}

fn cannot_write(path: &Path, error: &io::Error) -> String {
    format!("{} cannot be written: {}.", path.display(), plain(error))
}

fn is_device(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|data| !data.is_file() && !data.is_dir())
}

fn prepare<'a>(path: &'a Path, bytes: &[u8]) -> io::Result<Ready<'a>> {
    // A link keeps pointing to its file, and the file is replaced.
    let place = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let before = fs::metadata(&place).ok().map(|data| data.permissions());
    if before.as_ref().is_some_and(fs::Permissions::readonly) {
        return Err(io::ErrorKind::PermissionDenied.into());
    }
    let mut file = new_file_in(folder(&place))?;
    file.write_all(bytes)?;
    if let Some(before) = before {
        file.as_file().set_permissions(before)?;
    }
    file.as_file().sync_all()?;
    Ok(Ready { file, place, path })
}

/// Writes a file by way of a folder on the same disk: whole or not at all.
pub(crate) fn write_through(folder: &Path, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = new_file_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}

/// A file that takes this place when it is persisted, and is gone when it is not.
pub(crate) fn new_file(path: &Path) -> io::Result<tempfile::NamedTempFile> {
    new_file_in(folder(path))
}

fn new_file_in(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".capwright-");
    if let Some(ordinary) = ordinary() {
        builder.permissions(ordinary);
    }
    builder.tempfile_in(folder)
}

/// Temporary files are made for their owner alone; a result is an ordinary file, from which the
/// system takes what the user's umask forbids.
#[cfg(unix)]
#[allow(
    clippy::unnecessary_wraps,
    reason = "other systems have no such permissions"
)]
fn ordinary() -> Option<fs::Permissions> {
    use std::os::unix::fs::PermissionsExt as _;
    Some(fs::Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn ordinary() -> Option<fs::Permissions> {
    None
}
