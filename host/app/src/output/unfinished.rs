//! What has a temporary name, so that it can be removed when the user ends the
//! program in the middle of its work.

use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Files and folders that are not finished.
static NAMES: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());

fn names() -> MutexGuard<'static, BTreeSet<PathBuf>> {
    NAMES.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file or folder with a temporary name, until this is dropped.
pub(super) struct Unfinished(PathBuf);

impl Unfinished {
    /// Makes a file or folder with a temporary name, which `path` returns. It comes
    /// second, so that it is removed before its name is forgotten.
    pub(super) fn make<T>(
        make: impl FnOnce() -> io::Result<T>,
        path: impl FnOnce(&T) -> &Path,
    ) -> io::Result<(Unfinished, T)> {
        signals::watch();
        // Whoever ends the program now has to wait, and finds the name.
        let mut names = names();
        let made = make()?;
        let path = path(&made).to_owned();
        names.insert(path.clone());
        Ok((Unfinished(path), made))
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        names().remove(&self.0);
    }
}

/// Runs steps that only make sense together; the user's wish to end the program
/// waits for them. No [`Unfinished`] may be made or dropped meanwhile.
pub(super) fn uninterrupted<T>(steps: impl FnOnce() -> T) -> T {
    let _names = names();
    steps()
}

/// Lets a file that grows beyond what the system allows fail with an error, which
/// is reported, instead of ending the program with half a file left behind.
pub fn outlive_full_files() {
    signals::outlive_full_files();
}

#[cfg(unix)]
mod signals {
    use std::fs;
    use std::path::Path;
    use std::sync::atomic::AtomicBool;
    use std::sync::{Arc, Once};
    use std::thread;

    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGXFSZ};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    use super::names;

    pub(super) fn outlive_full_files() {
        // Once the signal is handled, the write fails; there is nothing else to do.
        let _ = signal_hook::flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false)));
    }

    /// Begins to wait for signals that end the program, once.
    pub(super) fn watch() {
        static BEGUN: Once = Once::new();
        BEGUN.call_once(|| {
            let ignored = ignored();
            let ours = [SIGINT, SIGTERM, SIGHUP].into_iter().filter(|n| ignored >> (n - 1) & 1 == 0);
            let Ok(mut signals) = Signals::new(ours) else { return };
            let wait = move || {
                let Some(signal) = signals.forever().next() else { return };
                // Held until the end, so that nothing new is begun.
                let names = names();
                names.iter().for_each(|path| clear(path));
                let _ = emulate_default_handler(signal);
            };
            let _ = thread::Builder::new().spawn(wait);
        });
    }

    /// The signals that whoever started the program wants it to ignore, as `nohup`
    /// does, one bit each. Known only where there is `/proc`; elsewhere none.
    fn ignored() -> u64 {
        let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
        let bits = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
        bits.and_then(|bits| u64::from_str_radix(bits.trim(), 16).ok()).unwrap_or(0)
    }

    fn clear(path: &Path) {
        if fs::remove_file(path).is_ok() {
            return;
        }
        // Other threads may still write into the folder; under this name they no
        // longer find it.
        let away = path.with_extension("away.pairwise-tmp");
        let path = if fs::rename(path, &away).is_ok() { &away } else { path };
        const TRIES: usize = 100;
        for _ in 0..TRIES {
            let _ = fs::remove_dir_all(path);
            if !path.exists() {
                return;
            }
        }
    }
}

/// Where there are no such signals, what is left is removed by a later run.
#[cfg(not(unix))]
mod signals {
    pub(super) fn outlive_full_files() {}
    pub(super) fn watch() {}
}
