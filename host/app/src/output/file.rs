//! Files that appear complete or not at all.

use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use tempfile::NamedTempFile;

use super::place::{followed, parent, plain};
use super::unfinished::Unfinished;
use crate::failure::Failure;

/// Suffix of temporary names.
const TEMPORARY: &str = ".pairwise-tmp";

/// Writes a file atomically: to a temporary file beside it, which is then
/// renamed. A file that is replaced keeps its mode, and a link stays: its target
/// is replaced. Devices and pipes are written to directly.
///
/// # Errors
/// If it cannot be written, or what is there may not be written to.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if path.metadata().is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        let write = || OpenOptions::new().write(true).open(path)?.write_all(bytes);
        return write().map_err(Failure::write(path));
    }
    let target = followed(path)?;
    let write = || {
        let old = existing(&target)?;
        let (_unfinished, file) = temporary(&target, bytes)?;
        if let Some(old) = old {
            keep_mode(&old, file.as_file())?;
        }
        file.persist(&target).map_err(|e| e.error)?;
        Ok(())
    };
    write().map_err(|why| Failure::Write { path: path.to_owned(), why: plain(why) })
}

/// Writes a file where nothing is.
///
/// # Errors
/// [`Failure::Exists`] if there is something, even a link that leads to nothing.
pub fn write_new_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let exists = || Failure::Exists { path: path.to_owned() };
    if path.symlink_metadata().is_ok() {
        return Err(exists());
    }
    let write = || {
        let (_unfinished, file) = temporary(path, bytes)?;
        file.persist_noclobber(path).map_err(|e| e.error)?;
        Ok(())
    };
    write().map_err(|why: io::Error| match why.kind() {
        ErrorKind::AlreadyExists => exists(),
        _ => Failure::Write { path: path.to_owned(), why: plain(why) },
    })
}

/// The file that is to be replaced, if there is one. It is opened for writing, so
/// that what the user has protected is not replaced.
fn existing(path: &Path) -> io::Result<Option<File>> {
    match OpenOptions::new().write(true).open(path) {
        Ok(file) => Ok(Some(file)),
        Err(why) if why.kind() == ErrorKind::NotFound => Ok(None),
        Err(why) => Err(why),
    }
}

/// A temporary file beside a path, with its contents on the disk.
fn temporary(path: &Path, bytes: &[u8]) -> io::Result<(Unfinished, NamedTempFile)> {
    let mut builder = tempfile::Builder::new();
    builder.suffix(TEMPORARY);
    // As for any new file, the system takes off what the user's umask says.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let (unfinished, mut file) = Unfinished::make(|| builder.tempfile_in(parent(path)), NamedTempFile::path)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok((unfinished, file))
}

/// Gives a file the permissions of another, without those to run as its owner.
fn keep_mode(old: &File, new: &File) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = old.metadata()?.permissions().mode() & 0o777;
        new.set_permissions(PermissionsExt::from_mode(mode))?;
    }
    let _ = (old, new);
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn a_file_in_no_folder_is_named() {
        let wrong = write_file(Path::new("no/such/folder/grid.png"), b"x").unwrap_err();
        assert!(wrong.to_string().contains("no/such/folder/grid.png"), "{wrong}");
    }

    #[cfg(unix)]
    #[test]
    fn a_replaced_file_keeps_its_mode_and_a_link_stays() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let mode = |name: &str| fs::metadata(at(name)).unwrap().permissions().mode() & 0o7777;
        fs::create_dir(at("other")).unwrap();
        for given in [0o600, 0o640, 0o755, 0o666] {
            fs::write(at("other/facts.json"), "old").unwrap();
            fs::set_permissions(at("other/facts.json"), fs::Permissions::from_mode(given)).unwrap();
            write_file(&at("other/facts.json"), b"new").unwrap();
            assert_eq!(mode("other/facts.json"), given);
        }
        symlink("other/facts.json", at("link")).unwrap();
        symlink("link", at("link-to-link")).unwrap();
        write_file(&at("link-to-link"), b"newest").unwrap();
        assert!(at("link").is_symlink() && at("link-to-link").is_symlink());
        assert_eq!(fs::read(at("other/facts.json")).unwrap(), b"newest");
        assert_eq!(fs::read_dir(at("other")).unwrap().count(), 1);
        // Links to nothing and to themselves.
        symlink("nowhere", at("dangling")).unwrap();
        symlink("circle", at("circle")).unwrap();
        for link in ["dangling", "circle"] {
            let wrong = write_file(&at(link), b"x").unwrap_err();
            assert!(wrong.to_string().contains("it is a link"), "{wrong}");
            assert!(at(link).is_symlink());
            assert!(matches!(write_new_file(&at(link), b"x"), Err(Failure::Exists { .. })));
        }
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 5);
    }

    #[test]
    fn a_new_file_replaces_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rose.toml");
        write_new_file(&path, b"mine").unwrap();
        assert!(matches!(write_new_file(&path, b"other"), Err(Failure::Exists { .. })));
        assert_eq!(fs::read(&path).unwrap(), b"mine");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}
