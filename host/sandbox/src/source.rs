//! Where contributions come from: files, folders, and bytes in memory.

use std::borrow::Cow;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use catalogue::text::path_name;

use crate::error::{Result, SandboxError};
use crate::limits;

/// Where a contribution comes from.
#[derive(Clone, Debug)]
pub enum Source {
    /// A file.
    File(PathBuf),
    /// A stranger's bytes in memory, with a name for messages.
    Bytes {
        /// The name for messages.
        name: String,
        /// The component or core module.
        bytes: Cow<'static, [u8]>,
    },
    /// What this program vouches for: a built-in component, or a chart packed into
    /// the program's own. It is not tried first.
    Ours {
        /// The name for messages, for example `torchon.wasm (built in)`.
        name: String,
        /// The component or core module.
        bytes: Cow<'static, [u8]>,
    },
}

impl Source {
    /// The contributions in a folder: its files that end in `.wasm`, sorted by name.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn folder(folder: &Path) -> Result<Vec<Source>> {
        let failed = |why| SandboxError::NoFolder { folder: folder.to_owned(), why };
        let mut files = Vec::new();
        for entry in folder.read_dir().map_err(failed)? {
            let path = entry.map_err(failed)?.path();
            if path.extension().is_some_and(|e| e == "wasm") {
                files.push(path);
            }
        }
        files.sort();
        Ok(files.into_iter().map(Source::File).collect())
    }

    /// The name of the source in messages.
    pub fn name(&self) -> String {
        match self {
            Source::File(path) => path_name(path),
            Source::Bytes { name, .. } | Source::Ours { name, .. } => name.clone(),
        }
    }

    pub(crate) fn is_ours(&self) -> bool {
        matches!(self, Source::Ours { .. })
    }

    pub(crate) fn bytes(&self) -> Result<Cow<'_, [u8]>> {
        let path = match self {
            Source::Bytes { bytes, .. } | Source::Ours { bytes, .. } => return Ok(Cow::Borrowed(bytes)),
            Source::File(path) => path,
        };
        let read = || {
            // Opening a pipe would block until somebody writes to it.
            if !path.metadata()?.is_file() {
                return Err(io::Error::other("it is not an ordinary file"));
            }
            let mut bytes = Vec::new();
            // Reading one byte over the limit is enough; the file may be endless.
            File::open(path)?.take(limits::FILE_BYTES as u64 + 1).read_to_end(&mut bytes)?;
            Ok(bytes)
        };
        read().map(Cow::Owned).map_err(|why| SandboxError::Unreadable { file: self.name(), why })
    }
}
