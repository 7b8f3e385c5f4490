//! The cache of compiled contributions: each is compiled once, then loaded from
//! the user's cache folder.
//!
//! Compiled code is trusted code, and that an entry is there means that the
//! contribution was tried ([`crate::Trial`]) and has passed. An entry is therefore loaded only when its
//! folder and its file belong to this user and nobody else may write to them,
//! when its name matches the contribution's bytes and everything the compiler
//! depends on, and when its checksum is right. Anything else is compiled again.
//! Nothing compiled is ever loaded from a folder of contributions.
//!
//! Unsafe code is allowed in this module for one call, which turns such an entry
//! into code.

#![allow(unsafe_code, reason = "turning a checked cache entry into code is unsafe by nature")]

use std::fs::{self, File};
use std::hash::{Hash, Hasher};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use sha2::{Digest, Sha256};
use tempfile::NamedTempFile;
use wasmtime::Engine;
use wasmtime::component::Component;

const MAGIC: &[u8] = b"pairwise-compiled/2\n";
const SUM_BYTES: usize = 32;
/// An entry larger than this was not written by us.
const ENTRY_BYTES: u64 = 256 << 20;
/// When there are more entries, or more bytes in all of them, the oldest are
/// deleted.
const ENTRIES: usize = 4096;
const BYTES: u64 = 1 << 30;
const SUFFIX: &str = "compiled";

/// A folder of compiled contributions.
#[derive(Debug)]
pub(crate) struct Cache {
    folder: PathBuf,
}

/// Names one contribution compiled by one compiler.
pub(crate) struct Key([u8; SUM_BYTES]);

impl Key {
    pub(crate) fn new(engine: &Engine, bytes: &[u8]) -> Key {
        let mut compiler = Feed(Sha256::new());
        engine.precompile_compatibility_hash().hash(&mut compiler);
        let mut all = Sha256::new();
        all.update(MAGIC);
        // What passed in one version of the program need not pass in another.
        all.update(env!("CARGO_PKG_VERSION"));
        all.update(compiler.0.finalize());
        all.update(Sha256::digest(bytes));
        Key(all.finalize().into())
    }

    fn file_name(&self) -> String {
        let hex: String = self.0.iter().map(|byte| format!("{byte:02x}")).collect();
        format!("{hex}.{SUFFIX}")
    }
}

/// Everything that is hashed, with a checksum that is the same on every machine.
struct Feed(Sha256);

impl Hasher for Feed {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    fn finish(&self) -> u64 {
        0
    }
}

impl Cache {
    /// The cache in `folder`, which is created if missing.
    ///
    /// # Errors
    /// When the folder cannot be created, or others can write to it.
    pub(crate) fn open(folder: &Path) -> io::Result<Cache> {
        let mut make = fs::DirBuilder::new();
        make.recursive(true);
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut make, 0o700);
        make.create(folder)?;
        let found = fs::symlink_metadata(folder)?;
        if !found.is_dir() {
            return Err(io::Error::other("it is not a folder"));
        }
        only_ours(&found)?;
        Ok(Cache { folder: folder.to_owned() })
    }

    /// Its folder.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// The entry, if there is a trustworthy one.
    pub(crate) fn get(&self, engine: &Engine, key: &Key) -> Option<Component> {
        let entry = read(&self.folder.join(key.file_name())).ok()?;
        let code = payload(&entry, key)?;
        // SAFETY: the bytes were written by `put`, which serialises a component
        // that this compiler made: the file and its folder belong to this user
        // and nobody else may write to them (`only_ours`), the checksum over the
        // bytes and the key is right (`payload`), and the key identifies the
        // compiler and its settings, which the library checks again.
        unsafe { Component::deserialize(engine, code) }.ok()
    }

    /// Stores a compiled component. Failure to write the cache is ignored.
    pub(crate) fn put(&self, key: &Key, component: &Component) {
        let Ok(code) = component.serialize() else { return };
        _ = self.write(key, &code);
    }

    /// Deletes the oldest entries if there are too many. Failure to do so is
    /// ignored.
    pub(crate) fn thin_out(&self) {
        _ = self.keep(ENTRIES, BYTES);
    }

    fn write(&self, key: &Key, code: &[u8]) -> io::Result<()> {
        // Readable by its owner alone, and written atomically. The program's own
        // writer of files is of no use here: this crate cannot depend on `app`,
        // nobody else is to read an entry, and one that is lost is only compiled
        // again. What a killed process leaves behind counts as an entry that is
        // never asked for, so it is deleted in its turn.
        let mut file = NamedTempFile::with_suffix_in(format!(".{SUFFIX}"), &self.folder)?;
        file.write_all(MAGIC)?;
        file.write_all(&sum(key, code))?;
        file.write_all(code)?;
        file.persist(self.folder.join(key.file_name()))?;
        Ok(())
    }

    fn keep(&self, entries: usize, bytes: u64) -> io::Result<()> {
        let mut found: Vec<(SystemTime, PathBuf, u64)> = fs::read_dir(&self.folder)?
            .filter_map(|entry| {
                let entry = entry.ok()?;
                let ours = entry.path().extension().is_some_and(|e| e == SUFFIX);
                let about = ours.then(|| entry.metadata().ok())??;
                Some((about.modified().ok()?, entry.path(), about.len()))
            })
            .collect();
        found.sort();
        let mut size = 0;
        let is_surplus = |(newer, (_, _, len)): (usize, &(SystemTime, PathBuf, u64))| {
            size += len;
            newer >= entries || size > bytes
        };
        let surplus: Vec<bool> = found.iter().rev().enumerate().map(is_surplus).collect();
        let old = found.iter().rev().zip(surplus).filter(|(_, surplus)| *surplus);
        old.map(|((_, path, _), _)| path).try_for_each(fs::remove_file)
    }
}

fn sum(key: &Key, code: &[u8]) -> [u8; SUM_BYTES] {
    let mut sum = Sha256::new();
    sum.update(MAGIC);
    sum.update(key.0);
    sum.update(code);
    sum.finalize().into()
}

fn payload<'a>(entry: &'a [u8], key: &Key) -> Option<&'a [u8]> {
    let rest = entry.strip_prefix(MAGIC)?;
    let (written, code) = rest.split_at_checked(SUM_BYTES)?;
    (written == sum(key, code)).then_some(code)
}

fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut options = File::options();
    options.read(true);
    #[cfg(unix)]
    {
        // Follows no link and never blocks on a pipe.
        let flags = rustix::fs::OFlags::NOFOLLOW | rustix::fs::OFlags::NONBLOCK;
        std::os::unix::fs::OpenOptionsExt::custom_flags(&mut options, flags.bits() as i32);
    }
    let file = options.open(path)?;
    // Check the open file: what the name refers to could change meanwhile.
    let found = file.metadata()?;
    only_ours(&found)?;
    if !found.is_file() || found.len() > ENTRY_BYTES {
        return Err(io::Error::other("not an entry"));
    }
    let mut entry = Vec::with_capacity(found.len() as usize);
    file.take(ENTRY_BYTES).read_to_end(&mut entry)?;
    Ok(entry)
}

/// Makes sure that a file or folder belongs to this user and that nobody else
/// may write to it. On systems without such permissions, the user's cache folder
/// is assumed to be private.
#[cfg(unix)]
fn only_ours(found: &fs::Metadata) -> io::Result<()> {
    use std::os::unix::fs::MetadataExt;
    if found.uid() != rustix::process::geteuid().as_raw() {
        return Err(io::Error::other("it belongs to another user"));
    }
    if found.mode() & 0o022 != 0 {
        return Err(io::Error::other("others may write it"));
    }
    Ok(())
}

#[cfg(not(unix))]
fn only_ours(_: &fs::Metadata) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::engine;

    /// A cache with one entry, and the path of that entry.
    struct One {
        folder: tempfile::TempDir,
        engine: Engine,
        cache: Cache,
        key: Key,
        entry: PathBuf,
    }

    fn one() -> One {
        let folder = tempfile::tempdir().unwrap();
        let engine = engine().unwrap();
        let bytes = wat::parse_str("(component)").unwrap();
        let cache = Cache::open(&folder.path().join("deep/cache")).unwrap();
        let key = Key::new(&engine, &bytes);
        assert!(cache.get(&engine, &key).is_none());
        cache.put(&key, &Component::new(&engine, &bytes).unwrap());
        let entry = cache.folder.join(key.file_name());
        assert!(cache.get(&engine, &key).is_some(), "an untouched entry is loaded");
        One { folder, engine, cache, key, entry }
    }

    impl One {
        fn loads(&self) -> bool {
            self.cache.get(&self.engine, &self.key).is_some()
        }
    }

    #[test]
    fn a_damaged_entry_is_not_loaded() {
        let one = one();
        let whole = fs::read(&one.entry).unwrap();
        for at in [0, MAGIC.len(), MAGIC.len() + SUM_BYTES, whole.len() / 2, whole.len() - 1] {
            let mut damaged = whole.clone();
            damaged[at] ^= 1;
            fs::write(&one.entry, &damaged).unwrap();
            assert!(!one.loads(), "byte {at}");
            fs::write(&one.entry, &whole[..at]).unwrap();
            assert!(!one.loads(), "cut at {at}");
        }
        fs::write(&one.entry, &whole).unwrap();
        assert!(one.loads());
    }

    #[test]
    fn an_entry_under_another_name_is_not_loaded() {
        let one = one();
        let other = Key::new(&one.engine, b"other bytes");
        fs::copy(&one.entry, one.cache.folder.join(other.file_name())).unwrap();
        assert!(one.cache.get(&one.engine, &other).is_none());
    }

    #[test]
    fn another_compiler_setting_gives_another_name() {
        let one = one();
        let mut config = crate::engine::config();
        config.cranelift_nan_canonicalization(false);
        let other = Engine::new(&config).unwrap();
        let bytes = wat::parse_str("(component)").unwrap();
        assert_ne!(Key::new(&other, &bytes).file_name(), one.key.file_name());
    }

    #[cfg(unix)]
    #[test]
    fn an_entry_that_others_may_write_is_not_loaded() {
        use std::os::unix::fs::PermissionsExt;
        let one = one();
        let mode = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
        assert_eq!(fs::metadata(&one.cache.folder).unwrap().permissions().mode() & 0o777, 0o700);
        assert_eq!(fs::metadata(&one.entry).unwrap().permissions().mode() & 0o077, 0);
        mode(&one.entry, 0o606);
        assert!(!one.loads(), "an entry anyone may write");
        mode(&one.entry, 0o600);
        assert!(one.loads());
        mode(&one.cache.folder, 0o777);
        assert!(Cache::open(&one.cache.folder).is_err(), "a folder anyone may write");
        mode(&one.cache.folder, 0o700);
        let elsewhere = one.folder.path().join("elsewhere");
        fs::rename(&one.entry, &elsewhere).unwrap();
        std::os::unix::fs::symlink(&elsewhere, &one.entry).unwrap();
        assert!(!one.loads(), "a link to elsewhere");
    }

    #[test]
    fn the_cache_does_not_grow_for_ever() {
        let one = one();
        fs::remove_file(&one.entry).unwrap();
        for n in 0..30 {
            fs::write(one.cache.folder.join(format!("{n}.{SUFFIX}")), [0; 10]).unwrap();
        }
        let left = || fs::read_dir(&one.cache.folder).unwrap().count();
        one.cache.thin_out();
        assert_eq!(left(), 30);
        one.cache.keep(20, BYTES).unwrap();
        assert_eq!(left(), 20);
        one.cache.keep(ENTRIES, 75).unwrap();
        assert_eq!(left(), 7);
    }
}
