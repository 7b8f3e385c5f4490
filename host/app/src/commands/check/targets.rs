//! What to check: files and named grounds.

use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

use crate::charts::is_chart;
use crate::cli::CheckArgs;
use crate::export::Format;
use crate::failure::Failure;

/// What to check; everything if nothing is named.
pub struct Targets {
    /// Contributions in files.
    pub files: Vec<PathBuf>,
    /// Charts.
    pub charts: Vec<PathBuf>,
    /// Grounds and varieties.
    pub names: Vec<OsString>,
}

impl Targets {
    /// Sorts the targets named. Refuses `--picture` unless there is exactly one
    /// file.
    pub fn new(args: &CheckArgs) -> Result<Targets, Failure> {
        // What is named like a file is one, even if it is a pipe or is not there: no
        // ground has such a name.
        let is_file = |target: &OsString| {
            let path = Path::new(target);
            path.extension() == Some(OsStr::new("wasm")) || is_chart(path) || path.is_file()
        };
        let (files, names): (Vec<OsString>, Vec<OsString>) = args.targets.iter().cloned().partition(is_file);
        let (charts, files) = files.into_iter().map(PathBuf::from).partition(|file| is_chart(file));
        let targets = Targets { files, charts, names };
        if let Some(picture) = &args.picture {
            Format::of(picture)?;
            let files = targets.charts.len() + targets.files.len();
            if files != 1 {
                return Err(Failure::Value {
                    what: format!("--picture is for one file; there are {files}"),
                    help: "check one chart or contribution (.toml, .wasm) at a time, or leave --picture out"
                        .to_owned(),
                });
            }
        }
        Ok(targets)
    }

    /// Whether any target is a file.
    pub fn any_files(&self) -> bool {
        !self.files.is_empty() || !self.charts.is_empty()
    }
}
