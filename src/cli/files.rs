//! Files in and out: read with a limit, written whole or not at all, and never through a link.
//!
//! This is the only place of the program that writes files; `batch/folder.rs` builds on it.

use std::fs;
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

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

/// What makes two names the same file: on Unix its place on the disk, so that links count too.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg(unix)]
pub(crate) struct Identity(u64, u64);

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg(not(unix))]
pub(crate) struct Identity(PathBuf);

/// The file that a path leads to; `-` is what standard input was given. None for what is no file.
pub(crate) fn identity(path: &Path) -> Option<Identity> {
    let path = if path.as_os_str() == "-" {
        Path::new("/dev/stdin")
    } else {
        path
    };
    let about = fs::metadata(path).ok().filter(fs::Metadata::is_file)?;
    identity_of(path, &about)
}

#[cfg(unix)]
#[allow(clippy::unnecessary_wraps, reason = "other systems may not tell")]
fn identity_of(_: &Path, about: &fs::Metadata) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt as _;
    Some(Identity(about.dev(), about.ino()))
}

#[cfg(not(unix))]
fn identity_of(path: &Path, _: &fs::Metadata) -> Option<Identity> {
    path.canonicalize().ok().map(Identity)
}

/// Whether two paths lead to the same file, through links or by another spelling.
pub(crate) fn same(one: &Path, other: &Path) -> bool {
    one == other
        || identity(one).is_some_and(|id| identity(other) == Some(id))
        || place(one).is_some_and(|at| place(other) == Some(at))
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
/// A sentence: it is a file that is read, a folder, a link, or in a folder that is not there.
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
    spot(path)
        .map(|_| ())
        .map_err(|error| cannot_write(path, &error))
}

/// What stands where a result is to go.
enum Spot {
    /// Nothing yet.
    Free,
    /// A file, with its permissions, which the new one keeps.
    File(fs::Permissions),
    /// A pipe, a terminal and the like: written to as it is, never replaced.
    Stream,
}

fn spot(path: &Path) -> io::Result<Spot> {
    let refused = |why: &str| Err(io::Error::other(why.to_owned()));
    let about = match fs::symlink_metadata(path) {
        Ok(about) => about,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Spot::Free),
        Err(error) => return Err(error),
    };
    // `/dev/stderr` and its like are links to a terminal or a pipe.
    if about.is_symlink() && !fs::metadata(path).is_ok_and(|to| is_stream(&to)) {
        return refused("it is a link; name the file that it leads to");
    }
    if about.is_dir() {
        return refused("it is a folder");
    }
    if about.is_file() {
        if about.permissions().readonly() {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        return Ok(Spot::File(about.permissions()));
    }
    if !about.is_symlink() && !is_stream(&about) {
        return refused("it is neither a file nor a pipe");
    }
    Ok(Spot::Stream)
}

/// What takes bytes one after the other; a disk is none.
#[cfg(unix)]
fn is_stream(about: &fs::Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt as _;
    let kind = about.file_type();
    kind.is_fifo() || kind.is_char_device() || kind.is_socket()
}

#[cfg(not(unix))]
fn is_stream(about: &fs::Metadata) -> bool {
    !about.is_file() && !about.is_dir()
}

/// A result that is being written: beside its place, where nobody takes it for whole, until it is
/// [finished](Self::finish). Left unfinished it is gone.
#[derive(Debug)]
pub(crate) enum Growing {
    /// To be moved to its place.
    Beside(NamedTempFile, PathBuf),
    /// Written to as it is.
    Stream(fs::File),
}

impl Growing {
    /// Begins a file that takes this place.
    ///
    /// # Errors
    /// It cannot be written there, or may not be.
    pub(crate) fn begin(path: &Path) -> io::Result<Self> {
        match spot(path)? {
            Spot::Stream => Ok(Self::Stream(fs::OpenOptions::new().write(true).open(path)?)),
            spot => Self::begin_in(folder(path), path, &spot),
        }
    }

    /// Begins a file that is written in another folder of the same disk, and must be a file.
    ///
    /// # Errors
    /// It cannot be written there, or may not be.
    pub(crate) fn begin_file(folder: &Path, path: &Path) -> io::Result<Self> {
        match spot(path)? {
            Spot::Stream => Err(io::Error::other("it is no file")),
            spot => Self::begin_in(folder, path, &spot),
        }
    }

    fn begin_in(folder: &Path, path: &Path, spot: &Spot) -> io::Result<Self> {
        let file = new_file_in(folder)?;
        if let Spot::File(before) = spot {
            file.as_file().set_permissions(before.clone())?;
        }
        Ok(Self::Beside(file, path.to_owned()))
    }

    /// Makes sure that all of it is on the disk.
    fn settle(&mut self) -> io::Result<()> {
        match self {
            Self::Beside(file, _) => file.as_file().sync_all(),
            Self::Stream(file) => file.flush(),
        }
    }

    /// Gives it its place. A link that has come there meanwhile is replaced, not followed.
    ///
    /// # Errors
    /// It cannot be moved there.
    pub(crate) fn finish(mut self) -> io::Result<()> {
        self.settle()?;
        match self {
            Self::Beside(file, place) => {
                file.persist(place).map_err(|error| error.error)?;
                Ok(())
            }
            Self::Stream(_) => Ok(()),
        }
    }
}

impl io::Write for Growing {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match self {
            Self::Beside(file, _) => file.write(bytes),
            Self::Stream(file) => file.write(bytes),
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        match self {
            Self::Beside(file, _) => file.flush(),
            Self::Stream(file) => file.flush(),
        }
    }
}

/// Writes all files, or none of them when one cannot be written.
///
/// # Errors
/// A sentence that names the file.
pub(crate) fn write_all(contents: &[(&Path, &[u8])]) -> Result<(), String> {
    let begun: Result<Vec<(&Path, Growing)>, String> = contents
        .iter()
        .map(|&(path, bytes)| {
            let begun = Growing::begin(path).and_then(|mut file| {
                file.write_all(bytes)?;
                file.settle()?;
                Ok(file)
            });
            begun
                .map(|file| (path, file))
                .map_err(|error| cannot_write(path, &error))
        })
        .collect();
    for (path, file) in begun? {
        file.finish().map_err(|error| cannot_write(path, &error))?;
    }
    Ok(())
}

/// A sentence about a file that cannot be written.
pub(crate) fn cannot_write(path: &Path, error: &io::Error) -> String {
    format!("{} cannot be written: {}.", path.display(), plain(error))
}

/// Opens a file by its own name: no link, pipe or device in its place.
///
/// # Errors
/// It cannot be opened, or something else stands there.
pub(crate) fn open_plain(path: &Path, how: &mut fs::OpenOptions) -> io::Result<fs::File> {
    if fs::symlink_metadata(path).is_ok_and(|about| !about.is_file()) {
        return Err(io::Error::other("it is a link or no file"));
    }
    // What has come there since is not followed nor waited for either.
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        how.custom_flags(libc::O_NOFOLLOW | libc::O_NONBLOCK);
    }
    let file = how.open(path)?;
    if !file.metadata()?.is_file() {
        return Err(io::Error::other("it is no file"));
    }
    Ok(file)
}

fn new_file_in(folder: &Path) -> io::Result<NamedTempFile> {
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
