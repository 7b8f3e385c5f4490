//! Output: lines to the terminal, and files and folders that appear complete or
//! not at all.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::failure::Failure;

/// Writes text to standard output. If its reader has closed it, that is no fault.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|why| match why.kind() {
        ErrorKind::BrokenPipe => Failure::NobodyReads,
        _ => Failure::Write { path: PathBuf::from("standard output"), why },
    })
}

/// Writes a line to standard error. A failure to write there is ignored.
pub fn warn(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}

/// Writes a note, which is no fault, to standard error.
pub fn note(text: &str) {
    warn(&format!("note: {text}"));
}

/// The folder that contains a path.
fn parent(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// The operating system's message, without the name of a temporary file, which
/// would mean nothing to the user.
fn plain(why: io::Error) -> io::Error {
    if why.raw_os_error().is_some() { why } else { io::Error::from(why.kind()) }
}

/// Writes a file atomically: to a temporary file beside it, which is then
/// renamed. Devices and pipes are written to directly.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if path.metadata().is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        let write = || fs::OpenOptions::new().write(true).open(path)?.write_all(bytes);
        return write().map_err(Failure::write(path));
    }
    let write = || {
        let mut file = tempfile::Builder::new().suffix(TEMPORARY).tempfile_in(parent(path))?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        give_usual_permissions(file.path(), 0o644)?;
        file.persist(path).map_err(|e| e.error)?;
        Ok(())
    };
    write().map_err(|why| Failure::Write { path: path.to_owned(), why: plain(why) })
}

/// Temporary files and folders are private; this gives results the usual
/// permissions of new files.
fn give_usual_permissions(path: &Path, mode: u32) -> io::Result<()> {
    #[cfg(unix)]
    fs::set_permissions(path, std::os::unix::fs::PermissionsExt::from_mode(mode))?;
    let _ = (path, mode);
    Ok(())
}

/// The file that marks a folder as one of our galleries, which may be replaced.
pub const GALLERY_MARK: &str = "pairwise-gallery.json";

/// A folder being made beside its final place. If dropped unfinished, it is
/// removed.
pub struct NewFolder {
    place: PathBuf,
    made: tempfile::TempDir,
    /// Held open and locked while the folder is being made.
    _held: Option<fs::File>,
}

/// Prefix and suffix of the names of folders being made.
const BEGUN: &str = ".being-made-";
const TEMPORARY: &str = ".pairwise-tmp";
/// Suffix of an old gallery's name while the new one takes its place.
const PUT_ASIDE: &str = ".old.pairwise-tmp";

/// Locks a folder until the returned file is dropped or the program ends,
/// however it ends. `None` if it is locked already or cannot be locked.
fn hold(folder: &Path) -> Option<fs::File> {
    let folder = fs::File::open(folder).ok()?;
    folder.try_lock().is_ok().then_some(folder)
}

/// Removes unfinished folders of interrupted runs: those that no process has
/// locked.
fn remove_abandoned(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    // Keep an old gallery that was put aside where folders cannot be swapped: it
    // may be the only one left.
    let begun = |n: &str| n.starts_with(BEGUN) && n.ends_with(TEMPORARY) && !n.ends_with(PUT_ASIDE);
    for entry in entries.flatten() {
        let ours = entry.file_name().to_str().is_some_and(begun);
        if ours && entry.file_type().is_ok_and(|kind| kind.is_dir()) && hold(&entry.path()).is_some() {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

/// Swaps two folders atomically; false if either is missing or the system cannot
/// do it.
fn exchange(one: &Path, other: &Path) -> bool {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE).is_ok()
    }
    #[cfg(not(any(target_os = "linux", target_os = "macos")))]
    {
        let _ = (one, other);
        false
    }
}

impl NewFolder {
    /// Begins a folder that will be moved to `place`, where nothing exists yet.
    pub fn begin(place: &Path) -> Result<NewFolder, Failure> {
        if place.symlink_metadata().is_ok() {
            return Err(Failure::Exists { path: place.to_owned() });
        }
        NewFolder::make(place)
    }

    fn make(place: &Path) -> Result<NewFolder, Failure> {
        remove_abandoned(parent(place));
        let made = tempfile::Builder::new()
            .prefix(BEGUN)
            .suffix(TEMPORARY)
            .tempdir_in(parent(place))
            .map_err(|why| Failure::Write { path: place.to_owned(), why: plain(why) })?;
        let held = hold(made.path());
        Ok(NewFolder { place: place.to_owned(), made, _held: held })
    }

    /// Writes a file into the new folder; `name` may contain folders.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.made.path().join(name);
        fs::create_dir_all(parent(&path)).and_then(|()| fs::write(&path, bytes)).map_err(|why| {
            Failure::Write {
                // Report the place the user knows, not the temporary one.
                path: self.place.join(name),
                why,
            }
        })
    }

    fn give_usual_permissions(&self) -> Result<(), Failure> {
        give_usual_permissions(self.made.path(), 0o755).map_err(Failure::write(&self.place))
    }

    /// Moves the finished folder into place.
    pub fn finish(self) -> Result<(), Failure> {
        self.give_usual_permissions()?;
        fs::rename(self.made.path(), &self.place).map_err(Failure::write(&self.place))?;
        // It now has its final name, so there is nothing to remove.
        let _ = self.made.keep();
        Ok(())
    }
}

/// A gallery folder being made beside its final place.
pub struct NewGallery(NewFolder);

impl NewGallery {
    /// Begins a gallery that will be moved to `place`.
    ///
    /// Refuses a place where there is anything but a gallery.
    pub fn begin(place: &Path) -> Result<NewGallery, Failure> {
        if place.exists() {
            let empty = place.is_dir() && fs::read_dir(place).map_err(Failure::read(place))?.next().is_none();
            if !empty && !place.join(GALLERY_MARK).is_file() {
                return Err(Failure::NotAGallery { path: place.to_owned() });
            }
        }
        Ok(NewGallery(NewFolder::make(place)?))
    }

    /// Writes a file into the new gallery; `name` may contain folders.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.0.write(name, bytes)
    }

    /// Moves the finished gallery into place, replacing an older one.
    pub fn finish(self) -> Result<(), Failure> {
        let place = self.0.place.clone();
        self.0.give_usual_permissions()?;
        // At every moment, even if the program is killed, either the old gallery
        // or the new one is in place.
        if exchange(self.0.made.path(), &place) {
            // The temporary folder now contains the old gallery.
            return Ok(());
        }
        let old = place.exists().then(|| self.0.made.path().with_extension(&PUT_ASIDE[1..]));
        if let Some(old) = &old {
            fs::rename(&place, old).map_err(Failure::write(&place))?;
        }
        if let Err(why) = self.0.finish() {
            if let Some(old) = &old {
                let _ = fs::rename(old, &place);
            }
            return Err(why);
        }
        // The new gallery is in place; what is left of the old one only takes room.
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
        // No temporary file is left.
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[test]
    fn a_new_folder_replaces_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("filling");
        let new = NewFolder::begin(&place).unwrap();
        new.write("src/lib.rs", b"all").unwrap();
        new.finish().unwrap();
        assert_eq!(fs::read(place.join("src/lib.rs")).unwrap(), b"all");
        assert!(matches!(NewFolder::begin(&place), Err(Failure::Exists { .. })));
        // Neither an empty folder nor one that appears meanwhile is replaced.
        let late = folder.path().join("late");
        let new = NewFolder::begin(&late).unwrap();
        fs::create_dir(&late).unwrap();
        fs::write(late.join("mine.txt"), "keep me").unwrap();
        assert!(matches!(NewFolder::begin(&late), Err(Failure::Exists { .. })));
        assert!(matches!(new.finish(), Err(Failure::Write { .. })));
        assert_eq!(fs::read_to_string(late.join("mine.txt")).unwrap(), "keep me");
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
    fn what_was_broken_off_is_cleared_away_and_what_is_being_made_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let (left, aside) = (
            folder.path().join(".being-made-a.pairwise-tmp"),
            folder.path().join(".being-made-b.old.pairwise-tmp"),
        );
        for old in [&left, &aside] {
            fs::create_dir(old).unwrap();
            fs::write(old.join("index.html"), b"half").unwrap();
        }
        let one = NewGallery::begin(&folder.path().join("one")).unwrap();
        let two = NewGallery::begin(&folder.path().join("two")).unwrap();
        assert!(one.0.made.path().is_dir() && two.0.made.path().is_dir());
        assert!(aside.is_dir(), "it may be the only one there is");
        assert_eq!(left.exists(), cfg!(windows));
    }

    #[test]
    fn a_file_in_no_folder_is_named() {
        let wrong = write_file(Path::new("no/such/folder/grid.png"), b"x").unwrap_err();
        assert!(wrong.to_string().contains("no/such/folder/grid.png"), "{wrong}");
    }

    /// Number of files that one round of [`rounds`] writes.
    const FILES: u32 = 12;

    /// Replaces a gallery and a file over and over, in the folder that the
    /// environment names: for [`ended_at_any_moment_the_old_or_the_new_is_there`],
    /// which ends it.
    #[test]
    #[ignore = "goes on until it is killed"]
    fn rounds() {
        let Some(folder) = std::env::var_os("PAIRWISE_ROUNDS").map(PathBuf::from) else { return };
        let first = std::env::var("PAIRWISE_FIRST_ROUND").unwrap().parse().unwrap();
        for round in first.. {
            let round: u64 = round;
            let text = round.to_string().repeat(4000);
            write_file(&folder.join("facts.json"), text.as_bytes()).unwrap();
            let gallery = NewGallery::begin(&folder.join("class")).unwrap();
            for n in 0..FILES {
                gallery.write(&format!("grounds/{n}.html"), text.as_bytes()).unwrap();
            }
            gallery.write(GALLERY_MARK, text.as_bytes()).unwrap();
            gallery.finish().unwrap();
        }
    }

    /// Kills that process again and again, each time after it has finished a round
    /// and written some pages of the next. Each time, what has a final name is
    /// complete and of one round, and never older than before.
    #[test]
    fn ended_at_any_moment_the_old_or_the_new_is_there() {
        use std::process::{Command, Stdio};
        let kills: u64 = std::env::var("PAIRWISE_KILLS").map_or(26, |n| n.parse().expect("a number"));
        let folder = tempfile::tempdir().unwrap();
        let (class, file) = (folder.path().join("class"), folder.path().join("facts.json"));
        // The round of a text; `None` if the text is incomplete.
        let round_of = |text: &str| {
            let round = &text[..text.len() / 4000];
            (text == round.repeat(4000)).then(|| round.parse::<u64>().ok()).flatten()
        };
        let round_there = || fs::read_to_string(class.join(GALLERY_MARK)).ok().and_then(|t| round_of(&t));
        // The number of pages in the gallery being made.
        let pages_begun = || {
            let begun = fs::read_dir(folder.path()).into_iter().flatten().flatten();
            let begun = begun.filter(|e| e.file_name().to_string_lossy().starts_with(BEGUN));
            let pages = begun.map(|e| fs::read_dir(e.path().join("grounds")).map_or(0, Iterator::count));
            pages.max().unwrap_or(0)
        };
        for kill in 0..kills {
            let first = kill * 1_000_000;
            let mut child = Command::new(std::env::current_exe().unwrap())
                .args(["--exact", &format!("{}::rounds", module_path!().split_once("::").unwrap().1)])
                .arg("--ignored")
                .env("PAIRWISE_ROUNDS", folder.path())
                .env("PAIRWISE_FIRST_ROUND", first.to_string())
                .stdout(Stdio::null())
                .spawn()
                .unwrap();
            while round_there().is_none_or(|round| round < first) || pages_begun() < (kill % 13) as usize {
                assert!(child.try_wait().unwrap().is_none(), "the rounds go on until they are killed");
                std::thread::yield_now();
            }
            child.kill().unwrap();
            child.wait().unwrap();
            let whole = |path: &Path| {
                let text = fs::read_to_string(path).unwrap();
                round_of(&text).unwrap_or_else(|| panic!("kill {kill}: {} is not whole", path.display()))
            };
            let round = whole(&class.join(GALLERY_MARK));
            assert!(round >= first, "kill {kill}: an older gallery is back");
            for n in 0..FILES {
                let page = whole(&class.join(format!("grounds/{n}.html")));
                assert_eq!(page, round, "kill {kill}: page {n} is of another round");
            }
            assert!(whole(&file) >= round, "kill {kill}: the file is older than the gallery after it");
        }
        // The next gallery removes what was left.
        let gallery = NewGallery::begin(&class).unwrap();
        gallery.write(GALLERY_MARK, b"{}").unwrap();
        gallery.finish().unwrap();
        let left = fs::read_dir(folder.path()).unwrap().flatten().filter(|e| e.path().is_dir()).count();
        assert_eq!(left, 1, "galleries that were broken off are left");
    }
}
