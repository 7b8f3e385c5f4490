//! Where results go: lines to the terminal, files and folders that appear
//! whole or not at all.

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::failure::Failure;

/// Writes text to standard output; a reader that has gone away is no fault.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|why| match why.kind() {
        ErrorKind::BrokenPipe => Failure::NobodyReads,
        _ => Failure::Write { path: PathBuf::from("standard output"), why },
    })
}

/// Writes a line of news to standard error. News that cannot be told is lost.
pub fn tell(text: &str) {
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}

/// The folder a path lies in.
fn parent(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Writes a file whole: to a temporary file beside it, then by renaming.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let write = || {
        let mut file = tempfile::Builder::new().suffix(".pairwise-tmp").tempfile_in(parent(path))?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        keep_usual_permissions(file.as_file())?;
        file.persist(path).map_err(|e| e.error)?;
        Ok(())
    };
    write().map_err(Failure::write(path))
}

/// Temporary files are private; results are readable as any new file is.
fn keep_usual_permissions(file: &fs::File) -> std::io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        file.set_permissions(fs::Permissions::from_mode(0o644))?;
    }
    let _ = file;
    Ok(())
}

/// The file that marks a folder as a gallery of ours, which may be replaced.
pub const GALLERY_MARK: &str = "pairwise-gallery.json";

/// A gallery folder being made beside its final place.
pub struct NewGallery {
    place: PathBuf,
    made: tempfile::TempDir,
}

impl NewGallery {
    /// Begins a gallery that will stand at `place`.
    ///
    /// Refuses a place where something stands that is no gallery.
    pub fn begin(place: &Path) -> Result<NewGallery, Failure> {
        if place.exists() {
            let empty = place.is_dir() && fs::read_dir(place).map_err(Failure::read(place))?.next().is_none();
            if !empty && !place.join(GALLERY_MARK).is_file() {
                return Err(Failure::NotAGallery { path: place.to_owned() });
            }
        }
        let made = tempfile::Builder::new()
            .prefix(".gallery-")
            .suffix(".pairwise-tmp")
            .tempdir_in(parent(place))
            .map_err(Failure::write(place))?;
        Ok(NewGallery { place: place.to_owned(), made })
    }

    /// Writes a file into the new gallery; `name` may hold folders.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.made.path().join(name);
        fs::create_dir_all(parent(&path)).and_then(|()| fs::write(&path, bytes)).map_err(|why| {
            Failure::Write {
                // Name the place the user knows, not the temporary one.
                path: self.place.join(name),
                why,
            }
        })
    }

    /// Puts the finished gallery in its place, instead of an older one.
    pub fn finish(self) -> Result<(), Failure> {
        let place = &self.place;
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            fs::set_permissions(self.made.path(), fs::Permissions::from_mode(0o755))
                .map_err(Failure::write(place))?;
        }
        let old = place.exists().then(|| self.made.path().with_extension("old.pairwise-tmp"));
        if let Some(old) = &old {
            fs::rename(place, old).map_err(Failure::write(place))?;
        }
        if let Err(why) = fs::rename(self.made.path(), place) {
            if let Some(old) = &old {
                let _ = fs::rename(old, place);
            }
            return Err(Failure::Write { path: place.clone(), why });
        }
        // The new gallery stands; what is left of the old one only takes room.
        let _ = self.made.keep();
        if let Some(old) = old {
            let _ = fs::remove_dir_all(old);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gallery_replaces_a_gallery_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("class");
        for round in 0..2u8 {
            let gallery = NewGallery::begin(&place).unwrap();
            gallery.write(GALLERY_MARK, b"{}").unwrap();
            gallery.write("pictures/one.png", &[round]).unwrap();
            gallery.finish().unwrap();
            assert_eq!(fs::read(place.join("pictures/one.png")).unwrap(), [round]);
        }
        let other = folder.path().join("letters");
        fs::create_dir(&other).unwrap();
        fs::write(other.join("dear.txt"), "keep me").unwrap();
        assert!(matches!(NewGallery::begin(&other), Err(Failure::NotAGallery { .. })));
        assert_eq!(fs::read_to_string(other.join("dear.txt")).unwrap(), "keep me");
        // Nothing temporary is left behind.
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[test]
    fn an_unfinished_gallery_leaves_no_trace() {
        let folder = tempfile::tempdir().unwrap();
        let gallery = NewGallery::begin(&folder.path().join("class")).unwrap();
        gallery.write("index.html", b"half").unwrap();
        drop(gallery);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_file_in_no_folder_is_named() {
        let wrong = write_file(Path::new("no/such/folder/grid.png"), b"x").unwrap_err();
        assert!(wrong.to_string().contains("no/such/folder/grid.png"), "{wrong}");
    }
}
