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

/// Writes all files, or none of them when one cannot be written. What is sent to a pipe or a terminal cannot be had back;
/// it goes there when all files are on the disk and before the first has its place.
///
/// # Errors
/// A sentence that names the file.
pub(crate) fn write_all(contents: &[(&Path, &[u8])]) -> Result<(), String> {
    place_all(begin_all(contents)?)
}

/// Every file whole beside its place.
fn begin_all<'p>(contents: &[(&'p Path, &[u8])]) -> Result<Vec<(&'p Path, Growing)>, String> {
    let is_stream = |path: &Path| matches!(spot(path), Ok(Spot::Stream));
    let (streams, files): (Vec<_>, Vec<_>) = contents.iter().partition(|(path, _)| is_stream(path));
    files
        .into_iter()
        .chain(streams)
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
        .collect()
}

/// Gives all files their places; where one cannot be moved, those before it are what they were.
fn place_all(begun: Vec<(&Path, Growing)>) -> Result<(), String> {
    let several = begun.len() > 1;
    let mut done: Vec<Before<'_>> = Vec::new();
    for (path, file) in begun {
        let is_file = matches!(file, Growing::Beside(..));
        let before = (several && is_file).then(|| Before::of(path)).transpose();
        let placed = before.and_then(|before| {
            file.finish()?;
            Ok(before)
        });
        match placed {
            Ok(before) => done.extend(before),
            Err(error) => {
                let sentence = cannot_write(path, &error);
                let kept = done.into_iter().rev().filter_map(Before::put_back);
                let kept: Vec<String> = kept.collect();
                return Err(match kept.as_slice() {
                    [] => sentence,
                    kept => format!("{sentence} Already new: {}.", kept.join(", ")),
                });
            }
        }
    }
    Ok(())
}

/// What stood where a file has been put.
struct Before<'p> {
    place: &'p Path,
    /// A second name for the file that stood there; none where nothing did.
    old: Option<tempfile::TempPath>,
}

impl<'p> Before<'p> {
    fn of(place: &'p Path) -> io::Result<Self> {
        let linked = |second: &Path| match fs::hard_link(place, second) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists => {
                // Where a file has one name only.
                fs::copy(place, second).map(drop)
            }
            linked => linked,
        };
        let is_there = fs::symlink_metadata(place).is_ok_and(|about| about.is_file());
        let old = is_there.then(|| {
            let mut builder = tempfile::Builder::new();
            let second = builder
                .prefix(".capwright-")
                .make_in(folder(place), linked)?;
            io::Result::Ok(second.into_temp_path())
        });
        Ok(Self {
            place,
            old: old.transpose()?,
        })
    }

    /// The name of the file where it cannot be undone.
    fn put_back(self) -> Option<String> {
        let undone = match self.old {
            Some(old) => old.persist(self.place).map_err(|error| error.error),
            None => fs::remove_file(self.place),
        };
        undone.is_err().then(|| self.place.display().to_string())
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder with something in it has come to the second place since it was looked at: no file can be moved there.
    #[test]
    fn what_was_placed_before_one_that_cannot_be_is_what_it_was() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let at = |name: &str| folder.path().join(name);
        fs::write(at("a"), "old")?;
        let (a, b, c) = (at("a"), at("b"), at("c"));
        let contents: [(&Path, &[u8]); 3] = [(&a, b"new"), (&b, b"new"), (&c, b"new")];
        let begun = begin_all(&contents).map_err(io::Error::other)?;
        fs::create_dir(&c)?;
        fs::write(c.join("x"), "")?;
        let said = place_all(begun).err().unwrap_or_default();
        assert!(said.starts_with(&c.display().to_string()), "{said}");
        assert!(!said.contains("Already new"), "{said}");
        assert_eq!(fs::read(&a)?, b"old");
        assert!(!b.exists());
        assert_eq!(fs::read_dir(folder.path())?.count(), 2);
        // With room for all of them there are all, and nothing beside them.
        fs::remove_dir_all(&c)?;
        write_all(&contents).map_err(io::Error::other)?;
        for path in [&a, &b, &c] {
            assert_eq!(fs::read(path)?, b"new");
        }
        assert_eq!(fs::read_dir(folder.path())?.count(), 3);
        Ok(())
    }
}
