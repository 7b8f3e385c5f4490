//! Folders that appear complete or not at all.
//!
//! A folder is made inside another, hidden one, beside its final place. That one
//! also contains a locked file, which tells other runs of the program that it is
//! not abandoned: the lock ends with the process, however it ends.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use catalogue::trouble::in_words;
use tempfile::TempDir;

use super::gallery::remove_whole;
use super::place::{parent, plain, rename_new};
use super::unfinished::{Unfinished, uninterrupted};
use crate::failure::Failure;

/// Prefix and suffix of the hidden folder's name.
const HIDDEN: &str = ".being-made-";
const TEMPORARY: &str = ".pairwise-tmp";
/// Suffix of an old gallery's name while the new one takes its place, where
/// folders cannot be swapped.
const PUT_ASIDE: &str = ".old.pairwise-tmp";
/// In the hidden folder: the locked file, the folder being made, and a gallery
/// that is complete and so has a list of its files.
const LOCK: &str = "lock";
const MADE: &str = "made";
const WHOLE: &str = "whole";

/// A folder being made beside its final place. If dropped unfinished, it is
/// removed.
pub struct NewFolder {
    /// The place that the user knows.
    place: PathBuf,
    hidden: Hidden,
}

/// A hidden folder, locked until it is removed.
pub(super) struct Hidden {
    // The order of the fields is that of their end.
    folder: TempDir,
    _lock: File,
    _unfinished: Unfinished,
}

impl Hidden {
    /// Makes a hidden folder in another, after removing those of interrupted runs.
    fn make_in(folder: &Path) -> io::Result<Hidden> {
        remove_abandoned(folder);
        // Another run may take the folder for abandoned before it is locked; then
        // nothing is in it yet, and the next one is tried.
        const TRIES: usize = 1000;
        for _ in 0..TRIES {
            let make = || tempfile::Builder::new().prefix(HIDDEN).suffix(TEMPORARY).tempdir_in(folder);
            let (unfinished, made) = Unfinished::make(make, TempDir::path)?;
            if let Some(lock) = lock_in(made.path())? {
                fs::create_dir(made.path().join(MADE))?;
                return Ok(Hidden { folder: made, _lock: lock, _unfinished: unfinished });
            }
        }
        Err(io::Error::other("other programs remove what is made there"))
    }

    /// The folder being made.
    pub(super) fn made(&self) -> PathBuf {
        self.folder.path().join(MADE)
    }

    /// The place of a gallery that is complete, or of one that it replaces. Later
    /// runs remove there only what a gallery lists.
    pub(super) fn whole(&self) -> PathBuf {
        self.folder.path().join(WHOLE)
    }

    /// The name for an old gallery that is put aside.
    pub(super) fn aside(&self) -> PathBuf {
        self.folder.path().with_extension(&PUT_ASIDE[1..])
    }

    /// Leaves the hidden folder where it is.
    pub(super) fn keep(&mut self) {
        self.folder.disable_cleanup(true);
    }
}

/// Locks a new file in a folder. `None` if another run is about to remove the
/// folder, or has done so.
fn lock_in(folder: &Path) -> io::Result<Option<File>> {
    let path = folder.join(LOCK);
    let lock = match File::create_new(&path) {
        Ok(lock) => lock,
        Err(why) if why.kind() == ErrorKind::NotFound => return Ok(None),
        Err(why) => return Err(why),
    };
    match lock.try_lock() {
        // Whoever removes the folder holds the lock from before to after.
        Ok(()) => Ok(path.exists().then_some(lock)),
        Err(TryLockError::WouldBlock) => Ok(None),
        Err(TryLockError::Error(why)) => {
            Err(io::Error::new(why.kind(), format!("files there cannot be locked ({})", in_words(&why))))
        }
    }
}

/// Removes the hidden folders of interrupted runs.
fn remove_abandoned(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    // Keep an old gallery that was put aside: it may be the only one left.
    let hidden = |n: &str| n.starts_with(HIDDEN) && n.ends_with(TEMPORARY) && !n.ends_with(PUT_ASIDE);
    for entry in entries.flatten() {
        let ours = entry.file_name().to_str().is_some_and(hidden);
        if ours && entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            remove_if_abandoned(&entry.path());
        }
    }
}

fn remove_if_abandoned(hidden: &Path) {
    match File::options().write(true).open(hidden.join(LOCK)) {
        // Locked until the end of this function.
        Ok(lock) => {
            if lock.try_lock().is_ok() && remove_whole(&hidden.join(WHOLE)) {
                let _ = fs::remove_dir_all(hidden);
            }
        }
        // Only an empty folder: it was about to be locked, and is no loss.
        Err(why) if why.kind() == ErrorKind::NotFound => {
            let _ = fs::remove_dir(hidden);
        }
        Err(_) => {}
    }
}

/// Makes the folders above a file in `root`, but never `root` itself: if that has
/// been removed, nothing may take its place.
fn make_folders(root: &Path, name: &Path) -> io::Result<()> {
    let mut folder = root.to_owned();
    for part in name.parent().into_iter().flat_map(Path::components) {
        folder.push(part);
        match fs::create_dir(&folder) {
            Err(why) if why.kind() != ErrorKind::AlreadyExists => return Err(why),
            _ => {}
        }
    }
    Ok(())
}

impl NewFolder {
    /// Begins a folder that will be moved to `place`, where nothing exists yet.
    ///
    /// # Errors
    /// [`Failure::Exists`] if there is something, even a link that leads to nothing.
    pub fn begin(place: &Path) -> Result<NewFolder, Failure> {
        if place.symlink_metadata().is_ok() {
            return Err(Failure::Exists { path: place.to_owned() });
        }
        NewFolder::beside(place, place)
    }

    /// Begins a folder beside `target`; messages call it `place`.
    pub(super) fn beside(target: &Path, place: &Path) -> Result<NewFolder, Failure> {
        let hidden = Hidden::make_in(parent(target))
            .map_err(|why| Failure::Write { path: place.to_owned(), why: plain(why) })?;
        Ok(NewFolder { place: place.to_owned(), hidden })
    }

    /// Writes a file into the new folder; `name` may contain folders.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let root = self.hidden.made();
        make_folders(&root, Path::new(name)).and_then(|()| fs::write(root.join(name), bytes)).map_err(|why| {
            // Report the place the user knows, not the temporary one.
            Failure::Write { path: self.place.join(name), why }
        })
    }

    /// Moves the finished folder into place.
    ///
    /// # Errors
    /// [`Failure::Exists`] if something has appeared there; it stays as it is.
    pub fn finish(self) -> Result<(), Failure> {
        uninterrupted(|| rename_new(&self.hidden.made(), &self.place)).map_err(|why| match why.kind() {
            ErrorKind::AlreadyExists => Failure::Exists { path: self.place.clone() },
            _ => Failure::Write { path: self.place.clone(), why },
        })
    }

    /// The hidden folder.
    pub(super) fn into_hidden(self) -> Hidden {
        self.hidden
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Barrier;
    use std::thread;

    use proptest::prelude::*;
    use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

    use super::*;
    use crate::long::LongRun;

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
        for filled in [true, false] {
            let late = folder.path().join(format!("late-{filled}"));
            let new = NewFolder::begin(&late).unwrap();
            fs::create_dir(&late).unwrap();
            if filled {
                fs::write(late.join("mine.txt"), "keep me").unwrap();
            }
            assert!(matches!(NewFolder::begin(&late), Err(Failure::Exists { .. })));
            assert!(matches!(new.finish(), Err(Failure::Exists { .. })));
            assert_eq!(fs::read_dir(&late).unwrap().count(), usize::from(filled));
        }
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 3);
    }

    #[test]
    fn what_was_broken_off_is_cleared_away_and_what_is_being_made_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let (left, aside) = (
            folder.path().join(".being-made-a.pairwise-tmp"),
            folder.path().join(".being-made-b.old.pairwise-tmp"),
        );
        for old in [&left, &aside] {
            fs::create_dir_all(old.join("made")).unwrap();
            fs::write(old.join("lock"), b"").unwrap();
            fs::write(old.join("made/index.html"), b"half").unwrap();
        }
        let one = NewFolder::begin(&folder.path().join("one")).unwrap();
        let two = NewFolder::begin(&folder.path().join("two")).unwrap();
        assert!(one.hidden.made().is_dir() && two.hidden.made().is_dir());
        assert!(aside.is_dir(), "it may be the only one there is");
        assert!(!left.exists());
    }

    /// A folder that has vanished is not made again with a part of its files.
    #[test]
    fn a_folder_taken_away_is_an_error() {
        let folder = tempfile::tempdir().unwrap();
        let new = NewFolder::begin(&folder.path().join("one")).unwrap();
        new.write("src/lib.rs", b"all").unwrap();
        fs::remove_dir_all(new.hidden.made()).unwrap();
        for name in ["Cargo.toml", "src/lib.rs", "kit/sdk/src/lib.rs"] {
            assert!(matches!(new.write(name, b"all"), Err(Failure::Write { .. })), "{name}");
        }
        assert!(!new.hidden.made().exists());
        assert!(new.finish().is_err() && !folder.path().join("one").exists());
    }

    /// One run that is being made while others begin is locked at every moment
    /// when it could be seen, or else not missed.
    #[test]
    fn a_folder_removed_before_its_lock_is_not_used() {
        let folder = tempfile::tempdir().unwrap();
        let hidden = folder.path().join(".being-made-a.pairwise-tmp");
        fs::create_dir(&hidden).unwrap();
        remove_if_abandoned(&hidden);
        assert!(lock_in(&hidden).unwrap().is_none());
        // Locked by one that removes it.
        fs::create_dir(&hidden).unwrap();
        let lock = lock_in(&hidden).unwrap().unwrap();
        remove_if_abandoned(&hidden);
        assert!(hidden.is_dir(), "it is locked");
        drop(lock);
        remove_if_abandoned(&hidden);
        assert!(!hidden.exists());
    }

    /// Makes folders in one place, many at once. Each is complete.
    fn made_at_once(threads: usize, rounds: usize, files: usize) {
        let folder = tempfile::tempdir().unwrap();
        let begin = Barrier::new(threads);
        let make = |thread: usize| {
            for round in 0..rounds {
                begin.wait();
                let new = NewFolder::begin(&folder.path().join(format!("n{thread}-{round}"))).unwrap();
                for n in 0..files {
                    new.write(&format!("part-{}/{n}", n % 3), b"whole").unwrap();
                }
                new.finish().unwrap();
            }
        };
        thread::scope(|scope| (0..threads).for_each(|n| drop(scope.spawn(move || make(n)))));
        let mut made = 0;
        for entry in fs::read_dir(folder.path()).unwrap() {
            let path = entry.unwrap().path();
            let parts = fs::read_dir(&path).unwrap().map(|part| part.unwrap().path());
            let there: usize = parts.map(|part| fs::read_dir(part).unwrap().count()).sum();
            assert_eq!(there, files, "{}", path.display());
            made += 1;
        }
        assert_eq!(made, threads * rounds, "something is missing or left behind");
    }

    #[test]
    fn folders_made_at_once_are_whole() {
        let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
        let config = Config { cases: 12, failure_persistence: None, ..Config::default() };
        let ways = (2..12usize, 1..12usize, 1..40usize);
        let mut runner = TestRunner::new_with_rng(config, rng);
        let run = |(threads, rounds, files)| {
            made_at_once(threads, rounds, files);
            Ok(())
        };
        runner.run(&ways.prop_map(|way| way), run).unwrap();
    }

    #[test]
    #[ignore = "goes on for the time given"]
    #[allow(clippy::print_stdout, reason = "the number is worth reading")]
    fn long_run() {
        let time = LongRun::with_share(0.1);
        let mut made = 0;
        while time.goes_on() {
            made_at_once(24, 20, 48);
            made += 24 * 20;
        }
        println!("{made} folders made, 24 at once, each of them whole");
    }
}
