//! Places of files and folders: where a path leads, and renaming that replaces
//! nothing.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use catalogue::trouble::in_words;

use crate::failure::Failure;

/// The folder that contains a path.
pub(super) fn parent(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// The operating system's message, without the name of a temporary file, which
/// would mean nothing to the user.
pub(super) fn plain(why: io::Error) -> io::Error {
    if why.raw_os_error().is_some() { why } else { io::Error::from(why.kind()) }
}

/// The place that a path leads to: for a link, the place of its target, so that
/// the link itself is never replaced.
///
/// # Errors
/// A link that leads to nothing, or in a circle.
pub(super) fn followed(path: &Path) -> Result<PathBuf, Failure> {
    if !path.is_symlink() {
        return Ok(path.to_owned());
    }
    path.canonicalize().map_err(|why| Failure::Write {
        path: path.to_owned(),
        why: io::Error::new(
            why.kind(),
            format!("it is a link, and what it leads to cannot be found ({})", in_words(&why)),
        ),
    })
}

/// Whether the system or the file system cannot rename in this way at all.
#[cfg(any(target_os = "linux", target_os = "macos"))]
fn is_unsupported(why: rustix::io::Errno) -> bool {
    use rustix::io::Errno;
    [Errno::INVAL, Errno::NOSYS, Errno::NOTSUP, Errno::OPNOTSUPP].contains(&why)
}

/// Renames a folder to a place where nothing is.
///
/// Linux and macOS do this in one step. Elsewhere, and on file systems that
/// cannot, the place is looked at first: what appears there in between is still
/// safe, since renaming a folder replaces no file and no folder that holds
/// anything, at most an empty folder.
///
/// # Errors
/// Of the kind `AlreadyExists` if there is something.
pub(super) fn rename_new(from: &Path, to: &Path) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        match renameat_with(CWD, from, CWD, to, RenameFlags::NOREPLACE) {
            Err(why) if is_unsupported(why) => {}
            done => return done.map_err(io::Error::from),
        }
    }
    if to.symlink_metadata().is_ok() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    fs::rename(from, to)
}

/// Swaps what two paths name, in one step. False if the system or the file system
/// cannot do that.
///
/// # Errors
/// If one of them is missing, or may not be renamed.
pub(super) fn exchange(one: &Path, other: &Path) -> io::Result<bool> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        match renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE) {
            Ok(()) => Ok(true),
            Err(why) if is_unsupported(why) => Ok(false),
            Err(why) => Err(why.into()),
        }
    }
    #[cfg(not(any(target_os = "linux", target_os = "macos")))]
    {
        let _ = (one, other);
        Ok(false)
    }
}
