//! Galleries: folders that replace an older gallery, and nothing else.
//!
//! A gallery's mark lists its files, so that whatever else a user puts into the
//! folder is noticed, before the work and again when the old gallery is taken
//! away.

use std::collections::BTreeSet;
use std::fs::{self, Metadata};
use std::io::{self, ErrorKind};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use catalogue::text::path_name;
use catalogue::trouble::in_words;
use report::gallery::{FORMAT, Mark};

use super::folder::{Hidden, NewFolder};
use super::place::{exchange, followed, parent, rename_new};
use super::unfinished::uninterrupted;
use crate::failure::Failure;
use crate::input::text_in;

/// The file that marks a folder as one of our galleries, which may be replaced.
const MARK: &str = "pairwise-gallery.json";
/// Largest mark, in bytes.
const MOST_MARK_BYTES: u64 = 16 << 20;

/// A gallery folder being made beside its final place.
pub struct NewGallery {
    folder: NewFolder,
    /// The place that the user knows.
    place: PathBuf,
    /// Where the folder goes: the place, or what it links to.
    target: PathBuf,
    /// What stood there when this one was begun.
    before: Option<Before>,
    /// The files written, for the mark.
    files: Mutex<BTreeSet<String>>,
}

/// The folder that stood at the place of a new gallery.
struct Before {
    id: FolderId,
    was_empty: bool,
}

/// What a folder contains.
#[derive(Debug, PartialEq, Eq)]
enum Contents {
    Nothing,
    /// A gallery and nothing else: its files and folders, by their paths in it.
    Gallery {
        files: BTreeSet<PathBuf>,
        folders: BTreeSet<PathBuf>,
    },
    /// This, in a gallery that did not put it there.
    More(PathBuf),
    /// No gallery.
    Other,
}

/// By what a folder is known again under another name.
#[cfg(unix)]
type FolderId = (u64, u64);
/// By what a folder is known again, where it has no number that Rust can read:
/// the time when it was made.
#[cfg(not(unix))]
type FolderId = Option<std::time::SystemTime>;

fn id_of(folder: &Metadata) -> FolderId {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        (folder.dev(), folder.ino())
    }
    #[cfg(not(unix))]
    folder.created().ok()
}

impl Contents {
    fn of(folder: &Path) -> io::Result<Contents> {
        let Some(files) = listed(folder) else {
            let empty = fs::read_dir(folder)?.next().is_none();
            return Ok(if empty { Contents::Nothing } else { Contents::Other });
        };
        let folders = files.iter().flat_map(|file| file.ancestors().skip(1)).map(Path::to_owned).collect();
        Ok(match more_in(folder, Path::new(""), &files, &folders)? {
            Some(more) => Contents::More(more),
            None => Contents::Gallery { files, folders },
        })
    }
}

/// The files of a gallery, as its mark lists them; `None` if it has no mark. What
/// is not plainly below the gallery is not its own, whatever the mark says.
fn listed(folder: &Path) -> Option<BTreeSet<PathBuf>> {
    let text = text_in(&folder.join(MARK), MOST_MARK_BYTES, "a mark", "").ok()?;
    let mark: serde_json::Value = serde_json::from_str(&text).ok()?;
    if mark["format"] != FORMAT {
        return None;
    }
    let files = mark["files"].as_array().into_iter().flatten().filter_map(|file| file.as_str());
    let below = |file: &PathBuf| file.components().all(|part| matches!(part, Component::Normal(_)));
    Some(files.chain([MARK]).map(PathBuf::from).filter(below).collect())
}

/// The first thing below `inner` in a folder that is neither one of the files nor
/// one of the folders.
fn more_in(
    folder: &Path,
    inner: &Path,
    files: &BTreeSet<PathBuf>,
    folders: &BTreeSet<PathBuf>,
) -> io::Result<Option<PathBuf>> {
    let mut entries = fs::read_dir(folder.join(inner))?.collect::<io::Result<Vec<_>>>()?;
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let path = inner.join(entry.file_name());
        let kind = entry.file_type()?;
        if kind.is_dir() && folders.contains(&path) {
            if let Some(more) = more_in(folder, &path, files, folders)? {
                return Ok(Some(more));
            }
        } else if !kind.is_file() || !files.contains(&path) {
            return Ok(Some(path));
        }
    }
    Ok(None)
}

/// Removes a complete gallery and nothing else. True if nothing is left, or there
/// was nothing.
pub(super) fn remove_whole(folder: &Path) -> bool {
    match Contents::of(folder) {
        Ok(Contents::Nothing) => fs::remove_dir(folder).is_ok(),
        Ok(Contents::Gallery { files, folders }) => {
            // The mark goes last, so that the rest can still be told for ours.
            let mark = PathBuf::from(MARK);
            for file in files.iter().filter(|file| **file != mark) {
                let _ = fs::remove_file(folder.join(file));
            }
            // Folders before those that contain them; the last is the gallery.
            for inner in folders.iter().rev().filter(|inner| !inner.as_os_str().is_empty()) {
                let _ = fs::remove_dir(folder.join(inner));
            }
            match Contents::of(folder) {
                Ok(Contents::Gallery { .. }) => {
                    fs::remove_file(folder.join(mark)).and_then(|()| fs::remove_dir(folder)).is_ok()
                }
                _ => false,
            }
        }
        Ok(_) => false,
        Err(why) => why.kind() == ErrorKind::NotFound,
    }
}

impl NewGallery {
    /// Begins a gallery that will be moved to `place`, or to the folder that it
    /// links to.
    ///
    /// # Errors
    /// If there is anything but a gallery, or a gallery to which something was
    /// added.
    pub fn begin(place: &Path) -> Result<NewGallery, Failure> {
        let target = followed(place)?;
        let before = match target.symlink_metadata() {
            Err(_) => None,
            Ok(there) => Some(Before::of(&target, &there, place)?),
        };
        let folder = NewFolder::beside(&target, place)?;
        Ok(NewGallery { folder, place: place.to_owned(), target, before, files: Mutex::default() })
    }

    /// Writes a file into the new gallery; `name` may contain folders.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.files.lock().unwrap_or_else(PoisonError::into_inner).insert(name.to_owned());
        self.folder.write(name, bytes)
    }

    /// Marks the gallery, which a version of the program has made, and moves it into
    /// place, where it replaces an older one.
    ///
    /// # Errors
    /// If something else has appeared there meanwhile; it stays as it is.
    pub fn finish(self, version: &'static str) -> Result<(), Failure> {
        let NewGallery { folder, place, target, before, files } = self;
        let files = files.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mark = serde_json::to_string(&Mark::new(version, files.into_iter().collect()))?;
        folder.write(MARK, mark.as_bytes())?;
        let mut finished = Finished { hidden: folder.into_hidden(), place, target };
        uninterrupted(|| finished.put(before.as_ref()))
    }
}

impl Before {
    fn of(target: &Path, there: &Metadata, place: &Path) -> Result<Before, Failure> {
        let contents = if there.is_dir() {
            Contents::of(target).map_err(Failure::read(place))?
        } else {
            Contents::Other
        };
        match contents {
            Contents::Nothing => Ok(Before { id: id_of(there), was_empty: true }),
            Contents::Gallery { .. } => Ok(Before { id: id_of(there), was_empty: false }),
            Contents::More(file) => Err(Failure::NotOfTheGallery { path: place.to_owned(), file }),
            Contents::Other => Err(Failure::NotAGallery { path: place.to_owned() }),
        }
    }

    /// What is at a path now, in words, if it is not what was seen before.
    fn changed(&self, path: &Path) -> Option<String> {
        let there = match path.symlink_metadata() {
            Ok(there) if there.is_dir() => there,
            Ok(there) if there.is_symlink() => return Some("a link".to_owned()),
            Ok(_) => return Some("a file".to_owned()),
            Err(why) => return Some(format!("something that cannot be read ({})", in_words(&why))),
        };
        match Contents::of(path) {
            _ if id_of(&there) != self.id => Some("another folder".to_owned()),
            Ok(Contents::Nothing) => None,
            Ok(Contents::Gallery { .. }) if !self.was_empty => None,
            Ok(Contents::Gallery { .. }) => Some("another gallery".to_owned()),
            Ok(Contents::More(file)) => Some(format!("the file {}", path_name(&file))),
            Ok(Contents::Other) => Some("files that are not a gallery's".to_owned()),
            Err(why) => Some(format!("something that cannot be read ({})", in_words(&why))),
        }
    }
}

/// A gallery that is complete and only has to be moved.
struct Finished {
    hidden: Hidden,
    place: PathBuf,
    target: PathBuf,
}

impl Finished {
    fn failed(&self, why: io::Error) -> Failure {
        Failure::Write { path: self.place.clone(), why }
    }

    fn appeared(&self, what: impl Into<String>) -> Failure {
        Failure::Appeared { path: self.place.clone(), what: what.into(), moved: None }
    }

    /// Moves the gallery into place. At every moment, even if the program is killed,
    /// either the old gallery or the new one is there.
    fn put(&mut self, before: Option<&Before>) -> Result<(), Failure> {
        let whole = self.hidden.whole();
        fs::rename(self.hidden.made(), &whole).map_err(|why| self.failed(why))?;
        let Some(before) = before else { return self.put_new() };
        // The new folder is as open to others as the old one.
        let mode = self.target.symlink_metadata().ok().filter(Metadata::is_dir);
        if let Some(there) = mode {
            fs::set_permissions(&whole, there.permissions()).map_err(|why| self.failed(why))?;
        }
        match exchange(&whole, &self.target) {
            Ok(true) => match before.changed(&whole) {
                None => self.remove_old(),
                Some(what) => Err(self.put_back(what)),
            },
            Ok(false) => self.put_in_two_steps(before),
            // The old one has been taken away.
            Err(why) if why.kind() == ErrorKind::NotFound => self.put_new(),
            Err(why) => Err(self.failed(why)),
        }
    }

    /// Moves the gallery to where nothing is.
    fn put_new(&self) -> Result<(), Failure> {
        rename_new(&self.hidden.whole(), &self.target).map_err(|why| match why.kind() {
            ErrorKind::AlreadyExists => self.appeared(match self.target.symlink_metadata() {
                Ok(there) if there.is_dir() => "a folder",
                Ok(there) if there.is_symlink() => "a link",
                _ => "a file",
            }),
            _ => self.failed(why),
        })
    }

    /// Removes the old gallery, which now is where the new one was. What was put
    /// into it at the last moment is kept.
    fn remove_old(&mut self) -> Result<(), Failure> {
        let old = self.hidden.whole();
        if remove_whole(&old) || old.symlink_metadata().is_err() {
            return Ok(());
        }
        let moved = self.keep(&old);
        let what = "more files".to_owned();
        Err(Failure::Appeared { path: self.place.clone(), what, moved: Some(moved) })
    }

    /// Swaps again, since something came out that is not the old gallery.
    fn put_back(&mut self, what: String) -> Failure {
        let out = self.hidden.whole();
        let swapped =
            exchange(&out, &self.target).is_ok_and(|done| done) || rename_new(&out, &self.target).is_ok();
        // The new gallery has come back, unless that changed too.
        let is_ours = matches!(Contents::of(&out), Ok(Contents::Gallery { .. }));
        if (swapped && is_ours) || out.symlink_metadata().is_err() {
            return self.appeared(what);
        }
        let moved = self.keep(&out);
        Failure::Appeared { path: self.place.clone(), what, moved: Some(moved) }
    }

    /// Puts what stands there aside before the new gallery takes its place, where
    /// the two cannot be swapped. If the program is killed in between, the old
    /// gallery is left under a name that no run removes.
    fn put_in_two_steps(&mut self, before: &Before) -> Result<(), Failure> {
        let (aside, whole) = (self.hidden.aside(), self.hidden.whole());
        fs::rename(&self.target, &aside).map_err(|why| self.failed(why))?;
        let done = match before.changed(&aside) {
            None => self.put_new(),
            Some(what) => Err(self.appeared(what)),
        };
        if let Err(why) = done {
            return Err(match rename_new(&aside, &self.target) {
                Ok(()) => why,
                Err(_) => {
                    let (path, what) = (self.place.clone(), "something".to_owned());
                    Failure::Appeared { path, what, moved: Some(self.keep(&aside)) }
                }
            });
        }
        fs::rename(&aside, &whole).map_err(|why| self.failed(why))?;
        self.remove_old()
    }

    /// Gives what is not ours a name beside the gallery where the user finds it.
    fn keep(&mut self, what: &Path) -> PathBuf {
        const NAMES: usize = 1000;
        let name = self.target.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for number in 1..=NAMES {
            let kept = parent(&self.target).join(format!("{name}-kept-{number}"));
            if rename_new(what, &kept).is_ok() {
                return kept;
            }
        }
        self.hidden.keep();
        what.to_owned()
    }
}

#[cfg(test)]
mod tests;
