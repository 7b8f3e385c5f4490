//! Where contributions are looked for.

use std::path::PathBuf;

use crate::cli;

/// Where contributions are looked for, besides those in the program.
pub struct Sources {
    /// Folders with contributions, in the order given.
    pub folders: Vec<PathBuf>,
    /// Whether compiled code is kept in the user's cache folder.
    pub cached: bool,
}

impl From<&cli::Sources> for Sources {
    fn from(args: &cli::Sources) -> Sources {
        Sources { folders: args.plugins.clone(), cached: !args.no_cache }
    }
}
